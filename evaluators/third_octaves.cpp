#include "evaluators/third_octaves.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "evaluators/recorded_spectrum.h"

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

// The density as another motion, weighted.
void convert(RecordedSpectrum& spectrum, Motion recorded, Motion wanted, const Gain& gain)
{
    spectrum.density[0] = 0.0; // the mean is taken away
    for (std::size_t k = 1; k < spectrum.density.size(); ++k) {
        const double hz = static_cast<double>(k) * spectrum.resolution_hz;
        spectrum.density[k] *= std::pow(times_from(recorded, wanted, hz) * (gain ? gain(hz) : 1.0), 2);
    }
}

} // namespace

Result<BandValues> third_octaves_of(const QuantityArguments& arguments, Motion wanted, double from_hz, double to_hz,
                                    const Gain& gain)
{
    BandValues result;
    for (const filters::ThirdOctave& band : bands_between(from_hz, to_hz)) result.bands.push_back({.band = band});
    if (result.bands.empty())
        return fail(
            {.what = fmt::format("no third-octave band has its centre between {:.4g} Hz and {:.4g} Hz", from_hz, to_hz),
             .remedy = "widen the range in the criterion"});
    auto spectra = recorded_spectra(arguments, result.bands.back().band.to_hz);
    if (!spectra) return tl::unexpected(spectra.error());
    double whole_s = 0.0, coarsest_hz = 0.0;
    for (std::size_t i = 0; i < spectra->size(); ++i) {
        RecordedSpectrum& spectrum = (*spectra)[i];
        if (const auto& lowest = result.bands.front().band; lowest.from_hz < spectrum.resolution_hz)
            return fail({.what = fmt::format("spectra of a resolution of {:.4g} Hz do not tell the band of {:.4g} Hz",
                                             spectrum.resolution_hz, lowest.nominal_hz),
                         .remedy = "record longer without a break"});
        convert(spectrum, arguments.motion, wanted, gain);
        const double seconds = told_s(arguments.spectra[i]);
        for (BandValue& value : result.bands) {
            const double rms =
                filters::band_rms(spectrum.density, spectrum.resolution_hz, value.band.from_hz, value.band.to_hz);
            value.rms += seconds * rms * rms;
        }
        whole_s += seconds;
        coarsest_hz = std::max(coarsest_hz, spectrum.resolution_hz);
    }
    BECALM_ASSERT(whole_s > 0.0); // a recording without a row was refused
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
