// SAC: one evenly spaced series in time, single precision, behind a header of 632 bytes [SAC data file format,
// published with the Seismic Analysis Code: header versions 6 and 7; version 7 repeats what needs double precision in a
// footer of 22 numbers behind the data].
//
// The header is 70 floats, 40 integers and 192 characters in either order of bytes; -12345 stands for "undefined".
#include <array>
#include <cmath>
#include <limits>

#include <fmt/format.h>

#include "src/io/raw_bytes.h"
#include "src/io/recording_reader.h"
#include "src/io/regular_file.h"
#include "src/io/stated_text.h"
#include "src/io/utc_time.h"

namespace becalm::io {

namespace {

constexpr std::int64_t header_bytes = 632;
constexpr std::int64_t footer_bytes = 22 * 8;
constexpr std::size_t block_frames = 4096;
constexpr double shortest_s = 1e-9, longest_s = 1e6; // between samples
constexpr int undefined = -12345;                    // what the format has in a field that says nothing

constexpr auto copy_again = "copy it again from the recorder";

// Places in words of four bytes, and of characters in bytes.
enum Word {
    word_delta = 0,
    word_scale = 3,
    word_b = 5,
    word_e = 6,
    word_azimuth = 57,
    word_inclination = 58,
    word_year = 70, // then day of the year, hour, minute, second, millisecond
    word_version = 76,
    word_points = 79,
    word_type = 85,
    word_quantity = 86,
    word_even = 105
};
constexpr std::size_t byte_station = 440, byte_component = 600, byte_network = 608, byte_instrument = 624;

enum FileType { time_series = 1, spectrum_real = 2, spectrum_amplitude = 3, pairs = 4, surface = 51 };
enum Quantity { quantity_unknown = 5, displacement = 6, velocity = 7, acceleration = 8, volts = 50 };

Problem bad_file(const std::string& path, std::string what, std::string remedy)
{
    Problem problem;
    problem.file = path;
    problem.what = std::move(what);
    problem.remedy = std::move(remedy);
    return problem;
}

class Header {
public:
    using Bytes = std::array<char, static_cast<std::size_t>(header_bytes)>;

    // None where the content is not of this format: version, type and spacing must all be what the format has.
    static std::optional<Header> in(const Bytes& bytes)
    {
        for (const ByteOrder order : {ByteOrder::little, ByteOrder::big}) {
            const Header header(bytes, order);
            const int type = header.integer(word_type), even = header.integer(word_even);
            const bool known_type = type == time_series || type == spectrum_real || type == spectrum_amplitude ||
                                    type == pairs || type == surface;
            if ((header.version() == 6 || header.version() == 7) && known_type && (even == 0 || even == 1))
                return header;
        }
        return std::nullopt;
    }

    int version() const { return integer(word_version); }
    ByteOrder order() const { return order_; }
    int integer(int word) const
    {
        return number_at<std::int32_t>(bytes_.data() + 4 * static_cast<std::size_t>(word), order_);
    }
    float real(int word) const { return number_at<float>(bytes_.data() + 4 * static_cast<std::size_t>(word), order_); }
    std::optional<double> stated(int word) const
    {
        const auto value = static_cast<double>(real(word));
        if (value == undefined || !std::isfinite(value)) return std::nullopt;
        return value;
    }
    std::string text(std::size_t byte) const
    {
        std::string words = stated_text(std::string_view(bytes_.data(), bytes_.size()).substr(byte, 8));
        return words.starts_with("-12345") ? std::string() : words;
    }

private:
    Header(const Bytes& bytes, ByteOrder order) : bytes_(bytes), order_(order) {}

