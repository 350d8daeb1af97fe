// Random numbers with a fixed sequence on every machine: a counter times an odd number, mixed (splitmix64; Steele, Lea
// and Flood, OOPSLA 2014, from memory). The seed is made of the numbers that are drawn about, so that the same
// measurement gives the same draws.
#pragma once

#include <cstdint>
#include <span>

namespace becalm::filters {

class Draws {
public:
    explicit Draws(std::uint64_t seed) : state_(seed) {}

    std::uint64_t bits();
    double uniform();                     // above 0, below 1
    double normal();                      // mean 0, standard deviation 1
    double rectangular();                 // the same two
    double maximum();                     // the same two: a Gumbel variable turned about its mean, the tail downwards
    std::size_t below(std::size_t count); // 0 to count - 1; count > 0

private:
    std::uint64_t state_;
    double spare_ = 0.0;
    bool has_spare_ = false;
};

// A seed out of another one and numbers, in their order.
std::uint64_t seed_of(std::uint64_t seed, std::span<const double> numbers);

// The value that a normal variable (mean 0, standard deviation 1) exceeds with the probability 1 - p; 0 < p < 1.
double normal_quantile(double p);

} // namespace becalm::filters
