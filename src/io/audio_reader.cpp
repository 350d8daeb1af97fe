// WAV (also big-endian, RIFX), RF64, BW64, W64, AIFF, CAF and FLAC through libsndfile.
//
// libsndfile shortens a recording whose data end early without a word. A copy that broke off must not pass for a whole
// recording, so the chunks of all but FLAC are walked here first: layouts from the RIFF and WAVE description of
// Microsoft and IBM (1991), EBU Tech 3306 (RF64), ITU-R BS.2088 (BW64), the Sony Wave64 file description, Apple's AIFF
// 1.3 (1989) with AIFF-C (1991) and Core Audio Format specification 1.0. The last two have rates that are no whole
// numbers, which are taken from here because libsndfile rounds them.
#include <algorithm>
#include <array>
#include <bit>
#include <charconv>
#include <cmath>
#include <cstring>
#include <limits>
#include <sndfile.h>
#include <string_view>
#include <unistd.h>

#include <fmt/format.h>
#include <sys/stat.h>

#include "src/io/recording_reader.h"
#include "src/io/regular_file.h"
#include "src/io/stated_text.h"

namespace becalm::io {

namespace {

constexpr int greatest_channels = 256;

enum class Container { none, riff, rifx, rf64, bw64, w64, aiff, caf, flac };

using Bytes = std::string_view;

// The sixteen bytes by which Wave64 names its chunks: four letters and a tail common to all but the first.
constexpr Bytes w64_riff{"riff\x2e\x91\xcf\x11\xa5\xd6\x28\xdb\x04\xc1\x00\x00", 16};
constexpr Bytes w64_tail{"\xf3\xac\xd3\x11\x8c\xd1\x00\xc0\x4f\x8e\xdb\x8a", 12};

Problem bad_file(const std::string& path, std::string what, std::string remedy)
{
    Problem problem;
    problem.file = path;
    problem.what = std::move(what);
    problem.remedy = std::move(remedy);
    return problem;
}

constexpr auto copy_again = "copy it again from the recorder";

std::uint64_t little_endian(Bytes bytes)
{
    std::uint64_t value = 0;
    for (auto byte = bytes.rbegin(); byte != bytes.rend(); ++byte)
        value = value << 8 | static_cast<unsigned char>(*byte);
    return value;
}

std::uint64_t big_endian(Bytes bytes)
{
    std::uint64_t value = 0;
    for (const char byte : bytes) value = value << 8 | static_cast<unsigned char>(byte);
    return value;
}

// A file that begins like one of ours but is too short to say more counts as ours, so that it is called cut off.
Container container_of(Bytes head)
{
    const auto begins = [&](Bytes magic) { return head.substr(0, magic.size()) == magic; };
    const bool wave = head.size() < 12 || head.substr(8, 4) == "WAVE";
    if (begins("RIFF") && wave) return Container::riff;
    if (begins("RIFX") && wave) return Container::rifx;
    if (begins("RF64") && wave) return Container::rf64;
    if (begins("BW64") && wave) return Container::bw64;
    const bool aiff = head.size() < 12 || head.substr(8, 4) == "AIFF" || head.substr(8, 4) == "AIFC";
    if (begins("FORM") && aiff) return Container::aiff;
    if (begins("caff") && (head.size() < 8 || head.substr(4, 4) == Bytes("\0\1\0\0", 4))) return Container::caf;
    if (begins("riff") && head.substr(0, 16) == w64_riff.substr(0, head.size())) return Container::w64;
    if (begins("fLaC")) return Container::flac;
    return Container::none;
}

struct WaveHeader {
    int channels = 0;
    double rate_hz = 0.0;
    std::int64_t frame_bytes = 0;          // as channels and bits a sample say
    std::int64_t data_begins = 0;          // byte in the file
    std::optional<std::uint64_t> promised; // bytes of data; none where the recorder left it open
};

class WaveHeaderReader {
public:
    WaveHeaderReader(const OpenedFile& file, const std::string& path, Container container)
        : file_(file), path_(path), container_(container)
    {
    }

