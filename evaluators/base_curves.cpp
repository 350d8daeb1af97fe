#include "evaluators/base_curves.h"

#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "evaluators/curve.h"
#include "evaluators/third_octaves.h"

namespace becalm::evaluators::base_curves {

QuantityResult curve_ratio(const QuantityArguments& arguments)
{
    BECALM_ASSERT(arguments.curve.size() >= 2); // the criterion's reader asks for it
    constexpr std::array stated_in{Motion::acceleration, Motion::velocity, Motion::displacement};
    const double derivative = std::clamp(parameter(arguments, "derivative", 0.0), 0.0, 2.0);
    const Motion wanted = stated_in[static_cast<std::size_t>(std::lround(derivative))];
    const auto values = third_octaves_of(arguments, wanted, arguments.curve.front().hz, arguments.curve.back().hz);
    if (!values) return tl::unexpected(values.error());
    const auto over_curve = [&](const BandValue& value) {
        return value.rms / curve_at(arguments.curve, value.band.nominal_hz);
    };
    BECALM_ASSERT(!values->bands.empty());
    const BandValue& greatest = *std::ranges::max_element(values->bands, {}, over_curve);
    QuantityValue result{.value = over_curve(greatest), .notes = values->notes};
    result.notes.insert(
        result.notes.begin(),
        fmt::format("axis {}: the third-octave band of {:.4g} Hz is nearest to the curve, {:.4g} {} r.m.s.",
                    name_of(arguments.axis), greatest.band.nominal_hz, greatest.rms, si_unit_of(wanted)));
    return result;
}

QuantityResult curve_level(const QuantityArguments& arguments)
{
    QuantityResult ratio = curve_ratio(arguments);
    if (!ratio) return ratio;
    if (!(ratio->value > 0.0))
        return fail({.what = "there is no motion at all in the bands of the curve, which has no level",
                     .remedy = "check the channel"});
    ratio->value = level_db(ratio->value, 1.0);
    return ratio;
}

} // namespace becalm::evaluators::base_curves
