// Universal files. They are put together here column by column from the definition (Universal File Formats, dataset 58
// / 58b, SDRC; definition published by the University of Cincinnati Structural Dynamics Research Laboratory); expected
// values are computed from the definition: what was written is what must be read.
#include <array>
#include <bit>
#include <cmath>
#include <cstring>
#include <random>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <rapidcheck/gtest.h>

#include "src/io/recording_reader.h"
#include "src/io/uff_writer.h"

#include "tests/src/recording_checks.h"
#include "tests/src/scratch_folder.h"

namespace becalm::io {
namespace {

using testing::AllOf;
using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::StartsWith;
using tests::complaint_about;
using tests::ScratchFolder;
using tests::Values;
using tests::whole_recording;

struct Written {
    std::array<std::string, 5> id{"Deck 5, cabin 201", "NONE", "17-MAY-31 06:30:05", "NONE", "NONE"};
    int type = 1;
    std::string entity = "NONE";
    int node = 12, direction = 3;
    int data = 2; // 2, 4: real, single and double
    bool even = true;
    double first = 0.0, increment = 1.0 / 1024.0;
    int abscissa_type = 17, ordinate_type = 12;
    std::string abscissa_unit = "s", unit = "m/s2";
    Values values = {};
    Values times = {};           // where uneven
    int count = -1;              // stated; -1: the true one
    int order = 1, floats = 2;   // of 58b
    std::int64_t bytes = -1;     // stated in 58b; -1: the true count
    bool single_abscissa = true; // in 58b
    std::string end = "\n";

    int stated() const { return count >= 0 ? count : static_cast<int>(values.size()); }

    // FORTRAN's E format: a mantissa below 1 with as many digits.
    static std::string e(double value, int width, int digits)
    {
        if (!std::isfinite(value)) return fmt::format("{:>{}}", value, width);
        int exponent = 0;
        if (value != 0.0) exponent = static_cast<int>(std::floor(std::log10(std::abs(value)))) + 1;
        std::string mantissa = fmt::format("{:.{}f}", value / std::pow(10.0, exponent), digits);
        if (mantissa.find("1.") == (mantissa[0] == '-' ? 1U : 0U)) // rounded up
            mantissa = fmt::format("{:.{}f}", value / std::pow(10.0, ++exponent), digits);
        const std::string text = fmt::format("{}E{}{:02}", mantissa, exponent < 0 ? '-' : '+', std::abs(exponent));
        return fmt::format("{:>{}}", text, width);
    }

    std::string head() const
    {
        std::string text;
        for (const std::string& line : id) text += line + end;
        text += fmt::format("{:5}{:10}{:5}{:10} {:10}{:10}{:4} {:10}{:10}{:4}", type, 1, 0, 0, entity, node, direction,
                            "NONE", 0, 0) +
                end;
        text += fmt::format("{:10}{:10}{:10}", data, stated(), even ? 1 : 0) + e(first, 13, 5) + e(increment, 13, 5) +
                e(0.0, 13, 5) + end;
        const auto axis = [&](int kind, const std::string& label, const std::string& unit_label) {
            text += fmt::format("{:10}{:5}{:5}{:5} {:20} {:20}", kind, 0, 0, 0, label, unit_label) + end;
        };
        axis(abscissa_type, "Time", abscissa_unit);
        axis(ordinate_type, "NONE", unit);
        axis(0, "NONE", "NONE");
        axis(0, "NONE", "NONE");
        return text;
    }

    std::string text() const
    {
        std::string all = "    -1" + end + "    58" + end + head();
        const bool twice = data == 4;
        const std::size_t a_row = even ? (twice ? 4 : 6) : (twice ? 2 : 3);
        for (std::size_t i = 0; i < values.size(); ++i) {
            if (!even) all += e(times[i], 13, 5);
            all += twice ? e(values[i], 20, 12) : e(values[i], 13, 5);
            if (i % a_row + 1 == a_row || i + 1 == values.size()) all += end;
        }
        return all + "    -1" + end;
    }