    Bytes bytes_;
    ByteOrder order_;
};

// What the format has for the header's quantity: everything in nanometres.
struct Stated {
    std::string_view unit; // as the format states it
    std::string_view si;
};

std::optional<Stated> unit_of(int quantity)
{
    switch (quantity) {
    case displacement: return Stated{"nm", "m"};
    case velocity: return Stated{"nm/s", "m/s"};
    case acceleration: return Stated{"nm/s2", "m/s2"};
    default: return std::nullopt;
    }
}

std::string_view type_words(int type)
{
    switch (type) {
    case spectrum_real:
    case spectrum_amplitude: return "a spectrum";
    case pairs: return "pairs of x and y";
    case surface: return "a surface";
    default: return "a series in time";
    }
}

RecordingInfo info_of(const Header& header, double delta, double begin, std::int64_t points)
{
    RecordingInfo info;
    info.format = fmt::format("SAC, version {}, 32-bit float", header.version());
    info.channels = 1;
    info.frames = points;
    const auto remark = [&](std::string text) { info.remarks.push_back(std::move(text)); };

    info.rate_hz = 1.0 / delta;
    if (const double whole = std::round(info.rate_hz); header.version() == 6 && whole >= 1.0 && whole != info.rate_hz &&
                                                       static_cast<float>(1.0 / whole) == header.real(word_delta)) {
        info.rate_hz = whole;
        remark(fmt::format("The sampling interval is there in single precision; it is taken for that of {:.0f} Hz, "
                           "which has the same.",
                           whole));
    }

    const std::string station = header.text(byte_station), component = header.text(byte_component);
    std::string name = station;
    if (!component.empty()) name += (name.empty() ? "" : " ") + component;
    if (!name.empty()) info.names = {name};
    ChannelFacts facts{.sensor = header.text(byte_instrument)};
    if (const std::string network = header.text(byte_network); !network.empty())
        remark(fmt::format("The station is {} of network {}.", station, network));

    const auto azimuth = header.stated(word_azimuth), inclination = header.stated(word_inclination);
    if (inclination && *inclination == 0.0)
        facts.direction = "up";
    else if (inclination && *inclination == 180.0)
        facts.direction = "down";
    else if (inclination && azimuth)
        facts.direction = fmt::format("{:.6g} degrees from north, {:.6g} degrees from upright", *azimuth, *inclination);

    const int quantity = header.integer(word_quantity);
    if (const auto unit = unit_of(quantity)) {
        info.unit = unit->unit;
        facts.unit = unit->si;
        facts.scale = 1e-9;
        remark(fmt::format("By the format's definition values are in {} (a scale of 1e-9 for {}); many programs write "
                           "other units.",
                           unit->unit, unit->si));
    } else if (quantity == volts) {
        info.unit = facts.unit = "V";
    } else {
        remark("The header states no quantity; the values may be counts of a converter.");
    }
    if (const auto scale = header.stated(word_scale); scale && *scale != 1.0 && *scale != 0.0)
        remark(fmt::format("The header states a factor of {:.9g}, which the format does not use; values are as stored.",
                           *scale));
    if (const auto end = header.stated(word_e)) {
        if (points > 1 && *end > begin) {
            const double steps = static_cast<double>(points - 1);
            constexpr double of_single = 6e-8; // half a unit in the last place of 24 bits
            info.timed_rate = {.hz = steps / (*end - begin),
                               .relative = of_single * (std::abs(*end) + std::abs(begin)) / (*end - begin),
                               .by = "its header's begin and end"};
        }
        const double expected = begin + static_cast<double>(points - 1) * delta;
        if (std::abs(*end - expected) > std::max(delta, 1e-5 * std::abs(expected)))
            remark(fmt::format("The header states its end at {:.9g} s; by interval and count it is at {:.9g} s.", *end,
                               expected));
    }

    const int millisecond = header.integer(word_year + 5);
    if (const auto reference =
            moment_of(header.integer(word_year), header.integer(word_year + 1), header.integer(word_year + 2),
                      header.integer(word_year + 3), header.integer(word_year + 4), std::int64_t{1000} * millisecond);
        reference && std::abs(begin) < 1e9)
        info.start = iso_time(*reference + std::llround(begin * 1e6)) + "Z";
    info.facts = {std::move(facts)};
    return info;
}

class SacReader final : public RecordingReader {
public:
    SacReader(std::string path, FileHandle handle, ByteOrder order, RecordingInfo info)
        : path_(std::move(path)), handle_(std::move(handle)), order_(order), info_(std::move(info))
    {
    }

