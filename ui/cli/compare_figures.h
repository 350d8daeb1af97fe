// One-third octaves of both sides of a comparison and their change, as SVG files in a folder.
#pragma once

#include <string>
#include <vector>

#include "src/base/problem.h"
#include "src/model/comparison.h"

namespace becalm::cli {

// One figure for each axis of each pair that has spectra. Returns the names of the files.
Result<std::vector<std::string>> write_figures(const ComparisonReport& report, const std::string& folder);

} // namespace becalm::cli
