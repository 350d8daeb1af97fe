// Campaigns put together by code. Expected numbers follow from the levels planted: computed from the definition.
#include <set>

#include <gmock/gmock.h>

#include "src/io/json_out.h"

#include "tests/evaluators/criteria.h"
#include "tests/evaluators/ledgers.h"

namespace becalm::evaluators::tests {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::SizeIs;

constexpr std::int64_t hour_s = 3600, day_s = 24 * hour_s;
const ClockSpan day{6 * 60, 22 * 60}, night{22 * 60, 6 * 60};

MonitorReport report_of(MadeCampaign& campaign)
{
    auto report = campaign.outcome();
    if (report) return std::move(*report);
    for (const Problem& problem : report.error()) ADD_FAILURE() << to_text(problem);
    return {};
}

std::vector<std::string> exceeding(const MonitorSeries& series)
{
    std::vector<std::string> dates;
    for (const MonitoredPeriod& period : series.periods)
        if (period.verdict.exceeded) dates.push_back(period.date);
    return dates;
}

// As the JSON of an assessment, notes and all.
std::string text_of(const Verdict& verdict) { return io::as_json(Assessment{.verdicts = {verdict}}); }

void expect_as_assessed(MadeCampaign& campaign)
{
    const auto assessed = assess(campaign.survey, campaign.library, campaign.options.assess);
    ASSERT_TRUE(assessed);
    const MonitorReport report = report_of(campaign);
    ASSERT_EQ(report.series.size(), assessed->verdicts.size());
    for (const Verdict& verdict : assessed->verdicts) {
        EXPECT_TRUE(verdict.judged) << verdict.why_not;
        const auto series = std::ranges::find(report.series, verdict.criterion, &MonitorSeries::criterion);
        ASSERT_NE(series, report.series.end());
        ASSERT_THAT(series->periods, SizeIs(1)) << verdict.criterion;
        EXPECT_EQ(text_of(series->periods.front().verdict), text_of(verdict));
        EXPECT_DOUBLE_EQ(*series->periods.front().coverage_percent, 100.0);
    }
}

// --- as assess() ---

TEST(Monitor, JudgesASurveyOfOneDayAsAssessDoes)
{
    MadeCampaign campaign;
    campaign.library = shipped_library();
    // 2026-05-03 is a Sunday, whose hours of rest are others.
    campaign.add("day.wav", "2026-05-03T00:00:00+02:00",
                 {.seconds = day_s, .level = [](std::int64_t s) {
                      return 1e-3 * (1.0 + 0.5 * std::sin(1e-3 * static_cast<double>(s)));
                  }});
    campaign.survey.recordings.back().excluded = {{.from_s = 40000.0, .to_s = 40300.5, .reason = "moved"}};
    campaign.criterion("whole-days");
    campaign.options.assess.criteria.insert(campaign.options.assess.criteria.end(),
                                            {"bs6472-1-2008-day", "din4150-2-1999-day", "iso2631-1-1997-comfort"});
    campaign.survey.recordings.back().channels = {{1, Axis::x}, {2, Axis::y}, {3, Axis::z}};
    campaign.survey.judges.push_back({.criteria = campaign.options.assess.criteria, .confirmed_by = "the test"});
    expect_as_assessed(campaign);
}

TEST(Monitor, JudgesANightAcrossMidnightAsAssessDoes)
{
    MadeCampaign campaign;
    campaign.library = shipped_library();
    campaign.add("night.wav", "2026-05-02T20:00:00.25+02:00", {.seconds = 12 * hour_s, .level = [](std::int64_t s) {
                                                                   return 1e-4 * static_cast<double>(2 + s % 7);
                                                               }});
    campaign.options.assess.criteria = {"bs6472-1-2008-night", "din4150-2-1999-night"};
    campaign.survey.recordings.back().channels = {{1, Axis::x}, {2, Axis::y}, {3, Axis::z}};
    const auto assessed = assess(campaign.survey, campaign.library, campaign.options.assess);
    ASSERT_TRUE(assessed);
    const MonitorReport report = report_of(campaign);
    ASSERT_THAT(report.series, SizeIs(2));
    for (std::size_t i = 0; i < 2; ++i) {
        ASSERT_THAT(report.series[i].periods, SizeIs(1));
        EXPECT_EQ(report.series[i].periods[0].date, "2026-05-02");
        EXPECT_EQ(text_of(report.series[i].periods[0].verdict), text_of(assessed->verdicts[i]));
    }
}

// --- days and nights ---

TEST(Monitor, FindsTheDaysAndNightsThatExceed)
{
    MadeCampaign campaign;
    // From noon on 1 March for 20 days: loud at noon of the 5th, at 23 h of the 7th and at 3 h of the 10th, the night
    // of the 9th.
    const auto at = [](int date, int hour) { return (date - 1) * day_s + (hour - 12) * hour_s; };
    const std::set<std::int64_t> loud{at(5, 14) / hour_s, at(7, 23) / hour_s, at(10, 3) / hour_s};
    campaign.add("weeks.wav", "2026-03-01T12:00:00+01:00", {.seconds = 20 * day_s, .level = [loud](std::int64_t s) {
                                                                return loud.contains(s / hour_s) ? 1.0 : 0.01;
                                                            }});
    campaign.criterion("by-day", "day", {day});
    campaign.criterion("by-night", "night", {night});
    campaign.criterion("whole-days");
    const MonitorReport report = report_of(campaign);
    ASSERT_THAT(report.series, SizeIs(3));
    EXPECT_THAT(exceeding(report.series[0]), ElementsAre("2026-03-05"));
    EXPECT_THAT(exceeding(report.series[1]), ElementsAre("2026-03-07", "2026-03-09"));
    EXPECT_THAT(exceeding(report.series[2]), ElementsAre("2026-03-05", "2026-03-07", "2026-03-10"));
    const MonitorSeries& days = report.series[0];
    EXPECT_THAT(days.periods, SizeIs(21)); // half of the first, half of the last
    EXPECT_EQ(days.hours, "06:00-22:00");
    EXPECT_NEAR(*days.periods[0].coverage_percent, 100.0 * 10 / 16, 1e-9);
    EXPECT_NEAR(*days.periods[20].coverage_percent, 100.0 * 6 / 16, 1e-9);
    // One loud hour of 16 quiet ones.
    EXPECT_NEAR(*days.periods[4].verdict.value, std::sqrt((1.0 + 15.0 * 1e-4) / 16.0), 1e-12);
    EXPECT_EQ(days.periods[4].from, "2026-03-05T06:00:00+01:00");
    EXPECT_EQ(report.series[1].periods[6].to, "2026-03-08T06:00:00+01:00");
    EXPECT_EQ(days.summary.exceeded, 1);
    EXPECT_EQ(*days.summary.worst, 4U);
    EXPECT_EQ(days.summary.half_measured, 1);
    EXPECT_THAT(days.summary.in_band, ElementsAre(20, 1));
    EXPECT_NEAR(*days.summary.median, 0.01, 1e-12);
    EXPECT_EQ(report.series[2].summary.longest_run, 1);
}

TEST(Monitor, TellsATrendAndWhereThereIsNone)
{
    MadeCampaign campaign;
    campaign.add("weeks.wav", "2026-03-02T00:00:00Z", {.seconds = 14 * day_s, .level = [](std::int64_t s) {
                                                           return 0.01 + 0.001 * static_cast<double>(s / day_s);
                                                       }});
    campaign.criterion("whole-days");
    const MonitorSummary summary = report_of(campaign).series.at(0).summary;
    ASSERT_TRUE(summary.trend);
    EXPECT_NEAR(summary.trend->per_week, 0.007, 1e-9);
    EXPECT_NEAR(summary.trend->low, 0.007, 1e-6);
    campaign.options.to = campaign.options.from = std::chrono::sys_days(std::chrono::year(2026) / 3 / 4);
    const MonitorReport one = report_of(campaign);
    ASSERT_THAT(one.series.at(0).periods, SizeIs(1));
    EXPECT_EQ(one.series[0].periods[0].date, "2026-03-04");
    EXPECT_THAT(one.series[0].summary.why_no_trend, HasSubstr("too few"));
}

TEST(Monitor, TellsGapsAndHowMuchWasMeasured)
{
    MadeCampaign campaign;
    campaign.add("a.wav", "2026-03-02T00:00:00Z", {.seconds = day_s});
    campaign.add("b.wav", "2026-03-05T18:00:00Z", {.seconds = 6 * hour_s});
    campaign.add("c.wav", "2026-03-06T00:00:00Z", {.seconds = day_s});
    campaign.criterion("whole-days");
    const MonitorSeries series = report_of(campaign).series.at(0);
    ASSERT_THAT(series.periods, SizeIs(5));
    EXPECT_TRUE(series.periods[1].is_gap && series.periods[2].is_gap);
    EXPECT_THAT(series.periods[1].verdict.why_not, HasSubstr("nothing was recorded"));
    EXPECT_FALSE(series.periods[1].verdict.judged);
    EXPECT_NEAR(*series.periods[3].coverage_percent, 25.0, 1e-9);
    EXPECT_TRUE(series.periods[3].verdict.judged);
    EXPECT_EQ(series.summary.gaps, 2);
    EXPECT_EQ(series.summary.not_judged, 2);
    EXPECT_NEAR(*series.summary.coverage_percent, 100.0 * 54 / 120, 1e-9);

    campaign.options.least_coverage_percent = 30.0;
    const MonitorSeries strict = report_of(campaign).series.at(0);
    EXPECT_FALSE(strict.periods[3].verdict.judged);
    EXPECT_FALSE(strict.periods[3].verdict.value);
    EXPECT_THAT(strict.periods[3].verdict.why_not,
                HasSubstr("25 % of the period was recorded, and 30 % are asked for"));

    // The criterion's own least duration refuses as in assess().
    campaign.options.least_coverage_percent.reset();
    campaign.library.criteria.at("whole-days").least_duration_s = 8.0 * hour_s;
    EXPECT_THAT(report_of(campaign).series.at(0).periods[3].verdict.why_not, HasSubstr("asks for at least 28800 s"));
}

TEST(Monitor, TellsManyGapsOfOneSeries)
{
    MadeCampaign campaign;
    campaign.add("a.wav", "2026-03-02T00:00:00Z", {.seconds = hour_s});
    campaign.add("b.wav", "2026-03-12T00:00:00Z", {.seconds = hour_s});
    campaign.criterion("whole-days");
    const MonitorSeries series = report_of(campaign).series.at(0);
    ASSERT_THAT(series.periods, SizeIs(11));
    for (std::size_t gap = 1; gap < 10; ++gap) {
        const Verdict& verdict = series.periods[gap].verdict;
        EXPECT_TRUE(series.periods[gap].is_gap);
        EXPECT_EQ(verdict.criterion, "whole-days") << gap;
        EXPECT_EQ(verdict.space, series.space) << gap;
        EXPECT_THAT(verdict.why_not, HasSubstr("nothing was recorded"));
    }
}

// --- a file an hour ---

TEST(Monitor, TakesAFileAnHourOverAWeekAPieceAtATime)
{
    MadeCampaign campaign;
    for (int hour = 0; hour < 7 * 24; ++hour)
        campaign.add(fmt::format("{:03}.wav", hour),
                     fmt::format("2026-03-{:02}T{:02}:00:00Z", 2 + hour / 24, hour % 24),
                     {.rate_hz = 100.0, .level = [hour](std::int64_t) { return hour == 70 ? 0.5 : 0.01; }});
    campaign.criterion("by-day", "day", {day});
    campaign.criterion("by-night", "night", {night});
    const MonitorReport report = report_of(campaign);
    ASSERT_THAT(report.series, SizeIs(2));
    EXPECT_THAT(exceeding(report.series[1]), ElementsAre("2026-03-04")); // hour 70 is 22 h of the third day
    EXPECT_TRUE(exceeding(report.series[0]).empty());
    double seconds = 0.0;
    for (const MonitorSeries& series : report.series)
        for (const MonitoredPeriod& period : series.periods) seconds += period.measured_s;
    EXPECT_EQ(seconds, 7.0 * day_s);
    EXPECT_THAT(report.series[1].periods[3].verdict.recordings, SizeIs(8));
    EXPECT_GT(campaign.loads.size(), 1U);
    for (const std::size_t count : campaign.loads) EXPECT_LT(count, 6U * 24U);

    campaign.loads.clear();
    campaign.options.from = std::chrono::sys_days(std::chrono::year(2026) / 3 / 8);
    const MonitorReport end = report_of(campaign);
    EXPECT_THAT(end.series.at(0).periods, SizeIs(1));
    EXPECT_LT(campaign.loads.at(0), 3U * 24U) << "what lies days before is not looked at";
}

TEST(Monitor, JudgesHoursAndWeeks)
{
    MadeCampaign campaign;
    campaign.add("weeks.wav", "2026-03-02T00:00:00Z", // a Monday
                 {.seconds = 14 * day_s, .level = [](std::int64_t s) { return s / hour_s == 30 ? 1.0 : 0.01; }});
    campaign.criterion("whole");
    campaign.criterion("by-night", "night", {night});
    campaign.options.by = MonitorBy::week;
    const MonitorReport weeks = report_of(campaign);
    ASSERT_THAT(weeks.series.at(0).periods, SizeIs(2));
    EXPECT_NEAR(*weeks.series[0].periods[0].verdict.value, std::sqrt((1.0 + 167.0 * 1e-4) / 168.0), 1e-6);
    EXPECT_EQ(weeks.series[1].periods.back().expected_s, 7.0 * 8.0 * hour_s);
    campaign.options.by = MonitorBy::hour;
    const MonitorReport hours = report_of(campaign);
    EXPECT_THAT(hours.series.at(0).periods, SizeIs(14 * 24));
    EXPECT_EQ(hours.series[0].periods[*hours.series[0].summary.worst].hour, "06:00");
    EXPECT_EQ(hours.series[0].periods[*hours.series[0].summary.worst].date, "2026-03-03");
    EXPECT_THAT(hours.series.at(1).periods, SizeIs(14 * 8));

    campaign.library.criteria.at("by-night").rest = RestHours{.factor = 2.0, .hours = {night}, .sunday_hours = {day}};
    campaign.options.by = MonitorBy::week;
    const auto refused = campaign.outcome();
    ASSERT_FALSE(refused);
    EXPECT_THAT(to_text(refused.error().at(0)), HasSubstr("other hours of rest on Sundays"));
}

TEST(Monitor, TakesHoursOfTheCallForCriteriaWithout)
{
    MadeCampaign campaign;
    campaign.add("two.wav", "2026-03-02T00:00:00Z", {.seconds = 2 * day_s});
    campaign.criterion("whole");
    campaign.options.by = MonitorBy::period;
    const auto refused = campaign.outcome();
    ASSERT_FALSE(refused);
    EXPECT_THAT(to_text(refused.error().at(0)), HasSubstr("no criterion says which hours"));
    campaign.options.periods = {{"evening", {19 * 60, 22 * 60}}, {"night", night}};
    const MonitorReport report = report_of(campaign);
    ASSERT_THAT(report.series, SizeIs(2));
    EXPECT_EQ(report.series[0].period, "evening");
    EXPECT_EQ(report.series[0].periods.at(0).measured_s, 3.0 * hour_s);
    EXPECT_THAT(report.series[1].periods, SizeIs(3)); // the night of the day before ends in it
    campaign.options.periods.clear();
    campaign.criterion("by-night", "night", {night});
    EXPECT_THAT(report_of(campaign).series, SizeIs(2)) << "the hours of the other criterion";
}

TEST(Monitor, KeepsToWhatConditionsState)
{
    // Day and night are told by hand; a night is whole, whatever the hours of the criterion.
    MadeCampaign campaign;
    campaign.survey.conditions = {{.id = "traffic", .period = "day"}, {.id = "freight", .period = "night"}};
    for (const int date : {2, 3}) {
        campaign.add(fmt::format("d{}.wav", date), fmt::format("2026-03-{:02}T10:00:00Z", date), {}).condition =
            "traffic";
        campaign
            .add(fmt::format("n{}.wav", date), fmt::format("2026-03-{:02}T21:00:00Z", date), {.seconds = 9 * hour_s})
            .condition = "freight";
    }
    campaign.criterion("by-day", "day", {day});
    campaign.criterion("by-night", "night", {night});
    const MonitorReport report = report_of(campaign);
    ASSERT_THAT(report.series, SizeIs(2));
    EXPECT_EQ(report.series[0].condition, "traffic");
    for (const MonitorSeries& series : report.series) {
        ASSERT_THAT(series.periods, SizeIs(2));
        EXPECT_TRUE(series.periods[1].verdict.judged) << series.periods[1].verdict.why_not;
        EXPECT_FALSE(series.periods[1].coverage_percent) << "who says what it stands for need not cover it";
    }
    EXPECT_EQ(report.series[1].periods[0].measured_s, 9.0 * hour_s);
    EXPECT_EQ(report.series[1].periods[0].date, "2026-03-02");
}

// --- the clock ---

// Germany, 2026: on 29 March at 2:00 to 3:00, on 25 October at 3:00 back to 2:00 (directive 2000/84/EC).
TEST(Monitor, LosesAndDoublesNoSecondWhenTheClockChanges)
{
    for (const bool spring : {true, false}) {
        MadeCampaign campaign;
        const int change_day = spring ? 29 : 25, count = spring ? 3 * 24 - 1 : 3 * 24 + 1; // three days around
        int clock = 0;                                                                     // hours on the wall
        bool changed = false;
        for (int i = 0; i < count; ++i) {
            if (!changed && clock == 24 + (spring ? 2 : 3)) {
                clock += spring ? 1 : -1;
                changed = true;
            }
            const int offset = spring == changed ? 2 : 1;
            campaign.add(fmt::format("{:03}.wav", i),
                         fmt::format("2026-{}-{:02}T{:02}:00:00+{:02}:00", spring ? "03" : "10",
                                     change_day - 1 + clock / 24, clock % 24, offset),
                         {.rate_hz = 100.0});
            ++clock;
        }
        campaign.criterion("whole");
        campaign.criterion("by-night", "night", {night});
        const MonitorReport days = report_of(campaign);
        ASSERT_THAT(days.series.at(0).periods, SizeIs(3));
        EXPECT_EQ(days.series[0].periods[1].expected_s, (spring ? 23.0 : 25.0) * hour_s);
        double seconds = 0.0;
        for (const MonitoredPeriod& period : days.series[0].periods) {
            EXPECT_EQ(period.measured_s, *period.expected_s);
            seconds += period.measured_s;
        }
        EXPECT_EQ(seconds, static_cast<double>(count) * hour_s);
        const auto& nights = days.series.at(1).periods;
        ASSERT_THAT(nights, SizeIs(4)); // the end of one, two whole ones, the beginning of one
        EXPECT_EQ(nights[1].expected_s, (spring ? 7.0 : 9.0) * hour_s);
        EXPECT_EQ(nights[1].measured_s, *nights[1].expected_s);
        EXPECT_EQ(nights[2].expected_s, 8.0 * hour_s);

        campaign.options.by = MonitorBy::hour;
        const MonitorReport hours = report_of(campaign);
        ASSERT_THAT(hours.series.at(0).periods, SizeIs(count));
        std::vector<std::string> twos;
        for (const MonitoredPeriod& period : hours.series[0].periods) {
            EXPECT_EQ(period.measured_s, 1.0 * hour_s) << period.from;
            if (period.hour == "02:00" && period.date.ends_with(std::to_string(change_day)))
                twos.push_back(period.from);
        }
        if (spring)
            EXPECT_THAT(twos, SizeIs(0));
        else
            EXPECT_THAT(twos, ElementsAre("2026-10-25T02:00:00+02:00", "2026-10-25T02:00:00+01:00"));
    }
}

TEST(Monitor, KeepsEveryRowOfARecordingThatBeginsBetweenTwoSeconds)
{
    MadeCampaign campaign;
    campaign.add("three.wav", "2026-03-02T11:59:59.3Z", {.seconds = 3 * day_s});
    campaign.criterion("whole");
    double seconds = 0.0;
    const MonitorReport report = report_of(campaign);
    for (const MonitoredPeriod& period : report.series.at(0).periods) seconds += period.measured_s;
    EXPECT_EQ(seconds, 3.0 * day_s);
}

// --- what is refused ---

TEST(Monitor, AsksForTheStartOfARecording)
{
    MadeCampaign campaign;
    campaign.add("a.wav", "", {});
    campaign.criterion("whole");
    const auto refused = campaign.outcome();
    ASSERT_FALSE(refused);
    EXPECT_EQ(to_text(refused.error().at(0)),
              "survey.toml:7: a.wav: it is not known on which day it was recorded; add start = "
              "\"2026-05-02T10:00:00+02:00\" with its own date, time and offset");
    // Another place is judged all the same.
    campaign.survey.spaces.push_back({.id = "hall", .use = "residential"});
    campaign.add("b.wav", "2026-03-02T00:00:00Z", {}).space = "hall";
    const MonitorReport report = report_of(campaign);
    ASSERT_THAT(report.series, SizeIs(1));
    EXPECT_EQ(report.series[0].space, "hall");
    EXPECT_EQ(report.findings.at(0).code, "no-start");
}

TEST(Monitor, RefusesThePeriodsInWhichTwoRecordingsOverlap)
{
    MadeCampaign campaign;
    campaign.add("a.wav", "2026-03-02T00:00:00Z", {.seconds = day_s + 600}); // ten minutes too long
    campaign.add("b.wav", "2026-03-03T00:00:00Z", {.seconds = day_s});
    campaign.add("c.wav", "2026-03-03T23:59:59.5Z", {.seconds = day_s}); // half a second: a recorder's clock
    campaign.criterion("whole");
    const MonitorReport report = report_of(campaign);
    const auto& periods = report.series.at(0).periods;
    ASSERT_THAT(periods, SizeIs(3));
    EXPECT_TRUE(periods[0].verdict.judged);
    EXPECT_THAT(periods[1].verdict.why_not,
                HasSubstr("a.wav and b.wav were recorded at the same time, 600 s of axis z"));
    EXPECT_TRUE(periods[2].verdict.judged) << periods[2].verdict.why_not;
    EXPECT_LE(*periods[2].coverage_percent, 100.0);
    EXPECT_TRUE(std::ranges::any_of(report.findings, [](const Finding& one) { return one.code == "overlap"; }));
}

TEST(Monitor, AFaultSpoilsTheDayThatItLiesIn)
{
    MadeCampaign campaign;
    campaign.add("week.wav", "2026-03-02T00:00:00Z", {.seconds = 7 * day_s, .lost_sample = (3 * day_s + 100) * 1000});
    campaign.add("lost.wav", "2026-03-09T00:00:00Z", {.seconds = day_s});
    campaign.add("after.wav", "2026-03-10T00:00:00Z", {.seconds = day_s});
    campaign.recordings.erase("lost.wav");
    campaign.criterion("whole");
    const MonitorSeries series = report_of(campaign).series.at(0);
    ASSERT_THAT(series.periods, SizeIs(9));
    for (std::size_t i = 0; i < 9; ++i) EXPECT_EQ(series.periods[i].verdict.judged, i != 3 && i != 7) << i;
    EXPECT_THAT(series.periods[3].verdict.why_not, HasSubstr("samples that are not numbers"));
    EXPECT_THAT(series.periods[7].verdict.why_not, HasSubstr("there is no such file"));
}

TEST(Monitor, RefusesSpectraThatLieInRowsTooLong)
{
    // Rows of 840 s: those wholly inside tell of hours of a day, and of nothing in an hour.
    MadeCampaign campaign;
    campaign.library = shipped_library();
    campaign.add("two.wav", "2026-03-02T12:00:00Z", {.seconds = 2 * day_s});
    campaign.options.assess.criteria = {"iso2631-2-1989-day"};
    campaign.survey.conditions.push_back({.id = "c", .period = "day"});
    campaign.survey.recordings.back().condition = "c";
    campaign.survey.judges.push_back({.criteria = campaign.options.assess.criteria, .confirmed_by = "the test"});
    const auto without_spectra = campaign.options.assess.passes;
    campaign.options.assess.passes = [&](std::span<const PassRequest> requests) {
        auto results = without_spectra(requests);
        for (auto& result : results)
            for (ChannelResult& channel : result->channels) {
                ChannelSpectra spectra{.resolution_hz = 0.0625, .rate_hz = 1000.0};
                for (double from = 0.0; from + 840.0 <= 2.0 * day_s; from += 840.0)
                    spectra.rows.push_back({from, from + 848.0, 105, std::vector<float>(4001, 1e-6F)});
                channel.spectra = std::move(spectra);
            }
        return results;
    };
    const MonitorReport days = report_of(campaign);
    ASSERT_FALSE(days.series.empty());
    ASSERT_THAT(days.series[0].periods, SizeIs(3));
    EXPECT_TRUE(days.series[0].periods[1].verdict.judged) << days.series[0].periods[1].verdict.why_not;
    campaign.options.by = MonitorBy::hour;
    const MonitorReport hours = report_of(campaign);
    EXPECT_THAT(hours.series.at(0).periods.at(5).verdict.why_not, HasSubstr("its spectra are kept in rows of 848 s"));
}

} // namespace
} // namespace becalm::evaluators::tests