    Result<WaveHeader> read()
    {
        if (container_ == Container::aiff) return read_aiff();
        if (container_ == Container::caf) return read_caf();
        const bool w64 = container_ == Container::w64;
        const std::int64_t chunk_head = w64 ? 24 : 8;
        std::int64_t at = w64 ? 40 : 12;
        std::optional<std::uint64_t> size_of_rf64_data;
        bool format_seen = false;
        WaveHeader header;
        for (;;) {
            const std::string head = bytes_at(at, static_cast<std::size_t>(chunk_head));
            if (std::cmp_less(head.size(), chunk_head)) return fail(cut_off(format_seen));
            std::string name = head.substr(0, 4);
            if (w64 && Bytes(head).substr(4, 12) != w64_tail) name.clear(); // a chunk that is none of our business
            std::uint64_t size = number(Bytes(head).substr(w64 ? 16 : 4, w64 ? 8 : 4));
            if (w64) {
                if (size < 24) return fail(cut_off(format_seen));
                size -= 24;
            }
            const std::int64_t body = at + chunk_head;
            if (name == "fmt ") {
                const std::string format = bytes_at(body, 16);
                if (format.size() < 16 || size < 16) return fail(cut_off(false));
                header.channels = static_cast<int>(number(Bytes(format).substr(2, 2)));
                header.rate_hz = static_cast<double>(number(Bytes(format).substr(4, 4)));
                const auto bits = static_cast<std::int64_t>(number(Bytes(format).substr(14, 2)));
                header.frame_bytes = header.channels * ((bits + 7) / 8);
                format_seen = true;
            } else if (name == "ds64" && (container_ == Container::rf64 || container_ == Container::bw64)) {
                const std::string sizes = bytes_at(body, 16);
                if (sizes.size() < 16) return fail(cut_off(false));
                size_of_rf64_data = little_endian(Bytes(sizes).substr(8, 8));
            } else if (name == "data") {
                if (!format_seen) return fail(cut_off(false));
                header.data_begins = body;
                header.promised = size;
                const bool left_open = !w64 && size == 0xFFFFFFFFU;
                if (left_open) header.promised = size_of_rf64_data; // none in a plain WAV
                return header;
            }
            if (size > static_cast<std::uint64_t>(file_.size)) return fail(cut_off(format_seen));
            const std::int64_t multiple = w64 ? 8 : 2; // chunks are padded
            at = body + (static_cast<std::int64_t>(size) + multiple - 1) / multiple * multiple;
        }
    }

private:
    std::uint64_t number(Bytes bytes) const
    {
        return container_ == Container::rifx ? big_endian(bytes) : little_endian(bytes);
    }

    Problem cut_off(bool format_seen) const
    {
        if (fault_) return *fault_;
        const char* format = container_ == Container::aiff ? "COMM" : container_ == Container::caf ? "desc" : "fmt";
        const char* data = container_ == Container::aiff ? "SSND" : "data";
        return bad_file(path_,
                        fmt::format("the header is cut off or damaged: no {} chunk in its {} bytes",
                                    format_seen ? data : format, file_.size),
                        copy_again);
    }

    // Chunks in any order, big-endian; the samples may come before their description.
    Result<WaveHeader> read_aiff()
    {
        bool format_seen = false;
        bool data_seen = false;
        WaveHeader header;
        for (std::int64_t at = 12; !(format_seen && data_seen);) {
            const std::string head = bytes_at(at, 8);
            if (head.size() < 8) return fail(cut_off(format_seen));
            const Bytes name = Bytes(head).substr(0, 4);
            const auto size = static_cast<std::int64_t>(big_endian(Bytes(head).substr(4, 4)));
            const std::int64_t body = at + 8;
            if (name == "COMM") {
                const std::string format = bytes_at(body, 18);
                if (format.size() < 18 || size < 18) return fail(cut_off(false));
                header.channels = static_cast<int>(big_endian(Bytes(format).substr(0, 2)));
                const auto bits = static_cast<std::int64_t>(big_endian(Bytes(format).substr(6, 2)));
                header.frame_bytes = header.channels * ((bits + 7) / 8);
                header.promised =
                    big_endian(Bytes(format).substr(2, 4)) * static_cast<std::uint64_t>(header.frame_bytes);
                // Extended precision: sign and exponent in two bytes, then the whole significand in eight.
                const auto exponent = static_cast<int>(big_endian(Bytes(format).substr(8, 2)));
                const double rate =
                    std::ldexp(static_cast<double>(big_endian(Bytes(format).substr(10, 8))), exponent - 16383 - 63);
                header.rate_hz = exponent < 0x7FFF && std::isfinite(rate) ? rate : 0.0; // a sign bit is no rate
                format_seen = true;
            } else if (name == "SSND") {
                const std::string block = bytes_at(body, 8);
                if (block.size() < 8) return fail(cut_off(format_seen));
                header.data_begins = body + 8 + static_cast<std::int64_t>(big_endian(Bytes(block).substr(0, 4)));
                data_seen = true;
            }
            at = body + size + size % 2;
        }
        return header;
    }

