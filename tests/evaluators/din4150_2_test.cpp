// The procedure of DIN 4150-2 step by step. No worked example of it with numbers could be read: expected values are
// computed from the definition unless a row says otherwise.
#include <cmath>
#include <numbers>
#include <vector>

#include <fmt/format.h>
#include <gmock/gmock.h>

#include "evaluators/din4150_2.h"
#include "evaluators/pass.h"
#include "filters/quantities.h"
#include "src/io/criterion_file.h"

#include "tests/evaluators/case.h"

namespace becalm::evaluators::din4150_2 {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::SizeIs;
using namespace evaluators::tests;

constexpr double hour = 3600.0;
constexpr double day = 16.0 * hour, night = 8.0 * hour; // T_r

// A ledger whose rows have these greatest KB_F (mm/s), one a second, at 100 Hz.
Ledger ledger_of(const std::vector<double>& kb_f, std::int64_t first_second = 0)
{
    Ledger ledger{.lane = {1, Axis::z, WeightingId::KB}, .rate_hz = 100.0, .first_second = first_second};
    for (const double value : kb_f) ledger.rows.push_back({.samples = 100, .exponential_rms_fast = value / 1000.0});
    return ledger;
}

// A recording of Takte with these greatest values, each in some second of its 30.
Ledger takte(const std::vector<double>& kb_fti)
{
    std::vector<double> seconds;
    for (std::size_t i = 0; i < kb_fti.size(); ++i)
        for (std::size_t s = 0; s < 30; ++s) seconds.push_back(s == (7 * i) % 30 ? kb_fti[i] : 0.01 * kb_fti[i]);
    return ledger_of(seconds);
}

std::vector<TimeSpan> all_of(const Ledger& ledger)
{
    const auto from = static_cast<double>(ledger.first_second);
    return {{from, from + static_cast<double>(ledger.rows.size())}};
}

QuantityArguments arguments_of(const std::vector<Ledger>& ledgers)
{
    QuantityArguments arguments;
    for (const Ledger& ledger : ledgers) {
        arguments.rows.push_back({&ledger, all_of(ledger)});
        arguments.recordings.push_back(fold(ledger, all_of(ledger)));
        arguments.tally = merge(arguments.tally, arguments.recordings.back());
    }
    return arguments;
}

auto near(double value) { return testing::DoubleNear(value, 1e-12); }

// --- takt maxima ---

TEST(Takt, HoldsTheGreatestValueOfThirtySecondsFromTheRecordingsStart)
{
    std::vector<double> seconds(75, 0.1);
    seconds[0] = 0.5;
    seconds[29] = 0.6;
    seconds[30] = 0.7;
    seconds[74] = 0.4;
    const Ledger ledger = ledger_of(seconds);
    EXPECT_THAT(takt_maxima({&ledger, all_of(ledger)}), ElementsAre(near(0.6), near(0.7), near(0.4)))
        << "the last one has 15 s";
    EXPECT_THAT(takt_maxima({&ledger, all_of(ledger)}, 60), ElementsAre(near(0.7), near(0.4)));
    EXPECT_THAT(takt_maxima({&ledger, {}}), IsEmpty());
}

TEST(Takt, CountsIfASingleSecondOfItIsSelected)
{
    std::vector<double> seconds(150, 0.1);
    for (std::size_t i = 0; i < seconds.size(); ++i) seconds[i] += 0.001 * static_cast<double>(i);
    const Ledger ledger = ledger_of(seconds);
    // Seconds 3 to 29 of the first, the last second of the third, none of the second and fourth, all of the fifth.
    EXPECT_THAT(takt_maxima({&ledger, {{3.0, 30.0}, {89.0, 90.0}, {120.0, 150.0}}}),
                ElementsAre(near(0.129), near(0.189), near(0.249)));
    // Counted from the recording's start, not from the first selected second.
    EXPECT_THAT(takt_maxima({&ledger, {{20.0, 40.0}}}), ElementsAre(near(0.129), near(0.139)));
    const Ledger later = ledger_of(std::vector<double>(20, 0.3), 50);
    EXPECT_THAT(takt_maxima({&later, all_of(later)}), ElementsAre(near(0.3), near(0.3)))
        << "seconds 50 to 59, 60 to 69";
}

// --- KB_FTm ---

TEST(KB_FTm, CountsZerosInN)
{
    const std::vector<double> maxima{0.05, 0.2, 0.35, 0.1, 0.12, 0.08, 0.5, 0.3};
    EXPECT_NEAR(kb_ftm_of(maxima), 0.2542, 5e-5) << "0.1 and less count as 0 (a state agency's procedure)";
    EXPECT_NEAR(kb_ftm_of(maxima, {.value = 0.1, .inclusive = false}), 0.2566, 5e-5)
        << "below 0.1 (another secondary text)";
    EXPECT_EQ(kb_ftm_of(std::vector{0.1, 0.02}), 0.0);
    EXPECT_EQ(kb_ftm_of(std::vector{0.4, 0.4}), 0.4);
}

TEST(KB_FTm, IsAQuantityWithEitherRuleForZeros)
{
    const std::vector ledgers{takte({0.05, 0.2, 0.35, 0.1, 0.12, 0.08, 0.5, 0.3})};
    QuantityArguments arguments = arguments_of(ledgers);
    const auto value = [&] { return quantity_named("kb_ftm")->evaluate(arguments); };
    ASSERT_TRUE(value());
    EXPECT_NEAR(value()->value, 0.2542, 5e-5);
    EXPECT_THAT(value()->notes,
                ElementsAre(HasSubstr("8 intervals of 30 s from the recording's start, 3 of them at most "
                                      "0.1 and counted as 0")));
    arguments.parameters = {{"zero_below", 0.1}};
    EXPECT_NEAR(value()->value, 0.2566, 5e-5);
    EXPECT_THAT(value()->notes, ElementsAre(HasSubstr("2 of them below 0.1")));
    arguments.parameters = {{"zero_up_to", 0.2}}; // 0.35, 0.5, 0.3 are left
    EXPECT_NEAR(value()->value, std::sqrt((0.35 * 0.35 + 0.5 * 0.5 + 0.3 * 0.3) / 8.0), 1e-12);
    arguments.parameters = {{"takt_s", 240.0}};
    EXPECT_NEAR(value()->value, 0.5, 1e-12);
    EXPECT_NEAR(quantity_named("kb_fmax")->evaluate(arguments)->value, 0.5, 1e-12);
}

TEST(KB_FTm, TakesTheRecordingsOfAConditionTogether)
{
    const std::vector ledgers{takte({0.3}), takte({0.2, 0.2, 0.05})};
    EXPECT_NEAR(quantity_named("kb_ftm")->evaluate(arguments_of(ledgers))->value,
                std::sqrt((0.3 * 0.3 + 2.0 * 0.2 * 0.2) / 4.0), 1e-12);
    EXPECT_NEAR(quantity_named("kb_fmax")->evaluate(arguments_of(ledgers))->value, 0.3, 1e-12);
    EXPECT_FALSE(quantity_named("kb_ftm")->evaluate({}));
}

// --- KB_FTr ---

TEST(KB_FTr, AddsConditionsByTheirSquaresAndCountsRestTwice)
{
    const double outside = kb_ftr_share(0.2, 4.0 * hour, day);
    EXPECT_NEAR(kb_ftr_of(std::vector{outside, kb_ftr_share(0.2, 2.0 * hour, day, 2.0)}), 0.1414, 5e-5);
    EXPECT_NEAR(kb_ftr_of(std::vector{outside, kb_ftr_share(0.2, 2.0 * hour, day)}), 0.1225, 5e-5) << "without the 2";
    EXPECT_NEAR(kb_ftr_share(0.2, day, day), 0.2, 1e-12);
    EXPECT_EQ(kb_ftr_of({}), 0.0);
}

TEST(KB_FTr, OfFortyTakteInANight)
{
    EXPECT_NEAR(kb_ftr_share(0.3, 40.0 * 30.0, night), 0.0612, 5e-5);
    // The same as a quantity: 20 minutes of it; 40 events of one Takt; 20 events of two; the mean of one and three.
    const std::vector one{takte({0.3})}, two{takte({0.3, 0.3})}, mixed{takte({0.3}), takte({0.3, 0.3, 0.3})};
    struct Row {
        const std::vector<Ledger>& ledgers;
        std::optional<double> exposed_s, events;
    };
    for (const Row& row :
         {Row{one, 1200.0, {}}, Row{two, 1200.0, {}}, Row{one, {}, 40.0}, Row{two, {}, 20.0}, Row{mixed, {}, 20.0}}) {
        QuantityArguments arguments = arguments_of(row.ledgers);
        arguments.exposed_s = row.exposed_s;
        arguments.events = row.events;
        arguments.reference_s = night;
        const QuantityResult value = quantity_named("kb_ftr")->evaluate(arguments);
        ASSERT_TRUE(value) << to_text(value.error());
        EXPECT_NEAR(value->value, 0.0612, 5e-5);
        EXPECT_THAT(value->notes, SizeIs(2));
        EXPECT_THAT(value->notes[1], HasSubstr("0.3333 h of 8 h"));
    }
}

TEST(KB_FTr, OfEventsThatDifferIsThatOfTheirMeanEnergy)
{
    // Two recorded trains stand for 100: 50 of one Takt of 0.4 and 50 of two of 0.2.
    const std::vector ledgers{takte({0.4}), takte({0.2, 0.2})};
    QuantityArguments arguments = arguments_of(ledgers);
    arguments.events = 100.0;
    arguments.reference_s = day;
    const double expected = std::sqrt((50.0 * 0.16 + 100.0 * 0.04) * 30.0 / day);
    EXPECT_NEAR(quantity_named("kb_ftr")->evaluate(arguments)->value, expected, 1e-12);
    arguments.parameters = {{"rest_factor", 2.0}};
    const QuantityResult rest = quantity_named("kb_ftr")->evaluate(arguments);
    EXPECT_NEAR(rest->value, expected * std::numbers::sqrt2, 1e-12);
    EXPECT_THAT(rest->notes[1], HasSubstr("times of rest count 2-fold"));
}

TEST(KB_FTr, SaysWhatItTakesForGrantedAndRefusesWhatCannotBe)
{
    const std::vector ledgers{takte({0.3, 0.2})};
    QuantityArguments arguments = arguments_of(ledgers);
    const auto value = [&] { return quantity_named("kb_ftr")->evaluate(arguments); };
    ASSERT_FALSE(value());
    EXPECT_THAT(value().error().remedy, HasSubstr("reference_h"));
    arguments.reference_s = night;
    EXPECT_EQ(value()->value, quantity_named("kb_ftm")->evaluate(arguments)->value);
    EXPECT_THAT(value()->notes[1], HasSubstr("the whole 8 h: the condition states no exposure_h or events"));
    arguments.exposed_s = 9.0 * hour;
    ASSERT_FALSE(value());
    EXPECT_THAT(value().error().what, HasSubstr("lasts longer (9 h) than the period (8 h)"));
    arguments.exposed_s = {};
    arguments.events = 481.0; // of two Takte: 8 h and a minute
    EXPECT_FALSE(value());
    arguments.events = 480.0;
    EXPECT_TRUE(value());
}

// --- decision ---

TEST(Decision, FollowsTheFlowOfTheStandard)
{
    // Row 4 of Table 1 by night, from memory: A_u 0.1, A_o 0.2, A_r 0.05.
    const DecisionLimits dwelling{.lower = 0.1, .upper = 0.2, .average = 0.05};
    const auto din = [&](double greatest, std::optional<double> average, bool rare = false) {
        return decide(greatest, average, dwelling, rare, false);
    };
    EXPECT_EQ(din(0.1, 0.09), Outcome::met_by_greatest) << "the average is not asked for";
    EXPECT_EQ(din(0.2001, 0.01), Outcome::not_met_by_greatest);
    EXPECT_EQ(din(0.2001, 0.01, true), Outcome::not_met_by_greatest) << "rare events too";
    EXPECT_EQ(din(0.2, 0.05), Outcome::met_by_average);
    EXPECT_EQ(din(0.1001, 0.0501), Outcome::not_met_by_average);
    EXPECT_EQ(din(0.2, 0.09, true), Outcome::met_as_rare);
    EXPECT_EQ(din(0.15, {}), Outcome::open);
    EXPECT_EQ(din(0.15, {}, true), Outcome::met_as_rare);
    EXPECT_EQ(decide(0.15, 0.0, {.lower = 0.1, .upper = 0.2}, false, false), Outcome::not_met_by_average)
        << "no average is allowed in place of the greatest value";
    // 40 Takte of 0.3 a night on a surface line, limits times 1.5 (from memory): 0.075 holds 0.0612, 0.05 does not.
    const double average = kb_ftr_share(0.3, 40.0 * 30.0, night);
    EXPECT_EQ(decide(0.3, average, {.lower = 0.15, .upper = 0.3, .average = 0.075}, false, false),
              Outcome::met_by_average);
    EXPECT_EQ(decide(0.3, average, {.lower = 0.1, .upper = 0.3, .average = 0.05}, false, false),
              Outcome::not_met_by_average);
}

TEST(Decision, IsStrictInTheDutchGuideline)
{
    // Dwelling by night, continuous: A1 0.1, A2 0.2, A3 0.05. Rule and limits: a Dutch secondary text on SBR-B; inputs
    // ours.
    const DecisionLimits dwelling{.lower = 0.1, .upper = 0.2, .average = 0.05};
    const auto sbr = [&](double greatest, double average) { return decide(greatest, average, dwelling, false, true); };
    EXPECT_EQ(sbr(0.15, 0.04), Outcome::met_by_average);
    EXPECT_EQ(sbr(0.15, 0.05), Outcome::not_met_by_average);
    EXPECT_EQ(sbr(0.0999, 0.5), Outcome::met_by_greatest);
    EXPECT_EQ(sbr(0.1, 0.04), Outcome::met_by_average);
    EXPECT_EQ(sbr(0.2, 0.04), Outcome::not_met_by_greatest);
}

TEST(Decision, TellsHowItCameAbout)
{
    const DecisionLimits limits{.lower = 0.1, .upper = 0.2, .average = 0.05};
    const auto words = [&](double greatest, double average, bool rare, bool strict) {
        const Outcome outcome = decide(greatest, average, limits, rare, strict);
        return (is_met(outcome) ? "met: " : "not met: ") +
               words_of(outcome, limits, {.strict = strict, .rare_events = 3.0}, average);
    };
    EXPECT_EQ(words(0.1, 0.0, false, false), "met: the greatest value is at most 0.1");
    EXPECT_EQ(words(0.3, 0.0, false, false), "not met: the greatest value is not at most 0.2");
    EXPECT_EQ(words(0.2, 0.0, false, true), "not met: the greatest value is not below 0.2");
    EXPECT_EQ(words(0.2, 0.09, true, false),
              "met: the greatest value is at most 0.2 and there are no more than 3 events in the period");
    EXPECT_EQ(words(0.15, 0.05, false, false),
              "met: between 0.1 and 0.2 the average over the period decides: 0.05 is at most 0.05");
    EXPECT_EQ(words(0.15, 0.05, false, true),
              "not met: between 0.1 and 0.2 the average over the period decides: 0.05 is not below 0.05");
    EXPECT_EQ(words_of(Outcome::not_met_by_average, {.lower = 0.1, .upper = 0.2}, {}, {}),
              "the greatest value is not at most 0.1, and no average counts here");
    EXPECT_FALSE(is_met(Outcome::open));
    EXPECT_THAT(words_of(Outcome::open, limits, {}, {}), HasSubstr("and it is not known"));
}

// --- from the recording ---

TEST(KB, OfASteadySine)
{
    // 1 mm/s peak at 16 Hz. Computed from the definition: KB r.m.s. 0.6674 and, with the ripple 1/sqrt(1 + (4 pi f
    // tau)^2) of the exponential average, KB_Fmax 0.6805; both times the band limits at 16 Hz.
    const double rate = 1000.0, hz = 16.0, omega = 2.0 * std::numbers::pi * hz;
    const double limits =
        1.0 / std::sqrt((1.0 + std::pow(std::pow(10.0, -0.1) / hz, 4.0)) * (1.0 + std::pow(hz / 100.0, 4.0)));
    const ScratchFolder folder;
    for (const auto& [motion, amplitude] :
         {std::pair(Motion::velocity, 1e-3), std::pair(Motion::acceleration, 1e-3 * omega),
          std::pair(Motion::displacement, 1e-3 / omega)}) {
        const PassRequest request{
            .path = wav(folder, fmt::format("{}.wav", name_of(motion)), 1000, {sine(amplitude, hz, rate, 90.0)}),
            .lanes = {{1, Axis::z, WeightingId::KB}},
            .input = motion,
            .offset = OffsetRule::none,
            .keep_rows = true};
        const auto results = run_passes(std::span(&request, 1));
        ASSERT_TRUE(results[0]) << to_text(results[0].error());
        const Ledger& ledger = results[0]->lanes[0].ledger;
        const std::vector<TimeSpan> steady{{30.0, 90.0}};
        const Tally tally = fold(ledger, steady);
        EXPECT_NEAR(1000.0 * filters::weighted_rms(tally), 0.6674 * limits, 1e-4) << name_of(motion);
        const QuantityArguments arguments{.tally = tally, .rows = {{&ledger, steady}}};
        EXPECT_NEAR(kb_fmax(arguments)->value, 0.6805 * limits, 2e-4) << name_of(motion);
        EXPECT_NEAR(kb_ftm(arguments)->value, 0.6805 * limits, 2e-4) << name_of(motion);
    }
}

// A criterion of clause 6 with these lines, and the judgement of a dwelling: 1 mm/s at 16 Hz vertically, less across, 2
// h.
Assessment judged(const std::string& lines)
{
    const auto criterion = io::parse_criterion(
        R"(id = "night"
title = "by night"
source = "din4150-2-1999"
clause = "6"
unit = "1"
axes = "highest"
weighting = "KB"
reference_h = 8.0
confirmed = "computed from the definition"
)" + lines,
        "night.toml", io::read_sources(std::string(BECALM_PROJECT) + "/data/sources.toml").value());
    if (!criterion) {
        ADD_FAILURE() << to_text(criterion.error()[0]);
        return {};
    }
    io::CriteriaLibrary library;
    library.criteria["night"] = *criterion;
    const auto tone = [](double amplitude) { return sine(amplitude, 16.0, 1000.0, 120.0); };
    return Case("building")
        .space("room", "residential")
        .table("[[condition]]\nid = \"c\"\nexposure_h = 2.0")
        .recording("a.wav", "room", "1 = \"z\"", {tone(1.0)}, "condition = \"c\"\nunit = \"mm/s\"")
        .recording("b.wav", "room", "1 = \"x\", 2 = \"y\"", {tone(10.0), tone(20.0)},
                   "condition = \"c\"\nunit = \"mm/s2\"")
        .judge("\"night\"")
        .assessment({}, library);
}

