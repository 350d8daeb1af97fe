#include "evaluators/iso6954.h"

#include "filters/quantities.h"

namespace becalm::evaluators::iso6954 {

QuantityResult weighted_velocity(const QuantityArguments& arguments)
{
    return QuantityValue{.value =
                             parameter(arguments, "time_constant_s", 0.028) * filters::weighted_rms(arguments.tally)};
}

QuantityResult running_velocity(const QuantityArguments& arguments)
{
    return QuantityValue{.value =
                             parameter(arguments, "time_constant_s", 0.028) * arguments.tally.exponential_rms_slow};
}

} // namespace becalm::evaluators::iso6954
