// One-third-octave and one-octave filters: the shape that a class demands, energies, running levels.
#include <cmath>
#include <complex>
#include <numbers>
#include <random>
#include <utility>
#include <vector>

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "filters/octave_filters.h"

namespace becalm::filters {
namespace {

double attenuation_db(const BandFilter& filter, double hz, double rate_hz)
{
    return -20.0 * std::log10(std::abs(response(filter, hz, rate_hz)));
}

// Relative attenuation of class 1, dB, at normalised frequencies G^x of octave filters. IEC 61260-1, Table 1, from
// memory; where the editions of 1995 and 2014 are remembered differently, the stricter value.
struct Breakpoint {
    double x, least_db, greatest_db;
};
constexpr double none = 1e9;
constexpr Breakpoint class_1[] = {
    {0.0, -0.3, 0.3},  {0.125, -0.3, 0.4}, {0.25, -0.3, 0.6}, {0.375, -0.3, 1.3}, {0.5, 2.0, 5.0},
    {1.0, 17.5, none}, {2.0, 42.0, none},  {3.0, 61.0, none}, {4.0, 70.0, none},
};

// The breakpoint of an octave filter at G^x belongs to this ratio in a filter of 1/b octave: 1 + (G^(1/2b) - 1) /
// (G^(1/2) - 1) (G^x - 1), and its inverse below the band (IEC 61260-1, from memory).
double ratio_at(double x, BandWidth width)
{
    const double g = std::pow(10.0, 0.3);
    const double b = static_cast<double>(width);
    return 1.0 + (std::pow(g, 0.5 / b) - 1.0) / (std::sqrt(g) - 1.0) * (std::pow(g, x) - 1.0);
}

TEST(OctaveFilters, LieWithinTheLimitsOfClass1AtTheBreakpoints)
{
    int looked_at = 0;
    for (const double rate_hz : {100.0, 256.0, 1000.0, 8192.0})
        for (const BandWidth width : {BandWidth::third_octave, BandWidth::octave})
            for (const OctaveBand& band : octave_bands_within(width, 0.1, class_1_edge(width) * rate_hz)) {
                const auto filter = band_filter(band.from_hz, band.to_hz, rate_hz);
                ASSERT_TRUE(filter);
                for (const Breakpoint& point : class_1)
                    for (const double ratio : {ratio_at(point.x, width), 1.0 / ratio_at(point.x, width)}) {
                        const double hz = ratio * band.exact_hz;
                        if (hz >= rate_hz / 2.0) continue;
                        const double db = attenuation_db(*filter, hz, rate_hz);
                        const auto told = fmt::format("{} Hz of band {} (1/{} octave) at {} Hz: {} dB", hz,
                                                      band.nominal_hz, static_cast<int>(width), rate_hz, db);
                        EXPECT_GE(db, point.least_db - 1e-6) << told;
                        EXPECT_LE(db, point.greatest_db + 1e-6) << told;
                        ++looked_at;
                    }
            }
    EXPECT_GT(looked_at, 2000);
}

// Above class_1_edge the skirt below the band alone leaves the limits; the band itself and the skirt above it do not.
TEST(OctaveFilters, NearTheHighestBandsOnlyTheLowerSkirtLeavesClass1)
{
    bool leaves = false;
    for (const BandWidth width : {BandWidth::third_octave, BandWidth::octave})
        for (const double edge : {0.25, 0.3, 0.35, 0.4}) {
            const double half_band = std::pow(10.0, 0.15 / static_cast<double>(width));
            const double rate_hz = 1000.0, to_hz = edge * rate_hz, centre = to_hz / half_band;
            const auto filter = band_filter(centre / half_band, to_hz, rate_hz);
            ASSERT_TRUE(filter);
            for (const Breakpoint& point : class_1)
                for (const bool above : {true, false}) {
                    const double ratio = ratio_at(point.x, width), hz = above ? centre * ratio : centre / ratio;
                    if (hz >= rate_hz / 2.0) continue;
                    const double db = attenuation_db(*filter, hz, rate_hz);
                    const auto told = fmt::format("edge {} of the rate, {} Hz: {} dB", edge, hz, db);
                    if (db < point.least_db && !above && point.x >= 1.0)
                        leaves = true;
                    else
                        EXPECT_GE(db, point.least_db - 1e-6) << told;
                    EXPECT_LE(db, point.greatest_db + 1e-6) << told;
                }
        }
    EXPECT_TRUE(leaves);
}

// Expected: the Butterworth band-pass of order 3, 1 / (1 + q^6) with q the warped distance from the centre, computed
// from the definition.
TEST(OctaveFilters, FollowTheBilinearButterworthEverywhere)
{
    const double rate_hz = 1000.0;
    const OctaveBand band = octave_band(BandWidth::octave, 5);
    const auto warped = [&](double hz) { return std::tan(std::numbers::pi * hz / rate_hz); };
    const auto filter = band_filter(band.from_hz, band.to_hz, rate_hz);
    ASSERT_TRUE(filter);
    const double low = warped(band.from_hz), high = warped(band.to_hz);
    for (double hz = 1.0; hz < 500.0; hz *= 1.07) {
        const double w = warped(hz), q = (w * w - low * high) / (w * (high - low));
        const double expected = 1.0 / std::sqrt(1.0 + std::pow(q, 6.0));
        EXPECT_NEAR(std::abs(response(*filter, hz, rate_hz)), expected, 1e-10 * expected) << hz;
    }
}

// Nominal frequencies: IEC 61260-1, annex, from memory; the others computed from the definition.
TEST(OctaveFilters, BandsAreThoseOfTheBaseTenSystem)
{
    const auto octaves = octave_bands_within(BandWidth::octave, 0.7, 1000.0);
    std::vector<double> nominal;
    for (const OctaveBand& band : octaves) nominal.push_back(band.nominal_hz);
    EXPECT_EQ(nominal, (std::vector<double>{1.0, 2.0, 4.0, 8.0, 16.0, 31.5, 63.0, 125.0, 250.0, 500.0}));
    EXPECT_DOUBLE_EQ(octaves[0].exact_hz, 1.0);
    EXPECT_NEAR(octaves[3].exact_hz, 7.943282347, 1e-9);
    EXPECT_NEAR(octaves[3].from_hz, 5.623413252, 1e-9);
    EXPECT_NEAR(octaves[3].to_hz, 11.220184543, 1e-9);
    for (std::size_t i = 1; i < octaves.size(); ++i) EXPECT_NEAR(octaves[i].from_hz, octaves[i - 1].to_hz, 1e-9);
    const OctaveBand third = octave_band(BandWidth::third_octave, 9);
    EXPECT_EQ(third.nominal_hz, 8.0);
    EXPECT_NEAR(third.to_hz / third.from_hz, std::pow(10.0, 0.1), 1e-12);
    EXPECT_TRUE(octave_bands_within(BandWidth::octave, 100.0, 120.0).empty());
}

// White noise of deviation s has the mean square s^2 (f2 - f1) / (rate / 2) in a band; a Butterworth band-pass of order
// 3 lets pass pi / 6 / sin(pi / 6) = 1.047 times as much (its noise bandwidth, from the definition), a little less
// after the bilinear transformation.
TEST(OctaveFilters, EnergiesOfBandsOfNoiseAddUpToTheWhole)
{
    const double rate_hz = 1000.0;
    std::mt19937 generator(7);
    std::normal_distribution<double> normal(0.0, 1.0);
    std::vector<double> x(400'000);
    for (double& value : x) value = normal(generator);
    double sum = 0.0, low = 1e9, high = 0.0;
    for (const OctaveBand& band : octave_bands_within(BandWidth::third_octave, 10.0, 400.0)) {
        const auto filter = band_filter(band.from_hz, band.to_hz, rate_hz);
        ASSERT_TRUE(filter);
        RunningBand running(*filter, rate_hz, 1.0);
        running.add(x.data(), x.size(), 1);
        sum += running.mean() * running.mean();
        low = std::min(low, band.from_hz);
        high = std::max(high, band.to_hz);
    }
    const double expected = (high - low) / (rate_hz / 2.0);
    EXPECT_NEAR(sum / expected, 1.04, 0.02); // scatter of the noise 0.4 %
}

// Exact: a sine in the middle of a band passes with its amplitude, and an exponential mean of its square settles to
// half the amplitude's square, the ripple of twice the frequency 1 / (4 pi f tau) of it, computed from the definition.
TEST(OctaveFilters, ASineShowsItsLevelInItsBandAndLittleInOthers)
{
    const double rate_hz = 1000.0, tau = 0.125;
    std::vector<double> x(20'000);
    for (std::size_t i = 0; i < x.size(); ++i)
        x[i] = 0.3 * std::sin(2.0 * std::numbers::pi * 10.0 * static_cast<double>(i) / rate_hz);
    const auto levels = [&](int n) {
        const OctaveBand band = octave_band(BandWidth::third_octave, n);
        RunningBand running(*band_filter(band.from_hz, band.to_hz, rate_hz), rate_hz, tau);
        running.add(x.data(), x.size() / 2, 1);
        running.add(x.data() + x.size() / 2, x.size() / 2, 1);
        return running;
    };
    const double rms = 0.3 / std::sqrt(2.0);
    const double ripple = 1.0 / (4.0 * std::numbers::pi * 10.0 * tau);
    EXPECT_NEAR(levels(10).level(), rms, rms * (0.5 * ripple + 1e-3));
    EXPECT_GE(levels(10).greatest(), rms);
    EXPECT_LE(levels(10).greatest(), rms * (1.0 + 0.5 * ripple) * 1.05); // overshoot of the filter as it starts
    EXPECT_LT(levels(13).level(), rms * 1e-2);                           // an octave away: 40 dB and more
    EXPECT_LT(levels(7).level(), rms * 1e-2);
}

TEST(OctaveFilters, RefuseBandsThatTheRateCannotHold)
{
    for (const auto& [from, to] :
         {std::pair(350.0, 401.0), std::pair(0.0, 10.0), std::pair(0.009, 10.0), std::pair(20.0, 10.0),
          std::pair(std::nan(""), 10.0), std::pair(1.0, std::nan(""))}) {
        const auto filter = band_filter(from, to, 1000.0);
        ASSERT_FALSE(filter) << from << " " << to;
        EXPECT_NE(filter.error().what.find("1000 Hz"), std::string::npos);
    }
    EXPECT_TRUE(band_filter(350.0, 400.0, 1000.0));
}

} // namespace
} // namespace becalm::filters
