// miniSEED 2: the data records of the Standard for the Exchange of Earthquake Data [SEED Reference Manual 2.4, FDSN,
// chapter 8: fixed section of the data header, blockettes 100, 1000 and 1001]. Samples are unpacked by libmseed; the
// headers, which say how much there is to unpack, are read and held against the file here.
//
// Opening goes once through the file and keeps of each record its place and its count: 7 bytes. Channels of one
// instrument at one rate make a recording wherever all of them run without a gap; each such stretch is a part of the
// file, named by its start.
#include <array>
#include <cmath>
#include <cstring>
#include <libmseed.h>
#include <limits>
#include <map>
#include <mutex>
#include <set>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "src/io/raw_bytes.h"
#include "src/io/recording_reader.h"
#include "src/io/regular_file.h"
#include "src/io/stated_text.h"
#include "src/io/utc_time.h"

namespace becalm::io {

namespace {

constexpr std::size_t fixed_header = 48;
constexpr int shortest_record = 7, longest_record = 20; // powers of two
constexpr std::int64_t greatest_records = 50'000'000;
constexpr std::size_t greatest_stretches = 100'000; // without a gap, over all channels
constexpr std::size_t greatest_traces = 4096;
constexpr double same_rate = 1e-4;
constexpr double second_us = 1e6;
constexpr double slowest_hz = 1e-4, fastest_hz = 1e9;

constexpr auto copy_again = "copy it again from the recorder";

Problem bad_file(const std::string& path, std::string what, std::string remedy)
{
    Problem problem;
    problem.file = path;
    problem.what = std::move(what);
    problem.remedy = std::move(remedy);
    return problem;
}

Problem at_byte(const std::string& path, std::int64_t offset, std::string_view what, std::string remedy)
{
    return bad_file(path, fmt::format("the record at byte {}: {}", offset, what), std::move(remedy));
}

struct Coding {
    int number;
    std::string_view name;
    bool integers;
    std::int64_t bytes; // a sample; 0: compressed
};

constexpr std::array<Coding, 6> codings{{{1, "16-bit integer", true, 2},
                                         {3, "32-bit integer", true, 4},
                                         {4, "32-bit float", false, 4},
                                         {5, "64-bit float", false, 8},
                                         {10, "Steim 1 integer", true, 0},
                                         {11, "Steim 2 integer", true, 0}}};

// ---- one record
// --------------------------------------------------------------------------------------------------------

struct Record {
    std::string network, station, location, channel;
    std::int64_t start = 0; // microseconds, corrected
    int samples = 0;
    double rate_hz = 0.0;
    const Coding* coding = nullptr; // null: text, or no series in time
    ByteOrder data_order = ByteOrder::big;
    std::size_t data_begins = 0;
    int length_power = 0;
    int timing_quality = -1; // percent, -1: not stated
    unsigned activity = 0, quality = 0;
    bool corrected = false; // a time correction was added here

