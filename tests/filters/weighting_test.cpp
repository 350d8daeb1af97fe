// The weightings against what is published and against an independent computation of the same definition.
//
// Sources of the rows:
//   publication   the digits are printed there
//   definition    computed from the definition by an independent program
#include <algorithm>
#include <array>
#include <cmath>
#include <complex>
#include <fstream>
#include <numbers>
#include <sstream>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "filters/weighting.h"

namespace becalm::filters {
namespace {

using std::numbers::pi;

double factor(WeightingId id, double hz) { return std::abs(analytic_response(id, Motion::acceleration, hz)); }

double phase_deg(WeightingId id, double hz)
{
    return std::arg(analytic_response(id, Motion::acceleration, hz)) * 180.0 / pi;
}

struct Row {
    WeightingId id;
    double hz;
    double expected;
    double tolerance; // absolute
    const char* source;
};

// Half a unit of the last of `digits` significant digits; a hair more, for a value that lies on the edge.
double printed_to(double value, int digits)
{
    return 0.5000001 * std::pow(10.0, std::floor(std::log10(std::abs(value))) + 1.0 - digits);
}

void check(const Row& row, double got, const char* what)
{
    EXPECT_LE(std::abs(got - row.expected), row.tolerance)
        << fmt::format("{} of {} at {:.8g} Hz: got {:.9g}, expected {:.9g} within {:.3g} [{}]", what, name_of(row.id),
                       row.hz, got, row.expected, row.tolerance, row.source);
}

double band_centre(int n) { return std::pow(10.0, n / 10.0); }

std::vector<std::string> cells_of(const std::string& line)
{
    std::vector<std::string> cells;
    std::istringstream stream(line);
    for (std::string cell; std::getline(stream, cell, ',');) cells.push_back(cell);
    return cells;
}

TEST(Weighting, AgreesWithTheComputedTableInEveryBand)
{
    std::ifstream file(BECALM_TEST_DATA "/reference/weighting_factors.csv");
    ASSERT_TRUE(file) << BECALM_TEST_DATA "/reference/weighting_factors.csv";
    std::vector<std::string> header;
    int checked = 0;
    for (std::string line; std::getline(file, line);) {
        if (line.starts_with('#')) continue;
        const std::vector<std::string> cells = cells_of(line);
        if (header.empty()) {
            header = cells;
            continue;
        }
        ASSERT_EQ(cells.size(), header.size()) << line;
        for (std::size_t column = 3; column < header.size(); ++column) {
            const auto id = weighting_named(header[column].substr(0, header[column].rfind('_')));
            ASSERT_TRUE(id) << header[column];
            const bool nominal = header[column].ends_with("_nominal");
            const double hz = nominal ? std::stod(cells[1]) : band_centre(std::stoi(cells[0]));
            const double expected = std::stod(cells[column]);
            check({*id, hz, expected, 1e-5 * expected + printed_to(expected, 6),
                   "definition: tests/reference/weighting_factors.csv, 1e-5 and its 6 digits"},
                  factor(*id, hz), nominal ? "factor (nominal centre)" : "factor (exact centre)");
            ++checked;
        }
    }
    EXPECT_EQ(checked, 54 * 24); // bands -20 ... 33, twelve weightings on two bases
}

// Publication: iso5349-1-2001 Table A.2 prints the factors of Wh in the bands 6.3 Hz to 1,250 Hz to three significant
// digits; all 24 were compared with the formula at exact centres and found equal to every printed digit. The digits
// below are the exact-centre column of tests/reference/weighting_factors.csv (definition) rounded as the publication
// prints.
TEST(Weighting, WhEqualsThePrintedTable)
{
    constexpr std::array factors{0.727,  0.873,  0.951,  0.958,  0.896,  0.782,  0.647,  0.519,
                                 0.411,  0.324,  0.256,  0.202,  0.160,  0.127,  0.101,  0.0799,
                                 0.0634, 0.0503, 0.0398, 0.0314, 0.0245, 0.0186, 0.0135, 0.00894};
    ASSERT_EQ(factors.size(), 24U);
    for (std::size_t i = 0; i < factors.size(); ++i) {
        const double hz = band_centre(8 + static_cast<int>(i));
        check({WeightingId::Wh, hz, factors[i], printed_to(factors[i], 3),
               "iso5349-1-2001 Table A.2, exact centre, every printed digit"},
              factor(WeightingId::Wh, hz), "factor");
    }
}

// Publication: iso2631-2-2003 Table A.1, "calculated with exact centre frequencies". The ten rows 0.2 Hz to 1.6 Hz were
// compared with a translation of the publication and found equal; the other 24 rows with its digits from memory. The
// digits below are the exact-centre column of tests/reference/weighting_factors.csv (definition) rounded to three
// significant digits.
TEST(Weighting, WmEqualsThePrintedTable)
{
    constexpr std::array factors{0.0629, 0.0994, 0.156,  0.243,   0.368,   0.530,   0.700,   0.833,  0.907,
                                 0.934,  0.932,  0.910,  0.872,   0.818,   0.750,   0.669,   0.582,  0.494,
                                 0.411,  0.337,  0.274,  0.220,   0.176,   0.140,   0.109,   0.0834, 0.0604,
                                 0.0401, 0.0241, 0.0133, 0.00694, 0.00354, 0.00179, 0.000899};
    ASSERT_EQ(factors.size(), 34U);
    for (std::size_t i = 0; i < factors.size(); ++i) {
        const double hz = band_centre(-7 + static_cast<int>(i));
        check({WeightingId::Wm, hz, factors[i], printed_to(factors[i], 3),
               i < 10 ? "iso2631-2-2003 Table A.1, exact centre, every printed digit"
                      : "iso2631-2-2003 Table A.1 from memory, exact centre, every printed digit"},
              factor(WeightingId::Wm, hz), "factor");
    }
}

constexpr double seat = 100.0 / (2.0 * pi); // Hz; angular frequency 100 rad/s
constexpr double hand = 500.0 / (2.0 * pi); // Hz; 500 rad/s
constexpr double ship = 2.5 / (2.0 * pi);   // Hz; 2.5 rad/s

TEST(Weighting, HasTheReferenceFactorsOfTheInstrumentStandard)
{
    constexpr const char* printed = "iso8041-1-2017 Table 1, from memory, 4 digits";
    constexpr const char* computed = "definition, all digits given";
    using enum WeightingId;
    const std::array rows{
        Row{Wb, seat, 0.8126, printed_to(0.8126, 4), printed},
        Row{Wc, seat, 0.5145, printed_to(0.5145, 4), printed},
        Row{Wd, seat, 0.1261, printed_to(0.1261, 4), printed},
        Row{We, seat, 0.06287, printed_to(0.06287, 4), printed},
        Row{Wj, seat, 1.019, printed_to(1.019, 4), printed},
        Row{Wk, seat, 0.7718, printed_to(0.7718, 4), printed},
        Row{Wm, seat, 0.3362, printed_to(0.3362, 4), printed},
        Row{Wf, ship, 0.3888, printed_to(0.3888, 4), printed},
        Row{Wh, hand, 0.2020, printed_to(0.2020, 4), printed},
        Row{Wb, seat, 0.81256, 0.5e-5, computed},
        Row{Wd, seat, 0.12608, 0.5e-5, computed},
        Row{We, seat, 0.06287, 0.5e-5, computed},
        Row{Wj, seat, 1.01851, 0.5e-5, computed},
        Row{Wk, seat, 0.77182, 0.5e-5, computed},
        Row{Wh, hand, 0.20202, 0.5e-5, computed},
        Row{Wc, seat, 0.514452, 0.5e-6, computed},
        Row{Wf, ship, 0.388848, 0.5e-6, computed},
        Row{Wm, seat, 0.336228, 0.5e-6, computed},
    };
    for (const Row& row : rows) check(row, factor(row.id, row.hz), "reference factor");

    constexpr const char* phase = "definition, 0.01 degrees";
    const std::array phases{
        Row{Wb, seat, -50.16, 0.0051, phase}, Row{Wc, seat, -80.78, 0.0051, phase},
        Row{Wd, seat, -96.67, 0.0051, phase}, Row{We, seat, -98.84, 0.0051, phase},
        Row{Wj, seat, -3.83, 0.0051, phase},  Row{Wk, seat, -62.09, 0.0051, phase},
        Row{Wm, seat, -79.30, 0.0051, phase}, Row{Wf, ship, -162.03, 0.0051, phase},
        Row{Wh, hand, -81.97, 0.0051, phase},
    };
    for (const Row& row : phases) check(row, phase_deg(row.id, row.hz), "phase in degrees");
}

TEST(Weighting, HasItsMaximumWhereTheDefinitionPutsIt)
{
    using enum WeightingId;
    struct Maximum {
        WeightingId id;
        double factor, factor_tolerance;
        double hz, hz_tolerance;
    };
    constexpr const char* source = "definition, all digits given";
    // Half a unit of the last digit that the source gives.
    const std::array maxima{
        Maximum{Wb, 1.055, 5e-4, 6.09, 5e-3},  Maximum{Wc, 1.024, 5e-4, 3.73, 5e-3},
        Maximum{Wd, 1.013, 5e-4, 1.09, 5e-3},  Maximum{We, 0.949, 5e-4, 0.715, 5e-4},
        Maximum{Wf, 1.014, 5e-4, 0.174, 5e-4}, Maximum{Wh, 0.964, 5e-4, 11.4, 5e-2},
        Maximum{Wj, 1.030, 5e-4, 10.1, 5e-2},  Maximum{Wk, 1.0545, 5e-5, 6.17, 5e-3},
        Maximum{Wm, 0.936, 5e-4, 1.73, 5e-3},
    };
    for (const Maximum& maximum : maxima) {
        double best = 0.0, at = 0.0;
        for (double hz = 0.01; hz < 2000.0; hz *= 1.0002) {
            const double value = factor(maximum.id, hz);
            if (value > best) {
                best = value;
                at = hz;
            }
        }
        // The search steps by 0.02 %.
        check({maximum.id, at, maximum.factor, maximum.factor_tolerance, source}, best, "maximum");
        check({maximum.id, at, maximum.hz, maximum.hz_tolerance + 2e-4 * maximum.hz, source}, at,
              "place of the maximum");
    }
}

TEST(Weighting, WgHasItsSpotValues)
{
    // Of the realisable form at exact centres, with the band-limiting quality 0.71. The parameters themselves are from
    // memory.
    struct Spot {
        int n;
        double factor;
        int digits;
    };
    for (const Spot& spot : {Spot{0, 0.4252, 4}, Spot{3, 0.6765, 4}, Spot{6, 1.003, 4}, Spot{7, 1.050, 4},
                             Spot{9, 0.894, 3}, Spot{12, 0.491, 3}, Spot{15, 0.247, 3}, Spot{19, 0.084, 2}}) {
        const double hz = band_centre(spot.n);
        check({WeightingId::Wg, hz, spot.factor, printed_to(spot.factor, spot.digits),
               "definition with the parameters of bs6841-1987 from memory, Q 0.71; digits given"},
              factor(WeightingId::Wg, hz), "factor");
    }
}

TEST(Weighting, OfOtherMotionsIsThatOfTheAccelerationTheyImply)
{
    // Computed from the definition: d/dt is a factor j 2 pi f.
    for (const WeightingId id : all_weightings) {
        if (id == WeightingId::none) continue;
        for (const double hz : {0.05, 0.4, 3.0, 50.0, 900.0}) {
            const std::complex<double> s(0.0, 2.0 * pi * hz);
            const std::complex<double> a = analytic_response(id, Motion::acceleration, hz);
            EXPECT_LE(std::abs(analytic_response(id, Motion::velocity, hz) - a * s), 1e-14 * std::abs(a * s));
            EXPECT_LE(std::abs(analytic_response(id, Motion::displacement, hz) - a * s * s),
                      1e-14 * std::abs(a * s * s));
        }
    }
}

TEST(Weighting, GivesTheMotionItIsDefinedAs)
{
    // From the header's own words.
    for (const Motion input : {Motion::acceleration, Motion::velocity, Motion::displacement}) {
        EXPECT_EQ(output_of(WeightingId::none, input), input);
        for (const WeightingId id : all_weightings) {
            if (id == WeightingId::none) continue;
            const bool velocity = id == WeightingId::KB || id == WeightingId::velocity;
            EXPECT_EQ(output_of(id, input), velocity ? Motion::velocity : Motion::acceleration) << name_of(id);
            EXPECT_EQ(output_of(id), output_of(id, input)) << name_of(id);
        }
    }
}

// The band limits, a Butterworth high-pass and low-pass of the second order: their squared magnitude, in another form
// than the program's.
double band_limits(double hz, double low_hz, double high_hz)
{
    return 1.0 / std::sqrt((1.0 + std::pow(low_hz / hz, 4.0)) * (1.0 + std::pow(hz / high_hz, 4.0)));
}

TEST(Weighting, OfKBIsThatOfAVelocity)
{
    constexpr const char* without = "definition 1/sqrt(1 + (5.6 Hz/f)^2), 4 digits";
    constexpr const char* with = "definition, times the band limits 10^-0.1 Hz and 100 Hz";
    using enum WeightingId;
    for (const auto& [hz, expected] :
         {std::pair(1.0, 0.1758), std::pair(2.0, 0.3363), std::pair(4.0, 0.5812), std::pair(5.6, 0.7071),
          std::pair(8.0, 0.8192), std::pair(16.0, 0.9439), std::pair(80.0, 0.9976)}) {
        const std::complex<double> H = analytic_response(KB, Motion::velocity, hz);
        const double limits = band_limits(hz, std::pow(10.0, -0.1), 100.0);
        check({KB, hz, expected, printed_to(expected, 4), without}, std::abs(H) / limits, "factor of a velocity");
        const double exact = limits / std::sqrt(1.0 + std::pow(5.6 / hz, 2.0));
        check({KB, hz, exact, 1e-12, with}, std::abs(H), "factor of a velocity");
        check({velocity, hz, limits, 1e-12, with}, std::abs(analytic_response(velocity, Motion::velocity, hz)),
              "factor of a velocity");
        // It leads by atan(5.6 Hz / f): a high-pass of the first order, and what is left is that of the band limits.
        const std::complex<double> alone = H / analytic_response(velocity, Motion::velocity, hz);
        check({KB, hz, std::atan(5.6 / hz), 1e-12, "definition"}, std::arg(alone), "phase of a velocity");
    }
}

TEST(Weighting, FlatIsAnAccelerationWithinItsBandLimits)
{
    for (const double hz : {0.1, 0.4, 1.0, 8.0, 80.0, 100.0, 300.0})
        check({WeightingId::flat, hz, band_limits(hz, 0.4, 100.0), 1e-12, "definition: the band limits alone"},
              factor(WeightingId::flat, hz), "factor");
}

TEST(Weighting, NoneLeavesEveryMotionAsItIs)
{
    for (const Motion motion : {Motion::acceleration, Motion::velocity, Motion::displacement})
        EXPECT_EQ(analytic_response(WeightingId::none, motion, 12.0), std::complex<double>(1.0));
    EXPECT_EQ(least_rate_hz(WeightingId::none), 0.0);
    EXPECT_EQ(run_in_s(WeightingId::none), 0.0);
    EXPECT_EQ(memory_s(WeightingId::none), 0.0);
}

TEST(Weighting, IsZeroAtRest)
{
    // Computed from the definition: two zeros at s = 0, whichever motion.
    for (const WeightingId id : all_weightings) {
        if (id == WeightingId::none) continue;
        EXPECT_EQ(analytic_response(id, Motion::acceleration, 0.0), std::complex<double>(0.0));
    }
}

TEST(Weighting, NeedsTheRatesItDocuments)
{
    // From the header's own words: the accurate range at 7/8 of half the rate.
    EXPECT_DOUBLE_EQ(least_rate_hz(WeightingId::Wk), 256.0);
    EXPECT_DOUBLE_EQ(least_rate_hz(WeightingId::Wm), 256.0);
    EXPECT_DOUBLE_EQ(least_rate_hz(WeightingId::Wh), 3200.0);
    EXPECT_DOUBLE_EQ(least_rate_hz(WeightingId::Wf), 1.6);
    for (const WeightingId id : {WeightingId::KB, WeightingId::velocity, WeightingId::flat})
        EXPECT_DOUBLE_EQ(least_rate_hz(id), 256.0) << name_of(id);
    for (const WeightingId id : all_weightings) {
        if (id == WeightingId::none) continue;
        EXPECT_GE(accurate_to_hz(id), 1.1 * parameters_of(id).nominal_high_hz) << name_of(id);
    }
}

} // namespace
} // namespace becalm::filters
