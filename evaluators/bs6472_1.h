// BS 6472-1:2008: vibration dose value in buildings, over the day (16 h) or the night (8 h). From memory, clauses of
// clause 3 and 4.
//
//   VDV = (integral a_w(t)^4 dt)^(1/4)
//   a representative sample of t standing for T: VDV_T = VDV_t (T/t)^(1/4)
//   N events a period: VDV = (sum VDV_i^4)^(1/4); N like the recorded ones: (N mean VDV_i^4)^(1/4)
//   eVDV = 1.4 a_w T^(1/4), for crest factors below 6 and no shocks
#pragma once

#include "evaluators/quantity.h"

namespace becalm::evaluators::bs6472_1 {

QuantityResult vdv(const QuantityArguments& arguments);  // m/s^1.75
QuantityResult evdv(const QuantityArguments& arguments); // m/s^1.75

} // namespace becalm::evaluators::bs6472_1
