// miniSEED written by libmseed's own writer. Expected values are computed from the definition (what was written is what
// must be read); layouts of broken records follow the SEED Reference Manual 2.4, chapter 8.
#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <cstring>
#include <libmseed.h>
#include <random>

#include <fmt/format.h>
#include <gmock/gmock.h>

#include "src/io/recording_reader.h"

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

struct Series {
    std::string channel = "HNZ";
    double rate_hz = 100.0;
    std::int64_t start_us = 1'922'000'000'000'000; // 2030-11-27T08:53:20
    int encoding = DE_STEIM2;
    int record_bytes = 512;
    int byte_order = 1; // big
    Values values = {};
    int timing_quality = -1;
    std::string station = "DECK5";

    Series on(const std::string& other, Values others) const
    {
        Series copy = *this;
        copy.channel = other;
        copy.values = std::move(others);
        return copy;
    }
    Series later(double seconds) const
    {
        Series copy = *this;
        copy.start_us += std::llround(seconds * 1e6);
        return copy;
    }

    std::string packed() const
    {
        MSRecord* msr = msr_init(nullptr);
        std::strcpy(msr->network, "XX");
        std::strcpy(msr->station, station.c_str());
        std::strcpy(msr->location, "00");
        std::strcpy(msr->channel, channel.c_str());
        msr->dataquality = 'D';
        msr->reclen = record_bytes;
        msr->encoding = static_cast<std::int8_t>(encoding);
        msr->byteorder = static_cast<std::int8_t>(byte_order);
        msr->samprate = rate_hz;
        msr->starttime = start_us;
        msr->numsamples = static_cast<std::int64_t>(values.size());
        const auto fill = [&]<class T>(T, char type) {
            T* samples = static_cast<T*>(std::malloc(values.size() * sizeof(T)));
            for (std::size_t i = 0; i < values.size(); ++i) samples[i] = static_cast<T>(values[i]);
            msr->datasamples = samples;
            msr->sampletype = type;
        };
        if (encoding == DE_FLOAT32)
            fill(float{}, 'f');
        else if (encoding == DE_FLOAT64)
            fill(double{}, 'd');
        else
            fill(std::int32_t{}, 'i');
        if (timing_quality >= 0) {
            blkt_1001_s timing = {};
            timing.timing_qual = static_cast<std::uint8_t>(timing_quality);
            msr_addblockette(msr, reinterpret_cast<char*>(&timing), sizeof timing, 1001, 0);
        }
        std::string bytes;
        const auto keep = [](char* record, int length, void* into) {
            static_cast<std::string*>(into)->append(record, static_cast<std::size_t>(length));
        };
        std::int64_t samples = 0;
        EXPECT_GT(msr_pack(msr, keep, &bytes, &samples, 1, 0), 0);
        EXPECT_EQ(samples, msr->numsamples);
        msr_free(&msr);
        return bytes;
    }
};

Values counts(std::size_t count, unsigned seed = 1, double size = 3000.0)
{
    std::mt19937 generator(seed);
    std::normal_distribution<double> normal(0.0, size);
    Values values(count);
    for (double& value : values) value = std::round(normal(generator));
    return values;
}

// The records of both, by turns.
std::string by_turns(const std::string& a, const std::string& b)
{
    std::string both;
    for (std::size_t at = 0; at < std::max(a.size(), b.size()); at += 512) {
        if (at < a.size()) both += a.substr(at, 512);
        if (at < b.size()) both += b.substr(at, 512);
    }
    return both;
}

TEST(Miniseed, EveryCodingReadsBackExactly)
{
    const ScratchFolder folder;
    struct Case {
        int encoding;
        const char* name;
        double size;
    };
    for (const Case& c : {Case{DE_INT16, "16-bit integer", 3000.0}, Case{DE_INT32, "32-bit integer", 1e8},
                          Case{DE_STEIM1, "Steim 1 integer", 1e7}, Case{DE_STEIM2, "Steim 2 integer", 1e5},
                          Case{DE_FLOAT32, "32-bit float", 1.0}, Case{DE_FLOAT64, "64-bit float", 1.0}})
        for (const int record_bytes : {256, 512, 4096, 65536 * 2})
            for (const int order : {0, 1}) {
                Series series{.encoding = c.encoding,
                              .record_bytes = record_bytes,
                              .byte_order = order,
                              .values = counts(5000, 3, c.size)};
                const bool integers = c.encoding != DE_FLOAT32 && c.encoding != DE_FLOAT64;
                if (!integers)
                    for (double& value : series.values) value = static_cast<double>(static_cast<float>(value * 0.3));
                const auto read = whole_recording(folder.file("a", series.packed()));
                ASSERT_EQ(read.values, series.values) << c.name << " " << record_bytes << " " << order;
                EXPECT_EQ(read.info.format, std::string("miniSEED, ") + c.name);
                EXPECT_EQ(read.info.integer_pcm, integers);
                EXPECT_EQ(read.info.step, integers ? 1.0 : 0.0);
                EXPECT_EQ(one_of(read.info), integers ? "one count" : "full scale");
                EXPECT_EQ(read.info.rate_hz, 100.0);
                EXPECT_EQ(read.info.start, "2030-11-27T08:53:20Z");
            }
}

