// Do the intervals hold what they promise? Surveys of stationary noise whose level is known, taken with sensors whose
// sensitivity is off by as much as their certificates allow for.
#include <cmath>
#include <iostream>
#include <random>

#include "evaluators/record_statistics.h"
#include "evaluators/uncertainty.h"
#include "filters/spectrum_rows.h"
#include "filters/weighting.h"

#include "tests/evaluators/case.h"

namespace becalm::evaluators {
namespace {

using namespace tests;

constexpr double rate_hz = 256.0;

// Of white noise of standard deviation 1: its density is 2 / rate up to half the rate.
double weighted_rms_of_white_noise(WeightingId weighting)
{
    constexpr double step_hz = 0.01;
    double sum = 0.0;
    for (double hz = step_hz / 2.0; hz < rate_hz / 2.0; hz += step_hz)
        sum += std::norm(filters::analytic_response(weighting, Motion::acceleration, hz)) * step_hz;
    return std::sqrt(sum * 2.0 / rate_hz);
}

struct CoverageRow {
    const char* criterion;
    std::vector<std::pair<const char*, WeightingId>> axes; // of the value, a root of squares where there are several
    double seconds;
    double percent; // of the sensor, k = 2
};

constexpr int surveys = 2000;

class Coverage : public testing::TestWithParam<CoverageRow> {};

TEST_P(Coverage, IsNinetyFivePerCentOfTwoThousandSurveys)
{
    const CoverageRow& row = GetParam();
    constexpr double deviation = 0.3; // m/s2
    double level = 0.0;
    std::string channels;
    for (std::size_t i = 0; i < row.axes.size(); ++i) {
        level = std::hypot(level, deviation * weighted_rms_of_white_noise(row.axes[i].second));
        channels += fmt::format("{}{} = \"{}\"", i == 0 ? "" : ", ", i + 1, row.axes[i].first);
    }
    std::mt19937_64 random(2026);
    std::normal_distribution<double> normal;
    int held = 0;
    double uncertainty = 0.0, scatter = 0.0;
    for (int i = 0; i < surveys; ++i) {
        const double gain = 1.0 + row.percent / 200.0 * normal(random);
        std::vector<Signal> signals(row.axes.size(), Signal(static_cast<std::size_t>(rate_hz * row.seconds)));
        for (Signal& signal : signals)
            for (double& x : signal) x = deviation * gain * normal(random);
        const Verdict verdict =
            Case("vessel")
                .space("s", "passenger-cabin")
                .table(fmt::format("[[sensor]]\nid = \"s\"\nuncertainty_percent = {}", row.percent))
                .recording("a.wav", "s", channels, signals, "sensor = \"s\"", static_cast<int>(rate_hz))
                .judge(fmt::format("\"{}\"", row.criterion))
                .verdict({.jobs = 1});
        ASSERT_TRUE(verdict.expanded_uncertainty && verdict.value) << verdict.why_not;
        if (std::abs(*verdict.value - level) <= *verdict.expanded_uncertainty) ++held;
        scatter += std::pow(*verdict.value / level - 1.0, 2.0) / surveys;
        uncertainty += *verdict.expanded_uncertainty / *verdict.value / surveys;
    }
    const double percent = 100.0 * held / surveys;
    std::cout << fmt::format("{}, {:.0f} s, sensor {} %: {:.2f} % of {} surveys lie within their uncertainty, {:.2f} % "
                             "on average; twice the scatter is {:.2f} %\n",
                             row.criterion, row.seconds, row.percent, percent, surveys, 100.0 * uncertainty,
                             200.0 * std::sqrt(scatter));
    EXPECT_NEAR(percent, 95.0, 1.5) << row.criterion;
}

const std::vector<std::pair<const char*, WeightingId>> vertical{{"z", WeightingId::Wm}};
const std::vector<std::pair<const char*, WeightingId>> all_three{
    {"x", WeightingId::Wd}, {"y", WeightingId::Wd}, {"z", WeightingId::Wk}};

INSTANTIATE_TEST_SUITE_P(Rows, Coverage,
                         testing::Values(CoverageRow{"iso6954-2000", vertical, 63.0, 3.0},
                                         CoverageRow{"iso2631-1-1997-comfort", all_three, 60.0, 1.0}),
                         [](const auto& row) { return fmt::format("Row{}", row.index); });

// ---- without the filters, which add nothing to what is looked at here ----

constexpr double sensor_deviation = 0.5 / 100.0; // 1 %, k = 2

// `value` and its statistics with the sensor's uncertainty, power `power`.
double expanded(double value, double power, const RecordStatistic& statistic)
{
    const Propagated whole(
        {.sources = {{.name = "calibration"}, {.name = "statistics", .dof = statistic.dof}},
         .candidates = {{.value = value,
                         .contributions = {{0, power * sensor_deviation * value}, {1, statistic.relative * value}}}}});
    return 2.0 * whole.standard();
}

void tell(const char* what, int held, int of)
{
    const double percent = 100.0 * held / of;
    std::cout << fmt::format("{}: {:.2f} % of {} surveys lie within their uncertainty\n", what, percent, of);
    EXPECT_NEAR(percent, 95.0, 1.5) << what;
}

TEST(CoverageOfPercentiles, IsNinetyFivePerCent)
{
    const Quantity& quantity = *quantity_named("block_rms");
    constexpr int seconds = 300, in_second = 8;
    // The mean of 40 squares of normal variables: 95 % are below 55.758 / 40 (tables of chi square, 40 degrees).
    const double level = std::sqrt(55.758 / 40.0);
    std::mt19937_64 random(2026);
    std::normal_distribution<double> normal;
    constexpr int fewer = surveys / 2;
    int held = 0;
    for (int survey = 0; survey < fewer; ++survey) {
        const double gain = 1.0 + sensor_deviation * normal(random);
        Ledger ledger{.lane = {}, .rate_hz = in_second};
        for (int second = 0; second < seconds; ++second) {
            LedgerRow row{.samples = in_second};
            for (int i = 0; i < in_second; ++i) row.sum_squares += std::pow(gain * normal(random), 2.0);
            ledger.rows.push_back(row);
        }
        QuantityArguments arguments{.tally = fold(ledger), .rows = {{&ledger, {{0.0, seconds}}}}};
        arguments.recordings = {arguments.tally};
        const double value = quantity.evaluate(arguments)->value;
        const auto statistic = record_statistic(quantity, arguments, RepeatsRule::pooled, value, {});
        ASSERT_TRUE(statistic) << statistic.error();
        if (std::abs(value - level) <= expanded(value, 1.0, *statistic)) ++held;
    }
    tell("95th percentile of 60 blocks", held, fewer);
}

TEST(CoverageOfSpectra, IsNinetyFivePerCent)
{
    const Quantity& quantity = *quantity_named("ride_index_weighted");
    constexpr double rate = 64.0, seconds = 120.0;
    constexpr auto samples = static_cast<std::size_t>(rate * seconds);
    const auto layout = filters::spectrum_layout(rate, samples, 1800);
    ASSERT_TRUE(layout);
    filters::SegmentDensity density(rate, layout->length);
    std::mt19937_64 random(2026);
    std::normal_distribution<double> normal;
    double level = 0.0;
    int held = 0;
    std::vector<double> signal(samples);
    for (int survey = 0; survey < surveys; ++survey) {
        const double gain = 1.0 + sensor_deviation * normal(random);
        for (double& x : signal) x = gain * normal(random);
        filters::SpectrumStream stream(*layout, density, 0, layout->segments);
        stream.add(signal);
        ChannelSpectra spectra = std::move(stream.rows()).spectra();
        QuantityArguments arguments{.axis = Axis::z};
        arguments.tally.duration_s = seconds;
        arguments.recordings = {arguments.tally};
        arguments.rows = {{}};
        if (survey == 0) { // of the density that white noise has, 2 / rate (from the definition)
            ChannelSpectra flat = spectra;
            for (SpectralRow& row : flat.rows) std::ranges::fill(row.density, static_cast<float>(2.0 / rate));
            arguments.spectra = {{&flat, {{0.0, seconds}}}};
            level = quantity.evaluate(arguments)->value;
        }
        arguments.spectra = {{&spectra, {{0.0, seconds}}}};
        const double value = quantity.evaluate(arguments)->value;
        const auto statistic = record_statistic(quantity, arguments, RepeatsRule::pooled, value, {});
        ASSERT_TRUE(statistic) << statistic.error();
        if (std::abs(value - level) <= expanded(value, *quantity.power, *statistic)) ++held;
    }
    tell("weighted ride index of 120 s", held, surveys);
}

} // namespace
} // namespace becalm::evaluators
