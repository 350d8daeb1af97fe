#include "filters/motion_bins.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "filters/row_accumulator.h"
#include "src/base/problem.h"

namespace becalm::filters {

std::int64_t MotionBins::first_sample_of(std::int64_t bin, double rate_hz)
{
    if (bin % bins_a_second == 0) return RowAccumulator::first_sample_of(bin / bins_a_second, rate_hz);
    return static_cast<std::int64_t>(
        std::ceil(static_cast<double>(bin) * rate_hz / static_cast<double>(bins_a_second) - 1e-6));
}

MotionBins::MotionBins(double rate_hz, std::int64_t first_second)
    : rate_hz_(rate_hz), bin_(first_second * bins_a_second)
{
    BECALM_ASSERT(rate_hz >= static_cast<double>(bins_a_second));
    begin_bin();
}

void MotionBins::begin_bin()
{
    length_ = static_cast<std::size_t>(first_sample_of(bin_ + 1, rate_hz_) - first_sample_of(bin_, rate_hz_));
}

void MotionBins::add(std::span<const double> samples)
{
    while (!samples.empty()) {
        const std::size_t wanted = std::min(samples.size(), length_ - pending_.size());
        if (wanted == length_) { // whole, and so where it lies
            close_bin(samples.first(wanted));
        } else {
            pending_.insert(pending_.end(), samples.begin(), samples.begin() + static_cast<std::ptrdiff_t>(wanted));
            if (pending_.size() == length_) close_bin(pending_);
        }
        samples = samples.subspan(wanted);
    }
}

void MotionBins::finish()
{
    if (!pending_.empty()) close_bin(pending_);
}

void MotionBins::close_bin(std::span<const double> samples)
{
    // Four side by side: one after the other each sum would wait for the one before. A bin is always taken as a whole,
    // so the order of addition does not depend on the blocks.
    constexpr std::size_t abreast = 4;
    std::array<double, abreast> sum{}, low, high;
    low.fill(samples[0]);
    high.fill(samples[0]);
    const std::size_t whole = samples.size() - samples.size() % abreast;
    const auto take = [&](std::size_t a, double x) {
        sum[a] += x;
        low[a] = x < low[a] ? x : low[a];
        high[a] = x > high[a] ? x : high[a];
    };
    for (std::size_t i = 0; i < whole; i += abreast)
        for (std::size_t a = 0; a < abreast; ++a) take(a, samples[i + a]);
    for (std::size_t i = whole; i < samples.size(); ++i) take(i - whole, samples[i]);
    const double mean = (sum[0] + sum[1] + (sum[2] + sum[3])) / static_cast<double>(samples.size());
    bins_.push_back({.mean = static_cast<float>(mean),
                     .min = static_cast<float>(*std::ranges::min_element(low)),
                     .max = static_cast<float>(*std::ranges::max_element(high))});
    pending_.clear();
    ++bin_;
    begin_bin();
}

} // namespace becalm::filters
