// Cross densities, coherence and transfer functions beside scipy.signal (cross_spectra/generate.py; versions in
// cross_spectra/expected.json).
#include <algorithm>
#include <complex>
#include <fstream>
#include <string>
#include <vector>

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "filters/cross_spectra.h"

#include "tests/filters/signals.h"

namespace becalm::filters {
namespace {

using tests::noise;
using tests::Signal;

Signal later(const Signal& signal, std::size_t by)
{
    Signal result(signal.size(), 0.0);
    std::copy(signal.begin(), signal.end() - static_cast<std::ptrdiff_t>(by),
              result.begin() + static_cast<std::ptrdiff_t>(by));
    return result;
}

TEST(CrossSpectra, AgreeWithAnOutsideSource)
{
    const auto document =
        nlohmann::json::parse(std::ifstream(std::string(BECALM_TEST_DATA) + "/reference/cross_spectra/expected.json"));
    const auto count = document.at("count").get<std::size_t>();
    const auto seeds = document.at("seeds").get<std::vector<std::uint64_t>>();
    const Signal u = noise(count, seeds.at(0)), v = noise(count, seeds.at(1)), w = noise(count, seeds.at(2));
    const Signal u1 = later(u, 1), u3 = later(u, 3), v2 = later(v, 2);
    std::vector<Signal> signals(3, Signal(count));
    for (std::size_t i = 0; i < count; ++i) {
        signals[0][i] = u[i] + 3.0;
        signals[1][i] = 0.5 * u[i] + 0.3 * u3[i] + 0.25 * v[i];
        signals[2][i] = -0.2 * u1[i] + 0.4 * v2[i] + 0.5 * w[i];
    }
    const auto rate_hz = document.at("rate_hz").get<double>();
    std::vector<SampledChannel> channels;
    for (const Signal& signal : signals) channels.push_back({rate_hz, signal});

    int compared = 0;
    for (const auto& set : document.at("sets")) {
        const auto got = cross_densities(channels, set.at("length"));
        ASSERT_TRUE(got) << to_text(got.error());
        for (const auto& pair : set.at("pairs")) {
            const std::size_t from = pair.at("from"), to = pair.at("to");
            const auto values = [&](const char* key) { return pair.at(key).get<std::vector<double>>(); };
            const auto cross_re = values("cross_re"), cross_im = values("cross_im"), wanted = values("coherence");
            const auto h1_re = values("h1_re"), h1_im = values("h1_im");
            ASSERT_EQ(got->lines(), wanted.size());
            for (std::size_t k = 0; k < wanted.size(); ++k, ++compared) {
                const std::complex cross(cross_re[k], cross_im[k]), h1(h1_re[k], h1_im[k]);
                const auto found = transfer(*got, from, to, k);
                ASSERT_TRUE(found) << to_text(found.error());
                // Two routes of double precision to values of 1e-3 (density), 1 and 1.
                EXPECT_LT(std::abs(got->cross(from, to, k) - cross), 1e-14) << from << " to " << to << ", line " << k;
                EXPECT_NEAR(found->coherence, wanted[k], 1e-11) << from << " to " << to << ", line " << k;
                EXPECT_LT(std::abs(found->h1 - h1), 1e-11) << from << " to " << to << ", line " << k;
            }
        }
    }
    EXPECT_EQ(compared, 6 * (65 + 63));
}

} // namespace
} // namespace becalm::filters
