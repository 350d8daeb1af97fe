// The promise of the digital design at every usual rate, for every weighting and kind of motion. One case per weighting
// and motion, so that they spread over processors.
#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <iterator>
#include <random>
#include <string>
#include <tuple>
#include <vector>

#include <gmock/gmock.h>

#include "filters/weighting.h"

#include "tests/filters/design_check.h"

namespace becalm::filters::tests {
namespace {

using testing::IsEmpty;

// Rates of recorders and audio converters, decimated ones, the least there is and one that is no round number.
constexpr std::array rates{256.0,  257.0,   300.0,   400.0,   500.0,   512.0,   600.0,   800.0,   1000.0,
                           1024.0, 1200.0,  1500.0,  2000.0,  2048.0,  2500.0,  3200.0,  4096.0,  5000.0,
                           8192.0, 10000.0, 12800.0, 16384.0, 25600.0, 44100.0, 48000.0, 51200.0, 65536.0};
constexpr std::array low_rates{1.6, 2.0, 10.0, 50.0, 100.0}; // for Wf alone

class EveryRate : public testing::TestWithParam<std::tuple<WeightingId, Motion>> {};

TEST_P(EveryRate, FollowsTheDefinition)
{
    const auto [id, motion] = GetParam();
    std::vector<double> usable;
    if (id == WeightingId::Wf) usable.assign(low_rates.begin(), low_rates.end());
    std::ranges::copy_if(rates, std::back_inserter(usable), [&](double rate) { return rate >= least_rate_hz(id); });
    for (const double rate : usable) EXPECT_THAT(broken_promise(id, motion, rate), IsEmpty());
}

TEST_P(EveryRate, FollowsTheDefinitionAtUnusualOnesToo)
{
    const auto [id, motion] = GetParam();
    std::mt19937 generator(1);
    std::uniform_real_distribution<double> uniform(0.0, 1.0);
    for (int i = 0; i < 50; ++i) {
        // Up to 256 times the least, half of them within a third above it, where the design is hardest.
        const double ratio = i % 2 == 0 ? std::pow(256.0, uniform(generator)) : std::pow(1.33, uniform(generator));
        EXPECT_THAT(broken_promise(id, motion, least_rate_hz(id) * ratio), IsEmpty());
    }
}

INSTANTIATE_TEST_SUITE_P(
    Weightings, EveryRate,
    testing::Combine(testing::ValuesIn(all_weightings.begin() + 1, all_weightings.end()), // none has nothing to follow
                     testing::Values(Motion::acceleration, Motion::velocity, Motion::displacement)),
    [](const auto& of) {
        return std::string(name_of(std::get<0>(of.param))) + "_" + std::string(name_of(std::get<1>(of.param)));
    });

} // namespace
} // namespace becalm::filters::tests
