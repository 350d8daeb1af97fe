// The running sums against their definition as plain double loops, and the properties that let ledgers be cut and
// joined.
#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>
#include <vector>

#include <fmt/format.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "filters/lane_bank.h"
#include "filters/quantities.h"
#include "filters/row_accumulator.h"
#include "filters/weighting.h"

#include "tests/filters/signals.h"
#include "tests/src/naive_ledger.h"

namespace becalm::filters {
namespace {

using tests::ledger_of;
using tests::noise;
using tests::Signal;

bool close(double a, double b, double relative)
{
    return std::abs(a - b) <= relative * std::max(std::abs(a), std::abs(b));
}

// Empty where every field of every row is the same to `relative`; otherwise the first that is not.
std::string difference(const std::vector<LedgerRow>& got, const std::vector<LedgerRow>& expected, double relative)
{
    if (got.size() != expected.size()) return fmt::format("{} rows, expected {}", got.size(), expected.size());
    struct Field {
        const char* name;
        double LedgerRow::*value;
    };
    constexpr std::array fields{Field{"sum_squares", &LedgerRow::sum_squares},
                                Field{"sum_fourths", &LedgerRow::sum_fourths},
                                Field{"peak", &LedgerRow::peak},
                                Field{"linear_rms", &LedgerRow::linear_rms},
                                Field{"linear_rms_within", &LedgerRow::linear_rms_within},
                                Field{"exponential_rms_slow", &LedgerRow::exponential_rms_slow},
                                Field{"exponential_rms_fast", &LedgerRow::exponential_rms_fast}};
    for (std::size_t i = 0; i < got.size(); ++i) {
        if (got[i].samples != expected[i].samples)
            return fmt::format("row {}: {} samples, expected {}", i, got[i].samples, expected[i].samples);
        for (const Field& field : fields)
            if (!close(got[i].*field.value, expected[i].*field.value, relative))
                return fmt::format("row {} {}: {:.17g}, expected {:.17g}", i, field.name, got[i].*field.value,
                                   expected[i].*field.value);
    }
    return {};
}

// Whole and other rates: of recorders, of a sensor with its own crystal, of a third of a kilohertz, above and below a
// whole number, few a second and less than one a second.
constexpr std::array rates{199.252682, 256.0, 1000.0 / 3.0, 199.6, 100.4999, 10.0, 2.5, 1.6, 0.4};

TEST(RowAccumulator, DoesWhatTheDefinitionSaysAtEveryRate)
{
    // Expected: computed from the definition (tests/src/naive_ledger.h). Tolerance: rounding of sums of this length.
    for (const double rate : rates) {
        for (const double seconds : {0.3, 1.0, 4.7, 7.0}) {
            const auto count = static_cast<std::size_t>(std::max(1.0, seconds * std::min(rate, 400.0)));
            for (const std::uint64_t seed : {1, 2, 3}) {
                const Signal signal = noise(count, seed);
                std::vector<LedgerRow> rows = ledger_of(signal, rate).rows;
                // Seconds that hold no sample leave an empty row, except after the last sample.
                while (!rows.empty() && rows.back().samples == 0) rows.pop_back();
                EXPECT_EQ(difference(rows, becalm::tests::naive_rows(signal, rate), 1e-12), "")
                    << rate << " Hz, " << seconds << " s, seed " << seed;
            }
        }
    }
}

RC_GTEST_PROP(RowAccumulator, DoesWhatTheDefinitionSaysForAnySignal, ())
{
    const double rate = *rc::gen::inRange(150, 40000) / 100.0;
    const auto count = *rc::gen::inRange<std::size_t>(1, 900);
    Signal signal = noise(count, *rc::gen::inRange(0U, 100000U));
    // Spans of other sizes: quiet and loud.
    const auto at = *rc::gen::inRange<std::size_t>(0, count);
    const double gain = std::pow(10.0, *rc::gen::inRange(-4, 5));
    for (std::size_t i = at; i < count; ++i) signal[i] *= gain;
    RC_ASSERT(difference(ledger_of(signal, rate).rows, becalm::tests::naive_rows(signal, rate), 1e-12) == "");
}

RC_GTEST_PROP(RowAccumulator, IsTheSameHoweverTheSamplesAreCut, ())
{
    const double rate = *rc::gen::element(199.252682, 256.0, 1000.0 / 3.0);
    const Signal signal = noise(*rc::gen::inRange<std::size_t>(1, 3000), *rc::gen::inRange(0U, 100000U));
    const auto block = *rc::gen::inRange<std::size_t>(1, 1500);
    // Exactly: the samples are taken one after the other whatever the blocks.
    RC_ASSERT(ledger_of(signal, rate, 0, block).rows == ledger_of(signal, rate, 0, 4000).rows);
}

RC_GTEST_PROP(RowAccumulator, ScalesWithTheSignal, ())
{
    const Signal signal = noise(1500, *rc::gen::inRange(0U, 100000U));
    const double k = *rc::gen::inRange(1, 100000) / 1000.0;
    Signal scaled = signal;
    for (double& x : scaled) x *= k;
    const Tally once = fold(ledger_of(signal, 333.3)), times = fold(ledger_of(scaled, 333.3));
    RC_ASSERT(close(weighted_rms(times), k * weighted_rms(once), 1e-12));
    RC_ASSERT(close(vdv(times), k * vdv(once), 1e-12));
    RC_ASSERT(close(evdv(times), k * evdv(once), 1e-12));
    RC_ASSERT(close(msdv(times), k * msdv(once), 1e-12));
    RC_ASSERT(close(times.peak, k * once.peak, 1e-12));
    RC_ASSERT(close(times.linear_rms, k * once.linear_rms, 1e-12));
    RC_ASSERT(close(times.exponential_rms_slow, k * once.exponential_rms_slow, 1e-12));
    RC_ASSERT(close(times.exponential_rms_fast, k * once.exponential_rms_fast, 1e-12));
    RC_ASSERT(close(crest_factor(times), crest_factor(once), 1e-12));
}

RC_GTEST_PROP(RowAccumulator, MovesItsRowsWhenTheSignalIsMovedByWholeSeconds, ())
{
    const double rate = *rc::gen::element(256.0, 100.0, 500.0); // whole, so that the rows cut alike
    const Signal signal = noise(*rc::gen::inRange<std::size_t>(1, 2000), *rc::gen::inRange(0U, 100000U));
    const auto seconds = *rc::gen::inRange<std::size_t>(1, 5);
    Signal moved(seconds * static_cast<std::size_t>(rate), 0.0);
    moved.insert(moved.end(), signal.begin(), signal.end());
    const auto rows = ledger_of(signal, rate).rows;
    auto later = ledger_of(moved, rate).rows;
    for (std::size_t i = 0; i < seconds; ++i) {
        RC_ASSERT(later[i].sum_squares == 0.0);
        RC_ASSERT(later[i].peak == 0.0);
    }
    later.erase(later.begin(), later.begin() + static_cast<std::ptrdiff_t>(seconds));
    RC_ASSERT(later == rows);
}

RC_GTEST_PROP(RowAccumulator, LosesNothingToSilence, ())
{
    // Doses are integrals: silence before, between and after leaves them; the mean falls as the root of the time.
    const double rate = 256.0;
    const Signal signal = noise(2000, *rc::gen::inRange(0U, 100000U));
    const auto before = *rc::gen::inRange<std::size_t>(0, 3000), after = *rc::gen::inRange<std::size_t>(0, 3000);
    Signal longer(before, 0.0);
    longer.insert(longer.end(), signal.begin(), signal.end());
    longer.resize(longer.size() + after, 0.0);
    const Tally all = fold(ledger_of(signal, rate)), padded = fold(ledger_of(longer, rate));
    RC_ASSERT(close(vdv(padded), vdv(all), 1e-12));
    RC_ASSERT(close(msdv(padded), msdv(all), 1e-12));
    RC_ASSERT(padded.peak == all.peak);
    RC_ASSERT(close(weighted_rms(padded), weighted_rms(all) * std::sqrt(all.duration_s / padded.duration_s), 1e-12));
}

TEST(RowAccumulator, LeavesNoResidueOfAGreatShockInTheQuietThatFollows)
{
    // The quiet's running r.m.s. is that of the quiet alone (computed from the definition), from the first window clear
    // of the shock on.
    for (const double rate : {256.0, 199.252682}) {
        const auto second = static_cast<std::size_t>(std::ceil(rate));
        Signal quiet = noise(8 * second, 5);
        for (double& x : quiet) x *= 1e-6;
        Signal shocked = quiet;
        for (std::size_t i = 0; i < 20; ++i) shocked[second / 2 + 7 * i] = i % 2 == 0 ? 1e6 : -1e6;
        const auto rows = ledger_of(shocked, rate).rows;
        const auto alone = becalm::tests::naive_rows(quiet, rate);
        ASSERT_EQ(rows.size(), alone.size());
        ASSERT_GT(rows[1].linear_rms, 1e4);
        for (std::size_t i = 3; i < rows.size(); ++i) {
            EXPECT_NEAR(rows[i].linear_rms, alone[i].linear_rms, 1e-9 * alone[i].linear_rms)
                << rate << " Hz, row " << i;
            EXPECT_NEAR(rows[i].linear_rms_within, alone[i].linear_rms_within, 1e-9 * alone[i].linear_rms_within);
            EXPECT_NEAR(rows[i].sum_squares, alone[i].sum_squares, 1e-12 * alone[i].sum_squares);
        }
    }
}

TEST(RowAccumulator, KeepsLanesApart)
{
    for (const int width : {4, 8}) {
        const auto w = static_cast<std::size_t>(width);
        constexpr double rate = 199.252682;
        constexpr std::size_t count = 1234;
        RowAccumulator accumulator(width, w, rate, 0);
        AlignedBuffer rows(count * w);
        std::vector<Signal> signals;
        for (std::size_t lane = 0; lane < w; ++lane) {
            signals.push_back(noise(count, lane + 10));
            for (std::size_t i = 0; i < count; ++i)
                rows[i * w + lane] = signals[lane][i] * static_cast<double>(lane + 1);
        }
        accumulator.add(rows.data(), count);
        accumulator.finish();
        for (std::size_t lane = 0; lane < w; ++lane) {
            for (double& x : signals[lane]) x *= static_cast<double>(lane + 1);
            EXPECT_EQ(difference(accumulator.rows_of(lane), becalm::tests::naive_rows(signals[lane], rate), 1e-12), "")
                << "lane " << lane << " of " << width;
        }
    }
}

// The rows of a weighted signal from `first_second` on, the filter at rest before that second.
Ledger weighted_ledger(WeightingId id, const Signal& signal, double rate_hz, std::int64_t first_second)
{
    const auto weighting = design(id, Motion::acceleration, rate_hz);
    if (!weighting) throw std::runtime_error(to_text(weighting.error()));
    constexpr std::size_t block = 512;
    LaneGroup group({BankLane{.input = 0, .weighting = *weighting}}, block);
    RowAccumulator accumulator(group.width(), 1, rate_hz, first_second);
    auto at = static_cast<std::size_t>(RowAccumulator::first_sample_of(first_second, rate_hz));
    Signal rest(signal.begin() + static_cast<std::ptrdiff_t>(at), signal.end());
    rest.resize(rest.size() + static_cast<std::size_t>(group.latency()), 0.0); // what the filter still holds at the end
    auto late = static_cast<std::size_t>(group.latency());
    for (std::size_t done = 0; done < rest.size(); done += block) {
        const std::size_t rows = std::min(block, rest.size() - done);
        const double* channel = rest.data() + done;
        group.process(std::span(&channel, 1), rows);
        const std::size_t skipped = std::min(late, rows);
        late -= skipped;
        accumulator.add(group.rows() + skipped * static_cast<std::size_t>(group.width()), rows - skipped);
    }
    accumulator.finish();
    return {.lane = {.channel = 1, .axis = Axis::z, .weighting = id},
            .rate_hz = rate_hz,
            .first_second = first_second,
            .rows = accumulator.rows_of(0)};
}

TEST(RowAccumulator, TwoHalvesTheSecondWithRunInGiveTheWhole)
{
    // The second half begins early by the filter's memory and then by 28 s, in which the slow exponential mean (tau = 1
    // s) forgets its start to 1e-12; what is not yet its own is dropped. Tolerance: that, and rounding.
    for (const double rate : {512.0, 1000.0 / 1.5}) {
        constexpr WeightingId id = WeightingId::Wk;
        const auto run_in = static_cast<std::int64_t>(std::ceil(memory_s(id))) + 28;
        const std::int64_t joint = run_in + 5;
        Signal signal = noise(static_cast<std::size_t>(static_cast<double>(joint + 9) * rate), 77);
        for (std::size_t i = 0; i < signal.size(); ++i) signal[i] *= 1.0 + std::sin(0.001 * static_cast<double>(i));
        const Ledger whole = weighted_ledger(id, signal, rate, 0);

        Ledger first = whole;
        first.rows.resize(static_cast<std::size_t>(joint));
        Ledger second = weighted_ledger(id, signal, rate, joint - run_in);
        second.rows.erase(second.rows.begin(), second.rows.begin() + static_cast<std::ptrdiff_t>(run_in));
        second.first_second = joint;
        first.append(second);
        EXPECT_EQ(difference(first.rows, whole.rows, 1e-10), "") << rate << " Hz";
    }
}

TEST(RowAccumulator, CountsSecondsFromTheFirstSample)
{
    // Computed from the definition: the first i with i / rate >= second.
    EXPECT_EQ(RowAccumulator::first_sample_of(0, 199.252682), 0);
    EXPECT_EQ(RowAccumulator::first_sample_of(1, 199.252682), 200);
    EXPECT_EQ(RowAccumulator::first_sample_of(2, 199.252682), 399);
    EXPECT_EQ(RowAccumulator::first_sample_of(3, 1000.0 / 3.0), 1000);
    EXPECT_EQ(RowAccumulator::first_sample_of(86400, 1000.0 / 3.0), 28800000);
    EXPECT_EQ(RowAccumulator::first_sample_of(7, 256.0), 1792);
    // A sample on the second belongs to it, though 15 times 200/3 is 1000.0000000000001 in doubles.
    ASSERT_GT(15 * (200.0 / 3.0), 1000.0);
    EXPECT_EQ(RowAccumulator::first_sample_of(15, 200.0 / 3.0), 1000);
}

} // namespace
} // namespace becalm::filters
