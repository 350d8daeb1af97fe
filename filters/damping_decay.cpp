// Free decays; see damping.h.
#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

#include <fmt/format.h>

#include "filters/damping.h"
#include "filters/fft.h"

namespace becalm::filters {
namespace {

using Complex = std::complex<double>;
constexpr double tau = 2.0 * std::numbers::pi;

constexpr double model_error = 0.01;     // s of the weights
constexpr double least_per_period = 5.0; // samples
constexpr double least_periods = 4.0;
constexpr double rounding = 1e-13; // of the mean: what is left of a constant
constexpr double most_misfit = 0.2;
constexpr double points_per_period = 16.0; // of the envelope: it is smooth, more tell nothing more
constexpr int retunings = 3;               // of the band-pass to the frequency found
constexpr int refloorings = 10;            // of the floor to the decay found

// The analytic signal, from half a band-pass after the beginning to half a band-pass before the end.
struct Analytic {
    std::vector<Complex> z;
    double first_s = 0.0, step_s = 0.0;
    double half_s = 0.0;     // half the band-pass
    double per_sample = 1.0; // points that tell as much as one independent one, for white noise

    double at_s(std::size_t i) const { return first_s + static_cast<double>(i) * step_s; }
};

Analytic analytic_signal(std::span<const double> samples, double rate_hz, double hz, double periods)
{
    const auto half = static_cast<std::size_t>(std::max(2.0, std::round(0.5 * periods * rate_hz / hz)));
    const auto step = static_cast<std::size_t>(std::max(1.0, std::floor(rate_hz / (points_per_period * hz))));
    std::vector<Complex> kernel(2 * half + 1);
    double sum = 0.0, squares = 0.0;
    for (std::size_t i = 0; i < kernel.size(); ++i) {
        const double from_centre = static_cast<double>(i) - static_cast<double>(half);
        const double w = 0.5 + 0.5 * std::cos(std::numbers::pi * from_centre / static_cast<double>(half));
        kernel[i] = std::polar(w, -tau * hz * from_centre / rate_hz);
        sum += w;
        squares += w * w;
    }
    Analytic result{.z = {},
                    .first_s = static_cast<double>(half) / rate_hz,
                    .step_s = static_cast<double>(step) / rate_hz,
                    .half_s = static_cast<double>(half) / rate_hz,
                    .per_sample = std::max(1.0, sum * sum / squares / static_cast<double>(step))};
    for (std::size_t from = 0; from + kernel.size() <= samples.size(); from += step) {
        Complex z;
        for (std::size_t i = 0; i < kernel.size(); ++i) z += kernel[i] * samples[from + i];
        result.z.push_back(2.0 / sum * z);
    }
    return result;
}

// Greatest line of the record, below a fifth of the rate.
double greatest_hz(std::span<const double> samples, double rate_hz)
{
    RealFft fft(fast_length(4 * samples.size()));
    std::ranges::fill(std::ranges::copy(samples, fft.input().begin()).out, fft.input().end(), 0.0);
    const auto spectrum = fft.run();
    const auto end = static_cast<std::size_t>(static_cast<double>(fft.length()) / least_per_period);
    std::size_t greatest = 1;
    for (std::size_t k = 1; k < end; ++k)
        if (std::norm(spectrum[k]) > std::norm(spectrum[greatest])) greatest = k;
    return static_cast<double>(greatest) * rate_hz / static_cast<double>(fft.length());
}

// exp(log_amplitude + j phase + (-alpha + j damped) t), fitted to points [from, to).
struct DampedSine {
    std::size_t from = 0, to = 0;
    double alpha = 0.0, damped = 0.0, log_amplitude = 0.0, phase = 0.0;
    double floor = 0.0; // r.m.s. of z's noise
    // Of the fit: uncertainty of alpha and damped alike, squares of scatter and of expected noise (weighted, relative).
    double uncertainty = 0.0, scatter = 0.0, noise = 0.0;
    double independent = 0.0; // samples