    std::size_t length() const { return std::size_t{1} << length_power; }
};

std::optional<ByteOrder> header_order(std::string_view bytes)
{
    for (const ByteOrder order : {ByteOrder::big, ByteOrder::little}) {
        const auto year = number_at<std::uint16_t>(bytes.data() + 20, order);
        const auto day = number_at<std::uint16_t>(bytes.data() + 22, order);
        if (year >= 1900 && year <= 2100 && day >= 1 && day <= 366) return order;
    }
    return std::nullopt;
}

// By the fixed section alone.
bool begins_a_record(std::string_view bytes)
{
    if (bytes.size() < fixed_header) return false;
    for (const char c : bytes.substr(0, 6))
        if (!(c >= '0' && c <= '9') && c != ' ' && c != '\0') return false;
    const auto clock = [&](std::size_t at) { return static_cast<unsigned char>(bytes[at]); };
    return std::string_view("DRQM").find(bytes[6]) != std::string_view::npos && (bytes[7] == ' ' || bytes[7] == '\0') &&
           header_order(bytes) && clock(24) <= 23 && clock(25) <= 59 && clock(26) <= 60;
}

// `bytes` are what the file holds from `offset` on, the longest record at most.
Result<Record> record_in(std::string_view bytes, std::int64_t offset, const std::string& path)
{
    if (bytes.size() < fixed_header) return fail(at_byte(path, offset, "the file ends within its header", copy_again));
    if (!begins_a_record(bytes))
        return fail(at_byte(path, offset, "no data record of miniSEED begins here", "export the data records again"));
    const ByteOrder order = *header_order(bytes);
    const auto u16 = [&](std::size_t at) { return number_at<std::uint16_t>(bytes.data() + at, order); };
    const auto i16 = [&](std::size_t at) { return number_at<std::int16_t>(bytes.data() + at, order); };

    Record r;
    r.station = stated_text(bytes.substr(8, 5));
    r.location = stated_text(bytes.substr(13, 2));
    r.channel = stated_text(bytes.substr(15, 3));
    r.network = stated_text(bytes.substr(18, 2));
    r.samples = u16(30);
    r.rate_hz = ms_nomsamprate(i16(32), i16(34));
    r.activity = static_cast<unsigned char>(bytes[36]);
    r.quality = static_cast<unsigned char>(bytes[38]);
    r.data_begins = u16(44);

    // Each blockette names the place of the next, always further on: the chain ends.
    int coding = -1, microseconds = 0;
    std::size_t at = u16(46), chain_ends = 0;
    for (std::size_t before = fixed_header - 1; at != 0;) {
        if (at <= before || at + 8 > bytes.size())
            return fail(at_byte(path, offset, "its chain of blockettes leads astray", copy_again));
        const auto type = u16(at);
        if (type == 1000) {
            coding = static_cast<unsigned char>(bytes[at + 4]);
            r.data_order = bytes[at + 5] == 0 ? ByteOrder::little : ByteOrder::big;
            r.length_power = static_cast<unsigned char>(bytes[at + 6]);
        } else if (type == 1001) {
            r.timing_quality = static_cast<unsigned char>(bytes[at + 4]);
            microseconds = static_cast<signed char>(bytes[at + 5]);
        } else if (type == 100) {
            const auto actual = static_cast<double>(number_at<float>(bytes.data() + at + 4, order));
            if (actual > 0.0) r.rate_hz = actual;
        }
        before = at + 3;
        chain_ends = at + 8;
        at = u16(at + 2);
    }
    if (r.length_power == 0 && coding < 0)
        return fail(at_byte(path, offset, "it has no blockette 1000, which tells its length and coding",
                            "export it as miniSEED"));
    if (r.length_power < shortest_record || r.length_power > longest_record)
        return fail(at_byte(path, offset,
                            fmt::format("its length is stated as 2^{} bytes; 2^{} to 2^{} are read", r.length_power,
                                        shortest_record, longest_record),
                            "export it again"));
    if (chain_ends > r.length()) return fail(at_byte(path, offset, "its chain of blockettes leads astray", copy_again));
    if (r.length() > bytes.size())
        return fail(at_byte(path, offset,
                            fmt::format("{} bytes are stated, the file ends after {}", r.length(), bytes.size()),
                            copy_again));

    const auto start = moment_of(u16(20), u16(22), static_cast<unsigned char>(bytes[24]),
                                 static_cast<unsigned char>(bytes[25]), static_cast<unsigned char>(bytes[26]), 0);
    if (!start || u16(28) > 9999) return fail(at_byte(path, offset, "its start is no time", copy_again));
    r.start = *start + 100 * std::int64_t{u16(28)} + microseconds;
    const auto correction = number_at<std::int32_t>(bytes.data() + 40, order);
    constexpr unsigned correction_applied = 0x02;
    if (correction != 0 && (r.activity & correction_applied) == 0) {
        r.start += 100 * std::int64_t{correction};
        r.corrected = true;
    }

    constexpr int text = 0;
    if (coding == text || r.samples == 0 || r.rate_hz == 0.0) return r; // a log, an event, a state of health
    // Slower, and one damaged record would last longer than there are dates.
    if (!(r.rate_hz >= slowest_hz && r.rate_hz <= fastest_hz))
        return fail(at_byte(path, offset,
                            fmt::format("its rate is {} Hz; {} to {} Hz are read", r.rate_hz, slowest_hz, fastest_hz),
                            "export it again"));
    const auto known = std::ranges::find(codings, coding, &Coding::number);
    if (known == codings.end())
        return fail(at_byte(path, offset, fmt::format("its samples have coding {}, which is not read", coding),
                            "export it as Steim, integer or floating-point samples"));
    r.coding = &*known;
    if (r.data_begins < fixed_header || r.data_begins >= r.length())
        return fail(at_byte(path, offset, fmt::format("its data begin at {} of {} bytes", r.data_begins, r.length()),
                            copy_again));
    // A frame of Steim's has 64 bytes: a word of control and 15 of at most seven differences.
    const auto room = static_cast<std::int64_t>(r.length() - r.data_begins);
    const std::int64_t most = r.coding->bytes > 0 ? room / r.coding->bytes : room / 64 * 15 * 7;
    if (r.samples > most)
        return fail(at_byte(path, offset, fmt::format("it states {} samples, and has room for {}", r.samples, most),
                            copy_again));
    return r;
}

// libmseed prints what it thinks unless told otherwise; what matters of it is said by a Problem.
void silence_the_library()
{
    static std::once_flag once;
    std::call_once(once, [] {
        const auto silent = [](char*) {};
        ms_loginit(silent, nullptr, silent, nullptr);
    });
}

Result<void> unpack(std::vector<char>& bytes, const Record& r, std::int64_t offset, const std::string& path,
                    std::vector<double>& values)
{
    silence_the_library();
    struct Free {
        void operator()(MSRecord* record) const { msr_free(&record); }
    };
    MSRecord* raw = nullptr;
    const int error = msr_unpack(bytes.data(), static_cast<int>(r.length()), &raw, 1, 0);
    const std::unique_ptr<MSRecord, Free> record(raw);
    if (error != MS_NOERROR || record == nullptr || record->datasamples == nullptr || record->numsamples != r.samples)
        return fail(at_byte(path, offset,
                            fmt::format("its {} samples ({}) cannot be unpacked", r.samples, r.coding->name),
                            copy_again));
    const auto count = static_cast<std::size_t>(r.samples);
    values.resize(count);
    const auto take = [&]<class T>(const T* samples) {
        for (std::size_t i = 0; i < count; ++i) values[i] = static_cast<double>(samples[i]);
    };
    switch (record->sampletype) {
    case 'i': take(static_cast<const std::int32_t*>(record->datasamples)); break;
    case 'f': take(static_cast<const float*>(record->datasamples)); break;
    case 'd': take(static_cast<const double*>(record->datasamples)); break;
    default: return fail(at_byte(path, offset, "its samples are text", copy_again));
    }
    if (r.coding->bytes == 0) {
        // The first frame states the first and the last sample, which differences must lead to.
        const auto first = number_at<std::int32_t>(bytes.data() + r.data_begins + 4, r.data_order);
        const auto last = number_at<std::int32_t>(bytes.data() + r.data_begins + 8, r.data_order);
        if (values.front() != first || values.back() != last)
            return fail(at_byte(
                path, offset,
                fmt::format("it is damaged: it states {} as its last sample and unpacks to {}", last, values.back()),
                copy_again));
    }
    return {};
}

// ---- stretches without a gap
// -------------------------------------------------------------------------------------------

// Places and counts of records, and the way from a frame to its record.
class RecordList {
public:
    void add(std::int64_t offset, int power, int samples)
    {
        if (places_.size() % a_base == 0) bases_.push_back(frames_);
        places_.push_back(static_cast<std::uint32_t>(offset >> shortest_record));
        powers_.push_back(static_cast<std::uint8_t>(power));
        counts_.push_back(static_cast<std::uint16_t>(samples));
        frames_ += samples;
    }

