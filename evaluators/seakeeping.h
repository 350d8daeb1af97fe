// Motion of a vessel in a seaway: the r.m.s. value about the mean, as guide values of operability ask for it
// [nordforsk-1987, from memory].
//
//   s = sqrt(mean (a - mean a)^2)    over means of 0.05 s of the acceleration as recorded
// The means are a low-pass (3 dB down at 8.9 Hz, computed from the definition): waves pass (0.4 % less at 1 Hz), much
// of the machinery's vibration does not. The mean of each recording is taken away: the first 10 s, which the pass takes
// as a sensor's offset, hold a wave or two only.
#pragma once

#include "evaluators/quantity.h"

namespace becalm::evaluators::seakeeping {

// m/s2; needs the motion.
QuantityResult motion_rms(const QuantityArguments& arguments);

} // namespace becalm::evaluators::seakeeping
