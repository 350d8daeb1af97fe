// What rides in the pass beside the ledger: spectra in rows of time, motion bins, swings. They do not depend on threads
// or spans, and are what plain loops over the whole signal find (computed from the definition).
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <vector>

#include <gmock/gmock.h>

#include "evaluators/pass.h"
#include "filters/lane_bank.h"
#include "filters/welch.h"

#include "tests/evaluators/recordings.h"

namespace becalm::evaluators {
namespace {

using testing::HasSubstr;
using testing::IsEmpty;
using testing::SizeIs;
using namespace tests;
using enum WeightingId;

PassResult passed(const PassRequest& request, const PassOptions& options = {})
{
    auto results = run_passes(std::span(&request, 1), options);
    if (results.size() != 1 || !results[0]) {
        ADD_FAILURE() << (results.empty() ? "no result" : to_text(results[0].error()));
        return {};
    }
    return std::move(*results[0]);
}

// Every number of the reducers.
std::vector<double> numbers_of(const PassResult& result)
{
    std::vector<double> numbers;
    for (const ChannelResult& channel : result.channels) {
        if (channel.spectra) {
            numbers.push_back(channel.spectra->resolution_hz);
            for (const SpectralRow& row : channel.spectra->rows) {
                numbers.insert(numbers.end(), {row.from_s, row.to_s, static_cast<double>(row.segments)});
                numbers.insert(numbers.end(), row.density.begin(), row.density.end());
            }
        }
        if (channel.motion)
            for (const MotionBin& bin : channel.motion->bins)
                numbers.insert(numbers.end(), {bin.mean, bin.min, bin.max});
    }
    return numbers;
}

std::vector<double> numbers_of(const std::vector<Swing>& swings)
{
    std::vector<double> numbers;
    for (const Swing& swing : swings) numbers.insert(numbers.end(), {swing.at_s, swing.size});
    return numbers;
}

// Runs of one sign, zeros left out; the extreme of each but the last; the differences.
std::vector<Swing> plain_swings(const Signal& signal, double rate_hz)
{
    std::vector<Swing> swings;
    std::size_t before = 0, extreme = 0, half_cycles = 0;
    for (std::size_t i = 0; i < signal.size(); ++i) {
        if (signal[i] == 0.0) continue;
        if (half_cycles > 0 && (signal[i] < 0.0) == (signal[extreme] < 0.0)) {
            if (std::abs(signal[i]) > std::abs(signal[extreme])) extreme = i;
            continue;
        }
        if (half_cycles++ > 1)
            swings.push_back({.at_s = static_cast<float>(static_cast<double>(extreme) / rate_hz),
                              .size = static_cast<float>(std::abs(signal[extreme] - signal[before]))});
        before = extreme;
        extreme = i;
    }
    return swings;
}

// The whole signal through one filter in one go, from rest.
Signal weighted(const Signal& signal, double rate_hz, WeightingId id)
{
    const auto weighting = filters::design(id, Motion::acceleration, rate_hz);
    EXPECT_TRUE(weighting) << to_text(weighting.error());
    constexpr std::size_t block = 1000;
    const std::array lanes{filters::BankLane{.input = 0, .weighting = *weighting}};
    filters::LaneBank bank(lanes, block);
    filters::LaneGroup& group = bank.groups()[0];
    const auto latency = static_cast<std::size_t>(group.latency());
    Signal padded = signal, out;
    padded.resize(signal.size() + latency, 0.0);
    for (std::size_t done = 0; done < padded.size(); done += block) {
        const std::size_t rows = std::min(block, padded.size() - done);
        const double* channel = padded.data() + done;
        bank.process(std::span(&channel, 1), rows);
        for (std::size_t i = 0; i < rows; ++i) out.push_back(group.rows()[i * static_cast<std::size_t>(group.width())]);
    }
    return {out.begin() + static_cast<std::ptrdiff_t>(latency), out.end()};
}

// 1.4 hours at 256 Hz: three spans, of which the last is short. The second channel is a slow motion whose half cycles
// last 52 s; one of them has its crest near 1900 s.
class LongReduced : public testing::Test {
protected:
    static constexpr int rate = 256;
    static void SetUpTestSuite()
    {
        folder = new ScratchFolder;
        for (std::uint64_t c = 0; c < 2; ++c) {
            Signal signal = noise(rate * 5000 + 77, 40 + c);
            for (std::size_t i = 0; i < signal.size(); ++i) {
                const double t = static_cast<double>(i) / rate;
                signal[i] = 2.0 + 0.1 * signal[i] * (1.0 + std::sin(t / 40.0));
                signal[i] += c == 0 ? 0.5 * std::sin(1.2 * t) : 3.0 * std::sin(0.0604 * t);
            }
            channels.push_back(single_precision(std::move(signal)));
        }
        path = wav(*folder, "long.wav", rate, channels);
    }
    static void TearDownTestSuite()
    {
        channels.clear();
        delete folder;
    }
    static PassRequest request()
    {
        return {.path = path,
                .lanes = {{1, Axis::x, Wd}, {2, Axis::z, Wk}},
                .spectra_channels = {2, 1, 2},
                .motion_channels = {1, 2}};
    }
    // Two spans, the joint at 1900 s.
    static PassRequest request_with_swings()
    {
        PassRequest request = LongReduced::request();
        request.lanes.push_back({2, Axis::z, none});
        request.swing_lanes = request.lanes;
        request.span = {100.0, 3700.0};
        return request;
    }
    // Without the offset.
    static Signal motion_of(std::size_t channel, const PassResult& result)
    {
        Signal signal = channels[channel];
        for (double& x : signal) x -= result.channels[channel].offset;
        return signal;
    }
    static inline ScratchFolder* folder = nullptr;
    static inline std::vector<Signal> channels;
    static inline std::string path;
};

TEST_F(LongReduced, AreTheSameToTheLastBitHoweverManyThreads)
{
    for (const PassRequest& request : {request(), request_with_swings()}) {
        const PassResult one = passed(request, {.jobs = 1});
        for (const int jobs : {2, 5}) {
            const PassResult several = passed(request, {.jobs = jobs});
            EXPECT_EQ(numbers_of(several), numbers_of(one)) << jobs << " threads";
            for (std::size_t l = 0; l < request.swing_lanes.size(); ++l)
                EXPECT_EQ(numbers_of(several.lanes[l].swings->swings), numbers_of(one.lanes[l].swings->swings));
        }
    }
}

TEST_F(LongReduced, AreTheSameInOneSpanAndInSeveral)
{
    for (PassRequest request : {request(), request_with_swings()}) {
        const PassResult several = passed(request);
        request.resolution_hz = 1.0; // runs as one span
        const PassResult one = passed(request);
        EXPECT_EQ(numbers_of(several), numbers_of(one));
        for (std::size_t l = 0; l < request.swing_lanes.size(); ++l) {
            const auto& got = several.lanes[l].swings->swings;
            const auto& expected = one.lanes[l].swings->swings;
            if (request.lanes[l].weighting == none) {
                EXPECT_EQ(numbers_of(got), numbers_of(expected));
            }
            // A filter that started 1,800 s ago and one that started a minute ago differ by 1e-12.
            ASSERT_EQ(got.size(), expected.size());
            for (std::size_t s = 0; s < got.size(); ++s) {
                ASSERT_EQ(got[s].at_s, expected[s].at_s);
                ASSERT_NEAR(got[s].size, expected[s].size, 1e-6 * static_cast<double>(expected[s].size) + 1e-11);
            }
        }
    }
}

TEST_F(LongReduced, SpectraAreThoseOfTheMotionAsRecorded)
{
    // 1/240 of 5000 s is rounded up to rows of 24 s: three segments, 16 s long, that begin 8 s apart.
    const PassResult result = passed(request());
    for (const std::size_t c : {0U, 1U}) {
        const Signal motion = motion_of(c, result);
        const ChannelSpectra& spectra = *result.channels[c].spectra;
        EXPECT_EQ(spectra.rate_hz, rate);
        EXPECT_EQ(spectra.resolution_hz, 0.0625);
        ASSERT_THAT(spectra.rows, SizeIs(208));
        for (std::size_t r = 0; r < spectra.rows.size(); ++r) {
            const SpectralRow& row = spectra.rows[r];
            const std::size_t begin = r * 24 * rate, samples = std::min<std::size_t>(32 * rate, motion.size() - begin);
            filters::Welch welch(rate, 16 * rate);
            welch.add(std::span(motion).subspan(begin, samples));
            ASSERT_EQ(row.segments, welch.segments()) << "row " << r;
            ASSERT_EQ(row.from_s, 24.0 * static_cast<double>(r));
            ASSERT_EQ(row.to_s, row.from_s + 8.0 + 8.0 * row.segments);
            const std::vector<double> expected = welch.density();
            ASSERT_EQ(row.density.size(), expected.size());
            for (std::size_t k = 0; k < expected.size(); ++k) // float: 6e-8
                ASSERT_NEAR(row.density[k], expected[k], 7e-8 * expected[k] + 1e-12) << "row " << r << ", bin " << k;
        }
    }
}

TEST_F(LongReduced, BinsHoldTheirSamples)
{
    const PassResult result = passed(request());
    for (const std::size_t c : {0U, 1U}) {
        const Signal motion = motion_of(c, result);
        const auto& bins = result.channels[c].motion->bins;
        EXPECT_EQ(result.channels[c].motion->bin_s, 0.05);
        std::size_t i = 0;
        for (std::size_t k = 0; k < bins.size(); ++k) {
            double sum = 0.0, low = std::numeric_limits<double>::infinity(), high = -low;
            std::size_t count = 0;
            for (; i < motion.size() && i * 20 / rate == k; ++i, ++count) {
                sum += motion[i];
                low = std::min(low, motion[i]);
                high = std::max(high, motion[i]);
            }
            ASSERT_GT(count, 0U);
            ASSERT_EQ(bins[k].min, static_cast<float>(low)) << "bin " << k;
            ASSERT_EQ(bins[k].max, static_cast<float>(high)) << "bin " << k;
            ASSERT_NEAR(bins[k].mean, sum / static_cast<double>(count), 7e-8 * std::abs(bins[k].mean) + 1e-12);
        }
        EXPECT_EQ(i, motion.size());
    }
}

TEST_F(LongReduced, SwingsAreThoseOfTheWholeLane)
{
    const PassRequest request = request_with_swings();
    const PassResult result = passed(request);
    for (const LaneResult& lane : result.lanes) {
        const auto channel = static_cast<std::size_t>(lane.lane.channel - 1);
        Signal whole = motion_of(channel, result);
        if (lane.lane.weighting != none) whole = weighted(whole, rate, lane.lane.weighting);
        const Signal selected(whole.begin() + 100 * rate, whole.begin() + 3700 * rate);
        const auto expected = plain_swings(selected, rate);
        ASSERT_FALSE(lane.swings->refused);
        const auto& got = lane.swings->swings;
        ASSERT_GT(got.size(), 100U);
        ASSERT_EQ(got.size(), expected.size()) << name_of(lane.lane.weighting);
        for (std::size_t s = 0; s < got.size(); ++s) {
            ASSERT_EQ(got[s].at_s, expected[s].at_s);
            ASSERT_NEAR(got[s].size, expected[s].size, 1e-6 * static_cast<double>(expected[s].size) + 1e-11);
        }
    }
}

TEST_F(LongReduced, BeginWithTheSelection)
{
    PassRequest request = LongReduced::request();
    request.span = {100.5, 4000.25};
    const PassResult result = passed(request);
    const Signal motion = motion_of(0, result);
    const std::size_t begin = 100.5 * rate, count = 3899.75 * rate;
    const auto& rows = result.channels[0].spectra->rows;
    ASSERT_THAT(rows, SizeIs(162)); // of 24 s; the last segment begins at 3880 s
    EXPECT_EQ(rows.back().from_s, 3864.0);
    EXPECT_EQ(rows.back().to_s, 3896.0);
    filters::Welch welch(rate, 16 * rate);
    welch.add(std::span(motion).subspan(begin + 3864 * rate, 32 * rate));
    EXPECT_NEAR(rows.back().density[3] / welch.density()[3], 1.0, 1e-6);
    const auto& bins = result.channels[0].motion->bins;
    ASSERT_THAT(bins, SizeIs(77995));                                                   // 3899.75 s
    const auto [low, high] = std::ranges::minmax(std::span(motion).subspan(begin, 13)); // 12.8 samples
    EXPECT_EQ(bins[0].min, static_cast<float>(low));
    EXPECT_EQ(bins[0].max, static_cast<float>(high));
    EXPECT_EQ(bins.back().max, static_cast<float>(std::ranges::max(std::span(motion).subspan(begin + count - 12, 12))));
}

TEST_F(LongReduced, ChangeNothingElse)
{
    PassRequest with = request_with_swings(), without = with;
    without.spectra_channels.clear();
    without.motion_channels.clear();
    without.swing_lanes.clear();
    const PassResult reduced = passed(with), plain = passed(without);
    for (std::size_t l = 0; l < with.lanes.size(); ++l) {
        EXPECT_EQ(reduced.lanes[l].tally.sum_squares, plain.lanes[l].tally.sum_squares);
        EXPECT_EQ(reduced.lanes[l].tally.sum_fourths, plain.lanes[l].tally.sum_fourths);
        EXPECT_EQ(reduced.lanes[l].tally.peak, plain.lanes[l].tally.peak);
        EXPECT_FALSE(plain.lanes[l].swings);
    }
    for (std::size_t c = 0; c < 2; ++c) {
        EXPECT_EQ(reduced.channels[c].scan.deviation(), plain.channels[c].scan.deviation());
        EXPECT_EQ(reduced.channels[c].scan.samples(), plain.channels[c].scan.samples());
        EXPECT_FALSE(plain.channels[c].spectra);
        EXPECT_FALSE(plain.channels[c].motion);
    }
}

// ---- what is asked for, and what cannot be ----

TEST(Reducers, AreForThoseChannelsThatAreNamed)
{
    const ScratchFolder folder;
    const std::string path = wav(folder, "a.wav", 1000, {noise(20000, 1), noise(20000, 2), noise(20000, 3)});
    const PassResult result = passed({.path = path, .spectra_channels = {3}, .motion_channels = {1}});
    EXPECT_THAT(result.lanes, IsEmpty());
    ASSERT_THAT(result.channels, SizeIs(2)) << "no lane is needed";
    EXPECT_EQ(result.channels[0].channel, 1);
    EXPECT_FALSE(result.channels[0].spectra);
    EXPECT_THAT(result.channels[0].motion->bins, SizeIs(400));
    EXPECT_EQ(result.channels[1].channel, 3);
    EXPECT_FALSE(result.channels[1].motion);
    ASSERT_THAT(result.channels[1].spectra->rows, SizeIs(1)); // 20 s
    EXPECT_THAT(result.channels[1].spectra->rows[0].density, SizeIs(4001)) << "to 250 Hz";

    const PassRequest missing{.path = path, .motion_channels = {4}};
    const auto refused = run_passes(std::span(&missing, 1));
    ASSERT_FALSE(refused[0]);
    EXPECT_THAT(to_text(refused[0].error()), HasSubstr("channel 4 is asked for, but the recording has 3"));
}

TEST(Reducers, AreInSIWithTheOffsetTakenAwayAndGapsFilled)
{
    const ScratchFolder folder;
    std::string text = "z\n";
    for (int i = 0; i < 3000; ++i) text += i >= 1000 && i < 1050 ? "nan\n" : i >= 2000 && i < 2050 ? "8\n" : "5\n";
    const PassResult result = passed({.path = folder.file("gaps.csv", text),
                                      .read = {.rate_hz = 1000.0},
                                      .lanes = {{1, Axis::z, none}},
                                      .to_si = 0.5,
                                      .offset = OffsetRule::none,
                                      .spectra_channels = {1},
                                      .motion_channels = {1}});
    const auto& bins = result.channels[0].motion->bins;
    ASSERT_THAT(bins, SizeIs(60));
    EXPECT_EQ(bins[0].mean, 2.5F);
    EXPECT_EQ(bins[20].mean, 0.0F) << "samples that are no numbers stand at the offset, as in the lanes";
    EXPECT_EQ(bins[40].mean, 4.0F);
    ASSERT_THAT(result.channels[0].spectra->rows, SizeIs(1)); // 3 s
    EXPECT_EQ(result.channels[0].spectra->rows[0].to_s, 3.0);

    PassRequest tared{.path = wav(folder, "b.wav", 100, {Signal(1000, 2.0)}), .motion_channels = {1}};
    EXPECT_EQ(passed(tared).channels[0].motion->bins[7].mean, 0.0F);
}

TEST(Reducers, OfASelectionThatIsTooShortOrTooSlowAreEmpty)
{
    const ScratchFolder folder;
    const PassResult brief = passed(
        {.path = wav(folder, "brief.wav", 1000, {noise(1999, 1)}), .spectra_channels = {1}, .motion_channels = {1}});
    ASSERT_TRUE(brief.channels[0].spectra);
    EXPECT_THAT(brief.channels[0].spectra->rows, IsEmpty());
    EXPECT_THAT(brief.channels[0].motion->bins, SizeIs(40));
    const PassResult slow = passed(
        {.path = wav(folder, "slow.wav", 19, {noise(1900, 1)}), .spectra_channels = {1}, .motion_channels = {1}});
    ASSERT_TRUE(slow.channels[0].motion);
    EXPECT_THAT(slow.channels[0].motion->bins, IsEmpty());
    EXPECT_THAT(slow.channels[0].spectra->rows, SizeIs(11)); // 100 s
}

TEST(Reducers, SwingsOfMoreThanAnHourAreRefused)
{
    const ScratchFolder folder;
    PassRequest request{.path = wav(folder, "day.wav", 10, {noise(10 * 3601, 1)}),
                        .lanes = {{1, Axis::z, Wf}, {1, Axis::z, Wk}},
                        .swing_lanes = {{1, Axis::z, Wf}, {1, Axis::z, Wk}}};
    const PassResult refused = passed(request);
    EXPECT_EQ(refused.lanes[0].tally.samples, 36010U) << "the lane itself is not";
    EXPECT_THAT(refused.lanes[0].swings->swings, IsEmpty());
    ASSERT_TRUE(refused.lanes[0].swings->refused);
    EXPECT_THAT(to_text(*refused.lanes[0].swings->refused), HasSubstr("3601 s are selected"));
    request.span.to_s = 3600.0;
    const PassResult hour = passed(request);
    EXPECT_FALSE(hour.lanes[0].swings->refused);
    EXPECT_GT(hour.lanes[0].swings->swings.size(), 1000U);
    // A lane whose rate is too low has none either, and says why.
    ASSERT_TRUE(hour.lanes[1].swings);
    EXPECT_EQ(hour.lanes[1].swings->refused->what, hour.lanes[1].refused->what);
}

TEST(Reducers, SwingsThatAreTooManyAreRefused)
{
    // Up and down from sample to sample, for 2,001 s in two spans of less than two million each.
    const ScratchFolder folder;
    Signal signal(2'001'000);
    for (std::size_t i = 0; i < signal.size(); ++i) signal[i] = i % 2 == 0 ? 1.0 : -1.0;
    const PassRequest request{.path = wav(folder, "buzz.wav", 1000, {signal}),
                              .lanes = {{1, Axis::z, none}, {1, Axis::z, Wk}},
                              .swing_lanes = {{1, Axis::z, none}, {1, Axis::z, Wk}}};
    for (const int jobs : {1, 2}) {
        const PassResult result = passed(request, {.jobs = jobs});
        ASSERT_TRUE(result.lanes[0].swings->refused);
        EXPECT_THAT(to_text(*result.lanes[0].swings->refused), HasSubstr("more than 2000000 times"));
        EXPECT_THAT(result.lanes[0].swings->swings, IsEmpty());
    }
}

} // namespace
} // namespace becalm::evaluators