    Result<WaveHeader> read_caf()
    {
        bool format_seen = false;
        WaveHeader header;
        for (std::int64_t at = 8;;) {
            const std::string head = bytes_at(at, 12);
            if (head.size() < 12) return fail(cut_off(format_seen));
            const Bytes name = Bytes(head).substr(0, 4);
            const auto size = static_cast<std::int64_t>(big_endian(Bytes(head).substr(4, 8)));
            const std::int64_t body = at + 12;
            if (name == "desc") {
                const std::string format = bytes_at(body, 32);
                if (format.size() < 32 || size < 32) return fail(cut_off(false));
                const auto rate = std::bit_cast<double>(big_endian(Bytes(format).substr(0, 8)));
                header.rate_hz = std::isfinite(rate) && rate > 0.0 ? rate : 0.0;
                header.frame_bytes = static_cast<std::int64_t>(big_endian(Bytes(format).substr(16, 4)));
                header.channels = static_cast<int>(std::min<std::uint64_t>(big_endian(Bytes(format).substr(24, 4)),
                                                                           std::numeric_limits<std::int16_t>::max()));
                format_seen = true;
            } else if (name == "data") {
                if (!format_seen) return fail(cut_off(false));
                header.data_begins = body + 4;                                         // behind the count of edits
                if (size >= 4) header.promised = static_cast<std::uint64_t>(size - 4); // -1: left open
                return header;
            }
            if (size < 0 || size > file_.size) return fail(cut_off(format_seen));
            at = body + size;
        }
    }

    // Fewer bytes at the end of the file.
    std::string bytes_at(std::int64_t offset, std::size_t count) const
    {
        std::string bytes(count, '\0');
        const auto got = read_bytes_at(file_.handle, path_, offset, bytes);
        if (!got) fault_ = got.error();
        bytes.resize(got.value_or(0));
        return bytes;
    }

