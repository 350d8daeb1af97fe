// Modes of a floor from its ambient response. The floor is simulated exactly (tests/filters/modes.h): two modes under
// independent white forces, seen by four sensors with noise of their own.
#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "filters/damping.h"
#include "filters/windowed_mode.h"

#include "tests/filters/modes.h"

namespace becalm::filters {
namespace {

using testing::HasSubstr;
using tests::Normal;
using tests::Signal;
using tests::white_noise_response;

constexpr double rate_hz = 50.0;
constexpr double shapes[2][4] = {{1.0, 0.8, 0.5, 0.3}, {0.6, -0.3, -0.9, 1.0}};

struct Floor {
    double hz[2] = {5.0, 7.0};
    double damping[2] = {0.01, 0.02};
    double duration_s = 1800.0;
    double noise = 0.05; // r.m.s., of a mode's displacement of 1
    Motion motion = Motion::displacement;
};

std::vector<Signal> response_of(const Floor& floor, std::uint64_t seed, std::size_t channels = 4)
{
    const auto count = static_cast<std::size_t>(floor.duration_s * rate_hz);
    std::vector<Signal> signals(channels, Signal(count, 0.0));
    for (std::size_t m = 0; m < 2; ++m) {
        const auto response = white_noise_response(floor.hz[m], floor.damping[m], rate_hz, count, 10 * seed + m);
        const double w0 = 2.0 * std::numbers::pi * floor.hz[m];
        const bool moves = floor.motion == Motion::displacement;
        for (std::size_t c = 0; c < channels; ++c)
            for (std::size_t i = 0; i < count; ++i)
                signals[c][i] += shapes[m][c] * (moves ? response.displacement[i] : response.velocity[i] / w0);
    }
    for (std::size_t c = 0; c < channels; ++c) {
        Normal normal(10 * seed + 2 + c);
        for (double& x : signals[c]) x += floor.noise * normal();
    }
    return signals;
}

Result<AmbientModes> modes_of(const std::vector<Signal>& signals, std::size_t length, const AmbientOptions& options)
{
    std::vector<SampledChannel> channels;
    for (const Signal& signal : signals) channels.push_back({rate_hz, signal});
    return ambient_modes(channels, length, options);
}

double likeness(std::span<const std::complex<double>> found, const double (&shape)[4])
{
    std::complex<double> both;
    double of_found = 0.0, of_shape = 0.0;
    for (std::size_t c = 0; c < found.size(); ++c) {
        both += found[c] * shape[c];
        of_found += std::norm(found[c]);
        of_shape += shape[c] * shape[c];
    }
    return std::norm(both) / (of_found * of_shape);
}

// Share of runs within k = 2 of what was put in, for each of the two modes.
struct Shares {
    double frequency[2] = {0.0, 0.0}, damping[2] = {0.0, 0.0}, mean_damping[2] = {0.0, 0.0}, spread[2] = {0.0, 0.0};
    double stated[2] = {0.0, 0.0};
    int runs = 0;

