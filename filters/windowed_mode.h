// What spectra by filters/welch.h show of a mode of vibration, on average.
//
// Averaging the squares of windowed transforms multiplies the correlation function by that of the window,
//   q(u) = (1 - u) (2 + cos 2 pi u) / 3 + sin(2 pi u) / (2 pi),  u = |lag| / T      (Hann, computed from its
//   definition)
// and a transfer function's response to an impulse likewise. A damped sine stays within reach: with
//   Q(p) = integral_0^1 q(u) exp(-p u) du
// which has a closed form, a resonance is shown as a sum of two values of Q. Holds for many samples a segment.
#pragma once

#include <complex>

namespace becalm::filters {

// f0 > 0, 0 < zeta < 1 (filters/damping.h).
struct Mode {
    double hz = 0.0;
    double damping = 0.0;
};

// q(u), 0 <= u <= 1.
double hann_lag_window(double u);

// Density at `hz` of the displacement under white force, as shown by segments of `segment_s`; a constant factor is
// left out.
double shown_density(const Mode& mode, double segment_s, double hz);

// Square of the receptance at `hz`, as H1 of white force shows it; a constant factor is left out.
double shown_receptance_square(const Mode& mode, double segment_s, double hz);

} // namespace becalm::filters
