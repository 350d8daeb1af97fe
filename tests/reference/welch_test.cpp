// Spectra in rows of time beside scipy.signal.welch (welch/generate.py; version in welch/expected.csv).
#include <cmath>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "evaluators/pass.h"
#include "evaluators/spectrum.h"

namespace becalm::evaluators {
namespace {

const std::string folder = std::string(BECALM_TEST_DATA) + "/reference/";

TEST(SpectraInRows, AgreeWithScipy)
{
    const PassRequest request{.path = folder + "whole_record/acceleration.wav", .spectra_channels = {1, 2, 3}};
    const auto results = run_passes(std::span(&request, 1));
    ASSERT_TRUE(results[0]) << to_text(results[0].error());

    std::ifstream expected(folder + "welch/expected.csv");
    std::string line;
    std::getline(expected, line); // versions
    std::getline(expected, line);
    ASSERT_EQ(line, "channel,bin,whole,fourth_segment");
    std::size_t compared = 0;
    std::vector<std::vector<double>> whole;
    for (const ChannelResult& channel : results[0]->channels) {
        ASSERT_EQ(channel.spectra->rows.size(), 10U);
        whole.push_back(mean_density(*channel.spectra, std::vector{TimeSpan{}}));
    }
    while (std::getline(expected, line)) {
        std::istringstream fields(line);
        std::size_t channel = 0, bin = 0;
        double all = 0.0, fourth = 0.0;
        char comma = 0;
        ASSERT_TRUE(fields >> channel >> comma >> bin >> comma >> all >> comma >> fourth) << line;
        const SpectralRow& row = results[0]->channels[channel - 1].spectra->rows[3];
        ASSERT_EQ(row.from_s, 24.0);
        // Stored as float: 6e-8. Bin 0 holds what is left of the mean, and the least bins what the transforms' rounding
        // leaves of the greatest (1e-16 of the amplitude).
        for (const auto& [got, value] :
             {std::pair(whole[channel - 1][bin], all), std::pair(double{row.density[bin]}, fourth)})
            EXPECT_NEAR(got, value, 1e-7 * value + 1e-20)
                << fmt::format("channel {}, bin {} ({} Hz)", channel, bin, static_cast<double>(bin) / 16.0);
        ++compared;
    }
    EXPECT_EQ(compared, 3U * 572U);
}

// The same ten segments, one a row of peak hold; the fourth of them lies between the least and the greatest.
TEST(SpectrumOfOneFile, AgreesWithScipy)
{
    const auto report =
        spectrum(folder + "whole_record/acceleration.wav",
                 {.weightings = {WeightingId::none}, .offset = OffsetRule::none}, {.resolution_hz = 1.0 / 16.0});
    ASSERT_TRUE(report) << to_text(report.error());
    ASSERT_EQ(report->lanes.size(), 3U);
    std::ifstream expected(folder + "welch/expected.csv");
    std::string line;
    std::getline(expected, line); // versions
    std::getline(expected, line);
    std::size_t compared = 0;
    while (std::getline(expected, line)) {
        std::istringstream fields(line);
        std::size_t channel = 0, bin = 0;
        double all = 0.0, fourth = 0.0;
        char comma = 0;
        ASSERT_TRUE(fields >> channel >> comma >> bin >> comma >> all >> comma >> fourth) << line;
        if (bin == 0) continue; // rounding of a mean taken away
        const SpectrumLane& lane = report->lanes[channel - 1];
        EXPECT_EQ(lane.segments, 10);
        EXPECT_NEAR(lane.density[bin], all, 1e-8 * all + 1e-20) << line;
        EXPECT_GE(lane.greatest[bin], fourth - (1e-8 * fourth + 1e-20)) << line;
        EXPECT_LE(lane.least[bin], fourth + (1e-8 * fourth + 1e-20)) << line;
        ++compared;
    }
    EXPECT_EQ(compared, 3U * 571U);
}

} // namespace
} // namespace becalm::evaluators
