#include "evaluators/iso6954_1984.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

#include "evaluators/curve.h"
#include "evaluators/recorded_spectrum.h"

namespace becalm::evaluators::iso6954_1984 {

QuantityResult component_peak(const QuantityArguments& arguments)
{
    const std::vector<CurvePoint>& curve = arguments.curve;
    BECALM_ASSERT(!curve.empty()); // the criterion's reader asks for it
    const double from_hz = curve.front().hz, to_hz = curve.back().hz;
    const double plateau = std::ranges::min(curve, {}, &CurvePoint::value).value;
    constexpr double usual_total = 1.8;
    const double times_rms =
        std::numbers::sqrt2 * parameter(arguments, "conversion_factor", usual_total / std::numbers::sqrt2);

    const auto spectra = recorded_spectra(arguments, to_hz);
    if (!spectra) return tl::unexpected(spectra.error());
    QuantityValue result;
    SpectralComponent greatest;
    double components_squared = 0.0, band_squared = 0.0, lowest_hz = 0.0;
    for (const RecordedSpectrum& spectrum : *spectra) {
        lowest_hz = std::max(lowest_hz, lowest_line_hz(spectrum));
        const double band = band_rms_as(Motion::velocity, spectrum, arguments.motion, from_hz, to_hz);
        band_squared += band * band;
        for (const SpectralComponent& component :
             components_as(Motion::velocity, spectrum, arguments.motion, from_hz, to_hz)) {
            components_squared += component.rms * component.rms;
            const double compared = times_rms * component.rms / curve_at(curve, component.hz) * plateau;
            if (compared <= result.value) continue;
            result.value = compared;
            greatest = component;
        }
    }
    if (greatest.rms == 0.0)
        return fail({.what = fmt::format("no component between {:.4g} Hz and {:.4g} Hz stands out of what surrounds it",
                                         from_hz, to_hz),
                     .remedy = "judge the overall value instead"});

    result.notes.push_back(
        fmt::format("peak = {:.3g} times the r.m.s. value of a component: sqrt 2 times the conversion factor {:.4g}",
                    times_rms, times_rms / std::numbers::sqrt2));
    result.notes.push_back(fmt::format("axis {}: component of {:.2f} Hz, r.m.s. {:.4g} mm/s, peak {:.4g} mm/s",
                                       name_of(arguments.axis), greatest.hz, greatest.rms * 1e3,
                                       times_rms * greatest.rms * 1e3));
    if (lowest_hz > from_hz)
        result.notes.push_back(fmt::format("components below {:.3g} Hz cannot be told at this resolution", lowest_hz));
    if (const double share = components_squared / band_squared; share < 0.5)
        result.notes.push_back(
            fmt::format("axis {}: the components carry {:.0f} % of the mean square; the rest is broad, "
                        "and a judgement of single components does not see it: look at the overall "
                        "value too",
                        name_of(arguments.axis), 100.0 * share));
    return result;
}

} // namespace becalm::evaluators::iso6954_1984
