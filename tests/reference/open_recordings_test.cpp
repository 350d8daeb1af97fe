// Real recordings that anybody can install, through the reader.
//
//   A  Debian package r-cran-waveslim 1.8.4-1, /usr/lib/R/site-library/waveslim/data/kobe.rda: vertical ground
//   acceleration of an
//      earthquake recorded far away, nm/s2, 1 Hz. Needs bzip2.
//      `apt-get install r-cran-waveslim bzip2`
//   B  npm package gopro-telemetry 1.2.11, samples/hero11.raw: a hand-held three-axis accelerometer, m/s2.
//      `cd FOLDER && npm install gopro-telemetry@1.2.11`, then BECALM_OPEN_DATA=FOLDER
//   C  Debian package libmseed-doc 2.19.8-1, test.mseed: counts of a seismometer, 1 Hz, 4200 samples.
//
// Nothing of them lies in this project; where one is missing its test is skipped and says why. The facts checked
// (counts, r.m.s., peaks) were computed from the packages' files with Python's standard library.
#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <libmseed.h>
#include <sndfile.h>
#include <string>
#include <string_view>
#include <unistd.h>
#include <vector>

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "evaluators/selected_samples.h"
#include "src/io/recording_reader.h"

namespace becalm::io {
namespace {

using Values = std::vector<double>;

class OpenRecordings : public testing::Test {
protected:
    void SetUp() override
    {
        folder_ = std::filesystem::temp_directory_path() / fmt::format("becalm-open-recordings-{}", ::getpid());
        std::filesystem::create_directories(folder_);
    }
    void TearDown() override { std::filesystem::remove_all(folder_); }
    std::string path(std::string_view name) const { return (folder_ / name).string(); }

private:
    std::filesystem::path folder_;
};

std::uint64_t big_endian(std::string_view bytes)
{
    std::uint64_t value = 0;
    for (const char byte : bytes) value = value << 8 | static_cast<unsigned char>(byte);
    return value;
}

double mean_of(const Values& values)
{
    double sum = 0.0;
    for (const double value : values) sum += value;
    return sum / static_cast<double>(values.size());
}

double rms_about(const Values& values, double centre)
{
    double sum = 0.0;
    for (const double value : values) sum += (value - centre) * (value - centre);
    return std::sqrt(sum / static_cast<double>(values.size()));
}

Values read_all(RecordingReader& reader)
{
    Values all;
    Values block(static_cast<std::size_t>(reader.info().channels) * 512);
    for (;;) {
        const auto frames = reader.read(block);
        if (!frames) {
            ADD_FAILURE() << to_text(frames.error());
            return all;
        }
        if (*frames == 0) return all;
        const auto count = *frames * static_cast<std::size_t>(reader.info().channels);
        all.insert(all.end(), block.begin(), block.begin() + static_cast<std::ptrdiff_t>(count));
    }
}

TEST_F(OpenRecordings, EarthquakeFarAway)
{
    const char* const package_file = "/usr/lib/R/site-library/waveslim/data/kobe.rda";
    if (!std::filesystem::exists(package_file)) GTEST_SKIP() << "r-cran-waveslim is not installed";
    std::string bytes;
    FILE* const pipe = ::popen(fmt::format("bzip2 -dc {} 2>/dev/null", package_file).c_str(), "r");
    ASSERT_NE(pipe, nullptr);
    char block[4096];
    while (const std::size_t got = std::fread(block, 1, sizeof block, pipe)) bytes.append(block, got);
    const int status = ::pclose(pipe);
    if (WIFEXITED(status) && WEXITSTATUS(status) == 127) GTEST_SKIP() << "bzip2 is not installed";
    ASSERT_EQ(status, 0);

    // R's serialisation of one numeric vector: after 43 bytes a count, then the values, all big-endian.
    ASSERT_GT(bytes.size(), 47U);
    const auto count = static_cast<std::size_t>(big_endian(std::string_view(bytes).substr(43, 4)));
    ASSERT_EQ(count, 3048U);
    ASSERT_GE(bytes.size(), 47 + 8 * count);
    Values stored(count);
    for (std::size_t i = 0; i < count; ++i)
        stored[i] = std::bit_cast<double>(big_endian(std::string_view(bytes).substr(47 + 8 * i, 8))) * 1e-9;

    SF_INFO description = {};
    description.channels = 1;
    description.samplerate = 1;
    description.format = SF_FORMAT_WAV | SF_FORMAT_DOUBLE;
    SNDFILE* const file = sf_open(path("kobe.wav").c_str(), SFM_WRITE, &description);
    ASSERT_NE(file, nullptr);
    ASSERT_EQ(sf_write_double(file, stored.data(), static_cast<sf_count_t>(count)), static_cast<sf_count_t>(count));
    sf_close(file);

    auto reader = open_recording(path("kobe.wav"));
    ASSERT_TRUE(reader) << to_text(reader.error());
    EXPECT_EQ((*reader)->info().rate_hz, 1.0);
    EXPECT_EQ((*reader)->info().frames, 3048);
    const Values values = read_all(**reader);
    EXPECT_EQ(values, stored);
    double peak = 0.0;
    for (const double value : values) peak = std::max(peak, std::abs(value));
    EXPECT_NEAR(rms_about(values, 0.0), 8.138638e-6, 0.5e-12); // m/s2, the last digit stated
    EXPECT_NEAR(peak, 4.2428e-5, 1e-15);                       // m/s2, a whole count
}

// Blocks of a four-letter key, a type, the size of one element, a big-endian count of elements and the elements, padded
// to four bytes; type 0 holds blocks. Collects the elements of every ACCL block, three big-endian 16-bit integers each,
// divided by the SCAL block before it.
void collect_acceleration(std::string_view bytes, double& scale, std::vector<double>& out)
{
    while (bytes.size() >= 8) {
        const std::string_view key = bytes.substr(0, 4);
        const char type = bytes[4];
        const auto size =
            static_cast<std::size_t>(static_cast<unsigned char>(bytes[5])) * big_endian(bytes.substr(6, 2));
        const std::string_view body = bytes.substr(8, size);
        if (type == 0) collect_acceleration(body, scale, out);
        if (key == "SCAL" && type == 's' && body.size() == 2) scale = static_cast<double>(big_endian(body));
        if (key == "ACCL") {
            EXPECT_EQ(scale, 417.0);
            for (std::size_t i = 0; i + 1 < body.size(); i += 2)
                out.push_back(static_cast<std::int16_t>(big_endian(body.substr(i, 2))) / scale);
        }
        bytes.remove_prefix(std::min(bytes.size(), 8 + (size + 3) / 4 * 4));
    }
}

TEST_F(OpenRecordings, HandHeldAccelerometer)
{
    const char* const folder = std::getenv("BECALM_OPEN_DATA");
    if (folder == nullptr) GTEST_SKIP() << "BECALM_OPEN_DATA names no folder with gopro-telemetry@1.2.11";
    const auto source = std::filesystem::path(folder) / "node_modules/gopro-telemetry/samples/hero11.raw";
    if (!std::filesystem::exists(source)) GTEST_SKIP() << source << " is missing: npm install gopro-telemetry@1.2.11";
    std::ifstream in(source, std::ios::binary);
    const std::string bytes{std::istreambuf_iterator<char>(in), {}};
    double scale = 0.0;
    Values stored;
    collect_acceleration(bytes, scale, stored);
    ASSERT_EQ(stored.size(), 3U * 2192U);

    // The rate is no whole number, so no audio header can hold it.
    {
        std::ofstream out(path("hand.csv"));
        out << "# hand-held, m/s2\nrate_hz: 199.252682\n";
        for (std::size_t i = 0; i < stored.size(); i += 3)
            out << fmt::format("{},{},{}\n", stored[i], stored[i + 1], stored[i + 2]);
    }
    auto reader = open_recording(path("hand.csv"));
    ASSERT_TRUE(reader) << to_text(reader.error());
    EXPECT_EQ((*reader)->info().rate_hz, 199.252682);
    EXPECT_EQ((*reader)->info().channels, 3);
    EXPECT_EQ((*reader)->info().frames, 2192);
    const Values values = read_all(**reader);
    EXPECT_EQ(values, stored);
    const double expected[3] = {0.76613813, 1.59293667, 1.14372974}; // m/s2, about the mean
    for (std::size_t channel = 0; channel < 3; ++channel) {
        Values one;
        for (std::size_t i = channel; i < values.size(); i += 3) one.push_back(values[i]);
        EXPECT_NEAR(rms_about(one, mean_of(one)), expected[channel], 0.6e-8) << "channel " << channel + 1;
    }
}

TEST_F(OpenRecordings, CountsOfASeismometer)
{
    std::string file;
    FILE* const pipe = ::popen("dpkg -L libmseed-doc 2>/dev/null | grep '/test\\.mseed$'", "r");
    ASSERT_NE(pipe, nullptr);
    char block[4096];
    while (const std::size_t got = std::fread(block, 1, sizeof block, pipe)) file.append(block, got);
    ::pclose(pipe);
    if (file.empty() || !std::filesystem::exists(file.substr(0, file.find('\n'))))
        GTEST_SKIP() << "libmseed-doc is not installed";
    file = file.substr(0, file.find('\n'));

    auto reader = open_recording(file);
    ASSERT_TRUE(reader) << to_text(reader.error());
    EXPECT_EQ((*reader)->info().rate_hz, 1.0);
    EXPECT_EQ((*reader)->info().channels, 1);
    EXPECT_EQ((*reader)->info().frames, 4200);
    EXPECT_TRUE((*reader)->info().integer_pcm);
    EXPECT_EQ((*reader)->info().step, 1.0);

    // The library's own way to the samples: all records of the file into one series.
    MSTraceGroup* group = nullptr;
    ASSERT_EQ(ms_readtraces(&group, file.c_str(), 0, -1.0, -1.0, 0, 1, 1, 0), MS_NOERROR);
    ASSERT_EQ(group->numtraces, 1);
    const auto* const samples = static_cast<const std::int32_t*>(group->traces->datasamples);
    EXPECT_EQ(read_all(**reader), Values(samples, samples + group->traces->numsamples));
    mst_freegroup(&group);

    // Counts mean nothing without a scale.
    evaluators::WeighOptions options;
    const auto refused = evaluators::SelectedReader::open(file, options);
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().remedy, "say --scale N: one count is N of the unit");
    options.scale = 1e-9;
    EXPECT_TRUE(evaluators::SelectedReader::open(file, options));
}

} // namespace
} // namespace becalm::io
