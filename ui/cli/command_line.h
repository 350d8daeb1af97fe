// The command line, run in process: tests call it with captured streams, main() with the real ones.
#pragma once

#include <string>
#include <vector>

#include "ui/cli/console.h"

namespace becalm::cli {

// `arguments` without the program's name. Returns the exit code of the contract; never throws.
int run(std::vector<std::string> arguments, const Console& console);

} // namespace becalm::cli
