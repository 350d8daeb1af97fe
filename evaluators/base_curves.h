// The method of base curves: third-octave r.m.s. values of the unweighted motion, band by band over a curve.
// [iso2631-2-1989; bs6472-1992; iso10137-2007, annex C; iest-rp-cc012-2007; fta-0123-2018, detailed analysis]
//
// The greatest ratio counts: a limit is a multiplying factor on the curve. A curve is straight between its points on
// logarithmic axes (evaluators/curve.h) and speaks for the bands whose nominal centre lies from its first point to its
// last; it is read at the nominal centre. The average is that of energy over what was selected.
#pragma once

#include "evaluators/quantity.h"

namespace becalm::evaluators::base_curves {

// Greatest ratio of a band's r.m.s. value and the curve, 1. Parameter: derivative, of position: what the curve is
// stated in (0 acceleration, m/s2: where missing; 1 velocity, m/s; 2 displacement, m), counted as in Motion.
QuantityResult curve_ratio(const QuantityArguments& arguments);

// The same as a level, dB: 20 lg of the ratio. The curve is then what reads 0 dB.
QuantityResult curve_level(const QuantityArguments& arguments);

} // namespace becalm::evaluators::base_curves
