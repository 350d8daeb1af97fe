// Directive 2002/44/EC, annex part B: daily exposure of workers to whole-body vibration.
//
//   A(8) = k a_w sqrt(T / 8 h), the highest of 1.4 a_wx, 1.4 a_wy, a_wz
//   daily VDV: k VDV (T / measured)^(1/4), the highest axis
// The factors k and the choice of the axis stand in the criterion; T is the condition's exposure_h.
#pragma once

#include "evaluators/quantity.h"

namespace becalm::evaluators::directive_2002_44 {

QuantityResult daily_exposure(const QuantityArguments& arguments); // m/s2, before k
QuantityResult daily_vdv(const QuantityArguments& arguments);      // m/s^1.75, before k

} // namespace becalm::evaluators::directive_2002_44
