// A recording that comes out of a pipe: its ledger is that of the same samples in a file, bit by bit, and questions to
// the ledger are answered as the definitions say. Expected values are those of the pass over the file, which has tests
// of its own against outside sources (pass_test.cpp), and sums over its rows written out here.
#include <csignal>
#include <cstring>
#include <fcntl.h>
#include <filesystem>
#include <fstream>
#include <random>
#include <thread>
#include <unistd.h>

#include <gmock/gmock.h>

#include "evaluators/ledger_questions.h"
#include "evaluators/monitor.h"
#include "evaluators/stream.h"
#include "src/io/json_out.h"
#include "src/io/ledger_folder.h"

#include "tests/evaluators/criteria.h"
#include "tests/evaluators/recordings.h"

namespace becalm::evaluators {
namespace {

using namespace tests;
using enum WeightingId;
using testing::HasSubstr;

const std::vector<Lane> three_lanes{{1, Axis::x, Wd}, {2, Axis::y, Wd}, {3, Axis::z, Wk}};

// Somebody who sends `bytes` in pieces of odd sizes; reading end.
class Sender {
public:
    explicit Sender(std::string bytes)
    {
        std::signal(SIGPIPE, SIG_IGN); // who reads may have had enough
        int ends[2];
        EXPECT_EQ(::pipe2(ends, O_CLOEXEC), 0);
        reading_ = io::FileHandle(ends[0]);
        sends_ = std::jthread([bytes = std::move(bytes), to = ends[1]] {
            std::mt19937 random(1);
            for (std::size_t done = 0; done < bytes.size();) {
                const auto wanted = std::min<std::size_t>(bytes.size() - done, 1 + random() % 50000);
                const ssize_t sent = ::write(to, bytes.data() + done, wanted);
                if (sent <= 0) break;
                done += static_cast<std::size_t>(sent);
            }
            ::close(to);
        });
    }
    io::FileHandle pipe() { return std::move(reading_); }

private:
    io::FileHandle reading_;
    std::jthread sends_;
};

template <class Number>
std::string bytes_of(const Signal& values)
{
    std::string bytes;
    for (const double value : values) {
        const auto number = static_cast<Number>(value);
        bytes.append(reinterpret_cast<const char*>(&number), sizeof number);
    }
    return bytes;
}

// Three channels with shocks, a standstill and an offset, as floats hold them.
std::vector<Signal> three_channels(std::size_t frames)
{
    std::vector<Signal> channels;
    for (unsigned c = 0; c < 3; ++c) {
        Signal one = noise(frames, 40 + c);
        for (std::size_t i = 0; i < frames; ++i) {
            one[i] = 0.1 * one[i] + 0.02 * c + 0.3 * std::sin(0.01 * static_cast<double>(i));
            if (i % 77777 < 60) one[i] += 3.0;
        }
        channels.push_back(single_precision(std::move(one)));
    }
    return channels;
}

std::string described(const ScratchFolder& folder, const std::string& name, const std::string& file,
                      const std::string& numbers, double rate_hz, int channels)
{
    std::ofstream out(folder.path(name));
    out << "[becalm-recording]\nfiles = [\"" << file << "\"]\nnumbers = \"" << numbers << "\"\nchannels = " << channels
        << "\nrate_hz = " << fmt::format("{:.6f}", rate_hz) << "\n";
    return folder.path(name);
}

struct Both {
    PassResult from_file;
    std::string ledger;
    WeighedFile streamed;
};

// The same samples as a file and through a pipe.
Both both(const ScratchFolder& folder, const std::vector<Signal>& channels, double rate_hz,
          const std::vector<Lane>& lanes)
{
    Both result;
    const std::string bytes = bytes_of<float>(interleaved(channels));
    std::ofstream(folder.path("run.bin"), std::ios::binary) << bytes;
    const std::string file = described(folder, "file.recording.toml", "run.bin", "float32", rate_hz, 3);
    const PassRequest request{.path = file, .lanes = lanes, .keep_rows = true, .hash = false};
    auto passes = run_passes(std::span(&request, 1), {.jobs = 2});
    EXPECT_TRUE(passes[0]) << to_text(passes[0].error());
    result.from_file = std::move(*passes[0]);

    const std::string source = described(folder, "pipe.recording.toml", "-", "float32", rate_hz, 3);
    Sender sender(bytes);
    auto reader = io::open_stream(source, sender.pipe());
    EXPECT_TRUE(reader) << to_text(reader.error());
    result.ledger = folder.path("point.ledger");
    auto streamed =
        stream(**reader, source, {.folder = result.ledger, .lanes = lanes, .start = "2026-01-01T23:50:10+01:00"});
    EXPECT_TRUE(streamed) << to_text(streamed.error());
    result.streamed = std::move(*streamed);
    return result;
}

Both both(const ScratchFolder& folder, std::size_t frames, double rate_hz, const std::vector<Lane>& lanes)
{
    return both(folder, three_channels(frames), rate_hz, lanes);
}

// The rows of a file of the ledger, as NumPy would find them: 13 numbers of 8 bytes behind the header.
std::vector<LedgerRow> rows_in(const std::string& path)
{
    const std::string bytes = content_of(path);
    const std::size_t begin = bytes.find('\n') + 1;
    std::vector<LedgerRow> rows;
    for (std::size_t at = begin; at + 104 <= bytes.size(); at += 104) {
        const auto real = [&](std::size_t field) {
            double value = 0.0;
            std::memcpy(&value, bytes.data() + at + 8 * field, 8);
            return value;
        };
        std::uint64_t samples = 0;
        std::memcpy(&samples, bytes.data() + at + 8, 8);
        rows.push_back({static_cast<std::uint32_t>(samples), real(9), real(10), real(4), real(5), real(6), real(7),
                        real(8), real(11), real(12)});
    }
    return rows;
}

void expect_same(const Both& found, const std::vector<Lane>& lanes)
{
    for (std::size_t l = 0; l < lanes.size(); ++l) {
        SCOPED_TRACE(l);
        const std::string name =
            fmt::format("0001-ch{}-{}-{}.npy", lanes[l].channel, name_of(lanes[l].axis), name_of(lanes[l].weighting));
        const auto rows = rows_in(found.ledger + "/" + name);
        const auto& expected = found.from_file.lanes[l].ledger.rows;
        ASSERT_EQ(rows.size(), expected.size());
        for (std::size_t i = 0; i < rows.size(); ++i) ASSERT_EQ(rows[i], expected[i]) << i;
        EXPECT_EQ(*found.streamed.lanes[l].rms,
                  std::sqrt(found.from_file.lanes[l].tally.sum_squares / found.from_file.lanes[l].tally.duration_s));
        EXPECT_EQ(*found.streamed.lanes[l].peak, found.from_file.lanes[l].tally.peak);
    }
    EXPECT_EQ(found.streamed.duration_s, found.from_file.duration_s);
}

TEST(Stream, GivesTheRowsOfTheSameSamplesInAFile)
{
    // Two spans of 1,800 s and a part of a third, at a rate that is no whole number, ending within a second.
    const ScratchFolder folder;
    const std::vector<Lane> lanes{{1, Axis::x, Wd}, {2, Axis::y, Wd}, {3, Axis::z, Wk}, {3, Axis::z, none}};
    expect_same(both(folder, 1001 * 1000 + 123, 256.4, lanes), lanes);
}

TEST(Stream, MayEndAnywhereAboutTheEndOfASpan)
{
    // At 300 Hz a span has 540,000 samples: before, at, and just behind its end, where filters still hold something.
    for (const int beyond : {-1, 0, 1, 40}) {
        SCOPED_TRACE(beyond);
        const ScratchFolder folder;
        const std::vector<Lane> lanes{{3, Axis::z, Wk}};
        expect_same(both(folder, static_cast<std::size_t>(540'000 + beyond), 300.0, lanes), lanes);
    }
}

TEST(Stream, MayBeShorterThanWhatTheOffsetIsTakenOf)
{
    const ScratchFolder folder;
    expect_same(both(folder, 1500, 500.0, three_lanes), three_lanes);
}

TEST(Stream, ReadsWavWhoseLengthItsWriterDoesNotKnow)
{
    const ScratchFolder folder;
    const auto channels = three_channels(20'000);
    const std::string path = wav(folder, "whole.wav", 500, channels);
    std::string bytes = content_of(path);
    const std::size_t data = bytes.find("data");
    ASSERT_NE(data, std::string::npos);
    for (const std::uint32_t size : {0U, 0xFFFFFFFFU, 0x7FFFFFFFU}) {
        std::memcpy(bytes.data() + data + 4, &size, 4);
        Sender sender(bytes);
        auto reader = io::open_stream("-", sender.pipe());
        ASSERT_TRUE(reader) << to_text(reader.error());
        const auto file = stream(**reader, "-", {.lanes = three_lanes});
        ASSERT_TRUE(file) << to_text(file.error());
        const PassRequest request{.path = path, .lanes = three_lanes};
        const auto pass = run_passes(std::span(&request, 1));
        ASSERT_TRUE(pass[0]);
        EXPECT_EQ(*file->lanes[2].peak, pass[0]->lanes[2].tally.peak);
        EXPECT_EQ(file->duration_s, 40.0);
    }
}

TEST(Stream, SaysWhereItEndedBeforeWhatWasPromised)
{
    const ScratchFolder folder;
    std::string bytes = content_of(wav(folder, "whole.wav", 500, three_channels(20'000)));
    bytes.resize(bytes.size() - 500 * 12 - 5); // a second and a part of a frame
    Sender sender(bytes);
    auto reader = io::open_stream("-", sender.pipe());
    ASSERT_TRUE(reader) << to_text(reader.error());
    const auto file = stream(**reader, "-", {.lanes = three_lanes});
    ASSERT_TRUE(file) << to_text(file.error());
    std::string said;
    for (const Finding& finding : file->findings) said += finding.message + "\n";
    EXPECT_THAT(said, HasSubstr("its last 7 bytes are left out"));
    EXPECT_THAT(said, HasSubstr("ended at frame 19499 where its header promised 20000"));
}

TEST(Stream, IntegersAreThoseOfAFileAndWantAScale)
{
    const ScratchFolder folder;
    Signal counts(3 * 6000);
    for (std::size_t i = 0; i < counts.size(); ++i)
        counts[i] = std::round(8'000'000.0 * std::sin(0.013 * static_cast<double>(i)));
    std::string bytes; // 24 bits, little-endian
    for (const double count : counts) {
        const auto number = static_cast<std::int32_t>(count);
        for (int shift = 0; shift < 24; shift += 8) bytes += static_cast<char>(number >> shift);
    }
    std::ofstream(folder.path("run.bin"), std::ios::binary) << bytes;
    const std::string source = described(folder, "pipe.recording.toml", "-", "int24", 500.0, 3);
    const PassRequest request{.path = described(folder, "file.recording.toml", "run.bin", "int24", 500.0, 3),
                              .lanes = three_lanes,
                              .to_si = 1e-6,
                              .scale_given = true};
    const auto pass = run_passes(std::span(&request, 1));
    ASSERT_TRUE(pass[0]) << to_text(pass[0].error());
    {
        Sender sender(bytes);
        auto reader = io::open_stream(source, sender.pipe());
        ASSERT_TRUE(reader);
        const auto file = stream(**reader, source, {.lanes = three_lanes, .scale = 1e-6});
        ASSERT_TRUE(file) << to_text(file.error());
        EXPECT_EQ(*file->lanes[2].peak, pass[0]->lanes[2].tally.peak);
    }
    Sender sender(bytes);
    auto reader = io::open_stream(source, sender.pipe());
    ASSERT_TRUE(reader);
    const auto file = stream(**reader, source, {.lanes = three_lanes});
    ASSERT_FALSE(file);
    EXPECT_THAT(to_text(file.error()), HasSubstr("scale"));
}

TEST(Stream, NothingAndRubbishAreProblems)
{
    const ScratchFolder folder;
    const std::string source = described(folder, "pipe.recording.toml", "-", "float32", 500.0, 3);
    {
        Sender sender("");
        auto reader = io::open_stream(source, sender.pipe());
        ASSERT_TRUE(reader);
        const auto file = stream(**reader, source, {.folder = folder.path("none.ledger"), .lanes = three_lanes});
        ASSERT_FALSE(file);
        EXPECT_THAT(to_text(file.error()), HasSubstr("ended before its first frame"));
        EXPECT_FALSE(std::filesystem::exists(folder.path("none.ledger")));
    }
    for (const char* bytes :
         {"", "RIFF", "what is this, no audio at all", "RIFF....WAVEdata....", "RIFF....WAVEfmt \xff\xff\xff\x7f"}) {
        Sender sender(bytes);
        EXPECT_FALSE(io::open_stream("-", sender.pipe())) << bytes;
    }
    const auto opened = io::open_recording(source); // by a command that wants a file
    ASSERT_FALSE(opened);
    EXPECT_THAT(to_text(opened.error()), HasSubstr("becalm stream"));
}

TEST(Stream, AHeaderThatIsDamagedAnywhereIsAProblemOrARecording)
{
    const ScratchFolder folder;
    const std::string whole = content_of(wav(folder, "whole.wav", 500, three_channels(300)));
    const std::size_t header = whole.find("data") + 8;
    int read = 0, refused = 0;
    const auto tried = [&](const std::string& bytes) {
        Sender sender(bytes);
        auto reader = io::open_stream("-", sender.pipe());
        if (!reader) {
            ++refused;
            EXPECT_FALSE(reader.error().what.empty());
            return;
        }
        ++read;
        const auto file = stream(**reader, "-", {.lanes = {{1, Axis::z, none}}, .scale = 1.0});
        EXPECT_TRUE(file || !file.error().what.empty());
    };
    for (std::size_t at = 0; at < header; ++at) {
        tried(whole.substr(0, at));
        for (const char other : {'\0', '\x7f', static_cast<char>(whole[at] ^ 1)}) {
            std::string bytes = whole;
            bytes[at] = other;
            tried(bytes);
        }
    }
    EXPECT_GT(read, 10);
    EXPECT_GT(refused, 60);
}

// ---- questions ----

// A sum in the order that src/io/ledger_folder.h states, written out from the rows.
Tally by_the_definition(const std::vector<LedgerRow>& rows, double rate_hz,
                        const std::vector<io::LedgerFolder::Seconds>& selected)
{
    Tally sum;
    double squares = 0.0, fourths = 0.0;
    const auto minute = [&](std::int64_t m, double LedgerRow::*field) {
        double total = 0.0;
        for (std::int64_t i = m * 60; i < m * 60 + 60; ++i) total += rows[static_cast<std::size_t>(i)].*field / rate_hz;
        return total;
    };
    const auto hour = [&](std::int64_t h, double LedgerRow::*field) {
        double total = 0.0;
        for (std::int64_t m = h * 60; m < h * 60 + 60; ++m) total += minute(m, field);
        return total;
    };
    for (const auto& [from, end] : selected) {
        const std::int64_t to = std::min(end, std::ssize(rows));
        for (std::int64_t i = from; i < to;) {
            if (i % 3600 == 0 && i + 3600 <= to) {
                squares += hour(i / 3600, &LedgerRow::sum_squares);
                fourths += hour(i / 3600, &LedgerRow::sum_fourths);
                i += 3600;
            } else if (i % 60 == 0 && i + 60 <= to) {
                squares += minute(i / 60, &LedgerRow::sum_squares);
                fourths += minute(i / 60, &LedgerRow::sum_fourths);
                i += 60;
            } else {
                squares += rows[static_cast<std::size_t>(i)].sum_squares / rate_hz;
                fourths += rows[static_cast<std::size_t>(i)].sum_fourths / rate_hz;
                ++i;
            }
        }
        for (std::int64_t i = from; i < to; ++i) {
            const LedgerRow& row = rows[static_cast<std::size_t>(i)];
            sum.samples += row.samples;
            sum.peak = std::max(sum.peak, row.peak);
            sum.linear_rms = std::max(sum.linear_rms, i == from ? row.linear_rms_within : row.linear_rms);
            sum.exponential_rms_slow = std::max(sum.exponential_rms_slow, row.exponential_rms_slow);
            sum.exponential_rms_fast = std::max(sum.exponential_rms_fast, row.exponential_rms_fast);
        }
    }
    sum.sum_squares = squares;
    sum.sum_fourths = fourths;
    sum.duration_s = static_cast<double>(sum.samples) / rate_hz;
    return sum;
}

void expect_same(const Tally& a, const Tally& b)
{
    EXPECT_EQ(a.samples, b.samples);
    EXPECT_EQ(a.duration_s, b.duration_s);
    EXPECT_EQ(a.sum_squares, b.sum_squares);
    EXPECT_EQ(a.sum_fourths, b.sum_fourths);
    EXPECT_EQ(a.peak, b.peak);
    EXPECT_EQ(a.linear_rms, b.linear_rms);
    EXPECT_EQ(a.exponential_rms_slow, b.exponential_rms_slow);
    EXPECT_EQ(a.exponential_rms_fast, b.exponential_rms_fast);
}

// A folder of made rows, so that hours of them cost nothing.
std::vector<LedgerRow> made_folder(const std::string& path, std::int64_t count)
{
    std::mt19937_64 random(3);
    std::uniform_real_distribution<double> value(0.0, 1.0);
    std::vector<LedgerRow> rows;
    for (std::int64_t i = 0; i < count; ++i) {
        LedgerRow row{.samples = i + 1 == count ? 37U : 100U};
        for (double LedgerRow::*field :
             {&LedgerRow::sum_squares, &LedgerRow::sum_fourths, &LedgerRow::peak, &LedgerRow::linear_rms,
              &LedgerRow::exponential_rms_slow, &LedgerRow::exponential_rms_fast, &LedgerRow::raw_max})
            row.*field = value(random);
        row.linear_rms_within = row.linear_rms * value(random);
        row.raw_min = -value(random);
        rows.push_back(row);
    }
    auto writer = io::LedgerFolderWriter::create(path, {.file = "-",
                                                        .start = "2026-03-14T22:59:30+01:00",
                                                        .rate_hz = 100.0,
                                                        .lanes = {{3, Axis::z, Wk}},
                                                        .units = {"m/s2"},
                                                        .recorded_unit = "m/s2"});
    EXPECT_TRUE(writer) << to_text(writer.error());
    for (std::size_t done = 0; done < rows.size();) { // in pieces that fit nothing
        const std::size_t piece = std::min<std::size_t>(rows.size() - done, 1777);
        const std::vector<std::vector<LedgerRow>> lanes{{rows.begin() + static_cast<std::ptrdiff_t>(done),
                                                         rows.begin() + static_cast<std::ptrdiff_t>(done + piece)}};
        EXPECT_TRUE((*writer)->append(lanes));
        done += piece;
    }
    EXPECT_TRUE((*writer)->commit());
    return rows;
}

TEST(LedgerFolder, SumsAreTheSameToTheLastBitWithTheirPiecesAndWithout)
{
    const ScratchFolder folder;
    constexpr std::int64_t count = 5 * 3600 + 777;
    const auto rows = made_folder(folder.path("l"), count);
    const auto ledger = io::LedgerFolder::open(folder.path("l"));
    ASSERT_TRUE(ledger) << to_text(ledger.error());
    EXPECT_EQ(ledger->seconds(), count);
    std::mt19937_64 random(4);
    std::vector<std::vector<io::LedgerFolder::Seconds>> questions{
        {{0, count}}, {{0, count + 999}}, {{3600, 7200}},       {{3599, 7201}}, {{60, 120}},
        {{61, 119}},  {{0, 0}},           {{count - 1, count}}, {{3540, 3660}}, {}};
    for (int i = 0; i < 200; ++i) {
        std::vector<std::int64_t> ends;
        for (int e = 0; e < 6; ++e) ends.push_back(static_cast<std::int64_t>(random() % count));
        std::ranges::sort(ends);
        questions.push_back({{ends[0], ends[1]}, {ends[2], ends[3]}, {ends[4], ends[5]}});
    }
    for (const auto& selected : questions) {
        const auto fast = ledger->tally(0, selected), slow = ledger->tally_of_rows(0, selected);
        ASSERT_TRUE(fast && slow);
        expect_same(*fast, *slow);
        expect_same(*fast, by_the_definition(rows, 100.0, selected));
    }
    // And beside the fold of the rows one by one: sums to rounding, maxima exactly.
    const Ledger whole{.lane = {3, Axis::z, Wk}, .rate_hz = 100.0, .rows = rows};
    const TimeSpan span{1000.0, 17000.0};
    const Tally folded = fold(whole, std::span(&span, 1));
    const io::LedgerFolder::Seconds seconds{1000, 17000};
    const auto tally = ledger->tally(0, std::span(&seconds, 1));
    EXPECT_NEAR(tally->sum_squares / folded.sum_squares, 1.0, 1e-12);
    EXPECT_EQ(tally->linear_rms, folded.linear_rms);
    EXPECT_EQ(tally->samples, folded.samples);
}

TEST(LedgerFolder, AnswersByDayAndByHoursWithoutWhatIsLeftOut)
{
    const ScratchFolder folder;
    const auto rows = made_folder(folder.path("l"), 30'000); // 14 March 22:59:30 to 15 March 07:19:30
    const auto ledger = io::LedgerFolder::open(folder.path("l"));
    ASSERT_TRUE(ledger);
    const auto rms = [&](const std::vector<io::LedgerFolder::Seconds>& selected) {
        const Tally tally = by_the_definition(rows, 100.0, selected);
        return std::sqrt(tally.sum_squares / tally.duration_s);
    };
    const auto by_day = answer(*ledger, {.by_day = true});
    ASSERT_TRUE(by_day) << to_text(by_day.error());
    ASSERT_EQ(by_day->stretches.size(), 2U);
    EXPECT_EQ(by_day->stretches[0].date, "2026-03-14");
    EXPECT_EQ(by_day->stretches[0].seconds, 3630);
    EXPECT_EQ(*by_day->stretches[0].lanes[0].rms, rms({{0, 3630}}));
    EXPECT_EQ(*by_day->stretches[1].lanes[0].rms, rms({{3630, 30'000}}));

    // Night and day, the night over midnight belongs to the day it begins on; 03:00:00 is second 14,430.
    ExcludedSpan left_out;
    left_out.from_s = 14430.2;
    left_out.to_s = 14439.5;
    const auto nights = answer(*ledger, {.hours = {{1320, 360}, {360, 1320}}, .by_day = true, .left_out = {left_out}});
    ASSERT_TRUE(nights);
    ASSERT_EQ(nights->stretches.size(), 2U);
    EXPECT_EQ(nights->stretches[0].date, "2026-03-14");
    EXPECT_EQ(nights->stretches[0].hours, "22:00-06:00");
    EXPECT_EQ(nights->stretches[0].seconds, 25'230 - 10);
    EXPECT_EQ(*nights->stretches[0].lanes[0].rms, rms({{0, 14430}, {14440, 25'230}}));
    EXPECT_EQ(nights->stretches[1].date, "2026-03-15");
    EXPECT_EQ(nights->stretches[1].seconds, 4770);

    const auto all = answer(*ledger, {.span = {100.5, 200.5}});
    ASSERT_TRUE(all);
    EXPECT_EQ(all->stretches[0].seconds, 99);
    EXPECT_EQ(*all->stretches[0].lanes[0].rms, rms({{101, 200}}));
}

TEST(LedgerFolder, DamageIsAProblemAndNeverANumber)
{
    const ScratchFolder folder;
    made_folder(folder.path("l"), 8000);
    const std::string rows = folder.path("l") + "/0001-ch3-z-Wk.npy";
    const std::string whole = content_of(rows);
    for (const std::size_t size : {std::size_t{0}, std::size_t{5}, std::size_t{200}, whole.size() - 1}) {
        std::filesystem::resize_file(rows, size);
        const auto ledger = io::LedgerFolder::open(folder.path("l"));
        EXPECT_FALSE(ledger) << size;
        std::ofstream(rows, std::ios::binary) << whole;
    }
    // Cut behind the back of somebody who asks.
    const auto ledger = io::LedgerFolder::open(folder.path("l"));
    ASSERT_TRUE(ledger);
    std::filesystem::resize_file(rows, whole.size() / 2);
    const io::LedgerFolder::Seconds last{7950, 8000};
    const auto tally = ledger->tally(0, std::span(&last, 1));
    ASSERT_FALSE(tally);
    EXPECT_THAT(to_text(tally.error()), HasSubstr("became shorter"));
    std::ofstream(rows, std::ios::binary) << whole;

    // A channel that no int can hold, and one that is no whole number.
    const std::string index = folder.path("l") + "/index.json", told = content_of(index), channel = "\"channel\": 3";
    ASSERT_THAT(told, HasSubstr(channel));
    for (const char* instead : {"17777777777777777777777777777777777777777777777", "4294967299", "3.5"}) {
        std::string doctored = told;
        doctored.replace(told.find(channel), channel.size(), fmt::format("\"channel\": {}", instead));
        std::ofstream(index) << doctored;
        const auto refused = io::LedgerFolder::open(folder.path("l"));
        ASSERT_FALSE(refused) << instead;
        EXPECT_THAT(to_text(refused.error()), HasSubstr("no whole number"));
    }
    std::ofstream(index) << "{\"lanes\": 3}";
    EXPECT_FALSE(io::LedgerFolder::open(folder.path("l")));
    EXPECT_FALSE(io::LedgerFolder::open(folder.path("nowhere")));
    // Another ledger is never written over.
    EXPECT_FALSE(io::LedgerFolderWriter::create(
        folder.path("l"), {.rate_hz = 100.0, .lanes = {{3, Axis::z, Wk}}, .units = {"m/s2"}, .recorded_unit = "m/s2"}));
}

TEST(LedgerFolder, IsWholeForWhoeverReadsWhileItGrows)
{
    const ScratchFolder folder;
    auto writer = io::LedgerFolderWriter::create(
        folder.path("l"),
        {.file = "-", .rate_hz = 100.0, .lanes = {{1, Axis::z, Wk}}, .units = {"m/s2"}, .recorded_unit = "m/s2"});
    ASSERT_TRUE(writer);
    const auto seconds = [&] {
        const auto ledger = io::LedgerFolder::open(folder.path("l"));
        EXPECT_TRUE(ledger) << to_text(ledger.error());
        return ledger ? ledger->seconds() : -1;
    };
    EXPECT_EQ(seconds(), 0);
    const std::vector<std::vector<LedgerRow>> lanes{std::vector<LedgerRow>(4000, LedgerRow{.samples = 100})};
    ASSERT_TRUE((*writer)->append(lanes));
    EXPECT_EQ(seconds(), 0); // does not count yet
    ASSERT_TRUE((*writer)->commit());
    EXPECT_EQ(seconds(), 4000);
    ASSERT_TRUE((*writer)->append(lanes)); // and whoever wrote is killed here
    writer->reset();
    EXPECT_EQ(seconds(), 4000);
}

// ---- verdicts: those of monitor() and assess() on the same samples in a file ----

constexpr double verdict_rate_hz = 400.0; // both() starts 590 s before midnight
const std::vector<Lane> judged_lanes{{1, Axis::x, Wd}, {2, Axis::y, Wd}, {3, Axis::z, Wk}, {3, Axis::z, Wb}};

// The survey that somebody would write for the file, named as the stream is; its pass is run here.
struct OfFile {
    Survey survey = {};
    AssessOptions options = {};
};

OfFile of_file(const std::string& file, const std::string& name, const LedgerJudging& judging)
{
    OfFile made;
    made.survey.setting = judging.setting;
    made.survey.spaces.push_back({.id = "point", .use = judging.use});
    if (judging.sensor_percent)
        made.survey.sensors.push_back({.id = "sensor", .uncertainty_percent = judging.sensor_percent});
    made.survey.recordings.push_back({.file = name,
                                      .space = "point",
                                      .position = judging.position,
                                      .sensor = judging.sensor_percent ? "sensor" : "",
                                      .channels = {{1, Axis::x}, {2, Axis::y}, {3, Axis::z}},
                                      .start = "2026-01-01T23:50:10+01:00"});
    made.options.criteria = judging.criteria;
    made.options.jobs = 2;
    made.options.passes = [file](std::span<const PassRequest> requests) {
        std::vector<PassRequest> of_file(requests.begin(), requests.end());
        for (PassRequest& request : of_file) request.path = file;
        return run_passes(of_file, {.jobs = 2});
    };
    return made;
}

// Every number of them to the last bit, and every word.
std::string text_of(std::vector<Verdict> verdicts) { return io::as_json(Assessment{.verdicts = std::move(verdicts)}); }

// Of the criterion on the day, as monitor() has it.
std::vector<Verdict> on_day(const MonitorReport& report, const std::string& criterion, const std::string& date)
{
    std::vector<Verdict> verdicts;
    for (const MonitorSeries& series : report.series)
        for (const MonitoredPeriod& period : series.periods)
            if (series.criterion == criterion && period.date == date) verdicts.push_back(period.verdict);
    return verdicts;
}

std::vector<Verdict> of_criterion(const LedgerStretch& stretch, const std::string& criterion)
{
    std::vector<Verdict> verdicts;
    std::ranges::copy_if(stretch.verdicts, std::back_inserter(verdicts),
                         [&](const Verdict& verdict) { return verdict.criterion == criterion; });
    return verdicts;
}

TEST(LedgerVerdicts, AreThoseOfTheSameSamplesInAFileToTheLastBit)
{
    const ScratchFolder folder;
    // Ends inside a second and has a night on both sides of midnight.
    const Both samples = both(folder, 600'140, verdict_rate_hz, judged_lanes);
    const auto ledger = io::LedgerFolder::open(samples.ledger);
    ASSERT_TRUE(ledger) << to_text(ledger.error());
    LedgerJudging judging{.criteria = {"iso2631-1-1997-comfort", "iso2631-1-1997-perception"},
                          .use = "residential",
                          .sensor_percent = 2.0};
    OfFile file = of_file(folder.path("file.recording.toml"), ledger->file(), judging);
    ExcludedSpan left_out;
    left_out.from_s = 700.2;
    left_out.to_s = 800.0;
    file.survey.recordings[0].excluded = {left_out};

    const auto by_day = answer(*ledger, {.by_day = true, .left_out = {left_out}}, shipped_library(), judging);
    ASSERT_TRUE(by_day) << to_text(by_day.error().front());
    ASSERT_EQ(by_day->stretches.size(), 2U);
    const auto monitored = monitor(file.survey, shipped_library(), {.assess = file.options});
    ASSERT_TRUE(monitored) << to_text(monitored.error().front());
    for (const LedgerStretch& stretch : by_day->stretches)
        for (const std::string& criterion : judging.criteria) {
            SCOPED_TRACE(stretch.date + " " + criterion);
            const auto verdicts = of_criterion(stretch, criterion);
            ASSERT_FALSE(verdicts.empty());
            EXPECT_TRUE(verdicts.front().judged) << verdicts.front().why_not;
            EXPECT_TRUE(verdicts.front().expanded_uncertainty.has_value());
            EXPECT_EQ(text_of(verdicts), text_of(on_day(*monitored, criterion, stretch.date)));
        }
    EXPECT_NE(by_day->stretches[0].verdicts[0].value, by_day->stretches[1].verdicts[0].value);

    // All of it as one.
    const auto all = answer(*ledger, {.left_out = {left_out}}, shipped_library(), judging);
    const auto assessed = assess(file.survey, shipped_library(), file.options);
    ASSERT_TRUE(all && assessed);
    auto verdicts = all->stretches[0].verdicts; // criterion by criterion, as assess() has those of one place
    EXPECT_EQ(text_of(verdicts), text_of(assessed->verdicts));

    // A night, whose hours are the criterion's.
    judging.criteria = file.options.criteria = {"bs6472-1-2008-night"};
    const auto nights = answer(*ledger, {.hours = {{23 * 60, 7 * 60}}, .by_day = true, .left_out = {left_out}},
                               shipped_library(), judging);
    const auto nights_of_file = monitor(file.survey, shipped_library(), {.assess = file.options});
    ASSERT_TRUE(nights && nights_of_file);
    ASSERT_EQ(nights->stretches.size(), 1U);
    ASSERT_TRUE(nights->stretches[0].verdicts[0].judged) << nights->stretches[0].verdicts[0].why_not;
    EXPECT_EQ(text_of(nights->stretches[0].verdicts),
              text_of(on_day(*nights_of_file, judging.criteria[0], "2026-01-01")));
}

TEST(LedgerVerdicts, AFaultSpoilsTheDayThatItLiesIn)
{
    const ScratchFolder folder;
    auto channels = three_channels(600'000);
    channels[0][40'000] = std::numeric_limits<double>::quiet_NaN();        // 1 January, 100 s
    for (std::size_t i = 400'000; i < 400'020; ++i) channels[2][i] = 10.0; // 2 January, 1000 s
    const Both samples = both(folder, channels, verdict_rate_hz, judged_lanes);
    const auto ledger = io::LedgerFolder::open(samples.ledger);
    ASSERT_TRUE(ledger) << to_text(ledger.error());
    const LedgerJudging judging{.criteria = {"iso2631-1-1997-comfort"}, .use = "residential"};
    const OfFile file = of_file(folder.path("file.recording.toml"), ledger->file(), judging);
    const auto by_day = answer(*ledger, {.by_day = true}, shipped_library(), judging);
    const auto monitored = monitor(file.survey, shipped_library(), {.assess = file.options});
    ASSERT_TRUE(by_day && monitored);
    ASSERT_EQ(by_day->stretches.size(), 2U);
    EXPECT_THAT(by_day->stretches[0].verdicts[0].why_not, HasSubstr("channel 1 holds samples that are not numbers"));
    EXPECT_THAT(by_day->stretches[1].verdicts[0].why_not, HasSubstr("channel 3 is clipped at 1000.000 s"));
    for (const LedgerStretch& stretch : by_day->stretches)
        EXPECT_EQ(text_of(stretch.verdicts), text_of(on_day(*monitored, judging.criteria[0], stretch.date)));
    EXPECT_FALSE(by_day->stretches[0].lanes[0].rms.has_value());
    EXPECT_TRUE(by_day->stretches[1].lanes[0].rms.has_value());

    // Neither lies in what is left, and so nothing is said of it.
    const auto between = answer(*ledger, {.span = {200.0, 900.0}}, shipped_library(), judging);
    ASSERT_TRUE(between);
    EXPECT_TRUE(between->stretches[0].verdicts[0].judged) << between->stretches[0].verdicts[0].why_not;
    EXPECT_TRUE(
        std::ranges::none_of(between->findings, [](const Finding& one) { return one.severity == Severity::refusal; }));
    // A second that was left out refuses nothing.
    ExcludedSpan left_out;
    left_out.from_s = 100.0;
    left_out.to_s = 101.0;
    const auto without = answer(*ledger, {.by_day = true, .left_out = {left_out}}, shipped_library(), judging);
    ASSERT_TRUE(without);
    EXPECT_TRUE(without->stretches[0].verdicts[0].judged);
    EXPECT_FALSE(without->stretches[1].verdicts[0].judged);
}

TEST(LedgerVerdicts, SayWhatALedgerCannotTell)
{
    const ScratchFolder folder;
    made_folder(folder.path("l"), 8 * 86'400); // a lane z under Wk; its stream has not ended
    const auto ledger = io::LedgerFolder::open(folder.path("l"));
    ASSERT_TRUE(ledger);
    const auto why_not = [&](const std::string& criterion, const LedgerQuestion& question, Setting setting,
                             const std::string& use, Position position = Position::floor) {
        const auto found = answer(*ledger, question, shipped_library(),
                                  {.criteria = {criterion}, .setting = setting, .use = use, .position = position});
        EXPECT_TRUE(found) << to_text(found.error().front());
        EXPECT_FALSE(found->stretches[0].verdicts.empty());
        return found->stretches[0].verdicts.empty() ? "" : found->stretches[0].verdicts[0].why_not;
    };
    const LedgerQuestion hour{.span = {0.0, 3600.0}}, by_day{.by_day = true};
    using enum Setting;
    EXPECT_THAT(why_not("iso6954-2000", hour, vessel, "passenger-cabin"), HasSubstr("its ledger has no lane 3=z:Wm"));
    EXPECT_THAT(why_not("iest-vc-2007-a-b", hour, building, "VC-A"),
                HasSubstr("iest-vc-2007-a-b looks at spectra, which no ledger keeps"));
    EXPECT_THAT(why_not("bs6472-1-2008-night", by_day, building, "residential"),
                HasSubstr("ask for --hours 23:00-07:00"));
    EXPECT_THAT(why_not("bs6472-1-2008-day", {}, building, "residential"),
                HasSubstr("it reaches over 8.0 days, and no more than 7 are judged as one; add --by-day"));
    EXPECT_THAT(why_not("iso2631-1-1997-comfort-feet", hour, building, "residential"),
                HasSubstr("is not for the position floor"));

    const auto found =
        answer(*ledger, hour, shipped_library(), {.criteria = {"iso2631-1-1997-comfort"}, .use = "residential"});
    ASSERT_TRUE(found);
    ASSERT_FALSE(found->findings.empty());
    EXPECT_EQ(found->findings[0].code, "not-ended");
    const auto unknown = answer(*ledger, hour, shipped_library(), {.criteria = {"iso2631"}, .use = "residential"});
    ASSERT_FALSE(unknown);
    EXPECT_THAT(unknown.error().front().what, HasSubstr("there is no criterion \"iso2631\""));
}

} // namespace
} // namespace becalm::evaluators
