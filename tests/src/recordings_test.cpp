// Reading recordings. Expected values are computed from the definition (what was written is what must be read) unless a
// line says otherwise; layouts of broken headers follow the RIFF and WAVE description (1991), EBU Tech 3306 and the
// Wave64 description.
#include <algorithm>
#include <cctype>
#include <charconv>
#include <chrono>
#include <cmath>
#include <cstdlib>
#include <cstring>
#include <functional>
#include <limits>
#include <optional>
#include <random>
#include <sndfile.h>
#include <unistd.h>

#include <gmock/gmock.h>
#include <rapidcheck/gtest.h>
#include <sys/resource.h>
#include <sys/stat.h>

#include "src/io/recording_reader.h"
#include "src/io/text_number.h"

#include "tests/src/scratch_folder.h"

namespace becalm::io {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using tests::content_of;
using tests::ScratchFolder;
using tests::WithoutPrivileges;

using Values = std::vector<double>;

Result<Values> read_all(RecordingReader& reader, std::size_t block_frames = 1000)
{
    const auto channels = static_cast<std::size_t>(reader.info().channels);
    Values all;
    Values block(block_frames * channels);
    for (;;) {
        const auto got = reader.read(block);
        if (!got) return fail(got.error());
        if (*got == 0) return all;
        all.insert(all.end(), block.begin(), block.begin() + static_cast<std::ptrdiff_t>(*got * channels));
    }
}

// The complaint that opening or reading to the end brings forth, as a user sees it, without the folder.
std::string complaint(const ScratchFolder& folder, const std::string& path, const ReadOptions& options = {})
{
    auto reader = open_recording(path, options);
    std::optional<Problem> problem;
    if (!reader) {
        problem = reader.error();
    } else {
        const auto values = read_all(**reader);
        if (values) return "no complaint";
        problem = values.error();
    }
    EXPECT_EQ(problem->file, path);
    const std::string text = to_text(*problem);
    return text.substr(folder.path().size() + 1);
}

Values noise(std::size_t count, unsigned seed)
{
    std::mt19937_64 generator(seed);
    std::uniform_real_distribution<double> uniform(-1.0, 0.999);
    Values values(count);
    for (double& value : values) value = uniform(generator);
    return values;
}

void write_audio(const std::string& path, int format, int channels, int rate, const Values& values)
{
    SF_INFO info = {};
    info.format = format;
    info.channels = channels;
    info.samplerate = rate;
    SNDFILE* file = sf_open(path.c_str(), SFM_WRITE, &info);
    ASSERT_NE(file, nullptr) << sf_strerror(nullptr);
    const auto frames = static_cast<sf_count_t>(values.size()) / channels;
    const int coding = format & SF_FORMAT_SUBMASK;
    if (coding == SF_FORMAT_FLOAT || coding == SF_FORMAT_DOUBLE) {
        EXPECT_EQ(sf_writef_double(file, values.data(), frames), frames);
    } else {
        // As integers, of which the file keeps the upper bits: converting doubles, the library would scale by 2^n - 1.
        std::vector<int> stored;
        for (const double value : values) stored.push_back(static_cast<int>(std::floor(value * 0x1p31)));
        EXPECT_EQ(sf_writef_int(file, stored.data(), frames), frames);
    }
    sf_close(file);
}

struct AudioCase {
    int format;
    std::string name;
    int bits; // of an integer; 0: floating point
    double tolerance;
};

class EveryAudioFormat : public testing::TestWithParam<AudioCase> {};

TEST_P(EveryAudioFormat, ReadsBackWhatWasWritten)
{
    const AudioCase& c = GetParam();
    const ScratchFolder folder;
    const std::string path = folder.path("no-ending");
    for (const int channels : {1, 3, 8}) {
        const Values written = noise(static_cast<std::size_t>(5000 * channels), 7);
        write_audio(path, c.format, channels, 2048, written);
        auto reader = open_recording(path);
        ASSERT_TRUE(reader) << to_text(reader.error());
        const RecordingInfo& info = (*reader)->info();
        EXPECT_EQ(info.format, c.name);
        EXPECT_EQ(info.rate_hz, 2048.0);
        EXPECT_EQ(info.channels, channels);
        EXPECT_EQ(info.frames, 5000);
        const double step = c.bits > 0 ? std::ldexp(1.0, 1 - c.bits) : 0.0;
        EXPECT_EQ(info.integer_pcm, c.bits > 0);
        EXPECT_EQ(info.step, step);
        EXPECT_TRUE(info.seekable);
        const auto values = read_all(**reader, 777);
        ASSERT_TRUE(values) << to_text(values.error());
        ASSERT_EQ(values->size(), written.size());
        for (std::size_t i = 0; i < written.size(); ++i) {
            const double expected = c.bits > 0 ? std::floor(written[i] / step) * step : written[i];
            ASSERT_NEAR((*values)[i], expected, c.tolerance) << "value " << i;
        }
        ASSERT_TRUE((*reader)->seek(4321));
        const auto rest = read_all(**reader);
        ASSERT_TRUE(rest);
        EXPECT_EQ(*rest, Values(values->begin() + 4321 * channels, values->end()));
        EXPECT_FALSE((*reader)->seek(5001));
        EXPECT_FALSE((*reader)->seek(-1));
    }
}

// Tolerance: none, but for 32-bit float half a unit of the last place of values below 1.
INSTANTIATE_TEST_SUITE_P(Recordings, EveryAudioFormat,
                         testing::Values(AudioCase{SF_FORMAT_WAV | SF_FORMAT_PCM_U8, "WAV, 8-bit integer", 8, 0.0},
                                         AudioCase{SF_FORMAT_WAV | SF_FORMAT_PCM_16, "WAV, 16-bit integer", 16, 0.0},
                                         AudioCase{SF_FORMAT_WAV | SF_FORMAT_PCM_24, "WAV, 24-bit integer", 24, 0.0},
                                         AudioCase{SF_FORMAT_WAV | SF_FORMAT_PCM_32, "WAV, 32-bit integer", 32, 0.0},
                                         AudioCase{SF_FORMAT_WAVEX | SF_FORMAT_PCM_24, "WAV, 24-bit integer", 24, 0.0},
                                         AudioCase{SF_FORMAT_WAV | SF_FORMAT_FLOAT, "WAV, 32-bit float", 0, 0x1p-25},
                                         AudioCase{SF_FORMAT_WAV | SF_FORMAT_DOUBLE, "WAV, 64-bit float", 0, 0.0},
                                         AudioCase{SF_FORMAT_RF64 | SF_FORMAT_PCM_24, "RF64, 24-bit integer", 24, 0.0},
                                         AudioCase{SF_FORMAT_RF64 | SF_FORMAT_DOUBLE, "RF64, 64-bit float", 0, 0.0},
                                         AudioCase{SF_FORMAT_W64 | SF_FORMAT_PCM_16, "W64, 16-bit integer", 16, 0.0},
                                         AudioCase{SF_FORMAT_W64 | SF_FORMAT_DOUBLE, "W64, 64-bit float", 0, 0.0},
                                         AudioCase{SF_FORMAT_WAV | SF_ENDIAN_BIG | SF_FORMAT_PCM_24,
                                                   "WAV (big-endian), 24-bit integer", 24, 0.0},
                                         AudioCase{SF_FORMAT_WAV | SF_ENDIAN_BIG | SF_FORMAT_DOUBLE,
                                                   "WAV (big-endian), 64-bit float", 0, 0.0},
                                         AudioCase{SF_FORMAT_AIFF | SF_FORMAT_PCM_24, "AIFF, 24-bit integer", 24, 0.0},
                                         AudioCase{SF_FORMAT_AIFF | SF_FORMAT_FLOAT, "AIFF, 32-bit float", 0, 0x1p-25},
                                         AudioCase{SF_FORMAT_CAF | SF_FORMAT_PCM_16, "CAF, 16-bit integer", 16, 0.0},
                                         AudioCase{SF_FORMAT_CAF | SF_FORMAT_DOUBLE, "CAF, 64-bit float", 0, 0.0},
                                         AudioCase{SF_FORMAT_FLAC | SF_FORMAT_PCM_16, "FLAC, 16-bit integer", 16, 0.0},
                                         AudioCase{SF_FORMAT_FLAC | SF_FORMAT_PCM_24, "FLAC, 24-bit integer", 24, 0.0}),
                         [](const auto& one) {
                             std::string name = fmt::format("{}_{:x}", one.param.name, one.param.format);
                             std::replace_if(
                                 name.begin(), name.end(), [](unsigned char c) { return !std::isalnum(c); }, '_');
                             return name;
                         });

TEST(Audio, FloatFilesKeepValuesBeyondFullScaleAndLostSamples)
{
    const ScratchFolder folder;
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const double infinity = std::numeric_limits<double>::infinity();
    write_audio(folder.path("a.wav"), SF_FORMAT_WAV | SF_FORMAT_DOUBLE, 1, 1000, {12.5, -981.0, nan, infinity, 1e-300});
    auto reader = open_recording(folder.path("a.wav"));
    ASSERT_TRUE(reader);
    const auto values = read_all(**reader);
    ASSERT_TRUE(values);
    EXPECT_THAT(*values, ElementsAre(12.5, -981.0, testing::NanSensitiveDoubleEq(nan), infinity, 1e-300));
}

TEST(Audio, FullScaleOfIntegersIsOne)
{
    const ScratchFolder folder;
    const std::string path = folder.path("a.wav");
    write_audio(path, SF_FORMAT_WAV | SF_FORMAT_PCM_16, 1, 1000, {0.0, 0.0, 0.0});
    std::string bytes = content_of(path);
    const std::int16_t stored[3] = {-32768, 1, 16384};
    std::memcpy(bytes.data() + bytes.find("data") + 8, stored, sizeof stored);
    folder.file("a.wav", bytes);
    auto reader = open_recording(path);
    ASSERT_TRUE(reader);
    const auto values = read_all(**reader);
    ASSERT_TRUE(values);
    EXPECT_THAT(*values, ElementsAre(-1.0, 0x1p-15, 0.5));
}

TEST(Audio, ACopyThatBrokeOffIsRefused)
{
    const ScratchFolder folder;
    const Values values = noise(2 * 10000, 3);
    for (const int container : std::vector<int>{SF_FORMAT_WAV, SF_FORMAT_WAV | SF_ENDIAN_BIG, SF_FORMAT_RF64,
                                                SF_FORMAT_W64, SF_FORMAT_AIFF, SF_FORMAT_CAF}) {
        const std::string path = folder.path("a.wav");
        write_audio(path, container | SF_FORMAT_PCM_24, 2, 1000, values);
        const std::string whole = content_of(path);
        folder.file("a.wav", whole.substr(0, whole.size() - 6 * 2500));
        EXPECT_EQ(complaint(folder, path),
                  "a.wav: the header promises 10000 frames, the file holds 7500; copy it again from the recorder")
            << container;
        // Wherever the header breaks off, the complaint is about the header or the data, and the reader neither hangs
        // nor crashes.
        const std::size_t data = std::min(whole.find("data"), whole.find("SSND"));
        for (std::size_t length = 1; length < data + 8; ++length) {
            folder.file("a.wav", whole.substr(0, length));
            const std::string text = complaint(folder, path);
            if (length < 4)
                EXPECT_THAT(text, HasSubstr("no row of numbers")) << length;
            else
                EXPECT_THAT(text, testing::AnyOf(HasSubstr("header is cut off"), HasSubstr("the header promises")))
                    << container << " " << length;
        }
    }
}

// BW64 [ITU-R BS.2088] made of RF64, from which it differs in its first letters and in chunks of its own.
TEST(Audio, Bw64IsReadLikeRf64)
{
    const ScratchFolder folder;
    const Values values = noise(2 * 3000, 5);
    write_audio(folder.path("a.wav"), SF_FORMAT_RF64 | SF_FORMAT_PCM_24, 2, 1000, values);
    std::string bytes = content_of(folder.path("a.wav"));
    auto as_rf64 = open_recording(folder.path("a.wav"));
    ASSERT_TRUE(as_rf64);
    const auto expected = read_all(**as_rf64);
    ASSERT_TRUE(expected);
    bytes.replace(0, 4, "BW64");
    bytes.insert(bytes.find("fmt "), std::string("chna\4\0\0\0\0\0\0\0", 12));
    auto reader = open_recording(folder.file("b.wav", bytes));
    ASSERT_TRUE(reader) << to_text(reader.error());
    EXPECT_EQ((*reader)->info().format, "BW64, 24-bit integer");
    EXPECT_EQ(read_all(**reader).value(), *expected);
    ASSERT_TRUE((*reader)->seek(2990));
    EXPECT_EQ(read_all(**reader).value(), Values(expected->end() - 20, expected->end()));
    folder.file("b.wav", bytes.substr(0, bytes.size() - 600));
    EXPECT_THAT(complaint(folder, folder.path("b.wav")), HasSubstr("promises 3000 frames, the file holds 2900"));
}

// 199.25 = 0x1.8E8p7: exponent 16383 + 7, significand with its leading one [AIFF 1.3, extended]; CAF: a double.
TEST(Audio, RatesThatAreNoWholeNumbersAreKept)
{
    const ScratchFolder folder;
    const std::string path = folder.path("a");
    write_audio(path, SF_FORMAT_AIFF | SF_FORMAT_PCM_16, 1, 200, noise(100, 3));
    std::string bytes = content_of(path);
    bytes.replace(bytes.find("COMM") + 16, 10, std::string("\x40\x06\xC7\x40\0\0\0\0\0\0", 10));
    EXPECT_EQ(open_recording(folder.file("a", bytes)).value()->info().rate_hz, 199.25);
    write_audio(path, SF_FORMAT_CAF | SF_FORMAT_PCM_16, 1, 200, noise(100, 3));
    bytes = content_of(path);
    bytes.replace(bytes.find("desc") + 12, 8, std::string("\x40\x68\xE8\0\0\0\0\0", 8));
    EXPECT_EQ(open_recording(folder.file("a", bytes)).value()->info().rate_hz, 199.25);
}

// Beyond 4 GiB, in files that are mostly holes: the last frame is where the header says.
TEST(Audio, FilesBeyondFourGibibytesAreReadToTheEnd)
{
    const ScratchFolder folder;
    constexpr std::int64_t frames = (std::int64_t{5} << 30) / 8;
    for (const int container : std::vector<int>{SF_FORMAT_RF64, SF_FORMAT_W64}) {
        const std::string path = folder.path("long.wav");
        write_audio(path, container | SF_FORMAT_DOUBLE, 1, 200000, {1.0, 2.0});
        std::string bytes = content_of(path);
        const auto put = [&](std::size_t at, std::int64_t value) {
            std::memcpy(bytes.data() + at, &value, sizeof value);
        };
        const std::size_t data = bytes.find("data");
        const std::size_t head = data + (container == SF_FORMAT_W64 ? 24 : 8);
        const auto size = static_cast<std::int64_t>(head) + 8 * frames;
        if (container == SF_FORMAT_W64) {
            put(16, size);
            put(data + 16, 24 + 8 * frames);
        } else {
            const std::size_t sizes = bytes.find("ds64") + 8;
            put(sizes, size - 8);
            put(sizes + 8, 8 * frames);
            put(sizes + 16, frames);
            std::fill_n(bytes.begin() + static_cast<std::ptrdiff_t>(data) + 4, 4, '\xFF');
        }
        bytes.resize(head);
        folder.file("long.wav", bytes);
        if (::truncate(path.c_str(), size - 8) != 0) GTEST_SKIP() << "the disk takes no file of 5 GiB";
        const double last = 0.75;
        std::ofstream(path, std::ios::binary | std::ios::app).write(reinterpret_cast<const char*>(&last), sizeof last);
        auto reader = open_recording(path);
        ASSERT_TRUE(reader) << to_text(reader.error());
        EXPECT_EQ((*reader)->info().frames, frames);
        EXPECT_EQ((*reader)->info().rate_hz, 200000.0);
        ASSERT_TRUE((*reader)->seek(frames - 2));
        EXPECT_THAT(read_all(**reader).value(), ElementsAre(0.0, 0.75));
    }
}

TEST(Audio, ABrokenFlacNamesTheFrame)
{
    const ScratchFolder folder;
    const std::string path = folder.path("a.flac");
    write_audio(path, SF_FORMAT_FLAC | SF_FORMAT_PCM_16, 1, 1000, noise(20000, 3));
    const std::string whole = content_of(path);
    folder.file("a.flac", whole.substr(0, whole.size() / 2));
    EXPECT_THAT(complaint(folder, path), testing::MatchesRegex("a.flac: frame [0-9]+ of 20000 cannot be read: .*"));
    std::string damaged = whole;
    for (std::size_t i = 0; i < 50; ++i)
        damaged[whole.size() / 2 + i] = static_cast<char>(damaged[whole.size() / 2 + i] ^ 0x5A);
    folder.file("a.flac", damaged);
    EXPECT_THAT(complaint(folder, path), testing::MatchesRegex("a.flac: frame [0-9]+ of 20000 cannot be read: .*"));
}

TEST(Audio, AFlacOfUnstatedLengthIsCounted)
{
    const ScratchFolder folder;
    const std::string path = folder.path("a.flac");
    write_audio(path, SF_FORMAT_FLAC | SF_FORMAT_PCM_16, 2, 1000, noise(2 * 12345, 3));
    std::string bytes = content_of(path);
    // The 36 bits of the total count in STREAMINFO, 0 where unknown [RFC 9639, 8.2].
    bytes[8 + 13] = static_cast<char>(bytes[8 + 13] & 0xF0);
    for (std::size_t i = 14; i < 18; ++i) bytes[8 + i] = 0;
    folder.file("a.flac", bytes);
    auto reader = open_recording(path);
    ASSERT_TRUE(reader) << to_text(reader.error());
    EXPECT_EQ((*reader)->info().frames, 12345);
    const auto values = read_all(**reader);
    ASSERT_TRUE(values) << to_text(values.error());
    EXPECT_EQ(values->size(), 2U * 12345U);
}

// The broadcast extension's date and time [EBU Tech 3285]: ten and eight characters, separators free.
TEST(Audio, TheStartIsTakenFromTheBroadcastExtensionWhereItIsADate)
{
    const ScratchFolder folder;
    const auto start_with = [&](const char* date, const char* time, std::uint32_t samples = 0) {
        const std::string path = folder.path("a.wav");
        SF_INFO description = {};
        description.format = SF_FORMAT_WAV | SF_FORMAT_PCM_16;
        description.channels = 1;
        description.samplerate = 1000;
        SNDFILE* file = sf_open(path.c_str(), SFM_WRITE, &description);
        SF_BROADCAST_INFO extension;
        std::memset(&extension, 0, sizeof extension);
        std::memcpy(extension.origination_date, date, 10);
        std::memcpy(extension.origination_time, time, 8);
        extension.time_reference_low = samples;
        EXPECT_EQ(sf_command(file, SFC_SET_BROADCAST_INFO, &extension, sizeof extension), SF_TRUE);
        const std::vector<short> values(100, 1);
        sf_write_short(file, values.data(), 100);
        sf_close(file);
        auto reader = open_recording(path);
        return reader ? (*reader)->info().start : to_text(reader.error());
    };
    EXPECT_EQ(start_with("2031:05-17", "06:30.05"), "2031-05-17T06:30:05");
    EXPECT_EQ(start_with("2031-05-17", "06:30:05", 23'405'125), "2031-05-17T06:30:05.125000"); // 1000 Hz
    EXPECT_EQ(start_with("2031-05-17", "06:30:05", 125), "2031-05-17T06:30:05");               // counted from elsewhere
    EXPECT_EQ(start_with("0000-00-00", "00:00:00"), "");
    EXPECT_EQ(start_with("          ", "        "), "");
    // The count since midnight alone: 6 h 30 min 5.125 s at 1000 Hz.
    EXPECT_EQ(start_with("2031-05-17", "        ", 23'405'125), "2031-05-17T06:30:05.125000");
    EXPECT_EQ(start_with("2031-05-17", "        ", 86'400'000), "") << "no time of a day";
}

// Elements by the open specification of iXML, from memory; a chunk may stand before the data or behind them.
TEST(Audio, IxmlNamesChannelsAndTellsWhatItIs)
{
    const ScratchFolder folder;
    const auto with_ixml = [&](const std::string& xml, bool before) {
        write_audio(folder.path("a.wav"), SF_FORMAT_WAV | SF_FORMAT_PCM_16, 2, 1000, noise(2 * 100, 3));
        std::string bytes = content_of(folder.path("a.wav"));
        std::string chunk = "iXML";
        for (int i = 0; i < 4; ++i) chunk += static_cast<char>(xml.size() >> (8 * i) & 0xFF);
        chunk += xml + std::string(xml.size() % 2, '\0');
        bytes.insert(before ? bytes.find("data") : bytes.size(), chunk);
        const std::size_t size = bytes.size() - 8;
        for (std::size_t i = 0; i < 4; ++i) bytes[4 + i] = static_cast<char>(size >> (8 * i) & 0xFF);
        auto reader = open_recording(folder.file("a.wav", bytes));
        if (reader) return (*reader)->info();
        ADD_FAILURE() << to_text(reader.error());
        return RecordingInfo{};
    };
    const std::string tracks = "<TRACK_LIST><TRACK_COUNT>2</TRACK_COUNT>"
                               "<TRACK><CHANNEL_INDEX>1</CHANNEL_INDEX><NAME>vertical</NAME></TRACK>"
                               "<TRACK><CHANNEL_INDEX>7</CHANNEL_INDEX><INTERLEAVE_INDEX>2</INTERLEAVE_INDEX>"
                               "<NAME>fore &amp; aft</NAME></TRACK></TRACK_LIST>";
    for (const bool before : {true, false}) {
        const auto info = with_ixml("<BWFXML><PROJECT>Ferry</PROJECT><NOTE>deck &lt;5&gt;\nhatch open</NOTE><SPEED>"
                                    "<FILE_SAMPLE_RATE>1024</FILE_SAMPLE_RATE></SPEED>" +
                                        tracks + "</BWFXML>",
                                    before);
        EXPECT_THAT(info.names, ElementsAre("vertical", "fore & aft"));
        EXPECT_THAT(info.remarks, ElementsAre("project in the file: Ferry", "note in the file: deck <5> hatch open"));
        EXPECT_EQ(info.rate_hz, 1000.0);
        EXPECT_EQ(info.timed_rate.hz, 1024.0);
    }
    for (const std::string broken :
         {"", "<TRACK>", "<TRACK><CHANNEL_INDEX>3</CHANNEL_INDEX><NAME>x</NAME></TRACK>", "<NOTE>half", "<NOTE></NOTE>",
          "<TRACK><CHANNEL_INDEX>1</CHANNEL_INDEX><NAME>x</NAME></TRACK>"}) {
        const auto info = with_ixml(broken, false);
        EXPECT_TRUE(info.names.empty()) << broken;
        EXPECT_TRUE(info.remarks.empty()) << broken;
    }
}

// A WAV header of 44 bytes and some data, with fields at will.
struct WavBytes {
    std::uint16_t tag = 1;
    std::uint16_t channels = 1;
    std::uint32_t rate = 1000;
    std::uint16_t bits = 16;
    std::uint32_t data_size = 200;
    std::size_t data_held = 200;

