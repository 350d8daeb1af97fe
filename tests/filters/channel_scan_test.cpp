// What the scan finds in signals whose faults are known because they were put there. Expected values are computed from
// the definition: where a signal was cut, held or silenced is known to the sample.
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <random>
#include <vector>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <rapidcheck/gtest.h>

#include "filters/channel_scan.h"

#include "tests/filters/signals.h"

namespace becalm::filters {

void PrintTo(const SampleRun& run, std::ostream* out) { *out << fmt::format("[{} x {}]", run.begin, run.count); }

namespace {

using std::numbers::pi;
using testing::Each;
using testing::ElementsAre;
using testing::IsEmpty;
using testing::SizeIs;
using tests::Signal;

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();

// The scan in blocks of `block` samples; `begin` is the index of the first.
ChannelScan scan_of(Signal signal, double rate_hz, std::size_t block = 512, std::int64_t begin = 0)
{
    ChannelScan scan(rate_hz);
    for (std::size_t done = 0; done < signal.size(); done += block) {
        const std::size_t count = std::min(block, signal.size() - done);
        scan.add(signal.data() + done, count, begin + static_cast<std::int64_t>(done), 0.0);
    }
    return scan;
}

// The same from spans that end at `cuts`, scanned apart and merged.
ChannelScan merged(const Signal& signal, double rate_hz, std::vector<std::size_t> cuts)
{
    cuts.push_back(signal.size());
    ChannelScan whole(rate_hz);
    std::size_t from = 0;
    for (const std::size_t to : cuts) {
        const Signal part(signal.begin() + static_cast<std::ptrdiff_t>(from),
                          signal.begin() + static_cast<std::ptrdiff_t>(to));
        whole.merge(scan_of(part, rate_hz, 512, static_cast<std::int64_t>(from)));
        from = to;
    }
    return whole;
}

Signal sine(double amplitude, double hz, double rate_hz, double duration_s, double phase = 0.0)
{
    Signal signal(static_cast<std::size_t>(duration_s * rate_hz));
    for (std::size_t i = 0; i < signal.size(); ++i)
        signal[i] = amplitude * std::sin(2.0 * pi * hz * static_cast<double>(i) / rate_hz + phase);
    return signal;
}

Signal clipped_at(Signal signal, double low, double high)
{
    for (double& x : signal) x = std::clamp(x, low, high);
    return signal;
}

Signal quantised(Signal signal, double step)
{
    for (double& x : signal) x = step * std::round(x / step);
    return signal;
}

Signal single_precision(Signal signal)
{
    for (double& x : signal) x = static_cast<float>(x);
    return signal;
}

// As text with so many significant digits.
Signal printed(Signal signal, int digits)
{
    for (double& x : signal) x = std::stod(fmt::format("{:.{}g}", x, digits));
    return signal;
}

Signal with_noise(Signal signal, double deviation, std::uint64_t seed)
{
    std::mt19937_64 generator(seed);
    std::normal_distribution<double> normal(0.0, deviation);
    if (deviation > 0.0)
        for (double& x : signal) x += normal(generator);
    return signal;
}

// Runs of at least three samples at or beyond the levels, by the definition.
std::vector<SampleRun> runs_beyond(const Signal& signal, double low, double high)
{
    std::vector<SampleRun> runs;
    for (std::size_t i = 0; i < signal.size();) {
        std::size_t end = i;
        const auto beyond = [&](double x) { return signal[i] > 0.0 ? x >= high : x <= low; };
        while (end < signal.size() && beyond(signal[end])) ++end;
        if (end - i >= 3) runs.push_back({static_cast<std::int64_t>(i), static_cast<std::int64_t>(end - i)});
        i = std::max(end, i + 1);
    }
    return runs;
}

// ---- clipping ----

struct ClippedCase {
    const char* name;
    double rate_hz, hz;
    Signal (*store)(Signal);
};

Signal as_they_are(Signal signal) { return signal; }
Signal pcm16(Signal signal) { return quantised(std::move(signal), 0x1p-15); }
Signal pcm24(Signal signal) { return quantised(std::move(signal), 0x1p-23); }
Signal three_decimals(Signal signal) { return quantised(std::move(signal), 1e-3); }
Signal five_digits(Signal signal) { return printed(std::move(signal), 5); }

class Clipped : public testing::TestWithParam<ClippedCase> {};

TEST_P(Clipped, IsFoundWhereItWasCut)
{
    const ClippedCase& c = GetParam();
    // Sensors that reach 1 while the motion goes to 1.2; the positive full scale of integers is one step less.
    const Signal motion = sine(1.2, c.hz, c.rate_hz, 4.0, 0.1);
    const double high = c.store == pcm16 ? 1.0 - 0x1p-15 : c.store == pcm24 ? 1.0 - 0x1p-23 : 1.0;
    const auto expected = runs_beyond(c.store(motion), -1.0, high);
    ASSERT_THAT(expected, SizeIs(testing::Ge(8U))) << "the case tests something";
    EXPECT_EQ(scan_of(c.store(clipped_at(motion, -1.0, high)), c.rate_hz).clipped(), expected);
    EXPECT_THAT(scan_of(c.store(motion), c.rate_hz).clipped(), IsEmpty()) << "not cut";
}

INSTANTIATE_TEST_SUITE_P(
    Stored, Clipped,
    testing::Values(ClippedCase{"double", 1000.0, 5.0, as_they_are},
                    ClippedCase{"float", 1000.0, 5.0, single_precision},
                    ClippedCase{"float_20Hz", 1000.0, 20.0, single_precision},
                    ClippedCase{"float_40Hz", 2048.0, 40.3, single_precision},
                    ClippedCase{"float_slow", 256.0, 1.1, single_precision}, ClippedCase{"pcm16", 1000.0, 5.0, pcm16},
                    ClippedCase{"pcm16_20Hz", 1000.0, 20.0, pcm16}, ClippedCase{"pcm16_60Hz", 2048.0, 60.0, pcm16},
                    ClippedCase{"pcm24", 1000.0, 5.0, pcm24}, ClippedCase{"pcm24_fast_rate", 48000.0, 7.7, pcm24},
                    ClippedCase{"text_three_decimals", 1000.0, 5.0, three_decimals},
                    ClippedCase{"text_five_digits", 1000.0, 20.0, five_digits}),
    [](const auto& of) { return std::string(of.param.name); });

TEST(ChannelScan, FindsClippingOnOneSideOnly)
{
    Signal signal = with_noise(sine(1.0, 8.0, 1000.0, 10.0), 0.02, 3);
    signal = clipped_at(std::move(signal), -2.0, 0.9);
    const auto runs = scan_of(signal, 1000.0).clipped();
    EXPECT_THAT(runs, SizeIs(testing::Ge(80U)));
    for (const SampleRun& run : runs)
        for (std::int64_t i = run.begin; i < run.begin + run.count; ++i)
            ASSERT_EQ(signal[static_cast<std::size_t>(i)], 0.9);
}

TEST(ChannelScan, FindsASingleClippedShock)
{
    // One shock in ten seconds of quiet: nothing else ever comes near the level.
    Signal signal = with_noise(Signal(10000, 0.0), 0.01, 4);
    for (std::size_t i = 0; i < 12; ++i)
        signal[5000 + i] = std::min(1.0, 3.0 * std::sin(pi * static_cast<double>(i) / 11.0));
    const auto runs = scan_of(pcm16(signal), 1000.0).clipped();
    ASSERT_THAT(runs, SizeIs(1));
    EXPECT_EQ(runs[0].begin, 5002); // 3 sin(2 pi / 11) is the first above 1
    EXPECT_EQ(runs[0].count, 8);
}

RC_GTEST_PROP(ChannelScan, FindsNoClippingInSmoothOrNoisySignals, ())
{
    const double rate = *rc::gen::element(199.25, 256.0, 512.0, 1000.0, 2048.0, 10000.0, 48000.0);
    const double amplitude = std::pow(10.0, *rc::gen::inRange(-60, 30) / 10.0);
    const double hz = std::pow(10.0, *rc::gen::inRange(-10, 20) / 10.0) * (1.0 + 0.01 * *rc::gen::inRange(0, 20));
    const double step = amplitude / *rc::gen::element(3.0, 7.3, 31.0, 127.0, 1000.0, 32768.0);
    const double deviation = step * *rc::gen::element(0.0, 0.0, 0.1, 0.3, 0.7, 1.5, 4.0);
    const double phase = 0.001 * *rc::gen::inRange(0, 6283);
    const auto seed = *rc::gen::arbitrary<std::uint64_t>();
    const Signal signal = quantised(with_noise(sine(amplitude, hz, rate, 6000.0 / rate, phase), deviation, seed), step);
    const auto runs = scan_of(signal, rate).clipped();
    if (!runs.empty())
        RC_FAIL(fmt::format("{} Hz of {} at {} Hz in steps of {} with noise {}: clipped at {} x {}", hz, amplitude,
                            rate, step, deviation, runs[0].begin, runs[0].count));
}

RC_GTEST_PROP(ChannelScan, FindsNoClippingInCoarseGaussianNoise, ())
{
    const double step = *rc::gen::element(0.2, 0.5, 1.0, 1.7);
    const Signal signal = quantised(with_noise(Signal(20000, 0.0), 1.0, *rc::gen::arbitrary<std::uint64_t>()), step);
    RC_ASSERT(scan_of(signal, 1000.0).clipped().empty());
    RC_ASSERT(scan_of(signal, 1000.0).drop_outs().empty());
}

TEST(ChannelScan, FindsNoClippingInAQuietRecordWithASmoothBurst)
{
    // Printed with six significant digits the quiet is resolved far finer than the burst's crest.
    Signal signal = with_noise(Signal(20000, 0.0), 1e-5, 5);
    for (std::size_t i = 0; i < 4000; ++i) {
        const double t = static_cast<double>(i) / 4000.0;
        signal[8000 + i] += std::sin(pi * t) * std::sin(pi * t) * std::sin(2.0 * pi * 2.0 * t);
    }
    for (const int digits : {4, 5, 6})
        EXPECT_THAT(scan_of(printed(signal, digits), 1000.0).clipped(), IsEmpty()) << digits;
}

TEST(ChannelScan, FindsNoClippingInATrueSilenceWithABurst)
{
    Signal signal(20000, 0.0);
    const Signal burst = sine(1.0, 16.0, 1000.0, 1.0);
    std::ranges::copy(burst, signal.begin() + 9000);
    EXPECT_THAT(scan_of(single_precision(signal), 1000.0).clipped(), IsEmpty());
    // A sensor is never silent to the last bit for seconds: that is told, as what it is.
    EXPECT_THAT(scan_of(single_precision(signal), 1000.0).drop_outs(), SizeIs(2));
}

// ---- drop-outs ----

TEST(ChannelScan, FindsDropOutsWhereTheyWerePut)
{
    const double rate = 1000.0;
    for (const double step : {0.0, 1e-3}) {
        Signal signal = with_noise(sine(1.0, 3.0, rate, 20.0), 0.05, 6);
        if (step > 0.0) signal = quantised(std::move(signal), step);
        std::fill_n(signal.begin() + 4000, 250, 0.0);           // filled with zeros
        std::fill_n(signal.begin() + 9000, 100, signal[8999]);  // held: the sample before belongs to it
        std::fill_n(signal.begin() + 12000, 98, signal[11999]); // held for 0.099 s: too short to be sure
        EXPECT_THAT(scan_of(signal, rate).drop_outs(), ElementsAre(SampleRun{4000, 250}, SampleRun{8999, 101})) << step;
    }
}

TEST(ChannelScan, FindsDropOutsAtBothEnds)
{
    Signal signal = with_noise(Signal(5000, 0.0), 1.0, 7);
    std::fill_n(signal.begin(), 300, 0.5);
    std::fill_n(signal.end() - 400, 400, -0.5);
    EXPECT_THAT(scan_of(signal, 1000.0).drop_outs(), ElementsAre(SampleRun{0, 300}, SampleRun{4600, 400}));
}

TEST(ChannelScan, NeedsTwentySamplesAtALowRate)
{
    Signal signal = with_noise(Signal(2000, 0.0), 1.0, 8);
    std::fill_n(signal.begin() + 100, 19, 0.0);
    std::fill_n(signal.begin() + 1000, 20, 0.0);
    EXPECT_THAT(scan_of(signal, 10.0).drop_outs(), ElementsAre(SampleRun{1000, 20}));
}

TEST(ChannelScan, TakesASlowSwellInCoarseStepsForAlive)
{
    // The crest stays in its step for 0.13 s: sqrt(2 * 0.999 / 300.499) / (2 pi 0.2 Hz), twice.
    const Signal signal = quantised(sine(0.300499, 0.2, 1000.0, 60.0), 1e-3);
    EXPECT_GT(std::ranges::count(signal, 1e-3 * 300.0), 12 * 120) << "the case tests something";
    EXPECT_THAT(scan_of(signal, 1000.0).drop_outs(), IsEmpty());
    EXPECT_THAT(scan_of(signal, 1000.0).clipped(), IsEmpty());
}

// ---- range, constant, not a number ----

TEST(ChannelScan, KnowsAConstantChannel)
{
    const ChannelScan dead = scan_of(Signal(5000, 9.81), 1000.0);
    EXPECT_TRUE(dead.constant());
    EXPECT_THAT(dead.clipped(), IsEmpty());
    EXPECT_THAT(dead.drop_outs(), IsEmpty());
    EXPECT_EQ(dead.deviation(), 0.0);
    Signal once(5000, 9.81);
    once[4999] = 9.82;
    EXPECT_FALSE(scan_of(once, 1000.0).constant());
}

TEST(ChannelScan, KeepsTheDigitsOfASmallMotionOnAGreatOffset)
{
    Signal signal = sine(1e-6, 10.0, 1000.0, 10.0);
    for (double& x : signal) x += 9.80665;
    const ChannelScan scan = scan_of(signal, 1000.0);
    EXPECT_NEAR(scan.deviation(), 1e-6 / std::numbers::sqrt2, 1e-9); // definition: a / sqrt(2) of a sine
    EXPECT_NEAR(scan.mean(), 9.80665, 1e-12);
}

TEST(ChannelScan, LeavesOutWhatIsNoNumber)
{
    Signal signal = with_noise(Signal(3000, 5.0), 0.1, 9);
    const Signal clean = signal;
    signal[0] = not_a_number;
    std::fill_n(signal.begin() + 1000, 300, not_a_number);
    signal[2000] = std::numeric_limits<double>::infinity();
    signal[2999] = -std::numeric_limits<double>::infinity();

    ChannelScan scan(1000.0);
    Signal given = signal;
    const auto range = scan.add(given.data(), given.size(), 0, -77.0);
    EXPECT_THAT(scan.not_finite(),
                ElementsAre(SampleRun{0, 1}, SampleRun{1000, 300}, SampleRun{2000, 1}, SampleRun{2999, 1}));
    for (std::size_t i = 0; i < signal.size(); ++i)
        ASSERT_EQ(given[i], std::isfinite(signal[i]) ? signal[i] : -77.0) << i;

    Signal kept;
    std::ranges::copy_if(signal, std::back_inserter(kept), [](double x) { return std::isfinite(x); });
    const auto [least, greatest] = std::ranges::minmax(kept);
    EXPECT_EQ(range.min, least);
    EXPECT_EQ(range.max, greatest);
    EXPECT_EQ(scan.min(), least);
    EXPECT_EQ(scan.max(), greatest);
    EXPECT_EQ(scan.samples(), 3000 - 303);
    EXPECT_NEAR(scan.mean(), scan_of(kept, 1000.0).mean(), 1e-13);
    EXPECT_THAT(scan.drop_outs(), IsEmpty()) << "what was put in the place of samples is no drop-out";
}

TEST(ChannelScan, OfNothingButNotNumbers)
{
    Signal signal(100, not_a_number);
    ChannelScan scan(1000.0);
    scan.add(signal.data(), signal.size(), 0, 1.0);
    EXPECT_EQ(scan.samples(), 0);
    EXPECT_THAT(scan.not_finite(), ElementsAre(SampleRun{0, 100}));
    EXPECT_EQ(scan.mean(), 0.0);
    EXPECT_THAT(scan.clipped(), IsEmpty());
    EXPECT_THAT(scan.drop_outs(), IsEmpty());
}

// ---- spans ----

struct Story {
    Signal signal;
    double rate_hz;
};

Story drawn_story()
{
    const double rate = *rc::gen::element(256.0, 1000.0);
    const auto seed = *rc::gen::arbitrary<std::uint64_t>();
    Signal signal = with_noise(sine(1.0, *rc::gen::inRange(1, 30), rate, 8000.0 / rate), 0.1, seed);
    if (*rc::gen::arbitrary<bool>()) signal = clipped_at(std::move(signal), -0.8, 0.9);
    if (*rc::gen::arbitrary<bool>()) signal = quantised(std::move(signal), 0.01);
    for (int n = *rc::gen::inRange(0, 4); n > 0; --n)
        std::fill_n(signal.begin() + *rc::gen::inRange(0, 7500), *rc::gen::inRange(1, 500),
                    *rc::gen::element(0.0, 0.3, -0.8));
    for (int n = *rc::gen::inRange(0, 3); n > 0; --n)
        std::fill_n(signal.begin() + *rc::gen::inRange(0, 7500), *rc::gen::inRange(1, 300), not_a_number);
    return {std::move(signal), rate};
}

RC_GTEST_PROP(ChannelScan, OfSpansMergedIsThatOfTheWhole, ())
{
    const Story story = drawn_story();
    const ChannelScan whole = scan_of(story.signal, story.rate_hz);
    // The resolution near the extremes is told a block at a time, so the spans are cut where blocks end.
    std::vector<std::size_t> cuts =
        *rc::gen::container<std::vector<std::size_t>>(3, rc::gen::inRange<std::size_t>(0, 16));
    for (std::size_t& cut : cuts) cut *= 512;
    std::ranges::sort(cuts);
    const ChannelScan parts = merged(story.signal, story.rate_hz, cuts);
    RC_ASSERT(parts.samples() == whole.samples());
    RC_ASSERT(parts.min() == whole.min());
    RC_ASSERT(parts.max() == whole.max());
    RC_ASSERT(parts.constant() == whole.constant());
    RC_ASSERT(std::abs(parts.mean() - whole.mean()) < 1e-12);
    RC_ASSERT(std::abs(parts.deviation() - whole.deviation()) < 1e-12);
    RC_ASSERT(parts.not_finite() == whole.not_finite());
    RC_ASSERT(parts.clipped() == whole.clipped());
    RC_ASSERT(parts.drop_outs() == whole.drop_outs());
}

TEST(ChannelScan, DoesNotDependOnTheBlocks)
{
    Signal signal = with_noise(sine(1.0, 7.0, 1000.0, 8.0), 0.05, 11);
    signal = clipped_at(std::move(signal), -0.9, 0.9);
    std::fill_n(signal.begin() + 500, 120, 0.25);
    std::fill_n(signal.begin() + 4090, 15, 0.5);
    const ChannelScan expected = scan_of(signal, 1000.0, signal.size());
    EXPECT_THAT(expected.clipped(), SizeIs(testing::Ge(50U)));
    EXPECT_THAT(expected.drop_outs(), ElementsAre(SampleRun{500, 120}));
    for (const std::size_t block : {64U, 511U, 512U, 1000U, 4096U}) {
        const ChannelScan scan = scan_of(signal, 1000.0, block);
        EXPECT_EQ(scan.clipped(), expected.clipped()) << block;
        EXPECT_EQ(scan.drop_outs(), expected.drop_outs()) << block;
        EXPECT_EQ(scan.max(), expected.max()) << block;
    }
}

} // namespace
} // namespace becalm::filters
