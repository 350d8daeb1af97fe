// Descriptions of recordings that cannot describe themselves. Expected values are computed from the definition: what
// was written is what must be read.
#include <cstdio>
#include <cstring>
#include <sndfile.h>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <rapidcheck/gtest.h>

#include "src/io/file_hash.h"

#include "tests/src/recording_values.h"
#include "tests/src/scratch_folder.h"

namespace becalm::io {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using tests::complaint;
using tests::read_all;
using tests::reads_everything;
using tests::ScratchFolder;

using Values = std::vector<double>;

std::string described(const ScratchFolder& folder, const std::string& keys,
                      const std::string& name = "run.recording.toml")
{
    return folder.file(name, "# how to read it\n[becalm-recording]\n" + keys);
}

std::string bytes_of(const std::vector<std::int64_t>& values, std::size_t width, bool big)
{
    std::string bytes;
    for (const std::int64_t value : values) {
        std::string one(8, '\0');
        std::memcpy(one.data(), &value, 8);
        one.resize(width);
        if (big) std::ranges::reverse(one);
        bytes += one;
    }
    return bytes;
}

TEST(Description, RawIntegersOfEveryWidthOrderAndLayout)
{
    const ScratchFolder folder;
    for (const auto& [numbers, width] : {std::pair{"int16", 2}, {"int24", 3}, {"int32", 4}})
        for (const bool big : {false, true})
            for (const bool interleaved : {true, false}) {
                const std::int64_t least = -(std::int64_t{1} << (8 * width - 1));
                const std::vector<std::int64_t> a{least, -1, 0, 1, -least - 1}, b{5, 4, 3, 2, -100};
                std::vector<std::int64_t> stored;
                Values expected;
                for (std::size_t i = 0; i < a.size(); ++i) {
                    expected.push_back(static_cast<double>(a[i]));
                    expected.push_back(static_cast<double>(b[i]));
                    stored.insert(stored.end(), {a[i], b[i]});
                }
                if (!interleaved) {
                    stored = a;
                    stored.insert(stored.end(), b.begin(), b.end());
                }
                folder.file("run.bin", "seven b" + bytes_of(stored, static_cast<std::size_t>(width), big));
                auto reader = open_recording(described(
                    folder,
                    fmt::format(
                        "files = [\"run.bin\"]\nnumbers = \"{}\"\nbyte_order = \"{}\"\nchannels = 2\nlayout = \"{}\"\n"
                        "header_bytes = 7\nrate_hz = 512.5\nunit = \"m/s2\"\nscale = [0.5, 0.25]\n"
                        "names = [\"x\", \"y\"]\nstart = \"2031-05-17T06:30:05Z\"\n",
                        numbers, big ? "big" : "little", interleaved ? "interleaved" : "one after the other")));
                ASSERT_TRUE(reader) << to_text(reader.error());
                const RecordingInfo& info = (*reader)->info();
                EXPECT_EQ(info.format, fmt::format("raw {}, described", numbers));
                EXPECT_EQ(info.rate_hz, 512.5);
                EXPECT_EQ(info.frames, 5);
                EXPECT_TRUE(info.integer_pcm);
                EXPECT_EQ(info.step, 1.0);
                EXPECT_EQ(info.unit, "m/s2");
                EXPECT_EQ(info.start, "2031-05-17T06:30:05Z");
                EXPECT_EQ(info.facts.at(1).scale, 0.25);
                EXPECT_THAT(info.names, ElementsAre("x", "y"));
                EXPECT_THAT(info.files, ElementsAre("run.bin"));
                EXPECT_EQ(read_all(**reader, 2).value(), expected);
                ASSERT_TRUE((*reader)->seek(3));
                EXPECT_EQ(read_all(**reader).value(), Values(expected.begin() + 6, expected.end()));
                EXPECT_FALSE((*reader)->seek(6));
            }
}

TEST(Description, RawFloats)
{
    const ScratchFolder folder;
    const std::vector<float> single{0.1F, -2.5F, 1e30F};
    folder.file("a.bin", std::string(reinterpret_cast<const char*>(single.data()), 12));
    auto reader =
        open_recording(described(folder, "files = [\"a.bin\"]\nnumbers = \"float32\"\nchannels = 1\nrate_hz = 100\n"));
    ASSERT_TRUE(reader) << to_text(reader.error());
    EXPECT_FALSE((*reader)->info().integer_pcm);
    EXPECT_EQ(read_all(**reader).value(), (Values{0.1F, -2.5, 1e30F}));
    EXPECT_THAT(
        complaint(described(folder, "files = [\"a.bin\"]\nnumbers = \"float64\"\nchannels = 1\nrate_hz = 100\n")),
        HasSubstr("a.bin: behind its header it holds 12 bytes, which is no whole number of frames of 8; correct"));
}

// Samples 1000 i + c, or so.
std::string wav(const ScratchFolder& folder, const std::string& name, int rate, int channels,
                const std::vector<short>& values, const char* date = nullptr, const char* time = nullptr)
{
    SF_INFO info = {};
    info.format = SF_FORMAT_WAV | SF_FORMAT_PCM_16;
    info.channels = channels;
    info.samplerate = rate;
    SNDFILE* file = sf_open(folder.path(name).c_str(), SFM_WRITE, &info);
    if (date != nullptr) {
        SF_BROADCAST_INFO extension;
        std::memset(&extension, 0, sizeof extension);
        std::memcpy(extension.origination_date, date, 10);
        std::memcpy(extension.origination_time, time, 8);
        sf_command(file, SFC_SET_BROADCAST_INFO, &extension, sizeof extension);
    }
    sf_write_short(file, values.data(), static_cast<sf_count_t>(values.size()));
    sf_close(file);
    return folder.path(name);
}

Values scaled(const Values& counts)
{
    Values values = counts;
    for (double& value : values) value /= 32768.0;
    return values;
}

TEST(Description, FilesInSequence)
{
    const ScratchFolder folder;
    wav(folder, "1.wav", 2, 2, {1, 2, 3, 4, 5, 6}, "2031-05-17", "23:59:59");
    wav(folder, "2.wav", 2, 2, {7, 8}, "2031-05-18", "00:00:00");
    wav(folder, "3.wav", 2, 2, {9, 10, 11, 12});
    const std::string path = described(folder, "files = [\"1.wav\", \"2.wav\", \"3.wav\"]\n");
    auto reader = open_recording(path);
    ASSERT_TRUE(reader) << to_text(reader.error());
    EXPECT_EQ((*reader)->info().format, "WAV, 16-bit integer, 3 files in sequence");
    EXPECT_EQ((*reader)->info().frames, 6);
    EXPECT_EQ((*reader)->info().start, "2031-05-17T23:59:59");
    EXPECT_THAT((*reader)->info().files, ElementsAre("1.wav", "2.wav", "3.wav"));
    const Values all = scaled({1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12});
    for (const std::size_t block : {1U, 2U, 5U, 100U}) {
        ASSERT_TRUE((*reader)->seek(0));
        EXPECT_EQ(read_all(**reader, block).value(), all);
    }
    for (std::int64_t from = 0; from <= 6; ++from) {
        ASSERT_TRUE((*reader)->seek(from));
        EXPECT_EQ(read_all(**reader, 2).value(), Values(all.begin() + 2 * from, all.end()));
    }

    wav(folder, "2.wav", 2, 2, {7, 8}, "2031-05-18", "00:01:00");
    EXPECT_THAT(complaint(path),
                HasSubstr("between 1.wav and 2.wav 59.5 s are missing; describe them as recordings of their own"));
    wav(folder, "2.wav", 2, 2, {7, 8}, "2031-05-17", "23:59:50");
    EXPECT_THAT(complaint(path), HasSubstr("1.wav and 2.wav overlap by 10.5 s"));
    wav(folder, "2.wav", 4, 2, {7, 8});
    EXPECT_THAT(complaint(path), HasSubstr("1.wav has a rate in Hz of 2, 2.wav has 4"));
    wav(folder, "2.wav", 2, 1, {7, 8});
    EXPECT_THAT(complaint(path), HasSubstr("1.wav has a number of channels of 2, 2.wav has 1"));
    folder.file("2.wav", "x,y\n# rate_hz: 2\n1,2\n3,4\n");
    EXPECT_THAT(complaint(path), HasSubstr("1.wav has the format WAV, 16-bit integer, 2.wav has delimited text"));
}

TEST(Description, StartTimesOfItsFilesTellTheRate)
{
    // Three files of 200 s at 100 Hz that begin 201 s apart: each joint is within what a second and a sample allow, all
    // of them run at 100 / 1.005 Hz. Computed from the definition.
    const ScratchFolder folder;
    const auto begun = [&](const std::string& name, const char* time) {
        wav(folder, name, 100, 1, std::vector<short>(20'000, 1), "2031-05-17", time);
    };
    begun("1.wav", "10:00:00");
    begun("2.wav", "10:03:21");
    begun("3.wav", "10:06:42");
    const std::string path = described(folder, "files = [\"1.wav\", \"2.wav\", \"3.wav\"]\n");
    auto reader = open_recording(path);
    ASSERT_TRUE(reader) << to_text(reader.error());
    EXPECT_EQ((*reader)->info().rate_hz, 100.0);
    EXPECT_NEAR((*reader)->info().timed_rate.hz, 40'000.0 / 402.0, 1e-9);
    EXPECT_NEAR((*reader)->info().timed_rate.relative, 1.0 / 402.0, 1e-12);
}

TEST(Description, DataSheetsAndSensitivitiesOfChannels)
{
    // 17 + 288 2^14 + 2 2^29 + 1 2^34 + 12345 2^40, the least byte first; the layout is from memory of IEEE 1451.4.
    const ScratchFolder folder;
    folder.file("run.bin", bytes_of({1, 2, 3, 4}, 2, false));
    const std::string raw = "files = [\"run.bin\"]\nnumbers = \"int16\"\nchannels = 2\nrate_hz = 100\n";
    auto reader = open_recording(described(folder, raw + "teds = [\"11 00 48 40 04 39 30 00\", \"\"]\n"
                                                         "sensitivity = \"10,2 mV/(m/s²)\"\n"));
    ASSERT_TRUE(reader) << to_text(reader.error());
    const RecordingInfo& info = (*reader)->info();
    ASSERT_EQ(info.facts.size(), 2U);
    EXPECT_EQ(info.facts[0].serial, "12345");
    EXPECT_EQ(info.facts[0].sensor, "manufacturer 17, model 288 B1");
    EXPECT_EQ(info.facts[1].serial, "");
    EXPECT_EQ(info.facts[1].sensitivity, "10,2 mV/(m/s²)");
    for (const auto& [keys, why] :
         {std::pair("teds = \"12 3\"\n", "holds half a byte"),
          {"teds = [\"\", \"\", \"\"]\n", "it gives 3 data sheets (teds), there are 2 channels"},
          {"sensitivity = \"10 pC/g\"\n", "no voltage stands behind the number"},
          {"teds = [1]\n", "this must be a text, or a list of them"}})
        EXPECT_THAT(complaint(described(folder, raw + keys)), HasSubstr(why));
}

TEST(Description, FilesSideBySide)
{
    const ScratchFolder folder;
    std::filesystem::create_directory(folder.path("sub"));
    wav(folder, "z.wav", 8, 1, {1, 2, 3, 4});
    wav(folder, "sub/xy.wav", 8, 2, {10, 20, 11, 21, 12, 22, 13, 23});
    const std::string path = described(folder, "side_by_side = [\"z.wav\", \"sub/xy.wav\"]\n");
    auto reader = open_recording(path);
    ASSERT_TRUE(reader) << to_text(reader.error());
    EXPECT_EQ((*reader)->info().channels, 3);
    EXPECT_THAT((*reader)->info().names, ElementsAre("z", "xy", "xy"));
    const Values all = scaled({1, 10, 20, 2, 11, 21, 3, 12, 22, 4, 13, 23});
    EXPECT_EQ(read_all(**reader, 3).value(), all);
    for (std::int64_t from = 0; from <= 4; ++from) {
        ASSERT_TRUE((*reader)->seek(from));
        EXPECT_EQ(read_all(**reader, 2).value(), Values(all.begin() + 3 * from, all.end()));
    }
    wav(folder, "z.wav", 8, 1, {1, 2, 3});
    EXPECT_THAT(complaint(path), HasSubstr("z.wav has a length in samples of 3, sub/xy.wav has 4"));
}

TEST(Description, OnlyFilesOfItsOwnFolder)
{
    const ScratchFolder folder, elsewhere;
    wav(elsewhere, "a.wav", 8, 1, {1, 2});
    const auto said = [&](const std::string& file) {
        return complaint(described(folder, "files = [\"" + file + "\"]\n"));
    };
    EXPECT_THAT(said(elsewhere.path("a.wav")), HasSubstr("run.recording.toml:3:"));
    EXPECT_THAT(said("/dev/zero"), HasSubstr("/dev/zero does not lie in the description's folder or below it; copy"));
    EXPECT_THAT(said("../a.wav"), HasSubstr("does not lie in"));
    EXPECT_THAT(said("sub/../../a.wav"), HasSubstr("does not lie in"));
    std::filesystem::create_symlink(elsewhere.path("a.wav"), folder.path("link.wav"));
    EXPECT_THAT(said("link.wav"), HasSubstr("link.wav is a link to a file that lies elsewhere; copy the file itself"));
    std::filesystem::create_directory_symlink(elsewhere.path(), folder.path("linked"));
    EXPECT_THAT(said("linked/a.wav"), HasSubstr("is a link to a file that lies elsewhere"));
    EXPECT_THAT(said("none.wav"), HasSubstr("none.wav: there is no such file"));
    std::filesystem::create_directory(folder.path("sub"));
    EXPECT_THAT(said("sub"), HasSubstr("this is a folder"));
    EXPECT_THAT(said("run.recording.toml"),
                HasSubstr("run.recording.toml is a description itself; name the files that it names"));
    described(folder, "files = [\"run.recording.toml\"]\n", "other.toml");
    EXPECT_THAT(said("other.toml"), HasSubstr("other.toml is a description itself"));
}

TEST(Description, WhatItSaysIsHeldAgainstItsFiles)
{
    const ScratchFolder folder;
    wav(folder, "a.wav", 8, 2, {1, 2, 3, 4}, "2031-05-17", "06:30:05");
    const auto said = [&](const std::string& keys) {
        return complaint(described(folder, "files = [\"a.wav\"]\n" + keys));
    };
    EXPECT_EQ(said(""), "no complaint");
    EXPECT_THAT(said("rate_hz = 9.0\n"), HasSubstr("it says a rate of 9 Hz, its files 8 Hz; keep the right one"));
    EXPECT_THAT(said("names = [\"x\"]\n"), HasSubstr("it names 1 channels, there are 2"));
    EXPECT_THAT(said("scale = [1.0, 2.0, 3.0]\n"), HasSubstr("it gives 3 scales, there are 2 channels"));
    EXPECT_THAT(said("start = \"2031-05-17T06:30:06\"\n"),
                HasSubstr("it says a start of 2031-05-17T06:30:06, its files 2031-05-17T06:30:05"));
    EXPECT_THAT(said("channels = 2\n"), HasSubstr("run.recording.toml:4:12: channels is said of raw files"));
    EXPECT_THAT(said("scale = \"one\"\n"),
                HasSubstr("run.recording.toml:4:9: this must be a number other than 0, or a list"));
    EXPECT_THAT(said("chanels = 2\n"), HasSubstr("run.recording.toml:4:"));
    EXPECT_THAT(said("numbers = \"int16\"\n"), HasSubstr("run.recording.toml:2:"));
    EXPECT_THAT(complaint(described(folder, "rate_hz = 9\n")), HasSubstr("files"));
    EXPECT_THAT(complaint(described(folder, "files = []\n")), HasSubstr("it names 0 files"));
    EXPECT_THAT(complaint(described(folder, "files = [\n")), HasSubstr("run.recording.toml:"));
    // What only looks like one is none.
    EXPECT_THAT(complaint(folder.file("a.csv", "# [becalm-recording]\n# rate_hz: 10\n1\n2\n")), "no complaint");
}

TEST(Description, ItsHashIsThatOfAListThatAnybodyCanMake)
{
    const ScratchFolder folder;
    wav(folder, "a.wav", 8, 1, {1, 2});
    wav(folder, "b.wav", 8, 1, {3, 4});
    const std::string path = described(folder, "side_by_side = [\"a.wav\", \"b.wav\"]\n");
    // coreutils is the witness.
    const std::string command = "cd '" + folder.path() + "' && sha256sum run.recording.toml a.wav b.wav | sha256sum";
    FILE* pipe = ::popen(command.c_str(), "r");
    ASSERT_NE(pipe, nullptr);
    std::string printed(64, '\0');
    EXPECT_EQ(std::fread(printed.data(), 1, 64, pipe), 64U);
    ::pclose(pipe);
    EXPECT_EQ(sha256_of_recording(path).value(), printed);
    EXPECT_EQ(sha256_of_recording(folder.path("a.wav")).value(), sha256_of_file(folder.path("a.wav")).value());
    wav(folder, "b.wav", 8, 1, {3, 5});
    EXPECT_NE(sha256_of_recording(path).value(), printed);
}

RC_GTEST_PROP(DescriptionProperties, AnyTextEndsInValuesOrAComplaint, ())
{
    const ScratchFolder folder;
    folder.file("a.bin", std::string(24, '\1'));
    const auto pieces = *rc::gen::container<std::vector<std::string>>(rc::gen::element<std::string>(
        "files = [\"a.bin\"]\n", "side_by_side = [\"a.bin\", \"a.bin\"]\n", "numbers = \"int24\"\n",
        "numbers = \"float64\"\n", "channels = 2\n", "channels = 1e300\n", "channels = -1\n", "rate_hz = 10\n",
        "rate_hz = nan\n", "header_bytes = 3\n", "header_bytes = 9223372036854775807\n", "scale = [1, 2]\n",
        "scale = []\n", "layout = \"one after the other\"\n", "[x]\n", "names = [\"\"]\n", "\xFF", "=", "\""));
    std::string keys;
    for (const std::string& piece : pieces) keys += piece;
    reads_everything(described(folder, keys));
}

} // namespace
} // namespace becalm::io
