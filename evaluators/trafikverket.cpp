#include "evaluators/trafikverket.h"

#include <algorithm>
#include <cmath>
#include <functional>

#include <fmt/format.h>

namespace becalm::evaluators::trafikverket {

QuantityResult ranked_velocity(const QuantityArguments& arguments)
{
    const auto rank = static_cast<std::size_t>(std::max(1.0, std::round(parameter(arguments, "rank", 5.0))));
    const double time_constant_s = parameter(arguments, "time_constant_s", 0.028);
    std::vector<double> events;
    for (const Tally& event : arguments.recordings) events.push_back(time_constant_s * event.exponential_rms_slow);
    if (events.size() < rank)
        return fail({.what = fmt::format("there are {} events, so none is the {}th greatest", events.size(), rank),
                     .remedy = "record every event of the night, one recording or event each"});
    std::ranges::sort(events, std::greater{});
    return QuantityValue{.value = events[rank - 1],
                         .notes = {fmt::format("axis {}: the {}th greatest of {} events; the greatest is {:.3g} mm/s",
                                               name_of(arguments.axis), rank, events.size(), 1e3 * events.front())}};
}

} // namespace becalm::evaluators::trafikverket
