#include "evaluators/iso2631_1.h"

#include <cmath>

#include <fmt/format.h>

#include "filters/quantities.h"

namespace becalm::evaluators::iso2631_1 {

QuantityResult weighted_rms(const QuantityArguments& arguments)
{
    QuantityValue result{.value = filters::weighted_rms(arguments.tally)};
    // 6.2.1: the basic method is normally sufficient up to this crest factor.
    constexpr double greatest_crest_factor = 9.0; // not a limit: where the additional methods of 6.3 are called for
    const double crest = filters::crest_factor(arguments.tally);
    if (crest > greatest_crest_factor)
        result.notes.push_back(fmt::format(
            "crest factor {:.1f}: the r.m.s. value may underestimate; look at MTVV and VDV too (ISO 2631-1, 6.2.1)",
            crest));
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