    void append(const RecordList& other)
    {
        for (std::size_t i = 0; i < other.places_.size(); ++i) add(other.offset(i), other.powers_[i], other.counts_[i]);
    }

    std::int64_t frames() const { return frames_; }
    std::int64_t offset(std::size_t record) const { return std::int64_t{places_[record]} << shortest_record; }
    std::size_t length(std::size_t record) const { return std::size_t{1} << powers_[record]; }
    int samples(std::size_t record) const { return counts_[record]; }

    struct Place {
        std::size_t record = 0;
        std::int64_t first = 0; // frame
    };
    Place place_of(std::int64_t frame) const
    {
        const auto base = std::upper_bound(bases_.begin(), bases_.end(), frame) - bases_.begin() - 1;
        Place place{static_cast<std::size_t>(base) * a_base, bases_[static_cast<std::size_t>(base)]};
        while (place.first + counts_[place.record] <= frame) place.first += counts_[place.record++];
        return place;
    }

private:
    static constexpr std::size_t a_base = 256;
    std::vector<std::uint32_t> places_; // in units of the shortest record
    std::vector<std::uint8_t> powers_;
    std::vector<std::uint16_t> counts_;
    std::vector<std::int64_t> bases_; // the first frame of every 256th record
    std::int64_t frames_ = 0;
};

struct Stretch {
    std::int64_t start = 0; // of its first record, microseconds
    double rate_hz = 0.0;
    const Coding* coding = nullptr;
    RecordList records = {};
    std::int64_t end = 0;        // of its last record: where the next sample would be
    std::int64_t last_start = 0; // of its last record,
    std::int64_t last_frame = 0; // and its first frame
    std::int64_t skipped = 0;    // frames at its beginning that another stretch has already
    int least_quality = 101, greatest_quality = -1;
    unsigned activity = 0, quality = 0;
    bool corrected = false;