    template <class T>
    static void add(std::string& bytes, T value, int byte_order)
    {
        auto copy = std::bit_cast<std::array<char, sizeof(T)>>(value);
        if (byte_order == 2) std::reverse(copy.begin(), copy.end()); // the test's machine is little-endian
        bytes.append(copy.data(), copy.size());
    }

    std::string binary() const
    {
        std::string block;
        for (std::size_t i = 0; i < values.size(); ++i) {
            if (!even && single_abscissa) add(block, static_cast<float>(times[i]), order);
            if (!even && !single_abscissa) add(block, times[i], order);
            if (data == 4)
                add(block, values[i], order);
            else
                add(block, static_cast<float>(values[i]), order);
        }
        const auto stated_bytes = bytes >= 0 ? bytes : static_cast<std::int64_t>(block.size());
        return "    -1" + end +
               fmt::format("    58b{:6}{:6}{:12}{:12}{:6}{:6}{:12}{:12}", order, floats, 11, stated_bytes, 0, 0, 0, 0) +
               end + head() + block + end + "    -1" + end;
    }
};

Values noise(std::size_t count, unsigned seed = 1)
{
    std::mt19937 generator(seed);
    std::normal_distribution<double> normal(0.0, 0.3);
    Values values(count);
    for (double& value : values) value = normal(generator);
    return values;
}

static_assert(std::endian::native == std::endian::little);

TEST(Uff, TextReadsBackToThePrintedDigits)
{
    const ScratchFolder folder;
    for (const int data : {2, 4})
        for (const bool even : {true, false})
            for (const char* end : {"\n", "\r\n"})
                for (const std::size_t count : {1U, 2U, 6U, 7U, 2500U}) {
                    if (!even && count == 1) continue; // has no increment
                    Written w{.data = data, .even = even, .values = noise(count), .end = end};
                    w.increment = 0.001;
                    for (std::size_t i = 0; i < count; ++i) w.times.push_back(0.001 * static_cast<double>(i));
                    const auto read = whole_recording(folder.file("a.bin", w.text()));
                    ASSERT_EQ(read.values.size(), count);
                    EXPECT_NEAR(read.info.rate_hz, 1000.0, even ? 0.0 : 1e-9);
                    // Half a unit of the last digit: 5 or 12 behind the point, below 10.
                    const double tolerance = data == 2 ? 0.5e-5 : 0.5e-12;
                    for (std::size_t i = 0; i < count; ++i)
                        ASSERT_NEAR(read.values[i], w.values[i], tolerance * 1.0001) << i;
                    EXPECT_EQ(read.info.format, std::string("UFF dataset 58, rows of ") + (data == 2 ? "6E13.5"
                                                                                           : even    ? "4E20.12"
                                                                                                  : "2(E13.5,E20.12)"));
                    EXPECT_FALSE(read.info.integer_pcm);
                }
}

TEST(Uff, BinaryReadsBackExactly)
{
    const ScratchFolder folder;
    for (const int data : {2, 4})
        for (const bool even : {true, false})
            for (const bool single : {true, false})
                for (const int order : {1, 2})
                    for (const char* end : {"\n", "\r\n"}) {
                        Written w{.data = data,
                                  .even = even,
                                  .values = noise(3001),
                                  .order = order,
                                  .single_abscissa = single,
                                  .end = end};
                        for (std::size_t i = 0; i < w.values.size(); ++i) {
                            w.times.push_back(static_cast<double>(i) / 1024.0);
                            if (data == 2) w.values[i] = static_cast<double>(static_cast<float>(w.values[i]));
                        }
                        const auto read = whole_recording(folder.file("a", w.binary()));
                        EXPECT_EQ(read.values, w.values);
                        EXPECT_EQ(read.info.rate_hz, 1024.0);
                        EXPECT_EQ(read.info.format,
                                  data == 2 ? "UFF dataset 58b, 32-bit float" : "UFF dataset 58b, 64-bit float");
                    }
}

TEST(Uff, FactsOfTheChannelAreTold)
{
    const ScratchFolder folder;
    Written w{.values = noise(100)};
    auto info = whole_recording(folder.file("a", w.text())).info;
    EXPECT_THAT(info.names, ElementsAre("12 +Z"));
    ASSERT_EQ(info.facts.size(), 1U);
    EXPECT_EQ(info.facts[0].direction, "12 +Z");
    EXPECT_EQ(info.facts[0].unit, "m/s2");
    EXPECT_EQ(info.unit, "m/s2");
    EXPECT_EQ(info.start, "2031-05-17T06:30:05");
    EXPECT_EQ(info.rate_hz, 1024.0); // of an increment cut to 0.97656E-03
    EXPECT_THAT(info.remarks, Contains(HasSubstr("taken for that of 1024 Hz")));

    w.node = 7, w.direction = -4, w.entity = "SEAT", w.id[2] = "NONE", w.increment = 0.001;
    info = whole_recording(folder.file("a", w.text())).info;
    EXPECT_THAT(info.names, ElementsAre("SEAT 7 -RX"));
    EXPECT_EQ(info.facts[0].direction, "7 -RX");
    EXPECT_EQ(info.start, "");
    EXPECT_THAT(info.remarks, testing::IsEmpty());

    w.id[0] = "Gr\xFC\xDF"
              "e, \x01 deck"; // Latin-1
    w.node = w.direction = 0, w.entity = "NONE";
    EXPECT_THAT(whole_recording(folder.file("a", w.text())).info.names, ElementsAre("Grüße,   deck"));

    w.unit = "NONE";
    EXPECT_THAT(whole_recording(folder.file("a", w.text())).info.remarks,
                Contains("Channel 1 is an acceleration whose unit is not stated."));
    w.unit = "mm/s";
    EXPECT_THAT(whole_recording(folder.file("a", w.text())).info.remarks,
                Contains("Channel 1 is called an acceleration and has the unit mm/s; the unit is kept."));
}

// Records of dataset 164: FORMAT(I10,20A1,I10), then FORMAT(3D25.17); "to convert to SI divide by the factor".
TEST(Uff, UnitsOfDataset164AreHonoured)
{
    const ScratchFolder folder;
    const auto units = [](const char* words, const char* length) {
        return fmt::format("    -1\n   164\n{:10}{:20}{:10}\n{:>25}{:>25}{:>25}\n{:>25}\n    -1\n", 1, words, 2, length,
                           "1.00000000000000000D+00", "1.00000000000000000D+00", "2.73149999999999977D+02");
    };
    const auto facts = [&](const char* length, int type, const char* unit) {
        Written w{.ordinate_type = type, .unit = unit, .values = noise(10)};
        return whole_recording(folder.file("a", units("Words", length) + w.text())).info;
    };
    auto info = facts("1.00000000000000000D+03", 12, "NONE");
    EXPECT_EQ(info.facts[0].unit, "mm/s2");
    EXPECT_EQ(info.facts[0].scale, std::nullopt);
    EXPECT_EQ(info.unit, "mm/s2");
    EXPECT_EQ(facts("1.00000000000000000D+00", 11, "NONE").unit, "m/s");
    EXPECT_EQ(facts("1.00000000000000000D+06", 8, "NONE").unit, "um");
    info = facts("3.28083989501312300D+00", 12, "NONE"); // feet
    EXPECT_EQ(info.facts[0].unit, "m/s2");
    EXPECT_NEAR(info.facts[0].scale.value(), 0.3048, 1e-12); // m in a foot, exact by definition
    info = facts("1.00000000000000000D+03", 12, "m/s^2");
    EXPECT_EQ(info.unit, "m/s^2");
    EXPECT_THAT(info.remarks, Contains(HasSubstr("has the unit m/s^2, while dataset 164 (Words) states 1000 units")));
    Written w{.values = noise(10)};
    EXPECT_THAT(complaint_about(folder.file("a", units("x", "0.00000000000000000D+00") + w.text())),
                HasSubstr("a:4: the factor of length of dataset 164"));
}

TEST(Uff, EqualTimesMakeChannelsAndOthersMakeParts)
{
    const ScratchFolder folder;
    const auto at = [](int node, int direction, std::size_t count, unsigned seed) {
        return Written{.node = node, .direction = direction, .increment = 0.001, .values = noise(count, seed)};
    };
    const Written x = at(1, 1, 500, 1), y = at(1, 2, 500, 2), z = at(1, 3, 500, 3), other = at(2, 3, 400, 4);
    const std::string foreign = "    -1\n   151\nmodel\nNONE\n    -1\n    -1\n    15\n         1         0\n    -1\n";

    auto read = whole_recording(folder.file("a", foreign + x.text() + y.binary() + z.text()));
    EXPECT_EQ(read.info.channels, 3);
    EXPECT_EQ(read.info.frames, 500);
    EXPECT_THAT(read.info.names, ElementsAre("1 +X", "1 +Y", "1 +Z"));
    for (std::size_t i = 0; i < 500; ++i) {
        ASSERT_NEAR(read.values[3 * i], x.values[i], 1e-5);
        ASSERT_EQ(read.values[3 * i + 1], static_cast<double>(static_cast<float>(y.values[i])));
        ASSERT_NEAR(read.values[3 * i + 2], z.values[i], 1e-5);
    }

    // The same node and direction again is another run, and another length another recording.
    const std::string several =
        folder.file("several", x.text() + y.text() + other.text() + at(1, 1, 500, 9).text() + at(1, 2, 500, 9).text());
    const auto parts = parts_of(several);
    ASSERT_TRUE(parts);
    ASSERT_EQ(parts->size(), 3U);
    EXPECT_EQ((*parts)[0].name, "1");
    EXPECT_EQ((*parts)[0].says, "2 channels, 1000 Hz, 0.5 s: Deck 5, cabin 201");
    EXPECT_EQ((*parts)[1].says, "1 channel, 1000 Hz, 0.4 s: Deck 5, cabin 201");
    EXPECT_THAT(complaint_about(several),
                AllOf(StartsWith("several: it holds 3 recordings: 1 (2 channels, 1000 Hz, 0.5 s"),
                      HasSubstr("name one: several#1")));
    EXPECT_EQ(whole_recording(several + "#2").values.size(), 400U);
    EXPECT_EQ(whole_recording(several + "#3").info.channels, 2);
    EXPECT_THAT(complaint_about(several + "#4"), HasSubstr("it holds no recording \"4\""));
}

TEST(Uff, OtherFunctionsAreListedAndDoNotStandInTheWay)
{
    const ScratchFolder folder;
    Written time{.increment = 0.001, .values = noise(100)}, response{.type = 4, .data = 5, .values = noise(20)},
        complex{.data = 5, .values = noise(20)}, frequency{.abscissa_type = 18, .values = noise(20)},
        minutes{.abscissa_unit = "min", .values = noise(20)};
    const std::string path = folder.file("a", response.text() + time.text() + response.binary() + complex.text() +
                                                  frequency.text() + minutes.text());
    const auto read = whole_recording(path);
    EXPECT_EQ(read.values.size(), 100U);
    EXPECT_THAT(read.info.remarks,
                Contains("2 functions of the file cannot be read: frequency response function, which is no time "
                         "response."));
    const auto parts = parts_of(path);
    ASSERT_TRUE(parts);
    ASSERT_EQ(parts->size(), 5U);
    EXPECT_EQ((*parts)[0].says, "cannot be read: frequency response function, which is no time response (2 functions)");
    EXPECT_EQ((*parts)[2].says, "cannot be read: its values are complex");
    EXPECT_EQ((*parts)[3].says, "cannot be read: its abscissa is a frequency");
    EXPECT_EQ((*parts)[4].says, "cannot be read: its abscissa is in \"min\"; seconds are read");
    EXPECT_EQ(complaint_about(path + "#1"),
              "a:2: frequency response function, which is no time response; export the time responses");
    EXPECT_EQ(complaint_about(folder.file("b", response.text())),
              "b:2: frequency response function, which is no time response; export the time responses");
    EXPECT_EQ(complaint_about(folder.file("c", "    -1\n   151\nmodel\n    -1\n")),
              "c: it holds no function (dataset 58 or 58b); export the time responses");
    time.floats = 1;
    EXPECT_THAT(complaint_about(folder.file("d", time.binary())), HasSubstr("not in the format of IEEE 754"));
    time.floats = 2, time.order = 3;
    EXPECT_THAT(complaint_about(folder.file("d", time.binary())), HasSubstr("its order of bytes is 3"));
}

TEST(Uff, UnevenTimesAreRefused)
{
    const ScratchFolder folder;
    Written w{.even = false, .values = noise(200)};
    for (std::size_t i = 0; i < 200; ++i) w.times.push_back(0.01 * static_cast<double>(i < 100 ? i : i + 1));
    for (const std::string& file : {w.text(), w.binary()})
        EXPECT_THAT(complaint_about(folder.file("a", file)),
                    AllOf(HasSubstr("its abscissa is uneven: value 101 is 0.02 s behind the one before"),
                          HasSubstr("split the recording there, or resample it to an even rate")));
    // 1 kHz in six digits: beyond 100 s a lost sample would not show.
    w.values = noise(2000), w.times.clear();
    for (std::size_t i = 0; i < 2000; ++i) w.times.push_back(1000.0 + 0.001 * static_cast<double>(i));
    EXPECT_THAT(complaint_about(folder.file("a", w.text())), HasSubstr("its abscissa stands still at 1000"));
    w.single_abscissa = false;
    EXPECT_EQ(complaint_about(folder.file("a", w.binary())), "no complaint");
}

TEST(Uff, NumbersAsFortranWritesThem)
{
    const ScratchFolder folder;
    Written w{.values = {1, 2, 3, 4, 5, 6, 7}};
    std::string text = w.text();
    const auto row = text.find(w.e(1, 13, 5));
    text.replace(row, 78,
                 fmt::format("{:>13}{:>13}{:>13}{:>13}{:>13}{:>13}", "1.00000D-03", "-0.12500+101", "+1.25000e+02",
                             "-0.1250000E+1", "NaN", ".5"));
    const Values values = whole_recording(folder.file("a", text)).values;
    ASSERT_EQ(values.size(), 7U);
    EXPECT_EQ(values[0], 1e-3);
    EXPECT_EQ(values[1], -0.125e101);
    EXPECT_EQ(values[2], 125.0);
    EXPECT_EQ(values[3], -1.25);
    EXPECT_TRUE(std::isnan(values[4]));
    EXPECT_EQ(values[5], 0.5);
    EXPECT_EQ(values[6], 7.0);
    for (const char* bad : {"1", "abc", "", "1.0x", "1.0E+999", "--1.0"}) {
        text = w.text();
        text.replace(row + 13, 13, fmt::format("{:>13}", bad));
        EXPECT_THAT(
            complaint_about(folder.file("a", text)),
            HasSubstr(fmt::format("a:14:14: \"{}\" stands where a number of 13 columns with a decimal point", bad)));
    }
}

TEST(Uff, CountsThatCannotBeRightAreRefused)
{
    const ScratchFolder folder;
    const auto about = [&](const Written& w, bool binary = false) {
        return complaint_about(folder.file("a", binary ? w.binary() : w.text()));
    };
    EXPECT_EQ(about({.values = noise(20)}), "no complaint");
    EXPECT_EQ(
        about({.values = noise(20), .count = 30}),
        "a:17: this row of values ends in column 26; by record 7 of dataset 58 (30 values, rows of 6E13.5) it ends "
        "in column 78; export it again");
    EXPECT_EQ(about({.values = noise(18), .count = 30}),
              "a:17: record 7 of dataset 58 promises 30 values, which are 5 rows of 6E13.5; 3 stand here; export it "
              "again, or repair the count");
    EXPECT_THAT(about({.values = noise(20), .count = 12}), HasSubstr("a:16: record 7 of dataset 58 promises 12"));
    EXPECT_THAT(about({.values = noise(20), .count = 21}),
                HasSubstr("a:17: this row of values ends in column 26; by record 7 of dataset 58 (21 values, rows of "
                          "6E13.5) it ends in column 39"));
    EXPECT_THAT(about({.values = noise(18), .count = 2000000000}), HasSubstr("promises 2000000000 values"));
    EXPECT_THAT(about({.values = noise(20), .count = 0}), HasSubstr("it states 0 values"));
    EXPECT_THAT(about({.increment = 0.0, .values = noise(20)}), HasSubstr("its abscissa increment is 0 s"));
    EXPECT_THAT(about({.increment = -1.0, .values = noise(20)}), HasSubstr("its abscissa increment is -1 s"));
    EXPECT_THAT(about({.increment = 1e-40, .values = noise(20)}), HasSubstr("its abscissa increment is 1e-40 s"));
    EXPECT_THAT(about({.data = 3, .values = noise(20)}), HasSubstr("its data are of type 3"));
    EXPECT_THAT(about({.values = noise(20), .count = 2000000000}, true),
                HasSubstr("promises 2000000000 values of 4 bytes, its header 80 bytes"));
    EXPECT_THAT(about({.values = noise(20), .bytes = 999999999999}, true), HasSubstr("its header 999999999999 bytes"));
    EXPECT_THAT(about({.values = noise(20), .count = 2000000, .bytes = 8000000}, true),
                HasSubstr("promises 8000000 bytes, the file holds"));
    // A row of another length, and of another end.
    Written w{.values = noise(20)};
    std::string text = w.text();
    text.insert(text.find('\n', text.find(Written::e(w.values[6], 13, 5))), " ");
    EXPECT_THAT(complaint_about(folder.file("a", text)), HasSubstr("a:16: the row before this one is longer"));
    text = w.text() + "a letter\n";
    EXPECT_THAT(complaint_about(folder.file("a", text)), HasSubstr("a:19: a line \"    -1\" belongs here"));
    text = w.text();
    text.replace(text.find("         2        20"), 10, "       two");
    EXPECT_THAT(complaint_about(folder.file("a", text)),
                HasSubstr("a:9: record 7 of dataset 58: type, count or spacing of the data cannot be read"));
}

TEST(Uff, ManyChannelsAreRefused)
{
    const ScratchFolder folder;
    std::string text;
    for (int node = 1; node <= 257; ++node) text += Written{.node = node, .values = {1.0}}.text();
    EXPECT_THAT(complaint_about(folder.file("a", text)), HasSubstr("it has 257 channels; 1 to 256 can be read"));
}

TEST(Uff, AColumnOfNumbersIsNoUniversalFile)
{
    const ScratchFolder folder;
    EXPECT_THAT(complaint_about(folder.file("a.csv", "    -1\n     3\n     5\n    -1\n")),
                HasSubstr("the file states no rate"));
    EXPECT_THAT(parts_of(folder.path("a.csv")).value(), testing::IsEmpty());
}

TEST(Uff, EveryCutIsNoticed)
{
    Written x{.direction = 1, .values = noise(20)}, y{.direction = 2, .values = noise(20)};
    for (const std::string& whole : {x.text() + y.text(), x.binary() + y.binary()}) {
        const std::size_t first = whole.find("    -1", 20); // the end of the first dataset
        tests::every_cut_is_noticed(whole, [&](std::size_t length) {
            // Between the datasets (a line of spaces is none): a channel fewer.
            return (length >= first + 6 && length <= first + 11) || length + 1 == whole.size();
        });
    }
}

TEST(Uff, AnyBitMayFlip)
{
    Written x{.direction = 1, .values = noise(20)}, y{.direction = 2, .data = 4, .even = false, .values = noise(20)};
    for (int i = 0; i < 20; ++i) y.times.push_back(0.1 * i);
    tests::any_bit_may_flip(x.text() + y.text() + x.binary() + y.binary(), 500, 7);
}

TEST(UffWriter, ReadsBackToTheLastBit)
{
    const ScratchFolder folder;
    for (const double rate : {2048.0, 1000.0, 3.0, 199.252682}) {
        const std::string path = folder.path(fmt::format("{}.uff", rate));
        const Values x = noise(3001, 1), z = noise(3001, 2);
        auto writer = UffWriter::create(path, {.rate_hz = rate,
                                               .frames = 3001,
                                               .title = "recording 7",
                                               .start = "2031-05-17T06:30:05.25Z",
                                               .channels = {{.name = "Ger\xC3\xA4t", .node = 1, .axis = "x"},
                                                            {.name = "Sitz", .node = 3, .axis = "z"}}});
        ASSERT_TRUE(writer) << to_text(writer.error());
        for (const Values* values : {&x, &z}) {
            writer->add(std::span(*values).first(1000));
            writer->add(std::span(*values).subspan(1000));
        }
        ASSERT_TRUE(writer->finish());
        const auto read = whole_recording(path);
        EXPECT_EQ(read.channel(0), x);
        EXPECT_EQ(read.channel(1), z);
        EXPECT_EQ(read.info.rate_hz, rate_kept_by_uff(rate));
        EXPECT_NEAR(read.info.rate_hz, rate, rate == std::round(rate) ? 0.0 : rate * 5e-7); // seven digits
        EXPECT_EQ(read.info.start, "2031-05-17T06:30:05");
        EXPECT_EQ(read.info.unit, "m/s2");
        EXPECT_EQ(read.info.facts[0].direction, "1 +X");
        EXPECT_THAT(read.info.names, ElementsAre("Ger\xC3\xA4t (1 +X)", "Sitz (3 +Z)"));
    }
}

TEST(UffWriter, WritesWholeFilesOnly)
{
    const ScratchFolder folder;
    const UffLayout layout{.rate_hz = 100.0, .frames = 10, .channels = {{}}};
    const Values values(20, 1.0);
    for (const std::size_t count : {std::size_t{9}, std::size_t{11}}) {
        auto writer = UffWriter::create(folder.path("a.uff"), layout);
        ASSERT_TRUE(writer);
        writer->add(std::span(values).first(count));
        const auto finished = writer->finish();
        ASSERT_FALSE(finished);
        EXPECT_THAT(finished.error().what, HasSubstr("values than were promised"));
    }
    EXPECT_EQ(folder.entries(), 0U);
    folder.file("b.uff", "old");
    const auto existing = UffWriter::create(folder.path("b.uff"), layout);
    ASSERT_FALSE(existing);
    EXPECT_EQ(existing.error().what, "it exists already");
    EXPECT_FALSE(UffWriter::create(folder.path("c.uff"), {.rate_hz = 100.0, .frames = 10}));
    EXPECT_FALSE(UffWriter::create(folder.path("c.uff"), {.rate_hz = 100.0, .channels = {{}}}));
}

// Whatever lines stand in whatever order, reading them ends.
RC_GTEST_PROP(UffProperties, AnyLinesEndInValuesOrAComplaint, ())
{
    const auto lines = *rc::gen::container<std::vector<std::string>>(rc::gen::element<std::string>(
        "    -1", "    58", "    58b     1     2          11          24     0     0           0           0", "   164",
        "NONE", "    1         1    0         0 NONE              12   3 NONE               0   0",
        "         2         6         1  0.00000E+00  1.00000E-03  0.00000E+00",
        "        17    0    0    0 Time                 s                   ", " 0.10000E+01 0.10000E+01", ""));
    std::string content = "    -1\n    58\n";
    for (const auto& line : lines) content += line + "\n";
    const ScratchFolder folder;
    tests::everything_reads(folder.file("a", content));
}

} // namespace
} // namespace becalm::io