    double amplitude(double t) const { return std::exp(log_amplitude - alpha * t); }
    Complex value(double t) const { return std::polar(amplitude(t), phase + damped * t); }
};

struct Line {
    double slope = 0.0, at_zero = 0.0, spread = 0.0; // sum of weights times (t - mean)^2
};
Line straight_line(std::span<const double> t, std::span<const double> y, std::span<const double> weights)
{
    double sum = 0.0, mean_t = 0.0, mean_y = 0.0;
    for (std::size_t i = 0; i < t.size(); ++i) {
        sum += weights[i];
        mean_t += weights[i] * t[i];
        mean_y += weights[i] * y[i];
    }
    mean_t /= sum, mean_y /= sum;
    double with = 0.0, spread = 0.0;
    for (std::size_t i = 0; i < t.size(); ++i) {
        with += weights[i] * (t[i] - mean_t) * (y[i] - mean_y);
        spread += weights[i] * (t[i] - mean_t) * (t[i] - mean_t);
    }
    const double slope = with / spread;
    return {.slope = slope, .at_zero = mean_y - slope * mean_t, .spread = spread};
}

// One fit over [sine.from, sine.to), with the floor as it stands and amplitudes as the last fit has them, if any.
void fit(DampedSine& sine, const Analytic& signal, bool has_amplitudes)
{
    std::vector<double> t, logs, phases, weights;
    for (std::size_t i = sine.from; i < sine.to; ++i) {
        const Complex z = signal.z[i];
        t.push_back(signal.at_s(i));
        logs.push_back(std::log(std::abs(z)));
        const double phase = std::arg(z);
        phases.push_back(phases.empty() ? phase : phases.back() + std::remainder(phase - phases.back(), tau));
        const double ratio = sine.floor / (has_amplitudes ? sine.amplitude(t.back()) : std::abs(z));
        weights.push_back(1.0 / (model_error * model_error + 0.5 * ratio * ratio));
    }
    const Line falling = straight_line(t, logs, weights), turning = straight_line(t, phases, weights);
    sine.alpha = -falling.slope;
    sine.log_amplitude = falling.at_zero;
    sine.damped = turning.slope;
    sine.phase = turning.at_zero;

    double sum = 0.0, scatter = 0.0, noise = 0.0, weighted = 0.0, weighted_noise = 0.0;
    for (std::size_t i = 0; i < t.size(); ++i) {
        const double of_log = logs[i] - falling.at_zero - falling.slope * t[i];
        const double of_phase = phases[i] - turning.at_zero - turning.slope * t[i];
        const double square = of_log * of_log + of_phase * of_phase;
        const double ratio = sine.floor / sine.amplitude(t[i]);
        sum += weights[i];
        scatter += weights[i] * square;
        noise += weights[i] * ratio * ratio;
        weighted += weights[i] * square / 2.0;
        weighted_noise += weights[i] * ratio * ratio / 2.0;
    }
    const auto points = static_cast<double>(t.size());
    sine.scatter = scatter / sum;
    sine.noise = noise / sum;
    sine.independent = points / signal.per_sample;
    const double freedom = std::max(1.0, sine.independent - 2.0);
    const double variance =
        std::max(weighted / points * std::max(1.0, sine.independent / freedom), weighted_noise / points);
    sine.uncertainty = std::sqrt(variance * signal.per_sample / falling.spread);
}

Problem too_short(double periods, double least)
{
    return {.what = fmt::format("too short: {:.2g} periods of the decay stand above the noise, {:.2g} are needed",
                                periods, least),
            .remedy = "strike harder, let it ring longer, or take a quieter moment"};
}

Problem no_decay(double hz)
{
    return {.what = fmt::format("no decay: near {:.4g} Hz the amplitude does not fall by more than its noise", hz),
            .remedy = "choose a span that begins with the blow and is left alone"};
}

// Fits the decay and its noise floor in turn.
Result<DampedSine> fit_all(const Analytic& signal, double hz, double above_floor)
{
    const std::size_t points = signal.z.size();
    const auto needed_s = std::max(least_periods / hz, 4.0 * signal.half_s);
    const auto needed = static_cast<std::size_t>(std::ceil(needed_s / signal.step_s));
    const auto periods = [&](std::size_t count) { return static_cast<double>(count) * signal.step_s * hz; };
    if (points < needed + 1) return fail(too_short(periods(points), needed_s * hz));
    if (!std::ranges::all_of(signal.z, [](Complex z) { return std::isfinite(std::norm(z)); }))
        return fail({.what = "samples that are no finite numbers", .remedy = "leave that span out"});

    const auto less = [](Complex a, Complex b) { return std::norm(a) < std::norm(b); };
    const auto greatest = static_cast<std::size_t>(std::ranges::max_element(signal.z, less) - signal.z.begin());
    // A record that begins in the decay falls from its first point on.
    const auto onset = static_cast<std::size_t>(std::ceil(signal.half_s / signal.step_s));
    DampedSine sine{.from = greatest == 0 ? 0 : greatest + onset, .to = points};
    double square = 0.0;
    for (const Complex z : signal.z) square += std::norm(z) / static_cast<double>(points);
    if (sine.from + needed >= points)
        return fail(square > 0.25 * std::norm(signal.z[greatest])
                        ? no_decay(hz)
                        : too_short(sine.from < points ? periods(points - sine.from) : 0.0, needed_s * hz));

    const std::span tail =
        std::span(signal.z).last(std::max<std::size_t>(points / 10, std::min<std::size_t>(points, 8)));
    const double tail_from_s = signal.at_s(points - tail.size());
    for (const Complex z : tail) sine.floor += std::norm(z);
    sine.floor = std::sqrt(sine.floor / static_cast<double>(tail.size()));
    for (std::size_t i = sine.from; i < points; ++i)
        if (std::abs(signal.z[i]) < above_floor * sine.floor) {
            sine.to = i;
            break;
        }
    // A record that ends in the decay has no floor to be seen before the decay is known.
    if (sine.to - sine.from < needed) sine.to = points;
    for (int round = 0; round < refloorings; ++round) {
        fit(sine, signal, round > 0);
        double floor = 0.0;
        for (std::size_t i = 0; i < tail.size(); ++i)
            floor += std::norm(tail[i] - sine.value(tail_from_s + static_cast<double>(i) * signal.step_s));
        sine.floor = std::sqrt(floor / static_cast<double>(tail.size()));
        std::size_t to = points;
        if (sine.alpha > 0.0 && sine.floor > 0.0) {
            const double end_s = (sine.log_amplitude - std::log(above_floor * sine.floor)) / sine.alpha;
            const double end = (end_s - signal.first_s) / signal.step_s;
            to = static_cast<std::size_t>(
                std::clamp(end, static_cast<double>(sine.from + 2), static_cast<double>(points)));
        }
        if (to == sine.to && round > 1) break;
        sine.to = to;
    }
    fit(sine, signal, true);
    if (!(sine.alpha > 2.0 * sine.uncertainty)) return fail(no_decay(hz));
    if (sine.to - sine.from < needed) return fail(too_short(periods(sine.to - sine.from), needed_s * hz));
    if (sine.scatter - sine.noise > most_misfit * most_misfit)
        return fail(
            {.what = fmt::format("near {:.4g} Hz the decay is none of a single mode: it scatters by {:.0f} % about "
                                 "one; two close modes, or damping that changes with the amplitude",
                                 hz, 100.0 * std::sqrt(sine.scatter)),
             .remedy = "part the modes by a longer band-pass or by where the sensor stands"});
    return sine;
}

} // namespace

Result<Decay> free_decay(std::span<const double> samples, double rate_hz, const DecayOptions& options)
{
    if (!(rate_hz > 0.0) || !(options.kernel_periods >= 2.0) || !(options.above_floor > 1.0) ||
        (options.near_hz && !(*options.near_hz > 0.0)))
        return fail({.kind = ProblemKind::usage,
                     .what = "a rate and a frequency above 0, a band-pass of two periods or more and a factor above 1 "
                             "over the floor are needed"});
    if (samples.size() < 8) return fail(too_short(0.0, least_periods));
    std::vector<double> moving(samples.begin(), samples.end());
    const double mean = std::accumulate(moving.begin(), moving.end(), 0.0) / static_cast<double>(moving.size());
    double greatest = 0.0;
    for (double& x : moving) {
        x -= mean;
        greatest = std::max(greatest, std::abs(x));
    }
    if (greatest <= rounding * std::abs(mean))
        return fail({.what = "no decay: the record does not move", .remedy = "see to the sensor"});

    const double sought_hz = options.near_hz.value_or(0.0) > 0.0 ? *options.near_hz : greatest_hz(moving, rate_hz);
    double hz = sought_hz;
    if (rate_hz < least_per_period * hz)
        return fail({.what = fmt::format("a rate of {:.6g} Hz is too low for a decay at {:.4g} Hz", rate_hz, hz),
                     .remedy = fmt::format("measure with at least {:.6g} Hz", least_per_period * hz)});
    DampedSine sine;
    Analytic signal;
    for (int tuning = 0; tuning < retunings; ++tuning) {
        signal = analytic_signal(moving, rate_hz, hz, options.kernel_periods);
        const auto found = fit_all(signal, hz, options.above_floor);
        if (!found) return fail(found.error());
        sine = *found;
        hz = sine.damped / tau;
        if (!(std::abs(hz - sought_hz) * options.kernel_periods < sought_hz) || rate_hz < least_per_period * hz)
            return fail({.what = fmt::format("no decay near {:.4g} Hz: what rings is at {:.4g} Hz", sought_hz, hz),
                         .remedy = "state the frequency of the mode that is wanted"});
    }

    const double w0 = std::hypot(sine.damped, sine.alpha);
    const double from_s = signal.at_s(sine.from), to_s = signal.at_s(sine.to - 1);
    return Decay{.frequency_hz = {.value = w0 / tau, .uncertainty = sine.uncertainty / tau},
                 .damping = {.value = sine.alpha / w0, .uncertainty = sine.uncertainty / w0},
                 .from_s = from_s,
                 .to_s = to_s,
                 .from_amplitude = sine.amplitude(from_s),
                 .to_amplitude = sine.amplitude(to_s),
                 .noise_floor = sine.floor,
                 .misfit = std::sqrt(sine.scatter)};
}

} // namespace becalm::filters
