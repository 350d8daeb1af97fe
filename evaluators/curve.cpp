#include "evaluators/curve.h"

#include <algorithm>
#include <cmath>

#include "src/base/problem.h"

namespace becalm::evaluators {

double curve_at(std::span<const CurvePoint> curve, double hz)
{
    BECALM_ASSERT(!curve.empty());
    const auto above = std::ranges::upper_bound(curve, hz, {}, &CurvePoint::hz);
    if (above == curve.begin()) return curve.front().value;
    if (above == curve.end()) return curve.back().value;
    const CurvePoint &low = *(above - 1), &high = *above;
    return low.value * std::pow(high.value / low.value, std::log(hz / low.hz) / std::log(high.hz / low.hz));
}

} // namespace becalm::evaluators