    std::string bytes() const
    {
        std::string out = "RIFF";
        const auto add = [&](std::uint64_t value, int count) {
            for (int i = 0; i < count; ++i) out += static_cast<char>(value >> (8 * i) & 0xFF);
        };
        const auto frame = static_cast<std::uint16_t>(channels * (bits / 8));
        add(36 + data_held, 4);
        out += "WAVEfmt ";
        add(16, 4);
        add(tag, 2);
        add(channels, 2);
        add(rate, 4);
        add(std::uint64_t{rate} * frame, 4);
        add(frame, 2);
        add(bits, 2);
        out += "data";
        add(data_size, 4);
        return out + std::string(data_held, '\1');
    }
};

TEST(Audio, HeadersThatCannotBeRightAreRefused)
{
    const ScratchFolder folder;
    const auto complaint_about = [&](const std::function<void(WavBytes&)>& change) {
        WavBytes wav;
        change(wav);
        return complaint(folder, folder.file("a.wav", wav.bytes()));
    };
    EXPECT_EQ(complaint_about([](WavBytes&) {}), "no complaint");
    EXPECT_THAT(complaint_about([](WavBytes& w) { w.rate = 0; }), HasSubstr("a rate of 0 Hz"));
    EXPECT_THAT(complaint_about([](WavBytes& w) { w.channels = 0; }), HasSubstr("0 channels"));
    EXPECT_THAT(complaint_about([](WavBytes& w) { w.data_size = 0, w.data_held = 0; }), HasSubstr("no samples"));
    EXPECT_THAT(complaint_about([](WavBytes& w) { w.data_size = 0; }),
                HasSubstr("did not finish the header: it promises 0"));
    EXPECT_THAT(complaint_about([](WavBytes& w) { w.data_size = 400; }),
                HasSubstr("promises 200 frames, the file holds 100"));
    EXPECT_THAT(complaint_about([](WavBytes& w) { w.tag = 7, w.bits = 8; }), HasSubstr("coded with loss")); // mu-law
    EXPECT_THAT(complaint_about([](WavBytes& w) { w.channels = 257, w.data_size = 514, w.data_held = 514; }),
                HasSubstr("257 channels; 1 to 256 can be read"));
    // Recorders that write to a pipe leave the length open.
    EXPECT_EQ(complaint_about([](WavBytes& w) { w.data_size = 0xFFFFFFFF; }), "no complaint");
}

TEST(Audio, MoreThanAWavCanHoldIsRefused)
{
    const ScratchFolder folder;
    const std::string path = folder.file("a.wav", WavBytes{}.bytes());
    // A file with a hole: it takes no room on the disk.
    ASSERT_EQ(::truncate(path.c_str(), (std::int64_t{1} << 32) + 1000), 0);
    EXPECT_THAT(complaint(folder, path), HasSubstr("too long for a WAV file; export it as RF64 or W64"));
}

TEST(OpenRecording, WhatIsNoRecordingIsToldApart)
{
    const ScratchFolder folder;
    EXPECT_THAT(complaint(folder, folder.path("none.wav")), HasSubstr("none.wav: there is no such file"));
    EXPECT_EQ(complaint(folder, folder.file("empty.csv", "")),
              "empty.csv: the file is empty (0 bytes); copy it again from the recorder");
    std::filesystem::create_directory(folder.path("sub"));
    EXPECT_THAT(complaint(folder, folder.path("sub")), HasSubstr("this is a folder, not a regular file"));
    ASSERT_EQ(::mkfifo(folder.path("pipe").c_str(), 0600), 0);
    EXPECT_THAT(complaint(folder, folder.path("pipe")), HasSubstr("this is a pipe, not a regular file"));
    auto device = open_recording("/dev/zero");
    ASSERT_FALSE(device);
    EXPECT_THAT(device.error().what, HasSubstr("this is a device"));
    EXPECT_EQ(complaint(folder, folder.file("a.wav", std::string_view("\x89PNG\r\n\x1A\n\0\0\0\rIHDR\1\2", 18))),
              "a.wav: the format is not known (the first bytes are 89 50 4e 47 0d 0a 1a 0a 00 00 00 0d 49 48 44 52); "
              "WAV, RF64, BW64, W64, AIFF, CAF, FLAC, UFF, miniSEED, SAC, MATLAB files, TDMS, delimited text and "
              "descriptions of other files are read");
    EXPECT_THAT(complaint(folder, folder.file("a.avi", std::string_view("RIFF\1\0\0\0AVI LIST\0", 17))),
                HasSubstr("format is not known (the first bytes are 52 49 46 46"));
}

TEST(OpenRecording, WithoutPermissionSaysSo)
{
    const ScratchFolder folder;
    const std::string path = folder.file("a.csv", "rate_hz: 1000\n1\n2\n");
    ::chmod(path.c_str(), 0);
    const WithoutPrivileges nobody;
    if (!nobody.achieved()) GTEST_SKIP() << "the superuser's rights could not be given up";
    EXPECT_THAT(complaint(folder, path), HasSubstr("a.csv: no permission to read it"));
}

TEST(OpenRecording, AFolderScanGoesByTheEnding)
{
    for (const char* name : {"a.wav", "b/A.WAV", "a.wave", "a.rf64", "a.w64", "a.Flac", "a.csv", "a.txt", "a.tsv",
                             "a.asc", "a.dat", "a.uff", "a.UNV", "a.mseed", "a.msd", "a.sac"})
        EXPECT_TRUE(looks_like_a_recording(name)) << name;
    for (const char* name : {"a.toml", "wav", "a.wav.bak", "folder.wav/a", ".csv", "b/.csv", "", "a.mp3"})
        EXPECT_FALSE(looks_like_a_recording(name)) << name;
}

// ---- delimited text
// ----------------------------------------------------------------------------------------------------------

struct TextRecording {
    RecordingInfo info;
    Values values;
};

TextRecording read_text(std::string_view content, const ReadOptions& options = {})
{
    const ScratchFolder folder;
    auto reader = open_recording(folder.file("a.csv", content), options);
    if (!reader) {
        ADD_FAILURE() << to_text(reader.error()) << "\nin\n" << content.substr(0, 300);
        return {};
    }
    const auto values = read_all(**reader, 3);
    if (!values) {
        ADD_FAILURE() << to_text(values.error()) << "\nin\n" << content.substr(0, 300);
        return {};
    }
    return {(*reader)->info(), *values};
}

std::string text_complaint(std::string_view content, const ReadOptions& options = {})
{
    const ScratchFolder folder;
    return complaint(folder, folder.file("a.csv", content), options);
}

TEST(Text, EveryDialectReadsTheSameNumbers)
{
    const std::vector<std::string> same{"rate_hz: 1000\nx,y\n1.5,-2\n0.25,3e-1\n",
                                        "\xEF\xBB\xBFrate_hz: 1000\r\nx,y\r\n1.5,-2\r\n0.25,3e-1\r\n",
                                        "# rate = 1 kHz\nx;y\n1.5;-2\n0.25;0.3",
                                        "Sample Rate;1000,0\nx;y\n1,5;-2\n0,25;3e-1\n",
                                        "sampling rate: 1000 Hz\nx\ty\n1.5\t-2\n0.25\t.3\n\n\n",
                                        "fs=1000\nx\ty\n1,5\t-2\n0,25\t0,3\n",
                                        "sample_rate 1000\n   x   y\n 1.5   -2\n 0.25  0.3\n",
                                        "FS (kHz): 1\n  x y\n  1,5  -2,0  \n 0,25 +0,3\n",
                                        "\"sampling_rate\",\"1000\"\n\"x\",\"y\"\n1.5 , -2\n# a remark\n  0.25, +0.3\n",
                                        "x,y\n1.5,-2\n0.25,0.3\n# the end\n",
                                        "Deck 5, cabin 201\n# rate: 1000\n# x, y\n1.5,-2\n0.25,0.3\n",
                                        "time,x,y\n0,1.5,-2\n0.001,0.25,0.3\n",
                                        "t [ms];x;y\n10;1,5;-2\n11;0,25;0,3\n",
                                        "Zeit/s\tx\ty\n0,000\t1,5\t-2\n0,001\t0,25\t0,3\n",
                                        "time,x,y\ns,m/s2,m/s2\n0.000,1.5,-2\n0.001,0.25,0.3\n",
                                        "Time (s)  x (g)  y (g)\n 0.000  1.5  -2\n 0.001  0.25  0.3\n"};
    for (const std::string& content : same) {
        const auto recording =
            read_text(content, content[0] == 'x' || content[0] == 'D' ? ReadOptions{1000.0} : ReadOptions{});
        EXPECT_THAT(recording.values, ElementsAre(1.5, -2.0, 0.25, 0.3)) << content;
        EXPECT_DOUBLE_EQ(recording.info.rate_hz, 1000.0) << content;
        EXPECT_EQ(recording.info.channels, 2) << content;
        EXPECT_EQ(recording.info.frames, 2) << content;
        EXPECT_EQ(recording.info.format, "delimited text");
        EXPECT_FALSE(recording.info.seekable);
        EXPECT_FALSE(recording.info.integer_pcm);
        if (content[0] != 'D') {
            EXPECT_THAT(recording.info.names, ElementsAre("x", "y")) << content;
        }
    }
}

TEST(Text, NamesAndUnitsAreKept)
{
    auto info = read_text("time,x,y,z\ns,m/s\xC2\xB2,m/s\xC2\xB2,m/s\xC2\xB2\n0,1,2,3\n0.001,1,2,3\n").info;
    EXPECT_THAT(info.names, ElementsAre("x", "y", "z"));
    EXPECT_EQ(info.unit, "m/s\xC2\xB2");
    info = read_text("t;seat (front);floor [g];back [g]\n0;1;2;3\n0,001;1;2;3\n").info;
    EXPECT_THAT(info.names, ElementsAre("seat (front)", "floor", "back"));
    EXPECT_EQ(info.unit, ""); // they do not agree
    info = read_text("time;z [mm/s]\n0;1\n0,001;1\n").info;
    EXPECT_THAT(info.names, ElementsAre("z"));
    EXPECT_EQ(info.unit, "mm/s");
    info = read_text("t,\"x, front [m/s\xB2]\",\xE4\n0,1,1\n1,2,2\n").info; // Latin-1
    EXPECT_THAT(info.names, ElementsAre("x, front", "\xC3\xA4"));
    EXPECT_THAT(read_text("fs: 100\n1,2,3\n").info.names, testing::IsEmpty());
}

TEST(Text, ATimeColumnGivesTheRate)
{
    // 2047 steps in 2047/2048 s, printed to a microsecond: every step is off by up to half a unit, the rate hardly.
    std::string content = "time,z\n";
    for (int i = 0; i < 2048; ++i) content += fmt::format("{:.6f},{}\n", i / 2048.0, i);
    auto recording = read_text(content);
    EXPECT_NEAR(recording.info.rate_hz, 2048.0, 2048.0 * 1e-6);
    EXPECT_EQ(recording.info.channels, 1);
    EXPECT_EQ(recording.values[2047], 2047.0);
    // Trailing zeros left out and digits counted from the first: "0.5", "9.998", "10", "100.25".
    content = "t,z\n";
    for (int i = 0; i < 20000; ++i) content += fmt::format("{:.6g},{}\n", i / 64.0, i);
    EXPECT_NEAR(read_text(content).info.rate_hz, 64.0, 64.0 * 1e-5);
    // Before the trigger time is negative.
    content = "t,z\n";
    for (int i = -500; i < 500; ++i) content += fmt::format("{:.3f},{}\n", i / 1000.0, i);
    EXPECT_NEAR(read_text(content).info.rate_hz, 1000.0, 1e-9);
    // Without a name: rising evenly, no rate known otherwise.
    recording = read_text("0.00,5\n0.01,6\n0.02,7\n0.03,9\n");
    EXPECT_NEAR(recording.info.rate_hz, 100.0, 1e-9);
    EXPECT_THAT(recording.values, ElementsAre(5, 6, 7, 9));
    // With a rate it is a channel like any other.
    recording = read_text("0.00,5\n0.01,6\n0.02,7\n", ReadOptions{50.0});
    EXPECT_EQ(recording.info.channels, 2);
    EXPECT_EQ(recording.info.rate_hz, 50.0);
    // Both, and they agree: what is stated counts.
    EXPECT_EQ(read_text("rate: 999.5\ntime,z\n0.000,1\n0.001,2\n0.002,2\n").info.rate_hz, 999.5);
}

TEST(Text, UnevenTimeIsRefusedWithTheLine)
{
    std::string content = "time,z\n";
    for (int i = 0; i < 1000; ++i) content += fmt::format("{:.3f},{}\n", (i < 500 ? i : i + 250) / 1000.0, i);
    EXPECT_EQ(text_complaint(content),
              "a.csv:502: time jumps from 0.499 to 0.75 at line 502; this step is 0.251 s, the mean step 0.00125025 s; "
              "split the recording there, or resample it to an even rate");
    content.replace(0, 7, ""); // without names it is a time nevertheless
    EXPECT_THAT(text_complaint(content), HasSubstr("a.csv:501: time jumps from 0.499 to 0.75 at line 501"));
    EXPECT_THAT(text_complaint("t,z\n0.000,1\n0.001,1\n0.002,1\n0.0015,1\n0.003,1\n"),
                HasSubstr("a.csv:5: time goes back from 0.002 to 0.0015 at line 5"));
    EXPECT_THAT(text_complaint("t,z\n0.000,1\n0.001,1\n0.001,1\n0.002,1\n0.003,1\n0.004,1\n"),
                HasSubstr("a.csv:4: time stands still at 0.001: times are printed to 0.001 s"));
    EXPECT_THAT(text_complaint("t,z\n0.0000,1\n0.0010,1\n0.0010,1\n0.0020,1\n0.0030,1\n0.0041,1\n"),
                HasSubstr("a.csv:4: time stands still at 0.001 at line 4"));
    // A single sample lost where times are printed to the very step, and where 256 Hz are printed to the millisecond.
    EXPECT_THAT(text_complaint("t,z\n0.000,1\n0.001,1\n0.002,1\n0.004,1\n0.005,1\n0.006,1\n"),
                HasSubstr("a.csv:5: time jumps from 0.002 to 0.004"));
    const auto at_256_hz = [](int lost) {
        std::string text = "t,z\n";
        for (int i = 0; i < 2000; ++i)
            if (i != lost) text += fmt::format("{:.3f},{}\n", i / 256.0, i);
        return text;
    };
    EXPECT_NEAR(read_text(at_256_hz(-1)).info.rate_hz, 256.0, 256.0 * 1e-4);
    EXPECT_THAT(text_complaint(at_256_hz(1000)), HasSubstr("a.csv:1002: time jumps from 3.902 to 3.91"));
    // One step 1.5 % too long, printed finely enough to see it; 0.5 % is let pass.
    const auto with_step = [](double step) {
        std::string text = "t,z\n";
        for (int i = 0; i < 400; ++i) text += fmt::format("{:.9f},0\n", i * 0.01 + (i >= 200 ? step : 0.0));
        return text_complaint(text);
    };
    EXPECT_EQ(with_step(0.5e-4), "no complaint");
    EXPECT_THAT(with_step(1.5e-4), HasSubstr("a.csv:202: time jumps"));
    EXPECT_THAT(text_complaint("t,z\n0.00,1\n0.00,1\n0.00,1\n0.00,1\n0.01,1\n0.01,1\n"),
                HasSubstr("times are printed to 0.01 s, but follow each other by 0.002 s"));
    EXPECT_THAT(text_complaint("t,z\n0,1\nnan,1\n2,1\n"), HasSubstr("a.csv:3:1: the time of this row is not a number"));
    EXPECT_THAT(text_complaint("t [parsec],z\n0,1\n1,1\n"),
                HasSubstr("unit of the time column is not understood: \"parsec\""));
    EXPECT_THAT(text_complaint("t\n0\n1\n"), HasSubstr("a time column and no other"));
}

TEST(Text, WithoutARateItAsksForOne)
{
    EXPECT_EQ(text_complaint("x,y\n1,2\n3,4\n"),
              "a.csv: the file states no rate and has no time column; write the line # rate_hz: 1000 "
              "(with the right rate) above the numbers, or add a time column");
    EXPECT_THAT(text_complaint("1,2\n1,3\n", ReadOptions{0.0}), HasSubstr("rate_hz is 0"));
    EXPECT_THAT(text_complaint("rate: -5\nx,y\n1,2\n"), HasSubstr("a.csv:1: the rate is not understood: \"rate: -5\""));
    EXPECT_THAT(text_complaint("rate: 5 furlongs\nx,y\n1,2\n"), HasSubstr("a.csv:1: the rate is not understood"));
    EXPECT_THAT(text_complaint("rate: 1000\nfs: 512\nx,y\n1,2\n"),
                HasSubstr("a.csv:2: this states a rate of 512 Hz, line 1 one of 1000 Hz"));
    EXPECT_THAT(text_complaint("rate: 1000\ntime,y\n0.00,2\n0.01,2\n0.02,2\n"),
                HasSubstr("a.csv:1: the rate is stated as 1000 Hz, but the time column runs at 100 Hz"));
    EXPECT_THAT(text_complaint("rate: 1000\nx\n1\n", ReadOptions{512.0}),
                HasSubstr("a.csv:1: this states a rate of 1000 Hz, but 512 Hz"));
    EXPECT_THAT(text_complaint("time,y\n0.00,2\n0.01,2\n0.02,2\n", ReadOptions{512.0}),
                HasSubstr("time column runs at 100 Hz"));
}

TEST(Text, SpoiltRowsAreRefusedWithLineAndColumn)
{
    const ReadOptions rate{1000.0};
    EXPECT_EQ(
        text_complaint("x,y\n1,2\n3,abc\n5,6\n", rate),
        "a.csv:3:3: \"abc\" stands where a number belongs; correct it, write nan for a lost sample, or put # before a "
        "line that is no data");
    EXPECT_THAT(text_complaint("x;y\n1,5;2\n3,5; 1.234\n", rate), HasSubstr("a.csv:3:6: \"1.234\" stands where"));
    EXPECT_THAT(text_complaint("x,y\n1,2\n3,a-very-long-text-that-goes-on\n", rate),
                HasSubstr("a.csv:3:3: \"a-very-long-text-tha\"... stands"));
    EXPECT_THAT(text_complaint(std::string_view("x,y\n1,2\n3,\1\x7F\n", 13), rate),
                HasSubstr("the first bytes are 78 2c"));
    // Beyond the part that is sniffed control characters are shown escaped.
    std::string content = "x,y\n";
    while (content.size() < 70000) content += "1,2\n";
    const auto lines = std::count(content.begin(), content.end(), '\n');
    EXPECT_THAT(text_complaint(content + std::string("1,\0\x1B[1m2\n", 9), rate),
                HasSubstr(fmt::format("a.csv:{}:3: \"\\x00\\x1b[1m2\" stands", lines + 1)));
    EXPECT_THAT(text_complaint("x,y\n1,2\n3\n", rate),
                HasSubstr("a.csv:3: this row has 1 field, the first row (line 2) has 2"));
    EXPECT_THAT(text_complaint("x,y\n1,2\n3,4,5\n", rate), HasSubstr("a.csv:3: this row has 3 fields"));
    EXPECT_THAT(text_complaint("x,y\n1,2\n3,\n", rate), HasSubstr("a.csv:3:3: a field is empty"));
    EXPECT_THAT(text_complaint("x,y,z\n1,2,3\n3,,4\n", rate), HasSubstr("a.csv:3:3: a field is empty"));
    EXPECT_THAT(text_complaint("x,y\n1,2\n\n3,4\n", rate), HasSubstr("a.csv:3: an empty line stands between rows"));
    EXPECT_THAT(text_complaint("x,y\n1,2\n3,1e999\n", rate), HasSubstr("a.csv:3:3: \"1e999\""));
    // A spoilt first row is no header.
    EXPECT_THAT(text_complaint("x,y\n1,abc\n3,4\n", rate), HasSubstr("a.csv:2:3: \"abc\" stands"));
    EXPECT_THAT(text_complaint("x,y,z\nabc,2,3\n3,4,5\n", rate), HasSubstr("a.csv:2:1: \"abc\" stands"));
    EXPECT_THAT(text_complaint("x,y\n1,abc\n", rate),
                HasSubstr("a.csv:2:3: \"abc\" stands where a number belongs, and no other"));
    EXPECT_THAT(text_complaint("A letter.\nNot a recording.\n"), HasSubstr("a.csv: there is no row of numbers"));
    EXPECT_THAT(text_complaint(std::string(2'000'000, '7'), rate), HasSubstr("no row of numbers"));
    EXPECT_THAT(text_complaint("x,y\n1,2\n" + std::string(2'000'000, '7') + "\n", rate),
                HasSubstr("a.csv:3: a line is longer than"));
}

TEST(Text, OneCommaWithoutNamesIsNotGuessed)
{
    const ReadOptions rate{1000.0};
    EXPECT_THAT(text_complaint("12,5\n13,7\n", rate),
                HasSubstr("a.csv:1: \"12,5\" may be two numbers or one with a decimal comma"));
    EXPECT_EQ(read_text("x,y\n12,5\n13,7\n", rate).info.channels, 2);
    EXPECT_EQ(read_text("12,5\n13,-7\n", rate).info.channels, 2); // a sign after the comma settles it
    EXPECT_EQ(read_text("12.5,5\n13,7\n", rate).info.channels, 2);
    EXPECT_EQ(read_text("12,5;1\n13,7;2\n", rate).info.channels, 2);
    EXPECT_THAT(read_text("z\n12,5\n13,05\n", rate).values, ElementsAre(12.5, 13.05)); // no whole number is written 05
    EXPECT_THAT(read_text("z\n12,5\n-0,5\n", rate).values, ElementsAre(12.5, -0.5));   // nor -0
    EXPECT_THAT(text_complaint("0,1\n1,21\n2\n3\n", rate), HasSubstr("a.csv:1:")); // a row cut short decides nothing
}

// The same text in UTF-16: every reading of the bytes, and every cut, ends in the same values or a complaint.
std::string as_utf16(std::string_view latin_1, bool big)
{
    std::string out = big ? "\xFE\xFF" : "\xFF\xFE";
    for (const char c : latin_1) {
        const char unit[2] = {big ? '\0' : c, big ? c : '\0'};
        out.append(unit, 2);
    }
    return out;
}

TEST(Text, Utf16IsReadInEitherOrder)
{
    const std::string plain = "# Me\xDFreihe\nZeit [ms];x [m/s\xB2]\n0;1,5\n1;-2,25\n2;3\n";
    for (const bool big : {false, true}) {
        const auto recording = read_text(as_utf16(plain, big));
        EXPECT_THAT(recording.values, ElementsAre(1.5, -2.25, 3.0));
        EXPECT_EQ(recording.info.rate_hz, 1000.0);
        EXPECT_EQ(recording.info.unit, "m/s\xC2\xB2");
        // Longer than every block, so that units and lines are cut anywhere.
        std::string content = "t;z\n";
        for (int i = 0; i < 60000; ++i) content += fmt::format("{};{}\n", i, i % 977);
        const auto longer = read_text(as_utf16(content, big));
        ASSERT_EQ(longer.values.size(), 60000U);
        for (std::size_t i = 0; i < 60000; ++i) ASSERT_EQ(longer.values[i], static_cast<double>(i % 977));
    }
    // A unit cut in two is no digit.
    std::string cut = as_utf16("rate: 100\nx\n1\n22", false);
    cut.pop_back();
    EXPECT_THAT(text_complaint(cut), HasSubstr("a.csv:4:1: \"2\xEF\xBF\xBD\" stands where a number belongs"));
}

// A copy of a text that breaks off somewhere may still be a text with fewer rows. Whatever is left, it is read or
// refused with the file and, where rows are at fault, with the line.
TEST(Text, ClocksAndUtf16MayBreakOffAnywhere)
{
    std::string clocks = "# Messreihe\nDatum;Uhrzeit;x;y\n", stamps = "stamp,x\n", irregular = "time x\n";
    for (int i = 0; i < 12; ++i) {
        clocks += fmt::format("14.03.2026;23:59:{:02}.{:03};{},5;-2\n", 58 + i / 8, i % 8 * 125, i);
        stamps += fmt::format("2026-03-14T09:30:{:02}.{:03}+01:00,{}\n", i / 8, i % 8 * 125, i);
        irregular += fmt::format("{:.3f} {}\n", 0.1 * i + 0.004 * (i % 3), i);
    }
    const ScratchFolder folder;
    const auto try_all = [&](const std::string& whole, const ReadOptions& options) {
        const std::string path = folder.file("a.csv", whole);
        std::size_t read = 0, refused = 0;
        for (std::size_t length = whole.size(); length > 0; --length) {
            ASSERT_EQ(::truncate(path.c_str(), static_cast<off_t>(length)), 0);
            auto reader = open_recording(path, options);
            std::optional<Problem> problem;
            if (!reader)
                problem = reader.error();
            else if (const auto values = read_all(**reader); !values)
                problem = values.error();
            read += problem ? 0 : 1;
            if (!problem) continue;
            ++refused;
            EXPECT_EQ(problem->file, path);
            EXPECT_FALSE(problem->what.empty());
            EXPECT_FALSE(problem->remedy.empty()) << to_text(*problem);
            // Without a line alone where too little is left to be a recording: no text, no rate, too few rows.
            const bool of_the_whole = problem->line == 0;
            EXPECT_TRUE(!of_the_whole || length < whole.size() / 2) << length << ": " << to_text(*problem);
        }
        EXPECT_GT(read, 0U);
        EXPECT_GT(refused, 0U);
    };
    for (const std::string& text : {clocks, stamps}) {
        try_all(text, {});
        try_all(as_utf16(text, false), {});
        try_all(as_utf16(text, true), {});
    }
    try_all(irregular, {.resample_hz = 20.0});
    try_all(as_utf16(irregular, true), {.resample_hz = 20.0});
}

TEST(Text, AStatedRateIsHeldAgainstTheTimes)
{
    // 0.05 % apart: less than is refused, more than a clock is wrong. Computed from the definition.
    std::string text = "rate: 1000\ntime,z\n";
    for (int i = 0; i < 5000; ++i) text += fmt::format("{:.7f},{}\n", i / 1000.5, i % 7);
    const auto info = read_text(text).info;
    EXPECT_EQ(info.rate_hz, 1000.0);
    EXPECT_NEAR(info.timed_rate.hz, 1000.5, 1e-4);
    EXPECT_LT(info.timed_rate.relative, 1e-6);
    EXPECT_EQ(info.timed_rate.by, "its time column");
    EXPECT_EQ(read_text("time,z\n0.000,1\n0.001,2\n0.002,2\n").info.timed_rate.hz, 0.0) << "one statement alone";
}

TEST(Text, ClocksGiveTheRateAndTheStart)
{
    struct Dialect {
        std::string rows, start;
    };
    // 8 Hz, printed to the millisecond
    for (const auto& [rows, start] :
         {Dialect{
              "stamp,x,y\n2026-03-14T09:30:00.125Z,1,2\n2026-03-14T09:30:00.250Z,3,4\n2026-03-14T09:30:00.375Z,5,6\n",
              "2026-03-14T09:30:00.125Z"},
          Dialect{"2026-03-14 09:30:00.125+01:00;1;2\n2026-03-14 09:30:00.250+01:00;3;4\n"
                  "2026-03-14 09:30:00.375+0100;5;6\n",
                  "2026-03-14T09:30:00.125+01:00"},
          Dialect{
              "Datum;x;y\n14.03.2026 09:30:00,125;1,0;2\n14.03.2026 09:30:00,250;3;4\n14.03.2026 09:30:00,375;5;6\n",
              "2026-03-14T09:30:00.125"},
          Dialect{"Datum\tUhrzeit\tx\ty\n14.03.2026\t09:30:00,125\t1,0\t2\n14.03.2026\t09:30:00,250\t3\t4\n"
                  "14.03.2026\t09:30:00,375\t5\t6\n",
                  "2026-03-14T09:30:00.125"},
          Dialect{"2026/03/14 9:30:00.125  1.0 2\n2026/03/14 9:30:00.250  3 4\n2026/03/14 9:30:00.375 5 6\n",
                  "2026-03-14T09:30:00.125"},
          Dialect{
              "Date: 14.03.2026\nTime: 09:30:00\n\"09:30:00,125\",1,2\n\"09:30:00,250\",3,4\n\"09:30:00,375\",5,6\n",
              "2026-03-14T09:30:00"},
          Dialect{"clock,x,y\n09:30:00.125,1,2\n09:30:00.250,3,4\n09:30:00.375,5,6\n", ""}}) {
        const auto recording = read_text(rows);
        EXPECT_THAT(recording.values, ElementsAre(1, 2, 3, 4, 5, 6)) << rows;
        EXPECT_DOUBLE_EQ(recording.info.rate_hz, 8.0) << rows;
        EXPECT_EQ(recording.info.start, start) << rows;
    }
    EXPECT_THAT(read_text("09:30:00.1,1\n09:30:00.2,2\n").info.remarks,
                ElementsAre("the clock of the first row shows 09:30:00.1; the date is not stated"));
    // Midnight, with and without dates, and a leap day.
    EXPECT_EQ(read_text("23:59:59.8;1\n23:59:59.9;1\n00:00:00.0;1\n00:00:00.1;1\n").info.frames, 4);
    EXPECT_NEAR(read_text("2024-02-28 23:59:58;1\n2024-02-28 23:59:59;1\n2024-02-29 00:00:00;1\n").info.rate_hz, 1.0,
                1e-12);
    EXPECT_THAT(text_complaint("2023-02-29 00:00:00;1\n2023-02-29 00:00:01;1\n"),
                HasSubstr("\"2023-02-29 00:00:00\" stands"));
}

TEST(Text, ClocksThatDoNotRunEvenlyAreRefused)
{
    const auto rows = [](int jump_s) {
        std::string text;
        for (int i = 0; i < 40; ++i) {
            const int s = 7200 + i + (i >= 20 ? jump_s : 0);
            text += fmt::format("2026-03-29 {:02}:{:02}:{:02}.0;1\n", s / 3600, s / 60 % 60, s % 60);
        }
        return text_complaint(text);
    };
    EXPECT_EQ(rows(0), "no complaint");
    EXPECT_THAT(rows(3600), HasSubstr("a.csv:21: time jumps from 02:00:19 to 03:00:20"));
    EXPECT_THAT(rows(3600), HasSubstr("this looks like the change to or from summer time: give times in UTC"));
    EXPECT_THAT(rows(-3600), HasSubstr("time goes back from 02:00:19 to 01:00:20"));
    EXPECT_THAT(rows(-3600), HasSubstr("summer time"));
    EXPECT_THAT(rows(7), HasSubstr("split the recording there"));
    EXPECT_THAT(text_complaint("09:30:00,1\n09:30:00,1\n09:30:00,2\n09:30:01,1\n"),
                HasSubstr("time stands still at 09:30:00"));
    // Whole seconds and a stated rate agree.
    std::string text = "rate: 4\n";
    for (int i = 0; i < 17; ++i) text += fmt::format("09:30:{:02};{}\n", i / 4, i);
    EXPECT_EQ(read_text(text).info.rate_hz, 4.0);
    EXPECT_THAT(text_complaint("a,b\n09:30:00.1,1\n09:30:x,2\n09:30:00.3,2\n"),
                HasSubstr("a.csv:3:1: \"09:30:x\" stands where a date or a time of day belongs"));
    EXPECT_THAT(text_complaint("09:30:00.1,1\n2026-01-01 09:30:00.2,2\n"),
                HasSubstr("not written as in the rows above"));
    EXPECT_THAT(text_complaint("09:30:00,125,1\n09:30:00,250,2\n09:30:00,375,2\n"),
                HasSubstr("a channel or the decimals of the second"));
    EXPECT_THAT(text_complaint("03/04/2026 09:30:00,1\n03/04/2026 09:30:01,1\n"),
                HasSubstr("a.csv:1:1: \"03/04/2026 09:30:00\""));
}

TEST(Text, NumbersInQuotesAreRead)
{
    const ReadOptions rate{100.0};
    EXPECT_THAT(read_text("\"x\";\"y\"\n\"1,5\";\"2,0\"\n\"-3\";\"4e1\"\n", rate).values, ElementsAre(1.5, 2, -3, 40));
    EXPECT_THAT(read_text("x,y\n\"1,5\",\"2,0\"\n3,\" 4,25 \"\n", rate).values, ElementsAre(1.5, 2, 3, 4.25));
    EXPECT_THAT(read_text("\"1.5\",\"2\"\n3,4\n", rate).values, ElementsAre(1.5, 2, 3, 4));
    EXPECT_THAT(text_complaint("x;y\n1;2\n3;\"\"\n", rate), HasSubstr("a.csv:3:3"));
    EXPECT_THAT(text_complaint("x,y\n\"1,234\",\"2,500\"\n", rate), HasSubstr("may be decimal or part thousands"));
    EXPECT_THAT(text_complaint("x;y\n\"1,5\";\"2\"\n\"1,5\";\"2\n", rate), HasSubstr("a.csv:3"));
}

TEST(Text, APreambleTellsWhatIsUnambiguous)
{
    auto info = read_text("# Start: 14.03.2026 09:30:00,5\nSensor serial;A-17\nSensitivity [mV/g] = 100.2\nSerial: 5\n"
                          "rate: 199.252682\nx [g];y [m/s2]\n1;2\n3;4\n")
                    .info;
    EXPECT_EQ(info.start, "2026-03-14T09:30:00.5");
    EXPECT_EQ(info.rate_hz, 199.252682);
    ASSERT_EQ(info.facts.size(), 2U);
    EXPECT_EQ(info.facts[1].serial, "A-17");
    EXPECT_EQ(read_text("rate: 100\nTEDS: 11 00 48 40 04 39 30 00\n1;2\n3;4\n").info.facts.at(1).serial, "12345");
    EXPECT_EQ(info.facts[1].sensitivity, "100.2 mV/g");
    EXPECT_EQ(info.facts[0].unit, "g");
    EXPECT_EQ(info.facts[1].unit, "m/s2");
    EXPECT_EQ(info.unit, "");
    EXPECT_THAT(info.names, ElementsAre("x", "y"));
    info = read_text("rate: 100\nUnit: mm/s\nSensor serial: 1\nSensor serial: 2\n1;2\n3;4\n").info;
    EXPECT_EQ(info.unit, "mm/s");
    EXPECT_THAT(info.facts, testing::IsEmpty()); // two statements are none
}

TEST(Text, IrregularTimesAreResampledOnRequest)
{
    // A parabola is met to rounding by the slopes of parabolas, but at the ends; a line everywhere.
    std::mt19937_64 generator(3);
    std::uniform_real_distribution<double> jitter(-0.3, 0.3);
    std::string content = "t,line,curve\n";
    for (int i = 0; i < 500; ++i) {
        const double t = 0.01 * (i + (i == 0 || i == 499 ? 0.0 : jitter(generator)));
        content += fmt::format("{:.9f},{:.17g},{:.17g}\n", t, 2.0 - 3.0 * t, t * t);
        if (i == 250) content += fmt::format("{:.9f},{:.17g},{:.17g}\n", t, 2.0 - 3.0 * t, t * t);
    }
    EXPECT_THAT(text_complaint(content), HasSubstr("or resample it to an even rate"));
    const auto recording = read_text(content, {.resample_hz = 128.0});
    EXPECT_EQ(recording.info.rate_hz, 128.0);
    EXPECT_EQ(recording.info.format, "delimited text, resampled");
    EXPECT_THAT(recording.info.resampled,
                testing::AllOf(HasSubstr("its 501 rows at irregular times (100 Hz in the mean"),
                               HasSubstr("1 of one time with another were averaged"), HasSubstr("put onto 128 Hz")));
    ASSERT_EQ(recording.values.size(), 2U * 639U); // 4.99 s: instants 0 to 638
    for (std::size_t i = 4; i < 634; ++i) {
        const double t = static_cast<double>(i) / 128.0;
        ASSERT_NEAR(recording.values[2 * i], 2.0 - 3.0 * t, 1e-6); // times are printed to 1e-9 s
        ASSERT_NEAR(recording.values[2 * i + 1], t * t, 1e-6);
    }
    const ScratchFolder folder;
    auto reader = open_recording(folder.file("a.csv", content), {.resample_hz = 128.0});
    ASSERT_TRUE(reader);
    for (const std::int64_t at : {500, 638, 3, 3}) {
        Values frame(2);
        ASSERT_TRUE((*reader)->seek(at));
        ASSERT_EQ((*reader)->read(frame).value(), 1U);
        EXPECT_EQ(frame[0], recording.values[static_cast<std::size_t>(2 * at)]);
    }
    EXPECT_THAT(text_complaint(content, {.resample_hz = 64.0}),
                HasSubstr("would be folded down; write resample_hz = 100 or more"));
    EXPECT_THAT(text_complaint(content, {.resample_hz = 5000.0}), HasSubstr("write resample_hz = 2"));
    EXPECT_THAT(text_complaint("t,z\n0,1\n1,1\n2,1\n3,1\n", {.resample_hz = 2.0}),
                HasSubstr("its times run evenly at 1 Hz"));
    EXPECT_THAT(text_complaint("t,z\n0.00,1\n1.01,1\n2.07,1\n1.90,1\n", {.resample_hz = 2.0}),
                HasSubstr("a.csv:5: time goes back"));
    content = "t,z\n";
    for (int i = 0; i < 100; ++i) content += fmt::format("{},1\n", i < 50 ? i : i + 40);
    EXPECT_THAT(text_complaint(content, {.resample_hz = 4.0}),
                HasSubstr("a.csv:52: nothing was recorded from 49 to 90"));
    EXPECT_THAT(complaint(folder, folder.file("b.wav", WavBytes{}.bytes()), {.resample_hz = 2000.0}),
                HasSubstr("resample_hz is for text with irregular times, and this is WAV"));
}

// Head acceleration in a simulated motorcycle accident, 133 rows at 94 irregular times from 2.4 ms to 57.6 ms [mcycle
// in Debian's r-cran-mass; B. W. Silverman, J. R. Statist. Soc. B 47, 1985]. 93 steps in 55.2 ms are 1684.8 Hz.
TEST(Text, AnOpenRecordOfIrregularTimesIsReadOnRequestAlone)
{
    const ScratchFolder folder;
    const std::string path = folder.path("mcycle.csv");
    const std::string command =
        fmt::format("Rscript -e 'd <- MASS::mcycle; names(d) <- c(\"time [ms]\", \"head [g]\"); "
                    "write.csv(d, \"{}\", row.names = FALSE)' > /dev/null 2>&1",
                    path);
    if (std::system(command.c_str()) != 0) GTEST_SKIP() << "Debian's r-cran-mass (with r-base-core) is not installed";
    EXPECT_THAT(complaint(folder, path), HasSubstr("or resample it to an even rate"));
    auto reader = open_recording(path, {.resample_hz = 2000.0});
    ASSERT_TRUE(reader) << to_text(reader.error());
    const RecordingInfo& info = (*reader)->info();
    EXPECT_EQ(info.unit, "g");
    EXPECT_EQ(info.frames, 111); // 55.2 ms
    EXPECT_THAT(info.resampled, testing::AllOf(HasSubstr("its 133 rows at irregular times (1685 Hz in the mean"),
                                               HasSubstr("39 of one time with another were averaged")));
    const auto values = read_all(**reader);
    ASSERT_TRUE(values);
    EXPECT_EQ(values->front(), 0.0); // the first row
    EXPECT_LT(*std::min_element(values->begin(), values->end()), -100.0);
}

// Every number that a double or a recorder can print is rounded as the standard library rounds it.
RC_GTEST_PROP(TextProperties, DecimalsAreRoundedCorrectly, ())
{
    const auto digits = *rc::gen::container<std::string>(rc::gen::element('0', '1', '5', '7', '9'));
    const auto decimals = *rc::gen::container<std::string>(rc::gen::element('0', '1', '4', '6', '9'));
    const int exponent = *rc::gen::inRange(-30, 30);
    const std::string text = fmt::format("{}{}.{}{}", *rc::gen::element("", "-"), digits, decimals,
                                         *rc::gen::arbitrary<bool>() ? fmt::format("e{}", exponent) : "");
    double expected = 0.0, value = 0.0;
    const auto parsed = std::from_chars(text.data(), text.data() + text.size(), expected);
    const char* after = parse_decimal(text.data(), text.data() + text.size(), '.', value);
    RC_ASSERT((after != nullptr) == (parsed.ec == std::errc()));
    if (after == nullptr) return;
    RC_ASSERT(after == parsed.ptr);
    RC_ASSERT(std::memcmp(&value, &expected, sizeof value) == 0);
}

TEST(Text, LostSamplesAreHandedOn)
{
    const auto values = read_text("x,y\n1,nan\nNaN,-inf\n", ReadOptions{1000.0}).values;
    ASSERT_EQ(values.size(), 4U);
    EXPECT_TRUE(std::isnan(values[1]));
    EXPECT_TRUE(std::isnan(values[2]));
    EXPECT_EQ(values[3], -std::numeric_limits<double>::infinity());
}

TEST(Text, SeeksForthAndBack)
{
    const ScratchFolder folder;
    std::string content = "rate: 1000\nx,y\n";
    for (int i = 0; i < 100000; ++i) content += fmt::format("{},{}\n{}", i, -i, i % 100 == 0 ? "# remark\n" : "");
    auto reader = open_recording(folder.file("a.csv", content));
    ASSERT_TRUE(reader);
    EXPECT_EQ((*reader)->info().frames, 100000);
    Values frame(2);
    for (const std::int64_t at : {0, 99999, 5, 6, 50000, 50000}) {
        ASSERT_TRUE((*reader)->seek(at));
        const auto got = (*reader)->read(frame);
        ASSERT_TRUE(got);
        EXPECT_EQ(*got, 1U);
        EXPECT_THAT(frame, ElementsAre(static_cast<double>(at), -static_cast<double>(at)));
    }
    ASSERT_TRUE((*reader)->seek(100000));
    EXPECT_EQ((*reader)->read(frame).value(), 0U);
    EXPECT_FALSE((*reader)->seek(100001));
}

TEST(Text, AFileCutShortAfterOpeningIsNoticed)
{
    const ScratchFolder folder;
    std::string content = "rate: 1000\nx,y\n";
    for (int i = 0; i < 500000; ++i) content += "0.125,0.25\n";
    const std::string path = folder.file("a.csv", content);
    auto reader = open_recording(path);
    ASSERT_TRUE(reader);
    ASSERT_EQ(::truncate(path.c_str(), 3'000'000), 0);
    EXPECT_FALSE(read_all(**reader));
}

// Any numbers, in any dialect, come back as they were.
RC_GTEST_PROP(TextProperties, EveryDialectIsReadBackExactly, ())
{
    const auto rows = *rc::gen::inRange<std::size_t>(1, 40);

    const auto exponent = *rc::gen::inRange(-12, 3);
    const auto [delimiter, comma] =
        *rc::gen::element(std::pair{',', false}, std::pair{';', false}, std::pair{';', true}, std::pair{'\t', false},
                          std::pair{'\t', true}, std::pair{' ', false}, std::pair{' ', true});
    const bool carriage_return = *rc::gen::arbitrary<bool>();
    const bool mark = *rc::gen::arbitrary<bool>();
    const bool names = *rc::gen::arbitrary<bool>();
    const bool time = *rc::gen::arbitrary<bool>();
    // One column with decimal commas may be refused, see OneCommaWithoutNamesIsNotGuessed.
    const auto channels = *rc::gen::inRange<std::size_t>(comma && !time ? 2 : 1, 6);
    const auto mantissas = *rc::gen::container<std::vector<std::int64_t>>(
        channels * rows, rc::gen::inRange<std::int64_t>(-999'999'999'999, 999'999'999'999));
    const bool remarks = *rc::gen::arbitrary<bool>();
    const bool last_line_ends = *rc::gen::arbitrary<bool>();
    const bool scientific = *rc::gen::arbitrary<bool>();

    const std::string end = carriage_return ? "\r\n" : "\n";
    const auto number = [&](double value) {
        std::string text = scientific ? fmt::format("{:.17e}", value) : fmt::format("{}", value);
        if (text.find('.') == std::string::npos && text.find('e') == std::string::npos) text += ".0";
        if (comma) std::replace(text.begin(), text.end(), '.', ',');
        return text;
    };
    std::string content = mark ? "\xEF\xBB\xBF" : "";
    content += "Deck five" + end + "rate_hz: 250" + end;
    const auto add_row = [&](const std::vector<std::string>& fields) {
        for (std::size_t i = 0; i < fields.size(); ++i) content += (i > 0 ? std::string(1, delimiter) : "") + fields[i];
    };
    if (names || time) {
        std::vector<std::string> fields;
        if (time) fields.emplace_back("time");
        for (std::size_t c = 0; c < channels; ++c) fields.push_back(fmt::format("ch{}", c));
        add_row(fields);
        content += end;
    }
    Values expected;
    for (std::size_t row = 0; row < rows; ++row) {
        std::vector<std::string> fields;
        if (time) fields.push_back(number(static_cast<double>(row) * 0.004));
        for (std::size_t c = 0; c < channels; ++c) {
            const double value = static_cast<double>(mantissas[row * channels + c]) * std::pow(10.0, exponent);
            expected.push_back(value);
            fields.push_back(number(value));
        }
        add_row(fields);
        if (row + 1 < rows || last_line_ends) content += end;
        if (remarks && row % 5 == 0 && row + 1 < rows) content += "# remark, 1; 2" + end;
    }

    const ScratchFolder folder;
    auto reader = open_recording(folder.file("a.txt", content));
    if (!reader) RC_FAIL(to_text(reader.error()) + "\n" + content);
    RC_ASSERT((*reader)->info().channels == static_cast<int>(channels));
    RC_ASSERT((*reader)->info().frames == static_cast<std::int64_t>(rows));
    RC_ASSERT((*reader)->info().rate_hz == 250.0);
    const auto values = read_all(**reader, 7);
    if (!values) RC_FAIL(to_text(values.error()) + "\n" + content);
    RC_ASSERT(*values == expected);
}

// Whatever bytes a file holds, reading them ends with values or a Problem that names the file.
RC_GTEST_PROP(TextProperties, AnyBytesEndInValuesOrAComplaint, ())
{
    const auto pieces = *rc::gen::container<std::vector<std::string>>(rc::gen::element<std::string>(
        "1", "0.5", "-", "+", ",", ";", "\t", " ", "\n", "\r\n", "#", "time", "rate: ", "nan", "e9", "\"", "(s)",
        "RIFF", "WAVE", "\xFF", std::string(1, '\0')));
    std::string content;
    for (const auto& piece : pieces) content += piece;
    const ScratchFolder folder;
    const std::string path = folder.file("a", content);
    auto reader = open_recording(path, *rc::gen::element(ReadOptions{}, ReadOptions{100.0}));
    if (!reader) {
        RC_ASSERT(reader.error().file == path);
        return;
    }
    RC_ASSERT((*reader)->info().rate_hz > 0.0);
    const auto values = read_all(**reader);
    if (values)
        RC_ASSERT(static_cast<std::int64_t>(values->size()) == (*reader)->info().frames * (*reader)->info().channels);
    else
        RC_ASSERT(values.error().file == path);
}

TEST(Text, MemoryDoesNotGrowWithTheFile)
{
    const ScratchFolder folder;
    const std::string path = folder.path("long.csv");
    {
        std::ofstream out(path, std::ios::binary);
        std::string block;
        for (int i = 0; i < 10000; ++i) block += fmt::format("{:.6f},{:.6f},{:.6f}\n", i * 1e-4, -i * 2e-4, i * 3e-4);
        out << "rate_hz: 1000\nx,y,z\n";
        for (int i = 0; i < 300; ++i) out << block; // about 90 MB
    }
    const auto peak_kib = [] {
        rusage usage = {};
        ::getrusage(RUSAGE_SELF, &usage);
        return usage.ru_maxrss;
    };
    const auto before = peak_kib();
    const auto started = std::chrono::steady_clock::now();
    auto reader = open_recording(path);
    ASSERT_TRUE(reader);
    EXPECT_EQ((*reader)->info().frames, 3'000'000);
    Values block(3 * 4096);
    std::int64_t frames = 0;
    for (;;) {
        const auto got = (*reader)->read(block);
        ASSERT_TRUE(got);
        if (*got == 0) break;
        frames += static_cast<std::int64_t>(*got);
    }
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - started;
    EXPECT_EQ(frames, 3'000'000);
    EXPECT_LT(peak_kib() - before, 8 * 1024);
    RecordProperty("megabytes_per_second",
                   fmt::format("{:.0f}", static_cast<double>(std::filesystem::file_size(path)) / 1e6 / took.count()));
}

} // namespace
} // namespace becalm::io
