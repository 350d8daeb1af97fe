// MATLAB files. Outside witnesses: the files of tests/reference/mat_files, written by scipy and h5py, and files written
// here by matio. All samples are sample(i, c), which every type of number holds exactly. Files built byte by byte
// follow the published description of version 5 ("MAT-File Format").
#include <cstdint>
#include <cstring>
#include <functional>
#include <matio.h>
#include <random>

#include <fmt/format.h>
#include <gmock/gmock.h>

#include "tests/src/recording_values.h"
#include "tests/src/scratch_folder.h"

namespace becalm::io {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using tests::complaint;
using tests::content_of;
using tests::read_all;
using tests::reads_everything;
using tests::ScratchFolder;

using Values = std::vector<double>;

double sample(std::int64_t i, std::int64_t c)
{
    return static_cast<double>((i * 37 + c * 1009) % 4001 - 2000) / 1024.0;
}

Values samples(std::int64_t frames, std::int64_t channels, double times = 1.0)
{
    Values values;
    for (std::int64_t i = 0; i < frames; ++i)
        for (std::int64_t c = 0; c < channels; ++c) values.push_back(sample(i, c) * times);
    return values;
}

std::string witness(const std::string& name) { return BECALM_TEST_DATA "/reference/mat_files/" + name; }

void expect_samples(RecordingReader& reader, const Values& expected)
{
    EXPECT_EQ(read_all(reader, 77).value(), expected);
    const auto channels = static_cast<std::size_t>(reader.info().channels);
    const std::int64_t middle = reader.info().frames / 3;
    ASSERT_TRUE(reader.seek(middle));
    const auto rest = read_all(reader).value();
    EXPECT_EQ(rest, Values(expected.begin() + static_cast<std::ptrdiff_t>(channels) * middle, expected.end()));
    EXPECT_FALSE(reader.seek(-1));
    EXPECT_FALSE(reader.seek(reader.info().frames + 1));
}

class EveryMat : public testing::TestWithParam<std::string> {};

TEST_P(EveryMat, OneStructWithItsCompanionsIsOneRecording)
{
    auto reader = open_recording(witness(GetParam()));
    ASSERT_TRUE(reader) << to_text(reader.error());
    const RecordingInfo& info = (*reader)->info();
    EXPECT_EQ(info.format, GetParam().starts_with("v5") ? "MATLAB 5, double" : "MATLAB 7.3, double");
    EXPECT_EQ(info.rate_hz, 1000.0);
    EXPECT_EQ(info.channels, 3);
    EXPECT_EQ(info.frames, 300);
    EXPECT_FALSE(info.integer_pcm);
    EXPECT_THAT(info.names, ElementsAre("x", "y", "z"));
    EXPECT_EQ(info.unit, "m/s^2");
    EXPECT_EQ(info.start, "2031-05-17T06:30:05Z");
    expect_samples(**reader, samples(300, 3));
    const auto parts = parts_of(witness(GetParam()));
    ASSERT_TRUE(parts);
    ASSERT_EQ(parts->size(), 1U);
    EXPECT_EQ(parts->front().name, "run.acc");
    EXPECT_EQ(parts->front().says, "3 channels, 1000 Hz, 0.3 s");
}

INSTANTIATE_TEST_SUITE_P(Mat, EveryMat,
                         testing::Values("v5-plain.mat", "v5-deflated.mat", "v73-plain.mat", "v73-deflated.mat"),
                         [](const auto& one) {
                             std::string name = one.param.substr(0, one.param.find('.'));
                             std::ranges::replace(name, '-', '_');
                             return name;
                         });

class ManyInAMat : public testing::TestWithParam<std::string> {};

TEST_P(ManyInAMat, PartsAreNamedByTheirPlace)
{
    const std::string path = witness(GetParam());
    EXPECT_THAT(complaint(path),
                testing::AllOf(HasSubstr("it holds 5 recordings:"), HasSubstr("name one: " + path + "#")));
    const auto parts = parts_of(path);
    ASSERT_TRUE(parts) << to_text(parts.error());
    std::vector<std::string> told;
    for (const RecordingPart& part : *parts) told.push_back(part.name + ": " + part.says);
    EXPECT_THAT(told, testing::UnorderedElementsAre(
                          "runs(1).acc: 1 channel, 250 Hz, 1.2 s", "runs(2).acc: 2 channels, 500 Hz, 0.6 s",
                          "x+y+z: 3 channels, 256 Hz, 1.17188 s", "counts: 2 channels, 256 Hz, 1.17188 s",
                          "single_one: 2 channels, 256 Hz, 0.78125 s"));
    auto xyz = open_recording(path + "#x+y+z");
    ASSERT_TRUE(xyz) << to_text(xyz.error());
    EXPECT_THAT((*xyz)->info().names, ElementsAre("x", "y", "z"));
    expect_samples(**xyz, samples(300, 3));
    auto counts = open_recording(path + "#counts");
    ASSERT_TRUE(counts) << to_text(counts.error());
    EXPECT_TRUE((*counts)->info().integer_pcm);
    EXPECT_EQ((*counts)->info().step, 1.0);
    expect_samples(**counts, samples(300, 2, 1024.0));
    auto single = open_recording(path, {.part = "single_one"});
    ASSERT_TRUE(single) << to_text(single.error());
    EXPECT_THAT((*single)->info().format, HasSubstr("single"));
    expect_samples(**single, samples(200, 2));
    auto second = open_recording(path + "#runs(2).acc");
    ASSERT_TRUE(second) << to_text(second.error());
    EXPECT_EQ((*second)->info().rate_hz, 500.0);
    expect_samples(**second, samples(300, 2));
    EXPECT_THAT(complaint(path + "#runs(3).acc"), HasSubstr("it holds no recording \"runs(3).acc\", but "));
}

INSTANTIATE_TEST_SUITE_P(Mat, ManyInAMat, testing::Values("v5-many.mat", "v73-many.mat"),
                         [](const auto& one) { return one.param.substr(0, one.param.find('-')); });

// ---- written by matio ----

using Made = std::unique_ptr<matvar_t, decltype(&Mat_VarFree)>;

matvar_t* numbers(const char* name, std::size_t rows, std::size_t columns, const Values& by_column)
{
    std::size_t size[] = {rows, columns};
    Values copy = by_column; // it is copied once more, but the function takes no constants
    return Mat_VarCreate(name, MAT_C_DOUBLE, MAT_T_DOUBLE, 2, size, copy.data(), 0);
}

matvar_t* text(const char* name, std::string words)
{
    std::size_t size[] = {1, words.size()};
    return Mat_VarCreate(name, MAT_C_CHAR, MAT_T_UINT8, 2, size, words.data(), 0);
}

struct MadeBy {
    mat_ft version;
    matio_compression compression;
    std::string name;
};

class MatOfMatio : public testing::TestWithParam<MadeBy> {
protected:
    // Writes the variables that `make` gives.
    std::string file(const std::vector<matvar_t*>& variables) const
    {
        const std::string path = folder.path("made.mat");
        std::filesystem::remove(path);
        mat_t* mat = Mat_CreateVer(path.c_str(), nullptr, GetParam().version);
        for (matvar_t* variable : variables) {
            const Made made(variable, &Mat_VarFree);
            EXPECT_EQ(Mat_VarWrite(mat, made.get(), GetParam().compression), 0);
        }
        Mat_Close(mat);
        return path;
    }

