// Samples in memory, read where they lie. Expected values are computed from the definition.
#include <limits>
#include <vector>

#include <gtest/gtest.h>

#include "src/io/recording_reader.h"

namespace becalm::io {
namespace {

template <class Number>
std::shared_ptr<SamplesInMemory> samples(const Number* first, std::int64_t frames, int channels,
                                         std::ptrdiff_t frame_stride, std::ptrdiff_t channel_stride)
{
    return std::make_shared<SamplesInMemory>(
        SamplesInMemory{.rate_hz = 100.0,
                        .frames = frames,
                        .channels = channels,
                        .first = reinterpret_cast<const std::byte*>(first),
                        .frame_stride = frame_stride * static_cast<std::ptrdiff_t>(sizeof(Number)),
                        .channel_stride = channel_stride * static_cast<std::ptrdiff_t>(sizeof(Number)),
                        .single_precision = sizeof(Number) == sizeof(float)});
}

std::vector<double> read_from(std::int64_t frame, std::shared_ptr<SamplesInMemory> from, std::size_t block)
{
    const auto reader = open_recording("array", {.samples = std::move(from)});
    EXPECT_TRUE(reader) << to_text(reader.error());
    EXPECT_TRUE((*reader)->seek(frame));
    std::vector<double> all, values(block);
    while (true) {
        const auto got = (*reader)->read(values);
        EXPECT_TRUE(got);
        if (!got || *got == 0) return all;
        all.insert(all.end(), values.begin(),
                   values.begin() + static_cast<std::ptrdiff_t>(*got) * (*reader)->info().channels);
    }
}

TEST(MemoryReader, ReadsWhateverTheLayout)
{
    const std::vector<double> x{1, 2, 3, 4, 5, 6};
    using Values = std::vector<double>;
    EXPECT_EQ(read_from(0, samples(x.data(), 3, 2, 2, 1), 4), (Values{1, 2, 3, 4, 5, 6}));
    EXPECT_EQ(read_from(0, samples(x.data(), 3, 2, 1, 3), 100), (Values{1, 4, 2, 5, 3, 6}));
    EXPECT_EQ(read_from(0, samples(x.data() + 5, 6, 1, -1, 0), 1), (Values{6, 5, 4, 3, 2, 1}));
    EXPECT_EQ(read_from(2, samples(x.data(), 5, 1, 0, 0), 2), (Values{1, 1, 1}));
    EXPECT_EQ(read_from(1, samples(x.data(), 3, 2, 2, 1), 5),
              (Values{3, 4, 5, 6})); // two frames fit, half a one does not
    const std::vector<float> y{0.5F, std::numeric_limits<float>::infinity()};
    EXPECT_EQ(read_from(0, samples(y.data(), 2, 1, 1, 0), 2), (Values{0.5, std::numeric_limits<double>::infinity()}));
}

TEST(MemoryReader, RefusesWhatIsNoRecording)
{
    const double x = 1.0;
    auto given = samples(&x, 1, 1, 1, 0);
    EXPECT_TRUE(open_recording("array", {.samples = given}));
    EXPECT_FALSE(open_recording("array", {.resample_hz = 10.0, .samples = given}));
    for (const double rate_hz : {0.0, -1.0, 2e9, std::numeric_limits<double>::quiet_NaN()}) {
        auto wrong = std::make_shared<SamplesInMemory>(*given);
        wrong->rate_hz = rate_hz;
        EXPECT_FALSE(open_recording("array", {.samples = wrong})) << rate_hz;
    }
    auto none = std::make_shared<SamplesInMemory>(*given);
    none->frames = 0;
    const auto refused = open_recording("array", {.samples = none});
    ASSERT_FALSE(refused);
    EXPECT_EQ(to_text(refused.error()), "array: there are no samples; hand over at least one");
}

} // namespace
} // namespace becalm::io
