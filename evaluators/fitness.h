// Is a recording fit to be judged? What can be told from the pass, as findings.
//
//   refusal  not-a-number, clipped, drop-out (unless every one of them is excluded), constant-channel, unit,
//   rate-too-low
//   caution  offset, gravity-in-g, resampled; spike, rattle, flattened, stuck-bit, drift, mains-hum, coarse-steps
//   (evaluators/signal_faults.h)
//   note     gravity, unsteady, rate-off (hum at a wrong place), what an exclusion has taken out
// A refusal concerns its channel; a verdict that needs the channel says "cannot be judged, because ...".
// The thresholds are common practice without a source and say so where they stand (fitness.cpp).
#pragma once

#include <span>
#include <string>
#include <vector>

#include "evaluators/pass.h"
#include "src/model/finding.h"

namespace becalm::evaluators {

// `file` is the name that messages use; `selected` the seconds that will be judged (from the start of the pass's span).
// `of_hands`: recorded at a hand, where tools shake far harder than anything shakes a body.
std::vector<Finding> fitness(const std::string& file, const PassResult& pass, Motion motion,
                             std::span<const TimeSpan> selected, bool of_hands = false);

// Whether the lanes of a channel are of a rotation.
bool rotates(const PassResult& pass, int channel);

// Seconds that a judgement leaves out at the start while the filter settles: run_in_s() of the weighting, whole
// seconds; nothing where the recording is shorter than four times that, so that an event recorded alone is not lost.
double run_in_for(WeightingId weighting, double duration_s);

} // namespace becalm::evaluators