    double moment(std::int64_t frame) const
    {
        return static_cast<double>(start) + static_cast<double>(frame) / rate_hz * second_us;
    }
    std::int64_t frames() const { return records.frames(); }

    bool goes_on_with(const Stretch& next) const
    {
        return coding->integers == next.coding->integers && std::abs(1.0 - next.rate_hz / rate_hz) < same_rate &&
               std::abs(static_cast<double>(next.start - end)) <= 0.5 / rate_hz * second_us;
    }

    void go_on_with(const Stretch& next)
    {
        last_start = next.last_start;
        last_frame = frames() + next.last_frame;
        records.append(next.records);
        end = next.end;
        least_quality = std::min(least_quality, next.least_quality);
        greatest_quality = std::max(greatest_quality, next.greatest_quality);
        activity |= next.activity;
        quality |= next.quality;
        corrected = corrected || next.corrected;
    }
};

struct Trace {
    std::string instrument; // "NET.STA.LOC.HN"
    std::string channel;    // "HNZ"
    std::vector<Stretch> stretches = {};
    double overlap_s = 0.0; // left out
    int gaps = 0;
};

struct Contents {
    std::vector<Trace> traces = {};
    std::int64_t others = 0; // records of text, or of no series in time
};

class Scanner {
public:
    Scanner(const OpenedFile& file, const std::string& path) : file_(file), path_(path) {}

    Result<Contents> scan()
    {
        std::int64_t records = 0;
        for (std::int64_t offset = 0; offset < file_.size;) {
            auto bytes = window(offset);
            if (!bytes) return fail(bytes.error());
            auto record = record_in(*bytes, offset, path_);
            if (!record) return fail(record.error());
            if (++records > greatest_records)
                return fail(bad_file(path_, fmt::format("it has more than {} records", greatest_records),
                                     "split it into several files"));
            if (record->coding == nullptr)
                ++contents_.others;
            else if (auto fault = add(*record, offset))
                return fail(std::move(*fault));
            offset += static_cast<std::int64_t>(record->length());
        }
        for (Trace& trace : contents_.traces) put_in_order(trace);
        return std::move(contents_);
    }

private:
    // From `offset` on, the longest record at most.
    Result<std::string_view> window(std::int64_t offset)
    {
        const auto longest = std::min<std::int64_t>(std::int64_t{1} << longest_record, file_.size - offset);
        if (offset < base_ || offset + longest > base_ + static_cast<std::int64_t>(filled_)) {
            constexpr std::int64_t block = std::int64_t{4} << longest_record;
            window_.resize(static_cast<std::size_t>(std::min(block, file_.size)));
            const auto got = read_bytes_at(file_.handle, path_, offset, window_);
            if (!got) return fail(got.error());
            base_ = offset;
            filled_ = *got;
        }
        const auto begin = static_cast<std::size_t>(offset - base_);
        return std::string_view(window_.data() + begin, std::min(filled_ - begin, static_cast<std::size_t>(longest)));
    }

    std::optional<Problem> add(const Record& record, std::int64_t offset)
    {
        const std::string instrument =
            fmt::format("{}.{}.{}.{}", record.network, record.station, record.location, record.channel.substr(0, 2));
        const auto [found, added] = by_name_.try_emplace(instrument + '\n' + record.channel, contents_.traces.size());
        if (added) {
            if (contents_.traces.size() == greatest_traces)
                return bad_file(path_, fmt::format("it has more than {} channels", greatest_traces),
                                "split it into several files");
            contents_.traces.push_back({.instrument = instrument, .channel = record.channel});
        }
        Trace& trace = contents_.traces[found->second];
        Stretch one{.start = record.start, .rate_hz = record.rate_hz, .coding = record.coding};
        one.end = record.start + std::llround(record.samples / record.rate_hz * second_us);
        one.last_start = record.start;
        if (record.timing_quality >= 0) one.least_quality = one.greatest_quality = record.timing_quality;
        one.activity = record.activity;
        one.quality = record.quality;
        one.corrected = record.corrected;
        one.records.add(offset, record.length_power, record.samples);
        if (!trace.stretches.empty() && trace.stretches.back().goes_on_with(one)) {
            trace.stretches.back().go_on_with(one);
            return std::nullopt;
        }
        if (++stretches_ > greatest_stretches)
            return bad_file(path_, fmt::format("it has more than {} gaps", greatest_stretches),
                            "split it into several files, or repair the times of its records");
        trace.stretches.push_back(std::move(one));
        return std::nullopt;
    }

