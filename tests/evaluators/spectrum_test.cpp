// Spectra of one file beside a naive transform of its segments: peak hold, minimum, rows as they come.
#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>
#include <vector>

#include <gtest/gtest.h>

#include "evaluators/spectrum.h"

#include "tests/evaluators/recordings.h"

namespace becalm::evaluators::tests {
namespace {

// One-sided density of a segment: periodic Hann window, the mean taken away; computed from the definition.
std::vector<double> density_of(const double* x, std::size_t length, double rate_hz)
{
    double mean = 0.0, window_power = 0.0;
    for (std::size_t i = 0; i < length; ++i) mean += x[i] / static_cast<double>(length);
    const auto turn = [&](std::size_t i) {
        return 2.0 * std::numbers::pi * static_cast<double>(i) / static_cast<double>(length);
    };
    std::vector<double> density(length / 2 + 1);
    for (std::size_t i = 0; i < length; ++i) window_power += std::pow(0.5 - 0.5 * std::cos(turn(i)), 2.0);
    for (std::size_t k = 0; k < density.size(); ++k) {
        std::complex<double> sum;
        for (std::size_t i = 0; i < length; ++i)
            sum += (x[i] - mean) * (0.5 - 0.5 * std::cos(turn(i))) * std::polar(1.0, -turn(i * k % length));
        density[k] = (k == 0 || 2 * k == length ? 1.0 : 2.0) * std::norm(sum) / (rate_hz * window_power);
    }
    return density;
}

struct Case {
    ScratchFolder folder = {};
    Signal x = {};
    std::string path = {};
    WeighOptions options = {.weightings = {WeightingId::none}, .offset = OffsetRule::none};

