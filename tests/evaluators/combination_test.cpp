// How values are combined over repeats, events, conditions of a period, hours of rest, tasks of a person, positions and
// groups of axes, and how a decision in two steps is reached. The criteria are made for the test; numbers are computed
// from the definitions: v = (sum v_i^p)^(1/p).
#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>

#include <gmock/gmock.h>

#include "evaluators/term_value.h"
#include "filters/weighting.h"

#include "tests/evaluators/case.h"

namespace becalm::evaluators {
namespace {

using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;
using namespace tests;

// The shipped criteria and one more.
io::CriteriaLibrary with(const std::string& id, const std::string& lines)
{
    io::CriteriaLibrary library = shipped_library();
    io::Bibliography bibliography;
    bibliography["test"].edition = "Test:2026";
    const auto criterion =
        io::parse_criterion("id = \"" + id + "\"\ntitle = \"T\"\nsource = \"test\"\nclause = \"1\"\n" +
                                "confirmed = \"from memory\"\n" + lines,
                            id + ".toml", bibliography);
    if (!criterion)
        for (const Problem& problem : criterion.error()) ADD_FAILURE() << to_text(problem);
    else
        library.criteria[id] = *criterion;
    return library;
}

constexpr double hz = 8.0;
const std::string rms =
    "quantity = \"weighted_rms\"\nunit = \"m/s2\"\naxes = \"highest\"\nweighting = { z = \"Wk\" }\n";

Signal shake(double amplitude, double seconds = 30.0) { return sine(amplitude, hz, 1000.0, seconds); }

double weighted(double amplitude)
{
    return amplitude / std::numbers::sqrt2 *
           std::abs(filters::analytic_response(WeightingId::Wk, Motion::acceleration, hz));
}

std::string condition(const std::string& id, const std::string& more)
{
    return "[[condition]]\nid = \"" + id + "\"\n" + more;
}

TEST(Combined, IsTheRootOfThePowers)
{
    // Constructed vector: 60 trains of VDV 0.03 and 10 of 0.05 are 0.0835 and, together, 0.1027 (computed from the
    // definition, bs6472-1-2008).
    const double trains = 0.03 * std::pow(60.0, 0.25), trucks = 0.05 * std::pow(10.0, 0.25);
    EXPECT_NEAR(trains, 0.0835, 5e-5);
    EXPECT_NEAR(combined(PartsRule::root_sum_quad, std::vector{trains, trucks}), 0.1027, 5e-5);
    EXPECT_NEAR(combined(PartsRule::root_sum_square, std::vector{3.0, 4.0}), 5.0, 1e-12);
    EXPECT_NEAR(combined(PartsRule::sum, std::vector{3.0, 4.0}), 7.0, 1e-12);
    EXPECT_NEAR(combined(PartsRule::highest, std::vector{3.0, 4.0}), 4.0, 1e-12);
}

TEST(Repeats, ArePooledAveragedOrTheGreatestGoverns)
{
    const auto judged = [&](const std::string& rule) {
        return Case("building")
            .space("room", "office")
            .recording("1.wav", "room", "1 = \"z\"", {shake(0.03)})
            .recording("2.wav", "room", "1 = \"z\"", {shake(0.04)})
            .judge("\"t\"")
            .verdict({}, with("t", rms + rule));
    };
    const double first = weighted(0.03), second = weighted(0.04);
    EXPECT_NEAR(*judged("").value, std::sqrt((first * first + second * second) / 2.0), 2e-3 * second);
    EXPECT_NEAR(*judged("repeats = \"mean\"").value, (first + second) / 2.0, 2e-3 * second);
    const Verdict highest = judged("repeats = \"highest\"");
    EXPECT_NEAR(*highest.value, second, 2e-3 * second);
    EXPECT_THAT(highest.notes, Contains(HasSubstr("greatest of 2 recordings")));
}

TEST(Events, OfALongRecordingAreJudgedOneByOne)
{
    // Quiet but for two passages at 20 s and 60 s; each is an event, and a dose adds their fourth powers.
    Signal signal = shake(1e-6, 100.0);
    for (std::size_t i = 0; i < 10000; ++i) {
        const double gate = std::pow(std::sin(std::numbers::pi * static_cast<double>(i) / 10000.0), 2);
        signal[20000 + i] += 0.1 * gate * std::sin(2.0 * std::numbers::pi * hz * static_cast<double>(i) / 1000.0);
        signal[60000 + i] += 2.0 * signal[20000 + i];
    }
    std::fill(signal.begin() + 45000, signal.begin() + 48000, 0.0); // a drop-out between them spoils nothing
    const auto library =
        with("t", "quantity = \"vdv\"\nunit = \"m/s^1.75\"\naxes = \"highest\"\nweighting = { z = \"Wk\" }\n");
    const auto judged = [&](const std::string& events) {
        return Case("building")
            .space("room", "office")
            .recording("1.wav", "room", "1 = \"z\"", {signal}, "events = [ " + events + " ]")
            .judge("\"t\"")
            .verdict({}, library);
    };
    const Verdict first = judged("{ from_s = 19.5, to_s = 31.2 }");
    const Verdict second = judged("{ from_s = 59.0, to_s = 72.0 }");
    const Verdict both = judged("{ from_s = 19.5, to_s = 31.2 }, { from_s = 59.0, to_s = 72.0 }");
    ASSERT_TRUE(both.judged) << both.why_not;
    EXPECT_NEAR(*second.value / *first.value, 2.0, 1e-4);
    EXPECT_NEAR(*both.value, std::pow(std::pow(*first.value, 4) + std::pow(*second.value, 4), 0.25), 1e-9);
    EXPECT_THAT(both.notes, Contains(HasSubstr("2 events in the period like the 2 recorded")));
}

TEST(Events, ThatLieOutsideTheRecordingLeaveNothing)
{
    const Verdict verdict =
        Case("building")
            .space("room", "office")
            .recording("1.wav", "room", "1 = \"z\"", {shake(0.03)}, "events = [ { from_s = 40.0, to_s = 50.0 } ]")
            .judge("\"t\"")
            .verdict({}, with("t", rms));
    EXPECT_FALSE(verdict.judged);
    EXPECT_THAT(verdict.why_not, HasSubstr("nothing is left"));
}

const std::string daily =
    "quantity = \"daily_exposure\"\nunit = \"m/s2\"\naxes = \"highest\"\nweighting = { z = \"Wk\" }\n"
    "reference_h = 8.0\nconditions = \"root_sum_square\"\n";

TEST(Conditions, OfOneDayAddUpBySquares)
{
    // A(8)^2 = a1^2 4/8 + a2^2 2/8 (directive-2002-44-ec, annex); computed from the definition.
    Case cab("road");
    cab.space("cab", "vehicle")
        .table(condition("loaded", "exposure_h = 4.0"))
        .table(condition("empty", "exposure_h = 2.0"))
        .recording("1.wav", "cab", "1 = \"z\"", {shake(0.6)}, "condition = \"loaded\"")
        .recording("2.wav", "cab", "1 = \"z\"", {shake(1.0)}, "condition = \"empty\"")
        .judge("\"t\"");
    const Verdict verdict = cab.verdict({}, with("t", daily));
    ASSERT_TRUE(verdict.judged) << verdict.why_not;
    const double first = weighted(0.6) * std::sqrt(0.5), second = weighted(1.0) * std::sqrt(0.25);
    EXPECT_NEAR(*verdict.value, std::hypot(first, second), 2e-3);
    EXPECT_EQ(verdict.condition, "loaded + empty");
    EXPECT_THAT(verdict.recordings, ElementsAre("1.wav", "2.wav"));
    ASSERT_EQ(verdict.terms[0].parts.size(), 2U);
    EXPECT_NEAR(verdict.terms[0].parts[1].value, second, 2e-3);
    EXPECT_EQ(verdict.terms[0].parts[1].condition, "empty");
    EXPECT_EQ(*verdict.terms[0].parts[1].exposed_h, 2.0);
}

TEST(Conditions, ThatDoNotSayHowLongTheyLastStandAlone)
{
    Case flat("building");
    flat.space("flat", "residential")
        .table(condition("trains", "period = \"day\"\nevents = 60"))
        .table(condition("trucks", "period = \"day\"\nexposure_h = 1.0"))
        .table(condition("quiet", "period = \"day\""))
        .recording("1.wav", "flat", "1 = \"z\"", {shake(0.02)}, "condition = \"trains\"")
        .recording("2.wav", "flat", "1 = \"z\"", {shake(0.01)}, "condition = \"quiet\"")
        .recording("3.wav", "flat", "1 = \"z\"", {shake(0.03)}, "condition = \"trucks\"")
        .judge("\"t\"");
    const Assessment assessment = flat.assessment(
        {}, with("t", "quantity = \"vdv\"\nunit = \"m/s^1.75\"\naxes = \"highest\"\nweighting = { z = \"Wb\" }\n"
                      "period = \"day\"\nreference_h = 16.0\nconditions = \"root_sum_quad\"\n"));
    ASSERT_EQ(assessment.verdicts.size(), 2U);
    EXPECT_EQ(assessment.verdicts[0].condition, "trains + trucks");
    EXPECT_EQ(assessment.verdicts[1].condition, "quiet");
    const auto& parts = assessment.verdicts[0].terms[0].parts;
    ASSERT_EQ(parts.size(), 2U);
    EXPECT_NEAR(*assessment.verdicts[0].value,
                std::pow(std::pow(parts[0].value, 4) + std::pow(parts[1].value, 4), 0.25), 1e-12);
}

TEST(Clock, DividesARecordingIntoItsPeriods)
{
    // 06:59:00 to 07:02:00: one minute of night at 0.01, two of day at 0.04.
    Signal signal = shake(0.01, 180.0);
    for (std::size_t i = 60000; i < signal.size(); ++i) signal[i] *= 4.0;
    const auto judged = [&](const std::string& period, const std::string& hours, const std::string& start) {
        return Case("building")
            .space("flat", "residential")
            .recording("1.wav", "flat", "1 = \"z\"", {signal}, start)
            .judge("\"t\"")
            .verdict({}, with("t", rms + "period = \"" + period + "\"\nhours = [ \"" + hours + "\" ]\n"));
    };
    const std::string start = "start = 2026-05-04T06:59:00+02:00";
    const Verdict day = judged("day", "07:00-23:00", start), night = judged("night", "23:00-07:00", start);
    ASSERT_TRUE(day.judged && night.judged) << day.why_not << night.why_not;
    EXPECT_NEAR(*day.value, weighted(0.04), 1e-3 * weighted(0.04));
    EXPECT_NEAR(*night.value, weighted(0.01), 1e-3 * weighted(0.04));
    EXPECT_THAT(day.notes, Contains(HasSubstr("by the clock: 120 s lie in the day")));
    EXPECT_THAT(judged("evening", "19:00-23:00", start).why_not,
                HasSubstr("no recording of this place stands for the evening"));
    EXPECT_THAT(judged("day", "07:00-23:00", "").why_not,
                HasSubstr("add period = \"day\" to its condition, or start = ... to the recording"));
}

TEST(Rest, CountsByItsFactorWhetherStatedOrByTheClock)
{
    // sqrt((T_1 v_1^2 + 2 T_2 v_2^2) / T_r): 4 h at v and 2 h of rest at v are v sqrt((4 + 2 x 2) / 16)
    // (din4150-2-1999, from memory; computed from the definition).
    const std::string text =
        "quantity = \"daily_exposure\"\nunit = \"m/s2\"\naxes = \"highest\"\nweighting = { z = \"Wk\" }\n"
        "reference_h = 16.0\nconditions = \"root_sum_square\"\nperiod = \"day\"\nhours = [ \"06:00-22:00\" ]\n"
        "rest = { factor = 2.0, hours = [ \"06:00-07:00\", \"19:00-22:00\" ], sunday_hours = [ \"06:00-22:00\" ] }\n";
    Case stated("building");
    stated.space("flat", "residential")
        .table(condition("work", "period = \"day\"\nexposure_h = 4.0"))
        .table(condition("rest", "period = \"rest\"\nexposure_h = 2.0"))
        .recording("1.wav", "flat", "1 = \"z\"", {shake(0.02)}, "condition = \"work\"")
        .recording("2.wav", "flat", "1 = \"z\"", {shake(0.02)}, "condition = \"rest\"")
        .judge("\"t\"");
    const Verdict by_condition = stated.verdict({}, with("t", text));
    ASSERT_TRUE(by_condition.judged) << by_condition.why_not;
    EXPECT_NEAR(*by_condition.value, weighted(0.02) * std::sqrt(0.5), 1e-4);

    // Monday 18:59:30 to 19:00:30, half a minute in each; they stand for the 12 h of work and the 4 h of rest.
    const Verdict by_clock =
        Case("building")
            .space("flat", "residential")
            .recording("1.wav", "flat", "1 = \"z\"", {shake(0.02, 60.0)}, "start = 2026-05-04T18:59:30Z")
            .judge("\"t\"")
            .verdict({}, with("t", text));
    ASSERT_TRUE(by_clock.judged) << by_clock.why_not;
    EXPECT_NEAR(*by_clock.value, weighted(0.02) * std::sqrt((12.0 + 2.0 * 4.0) / 16.0), 1e-4);
    ASSERT_EQ(by_clock.terms[0].parts.size(), 2U);
    EXPECT_TRUE(by_clock.terms[0].parts[1].rest);
}

TEST(Persons, AreJudgedByTheirTasks)
{
    Case day("road");
    day.space("lorry", "vehicle")
        .space("truck", "vehicle")
        .recording("1.wav", "lorry", "1 = \"z\"", {shake(0.6)}, "position = \"seat-pan\"")
        .recording("2.wav", "truck", "1 = \"z\"", {shake(1.0)}, "position = \"seat-pan\"")
        .table("[[exposure]]\nperson = \"A\"\ntasks = [ { space = \"lorry\", hours = 6.0 }, { space = \"truck\", hours "
               "= 1.0 } ]")
        .table("[[exposure]]\nperson = \"B\"\ntasks = [ { space = \"lorry\", hours = 2.0 } ]")
        .judge("\"t\"");
    const Assessment assessment = day.assessment({}, with("t", daily));
    ASSERT_EQ(assessment.verdicts.size(), 2U) << "no verdict of the vehicles apart: the persons' tasks say how long";
    const Verdict& first = assessment.verdicts[0];
    ASSERT_TRUE(first.judged) << first.why_not;
    EXPECT_EQ(first.person, "A");
    EXPECT_EQ(first.space, "");
    EXPECT_NEAR(*first.value, std::hypot(weighted(0.6) * std::sqrt(6.0 / 8.0), weighted(1.0) * std::sqrt(1.0 / 8.0)),
                2e-3);
    EXPECT_NEAR(*assessment.verdicts[1].value, weighted(0.6) * 0.5, 2e-3);
    EXPECT_THAT(first.terms[0].parts, testing::SizeIs(2));
    EXPECT_EQ(first.terms[0].parts[0].space, "lorry");
}

TEST(Persons, HaveAWeekWhereTheCriterionRefersToOne)
{
    // Two days of 4 h at a: a sqrt((4 + 4) / 40) over the week of five days; each day apart a sqrt(4 / 8).
    Case week("road");
    week.space("lorry", "vehicle").recording("1.wav", "lorry", "1 = \"z\"", {shake(0.6)});
    for (const auto* day : {"Monday", "Tuesday"})
        week.table(std::string("[[exposure]]\nperson = \"A\"\nday = \"") + day +
                   "\"\ntasks = [ { space = \"lorry\", hours = 4.0 } ]");
    week.judge("\"t\"");
    std::string weekly = daily;
    weekly.replace(weekly.find("8.0"), 3, "40.0");
    const Verdict one = week.verdict({}, with("t", weekly));
    EXPECT_NEAR(*one.value, weighted(0.6) * std::sqrt(8.0 / 40.0), 1e-3);
    EXPECT_EQ(one.condition, "Monday + Tuesday");
    const Assessment days = week.assessment({}, with("t", daily));
    ASSERT_EQ(days.verdicts.size(), 2U);
    EXPECT_EQ(days.verdicts[1].condition, "Tuesday");
    EXPECT_NEAR(*days.verdicts[1].value, weighted(0.6) * std::sqrt(0.5), 1e-3);
}

TEST(Persons, ATaskWithoutARecordingCannotBeJudged)
{
    Case day("road");
    day.space("lorry", "vehicle")
        .space("truck", "vehicle")
        .recording("1.wav", "lorry", "1 = \"z\"", {shake(0.6)})
        .table("[[exposure]]\nperson = \"A\"\ntasks = [ { space = \"lorry\", hours = 6.0 }, { space = \"truck\", hours "
               "= 1.0 } ]")
        .judge("\"t\"");
    EXPECT_THAT(day.verdict({}, with("t", daily)).why_not, HasSubstr("the task at truck"));
}

TEST(Positions, TheGreaterHandGoverns)
{
    const Verdict verdict = Case("road")
                                .space("grinder", "tool")
                                .recording("1.wav", "grinder", "1 = \"z\"", {shake(0.6)}, "position = \"hand-left\"")
                                .recording("2.wav", "grinder", "1 = \"z\"", {shake(0.9)}, "position = \"hand-right\"")
                                .judge("\"t\"")
                                .verdict({}, with("t", rms + "highest_position = true\n"));
    ASSERT_TRUE(verdict.judged) << verdict.why_not;
    EXPECT_NEAR(*verdict.value, weighted(0.9), 2e-3);
    EXPECT_EQ(verdict.position, "hand-right");
    EXPECT_THAT(verdict.notes, Contains(HasSubstr("the greatest position governs: hand-left")));
}

TEST(Ratio, IsOfTheFirstGroupOverTheSecondInPerCent)
{
    const std::string seat = "quantity = \"weighted_rms\"\nunit = \"m/s2\"\naxes = \"ratio\"\n"
                             "[[term]]\naxis = \"z\"\nposition = \"seat-pan\"\nweighting = \"Wk\"\ngroup = 1\n"
                             "[[term]]\naxis = \"z\"\nposition = \"floor\"\nweighting = \"Wk\"\ngroup = 2\n";
    Case cab("road");
    cab.space("cab", "vehicle")
        .recording("1.wav", "cab", "1 = \"z\"", {shake(0.4)}, "position = \"seat-pan\"")
        .recording("2.wav", "cab", "1 = \"z\"", {shake(0.5)}, "position = \"floor\"")
        .judge("\"t\"");
    EXPECT_NEAR(*cab.verdict({}, with("t", seat)).value, 80.0, 1e-3);
}

// The greatest value (peak) and the average (r.m.s.) of a sine 1.0 are 0.95 and 0.67 or so under Wk at 8 Hz; the limits
// are laid around them.
TEST(Decision, IsReachedByTheGreatestValueOrTheAverage)
{
    const auto judged = [&](double lower, double upper, double average, const std::string& more = "") {
        return Case("building")
            .space("flat", "residential")
            .table(condition("c", "events = 3"))
            .recording("1.wav", "flat", "1 = \"z\"", {shake(1.0)}, "condition = \"c\"")
            .judge("\"t\"")
            .verdict(
                {},
                with("t", fmt::format(
                              "quantity = \"peak\"\nunit = \"m/s2\"\naxes = \"highest\"\nweighting = {{ z = \"Wk\" }}\n"
                              "decision = {{ average_quantity = \"weighted_rms\"{} }}\n[[scale]]\nuse = \"any\"\n"
                              "lower = {}\nupper = {}\naverage = {}\n",
                              more, lower, upper, average)));
    };
    const Verdict met = judged(1.5, 3.0, 0.1);
    EXPECT_EQ(met.band_index, 0);
    EXPECT_FALSE(met.decision->value) << "the average is not looked at";
    const Verdict by_average = judged(0.5, 3.0, 0.9);
    EXPECT_EQ(by_average.band_index, 1);
    EXPECT_NEAR(*by_average.decision->value, weighted(1.0), 2e-3);
    EXPECT_FALSE(by_average.exceeded);
    const Verdict not_met = judged(0.5, 3.0, 0.3);
    EXPECT_EQ(not_met.band_index, 2);
    EXPECT_TRUE(not_met.exceeded);
    EXPECT_THAT(not_met.decision->words, HasSubstr("the average over the period decides"));
    EXPECT_EQ(judged(0.1, 0.5, 0.9).band_index, 2) << "above the upper limit no average helps";
    EXPECT_EQ(judged(0.5, 3.0, 0.3, ", rare_events = 3").band_index, 0) << "three events a day are rare";
    EXPECT_EQ(judged(0.5, 3.0, 0.3, ", rare_events = 2").band_index, 2);
}

} // namespace
} // namespace becalm::evaluators
