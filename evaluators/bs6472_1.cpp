#include "evaluators/bs6472_1.h"

#include <cmath>

#include <fmt/format.h>

#include "filters/quantities.h"

namespace becalm::evaluators::bs6472_1 {
namespace {

// The time that the sample stands for: the condition's exposure, else the whole period, else what was measured.
double stands_for_s(const QuantityArguments& arguments)
{
    return arguments.exposed_s.value_or(arguments.reference_s.value_or(arguments.tally.duration_s));
}

std::string scaling_note(const QuantityArguments& arguments)
{
    return fmt::format("{:.0f} s measured, taken to stand for {:.4g} h{}", arguments.tally.duration_s,
                       stands_for_s(arguments) / 3600.0,
                       arguments.exposed_s ? "" : " (the whole period: the condition states no exposure_h or events)");
}

} // namespace

QuantityResult vdv(const QuantityArguments& arguments)
{
    if (arguments.events) {
        double sum_fourths = 0.0;
        for (const Tally& event : arguments.recordings) sum_fourths += event.sum_fourths;
        const auto recorded = static_cast<double>(arguments.recordings.size());
        return QuantityValue{.value = std::pow(*arguments.events * sum_fourths / recorded, 0.25),
                             .notes = {fmt::format("{:.6g} events in the period like the {:.0f} recorded",
                                                   *arguments.events, recorded)}};
    }
    const double measured = filters::vdv(arguments.tally);
    if (!arguments.exposed_s && !arguments.reference_s)
        return QuantityValue{.value = measured,
                             .notes = {fmt::format("over the measured {:.0f} s", arguments.tally.duration_s)}};
    return QuantityValue{.value = filters::vdv_over(measured, arguments.tally.duration_s, stands_for_s(arguments)),
                         .notes = {scaling_note(arguments)}};
}

QuantityResult evdv(const QuantityArguments& arguments)
{
    constexpr double greatest_crest_factor = 6.0; // not a limit: where the estimate stops being valid
    const double crest = filters::crest_factor(arguments.tally);
    if (crest >= greatest_crest_factor)
        return fail({.what = fmt::format("the crest factor is {:.1f}; the estimate holds below {:.0f} only", crest,
                                         greatest_crest_factor),
                     .remedy = "judge by the vibration dose value itself"});
    constexpr double factor = 1.4; // not a limit: of the definition
    return QuantityValue{.value =
                             factor * filters::weighted_rms(arguments.tally) * std::pow(stands_for_s(arguments), 0.25),
                         .notes = {scaling_note(arguments)}};
}

} // namespace becalm::evaluators::bs6472_1
