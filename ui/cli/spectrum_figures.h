// Figures of `becalm spectrum`.
#pragma once

#include <string>
#include <vector>

#include "src/base/problem.h"
#include "src/model/reports.h"

namespace becalm::cli {

// Of each lane the density (mean between least and greatest) and the one-third octaves, as SVG into `folder`. Returns
// the names of the files.
Result<std::vector<std::string>> write_figures(const SpectrumReport& report, const std::string& folder,
                                               bool linear_frequency);

} // namespace becalm::cli
