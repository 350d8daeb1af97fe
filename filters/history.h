// The motion of a whole record as acceleration, velocity and displacement: filtered, integrated and differentiated in
// one step in the frequency domain.
//
//   Y(f) = (2 pi j f)^n T(f) B(f) X(f)
//   n = derivative_order(from) - derivative_order(to): 1 differentiates, -1 integrates
//   T = 0 below f_low / sqrt 2, 1 above f_low, and between them (1 - cos(pi (f - f_low / sqrt 2) / (f_low - f_low /
//   sqrt 2))) / 2
//   B = |H| of a high-pass and a low-pass where wanted: Butterworth's 1 / sqrt(1 + (f_c / f)^2N), 1 / sqrt(1 + (f /
//   f_c)^2N)
// The filters have no phase and are applied once: -3 dB at f_c, not the -6 dB of one that is run forth and back.
//
// Nothing below f_low / sqrt 2 comes through, so that an integration needs no initial values and drift has no say. The
// lower limit is part of the result and is to be told with it: where the acceleration is white, the displacement's
// r.m.s. rises by 2.8 with every halving of it.
//
// The mean is taken away and the record is continued by zeros on both sides. Near its ends the result depends on what
// came before and after, which nobody recorded: where the motion does not begin and end in quiet, expect errors of some
// 3 % of its r.m.s. at 3 / f_low from the ends, 0.4 % at 5 / f_low (edge_s), 0.1 % at 10 / f_low (measured by double
// integration of sines from 1.2 f_low to 40 f_low).
//
// [common practice; where the transition lies is this project's choice]
#pragma once

#include <complex>
#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "src/base/problem.h"
#include "src/base/units.h"

namespace becalm::filters {

// Butterworth magnitude without phase.
struct ZeroPhaseFilter {
    double hz = 0.0; // where it lets sqrt(1/2) pass
    int order = 4;   // N, 1 ... 16: 6 N dB an octave
};

struct HistoryLimits {
    double lower_hz = 0.0; // f_low > 0
    std::optional<ZeroPhaseFilter> high_pass = {}, low_pass = {};
};

class History {
public:
    static constexpr std::size_t most_samples = std::size_t{1} << 24; // 16.8 million; takes 0.7 GB while it works

    // Of samples of `motion` in its SI unit. Refuses a lower limit whose transition the record cannot resolve, that is
    // less than 1 / (f_low - f_low / sqrt 2) = 3.41 / f_low of duration; limits that lie beyond half the rate or leave
    // nothing between them; more than most_samples; samples that are no numbers.
    static Result<History> of(std::span<const double> samples, double rate_hz, Motion motion,
                              const HistoryLimits& limits);

    // As many samples as the record has, in the SI unit of `motion`.
    std::vector<double> as(Motion motion) const;

    // 5 / f_low: how far from the ends the result is at the mercy of what lies beyond them.
    double edge_s() const { return edge_s_; }

private:
    History() = default;
    Motion motion_ = Motion::acceleration;
    double rate_hz_ = 0.0, edge_s_ = 0.0;
    std::size_t samples_ = 0, length_ = 0;       // of the record, of the transform
    std::vector<std::complex<double>> spectrum_; // limits applied
};

} // namespace becalm::filters
