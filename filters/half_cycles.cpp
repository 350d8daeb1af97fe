#include "filters/half_cycles.h"

#include <cmath>

namespace becalm::filters {

void HalfCycles::add(const double* samples, std::size_t count, std::size_t stride, std::int64_t first)
{
    // In the sign of the half cycle that goes on, below zero is a crossing.
    const double* x = samples;
    std::size_t i = 0;
    const auto sample = [&] { return first + static_cast<std::int64_t>(i); };
    while (i < count && !overfull_) {
        if (extremes_.empty()) {
            if (*x != 0.0) add({.value = *x, .sample = sample()});
            ++i, x += stride;
            continue;
        }
        Extreme& open = extremes_.back();
        const double sign = open.value < 0.0 ? -1.0 : 1.0;
        double extreme = sign * open.value, value = 0.0;
        for (; i < count; ++i, x += stride) {
            value = sign * *x;
            if (value < 0.0) break;
            if (value > extreme) {
                extreme = value;
                open.sample = sample();
            }
        }
        open.value = sign * extreme;
        if (i == count) return;
        add({.value = *x, .sample = sample()});
        ++i, x += stride;
    }
}

void HalfCycles::add(const Extreme& extreme)
{
    if (extremes_.empty() || (extreme.value < 0.0) != (extremes_.back().value < 0.0)) {
        overfull_ = overfull_ || extremes_.size() == most_;
        if (!overfull_) extremes_.push_back(extreme);
    } else if (std::abs(extreme.value) > std::abs(extremes_.back().value)) {
        extremes_.back() = extreme;
    }
}

void HalfCycles::append(const HalfCycles& next)
{
    overfull_ = overfull_ || next.overfull_;
    for (const Extreme& extreme : next.extremes_) {
        if (overfull_) return;
        add(extreme);
    }
}

std::vector<Swing> HalfCycles::swings(double rate_hz) const
{
    std::vector<Swing> swings;
    if (extremes_.size() < 3) return swings;
    swings.reserve(extremes_.size() - 2);
    for (std::size_t i = 1; i + 1 < extremes_.size(); ++i)
        swings.push_back({.at_s = static_cast<float>(static_cast<double>(extremes_[i].sample) / rate_hz),
                          .size = static_cast<float>(std::abs(extremes_[i].value - extremes_[i - 1].value))});
    return swings;
}

} // namespace becalm::filters
