#include "evaluators/trafikverket.h"

#include <algorithm>
#include <cmath>
#include <functional>

#include <fmt/format.h>

namespace becalm::evaluators::trafikverket {

namespace {

std::size_t rank_of(const QuantityArguments& arguments)
{
    return static_cast<std::size_t>(std::max(1.0, std::round(parameter(arguments, "rank", 5.0))));
}

} // namespace

ValueSeries event_series(const QuantityArguments& arguments)
{
    ValueSeries series{.are_events = true, .are_all = true, .are_rms = true};
    const double time_constant_s = parameter(arguments, "time_constant_s", 0.028);
    for (const Tally& event : arguments.recordings)
        series.values.push_back(time_constant_s * event.exponential_rms_slow);
    const auto count = static_cast<double>(series.values.size());
    const auto rank = static_cast<double>(rank_of(arguments));
    series.percent = count > 1.0 ? 100.0 * std::max(0.0, count - rank) / (count - 1.0) : 100.0;
    return series;
}

QuantityResult ranked_velocity(const QuantityArguments& arguments)
{
    const std::size_t rank = rank_of(arguments);
    std::vector<double> events = event_series(arguments).values;
    if (events.size() < rank)
        return fail({.what = fmt::format("there are {} events, so none is the {}th greatest", events.size(), rank),
                     .remedy = "record every event of the night, one recording or event each"});
    std::ranges::sort(events, std::greater{});
    return QuantityValue{.value = events[rank - 1],
                         .notes = {fmt::format("axis {}: the {}th greatest of {} events; the greatest is {:.3g} mm/s",
                                               name_of(arguments.axis), rank, events.size(), 1e3 * events.front())}};
}

} // namespace becalm::evaluators::trafikverket
