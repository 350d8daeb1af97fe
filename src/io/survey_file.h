// The survey file: TOML under version control, written by the program and a person's editor alike.
//
// Reading: every fault is reported with file, line, column and key, and reading goes on after it, so that one run shows
// them all. Unknown keys are faults (a typing error must not silently drop an exclusion). Writing: changes patch the
// text at the place where the key stands; comments and layout elsewhere stay as they are.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "src/base/problem.h"
#include "src/model/survey.h"

namespace becalm::io {

// Reads and validates. References between tables (space, condition, sensor ids) are checked; recordings are not opened.
Results<Survey> read_survey(const std::string& path);

// The same from text; `path` is used in messages only.
Results<Survey> parse_survey(std::string_view text, const std::string& path);

// A complete survey file as text, with explanatory comments, from scratch.
std::string survey_as_toml(const Survey& survey);

// The text with an exclusion added to / removed from the recording whose file is `file`; everything else byte for byte
// as it was.
Result<std::string> with_exclusion(std::string_view text, const std::string& path, const std::string& file,
                                   const ExcludedSpan& span);
Result<std::string> without_exclusion(std::string_view text, const std::string& path, const std::string& file,
                                      std::size_t index);

// The text with one value of one table entry set (key added or replaced), e.g. ("recording", 2, "scale", "9.81").
// `value` is TOML source of the value.
Result<std::string> with_value(std::string_view text, const std::string& path, std::string_view array,
                               std::size_t index, std::string_view key, std::string_view value);

} // namespace becalm::io