    const OpenedFile& file_;
    const std::string& path_;
    Container container_;
    mutable std::optional<Problem> fault_; // of the disk, where that is why there are no bytes
};

std::optional<Problem> fault_of(const WaveHeader& header, std::int64_t file_size, const std::string& path)
{
    if (header.channels == 0)
        return bad_file(path, "the header states 0 channels", "repair the header or export it again");
    if (!(header.rate_hz > 0.0))
        return bad_file(path, "the header states a rate of 0 Hz", "repair the header or export it again");
    // 0 bits a sample belongs to codings that libsndfile is asked about later.
    if (header.frame_bytes == 0) return std::nullopt;
    const auto held = static_cast<std::uint64_t>(std::max<std::int64_t>(0, file_size - header.data_begins));
    if (!header.promised) return std::nullopt;
    const auto frame = static_cast<std::uint64_t>(header.frame_bytes);
    if (*header.promised == 0 && held > 0)
        return bad_file(
            path, fmt::format("the recorder did not finish the header: it promises 0 frames, {} bytes follow", held),
            "let the recorder close the file, or repair its header");
    if (*header.promised > held)
        return bad_file(
            path,
            fmt::format("the header promises {} frames, the file holds {}", *header.promised / frame, held / frame),
            copy_again);
    // Sizes of 32 bits start again at 0 beyond 4 GiB; the greater part of the recording would be passed over.
    if (held - *header.promised > std::numeric_limits<std::uint32_t>::max())
        return bad_file(path,
                        fmt::format("the header promises {} frames, the file holds {}: too long for a WAV file",
                                    *header.promised / frame, held / frame),
                        "export it as RF64 or W64");
    return std::nullopt;
}

struct Coding {
    std::string_view name;
    int integer_bits; // 0 for floating point
};

std::optional<Coding> coding_of(int format)
{
    switch (format & SF_FORMAT_SUBMASK) {
    case SF_FORMAT_PCM_U8:
    case SF_FORMAT_PCM_S8: return Coding{"8-bit integer", 8};
    case SF_FORMAT_PCM_16: return Coding{"16-bit integer", 16};
    case SF_FORMAT_PCM_24: return Coding{"24-bit integer", 24};
    case SF_FORMAT_PCM_32: return Coding{"32-bit integer", 32};
    case SF_FORMAT_FLOAT: return Coding{"32-bit float", 0};
    case SF_FORMAT_DOUBLE: return Coding{"64-bit float", 0};
    default: return std::nullopt;
    }
}

std::string_view name_of(Container container)
{
    switch (container) {
    case Container::riff: return "WAV";
    case Container::rifx: return "WAV (big-endian)";
    case Container::rf64: return "RF64";
    case Container::bw64: return "BW64";
    case Container::aiff: return "AIFF";
    case Container::caf: return "CAF";
    case Container::w64: return "W64";
    case Container::flac: return "FLAC";
    case Container::none: break;
    }
    return {};
}

// Local date and time from the broadcast extension [EBU Tech 3285]; recorders leave it blank or fill in zeros. Its time
// reference (samples since midnight) tells parts of a second, where it falls into the second that the time names.
std::string start_of(const SF_BROADCAST_INFO& info, int rate_hz)
{
    const Bytes date(info.origination_date, sizeof info.origination_date);
    const Bytes time(info.origination_time, sizeof info.origination_time);
    const auto number = [](Bytes digits) {
        int value = 0;
        for (const char c : digits) {
            if (c < '0' || c > '9') return -1;
            value = value * 10 + (c - '0');
        }
        return value;
    };
    const int month = number(date.substr(5, 2));
    const int day = number(date.substr(8, 2));
    const bool dated = number(date.substr(0, 4)) > 0 && month >= 1 && month <= 12 && day >= 1 && day <= 31;
    const bool timed =
        number(time.substr(0, 2)) >= 0 && number(time.substr(3, 2)) >= 0 && number(time.substr(6, 2)) >= 0;
    const std::uint64_t samples = std::uint64_t{info.time_reference_high} << 32 | info.time_reference_low;
    const auto rate = static_cast<std::uint64_t>(rate_hz);
    constexpr std::uint64_t second_per_day = 86'400;
    if (dated && !timed && samples > 0 && samples / rate < second_per_day) { // the count since midnight alone
        const std::uint64_t s = samples / rate;
        std::string start = fmt::format("{}-{}-{}T{:02}:{:02}:{:02}", date.substr(0, 4), date.substr(5, 2),
                                        date.substr(8, 2), s / 3600, s / 60 % 60, s % 60);
        if (samples % rate > 0)
            start += fmt::format("{:.6f}", static_cast<double>(samples % rate) / static_cast<double>(rate)).substr(1);
        return start;
    }
    if (!dated || !timed) return {};
    std::string start = fmt::format("{}-{}-{}T{}:{}:{}", date.substr(0, 4), date.substr(5, 2), date.substr(8, 2),
                                    time.substr(0, 2), time.substr(3, 2), time.substr(6, 2));
    const auto second = static_cast<std::uint64_t>(number(time.substr(0, 2)) * 3600 + number(time.substr(3, 2)) * 60 +
                                                   number(time.substr(6, 2)));
    if (samples > 0 && samples / rate == second && samples % rate > 0)
        start += fmt::format("{:.6f}", static_cast<double>(samples % rate) / static_cast<double>(rate)).substr(1);
    return start;
}

// What somebody wrote into the file about it, on one line; nothing where it is no plain text.
void add_remark(std::vector<std::string>& remarks, std::string_view what, std::string_view text)
{
    text = text.substr(0, text.find('\0'));
    const auto plain = [](char c) { return c >= 0x20 && c < 0x7F; };
    const auto begin = text.find_first_not_of(' ');
    if (begin == std::string_view::npos || !std::ranges::all_of(text, plain)) return;
    remarks.push_back(fmt::format("{}: {}", what, text.substr(begin, text.find_last_not_of(' ') - begin + 1)));
}

// ---- iXML: what a recorder tells in a chunk of its own (open specification 3.01, from memory) ----

// The chunk's text; empty where there is none, or one too long to be meant.
std::string ixml_of(SNDFILE* file)
{
    constexpr unsigned longest = 1U << 20;
    SF_CHUNK_INFO chunk;
    std::memset(&chunk, 0, sizeof chunk);
    std::memcpy(chunk.id, "iXML", 4);
    chunk.id_size = 4;
    SF_CHUNK_ITERATOR* const found = sf_get_chunk_iterator(file, &chunk);
    if (found == nullptr || sf_get_chunk_size(found, &chunk) != SF_ERR_NO_ERROR || chunk.datalen == 0 ||
        chunk.datalen > longest)
        return {};
    std::string text(chunk.datalen, '\0');
    chunk.data = text.data();
    if (sf_get_chunk_data(found, &chunk) != SF_ERR_NO_ERROR) return {};
    return text.substr(0, text.find('\0'));
}

// What stands between <NAME> and </NAME> from `at` on, which then is behind it; nothing where either is not there.
std::optional<std::string_view> element_in(std::string_view xml, std::string_view name, std::size_t& at)
{
    const std::string open = fmt::format("<{}>", name), close = fmt::format("</{}>", name);
    const std::size_t begin = xml.find(open, at);
    if (begin == std::string_view::npos) return std::nullopt;
    const std::size_t from = begin + open.size(), end = xml.find(close, from);
    if (end == std::string_view::npos) return std::nullopt;
    at = end + close.size();
    return xml.substr(from, end - from);
}

std::string words_in(std::string_view xml, std::string_view name)
{
    std::size_t at = 0;
    std::string words = stated_text(element_in(xml, name, at).value_or(std::string_view()));
    for (const auto& [entity, letter] : {std::pair<std::string_view, std::string_view>{"&lt;", "<"},
                                         {"&gt;", ">"},
                                         {"&quot;", "\""},
                                         {"&apos;", "'"},
                                         {"&amp;", "&"}})
        for (auto found = words.find(entity); found != std::string::npos; found = words.find(entity, found + 1))
            words.replace(found, entity.size(), letter);
    return words;
}

void add_ixml(std::string_view xml, RecordingInfo& info)
{
    for (const auto& [element, what] : {std::pair("PROJECT", "project"), std::pair("SCENE", "scene"),
                                        std::pair("TAKE", "take"), std::pair("NOTE", "note")})
        if (const std::string words = words_in(xml, element); !words.empty())
            info.remarks.push_back(fmt::format("{} in the file: {}", what, words));
    std::vector<std::string> names(static_cast<std::size_t>(info.channels));
    std::size_t named = 0, at = 0;
    for (auto track = element_in(xml, "TRACK", at); track; track = element_in(xml, "TRACK", at)) {
        const std::string number = words_in(*track, "INTERLEAVE_INDEX").empty() ? words_in(*track, "CHANNEL_INDEX")
                                                                                : words_in(*track, "INTERLEAVE_INDEX");
        std::string name = words_in(*track, "NAME");
        std::size_t channel = 0;
        const auto [end, error] = std::from_chars(number.data(), number.data() + number.size(), channel);
        if (error != std::errc() || channel < 1 || channel > names.size() || name.empty()) continue;
        named += names[channel - 1].empty() ? 1 : 0;
        names[channel - 1] = std::move(name);
    }
    if (named == names.size()) info.names = std::move(names);
    double rate = 0.0;
    const std::string stated = words_in(xml, "FILE_SAMPLE_RATE");
    const auto [end, error] = std::from_chars(stated.data(), stated.data() + stated.size(), rate);
    if (error == std::errc() && rate > 0.0 && std::isfinite(rate))
        info.timed_rate = {.hz = rate, .by = "the statement of its iXML chunk"};
}

// BW64 differs from RF64 in its first four letters and in chunks that libsndfile passes over: it is shown those of
// RF64.
struct ShownAsRf64 {
    FileHandle handle = {};
    std::int64_t size = 0;
    std::int64_t at = 0;