    ScratchFolder folder;
};

TEST_P(MatOfMatio, BothOrientationsAndTheRateOfATimeVector)
{
    const auto rows = [&](std::size_t frames, const std::vector<matvar_t*>& more) {
        std::vector<matvar_t*> variables{numbers("vib", 2, frames, samples(static_cast<std::int64_t>(frames), 2))};
        variables.insert(variables.end(), more.begin(), more.end());
        return file(variables);
    };
    Values time;
    for (int i = 0; i < 9000; ++i) time.push_back(12.5 + i * 0.001);
    auto reader = open_recording(rows(9000, {numbers("Time", 1, 9000, time)}));
    ASSERT_TRUE(reader) << to_text(reader.error());
    EXPECT_EQ((*reader)->info().rate_hz, 1000.0);
    expect_samples(**reader, samples(9000, 2));

    time.resize(300);
    time[200] += 0.0005;
    EXPECT_THAT(complaint(rows(300, {numbers("time", 1, 300, time)})),
                HasSubstr("time of vib jumps from 12.699 to 12.7005 at sample 201; the mean step is 0.001 s; split"));
    EXPECT_THAT(complaint(rows(300, {})),
                HasSubstr("nothing beside vib states its rate; add a number fs (Hz) or a vector t (s)"));
    EXPECT_EQ(complaint(rows(300, {}), {.rate_hz = 512.0}), "no complaint");
    EXPECT_THAT(
        complaint(rows(300, {numbers("fs", 1, 1, {100.0})}), {.rate_hz = 512.0}),
        HasSubstr("fs states a rate of 100 Hz for vib, rate_hz, which was given, one of 512 Hz; keep the right"));
    EXPECT_THAT(complaint(rows(300, {numbers("fs", 1, 1, {0.0})})),
                HasSubstr("fs states a rate of 0 Hz for vib; give a rate above 0 Hz"));
    EXPECT_THAT(complaint(file({text("note", "nothing else"), numbers("fs", 1, 1, {1.0})})),
                HasSubstr("it holds no real matrix of numbers, only "));
}

TEST_P(MatOfMatio, FieldsOfNestedStructsAreChannels)
{
    std::size_t one[] = {1, 1};
    const char* names[] = {"ax", "ay", "az", "sample_rate", "units"};
    matvar_t* run = Mat_VarCreateStruct("deck", 2, one, names, 5);
    const Values all = samples(500, 3);
    for (std::size_t c = 0; c < 3; ++c) {
        Values column;
        for (std::size_t i = 0; i < 500; ++i) column.push_back(all[3 * i + c]);
        Mat_VarSetStructFieldByName(run, names[c], 0, numbers(names[c], 500, 1, column));
    }
    Mat_VarSetStructFieldByName(run, "sample_rate", 0, numbers("sample_rate", 1, 1, {2048.5}));
    Mat_VarSetStructFieldByName(run, "units", 0, text("units", "g"));
    const char* outer_names[] = {"deck"};
    matvar_t* outer = Mat_VarCreateStruct("trial", 2, one, outer_names, 1);
    Mat_VarSetStructFieldByName(outer, "deck", 0, run);
    const std::string path = file({outer});
    auto reader = open_recording(path + "#trial.deck");
    ASSERT_TRUE(reader) << to_text(reader.error());
    EXPECT_EQ((*reader)->info().rate_hz, 2048.5);
    EXPECT_EQ((*reader)->info().unit, "g");
    EXPECT_THAT((*reader)->info().names, ElementsAre("ax", "ay", "az"));
    expect_samples(**reader, all);
}

INSTANTIATE_TEST_SUITE_P(Mat, MatOfMatio,
                         testing::Values(MadeBy{MAT_FT_MAT5, MAT_COMPRESSION_NONE, "v5"},
                                         MadeBy{MAT_FT_MAT5, MAT_COMPRESSION_ZLIB, "v5_deflated"},
                                         MadeBy{MAT_FT_MAT73, MAT_COMPRESSION_NONE, "v73"},
                                         MadeBy{MAT_FT_MAT73, MAT_COMPRESSION_ZLIB, "v73_deflated"}),
                         [](const auto& one) { return one.param.name; });

// ---- damaged ----

TEST(Mat, WhereverACopyBreaksOffItIsRefused)
{
    const ScratchFolder folder;
    for (const char* name : {"v5-plain.mat", "v5-deflated.mat", "v5-many.mat", "v73-plain.mat"}) {
        const std::string whole = content_of(witness(name));
        const bool hdf5 = std::string_view(name).starts_with("v73");
        // Every byte count of the smallest.
        const std::size_t step = whole.size() < 3000 ? 1 : whole.size() / 150;
        for (std::size_t length = 1; length < whole.size(); length += step) {
            std::filesystem::remove(folder.path("cut.mat")); // a new file is written faster than an old one anew
            const std::string path = folder.file("cut.mat", std::string_view(whole).substr(0, length));
            const auto reader = open_recording(path);
            // Where it breaks off between two variables nothing tells.
            if (reader && (length < 128 || hdf5)) ADD_FAILURE() << name << " " << length;
            EXPECT_TRUE(reader || reader.error().file == path);
        }
    }
}

TEST(Mat, FlippedBitsEndInValuesOrAComplaint)
{
    const ScratchFolder folder;
    std::mt19937_64 generator(5);
    std::size_t refused = 0;
    for (const char* name : {"v5-plain.mat", "v5-deflated.mat", "v5-many.mat"}) {
        const std::string whole = content_of(witness(name));
        for (int round = 0; round < 200; ++round) {
            std::string damaged = whole;
            // In the headers above all.
            for (int flips = 1 + round % 4; flips > 0; --flips) {
                char& byte = damaged[128 + generator() %
                                               std::min<std::size_t>(whole.size() - 128, round % 2 == 0 ? 400 : 20000)];
                byte = static_cast<char>(byte ^ (1 << generator() % 8));
            }
            std::filesystem::remove(folder.path("flipped.mat"));
            refused += reads_everything(folder.file("flipped.mat", damaged)) ? 0 : 1;
        }
    }
    EXPECT_GT(refused, 150U);
}

// Elements of version 5, in either order of bytes.
class Elements {
public:
    explicit Elements(bool big = false) : big_(big) {}

