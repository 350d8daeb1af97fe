#include "evaluators/recorded_spectrum.h"

#include <cmath>
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

std::vector<filters::SpectralLine> lines_as(Motion wanted, const RecordedSpectrum& spectrum, Motion recorded,
                                            double from_hz, double to_hz)
{
    std::vector<filters::SpectralLine> lines;
    // A component on the very edge of the range belongs to it.
    const double slack_hz = spectrum.resolution_hz / 10.0;
    for (filters::SpectralLine line : filters::spectral_lines(spectrum.density, spectrum.resolution_hz)) {
        if (line.hz < from_hz - slack_hz || line.hz > to_hz + slack_hz) continue;
        line.rms *= times_from(recorded, wanted, line.hz);
        lines.push_back(line);
    }
    return lines;
}

double lowest_line_hz(const RecordedSpectrum& spectrum) { return 3.0 * spectrum.resolution_hz; }

} // namespace becalm::evaluators
