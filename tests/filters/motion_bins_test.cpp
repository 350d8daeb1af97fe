// Bins of 0.05 s against their definition as plain loops over samples that are counted in whole numbers.
#include <algorithm>
#include <cmath>
#include <vector>

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "filters/motion_bins.h"
#include "filters/row_accumulator.h"

#include "tests/filters/signals.h"

namespace becalm::filters {
namespace {

using tests::noise;
using tests::Signal;

// A rate as a ratio of whole numbers, so that floor(i / rate / 0.05) = floor(20 i per / number) has no rounding.
struct Rate {
    std::int64_t number, per;
    double hz() const { return static_cast<double>(number) / static_cast<double>(per); }
};

Rate any_rate()
{
    return *rc::gen::element(Rate{20, 1}, Rate{21, 1}, Rate{100, 1}, Rate{128, 1}, Rate{1000, 1}, Rate{2048, 1},
                             Rate{100, 3}, Rate{1000, 3}, Rate{9997, 100}, Rate{4411, 10});
}

std::vector<MotionBin> bins_of(const Signal& signal, Rate rate, std::int64_t first_second, std::size_t block)
{
    MotionBins bins(rate.hz(), first_second);
    for (std::size_t done = 0; done < signal.size(); done += block)
        bins.add(std::span(signal).subspan(done, std::min(block, signal.size() - done)));
    bins.finish();
    return bins.bins();
}

bool same(const std::vector<MotionBin>& a, const std::vector<MotionBin>& b)
{
    return std::ranges::equal(a, b, [](const MotionBin& x, const MotionBin& y) {
        return x.mean == y.mean && x.min == y.min && x.max == y.max;
    });
}

RC_GTEST_PROP(MotionBins, HoldTheSamplesWhoseTimeFallsIntoThem, ())
{
    const Rate rate = any_rate();
    const Signal signal = noise(*rc::gen::inRange<std::size_t>(0, 9000), *rc::gen::inRange<std::uint64_t>(1, 99));
    std::vector<Signal> expected;
    for (std::size_t i = 0; i < signal.size(); ++i) {
        const auto k = static_cast<std::size_t>(static_cast<std::int64_t>(i) * 20 * rate.per / rate.number);
        expected.resize(std::max(expected.size(), k + 1));
        expected[k].push_back(signal[i]);
    }
    const auto got = bins_of(signal, rate, 0, *rc::gen::inRange<std::size_t>(1, 600));
    RC_ASSERT(got.size() == expected.size());
    for (std::size_t k = 0; k < got.size(); ++k) {
        const auto [low, high] = std::ranges::minmax(expected[k]);
        double mean = 0.0;
        for (const double x : expected[k]) mean += x / static_cast<double>(expected[k].size());
        RC_ASSERT(got[k].min == static_cast<float>(low));
        RC_ASSERT(got[k].max == static_cast<float>(high));
        RC_ASSERT(std::abs(static_cast<double>(got[k].mean) - mean) <= 6e-8 * std::abs(mean) + 1e-15);
    }
}

RC_GTEST_PROP(MotionBins, JoinWithoutASeamAtWholeSeconds, ())
{
    const Rate rate = any_rate();
    const auto seconds = *rc::gen::inRange<std::int64_t>(2, 12);
    const auto at = [&](std::int64_t second) {
        return static_cast<std::size_t>(RowAccumulator::first_sample_of(second, rate.hz()));
    };
    // A long way from the beginning as well, where rounding has grown.
    const std::int64_t begin = *rc::gen::element<std::int64_t>(0, 1800, 604800);
    const Signal signal = noise(at(begin + seconds) - at(begin) - *rc::gen::inRange<std::size_t>(0, 15),
                                *rc::gen::inRange<std::uint64_t>(1, 99));
    const auto one = bins_of(signal, rate, begin, 512);
    const std::int64_t cut = *rc::gen::inRange<std::int64_t>(1, seconds);
    const auto middle = signal.begin() + static_cast<std::ptrdiff_t>(at(begin + cut) - at(begin));
    auto joined = bins_of(Signal(signal.begin(), middle), rate, begin, *rc::gen::inRange<std::size_t>(1, 600));
    RC_ASSERT(joined.size() == static_cast<std::size_t>(cut * 20));
    const auto rest = bins_of(Signal(middle, signal.end()), rate, begin + cut, *rc::gen::inRange<std::size_t>(1, 600));
    joined.insert(joined.end(), rest.begin(), rest.end());
    RC_ASSERT(same(joined, one));
}

} // namespace
} // namespace becalm::filters
