#include "evaluators/stated_in.h"

#include <fmt/format.h>

namespace becalm::evaluators {

std::optional<Problem> unless_stated_in(const QuantityArguments& arguments, Motion wanted)
{
    const Motion given = output_of(arguments.weighting, arguments.motion);
    if (given == wanted) return {};
    if (arguments.weighting == WeightingId::none)
        return Problem{.what = fmt::format("the channel carries {}, and without a weighting it is no {}",
                                           name_of(given), name_of(wanted)),
                       .remedy = fmt::format("record the {}, or choose a weighting that gives it", name_of(wanted))};
    return Problem{.what = fmt::format("the weighting {} gives {}, and this quantity wants {}",
                                       name_of(arguments.weighting), name_of(given), name_of(wanted)),
                   .remedy = "choose another weighting in the criterion"};
}

} // namespace becalm::evaluators
