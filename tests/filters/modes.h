// Modes of vibration for the witnesses: exact responses, in discrete time, of a single degree of freedom to white noise
// and to nothing at all.
#pragma once

#include <cmath>
#include <cstdint>
#include <numbers>

#include "tests/filters/signals.h"

namespace becalm::filters::tests {

// Normal deviates of mean 0 and variance 1 [Box and Muller]; the same for the same seed.
class Normal {
public:
    explicit Normal(std::uint64_t seed) : state_(seed * 0x9E3779B97F4A7C15ULL + 1) {}
    double operator()()
    {
        if (has_spare_) {
            has_spare_ = false;
            return spare_;
        }
        const double radius = std::sqrt(-2.0 * std::log(1.0 - uniform())), angle = 2.0 * std::numbers::pi * uniform();
        spare_ = radius * std::sin(angle);
        has_spare_ = true;
        return radius * std::cos(angle);
    }

private:
    double uniform() // 0 <= u < 1
    {
        state_ = state_ * 6364136223846793005ULL + 1442695040888963407ULL;
        return static_cast<double>(state_ >> 11) * 0x1p-53;
    }
    std::uint64_t state_;
    double spare_ = 0.0;
    bool has_spare_ = false;
};

// Displacement and velocity under continuous white noise, displacement of variance 1, from the steady state on. The
// state is carried from sample to sample by the exact exp(A dt); what the noise adds in between has the covariance P -
// exp(A dt) P exp(A dt)^T, P that of the steady state: no discretisation.
struct Response {
    Signal displacement, velocity;
};
inline Response white_noise_response(double hz, double damping, double rate_hz, std::size_t count, std::uint64_t seed)
{
    const double w0 = 2.0 * std::numbers::pi * hz, alpha = damping * w0, wd = w0 * std::sqrt(1.0 - damping * damping);
    const double dt = 1.0 / rate_hz, e = std::exp(-alpha * dt), c = std::cos(wd * dt), s = std::sin(wd * dt);
    const double a11 = e * (c + alpha / wd * s), a12 = e * s / wd, a21 = -e * w0 * w0 / wd * s,
                 a22 = e * (c - alpha / wd * s);
    const double p1 = 1.0, p2 = w0 * w0; // variances of displacement and velocity, which are independent
    const double q11 = p1 - (a11 * a11 * p1 + a12 * a12 * p2), q12 = -(a11 * a21 * p1 + a12 * a22 * p2),
                 q22 = p2 - (a21 * a21 * p1 + a22 * a22 * p2);
    const double l11 = std::sqrt(q11), l21 = q12 / l11, l22 = std::sqrt(q22 - l21 * l21);
    Normal normal(seed);
    double x = normal(), v = w0 * normal();
    Response response;
    response.displacement.reserve(count);
    response.velocity.reserve(count);
    for (std::size_t i = 0; i < count; ++i) {
        response.displacement.push_back(x);
        response.velocity.push_back(v);
        const double n1 = normal(), n2 = normal(), before = x;
        x = a11 * before + a12 * v + l11 * n1;
        v = a21 * before + a22 * v + l21 * n1 + l22 * n2;
    }
    return response;
}

// exp(-alpha t) sin(w_d t) from `onset_s` on, nothing before.
inline Signal free_decay_of(double hz, double damping, double rate_hz, std::size_t count, double onset_s)
{
    const double w0 = 2.0 * std::numbers::pi * hz, wd = w0 * std::sqrt(1.0 - damping * damping);
    Signal signal(count, 0.0);
    for (std::size_t i = 0; i < count; ++i)
        if (const double t = static_cast<double>(i) / rate_hz - onset_s; t > 0.0)
            signal[i] = std::exp(-damping * w0 * t) * std::sin(wd * t);
    return signal;
}

} // namespace becalm::filters::tests
