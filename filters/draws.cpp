#include "filters/draws.h"

#include <bit>
#include <cmath>
#include <numbers>

#include "src/base/problem.h"

namespace becalm::filters {

std::uint64_t Draws::bits()
{
    std::uint64_t z = state_ += 0x9e3779b97f4a7c15U;
    z = (z ^ (z >> 30U)) * 0xbf58476d1ce4e5b9U;
    z = (z ^ (z >> 27U)) * 0x94d049bb133111ebU;
    return z ^ (z >> 31U);
}

double Draws::uniform() { return (static_cast<double>(bits() >> 11U) + 0.5) * 0x1p-53; }

// The polar method, two at a time.
double Draws::normal()
{
    if (has_spare_) {
        has_spare_ = false;
        return spare_;
    }
    double x = 0.0, y = 0.0, square = 0.0;
    do {
        x = 2.0 * uniform() - 1.0;
        y = 2.0 * uniform() - 1.0;
        square = x * x + y * y;
    } while (square >= 1.0 || square == 0.0);
    const double factor = std::sqrt(-2.0 * std::log(square) / square);
    spare_ = y * factor;
    has_spare_ = true;
    return x * factor;
}

double Draws::rectangular() { return std::numbers::sqrt3 * (2.0 * uniform() - 1.0); }

double Draws::maximum()
{
    // In single precision, which is fast and leaves a grain of 1e-7 in the probability.
    const auto u = static_cast<float>((static_cast<double>(bits() >> 41U) + 0.5) * 0x1p-23);
    const double standard = -std::log(-std::log(u));
    return -(standard - std::numbers::egamma) * std::sqrt(6.0) / std::numbers::pi;
}

std::size_t Draws::below(std::size_t count)
{
    BECALM_ASSERT(count > 0);
    return static_cast<std::size_t>(bits() % count); // uneven by count / 2^64
}

std::uint64_t seed_of(std::uint64_t seed, std::span<const double> numbers)
{
    for (const double number : numbers) seed = Draws(seed ^ std::bit_cast<std::uint64_t>(number)).bits();
    return seed;
}

double normal_quantile(double p)
{
    BECALM_ASSERT(p > 0.0 && p < 1.0);
    constexpr double beyond = 9.0; // not a limit: standard deviations that hold all but 1e-18
    double low = -beyond, high = beyond;
    for (int halving = 0; halving < 60; ++halving) {
        const double middle = 0.5 * (low + high);
        (0.5 * std::erfc(-middle / std::numbers::sqrt2) < p ? low : high) = middle;
    }
    return 0.5 * (low + high);
}

} // namespace becalm::filters
