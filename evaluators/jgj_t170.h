// JGJ/T 170-2009: vibration of buildings along urban rail. From memory, medium confidence.
//
// The greatest weighted level of a third-octave band, 4 Hz to 200 Hz, vertical, dB re 1e-6 m/s2.
#pragma once

#include "evaluators/quantity.h"

namespace becalm::evaluators::jgj_t170 {

// 20 lg of the greatest band r.m.s. acceleration, weighted by the criterion's weighting, over the reference.
// Parameters: reference, m/s2 (1e-6); from_hz (4) and to_hz (200), nominal centres of the outermost bands.
QuantityResult band_level(const QuantityArguments& arguments);

} // namespace becalm::evaluators::jgj_t170
