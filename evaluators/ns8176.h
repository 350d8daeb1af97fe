// NS 8176: vibration of buildings from landbased transport. UNI 9614:2017 forms its statistical maximum in the same
// way. From memory.
//
//   each recording is one passage (event); its value is the greatest running r.m.s. (exponential, tau = 1 s) of the
//   weighted signal v_w,95 = mean + 1.8 s over at least 15 passages, s the sample standard deviation (n - 1) v_w = T
//   a_w, T = 0.028 s
#pragma once

#include "evaluators/quantity.h"

namespace becalm::evaluators::ns8176 {

// mean + deviations * s of the events' greatest running r.m.s., m/s2. Parameter: deviations (1.8). Fewer than two
// events have no s.
QuantityResult event_rms(const QuantityArguments& arguments);

// The same of the weighted velocity, m/s. Parameters: deviations, time_constant_s (0.028).
QuantityResult event_velocity(const QuantityArguments& arguments);

// mean + deviations * s of values, s over n - 1; at least two values.
double statistical_maximum(const std::vector<double>& values, double deviations);

} // namespace becalm::evaluators::ns8176
