#include "evaluators/os_rms.h"

#include <algorithm>

#include <fmt/format.h>

#include "evaluators/en12299.h"
#include "evaluators/stated_in.h"

namespace becalm::evaluators::os_rms {

ValueSeries walk_series(const QuantityArguments& arguments)
{
    ValueSeries series{.percent = std::clamp(parameter(arguments, "percentile", 90.0), 0.0, 100.0),
                       .are_events = true,
                       .are_rms = true};
    for (const Tally& walk : arguments.recordings) series.values.push_back(walk.linear_rms);
    return series;
}

QuantityResult one_step_rms(const QuantityArguments& arguments)
{
    if (const auto problem = unless_stated_in(arguments, Motion::velocity)) return fail(*problem);
    BECALM_ASSERT(!arguments.recordings.empty());
    ValueSeries walks = walk_series(arguments);
    const double percent = *walks.percent;
    const std::size_t count = walks.values.size();
    return QuantityValue{
        .value = en12299::percentile(std::move(walks.values), percent),
        .notes = {
            fmt::format("percentile {:.3g} of {} walk{}, linear between order statistics; greatest r.m.s. over 1 s "
                        "in place of one step",
                        percent, count, count == 1 ? "" : "s")}};
}

} // namespace becalm::evaluators::os_rms
