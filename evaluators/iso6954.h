// ISO 6954:2000: overall frequency-weighted r.m.s. vibration of vessels with regard to habitability; weighting Wm, 1 Hz
// to 80 Hz.
//
// The weighted velocity is the weighted acceleration times the weighting's time constant T = 0.028 s: a_w = v_w / T, so
// that 4 mm/s and 143 mm/s2 are the same vibration. From memory; the ratio is that of the published columns.
#pragma once

#include "evaluators/quantity.h"

namespace becalm::evaluators::iso6954 {

// v_w = T a_w, m/s. Parameter: time_constant_s (0.028).
QuantityResult weighted_velocity(const QuantityArguments& arguments);

// T times the greatest exponential running r.m.s. (1 s) of a_w, m/s. Parameter: time_constant_s (0.028).
QuantityResult running_velocity(const QuantityArguments& arguments);

} // namespace becalm::evaluators::iso6954