TEST(Miniseed, ChannelsOfAnInstrumentAreOneRecording)
{
    const ScratchFolder folder;
    const Series z{.values = counts(6000, 1)}, n = z.on("HNN", counts(6000, 2)), e = z.on("HNE", counts(6000, 3));
    const std::string path = folder.file("a", by_turns(z.packed(), n.packed()) + e.packed());
    const auto read = whole_recording(path);
    EXPECT_THAT(read.info.names, ElementsAre("HNE", "HNN", "HNZ"));
    EXPECT_EQ(read.info.facts[2].direction, "Z");
    EXPECT_EQ(read.channel(0), e.values);
    EXPECT_EQ(read.channel(1), n.values);
    EXPECT_EQ(read.channel(2), z.values);
    EXPECT_THAT(read.info.remarks, Contains("The source is XX.DECK5.00 (network.station.location), channels HNE, HNN, "
                                            "HNZ: by the codes an accelerometer."));
    const auto parts = parts_of(path);
    ASSERT_TRUE(parts);
    ASSERT_EQ(parts->size(), 1U);
    EXPECT_EQ((*parts)[0].name, "2030-11-27T08:53:20Z");
    EXPECT_EQ((*parts)[0].says, "HNE, HNN, HNZ, 100 Hz, 60 s");

    // Another instrument, another rate, another place: recordings of their own.
    const std::string several =
        folder.file("b", z.packed() + z.on("HHZ", counts(500)).packed() +
                             Series{.rate_hz = 50.0, .values = counts(500)}.later(0.0).on("LNZ", counts(300)).packed());
    EXPECT_THAT(complaint_about(several), AllOf(StartsWith("b: it holds 3 recordings: XX.DECK5.00.HH/2030"),
                                                HasSubstr("name one: b#XX.DECK5.00.HH/2030-11-27T08:53:20Z")));
    EXPECT_EQ(whole_recording(several + "#XX.DECK5.00.HN/2030-11-27T08:53:20Z").values, z.values);
}

TEST(Miniseed, EveryStretchThatAllChannelsHaveIsAPart)
{
    const ScratchFolder folder;
    // N begins 1 s later and has a gap of 5 s after 20 s; Z runs through.
    const Series z{.values = counts(6000, 1)};
    const Series n = z.on("HNN", counts(2000, 2)).later(1.0), more = z.on("HNN", counts(3000, 3)).later(26.0);
    const std::string path = folder.file("a", z.packed() + n.packed() + more.packed());
    const auto parts = parts_of(path);
    ASSERT_TRUE(parts);
    ASSERT_EQ(parts->size(), 2U);
    EXPECT_EQ((*parts)[0].name, "2030-11-27T08:53:21Z");
    EXPECT_EQ((*parts)[1].name, "2030-11-27T08:53:46Z");
    auto read = whole_recording(path + "#" + (*parts)[0].name);
    EXPECT_EQ(read.info.start, "2030-11-27T08:53:21Z");
    EXPECT_EQ(read.channel(0), n.values);
    EXPECT_EQ(read.channel(1), Values(z.values.begin() + 100, z.values.begin() + 2100));
    EXPECT_THAT(read.info.remarks, Contains(StartsWith("HNN has 1 gap in this file")));
    ASSERT_EQ(read.info.gaps.size(), 1U);
    EXPECT_DOUBLE_EQ(read.info.gaps[0].at_s, 20.0);
    EXPECT_DOUBLE_EQ(read.info.gaps[0].lasts_s, 5.0);
    EXPECT_THAT(read.info.remarks, Contains(StartsWith("HNZ runs 40 s longer than the recording")));
    read = whole_recording(path + "#" + (*parts)[1].name);
    ASSERT_EQ(read.info.gaps.size(), 1U);
    EXPECT_DOUBLE_EQ(read.info.gaps[0].at_s, -5.0);
    EXPECT_DOUBLE_EQ(read.info.gaps[0].lasts_s, 5.0);
    EXPECT_EQ(read.channel(0), more.values);
    EXPECT_EQ(read.channel(1), Values(z.values.begin() + 2600, z.values.begin() + 5600));

    // Never together: each by itself.
    const std::string apart = folder.file("b", z.packed() + z.on("HNN", counts(500)).later(100.0).packed());
    EXPECT_EQ(parts_of(apart)->size(), 2U);
    EXPECT_EQ(whole_recording(apart + "#2030-11-27T08:53:20Z").values, z.values);
}

