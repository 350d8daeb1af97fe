// How the channels of one file move with one of them, the reference: coherence, transfer function and operating
// deflection (filters/cross_spectra.h says which formulas, and what their uncertainties do not tell). What `becalm
// relate` shows.
#pragma once

#include "evaluators/weigh.h"

namespace becalm::evaluators {

struct RelateOptions {
    std::string reference = {}; // number from 1, or the name that the file gives a channel
    // Hz > 0. Empty: 0.25 Hz, or the coarser one of which the span holds 8 lengths end to end.
    std::optional<double> resolution_hz = {};
};

// Over the channels and the span that evaluators/selected_samples.h reads, within its bound. Refuses, beyond what that
// refuses: a reference that is not among the channels, or the only one; a reference that does not move; a span of less
// than two segments; a resolution that leaves less than 8 samples a segment.
Result<RelationReport> relate(const std::string& path, const WeighOptions& options, const RelateOptions& wanted);

} // namespace becalm::evaluators
