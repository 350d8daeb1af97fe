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
    // A second file of the same rate, unit and scale, of which all channels are compared too, over what both hold. It
    // is shifted by the lag at which one of its channels fits the reference best (evaluators/align.h), found up to
    // most_lag_s. Beyond the frequency at which a drift of its clock would spoil coherence, no line is told and none of
    // its bins. Empty: none.
    std::string with = {};
    std::optional<double> most_lag_s = {};
};

// Over the channels and the span that evaluators/selected_samples.h reads, within its bound. Refuses, beyond what that
// refuses: a reference that is not among the channels, or the only one; a reference that does not move; a span of less
// than two segments; a resolution that leaves less than 8 samples a segment; a second file that has no motion in common
// with the reference, or whose clock drifts so far that nothing is left.
Result<RelationReport> relate(const std::string& path, const WeighOptions& options, const RelateOptions& wanted);

} // namespace becalm::evaluators
