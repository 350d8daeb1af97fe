#include "evaluators/jgj_t170.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "evaluators/third_octaves.h"
#include "filters/weighting.h"

namespace becalm::evaluators::jgj_t170 {

QuantityResult band_level(const QuantityArguments& arguments)
{
    const double reference = parameter(arguments, "reference", 1e-6);
    const double from_hz = std::max(parameter(arguments, "from_hz", 4.0), 0.1);
    const double to_hz = std::max(parameter(arguments, "to_hz", 200.0), from_hz);
    const auto values = third_octaves_of(arguments, Motion::acceleration, from_hz, to_hz, [&](double hz) {
        return std::abs(filters::analytic_response(arguments.weighting, Motion::acceleration, hz));
    });
    if (!values) return tl::unexpected(values.error());
    const auto greatest = std::ranges::max_element(values->bands, {}, &BandValue::rms);
    if (greatest == values->bands.end() || !(greatest->rms > 0.0))
        return fail(
            {.what = "there is no motion at all in the bands, which has no level", .remedy = "check the channel"});
    QuantityValue result{.value = level_db(greatest->rms, reference), .notes = values->notes};
    result.notes.insert(result.notes.begin(), fmt::format("dB re {:.3g} m/s2, greatest in the third-octave band of "
                                                          "{:.4g} Hz",
                                                          reference, greatest->band.nominal_hz));
    return result;
}

} // namespace becalm::evaluators::jgj_t170
