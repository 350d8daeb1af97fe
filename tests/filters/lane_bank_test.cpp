// Many lanes side by side give what each gives alone, however the samples are cut into blocks.
#include <algorithm>
#include <array>
#include <cmath>
#include <memory>
#include <span>
#include <stdexcept>
#include <vector>

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "filters/aligned_buffer.h"
#include "filters/lane_bank.h"
#include "filters/lane_kernel.h"
#include "filters/weighting.h"

#include "tests/filters/kernels.h"
#include "tests/filters/signals.h"

namespace becalm::filters {
namespace {

using Weighting = std::shared_ptr<const DigitalWeighting>;
using tests::noise;
using tests::Signal;

Weighting designed(WeightingId id, Motion motion, double rate_hz)
{
    auto result = design(id, motion, rate_hz);
    if (!result) throw std::runtime_error(to_text(result.error()));
    return *result;
}

// Weightings of clearly different length of correction at one rate, so of different latency.
std::vector<Weighting> assorted_weightings()
{
    return {designed(WeightingId::Wk, Motion::acceleration, 1000.0),
            designed(WeightingId::Wd, Motion::acceleration, 1000.0),
            designed(WeightingId::Wm, Motion::velocity, 1000.0),
            designed(WeightingId::We, Motion::acceleration, 2048.0),
            designed(WeightingId::Wb, Motion::acceleration, 1000.0),
            designed(WeightingId::Wf, Motion::acceleration, 1000.0),
            designed(WeightingId::none, Motion::acceleration, 1000.0)};
}

// Runs a group over whole signals cut into `blocks` (the last repeats), rows that come late by its latency included.
// Returns one signal a lane.
std::vector<Signal> run(LaneGroup& group, const std::vector<Signal>& channels, std::span<const std::size_t> blocks)
{
    std::vector<Signal> lanes(group.lanes());
    const std::size_t total = channels.front().size();
    for (std::size_t done = 0, b = 0; done < total; ++b) {
        const std::size_t rows = std::min(blocks[std::min(b, blocks.size() - 1)], total - done);
        std::vector<const double*> at;
        for (const Signal& channel : channels) at.push_back(channel.data() + done);
        group.process(at, rows);
        for (std::size_t i = 0; i < rows; ++i)
            for (std::size_t l = 0; l < lanes.size(); ++l)
                lanes[l].push_back(group.rows()[i * static_cast<std::size_t>(group.width()) + l]);
        done += rows;
    }
    return lanes;
}

double peak_of(const Signal& signal)
{
    double peak = 0.0;
    for (const double x : signal) peak = std::max(peak, std::abs(x));
    return peak;
}

constexpr std::size_t longest_block = 700;
constexpr std::array whole_blocks{longest_block};

// Everything that one draw of lanes needs.
struct Draw {
    std::vector<BankLane> lanes;
    std::vector<Signal> channels;
};

Draw drawn(std::size_t samples)
{
    const auto weightings = assorted_weightings();
    Draw draw;
    const auto inputs = *rc::gen::inRange<std::size_t>(1, 5);
    for (std::size_t c = 0; c < inputs; ++c) draw.channels.push_back(noise(samples, *rc::gen::inRange(0U, 10000U)));
    const auto count = *rc::gen::inRange<std::size_t>(1, 9);
    for (std::size_t l = 0; l < count; ++l)
        draw.lanes.push_back({.input = *rc::gen::inRange<std::size_t>(0, inputs),
                              .weighting = weightings[*rc::gen::inRange<std::size_t>(0, weightings.size())]});
    return draw;
}

RC_GTEST_PROP(LaneGroup, IsTheSameHoweverTheSamplesAreCut, ())
{
    const Draw draw = drawn(3000);
    const auto blocks = *rc::gen::nonEmpty(
        rc::gen::container<std::vector<std::size_t>>(rc::gen::inRange<std::size_t>(1, longest_block + 1)));
    LaneGroup whole(draw.lanes, longest_block), cut(draw.lanes, longest_block);
    RC_ASSERT(run(cut, draw.channels, blocks) == run(whole, draw.channels, whole_blocks));
}

// A group of eight may run as pairs of narrower vectors, whose products and sums the compiler rounds together in other
// places than those of a group of four. The slow poles of Wf at 1 kHz make 4e-10 of the peak of it, the others 6e-12 at
// most (measured). A lane in the wrong place or late by a sample would be off by the whole signal.
constexpr double rounding = 2e-9;

RC_GTEST_PROP(LaneGroup, GivesEachLaneWhatItGivesAloneLateByTheSharedLatency, ())
{
    const Draw draw = drawn(3000);
    LaneGroup together(draw.lanes, longest_block);
    const auto lanes = run(together, draw.channels, whole_blocks);
    for (std::size_t l = 0; l < draw.lanes.size(); ++l) {
        LaneGroup alone({draw.lanes[l]}, longest_block);
        const Signal expected = run(alone, draw.channels, whole_blocks)[0];
        RC_ASSERT(together.latency() >= alone.latency());
        const auto late = static_cast<std::size_t>(together.latency() - alone.latency());
        const double tolerance = rounding * peak_of(expected);
        for (std::size_t i = 0; i < late; ++i) RC_ASSERT(lanes[l][i] == 0.0);
        for (std::size_t i = late; i < expected.size(); ++i)
            RC_ASSERT(std::abs(lanes[l][i] - expected[i - late]) <= tolerance);
    }
}

RC_GTEST_PROP(LaneGroup, LeavesAPlainLaneUntouchedBesideWeightedOnes, ())
{
    Draw draw = drawn(2000);
    draw.lanes.back().weighting = designed(WeightingId::none, Motion::acceleration, 1000.0);
    LaneGroup group(draw.lanes, longest_block);
    const Signal plain = run(group, draw.channels, whole_blocks).back();
    const Signal& channel = draw.channels[draw.lanes.back().input];
    const auto late = static_cast<std::size_t>(group.latency());
    for (std::size_t i = 0; i < plain.size(); ++i) RC_ASSERT(plain[i] == (i < late ? 0.0 : channel[i - late]));
}

RC_GTEST_PROP(LaneBank, GivesEveryLaneInItsPlaceWhatItGivesAlone, ())
{
    const auto weightings = assorted_weightings();
    const std::size_t samples = longest_block;
    const std::vector<Signal> channels{noise(samples, 1), noise(samples, 2), noise(samples, 3)};
    const auto count = *rc::gen::inRange<std::size_t>(1, 40);
    std::vector<BankLane> lanes;
    for (std::size_t l = 0; l < count; ++l)
        lanes.push_back({.input = *rc::gen::inRange<std::size_t>(0, channels.size()),
                         .weighting = weightings[*rc::gen::inRange<std::size_t>(0, weightings.size())]});
    LaneBank bank(lanes, longest_block);
    std::vector<const double*> at;
    for (const Signal& channel : channels) at.push_back(channel.data());
    bank.process(at, samples);

    RC_ASSERT(bank.places().size() == lanes.size());
    int latency = 0;
    for (LaneGroup& group : bank.groups()) latency = std::max(latency, group.latency());
    RC_ASSERT(bank.greatest_latency() == latency);
    for (std::size_t l = 0; l < lanes.size(); ++l) {
        LaneGroup& group = bank.groups()[bank.places()[l].group];
        LaneGroup alone({lanes[l]}, longest_block);
        const Signal expected = run(alone, channels, whole_blocks)[0];
        const auto late = static_cast<std::size_t>(group.latency() - alone.latency());
        const bool plain = lanes[l].weighting->id == WeightingId::none;
        if (plain) RC_ASSERT(group.latency() == 0);
        const double tolerance = plain ? 0.0 : rounding * peak_of(expected);
        for (std::size_t i = late; i < samples; ++i) {
            const double got = group.rows()[i * static_cast<std::size_t>(group.width()) + bank.places()[l].lane];
            RC_ASSERT(std::abs(got - expected[i - late]) <= tolerance);
        }
    }
}

// The filter in twice the digits' company: long double, sample after sample, its coefficients as designed.
Signal in_long_double(const DigitalWeighting& weighting, const Signal& channel)
{
    std::vector<long double> poles(weighting.poles.size()), states(2 * weighting.sections.size());
    Signal out;
    for (std::size_t i = 0; i < channel.size(); ++i) {
        long double y = 0.0L;
        for (std::size_t k = 0; k < weighting.taps.size() && k <= i; ++k)
            y += static_cast<long double>(weighting.taps[k]) * channel[i - k];
        for (std::size_t k = 0; k < poles.size(); ++k) {
            poles[k] = channel[i] - weighting.poles[k].rho * poles[k];
            y += weighting.poles[k].residue * poles[k];
        }
        for (std::size_t k = 0; k < weighting.sections.size(); ++k) {
            const Section& s = weighting.sections[k];
            long double &s1 = states[2 * k], &s2 = states[2 * k + 1];
            const long double x = y;
            y = x + s1;
            s1 = s.b1 * x + s2 - s.a1 * y;
            s2 = s.b2 * x - s.a2 * y;
        }
        out.push_back(static_cast<double>(y));
    }
    return out;
}

// Full blocks run in stretches of time side by side, the others sample after sample; one takes over where the other
// ends. Both round, and the slower a filter's poles beside the rate the more of it (Wf at 65,536 Hz: 1e-5 of the peak
// of a third of a second either way). So both are held against the same filter in long double: stretches may not cost
// digits.
TEST(LaneBank, IsTheSameInStretchesOfTimeAsSampleAfterSample)
{
    constexpr std::size_t full = LaneBank::usual_block;
    std::vector<BankLane> lanes;
    for (const Weighting& weighting : assorted_weightings()) lanes.push_back({lanes.size() % 2, weighting});
    for (const double rate_hz : {256.0, 512.0, 4096.0, 65536.0})
        for (const auto& [id, motion] :
             {std::pair(WeightingId::KB, Motion::velocity), std::pair(WeightingId::Wk, Motion::displacement),
              std::pair(WeightingId::Wf, Motion::acceleration)})
            lanes.push_back({lanes.size() % 2, designed(id, motion, rate_hz)});
    const std::array blocks{full, full, std::size_t{100}, full, std::size_t{1}, full, full};
    std::size_t samples = 0;
    for (const std::size_t block : blocks) samples += block;
    std::vector<Signal> channels{noise(samples, 1), noise(samples, 2)};
    for (double& x : channels[1]) x += 3.0; // an offset keeps the slow states busy

    LaneBank bank(lanes, full);
    std::vector<Signal> got(lanes.size());
    std::size_t done = 0;
    for (const std::size_t block : blocks) {
        bank.process(std::array<const double*, 2>{channels[0].data() + done, channels[1].data() + done}, block);
        done += block;
        for (std::size_t l = 0; l < lanes.size(); ++l) {
            const LaneGroup& group = bank.groups()[bank.places()[l].group];
            for (std::size_t i = 0; i < block; ++i)
                got[l].push_back(group.rows()[i * static_cast<std::size_t>(group.width()) + bank.places()[l].lane]);
        }
    }
    for (std::size_t l = 0; l < lanes.size(); ++l) {
        LaneGroup alone({lanes[l]}, longest_block);
        const Signal expected = run(alone, channels, whole_blocks)[0];
        const auto late = static_cast<std::size_t>(bank.groups()[bank.places()[l].group].latency() - alone.latency());
        const Signal exact = in_long_double(*lanes[l].weighting, channels[lanes[l].input]);
        double in_turn = 0.0, in_stretches = 0.0;
        for (std::size_t i = late; i < samples; ++i) {
            in_turn = std::max(in_turn, std::abs(expected[i - late] - exact[i - late]));
            in_stretches = std::max(in_stretches, std::abs(got[l][i] - exact[i - late]));
        }
        EXPECT_LE(in_stretches, 10.0 * in_turn + 1e-13 * peak_of(expected))
            << name_of(lanes[l].weighting->id) << " at " << lanes[l].weighting->rate_hz << " Hz";
    }
}

// Computed from what filters/lane_kernel.h says of each.
TEST(Kernel, LaysStretchesAndLanesSideBySideInEachInstructionSet)
{
    constexpr std::size_t length = 21; // neither whole vectors nor pairs
    const Signal x = noise(8 * length, 5);
    for (const kernel::Table* table : tests::kernels_of_this_processor()) {
        SCOPED_TRACE(table->name);
        const auto slots = static_cast<std::size_t>(table->widest);
        AlignedBuffer spread(length * slots);
        table->spread(x.data(), length, spread.data());
        for (std::size_t i = 0; i < length; ++i)
            for (std::size_t j = 0; j < slots; ++j) ASSERT_EQ(spread[i * slots + j], x[j * length + i]);

        for (const std::size_t width : {std::size_t{4}, slots})
            for (std::size_t count = 1; count <= width; ++count) {
                std::vector<AlignedBuffer> lanes;
                std::vector<const double*> at;
                for (std::size_t l = 0; l < count; ++l) {
                    lanes.emplace_back(length * slots);
                    for (std::size_t k = 0; k < length * slots; ++k)
                        lanes[l][k] = static_cast<double>(1000 * (l + 1) + k);
                }
                for (const AlignedBuffer& lane : lanes) at.push_back(lane.data());
                AlignedBuffer merged(length * slots * width), interleaved(length * width);
                table->merge(at.data(), count, width, length, merged.data());
                table->interleave(at.data(), count, width, length, interleaved.data());
                for (std::size_t l = 0; l < width; ++l)
                    for (std::size_t i = 0; i < length; ++i) {
                        ASSERT_EQ(interleaved[i * width + l], l < count ? lanes[l][i] : 0.0);
                        for (std::size_t j = 0; j < slots; ++j)
                            ASSERT_EQ(merged[(j * length + i) * width + l], l < count ? lanes[l][i * slots + j] : 0.0);
                    }
            }

        for (std::size_t width = 1; width <= 7; ++width) {
            const std::size_t frames = x.size() / width;
            Signal channel(frames);
            table->channel(x.data() + width - 1, width, 2.5, channel.data(), frames);
            for (std::size_t i = 0; i < frames; ++i) ASSERT_EQ(channel[i], 2.5 * x[i * width + width - 1]);
        }
    }
}

TEST(Kernel, FollowsStatesFromStretchToStretchInEachInstructionSet)
{
    constexpr std::size_t rows = 37, states = 10, rank = 7;
    constexpr double rounding_here = 1e-14; // of numbers near 1, some dozens of them added
    const Signal factors = noise(rows * states, 6), basis = noise(states * rank, 7), numbers = noise(states * 16, 8);
    for (const kernel::Table* table : tests::kernels_of_this_processor()) {
        SCOPED_TRACE(table->name);
        const auto slots = static_cast<std::size_t>(table->widest);
        AlignedBuffer input(rows * slots), sums(states * slots), ends(states * slots), start(states * slots);
        for (std::size_t k = 0; k < input.size(); ++k) input[k] = factors[(7 * k) % factors.size()];
        table->weigh(input.data(), factors.data(), rows, states, sums.data());
        for (std::size_t k = 0; k < states; ++k)
            for (std::size_t j = 0; j < slots; ++j) {
                double sum = 0.0;
                for (std::size_t i = 0; i < rows; ++i) sum += factors[i * states + k] * input[i * slots + j];
                ASSERT_NEAR(sums[k * slots + j], sum, rounding_here);
            }

        for (std::size_t k = 0; k < ends.size(); ++k) ends[k] = numbers[k % numbers.size()];
        table->combine(basis.data(), sums.data(), rank, states, ends.data());
        for (std::size_t s = 0; s < states; ++s)
            for (std::size_t j = 0; j < slots; ++j) {
                double end = numbers[(s * slots + j) % numbers.size()];
                for (std::size_t k = 0; k < rank; ++k) end += basis[s * rank + k] * sums[k * slots + j];
                ASSERT_NEAR(ends[s * slots + j], end, rounding_here);
            }

        const std::size_t padded = (states + slots - 1) / slots * slots;
        AlignedBuffer carry(states * padded);
        for (std::size_t k = 0; k < states; ++k)
            for (std::size_t s = 0; s < states; ++s) carry[k * padded + s] = 0.1 * factors[k * states + s];
        for (std::size_t s = 0; s < states; ++s) start[s * slots] = numbers[s];
        table->carry(carry.data(), states, padded, ends.data(), start.data());
        for (std::size_t j = 1; j < slots; ++j)
            for (std::size_t s = 0; s < states; ++s) {
                double expected = ends[s * slots + j - 1];
                for (std::size_t k = 0; k < states; ++k) expected += carry[k * padded + s] * start[k * slots + j - 1];
                ASSERT_NEAR(start[s * slots + j], expected, rounding_here);
            }
    }
}

TEST(LaneGroup, BringsLanesOfDifferentLatencyOutAligned)
{
    // A sine of 8 Hz that has settled: each lane's row i, read as sample i - latency, is the definition's steady
    // response. Tolerance: the 1e-4 that filters/digital_design.h promises, relative to each lane's amplitude.
    constexpr double rate = 1000.0, hz = 8.0;
    constexpr double w = 2.0 * 3.14159265358979323846 * hz / rate;
    const auto wk = designed(WeightingId::Wk, Motion::acceleration, rate);
    const auto wm = designed(WeightingId::Wm, Motion::velocity, rate);
    const auto none = designed(WeightingId::none, Motion::acceleration, rate);
    ASSERT_NE(wk->latency, wm->latency) << "choose weightings of different latency";
    const std::vector<BankLane> lanes{{0, wk}, {0, wm}, {0, none}};
    LaneGroup group(lanes, longest_block);
    Signal sine(static_cast<std::size_t>(40 * rate));
    for (std::size_t i = 0; i < sine.size(); ++i) sine[i] = std::sin(w * static_cast<double>(i));
    const auto out = run(group, {sine}, whole_blocks);
    for (std::size_t l = 0; l < lanes.size(); ++l) {
        const auto steady = analytic_response(lanes[l].weighting->id, lanes[l].weighting->input, hz);
        for (std::size_t i = sine.size() - 1000; i < sine.size(); ++i) {
            const double expected =
                std::abs(steady) * std::sin(w * (static_cast<double>(i) - group.latency()) + std::arg(steady));
            ASSERT_NEAR(out[l][i], expected, 1e-4 * std::abs(steady))
                << name_of(lanes[l].weighting->id) << " row " << i;
        }
    }
}

TEST(FlushSubnormals, TreatsWhatIsBelowAnySignalAsZeroWhileInScope)
{
#if defined(__SSE2__)
    volatile double small = 3e-308;
    {
        const FlushSubnormals flush;
        EXPECT_EQ(small / 4.0, 0.0);
    }
    EXPECT_NE(small / 4.0, 0.0);
#else
    GTEST_SKIP() << "this processor has no such mode";
#endif
}

} // namespace
} // namespace becalm::filters
