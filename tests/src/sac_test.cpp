// SAC files, put together here word by word from the definition (SAC data file format: header versions 6 and 7);
// expected values are computed from it: what was written is what must be read.
#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <cstring>
#include <random>

#include <fmt/format.h>
#include <gmock/gmock.h>

#include "src/io/recording_reader.h"

#include "tests/src/recording_checks.h"
#include "tests/src/scratch_folder.h"

namespace becalm::io {
namespace {

using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::StartsWith;
using tests::complaint_about;
using tests::ScratchFolder;
using tests::Values;
using tests::whole_recording;

struct Sac {
    bool big = false;
    int version = 6;
    float delta = 0.01F;
    double exact_delta = 0.0; // of the footer; 0: the same
    float b = 0.0F;
    int points = -1; // stated; -1: the true count
    int type = 1, even = 1, quantity = 8;
    float scale = -12345.0F, azimuth = -12345.0F, inclination = -12345.0F, e = -12345.0F;
    std::array<int, 6> reference{2031, 137, 6, 30, 5, 250};
    std::string station = "DECK5", component = "HNZ", network = "XX";
    Values values = {};

    template <class T>
    void put(std::string& bytes, std::size_t at, T value) const
    {
        auto copy = std::bit_cast<std::array<char, sizeof(T)>>(value);
        if (big) std::reverse(copy.begin(), copy.end()); // the test's machine is little-endian
        if (bytes.size() < at + sizeof(T)) bytes.resize(at + sizeof(T));
        std::memcpy(bytes.data() + at, copy.data(), copy.size());
    }

