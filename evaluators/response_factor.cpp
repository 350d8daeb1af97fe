#include "evaluators/response_factor.h"

namespace becalm::evaluators::response_factor {

QuantityResult response_factor(const QuantityArguments& arguments)
{
    const double base = parameter(arguments, "base", 0.0);
    BECALM_ASSERT(base != 0.0); // the criterion's reader asks for it
    return QuantityValue{.value = arguments.tally.exponential_rms_slow / base,
                         .notes = {"running r.m.s. exponential, 1 s"}};
}

} // namespace becalm::evaluators::response_factor
