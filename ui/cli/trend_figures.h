// Values over what their conditions state, with the line fitted through them, as SVG files in a folder.
#pragma once

#include <string>
#include <vector>

#include "src/base/problem.h"
#include "src/model/trend.h"

namespace becalm::cli {

// One figure for each trend that has a point. Returns the names of the files.
Result<std::vector<std::string>> write_figures(const TrendReport& report, const std::string& folder);

} // namespace becalm::cli