    Case(int rate_hz, double duration_s)
        : x(single_precision(noise(static_cast<std::size_t>(duration_s * rate_hz), 11))),
          path(wav(folder, "a.wav", rate_hz, {x}))
    {
    }
};

TEST(Spectrum, MeanGreatestAndLeastAreThoseOfItsSegments)
{
    const Case a_case(100, 12.3);
    const auto report = spectrum(a_case.path, a_case.options, {.resolution_hz = 0.5});
    ASSERT_TRUE(report) << to_text(report.error());
    const SpectrumLane& lane = report->lanes.at(0);
    std::vector<double> mean(101, 0.0), greatest(101, 0.0), least(101, 1e9);
    int segments = 0;
    for (std::size_t begin = 0; begin + 200 <= a_case.x.size(); begin += 100, ++segments) {
        const auto density = density_of(&a_case.x[begin], 200, 100.0);
        for (std::size_t k = 0; k <= 100; ++k) {
            mean[k] += density[k] / 11.0;
            greatest[k] = std::max(greatest[k], density[k]);
            least[k] = std::min(least[k], density[k]);
        }
    }
    ASSERT_EQ(segments, 11);
    EXPECT_EQ(lane.segments, 11);
    EXPECT_EQ(lane.rows, 11);
    EXPECT_EQ(lane.row_s, 2.0);
    for (std::size_t k = 1; k <= 100; ++k) {
        EXPECT_NEAR(lane.density[k], mean[k], 1e-9 * mean[k]) << k;
        EXPECT_NEAR(lane.greatest[k], greatest[k], 1e-9 * greatest[k]) << k;
        EXPECT_NEAR(lane.least[k], least[k], 1e-7 * least[k]) << k;
    }
}

// Rows of 3 s hold the three segments that begin in them: 0 to 4 s, 3 to 7 s, 6 to 10 s; the last two make no row.
TEST(Spectrum, RowsOfPeakHoldAreMeansOfTheSegmentsThatBeginInThem)
{
    const Case a_case(100, 12.3);
    const auto report = spectrum(a_case.path, a_case.options, {.resolution_hz = 0.5, .row_s = 3.0});
    ASSERT_TRUE(report) << to_text(report.error());
    const SpectrumLane& lane = report->lanes.at(0);
    EXPECT_EQ(lane.row_segments, 3);
    EXPECT_EQ(lane.rows, 3);
    EXPECT_EQ(lane.row_s, 4.0);
    std::vector<double> greatest(101, 0.0), least(101, 1e9);
    for (std::size_t row = 0; row < 3; ++row)
        for (std::size_t k = 0; k <= 100; ++k) {
            double mean = 0.0;
            for (std::size_t segment = 3 * row; segment < 3 * row + 3; ++segment)
                mean += density_of(&a_case.x[100 * segment], 200, 100.0)[k] / 3.0;
            greatest[k] = std::max(greatest[k], mean);
            least[k] = std::min(least[k], mean);
        }
    for (std::size_t k = 1; k <= 100; k += 3) {
        EXPECT_NEAR(lane.greatest[k], greatest[k], 1e-9 * greatest[k]) << k;
        EXPECT_NEAR(lane.least[k], least[k], 1e-7 * least[k]) << k;
    }

    // No row is whole: all segments count as one, and there is nothing to tell apart.
    const auto all = spectrum(a_case.path, a_case.options, {.resolution_hz = 0.5, .row_s = 100.0});
    ASSERT_TRUE(all);
    EXPECT_EQ(all->lanes.at(0).rows, 0);
    EXPECT_EQ(all->lanes.at(0).greatest, all->lanes.at(0).density);
    EXPECT_EQ(all->lanes.at(0).least, all->lanes.at(0).density);
}

// Row r begins with the first sample at or after r times its length and has segments of 1.3 s; 130 samples each, from
// the row's first sample on and every 65, wholly inside.
TEST(Spectrum, ARowOfTheSpectrogramHasTheSegmentsThatLieInIt)
{
    const Case a_case(101, 20.0);
    std::vector<double> begins;
    std::vector<std::vector<double>> rows;
    const SpectrumOptions wanted{.resolution_hz = 101.0 / 130.0,
                                 .row_s = 2.5,
                                 .spectrogram =
                                     [&](const SpectrogramRow& row) {
                                         begins.push_back(row.from_s);
                                         rows.emplace_back(row.values.begin(), row.values.end());
                                     },
                                 .spectrogram_of_bins = true};
    const auto report = spectrum(a_case.path, a_case.options, wanted);
    ASSERT_TRUE(report) << to_text(report.error());
    ASSERT_EQ(rows.size(), 8U);
    for (std::size_t r = 0; r < rows.size(); ++r) {
        EXPECT_EQ(begins[r], 2.5 * static_cast<double>(r));
        const auto first = static_cast<std::size_t>(std::ceil(252.5 * static_cast<double>(r)));
        const auto end = static_cast<std::size_t>(std::ceil(252.5 * static_cast<double>(r + 1)));
        std::vector<double> mean(66, 0.0);
        double segments = 0.0;
        for (std::size_t begin = first; begin + 130 <= end; begin += 65, ++segments)
            for (std::size_t k = 0; k < mean.size(); ++k) mean[k] += density_of(&a_case.x[begin], 130, 101.0)[k];
        ASSERT_EQ(rows[r].size(), mean.size());
        for (std::size_t k = 1; k < mean.size(); k += 7)
            EXPECT_NEAR(rows[r][k], mean[k] / segments, 1e-9 * mean[k]) << r << " " << k;
    }
}

TEST(Spectrum, ListeningToTheLanesDoesNotChangeWhatIsHeard)
{
    const Case a_case(300, 30.0);
    WeighOptions options = a_case.options;
    options.weightings = {WeightingId::none, WeightingId::Wk};
    const auto plain = spectrum(a_case.path, options, {});
    int rows = 0;
    const auto heard =
        spectrum(a_case.path, options, {.running_s = 1.0, .spectrogram = [&](const SpectrogramRow&) { ++rows; }});
    ASSERT_TRUE(plain && heard);
    EXPECT_EQ(rows, 60);
    ASSERT_EQ(heard->lanes.size(), 2U);
    for (std::size_t l = 0; l < 2; ++l) EXPECT_EQ(plain->lanes[l].density, heard->lanes[l].density);
}

} // namespace
} // namespace becalm::evaluators::tests
