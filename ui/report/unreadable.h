// Recordings that could not be read, for the error stream.
#pragma once

#include <string>
#include <vector>

#include "src/base/problem.h"
#include "src/model/finding.h"
#include "src/model/survey.h"

namespace becalm::report {

// A Problem for each finding "unreadable", at the line of its table in `file`. Findings come in the order of the
// tables; one file can stand in several.
std::vector<Problem> unreadable_recordings(const std::string& file, const Survey& survey,
                                           const std::vector<Finding>& findings);

} // namespace becalm::report
