#include "evaluators/directive_2002_44.h"

#include <fmt/format.h>

#include "filters/quantities.h"

namespace becalm::evaluators::directive_2002_44 {
namespace {

Problem exposure_missing()
{
    return {.what = "it is not known how long a day the exposure lasts",
            .remedy = "add exposure_h = ... (hours) to the condition of these recordings"};
}

std::string exposure_note(const QuantityArguments& arguments)
{
    return fmt::format("{:.0f} s measured, exposure {:.4g} h a day", arguments.tally.duration_s,
                       *arguments.exposed_s / 3600.0);
}

} // namespace

QuantityResult daily_exposure(const QuantityArguments& arguments)
{
    if (!arguments.exposed_s) return fail(exposure_missing());
    BECALM_ASSERT(arguments.reference_s.has_value()); // the criterion's reader asks for it
    return QuantityValue{.value = filters::equivalent_over(filters::weighted_rms(arguments.tally), *arguments.exposed_s,
                                                           *arguments.reference_s),
                         .notes = {exposure_note(arguments)}};
}

QuantityResult daily_vdv(const QuantityArguments& arguments)
{
    if (!arguments.exposed_s) return fail(exposure_missing());
    return QuantityValue{
        .value = filters::vdv_over(filters::vdv(arguments.tally), arguments.tally.duration_s, *arguments.exposed_s),
        .notes = {exposure_note(arguments)}};
}

} // namespace becalm::evaluators::directive_2002_44
