// The figures of an explanation: the spectrum of each axis with the lines of the sources, its one-third octaves, the
// spectrogram, and the ladder of what carries the value.
#pragma once

#include <string>
#include <vector>

#include "src/base/problem.h"
#include "src/model/explanation.h"

namespace becalm::cli {

// Writes SVG files into `folder`, which is made where it is missing; returns their names. Their names tell what they
// show: d4-214-floor-service-iso6954-2000-spectrum-z.svg.
Result<std::vector<std::string>> write_figures(const ExplanationReport& report, const std::string& folder);

} // namespace becalm::cli