TEST(KB, JudgesADwelling)
{
    const Assessment assessment = judged("quantity = \"kb_ftr\"\n");
    ASSERT_THAT(assessment.verdicts, SizeIs(1));
    const Verdict& verdict = assessment.verdicts[0];
    ASSERT_TRUE(verdict.judged) << verdict.why_not;
    EXPECT_NEAR(*verdict.value, 0.6802 / 2.0, 2e-4) << "0.6805 times the band limits, for 2 of 8 hours";
    EXPECT_EQ(verdict.axis, "z");
    EXPECT_EQ(verdict.unit, "1");
    std::vector<std::string> converted;
    for (const ProvenanceStep& step : assessment.provenance)
        if (step.step.starts_with("converted:")) converted.push_back(step.of + ": " + step.step);
    EXPECT_THAT(converted,
                ElementsAre("b.wav: converted: acceleration to velocity inside the weighting (times (j w)^-1)"));
}

TEST(KB, DecidesAboutADwelling)
{
    const std::string decision = "quantity = \"kb_fmax\"\nparameters = { zero_below = 0.1 }\n"
                                 "decision = { average_quantity = \"kb_ftr\" }\n[[scale]]\nuse = \"any\"\n"
                                 "lower = 0.1\nupper = 0.7\n";
    for (const auto& [average, met] : {std::pair("0.35", true), std::pair("0.33", false)}) {
        const Assessment assessment = judged(decision + "average = " + average + "\n");
        ASSERT_THAT(assessment.verdicts, SizeIs(1));
        const Verdict& verdict = assessment.verdicts[0];
        ASSERT_TRUE(verdict.judged) << verdict.why_not;
        EXPECT_NEAR(*verdict.value, 0.6802, 2e-4);
        ASSERT_TRUE(verdict.decision && verdict.decision->value);
        EXPECT_NEAR(*verdict.decision->value, 0.3401, 2e-4);
        EXPECT_EQ(verdict.exceeded, !met);
        EXPECT_THAT(verdict.notes, testing::Contains(HasSubstr("0 of them below 0.1")));
    }
}

} // namespace
} // namespace becalm::evaluators::din4150_2
