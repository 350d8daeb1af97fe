#include "evaluators/ride_index.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

#include "evaluators/recorded_spectrum.h"

namespace becalm::evaluators::ride_index {
namespace {

constexpr double from_hz = 0.5;
constexpr double cm_per_m = 100.0;

std::string several(std::size_t recordings) { return fmt::format("the greatest of {} recordings counts", recordings); }

} // namespace

Direction direction_of(Axis axis)
{
    BECALM_ASSERT(!is_rotation(axis)); // the procedures look
    return axis == Axis::z ? Direction::vertical : Direction::horizontal;
}

double component_weighting(Direction direction, double hz)
{
    // not limits: the shape of the weighting, frequency by frequency
    const bool vertical = direction == Direction::vertical;
    const double rises_to_hz = vertical ? 5.9 : 5.4; // not a limit: Hz
    const double falls_to_hz = vertical ? 20.0 : 26.0;
    if (hz < from_hz) return 0.0;
    if (hz < rises_to_hz) return (vertical ? 0.325 : 0.8) * hz * hz; // not a limit: a coefficient of F
    if (hz < falls_to_hz) return (vertical ? 400.0 : 650.0) / (hz * hz);
    return 1.0;
}

double of_components(Direction direction, std::span<const Component> components)
{
    double sum = 0.0; // of W_i^10
    for (const Component& component : components)
        sum += std::pow(0.896, 10.0) * std::pow(component.peak_cm_s2, 3.0) * // not a limit: coefficient of W_i
               component_weighting(direction, component.hz) / component.hz;
    return std::pow(sum, 0.1);
}

double acceleration_weighting(Direction direction, double hz)
{
    const double k = direction == Direction::vertical ? 0.588 : 0.737;
    const double f2 = hz * hz;
    const double upper = 1.911 * f2 + std::pow(0.25 * f2, 2.0); // not a limit: a coefficient of B
    const double lower = std::pow(1.0 - 0.277 * f2, 2.0) + std::pow(1.563 * hz - 0.0368 * f2 * hz, 2.0);
    return k * std::sqrt(upper / lower);
}

QuantityResult components(const QuantityArguments& arguments)
{
    if (is_rotation(arguments.axis))
        return fail({.what = "a rotation has no ride index", .remedy = "map a translation"});
    const Direction direction = direction_of(arguments.axis);
    // F is 1 from 26 Hz on at the latest; a spectrum that ends below cannot say what lies there.
    constexpr double constant_from_hz = 26.0;
    const auto spectra = recorded_spectra(arguments, constant_from_hz);
    if (!spectra) return tl::unexpected(spectra.error());
    QuantityValue result{.notes = {"component form: lines of the spectrum, peak = sqrt 2 times the r.m.s. value"}};
    bool any = false;
    double lines_squared = 0.0, band_squared = 0.0, lowest_hz = 0.0;
    for (const RecordedSpectrum& spectrum : *spectra) {
        const double to_hz = spectrum.rate_hz / 2.0;
        lowest_hz = std::max(lowest_hz, lowest_line_hz(spectrum));
        std::vector<Component> found;
        for (const auto& line : components_as(Motion::acceleration, spectrum, arguments.motion, from_hz, to_hz)) {
            found.push_back({.hz = line.hz, .peak_cm_s2 = std::numbers::sqrt2 * line.rms * cm_per_m});
            lines_squared += line.rms * line.rms;
        }
        const double band = band_rms_as(Motion::acceleration, spectrum, arguments.motion, from_hz, to_hz);
        band_squared += band * band;
        any = any || !found.empty();
        result.value = std::max(result.value, of_components(direction, found));
    }
    if (!any)
        return fail({.what = "no component stands out of the spectrum",
                     .remedy = "judge by the weighted form, which takes all of the motion"});
    if (lowest_hz > from_hz)
        result.notes.push_back(fmt::format("components below {:.3g} Hz cannot be told at this resolution", lowest_hz));
    if (const double share = lines_squared / band_squared; share < 0.5)
        result.notes.push_back(fmt::format("axis {}: the components carry {:.0f} % of the mean square; the rest is "
                                           "broad, and this form does not see it",
                                           name_of(arguments.axis), 100.0 * share));
    if (spectra->size() > 1) result.notes.push_back(several(spectra->size()));
    return result;
}

QuantityResult weighted(const QuantityArguments& arguments)
{
    if (is_rotation(arguments.axis))
        return fail({.what = "a rotation has no ride index", .remedy = "map a translation"});
    const Direction direction = direction_of(arguments.axis);
    constexpr double least_reach_hz = 26.0; // as in the component form
    const auto spectra = recorded_spectra(arguments, least_reach_hz);
    if (!spectra) return tl::unexpected(spectra.error());
    QuantityValue result{.notes = {"weighted form: all of the motion from 0.5 Hz, under a weighting of its own"}};
    for (const RecordedSpectrum& spectrum : *spectra) {
        double mean_square = 0.0;
        for (std::size_t k = 1; k < spectrum.density.size(); ++k) {
            const double hz = static_cast<double>(k) * spectrum.resolution_hz;
            if (hz < from_hz) continue;
            const double times =
                acceleration_weighting(direction, hz) * times_from(arguments.motion, Motion::acceleration, hz);
            mean_square += spectrum.density[k] * times * times * spectrum.resolution_hz;
        }
        constexpr double exponent = 0.3; // not a limit: of the weighted form
        result.value = std::max(result.value, 4.42 * std::pow(std::sqrt(mean_square), exponent));
    }
    if (spectra->size() > 1) result.notes.push_back(several(spectra->size()));
    return result;
}

} // namespace becalm::evaluators::ride_index
