#include "evaluators/exposure.h"

#include <cmath>

#include <fmt/format.h>

namespace becalm::evaluators {

Problem exposure_missing()
{
    return {.what = "it is not known how long a day the exposure lasts",
            .remedy = "add exposure_h = ... (hours) to the condition of these recordings, or name the space and the "
                      "hours among the tasks of an [[exposure]]"};
}

std::string exposure_note(const QuantityArguments& arguments)
{
    BECALM_ASSERT(arguments.exposed_s.has_value());
    return fmt::format("{:.0f} s measured, exposure {:.4g} h a day", arguments.tally.duration_s,
                       *arguments.exposed_s / 3600.0);
}

bool refers_to_a_week(const Criterion& criterion)
{
    constexpr double day_h = 24.0; // not a limit: a longer reference is that of a week
    return criterion.reference_h.value_or(0.0) > day_h;
}

double exposed_hours(const Survey& survey, const Criterion& criterion, const Verdict& verdict)
{
    const bool whole_week = refers_to_a_week(criterion);
    double hours = 0.0;
    for (const Exposure& exposure : survey.exposures)
        if (exposure.person == verdict.person && (whole_week || exposure.day == verdict.condition))
            for (const Task& task : exposure.tasks) hours += task.hours;
    return hours;
}

std::vector<TimeToBound> times_to_bounds(const Verdict& verdict, double exposed_h)
{
    const Quantity* quantity = quantity_named(verdict.quantity);
    if (quantity == nullptr || !quantity->daily || !verdict.value || *verdict.value <= 0.0 || exposed_h <= 0.0)
        return {};
    // value ~ T^(1/p)
    const double power = verdict.quantity == "daily_exposure" ? 2.0 : verdict.quantity == "exposure_points" ? 1.0 : 4.0;
    std::vector<TimeToBound> times;
    for (std::size_t i = 0; i + 1 < verdict.bands.size(); ++i) {
        const auto& limit = verdict.bands[i].limit;
        if (!limit) continue;
        times.push_back({.band = verdict.bands[i + 1].name,
                         .bound = *limit,
                         .hours = exposed_h * std::pow(*limit / *verdict.value, power),
                         .exceeds = verdict.bands[i + 1].exceeds});
    }
    return times;
}

} // namespace becalm::evaluators
