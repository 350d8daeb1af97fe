// Accelerations of floors in per cent of gravity. [dg11-2016] From memory.
//
//   peak   greatest acceleration
//   ESPA   equivalent sinusoidal peak acceleration: sqrt(2) times the greatest r.m.s. over a rolling window of 2 s;
//          of a steady sine its peak
// Windows of the ESPA are pairs of whole seconds here, one second apart: the same as windows placed freely for a steady
// motion or a burst of up to 1 s, and never less than sqrt(1/2) of them.
#pragma once

#include "evaluators/quantity.h"

namespace becalm::evaluators::dg11 {

QuantityResult peak_percent_g(const QuantityArguments& arguments); // %
QuantityResult espa(const QuantityArguments& arguments);           // %

} // namespace becalm::evaluators::dg11
