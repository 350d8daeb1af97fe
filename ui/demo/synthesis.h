// Vibration that nobody measured: rotating machines, broadband noise, swell, footfall, passages and bangs, from a seed.
//
// The same seed gives the same samples on every platform: std::mt19937_64 (whose output the C++ standard fixes), a
// noise that is the sum of the four 16-bit parts of each draw, a sine of our own, and otherwise only + - * / and square
// root, which IEEE 754 fixes. No std::normal_distribution, std::sin or std::exp, whose last digits differ between
// libraries.
#pragma once

#include <array>
#include <cstdint>
#include <limits>
#include <string_view>
#include <vector>

namespace becalm::demo {

using PerAxis = std::array<double, 3>; // x, y, z; mm/s2 everywhere below

// Something that turns or steps. Its pace wanders slowly by `wander` (standard deviation, relative).
struct Clock {
    double hz = 1.0;
    double wander = 0.003;
};

// A multiple of a clock's pace. Its strength breathes by a tenth. Fades in and out over two seconds where it has an
// end.
struct Tone {
    std::size_t clock = 0;
    double order = 1.0;
    PerAxis rms = {};
    double from_s = 0.0;
    double to_s = std::numeric_limits<double>::infinity();
};

// Noise about `hz`, `width_hz` wide at half power; the axes are independent. Inside [from_s, to_s] it swells and
// subsides as a passing train does where the span has an end.
struct Band {
    double hz = 10.0;
    double width_hz = 5.0;
    PerAxis rms = {}; // at the height of a passage
    double from_s = 0.0;
    double to_s = std::numeric_limits<double>::infinity();
};

// A bang that dies away over `decay_s`.
struct Bang {
    double at_s = 0.0;
    double hz = 12.0;
    double decay_s = 0.5;
    PerAxis peak = {};
};

struct Scene {
    std::vector<Clock> clocks = {};
    std::vector<Tone> tones = {};
    std::vector<Band> bands = {};
    std::vector<Bang> bangs = {};
};

enum class Sensed { acceleration, velocity };

// Interleaved x, y, z: accelerations in m/s2, or velocities in mm/s as a geophone gives them (true above 0.3 Hz).
std::vector<double> synthesise(const Scene& scene, int rate_hz, int seconds, Sensed sensed, std::uint64_t seed);

// A seed of its own for every name [FNV-1a, 64 bits].
std::uint64_t seed_for(std::string_view name);

// sin(2 pi turns) to 1e-11.
double sine_of_turns(double turns);

} // namespace becalm::demo
