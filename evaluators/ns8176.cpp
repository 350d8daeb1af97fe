#include "evaluators/ns8176.h"

#include <cmath>
#include <numeric>

#include <fmt/format.h>

namespace becalm::evaluators::ns8176 {

double statistical_maximum(const std::vector<double>& values, double deviations)
{
    BECALM_ASSERT(values.size() >= 2);
    const auto n = static_cast<double>(values.size());
    const double mean = std::accumulate(values.begin(), values.end(), 0.0) / n;
    double squares = 0.0;
    for (const double value : values) squares += (value - mean) * (value - mean);
    return mean + deviations * std::sqrt(squares / (n - 1.0));
}

QuantityResult event_rms(const QuantityArguments& arguments)
{
    if (arguments.recordings.size() < 2)
        return fail({.what = fmt::format("{} event has no standard deviation", arguments.recordings.size()),
                     .remedy = "record more events, one recording each"});
    std::vector<double> greatest;
    for (const Tally& event : arguments.recordings) greatest.push_back(event.exponential_rms_slow);
    const double deviations = parameter(arguments, "deviations", 1.8);
    return QuantityValue{
        .value = statistical_maximum(greatest, deviations),
        .notes = {fmt::format("mean + {:.3g} s over {} events, s over n - 1", deviations, greatest.size())}};
}

QuantityResult event_velocity(const QuantityArguments& arguments)
{
    QuantityResult acceleration = event_rms(arguments);
    if (!acceleration) return acceleration;
    acceleration->value *= parameter(arguments, "time_constant_s", 0.028);
    return acceleration;
}

} // namespace becalm::evaluators::ns8176
