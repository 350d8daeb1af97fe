// Natural frequency and damping from one file: channel by channel from a free decay, as after a heel drop, by the
// logarithmic decrement; or from the response of all channels to ambient excitation, by enhanced frequency domain
// decomposition and, channel by channel, by the half-power bandwidth (filters/damping.h says how, and how sure). What
// `becalm decay` shows.
#pragma once

#include "evaluators/weigh.h"

namespace becalm::evaluators {

struct DampingOptions {
    bool ambient = false;
    // The mode lies between; Hz. Empty: a free decay at the greatest line of each channel. A range makes the band-pass
    // longer, up to 8 periods, so that it keeps out what lies beyond [this project's choice]. Ambient, empty: from the
    // greater of 0.5 Hz and 3 resolutions to 0.4 of the rate.
    std::optional<double> above_hz = {}, below_hz = {};
    // Ambient; Hz > 0. Empty: 0.02 Hz, or the coarser one of which the span holds 30 lengths end to end.
    std::optional<double> resolution_hz = {};
};

// Over the channels and the span that evaluators/selected_samples.h reads, within its bound. A channel without a usable
// decay says why in its place. Refuses, beyond what the reading refuses: a range without lines, and for ambient
// response a span too short for its segments and cross densities of more than 512 MB.
Result<DecayReport> decay(const std::string& path, const WeighOptions& options, const DampingOptions& wanted);

} // namespace becalm::evaluators
