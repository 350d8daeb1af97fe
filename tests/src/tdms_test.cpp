// TDMS files, built here byte by byte from the open definition ("TDMS File Format Internal Structure"). Expected values
// are computed from the definition: what was written is what must be read.
#include <cstdint>
#include <cstring>
#include <random>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <rapidcheck/gtest.h>

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

// Bits of the table of contents.
constexpr std::uint32_t metadata_bit = 2, new_list_bit = 4, raw_bit = 8, interleaved_bit = 32, big_bit = 64,
                        daqmx_bit = 128;
constexpr std::uint32_t int16_type = 2, uint8_type = 5, single_type = 9, double_type = 10, text_type = 0x20,
                        time_type = 0x44;
constexpr std::uint32_t no_raw = 0xFFFFFFFF, as_before = 0, indexed = 20;

class Bytes {
public:
    explicit Bytes(bool big = false) : big_(big) {}

    template <class T>
    std::string number(T value) const
    {
        std::string bytes(sizeof value, '\0');
        std::memcpy(bytes.data(), &value, sizeof value);
        if (big_) std::ranges::reverse(bytes);
        return bytes;
    }
    std::string text(const std::string& words) const
    {
        return number(static_cast<std::uint32_t>(words.size())) + words;
    }
    template <class T>
    std::string property(const std::string& name, std::uint32_t type, T value) const
    {
        return text(name) + number(type) + number(value);
    }
    std::string property(const std::string& name, const std::string& value) const
    {
        return text(name) + number(text_type) + text(value);
    }
    std::string moment(const std::string& name, std::int64_t seconds, std::uint64_t fraction) const
    {
        return text(name) + number(time_type) +
               (big_ ? number(seconds) + number(fraction) : number(fraction) + number(seconds));
    }
    std::string index(std::uint32_t type, std::uint64_t values) const
    {
        return number(indexed) + number(type) + number(std::uint32_t{1}) + number(values);
    }
    std::string object(const std::string& path, const std::string& index,
                       const std::vector<std::string>& properties = {}) const
    {
        std::string bytes = text(path) + index + number(static_cast<std::uint32_t>(properties.size()));
        for (const std::string& property : properties) bytes += property;
        return bytes;
    }
    std::string metadata(const std::vector<std::string>& objects) const
    {
        std::string bytes = number(static_cast<std::uint32_t>(objects.size()));
        for (const std::string& object : objects) bytes += object;
        return bytes;
    }
    template <class T>
    std::string numbers(const std::vector<T>& values) const
    {
        std::string bytes;
        for (const T value : values) bytes += number(value);
        return bytes;
    }
    // `contents` without the bits that follow from the rest.
    std::string segment(std::uint32_t contents, const std::string& metadata, const std::string& raw,
                        bool open = false) const
    {
        const Bytes little;
        contents |= (metadata.empty() ? 0 : metadata_bit) | (raw.empty() ? 0 : raw_bit) | (big_ ? big_bit : 0);
        return "TDSm" + little.number(contents) + number(std::uint32_t{4713}) +
               number(open ? ~std::uint64_t{0} : std::uint64_t{metadata.size() + raw.size()}) +
               number(std::uint64_t{metadata.size()}) + metadata + raw;
    }

private:
    bool big_;
};

std::vector<std::string> at_1000_hz(const Bytes& b) { return {b.property("wf_increment", double_type, 0.001)}; }

