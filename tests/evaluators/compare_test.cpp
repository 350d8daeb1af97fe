// Comparisons of verdicts made up for the test: values are computed from the definitions by hand.
#include <cmath>

#include <gmock/gmock.h>

#include "evaluators/compare.h"
#include "filters/student_t.h"

namespace becalm::evaluators::tests {
namespace {

using ::testing::HasSubstr;

Verdict verdict(const std::string& space, double value, int band = 0)
{
    Verdict made{.space = space,
                 .position = "floor",
                 .criterion = "c",
                 .edition = "Example:2020",
                 .use = "office",
                 .quantity = "weighted_rms",
                 .axis = "z",
                 .weighting = "Wm"};
    made.value = value;
    made.unit = "m/s2";
    made.judged = true;
    made.bands = {{.name = "fair", .limit = 0.1}, {.name = "poor", .limit = 0.2}, {.name = "bad", .exceeds = true}};
    made.band_index = band;
    made.terms = {{.axis = "z", .weighting = "Wm", .recordings = {"a.wav"}}};
    return made;
}

SideToCompare side(std::vector<Verdict> verdicts, const Survey* survey = nullptr)
{
    return {.about = {.kind = survey != nullptr ? "survey" : "assessment"},
            .verdicts = std::move(verdicts),
            .survey = survey};
}

Survey survey_with(const Sensor& sensor)
{
    Survey survey;
    survey.sensors = {sensor};
    survey.recordings = {{.file = "a.wav", .space = "a", .sensor = sensor.id}};
    return survey;
}

TEST(Compare, TellsTheChangeAndItsUncertaintyInQuadrature)
{
    Verdict before = verdict("a", 0.2, 2), after = verdict("a", 0.05);
    before.expanded_uncertainty = 0.006; // 3 %
    after.expanded_uncertainty = 0.002;  // 4 %
    const ComparisonReport report = compare(side({before}), side({after}));
    ASSERT_EQ(report.pairs.size(), 1U);
    const ComparedPair& pair = report.pairs[0];
    EXPECT_NEAR(*pair.percent, -75.0, 1e-9);
    EXPECT_NEAR(*pair.db, 20.0 * std::log10(0.25), 1e-12);
    EXPECT_NEAR(*pair.uncertainty_percent, 25.0 * 0.05, 1e-9); // 5 % of the ratio
    EXPECT_NEAR(*pair.uncertainty_db, 20.0 * std::log10(1.05), 1e-12);
    EXPECT_FALSE(pair.calibration_cancels);
    EXPECT_EQ(pair.bands, -2);
    EXPECT_EQ(pair.band_words, "bad to fair (better by 2 bands)");
}

TEST(Compare, LetsTheCalibrationOfOneSensorCancel)
{
    Verdict before = verdict("a", 0.2), after = verdict("a", 0.1);
    before.expanded_uncertainty = 0.006;
    after.expanded_uncertainty = 0.003;
    const Sensor sensor{.id = "s", .serial = "17", .calibrated = "2026-01-05", .uncertainty_percent = 3.0};
    const Survey one = survey_with(sensor), two = survey_with(sensor);
    const auto pair_of = [&](const Survey& first, const Survey& second) {
        return compare(side({before}, &first), side({after}, &second)).pairs.at(0);
    };
    const ComparedPair same = pair_of(one, two);
    EXPECT_TRUE(same.calibration_cancels);
    EXPECT_FALSE(same.uncertainty_db);
    EXPECT_THAT(same.uncertainty_words, HasSubstr("sensor s"));
    EXPECT_TRUE(pair_of(one, one).calibration_cancels);
    Sensor again = sensor;
    again.calibrated = "2026-03-01";
    EXPECT_FALSE(pair_of(one, survey_with(again)).calibration_cancels) << "another calibration has another error";
    Sensor nameless = sensor;
    nameless.serial.clear();
    const Survey third = survey_with(nameless), fourth = survey_with(nameless);
    EXPECT_FALSE(pair_of(third, fourth).calibration_cancels) << "an id alone is no instrument";
    EXPECT_NEAR(*pair_of(third, fourth).uncertainty_db, 20.0 * std::log10(1.0 + std::hypot(0.03, 0.03)), 1e-12);
    after.axis = "x"; // another element of the sensor
    EXPECT_FALSE(pair_of(one, two).calibration_cancels);
}

TEST(Compare, RefusesWhatIsOfDifferentThings)
{
    const auto why = [](auto change) {
        Verdict other = verdict("a", 0.1);
        change(other);
        const ComparisonReport report = compare(side({verdict("a", 0.2)}), side({other}));
        EXPECT_FALSE(report.pairs.at(0).db);
        EXPECT_TRUE(report.summaries.empty());
        return report.pairs.at(0).why_not;
    };
    EXPECT_EQ(why([](Verdict& v) { v.edition = "Example:2024"; }),
              "the editions differ: Example:2020 and Example:2024");
    EXPECT_EQ(why([](Verdict& v) { v.use = "ward"; }), "the uses differ: office and ward");
    EXPECT_EQ(why([](Verdict& v) { v.terms[0].weighting = "Wk"; }), "the weightings of axis z differ: Wm and Wk");
    EXPECT_EQ(why([](Verdict& v) { v.terms[0].factor = 1.4; }), "the factors of axis z differ: 1 and 1.4");
    EXPECT_EQ(why([](Verdict& v) { v.unit = "mm/s"; }), "the units differ: m/s2 and mm/s");
    EXPECT_THAT(why([](Verdict& v) {
                    v.judged = false;
                    v.why_not = "cannot be judged, because it is clipped";
                }),
                HasSubstr("the second cannot be judged, because it is clipped"));
    EXPECT_THAT(why([](Verdict& v) { v.value = 0.0; }), HasSubstr("nothing"));
}

TEST(Compare, PairsByConditionWhereNoneWasAskedFor)
{
    Verdict sea = verdict("a", 0.1), harbour = verdict("a", 0.2);
    sea.condition = "sea";
    harbour.condition = "harbour";
    const ComparisonReport whole = compare(side({sea, harbour}), side({sea}));
    ASSERT_EQ(whole.pairs.size(), 1U);
    ASSERT_EQ(whole.without_partner.size(), 1U);
    EXPECT_EQ(whole.without_partner[0].verdict.condition, "harbour");
    EXPECT_TRUE(whole.without_partner[0].is_of_first);
    SideToCompare first = side({sea, harbour}), second = side({sea, harbour});
    first.about.condition = "sea";
    second.about.condition = "harbour";
    const ComparisonReport two = compare(first, second);
    ASSERT_EQ(two.pairs.size(), 1U);
    EXPECT_NEAR(*two.pairs[0].percent, 100.0, 1e-9);
    EXPECT_TRUE(two.without_partner.empty());
}

TEST(Compare, CompletesAPredictionFromTheOneVerdictThatItIsAbout)
{
    Verdict predicted{.space = "a", .criterion = "c", .value = 0.15, .judged = true};
    SideToCompare table{.about = {.kind = "predicted"}, .verdicts = {predicted}};
    Verdict measured = verdict("a", 0.21, 2);
    measured.condition = "sea";
    const ComparisonReport report = compare(table, side({measured}));
    ASSERT_EQ(report.pairs.size(), 1U);
    EXPECT_NEAR(*report.pairs[0].percent, 40.0, 1e-9);
    EXPECT_EQ(report.pairs[0].band_words, "poor to bad (worse by 1 band)");
    EXPECT_EQ(report.pairs[0].uncertainty_words, "the first value states no uncertainty");
    Verdict bed = measured;
    bed.position = "bed";
    const ComparisonReport unclear = compare(table, side({measured, bed}));
    EXPECT_TRUE(unclear.pairs.empty());
    ASSERT_EQ(unclear.without_partner.size(), 3U);
    EXPECT_THAT(unclear.without_partner[0].why, HasSubstr("2 verdicts of the other side"));
    table.verdicts[0].unit = "mm/s";
    EXPECT_THAT(compare(table, side({measured})).pairs.at(0).why_not, HasSubstr("the units differ"));
}

TEST(Compare, TellsOverAllPairsTheMeanItsConfidenceAndTheSigns)
{
    const auto after = [](const std::string& space, double db) {
        return verdict(space, 0.1 * std::pow(10.0, db / 20.0));
    };
    const ComparisonReport report =
        compare(side({verdict("a", 0.1), verdict("b", 0.1), verdict("c", 0.1), verdict("d", 0.1)}),
                side({after("a", -6.0), after("b", -3.0), after("c", 2.0), after("d", 0.0)}));
    ASSERT_EQ(report.summaries.size(), 1U);
    const ComparisonSummary& summary = report.summaries[0];
    EXPECT_EQ(summary.criterion, "c");
    EXPECT_EQ(summary.pairs, 4);
    EXPECT_NEAR(*summary.mean_db, -1.75, 1e-9);
    EXPECT_NEAR(*summary.median_db, -1.5, 1e-9);
    // s = sqrt((4.25^2 + 1.25^2 + 3.75^2 + 1.75^2) / 3), t of 3 degrees 3.182446 (published tables)
    const double reach = 3.182446305 * std::sqrt(36.75 / 3.0) / 2.0;
    EXPECT_NEAR(*summary.from_db, -1.75 - reach, 1e-6);
    EXPECT_NEAR(*summary.to_db, -1.75 + reach, 1e-6);
    EXPECT_EQ(summary.lower, 2);
    EXPECT_EQ(summary.higher, 1);
    EXPECT_EQ(summary.unchanged, 1);
    EXPECT_NEAR(*report.pairs.front().db, 2.0, 1e-9) << "what rises most comes first";
    const auto single = compare(side({verdict("a", 0.1)}), side({after("a", 1.0)})).summaries.at(0);
    EXPECT_NEAR(*single.mean_db, 1.0, 1e-9);
    EXPECT_FALSE(single.from_db);
}

TEST(Compare, ShowsEachOneThirdOctaveThatBothCanTell)
{
    const auto explained = [](const Verdict& of, double density) {
        ExplainedSpectrum spectrum{.axis = "z", .weighting = "Wm", .unit = "m/s2", .resolution_hz = 0.25};
        spectrum.density.assign(401, density);
        return Explanation{.verdict = of, .spectra = {spectrum}};
    };
    SideToCompare first = side({verdict("a", 0.1)}), second = side({verdict("a", 0.2)});
    first.explanations = {explained(verdict("a", 0.1), 1e-4)};
    second.explanations = {explained(verdict("a", 0.2), 4e-4)};
    const ComparedPair pair = compare(first, second).pairs.at(0);
    ASSERT_EQ(pair.spectra.size(), 1U);
    ASSERT_GT(pair.spectra[0].bands.size(), 10U);
    for (const ComparedBand& band : pair.spectra[0].bands)
        EXPECT_NEAR(*band.db, 20.0 * std::log10(2.0), 1e-9) << band.nominal_hz;
    // Of the 10 Hz band, 10^(+-1/20) around 10 Hz
    const auto ten = std::ranges::find(pair.spectra[0].bands, 10.0, &ComparedBand::nominal_hz);
    ASSERT_NE(ten, pair.spectra[0].bands.end());
    EXPECT_NEAR(ten->first, std::sqrt(1e-4 * 10.0 * (std::pow(10.0, 0.05) - std::pow(10.0, -0.05))), 1e-6);
}

TEST(StudentT, AgreesWithPublishedTables)
{
    struct Row {
        int degrees;
        double t;
    };
    for (const Row& row : {Row{1, 12.7062047}, Row{2, 4.30265273}, Row{3, 3.18244631}, Row{4, 2.77644511},
                           Row{5, 2.57058184}, Row{30, 2.04227246}, Row{100, 1.98397152}})
        EXPECT_NEAR(filters::t_factor(0.95, row.degrees), row.t, 1e-8 * row.t + 5e-9) << row.degrees;
    EXPECT_NEAR(filters::within_t(1.0, 1), 0.5, 1e-14); // a Cauchy distribution's quartile
}

} // namespace
} // namespace becalm::evaluators::tests
