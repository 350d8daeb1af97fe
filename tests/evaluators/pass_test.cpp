// The streaming pass: what comes out does not depend on threads, spans or blocks, and is what the filters make of the
// whole signal. Expected values are computed from the definition: the same filters run by hand over the whole signal at
// once (their own witnesses are in tests/filters), or plain loops.
#include <algorithm>
#include <array>
#include <atomic>
#include <bit>
#include <cmath>
#include <cstring>
#include <filesystem>
#include <limits>
#include <stop_token>
#include <vector>

#include <gmock/gmock.h>

#include "evaluators/pass.h"
#include "filters/lane_bank.h"
#include "filters/quantities.h"
#include "filters/row_accumulator.h"
#include "src/io/file_hash.h"

#include "tests/evaluators/recordings.h"

namespace becalm::evaluators {
namespace {

using testing::HasSubstr;
using testing::IsEmpty;
using testing::SizeIs;
using namespace tests;
using enum WeightingId;

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();

PassResult passed(const PassRequest& request, const PassOptions& options = {})
{
    auto results = run_passes(std::span(&request, 1), options);
    if (results.size() != 1 || !results[0]) {
        ADD_FAILURE() << (results.empty() ? "no result" : to_text(results[0].error()));
        return {};
    }
    return std::move(*results[0]);
}

std::string refusal(const PassRequest& request, const PassOptions& options = {})
{
    const auto results = run_passes(std::span(&request, 1), options);
    return results[0] ? "no complaint" : to_text(results[0].error());
}

// The whole signal through one filter in one go, from rest; rows begin at sample `begin`, `count` samples count.
std::vector<LedgerRow> sequential(const Signal& signal, double rate_hz, WeightingId id, Motion motion,
                                  std::size_t begin, std::size_t count)
{
    const auto weighting = filters::design(id, motion, rate_hz);
    EXPECT_TRUE(weighting) << to_text(weighting.error());
    constexpr std::size_t block = 1000;
    const std::array lanes{filters::BankLane{.input = 0, .weighting = *weighting}};
    filters::LaneBank bank(lanes, block);
    filters::LaneGroup& group = bank.groups()[0];
    const auto width = static_cast<std::size_t>(group.width());
    filters::RowAccumulator accumulator(group.width(), 1, rate_hz, 0);
    Signal padded = signal;
    padded.resize(signal.size() + static_cast<std::size_t>(group.latency()), 0.0);
    const std::size_t from = begin + static_cast<std::size_t>(group.latency());
    const std::size_t to = from + count;
    for (std::size_t done = 0; done < padded.size(); done += block) {
        const std::size_t rows = std::min(block, padded.size() - done);
        const double* channel = padded.data() + done;
        bank.process(std::span(&channel, 1), rows);
        const std::size_t first = std::clamp(from, done, done + rows), last = std::clamp(to, done, done + rows);
        accumulator.add(group.rows() + (first - done) * width, last - first);
    }
    accumulator.finish();
    return accumulator.rows_of(0);
}

// Greatest difference of any field of any row, relative to the field's greatest value over all rows.
double greatest_difference(const std::vector<LedgerRow>& got, const std::vector<LedgerRow>& expected)
{
    if (got.size() != expected.size()) return std::numeric_limits<double>::infinity();
    double worst = 0.0;
    for (const auto field :
         {&LedgerRow::sum_squares, &LedgerRow::sum_fourths, &LedgerRow::peak, &LedgerRow::linear_rms,
          &LedgerRow::linear_rms_within, &LedgerRow::exponential_rms_slow, &LedgerRow::exponential_rms_fast}) {
        double size = 0.0, difference = 0.0;
        for (std::size_t i = 0; i < got.size(); ++i) {
            size = std::max(size, std::abs(expected[i].*field));
            difference = std::max(difference, std::abs(got[i].*field - expected[i].*field));
        }
        if (size > 0.0) worst = std::max(worst, difference / size);
    }
    for (std::size_t i = 0; i < got.size(); ++i)
        if (got[i].samples != expected[i].samples) return std::numeric_limits<double>::infinity();
    return worst;
}

// A pole pair at 0.08 Hz carries the rounding of a sample on for thousands of samples at 256 Hz.
double tolerance(WeightingId id) { return id == Wf ? 1e-10 : 1e-11; }

// Every number of a result, to the last bit.
std::vector<std::uint64_t> bits_of(const PassResult& result)
{
    std::vector<std::uint64_t> bits;
    const auto add = [&](double value) { bits.push_back(std::bit_cast<std::uint64_t>(value)); };
    for (const LaneResult& lane : result.lanes) {
        const Tally& t = lane.tally;
        for (const double value : {t.duration_s, t.sum_squares, t.sum_fourths, t.peak, t.linear_rms,
                                   t.exponential_rms_slow, t.exponential_rms_fast})
            add(value);
        for (const LedgerRow& r : lane.ledger.rows)
            for (const double value : {r.sum_squares, r.sum_fourths, r.peak, r.linear_rms, r.linear_rms_within,
                                       r.exponential_rms_slow, r.exponential_rms_fast, r.raw_min, r.raw_max})
                add(value);
    }
    for (const ChannelResult& channel : result.channels)
        for (const double value :
             {channel.offset, channel.scan.mean(), channel.scan.deviation(), channel.scan.min(), channel.scan.max()})
            add(value);
    return bits;
}

// ---- spans and threads ----

// 1.4 hours at 256 Hz: three spans, of which the last is short; slow and fast motion and a shock across the first cut.
class LongRecording : public testing::Test {
protected:
    static constexpr int rate = 256;
    static void SetUpTestSuite()
    {
        folder = new ScratchFolder;
        for (std::uint64_t c = 0; c < 2; ++c) {
            Signal signal = noise(rate * 5000 + 77, 20 + c);
            for (std::size_t i = 0; i < signal.size(); ++i) {
                const double t = static_cast<double>(i) / rate;
                signal[i] = 9.8 + 0.1 * signal[i] * (1.0 + std::sin(t / 40.0)) + 0.5 * std::sin(1.2 * t);
                if (t > 1799.9 && t < 1800.1) signal[i] += 3.0;
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
                .lanes = {{1, Axis::x, Wd}, {2, Axis::z, Wk}, {2, Axis::z, none}, {1, Axis::x, Wf}, {2, Axis::z, Wb}},
                .keep_rows = true};
    }
    static inline ScratchFolder* folder = nullptr;
    static inline std::vector<Signal> channels;
    static inline std::string path;
};

TEST_F(LongRecording, IsTheSameToTheLastBitHoweverManyThreads)
{
    const PassResult one = passed(request(), {.jobs = 1});
    ASSERT_EQ(one.lanes[0].ledger.rows.size(), 5001U);
    for (const int jobs : {2, 4, 7})
        EXPECT_EQ(bits_of(passed(request(), {.jobs = jobs})), bits_of(one)) << jobs << " threads";
}

TEST_F(LongRecording, OfALaneIsTheSameToTheLastBitWhicheverLanesRunBesideIt)
{
    // Filters of very different memory (Wf remembers minutes), taps and poles; the selection begins behind the start.
    for (const TimeSpan span : {TimeSpan{}, TimeSpan{.from_s = 700.3, .to_s = 4400.0}}) {
        PassRequest all = request();
        all.span = span;
        all.lanes.push_back({2, Axis::z, Wm});
        all.lanes.push_back({1, Axis::x, Wc});
        const PassResult together = passed(all, {.jobs = 2});
        for (std::size_t l = 0; l < all.lanes.size(); ++l) {
            PassRequest alone = all;
            alone.lanes = {all.lanes[l]};
            PassResult expected = together;
            expected.lanes = {together.lanes[l]};
            std::erase_if(expected.channels,
                          [&](const ChannelResult& channel) { return channel.channel != all.lanes[l].channel; });
            EXPECT_EQ(bits_of(passed(alone, {.jobs = 2})), bits_of(expected))
                << "channel " << all.lanes[l].channel << " by " << name_of(all.lanes[l].weighting) << " from "
                << span.from_s;
        }
    }
}

TEST_F(LongRecording, TellsOfEveryResultOnceAsSoonAsItIsThere)
{
    PassRequest missing = request();
    missing.path += ".missing";
    const std::vector<PassRequest> requests{request(), missing};
    std::array<std::atomic<int>, 2> told{};
    std::vector<std::string> sha256(2);
    const auto results = run_passes(requests, {.jobs = 3, .finished = [&](std::size_t r, const auto& result) {
                                                   ++told[r];
                                                   sha256[r] = result ? result->sha256 : to_text(result.error());
                                               }});
    EXPECT_EQ(told[0], 1);
    EXPECT_EQ(told[1], 1);
    EXPECT_EQ(sha256[0], io::sha256_of_file(path).value());
    EXPECT_EQ(sha256[1], to_text(results[1].error()));
}

TEST_F(LongRecording, InSpansIsTheWhole)
{
    const PassResult result = passed(request(), {.jobs = 4});
    for (const LaneResult& lane : result.lanes) {
        Signal signal = channels[static_cast<std::size_t>(lane.lane.channel - 1)];
        const double offset = result.channels[static_cast<std::size_t>(lane.lane.channel - 1)].offset;
        for (double& x : signal) x -= offset;
        const auto expected = sequential(signal, rate, lane.lane.weighting, Motion::acceleration, 0, signal.size());
        EXPECT_LT(greatest_difference(lane.ledger.rows, expected), tolerance(lane.lane.weighting))
            << name_of(lane.lane.weighting);
        // The tally is the fold of the rows.
        const Tally folded = fold(lane.ledger);
        EXPECT_NEAR(lane.tally.sum_squares / folded.sum_squares, 1.0, 1e-13);
        EXPECT_NEAR(lane.tally.sum_fourths / folded.sum_fourths, 1.0, 1e-13);
        EXPECT_EQ(lane.tally.peak, folded.peak);
        EXPECT_EQ(lane.tally.samples, signal.size());
        EXPECT_EQ(lane.tally.exponential_rms_slow, folded.exponential_rms_slow);
        EXPECT_EQ(lane.tally.linear_rms, std::max(folded.linear_rms, lane.ledger.rows[0].linear_rms));
    }
}

TEST_F(LongRecording, TellsTheRawRangeOfEverySecond)
{
    const PassResult result = passed(request());
    for (const std::size_t l : {0U, 1U}) {
        const Signal& signal = channels[l];
        const auto& rows = result.lanes[l].ledger.rows;
        for (std::size_t k = 0; k < rows.size(); ++k) {
            const auto begin = signal.begin() + static_cast<std::ptrdiff_t>(k * rate);
            const auto [low, high] = std::minmax_element(begin, std::min(begin + rate, signal.end()));
            ASSERT_EQ(rows[k].raw_min, *low) << "second " << k;
            ASSERT_EQ(rows[k].raw_max, *high) << "second " << k;
        }
    }
}

TEST_F(LongRecording, KeepsNoRowsUnlessAsked)
{
    PassRequest kept = request(), plain = request();
    plain.keep_rows = false;
    const PassResult without = passed(plain), with = passed(kept);
    for (std::size_t l = 0; l < with.lanes.size(); ++l) {
        EXPECT_THAT(without.lanes[l].ledger.rows, IsEmpty());
        EXPECT_EQ(without.lanes[l].tally.sum_squares, with.lanes[l].tally.sum_squares);
    }
}

TEST_F(LongRecording, SelectedBeginsRowsAtTheSelection)
{
    PassRequest request = LongRecording::request();
    request.span = {100.5, 4000.25}; // across both cuts of the whole, and across its own
    const PassResult result = passed(request, {.jobs = 3});
    EXPECT_DOUBLE_EQ(result.from_s, 100.5);
    EXPECT_DOUBLE_EQ(result.duration_s, 3899.75);
    const std::size_t begin = 100.5 * rate, count = 3899.75 * rate;
    for (const LaneResult& lane : result.lanes) {
        Signal signal = channels[static_cast<std::size_t>(lane.lane.channel - 1)];
        for (double& x : signal) x -= result.channels[static_cast<std::size_t>(lane.lane.channel - 1)].offset;
        // The filters run from the first sample of the file on; the running means begin at rest with the selection.
        const auto expected = sequential(signal, rate, lane.lane.weighting, Motion::acceleration, begin, count);
        EXPECT_LT(greatest_difference(lane.ledger.rows, expected), tolerance(lane.lane.weighting))
            << name_of(lane.lane.weighting);
        EXPECT_EQ(lane.tally.samples, count);
    }
    const Signal& raw = channels[0];
    const auto from = raw.begin() + static_cast<std::ptrdiff_t>(begin);
    const auto [low, high] = std::minmax_element(from, from + rate);
    EXPECT_EQ(result.lanes[0].ledger.rows[0].raw_min, *low);
    EXPECT_EQ(result.lanes[0].ledger.rows[0].raw_max, *high);
    EXPECT_EQ(result.channels[0].scan.samples(), static_cast<std::int64_t>(count));
}

TEST_F(LongRecording, StopsWhenToldTo)
{
    std::stop_source before;
    before.request_stop();
    EXPECT_THAT(refusal(request(), {.jobs = 2, .stop = before.get_token()}), HasSubstr("stopped before the end"));

    std::stop_source during;
    const PassOptions options{
        .jobs = 2, .progress = [&](double) { during.request_stop(); }, .stop = during.get_token()};
    EXPECT_THAT(refusal(request(), options), HasSubstr("stopped before the end"));
    PassRequest mean = request();
    mean.offset = OffsetRule::mean;
    EXPECT_THAT(refusal(mean, {.jobs = 1, .stop = before.get_token()}), HasSubstr("stopped before the end"));
}

TEST_F(LongRecording, ReportsProgressThatGrows)
{
    std::vector<double> told;
    passed(request(), {.jobs = 3, .progress = [&](double fraction) { told.push_back(fraction); }});
    EXPECT_THAT(told, testing::Not(IsEmpty()));
    EXPECT_TRUE(std::ranges::is_sorted(told));
    for (const double fraction : told) {
        EXPECT_GE(fraction, 0.0);
        EXPECT_LE(fraction, 1.0);
    }
}

TEST(Pass, OfASlowRecordingOverManyHours)
{
    // Wf at 10 Hz over seven hours: the slowest filter there is, in fourteen spans.
    const ScratchFolder folder;
    Signal signal = noise(10 * 25200, 31);
    for (std::size_t i = 0; i < signal.size(); ++i) signal[i] += std::sin(0.09 * static_cast<double>(i));
    signal = single_precision(std::move(signal));
    const PassRequest request{.path = wav(folder, "slow.wav", 10, {signal}),
                              .lanes = {{1, Axis::z, Wf}},
                              .offset = OffsetRule::none,
                              .keep_rows = true};
    const PassResult result = passed(request);
    EXPECT_LT(greatest_difference(result.lanes[0].ledger.rows,
                                  sequential(signal, 10.0, Wf, Motion::acceleration, 0, signal.size())),
              1e-11);
    for (const int jobs : {1, 4, 7}) EXPECT_EQ(bits_of(passed(request, {.jobs = jobs})), bits_of(result));
}

// ---- start, latency, offset ----

TEST(Pass, StartsFromRestAndTakesTheLatencyAway)
{
    // An impulse at 2.5 s: before it nothing; a filter that came early or late would move the greatest value.
    const ScratchFolder folder;
    constexpr int rate = 1000;
    Signal impulse(5000, 0.0);
    impulse[2500] = 1.0;
    const PassRequest request{.path = wav(folder, "impulse.wav", rate, {impulse}),
                              .lanes = {{1, Axis::z, none}, {1, Axis::z, Wk}, {1, Axis::z, Wf}},
                              .offset = OffsetRule::none,
                              .keep_rows = true};
    const PassResult result = passed(request);
    const auto& plain = result.lanes[0].ledger.rows;
    ASSERT_THAT(plain, SizeIs(5));
    EXPECT_EQ(plain[2].peak, 1.0);
    EXPECT_EQ(plain[2].sum_squares, 1.0);
    EXPECT_EQ(plain[1].peak + plain[3].peak, 0.0);
    for (const std::size_t l : {1U, 2U}) {
        const auto& rows = result.lanes[l].ledger.rows;
        // What a correction of finite length lets through early is below its tolerance of 1e-5.
        EXPECT_LT(rows[1].peak, 1e-5 * rows[2].peak);
        EXPECT_GT(rows[2].peak, 0.0);
    }
    // Cut right before the impulse and right behind it.
    for (const auto& [from, holds] : {std::pair(2.5, true), std::pair(2.501, false)}) {
        PassRequest cut = request;
        cut.span = {from, 3.0};
        EXPECT_EQ(passed(cut).lanes[0].tally.peak, holds ? 1.0 : 0.0) << from;
    }
}

TEST(Pass, KeepsWhatComesOutOfTheFiltersAfterTheLastSample)
{
    // At 256 Hz the outputs come late by many samples: without silence put behind the file the last ones would be lost.
    const ScratchFolder folder;
    Signal signal(600, 0.0);
    std::fill(signal.end() - 4, signal.end(), 1.0);
    const PassRequest request{.path = wav(folder, "end.wav", 256, {signal}),
                              .lanes = {{1, Axis::z, Wk}, {1, Axis::z, none}},
                              .offset = OffsetRule::none,
                              .keep_rows = true};
    const PassResult result = passed(request);
    EXPECT_EQ(result.lanes[0].tally.samples, 600U);
    EXPECT_GT(result.lanes[0].tally.peak, 0.1);
    EXPECT_LT(greatest_difference(result.lanes[0].ledger.rows,
                                  sequential(signal, 256.0, Wk, Motion::acceleration, 0, signal.size())),
              1e-11);
    EXPECT_EQ(result.lanes[1].tally.peak, 1.0);
    EXPECT_EQ(result.lanes[1].tally.samples, 600U);
}

TEST(Pass, TakesTheOffsetAwayThatItsRuleNames)
{
    const ScratchFolder folder;
    Signal signal(3000, 1.0); // 10 s of 1, then 20 s of 4: mean 3
    std::fill(signal.begin() + 1000, signal.end(), 4.0);
    PassRequest request{
        .path = wav(folder, "steps.wav", 100, {signal, noise(3000, 1)}), .lanes = {{1, Axis::z, none}}, .to_si = 0.5};
    for (const auto& [rule, offset] :
         {std::pair(OffsetRule::first_10_s, 0.5), std::pair(OffsetRule::mean, 1.5), std::pair(OffsetRule::none, 0.0)}) {
        request.offset = rule;
        const PassResult result = passed(request);
        ASSERT_THAT(result.channels, SizeIs(1));
        EXPECT_DOUBLE_EQ(result.channels[0].offset, offset);
        EXPECT_DOUBLE_EQ(result.lanes[0].tally.peak, std::max(std::abs(0.5 - offset), 2.0 - offset));
        EXPECT_EQ(result.channels[0].scan.max(), 2.0) << "the raw range keeps the offset";
    }
    // The rule looks at the file, not at what is selected; a recording shorter than 10 s is taken whole.
    request.offset = OffsetRule::first_10_s;
    request.span = {20.0, 25.0};
    EXPECT_DOUBLE_EQ(passed(request).channels[0].offset, 0.5);
    PassRequest brief{.path = wav(folder, "short.wav", 100, {Signal{1.0, 2.0, 6.0}}), .lanes = {{1, Axis::z, none}}};
    EXPECT_DOUBLE_EQ(passed(brief).channels[0].offset, 3.0);
}

// ---- lanes ----

TEST(Pass, RunsALaneAskedForTwiceOnce)
{
    const ScratchFolder folder;
    const PassRequest request{.path = wav(folder, "a.wav", 1000, {noise(3000, 1), noise(3000, 2)}),
                              .lanes = {{2, Axis::z, Wk}, {1, Axis::x, Wd}, {2, Axis::z, Wk}, {2, Axis::y, Wk}}};
    const PassResult result = passed(request);
    ASSERT_THAT(result.lanes, SizeIs(4));
    for (std::size_t l = 0; l < 4; ++l) EXPECT_EQ(result.lanes[l].lane, request.lanes[l]);
    EXPECT_EQ(result.lanes[0].tally.sum_squares, result.lanes[2].tally.sum_squares);
    EXPECT_EQ(result.lanes[0].tally.sum_squares, result.lanes[3].tally.sum_squares);
    EXPECT_NE(result.lanes[0].tally.sum_squares, result.lanes[1].tally.sum_squares);
    ASSERT_THAT(result.channels, SizeIs(2));
    EXPECT_EQ(result.channels[0].channel, 1);
    EXPECT_EQ(result.channels[1].channel, 2);
}

TEST(Pass, RefusesALaneWhoseRateIsTooLowAndRunsTheOthers)
{
    const ScratchFolder folder;
    const PassRequest request{.path = wav(folder, "slow.wav", 100, {noise(3000, 1)}),
                              .lanes = {{1, Axis::z, Wk}, {1, Axis::z, Wf}, {1, Axis::z, none}}};
    const PassResult result = passed(request);
    ASSERT_TRUE(result.lanes[0].refused.has_value());
    EXPECT_THAT(result.lanes[0].refused->what, HasSubstr("100"));
    EXPECT_EQ(result.lanes[0].tally.samples, 0U);
    for (const std::size_t l : {1U, 2U}) {
        EXPECT_FALSE(result.lanes[l].refused.has_value());
        EXPECT_EQ(result.lanes[l].tally.samples, 3000U);
    }
    // Even where nothing runs the channel is looked at.
    PassRequest alone = request;
    alone.lanes = {{1, Axis::z, Wk}};
    EXPECT_EQ(passed(alone).channels[0].scan.samples(), 3000);
}

TEST(Pass, SaysWhatItCannotRead)
{
    const ScratchFolder folder;
    PassRequest request{.path = wav(folder, "a.wav", 1000, {noise(3000, 1)}), .lanes = {{2, Axis::z, Wk}}};
    EXPECT_THAT(refusal(request), HasSubstr("channel 2 is asked for, but the recording has 1"));
    request.lanes = {{0, Axis::z, Wk}};
    EXPECT_THAT(refusal(request), HasSubstr("channel 0 is asked for"));
    request.lanes = {{1, Axis::z, Wk}};
    request.span = {3.0, 5.0};
    EXPECT_THAT(refusal(request), HasSubstr("nothing is selected"));
    request.span = {2.0, 1.0};
    EXPECT_THAT(refusal(request), HasSubstr("nothing is selected"));
    request.path = folder.path("missing.wav");
    EXPECT_THAT(refusal(request), HasSubstr("missing.wav"));

    const auto written =
        io::write_audio(folder.path("pcm.wav"),
                        {.rate_hz = 1000, .coding = io::AudioCoding::integer24, .full_scale = 2.0}, noise(3000, 1));
    ASSERT_TRUE(written);
    PassRequest pcm{.path = folder.path("pcm.wav"), .lanes = {{1, Axis::z, none}}};
    EXPECT_THAT(refusal(pcm), HasSubstr("scale"));
    pcm.scale_given = true;
    pcm.to_si = 2.0;
    pcm.offset = OffsetRule::none;
    Tally expected;
    for (const double x : noise(3000, 1)) expected.sum_squares += x * x / 1000.0;
    EXPECT_NEAR(passed(pcm).lanes[0].tally.sum_squares, expected.sum_squares, 1e-6); // 24 bits of 2
}

TEST(Pass, AFaultyRecordingSpoilsItsOwnResultOnly)
{
    const ScratchFolder folder;
    std::vector<PassRequest> requests;
    for (int i = 0; i < 5; ++i)
        requests.push_back(
            {.path = wav(folder, fmt::format("{}.wav", i), 1000, {noise(3000, static_cast<std::uint64_t>(i))}),
             .lanes = {{1, Axis::z, Wk}}});
    requests[2].path = folder.file("2.csv", "not a recording");
    const auto results = run_passes(requests, {.jobs = 3});
    ASSERT_THAT(results, SizeIs(5));
    for (std::size_t i = 0; i < 5; ++i) {
        ASSERT_EQ(results[i].has_value(), i != 2) << i;
        if (!results[i]) continue;
        EXPECT_EQ(results[i]->lanes[0].tally.sum_squares, passed(requests[i]).lanes[0].tally.sum_squares) << "in order";
        EXPECT_EQ(results[i]->sha256, io::sha256_of_file(requests[i].path).value());
    }
    PassRequest unhashed = requests[0];
    unhashed.hash = false;
    EXPECT_EQ(passed(unhashed).sha256, "");
    EXPECT_THAT(run_passes({}, {}), IsEmpty());
}

// ---- samples that are no numbers ----

TEST(Pass, FillsWhatIsNoNumberWithTheOffsetAndSaysWhere)
{
    const ScratchFolder folder;
    constexpr int rate = 1000;
    std::string text = "z\n";
    Signal filled;
    for (int i = 0; i < 5 * rate; ++i) {
        const bool missing = (i >= 1500 && i < 1700) || (i >= 3000 && i < 4000);
        const double value = 5.0 + std::sin(0.01 * i);
        text += missing ? "nan\n" : fmt::format("{:.17g}\n", value);
        filled.push_back(missing ? not_a_number : value);
    }
    PassRequest request{.path = folder.file("gaps.csv", text),
                        .read = {.rate_hz = rate},
                        .lanes = {{1, Axis::z, Wk}, {1, Axis::z, none}},
                        .keep_rows = true};
    const PassResult result = passed(request);
    const double offset = result.channels[0].offset;
    EXPECT_THAT(result.channels[0].scan.not_finite(),
                testing::ElementsAre(filters::SampleRun{1500, 200}, filters::SampleRun{3000, 1000}));
    for (double& x : filled) x = std::isnan(x) ? 0.0 : x - offset;
    EXPECT_LT(greatest_difference(result.lanes[0].ledger.rows,
                                  sequential(filled, rate, Wk, Motion::acceleration, 0, filled.size())),
              1e-11);
    EXPECT_EQ(result.lanes[1].ledger.rows[3].raw_min, offset);
    EXPECT_GE(result.lanes[1].ledger.rows[1].raw_min, 4.0);
}

TEST(Pass, OfAFloatFileWithGaps)
{
    const ScratchFolder folder;
    constexpr int rate = 1000;
    Signal signal = single_precision(noise(5 * rate, 5));
    const std::string path = wav(folder, "gaps.wav", rate, {signal});
    // The writer refuses such samples, so they are put into the finished file: float32, the data chunk last.
    std::string bytes = content_of(path);
    const std::size_t data = bytes.size() - signal.size() * sizeof(float);
    const auto damage = [&](std::size_t from, std::size_t count, float value) {
        for (std::size_t i = from; i < from + count; ++i) {
            std::memcpy(bytes.data() + data + i * sizeof(float), &value, sizeof value);
            signal[i] = not_a_number;
        }
    };
    damage(1500, 200, std::numeric_limits<float>::quiet_NaN());
    damage(3000, 1000, std::numeric_limits<float>::infinity());
    const PassRequest request{
        .path = folder.file("damaged.wav", bytes), .lanes = {{1, Axis::z, Wk}, {1, Axis::z, none}}, .keep_rows = true};
    const PassResult result = passed(request);
    double sum = 0.0;
    std::size_t count = 0;
    for (const double x : signal)
        if (!std::isnan(x)) sum += x, ++count;
    const double offset = result.channels[0].offset;
    EXPECT_NEAR(offset, sum / static_cast<double>(count), 1e-15);
    EXPECT_THAT(result.channels[0].scan.not_finite(),
                testing::ElementsAre(filters::SampleRun{1500, 200}, filters::SampleRun{3000, 1000}));
    for (double& x : signal) x = std::isnan(x) ? 0.0 : x - offset;
    EXPECT_LT(greatest_difference(result.lanes[0].ledger.rows,
                                  sequential(signal, rate, Wk, Motion::acceleration, 0, signal.size())),
              1e-11);
    EXPECT_EQ(result.lanes[1].ledger.rows[3].raw_min, offset) << "a second without a finite sample";
    EXPECT_EQ(result.lanes[1].ledger.rows[3].raw_max, offset);
}

// ---- formats, motions ----

TEST(Pass, TextAndAudioGiveTheSameNumbers)
{
    const ScratchFolder folder;
    const Signal a = single_precision(noise(7000, 3)), b = single_precision(noise(7000, 4));
    std::string text = "time_s,x,z\n";
    for (std::size_t i = 0; i < a.size(); ++i)
        text += fmt::format("{:.3f},{:.9g},{:.9g}\n", static_cast<double>(i) / 1000.0, a[i], b[i]);
    PassRequest audio{.path = wav(folder, "a.wav", 1000, {a, b}),
                      .lanes = {{1, Axis::x, Wd}, {2, Axis::z, Wk}, {2, Axis::z, none}},
                      .keep_rows = true};
    PassRequest csv = audio;
    csv.path = folder.file("a.csv", text);
    const PassResult from_audio = passed(audio), from_text = passed(csv);
    ASSERT_NEAR(from_text.info.rate_hz, 1000.0, 1e-6);
    for (std::size_t l = 0; l < 3; ++l)
        // Nine digits tell a float32 exactly apart but leave a remainder of 5e-10 of its value.
        EXPECT_LT(greatest_difference(from_text.lanes[l].ledger.rows, from_audio.lanes[l].ledger.rows), 1e-8) << l;
    EXPECT_NE(from_text.sha256, from_audio.sha256);
}

TEST(Pass, OfVelocityIsTheAccelerationItBelongsTo)
{
    // 6 Hz: the weighted acceleration of a sine of velocity v is |H| 2 pi f v, of displacement d |H| (2 pi f)^2 d.
    const ScratchFolder folder;
    constexpr double hz = 6.0, w = 2.0 * std::numbers::pi * hz;
    const Signal unit = sine(1.0, hz, 1000.0, 40.0);
    PassRequest request{.path = wav(folder, "sine.wav", 1000, {unit}),
                        .lanes = {{1, Axis::z, Wm}},
                        .offset = OffsetRule::none,
                        .span = {20.0, 40.0}};
    const double acceleration = filters::weighted_rms(passed(request).lanes[0].tally);
    request.input = Motion::velocity;
    EXPECT_NEAR(filters::weighted_rms(passed(request).lanes[0].tally) / (w * acceleration), 1.0, 2e-4);
    request.input = Motion::displacement;
    EXPECT_NEAR(filters::weighted_rms(passed(request).lanes[0].tally) / (w * w * acceleration), 1.0, 2e-4);
}

// ---- the outside world ----

TEST(Pass, NoticesAFileThatShrinksWhileItIsRead)
{
    const ScratchFolder folder;
    const std::string path = wav(folder, "shrinks.wav", 1000, {noise(3000000, 9)});
    const PassRequest request{.path = path, .lanes = {{1, Axis::z, Wk}}, .hash = false};
    std::atomic<bool> cut{false};
    const PassOptions options{.jobs = 1, .progress = [&](double) {
                                  if (!cut.exchange(true)) std::filesystem::resize_file(path, 400000);
                              }};
    const std::string complaint = refusal(request, options);
    ASSERT_TRUE(cut);
    EXPECT_THAT(complaint, HasSubstr("shrinks.wav"));
    EXPECT_THAT(complaint, testing::Not(HasSubstr("no complaint")));
}

} // namespace
} // namespace becalm::evaluators