TEST(Miniseed, LessThanHalfASampleIsNoGap)
{
    const ScratchFolder folder;
    const Series first{.values = counts(2000, 1)};
    const auto parts_with = [&](double samples) {
        Series second = first.later(20.0 + samples / 100.0);
        second.values = counts(1000, 2);
        folder.file("a", first.packed() + second.packed());
        return parts_of(folder.path("a"))->size();
    };
    EXPECT_EQ(parts_with(0.0), 1U);
    EXPECT_EQ(parts_with(0.45), 1U);
    EXPECT_EQ(parts_with(-0.45), 1U);
    EXPECT_EQ(parts_with(0.6), 2U);
    EXPECT_EQ(parts_with(-0.6), 2U);
    // Channels half a sample apart at most are taken for simultaneous.
    const std::string path = folder.file("a", first.packed() + first.on("HNN", counts(2000, 2)).later(0.003).packed());
    const auto read = whole_recording(path);
    EXPECT_EQ(read.info.channels, 2);
    EXPECT_THAT(read.info.remarks, Contains(StartsWith("The channels are sampled up to 0.30 of a sample apart")));
}

TEST(Miniseed, RecordsInAnyOrderAndTwiceAreSorted)
{
    const ScratchFolder folder;
    const Series series{.values = counts(3000, 1)};
    const std::string whole = series.packed();
    const std::size_t records = whole.size() / 512;
    ASSERT_GT(records, 5U);
    std::string mixed;
    for (std::size_t i = 0; i < records; ++i) mixed += whole.substr((records - 1 - i) * 512, 512);
    EXPECT_EQ(whole_recording(folder.file("a", mixed)).values, series.values);
    const auto twice = whole_recording(folder.file("a", mixed + whole.substr(512, 1024)));
    EXPECT_EQ(twice.values, series.values);
    EXPECT_THAT(twice.info.remarks, Contains(HasSubstr("overlap by")));

    // 5 s later, though 20 s were written: what came first is kept, the rest begins where it ends.
    const std::string overlapping = folder.file("b", Series{.values = counts(2000, 1)}.packed() +
                                                         Series{.values = counts(2000, 2)}.later(15.0).packed());
    const auto parts = parts_of(overlapping);
    ASSERT_EQ(parts->size(), 2U);
    EXPECT_EQ((*parts)[1].name, "2030-11-27T08:53:40Z");
    const auto read = whole_recording(overlapping + "#" + (*parts)[1].name);
    const Values second = counts(2000, 2);
    EXPECT_EQ(read.values, Values(second.begin() + 500, second.end()));
    EXPECT_THAT(read.info.remarks, Contains("Records of HNZ overlap by 5 s; the earlier were kept."));
}