    const RecordingInfo& info() const override { return info_; }

    Result<std::size_t> read(std::span<double> values) override
    {
        const std::size_t frames = std::min(values.size(), static_cast<std::size_t>(info_.frames - next_));
        for (std::size_t done = 0; done < frames;) {
            bytes_.resize(4 * std::min(block_frames, frames - done));
            const auto got = read_bytes_at(handle_, path_, header_bytes + 4 * next_, bytes_);
            if (!got) return fail(got.error());
            if (*got < bytes_.size())
                return fail(bad_file(path_,
                                     fmt::format("frame {} of {} cannot be read: the data end there",
                                                 next_ + static_cast<std::int64_t>(*got / 4) + 1, info_.frames),
                                     copy_again));
            for (std::size_t at = 0; at < bytes_.size(); at += 4)
                values[done++] = static_cast<double>(number_at<float>(bytes_.data() + at, order_));
            next_ += static_cast<std::int64_t>(bytes_.size() / 4);
        }
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
    std::string path_;
    FileHandle handle_;
    ByteOrder order_;
    RecordingInfo info_;
    std::vector<char> bytes_;
    std::int64_t next_ = 0; // frame
};

} // namespace

Result<std::unique_ptr<RecordingReader>> open_sac(const std::string& path, const ReadOptions& /*options*/)
{
    auto opened = open_regular_file(path);
    if (!opened) return fail(opened.error());
    Header::Bytes bytes{};
    const auto got = read_bytes_at(opened->handle, path, 0, bytes);
    if (!got) return fail(got.error());
    if (*got < bytes.size()) return nullptr;
    const auto header = Header::in(bytes);
    if (!header) return nullptr;

    const int type = header->integer(word_type);
    if (type != time_series)
        return fail(bad_file(path, fmt::format("this SAC file holds {} (IFTYPE {})", type_words(type), type),
                             "export a series in time"));
    if (header->integer(word_even) != 1)
        return fail(bad_file(path, "its samples are unevenly spaced (LEVEN is false)", "resample it to an even rate"));
    const std::int64_t points = header->integer(word_points);
    if (points < 1)
        return fail(bad_file(path, fmt::format("its header states {} samples (NPTS)", points),
                             "repair the header or export it again"));
    const std::int64_t footer = header->version() == 7 ? footer_bytes : 0;
    const std::int64_t held = opened->size - header_bytes - footer;
    if (held != 4 * points)
        return fail(bad_file(path,
                             fmt::format("its header promises {} samples{} (NPTS), the file holds {}", points,
                                         footer > 0 ? " and a footer" : "", std::max<std::int64_t>(0, held) / 4),
                             held < 4 * points ? copy_again : "repair the header or export it again"));

    auto delta = static_cast<double>(header->real(word_delta));
    double begin = header->stated(word_b).value_or(0.0);
    if (footer > 0) {
        std::array<char, 16> behind{};
        const auto read = read_bytes_at(opened->handle, path, header_bytes + 4 * points, behind);
        if (!read) return fail(read.error());
        const auto exact_delta = number_at<double>(behind.data(), header->order());
        const auto exact_begin = number_at<double>(behind.data() + 8, header->order());
        if (std::abs(exact_delta - delta) > 1e-5 * std::abs(delta))
            return fail(bad_file(
                path, fmt::format("its header states a sampling interval of {} s, its footer {} s", delta, exact_delta),
                "repair the right one or export it again"));
        delta = exact_delta;
        if (std::isfinite(exact_begin) && exact_begin != undefined) begin = exact_begin;
    }
    if (!(delta >= shortest_s && delta <= longest_s))
        return fail(bad_file(path, fmt::format("its header states a sampling interval of {} s (DELTA)", delta),
                             "repair the header or export it again"));
    return std::make_unique<SacReader>(path, std::move(opened->handle), header->order(),
                                       info_of(*header, delta, begin, points));
}

} // namespace becalm::io
