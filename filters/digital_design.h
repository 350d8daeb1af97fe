// The digital filter that does what the analytic weighting says, at the recording's own rate.
//
// Poles and zeros of the analogue cascade are mapped exactly, z = exp(s / rate). What remains between that and the
// analytic response is smooth; it is fitted by least squares to the complex remainder with a short correction
//
//     C(z) = [sum_k taps[k] z^-k + sum_k residue[k] / (1 + rho[k] z^-1)] A(z),  A(z) all-pass sections, none at high
//     rates
//
// whose known whole-sample latency is removed by whoever runs the filter. A plain bilinear design is 3.4 % off at 80 Hz
// at 1 kHz (computed from the definition); this one stays within
//     1e-4 of the analytic value, complex (so 0.01 % and 0.006 degrees), up to accurate_to_hz(), and
//     1e-5 of the greatest magnitude above: complex up to 0.6 of half the rate, in magnitude from there to half the
//     rate.
// Any filter with real coefficients must be real at half the rate, so its phase cannot follow there; the magnitude can.
// The corner that the folded magnitude has at half the rate is why a few real poles near z = -1 stand beside the taps.
// What they and the taps give of themselves is the magnitude with the least phase that goes with it; the phase that is
// wanted beyond that, up to where it can follow, is the all-pass sections'.
#pragma once

#include <array>
#include <complex>
#include <cstddef>
#include <memory>
#include <vector>

#include "src/base/problem.h"
#include "src/base/units.h"
#include "src/model/weighting_id.h"

namespace becalm::filters {

// (1 + b1 z^-1 + b2 z^-2) / (1 + a1 z^-1 + a2 z^-2)
struct Section {
    double b1 = 0.0, b2 = 0.0;
    double a1 = 0.0, a2 = 0.0;
};

struct RealPole {
    double rho = 0.0; // pole at z = -rho, 0 < rho < 1
    double residue = 0.0;
};

struct DigitalWeighting {
    WeightingId id = WeightingId::none;
    Motion input = Motion::acceleration;
    double rate_hz = 0.0;
    int latency = 0;          // samples that the output comes late
    std::vector<double> taps; // of the correction; never empty
    std::vector<RealPole> poles;
    std::vector<Section> sections; // high-pass first, all-pass last
    std::size_t mapped = 0;        // sections that are the definition's poles and zeros; those behind are all-pass
    double worst_error = 0.0;      // greatest error found in the design, in units of the tolerances above; <= 1
};

// Designs, or says which least rate would do. rate_hz > 0. The same request is designed once a process and shared.
// Thread safe.
Result<std::shared_ptr<const DigitalWeighting>> design(WeightingId id, Motion input, double rate_hz);

// Time after which the running filter has forgotten a start from rest to 1e-12 of what it was: that of the weighting,
// or 28 time constants of the correction's slowest pole, whichever is longer.
double memory_s(const DigitalWeighting& weighting);

// What the running filter does at `hz` (0 <= hz <= rate / 2): computed from its coefficients, latency removed.
std::complex<double> response(const DigitalWeighting& weighting, double hz);

} // namespace becalm::filters
