// Frequency weightings, each defined once by its published parameters.
//
// H(s) = Hh(s) Hl(s) Ht(s) Hs(s), s = j 2 pi f, w_i = 2 pi f_i
//   Hh = 1 / (1 + w1/(Q1 s) + (w1/s)^2)                       high-pass   (band limit)
//   Hl = 1 / (1 + s/(Q2 w2) + (s/w2)^2)                       low-pass    (band limit)
//   Ht = (1 + s/w3) / (1 + s/(Q4 w4) + (s/w4)^2)              acceleration-velocity transition; 1 where f4 is infinite,
//                                                             numerator 1 where f3 is infinite
//   Hs = K (1 + s/(Q5 w5) + (s/w5)^2) / (1 + s/(Q6 w6) + (s/w6)^2) (f5/f6)^2     upward step; K where f5, f6 are
//   infinite
// [iso8041-1-2017, 5.6; the same cascade in gost-r-59701-1-2022, figure C.1]
//
// H is that of a channel which carries acceleration. One that carries velocity or displacement is weighted by H(s) s^n,
// n = 1 or 2, so that the same motion gives the same output, however it was sensed: an acceleration in m/s2, or a
// velocity in m/s where the weighting is defined as one (output_of()):
//   KB        of a velocity s / (s + w0) [din4150-2-1999; din45669-1], so of an acceleration Ht = 1 / (1 + s/w0) with
//             f3 = f4 = f0, Q4 = 0.5 and K = 1/w0. DIN's KB is the number of mm/s that come out.
//   velocity  of a velocity nothing but the band limits, so of an acceleration H times 1/s (`integrations`)
// "flat" is an acceleration within its band limits, unweighted. "none" leaves a channel as it is, without band limits,
// in the SI unit of its own motion.
#pragma once

#include <complex>
#include <limits>

#include "src/base/units.h"
#include "src/model/weighting_id.h"

namespace becalm::filters {

inline constexpr double infinite_hz = std::numeric_limits<double>::infinity();

struct WeightingParameters {
    double f1, Q1;                          // Hz; high-pass
    double f2, Q2;                          // Hz; low-pass
    double f3, f4, Q4;                      // Hz; transition
    double f5, Q5;                          // Hz; step numerator
    double f6, Q6;                          // Hz; step denominator
    double K;                               // gain; s where the output is a velocity by way of Ht
    double nominal_low_hz, nominal_high_hz; // nominal frequency range
    int integrations = 0;                   // H is times 1/s so often
};

// `id` must not be none.
const WeightingParameters& parameters_of(WeightingId id);

using becalm::output_of; // Motion output_of(WeightingId), and of a channel that carries some motion

// H(j 2 pi hz) (j 2 pi hz)^n for `input`; 1 for none. hz >= 0. Unit: that of the output over that of the input, s^1 to
// s^-2.
std::complex<double> analytic_response(WeightingId id, Motion input, double hz);

// Up to this frequency the digital filter follows the definition to 0.01 % and 0.01 degrees at every rate from
// least_rate_hz() on: one third-octave beyond the nominal range (112 Hz; 1,400 Hz for Wh; 0.7 Hz for Wf).
double accurate_to_hz(WeightingId id);

// Lowest sampling rate at which a recording may be weighted: accurate_to_hz() at 7/8 of half the rate (256 Hz; 3,200 Hz
// for Wh, 1.6 Hz for Wf). 0 for none.
double least_rate_hz(WeightingId id);

// Time that a judgement leaves out at the start while the filter settles from rest: 2 / f1 seconds (common practice, no
// source).
double run_in_s(WeightingId id);

// Time after which the analogue filter has forgotten a start from rest to 1e-12 of what it was: 28 time constants of
// its slowest pole. The running filter's own is in filters/digital_design.h.
double memory_s(WeightingId id);

} // namespace becalm::filters