TEST(Miniseed, TimesAndFlagsAreTold)
{
    const ScratchFolder folder;
    Series series{.start_us = 1'922'000'000'069'539, .values = counts(2000, 1), .timing_quality = 80};
    Series later = series.later(20.0);
    later.timing_quality = 30;
    std::string bytes = series.packed() + later.packed();
    auto info = whole_recording(folder.file("a", bytes)).info;
    EXPECT_EQ(info.start, "2030-11-27T08:53:20.069539Z"); // 695 of 0.1 ms and 39 microseconds of blockette 1001
    EXPECT_THAT(info.remarks, Contains("The recorder states a timing quality of 30 to 80 %."));
    bytes[38] = static_cast<char>(0x82); // quality flags: clipping, times
    bytes[36] = 0x01;                    // activity flags: calibration
    info = whole_recording(folder.file("a", bytes)).info;
    EXPECT_THAT(info.remarks,
                Contains("The recorder flags calibration signals, clipping of the digitizer, questionable times."));

    // A correction of 1.5 s (15000 of 0.1 ms) that the start does not have yet.
    bytes = Series{.values = counts(100)}.packed();
    bytes[42] = 0x3A, bytes[43] = static_cast<char>(0x98);
    info = whole_recording(folder.file("a", bytes)).info;
    EXPECT_EQ(info.start, "2030-11-27T08:53:21.5Z");
    EXPECT_THAT(info.remarks, Contains("The corrections of time that its records state were added."));
    bytes[36] = 0x02; // the start has it
    EXPECT_EQ(whole_recording(folder.file("a", bytes)).info.start, "2030-11-27T08:53:20Z");

    // A clock that is late by a third of a sample every 200 samples.
    bytes.clear();
    for (int i = 0; i < 10; ++i) bytes += Series{.values = counts(200)}.later(i * (2.0 + 0.0033)).packed();
    info = whole_recording(folder.file("a", bytes)).info;
    EXPECT_EQ(info.frames, 2000);
    EXPECT_THAT(info.remarks, Contains(StartsWith("By the times of its records HNZ runs at 99.83")));
    EXPECT_NEAR(info.timed_rate.hz, 200.0 / 2.0033, 1e-3); // the times are kept to 0.1 ms
    EXPECT_LT(info.timed_rate.relative, 1e-4);
    EXPECT_TRUE(info.gaps.empty());
}

TEST(Miniseed, RatesNeedNotBeWhole)
{
    const ScratchFolder folder;
    for (const double rate : {0.1, 31.25, 199.252682}) {
        const auto read = whole_recording(folder.file("a", Series{.rate_hz = rate, .values = counts(900)}.packed()));
        EXPECT_NEAR(read.info.rate_hz, rate, rate * 1e-6); // a ratio of two whole numbers
        EXPECT_EQ(read.values.size(), 900U);
    }
}

TEST(Miniseed, TextAndRelativesAreNoRecordings)
{
    const ScratchFolder folder;
    const std::string whole = Series{.values = counts(1000)}.packed();
    std::string text = whole.substr(0, 512);
    text[52] = 0; // coding of blockette 1000, which follows the fixed section: text
    const auto read = whole_recording(folder.file("a", text + whole));
    EXPECT_EQ(read.values.size(), 1000U);
    EXPECT_THAT(read.info.remarks, Contains("1 record of text or without a rate is passed over."));
    EXPECT_EQ(complaint_about(folder.file("a", text)), "a: it holds records of text alone; export the samples");
    EXPECT_THAT(complaint_about(folder.file("a", std::string("MS\3") + std::string(100, '\0'))),
                HasSubstr("this is miniSEED 3"));
    EXPECT_THAT(
        complaint_about(folder.file("a", "000001V 010009402.3121970,001,00:00:00.0000~" + std::string(99, ' '))),
        HasSubstr("this is a full SEED volume"));
}

TEST(Miniseed, RecordsThatCannotBeRightAreRefused)
{
    const ScratchFolder folder;
    const std::string whole = Series{.values = counts(1000)}.packed();
    const auto about = [&](std::size_t at, int byte, std::size_t record = 1) {
        std::string bytes = whole;
        bytes[512 * record + at] = static_cast<char>(byte);
        return complaint_about(folder.file("a", bytes));
    };
    ASSERT_EQ(whole[49], static_cast<char>(1000 & 0xFF));
    EXPECT_EQ(about(6, 'D'), "no complaint");
    EXPECT_EQ(about(6, 'X'), "a: the record at byte 512: no data record of miniSEED begins here; export the data "
                             "records again");
    EXPECT_THAT(about(30, 0xFF), HasSubstr("the record at byte 512: it states"));
    EXPECT_THAT(about(47, 200), HasSubstr("blockettes")); // no blockette 1000 there
    EXPECT_THAT(about(46, 0xFF), HasSubstr("its chain of blockettes leads astray"));
    EXPECT_THAT(about(48, 0), HasSubstr("it has no blockette 1000"));
    EXPECT_THAT(about(52, 30), HasSubstr("its samples have coding 30, which is not read"));
    EXPECT_THAT(about(54, 40), HasSubstr("its length is stated as 2^40 bytes; 2^7 to 2^20 are read"));
    EXPECT_THAT(about(54, 20), HasSubstr("1048576 bytes are stated, the file ends after"));
    EXPECT_THAT(about(32, 0x80), HasSubstr("its rate is")); // a sample every 32,668 s
    EXPECT_THAT(about(44, 0xFF), HasSubstr("its data begin at"));
    EXPECT_THAT(about(203, whole[512 + 203] ^ 1), HasSubstr("the record at byte 512: it is damaged: it states"));
    EXPECT_THAT(about(200, 0x55), HasSubstr("(Steim 2 integer) cannot be unpacked"));
}

TEST(Miniseed, EveryCutIsNoticed)
{
    const Series z{.record_bytes = 256, .values = counts(150)}, n = z.on("HNN", counts(150, 2));
    const std::string whole = z.packed() + n.packed();
    // A copy that ends with a record cannot be told from a recording that ended there.
    tests::every_cut_is_noticed(whole, [](std::size_t length) { return length % 256 == 0; });
}

TEST(Miniseed, AnyBitMayFlip)
{
    const Series z{.record_bytes = 256, .values = counts(120)};
    std::string whole = z.packed() + z.on("HNN", counts(100, 2)).packed();
    whole +=
        Series{.encoding = DE_STEIM1, .record_bytes = 256, .values = counts(50), .timing_quality = 9}.later(9).packed();
    whole += Series{.encoding = DE_FLOAT32, .record_bytes = 256, .byte_order = 0, .values = counts(60)}.packed();
    tests::any_bit_may_flip(whole, 1000, 11);
}

} // namespace
} // namespace becalm::io