    static sf_count_t length(void* self) { return static_cast<ShownAsRf64*>(self)->size; }
    static sf_count_t tell(void* self) { return static_cast<ShownAsRf64*>(self)->at; }
    static sf_count_t seek(sf_count_t offset, int whence, void* user)
    {
        auto& self = *static_cast<ShownAsRf64*>(user);
        const std::int64_t from = whence == SEEK_SET ? 0 : whence == SEEK_CUR ? self.at : self.size;
        if (from + offset < 0) return -1;
        return self.at = from + offset;
    }
    static sf_count_t read(void* to, sf_count_t count, void* user)
    {
        auto& self = *static_cast<ShownAsRf64*>(user);
        const auto read =
            read_bytes_at(self.handle, {}, self.at, {static_cast<char*>(to), static_cast<std::size_t>(count)});
        const auto got = static_cast<sf_count_t>(read.value_or(0)); // too few is a fault for whoever asked
        constexpr Bytes magic = "RF64";
        for (std::int64_t i = self.at; i < std::min<std::int64_t>(4, self.at + got); ++i)
            static_cast<char*>(to)[i - self.at] = magic[static_cast<std::size_t>(i)];
        self.at += got;
        return got;
    }
    static sf_count_t write(const void* /*from*/, sf_count_t /*count*/, void* /*self*/) { return 0; }
};

class AudioReader final : public RecordingReader {
public:
    using File = std::unique_ptr<SNDFILE, decltype(&sf_close)>;