    std::string header() const
    {
        std::string head = "MATLAB 5.0 MAT-file, made for a test";
        head.resize(124, ' ');
        return head + number<std::uint16_t>(0x0100) + (big_ ? "MI" : "IM");
    }
    template <class T>
    std::string number(T value) const
    {
        std::string bytes(sizeof value, '\0');
        std::memcpy(bytes.data(), &value, sizeof value);
        if (big_) std::ranges::reverse(bytes);
        return bytes;
    }
    std::string element(std::uint32_t type, std::string data) const
    {
        const auto size = static_cast<std::uint32_t>(data.size());
        data.resize((data.size() + 7) / 8 * 8);
        return number(type) + number(size) + data;
    }
    std::string array(std::uint32_t flags, const std::vector<std::int32_t>& size, const std::string& name,
                      const std::string& rest) const
    {
        std::string sizes;
        for (const std::int32_t extent : size) sizes += number(extent);
        return element(14, element(6, number(flags) + number(std::uint32_t{0})) + element(5, sizes) + element(1, name) +
                               rest);
    }
    template <class T>
    std::string numbers(std::uint32_t type, const std::vector<T>& values) const
    {
        std::string data;
        for (const T value : values) data += number(value);
        return element(type, data);
    }

private:
    bool big_;
};

TEST(Mat, EitherOrderOfBytesAndNumbersStoredShorterThanTheirClass)
{
    const ScratchFolder folder;
    for (const bool big : {false, true}) {
        const Elements e(big);
        // Class double (6), stored as int16 (3), as MATLAB does where it loses nothing; fs as uint8 (2).
        const std::string bytes =
            e.header() +
            e.array(6, {20, 1}, "a", e.numbers<std::int16_t>(3, {-32768, 5, 32767, 0,  1,  2,  3,  4,  5,  6,
                                                                 7,      8, 9,     10, 11, 12, 13, 14, 15, 16})) +
            e.array(6, {1, 1}, "fs", e.numbers<std::uint8_t>(2, {200}));
        auto reader = open_recording(folder.file("a.bin", bytes));
        ASSERT_TRUE(reader) << to_text(reader.error());
        EXPECT_EQ((*reader)->info().rate_hz, 200.0);
        EXPECT_FALSE((*reader)->info().integer_pcm);
        EXPECT_EQ(read_all(**reader).value(),
                  (Values{-32768, 5, 32767, 0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16}));
    }
}

TEST(Mat, ClaimsThatCannotBeRightAreRefused)
{
    const ScratchFolder folder;
    const Elements e;
    const auto said = [&](const std::string& variables) {
        return complaint(folder.file("a.mat", e.header() + variables), {.rate_hz = 100.0});
    };
    const std::string few = e.numbers<double>(9, {1, 2, 3, 4});
    EXPECT_EQ(said(e.array(6, {4, 1}, "a", few)), "no complaint");
    EXPECT_THAT(said(e.array(6, {5, 1}, "a", few)),
                HasSubstr("the variable a cannot be read at byte 128: 5 numbers are promised, there are 4"));
    EXPECT_THAT(said(e.array(6, {2147483647, 2147483647}, "a", few)), HasSubstr("are promised"));
    EXPECT_THAT(said(e.array(6, {2147483647, 2147483647, 2147483647}, "a", few)),
                HasSubstr("the size of an array cannot be right"));
    EXPECT_THAT(said(e.array(6, {-4, 1}, "a", few)), HasSubstr("is negative"));
    EXPECT_THAT(said(e.array(1, {2000000000, 1}, "a", e.array(6, {4, 1}, "", few))),
                HasSubstr("fewer cells than its size"));
    EXPECT_THAT(said(e.array(6, {300, 300}, "a", e.numbers(9, Values(90000, 1.0)))),
                HasSubstr("a has 300 channels; 1 to 256"));
    EXPECT_THAT(said(e.number(std::uint32_t{14}) + e.number(std::uint32_t{4000000000U})),
                HasSubstr("the variable at byte 128 promises 4000000000 bytes, the file holds 0"));
    std::string nested = e.array(6, {4, 1}, "", few);
    for (int depth = 0; depth < 5000; ++depth) nested = e.array(1, {1, 1}, depth == 4999 ? "deep" : "", nested);
    EXPECT_THAT(said(nested), HasSubstr("fields lie more than 16 deep"));
    std::string many;
    for (int i = 0; i < 21000; ++i) many += e.element(14, "");
    EXPECT_THAT(said(e.array(1, {21000, 1}, "many", many)), HasSubstr("more than 20000 variables"));
    // Version 4 has no such header; nor has anything else.
    EXPECT_THAT(complaint(folder.file("a.mat", std::string("\0\0\0\0\2\0\0\0", 8) + std::string(200, '\1'))),
                HasSubstr("the format is not known"));
}

} // namespace
} // namespace becalm::io
