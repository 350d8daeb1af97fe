// Which seconds count by the clock. Expected spans are counted by hand from the times written beside them.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "evaluators/selection.h"

namespace becalm {

static bool operator==(const TimeSpan& a, const TimeSpan& b) { return a.from_s == b.from_s && a.to_s == b.to_s; }

} // namespace becalm

namespace becalm::evaluators {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

constexpr ClockSpan night{23 * 60, 7 * 60}, day{7 * 60, 23 * 60};

TEST(LocalStart, IsReadByTheClockOfThePlace)
{
    const auto start = local_start("2026-05-02T10:12:30.25+02:00");
    ASSERT_TRUE(start);
    EXPECT_EQ(start->date, std::chrono::sys_days(std::chrono::year(2026) / 5 / 2));
    EXPECT_DOUBLE_EQ(start->second_of_day, 10 * 3600 + 12 * 60 + 30.25);
    EXPECT_TRUE(local_start("2026-05-02T10:12:30Z"));
    EXPECT_FALSE(local_start(""));
    EXPECT_FALSE(local_start("2026-05-02"));
    EXPECT_FALSE(local_start("2026-13-02T10:12:30Z"));
}

TEST(WithinHours, ARecordingOfADayHasItsNightAtBothEnds)
{
    // From Saturday 06:00 for 24 h: night until 07:00 (1 h) and from 23:00 (17 h after the start) on.
    const auto start = *local_start("2026-05-02T06:00:00+02:00");
    EXPECT_THAT(within_hours(start, 86400.0, std::span(&night, 1)),
                ElementsAre(TimeSpan{0.0, 3600.0}, TimeSpan{17 * 3600.0, 86400.0}));
    EXPECT_THAT(within_hours(start, 86400.0, std::span(&day, 1)), ElementsAre(TimeSpan{3600.0, 17 * 3600.0}));
    EXPECT_THAT(within_hours(start, 600.0, std::span(&day, 1)), IsEmpty());
}

TEST(WithinHours, SundaysHaveTheirOwn)
{
    // From Saturday 2 May 2026, 18:00, for 24 h. Weekdays rest from 19 to 22, Sundays from 6 to 22.
    const auto start = *local_start("2026-05-02T18:00:00Z");
    constexpr ClockSpan evening{19 * 60, 22 * 60}, sunday{6 * 60, 22 * 60};
    EXPECT_THAT(within_hours(start, 86400.0, std::span(&evening, 1), std::span(&sunday, 1)),
                ElementsAre(TimeSpan{3600.0, 4 * 3600.0}, TimeSpan{12 * 3600.0, 24 * 3600.0}));
}

TEST(HoursIn, CountsPastMidnight)
{
    EXPECT_DOUBLE_EQ(hours_in(std::span(&night, 1)), 8.0);
    EXPECT_DOUBLE_EQ(hours_in(std::span(&day, 1)), 16.0);
}

double length(const std::vector<TimeSpan>& spans)
{
    double sum = 0.0;
    for (const TimeSpan& span : spans) sum += span.to_s - span.from_s;
    return sum;
}

RC_GTEST_PROP(WithinHours, DayAndNightShareARecordingBetweenThem, ())
{
    LocalStart start = *local_start("2026-05-02T00:00:00Z");
    start.second_of_day = *rc::gen::inRange(0, 86400);
    const double duration = *rc::gen::inRange(1, 400000);
    const auto by_day = within_hours(start, duration, std::span(&day, 1));
    const auto by_night = within_hours(start, duration, std::span(&night, 1));
    RC_ASSERT(std::abs(length(by_day) + length(by_night) - duration) < 1e-6);
    RC_ASSERT(common(by_day, by_night).empty());
    const TimeSpan whole{0.0, duration};
    RC_ASSERT(without(std::span(&whole, 1), by_day) == by_night);
}

} // namespace
} // namespace becalm::evaluators
