// Spectra of one file: density, one-third octaves, dominant components. What `becalm spectrum` shows.
#pragma once

#include "evaluators/weigh.h"

namespace becalm::evaluators {

// `options.weightings` and the rest as for weigh(). `resolution_hz` empty: 0.25 Hz, or the coarser one that a short
// file allows (a finding says so). Lanes whose weighting the rate refuses are left out, with a finding.
Result<SpectrumReport> spectrum(const std::string& path, const WeighOptions& options,
                                std::optional<double> resolution_hz);

} // namespace becalm::evaluators
