// What is drawn of a recording is the range of its samples, whichever window is looked at.
#include <cmath>
#include <limits>
#include <random>
#include <rapidcheck.h>

#include <gmock/gmock.h>

#include "ui/desktop/recording_samples.h"
#include "ui/desktop/sample_pyramid.h"

#include "tests/evaluators/recordings.h"
#include "tests/faces/desktop/window_under_test.h"

namespace becalm::desktop {
namespace {

using evaluators::tests::noise;
using evaluators::tests::Signal;
using testing::Eq;
using testing::Ge;
using testing::IsEmpty;
using testing::Le;
using testing::SizeIs;

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();

// Noise, constant stretches and samples that are no numbers.
Signal mixed(std::size_t frames, unsigned seed)
{
    Signal signal = noise(frames, seed);
    for (std::size_t i = 0; i < frames; ++i) {
        if (i % 7919 < 700) signal[i] = 0.25;
        if (i % 5003 < 300) signal[i] = not_a_number;
    }
    return signal;
}

// By looking at every sample.
void expect_ranges(const Envelope& envelope, const Signal& signal, std::int64_t from, std::int64_t to)
{
    const auto frames = static_cast<std::int64_t>(signal.size());
    RC_ASSERT(envelope.first % envelope.step == 0);
    RC_ASSERT(envelope.first <= from);
    RC_ASSERT(envelope.first + envelope.step > from);
    const auto count = static_cast<std::int64_t>(envelope.least.size());
    RC_ASSERT(envelope.greatest.size() == envelope.least.size());
    RC_ASSERT(envelope.first + count * envelope.step >= std::min(to, frames));
    RC_ASSERT(envelope.first + (count - 1) * envelope.step < std::min(to, frames));
    for (std::int64_t i = 0; i < count; ++i) {
        float least = not_a_number, greatest = not_a_number; // fmin and fmax take the number of the two
        const std::int64_t begin = envelope.first + i * envelope.step;
        for (std::int64_t k = begin; k < std::min(begin + envelope.step, frames); ++k) {
            const auto sample = static_cast<float>(signal[static_cast<std::size_t>(k)]);
            least = std::fmin(least, sample);
            greatest = std::fmax(greatest, sample);
        }
        const auto same = [](float a, float b) { return a == b || (std::isnan(a) && std::isnan(b)); };
        RC_ASSERT(same(envelope.least[static_cast<std::size_t>(i)], least));
        RC_ASSERT(same(envelope.greatest[static_cast<std::size_t>(i)], greatest));
    }
}

// A recording in memory: no writer takes what is no number.
class SignalsReader final : public io::RecordingReader {
public:
    explicit SignalsReader(const std::vector<Signal>& channels)
        : channels_(channels), info_{.rate_hz = 1000.0,
                                     .channels = static_cast<int>(channels.size()),
                                     .frames = static_cast<std::int64_t>(channels.front().size())}
    {
    }
    const io::RecordingInfo& info() const override { return info_; }
    Result<std::size_t> read(std::span<double> values) override
    {
        std::size_t frames = 0;
        for (; (frames + 1) * channels_.size() <= values.size() && next_ < channels_.front().size(); ++frames, ++next_)
            for (std::size_t c = 0; c < channels_.size(); ++c)
                values[frames * channels_.size() + c] = channels_[c][next_];
        return frames;
    }
    Result<void> seek(std::int64_t frame) override
    {
        next_ = static_cast<std::size_t>(frame);
        return {};
    }

private:
    const std::vector<Signal>& channels_;
    io::RecordingInfo info_;
    std::size_t next_ = 0;
};

class OfThreeChannels : public testing::Test {
protected:
    static constexpr std::size_t frames = 300001;

    OfThreeChannels()
    {
        for (unsigned c = 0; c < 3; ++c) channels_.push_back(mixed(frames, c + 1));
        reader_ = std::make_unique<SignalsReader>(channels_);
    }

