// Sources, attribution, explanation and what-if. Frequencies are computed from the definitions; the survey with hidden
// sources is generated, so that what was planted is known.
#include <algorithm>
#include <cmath>
#include <numbers>

#include <gmock/gmock.h>

#include "evaluators/attribution.h"
#include "evaluators/explain.h"
#include "evaluators/sources.h"
#include "filters/weighting.h"

#include "tests/evaluators/explained.h"

namespace becalm::evaluators {
namespace {

using testing::Contains;
using testing::HasSubstr;
using namespace tests;

double line_of(const Source& source, const std::string& name, const Condition* condition = nullptr)
{
    const auto lines = predicted_lines(source, condition, 200.0);
    if (!lines) {
        ADD_FAILURE() << to_text(lines.error());
        return 0.0;
    }
    const auto found = std::ranges::find(*lines, name, &PredictedLine::name);
    if (found != lines->end()) return found->hz;
    ADD_FAILURE() << "no line " << name;
    return 0.0;
}

TEST(Sources, OfAShip)
{
    // 4 blades at 105 rpm: 7.00, 14.00, 21.00 Hz; a two-stroke of 6 cylinders at 105 rpm fires at 10.50 Hz; a
    // four-stroke at N rpm / 120; a generator of 1,500 rpm: 25 and 50 Hz (computed from the definition).
    const Source propeller{.id = "p", .kind = "propeller", .values = {{"rpm", 105}, {"blades", 4}}};
    EXPECT_NEAR(line_of(propeller, "blade passing"), 7.0, 1e-9);
    EXPECT_NEAR(line_of(propeller, "blade passing x 2"), 14.0, 1e-9);
    EXPECT_NEAR(line_of(propeller, "blade passing x 3"), 21.0, 1e-9);
    EXPECT_NEAR(
        line_of({.id = "e", .kind = "engine", .values = {{"rpm", 105}, {"cylinders", 6}, {"strokes", 2}}}, "firing"),
        10.5, 1e-9);
    const Source diesel{.id = "e", .kind = "engine", .values = {{"rpm", 750}, {"cylinders", 6}, {"strokes", 4}}};
    EXPECT_NEAR(line_of(diesel, "firing"), 6 * 750.0 / 120.0, 1e-9);
    EXPECT_NEAR(line_of(diesel, "order 0.5"), 750.0 / 120.0, 1e-9);
    EXPECT_NEAR(line_of({.id = "g", .kind = "generator", .values = {{"rpm", 1500}}}, "rotation x 2"), 50.0, 1e-9);
    EXPECT_NEAR(line_of({.id = "g", .kind = "gear", .values = {{"rpm", 60}, {"teeth", 31}}}, "tooth mesh"), 31.0, 1e-9);
    EXPECT_NEAR(line_of({.id = "m", .kind = "mains", .values = {{"hz", 60}}}, "twice the mains"), 120.0, 1e-9);
}

TEST(Sources, OfATrainAtEightyKilometresAnHour)
{
    // v / (3.6 L): sleepers of 0.60 m 37.0 Hz, axles 2.5 m apart 8.9 Hz, joints every 25 m 0.89 Hz; a wheel of 0.84 m
    // 8.42 Hz (computed from the definition).
    const auto track = [](double spacing) {
        return Source{.id = "t", .kind = "track", .values = {{"speed_km_h", 80}, {"spacing_m", spacing}}};
    };
    EXPECT_NEAR(line_of(track(0.60), "passing"), 37.0, 0.05);
    EXPECT_NEAR(line_of(track(2.5), "passing"), 8.9, 0.05);
    EXPECT_NEAR(line_of(track(25.0), "passing"), 0.89, 0.005);
    EXPECT_NEAR(
        line_of({.id = "w", .kind = "wheel", .values = {{"speed_km_h", 80}, {"diameter_m", 0.84}}}, "wheel rotation"),
        8.42, 0.005);
}

TEST(Sources, TakeTheSpeedOfTheCondition)
{
    const Source propeller{.id = "p", .kind = "propeller", .values = {{"rpm", 105}, {"blades", 4}}};
    const Condition slow{.id = "slow", .values = {{"shaft_rpm", 60}}};
    EXPECT_NEAR(line_of(propeller, "blade passing", &slow), 4.0, 1e-9);
    const auto none = predicted_lines({.id = "s", .kind = "shaft", .line = 7}, nullptr, 100.0);
    ASSERT_FALSE(none);
    EXPECT_EQ(none.error().what, "the source \"s\" (shaft) states no running speed");
    EXPECT_EQ(none.error().remedy, "add rpm = ... to it, or shaft_rpm = ... to the condition");
    EXPECT_EQ(none.error().line, 7);
}

TEST(Sources, SayWhereTheSpeedStandsThatMovesTheirLines)
{
    const Condition both{.id = "service", .values = {{"shaft_rpm", 165}, {"speed_km_h", 40}}};
    struct Case {
        Source source;
        const Condition* condition;
        bool of_condition;
        std::string key;
    };
    const std::vector<Case> cases{
        {{.id = "a", .kind = "propeller", .values = {{"rpm", 105}, {"blades", 4}}}, &both, true, "shaft_rpm"},
        {{.id = "b", .kind = "propeller", .values = {{"rpm", 105}, {"blades", 4}}}, nullptr, false, "rpm"},
        {{.id = "c", .kind = "engine", .values = {{"rpm", 750}, {"cylinders", 6}}}, &both, false, "rpm"},
        {{.id = "d", .kind = "engine", .values = {{"cylinders", 6}}}, &both, true, "shaft_rpm"},
        {{.id = "e", .kind = "wheel", .values = {{"speed_km_h", 80}, {"diameter_m", 0.8}}}, &both, true, "speed_km_h"},
        {{.id = "f", .kind = "walker", .values = {{"hz", 2.0}}}, nullptr, false, "hz"},
        {{.id = "g", .kind = "plant", .values = {{"rpm", 1500}, {"hz", 24.5}}}, &both, false, "hz"},
        {{.id = "h", .kind = "plant", .values = {{"rpm", 1500}, {"blades", 7}}}, &both, false, "rpm"}};
    for (const Case& is : cases) {
        const auto speed = speed_of(is.source, is.condition);
        ASSERT_TRUE(speed) << is.source.id;
        EXPECT_EQ(speed->of_condition, is.of_condition) << is.source.id;
        EXPECT_EQ(speed->key, is.key) << is.source.id;
        // Each line is in proportion to it.
        Source faster = is.source;
        Condition fast = is.condition == nullptr ? Condition() : *is.condition;
        (speed->of_condition ? fast.values : faster.values)[speed->key] = 1.1 * speed->value;
        const auto before = predicted_lines(is.source, is.condition, 1e4), after = predicted_lines(faster, &fast, 1e4);
        ASSERT_TRUE(before && after) << is.source.id;
        ASSERT_EQ(before->size(), after->size()) << is.source.id;
        for (std::size_t i = 0; i < before->size(); ++i)
            EXPECT_NEAR((*after)[i].hz, 1.1 * (*before)[i].hz, 1e-9) << is.source.id;
    }
    EXPECT_FALSE(speed_of({.id = "i", .kind = "shaft"}, nullptr));
}

std::vector<PredictedLine> lines_of(const Source& source) { return *predicted_lines(source, nullptr, 200.0); }

TEST(Attribution, TakesTheSpeedFromTheComponentAndAsksTheHarmonicsForIt)
{
    // The shaft runs 0.8 % fast: blade passing at 7.056 Hz, twice that at 14.112 Hz. A component at 14.05 Hz is within
    // 1 % of the stated second harmonic, but not at the speed that the first tells.
    const Source propeller{.id = "p", .kind = "propeller", .values = {{"rpm", 105}, {"blades", 4}}};
    const Occasion fits{.components = {{7.056, 1.0}, {14.112, 0.1}}, .sources = {lines_of(propeller)}};
    const auto both = attribute(fits, {}, 0.0625);
    ASSERT_EQ(both[0].size(), 1U);
    EXPECT_EQ(both[0][0].line, "blade passing");
    EXPECT_NEAR(both[0][0].off_hz, 0.056, 1e-9);
    EXPECT_THAT(both[0][0].evidence, Contains("at the same speed also: blade passing x 2"));
    EXPECT_EQ(both[1][0].line, "blade passing x 2");
    const Occasion misses{.components = {{7.056, 1.0}, {14.05, 0.1}}, .sources = {lines_of(propeller)}};
    EXPECT_TRUE(attribute(misses, {}, 0.0625)[1].empty());
}

TEST(Attribution, AHarmonicAloneIsNoSource)
{
    const Source shaft{.id = "s", .kind = "shaft", .values = {{"rpm", 120}}};
    const Occasion here{.components = {{4.0, 1.0}}, .sources = {lines_of(shaft)}};
    EXPECT_TRUE(attribute(here, {}, 0.0625)[0].empty());
}

TEST(Attribution, AnotherSpeedConfirmsOrRefutes)
{
    const auto at = [](double rpm) { return lines_of({.id = "s", .kind = "shaft", .values = {{"rpm", rpm}}}); };
    const Occasion here{.condition = "fast", .components = {{3.0, 1.0}}, .sources = {at(180)}};
    const Occasion moved{.condition = "slow", .components = {{2.0, 1.0}}, .sources = {at(120)}};
    const Occasion stayed{.condition = "slow", .components = {{3.0, 1.0}}, .sources = {at(120)}};
    const auto confirmed = attribute(here, std::span(&moved, 1), 0.0625);
    ASSERT_EQ(confirmed[0].size(), 1U);
    EXPECT_THAT(confirmed[0][0].evidence, Contains("moves with the speed: 2.00 Hz in condition slow"));
    EXPECT_TRUE(attribute(here, std::span(&stayed, 1), 0.0625)[0].empty());
}

TEST(HarmonicSeries, NeedsThreeMembers)
{
    const std::vector<FoundComponent> family{{7.0, 1.0}, {14.0, 0.5}, {21.0, 0.2}, {9.3, 1.0}};
    const auto series = harmonic_series(family, 0.0625);
    EXPECT_EQ(series[0], "");
    EXPECT_EQ(series[1], "2 x 7.00 Hz");
    EXPECT_EQ(series[2], "3 x 7.00 Hz");
    EXPECT_EQ(series[3], "");
    EXPECT_EQ(harmonic_series(std::vector<FoundComponent>{{7.0, 1.0}, {14.0, 0.5}}, 0.0625)[1], "");
}

constexpr const char* propeller_table = "[[source]]\nid = \"prop\"\nkind = \"propeller\"\nrpm = 105\nblades = 4\n";

class Cabin : public testing::Test {
protected:
    static ExplanationReport of(const std::vector<std::pair<double, double>>& tones,
                                const std::vector<Change>& changes = {})
    {
        Case survey("vessel");
        survey.space("c", "passenger-cabin")
            .table(propeller_table)
            .recording("a.wav", "c", "1 = \"z\"", {sum_of(tones)}, "", 500)
            .judge("\"iso6954-2000\"");
        return explanation(survey, changes);
    }
};

TEST_F(Cabin, SharesTheWeightedEnergyOut)
{
    // Amplitudes chosen so that the weighted mean squares are as 3 to 1.
    const double blade = 0.2, other = blade * wm(7.0) / wm(23.3) / std::sqrt(3.0);
    const ExplanationReport report = of({{blade, 7.0}, {other, 23.3}});
    ASSERT_EQ(report.explanations.size(), 1U);
    const Explanation& why = report.explanations[0];
    ASSERT_EQ(why.why_not, "");
    ASSERT_GE(why.components.size(), 2U);
    EXPECT_NEAR(why.components[0].hz, 7.0, 0.01 * why.resolution_hz);
    EXPECT_NEAR(why.components[0].share, 0.75, 0.005);
    EXPECT_NEAR(why.components[0].weighted_rms, blade * wm(7.0) / std::numbers::sqrt2, 1e-3 * blade);
    EXPECT_EQ(why.components[0].matches[0].source, "prop");
    EXPECT_TRUE(why.components[1].matches.empty()) << "unexplained, and said so";
    EXPECT_NEAR(why.explained_share, 0.75, 0.005);
    EXPECT_NEAR(why.unexplained_share, 0.25, 0.005);
}

TEST_F(Cabin, SaysHowFarTheSourceHasToFall)
{
    // Above the upper value of 0.143 m/s2; the propeller has all of it: 20 lg(value / 0.143) dB less reach it.
    const ExplanationReport report = of({{0.4, 7.0}});
    const Explanation& why = report.explanations[0];
    ASSERT_TRUE(why.next_limit && !why.cures.empty());
    const double value = *why.verdict.value;
    ASSERT_GT(value, *why.next_limit);
    EXPECT_EQ(why.next_band, "between the two values");
    ASSERT_TRUE(why.cures[0].reduction_db);
    EXPECT_NEAR(*why.cures[0].reduction_db, 20.0 * std::log10(value / *why.next_limit), 0.05);
    EXPECT_NEAR(*why.needed_percent, 100.0 * (1.0 - *why.next_limit / value), 1e-9);

    // With another component above the value by itself, the propeller alone cannot do it.
    const ExplanationReport both = of({{0.4, 7.0}, {0.6, 11.3}});
    ASSERT_FALSE(both.explanations[0].cures.empty());
    EXPECT_FALSE(both.explanations[0].cures[0].reduction_db);
    EXPECT_THAT(both.explanations[0].cures[0].words, HasSubstr("not reachable by prop alone"));
}

TEST_F(Cabin, KnowsSidebandsBeatsAndDrift)
{
    // 20 Hz modulated at 0.8 Hz; two fans at 30 and 30.2 Hz, 3.2 bins apart.
    const ExplanationReport report =
        of({{0.2, 20.0}, {0.05, 19.2}, {0.05, 20.8}, {0.1, 30.0}, {0.08, 30.2}, {0.2, 45.0}});
    std::set<std::string> series;
    int beats = 0;
    for (const ExplainedComponent& component : report.explanations[0].components) {
        if (!component.series.empty()) series.insert(component.series);
        EXPECT_FALSE(component.drift_hz) << component.hz;
        if (!component.beat_hz) continue;
        ++beats;
        EXPECT_NEAR(component.hz, 30.1, 0.11);
        EXPECT_NEAR(*component.beat_hz, 0.2, 0.01);
    }
    EXPECT_EQ(series, (std::set<std::string>{"-1 x 0.80 Hz beside 20.00 Hz", "+1 x 0.80 Hz beside 20.00 Hz"}));
    EXPECT_EQ(beats, 2);

    Signal drifting(static_cast<std::size_t>(200.0 * 500.0));
    for (std::size_t i = 0; i < drifting.size(); ++i) {
        const double t = static_cast<double>(i) / 500.0;
        drifting[i] = 0.2 * std::sin(2.0 * std::numbers::pi * (12.0 * t + 0.5 * 0.2 / 200.0 * t * t)); // 12 to 12.2 Hz
    }
    Case survey("vessel");
    survey.space("c", "passenger-cabin")
        .recording("a.wav", "c", "1 = \"z\"", {drifting}, "", 500)
        .judge("\"iso6954-2000\"");
    const ExplanationReport moved = explanation(survey);
    ASSERT_FALSE(moved.explanations[0].components.empty());
    const auto drift = moved.explanations[0].components[0].drift_hz;
    ASSERT_TRUE(drift);
    EXPECT_NEAR((*drift)[0], 12.0, 0.03); // rows tell of the middle of 16 s
    EXPECT_NEAR((*drift)[1], 12.2, 0.03);
}

TEST(WhatIf, KeepsTheRelativeUncertaintyOfLevelsAndPowers)
{
    // A sensor of 5 % (k = 2): 20 lg 1.05 is 0.42 dB, 20 / ln 10 * 0.05 = 0.434 dB by first order, whatever the level;
    // a ride index goes with the power 0.3 of the motion (computed from the definition).
    const auto why = [](const char* setting, const char* criterion) {
        Case survey(setting);
        survey.space("s", "residential")
            .table("[[sensor]]\nid = \"s\"\nuncertainty_percent = 5.0")
            .table("[[source]]\nid = \"prop\"\nkind = \"shaft\"\nrpm = 960.0")
            .table("[[condition]]\nid = \"c\"\nperiod = \"day\"")
            .recording("a.wav", "s", "1 = \"z\"", {sine(0.01, 16.0, 256.0, 60.0)}, "sensor = \"s\"\ncondition = \"c\"",
                       256)
            .table(fmt::format("[[judge]]\ncriteria = [\"{}\"]\nconfirmed-by = \"a test\"", criterion));
        return explanation(survey, {{.kind = Change::Kind::reduce, .source = "prop", .amount = 6.0}}).explanations[0];
    };
    const Explanation level = why("building", "gb10070-1988-steady-day");
    ASSERT_EQ(level.predictions.size(), 1U) << level.why_not;
    EXPECT_NEAR(level.predictions[0].value, *level.verdict.value - 6.0, 0.02);
    EXPECT_NEAR(level.verdict.expanded_uncertainty.value_or(0.0), 0.434, 0.002);
    EXPECT_DOUBLE_EQ(level.predictions[0].expanded_uncertainty.value_or(0.0), *level.verdict.expanded_uncertainty);
    const Explanation index = why("rail", "ride-index-weighted-vertical");
    ASSERT_EQ(index.predictions.size(), 1U) << index.why_not;
    const double times = index.predictions[0].value / *index.verdict.value;
    EXPECT_NEAR(times, std::pow(10.0, -0.3 * 6.0 / 20.0), 2e-3);
    EXPECT_NEAR(index.predictions[0].expanded_uncertainty.value_or(0.0), times * *index.verdict.expanded_uncertainty,
                1e-12);
}

TEST_F(Cabin, AnswersWhatIf)
{
    const std::vector<Change> changes{{.kind = Change::Kind::reduce, .source = "prop", .amount = 6.0},
                                      {.kind = Change::Kind::move, .source = "prop", .amount = 3.0},
                                      {.kind = Change::Kind::isolate, .source = "prop", .amount = 2.0, .second = 0.05},
                                      {.kind = Change::Kind::damp, .amount = 7.0, .second = 0.02, .third = 0.01},
                                      {.kind = Change::Kind::stiffen, .amount = 5.0, .second = 4.0, .third = 0.02}};
    const ExplanationReport report = of({{0.4, 7.0}}, changes);
    const Explanation& why = report.explanations[0];
    ASSERT_EQ(why.predictions.size(), 5U);
    const double value = *why.verdict.value;
    const auto close = [&](std::size_t i, double factor) {
        EXPECT_NEAR(why.predictions[i].value / value, factor, 3e-3) << why.predictions[i].change;
    };
    close(0, std::pow(10.0, -6.0 / 20.0));
    close(1, wm(10.0) / wm(7.0));
    const double r = 3.5, d = 2.0 * 0.05 * r; // transmissibility of a one-mass mount (computed from the definition)
    close(2, std::sqrt((1.0 + d * d) / (std::pow(1.0 - r * r, 2) + d * d)));
    close(3,
          2.0 * 0.01 * std::sqrt(1.0 + 2.0 / 0.02)); // denhartog-1956, 3.3: the greatest response is sqrt(1 + 2 / mu)
    // Four times as stiff, the resonance at 5 Hz lies at 10 Hz; far below it and far above the response is the static
    // one over 4 and the inertia's, the tone at 7 Hz in between (computed from the definition).
    const auto dynamic = [](double s) { return 1.0 / std::hypot(1.0 - s * s, 2.0 * 0.02 * s); };
    close(4, dynamic(0.7) / dynamic(1.4) / 4.0);
}

TEST(Explain, KnowsOnlyTheSourcesOfTheSurvey)
{
    Case survey("vessel");
    survey.space("c", "passenger-cabin")
        .table(propeller_table)
        .recording("a.wav", "c", "1 = \"z\"", {sum_of({{0.1, 7.0}})}, "", 500)
        .judge("\"iso6954-2000\"");
    const auto read = io::read_survey(survey.written());
    const auto report = explain(*read, shipped_library(), {.changes = {{.source = "porp"}}});
    ASSERT_FALSE(report);
    EXPECT_EQ(report.error()[0].what, "the survey has no source \"porp\"");
    EXPECT_EQ(report.error()[0].remedy, "did you mean \"prop\"?");
}

} // namespace
} // namespace becalm::evaluators
