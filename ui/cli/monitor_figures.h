// Figures of a campaign, an SVG a series.
#pragma once

#include <string>
#include <vector>

#include "src/base/problem.h"
#include "src/model/monitoring.h"

namespace becalm::cli {

// Value of each period against the bands, and how much of it was measured. Names of the files written.
Result<std::vector<std::string>> write_figures(const MonitorReport& report, const std::string& folder);

} // namespace becalm::cli
