#include "filters/octave_filters.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

#include "filters/welch.h"

namespace becalm::filters {

OctaveBand octave_band(BandWidth width, int n)
{
    const ThirdOctave third = third_octave(width == BandWidth::octave ? 3 * n : n);
    if (width == BandWidth::third_octave)
        return {width, n, third.exact_hz, third.nominal_hz, third.from_hz, third.to_hz};
    return {.width = width,
            .n = n,
            .exact_hz = third.exact_hz,
            .nominal_hz = third.nominal_hz,
            .from_hz = std::pow(10.0, 0.3 * n - 0.15), // not a limit: half an octave
            .to_hz = std::pow(10.0, 0.3 * n + 0.15)};  // not a limit: half an octave
}

std::vector<OctaveBand> octave_bands_within(BandWidth width, double least_hz, double greatest_hz)
{
    BECALM_ASSERT(least_hz > 0.0);
    const double bands_a_decade = width == BandWidth::octave ? 10.0 / 3.0 : 10.0;
    std::vector<OctaveBand> bands;
    for (int n = static_cast<int>(std::floor(bands_a_decade * std::log10(least_hz)));; ++n) {
        const OctaveBand band = octave_band(width, n);
        if (band.to_hz > greatest_hz) return bands;
        if (band.from_hz >= least_hz) bands.push_back(band);
    }
}

Result<BandFilter> band_filter(double from_hz, double to_hz, double rate_hz)
{
    if (!(from_hz >= lowest_band_edge * rate_hz && to_hz > from_hz && to_hz <= highest_band_edge * rate_hz))
        return fail({.what = fmt::format("no band filter from {:.6g} Hz to {:.6g} Hz at a rate of {:.6g} Hz", from_hz,
                                         to_hz, rate_hz),
                     .remedy = fmt::format("choose edges from {:.6g} Hz to {:.6g} Hz, or another rate",
                                           lowest_band_edge * rate_hz, highest_band_edge * rate_hz)});
    // s = (z - 1) / (z + 1) maps the frequency f to tan(pi f / rate).
    const double low = std::tan(std::numbers::pi * from_hz / rate_hz);
    const double high = std::tan(std::numbers::pi * to_hz / rate_hz);
    const double bandwidth = high - low, centre = std::sqrt(low * high);
    const std::complex<double> at_centre = std::polar(1.0, 2.0 * std::atan(centre));
    BandFilter filter;
    std::size_t i = 0;
    const auto add_section = [&](std::complex<double> s) { // and its conjugate
        const std::complex<double> pole = (1.0 + s) / (1.0 - s);
        BandSection& section = filter[i++];
        section.a1 = -2.0 * pole.real();
        section.a2 = std::norm(pole);
        const auto z = 1.0 / at_centre;
        section.g = std::abs((1.0 + section.a1 * z + section.a2 * z * z) / (1.0 - z * z));
    };
    // Poles p of the prototype: -1 and exp(+-2 pi j / 3). Each becomes the two roots of s^2 - p bandwidth s + centre^2;
    // the conjugate prototype pole gives the conjugate roots. A wide band makes both roots of p = -1 real: octaves do
    // not come near (bandwidth < 2 centre).
    for (const std::complex<double> p : {std::complex(-1.0, 0.0), std::polar(1.0, 2.0 * std::numbers::pi / 3.0)}) {
        const std::complex<double> middle = 0.5 * bandwidth * p;
        const std::complex<double> root = std::sqrt(middle * middle - centre * centre);
        add_section(middle + root);
        if (p.imag() != 0.0) add_section(middle - root);
    }
    return filter;
}

std::complex<double> response(const BandFilter& filter, double hz, double rate_hz)
{
    const std::complex<double> z = std::polar(1.0, -2.0 * std::numbers::pi * hz / rate_hz);
    std::complex<double> h = 1.0;
    for (const BandSection& section : filter)
        h *= section.g * (1.0 - z * z) / (1.0 + section.a1 * z + section.a2 * z * z);
    return h;
}

RunningBand::RunningBand(const BandFilter& filter, double rate_hz, double time_constant_s)
    : filter_(filter), keep_(std::exp(-1.0 / (rate_hz * time_constant_s)))
{
    BECALM_ASSERT(time_constant_s > 0.0);
}

void RunningBand::add(const double* samples, std::size_t count, std::size_t stride)
{
    for (std::size_t i = 0; i < count; ++i) {
        double x = samples[i * stride];
        for (std::size_t s = 0; s < filter_.size(); ++s) {
            const BandSection& section = filter_[s];
            auto& [first, second] = state_[s];
            const double in = section.g * x;
            x = in + first;
            first = second - section.a1 * x;
            second = -in - section.a2 * x;
        }
        const double square = x * x;
        average_ = keep_ * average_ + (1.0 - keep_) * square;
        greatest_ = std::max(greatest_, average_);
        sum_ += square;
    }
    count_ += count;
}

double RunningBand::level() const { return std::sqrt(average_); }
double RunningBand::greatest() const { return std::sqrt(greatest_); }
double RunningBand::mean() const { return count_ > 0 ? std::sqrt(sum_ / static_cast<double>(count_)) : 0.0; }

} // namespace becalm::filters
