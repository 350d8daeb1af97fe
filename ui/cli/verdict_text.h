// A verdict in the words of a table.
#pragma once

#include <string>

#include "src/model/assessment.h"

namespace becalm::cli {

std::string value_text(const Verdict& verdict); // "0.0812 ± 0.006 m/s2", "-" where there is none
std::string band_text(const Verdict& verdict);  // of a judged one

} // namespace becalm::cli
