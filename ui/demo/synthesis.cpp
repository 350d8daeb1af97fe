#include "ui/demo/synthesis.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

namespace becalm::demo {

namespace {

constexpr double two_pi = 2.0 * std::numbers::pi;
constexpr std::size_t axes = 3;

// Mean 0, variance 1, at most 3.47: nearly normal, and normal once a filter has mixed a few of them.
class Noise {
public:
    explicit Noise(std::uint64_t seed) : generator_(seed) {}

    double operator()()
    {
        const std::uint64_t draw = generator_();
        const std::uint64_t sum = (draw & 0xFFFFU) + (draw >> 16 & 0xFFFFU) + (draw >> 32 & 0xFFFFU) + (draw >> 48);
        // Four uniform numbers of 0 to 65535: mean 4 * 32767.5, variance 4 * (65536^2 - 1) / 12.
        return (static_cast<double>(sum) - 131070.0) * scale_;
    }

    // 0 to 1.
    double fraction() { return static_cast<double>(generator_() >> 11) * 0x1p-53; }

private:
    std::mt19937_64 generator_;
    double scale_ = 1.0 / std::sqrt((65536.0 * 65536.0 - 1.0) / 3.0);
};

// Variance 1, slower than `hz`.
class Wander {
public:
    Wander(double hz, double rate_hz)
        : pole_(1.0 / (1.0 + two_pi * hz / rate_hz)), gain_(std::sqrt(1.0 - pole_ * pole_))
    {
    }
    double operator()(double white) { return value_ = pole_ * value_ + gain_ * white; }

private:
    double pole_, gain_;
    double value_ = 0.0;
};

// Noise of variance 1 through two poles and zeros at 0 and at half the rate.
class BandNoise {
public:
    BandNoise(double hz, double width_hz, double rate_hz)
    {
        const double radius = 1.0 / (1.0 + std::numbers::pi * width_hz / rate_hz);
        a1_ = 2.0 * radius * sine_of_turns(hz / rate_hz + 0.25);
        a2_ = radius * radius;
        // The variance that white noise of variance 1 would come out with is the energy of the impulse response.
        double energy = 0.0;
        double y1 = 0.0, y2 = 0.0, y = 1.0;
        for (int n = 1; n < static_cast<int>(20.0 * rate_hz / width_hz); ++n) {
            energy += y * y;
            y2 = y1;
            y1 = y;
            y = a1_ * y1 - a2_ * y2 - (n == 2 ? 1.0 : 0.0);
        }
        gain_ = 1.0 / std::sqrt(energy);
    }

