// Nothing that a call reads may be lost to what it writes.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "src/base/problem.h"

namespace becalm::cli {

struct Output {
    std::string option = {}; // "--json"
    std::string path = {};
};

// Two outputs that are one file, or an output that is an input: one of `inputs` that is a file (others are passed
// over), or a recording or plan of a survey among them, whatever the name says and whatever links there are. A usage
// Problem.
std::optional<Problem> faulty_outputs(std::span<const Output> outputs, std::span<const std::string> inputs);

} // namespace becalm::cli
