#include "evaluators/third_octaves.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

namespace becalm::evaluators {
namespace {

constexpr double same = 1.0 + 1e-6; // nominal frequencies, written with few digits

std::vector<filters::ThirdOctave> bands_between(double from_hz, double to_hz)
{
    std::vector<filters::ThirdOctave> bands;
    for (int n = static_cast<int>(std::floor(10.0 * std::log10(from_hz))) - 1;; ++n) {
        const filters::ThirdOctave band = filters::third_octave(n);
        if (band.nominal_hz > to_hz * same) return bands;
        if (band.nominal_hz * same >= from_hz) bands.push_back(band);
    }
}

// Seconds of the selection that the spectra tell of.
double told_s(const SelectedSpectra& recording)
{
    if (recording.spectra->rows.empty()) return 0.0;
    const double begin = recording.spectra->rows.front().from_s, end = recording.spectra->rows.back().to_s;
    double sum = 0.0;
    for (const TimeSpan& span : recording.selected)
        sum += std::max(0.0, std::min(span.to_s, end) - std::max(span.from_s, begin));
    return sum;
}

std::vector<double> converted(std::vector<double> density, double resolution_hz, int differentiations, const Gain& gain)
{
    if (!density.empty()) density[0] = 0.0; // the mean is taken away
    for (std::size_t k = 1; k < density.size(); ++k) {
        const double hz = static_cast<double>(k) * resolution_hz;
        density[k] *= std::pow(2.0 * std::numbers::pi * hz, 2 * differentiations);
        if (gain) density[k] *= std::pow(gain(hz), 2);
    }
    return density;
}

} // namespace

Result<BandValues> third_octaves_of(const QuantityArguments& arguments, Motion wanted, double from_hz, double to_hz,
                                    const Gain& gain)
{
    BandValues result;
    for (const filters::ThirdOctave& band : bands_between(from_hz, to_hz)) result.bands.push_back({.band = band});
    const int differentiations = derivative_order(arguments.motion) - derivative_order(wanted);
    double whole_s = 0.0, coarsest_hz = 0.0;
    for (const SelectedSpectra& recording : arguments.spectra) {
        const double resolution = recording.spectra->resolution_hz;
        const std::vector<double> density =
            converted(mean_density(*recording.spectra, recording.selected), resolution, differentiations, gain);
        if (density.empty()) continue;
        for (BandValue& value : result.bands) {
            if (value.band.to_hz > recording.spectra->rate_hz / 2.0)
                return fail({.what = fmt::format("the rate of {:.6g} Hz is too low for the band of {:.4g} Hz",
                                                 recording.spectra->rate_hz, value.band.nominal_hz),
                             .remedy = fmt::format("sample at {:.0f} Hz or more", std::ceil(2.0 * value.band.to_hz))});
            if (value.band.from_hz < resolution)
                return fail(
                    {.what = fmt::format("spectra of a resolution of {:.4g} Hz do not tell the band of {:.4g} Hz",
                                         resolution, value.band.nominal_hz),
                     .remedy = "record longer without a break"});
            value.rms += told_s(recording) *
                         std::pow(filters::band_rms(density, resolution, value.band.from_hz, value.band.to_hz), 2);
        }
        whole_s += told_s(recording);
        coarsest_hz = std::max(coarsest_hz, resolution);
    }
    if (!(whole_s > 0.0))
        return fail({.what = "no whole segment of a spectrum lies inside what is selected",
                     .remedy = "record longer without a break, or exclude less"});
    for (BandValue& value : result.bands) value.rms = std::sqrt(value.rms / whole_s);

    // The window spreads a steady tone over three bins; where the band is narrower, a part of it falls beside the band.
    const auto sure = std::ranges::find_if(result.bands, [&](const BandValue& value) {
        return value.band.to_hz - value.band.from_hz >= 3.0 * coarsest_hz;
    });
    if (sure != result.bands.begin())
        result.notes.push_back(fmt::format(
            "spectra of {:.4g} Hz resolution: {}, where a steady tone can read up to 2 dB too low", coarsest_hz,
            sure == result.bands.end()
                ? "every band is narrower than three bins"
                : fmt::format("the bands below {:.4g} Hz are narrower than three bins", sure->band.nominal_hz)));
    return result;
}

double level_db(double value, double reference)
{
    BECALM_ASSERT(value > 0.0 && reference > 0.0);
    return 20.0 * std::log10(value / reference);
}

} // namespace becalm::evaluators
