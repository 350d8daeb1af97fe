#include "evaluators/exposure.h"

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

} // namespace becalm::evaluators
