// One-third-octave and one-octave bands and their filters in the time domain [iec61260-1-2014].
//
// Bands of the base-ten system (5.2 to 5.5): octave ratio G = 10^(3/10); exact centres 10^(n/10) of one-third octaves,
// 10^(3n/10) of octaves; edges at the centre times G^(-+1/2b), b = 3 or 1.
//
// A filter is the Butterworth band-pass of 6th order (prototype of order 3), by the bilinear transformation with both
// edges mapped exactly: -3.01 dB at the edges, 1 between them, as three sections of second order in double precision,
//   H(z) = prod_i g_i (1 - z^-2) / (1 + a1_i z^-1 + a2_i z^-2).
// Above its band a digital filter falls faster than the analogue one; below, it falls more slowly the nearer the band
// lies to half the rate. The shape lies within the limits of relative attenuation of class 1, as remembered, for bands
// up to class_1_edge() (tests/filters/octave_filters_test.cpp); above, the skirt below the band leaks more, and bands
// whose upper edge exceeds 0.4 of the rate are refused.
#pragma once

#include <array>
#include <complex>
#include <cstddef>
#include <span>
#include <vector>

#include "src/base/problem.h"

namespace becalm::filters {

enum class BandWidth { third_octave = 3, octave = 1 };

struct OctaveBand {
    BandWidth width = BandWidth::third_octave;
    int n = 0;
    double exact_hz = 1.0;
    double nominal_hz = 1.0; // as the bands are called: 1, 1.25, 1.6, ...; octaves 1, 2, 4, 8, 16, 31.5, 63, ...
    double from_hz = 0.0, to_hz = 0.0;
};

OctaveBand octave_band(BandWidth width, int n);

// Bands with from_hz >= least_hz > 0 and to_hz <= greatest_hz, ascending.
std::vector<OctaveBand> octave_bands_within(BandWidth width, double least_hz, double greatest_hz);

// Lower edges that a filter can follow, as part of the rate: below, poles in double precision lie too near to 1.
constexpr double lowest_band_edge = 1e-5; // not a limit: part of the rate

// Upper edges of the bands that a filter can follow, as part of the rate.
constexpr double highest_band_edge = 0.4; // not a limit: part of the rate

// Upper edges up to which the filters keep the shape of class 1, as part of the rate.
constexpr double class_1_edge(BandWidth width)
{
    return width == BandWidth::octave ? 0.19 : 0.23; // not a limit: part of the rate
}

struct BandSection {
    double g = 1.0, a1 = 0.0, a2 = 0.0;
};
using BandFilter = std::array<BandSection, 3>;

// Edges 1e-5 rate_hz <= from_hz < to_hz <= 0.4 rate_hz, else a Problem that says so.
Result<BandFilter> band_filter(double from_hz, double to_hz, double rate_hz);

std::complex<double> response(const BandFilter& filter, double hz, double rate_hz);

// Running level of one band, streaming: from rest, squares of what comes out of the filter averaged exponentially,
//   y[i] = y[i-1] exp(-1 / (rate tau)) + x[i]^2 (1 - exp(-1 / (rate tau))).
// A band narrower than 1 / tau sounds on for longer than tau, and its level with it.
class RunningBand {
public:
    // time_constant_s > 0; 0.125 s (fast) and 1 s (slow) are usual.
    RunningBand(const BandFilter& filter, double rate_hz, double time_constant_s);

    void add(const double* samples, std::size_t count, std::size_t stride);

    double level() const;    // r.m.s. now,
    double greatest() const; // the greatest so far,
    double mean() const;     // and over everything, each sample counting the same; 0 where there is none

private:
    BandFilter filter_;
    std::array<std::array<double, 2>, 3> state_{};
    double keep_, average_ = 0.0, greatest_ = 0.0, sum_ = 0.0;
    std::size_t count_ = 0;
};

} // namespace becalm::filters
