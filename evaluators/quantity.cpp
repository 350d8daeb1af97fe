#include "evaluators/quantity.h"

#include <algorithm>
#include <array>

#include "evaluators/bs6472_1.h"
#include "evaluators/directive_2002_44.h"
#include "evaluators/iso2631_1.h"

namespace becalm::evaluators {
namespace {

constexpr std::array<Quantity, 9> quantities{{
    {"weighted_rms", "m/s2", "frequency-weighted r.m.s. acceleration", iso2631_1::weighted_rms},
    {"mtvv_linear", "m/s2", "greatest linear running r.m.s. (1 s)", iso2631_1::mtvv_linear},
    {"mtvv_exponential", "m/s2", "greatest exponential running r.m.s. (1 s)", iso2631_1::mtvv_exponential},
    {"peak", "m/s2", "greatest weighted acceleration", iso2631_1::peak},
    {"msdv", "m/s^1.5", "motion sickness dose value", iso2631_1::msdv},
    {"vdv", "m/s^1.75", "vibration dose value", bs6472_1::vdv},
    {"evdv", "m/s^1.75", "estimated vibration dose value", bs6472_1::evdv},
    {"daily_exposure", "m/s2", "daily exposure A(8)", directive_2002_44::daily_exposure},
    {"daily_vdv", "m/s^1.75", "daily vibration dose value", directive_2002_44::daily_vdv},
}};

} // namespace

const Quantity* quantity_named(std::string_view name)
{
    const auto found = std::ranges::find(quantities, name, &Quantity::name);
    return found == quantities.end() ? nullptr : found;
}

} // namespace becalm::evaluators
