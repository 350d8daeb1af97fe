#include "evaluators/recorded_spectrum.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>

#include <fmt/format.h>

namespace becalm::evaluators {

Result<std::vector<RecordedSpectrum>> recorded_spectra(const QuantityArguments& arguments, double to_hz)
{
    std::vector<RecordedSpectrum> result;
    for (const SelectedSpectra& one : arguments.spectra) {
        const ChannelSpectra& spectra = *one.spectra;
        if (spectra.rate_hz / 2.0 < to_hz)
            return fail(
                {.what = fmt::format("components are looked at up to {:.4g} Hz, and a rate of {:.6g} Hz reaches "
                                     "to {:.6g} Hz",
                                     to_hz, spectra.rate_hz, spectra.rate_hz / 2.0),
                 .remedy = "sample faster"});
        std::vector<double> density = mean_density(spectra, one.selected);
        if (density.empty())
            return fail({.what = "no stretch of the selection is long enough for a spectrum",
                         .remedy = "measure longer or exclude less"});
        result.push_back(
            {.density = std::move(density), .resolution_hz = spectra.resolution_hz, .rate_hz = spectra.rate_hz});
    }
    if (result.empty())
        return fail({.what = "there is no spectrum of this axis", .remedy = "measure longer or exclude less"});
    return result;
}

double times_from(Motion recorded, Motion wanted, double hz)
{
    return std::pow(2.0 * std::numbers::pi * hz, derivative_order(recorded) - derivative_order(wanted));
}

double band_rms_as(Motion wanted, const RecordedSpectrum& spectrum, Motion recorded, double from_hz, double to_hz)
{
    double mean_square = 0.0;
    for (std::size_t k = 1; k < spectrum.density.size(); ++k) {
        const double hz = static_cast<double>(k) * spectrum.resolution_hz;
        if (hz < from_hz || hz > to_hz) continue;
        const double times = times_from(recorded, wanted, hz);
        mean_square += spectrum.density[k] * times * times * spectrum.resolution_hz;
    }
    return std::sqrt(mean_square);
}

std::vector<SpectralComponent> components_as(Motion wanted, const RecordedSpectrum& spectrum, Motion recorded,
                                             double from_hz, double to_hz)
{
    constexpr double steadiness = 0.01; // of a component's frequency
    constexpr double main_lobe = 3.0;   // bins
    const std::vector<double>& density = spectrum.density;
    std::vector<bool> taken(density.size(), false);
    std::vector<SpectralComponent> components;
    const double slack_hz = spectrum.resolution_hz / 10.0; // a component on the very edge of the range belongs to it
    for (const filters::SpectralLine& line : filters::spectral_lines(density, spectrum.resolution_hz)) {
        const double at = line.hz / spectrum.resolution_hz;
        const auto middle = static_cast<std::size_t>(std::lround(at));
        if (taken[middle]) continue;
        const double reach = std::max(main_lobe, steadiness * at);
        const auto first = static_cast<std::size_t>(std::max(1.0, std::ceil(at - reach)));
        const auto last = std::min(density.size() - 1, static_cast<std::size_t>(std::floor(at + reach)));
        const double greatest = *std::max_element(density.begin() + static_cast<std::ptrdiff_t>(first),
                                                  density.begin() + static_cast<std::ptrdiff_t>(last) + 1);
        const double floor = greatest / line.above_floor;
        double mean_square = 0.0;
        for (std::size_t k = first; k <= last; ++k) {
            if (!taken[k]) mean_square += (density[k] - floor) * spectrum.resolution_hz;
            taken[k] = true;
        }
        mean_square = std::max(mean_square, line.rms * line.rms); // of the line alone
        if (line.hz < from_hz - slack_hz || line.hz > to_hz + slack_hz) continue;
        components.push_back({.hz = line.hz, .rms = std::sqrt(mean_square) * times_from(recorded, wanted, line.hz)});
    }
    std::ranges::sort(components, std::ranges::greater{}, &SpectralComponent::rms);
    return components;
}

double lowest_line_hz(const RecordedSpectrum& spectrum) { return 3.0 * spectrum.resolution_hz; }

} // namespace becalm::evaluators
