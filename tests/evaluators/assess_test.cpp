// Whole judgements of small surveys. Recordings are made here, so that what they come to is known: a sine of amplitude
// a and frequency f is weighted to |H(f)| a / sqrt(2). Where a value has another source, its line says so.
#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>
#include <set>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <gmock/gmock.h>

#include "evaluators/assess.h"
#include "evaluators/pass.h"
#include "filters/quantities.h"
#include "filters/weighting.h"
#include "src/io/file_hash.h"
#include "src/io/survey_file.h"

#include "tests/evaluators/case.h"

namespace becalm::evaluators {
namespace {

using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::SizeIs;
using namespace tests;
using enum WeightingId;

constexpr double root_half = 1.0 / std::numbers::sqrt2;
// The filters follow the definition to 1e-4; whole seconds hold whole periods of every frequency used here.
constexpr double filter_tolerance = 2e-4;

double gain(WeightingId id, double hz) { return std::abs(filters::analytic_response(id, Motion::acceleration, hz)); }

std::string complaints(const Results<Assessment>& result)
{
    std::string text = result ? "no complaint" : "";
    if (!result)
        for (const Problem& problem : result.error()) text += to_text(problem) + "\n";
    return text;
}

std::string band_of(const Verdict& verdict)
{
    return verdict.band_index ? verdict.bands[static_cast<std::size_t>(*verdict.band_index)].name : "none";
}

std::vector<std::string> codes(const Assessment& assessment, Severity severity)
{
    std::vector<std::string> codes;
    for (const Finding& finding : assessment.findings)
        if (finding.severity == severity) codes.push_back(finding.code);
    return codes;
}

Signal tone(double amplitude, double hz, double duration_s, double rate_hz = 1000.0)
{
    return sine(amplitude, hz, rate_hz, duration_s);
}

// ---- vectors ----

TEST(Vectors, AVelocityOfSixHertzInACabin)
{
    // V1, computed from the definition of Wm: a 6 Hz sine of 4 mm/s peak velocity is 73.3 mm/s2 weighted.
    const Verdict verdict =
        Case("vessel")
            .space("cabin", "passenger-cabin")
            .recording("cabin.wav", "cabin", "1 = \"z\"", {tone(4.0, 6.0, 120.0)}, "unit = \"mm/s\"")
            .judge("\"iso6954-2000\"")
            .verdict();
    ASSERT_TRUE(verdict.judged) << verdict.why_not;
    EXPECT_NEAR(*verdict.value, 0.0733, 0.00005) << "computed from the definition, digits given";
    EXPECT_NEAR(*verdict.value / (gain(Wm, 6.0) * 2.0 * std::numbers::pi * 6.0 * 4e-3 * root_half), 1.0,
                filter_tolerance);
    EXPECT_EQ(verdict.unit, "m/s2");
    EXPECT_EQ(verdict.weighting, "Wm");
    EXPECT_EQ(verdict.axis, "z");
    EXPECT_EQ(band_of(verdict), "between the two values");
    EXPECT_FALSE(verdict.exceeded);
    EXPECT_EQ(verdict.edition, "ISO 6954:2000");
    EXPECT_EQ(verdict.clause, "Table 1");
    EXPECT_EQ(verdict.use, "passenger-cabin");
}

TEST(Vectors, AWeightedDoseOfMotionSickness)
{
    // V2: 0.5 m/s2 weighted by Wf, for 2 h, is an MSDV of 42.43 m/s^1.5 (computed from iso2631-1-1997 D.1.2). No
    // shipped criterion asks for it, so one is written.
    const auto criterion =
        io::parse_criterion(R"(id = "msdv"
title = "Motion sickness dose"
source = "iso2631-1-1997"
clause = "D.1.2"
quantity = "msdv"
unit = "m/s^1.5"
axes = "vertical"
weighting = "Wf"
confirmed = "computed from the definition"
)",
                            "msdv.toml", io::read_sources(std::string(BECALM_PROJECT) + "/data/sources.toml").value());
    ASSERT_TRUE(criterion) << to_text(criterion.error()[0]);
    io::CriteriaLibrary library;
    library.criteria["msdv"] = *criterion;
    const double amplitude = 0.5 / (gain(Wf, 0.2) * root_half);
    const Verdict verdict =
        Case("vessel")
            .space("deck", "lounge")
            .table("[[condition]]\nid = \"sea\"\nexposure_h = 2.0")
            .recording("deck.wav", "deck", "1 = \"z\"", {tone(amplitude, 0.2, 1225.0, 10.0)}, "condition = \"sea\"", 10)
            .judge("\"msdv\"")
            .verdict({}, library);
    ASSERT_TRUE(verdict.judged) << verdict.why_not;
    EXPECT_NEAR(*verdict.value, 42.43, 0.01);
    EXPECT_NEAR(*verdict.value / 3.0, 14.1, 0.05) << "one third of it";
}

TEST(Vectors, ThreeLevelsInAPassengerCabin)
{
    // V3: 71.4, 72 and 143.5 mm/s2 lie below the lower value, between, above the upper (iso6954-2000, from memory).
    for (const auto& [level, band, exceeded] :
         {std::tuple(0.0714, "adverse comments not probable", false),
          std::tuple(0.0720, "between the two values", false), std::tuple(0.1435, "adverse comments probable", true)}) {
        const double amplitude = level / (gain(Wm, 7.0) * root_half);
        const Verdict verdict = Case("vessel")
                                    .space("cabin", "passenger-cabin")
                                    .recording("a.wav", "cabin", "1 = \"z\"", {tone(amplitude, 7.0, 123.0)})
                                    .judge("\"iso6954-2000\"")
                                    .verdict();
        EXPECT_NEAR(*verdict.value, level, filter_tolerance * level);
        EXPECT_EQ(band_of(verdict), band) << level;
        EXPECT_EQ(verdict.exceeded, exceeded) << level;
    }
}

// ---- axes ----

std::vector<Signal> three_axes() { return {tone(0.02, 5.0, 100.0), tone(0.03, 8.0, 100.0), tone(0.05, 10.0, 100.0)}; }

TEST(Assess, LetsTheHighestAxisGovern)
{
    const Verdict verdict = Case("vessel")
                                .space("s", "crew-accommodation")
                                .recording("a.wav", "s", "1 = \"x\", 2 = \"y\", 3 = \"z\"", three_axes())
                                .judge("\"iso6954-2000\"")
                                .verdict();
    ASSERT_TRUE(verdict.judged) << verdict.why_not;
    ASSERT_THAT(verdict.terms, SizeIs(3));
    const double expected[] = {gain(Wm, 5.0) * 0.02, gain(Wm, 8.0) * 0.03, gain(Wm, 10.0) * 0.05};
    for (std::size_t i = 0; i < 3; ++i)
        EXPECT_NEAR(*verdict.terms[i].value / (expected[i] * root_half), 1.0, filter_tolerance) << i;
    EXPECT_EQ(verdict.axis, "z");
    EXPECT_DOUBLE_EQ(*verdict.value, *verdict.terms[2].value);
    EXPECT_DOUBLE_EQ(verdict.terms[0].duration_s, 97.0) << "3 s run-in of Wm: 2 / 0.794 s, whole seconds";
    EXPECT_THAT(verdict.notes, Contains(HasSubstr("the first 3 s are left out")));
}

TEST(Assess, FormsATotalOverTheAxes)
{
    const Verdict verdict =
        Case("rail")
            .space("coach", "saloon")
            .recording("a.wav", "coach", "1 = \"x\", 2 = \"y\", 3 = \"z\"", three_axes(), "position = \"seat-pan\"")
            .judge("\"iso2631-1-1997-comfort\"")
            .verdict();
    ASSERT_TRUE(verdict.judged) << verdict.why_not;
    const double x = gain(Wd, 5.0) * 0.02, y = gain(Wd, 8.0) * 0.03, z = gain(Wk, 10.0) * 0.05;
    EXPECT_NEAR(*verdict.value / (root_half * std::hypot(x, y, z)), 1.0, filter_tolerance);
    EXPECT_EQ(verdict.axis, "total");
    EXPECT_EQ(verdict.weighting, "Wd+Wk");
    EXPECT_EQ(verdict.position, "seat-pan");
}

TEST(Assess, TakesAxesFromDifferentFiles)
{
    const auto axes = three_axes();
    const Assessment together = Case("vessel")
                                    .space("s", "crew-accommodation")
                                    .recording("a.wav", "s", "1 = \"x\", 2 = \"y\", 3 = \"z\"", axes)
                                    .judge("\"iso6954-2000\"")
                                    .assessment();
    const Assessment apart = Case("vessel")
                                 .space("s", "crew-accommodation")
                                 .recording("x.wav", "s", "1 = \"x\"", {axes[0]})
                                 .recording("zy.wav", "s", "1 = \"z\", 2 = \"y\"", {axes[2], axes[1]})
                                 .judge("\"iso6954-2000\"")
                                 .assessment();
    ASSERT_THAT(apart.verdicts, SizeIs(1));
    for (std::size_t i = 0; i < 3; ++i)
        EXPECT_EQ(*apart.verdicts[0].terms[i].value, *together.verdicts[0].terms[i].value) << i;
    EXPECT_THAT(apart.verdicts[0].recordings, ElementsAre("x.wav", "zy.wav"));
    EXPECT_THAT(apart.verdicts[0].terms[2].recordings, ElementsAre("zy.wav"));
}

TEST(Assess, CannotJudgeWithoutANeededAxis)
{
    const Verdict verdict = Case("vessel")
                                .space("s", "crew-accommodation")
                                .recording("a.wav", "s", "1 = \"x\"", {tone(0.02, 5.0, 100.0)})
                                .judge("\"iso6954-2000\"")
                                .verdict();
    EXPECT_FALSE(verdict.judged);
    EXPECT_THAT(verdict.why_not, HasSubstr("cannot be judged, because the axis z is missing"));
    EXPECT_FALSE(verdict.value.has_value());
    EXPECT_FALSE(verdict.band_index.has_value());
    EXPECT_FALSE(verdict.exceeded);
}

TEST(Assess, SaysWhichWishedAxisIsMissing)
{
    const Assessment result = Case("vessel")
                                  .space("s", "crew-accommodation")
                                  .recording("a.wav", "s", "1 = \"z\"", {tone(0.02, 5.0, 100.0)})
                                  .judge("\"iso6954-2000\"")
                                  .assessment();
    EXPECT_TRUE(result.verdicts[0].judged);
    EXPECT_THAT(result.verdicts[0].notes, Contains(HasSubstr("not measured here: axis x, y")));
    EXPECT_THAT(codes(result, Severity::caution), Contains("missing-axis"));
}

TEST(Assess, ReportsEachAxisWhereNoLimitsAreSet)
{
    const Assessment result = Case("building")
                                  .space("room", "office")
                                  .recording("a.wav", "room", "1 = \"x\", 3 = \"z\"", three_axes())
                                  .judge("\"iso2631-2-2003\"")
                                  .assessment();
    ASSERT_THAT(result.verdicts, SizeIs(2));
    EXPECT_EQ(result.verdicts[0].axis, "x");
    EXPECT_EQ(result.verdicts[1].axis, "z");
    for (const Verdict& verdict : result.verdicts) {
        EXPECT_TRUE(verdict.judged);
        EXPECT_FALSE(verdict.band_index.has_value());
        EXPECT_FALSE(verdict.exceeded);
        EXPECT_THAT(verdict.notes, Contains(HasSubstr("sets no limits")));
    }
}

// ---- several recordings, events, exposure, periods ----

TEST(Assess, PoolsTheRecordingsOfOneGroup)
{
    // 100 s and 200 s of different level: r.m.s. over what is left of both after 3 s of run-in each.
    const Verdict verdict = Case("vessel")
                                .space("s", "crew-accommodation")
                                .recording("1.wav", "s", "1 = \"z\"", {tone(0.02, 5.0, 100.0)})
                                .recording("2.wav", "s", "1 = \"z\"", {tone(0.08, 5.0, 200.0)})
                                .judge("\"iso6954-2000\"")
                                .verdict();
    const double expected = gain(Wm, 5.0) * root_half * std::sqrt((97.0 * 0.02 * 0.02 + 197.0 * 0.08 * 0.08) / 294.0);
    EXPECT_NEAR(*verdict.value / expected, 1.0, filter_tolerance);
    EXPECT_DOUBLE_EQ(verdict.terms[0].duration_s, 294.0);
    EXPECT_THAT(verdict.recordings, ElementsAre("1.wav", "2.wav"));
}

TEST(Assess, KeepsSpacesPositionsAndConditionsApart)
{
    const Signal a = tone(0.02, 5.0, 70.0), b = tone(0.04, 5.0, 70.0);
    const Assessment result = Case("vessel")
                                  .space("1", "crew-accommodation")
                                  .space("2", "crew-accommodation")
                                  .table("[[condition]]\nid = \"harbour\"")
                                  .recording("a.wav", "1", "1 = \"z\"", {a})
                                  .recording("b.wav", "2", "1 = \"z\"", {b})
                                  .recording("c.wav", "1", "1 = \"z\"", {b}, "condition = \"harbour\"")
                                  .recording("d.wav", "1", "1 = \"z\"", {b}, "position = \"bed\"")
                                  .judge("\"iso6954-2000\"")
                                  .assessment();
    ASSERT_THAT(result.verdicts, SizeIs(4));
    for (const Verdict& verdict : result.verdicts) EXPECT_THAT(verdict.recordings, SizeIs(1));
    EXPECT_NEAR(*result.verdicts[1].value / *result.verdicts[0].value, 2.0, 1e-6);
}

// The weighted dose of a steady sine: |H| a (3 / 8)^(1/4) T^(1/4).
double sine_dose(WeightingId id, double amplitude, double hz, double duration_s)
{
    return gain(id, hz) * amplitude * std::pow(0.375 * duration_s, 0.25);
}

std::string condition(const std::string& more) { return "[[condition]]\nid = \"c\"\n" + more; }

TEST(Assess, ScalesADoseToItsPeriod)
{
    for (const auto& [more, criterion, stands_for] :
         {std::tuple("period = \"day\"", "bs6472-1-2008-day", 16.0 * 3600.0),
          std::tuple("period = \"night\"", "bs6472-1-2008-night", 8.0 * 3600.0),
          std::tuple("period = \"day\"\nexposure_h = 2.0", "bs6472-1-2008-day", 2.0 * 3600.0)}) {
        const Verdict verdict =
            Case("building")
                .space("flat", "residential")
                .table(condition(more))
                .recording("a.wav", "flat", "1 = \"z\"", {tone(0.01, 8.0, 65.0)}, "condition = \"c\"")
                .judge(fmt::format("\"{}\"", criterion))
                .verdict();
        ASSERT_TRUE(verdict.judged) << verdict.why_not;
        EXPECT_NEAR(*verdict.value / sine_dose(Wb, 0.01, 8.0, stands_for), 1.0, filter_tolerance) << more;
        EXPECT_THAT(verdict.notes, Contains(HasSubstr("taken to stand for")));
    }
}

TEST(Assess, CountsEventsByTheFourthPower)
{
    // Two recorded passages, 40 in the night like them: (40 mean VDV_i^4)^(1/4) (bs6472-1-2008). Each is shorter than
    // four run-ins, so it counts whole; a burst in silence, of whole cycles and gently faded, keeps the starting
    // transient small.
    const auto passage = [](double amplitude) {
        Signal signal = sine(amplitude, 20.0, 1000.0, 15.0);
        for (std::size_t i = 0; i < signal.size(); ++i)
            signal[i] *= std::pow(std::sin(std::numbers::pi * static_cast<double>(i) / 15000.0), 2);
        return signal;
    };
    const Verdict verdict = Case("building")
                                .space("flat", "residential")
                                .table(condition("period = \"night\"\nevents = 40"))
                                .recording("1.wav", "flat", "1 = \"z\"", {passage(0.05)}, "condition = \"c\"")
                                .recording("2.wav", "flat", "1 = \"z\"", {passage(0.1)}, "condition = \"c\"")
                                .judge("\"bs6472-1-2008-night\"")
                                .verdict();
    ASSERT_TRUE(verdict.judged) << verdict.why_not;
    // The mean of (sin^2)^4 over half a period is 35 / 128.
    const auto fourth = [](double amplitude) {
        return std::pow(sine_dose(Wb, amplitude, 20.0, 15.0), 4) * 35.0 / 128.0;
    };
    EXPECT_NEAR(*verdict.value / std::pow(40.0 * (fourth(0.05) + fourth(0.1)) / 2.0, 0.25), 1.0, 1e-3);
    EXPECT_DOUBLE_EQ(verdict.terms[0].duration_s, 30.0);
    EXPECT_THAT(verdict.notes, Contains(HasSubstr("40 events in the period like the 2 recorded")));
}

TEST(Assess, NeedsToKnowTheExposureOfAWorker)
{
    const auto cab = [](const std::string& more) {
        return Case("road")
            .space("cab", "driver")
            .table(condition(more))
            .recording("a.wav", "cab", "1 = \"x\", 2 = \"y\", 3 = \"z\"",
                       {tone(0.5, 1.0, 100.0), tone(1.0, 1.0, 100.0), tone(0.9, 5.0, 100.0)},
                       "condition = \"c\"\nposition = \"seat-pan\"")
            .judge("\"directive-2002-44-ec-a8\"")
            .verdict();
    };
    const Verdict unknown = cab("");
    EXPECT_FALSE(unknown.judged);
    EXPECT_THAT(unknown.why_not, HasSubstr("exposure_h"));
    const Verdict known = cab("exposure_h = 4.5");
    ASSERT_TRUE(known.judged) << known.why_not;
    EXPECT_EQ(known.axis, "y");
    EXPECT_NEAR(*known.value / (1.4 * gain(Wd, 1.0) * root_half * std::sqrt(4.5 / 8.0)), 1.0, filter_tolerance)
        << "directive-2002-44-ec, annex B";
    EXPECT_EQ(band_of(known), "action value exceeded");
    EXPECT_TRUE(known.exceeded);
}

TEST(Assess, LeavesAnotherPeriodToItsOwnCriterion)
{
    Case dwelling("building");
    dwelling.space("flat", "residential")
        .table(condition("period = \"night\""))
        .recording("a.wav", "flat", "1 = \"z\"", {tone(0.01, 8.0, 65.0)}, "condition = \"c\"")
        .judge("\"bs6472-1-2008-day\", \"bs6472-1-2008-night\"");
    const Assessment both = dwelling.assessment();
    ASSERT_EQ(both.verdicts.size(), 2U);
    EXPECT_EQ(both.verdicts[0].criterion, "bs6472-1-2008-night");
    EXPECT_TRUE(both.verdicts[0].judged) << both.verdicts[0].why_not;
    EXPECT_EQ(both.verdicts[1].criterion, "bs6472-1-2008-day");
    EXPECT_EQ(both.verdicts[1].why_not, "cannot be judged, because no recording of this place stands for the day; "
                                        "record then, or leave bs6472-1-2008-day out for it");

    const Verdict unknown = Case("building")
                                .space("flat", "residential")
                                .recording("a.wav", "flat", "1 = \"z\"", {tone(0.01, 8.0, 65.0)})
                                .judge("\"bs6472-1-2008-day\"")
                                .verdict();
    EXPECT_FALSE(unknown.judged);
    EXPECT_THAT(unknown.why_not, HasSubstr("add period = \"day\" to its condition"));
}

// ---- what cannot be judged ----

TEST(Assess, DoesNotInventAScale)
{
    const Verdict use = Case("building")
                            .space("lab", "laboratory")
                            .table(condition("period = \"day\""))
                            .recording("a.wav", "lab", "1 = \"z\"", {tone(0.01, 8.0, 65.0)}, "condition = \"c\"")
                            .judge("\"bs6472-1-2008-day\"")
                            .verdict();
    EXPECT_FALSE(use.judged);
    EXPECT_THAT(use.why_not,
                testing::AllOf(HasSubstr("does not list the use \"laboratory\""), HasSubstr("residential")));

    const Verdict setting = Case("building")
                                .space("s", "crew-accommodation")
                                .recording("a.wav", "s", "1 = \"z\"", {tone(0.01, 8.0, 65.0)})
                                .judge("\"iso6954-2000\"")
                                .verdict();
    EXPECT_THAT(setting.why_not, HasSubstr("not for the setting \"building\""));

    const Verdict brief = Case("vessel")
                              .space("s", "crew-accommodation")
                              .recording("a.wav", "s", "1 = \"z\"", {tone(0.01, 8.0, 59.0)})
                              .judge("\"iso6954-2000\"")
                              .verdict();
    EXPECT_THAT(brief.why_not, HasSubstr("at least 60 s"));
}

TEST(Assess, JudgesAMinuteAndSaysThatTwoAreWishedFor)
{
    // iso6954-2000, from memory: at least 1 min; 2 min where there is content below 2 Hz. The run-in was measured too.
    const Verdict verdict = Case("vessel")
                                .space("s", "crew-accommodation")
                                .recording("a.wav", "s", "1 = \"z\"", {tone(0.01, 8.0, 60.0)})
                                .judge("\"iso6954-2000\"")
                                .verdict();
    EXPECT_TRUE(verdict.judged) << verdict.why_not;
    EXPECT_THAT(verdict.notes, Contains(HasSubstr("120 s are wished for")));
}

TEST(Assess, RefusesAFaultyChannelAndJudgesTheOthers)
{
    Signal dead(100000, 0.25), clipped = tone(0.5, 5.0, 100.0);
    for (double& x : clipped) x = std::clamp(x, -0.4, 0.4);
    const Assessment result = Case("building")
                                  .space("room", "office")
                                  .space("hall", "office")
                                  .recording("a.wav", "room", "1 = \"x\", 2 = \"z\"", {tone(0.01, 5.0, 100.0), clipped})
                                  .recording("b.wav", "hall", "1 = \"z\"", {tone(0.01, 5.0, 100.0)})
                                  .judge("\"iso2631-2-2003\"")
                                  .assessment();
    ASSERT_THAT(result.verdicts, SizeIs(2));
    EXPECT_FALSE(result.verdicts[0].judged);
    EXPECT_THAT(result.verdicts[0].why_not, HasSubstr("a.wav: channel 2 is clipped"));
    EXPECT_TRUE(result.verdicts[1].judged) << "another space";
    EXPECT_THAT(codes(result, Severity::refusal), ElementsAre("clipped"));

    const Assessment silent = Case("building")
                                  .space("room", "office")
                                  .recording("a.wav", "room", "1 = \"z\"", {dead})
                                  .judge("\"iso2631-2-2003\"")
                                  .assessment();
    EXPECT_THAT(silent.verdicts[0].why_not, HasSubstr("same value 0.25"));
}

TEST(Assess, RefusesARateThatIsTooLow)
{
    const Assessment result = Case("building")
                                  .space("room", "office")
                                  .recording("a.wav", "room", "1 = \"z\"", {tone(0.01, 5.0, 100.0, 200.0)}, "", 200)
                                  .judge("\"iso2631-2-2003\"")
                                  .assessment();
    EXPECT_FALSE(result.verdicts[0].judged);
    EXPECT_THAT(result.verdicts[0].why_not, HasSubstr("256"));
    EXPECT_THAT(codes(result, Severity::refusal), Contains("rate-too-low"));
}

TEST(Assess, AFileThatCannotBeReadIsAFinding)
{
    Case survey("building");
    survey.space("room", "office")
        .recording("b.wav", "room", "1 = \"x\"", {tone(0.01, 5.0, 100.0)})
        .table("[[recording]]\nfile = \"missing.wav\"\nspace = \"room\"\nchannels = { 1 = \"z\" }")
        .judge("\"iso2631-2-2003\"");
    const Assessment result = survey.assessment();
    EXPECT_THAT(codes(result, Severity::refusal), ElementsAre("unreadable"));
    ASSERT_THAT(result.verdicts, testing::Not(IsEmpty()));
    const auto refused = std::ranges::find_if(result.verdicts, [](const Verdict& verdict) { return !verdict.judged; });
    ASSERT_NE(refused, result.verdicts.end());
    EXPECT_THAT(refused->why_not, HasSubstr("missing.wav"));
}

// ---- exclusions ----

TEST(Assess, LeavesOutWhatIsExcluded)
{
    // A shock at 50 s, excluded in whole seconds with what rings on after it: what is left is the sine.
    Signal signal = tone(0.02, 5.0, 100.0);
    for (std::size_t i = 50200; i < 50300; ++i) signal[i] += 3.0;
    const auto judged = [&](const std::string& more) {
        return Case("vessel")
            .space("s", "crew-accommodation")
            .recording("a.wav", "s", "1 = \"z\"", {signal}, more)
            .judge("\"iso6954-2000\"")
            .assessment();
    };
    const double clean = gain(Wm, 5.0) * 0.02 * root_half;
    EXPECT_GT(*judged("").verdicts[0].value, 2.0 * clean);
    const Assessment result = judged("exclude = [{ from_s = 50.2, to_s = 59.7, reason = \"door slam\" }]");
    const Verdict& verdict = result.verdicts[0];
    EXPECT_NEAR(*verdict.value / clean, 1.0, filter_tolerance);
    EXPECT_DOUBLE_EQ(verdict.terms[0].duration_s, 87.0) << "100 s less 3 s run-in less 50 s to 60 s";
    EXPECT_THAT(verdict.notes, Contains(HasSubstr("10 s excluded")));
    EXPECT_THAT(judged("exclude = [{ from_s = 0.0, to_s = 100.0, reason = \"all\" }]").verdicts[0].why_not,
                HasSubstr("nothing is left"));
    EXPECT_THAT(codes(judged("exclude = [{ from_s = 200.0, to_s = 300.0, reason = \"slip\" }]"), Severity::caution),
                Contains("exclusion-outside"));
}

// ---- uncertainty ----

TEST(Assess, CarriesTheCalibrationOfTheSensors)
{
    const auto judged = [&](const std::string& horizontal_sensor, const std::string& criterion) {
        return Case("building")
            .space("s", "office")
            .table("[[sensor]]\nid = \"s2\"\nuncertainty_percent = 2.0")
            .table("[[sensor]]\nid = \"s5\"\nuncertainty_percent = 5.0\n[[sensor]]\nid = \"unknown\"")
            .recording("xy.wav", "s", "1 = \"x\", 2 = \"y\"", {tone(0.03, 5.0, 100.0), tone(0.04, 4.0, 100.0)},
                       horizontal_sensor)
            .recording("z.wav", "s", "1 = \"z\"", {tone(0.02, 5.0, 100.0)}, "sensor = \"s2\"")
            .judge(criterion)
            .assessment();
    };
    const Assessment each = judged("sensor = \"s5\"", "\"iso2631-2-2003\"");
    ASSERT_THAT(each.verdicts, SizeIs(3));
    for (const auto& [i, share] : {std::pair(0U, 0.05), std::pair(1U, 0.05), std::pair(2U, 0.02)})
        EXPECT_NEAR(each.verdicts[i].expanded_uncertainty.value_or(-1.0), share * *each.verdicts[i].value,
                    1e-4 * share * *each.verdicts[i].value)
            << i << ": a steady tone adds next to nothing, and 0.01 % of the filter";
    // d a_v = sum a_i d a_i / a_v: the share of each axis in the total. A sensor's error is common to its own axes.
    const Verdict total = judged("sensor = \"s5\"", "\"iso2631-1-1997-comfort\"").verdicts[0];
    ASSERT_TRUE(total.judged) << total.why_not;
    const double x = *total.terms[0].value, y = *total.terms[1].value, z = *total.terms[2].value;
    EXPECT_NEAR(total.expanded_uncertainty.value_or(-1.0),
                std::hypot(0.05 * (x * x + y * y), 0.02 * z * z) / *total.value, 1e-4 * *total.expanded_uncertainty);
    for (const char* sensor : {"sensor = \"unknown\"", ""}) {
        const Verdict verdict = judged(sensor, "\"iso2631-1-1997-comfort\"").verdicts[0];
        EXPECT_TRUE(verdict.judged) << verdict.why_not;
        EXPECT_FALSE(verdict.expanded_uncertainty.has_value()) << "one sensor states none";
    }
}

// ---- provenance, and the work done ----

TEST(Assess, SignsEveryStepSoThatAVerdictCanBeWalkedBack)
{
    Case survey("vessel");
    survey.space("cabin", "passenger-cabin")
        .recording("cabin.wav", "cabin", "1 = \"z\"", {tone(4.0, 6.0, 120.0)},
                   "unit = \"mm/s\"\nexclude = [{ from_s = 60.0, to_s = 70.0, reason = \"door slam\" }]")
        .judge("\"iso6954-2000\"");
    const Assessment result = survey.assessment();
    EXPECT_EQ(result.sha256, io::sha256_of_file(survey.path("survey.toml")).value());
    EXPECT_EQ(result.file, survey.path("survey.toml"));
    const auto signed_by = [&](const std::string& of, const std::vector<std::string>& parts) {
        return std::ranges::any_of(result.provenance, [&](const ProvenanceStep& step) {
            return step.of.find(of) != std::string::npos && std::ranges::all_of(parts, [&](const std::string& part) {
                       return step.step.find(part) != std::string::npos;
                   });
        });
    };
    const Verdict& verdict = result.verdicts[0];
    for (const std::string& recording : verdict.recordings) {
        EXPECT_TRUE(signed_by(recording, {"read:", "1000 Hz", io::sha256_of_file(survey.path(recording)).value()}));
        EXPECT_TRUE(signed_by(recording, {"scaled:", "1 mm/s"}));
        EXPECT_TRUE(signed_by(recording, {"offset:", "first 10 s", "channel 1"}));
        EXPECT_TRUE(signed_by(recording, {"weighted:", "channel 1 (z)", "Wm", "from rest"}));
        EXPECT_TRUE(signed_by(recording, {"excluded:", "60.000 s to 70.000 s", "door slam"}));
        EXPECT_TRUE(signed_by(recording, {"converted:", "velocity"}));
    }
    const Criterion& criterion = shipped("iso6954-2000");
    EXPECT_EQ(criterion.sha256,
              io::sha256_of_file(std::string(BECALM_PROJECT) + "/data/criteria/iso6954-2000.toml").value());
    EXPECT_TRUE(signed_by(
        "cabin", {"judged:", "iso6954-2000", criterion.path, criterion.sha256, fmt::format("{:.6g}", *verdict.value)}));
}

TEST(Assess, FiltersEveryLaneOnceHoweverManyCriteriaAskForIt)
{
    // Wm for two criteria, Wd and Wk for two others: what is signed is what ran.
    Case survey("building");
    survey.space("room", "residential")
        .table(condition("period = \"day\"\nexposure_h = 8.0"))
        .recording("a.wav", "room", "1 = \"x\", 2 = \"y\", 3 = \"z\"", three_axes(), "condition = \"c\"")
        .judge("\"iso2631-2-2003\", \"iso2631-1-1997-comfort\", \"directive-2002-44-ec-a8\", "
               "\"directive-2002-44-ec-vdv\", \"bs6472-1-2008-day\"");
    const Assessment result = survey.assessment();
    std::multiset<std::string> lanes;
    for (const ProvenanceStep& step : result.provenance)
        if (step.step.starts_with("weighted:")) lanes.insert(step.step.substr(0, step.step.find(',')));
    const std::multiset<std::string> expected{"weighted: channel 1 (x) by Wm", "weighted: channel 2 (y) by Wm",
                                              "weighted: channel 3 (z) by Wm", "weighted: channel 1 (x) by Wd",
                                              "weighted: channel 2 (y) by Wd", "weighted: channel 3 (z) by Wk",
                                              "weighted: channel 3 (z) by Wb"};
    EXPECT_EQ(lanes, expected);
    EXPECT_THAT(result.verdicts, SizeIs(7)) << "three axes reported apart and four verdicts";
    // Each criterion alone gives the same value as all of them at once.
    for (const Verdict& verdict : result.verdicts) {
        if (verdict.criterion == "iso2631-2-2003") continue;
        const Verdict alone = survey.verdict({.criteria = {verdict.criterion}});
        EXPECT_EQ(*alone.value, *verdict.value) << verdict.criterion;
        EXPECT_EQ(alone.band_index, verdict.band_index);
    }
}

TEST(Assess, IsTheSameHoweverManyThreads)
{
    const auto judged = [](int jobs) {
        Case survey("building");
        survey.space("room", "office").space("hall", "office");
        for (int i = 0; i < 5; ++i)
            survey.recording(fmt::format("{}.wav", i), i % 2 == 0 ? "room" : "hall", "1 = \"x\", 2 = \"z\"",
                             {noise(20000, 1 + i), noise(20000, 11 + i)});
        return survey.judge("\"iso2631-2-2003\", \"iso2631-1-1997-comfort\"").assessment({.jobs = jobs});
    };
    const Assessment one = judged(1);
    ASSERT_THAT(one.verdicts, SizeIs(6));
    for (const int jobs : {2, 7}) {
        const Assessment other = judged(jobs);
        ASSERT_EQ(other.verdicts.size(), one.verdicts.size());
        for (std::size_t i = 0; i < one.verdicts.size(); ++i)
            EXPECT_EQ(*other.verdicts[i].value, *one.verdicts[i].value) << i;
    }
}

// ---- the call itself ----

TEST(Assess, SaysWhatIsWrongWithTheCall)
{
    Case survey("vessel");
    survey.space("s", "crew-accommodation").recording("a.wav", "s", "1 = \"z\"", {tone(0.02, 5.0, 70.0)});
    EXPECT_THAT(complaints(survey.outcome()), HasSubstr("does not say by which criteria to judge"));
    EXPECT_THAT(complaints(survey.outcome({.criteria = {"iso6954-200"}})), HasSubstr("did you mean \"iso6954-2000\"?"));
    EXPECT_EQ(survey.outcome({.criteria = {"iso6954-200"}}).error()[0].kind, ProblemKind::usage);
    EXPECT_TRUE(survey.outcome({.criteria = {"iso6954-2000"}}));
    const auto findings_only = survey.outcome({.judge = false});
    ASSERT_TRUE(findings_only);
    EXPECT_THAT(findings_only->verdicts, IsEmpty());

    Case misnamed("vessel");
    misnamed.space("s", "crew-accommodation")
        .recording("a.wav", "s", "1 = \"z\"", {tone(0.02, 5.0, 70.0)})
        .judge("\"iso6954-20\"");
    EXPECT_THAT(complaints(misnamed.outcome()), testing::AllOf(HasSubstr("survey.toml:"), HasSubstr("iso6954-2000")));
    EXPECT_TRUE(misnamed.outcome({.criteria = {"iso6954-2000"}})) << "what the call names replaces the survey's own";
}

TEST(Assess, TellsTwoRatesApart)
{
    const Assessment result = Case("vessel")
                                  .space("s", "crew-accommodation")
                                  .space("t", "crew-accommodation")
                                  .recording("a.wav", "s", "1 = \"z\"", {tone(0.02, 5.0, 70.0)})
                                  .recording("b.wav", "t", "1 = \"z\"", {tone(0.02, 5.0, 70.0, 512.0)}, "", 512)
                                  .judge("\"iso6954-2000\"")
                                  .assessment();
    EXPECT_THAT(codes(result, Severity::caution), Contains("two-rates"));
    EXPECT_NEAR(*result.verdicts[0].value / *result.verdicts[1].value, 1.0, filter_tolerance);
}

} // namespace
} // namespace becalm::evaluators