    AudioReader(std::string path, std::unique_ptr<ShownAsRf64> shown, File file, RecordingInfo info)
        : path_(std::move(path)), shown_(std::move(shown)), file_(std::move(file)), info_(std::move(info))
    {
    }

    const RecordingInfo& info() const override { return info_; }

    Result<std::size_t> read(std::span<double> values) override
    {
        const std::int64_t wanted =
            std::min(static_cast<std::int64_t>(values.size()) / info_.channels, info_.frames - next_);
        if (wanted <= 0) return std::size_t{0};
        const std::int64_t got = sf_readf_double(file_.get(), values.data(), wanted);
        const bool faulty = sf_error(file_.get()) != SF_ERR_NO_ERROR;
        next_ += std::max<std::int64_t>(0, got);
        if (got < wanted || faulty) {
            const std::string reason = faulty ? sf_strerror(file_.get()) : "the data end there";
            return fail(bad_file(
                path_, fmt::format("frame {} of {} cannot be read: {}", next_ + 1, info_.frames, reason), copy_again));
        }
        return static_cast<std::size_t>(got);
    }

    Result<void> seek(std::int64_t frame) override
    {
        if (frame < 0 || frame > info_.frames || sf_seek(file_.get(), frame, SEEK_SET) != frame)
            return fail(
                bad_file(path_, fmt::format("frame {} of {} cannot be reached", frame + 1, info_.frames), copy_again));
        next_ = frame;
        return {};
    }

private:
    std::string path_;
    std::unique_ptr<ShownAsRf64> shown_; // what file_ reads through, where it does
    File file_;
    RecordingInfo info_;
    std::int64_t next_ = 0;
};

// An encoder that wrote to a pipe could not go back and note the length: count by decoding once.
std::int64_t counted_frames(SNDFILE* file, int channels)
{
    constexpr std::int64_t block = 4096;
    std::vector<double> values(static_cast<std::size_t>(block * channels));
    std::int64_t frames = 0;
    while (const auto got = sf_readf_double(file, values.data(), block)) frames += got;
    return frames;
}

} // namespace

Result<std::unique_ptr<RecordingReader>> open_audio(const std::string& path, const ReadOptions& /*options*/)
{
    auto opened = open_regular_file(path);
    if (!opened) return fail(opened.error());
    std::array<char, 16> head{};
    const auto got = read_bytes(opened->handle, path, head);
    if (!got) return fail(got.error());
    const Container container = container_of({head.data(), *got});
    if (container == Container::none) return nullptr;

    double rate_hz = 0.0; // as the header states it, where libsndfile has whole numbers only
    if (container != Container::flac) {
        const auto header = WaveHeaderReader(*opened, path, container).read();
        if (!header) return fail(header.error());
        if (auto fault = fault_of(*header, opened->size, path)) return fail(std::move(*fault));
        rate_hz = header->rate_hz;
    }

    const int descriptor = opened->handle.get(); // whoever owns it by then
    ::lseek(descriptor, 0, SEEK_SET);
    SF_INFO description = {};
    std::unique_ptr<ShownAsRf64> shown;
    AudioReader::File file(nullptr, &sf_close);
    if (container == Container::bw64) {
        shown = std::make_unique<ShownAsRf64>(ShownAsRf64{std::move(opened->handle), opened->size});
        SF_VIRTUAL_IO io{&ShownAsRf64::length, &ShownAsRf64::seek, &ShownAsRf64::read, &ShownAsRf64::write,
                         &ShownAsRf64::tell};
        file.reset(sf_open_virtual(&io, SFM_READ, &description, shown.get()));
    } else {
        // libsndfile closes the descriptor, also when it fails to open.
        file.reset(sf_open_fd(opened->handle.release(), SFM_READ, &description, SF_TRUE));
    }
    if (!file)
        return fail(bad_file(path,
                             fmt::format("the {} header cannot be used: {}", name_of(container), sf_strerror(nullptr)),
                             copy_again));

    // libsndfile takes what it finds for the whole.
    struct stat now = {};
    if (::fstat(descriptor, &now) != 0 || now.st_size < opened->size)
        return fail(bad_file(
            path,
            fmt::format("it was cut from {} to {} bytes while it was opened", opened->size, std::int64_t{now.st_size}),
            copy_again));

    const auto coding = coding_of(description.format);
    if (!coding)
        return fail(bad_file(path, fmt::format("its {} samples are coded with loss", name_of(container)),
                             "export it as integer or floating-point samples"));
    if (description.channels < 1 || description.channels > greatest_channels)
        return fail(bad_file(
            path, fmt::format("it has {} channels; 1 to {} can be read", description.channels, greatest_channels),
            "split it into several files"));
    if (description.samplerate < 1)
        return fail(bad_file(path, fmt::format("the header states a rate of {} Hz", description.samplerate),
                             "repair the header or export it again"));
    if (description.frames == std::numeric_limits<sf_count_t>::max()) {
        description.frames = counted_frames(file.get(), description.channels);
        if (sf_error(file.get()) != SF_ERR_NO_ERROR || sf_seek(file.get(), 0, SEEK_SET) != 0)
            return fail(bad_file(
                path, fmt::format("frame {} cannot be read: {}", description.frames + 1, sf_strerror(file.get())),
                copy_again));
    }
    if (description.frames < 1) return fail(bad_file(path, "it holds a header and no samples", "record it again"));

    // Integers count as parts of full scale; floating-point values are taken as they stand.
    sf_command(file.get(), SFC_SET_NORM_DOUBLE, nullptr, coding->integer_bits > 0 ? SF_TRUE : SF_FALSE);

    RecordingInfo info;
    info.format = fmt::format("{}, {}", name_of(container), coding->name);
    info.rate_hz = rate_hz > 0.0 ? rate_hz : description.samplerate;
    info.channels = description.channels;
    info.frames = description.frames;
    info.integer_pcm = coding->integer_bits > 0;
    if (info.integer_pcm) info.step = 1.0 / static_cast<double>(std::int64_t{1} << (coding->integer_bits - 1));
    info.seekable = description.seekable != 0;
    SF_BROADCAST_INFO broadcast;
    std::memset(&broadcast, 0, sizeof broadcast);
    if (sf_command(file.get(), SFC_GET_BROADCAST_INFO, &broadcast, sizeof broadcast) == SF_TRUE) {
        info.start = start_of(broadcast, description.samplerate);
        add_remark(info.remarks, "description in the file", {broadcast.description, sizeof broadcast.description});
    }
    for (const auto& [kind, what] :
         {std::pair(SF_STR_TITLE, "title in the file"), std::pair(SF_STR_COMMENT, "comment in the file")})
        if (const char* text = sf_get_string(file.get(), kind)) add_remark(info.remarks, what, text);
    if (const std::string xml = ixml_of(file.get()); !xml.empty()) add_ixml(xml, info);
    return std::make_unique<AudioReader>(path, std::move(shown), std::move(file), std::move(info));
}

} // namespace becalm::io