    std::vector<Signal> channels_;
    std::unique_ptr<io::RecordingReader> reader_;
};

TEST_F(OfThreeChannels, APyramidTellsTheRangesThatEverySampleTells)
{
    const auto pyramid = pyramid_of(*reader_, {});
    ASSERT_TRUE(pyramid) << to_text(pyramid.error());
    EXPECT_EQ(pyramid->frames(), static_cast<std::int64_t>(frames));
    EXPECT_THAT(pyramid->bytes(), Le(3 * (frames / 256 + 2) * 8 * 17 / 8)); // vectors grow by doubling
    EXPECT_TRUE(rc::check("any window, any stretch", [&] {
        const auto from = *rc::gen::inRange<std::int64_t>(0, frames - 1);
        const auto to = *rc::gen::inRange<std::int64_t>(from + 1, frames + 5000);
        const int channel = *rc::gen::inRange(1, 4);
        const std::int64_t step = std::int64_t{1} << *rc::gen::inRange(8, 20);
        expect_ranges(pyramid->envelope(channel, from, to, step), channels_[static_cast<std::size_t>(channel) - 1],
                      from, to);
    }));
}

TEST_F(OfThreeChannels, TilesTellTheRangesThatEverySampleTells)
{
    SampleTiles tiles;
    EXPECT_TRUE(rc::check("any window, any stretch", [&] {
        const auto from = *rc::gen::inRange<std::int64_t>(0, frames - 1);
        const auto to = *rc::gen::inRange<std::int64_t>(from + 1, frames + 1);
        const int channel = *rc::gen::inRange(1, 4);
        const std::int64_t step = std::int64_t{1} << *rc::gen::inRange(0, 12);
        for (const SampleTiles::Key& key : tiles.missing(channel, from, to)) {
            auto tile = tile_of(*reader_, key);
            RC_ASSERT(tile.has_value());
            tiles.put(key, std::move(*tile));
        }
        const auto envelope = tiles.envelope(channel, from, to, step);
        RC_ASSERT(envelope.has_value());
        expect_ranges(*envelope, channels_[static_cast<std::size_t>(channel) - 1], from, to);
    }));
}

TEST_F(OfThreeChannels, ATileThatIsNotThereIsAskedForAndNotMadeUp)
{
    SampleTiles tiles;
    EXPECT_THAT(tiles.missing(2, 60000, 140000),
                testing::ElementsAre(testing::Pair(2, 0), testing::Pair(2, 1), testing::Pair(2, 2)));
    tiles.put({2, 0}, *tile_of(*reader_, {2, 0}));
    EXPECT_FALSE(tiles.envelope(2, 60000, 70000, 1).has_value());
    EXPECT_FALSE(tiles.envelope(1, 0, 10, 1).has_value());
    EXPECT_TRUE(tiles.envelope(2, 0, 65536, 1).has_value());
}

TEST_F(OfThreeChannels, AStopEndsTheReading)
{
    std::stop_source stop;
    stop.request_stop();
    EXPECT_FALSE(pyramid_of(*reader_, stop.get_token()).has_value());
}

TEST(SampleTiles, KeepsThoseUsedLast)
{
    SampleTiles tiles;
    const std::vector<float> few(16, 1.0F);
    for (std::int64_t i = 0; i < static_cast<std::int64_t>(SampleTiles::most); ++i) tiles.put({1, i}, few);
    EXPECT_TRUE(tiles.envelope(1, 0, 16, 1).has_value()); // used again
    tiles.put({1, 1000}, few);
    EXPECT_THAT(tiles.missing(1, 0, 1), IsEmpty());
    EXPECT_THAT(tiles.missing(1, SampleTiles::frames_a_tile, SampleTiles::frames_a_tile + 1), SizeIs(1));
}

TEST(EnvelopeStep, LeavesEveryColumnItsStretch)
{
    EXPECT_THAT(envelope_step(100, 1600), Eq(1));
    EXPECT_THAT(envelope_step(1600 * 255, 1600), Eq(128));
    EXPECT_THAT(envelope_step(100'000'000, 1600), Eq(32768));
    EXPECT_TRUE(rc::check("at least as many stretches as columns, at most twice as many", [] {
        const auto frames = *rc::gen::inRange<std::int64_t>(2000, 1'000'000'000);
        const int columns = *rc::gen::inRange(1, 2000);
        const double count = static_cast<double>(frames) / static_cast<double>(envelope_step(frames, columns));
        RC_ASSERT(count >= columns);
        RC_ASSERT(count < 2.0 * columns + 2.0);
    }));
}

TEST(RecordingSamples, AreThoseOfTheEvenRateWhereTimesAreNot)
{
    const becalm::tests::ScratchFolder folder;
    std::string text = "time,z\n";
    for (int i = 0; i < 1000; ++i) text += fmt::format("{:.4f},{}\n", (i + (i % 3 == 1 ? 0.2 : 0.0)) / 100.0, i % 10);
    const std::string path = folder.file("odd.csv", text);
    const auto reader = io::open_recording(path, {.resample_hz = 200.0});
    ASSERT_TRUE(reader) << to_text(reader.error());
    RecordingSamples samples;
    samples.open(path, (*reader)->info(), 200.0);
    ASSERT_TRUE(tests::wait_until([&] { return samples.is_complete() || !samples.problem().isEmpty(); }));
    EXPECT_TRUE(samples.problem().isEmpty()) << samples.problem().toStdString();
    ASSERT_TRUE(tests::wait_until([&] { return samples.envelope(1, 0, 100, 50).has_value(); }));
    samples.open(path, (*reader)->info());
    ASSERT_TRUE(tests::wait_until([&] { return samples.is_complete() || !samples.problem().isEmpty(); }));
    EXPECT_FALSE(samples.problem().isEmpty()) << "without that its times are refused";
}

TEST(RecordingSamples, NoticeAChangeOfTheFilesBehindADescription)
{
    const becalm::tests::ScratchFolder folder;
    folder.file("run.bin", std::string(4000, '\1'));
    const std::string path =
        folder.file("run.recording.toml",
                    "[becalm-recording]\nfiles = [\"run.bin\"]\nnumbers = \"int16\"\nchannels = 1\nrate_hz = 100\n");
    const auto reader = io::open_recording(path);
    ASSERT_TRUE(reader) << to_text(reader.error());
    RecordingSamples samples;
    samples.open(path, (*reader)->info());
    ASSERT_TRUE(tests::wait_until([&] { return samples.is_complete(); }));
    EXPECT_TRUE(samples.problem().isEmpty());
    const std::uint64_t before = samples.number();
    samples.open(path, (*reader)->info());
    EXPECT_EQ(samples.number(), before) << "the same file, unchanged";
    folder.file("run.bin", std::string(6000, '\1'));
    EXPECT_TRUE(tests::wait_until([&] { return !samples.problem().isEmpty(); }));
}

} // namespace
} // namespace becalm::desktop
