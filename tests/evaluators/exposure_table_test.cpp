// Days of persons task by task, from recordings to the table. Expected values are those of the published guides where
// they print them, else computed from the definition.
#include <algorithm>
#include <cmath>

#include <gmock/gmock.h>

#include "evaluators/exposure_table.h"

#include "tests/evaluators/at_work.h"

namespace becalm::evaluators {
namespace {

using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::SizeIs;
using namespace tests;

constexpr const char* all_of_the_body =
    "\"directive-2002-44-ec-a8\", \"directive-2002-44-ec-vdv\", \"eu-guide-wbv-points\"";

Results<ExposureReport> outcome(Case& survey, const ExposureOptions& options = {})
{
    const auto read = io::read_survey(survey.written());
    if (!read) return tl::unexpected(read.error());
    return exposure_report(*read, shipped_library(), options);
}

ExposureReport report_of(Case& survey, const ExposureOptions& options = {})
{
    auto report = outcome(survey, options);
    if (report) return std::move(*report);
    for (const Problem& problem : report.error()) ADD_FAILURE() << to_text(problem);
    return {};
}

std::string day_of(const std::string& tasks, const std::string& person = "driver")
{
    return fmt::format("[[exposure]]\nperson = \"{}\"\ntasks = [ {} ]", person, tasks);
}

const TaskTime& time_of(const ExposureTask& task, const std::string& criterion, std::size_t bound)
{
    static const TaskTime none;
    for (const TaskTime& time : task.times)
        if (time.criterion == criterion && bound-- == 0) return time;
    ADD_FAILURE() << "no time by " << criterion;
    return none;
}

const DayVerdict& verdict_of(const ExposureDay& day, const std::string& criterion)
{
    static const DayVerdict none;
    for (const DayVerdict& one : day.verdicts)
        if (one.verdict.criterion == criterion) return one;
    ADD_FAILURE() << "no verdict by " << criterion;
    return none;
}

// Relative.
void expect_axes(const std::vector<ExposureAxis>& axes, std::optional<double> ExposureAxis::*value,
                 const std::vector<double>& expected, double within, const std::string& source)
{
    ASSERT_EQ(axes.size(), expected.size()) << source;
    for (std::size_t i = 0; i < expected.size(); ++i)
        EXPECT_NEAR((axes[i].*value).value_or(-1.0) / expected[i], 1.0, within)
            << fmt::format("axis {} ({})", axes[i].axis, source);
}

Case& forklift_and_lorry(Case& survey, double forklift_h = 1.0, double lorry_h = 6.0)
{
    vehicle(survey, "forklift", 0.5, 0.3, 0.9, "sensor = \"s\"");
    vehicle(survey, "lorry", 0.2, 0.3, 0.3, "sensor = \"s\"");
    return survey.table("[[sensor]]\nid = \"s\"\nuncertainty_percent = 3.0")
        .table(
            day_of(fmt::format("{{ space = \"forklift\", hours = {:.17f} }}, {{ space = \"lorry\", hours = {:.17f} }}",
                               forklift_h, lorry_h)));
}

TEST(ExposureTableOf, ForkliftAndLorryShowsWhatEachTaskAdds)
{
    Case survey("road");
    const ExposureReport report = report_of(forklift_and_lorry(survey).judge(all_of_the_body));
    ASSERT_THAT(report.days, SizeIs(1));
    const ExposureDay& day = report.days[0];
    EXPECT_EQ(day.hours, 7.0);
    ASSERT_THAT(day.tables, SizeIs(1));
    const ExposureTable& table = day.tables[0];
    ASSERT_THAT(table.tasks, SizeIs(2));
    const ExposureTask &forklift = table.tasks[0], &lorry = table.tasks[1];
    const std::string printed = fmt::format("{}, E.2, printed values from memory: two digits", wbv_guide);
    const auto near_printed = [&](const ExposureTask& task, const std::vector<double>& values) {
        for (std::size_t i = 0; i < values.size(); ++i)
            EXPECT_NEAR(*task.axes[i].a8, values[i], 0.005 + 0.0002) << printed;
    };
    near_printed(forklift, {0.25, 0.15, 0.32});
    near_printed(lorry, {0.24, 0.36, 0.26});
    const std::string exact = fmt::format("{}, E.2 and E.3: inputs read, digits {}", wbv_guide, definition);
    expect_axes(table.axes, &ExposureAxis::a8, {0.3465, 0.3929, 0.4108}, followed, exact);
    expect_axes(forklift.axes, &ExposureAxis::points, {24.5, 8.82, 40.5}, 2.0 * followed, exact);
    expect_axes(lorry.axes, &ExposureAxis::points, {23.52, 52.92, 27.0}, 2.0 * followed, exact);
    expect_axes(table.axes, &ExposureAxis::points, {48.02, 61.74, 67.5}, 2.0 * followed, exact);
    expect_axes(forklift.axes, &ExposureAxis::rms, {0.5, 0.3, 0.9}, followed, "as synthesised");
    EXPECT_EQ(forklift.axes[0].factor, 1.4) << "Directive 2002/44/EC, annex, part B";
    EXPECT_EQ(forklift.axes[2].factor, 1.0) << "Directive 2002/44/EC, annex, part B";
    EXPECT_NEAR(*lorry.magnitude.value / 0.42, 1.0, followed) << "1.4 x 0.3, " << definition;
    EXPECT_EQ(lorry.magnitude.axis, "y");
    EXPECT_EQ(table.sums.a8.axis, "z");
    // P_1h = 50 (k a_w)^2 (the guide, D.4).
    EXPECT_NEAR(*forklift.points_an_hour / (50.0 * 0.81), 1.0, 2.0 * followed) << wbv_guide << ", D.4";
    EXPECT_NEAR(*lorry.points_an_hour / (50.0 * 0.42 * 0.42), 1.0, 2.0 * followed) << wbv_guide << ", D.4";
    // A sensor's 3 % are those of each value; points go with the square.
    EXPECT_NEAR(*forklift.sums.a8.expanded_uncertainty / *forklift.sums.a8.value, 0.03, 1e-4);
    EXPECT_NEAR(*lorry.sums.points.expanded_uncertainty / *lorry.sums.points.value, 0.06, 1e-4);

    const Verdict& a8 = verdict_of(day, "directive-2002-44-ec-a8").verdict;
    const Assessment assessment = survey.assessment();
    EXPECT_EQ(a8.value, assessment.verdicts.front().value) << "as assess() has it";
    EXPECT_EQ(a8.expanded_uncertainty, assessment.verdicts.front().expanded_uncertainty);
    EXPECT_EQ(a8.value, table.sums.a8.value);
    EXPECT_EQ(verdict_of(day, "eu-guide-wbv-points").verdict.value, table.sums.points.value);
    EXPECT_EQ(verdict_of(day, "directive-2002-44-ec-vdv").verdict.value, table.sums.daily_vdv.value);
    EXPECT_TRUE(verdict_of(day, "directive-2002-44-ec-a8").asked_for);
    EXPECT_THAT(report.duties, IsEmpty());
    EXPECT_THAT(report.notes, IsEmpty());
}

TEST(ExposureTableOf, ForkliftAndLorryTellsHowLongEachMayLast)
{
    Case survey("road");
    const ExposureReport report = report_of(forklift_and_lorry(survey).judge(all_of_the_body));
    const ExposureDay& day = report.days.at(0);
    const ExposureTask &forklift = day.tables[0].tasks[0], &lorry = day.tables[0].tasks[1];
    const double within = 4.0 * followed; // times go with the square
    const char* a8 = "directive-2002-44-ec-a8";
    const auto near = [&](const std::optional<double>& got, double expected, const char* what) {
        EXPECT_NEAR(got.value_or(-1.0) / expected, 1.0, within) << what << ", " << definition;
    };
    // Alone: 8 h (0.5 / k a_w)^2 and 8 h (1.15 / k a_w)^2, the highest axis.
    near(time_of(forklift, a8, 0).alone_h, 8.0 * std::pow(0.5 / 0.9, 2), "forklift to the action value");
    near(time_of(forklift, a8, 1).alone_h, 8.0 * std::pow(1.15 / 0.9, 2), "forklift to the limit value");
    near(time_of(lorry, a8, 0).alone_h, 8.0 * std::pow(0.5 / 0.42, 2), "lorry to the action value");
    // Beside six hours of lorry: (8 h 0.5^2 - 6 h (k a)_lorry^2) / (k a)_forklift^2, the axis that is there first: z.
    near(time_of(forklift, a8, 0).beside_h, (2.0 - 6.0 * 0.09) / 0.81, "forklift beside the lorry");
    // Beside an hour of forklift: x (2 - 0.49) / 0.0784, y (2 - 0.1764) / 0.1764, z (2 - 0.81) / 0.09: y is first.
    near(time_of(lorry, a8, 0).beside_h, (2.0 - 0.1764) / 0.1764, "lorry beside the forklift");
    // Points know the same.
    near(time_of(forklift, "eu-guide-wbv-points", 0).beside_h, (2.0 - 6.0 * 0.09) / 0.81, "by points");
    // The whole day in its shares: 7 h (0.5 / A(8))^2.
    const DayVerdict& verdict = verdict_of(day, a8);
    ASSERT_THAT(verdict.times, SizeIs(2));
    near(verdict.times[0].hours, 7.0 * std::pow(0.5 / 0.4108, 2), "the whole day");

    // So long a forklift beside the lorry is the action value itself.
    Case longer("road");
    const ExposureReport reached =
        report_of(forklift_and_lorry(longer, *time_of(forklift, a8, 0).beside_h).judge(all_of_the_body));
    EXPECT_NEAR(*verdict_of(reached.days.at(0), a8).verdict.value, 0.5, 1e-9) << definition;
    // And so long by the dose, which grows with the fourth root: 9.1 m/s^1.75.
    const char* vdv = "directive-2002-44-ec-vdv";
    Case doses("road");
    const ExposureReport dose =
        report_of(forklift_and_lorry(doses, *time_of(forklift, vdv, 0).beside_h).judge(all_of_the_body));
    EXPECT_NEAR(*verdict_of(dose.days.at(0), vdv).verdict.value, 9.1, 1e-9) << definition;
}

TEST(ExposureTableOf, AHarvesterExceedsAndTheDutyToActIsSaid)
{
    Case survey("road");
    vehicle(survey, "harvester", 0.2, 0.4, 0.25);
    survey.table(day_of("{ space = \"harvester\", hours = 6.5 }"));
    const ExposureReport report = report_of(survey.judge(all_of_the_body));
    const ExposureTable& table = report.days.at(0).tables.at(0);
    expect_axes(table.tasks.at(0).axes, &ExposureAxis::a8, {0.2524, 0.5048, 0.2253}, followed + 2e-4,
                fmt::format("{}, E.1: inputs and method read, digits {}", wbv_guide, definition));
    const DayVerdict& a8 = verdict_of(report.days[0], "directive-2002-44-ec-a8");
    EXPECT_TRUE(a8.verdict.exceeded);
    EXPECT_EQ(a8.verdict.axis, "y");
    EXPECT_FALSE(table.sums.a8.expanded_uncertainty) << "no sensor is named";
    // One task: alone, beside nothing, and the whole day are the same: 8 h (0.5 / 0.56)^2 = 6 h 22 min (computed).
    const TaskTime& time = time_of(table.tasks[0], "directive-2002-44-ec-a8", 0);
    EXPECT_NEAR(*time.alone_h, 8.0 * std::pow(0.5 / 0.56, 2), 0.01) << definition;
    EXPECT_NEAR(*time.beside_h, *time.alone_h, 1e-9);
    EXPECT_NEAR(a8.times.at(0).hours, *time.alone_h, 1e-9);
    EXPECT_LT(*time.beside_h, 6.5) << "too long already";
    ASSERT_FALSE(report.duties.empty());
    EXPECT_THAT(report.duties[0].days, ElementsAre("driver: action value exceeded"));
    EXPECT_THAT(report.duties[0].words, HasSubstr("the employer has to act"));
    EXPECT_THAT(report.duties[0].words, HasSubstr("National law prevails"));
}

TEST(ExposureTableOf, ADoseIsThatOfTheHoursOfTheTask)
{
    // Motion that would give 3, 5 and 4 m/s^1.75 in two hours: 6.5 hours of it are 5.6, 9.4, 5.4 with k. Of a sine VDV
    // = a_w (3/2 T)^(1/4).
    const auto rms = [](double vdv) { return vdv / std::pow(1.5 * 2.0 * hour, 0.25); };
    Case survey("road");
    vehicle(survey, "quad", rms(3.0), rms(5.0), rms(4.0));
    survey.table(day_of("{ space = \"quad\", hours = 6.5 }"));
    const ExposureReport report = report_of(survey.judge(all_of_the_body));
    const ExposureTask& task = report.days.at(0).tables.at(0).tasks.at(0);
    const std::string source = fmt::format("{}, inputs from memory, rounded as printed; scaling: Italian national "
                                           "portal on physical agents",
                                           wbv_guide);
    const double printed[] = {5.6, 9.4, 5.4}, stated[] = {3.0, 5.0, 4.0};
    for (std::size_t i = 0; i < 3; ++i) {
        EXPECT_NEAR(*task.axes[i].daily_vdv, printed[i], 0.05 + 0.005) << source;
        EXPECT_NEAR(*task.axes[i].vdv, stated[i] * std::pow(*task.axes[i].judged_s / (2.0 * hour), 0.25), 0.002)
            << "over the judged duration, " << definition;
    }
    const Verdict& verdict = verdict_of(report.days[0], "directive-2002-44-ec-vdv").verdict;
    EXPECT_EQ(verdict.axis, "y");
    EXPECT_TRUE(verdict.exceeded) << "9.4 is above 9.1 (Directive 2002/44/EC, Article 3)";
    // Time to 9.1: 6.5 h (9.1 / 9.4)^4 with the value in full (computed from the definition).
    EXPECT_NEAR(*time_of(task, "directive-2002-44-ec-vdv", 0).alone_h,
                6.5 * std::pow(9.1 / *report.days[0].tables[0].sums.daily_vdv.value, 4), 1e-9);
}

// ---- hands ----

// The vector sum of a hand's three axes, 4 s of the filter's settling and a coarser sine aside.
constexpr double hand_followed = 1e-3;

Case& tool(Case& survey, const std::string& space, const std::string& hand, double total)
{
    // 0.48, 0.64 and 0.6 of it: the squares are one.
    return survey.recording(space + hand + ".wav", space, "1 = \"x\", 2 = \"y\", 3 = \"z\"",
                            {weighted_as(0.48 * total, WeightingId::Wh, 80.0, 4096, 9.0),
                             weighted_as(0.64 * total, WeightingId::Wh, 31.5, 4096, 9.0),
                             weighted_as(0.6 * total, WeightingId::Wh, 160.0, 4096, 9.0)},
                            "position = \"" + hand + "\"", 4096);
}

constexpr const char* all_of_hands = "\"directive-2002-44-ec-hav\", \"eu-guide-hav-points\"";

TEST(ExposureTableOf, OneToolIsTheGuidesExample)
{
    Case survey("building");
    survey.space("grinder", "tool");
    tool(survey, "grinder", "hand-left", 2.0);
    tool(survey, "grinder", "hand-right", 4.0);
    survey.table(day_of("{ space = \"grinder\", hours = 4.5 }", "fitter"));
    const ExposureReport report = report_of(survey.judge(all_of_hands));
    const ExposureDay& day = report.days.at(0);
    ASSERT_THAT(day.tables, SizeIs(2)) << "one a hand";
    const ExposureTable &left = day.tables[0], &right = day.tables[1];
    EXPECT_EQ(left.hand, "hand-left");
    EXPECT_FALSE(left.governs);
    EXPECT_TRUE(right.governs);
    EXPECT_NEAR(*right.sums.a8.value / 3.0, 1.0, hand_followed) << hav_guide << ", E.1: 4 m/s2 for 4.5 h";
    EXPECT_NEAR(*left.sums.a8.value / 1.5, 1.0, hand_followed) << definition;
    EXPECT_EQ(right.sums.a8.axis, "total");
    EXPECT_FALSE(right.tasks[0].axes[0].vdv) << "a dose is of the whole body";
    // 100 (4 / 2.5)^2 / 8 = 2 a^2 = 32 points an hour (computed from the action value), 144 in 4.5 h.
    EXPECT_NEAR(*right.tasks[0].points_an_hour / 32.0, 1.0, 2.0 * hand_followed) << definition;
    EXPECT_NEAR(*right.sums.points.value / 144.0, 1.0, 2.0 * hand_followed) << definition;
    const Verdict& verdict = verdict_of(day, "directive-2002-44-ec-hav").verdict;
    EXPECT_EQ(verdict.position, "hand-right");
    EXPECT_EQ(verdict.value, right.sums.a8.value);
    EXPECT_TRUE(verdict.exceeded) << "3 is above 2.5 m/s2 (Directive 2002/44/EC, Article 3)";
    // 8 h (2.5 / 4)^2 and 8 h (5 / 4)^2 (computed from the definition).
    EXPECT_NEAR(*time_of(right.tasks[0], "directive-2002-44-ec-hav", 0).alone_h, 3.125, 0.01);
    EXPECT_NEAR(*time_of(right.tasks[0], "directive-2002-44-ec-hav", 1).alone_h, 12.5, 0.03);
    EXPECT_THAT(report.duties.at(0).words, HasSubstr("Article 5"));
}

TEST(ExposureTableOf, ThreeToolsAreTheGuidesExample)
{
    Case survey("building");
    for (const auto& [space, total] : {std::pair("saw", 4.0), std::pair("drill", 3.0), std::pair("breaker", 20.0)}) {
        survey.space(space, "tool");
        tool(survey, space, "hand-right", total);
    }
    survey.table(day_of("{ space = \"saw\", hours = 2.5 }, { space = \"drill\", hours = 1.0 }, { space = \"breaker\", "
                        "hours = 0.25 }",
                        "gardener"));
    const ExposureReport report = report_of(survey.judge(all_of_hands));
    const ExposureTable& table = report.days.at(0).tables.at(0);
    const double printed[] = {2.2, 1.1, 3.5};
    for (const ExposureTask& task : table.tasks) ASSERT_EQ(task.why_not, "");
    ASSERT_THAT(table.tasks, SizeIs(3));
    for (std::size_t i = 0; i < 3; ++i)
        EXPECT_NEAR(*table.tasks[i].sums.a8.value, printed[i], 0.05) << hav_guide << ", E.2, from memory";
    EXPECT_NEAR(*table.sums.a8.value, 4.3, 0.05) << hav_guide << ", E.2, from memory";
    EXPECT_NEAR(*table.sums.a8.value / 4.316, 1.0, hand_followed) << definition;
    // 2 a^2 T: 80, 18 and 200 points (computed from the definition).
    EXPECT_NEAR(*table.tasks[0].sums.points.value / 80.0, 1.0, 2.0 * hand_followed);
    EXPECT_NEAR(*table.tasks[1].sums.points.value / 18.0, 1.0, 2.0 * hand_followed);
    EXPECT_NEAR(*table.tasks[2].sums.points.value / 200.0, 1.0, 2.0 * hand_followed);
    // The drill to the action value: saw and breaker are above it by themselves. To the limit value, 400 points: 400 -
    // 280 are left, at 18 an hour 6.67 h (computed).
    const TaskTime& action = time_of(table.tasks[1], "directive-2002-44-ec-hav", 0);
    EXPECT_TRUE(action.others_exceed);
    EXPECT_EQ(action.beside_h, 0.0);
    EXPECT_NEAR(*time_of(table.tasks[1], "directive-2002-44-ec-hav", 1).beside_h, 120.0 / 18.0, 0.05) << definition;
}

TEST(ExposureTableOf, MagnitudesOfEqualEnergyReachTheActionValueInTheirTime)
{
    // Danish guidance on hand-arm vibration: 2.5 m/s2 in 8 h equals 3.5 in 4 h, 5 in 2 h, 7 in 1 h, 10 in 0.5 h,
    // rounded as printed.
    for (const auto& [total, printed_h, half_unit] : {std::tuple(3.5, 4.0, 0.05), std::tuple(5.0, 2.0, 0.05),
                                                      std::tuple(7.0, 1.0, 0.5), std::tuple(10.0, 0.5, 0.05)}) {
        Case survey("building");
        survey.space("t", "tool");
        tool(survey, "t", "hand-left", total);
        const ExposureReport report =
            report_of(survey.table(day_of("{ space = \"t\", hours = 0.25 }")).judge(all_of_hands));
        const double got = *time_of(report.days.at(0).tables.at(0).tasks.at(0), "directive-2002-44-ec-hav", 0).alone_h;
        EXPECT_NEAR(got, 8.0 * std::pow(2.5 / total, 2), 4.0 * hand_followed * got) << definition;
        EXPECT_NEAR(2.5 * std::sqrt(8.0 / got), total, hand_followed * total);
        EXPECT_NEAR(total, 2.5 * std::sqrt(8.0 / printed_h), half_unit) << "as printed";
    }
}

TEST(ExposureTableOf, ATaskOfOneHandKeepsTheOtherHandOpen)
{
    Case survey("building");
    survey.space("saw", "tool").space("drill", "tool");
    tool(survey, "saw", "hand-left", 2.0);
    tool(survey, "saw", "hand-right", 3.0);
    tool(survey, "drill", "hand-right", 3.0);
    survey.table(day_of("{ space = \"saw\", hours = 1.0 }, { space = \"drill\", hours = 1.0 }"));
    const ExposureReport report = report_of(survey.judge(all_of_hands));
    const ExposureTable &left = report.days.at(0).tables.at(0), &right = report.days[0].tables.at(1);
    EXPECT_THAT(left.tasks.at(1).why_not, HasSubstr("was not recorded at the hand-left"));
    EXPECT_TRUE(left.tasks[0].sums.a8.value);
    EXPECT_FALSE(left.sums.a8.value);
    EXPECT_NEAR(*right.sums.a8.value / 1.5, 1.0, hand_followed) << "3 m/s2 for 2 h, " << definition;
    EXPECT_TRUE(right.governs);
    for (const DayVerdict& one : report.days[0].verdicts) EXPECT_FALSE(one.verdict.judged) << "a hand is not known";
}

// ---- days of both kinds, and days that cannot be judged ----

TEST(ExposureTableOf, ADayOfDrivingAndGrindingIsJudgedForBoth)
{
    Case survey("road");
    vehicle(survey, "lorry", 0.2, 0.3, 0.3);
    survey.space("grinder", "tool");
    tool(survey, "grinder", "hand-right", 4.0);
    survey.table(day_of("{ space = \"lorry\", hours = 6.0 }, { space = \"grinder\", hours = 1.0 }"));
    survey.judge(std::string(all_of_the_body) + ", " + all_of_hands);
    const ExposureReport report = report_of(survey);
    const ExposureDay& day = report.days.at(0);
    ASSERT_THAT(day.tables, SizeIs(2));
    EXPECT_THAT(day.tables[0].tasks, SizeIs(1));
    EXPECT_THAT(day.tables[0].notes, Contains(HasSubstr("grinder was recorded at the hands alone")));
    EXPECT_THAT(day.tables[1].notes, Contains(HasSubstr("lorry was recorded at the seat or floor alone")));
    ASSERT_THAT(day.verdicts, SizeIs(5));
    for (const DayVerdict& one : day.verdicts) EXPECT_TRUE(one.verdict.judged) << one.verdict.why_not;
    // The lorry's six hours alone: 0.42 sqrt(6/8) (computed from the definition).
    EXPECT_NEAR(*verdict_of(day, "directive-2002-44-ec-a8").verdict.value / (0.42 * std::sqrt(0.75)), 1.0, followed);
    EXPECT_NEAR(verdict_of(day, "directive-2002-44-ec-a8").times.at(0).hours, 8.0 * std::pow(0.5 / 0.42, 2), 0.03)
        << "hours of driving alone, " << definition;
    EXPECT_NEAR(verdict_of(day, "directive-2002-44-ec-hav").times.at(0).hours, 3.125, 0.01)
        << "hours of grinding alone: 8 h (2.5 / 4)^2, " << definition;
    const Assessment assessment = survey.assessment();
    for (const Verdict& verdict : assessment.verdicts) {
        EXPECT_EQ(verdict.value, verdict_of(day, verdict.criterion).verdict.value);
        EXPECT_THAT(verdict.notes, Contains(HasSubstr("adds nothing here")));
    }
}

TEST(ExposureTableOf, ATaskWithoutARecordingKeepsTheDayOpenAndTheOthersTold)
{
    Case survey("road");
    vehicle(survey, "forklift", 0.5, 0.3, 0.9);
    survey.space("tractor", "driver")
        .table(day_of("{ space = \"forklift\", hours = 1.0 }, { space = \"tractor\", hours = 2.0 }"));
    const ExposureReport report = report_of(survey.judge(all_of_the_body));
    const ExposureTable& table = report.days.at(0).tables.at(0);
    EXPECT_THAT(table.tasks.at(1).why_not, HasSubstr("the task at tractor (line"));
    EXPECT_THAT(table.tasks[1].why_not, HasSubstr("cannot be judged, because the task"));
    EXPECT_THAT(table.tasks[1].why_not, HasSubstr("record it, or take the task out"));
    EXPECT_TRUE(table.tasks[0].sums.a8.value);
    EXPECT_FALSE(table.sums.a8.value);
    EXPECT_THAT(table.axes, IsEmpty());
    const TaskTime& time = time_of(table.tasks[0], "directive-2002-44-ec-a8", 0);
    EXPECT_TRUE(time.alone_h);
    EXPECT_FALSE(time.beside_h);
    for (const DayVerdict& one : report.days[0].verdicts) {
        EXPECT_FALSE(one.verdict.judged);
        EXPECT_THAT(one.times, IsEmpty());
    }

    Case nothing("road");
    nothing.space("tractor", "driver").table(day_of("{ space = \"tractor\", hours = 2.0 }"));
    const ExposureReport empty = report_of(nothing.judge(all_of_the_body));
    ASSERT_THAT(empty.days.at(0).tables, SizeIs(1));
    EXPECT_THAT(empty.days[0].tables[0].tasks.at(0).why_not, HasSubstr("has no recording"));
    EXPECT_THAT(empty.days[0].verdicts, IsEmpty());
}

TEST(ExposureTableOf, AWholeDayAndNoMotionAreDaysToo)
{
    Case survey("road");
    vehicle(survey, "lorry", 0.2, 0.3, 0.3);
    const ExposureReport report =
        report_of(survey.table(day_of("{ space = \"lorry\", hours = 24.0 }")).judge(all_of_the_body));
    EXPECT_NEAR(*report.days.at(0).tables.at(0).sums.a8.value / (0.42 * std::sqrt(3.0)), 1.0, followed) << definition;
    Case longer("road");
    vehicle(longer, "lorry", 0.2, 0.3, 0.3);
    longer.table(day_of("{ space = \"lorry\", hours = 16.0 }, { space = \"lorry\", hours = 8.5 }"));
    const auto refused = outcome(longer.judge(all_of_the_body));
    ASSERT_FALSE(refused);
    EXPECT_THAT(to_text(refused.error().front()), HasSubstr("24.5 h together"));
}

TEST(ExposureTableOf, SeatValuesStandBesideTheTask)
{
    Case survey("road");
    vehicle(survey, "lorry", 0.2, 0.3, 0.3);
    const auto floor = [](double z) {
        return std::vector<Signal>{weighted_as(0.2, WeightingId::Wd, 1.0, 256, 125.0),
                                   weighted_as(0.3, WeightingId::Wd, 2.0, 256, 125.0),
                                   weighted_as(z, WeightingId::Wk, 5.0, 256, 125.0)};
    };
    survey.recording("floor.wav", "lorry", "1 = \"x\", 2 = \"y\", 3 = \"z\"", floor(0.5), "position = \"floor\"", 256)
        .table(day_of("{ space = \"lorry\", position = \"seat-pan\", hours = 6.0 }"));
    const ExposureReport report = report_of(survey.judge(all_of_the_body));
    const ExposureTask& task = report.days.at(0).tables.at(0).tasks.at(0);
    ASSERT_THAT(task.seat, SizeIs(2));
    EXPECT_EQ(task.seat[0].criterion, "iso10326-1-seat-rms");
    EXPECT_NEAR(*task.seat[0].percent / 60.0, 1.0, followed) << "0.3 over 0.5, " << definition;
    EXPECT_NEAR(*task.seat[1].percent / 60.0, 1.0, followed) << "doses of the same form, " << definition;
    for (const DayVerdict& one : report.days[0].verdicts) EXPECT_TRUE(one.asked_for);
}

// ---- what is asked for ----

TEST(ExposureTableOf, DaysThatNothingJudgesAreHeldAgainstTheDirectiveAndTheReportSaysSo)
{
    Case survey("road");
    forklift_and_lorry(survey).judge("\"iso2631-1-1997-comfort\"");
    const ExposureReport report = report_of(survey);
    EXPECT_THAT(report.notes, ElementsAre(HasSubstr("no criterion of the survey judges a day at driver (seat-pan): "
                                                    "Directive 2002/44/EC is taken")));
    ASSERT_THAT(report.days.at(0).verdicts, SizeIs(3));
    for (const DayVerdict& one : report.days[0].verdicts) {
        EXPECT_TRUE(one.verdict.judged);
        EXPECT_FALSE(one.asked_for);
    }
    // The values stay the same by whatever law the day is judged.
    const ExposureReport german =
        report_of(survey, {.assess = {.criteria = {"laermvibrationsarbschv-wbv-z", "laermvibrationsarbschv-wbv-xy"}}});
    EXPECT_THAT(german.notes, IsEmpty());
    ASSERT_THAT(german.days.at(0).verdicts, SizeIs(2));
    EXPECT_TRUE(german.days[0].verdicts[0].asked_for);
    EXPECT_EQ(german.days[0].tables[0].sums.a8.value, report.days[0].tables[0].sums.a8.value);
    // z alone: 0.3243 of the forklift beside the lorry's; the limit is 0.8 (LärmVibrationsArbSchV, section 9).
    EXPECT_EQ(time_of(german.days[0].tables[0].tasks[0], "laermvibrationsarbschv-wbv-z", 1).bound, 0.8);
}

TEST(ExposureTableOf, AWeekIsToldBesideItsDays)
{
    Case survey("road");
    vehicle(survey, "lorry", 0.3, 0.3, 1.0);
    for (const char* day : {"Monday", "Wednesday"})
        survey.table(fmt::format("[[exposure]]\nperson = \"driver\"\nday = \"{}\"\ntasks = [ {{ space = \"lorry\", "
                                 "hours = 10.0 }} ]",
                                 day));
    const ExposureReport report = report_of(survey.judge("\"uk-si-2005-1093-wbv\", \"uk-si-2005-1093-wbv-week\""));
    ASSERT_THAT(report.days, SizeIs(2));
    EXPECT_THAT(report.days[0].verdicts, SizeIs(1));
    ASSERT_THAT(report.weeks, SizeIs(1));
    EXPECT_NEAR(*report.weeks[0].verdict.value / std::sqrt(0.5), 1.0, followed)
        << "UK SI 2005/1093, schedule 2, digits computed";
}

TEST(ExposureTableOf, OnePersonAloneOrNobody)
{
    Case survey("road");
    vehicle(survey, "lorry", 0.2, 0.3, 0.3);
    survey.table(day_of("{ space = \"lorry\", hours = 6.0 }", "Водитель"))
        .table(day_of("{ space = \"lorry\", hours = 2.0 }", "運転手"))
        .judge(all_of_the_body);
    const ExposureReport report = report_of(survey, {.person = "運転手"});
    ASSERT_THAT(report.days, SizeIs(1));
    EXPECT_EQ(report.days[0].person, "運転手");
    EXPECT_EQ(report.days[0].hours, 2.0);
    const auto unknown = outcome(survey, {.person = "سائق"});
    ASSERT_FALSE(unknown);
    EXPECT_EQ(unknown.error().front().kind, ProblemKind::usage);
    EXPECT_THAT(unknown.error().front().remedy, HasSubstr("Водитель"));
    const auto comfort = outcome(survey, {.assess = {.criteria = {"iso2631-1-1997-comfort"}}});
    ASSERT_FALSE(comfort);
    EXPECT_THAT(comfort.error().front().what, HasSubstr("judges no working day"));
    Case nobody("road");
    vehicle(nobody, "lorry", 0.2, 0.3, 0.3);
    const auto none = outcome(nobody.judge(all_of_the_body));
    ASSERT_FALSE(none);
    EXPECT_THAT(none.error().front().remedy, HasSubstr("[[exposure]]"));
}

} // namespace
} // namespace becalm::evaluators