    // Records may come in any order, and may come twice.
    static void put_in_order(Trace& trace)
    {
        std::ranges::stable_sort(trace.stretches, {}, &Stretch::start);
        std::vector<Stretch> ordered;
        for (Stretch& next : trace.stretches) {
            if (!ordered.empty() && ordered.back().goes_on_with(next)) {
                ordered.back().go_on_with(next);
                continue;
            }
            if (!ordered.empty()) {
                const double behind = static_cast<double>(next.start - ordered.back().end) / second_us;
                if (behind < 0.0) {
                    const double late = std::ceil(-behind * next.rate_hz - 0.5);
                    next.skipped = static_cast<std::int64_t>(std::clamp(late, 0.0, static_cast<double>(next.frames())));
                    trace.overlap_s += static_cast<double>(next.skipped) / next.rate_hz;
                    if (next.skipped == next.frames()) continue;
                } else {
                    ++trace.gaps;
                }
            }
            ordered.push_back(std::move(next));
        }
        trace.stretches = std::move(ordered);
    }

    const OpenedFile& file_;
    const std::string& path_;
    std::vector<char> window_;
    std::int64_t base_ = 0;
    std::size_t filled_ = 0;
    Contents contents_;
    std::map<std::string, std::size_t> by_name_;
    std::size_t stretches_ = 0;
};

// ---- recordings
// --------------------------------------------------------------------------------------------------------

struct ChannelOfPart {
    const Trace* trace = nullptr;
    const Stretch* stretch = nullptr;
    std::int64_t first = 0; // frame of the stretch
};

struct Part {
    std::vector<ChannelOfPart> channels = {};
    std::int64_t frames = 0;
    std::int64_t start = 0;
    double offset_samples = 0.0; // by which channels are apart at most
    std::string name = {};
};

using Instrument = std::vector<const Trace*>;

// Wherever all channels run: the latest beginning and the earliest end of the stretches at hand, then on from that end.
std::vector<Part> common_parts(const Instrument& instrument)
{
    std::vector<Part> parts;
    std::vector<std::size_t> at(instrument.size(), 0);
    for (;;) {
        double begin = -std::numeric_limits<double>::infinity(), end = std::numeric_limits<double>::infinity();
        std::size_t earliest = 0;
        bool alike = true;
        for (std::size_t c = 0; c < instrument.size(); ++c) {
            const Stretch& s = instrument[c]->stretches[at[c]];
            const Stretch& reference = instrument[0]->stretches[at[0]];
            begin = std::max(begin, s.moment(s.skipped));
            if (s.moment(s.frames()) < end) end = s.moment(s.frames()), earliest = c;
            alike = alike && s.coding->integers == reference.coding->integers &&
                    std::abs(1.0 - s.rate_hz / reference.rate_hz) < same_rate;
        }
        if (alike && end > begin) {
            Part part{.frames = std::numeric_limits<std::int64_t>::max(), .start = std::llround(begin)};
            for (std::size_t c = 0; c < instrument.size(); ++c) {
                const Stretch& s = instrument[c]->stretches[at[c]];
                const double frame = (begin - static_cast<double>(s.start)) * s.rate_hz / second_us;
                const std::int64_t first = std::llround(frame);
                part.offset_samples = std::max(part.offset_samples, std::abs(frame - static_cast<double>(first)));
                part.channels.push_back({instrument[c], &s, first});
                part.frames = std::min(part.frames, s.frames() - first);
            }
            if (part.frames > 0) parts.push_back(std::move(part));
        }
        if (++at[earliest] == instrument[earliest]->stretches.size()) return parts;
    }
}

std::vector<Part> parts_of_contents(const Contents& contents)
{
    std::map<std::string, Instrument> instruments;
    for (const Trace& trace : contents.traces) {
        if (trace.stretches.empty()) continue;
        const Stretch& first = trace.stretches.front();
        instruments[fmt::format("{}\n{:.4g}\n{}", trace.instrument, first.rate_hz, first.coding->integers)].push_back(
            &trace);
    }
    std::vector<Part> parts;
    std::set<std::string> names;
    for (auto& [name, instrument] : instruments) {
        std::ranges::sort(instrument, {}, [](const Trace* trace) { return trace->channel; });
        std::vector<Part> found = common_parts(instrument);
        // Channels that never run together are recordings of their own.
        if (found.empty() && instrument.size() > 1)
            for (const Trace* trace : instrument)
                for (Part& part : common_parts({trace})) found.push_back(std::move(part));
        for (Part& part : found) {
            part.name = iso_time(part.start) + "Z";
            if (instruments.size() > 1) part.name = part.channels[0].trace->instrument + "/" + part.name;
            if (names.contains(part.name)) part.name += "/" + part.channels[0].trace->channel;
            for (int n = 2; names.contains(part.name); ++n) part.name += fmt::format("/{}", n);
            names.insert(part.name);
            parts.push_back(std::move(part));
        }
    }
    return parts;
}

std::string codes_of(const Part& part)
{
    std::string codes;
    for (const ChannelOfPart& channel : part.channels) codes += (codes.empty() ? "" : ", ") + channel.trace->channel;
    return codes;
}

std::vector<RecordingPart> told(const std::vector<Part>& parts)
{
    std::vector<RecordingPart> list;
    for (const Part& part : parts) {
        const double rate = part.channels[0].stretch->rate_hz;
        list.push_back({.name = part.name,
                        .says = fmt::format("{}, {:.6g} Hz, {:.6g} s", codes_of(part), rate,
                                            static_cast<double>(part.frames) / rate)});
    }
    return list;
}

// What the codes of a channel say of the instrument [SEED Reference Manual 2.4, appendix A: channel naming].
std::string_view instrument_of(const std::string& channel)
{
    switch (channel.size() > 1 ? channel[1] : ' ') {
    case 'N': return "an accelerometer";
    case 'H': return "a seismometer of high gain, which gives velocity";
    case 'L': return "a seismometer of low gain, which gives velocity";
    case 'G': return "a gravimeter or an accelerometer";
    default: return "";
    }
}

RecordingInfo info_of(const Part& part, const Contents& contents)
{
    const ChannelOfPart& first = part.channels.front();
    RecordingInfo info;
    info.format = fmt::format("miniSEED, {}", first.stretch->coding->name);
    info.rate_hz = first.stretch->rate_hz;
    info.channels = static_cast<int>(part.channels.size());
    info.frames = part.frames;
    info.integer_pcm = first.stretch->coding->integers;
    info.step = info.integer_pcm ? 1.0 : 0.0;
    info.start = iso_time(part.start) + "Z";
    const auto remark = [&](std::string text) { info.remarks.push_back(std::move(text)); };

    std::string source = first.trace->instrument;
    source.erase(source.rfind('.'));
    const std::string_view instrument = instrument_of(first.trace->channel);
    remark(fmt::format("The source is {} (network.station.location), channel{} {}{}{}.", source,
                       part.channels.size() == 1 ? "" : "s", codes_of(part),
                       instrument.empty() ? "" : ": by the codes ", instrument));
    remark("miniSEED states no unit and no sensitivity; both stand in what goes with the station.");
    if (contents.others > 0)
        remark(fmt::format("{} record{} of text or without a rate {} passed over.", contents.others,
                           contents.others == 1 ? "" : "s", contents.others == 1 ? "is" : "are"));
    if (part.offset_samples > 0.01)
        remark(fmt::format("The channels are sampled up to {:.2f} of a sample apart; they are taken for simultaneous.",
                           part.offset_samples));

    int least = 101, greatest = -1;
    unsigned activity = 0, quality = 0;
    bool corrected = false;
    for (const ChannelOfPart& channel : part.channels) {
        const Stretch& s = *channel.stretch;
        const Trace& trace = *channel.trace;
        info.names.push_back(trace.channel);
        info.facts.push_back({.direction = trace.channel.size() == 3 ? trace.channel.substr(2) : std::string()});
        least = std::min(least, s.least_quality);
        greatest = std::max(greatest, s.greatest_quality);
        activity |= s.activity;
        quality |= s.quality;
        corrected = corrected || s.corrected;
        if (trace.gaps > 0)
            remark(fmt::format("{} has {} gap{} in this file; each stretch without one is a recording of its own.",
                               trace.channel, trace.gaps, trace.gaps == 1 ? "" : "s"));
        if (trace.overlap_s > 0.0)
            remark(fmt::format("Records of {} overlap by {:.6g} s; the earlier were kept.", trace.channel,
                               trace.overlap_s));
        const double outside = static_cast<double>(s.frames() - s.skipped - part.frames) / s.rate_hz;
        if (outside > 0.0)
            remark(fmt::format("{} runs {:.6g} s longer than the recording, which has what all channels have.",
                               trace.channel, outside));
        const double drift = (static_cast<double>(s.last_start) - s.moment(s.last_frame)) / second_us;
        if (info.timed_rate.hz == 0.0 && s.last_frame > 0 && s.last_start > s.start) {
            const double seconds = static_cast<double>(s.last_start - s.start) / second_us;
            constexpr double resolution_s = 1e-4; // of the fixed part of a record's header
            info.timed_rate = {.hz = static_cast<double>(s.last_frame) / seconds,
                               .relative = resolution_s / seconds,
                               .by = "the times of its records"};
        }
        if (std::abs(drift) > 0.5 / s.rate_hz)
            remark(fmt::format(
                "By the times of its records {} runs at {:.9g} Hz, not at the {:.9g} Hz stated ({:.3g} s "
                "in {:.6g} s); the latter is taken.",
                trace.channel,
                static_cast<double>(s.last_frame) / (static_cast<double>(s.last_start - s.start) / second_us),
                s.rate_hz, drift, static_cast<double>(s.last_frame) / s.rate_hz));
    }
    // Of the first channel, which stands for the others.
    for (const Stretch& other : first.trace->stretches) {
        const Stretch& s = *first.stretch;
        const double behind = static_cast<double>(other.start - s.end) / second_us;
        const double before = static_cast<double>(s.start - other.end) / second_us;
        if (&other > &s && behind > 0.0 && (info.gaps.empty() || info.gaps.back().at_s < 0.0))
            info.gaps.push_back({static_cast<double>(s.end - part.start) / second_us, behind});
        if (&other + 1 == &s && before > 0.0) info.gaps.push_back({-before, before});
    }
    if (greatest >= 0)
        remark(least == greatest ? fmt::format("The recorder states a timing quality of {} %.", least)
                                 : fmt::format("The recorder states a timing quality of {} to {} %.", least, greatest));
    if (corrected) remark("The corrections of time that its records state were added.");
    constexpr std::array<std::pair<unsigned, std::string_view>, 3> of_activity{
        {{0x01, "calibration signals"}, {0x10, "a leap second added"}, {0x20, "a leap second taken out"}}};
    constexpr std::array<std::pair<unsigned, std::string_view>, 8> of_quality{{{0x01, "saturation of the amplifier"},
                                                                               {0x02, "clipping of the digitizer"},
                                                                               {0x04, "spikes"},
                                                                               {0x08, "glitches"},
                                                                               {0x10, "missing or padded data"},
                                                                               {0x20, "errors of telemetry"},
                                                                               {0x40, "a filter that was settling"},
                                                                               {0x80, "questionable times"}}};
    std::string flagged;
    for (const auto& [flags, known] :
         {std::pair(activity, std::span<const std::pair<unsigned, std::string_view>>(of_activity)),
          std::pair(quality, std::span<const std::pair<unsigned, std::string_view>>(of_quality))})
        for (const auto& [bit, words] : known)
            if ((flags & bit) != 0) flagged += (flagged.empty() ? "" : ", ") + std::string(words);
    if (!flagged.empty()) remark(fmt::format("The recorder flags {}.", flagged));
    return info;
}

class MiniseedReader final : public RecordingReader {
public:
    struct Channel {
        RecordList records;
        std::int64_t first = 0; // frame
    };