TEST(Tdms, ContiguousChannelsOfAGroupAreOneRecordingWhateverTheOrderOfBytes)
{
    const ScratchFolder folder;
    for (const bool big : {false, true}) {
        const Bytes b(big);
        // 2031-05-10T06:30:05.25Z: 4,019,005,805.25 s after 1904-01-01, computed with Python's datetime.
        const auto properties = [&](const std::string& serial) {
            return std::vector{b.property("wf_increment", double_type, 1.0 / 3.0 / 1000.0),
                               b.moment("wf_start_time", 4'019'005'805, std::uint64_t{1} << 62),
                               b.property("unit_string", "m/s^2"),
                               b.property("Serial Number", serial),
                               b.property("Sensitivity", double_type, 10.25),
                               b.property("TEDS", "11 00 48 40 04 39 30 00")};
        };
        const std::string bytes =
            b.segment(new_list_bit,
                      b.metadata({b.object("/", b.number(no_raw), {b.property("name", "deck")}),
                                  b.object("/'run'", b.number(no_raw)),
                                  b.object("/'run'/'x'", b.index(double_type, 2), properties("17")),
                                  b.object("/'run'/'it''s y'", b.index(double_type, 2), properties("18"))}),
                      b.numbers<double>({1.5, 2.5, -1.0, -2.0, 3.5, 4.5, -3.0, -4.0})); // two chunks
        auto reader = open_recording(folder.file("a.bin", bytes));
        ASSERT_TRUE(reader) << to_text(reader.error());
        const RecordingInfo& info = (*reader)->info();
        EXPECT_EQ(info.format, "TDMS, 64-bit float");
        EXPECT_EQ(info.rate_hz, 3000.0);
        EXPECT_EQ(info.frames, 4);
        EXPECT_FALSE(info.integer_pcm);
        EXPECT_THAT(info.names, ElementsAre("x", "it's y"));
        EXPECT_EQ(info.unit, "m/s^2");
        EXPECT_EQ(info.start, "2031-05-10T06:30:05.25Z");
        EXPECT_EQ(info.facts.at(1).serial, "18") << "the file's own words come before the data sheet's";
        EXPECT_EQ(info.facts.at(1).sensor, "manufacturer 17, model 288 B1"); // as in tests/src/documents_test.cpp
        EXPECT_EQ(info.facts.at(1).sensitivity, "10.25");
        EXPECT_EQ(read_all(**reader).value(), (Values{1.5, -1.0, 2.5, -2.0, 3.5, -3.0, 4.5, -4.0}));
        ASSERT_TRUE((*reader)->seek(3));
        EXPECT_EQ(read_all(**reader).value(), (Values{4.5, -4.0}));
        EXPECT_FALSE((*reader)->seek(5));
    }
}

TEST(Tdms, InterleavedIntegersAndSegmentsThatSayOnlyWhatIsNew)
{
    const ScratchFolder folder;
    const Bytes b;
    const std::string bytes =
        b.segment(new_list_bit | interleaved_bit,
                  b.metadata({b.object("/'g'/'a'", b.index(int16_type, 2), at_1000_hz(b)),
                              b.object("/'g'/'b'", b.index(int16_type, 2), at_1000_hz(b))}),
                  b.numbers<std::int16_t>({1, -1, 2, -2, 3, -3})) +
        b.segment(interleaved_bit, "", b.numbers<std::int16_t>({4, -4})) + // nothing new
        b.segment(
            0,
            b.metadata({b.object("/'g'/'b'", b.index(int16_type, 1)),                               // chunks of 2 and 1
                        b.object("/'g'/'c'", b.index(text_type, 1) + b.number(std::uint64_t{3}))}), // 3 bytes of text
            b.numbers<std::int16_t>({5, 6, -5}) + "abc" + b.numbers<std::int16_t>({7, 8, -6}) + "def") +
        b.segment(new_list_bit, b.metadata({b.object("/'g'/'b'", b.number(as_before))}),
                  b.numbers<std::int16_t>({-7, -8}));
    auto reader = open_recording(folder.file("a.tdms", bytes));
    ASSERT_TRUE(reader) << to_text(reader.error());
    EXPECT_TRUE((*reader)->info().integer_pcm);
    EXPECT_EQ((*reader)->info().step, 1.0);
    EXPECT_EQ((*reader)->info().frames, 8);
    EXPECT_EQ(read_all(**reader, 3).value(), (Values{1, -1, 2, -2, 3, -3, 4, -4, 5, -5, 6, -6, 7, -7, 8, -8}));
}

TEST(Tdms, GroupsAndRatesAreParts)
{
    const ScratchFolder folder;
    const Bytes b;
    const auto slow = std::vector{b.property("wf_increment", double_type, 0.5)};
    const std::string path =
        folder.file("a.tdms", b.segment(new_list_bit,
                                        b.metadata({b.object("/'deck'/'z'", b.index(single_type, 3), at_1000_hz(b)),
                                                    b.object("/'hull'/'x'", b.index(double_type, 2), at_1000_hz(b)),
                                                    b.object("/'hull'/'speed'", b.index(uint8_type, 2), slow),
                                                    b.object("/'hull'/'list'", b.index(double_type, 2))}),
                                        b.numbers<float>({0.5F, 0.25F, 0.125F}) + b.numbers<double>({1, 2}) +
                                            b.numbers<std::uint8_t>({200, 100}) + b.numbers<double>({3, 4})));
    const auto parts = parts_of(path);
    ASSERT_TRUE(parts);
    std::vector<std::string> told;
    for (const RecordingPart& part : *parts) told.push_back(part.name + ": " + part.says);
    EXPECT_THAT(told, ElementsAre("deck: 1 channel, 1000 Hz, 0.003 s", "hull/x: 1 channel, 1000 Hz, 0.002 s",
                                  "hull/speed: 1 channel, 2 Hz, 1 s",
                                  "hull/list: 1 channel, 2 samples; hull/list states no rate (wf_increment)"));
    EXPECT_THAT(complaint(path), HasSubstr("it holds 4 recordings: deck (1 channel, 1000 Hz, 0.003 s), "));
    EXPECT_EQ(read_all(*open_recording(path + "#hull/speed").value()).value(), (Values{200, 100}));
    EXPECT_EQ(read_all(*open_recording(path, {.rate_hz = 10.0, .part = "hull/list"}).value()).value(), (Values{3, 4}));
    EXPECT_THAT(complaint(path, {.rate_hz = 10.0, .part = "deck"}),
                HasSubstr("deck states a rate of 1000 Hz, but 10 Hz was given as rate_hz; keep the right one"));
}

TEST(Tdms, TimestampsBesideTheSamplesTellARateOfTheirOwn)
{
    const ScratchFolder folder;
    for (const bool big : {false, true}) {
        const Bytes b(big);
        const auto stamp = [&](std::int64_t seconds, std::uint64_t quarters) {
            const std::uint64_t fraction = quarters << 62;
            return big ? b.number(seconds) + b.number(fraction) : b.number(fraction) + b.number(seconds);
        };
        // Three samples, two to a chunk at first: at 59.75, 60.25 and 60.75 s, so 2 Hz, where 1000 Hz are stated.
        const std::string bytes =
            b.segment(new_list_bit,
                      b.metadata({b.object("/'run'/'z'", b.index(double_type, 2), at_1000_hz(b)),
                                  b.object("/'run'/'when'", b.index(time_type, 2)),
                                  b.object("/'other'/'when'", b.index(time_type, 2))}),
                      b.numbers<double>({1.0, 2.0}) + stamp(59, 3) + stamp(60, 1) + stamp(0, 0) + stamp(1, 0)) +
            b.segment(new_list_bit,
                      b.metadata({b.object("/'run'/'z'", b.index(double_type, 1)),
                                  b.object("/'run'/'when'", b.index(time_type, 1))}),
                      b.numbers<double>({3.0}) + stamp(60, 3));
        auto reader = open_recording(folder.file("a.tdms", bytes));
        ASSERT_TRUE(reader) << to_text(reader.error());
        const RecordingInfo& info = (*reader)->info();
        EXPECT_EQ(info.rate_hz, 1000.0) << "what is stated is taken";
        EXPECT_EQ(info.timed_rate.hz, 2.0);
        EXPECT_EQ(info.timed_rate.relative, 0.25);
        EXPECT_EQ(info.timed_rate.by, "the timestamps of channel when");
        EXPECT_THAT(info.names, ElementsAre("z"));
        EXPECT_EQ(read_all(**reader).value(), (Values{1.0, 2.0, 3.0}));
    }
}

TEST(Tdms, SegmentsThatFollowEachOtherEvenlyCostNoMemory)
{
    const ScratchFolder folder;
    const Bytes b;
    std::string bytes;
    Values expected;
    for (int s = 0; s < 3000; ++s) {
        std::vector<double> values;
        for (int i = 0; i < 2; ++i) expected.push_back(values.emplace_back(s * 2 + i));
        bytes += b.segment(s == 0 ? new_list_bit : 0,
                           s == 0 ? b.metadata({b.object("/'g'/'a'", b.index(double_type, 2), at_1000_hz(b))}) : "",
                           b.numbers(values));
        if (s == 1500) { // an odd one between them
            bytes += b.segment(0, b.metadata({b.object("/'g'/'a'", b.index(double_type, 1))}), b.numbers<double>({-1}));
            bytes += b.segment(0, b.metadata({b.object("/'g'/'a'", b.index(double_type, 2))}), "");
            expected.push_back(-1);
        }
    }
    auto reader = open_recording(folder.file("a.tdms", bytes));
    ASSERT_TRUE(reader) << to_text(reader.error());
    EXPECT_EQ(read_all(**reader, 501).value(), expected);
    for (const std::int64_t at : {0, 1, 2, 3001, 3002, 3003, 3004, 6000}) {
        ASSERT_TRUE((*reader)->seek(at));
        double value = 0.0;
        EXPECT_EQ((*reader)->read({&value, 1}).value(), 1U);
        EXPECT_EQ(value, expected[static_cast<std::size_t>(at)]) << at;
    }
}

TEST(Tdms, AFileThatTheRecorderDidNotCloseIsReadAsFarAsItsChunksAreWhole)
{
    const ScratchFolder folder;
    const Bytes b;
    const std::string about = b.metadata({b.object("/'g'/'a'", b.index(double_type, 2), at_1000_hz(b)),
                                          b.object("/'g'/'b'", b.index(double_type, 2), at_1000_hz(b))});
    const std::string raw = b.numbers<double>({1, 2, -1, -2, 3, 4, -3});
    auto reader = open_recording(folder.file("a.tdms", b.segment(new_list_bit, about, raw, true)));
    ASSERT_TRUE(reader) << to_text(reader.error());
    EXPECT_EQ(read_all(**reader).value(), (Values{1, -1, 2, -2}));
    EXPECT_THAT(
        (*reader)->info().remarks,
        ElementsAre("the recorder did not close the file: of its last segment, at byte 0, only whole chunks are read"));
    // Of a closed one a copy broke off, or worse.
    EXPECT_THAT(
        complaint(folder.file("a.tdms", b.segment(new_list_bit, about, raw))),
        HasSubstr("the segment at byte 0 has 56 bytes of raw data, which is no whole number of chunks of 32 bytes"));
}

TEST(Tdms, WhatCannotBeReadIsRefused)
{
    const ScratchFolder folder;
    const Bytes b;
    const auto said = [&](const std::string& bytes) { return complaint(folder.file("a.tdms", bytes)); };
    const auto one = [&](const std::string& index, const std::string& raw, std::uint32_t contents = new_list_bit) {
        return said(b.segment(contents, b.metadata({b.object("/'g'/'a'", index, at_1000_hz(b))}), raw));
    };
    EXPECT_EQ(one(b.index(double_type, 1), b.numbers<double>({1, 2})), "" + std::string("no complaint"));
    EXPECT_THAT(one(b.index(double_type, 1), b.numbers<double>({1, 2}), new_list_bit | daqmx_bit),
                HasSubstr("raw data of a converter, whose scaling is not public; convert it"));
    EXPECT_THAT(one(b.number(std::uint32_t{0x1269}), b.numbers<double>({1, 2})), HasSubstr("raw data of a converter"));
    EXPECT_THAT(one(b.number(as_before), b.numbers<double>({1})), HasSubstr("refers to an index that was not given"));
    EXPECT_THAT(one(b.index(99, 1), b.numbers<double>({1})), HasSubstr("cannot be read: data type 0x63"));
    EXPECT_THAT(one(b.index(double_type, ~std::uint64_t{0} / 4), b.numbers<double>({1})),
                HasSubstr("values in a chunk"));
    EXPECT_THAT(one(b.index(double_type, std::uint64_t{1} << 50), b.numbers<double>({1})),
                HasSubstr("no whole number of chunks"));
    EXPECT_THAT(one(b.index(text_type, 1) + b.number(std::uint64_t{3}), "abc"), HasSubstr("no channel holds numbers"));
    EXPECT_THAT(said(b.segment(new_list_bit, b.number(std::uint32_t{4'000'000'000U}), "")),
                HasSubstr("4000000000 objects in 0 bytes"));
    EXPECT_THAT(said(b.segment(new_list_bit, b.metadata({b.object("run", b.number(no_raw))}), "")),
                HasSubstr("an object's path"));
    EXPECT_THAT(said("TDSh" + std::string(100, '\0')), HasSubstr("this is the index of a TDMS file"));
    std::string other = b.segment(0, "", "");
    other[8] = 1;
    EXPECT_THAT(said(other), HasSubstr("is of version 4609; 4712 and 4713 are read"));
    EXPECT_THAT(said(b.segment(new_list_bit,
                               b.metadata({b.object("/'g'/'a'", b.index(double_type, 1),
                                                    {b.property("wf_increment", double_type, 0.0)})}),
                               b.numbers<double>({1}))),
                HasSubstr("g states a step of 0 s (wf_increment)"));
    EXPECT_THAT(said(b.segment(
                    new_list_bit,
                    b.metadata({b.object("/'g'/'a'", b.index(double_type, 1), {b.property("wf_xunit_string", "Hz")})}),
                    b.numbers<double>({1}))),
                HasSubstr("g runs over Hz, not over seconds"));
    EXPECT_THAT(
        complaint(folder.file(
            "a.tdms",
            b.segment(new_list_bit, b.metadata({b.object("/'g'/'a'", b.index(double_type, 1), at_1000_hz(b))}),
                      b.numbers<double>({1})) +
                b.segment(0, b.metadata({b.object("/'g'/'a'", b.index(single_type, 1))}), b.numbers<float>({1})))),
        HasSubstr("change their data type"));
}

std::string small_file()
{
    const Bytes b;
    return b.segment(new_list_bit,
                     b.metadata({b.object("/'g'", b.number(no_raw), {b.property("name", "deck")}),
                                 b.object("/'g'/'a'", b.index(int16_type, 4), at_1000_hz(b)),
                                 b.object("/'g'/'b'", b.index(int16_type, 4), at_1000_hz(b))}),
                     b.numbers<std::int16_t>({1, 2, 3, 4, 5, 6, 7, 8})) +
           b.segment(interleaved_bit, "", b.numbers<std::int16_t>({1, 2, 3, 4, 5, 6}));
}

TEST(Tdms, WhereverACopyBreaksOffItIsRefused)
{
    const ScratchFolder folder;
    const std::string whole = small_file();
    const std::size_t first_segment = whole.find("TDSm", 4);
    ASSERT_TRUE(reads_everything(folder.file("whole.tdms", whole)));
    for (std::size_t length = 4; length < whole.size(); ++length) {
        const std::string path = folder.file(fmt::format("cut-{}.tdms", length), whole.substr(0, length));
        const auto reader = open_recording(path);
        EXPECT_EQ(reader.has_value(), length == first_segment) << length; // between segments nothing tells
        EXPECT_TRUE(reader || reader.error().file == path);
    }
}

RC_GTEST_PROP(TdmsProperties, FlippedBitsEndInValuesOrAComplaint, ())
{
    std::string bytes = small_file();
    const auto flips = *rc::gen::container<std::vector<std::pair<std::size_t, int>>>(
        rc::gen::pair(rc::gen::inRange<std::size_t>(4, bytes.size()), rc::gen::inRange(0, 8)));
    for (const auto& [at, bit] : flips) bytes[at] = static_cast<char>(bytes[at] ^ (1 << bit));
    const ScratchFolder folder;
    reads_everything(folder.file("a.tdms", bytes));
}

} // namespace
} // namespace becalm::io
