// Uncertainty: the propagation against examples of others and against what a closed form gives, the statistics of a
// record against series whose variance is known, and what a verdict says of it.
#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

#include <gmock/gmock.h>

#include "evaluators/combine.h"
#include "evaluators/record_statistics.h"
#include "evaluators/settling.h"
#include "evaluators/uncertainty.h"
#include "filters/draws.h"
#include "src/io/json_out.h"

#include "tests/evaluators/case.h"

namespace becalm::evaluators {
namespace {

using testing::Contains;
using testing::HasSubstr;
using testing::IsEmpty;
using namespace tests;

// ---- propagation ----

struct AdditiveRow {
    const char* source;
    bool rectangular;
    double last;           // standard deviation of the fourth; the others have 1
    double standard, half; // as printed: of the sum, and half the 95 % interval about 0
    double first_order;    // the same half by first order and a normal distribution, as printed
};

class Additive : public testing::TestWithParam<AdditiveRow> {};

TEST_P(Additive, SumHasThePublishedSpread)
{
    const AdditiveRow& row = GetParam();
    Budget budget{.candidates = {{.value = 0.0}}};
    for (std::size_t i = 0; i < 4; ++i) {
        budget.sources.push_back(
            {.name = std::string(1, static_cast<char>('a' + i)), .is_rectangular = row.rectangular});
        budget.candidates.front().contributions.push_back({i, i == 3 ? row.last : 1.0});
    }
    const Propagated drawn(budget, 1'000'000, true);
    // Printed with three digits, beside what a million draws leave open.
    EXPECT_NEAR(drawn.standard(), row.standard, 0.006 * row.standard) << row.source;
    EXPECT_NEAR(drawn.quantile(0.975), row.half, 0.004 * row.half + 0.01) << row.source;
    EXPECT_NEAR(drawn.quantile(0.025), -row.half, 0.004 * row.half + 0.01) << row.source;
    const double exact = std::sqrt(3.0 + row.last * row.last);
    EXPECT_NEAR(Propagated(budget).standard(), exact, 1e-12) << row.source;
    EXPECT_EQ(Propagated(budget).method(), "first order");
    EXPECT_NEAR(1.96 * Propagated(budget).standard(), row.first_order, 0.006 * row.first_order) << row.source;
    EXPECT_NEAR(drawn.standard(), exact, 5e-3 * exact);
}

INSTANTIATE_TEST_SUITE_P(
    Rows, Additive,
    testing::Values(AdditiveRow{"JCGM 101:2008, 9.2.2, normal (from memory)", false, 1.0, 2.0, 3.92, 3.92},
                    AdditiveRow{"JCGM 101:2008, 9.2.3, rectangular (from memory)", true, 1.0, 2.0, 3.88, 3.92},
                    AdditiveRow{"JCGM 101:2008, 9.2.4, one of them ten times as wide (from memory)", true, 10.0, 10.15,
                                17.0, 19.9}));

struct TotalRow {
    const char* source;
    double k, x, y, z, total; // as printed
    double rounding;          // half a unit of the last printed digit of the total
    double value_rounding;    // of the axes
};

class Totals : public testing::TestWithParam<TotalRow> {};

// The value is the published one; a sensor's error of 5 % is common to the axes and stays 5 % of the total, errors of
// each axis alone add up as squares of the shares (computed from the definition).
TEST_P(Totals, CarryACommonErrorWholeAndSeparateOnesAsSquares)
{
    const TotalRow& row = GetParam();
    std::vector<VerdictTerm> terms;
    for (const auto& [axis, factor, value] :
         {std::tuple("x", row.k, row.x), std::tuple("y", row.k, row.y), std::tuple("z", 1.0, row.z)})
        terms.push_back({.axis = axis, .weighting = "W", .factor = factor, .value = value});
    const Combined total = combine(AxisRule::total, terms).front();
    const double slack = row.rounding + row.value_rounding * (2.0 * row.k + 1.0);
    EXPECT_NEAR(total.value, row.total, slack) << row.source;

    constexpr double relative = 0.05 / 2.0;
    Budget common{.sources = {{.name = "calibration"}}, .candidates = {{.value = total.value}}};
    Budget apart{.candidates = {{.value = total.value}}};
    double squares = 0.0;
    for (std::size_t i = 0; i < 3; ++i) {
        common.candidates[0].contributions.push_back({0, relative * total.shares[i]});
        apart.sources.push_back({.name = "statistics"});
        apart.candidates[0].contributions.push_back({i, relative * total.shares[i]});
        squares += std::pow(terms[i].factor * *terms[i].value, 4.0);
    }
    EXPECT_NEAR(Propagated(common).standard(), relative * total.value, 1e-12) << row.source;
    EXPECT_NEAR(Propagated(apart).standard(), relative * std::sqrt(squares) / total.value, 1e-12) << row.source;

    // Drawn through the root of squares itself, not its first order.
    std::mt19937_64 random(7);
    std::normal_distribution<double> deviation(0.0, relative);
    double sum = 0.0, sum_squares = 0.0;
    constexpr int draws = 20000;
    for (int draw = 0; draw < draws; ++draw) {
        double square = 0.0;
        for (const VerdictTerm& term : terms)
            square += std::pow(term.factor * *term.value * (1.0 + deviation(random)), 2.0);
        sum += std::sqrt(square) - total.value;
        sum_squares += std::pow(std::sqrt(square) - total.value, 2.0);
    }
    const double drawn = std::sqrt(sum_squares / draws - std::pow(sum / draws, 2.0));
    EXPECT_NEAR(Propagated(apart).standard(), drawn, 0.02 * drawn) << row.source;
}

constexpr const char* table_2 =
    "International Journal of Industrial Ergonomics 64 (2018) 188-198, Table 2, rounded as printed";
constexpr const char* table_3 =
    "International Journal of Industrial Ergonomics 64 (2018) 188-198, Table 3, rounded as printed";

INSTANTIATE_TEST_SUITE_P(Rows, Totals,
                         testing::Values(TotalRow{table_2, 1.4, 0.44, 0.35, 0.61, 1.00, 0.005, 0.005},
                                         TotalRow{table_2, 1.4, 0.35, 0.38, 0.52, 0.89, 0.005, 0.005},
                                         TotalRow{table_2, 1.4, 0.34, 0.42, 0.49, 0.90, 0.005, 0.005},
                                         TotalRow{table_2, 1.4, 0.23, 0.23, 0.35, 0.57, 0.005, 0.005},
                                         TotalRow{table_2, 1.4, 0.25, 0.24, 0.37, 0.61, 0.005, 0.005},
                                         TotalRow{table_2, 1.4, 0.28, 0.24, 0.47, 0.70, 0.005, 0.005},
                                         TotalRow{table_3, 1.4, 6.7, 5.4, 16.0, 20.0, 0.5, 0.05},
                                         TotalRow{table_3, 1.4, 4.7, 4.9, 6.4, 11.0, 0.5, 0.05},
                                         TotalRow{table_3, 1.4, 4.1, 5.0, 5.6, 11.0, 0.5, 0.05},
                                         TotalRow{table_3, 1.4, 3.2, 3.3, 4.2, 8.0, 0.5, 0.05},
                                         TotalRow{table_3, 1.4, 3.0, 2.9, 4.0, 7.1, 0.05, 0.05},
                                         TotalRow{table_3, 1.4, 5.4, 4.8, 11.0, 15.0, 0.5, 0.05}));

TEST(Propagation, GreatestOfTwoEqualValuesIsDrawn)
{
    // The greater of two independent normal variables: variance 1 - 1 / pi (computed from the definition).
    Budget budget{
        .sources = {{.name = "statistics"}, {.name = "statistics"}},
        .candidates = {{.value = 10.0, .contributions = {{0, 1.0}}}, {.value = 10.0, .contributions = {{1, 1.0}}}}};
    const Propagated drawn(budget, 400'000);
    EXPECT_THAT(drawn.method(), HasSubstr("Monte Carlo, 400000 draws, seed "));
    EXPECT_NEAR(drawn.standard(), std::sqrt(1.0 - 1.0 / std::numbers::pi), 3e-3);
    EXPECT_NEAR(drawn.probability_of_at_least(10.0), 0.75, 3e-3) << "unless both lie below";
    EXPECT_EQ(Propagated(budget, 1000).standard(), Propagated(budget, 1000).standard()) << "the seed is in the budget";
    // Where what moves them is common to both, or one stands clear, nothing competes.
    budget.candidates[1].contributions[0].source = 0;
    budget.candidates[1].value = 9.9;
    EXPECT_FALSE(Propagated(budget).is_monte_carlo());
    budget.candidates[1] = {.value = 2.0, .contributions = {{1, 1.0}}};
    EXPECT_FALSE(Propagated(budget).is_monte_carlo());
}

TEST(Propagation, MaximumHasTheTailOfAGumbelVariable)
{
    const Budget budget{.sources = {{.name = "statistics", .is_maximum = true}},
                        .candidates = {{.value = 10.0, .contributions = {{0, 1.0}}}}};
    const Propagated drawn(budget, 400'000);
    EXPECT_NEAR(drawn.standard(), 1.0, 5e-3);
    // F(x) = exp(-exp(-x)), standardised and turned about its mean (computed from the definition).
    const auto quantile = [](double p) {
        return 10.0 - (-std::log(-std::log(1.0 - p)) - std::numbers::egamma) * std::sqrt(6.0) / std::numbers::pi;
    };
    for (const double p : {0.05, 0.5, 0.95}) EXPECT_NEAR(drawn.quantile(p), quantile(p), 0.02) << p;
}

TEST(Propagation, TellsWhatEachComponentAddsAndItsDegreesOfFreedom)
{
    const Budget budget{.sources = {{.name = "statistics", .method = "m", .dof = 9.0},
                                    {.name = "statistics", .method = "m", .dof = 9.0},
                                    {.name = "calibration", .method = "stated"}},
                        .candidates = {{.value = 1.0, .contributions = {{0, 3.0}, {1, 3.0}, {2, 1.0}, {2, -3.0}}}}};
    const Propagated result(budget);
    ASSERT_EQ(result.components().size(), 2U);
    EXPECT_DOUBLE_EQ(result.components()[0].standard, std::sqrt(18.0 * 18.0 / 16.0)) << "of the t-distribution";
    EXPECT_NEAR(result.components()[0].dof.value_or(0.0), 18.0, 1e-12) << "Welch-Satterthwaite: two equal ones";
    EXPECT_DOUBLE_EQ(result.components()[1].standard, 2.0) << "one source adds up with its sign";
    EXPECT_FALSE(result.components()[1].dof.has_value());
    const double standard = std::sqrt(18.0 * 18.0 / 16.0 + 4.0);
    EXPECT_DOUBLE_EQ(result.standard(), standard);
    EXPECT_NEAR(result.probability_of_at_least(1.0 + 1.959964 * standard), 0.025, 1e-7);
}

// ---- statistics of a record ----

// x_i = a x_(i-1) + e_i: the variance of the mean is s^2 / (1 - a)^2 / n for long series (computed from the
// definition).
TEST(VarianceOfMean, FollowsTheCorrelationOfNeighbours)
{
    for (const double a : {0.0, 0.5, 0.8}) {
        std::mt19937_64 random(11);
        std::normal_distribution<double> deviation;
        double sum = 0.0;
        constexpr int series = 200;
        constexpr std::size_t n = 1000;
        for (int i = 0; i < series; ++i) {
            std::vector<double> values(n);
            double x = deviation(random) / std::sqrt(1.0 - a * a);
            for (double& value : values) value = x = a * x + deviation(random);
            const VarianceOfMean found = variance_of_mean(values);
            EXPECT_EQ(found.dof, static_cast<double>(n / found.block) - 1.0);
            sum += found.variance * static_cast<double>(n) * (1.0 - a) * (1.0 - a);
        }
        EXPECT_NEAR(sum / series, 1.0, a == 0.0 ? 0.03 : 0.15) << a << ": over its true value";
    }
}

TEST(VarianceOfMean, SaysThatADriftDoesNotSettle)
{
    std::vector<double> drift(1024);
    for (std::size_t i = 0; i < drift.size(); ++i) drift[i] = static_cast<double>(i);
    EXPECT_FALSE(variance_of_mean(drift).settled);
}

TEST(Draws, NormalQuantileInvertsTheDistribution)
{
    // Two-sided 90 %, 95 % and 99 % factors of the normal distribution: JCGM 100:2008, Table G.1.
    EXPECT_NEAR(filters::normal_quantile(0.95), 1.645, 5e-4);
    EXPECT_NEAR(filters::normal_quantile(0.975), 1.960, 5e-4);
    EXPECT_NEAR(filters::normal_quantile(0.005), -2.576, 5e-4);
}

// x_i = a x_(i-1) + e_i: the correlation over k values is a^k, their sum over all distances (1 + a) / (1 - a) (computed
// from the definition).
TEST(CorrelatedValues, AreThoseOfTheSeries)
{
    for (const double a : {0.0, 0.5, 0.8}) {
        std::mt19937_64 random(5);
        std::normal_distribution<double> deviation;
        double sum = 0.0;
        constexpr int series = 50;
        for (int i = 0; i < series; ++i) {
            std::vector<double> values(2000);
            double x = deviation(random) / std::sqrt(1.0 - a * a);
            for (double& value : values) value = x = a * x + deviation(random);
            sum += correlated_values(values) / series;
        }
        const double together = (1.0 + a) / (1.0 - a);
        EXPECT_NEAR(sum, together, 0.1 * together) << a;
    }
}

// ---- what would settle a verdict ----

Budget of_calibration_and_statistics(UncertaintySource statistics)
{
    statistics.name = "statistics";
    return {.sources = {{.name = "calibration"}, std::move(statistics)},
            .candidates = {{.value = 10.0, .contributions = {{0, 1.0}, {1, 2.0}}}}};
}

TEST(Settling, SolvesForTheRecordThatWouldDo)
{
    // 1 + 4 / n = (|bound - 10| / 2)^2 (computed from the definition).
    const Budget budget = of_calibration_and_statistics({.shrinks = Shrinks::with_time, .amount = 60.0});
    const Propagated value(budget);
    for (const double bound : {7.0, 13.0}) {
        const auto found = settling(value, bound, 2.0, "m/s2");
        ASSERT_TRUE(found && found->times) << bound;
        EXPECT_EQ(found->bound, bound);
        EXPECT_NEAR(*found->times, 3.2, 0.004);
        EXPECT_NEAR(found->more_s.value_or(0.0), 2.2 * 60.0, 0.3);
        EXPECT_FALSE(found->more_events || found->more_recordings);
        EXPECT_THAT(found->words, HasSubstr("2.2 min more of the same motion (3.2 times as much in all)"));
        Budget longer = budget;
        longer.candidates[0].contributions[1].standard /= std::sqrt(*found->times);
        EXPECT_NEAR(2.0 * Propagated(longer).standard(), 3.0, 0.002) << "to the bound and no farther";
    }
    EXPECT_FALSE(settling(value, 15.0, 2.0, "m/s2")) << "2 sqrt(5) = 4.47 does not reach it";
}

TEST(Settling, CountsEventsWithTheirDegreesOfFreedom)
{
    const Budget budget = of_calibration_and_statistics({.dof = 9.0, .shrinks = Shrinks::with_events, .amount = 10.0});
    const auto found = settling(Propagated(budget), 13.0, 2.0, "1");
    ASSERT_TRUE(found && found->times);
    // 1 + 4 / n f / (f - 2) = 2.25 with f = 10 n - 1: 10 n^2 - 35 n + 3.2 = 0 (computed from the definition).
    const double n = (35.0 + std::sqrt(35.0 * 35.0 - 4.0 * 3.2 * 10.0)) / 20.0;
    const double f = 10.0 * *found->times - 1.0;
    EXPECT_NEAR(1.0 + 4.0 / *found->times * f / (f - 2.0), 2.25, 0.005);
    EXPECT_NEAR(*found->times, n, 0.05 * n);
    EXPECT_EQ(found->more_events.value_or(0.0), std::ceil(10.0 * (*found->times - 1.0)));
    EXPECT_THAT(found->words, HasSubstr(" more events ("));
}

TEST(Settling, SaysWhatStandsInTheWay)
{
    const Propagated value(of_calibration_and_statistics({.shrinks = Shrinks::with_time, .amount = 60.0}));
    const auto too_near = settling(value, 11.9, 2.0, "m/s2");
    ASSERT_TRUE(too_near);
    EXPECT_FALSE(too_near->times || too_near->more_s);
    EXPECT_EQ(too_near->in_the_way, "calibration");
    EXPECT_THAT(too_near->words, HasSubstr("measuring longer would not tell"));
    EXPECT_EQ(settling(value, 10.0, 2.0, "m/s2").value().in_the_way, "calibration") << "on the bound itself";
    const Propagated greatest(of_calibration_and_statistics({.dof = 11.0, .is_maximum = true}));
    const auto of_maximum = settling(greatest, 13.0, 2.0, "m/s2");
    ASSERT_TRUE(of_maximum);
    EXPECT_EQ(of_maximum->in_the_way, "statistics");
    EXPECT_THAT(of_maximum->words, HasSubstr("the scatter of the greatest value stands in the way"));
}

// ---- verdicts ----

Signal steady_noise(double seconds, std::uint64_t seed, double amplitude = 0.3)
{
    Signal signal = noise(static_cast<std::size_t>(256.0 * seconds), seed);
    for (double& x : signal) x *= amplitude;
    return signal;
}

const std::string sensor = "[[sensor]]\nid = \"s\"\nuncertainty_percent = 4.0";

Verdict judged(const std::string& head, const std::string& criterion, const std::vector<Signal>& signals,
               const std::string& channels, const std::string& more = "sensor = \"s\"")
{
    return Case("vessel")
        .table(head)
        .space("s", "passenger-cabin")
        .table(sensor)
        .recording("a.wav", "s", channels, signals, more, 256)
        .judge("\"" + criterion + "\"")
        .verdict();
}

double standard_of(const Verdict& verdict, const std::string& name)
{
    const auto& all = verdict.uncertainty->components;
    const auto found = std::ranges::find(all, name, &UncertaintyComponent::name);
    return found == all.end() ? -1.0 : found->standard;
}

TEST(Uncertainty, IsTheWholeOfItsComponents)
{
    const Verdict verdict =
        judged("mounting_percent = 3.0\nposition_percent = 6.0", "iso6954-2000", {steady_noise(120.0, 1)}, "1 = \"z\"");
    ASSERT_TRUE(verdict.uncertainty && verdict.value) << verdict.why_not;
    const double value = *verdict.value;
    EXPECT_NEAR(standard_of(verdict, "calibration"), 0.02 * value, 1e-12);
    EXPECT_NEAR(standard_of(verdict, "mounting"), 0.015 * value, 1e-12);
    EXPECT_NEAR(standard_of(verdict, "position"), 0.03 * value, 1e-12);
    EXPECT_NEAR(standard_of(verdict, "filter"), 1e-4 / std::sqrt(3.0) * value, 1e-12);
    EXPECT_GT(standard_of(verdict, "statistics"), 0.0);
    double squares = 0.0;
    for (const UncertaintyComponent& component : verdict.uncertainty->components)
        squares += component.standard * component.standard;
    EXPECT_NEAR(verdict.uncertainty->standard.value_or(0.0), std::sqrt(squares), 1e-12);
    EXPECT_DOUBLE_EQ(verdict.expanded_uncertainty.value_or(0.0), 2.0 * *verdict.uncertainty->standard);
    EXPECT_EQ(verdict.uncertainty->method, "first order");
    EXPECT_THAT(verdict.uncertainty->not_covered, IsEmpty());
}

TEST(Uncertainty, HoldsTheDriftBetweenTheChecks)
{
    // 4 % from before to after, values uncorrected: rectangular with that half width, 4 / sqrt(3) % (JCGM 100, 4.3.7).
    Case made("vessel");
    for (const auto& [name, factor] : {std::pair("before.wav", 1.0), std::pair("after.wav", 1.04)})
        ASSERT_TRUE(io::write_audio(made.path(name), {.rate_hz = 1000, .channels = 1},
                                    sine(factor * 10.0 * std::sqrt(2.0), 159.2, 1000.0, 10.0)));
    const Assessment assessment =
        made.table(sensor)
            .space("s", "passenger-cabin")
            .recording("a.wav", "s", "1 = \"z\"", {steady_noise(60.0, 1)}, "sensor = \"s\"", 256)
            .table("[[calibration_check]]\nfile = \"before.wav\"\nsensor = \"s\"\nwhen = \"before\"")
            .table("[[calibration_check]]\nfile = \"after.wav\"\nsensor = \"s\"\nwhen = \"after\"")
            .judge("\"iso6954-2000\"")
            .assessment();
    ASSERT_EQ(assessment.verdicts.size(), 1U);
    const Verdict& verdict = assessment.verdicts[0];
    ASSERT_TRUE(verdict.uncertainty && verdict.value) << verdict.why_not;
    EXPECT_NEAR(standard_of(verdict, "drift") / *verdict.value, 0.04 / std::sqrt(3.0), 2e-5);
    const auto drift = std::ranges::find(verdict.uncertainty->components, "drift", &UncertaintyComponent::name);
    EXPECT_EQ(drift->method, "sensor s: +4 % from the check before to the one after, rectangular");
}

TEST(Uncertainty, TakesTheNearestStatementOfMountingAndPosition)
{
    const Assessment assessment =
        Case("vessel")
            .table("mounting_percent = 3.0\nposition_percent = 6.0")
            .table(sensor)
            .space("s", "passenger-cabin")
            .table("[[space]]\nid = \"t\"\nuse = \"passenger-cabin\"\nposition_percent = 8.0")
            .recording("a.wav", "s", "1 = \"z\"", {steady_noise(60.0, 1)}, "sensor = \"s\"\nmounting_percent = 10.0",
                       256)
            .recording("b.wav", "t", "1 = \"z\"", {steady_noise(60.0, 1)}, "sensor = \"s\"", 256)
            .recording("c.wav", "t", "1 = \"z\"", {steady_noise(60.0, 1)},
                       "sensor = \"s\"\nposition = \"bed\"\nposition_percent = 0.5", 256)
            .judge("\"iso6954-2000\"")
            .assessment();
    const std::vector<std::pair<double, double>> stated{{10.0, 6.0}, {3.0, 8.0}, {3.0, 0.5}};
    ASSERT_EQ(assessment.verdicts.size(), stated.size());
    for (std::size_t i = 0; i < stated.size(); ++i) {
        const Verdict& verdict = assessment.verdicts[i];
        ASSERT_TRUE(verdict.uncertainty && verdict.value) << verdict.why_not;
        EXPECT_NEAR(standard_of(verdict, "mounting"), stated[i].first / 200.0 * *verdict.value, 1e-12) << i;
        EXPECT_NEAR(standard_of(verdict, "position"), stated[i].second / 200.0 * *verdict.value, 1e-12) << i;
    }
}

TEST(Uncertainty, OfSpectraFallsWithTheRootOfTheTime)
{
    double ratio = 0.0;
    for (std::uint64_t seed = 1; seed <= 8; ++seed) {
        const auto of = [&](double seconds) {
            const Verdict verdict =
                Case("rail")
                    .table(sensor)
                    .space("s", "coach")
                    .recording("a.wav", "s", "1 = \"z\"", {steady_noise(seconds, seed)}, "sensor = \"s\"", 256)
                    .table("[[judge]]\ncriteria = [\"ride-index-weighted-vertical\"]\n"
                           "confirmed-by = \"a test\"")
                    .verdict();
            EXPECT_TRUE(verdict.uncertainty && verdict.uncertainty->not_covered.empty()) << verdict.why_not;
            return standard_of(verdict, "statistics");
        };
        ratio += of(240.0) / of(960.0) / 8.0;
    }
    EXPECT_NEAR(ratio, 2.0, 0.6) << "four times as long";
}

struct ToldRow {
    const char* setting;
    const char* criterion;
    const char* axis;
    const char* method; // part of it
    double seconds = 240.0;
};

class Told : public testing::TestWithParam<ToldRow> {};

// The same noise under six seeds: what one record tells of its scatter is of the size of theirs.
TEST_P(Told, StatisticsOfARecordOfNoise)
{
    const ToldRow& row = GetParam();
    constexpr int records = 6;
    std::vector<double> values;
    double told = 0.0;
    for (int seed = 1; seed <= records; ++seed) {
        Signal signal = steady_noise(row.seconds, static_cast<std::uint64_t>(seed), 0.05);
        for (std::size_t i = 0; i < signal.size(); ++i)
            signal[i] += 0.02 * std::sin(2.0 * static_cast<double>(i)); // a line at 81.5 Hz
        const Verdict verdict =
            Case(row.setting)
                .table(sensor)
                .space("s", "passenger-cabin")
                .table("[[condition]]\nid = \"c\"\nperiod = \"day\"")
                .recording("a.wav", "s", fmt::format("1 = \"{}\"", row.axis), {signal},
                           "sensor = \"s\"\ncondition = \"c\"", 256)
                .table(fmt::format("[[judge]]\ncriteria = [\"{}\"]\nconfirmed-by = \"a test\"", row.criterion))
                .verdict();
        ASSERT_TRUE(verdict.value && verdict.uncertainty) << verdict.why_not;
        EXPECT_THAT(verdict.uncertainty->not_covered, IsEmpty());
        const auto& all = verdict.uncertainty->components;
        const auto found = std::ranges::find(all, std::string("statistics"), &UncertaintyComponent::name);
        ASSERT_NE(found, all.end());
        EXPECT_THAT(found->method, HasSubstr(row.method));
        values.push_back(*verdict.value);
        told += found->standard / records;
    }
    double mean = 0.0, squares = 0.0;
    for (const double value : values) mean += value / records;
    for (const double value : values) squares += (value - mean) * (value - mean) / (records - 1);
    EXPECT_GT(told, 0.3 * std::sqrt(squares));
    EXPECT_LT(told, 4.0 * std::sqrt(squares)) << "a standard deviation of six values";
}

INSTANTIATE_TEST_SUITE_P(
    Rows, Told,
    testing::Values(ToldRow{"lift", "iso18738-1-2012-a95-vertical", "z", "percentiles drawn from"},
                    ToldRow{"lift", "iso18738-1-2012-greatest", "z", "scatter of the maxima of 12 sections of 20 s"},
                    ToldRow{"lift", "iso18738-1-2012-jerk", "z", "scatter of the maxima of 12 sections of 20 s"},
                    ToldRow{"vessel", "nordforsk-1987-lateral", "y", "variance of the mean over blocks", 620.0},
                    ToldRow{"vessel", "iso6954-1984", "z", "parts of the spectra left out in turn"},
                    ToldRow{"rail", "ride-index-components-vertical", "z", "parts of the spectra left out in turn"}),
    [](const auto& row) { return fmt::format("Row{}", row.index); });

TEST(Uncertainty, StatisticsFallWithTheRootOfTheTime)
{
    double ratio = 0.0;
    for (std::uint64_t seed = 1; seed <= 8; ++seed)
        ratio += standard_of(judged("", "iso6954-2000", {steady_noise(60.0, seed)}, "1 = \"z\""), "statistics") /
                 standard_of(judged("", "iso6954-2000", {steady_noise(960.0, seed)}, "1 = \"z\""), "statistics") / 8.0;
    EXPECT_NEAR(ratio, 4.0, 0.6) << "16 times as long";
}

TEST(Uncertainty, OfTwoAxesAboutAlikeIsDrawn)
{
    const std::vector<Signal> alike{steady_noise(60.0, 1), steady_noise(60.0, 2)};
    const Verdict close = judged("", "iso6954-2000", alike, "1 = \"x\", 2 = \"z\"");
    ASSERT_TRUE(close.uncertainty);
    EXPECT_THAT(close.uncertainty->method, HasSubstr("Monte Carlo"));
    const Verdict clear =
        judged("", "iso6954-2000", {steady_noise(60.0, 1), steady_noise(60.0, 2, 0.03)}, "1 = \"x\", 2 = \"z\"");
    EXPECT_EQ(clear.uncertainty.value().method, "first order");
}

TEST(Uncertainty, OfARunningMaximumIsDrawnAndOfAShockIsNotKnown)
{
    Case survey("building");
    survey.space("s", "residential").table(sensor);
    Signal shocked = steady_noise(60.0, 3, 1e-4);
    for (std::size_t i = 8000; i < 8200; ++i) shocked[i] *= 50.0;
    survey.recording("a.wav", "s", "1 = \"z\"", {steady_noise(60.0, 3, 1e-4)},
                     "unit = \"m/s\"\nsensor = \"s\"\ncondition = \"day\"", 256);
    survey.recording("b.wav", "s", "1 = \"z\"", {shocked}, "unit = \"m/s\"\nsensor = \"s\"\ncondition = \"shock\"",
                     256);
    survey.table("[[condition]]\nid = \"day\"\n[[condition]]\nid = \"shock\"");
    const Assessment both = survey.judge("\"fta-2018-frequent\"").assessment();
    ASSERT_EQ(both.verdicts.size(), 2U);
    for (const Verdict& verdict : both.verdicts) ASSERT_TRUE(verdict.uncertainty) << verdict.why_not;
    EXPECT_THAT(both.verdicts[0].uncertainty->method, HasSubstr("Monte Carlo"));
    EXPECT_GT(standard_of(both.verdicts[0], "statistics"), 0.0);
    EXPECT_THAT(both.verdicts[1].uncertainty->not_covered, Contains(HasSubstr("stands alone")));
}

TEST(Uncertainty, IsUnknownWhereASensorStatesNone)
{
    const Verdict verdict = judged("", "iso6954-2000", {steady_noise(60.0, 1)}, "1 = \"z\"", "");
    ASSERT_TRUE(verdict.judged && verdict.uncertainty);
    EXPECT_FALSE(verdict.expanded_uncertainty.has_value());
    EXPECT_FALSE(verdict.uncertainty->standard.has_value());
    EXPECT_THAT(verdict.uncertainty->not_covered, Contains("calibration: a recording names no sensor"));
    EXPECT_GT(standard_of(verdict, "statistics"), 0.0) << "what is known is told";
}

TEST(Uncertainty, TakesTheScatterBetweenRepeatsWhereThatIsGreater)
{
    Case survey("vessel");
    survey.space("s", "passenger-cabin").table(sensor);
    for (int i = 0; i < 4; ++i)
        survey.recording(fmt::format("{}.wav", i), "s", "1 = \"z\"",
                         {steady_noise(60.0, static_cast<std::uint64_t>(i + 1), 0.3 + 0.1 * i)}, "sensor = \"s\"", 256);
    const Verdict verdict = survey.judge("\"iso6954-2000\"").verdict();
    ASSERT_TRUE(verdict.uncertainty);
    // Mean squares as 9, 16, 25, 36: s / (2 mean sqrt(4)) = 0.135, times sqrt(3) for 3 degrees of freedom (computed).
    EXPECT_NEAR(standard_of(verdict, "statistics") / *verdict.value, 0.135 * std::sqrt(3.0), 0.03);
    const auto& all = verdict.uncertainty->components;
    EXPECT_EQ(std::ranges::find(all, std::string("statistics"), &UncertaintyComponent::name)->method,
              "between 4 recordings");
}

// ---- decisions ----

// A tone whose weighted value lies `share` of the first limit of the scale that the verdict has.
Verdict near_the_limit(const std::string& head, double share, const std::string& more = "sensor = \"s\"")
{
    const auto at = [&](double amplitude) {
        return judged(head, "iso6954-2000", {sine(amplitude, 16.0, 256.0, 60.0)}, "1 = \"z\"", more);
    };
    const Verdict once = at(0.01);
    const auto exceeding = std::ranges::find(once.bands, true, &Band::exceeds);
    const double limit = *std::prev(exceeding)->limit;
    return at(0.01 * share * limit / *once.value);
}

TEST(Decision, SaysHowSureItIs)
{
    for (const auto& [share, probability] : {std::pair(0.98, 0.154), std::pair(1.0, 0.5), std::pair(1.02, 0.837)}) {
        // The value over the limit, in standard uncertainties of 2 %: normal (computed).
        const Verdict verdict = near_the_limit("", share);
        ASSERT_TRUE(verdict.uncertainty);
        EXPECT_NEAR(verdict.uncertainty->probability_exceeded.value_or(-1.0), probability, 2e-3) << share;
        const double of_band = share < 1.0 ? 1.0 - probability : probability;
        if (share == 1.0) continue; // on either side by rounding
        EXPECT_NEAR(verdict.uncertainty->probability_of_band.value_or(-1.0), of_band, 2e-3);
        EXPECT_EQ(verdict.exceeded, share > 1.0);
    }
}

TEST(Decision, SaysWhatWouldSettleIt)
{
    const Verdict tone = near_the_limit("", 0.98);
    ASSERT_TRUE(tone.uncertainty && tone.uncertainty->settling);
    EXPECT_EQ(tone.uncertainty->settling->in_the_way, "calibration") << "a tone does not scatter";
    EXPECT_FALSE(near_the_limit("", 0.9).uncertainty.value().settling);

    // Noise so near to a limit that 4 % of the sensor leave room: the longer record is settled.
    const auto noise_of = [&](double seconds, double amplitude) {
        return judged("", "iso6954-2000", {steady_noise(seconds, 3, amplitude)}, "1 = \"z\"");
    };
    const Verdict once = noise_of(60.0, 0.1);
    const auto exceeding = std::ranges::find(once.bands, true, &Band::exceeds);
    const double limit = *std::prev(exceeding)->limit;
    const double amplitude = 0.1 * limit / *once.value * 0.955;
    const Verdict near = noise_of(60.0, amplitude);
    ASSERT_TRUE(near.uncertainty && near.uncertainty->settling) << "U " << near.expanded_uncertainty.value_or(0.0);
    const Settling& settling = *near.uncertainty->settling;
    EXPECT_EQ(settling.bound, limit);
    ASSERT_TRUE(settling.times && settling.more_s) << settling.words;
    EXPECT_NEAR(*settling.more_s, (*settling.times - 1.0) * 58.0, 3.0) << "but for the run-in";
    const Verdict longer = noise_of(60.0 + 1.5 * *settling.more_s, amplitude);
    ASSERT_TRUE(longer.uncertainty);
    EXPECT_LT(longer.expanded_uncertainty.value_or(1.0) / *longer.value, limit / *near.value - 1.0);
}

TEST(Decision, GuardedExceedsUnlessItSurelyDoesNot)
{
    // U = 4 %: 0.97 with it lies above the limit, 0.95 below.
    EXPECT_FALSE(near_the_limit("", 0.97).exceeded);
    EXPECT_FALSE(near_the_limit("decision_rule = \"simple\"", 0.97).exceeded);
    const Verdict guarded = near_the_limit("decision_rule = \"guarded\"", 0.97);
    EXPECT_TRUE(guarded.exceeded);
    EXPECT_THAT(guarded.notes, Contains(HasSubstr("guarded: the value with its expanded uncertainty")));
    EXPECT_FALSE(near_the_limit("decision_rule = \"guarded\"", 0.95).exceeded);
}

TEST(Decision, GuardedIsRefusedWhereTheUncertaintyIsUnknown)
{
    const Verdict verdict =
        judged("decision_rule = \"guarded\"", "iso6954-2000", {steady_noise(60.0, 1)}, "1 = \"z\"", "");
    EXPECT_FALSE(verdict.judged);
    EXPECT_THAT(verdict.why_not, HasSubstr("names no sensor"));
    EXPECT_THAT(verdict.why_not, HasSubstr("decision_rule = \"simple\""));
}

TEST(Decision, GuardedHoldsForTheTwoStepsOfADecision)
{
    const auto at = [](const std::string& head, double amplitude) {
        return Case("building")
            .table(head)
            .space("s", "residential")
            .table(sensor)
            .table("[[condition]]\nid = \"c\"\nperiod = \"day\"\nexposure_h = 1.0")
            .recording("a.wav", "s", "1 = \"z\"", {sine(amplitude, 16.0, 256.0, 240.0)},
                       "unit = \"mm/s\"\nsensor = \"s\"\ncondition = \"c\"", 256)
            .judge("\"din4150-2-1999-day\"")
            .assessment();
    };
    const Assessment once = at("", 0.1);
    if (once.verdicts.empty() || !once.verdicts[0].decision) GTEST_FAIL() << "no decision";
    const double lower = once.verdicts[0].decision->limits.lower;
    const double amplitude = 0.1 * 0.98 * lower / *once.verdicts[0].value;
    const Verdict simple = at("", amplitude).verdicts[0];
    const Verdict guarded = at("decision_rule = \"guarded\"", amplitude).verdicts[0];
    EXPECT_EQ(simple.band_index, 0);
    ASSERT_TRUE(guarded.judged) << guarded.why_not;
    EXPECT_EQ(guarded.band_index, 1) << "with 4 % it passes the lower limit, and the average is far below its own";
}

TEST(Decision, IsTheSameEveryTime)
{
    Case survey("vessel");
    survey.space("s", "passenger-cabin").table(sensor);
    survey.recording("a.wav", "s", "1 = \"x\", 2 = \"z\"", {steady_noise(60.0, 1), steady_noise(60.0, 2)},
                     "sensor = \"s\"", 256);
    survey.judge("\"iso6954-2000\"");
    const std::string once = io::as_json(survey.assessment());
    EXPECT_THAT(once, HasSubstr("Monte Carlo"));
    EXPECT_EQ(once, io::as_json(survey.assessment({.jobs = 1})));
}

} // namespace
} // namespace becalm::evaluators
