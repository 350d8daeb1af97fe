// Third-octave values of a whole record beside scipy.signal.welch (third_octaves/generate.py; version in
// third_octaves/expected.csv).
#include <cmath>
#include <fstream>
#include <sstream>
#include <string>

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "evaluators/pass.h"
#include "evaluators/third_octaves.h"

namespace becalm::evaluators {
namespace {

const std::string folder = std::string(BECALM_TEST_DATA) + "/reference/";

TEST(ThirdOctaves, AgreeWithScipyAsAccelerationAndAsVelocity)
{
    const PassRequest request{.path = folder + "whole_record/acceleration.wav", .spectra_channels = {1, 2, 3}};
    const auto results = run_passes(std::span(&request, 1));
    ASSERT_TRUE(results[0]) << to_text(results[0].error());
    const auto values_of = [&](std::size_t channel, Motion wanted) {
        const ChannelResult& result = results[0]->channels[channel - 1];
        return *third_octaves_of({.spectra = {{.spectra = &*result.spectra, .selected = {TimeSpan{}}}}}, wanted, 1.0,
                                 80.0);
    };

    std::ifstream expected(folder + "third_octaves/expected.csv");
    std::string line;
    std::getline(expected, line); // versions
    std::getline(expected, line);
    ASSERT_EQ(line, "channel,n,acceleration,velocity");
    std::size_t compared = 0;
    while (std::getline(expected, line)) {
        std::istringstream fields(line);
        std::size_t channel = 0, n = 0;
        double acceleration = 0.0, velocity = 0.0;
        char comma = 0;
        ASSERT_TRUE(fields >> channel >> comma >> n >> comma >> acceleration >> comma >> velocity) << line;
        for (const auto& [wanted, value] :
             {std::pair(Motion::acceleration, acceleration), std::pair(Motion::velocity, velocity)}) {
            const BandValues values = values_of(channel, wanted);
            ASSERT_EQ(values.bands.size(), 20U);
            ASSERT_EQ(values.bands[n].band.n, static_cast<int>(n));
            EXPECT_NEAR(values.bands[n].rms, value, 1e-6 * value) // densities are kept in single precision
                << fmt::format("channel {}, {} Hz, {}", channel, values.bands[n].band.nominal_hz, name_of(wanted));
        }
        ++compared;
    }
    EXPECT_EQ(compared, 3U * 20U);
}

} // namespace
} // namespace becalm::evaluators
