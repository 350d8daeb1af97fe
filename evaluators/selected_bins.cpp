#include "evaluators/selected_bins.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

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

std::optional<Problem> no_acceleration_bins(const QuantityArguments& arguments)
{
    if (arguments.motion != Motion::acceleration)
        return Problem{.what = fmt::format("axis {} was recorded as a {}, and the procedure needs an acceleration that "
                                           "is measured down to 0 Hz",
                                           name_of(arguments.axis), name_of(arguments.motion)),
                       .remedy = "measure the acceleration"};
    for (const SelectedMotion& one : arguments.motions)
        if (one.motion->bins.empty())
            return Problem{.what = "the rate is too low for means over 0.05 s, which the procedure looks at",
                           .remedy = "sample at 20 Hz or faster"};
    return std::nullopt;
}

} // namespace becalm::evaluators
