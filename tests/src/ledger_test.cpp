// Folding, joining and choosing rows. Expected values: computed from the definitions in src/model/ledger.h.
#include <cmath>
#include <cstdint>
#include <vector>

#include <gmock/gmock.h>
#include <rapidcheck/gtest.h>

#include "tests/src/naive_ledger.h"

namespace becalm {
namespace {

using testing::DoubleNear;
using tests::naive_rows;

std::vector<double> noise(std::size_t count, std::uint64_t seed)
{
    std::vector<double> signal(count);
    std::uint64_t state = seed * 0x9E3779B97F4A7C15ULL + 1;
    for (double& x : signal) {
        state = state * 6364136223846793005ULL + 1442695040888963407ULL;
        x = static_cast<double>(state >> 11) * 0x1p-53 * 2.0 - 1.0;
    }
    return signal;
}

Ledger ledger_of(const std::vector<double>& signal, double rate_hz, std::int64_t first_second = 0)
{
    return {.lane = {}, .rate_hz = rate_hz, .first_second = first_second, .rows = naive_rows(signal, rate_hz)};
}

bool close(double a, double b) { return std::abs(a - b) <= 1e-12 * std::max(std::abs(a), std::abs(b)); }

// Sums to rounding, maxima exactly.
bool same(const Tally& a, const Tally& b)
{
    return a.samples == b.samples && close(a.duration_s, b.duration_s) && close(a.sum_squares, b.sum_squares) &&
           close(a.sum_fourths, b.sum_fourths) && a.peak == b.peak && a.linear_rms == b.linear_rms &&
           a.exponential_rms_slow == b.exponential_rms_slow && a.exponential_rms_fast == b.exponential_rms_fast;
}

rc::Gen<double> amounts()
{
    return rc::gen::map(rc::gen::inRange(0, 1000000), [](int i) { return i / 1000.0; });
}

rc::Gen<Tally> tallies()
{
    return rc::gen::map(rc::gen::container<std::vector<double>>(8, amounts()), [](const std::vector<double>& v) {
        return Tally{.samples = static_cast<std::uint64_t>(v[0] * 1000.0),
                     .duration_s = v[1],
                     .sum_squares = v[2],
                     .sum_fourths = v[3],
                     .peak = v[4],
                     .linear_rms = v[5],
                     .exponential_rms_slow = v[6],
                     .exponential_rms_fast = v[7]};
    });
}

RC_GTEST_PROP(Merge, IsAssociativeAndCommutativeWithTheEmptyTallyAsItsNought, ())
{
    const Tally a = *tallies(), b = *tallies(), c = *tallies();
    RC_ASSERT(same(merge(merge(a, b), c), merge(a, merge(b, c))));
    RC_ASSERT(same(merge(a, b), merge(b, a)));
    RC_ASSERT(same(merge(a, Tally{}), a));
}

RC_GTEST_PROP(Fold, OfEverythingIsTheDefinitionOverAllSamples, ())
{
    const double rate = *rc::gen::element(199.252682, 256.0, 1000.0 / 3.0);
    const auto signal = noise(*rc::gen::inRange<std::size_t>(1, 1500), *rc::gen::inRange(0U, 10000U));
    double squares = 0.0, fourths = 0.0, peak = 0.0;
    for (const double x : signal) {
        squares += x * x;
        fourths += x * x * x * x;
        peak = std::max(peak, std::abs(x));
    }
    const Tally tally = fold(ledger_of(signal, rate));
    RC_ASSERT(tally.samples == signal.size());
    RC_ASSERT(close(tally.duration_s, static_cast<double>(signal.size()) / rate));
    RC_ASSERT(close(tally.sum_squares, squares / rate));
    RC_ASSERT(close(tally.sum_fourths, fourths / rate));
    RC_ASSERT(tally.peak == peak);
}

RC_GTEST_PROP(Fold, OfTwoSpansThatDoNotTouchIsTheirMerge, ())
{
    const Ledger ledger = ledger_of(noise(1100, *rc::gen::inRange(0U, 10000U)), 100.0, 3);
    const int a = *rc::gen::inRange(3, 8), b = *rc::gen::inRange(a + 1, 10), c = *rc::gen::inRange(b + 1, 13);
    const std::vector<TimeSpan> spans{{double(a), double(b)}, {double(c), double(c + 2)}};
    const Tally both = fold(ledger, spans);
    RC_ASSERT(same(both, merge(fold(ledger, std::span(spans).first(1)), fold(ledger, std::span(spans).last(1)))));
    // The order in which they are named, and naming one twice, changes nothing.
    const std::vector<TimeSpan> muddled{spans[1], spans[0], spans[1]};
    RC_ASSERT(same(fold(ledger, muddled), both));
}

RC_GTEST_PROP(Fold, OfTouchingSpansIsThatOfTheirUnion, ())
{
    const Ledger ledger = ledger_of(noise(1100, *rc::gen::inRange(0U, 10000U)), 100.0);
    const int joint = *rc::gen::inRange(2, 9);
    const std::vector<TimeSpan> parts{{1.0, double(joint)}, {double(joint), 10.0}};
    const TimeSpan whole{1.0, 10.0};
    RC_ASSERT(same(fold(ledger, parts), fold(ledger, std::span(&whole, 1))));
}

TEST(Fold, TakesNoWindowThatReachesOutsideTheSelection)
{
    // A second of 10 m/s2, then quiet at 1 m/s2: windows that end in row 3 remember the shock, the selection from 3 on
    // must not.
    std::vector<double> signal(600, 1.0);
    std::fill(signal.begin() + 200, signal.begin() + 300, 10.0);
    const Ledger ledger = ledger_of(signal, 100.0);
    ASSERT_GT(ledger.rows[3].linear_rms, 9.0);
    const TimeSpan quiet{3.0, 6.0};
    EXPECT_DOUBLE_EQ(fold(ledger, std::span(&quiet, 1)).linear_rms, 1.0);
    // Straddling windows count where both seconds are selected: half a second of each.
    std::vector<double> across(400, 0.0);
    std::fill(across.begin() + 150, across.begin() + 250, 2.0);
    EXPECT_DOUBLE_EQ(fold(ledger_of(across, 100.0)).linear_rms, 2.0);
    const std::vector<TimeSpan> apart{{0.0, 2.0}, {3.0, 4.0}};
    EXPECT_DOUBLE_EQ(fold(ledger_of(across, 100.0), apart).linear_rms, std::sqrt(2.0));
}

TEST(Fold, LeavesOutRowsThatReachOutsideTheSelection)
{
    const Ledger ledger = ledger_of(std::vector<double>(1000, 1.0), 100.0, 20);
    const TimeSpan inner{21.5, 24.5};
    EXPECT_DOUBLE_EQ(fold(ledger, std::span(&inner, 1)).duration_s, 2.0); // 22 and 23
    const TimeSpan before{0.0, 20.0};
    EXPECT_EQ(fold(ledger, std::span(&before, 1)).samples, 0U);
    EXPECT_EQ(fold(ledger, {}).samples, 0U);
}

TEST(Fold, TakesALastRowShorterThanASecondToItsOwnEnd)
{
    const Ledger ledger = ledger_of(std::vector<double>(250, 1.0), 100.0);
    ASSERT_EQ(ledger.rows.size(), 3U);
    const TimeSpan to_the_end{0.0, 2.5};
    EXPECT_DOUBLE_EQ(fold(ledger, std::span(&to_the_end, 1)).duration_s, 2.5);
    const TimeSpan short_of_it{0.0, 2.4};
    EXPECT_DOUBLE_EQ(fold(ledger, std::span(&short_of_it, 1)).duration_s, 2.0);
}

TEST(Fold, TakesEveryRowOfARateThatIsNotWhole)
{
    // Rows hold 333 or 334 samples; none may fall out of a selection that names its second.
    const Ledger ledger = ledger_of(std::vector<double>(3000, 1.0), 1000.0 / 3.0);
    for (int second = 0; second < 9; ++second) {
        const TimeSpan one{double(second), double(second + 1)};
        EXPECT_EQ(fold(ledger, std::span(&one, 1)).samples, ledger.rows[static_cast<std::size_t>(second)].samples)
            << second;
    }
}

RC_GTEST_PROP(Ledger, AppendedPiecesAreTheWhole, ())
{
    const Ledger whole = ledger_of(noise(1000, *rc::gen::inRange(0U, 10000U)), 100.0);
    const auto cut = *rc::gen::inRange<std::ptrdiff_t>(0, 11);
    Ledger front = whole, back = whole;
    front.rows.erase(front.rows.begin() + cut, front.rows.end());
    back.rows.erase(back.rows.begin(), back.rows.begin() + cut);
    back.first_second = cut;
    front.append(back);
    RC_ASSERT(front.rows == whole.rows);
    RC_ASSERT(front.first_second == whole.first_second);
}

void expect_spans(const std::vector<TimeSpan>& got, const std::vector<TimeSpan>& expected)
{
    ASSERT_EQ(got.size(), expected.size());
    for (std::size_t i = 0; i < got.size(); ++i) {
        EXPECT_DOUBLE_EQ(got[i].from_s, expected[i].from_s) << i;
        EXPECT_DOUBLE_EQ(got[i].to_s, expected[i].to_s) << i;
    }
}

TEST(Selection, IsEverythingWithoutExclusions) { expect_spans(selection(12.5, 0.0, {}), {{0.0, 12.5}}); }

TEST(Selection, LeavesOutTheRunInWidenedToAWholeSecond) { expect_spans(selection(12.5, 4.2, {}), {{5.0, 12.5}}); }

TEST(Selection, WidensExclusionsOutwardsToWholeSeconds)
{
    const std::vector<ExcludedSpan> excluded{{3.2, 4.1, "door"}, {8.0, 9.0, "knock"}};
    expect_spans(selection(12.5, 0.0, excluded), {{0.0, 3.0}, {5.0, 8.0}, {9.0, 12.5}});
}

TEST(Selection, TakesExclusionsInAnyOrderTouchingOverlappingAndNested)
{
    const std::vector<ExcludedSpan> excluded{{7.0, 8.0, "c"}, {2.0, 6.0, "a"}, {3.0, 4.0, "inside a"}, {6.0, 7.0, "b"}};
    expect_spans(selection(10.0, 0.0, excluded), {{0.0, 2.0}, {8.0, 10.0}});
}

TEST(Selection, TakesExclusionsAtAndBeyondTheEnds)
{
    const std::vector<ExcludedSpan> excluded{{-1.0, 2.0, "start"}, {9.5, 99.0, "end"}};
    expect_spans(selection(10.0, 1.0, excluded), {{2.0, 9.0}});
}

TEST(Selection, IsEmptyWhereNothingIsLeft)
{
    const std::vector<ExcludedSpan> everything{{0.0, 10.0, "all"}};
    EXPECT_TRUE(selection(10.0, 0.0, everything).empty());
    EXPECT_TRUE(selection(3.0, 5.0, {}).empty());
}

RC_GTEST_PROP(Selection, KeepsExactlyTheSecondsThatNoExclusionTouches, ())
{
    const int duration = *rc::gen::inRange(1, 40), from = *rc::gen::inRange(0, 10);
    std::vector<ExcludedSpan> excluded;
    for (int n = *rc::gen::inRange(0, 6); n > 0; --n) {
        const double begin = *rc::gen::inRange(0, 4000) / 100.0;
        excluded.push_back({begin, begin + *rc::gen::inRange(1, 900) / 100.0, "drawn"});
    }
    const auto kept = selection(duration, from, excluded);
    for (int second = 0; second < duration; ++second) {
        bool expected = second >= from;
        for (const ExcludedSpan& span : excluded)
            expected = expected && !(span.from_s < second + 1 && span.to_s > second);
        bool got = false;
        for (const TimeSpan& span : kept) got = got || (span.from_s <= second && span.to_s >= second + 1);
        RC_ASSERT(got == expected);
    }
    for (std::size_t i = 1; i < kept.size(); ++i) RC_ASSERT(kept[i - 1].to_s < kept[i].from_s);
}

TEST(Selection, AndFoldTogetherLeaveAnExcludedShockOut)
{
    std::vector<double> signal(1000, 1.0);
    signal[455] = 100.0;
    const Ledger ledger = ledger_of(signal, 100.0);
    const std::vector<ExcludedSpan> excluded{{4.5, 4.6, "knock"}};
    const Tally tally = fold(ledger, selection(10.0, 0.0, excluded));
    EXPECT_EQ(tally.samples, 900U);
    EXPECT_DOUBLE_EQ(tally.peak, 1.0);
    EXPECT_THAT(tally.sum_squares, DoubleNear(9.0, 1e-12));
    EXPECT_DOUBLE_EQ(tally.linear_rms, 1.0);
}

} // namespace
} // namespace becalm
