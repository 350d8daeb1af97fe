// Writing recordings. Expected values are computed from the definition: what was written is what must be read.
#include <cmath>
#include <csignal>
#include <limits>
#include <random>
#include <vector>

#include <gmock/gmock.h>
#include <sys/mman.h>
#include <sys/resource.h>

#include "src/io/audio_writer.h"
#include "src/io/recording_reader.h"

#include "tests/src/scratch_folder.h"

namespace becalm::io {
namespace {

using testing::HasSubstr;
using tests::content_of;
using tests::ScratchFolder;

using Values = std::vector<double>;

Values noise(std::size_t count, double greatest)
{
    std::mt19937_64 generator(11);
    std::uniform_real_distribution<double> uniform(-greatest, greatest);
    Values values(count);
    for (double& value : values) value = uniform(generator);
    return values;
}

struct ReadBack {
    RecordingInfo info;
    Values values;
};

ReadBack read_back(const std::string& path)
{
    auto reader = open_recording(path);
    if (!reader) {
        ADD_FAILURE() << to_text(reader.error());
        return {};
    }
    ReadBack result{(*reader)->info(), {}};
    result.values.resize(static_cast<std::size_t>(result.info.frames * result.info.channels));
    const auto got = (*reader)->read(result.values);
    EXPECT_TRUE(got && *got == static_cast<std::size_t>(result.info.frames));
    return result;
}

std::string refusal(const std::string& path, const AudioLayout& layout, const Values& values)
{
    const auto written = write_audio(path, layout, values);
    return written ? "no complaint" : to_text(written.error());
}

struct Case {
    const char* name;
    AudioLayout layout;
    const char* format;
    double tolerance; // of a value: half a step of the stored samples
};

class EveryLayout : public testing::TestWithParam<Case> {};

TEST_P(EveryLayout, ReadsBackWhatWasWritten)
{
    const Case& c = GetParam();
    const ScratchFolder folder;
    const Values written = noise(static_cast<std::size_t>(3000 * c.layout.channels), 0.99 * c.layout.full_scale);
    const auto result = write_audio(folder.path("a"), c.layout, written);
    ASSERT_TRUE(result) << to_text(result.error());
    const ReadBack read = read_back(folder.path("a"));
    EXPECT_EQ(read.info.format, c.format);
    EXPECT_EQ(read.info.rate_hz, c.layout.rate_hz);
    EXPECT_EQ(read.info.channels, c.layout.channels);
    ASSERT_EQ(read.values.size(), written.size());
    const double scale = read.info.integer_pcm ? c.layout.full_scale : 1.0;
    for (std::size_t i = 0; i < written.size(); ++i) ASSERT_NEAR(read.values[i] * scale, written[i], c.tolerance) << i;
    EXPECT_EQ(folder.entries(), 1U);
}

INSTANTIATE_TEST_SUITE_P(AudioWriter, EveryLayout,
                         testing::Values(Case{"Float",
                                              {1000, 3, AudioContainer::wav, AudioCoding::float32, 1.0},
                                              "WAV, 32-bit float",
                                              0x1p-25},
                                         Case{"Integer",
                                              {2048, 3, AudioContainer::wav, AudioCoding::integer24, 5.0},
                                              "WAV, 24-bit integer",
                                              5.0 * 0x1p-24},
                                         Case{"OneChannel",
                                              {48000, 1, AudioContainer::wav, AudioCoding::integer24, 0.25},
                                              "WAV, 24-bit integer",
                                              0.25 * 0x1p-24},
                                         Case{"Flac",
                                              {1000, 3, AudioContainer::flac, AudioCoding::integer24, 2.0},
                                              "FLAC, 24-bit integer",
                                              2.0 * 0x1p-24}),
                         [](const auto& c) { return std::string(c.param.name); });

TEST(AudioWriter, WritesTheSameBytesAtAnyTime)
{
    const ScratchFolder folder;
    const Values values = noise(3000, 0.9);
    for (const auto& [layout, name] :
         {std::pair{AudioLayout{1000, 3}, "float"},
          std::pair{AudioLayout{1000, 3, AudioContainer::flac, AudioCoding::integer24}, "flac"}}) {
        ASSERT_TRUE(write_audio(folder.path(std::string(name) + "1"), layout, values));
        ASSERT_TRUE(write_audio(folder.path(std::string(name) + "2"), layout, values));
        const std::string first = content_of(folder.path(std::string(name) + "1"));
        EXPECT_EQ(first, content_of(folder.path(std::string(name) + "2")));
        // The chunk that libsndfile adds to floating-point WAV unless told not to; it holds the time of writing.
        EXPECT_EQ(first.substr(0, 100).find("PEAK"), std::string::npos);
    }
}

TEST(AudioWriter, StoresTheEndsOfFullScale)
{
    const ScratchFolder folder;
    const AudioLayout layout{1000, 1, AudioContainer::wav, AudioCoding::integer24, 4.0};
    const double highest = 4.0 * (1.0 - 0x1p-23);
    ASSERT_TRUE(write_audio(folder.path("a"), layout, Values{-4.0, highest, 0.0}));
    EXPECT_EQ(read_back(folder.path("a")).values, (Values{-1.0, 1.0 - 0x1p-23, 0.0}));
}

TEST(AudioWriter, RefusesWhatItCannotStore)
{
    const ScratchFolder folder;
    const std::string path = folder.path("a");
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const AudioLayout floats{1000, 2};
    const AudioLayout integers{1000, 2, AudioContainer::wav, AudioCoding::integer24, 4.0};
    EXPECT_THAT(refusal(path, integers, {0, 0, 0, 4.0}),
                HasSubstr("frame 2, channel 2: 4 does not fit into a full scale of 4"));
    EXPECT_THAT(refusal(path, integers, {0, -4.1}), HasSubstr("frame 1, channel 2: -4.1 does not fit"));
    EXPECT_THAT(refusal(path, integers, {nan, 0}), HasSubstr("frame 1, channel 1: nan does not fit"));
    EXPECT_THAT(refusal(path, floats, {0, nan}), HasSubstr("frame 1, channel 2: nan is no single-precision number"));
    EXPECT_THAT(refusal(path, floats, {1e39, 0}), HasSubstr("is no single-precision number"));
    EXPECT_THAT(refusal(path, floats, {1, 2, 3}), HasSubstr("3 values are no whole frames of 2 channels"));
    EXPECT_THAT(refusal(path, floats, {}), HasSubstr("0 values"));
    EXPECT_THAT(refusal(path, {0, 1}, {1}), HasSubstr("a rate of 0 Hz"));
    EXPECT_THAT(refusal(path, {1000, 0}, {1}), HasSubstr("0 channels; 1 to 256"));
    EXPECT_THAT(refusal(path, {1000, 9, AudioContainer::flac, AudioCoding::integer24}, Values(9)),
                HasSubstr("9 channels; 1 to 8"));
    EXPECT_THAT(refusal(path, {1000, 1, AudioContainer::flac}, {1}), HasSubstr("FLAC holds integers only"));
    EXPECT_THAT(refusal(path, {1000, 1, AudioContainer::wav, AudioCoding::integer24, 0.0}, {0}),
                HasSubstr("a full scale of 0"));
    EXPECT_EQ(folder.entries(), 0U);
}

// 4 GiB of addresses that are never touched: the size is refused before a value is looked at.
TEST(AudioWriter, RefusesMoreThanTheFormatHolds)
{
    const ScratchFolder folder;
    constexpr std::size_t count = (std::size_t{1} << 32) / 4;
    void* addresses =
        ::mmap(nullptr, count * sizeof(double), PROT_READ, MAP_PRIVATE | MAP_ANONYMOUS | MAP_NORESERVE, -1, 0);
    if (addresses == MAP_FAILED) GTEST_SKIP() << "no address space of 8 GiB here";
    const auto written =
        write_audio(folder.path("a"), {1000, 1}, std::span(static_cast<const double*>(addresses), count));
    ::munmap(addresses, count * sizeof(double));
    ASSERT_FALSE(written);
    EXPECT_THAT(to_text(written.error()), HasSubstr("too many for one file of 4 GiB"));
}

TEST(AudioWriter, LeavesAnExistingFileAsItIs)
{
    const ScratchFolder folder;
    const std::string path = folder.file("a.wav", "precious");
    EXPECT_THAT(refusal(path, {1000, 1}, {1, 2}), HasSubstr("it exists already"));
    EXPECT_EQ(content_of(path), "precious");
    EXPECT_EQ(folder.entries(), 1U);
    EXPECT_THAT(refusal(folder.path("nowhere/a.wav"), {1000, 1}, {1}),
                HasSubstr("folder it should lie in does not exist"));
}

// The limit on file size stands for a full disk: the same way out of the same write.
TEST(AudioWriter, LeavesNothingWhereTheDiskIsFull)
{
    const ScratchFolder folder;
    rlimit before = {};
    ASSERT_EQ(::getrlimit(RLIMIT_FSIZE, &before), 0);
    const auto handler = std::signal(SIGXFSZ, SIG_IGN);
    rlimit small = before;
    small.rlim_cur = 8192;
    ASSERT_EQ(::setrlimit(RLIMIT_FSIZE, &small), 0);
    const auto written = write_audio(folder.path("a.wav"), {1000, 1}, noise(100000, 1.0));
    ASSERT_EQ(::setrlimit(RLIMIT_FSIZE, &before), 0);
    std::signal(SIGXFSZ, handler);
    ASSERT_FALSE(written);
    EXPECT_EQ(written.error().kind, ProblemKind::outside_world);
    EXPECT_EQ(folder.entries(), 0U);
}

} // namespace
} // namespace becalm::io
