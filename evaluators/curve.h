// Curves over frequency, straight between their points on logarithmic axes.
#pragma once

#include <span>

#include "src/model/criterion.h"

namespace becalm::evaluators {

// Value at `hz`; beyond its ends the curve keeps its first or last value. The curve has two points at least, hz
// ascending, hz and values above 0 (the criterion's reader sees to it).
double curve_at(std::span<const CurvePoint> curve, double hz);

} // namespace becalm::evaluators
