#include "evaluators/uni9614.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "evaluators/ns8176.h"

namespace becalm::evaluators::uni9614 {

QuantityResult source_rms(const QuantityArguments& arguments)
{
    QuantityResult immission = ns8176::event_rms(arguments);
    if (!immission) return immission;
    const double residual = parameter(arguments, "residual", 0.0);
    if (residual == 0.0) {
        immission->notes.push_back("residual vibration not taken away");
        return immission;
    }
    immission->notes.push_back(
        fmt::format("axis {}: residual vibration of {:.4g} m/s2 taken away", name_of(arguments.axis), residual));
    immission->value = std::sqrt(std::max(0.0, immission->value * immission->value - residual * residual));
    return immission;
}

} // namespace becalm::evaluators::uni9614
