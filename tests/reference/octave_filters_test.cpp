// Band filters in the time domain beside scipy.signal.sosfilt (octave_filters/generate.py; versions in
// octave_filters/expected.csv).
#include <cmath>
#include <cstdint>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "filters/octave_filters.h"

namespace becalm::filters {
namespace {

// The noise of generate.py.
std::vector<double> noise()
{
    std::vector<double> x(20000);
    std::uint64_t u = 1;
    for (double& value : x) {
        value = static_cast<double>(u) / 1073741824.0 - 1.0;
        u = (1103515245 * u + 12345) % 2147483648;
    }
    return x;
}

// What comes out at sample `at`: the level with a time constant so short that nothing of the past is left in it.
double sample_of(const BandFilter& filter, const std::vector<double>& x, std::size_t at)
{
    RunningBand band(filter, 1000.0, 1e-6);
    band.add(x.data(), at + 1, 1);
    return band.level();
}

TEST(OctaveFilters, AgreeWithScipy)
{
    const std::vector<double> x = noise();
    std::ifstream expected(std::string(BECALM_TEST_DATA) + "/reference/octave_filters/expected.csv");
    std::string line;
    std::getline(expected, line); // versions
    std::getline(expected, line);
    ASSERT_EQ(line, "bands_an_octave,n,rms,at_4999,at_9999,at_14999,at_19999");
    int compared = 0;
    while (std::getline(expected, line)) {
        std::istringstream fields(line);
        int width = 0, n = 0;
        double rms = 0.0;
        char comma = 0;
        ASSERT_TRUE(fields >> width >> comma >> n >> comma >> rms) << line;
        const OctaveBand band = octave_band(static_cast<BandWidth>(width), n);
        const auto filter = band_filter(band.from_hz, band.to_hz, 1000.0);
        ASSERT_TRUE(filter) << line;
        RunningBand whole(*filter, 1000.0, 1.0);
        whole.add(x.data(), x.size(), 1);
        EXPECT_NEAR(whole.mean(), rms, 1e-9 * rms) << line;
        for (const std::size_t at : {4999U, 9999U, 14999U, 19999U}) {
            double value = 0.0;
            ASSERT_TRUE(fields >> comma >> value) << line;
            EXPECT_NEAR(sample_of(*filter, x, at), std::abs(value), 1e-8 * rms) << line << " at " << at;
        }
        ++compared;
    }
    EXPECT_EQ(compared, 12);
}

} // namespace
} // namespace becalm::filters
