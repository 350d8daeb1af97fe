// How long a start from rest is remembered, at low rates too, where the designs are long.
#include <algorithm>
#include <array>
#include <cmath>
#include <memory>
#include <span>
#include <stdexcept>
#include <vector>

#include <gtest/gtest.h>

#include "filters/lane_bank.h"
#include "filters/weighting.h"

namespace becalm::filters {
namespace {

struct Case {
    WeightingId id;
    Motion motion;
    double rate_hz;
};

class Memory : public testing::TestWithParam<Case> {};

TEST_P(Memory, ForgetsAStartFromRestInTheTimeItSays)
{
    // From the words of memory_s(): after it, a start from rest is forgotten to 1e-12 of what it was. An impulse is the
    // difference between two starts. 28 time constants leave 0.7e-12, and the two poles of a pair up to twice that.
    const auto [id, motion, rate_hz] = GetParam();
    const auto designed = design(id, motion, rate_hz);
    ASSERT_TRUE(designed);
    const std::shared_ptr<const DigitalWeighting>& weighting = *designed;
    const auto memory = static_cast<std::size_t>(std::ceil(memory_s(*weighting) * rate_hz) + weighting->latency);
    const std::size_t samples = memory + 2000;
    LaneGroup group({BankLane{.input = 0, .weighting = weighting}}, samples);
    std::vector<double> impulse(samples, 0.0);
    impulse[0] = 1.0;
    const double* channel = impulse.data();
    group.process(std::span(&channel, 1), samples);
    double peak = 0.0, after = 0.0;
    for (std::size_t i = 0; i < samples; ++i) {
        const double size = std::abs(group.rows()[i * static_cast<std::size_t>(group.width())]);
        peak = std::max(peak, size);
        if (i >= memory) after = std::max(after, size);
    }
    EXPECT_LE(after, 2e-12 * peak) << name_of(id) << " " << name_of(motion) << " at " << rate_hz
                                   << " Hz: " << after / peak << " of the peak is left after " << memory_s(*weighting)
                                   << " s";
}

INSTANTIATE_TEST_SUITE_P(Rates, Memory,
                         testing::Values(Case{WeightingId::Wk, Motion::acceleration, 256.0},
                                         Case{WeightingId::Wk, Motion::acceleration, 1000.0},
                                         Case{WeightingId::Wk, Motion::displacement, 1000.0},
                                         Case{WeightingId::Wm, Motion::velocity, 256.0},
                                         Case{WeightingId::KB, Motion::velocity, 512.0},
                                         Case{WeightingId::velocity, Motion::acceleration, 256.0},
                                         Case{WeightingId::flat, Motion::acceleration, 1000.0},
                                         Case{WeightingId::Wh, Motion::acceleration, 3200.0},
                                         Case{WeightingId::Wf, Motion::acceleration, 10.0}));

} // namespace
} // namespace becalm::filters