    double operator()(double white)
    {
        const double x = gain_ * white;
        const double y = x - x2_ + a1_ * y1_ - a2_ * y2_;
        x2_ = x1_;
        x1_ = x;
        y2_ = y1_;
        y1_ = y;
        return y;
    }

private:
    double a1_ = 0.0, a2_ = 0.0, gain_ = 1.0;
    double x1_ = 0.0, x2_ = 0.0, y1_ = 0.0, y2_ = 0.0;
};

// sin^2 of a quarter turn over the first `edge_s` after from_s and the last before to_s.
double fade(double t, double from_s, double to_s, double edge_s)
{
    const double inside = std::min({1.0, from_s > 0.0 ? (t - from_s) / edge_s : 1.0, (to_s - t) / edge_s});
    if (inside <= 0.0) return 0.0;
    if (inside == 1.0) return 1.0;
    const double s = sine_of_turns(0.25 * inside);
    return s * s;
}

struct RunningClock {
    double hz, wander;
    Wander drift;
    double turns = 0.0;
};

struct RunningTone {
    const Tone* tone;
    Wander breath;
    double start;                              // turns
    std::array<double, axes> in_phase, across; // of each axis, m/s2
};

struct RunningBand {
    const Band* band;
    std::array<BandNoise, axes> noise;
};

struct RunningBang {
    const Bang* bang;
    double decay; // a sample
    double strength = 1.0;
};

} // namespace

double sine_of_turns(double turns)
{
    double t = turns - std::floor(turns); // 0 to 1
    if (t > 0.75)
        t -= 1.0;
    else if (t > 0.25)
        t = 0.5 - t;
    // Taylor series up to x^17 for |x| <= pi / 2.
    const double x = two_pi * t;
    const double square = x * x;
    double term = x;
    double sum = x;
    for (int n = 2; n <= 16; n += 2) {
        term *= -square / static_cast<double>(n * (n + 1));
        sum += term;
    }
    return sum;
}

std::uint64_t seed_for(std::string_view name)
{
    std::uint64_t hash = 14695981039346656037ULL;
    for (const char c : name) hash = (hash ^ static_cast<unsigned char>(c)) * 1099511628211ULL;
    return hash;
}

std::vector<double> synthesise(const Scene& scene, int rate_hz, int seconds, Sensed sensed, std::uint64_t seed)
{
    constexpr double from_mm = 1e-3;
    constexpr double breathing = 0.1;
    constexpr double tone_fade_s = 2.0;
    const double rate = rate_hz;
    const double step = 1.0 / rate;
    Noise noise(seed);

    std::vector<RunningClock> clocks;
    for (const Clock& clock : scene.clocks)
        clocks.push_back({clock.hz, clock.wander, Wander(0.25, rate), noise.fraction()});
    std::vector<RunningTone> tones;
    for (const Tone& tone : scene.tones) {
        RunningTone running{&tone, Wander(0.1, rate), noise.fraction(), {}, {}};
        for (std::size_t a = 0; a < axes; ++a) {
            const double angle = noise.fraction();
            const double amplitude = tone.rms[a] * from_mm * std::sqrt(2.0 / (1.0 + breathing * breathing));
            running.in_phase[a] = amplitude * sine_of_turns(angle + 0.25);
            running.across[a] = amplitude * sine_of_turns(angle);
        }
        tones.push_back(running);
    }
    std::vector<RunningBand> bands;
    for (const Band& band : scene.bands) {
        const BandNoise filter(band.hz, band.width_hz, rate);
        bands.push_back({&band, {filter, filter, filter}});
    }
    std::vector<RunningBang> bangs;
    for (const Bang& bang : scene.bangs) bangs.push_back({&bang, 1.0 / (1.0 + step / bang.decay_s)});

    const auto frames = static_cast<std::size_t>(rate_hz) * static_cast<std::size_t>(seconds);
    std::vector<double> samples(frames * axes);
    const double leak = 1.0 - two_pi * 0.3 * step; // of the geophone
    std::array<double, axes> velocity{};
    for (std::size_t i = 0; i < frames; ++i) {
        const double t = static_cast<double>(i) * step;
        std::array<double, axes> sum{};
        for (RunningClock& clock : clocks) clock.turns += clock.hz * (1.0 + clock.wander * clock.drift(noise())) * step;
        for (RunningTone& running : tones) {
            const double strength = (1.0 + breathing * running.breath(noise())) *
                                    fade(t, running.tone->from_s, running.tone->to_s, tone_fade_s);
            if (strength == 0.0) continue;
            const double turns = clocks[running.tone->clock].turns * running.tone->order + running.start;
            const double sine = strength * sine_of_turns(turns);
            const double cosine = strength * sine_of_turns(turns + 0.25);
            for (std::size_t a = 0; a < axes; ++a) sum[a] += running.in_phase[a] * sine + running.across[a] * cosine;
        }
        for (RunningBand& running : bands) {
            const Band& band = *running.band;
            const bool passes = std::isfinite(band.to_s);
            const double strength =
                from_mm * (passes ? fade(t, band.from_s, band.to_s, 0.5 * (band.to_s - band.from_s)) : 1.0);
            for (std::size_t a = 0; a < axes; ++a) sum[a] += strength * band.rms[a] * running.noise[a](noise());
        }
        for (RunningBang& running : bangs) {
            if (t < running.bang->at_s) continue;
            const double swing = running.strength * sine_of_turns(running.bang->hz * (t - running.bang->at_s));
            for (std::size_t a = 0; a < axes; ++a) sum[a] += running.bang->peak[a] * from_mm * swing;
            running.strength *= running.decay;
        }
        for (std::size_t a = 0; a < axes; ++a) {
            if (sensed == Sensed::velocity) {
                velocity[a] = leak * velocity[a] + sum[a] * step;
                sum[a] = velocity[a] / from_mm;
            }
            samples[i * axes + a] = sum[a];
        }
    }
    return samples;
}

} // namespace becalm::demo
