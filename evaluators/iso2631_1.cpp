#include "evaluators/iso2631_1.h"

#include <cmath>

#include <fmt/format.h>

#include "evaluators/exposure.h"
#include "filters/quantities.h"

namespace becalm::evaluators::iso2631_1 {

QuantityResult weighted_rms(const QuantityArguments& arguments)
{
    // Every other weighting turns what was recorded into an acceleration.
    if (arguments.weighting == WeightingId::none && arguments.motion != Motion::acceleration)
        return fail({.what = fmt::format("axis {} was recorded as a {}, and an unweighted acceleration is asked for",
                                         name_of(arguments.axis), name_of(arguments.motion)),
                     .remedy = "measure the acceleration"});
    QuantityValue result{.value = filters::weighted_rms(arguments.tally)};
    // 6.2.1: the basic method is normally sufficient up to this crest factor.
    constexpr double greatest_crest_factor = 9.0; // not a limit: where the additional methods of 6.3 are called for
    const double crest = filters::crest_factor(arguments.tally);
    if (crest > greatest_crest_factor)
        result.notes.push_back(fmt::format("axis {}: crest factor {:.1f}: the r.m.s. value may underestimate; look at "
                                           "MTVV and VDV too (ISO 2631-1, 6.2.1)",
                                           name_of(arguments.axis), crest));
    // 6.3.3: the additional methods matter where these ratios are exceeded.
    constexpr double greatest_mtvv_ratio = 1.5; // not a limit: where the additional methods are called for
    constexpr double greatest_vdv_ratio = 1.75; // not a limit: where the additional methods are called for
    if (!(result.value > 0.0)) return result;
    const double mtvv_ratio = arguments.tally.linear_rms / result.value;
    if (mtvv_ratio > greatest_mtvv_ratio)
        result.notes.push_back(fmt::format(
            "axis {}: MTVV is {:.2f} times a_w, above 1.5: the running r.m.s. tells more here (ISO 2631-1, 6.3.3)",
            name_of(arguments.axis), mtvv_ratio));
    const double vdv_ratio =
        filters::vdv_over(filters::vdv(arguments.tally), arguments.tally.duration_s, 1.0) / result.value;
    if (vdv_ratio > greatest_vdv_ratio)
        result.notes.push_back(fmt::format(
            "axis {}: VDV is {:.2f} times a_w T^(1/4), above 1.75: the dose tells more here (ISO 2631-1, 6.3.3)",
            name_of(arguments.axis), vdv_ratio));
    return result;
}

QuantityResult mtvv_linear(const QuantityArguments& arguments)
{
    return QuantityValue{.value = arguments.tally.linear_rms};
}

QuantityResult mtvv_exponential(const QuantityArguments& arguments)
{
    return QuantityValue{.value = arguments.tally.exponential_rms_slow};
}

QuantityResult peak(const QuantityArguments& arguments) { return QuantityValue{.value = arguments.tally.peak}; }

QuantityResult daily_evdv(const QuantityArguments& arguments)
{
    if (!arguments.exposed_s) return fail(exposure_missing());
    const double greatest = parameter(arguments, "greatest_crest_factor", 6.0);
    const double crest = filters::crest_factor(arguments.tally);
    if (crest > greatest)
        return fail(
            {.what = fmt::format("the crest factor is {:.1f}; the estimate holds up to {:.3g} only", crest, greatest),
             .remedy = "judge by the vibration dose value itself"});
    return QuantityValue{
        .value = filters::vdv_over(filters::evdv(arguments.tally), arguments.tally.duration_s, *arguments.exposed_s),
        .notes = {exposure_note(arguments)}};
}

QuantityResult msdv(const QuantityArguments& arguments)
{
    if (!arguments.exposed_s)
        return QuantityValue{.value = filters::msdv(arguments.tally),
                             .notes = {fmt::format("over the measured {:.0f} s", arguments.tally.duration_s)}};
    return QuantityValue{.value = filters::weighted_rms(arguments.tally) * std::sqrt(*arguments.exposed_s),
                         .notes = {fmt::format("the measured {:.0f} s are taken to stand for {:.3g} h",
                                               arguments.tally.duration_s, *arguments.exposed_s / 3600.0)}};
}

QuantityResult vomiting_percent(const QuantityArguments& arguments)
{
    QuantityResult dose = msdv(arguments);
    if (dose) dose->value *= parameter(arguments, "per_msdv", 1.0 / 3.0);
    return dose;
}

} // namespace becalm::evaluators::iso2631_1
