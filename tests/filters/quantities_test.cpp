// From samples through the lane bank and the running sums to the quantities: steady signals, bursts, worked examples.
//
// Sources of the rows:
//   definition    computed from the definition by two independent methods that agree to the digits given
//   publication   the numbers are printed there; a key of data/sources.toml where it has one
#include <array>
#include <cmath>
#include <functional>
#include <numbers>
#include <span>
#include <stdexcept>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "filters/lane_bank.h"
#include "filters/quantities.h"
#include "filters/weighting.h"

#include "tests/filters/signals.h"

namespace becalm::filters {
namespace {

using std::numbers::pi;
using tests::ledger_of;
using tests::Signal;

struct Row {
    std::string what;
    double got;
    double expected;
    double relative; // tolerance
    const char* source;
};

void check(const Row& row)
{
    EXPECT_LE(std::abs(row.got - row.expected), row.relative * std::abs(row.expected))
        << fmt::format("{}: got {:.8g}, expected {:.8g} within {:.3g} of it, is off by {:.3g} of it [{}]", row.what,
                       row.got, row.expected, row.relative, std::abs(row.got / row.expected - 1.0), row.source);
}

// ---- steady signals ----

double vdv_ratio(const Tally& tally) { return vdv(tally) / (weighted_rms(tally) * std::pow(tally.duration_s, 0.25)); }

TEST(Quantities, OfASteadySine)
{
    // Whole periods, the crest on a sample.
    constexpr double rate = 1000.0;
    Signal sine(60000);
    for (std::size_t i = 0; i < sine.size(); ++i)
        sine[i] = 0.3 * std::sin(2.0 * pi * 10.0 * static_cast<double>(i) / rate);
    const Tally tally = fold(ledger_of(sine, rate));
    check({"r.m.s.", weighted_rms(tally), 0.3 / std::sqrt(2.0), 1e-12, "definition"});
    check({"crest factor", crest_factor(tally), 1.4142, 5e-5, "definition, digits given"});
    check({"VDV / (a_w T^(1/4))", vdv_ratio(tally), 1.1067, 5e-5, "definition, digits given: 1.5^(1/4)"});
    check({"MTVV", tally.linear_rms, 0.3 / std::sqrt(2.0), 1e-12, "definition: ten periods fill the second"});
}

TEST(Quantities, OfASteadySaw)
{
    // 20,000 samples a period at the middle of their intervals: peak and fourth power are those of the continuous saw
    // to 5e-5 of it.
    constexpr double rate = 20000.0;
    Signal saw(100000);
    for (std::size_t i = 0; i < saw.size(); ++i) saw[i] = 2.0 * (static_cast<double>(i % 20000) + 0.5) / 20000.0 - 1.0;
    const Tally tally = fold(ledger_of(saw, rate));
    check({"crest factor", crest_factor(tally), 1.7321, 1e-4, "definition, digits given"});
    check({"VDV / (a_w T^(1/4))", vdv_ratio(tally), 1.1583, 1e-4, "definition, digits given: 1.8^(1/4)"});
}

TEST(Quantities, OfGaussianNoise)
{
    // The kurtosis of N normal samples scatters by sqrt(24 / N), its fourth root by sqrt(24 / N) / 12 of it: 0.041 %
    // here. Five times that is allowed; the samples are the same every time.
    constexpr std::size_t count = 1000000;
    const Signal a = tests::noise(count, 1), b = tests::noise(count, 2);
    Signal normal(count);
    for (std::size_t i = 0; i < count; ++i) // Box and Muller's way
        normal[i] = std::sqrt(-2.0 * std::log(0.5 * (a[i] + 1.0) + 0x1p-54)) * std::cos(pi * b[i]);
    const Tally tally = fold(ledger_of(normal, 1000.0));
    check(
        {"VDV / (a_w T^(1/4))", vdv_ratio(tally), 1.3161, 5.0 * std::sqrt(24.0 / count) / 12.0, "definition: 3^(1/4)"});
    check({"r.m.s.", weighted_rms(tally), 1.0, 5.0 / std::sqrt(2.0 * count),
           "definition; scatter of the r.m.s. of N samples"});
}

TEST(Quantities, OfAConstantBurst)
{
    // Unweighted, of length d and height a: linear a sqrt(min(d, 1)), exponential a sqrt(1 - exp(-d)). Exact in samples
    // too.
    constexpr double rate = 500.0, height = 0.7;
    for (const double length : {0.05, 0.5, 1.0, 1.5, 3.0}) {
        Signal burst(static_cast<std::size_t>(8.0 * rate), 0.0);
        const auto begin = static_cast<std::ptrdiff_t>(2.3 * rate);
        std::fill_n(burst.begin() + begin, static_cast<std::ptrdiff_t>(std::lround(length * rate)), height);
        const Tally tally = fold(ledger_of(burst, rate));
        const std::string name = fmt::format("burst of {} s: ", length);
        check({name + "linear", tally.linear_rms, height * std::sqrt(std::min(length, 1.0)), 1e-12, "definition"});
        check({name + "exponential, 1 s", tally.exponential_rms_slow, height * std::sqrt(1.0 - std::exp(-length)),
               1e-12, "definition"});
        check({name + "exponential, 0.125 s", tally.exponential_rms_fast,
               height * std::sqrt(1.0 - std::exp(-8.0 * length)), 1e-12, "definition"});
        check({name + "MSDV", msdv(tally), height * std::sqrt(length), 1e-12, "definition"});
        check({name + "VDV", vdv(tally), height * std::pow(length, 0.25), 1e-12, "definition"});
        if (length == 1.0)
            check({name + "exponential / linear", tally.exponential_rms_slow / tally.linear_rms, 0.7951, 1e-4,
                   "definition, digits given"});
    }
}

TEST(Quantities, OfNothingAreZero)
{
    const Tally nothing{};
    EXPECT_EQ(weighted_rms(nothing), 0.0);
    EXPECT_EQ(crest_factor(nothing), 0.0);
    EXPECT_EQ(vdv(nothing), 0.0);
    EXPECT_EQ(evdv(nothing), 0.0);
    EXPECT_EQ(msdv(nothing), 0.0);
    EXPECT_EQ(total_value({}), 0.0);
    const Tally silence = fold(ledger_of(Signal(1000, 0.0), 100.0));
    EXPECT_EQ(crest_factor(silence), 0.0);
    EXPECT_EQ(weighted_rms(silence), 0.0);
}

// ---- bursts ----

// Integrals of the two waveforms of unit amplitude over their phase, in periods: the antiderivative lets a sample be
// the mean over its interval.
double sine_integral(double periods) { return (1.0 - std::cos(2.0 * pi * periods)) / (2.0 * pi); }

double saw_integral(double periods)
{
    // 0 -> +1 at half period, jump to -1, -> 0: 2u until u = 1/2, 2u - 2 after; whole periods integrate to nothing.
    const double u = periods - std::floor(periods);
    return u <= 0.5 ? u * u : (1.0 - u) * (1.0 - u);
}

// `cycles` periods from `start_s` on, zero before and after. A sample is the mean of the waveform over the interval of
// one sample around it: taken at points, the saw's jump and the corners, which do not fall on samples, would shift by
// up to half an interval and fold back strongly. The mean lowers what is at f by (pi f / rate)^2 / 6 of it, so 7e-6 at
// the bursts' own 16 Hz and 1.6e-4 at 80 Hz for 8 kHz, and makes what folds back fall by one power of f faster. The
// tolerance of 0.1 % covers that and the half unit of the fourth digit that the values are given to, up to 0.05 %.
Signal burst(const std::function<double(double)>& integral, double w, int cycles, double rate_hz, double start_s,
             double duration_s)
{
    Signal signal(static_cast<std::size_t>(duration_s * rate_hz));
    const double hz = w / (2.0 * pi);
    const auto until = [&](double sample) {
        return integral(std::clamp((sample / rate_hz - start_s) * hz, 0.0, static_cast<double>(cycles)));
    };
    for (std::size_t i = 0; i < signal.size(); ++i) {
        const auto at = static_cast<double>(i);
        signal[i] = (until(at + 0.5) - until(at - 0.5)) * rate_hz / hz;
    }
    return signal;
}

Tally weighted(WeightingId id, const Signal& signal, double rate_hz)
{
    const auto weighting = design(id, Motion::acceleration, rate_hz);
    if (!weighting) throw std::runtime_error(to_text(weighting.error()));
    constexpr std::size_t block = 4096;
    const std::array lanes{BankLane{.input = 0, .weighting = *weighting}};
    LaneBank bank(lanes, block);
    LaneGroup& group = bank.groups()[0];
    RowAccumulator accumulator(group.width(), 1, rate_hz, 0);
    auto late = static_cast<std::size_t>(group.latency());
    for (std::size_t done = 0; done < signal.size(); done += block) {
        const std::size_t rows = std::min(block, signal.size() - done);
        const double* channel = signal.data() + done;
        bank.process(std::span(&channel, 1), rows);
        const std::size_t skipped = std::min(late, rows);
        late -= skipped;
        accumulator.add(group.rows() + skipped * static_cast<std::size_t>(group.width()), rows - skipped);
    }
    accumulator.finish();
    return fold({.lane = {}, .rate_hz = rate_hz, .first_second = 0, .rows = accumulator.rows_of(0)});
}

struct BurstValues {
    double peak;
    double root_integral;            // sqrt(integral a_w^2 dt), the MSDV
    double linear, exponential, vdv; // 0: not given
};

struct BurstRow {
    WeightingId id;
    int cycles;
    BurstValues sine, saw;
};

using enum WeightingId;

// Unit peak amplitude; 100 rad/s, for Wf 2.5 rad/s; full decay included.
const std::array burst_rows{
    BurstRow{Wd, 1, {0.2119, 0.03654, 0.03653, 0.03403, 0.07579}, {0.1643, 0.02115, 0.02115, 0.01975, 0.04929}},
    BurstRow{Wd, 2, {0.2119, 0.04811, 0.04811, 0.04429, 0.08256}, {0.1643, 0.02824, 0.02824, 0.02603, 0.05393}},
    BurstRow{Wd, 4, {0.2119, 0.0599, 0.05988, 0.05385, 0.09019}, {0.1643, 0.03618, 0.03617, 0.03258, 0.05846}},
    BurstRow{Wd, 8, {0.2119, 0.07413, 0.07397, 0.06293, 0.09732}, {0.1643, 0.04644, 0.04637, 0.03964, 0.06406}},
    BurstRow{Wd, 16, {0.2119, 0.09696, 0.09367, 0.07416, 0.1079}, {0.1643, 0.06228, 0.06095, 0.048, 0.07323}},
    BurstRow{Wk, 1, {0.8768, 0.1491, 0.1491, 0.1452, 0.3205}, {0.5842, 0.09443, 0.09443, 0.09221, 0.2064}},
    BurstRow{Wk, 2, {0.8768, 0.2005, 0.2005, 0.1924, 0.3679}, {0.6251, 0.1302, 0.1302, 0.1253, 0.2436}},
    BurstRow{Wk, 4, {0.8768, 0.2782, 0.2782, 0.2603, 0.4324}, {0.6483, 0.1826, 0.1826, 0.1712, 0.2913}},
    BurstRow{Wk, 8, {0.8768, 0.3903, 0.3903, 0.3451, 0.5114}, {0.6483, 0.2575, 0.2575, 0.2281, 0.3473}},
    BurstRow{Wk, 16, {0.8768, 0.5496, 0.5483, 0.4361, 0.6064}, {0.6487, 0.3635, 0.3631, 0.2889, 0.4138}},
    BurstRow{Wm, 1, {0.4147, 0.07778, 0.07777, 0.07509, 0.1584}, {0.3427, 0.04715, 0.04715, 0.04558, 0.1047}},
    BurstRow{Wm, 2, {0.4147, 0.09916, 0.09915, 0.09437, 0.177}, {0.3427, 0.06203, 0.06203, 0.05915, 0.1175}},
    BurstRow{Wm, 4, {0.4147, 0.1299, 0.1299, 0.12, 0.1997}, {0.3427, 0.08341, 0.08341, 0.07732, 0.1345}},
    BurstRow{Wm, 8, {0.4147, 0.1758, 0.1758, 0.1536, 0.2294}, {0.3427, 0.1148, 0.1148, 0.1007, 0.1579}},
    BurstRow{Wm, 16, {0.4147, 0.2435, 0.2417, 0.1916, 0.2683}, {0.3427, 0.1602, 0.1596, 0.1264, 0.1877}},
    BurstRow{Wf, 1, {0.5822, 0.6883, 0.0, 0.0, 0.0}, {0.3367, 0.3938, 0.0, 0.0, 0.0}},
    BurstRow{Wf, 2, {0.5744, 0.7697, 0.0, 0.0, 0.0}, {0.3348, 0.4615, 0.0, 0.0, 0.0}},
    BurstRow{Wf, 4, {0.5744, 0.9902, 0.0, 0.0, 0.0}, {0.3348, 0.6083, 0.0, 0.0, 0.0}},
    BurstRow{Wf, 8, {0.5744, 1.319, 0.0, 0.0, 0.0}, {0.3348, 0.8244, 0.0, 0.0, 0.0}},
    BurstRow{Wf, 16, {0.5744, 1.806, 0.0, 0.0, 0.0}, {0.3348, 1.14, 0.0, 0.0, 0.0}},
};

void check_burst(const std::string& name, const Tally& tally, const BurstValues& expected, double relative)
{
    constexpr const char* source = "definition, two independent methods, 4 digits";
    check({name + " peak", tally.peak, expected.peak, relative, source});
    check({name + " sqrt(integral a_w^2 dt)", msdv(tally), expected.root_integral, relative, source});
    if (expected.linear == 0.0) return;
    check({name + " linear MTVV", tally.linear_rms, expected.linear, relative, source});
    check({name + " exponential MTVV", tally.exponential_rms_slow, expected.exponential, relative, source});
    check({name + " VDV", vdv(tally), expected.vdv, relative, source});
}

class Bursts : public testing::TestWithParam<std::tuple<WeightingId, double>> {};

TEST_P(Bursts, GiveTheQuantitiesOfTheDefinition)
{
    const auto [id, rate] = GetParam();
    const double w = id == Wf ? 2.5 : 100.0;
    int rows = 0;
    for (const BurstRow& row : burst_rows) {
        if (row.id != id) continue;
        ++rows;
        // At rest for two seconds, so that windows around the burst lie in the selection; then until nothing is left.
        const double duration = 2.0 + row.cycles * 2.0 * pi / w + 0.5 * memory_s(id) + 2.0;
        const std::string name = fmt::format("{} at {} Hz, {} cycles of ", name_of(id), rate, row.cycles);
        // Neither start nor jump on a sample.
        const double start = 2.0 + 0.37 / rate;
        check_burst(name + "sine", weighted(id, burst(sine_integral, w, row.cycles, rate, start, duration), rate),
                    row.sine, 1e-3);
        check_burst(name + "saw", weighted(id, burst(saw_integral, w, row.cycles, rate, start, duration), rate),
                    row.saw, 1e-3);
    }
    EXPECT_EQ(rows, 5);
}

INSTANTIATE_TEST_SUITE_P(Weightings, Bursts,
                         testing::Values(std::tuple(Wd, 8000.0), std::tuple(Wk, 8000.0), std::tuple(Wk, 4096.0),
                                         std::tuple(Wm, 8000.0), std::tuple(Wf, 100.0), std::tuple(Wf, 256.0)),
                         [](const auto& of) {
                             return fmt::format("{}_{}Hz", name_of(std::get<0>(of.param)), std::get<1>(of.param));
                         });

// ---- worked examples ----

Tally steady(double rms, double duration_s)
{
    return {.samples = 1, .duration_s = duration_s, .sum_squares = rms * rms * duration_s};
}

TEST(WorkedExamples, EstimatedDoseOfTheActionValues)
{
    // Publication: directive-2002-44-ec Article 3 sets 0.5 beside 9.1 and 1.15 beside 21 for eight hours; the digits
    // beyond are computed from the definition.
    constexpr double eight_hours = 28800.0;
    check({"eVDV of 0.5 m/s2", evdv(steady(0.5, eight_hours)), 9.1, 0.05 / 9.1, "directive-2002-44-ec, Article 3"});
    check({"eVDV of 1.15 m/s2", evdv(steady(1.15, eight_hours)), 21.0, 0.5 / 21.0, "directive-2002-44-ec, Article 3"});
    check({"eVDV of 0.5 m/s2", evdv(steady(0.5, eight_hours)), 9.119, 0.0005 / 9.119, "definition, digits given"});
    check({"eVDV of 1.15 m/s2", evdv(steady(1.15, eight_hours)), 20.974, 0.0005 / 20.974, "definition, digits given"});
}

TEST(WorkedExamples, MotionSicknessDose)
{
    check({"MSDV of 0.5 m/s2, 2 h", msdv(steady(0.5, 7200.0)), 42.43, 0.005 / 42.43, "definition, digits given"});
    check({"MSDV of 1.0 m/s2, 6 h", msdv(steady(1.0, 21600.0)), 146.97, 0.005 / 146.97, "definition, digits given"});
}

struct ThreeAxes {
    double x, y, z;
    double expected;
    double printed_to; // half a unit of the last printed digit
};

double health_total(const ThreeAxes& axes)
{
    return total_value(std::array{WeightedAxis{axes.x, 1.4}, WeightedAxis{axes.y, 1.4}, WeightedAxis{axes.z, 1.0}});
}

TEST(WorkedExamples, TotalValuesOfAPublishedFieldStudy)
{
    constexpr const char* source =
        "International Journal of Industrial Ergonomics 64 (2018) 188-198, Table 2, rounded as printed";
    for (const ThreeAxes& axes : {ThreeAxes{0.44, 0.35, 0.61, 1.00, 0.005}, ThreeAxes{0.35, 0.38, 0.52, 0.89, 0.005},
                                  ThreeAxes{0.34, 0.42, 0.49, 0.90, 0.005}, ThreeAxes{0.23, 0.23, 0.35, 0.57, 0.005},
                                  ThreeAxes{0.25, 0.24, 0.37, 0.61, 0.005}, ThreeAxes{0.28, 0.24, 0.47, 0.70, 0.005}})
        check({fmt::format("a_v of {}, {}, {}", axes.x, axes.y, axes.z), health_total(axes), axes.expected,
               axes.printed_to / axes.expected, source});
}

TEST(WorkedExamples, DoseTotalsOfAPublishedFieldStudy)
{
    constexpr const char* source =
        "International Journal of Industrial Ergonomics 64 (2018) 188-198, Table 3, rounded as printed";
    for (const ThreeAxes& axes : {ThreeAxes{6.7, 5.4, 16.0, 20.0, 0.5}, ThreeAxes{4.7, 4.9, 6.4, 11.0, 0.5},
                                  ThreeAxes{4.1, 5.0, 5.6, 11.0, 0.5}, ThreeAxes{3.2, 3.3, 4.2, 8.0, 0.5},
                                  ThreeAxes{3.0, 2.9, 4.0, 7.1, 0.05}, ThreeAxes{5.4, 4.8, 11.0, 15.0, 0.5}})
        check({fmt::format("root of squares of VDV {}, {}, {}", axes.x, axes.y, axes.z), health_total(axes),
               axes.expected, axes.printed_to / axes.expected, source});
}

TEST(WorkedExamples, DoseOverALongerExposure)
{
    // Doses measured over 2 h, exposure of 6.5 h.
    constexpr double measured = 7200.0, exposed = 23400.0;
    check({"factor", vdv_over(1.0, measured, exposed), 1.3427, 0.00005 / 1.3427, "definition, digits given"});
    constexpr const char* source = "EU guide to good practice on whole-body vibration, from memory, rounded as printed";
    check({"x", 1.4 * vdv_over(3.0, measured, exposed), 5.6, 0.05 / 5.6, source});
    check({"y", 1.4 * vdv_over(5.0, measured, exposed), 9.4, 0.05 / 9.4, source});
    check({"z", 1.0 * vdv_over(4.0, measured, exposed), 5.4, 0.05 / 5.4, source});
}

TEST(WorkedExamples, EnergyEquivalentOverEightHours)
{
    constexpr double hour = 3600.0;
    check({"4 m/s2 for 4.5 h", equivalent_over(4.0, 4.5 * hour, 8.0 * hour), 3.0, 1e-12,
           "EU guide to good practice on hand-arm vibration, E.1"});
    // The magnitudes that equal 2.5 m/s2 over eight hours.
    check({"5 m/s2 for 2 h", equivalent_over(5.0, 2.0 * hour, 8.0 * hour), 2.5, 1e-12,
           "Danish working-environment guidance on hand-arm vibration"});
    check({"10 m/s2 for 0.5 h", equivalent_over(10.0, 0.5 * hour, 8.0 * hour), 2.5, 1e-12,
           "Danish working-environment guidance on hand-arm vibration"});
}

} // namespace
} // namespace becalm::filters
