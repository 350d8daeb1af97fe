// UNI 9614:2017: vibration of buildings, annoyance. From memory, medium confidence.
//
//   each recording is an event; its value is the greatest running r.m.s. (1 s) of the weighted acceleration, Wm
//   V_imm = mean + 1.8 s over at least 15 events; V_res the same with the source off
//   V_sor = sqrt(V_imm^2 - V_res^2), which is compared
//
// The publication adds up the three axes at every moment before it looks for the greatest value. One axis is seen
// here: its event statistics are formed apart and the criterion's total adds up their squares. Taking the axes'
// greatest values as simultaneous is rather too high; adding up the statistics is exact where the axes rise and fall
// together from event to event.
#pragma once

#include "evaluators/quantity.h"

namespace becalm::evaluators::uni9614 {

// V_sor of one axis, m/s2. Parameters: deviations (1.8), residual (0): V_res of the axis, m/s2.
QuantityResult source_rms(const QuantityArguments& arguments);

} // namespace becalm::evaluators::uni9614
