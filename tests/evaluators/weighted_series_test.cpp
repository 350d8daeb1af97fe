// Weighted samples as a whole and block by block; samples in memory beside the same in a file. Expected values are
// computed from the definition: quantities are those of weigh(), blocks those of the whole.
#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include <gtest/gtest.h>

#include "evaluators/weighted_series.h"
#include "filters/quantities.h"
#include "src/io/json_out.h"

#include "tests/evaluators/recordings.h"

namespace becalm::evaluators::tests {
namespace {

struct Case {
    ScratchFolder folder = {};
    Signal x = single_precision(noise(5'130, 3)), y = single_precision(noise(5'130, 4));
    std::string path = wav(folder, "two.wav", 500, {x, y});
    WeighOptions options = {.weightings = {WeightingId::Wk, WeightingId::none},
                            .axes = {{1, Axis::x}, {2, Axis::z}},
                            .span = {.from_s = 1.5}};
    std::vector<double> both = interleaved({x, y});

    WeighOptions in_memory() const
    {
        WeighOptions memory = options;
        memory.samples = std::make_shared<io::SamplesInMemory>(
            io::SamplesInMemory{.rate_hz = 500.0,
                                .frames = 5'130,
                                .channels = 2,
                                .first = reinterpret_cast<const std::byte*>(both.data()),
                                .frame_stride = 2 * sizeof(double),
                                .channel_stride = sizeof(double)});
        return memory;
    }
};

std::vector<std::vector<double>> all_of(WeightedBlocks& blocks, std::vector<std::size_t>& lengths)
{
    std::vector<std::vector<double>> lanes(blocks.lanes().size());
    while (true) {
        const auto block = blocks.next();
        EXPECT_TRUE(block) << to_text(block.error());
        if (!block || block->empty()) return lanes;
        lengths.push_back(block->size() / lanes.size());
        for (std::size_t l = 0; l < lanes.size(); ++l) {
            const auto begin = block->begin() + static_cast<std::ptrdiff_t>(l * lengths.back());
            lanes[l].insert(lanes[l].end(), begin, begin + static_cast<std::ptrdiff_t>(lengths.back()));
        }
    }
}

TEST(WeightedSeries, QuantitiesAreThoseOfWeighAndSamplesCarryThem)
{
    const Case a_case;
    const auto series = weighted_series(a_case.path, a_case.options, true);
    ASSERT_TRUE(series) << to_text(series.error());
    EXPECT_EQ(io::as_json(std::vector{series->weighed}), io::as_json(weigh({a_case.path}, a_case.options).files));
    ASSERT_EQ(series->samples.size(), 4U);
    for (std::size_t l = 0; l < 4; ++l) {
        ASSERT_EQ(series->samples[l].size(), 4'380U);
        double squares = 0.0, peak = 0.0;
        for (const double a : series->samples[l]) {
            squares += a * a;
            peak = std::max(peak, std::abs(a));
        }
        EXPECT_NEAR(*series->weighed.lanes[l].rms, std::sqrt(squares / 4'380.0), 1e-12);
        EXPECT_EQ(*series->weighed.lanes[l].peak, peak);
        const Folded all = folded(ledger_lane(*series, l), {});
        EXPECT_EQ(all.quantities.rms, series->weighed.lanes[l].rms);
        EXPECT_EQ(all.quantities.vdv, series->weighed.lanes[l].vdv);
        EXPECT_EQ(all.tally.samples, 4'380U);
        const Folded none = folded(ledger_lane(*series, l), {{100.0, 200.0}});
        EXPECT_EQ(none.quantities.rms, std::nullopt);
    }
    const auto without = weighted_series(a_case.path, a_case.options, false);
    ASSERT_TRUE(without);
    EXPECT_TRUE(without->samples.empty());
    EXPECT_EQ(without->ledgers.at(3).rows, series->ledgers.at(3).rows);
}

TEST(WeightedSeries, OfARecordingLongerThanASpanQuantitiesAreThoseOfWeighToo)
{
    const ScratchFolder folder;
    const std::string path = wav(folder, "long.wav", 40, {noise(40 * 1'801, 5)});
    const WeighOptions options{.weightings = {WeightingId::none}};
    const auto series = weighted_series(path, options, true);
    ASSERT_TRUE(series) << to_text(series.error());
    EXPECT_EQ(io::as_json(std::vector{series->weighed}), io::as_json(weigh({path}, options).files));
    EXPECT_EQ(series->samples.at(0).size(), 40U * 1'801U);
}

TEST(WeightedSeries, BlocksAreTheWholeInPieces)
{
    const Case a_case;
    const auto series = weighted_series(a_case.path, a_case.options, true);
    ASSERT_TRUE(series);
    for (const double block_s : {1e-9, 0.7, 8.76, 1e9}) { // 1 sample, 350, all of them, more than that
        auto blocks = WeightedBlocks::open(a_case.path, a_case.options, block_s);
        ASSERT_TRUE(blocks) << to_text(blocks.error());
        EXPECT_EQ((*blocks)->from_s(), 1.5);
        EXPECT_EQ((*blocks)->duration_s(), 8.76);
        std::vector<std::size_t> lengths;
        EXPECT_EQ(all_of(**blocks, lengths), series->samples) << block_s;
        const double length = std::clamp(std::round(block_s * 500.0), 1.0, 4'380.0);
        EXPECT_EQ(static_cast<double>(lengths.size()), std::ceil(4'380.0 / length));
        EXPECT_EQ(static_cast<double>(lengths.front()), length);
    }
}

TEST(WeightedSeries, BlocksThatNobodyWantsAnyMoreEndTheirThread)
{
    const Case a_case;
    auto blocks = WeightedBlocks::open(a_case.path, a_case.options, 0.01);
    ASSERT_TRUE(blocks);
    ASSERT_TRUE((*blocks)->next());
    blocks->reset(); // would never come back otherwise
    blocks = WeightedBlocks::open(a_case.path, a_case.options, 0.01);
    ASSERT_TRUE(blocks);
}

TEST(WeightedSeries, SamplesInMemoryCountAsThoseOfAFile)
{
    const Case a_case;
    const auto file = weighted_series(a_case.path, a_case.options, true);
    auto memory = weighted_series("array", a_case.in_memory(), true);
    ASSERT_TRUE(memory) << to_text(memory.error());
    EXPECT_EQ(memory->samples, file->samples);
    EXPECT_EQ(memory->ledgers.at(2).rows, file->ledgers.at(2).rows);
    EXPECT_EQ(memory->weighed.sha256, "");
    memory->weighed.file = file->weighed.file;
    memory->weighed.sha256 = file->weighed.sha256;
    EXPECT_EQ(io::as_json(std::vector{memory->weighed}), io::as_json(std::vector{file->weighed}));
}

TEST(WeightedSeries, WhatCouldNotBeWeightedHasNoSamplesAndSpoilsNoOther)
{
    Case a_case;
    a_case.both[2 * 2'000 + 1] = std::numeric_limits<double>::quiet_NaN(); // of channel 2
    a_case.options.weightings = {WeightingId::Wk, WeightingId::Wh};        // whose least rate is higher
    const auto series = weighted_series("array", a_case.in_memory(), true);
    ASSERT_TRUE(series) << to_text(series.error());
    EXPECT_EQ(series->samples.at(0).size(), 4'380U);
    for (const std::size_t l : {1U, 2U, 3U}) {
        EXPECT_TRUE(series->samples.at(l).empty()) << l;
        EXPECT_TRUE(series->ledgers.at(l).rows.empty()) << l;
        EXPECT_EQ(series->weighed.lanes.at(l).rms, std::nullopt) << l;
    }
    const auto refused = WeightedBlocks::open("array", a_case.in_memory(), 1.0);
    ASSERT_FALSE(refused);
    EXPECT_NE(refused.error().what.find("Wh"), std::string::npos) << refused.error().what;

    a_case.options.weightings = {WeightingId::Wk};
    auto blocks = WeightedBlocks::open("array", a_case.in_memory(), 1.0);
    ASSERT_TRUE(blocks);
    auto block = (*blocks)->next();
    while (block && !block->empty()) block = (*blocks)->next();
    ASSERT_FALSE(block); // a gap is not passed over in silence
    EXPECT_NE(block.error().what.find("not numbers"), std::string::npos) << block.error().what;
}

TEST(WeightedSeries, ProblemsAreThoseOfTheRecording)
{
    const Case a_case;
    EXPECT_FALSE(weighted_series(a_case.folder.path("none.wav"), a_case.options, true));
    EXPECT_FALSE(WeightedBlocks::open(a_case.folder.path("none.wav"), a_case.options, 1.0));
    WeighOptions beyond = a_case.options;
    beyond.span = {.from_s = 100.0};
    EXPECT_FALSE(weighted_series(a_case.path, beyond, true));
    const auto blocks = WeightedBlocks::open(a_case.path, beyond, 1.0);
    ASSERT_TRUE(blocks);
    EXPECT_FALSE((*blocks)->next());
}

} // namespace
} // namespace becalm::evaluators::tests