    MiniseedReader(std::string path, FileHandle handle, std::vector<Channel> channels, RecordingInfo info)
        : path_(std::move(path)), handle_(std::move(handle)), channels_(std::move(channels)), info_(std::move(info)),
          unpacked_(channels_.size())
    {
    }

    const RecordingInfo& info() const override { return info_; }

    Result<std::size_t> read(std::span<double> values) override
    {
        const std::size_t channels = channels_.size();
        const std::size_t frames = std::min(values.size() / channels, static_cast<std::size_t>(info_.frames - next_));
        for (std::size_t c = 0; c < channels; ++c) {
            Unpacked& record = unpacked_[c];
            for (std::size_t i = 0; i < frames;) {
                const std::int64_t frame = channels_[c].first + next_ + static_cast<std::int64_t>(i);
                if (frame < record.first || frame >= record.end())
                    if (auto loaded = load(channels_[c].records, frame, record); !loaded) return fail(loaded.error());
                const auto in_record = static_cast<std::size_t>(frame - record.first);
                const std::size_t run = std::min(frames - i, record.values.size() - in_record);
                for (std::size_t k = 0; k < run; ++k) values[(i + k) * channels + c] = record.values[in_record + k];
                i += run;
            }
        }
        next_ += static_cast<std::int64_t>(frames);
        return frames;
    }