    std::string bytes() const
    {
        std::string file;
        const auto real = [&](std::size_t word, float value) { put(file, 4 * word, value); };
        const auto integer = [&](std::size_t word, int value) { put(file, 4 * word, std::int32_t{value}); };
        for (std::size_t word = 0; word < 70; ++word) real(word, -12345.0F);
        for (std::size_t word = 70; word < 110; ++word) integer(word, -12345);
        real(0, delta), real(3, scale), real(5, b), real(6, e), real(57, azimuth), real(58, inclination);
        for (std::size_t i = 0; i < 6; ++i) integer(70 + i, reference[i]);
        integer(76, version), integer(79, points >= 0 ? points : static_cast<int>(values.size()));
        integer(85, type), integer(86, quantity), integer(105, even);
        const auto text = [&](const std::string& words) { file += fmt::format("{:8}", words); };
        text(station);
        file += fmt::format("{:16}", "-12345"); // KEVNM has 16 characters
        for (int i = 0; i < 17; ++i) text("-12345");
        text(component);
        text(network);
        text("-12345");
        text("-12345");
        EXPECT_EQ(file.size(), 632U);
        for (const double value : values) put(file, file.size(), static_cast<float>(value));
        if (version == 7) {
            put(file, file.size(), exact_delta > 0.0 ? exact_delta : static_cast<double>(delta));
            put(file, file.size(), static_cast<double>(b));
            for (int i = 2; i < 22; ++i) put(file, file.size(), -12345.0);
        }
        return file;
    }
};

static_assert(std::endian::native == std::endian::little);

Values noise(std::size_t count)
{
    std::mt19937 generator(5);
    std::normal_distribution<float> normal(0.0F, 1e5F);
    Values values(count);
    for (double& value : values) value = static_cast<double>(normal(generator));
    return values;
}

TEST(Sac, BothOrdersAndVersionsReadBackExactly)
{
    const ScratchFolder folder;
    for (const bool big : {false, true})
        for (const int version : {6, 7})
            for (const std::size_t count : {1U, 3U, 10001U}) {
                const Sac sac{.big = big, .version = version, .exact_delta = 0.01, .values = noise(count)};
                const auto read = whole_recording(folder.file("a", sac.bytes()));
                EXPECT_EQ(read.values, sac.values);
                EXPECT_EQ(read.info.rate_hz, 100.0);
                EXPECT_EQ(read.info.format, fmt::format("SAC, version {}, 32-bit float", version));
                EXPECT_FALSE(read.info.integer_pcm);
            }
}

TEST(Sac, FactsOfTheHeaderAreTold)
{
    const ScratchFolder folder;
    Sac sac{.b = 1.5F, .inclination = 0.0F, .values = noise(10)};
    auto info = whole_recording(folder.file("a", sac.bytes())).info;
    EXPECT_THAT(info.names, ElementsAre("DECK5 HNZ"));
    EXPECT_EQ(info.start, "2031-05-17T06:30:06.75Z"); // the 137th day, 05.250 s and 1.5 s
    EXPECT_EQ(info.unit, "nm/s2");
    ASSERT_EQ(info.facts.size(), 1U);
    EXPECT_EQ(info.facts[0].unit, "m/s2");
    EXPECT_EQ(info.facts[0].scale, 1e-9);
    EXPECT_EQ(info.facts[0].direction, "up");
    EXPECT_THAT(info.remarks, Contains(StartsWith("By the format's definition values are in nm/s2")));
    EXPECT_THAT(info.remarks, Contains(HasSubstr("taken for that of 100 Hz")));

    sac.quantity = 5, sac.scale = 2.5F, sac.azimuth = 90.0F, sac.inclination = 90.0F, sac.e = 12.0F;
    sac.reference[1] = -12345, sac.station = sac.component = sac.network = "-12345", sac.delta = 0.03F;
    info = whole_recording(folder.file("a", sac.bytes())).info;
    EXPECT_THAT(info.names, testing::IsEmpty());
    EXPECT_EQ(info.start, "");
    EXPECT_EQ(info.unit, "");
    EXPECT_EQ(info.facts[0].direction, "90 degrees from north, 90 degrees from upright");
    EXPECT_NEAR(info.rate_hz, 100.0 / 3.0, 1e-5); // single precision
    EXPECT_THAT(info.remarks, Contains("The header states no quantity; the values may be counts of a converter."));
    EXPECT_THAT(info.remarks, Contains(StartsWith("The header states a factor of 2.5")));
    EXPECT_THAT(info.remarks, Contains(StartsWith("The header states its end at 12 s")));
}

TEST(Sac, BeginAndEndTellTheRate)
{
    // 10,001 samples from 0 s to 101 s are 100 steps a second of 1.01: computed from the definition.
    const ScratchFolder folder;
    const auto timed = [&](float e) {
        return whole_recording(folder.file("a", Sac{.e = e, .values = noise(10001)}.bytes())).info.timed_rate;
    };
    EXPECT_NEAR(timed(101.0F).hz, 10000.0 / 101.0, 1e-9);
    EXPECT_LT(timed(101.0F).relative, 1e-6);
    EXPECT_NEAR(timed(100.0F).hz, 100.0, 1e-9);
    EXPECT_EQ(timed(-12345.0F).hz, 0.0);
    EXPECT_EQ(timed(-1.0F).hz, 0.0) << "ends before it begins";
}

TEST(Sac, WhatIsNoEvenSeriesIsRefused)
{
    const ScratchFolder folder;
    const auto about = [&](const Sac& sac) { return complaint_about(folder.file("a", sac.bytes())); };
    EXPECT_EQ(about({.values = noise(10)}), "no complaint");
    EXPECT_EQ(about({.type = 2, .values = noise(10)}),
              "a: this SAC file holds a spectrum (IFTYPE 2); export a series in time");
    EXPECT_THAT(about({.type = 4, .values = noise(10)}), HasSubstr("holds pairs of x and y (IFTYPE 4)"));
    EXPECT_THAT(about({.even = 0, .values = noise(10)}), HasSubstr("unevenly spaced (LEVEN is false)"));
    EXPECT_THAT(about({.delta = 0.0F, .values = noise(10)}), HasSubstr("a sampling interval of 0 s (DELTA)"));
    EXPECT_THAT(about({.delta = -12345.0F, .values = noise(10)}), HasSubstr("interval of -12345 s"));
    EXPECT_THAT(about({.delta = std::nanf(""), .values = noise(10)}), HasSubstr("interval of nan s"));
    EXPECT_THAT(about({.delta = 1e-40F, .values = noise(10)}),
                HasSubstr("a sampling interval of 9.99994610111476e-41 s"));
    EXPECT_THAT(about({.points = 0, .values = noise(10)}), HasSubstr("states 0 samples (NPTS)"));
    EXPECT_THAT(about({.points = 11, .values = noise(10)}),
                HasSubstr("promises 11 samples (NPTS), the file holds 10; copy it again"));
    EXPECT_THAT(about({.points = 9, .values = noise(10)}), HasSubstr("promises 9 samples (NPTS), the file holds 10"));
    EXPECT_THAT(about({.points = 2147483647, .values = noise(10)}), HasSubstr("promises 2147483647 samples"));
    EXPECT_THAT(about({.version = 7, .exact_delta = 0.02, .values = noise(10)}),
                HasSubstr("its footer 0.02 s; repair the right one"));
    EXPECT_THAT(about({.version = 5, .values = noise(10)}), HasSubstr("the format is not known"));
}

TEST(Sac, EveryCutIsNoticed)
{
    for (const int version : {6, 7})
        tests::every_cut_is_noticed(Sac{.version = version, .exact_delta = 0.01, .values = noise(40)}.bytes(),
                                    [](std::size_t) { return false; });
}

TEST(Sac, AnyBitMayFlip)
{
    tests::any_bit_may_flip(Sac{.values = noise(40)}.bytes(), 1000, 3);
    tests::any_bit_may_flip(Sac{.big = true, .version = 7, .exact_delta = 0.01, .values = noise(40)}.bytes(), 1000, 4);
}

} // namespace
} // namespace becalm::io
