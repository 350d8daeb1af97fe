// The documents that are data alone, and the procedures behind them. Each row names where its value comes from.
#include <algorithm>
#include <cmath>
#include <filesystem>
#include <numbers>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <gmock/gmock.h>

#include "evaluators/combine.h"
#include "evaluators/en12299.h"
#include "evaluators/iso2631_1.h"
#include "evaluators/iso6954.h"
#include "evaluators/ns8176.h"
#include "evaluators/quantity.h"
#include "evaluators/response_factor.h"
#include "filters/weighting.h"
#include "src/io/document_keys.h"

#include "tests/evaluators/case.h"

namespace becalm::evaluators {
namespace {

using testing::Contains;
using testing::HasSubstr;
using namespace tests;

double gain(WeightingId id, double hz) { return std::abs(filters::analytic_response(id, Motion::acceleration, hz)); }

constexpr double filter_tolerance = 2e-4; // the filters follow the definition to 1e-4

TEST(Quantities, AreTheOnesThatACriterionMayName)
{
    // The register and the reader's list, name by name and unit by unit.
    for (const auto& [name, unit] : io::keys::quantity_units) {
        const Quantity* quantity = quantity_named(name);
        ASSERT_NE(quantity, nullptr) << name;
        EXPECT_EQ(quantity->unit, unit) << name;
    }
}

// --- NS 8176 ---

TEST(Ns8176, StatisticalMaximumOfFifteenPassages)
{
    // Constructed vector: mean 0.150, s (n - 1) 0.02673, v_w,95 = 0.1981 mm/s; with s over n it would be 0.1965
    // (computed from the definition).
    const std::vector<double> greatest{0.11, 0.14, 0.12, 0.18, 0.16, 0.13, 0.15, 0.20,
                                       0.12, 0.17, 0.14, 0.19, 0.13, 0.15, 0.16};
    EXPECT_NEAR(ns8176::statistical_maximum(greatest, 1.8), 0.1981, 5e-5);
    EXPECT_NEAR(ns8176::statistical_maximum(greatest, 0.0), 0.150, 1e-12);
}

Tally passage(double greatest_rms)
{
    return {.samples = 1000, .duration_s = 1.0, .exponential_rms_slow = greatest_rms};
}

TEST(Ns8176, VelocityIsTheAccelerationTimesTheTimeConstant)
{
    // v_w 0.30 mm/s is a_w 10.71 mm/s2 (computed from the definition: a = v / 0.028 s).
    const QuantityArguments two_alike{.recordings = {passage(0.01071), passage(0.01071)}};
    EXPECT_NEAR(ns8176::event_velocity(two_alike)->value, 0.30e-3, 0.0002e-3);
    EXPECT_FALSE(ns8176::event_rms({.recordings = {passage(0.01)}})) << "one passage has no standard deviation";
}

TEST(Ns8176, FewerThanFifteenPassagesCannotBeJudged)
{
    Case survey("building");
    survey.space("room", "residential");
    for (int i = 0; i < 14; ++i)
        survey.recording(fmt::format("p{}.wav", i), "room", "1 = \"z\"", {sine(0.01, 8.0, 1000.0, 12.0)});
    const Verdict verdict = survey.judge("\"ns8176-2005\"").verdict();
    EXPECT_FALSE(verdict.judged);
    EXPECT_THAT(verdict.why_not, HasSubstr("there are 14 recordings of axis z, and NS 8176:2005 asks for at least 15"));
}

TEST(Ns8176, FifteenPassagesAreClassed)
{
    Case survey("building");
    survey.space("room", "residential");
    for (int i = 0; i < 15; ++i)
        survey.recording(fmt::format("p{}.wav", i), "room", "1 = \"z\"", {sine(0.01, 8.0, 1000.0, 12.0)});
    const Verdict verdict = survey.judge("\"ns8176-2005\"").verdict();
    ASSERT_TRUE(verdict.judged) << verdict.why_not;
    // Passages alike have s = 0. The exponential mean of a steady sine ripples by 1 / sqrt(1 + (4 pi f tau)^2) about
    // its mean square; after the settled part it has reached all but exp(-11) of it (computed from the definition).
    const double rms = 0.01 / std::numbers::sqrt2 * gain(WeightingId::Wm, 8.0);
    const double ripple = std::sqrt(1.0 + 1.0 / std::hypot(1.0, 4.0 * std::numbers::pi * 8.0));
    EXPECT_NEAR(*verdict.value, 0.028 * rms * ripple, 3e-4 * 0.028 * rms);
    EXPECT_EQ(verdict.bands.at(static_cast<std::size_t>(*verdict.band_index)).name, "class B");
}

// --- EN 12299 ---

Ledger ledger_of(const std::vector<double>& rms_of_seconds)
{
    Ledger ledger;
    ledger.rate_hz = 100.0;
    for (const double rms : rms_of_seconds) ledger.rows.push_back({.samples = 100, .sum_squares = 100.0 * rms * rms});
    return ledger;
}

TEST(En12299, BlocksAreWholeAndStayInsideTheirRun)
{
    // 12 s selected as [0, 7) and [7, 12): one block of 5 s each, the rest of the first run left out (computed from the
    // definition).
    const Ledger ledger = ledger_of({1, 1, 1, 1, 1, 9, 9, 2, 2, 2, 2, 2});
    const std::vector<double> blocks = en12299::block_values({&ledger, {{0.0, 7.0}, {7.0, 12.0}}}, 5);
    EXPECT_THAT(blocks, testing::ElementsAre(testing::DoubleEq(1.0), testing::DoubleEq(2.0)));
}

TEST(En12299, PercentilesAreLinearBetweenOrderStatistics)
{
    // numpy.percentile(values, [0, 50, 95, 100]) of numpy 1.24.2 (its default, "linear"), values below.
    const std::vector<double> values{0.31, 0.12, 0.55, 0.21, 0.43, 0.37, 0.29, 0.18, 0.60, 0.25};
    EXPECT_NEAR(en12299::percentile(values, 0.0), 0.12, 1e-12);
    EXPECT_NEAR(en12299::percentile(values, 50.0), 0.30, 1e-12);
    EXPECT_NEAR(en12299::percentile(values, 95.0), 0.5775, 1e-12);
    EXPECT_NEAR(en12299::percentile(values, 100.0), 0.60, 1e-12);
}

VerdictTerm term(const char* axis, double value, double factor, int group = 1)
{
    return {.axis = axis, .group = group, .weighting = "W", .factor = factor, .value = value};
}

TEST(En12299, MeanComfortOfTheVectors)
{
    // N_MV = 6 sqrt(x^2 + y^2 + z^2): 0.05, 0.15, 0.20 give 1.530 and 0.10, 0.20, 0.20 give 1.800 (computed from the
    // definition).
    const auto n_mv = [](double x, double y, double z) {
        const std::vector<VerdictTerm> terms{term("x", x, 6.0), term("y", y, 6.0), term("z", z, 6.0)};
        return combine(AxisRule::total, terms).front().value;
    };
    EXPECT_NEAR(n_mv(0.05, 0.15, 0.20), 1.530, 5e-4);
    EXPECT_NEAR(n_mv(0.10, 0.20, 0.20), 1.800, 5e-4);
}

TEST(En12299, SumsOfTotalsAddTheGroups)
{
    // N_VA = 4 a_ZP95 + 2 sqrt(a_YA95^2 + a_ZA95^2) + 4 a_XD95 of 0.1, (0.03, 0.04), 0.05: 0.4 + 0.1 + 0.2 (computed
    // from the definition).
    const std::vector<VerdictTerm> terms{term("z", 0.1, 4.0, 1), term("y", 0.03, 2.0, 2), term("z", 0.04, 2.0, 2),
                                         term("x", 0.05, 4.0, 3)};
    const Combined combined = combine(AxisRule::sum_of_totals, terms).front();
    EXPECT_NEAR(combined.value, 0.7, 1e-12);
    EXPECT_EQ(combined.axis, "total");
}

TEST(En12299, SeatedComfortTakesEachTermAtItsPosition)
{
    const double s = 1210.0; // four sections' worth in one recording
    Case survey("rail");
    survey.space("coach", "saloon")
        .recording("floor.wav", "coach", "1 = \"z\"", {sine(0.2, 8.0, 256.0, s)}, "position = \"floor\"", 256)
        .recording("pan.wav", "coach", "1 = \"y\", 2 = \"z\"", {sine(0.1, 2.0, 256.0, s), sine(0.1, 8.0, 256.0, s)},
                   "position = \"seat-pan\"", 256)
        .recording("back.wav", "coach", "1 = \"x\"", {sine(0.1, 4.0, 256.0, s)}, "position = \"seat-back\"", 256);
    const Verdict verdict = survey.judge("\"en12299-2009-n-va\"").verdict();
    ASSERT_TRUE(verdict.judged) << verdict.why_not;
    // Steady sines: every block has the same r.m.s., so percentiles are that value (computed from the definition).
    const double half = 1.0 / std::numbers::sqrt2;
    const double expected =
        4.0 * 0.2 * half * gain(WeightingId::Wb, 8.0) +
        2.0 * std::hypot(0.1 * half * gain(WeightingId::Wd, 2.0), 0.1 * half * gain(WeightingId::Wb, 8.0)) +
        4.0 * 0.1 * half * gain(WeightingId::Wc, 4.0);
    EXPECT_NEAR(*verdict.value, expected, filter_tolerance * expected);
    EXPECT_EQ(verdict.position, "all");
    EXPECT_EQ(verdict.terms.size(), 4U);
}

TEST(En12299, AMissingPositionIsSaid)
{
    Case survey("rail");
    survey.space("coach", "saloon")
        .recording("floor.wav", "coach", "1 = \"z\"", {sine(0.2, 8.0, 256.0, 1210.0)}, "position = \"floor\"", 256);
    const Verdict verdict = survey.judge("\"en12299-2009-n-va\"").verdict();
    EXPECT_FALSE(verdict.judged);
    EXPECT_THAT(verdict.why_not, HasSubstr("the axis y at the position seat-pan is missing"));
}

// --- vessels ---

TEST(Iso6954, TheVelocityFormJudgesTheSameVibrationAlike)
{
    // V1: 6 Hz, 4 mm/s peak velocity gives 2.053 mm/s weighted velocity (computed from the definition).
    Case survey("vessel");
    survey.space("cabin", "passenger-cabin")
        .recording("v.wav", "cabin", "1 = \"z\"", {sine(4.0, 6.0, 1000.0, 130.0)}, "unit = \"mm/s\"");
    const Verdict verdict = survey.judge("\"iso6954-2000-velocity\"").verdict();
    ASSERT_TRUE(verdict.judged) << verdict.why_not;
    EXPECT_NEAR(*verdict.value * 1e3, 2.053, 1e-3);
    EXPECT_EQ(verdict.bands.at(static_cast<std::size_t>(*verdict.band_index)).name, "between the two values");
}

TEST(Iso20283, AnswersThatItsValuesHaveToBeTypedIn)
{
    Case survey("vessel");
    survey.space("cabin", "passenger-cabin").recording("z.wav", "cabin", "1 = \"z\"", {sine(0.1, 6.0, 1000.0, 70.0)});
    const Verdict verdict = survey.judge("\"iso20283-5-2016\"").verdict();
    EXPECT_FALSE(verdict.judged);
    EXPECT_THAT(verdict.why_not,
                HasSubstr("the values of ISO 20283-5:2016 are not in the program; type them in from your copy"));
}

TEST(Iso2631, VomitingPercentIsAThirdOfTheDose)
{
    // Wf-weighted 0.5 m/s2 over 2 h: MSDV 42.43, 14.1 % (computed from the definition).
    const Tally hour{.samples = 3600, .duration_s = 3600.0, .sum_squares = 0.25 * 3600.0};
    EXPECT_NEAR(iso2631_1::msdv({.tally = hour, .exposed_s = 7200.0})->value, 42.43, 5e-3);
    EXPECT_NEAR(iso2631_1::vomiting_percent({.tally = hour, .exposed_s = 7200.0})->value, 14.1, 0.05);
}

// --- floors ---

TEST(ResponseFactor, OfTheDesignGuide)
{
    // MSB02 page 66: 40 mm/s2 on the base value 5 mm/s2 is R = 8, which an office accepts.
    const QuantityArguments arguments{.tally = passage(0.040), .parameters = {{"base", 0.005}}};
    const double value = response_factor::response_factor(arguments)->value;
    EXPECT_NEAR(value, 8.0, 1e-12);
    const Criterion& criterion = shipped("msb02-response-factor");
    EXPECT_FALSE(criterion.scales.front().bands.front().exceeds);
    EXPECT_EQ(criterion.scales.front().bands.front().limit, 8.0);
}

TEST(SwedishGuidance, BandsOfTheWeightedVelocity)
{
    // 0.3 / 0.7 / 1.2 mm/s: below, moderate, probable (SS 460 48 61 as a municipal report quotes it; inputs ours).
    const Criterion& criterion = shipped("ss460-48-61");
    const auto band = [&](double mm_s) {
        const Tally tally = passage(mm_s * 1e-3 / 0.028);
        const double value = iso6954::running_velocity({.tally = tally})->value;
        return criterion.scales.front()
            .bands
            .at(value < *criterion.scales.front().bands[0].limit    ? 0
                : value <= *criterion.scales.front().bands[1].limit ? 1
                                                                    : 2)
            .name;
    };
    EXPECT_EQ(band(0.3), "below moderate disturbance");
    EXPECT_EQ(band(0.7), "moderate disturbance");
    EXPECT_EQ(band(1.2), "probable disturbance");
}

// --- what is not certain is switched off ---

TEST(CheckFirst, AnUncertainDocumentJudgesOnlyWhenSomebodyCheckedIt)
{
    const auto judged = [](const std::string& more) {
        Case survey("building");
        survey.space("room", "residential")
            .table("[[condition]]\nid = \"day\"\nperiod = \"day\"")
            .recording("z.wav", "room", "1 = \"z\"", {sine(0.01, 8.0, 1000.0, 60.0)}, "condition = \"day\"")
            .table("[[judge]]\ncriteria = [\"bs6472-1992-day\"]\n" + more);
        return survey.verdict();
    };
    const Verdict unchecked = judged("");
    EXPECT_FALSE(unchecked.judged);
    EXPECT_THAT(unchecked.why_not, HasSubstr("check the publication first"));
    const Verdict checked = judged("confirmed-by = \"A. Nonymous, 2026-11-20, own copy\"");
    EXPECT_TRUE(checked.judged) << checked.why_not;
    EXPECT_TRUE(checked.value.has_value());
}

// --- a document by data alone ---

TEST(ADocumentByDataAlone, JudgesLikeAShippedOne)
{
    // A national guide of our own invention: event statistics of the running r.m.s., three events at least, horizontal
    // twice as strict.
    const ScratchFolder folder;
    const std::string guide = folder.file("invented-guide.toml", R"(
id = "invented-guide"
title = "Invented guide for reading rooms"
source = "invented"
clause = "Table 1"
quantity = "event_rms"
unit = "m/s2"
axes = "highest"
weighting = { horizontal = "Wd", vertical = "Wk" }
factor = { horizontal = 2.0, vertical = 1.0 }
needed = ["z"]
parameters = { deviations = 2.0 }
least_recordings = 3
confirmed = "from nobody: it is invented"

[[scale]]
use = "reading-room"
bands = [ { name = "quiet", up_to = 0.005 }, { name = "lively", exceeds = true } ]
)");
    folder.file("sources.toml",
                "[invented]\ntitle = \"Invented\"\nedition = \"Invented 2026\"\nstatus = \"invented\"\n");
    const io::CriteriaLibrary library = io::load_criteria({std::filesystem::path(guide).parent_path().string()}, {});
    ASSERT_TRUE(library.problems.empty()) << to_text(library.problems.front());

    Case survey("building");
    survey.space("room", "reading-room");
    for (int i = 0; i < 3; ++i)
        survey.recording(fmt::format("e{}.wav", i), "room", "1 = \"x\", 2 = \"z\"",
                         {sine(0.02, 1.0, 1000.0, 30.0), sine(0.01, 8.0, 1000.0, 30.0)});
    const Verdict verdict = survey.judge("\"invented-guide\"").verdict({}, library);
    ASSERT_TRUE(verdict.judged) << verdict.why_not;
    EXPECT_EQ(verdict.axis, "x");
    // Steady and alike: twice the r.m.s., raised by the ripple of the exponential mean at 1 Hz (computed from the
    // definition).
    const double rms = 0.02 / std::numbers::sqrt2 * gain(WeightingId::Wd, 1.0);
    const double ripple = std::sqrt(1.0 + 1.0 / std::hypot(1.0, 4.0 * std::numbers::pi));
    EXPECT_NEAR(*verdict.value, 2.0 * rms * ripple, 1e-3 * 2.0 * rms);
    EXPECT_TRUE(verdict.exceeded);
    EXPECT_EQ(verdict.edition, "Invented 2026");
}

} // namespace
} // namespace becalm::evaluators
