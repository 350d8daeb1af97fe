// Directive 2002/44/EC, annex: daily exposure of workers to hand-arm (part A) and whole-body vibration (part B), and
// the exposure points of the guides to it.
//
//   A(8) = k a_w sqrt(T / 8 h); whole-body: the highest of 1.4 a_wx, 1.4 a_wy, a_wz; hand-arm: the vector sum
//   several tasks: A(8) = (sum A_i(8)^2)^(1/2), an axis at a time       [eu-guide-wbv, E.2; uk-si-2005-1093, schedule
//   2] a week: (1/5 sum of A_j(8)^2 over its days)^(1/2) = a_w sqrt(T / 40 h) over all of them [uk-si-2005-1093] daily
//   VDV: k VDV (T / measured)^(1/4), the highest axis; several tasks: fourth powers add up points: P = 100 (k a_w /
//   action value)^2 T / 8 h; tasks add up      [eu-guide-wbv, D.4]
// The factors k, the rules for axes and tasks and the reference duration stand in the criterion; T is the condition's
// exposure_h or the task's hours. Each function gives what one task adds.
#pragma once

#include "evaluators/quantity.h"

namespace becalm::evaluators::directive_2002_44 {

QuantityResult daily_exposure(const QuantityArguments& arguments); // m/s2, before k
QuantityResult daily_vdv(const QuantityArguments& arguments);      // m/s^1.75, before k

// 1, before k^2. Parameter: action, the daily exposure of 100 points, m/s2 (needed).
QuantityResult exposure_points(const QuantityArguments& arguments);

} // namespace becalm::evaluators::directive_2002_44
