#include "filters/windowed_mode.h"

#include <cmath>
#include <numbers>

namespace becalm::filters {
namespace {

using Complex = std::complex<double>;
constexpr double tau = 2.0 * std::numbers::pi;

// Q(p); the real part of p is above 0.
Complex laplace_of_hann(Complex p)
{
    const Complex fallen = std::exp(-p), turn(0.0, tau);                                // exp(-(p +- turn)) is the same
    const auto of_ramp = [&](Complex s) { return 1.0 / s - (1.0 - fallen) / (s * s); }; // of 1 - u
    return 2.0 / 3.0 * of_ramp(p) + (of_ramp(p - turn) + of_ramp(p + turn)) / 6.0 +
           (1.0 - fallen) / (p * p + tau * tau);
}

struct Pole {
    double alpha = 0.0, damped = 0.0; // rad/s
};
Pole pole_of(const Mode& mode)
{
    const double w0 = tau * mode.hz;
    return {.alpha = mode.damping * w0, .damped = w0 * std::sqrt(1.0 - mode.damping * mode.damping)};
}

} // namespace

double hann_lag_window(double u) { return (1.0 - u) * (2.0 + std::cos(tau * u)) / 3.0 + std::sin(tau * u) / tau; }

double shown_density(const Mode& mode, double segment_s, double hz)
{
    const auto [alpha, damped] = pole_of(mode);
    const double w = tau * hz;
    // R = Re (1 - j k) exp((-alpha + j damped) t), k = zeta / sqrt(1 - zeta^2): half of it at +damped, half at -damped.
    const Complex amplitude(1.0, -alpha / damped);
    const Complex sum = amplitude * laplace_of_hann(segment_s * Complex(alpha, w - damped)) +
                        std::conj(amplitude) * laplace_of_hann(segment_s * Complex(alpha, w + damped));
    return sum.real();
}

double shown_receptance_square(const Mode& mode, double segment_s, double hz)
{
    const auto [alpha, damped] = pole_of(mode);
    const double w = tau * hz;
    return std::norm(laplace_of_hann(segment_s * Complex(alpha, w - damped)) -
                     laplace_of_hann(segment_s * Complex(alpha, w + damped)));
}

} // namespace becalm::filters