    void add(const AmbientModes& found, const Floor& floor)
    {
        ++runs;
        for (std::size_t m = 0; m < 2; ++m) {
            const auto& mode = found.modes[m];
            frequency[m] += std::abs(mode.frequency_hz.value - floor.hz[m]) <= 2.0 * mode.frequency_hz.uncertainty;
            damping[m] += std::abs(mode.damping.value - floor.damping[m]) <= 2.0 * mode.damping.uncertainty;
            const double off = mode.damping.value / floor.damping[m] - 1.0;
            mean_damping[m] += off;
            spread[m] += off * off;
            stated[m] += mode.damping.uncertainty / floor.damping[m];
        }
    }
    std::string told() const
    {
        std::string text = fmt::format("{} runs", runs);
        for (std::size_t m = 0; m < 2; ++m)
            text += fmt::format(
                "; mode {}: frequency within k = 2 in {}, damping in {}, off by {:+.1f} % on average, {:.1f} % "
                "r.m.s., stated {:.1f} %",
                m + 1, frequency[m], damping[m], 100.0 * mean_damping[m] / runs, 100.0 * std::sqrt(spread[m] / runs),
                100.0 * stated[m] / runs);
        return text;
    }
};

TEST(AmbientModes, LieWithinTheirUncertaintyInNineRunsOfTen)
{
    // 30 min, segments of 41 s: 4 lines of the first mode's bandwidth, 11 of the second's.
    const Floor floor;
    Shares shares;
    for (std::uint64_t seed = 1; seed <= 100; ++seed) {
        const auto found =
            modes_of(response_of(floor, seed), 2048, {.from_hz = 2.0, .to_hz = 12.0, .motion = floor.motion});
        ASSERT_TRUE(found) << to_text(found.error());
        ASSERT_EQ(found->modes.size(), 2U) << "run " << seed;
        EXPECT_TRUE(found->left_out.empty()) << to_text(found->left_out.front());
        EXPECT_EQ(found->blocks, 20U);
        for (std::size_t m = 0; m < 2; ++m)
            EXPECT_GT(likeness(found->modes[m].shape, shapes[m]), 0.99) << "run " << seed;
        shares.add(*found, floor);
    }
    RecordProperty("white_noise", shares.told());
    for (std::size_t m = 0; m < 2; ++m) {
        EXPECT_GE(shares.damping[m], 90) << shares.told();
        EXPECT_GE(shares.frequency[m], 90) << shares.told();
        EXPECT_NEAR(shares.mean_damping[m] / shares.runs, 0.0, 0.03) << shares.told();
    }
}

TEST(AmbientModes, OfOneChannelAreToldApartByTheValleyBetweenThem)
{
    const Floor floor{.motion = Motion::velocity};
    Shares shares;
    for (std::uint64_t seed = 1; seed <= 50; ++seed) {
        const auto found =
            modes_of(response_of(floor, seed, 1), 2048, {.from_hz = 2.0, .to_hz = 12.0, .motion = Motion::velocity});
        ASSERT_TRUE(found) << to_text(found.error());
        ASSERT_EQ(found->modes.size(), 2U) << "run " << seed;
        EXPECT_TRUE(std::isinf(found->modes[0].first_to_second));
        EXPECT_EQ(found->modes[0].shape, std::vector<std::complex<double>>{1.0});
        shares.add(*found, floor);
    }
    RecordProperty("one_channel", shares.told());
    for (std::size_t m = 0; m < 2; ++m) {
        EXPECT_GE(shares.damping[m], 42) << shares.told();
        EXPECT_GE(shares.frequency[m], 42) << shares.told();
    }
}

TEST(AmbientModes, AreTheSameInAnyBlocksOfAStream)
{
    const auto signals = response_of({}, 3);
    const AmbientOptions options{.from_hz = 2.0, .to_hz = 12.0, .motion = Motion::displacement};
    auto spectra = CrossSpectra::of(std::vector<double>(4, rate_hz), 2048);
    ASSERT_TRUE(spectra);
    std::vector<CrossDensities> blocks;
    for (std::size_t done = 0; done < signals[0].size(); done += 9000) {
        std::vector<std::span<const double>> block;
        for (const Signal& signal : signals) block.push_back(std::span(signal).subspan(done, 9000));
        ASSERT_TRUE(spectra->add(block));
        blocks.push_back(spectra->take());
    }
    const auto streamed = ambient_modes(blocks, options), whole = modes_of(signals, 2048, options);
    ASSERT_TRUE(streamed && whole);
    EXPECT_EQ(streamed->blocks, 10U);
    EXPECT_EQ(streamed->segments, whole->segments);
    ASSERT_EQ(streamed->modes.size(), 2U);
    for (std::size_t m = 0; m < 2; ++m) {
        EXPECT_NEAR(streamed->modes[m].damping.value, whole->modes[m].damping.value, 1e-9);
        EXPECT_NEAR(streamed->modes[m].frequency_hz.value, whole->modes[m].frequency_hz.value, 1e-9);
        const double ratio = streamed->modes[m].damping.uncertainty / whole->modes[m].damping.uncertainty;
        EXPECT_GT(ratio, 0.5);
        EXPECT_LT(ratio, 2.0) << "ten blocks say the same as twenty, if less surely";
    }
}

std::string reasons(const AmbientModes& found)
{
    std::string text = fmt::format("{} modes", found.modes.size());
    for (const Problem& problem : found.left_out) text += "\n" + to_text(problem);
    return text;
}

TEST(AmbientModes, SayWhereTwoModesAreTooClose)
{
    // 0.12 Hz apart, with bandwidths of 0.1 Hz: both are found, or what is left out is told. They move in unlike
    // shapes.
    const Floor floor{.hz = {5.0, 5.12}, .damping = {0.01, 0.01}};
    for (std::uint64_t seed = 1; seed <= 10; ++seed) {
        const auto found =
            modes_of(response_of(floor, seed), 2048, {.from_hz = 2.0, .to_hz = 12.0, .motion = floor.motion});
        ASSERT_TRUE(found) << to_text(found.error());
        EXPECT_GE(found->modes.size() + found->left_out.size(), 2U) << reasons(*found);
        for (const Problem& problem : found->left_out) EXPECT_THAT(to_text(problem), HasSubstr("two close modes"));
    }
}

TEST(AmbientModes, OfOneChannelAreMostlySeenToBeTwoWhereTheyAreClose)
{
    // 0.3 Hz apart, with bandwidths of 0.1 Hz and 0.3 Hz, seen by one sensor: never told as two, and known for what
    // they are in most runs. A single sensor cannot do better; the header warns.
    const Floor floor{.hz = {5.0, 5.3}, .damping = {0.01, 0.03}};
    int known = 0;
    for (std::uint64_t seed = 1; seed <= 20; ++seed) {
        const auto found =
            modes_of(response_of(floor, seed, 1), 2048, {.from_hz = 2.0, .to_hz = 12.0, .motion = floor.motion});
        ASSERT_TRUE(found) << to_text(found.error());
        EXPECT_LT(found->modes.size(), 2U) << reasons(*found);
        known += !found->left_out.empty() && to_text(found->left_out[0]).find("two close modes") != std::string::npos;
    }
    RecordProperty("close_modes_known", fmt::format("{} of 20", known));
    EXPECT_GE(known, 10);
}

TEST(AmbientModes, OfExactLinesAreExact)
{
    // Eight blocks of what segments of 40 s show of a mode, of any motion: no scatter, and no bias of window or cut.
    for (const Motion motion : {Motion::acceleration, Motion::velocity, Motion::displacement})
        for (const double damping : {0.01, 0.03}) {
            CrossDensities block{.rate_hz = 50.0, .length = 2000, .channels = 1, .segments = 5};
            const int order = derivative_order(Motion::displacement) - derivative_order(motion);
            for (std::size_t k = 0; k < block.lines(); ++k)
                block.values.emplace_back(std::pow(block.hz(k), 2 * order) *
                                          shown_density({.hz = 6.3, .damping = damping}, 40.0, block.hz(k)));
            block.mean_squares = {1.0};
            const auto found = ambient_modes(std::vector(8, block), {.from_hz = 3.0, .to_hz = 12.0, .motion = motion});
            ASSERT_TRUE(found) << to_text(found.error());
            ASSERT_EQ(found->modes.size(), 1U) << reasons(*found);
            EXPECT_NEAR(found->modes[0].frequency_hz.value, 6.3, 1e-6);
            EXPECT_NEAR(found->modes[0].damping.value, damping, 1e-5 * damping);
            EXPECT_LT(found->modes[0].damping.uncertainty, 1e-6 * damping);
        }
}

TEST(AmbientModes, LeaveOutATone)
{
    auto signals = response_of({}, 2);
    for (std::size_t c = 0; c < signals.size(); ++c)
        for (std::size_t i = 0; i < signals[c].size(); ++i)
            signals[c][i] +=
                (c == 2 ? -0.8 : 0.5) * std::sin(2.0 * std::numbers::pi * 9.33 * static_cast<double>(i) / rate_hz);
    const auto found = modes_of(signals, 2048, {.from_hz = 2.0, .to_hz = 12.0, .motion = Motion::displacement});
    ASSERT_TRUE(found) << to_text(found.error());
    EXPECT_EQ(found->modes.size(), 2U) << reasons(*found);
    ASSERT_EQ(found->left_out.size(), 1U) << reasons(*found);
    EXPECT_THAT(to_text(found->left_out[0]), HasSubstr("tone of machinery"));
}

TEST(AmbientModes, LeaveOutWhatTheResolutionCannotShow)
{
    // Segments of 5 s: a tenth of a hertz is half a line.
    const auto found =
        modes_of(response_of({}, 4), 256, {.from_hz = 4.0, .to_hz = 6.0, .motion = Motion::displacement});
    ASSERT_TRUE(found) << to_text(found.error());
    EXPECT_TRUE(found->modes.empty()) << reasons(*found);
    ASSERT_EQ(found->left_out.size(), 1U) << reasons(*found);
    EXPECT_THAT(to_text(found->left_out[0]), HasSubstr("take longer segments"));
}

TEST(AmbientModes, AreNotSeenInNoiseAlone)
{
    std::vector<Signal> signals(3, Signal(60000));
    for (std::size_t c = 0; c < 3; ++c) {
        Normal normal(c + 1);
        for (double& x : signals[c]) x = normal();
    }
    const auto found = modes_of(signals, 1024, {.from_hz = 1.0, .to_hz = 24.0});
    ASSERT_TRUE(found);
    EXPECT_TRUE(found->modes.empty() && found->left_out.empty()) << reasons(*found);
}

TEST(AmbientModes, AreRefusedWhereTheRecordIsTooShort)
{
    Floor floor;
    floor.duration_s = 200.0;
    const AmbientOptions options{.from_hz = 2.0, .to_hz = 12.0};
    const auto few = modes_of(response_of(floor, 1), 2048, options);
    ASSERT_FALSE(few);
    EXPECT_THAT(to_text(few.error()), HasSubstr("too short: 4 parts of the record hold a segment, 8 are needed"));
    const auto signals = response_of(floor, 1);
    EXPECT_FALSE(modes_of(signals, 20000, options)) << "no segment at all";
    EXPECT_FALSE(modes_of({}, 256, options));
    EXPECT_FALSE(modes_of(signals, 256, {.from_hz = 30.0, .to_hz = 40.0})) << "beyond half the rate";
    EXPECT_FALSE(modes_of(signals, 256, {.from_hz = 8.0, .to_hz = 3.0}));
    EXPECT_FALSE(modes_of({signals[0], Signal(50, 0.0)}, 256, options));
    EXPECT_FALSE(ambient_modes(std::vector<CrossDensities>{}, options));
}

} // namespace
} // namespace becalm::filters