    Result<void> seek(std::int64_t frame) override
    {
        if (frame < 0 || frame > info_.frames)
            return fail(bad_file(path_, fmt::format("frame {} of {} cannot be reached", frame + 1, info_.frames),
                                 "ask for a frame within the recording"));
        next_ = frame;
        return {};
    }

private:
    struct Unpacked {
        std::int64_t first = 0;
        std::vector<double> values = {};
        std::int64_t end() const { return first + static_cast<std::int64_t>(values.size()); }
    };

    Result<void> load(const RecordList& records, std::int64_t frame, Unpacked& unpacked)
    {
        unpacked.values.clear();
        const auto place = records.place_of(frame);
        const std::int64_t offset = records.offset(place.record);
        bytes_.resize(records.length(place.record));
        const auto got = read_bytes_at(handle_, path_, offset, bytes_);
        if (!got) return fail(got.error());
        const auto record = record_in({bytes_.data(), *got}, offset, path_);
        if (!record) return fail(record.error());
        if (record->coding == nullptr || record->samples != records.samples(place.record))
            return fail(bad_file(path_, "the file changed while it was read", "read it again"));
        auto done = unpack(bytes_, *record, offset, path_, unpacked.values);
        if (!done) {
            unpacked.values.clear();
            return done;
        }
        unpacked.first = place.first;
        return {};
    }

