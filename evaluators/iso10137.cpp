#include "evaluators/iso10137.h"

#include <fmt/format.h>

#include "evaluators/curve.h"
#include "evaluators/recorded_spectrum.h"
#include "evaluators/stated_in.h"

namespace becalm::evaluators::iso10137 {
namespace {

// 0 where no line stands out.
Result<double> strongest_line_hz(const QuantityArguments& arguments, double below_hz)
{
    const auto spectra = recorded_spectra(arguments, below_hz);
    if (!spectra) return tl::unexpected(spectra.error());
    SpectralComponent strongest;
    for (const RecordedSpectrum& spectrum : *spectra)
        for (const SpectralComponent& component :
             components_as(Motion::acceleration, spectrum, arguments.motion, lowest_line_hz(spectrum), below_hz))
            if (component.rms > strongest.rms) strongest = component;
    return strongest.hz;
}

} // namespace

QuantityResult peak_ratio(const QuantityArguments& arguments)
{
    BECALM_ASSERT(arguments.curve.size() >= 2); // the criterion's reader asks for it
    if (const auto problem = unless_stated_in(arguments, Motion::acceleration)) return fail(*problem);
    const double below_hz = parameter(arguments, "below_hz", 5.0);
    double natural_hz = parameter(arguments, "natural_hz", 0.0);
    std::string from = "as the criterion states";
    if (!(natural_hz > 0.0)) {
        const auto found = strongest_line_hz(arguments, below_hz);
        if (!found) return tl::unexpected(found.error());
        if (*found == 0.0)
            return fail(
                {.what = fmt::format("no natural frequency below {:.3g} Hz stands out of the spectrum", below_hz),
                 .remedy = "state parameters = { natural_hz = ... } in a copy of the criterion"});
        natural_hz = *found;
        from = fmt::format("the strongest line below {:.3g} Hz", below_hz);
    }
    if (natural_hz < arguments.curve.front().hz || natural_hz > arguments.curve.back().hz)
        return fail(
            {.what = fmt::format("the natural frequency {:.3g} Hz lies outside the curve, {:.3g} Hz to {:.3g} Hz",
                                 natural_hz, arguments.curve.front().hz, arguments.curve.back().hz),
             .remedy = "state parameters = { natural_hz = ... } in a copy of the criterion"});
    const double allowed = curve_at(arguments.curve, natural_hz);
    return QuantityValue{
        .value = arguments.tally.peak / allowed,
        .notes = {fmt::format("axis {}: greatest acceleration {:.4g} m/s2 over {:.4g} m/s2 at the natural "
                              "frequency {:.3g} Hz ({})",
                              name_of(arguments.axis), arguments.tally.peak, allowed, natural_hz, from)}};
}

} // namespace becalm::evaluators::iso10137
