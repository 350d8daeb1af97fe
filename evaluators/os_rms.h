// One-step r.m.s. value of floors, OS-RMS90. [jrc-eur-24084] From memory.
//
// The r.m.s. velocity of one step, weighted by 1 / sqrt(1 + (5.6 Hz / f)^2) (the weighting KB), of which the 90th
// percentile over persons and paces counts. Each recording is one walk. In place of one step's duration the greatest
// r.m.s. over 1 s is taken: about two steps, which for an even walk is the same.
#pragma once

#include "evaluators/quantity.h"

namespace becalm::evaluators::os_rms {

// m/s; the weighting must give a velocity. Parameter: percentile (90), linear between order statistics.
QuantityResult one_step_rms(const QuantityArguments& arguments);

// The walks' values that its percentile is taken of.
ValueSeries walk_series(const QuantityArguments& arguments);

} // namespace becalm::evaluators::os_rms