    std::string path_;
    FileHandle handle_;
    std::vector<Channel> channels_;
    RecordingInfo info_;
    std::vector<Unpacked> unpacked_;
    std::vector<char> bytes_;
    std::int64_t next_ = 0; // frame
};

// True where the content is ours to read; relatives are refused.
Result<bool> is_miniseed(const OpenedFile& file, const std::string& path)
{
    std::array<char, fixed_header> head{};
    const auto got = read_bytes_at(file.handle, path, 0, head);
    if (!got) return fail(got.error());
    const std::string_view bytes(head.data(), *got);
    if (bytes.substr(0, 3) == "MS\x03")
        return fail(bad_file(path, "this is miniSEED 3; miniSEED 2 is read", "export it as miniSEED 2"));
    if (bytes.size() == fixed_header && bytes.substr(0, 8) == "000001V " && bytes.substr(8, 3) == "010")
        return fail(bad_file(path, "this is a full SEED volume; miniSEED is read", "export its data records"));
    return begins_a_record(bytes);
}

} // namespace

Result<std::unique_ptr<RecordingReader>> open_miniseed(const std::string& path, const ReadOptions& options)
{
    auto opened = open_regular_file(path);
    if (!opened) return fail(opened.error());
    const auto ours = is_miniseed(*opened, path);
    if (!ours) return fail(ours.error());
    if (!*ours) return nullptr;
    const auto contents = Scanner(*opened, path).scan();
    if (!contents) return fail(contents.error());
    const std::vector<Part> parts = parts_of_contents(*contents);
    if (parts.empty()) return fail(bad_file(path, "it holds records of text alone", "export the samples"));
    const auto chosen = chosen_part(path, told(parts), options.part);
    if (!chosen) return fail(chosen.error());
    const Part& part = parts[*chosen];
    std::vector<MiniseedReader::Channel> channels;
    for (const ChannelOfPart& channel : part.channels) channels.push_back({channel.stretch->records, channel.first});
    return std::make_unique<MiniseedReader>(path, std::move(opened->handle), std::move(channels),
                                            info_of(part, *contents));
}

Result<std::vector<RecordingPart>> parts_of_miniseed(const std::string& path)
{
    auto opened = open_regular_file(path);
    if (!opened) return fail(opened.error());
    const auto ours = is_miniseed(*opened, path);
    if (!ours) return fail(ours.error());
    if (!*ours) return std::vector<RecordingPart>{};
    const auto contents = Scanner(*opened, path).scan();
    if (!contents) return fail(contents.error());
    return told(parts_of_contents(*contents));
}

} // namespace becalm::io
