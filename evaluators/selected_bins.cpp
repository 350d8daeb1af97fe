#include "evaluators/selected_bins.h"

#include <algorithm>
#include <cmath>

namespace becalm::evaluators {

std::span<const MotionBin> bins_inside(const MotionSeries& series, const TimeSpan& span)
{
    constexpr double rounding = 1e-6; // of a bin
    const auto count = static_cast<double>(series.bins.size());
    const double first = std::max(0.0, std::ceil(span.from_s / series.bin_s - rounding));
    const double end = std::min(count, std::floor(span.to_s / series.bin_s + rounding));
    if (first >= end) return {};
    return std::span(series.bins).subspan(static_cast<std::size_t>(first), static_cast<std::size_t>(end - first));
}

} // namespace becalm::evaluators
