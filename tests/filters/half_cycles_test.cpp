// Swings against their definition as a plain search over the whole signal.
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "filters/half_cycles.h"

#include "tests/filters/signals.h"

namespace becalm::filters {
namespace {

using tests::Signal;

constexpr std::size_t plenty = 1'000'000;
constexpr double rate_hz = 100.0;

std::vector<Swing> swings_of(const Signal& signal, std::size_t block = 512)
{
    HalfCycles half_cycles(plenty);
    for (std::size_t done = 0; done < signal.size(); done += block)
        half_cycles.add(signal.data() + done, std::min(block, signal.size() - done), 1,
                        static_cast<std::int64_t>(done));
    return half_cycles.swings(rate_hz);
}

// Runs of one sign first, zeros left out; then the extreme of each run but the last, and the differences.
std::vector<Swing> plain_swings(const Signal& signal)
{
    std::vector<std::vector<std::size_t>> runs;
    for (std::size_t i = 0; i < signal.size(); ++i) {
        if (signal[i] == 0.0) continue;
        if (runs.empty() || std::signbit(signal[runs.back().back()]) != std::signbit(signal[i])) runs.emplace_back();
        runs.back().push_back(i);
    }
    if (!runs.empty()) runs.pop_back();
    std::vector<Swing> swings;
    std::size_t before = 0;
    for (std::size_t r = 0; r < runs.size(); ++r) {
        const std::size_t extreme =
            *std::ranges::max_element(runs[r], {}, [&](std::size_t i) { return std::abs(signal[i]); });
        if (r > 0)
            swings.push_back({.at_s = static_cast<float>(static_cast<double>(extreme) / rate_hz),
                              .size = static_cast<float>(std::abs(signal[extreme] - signal[before]))});
        before = extreme;
    }
    return swings;
}

bool same(const std::vector<Swing>& a, const std::vector<Swing>& b)
{
    return std::ranges::equal(a, b,
                              [](const Swing& x, const Swing& y) { return x.at_s == y.at_s && x.size == y.size; });
}

// Few values, so that zeros, equal extremes and long half cycles are common.
Signal any_signal()
{
    const auto steps = *rc::gen::container<std::vector<int>>(rc::gen::inRange(-3, 4));
    Signal signal(steps.begin(), steps.end());
    for (double& x : signal) x *= 0.7;
    return signal;
}

RC_GTEST_PROP(Swings, AreThoseOfAPlainSearch, ())
{
    const Signal signal = any_signal();
    RC_ASSERT(same(swings_of(signal, *rc::gen::inRange<std::size_t>(1, 40)), plain_swings(signal)));
}

RC_GTEST_PROP(Swings, GoOnAcrossTheJointsOfSpans, ())
{
    const Signal signal = any_signal();
    HalfCycles joined(plenty);
    for (std::size_t begin = 0; begin < signal.size();) {
        const auto count = std::min(*rc::gen::inRange<std::size_t>(1, 30), signal.size() - begin);
        HalfCycles span(plenty);
        span.add(signal.data() + begin, count, 1, static_cast<std::int64_t>(begin));
        joined.append(span);
        begin += count;
    }
    RC_ASSERT(same(joined.swings(rate_hz), plain_swings(signal)));
}

TEST(Swings, OfASineArePeakToPeak)
{
    // 2 a at every extreme, half a period apart; the half cycles that the ends cut: the first counts, the last does
    // not.
    Signal sine;
    for (int i = 0; i < 1000; ++i) sine.push_back(0.4 * std::sin(2.0 * std::numbers::pi * (i + 0.5) / 100.0));
    const std::vector<Swing> swings = swings_of(sine);
    ASSERT_EQ(swings.size(), 18U); // 20 half cycles
    for (std::size_t s = 0; s < swings.size(); ++s) {
        EXPECT_NEAR(swings[s].size, 0.8, 0.0005);
        EXPECT_NEAR(swings[s].at_s, 0.75 + 0.5 * static_cast<double>(s), 0.011);
    }
}

TEST(Swings, NeedAZeroCrossing)
{
    // Up, halfway down without reaching zero, up again: one half cycle, whose extreme is the higher crest.
    EXPECT_THAT(swings_of({1.0, 3.0, 0.5, 4.0, 1.0}), testing::IsEmpty());
    const auto swings = swings_of({1.0, 3.0, 0.0, 4.0, -2.0, -5.0, 0.0, 1.0});
    ASSERT_EQ(swings.size(), 1U) << "a touch of zero is no crossing";
    EXPECT_EQ(swings[0].size, 9.0F);
    EXPECT_EQ(swings[0].at_s, 0.05F);
    EXPECT_THAT(swings_of({}), testing::IsEmpty());
    EXPECT_THAT(swings_of(Signal(50, 0.0)), testing::IsEmpty());
}

TEST(Swings, AreTakenFromInterleavedLanes)
{
    const Signal lane{1.0, -2.0, 3.0, -4.0, 5.0};
    Signal rows;
    for (const double x : lane)
        for (const double other : {9.0, x, -9.0}) rows.push_back(other);
    HalfCycles half_cycles(plenty);
    half_cycles.add(rows.data() + 1, lane.size(), 3, 0);
    EXPECT_TRUE(same(half_cycles.swings(rate_hz), plain_swings(lane)));
}

TEST(Swings, StopBeingGatheredWhereThereAreTooMany)
{
    Signal signal;
    for (int i = 0; i < 20; ++i) signal.push_back(i % 2 == 0 ? 1.0 : -1.0);
    HalfCycles enough(20), full(19), first(19), second(19);
    enough.add(signal.data(), 20, 1, 0);
    EXPECT_FALSE(enough.is_overfull());
    full.add(signal.data(), 20, 1, 0);
    EXPECT_TRUE(full.is_overfull());
    first.add(signal.data(), 10, 1, 0);
    second.add(signal.data() + 10, 10, 1, 10);
    EXPECT_FALSE(first.is_overfull());
    first.append(second);
    EXPECT_TRUE(first.is_overfull()) << "the sum counts, whatever the spans";
}

} // namespace
} // namespace becalm::filters
