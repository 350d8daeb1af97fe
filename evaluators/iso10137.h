// ISO 10137:2007, annex D: wind-induced sway of buildings; and every other criterion that compares a peak with a curve
// at the natural frequency (bs5400-2-1978). From memory; the formulas are a fit to the publication's figure.
//
//   the greatest acceleration of a structural direction (return period one year), unweighted, over the curve at the
//   first natural frequency in that direction
#pragma once

#include "evaluators/quantity.h"

namespace becalm::evaluators::iso10137 {

// Peak over the curve at the natural frequency, 1. Parameters: natural_hz, where known; else the strongest spectral
// line of the acceleration below below_hz (5) is taken for it, and a note names it.
QuantityResult peak_ratio(const QuantityArguments& arguments);

} // namespace becalm::evaluators::iso10137
