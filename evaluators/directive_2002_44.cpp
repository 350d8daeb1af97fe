#include "evaluators/directive_2002_44.h"

#include <cmath>

#include "evaluators/exposure.h"
#include "filters/quantities.h"

namespace becalm::evaluators::directive_2002_44 {

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

QuantityResult exposure_points(const QuantityArguments& arguments)
{
    QuantityResult exposure = daily_exposure(arguments);
    if (!exposure) return exposure;
    const double action = parameter(arguments, "action", 0.0);
    BECALM_ASSERT(action > 0.0); // the criterion's reader asks for it
    exposure->value = 100.0 * std::pow(exposure->value / action, 2);
    return exposure;
}

} // namespace becalm::evaluators::directive_2002_44
