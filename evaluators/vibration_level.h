// The vibration level of China and Japan, dB: vertical weighted acceleration over a reference.
// [gb10070-1988; gb10071-1988; jp-vibration-act]
//
//   VL = 20 lg(a_w / a_0)   a_0 = 1e-6 m/s2 in China, 1e-5 m/s2 in Japan: the same motion reads 20 dB more in China
//   weighting, vertical: 0.5 sqrt(f) from 1 Hz to 4 Hz, 1 from 4 Hz to 8 Hz, 8 / f from 8 Hz on (the asymptotes of the
//   base curve of 1985, 1 Hz to 80 Hz)
//
// The average is formed from spectra with that very weighting. Greatest and statistical values are formed from the
// running r.m.s. under the weighting that the criterion names: Wg lies within 1 dB of the asymptotes from 1.25 Hz to
// 63 Hz, mostly below them, and up to 1.6 dB below at the ends (tests/evaluators/buildings_test.cpp measures it).
#pragma once

#include "evaluators/quantity.h"

namespace becalm::evaluators::vibration_level {

// Vertical weighting, 1; hz > 0.
double vertical_weight(double hz);

// Level of the average over the selection, 1 Hz to 80 Hz by third-octave edges. Parameter: reference, m/s2 (1e-6).
QuantityResult vibration_level(const QuantityArguments& arguments);

// Level of the greatest running r.m.s. (exponential, 1 s). Parameter: reference.
QuantityResult vibration_level_max(const QuantityArguments& arguments);

// Level exceeded by `percent` of samples of the running r.m.s. (exponential, 1 s; of a second its greatest value, so
// rather too high) taken every step_s. Parameters: reference, step_s (5), percent (10).
QuantityResult vibration_level_l10(const QuantityArguments& arguments);

// The samples that its percentile is taken of, m/s2.
ValueSeries sample_series(const QuantityArguments& arguments);

} // namespace becalm::evaluators::vibration_level
