// TDMS, by its open definition ("TDMS File Format Internal Structure"): segments, each with a lead-in of 28 bytes, what
// is new about the objects (file, groups, channels) and raw data in chunks, channel after channel or interleaved.
//
// Opening walks from lead-in to lead-in and notes where each channel's samples lie; segments that follow each other
// evenly are one note, so that memory does not grow with an even recording. Channels of one group with one rate, start
// and length are a recording; a channel of timestamps beside them is held against their rate.
#include <algorithm>
#include <array>
#include <bit>
#include <cctype>
#include <cerrno>
#include <chrono>
#include <cmath>
#include <cstring>
#include <map>
#include <set>
#include <unistd.h>
#include <unordered_map>
#include <utility>

#include <fmt/format.h>

#include "src/io/recording_reader.h"
#include "src/io/regular_file.h"
#include "src/io/teds.h"

namespace becalm::io {

namespace {

constexpr auto copy_again = "copy it again from the recorder";
constexpr std::size_t greatest_channels = 256;
constexpr std::size_t most_objects = 20'000;
constexpr std::size_t most_runs = 4'000'000;                   // some 200 MB
constexpr std::uint64_t most_metadata = 64U << 20;             // of one segment
constexpr std::uint64_t most_at_once = std::uint64_t{1} << 20; // bytes of samples read in one go
constexpr std::int64_t lead_in_size = 28;

// Bits of the table of contents.
constexpr std::uint32_t has_metadata = 1U << 1;
constexpr std::uint32_t new_object_list = 1U << 2;
constexpr std::uint32_t has_raw_data = 1U << 3;
constexpr std::uint32_t interleaved_data = 1U << 5;
constexpr std::uint32_t big_endian_data = 1U << 6;
constexpr std::uint32_t daqmx_data = 1U << 7;

constexpr std::uint64_t left_open = ~std::uint64_t{0};

enum class Type : std::uint32_t {
    none = 0,
    int8 = 1,
    int16 = 2,
    int32 = 3,
    int64 = 4,
    uint8 = 5,
    uint16 = 6,
    uint32 = 7,
    uint64 = 8,
    single_float = 9,
    double_float = 10,
    extended_float = 11,
    single_with_unit = 0x19,
    double_with_unit = 0x1A,
    extended_with_unit = 0x1B,
    text = 0x20,
    boolean = 0x21,
    timestamp = 0x44,
    complex_single = 0x08000C,
    complex_double = 0x10000D
};

// Bytes of one value; 0 where it has no fixed size or none is known.
std::uint64_t width_of(Type type)
{
    switch (type) {
    case Type::int8:
    case Type::uint8:
    case Type::boolean: return 1;
    case Type::int16:
    case Type::uint16: return 2;
    case Type::int32:
    case Type::uint32:
    case Type::single_float:
    case Type::single_with_unit: return 4;
    case Type::int64:
    case Type::uint64:
    case Type::double_float:
    case Type::double_with_unit:
    case Type::complex_single: return 8;
    case Type::extended_float:
    case Type::extended_with_unit:
    case Type::timestamp:
    case Type::complex_double: return 16;
    default: return 0;
    }
}

// Of what a recording can be made; empty: not of this.
std::string_view sample_name(Type type)
{
    switch (type) {
    case Type::int8: return "8-bit integer";
    case Type::int16: return "16-bit integer";
    case Type::int32: return "32-bit integer";
    case Type::int64: return "64-bit integer";
    case Type::uint8: return "unsigned 8-bit integer";
    case Type::uint16: return "unsigned 16-bit integer";
    case Type::uint32: return "unsigned 32-bit integer";
    case Type::uint64: return "unsigned 64-bit integer";
    case Type::single_float:
    case Type::single_with_unit: return "32-bit float";
    case Type::double_float:
    case Type::double_with_unit: return "64-bit float";
    default: return {};
    }
}

bool is_integer(Type type) { return type >= Type::int8 && type <= Type::uint64; }

template <class T>
T number_at(const char* at, bool big)
{
    std::array<char, sizeof(T)> bytes;
    std::memcpy(bytes.data(), at, sizeof(T));
    if (big != (std::endian::native == std::endian::big)) std::ranges::reverse(bytes);
    return std::bit_cast<T>(bytes);
}

// `count` values, `stride` bytes from one to the next, into every `step`-th of `to`.
template <class T>
void convert(const char* from, std::uint64_t stride, bool big, std::size_t count, double* to, std::size_t step)
{
    for (std::size_t i = 0; i < count; ++i) to[i * step] = static_cast<double>(number_at<T>(from + i * stride, big));
}

void convert(Type type, const char* from, std::uint64_t stride, bool big, std::size_t count, double* to,
             std::size_t step)
{
    switch (type) {
    case Type::int8: convert<std::int8_t>(from, stride, big, count, to, step); break;
    case Type::int16: convert<std::int16_t>(from, stride, big, count, to, step); break;
    case Type::int32: convert<std::int32_t>(from, stride, big, count, to, step); break;
    case Type::int64: convert<std::int64_t>(from, stride, big, count, to, step); break;
    case Type::uint8: convert<std::uint8_t>(from, stride, big, count, to, step); break;
    case Type::uint16: convert<std::uint16_t>(from, stride, big, count, to, step); break;
    case Type::uint32: convert<std::uint32_t>(from, stride, big, count, to, step); break;
    case Type::uint64: convert<std::uint64_t>(from, stride, big, count, to, step); break;
    case Type::single_float:
    case Type::single_with_unit: convert<float>(from, stride, big, count, to, step); break;
    case Type::double_float:
    case Type::double_with_unit: convert<double>(from, stride, big, count, to, step); break;
    default: BECALM_ASSERT(false);
    }
}

// Seconds since 1904-01-01 00:00 UTC and 2^-64 of them.
struct Moment {
    std::int64_t seconds = 0;
    std::uint64_t fraction = 0;
    auto operator<=>(const Moment&) const = default;
};

// To the nanosecond, which is where the zeros end that a fraction in binary leaves. Empty beyond the years 1 to 9999.
std::string iso8601(Moment moment)
{
    using namespace std::chrono;
    constexpr std::int64_t greatest = 300'000'000'000; // seconds; dates are looked at below
    if (std::abs(moment.seconds / 2) > greatest / 2) return {};
    // fraction x 1e9 / 2^64, rounded
    constexpr std::uint64_t billion = 1'000'000'000;
    const std::uint64_t low = (moment.fraction & 0xFFFFFFFFU) * billion >> 32;
    std::uint64_t nano = ((moment.fraction >> 32) * billion + low + (std::uint64_t{1} << 31)) >> 32;
    std::int64_t whole = moment.seconds;
    if (nano == billion) {
        nano = 0;
        ++whole;
    }
    const std::int64_t day = (whole >= 0 ? whole : whole - 86399) / 86400;
    const std::int64_t second = whole - day * 86400;
    const year_month_day date{sys_days{year{1904} / January / 1} + days{day}};
    const int in_year = static_cast<int>(date.year());
    if (in_year < 1 || in_year > 9999) return {};
    std::string text = fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}", in_year, static_cast<unsigned>(date.month()),
                                   static_cast<unsigned>(date.day()), second / 3600, second / 60 % 60, second % 60);
    if (nano > 0) {
        text += fmt::format(".{:09}", nano);
        while (text.back() == '0') text.pop_back();
    }
    return text + "Z";
}

struct Property {
    std::string text = {};
    std::optional<double> number = {};
    std::optional<Moment> moment = {};
};

// Where some of a channel's samples lie: `chunks` times `values`, the first of a chunk `spacing` bytes behind that of
// the chunk before.
struct Run {
    std::int64_t first = 0; // sample of the channel
    std::uint64_t begin = 0;
    std::uint64_t spacing = 0;
    std::uint64_t chunks = 0;
    std::uint64_t values = 0;
    std::uint32_t stride = 0; // bytes from one sample to the next
    bool big = false;
    std::uint32_t into_row = 0; // of interleaved samples: where in the row

    // Byte of the file at which the row of one of its samples begins.
    std::uint64_t row_of(std::int64_t sample) const
    {
        const auto into = static_cast<std::uint64_t>(sample - first);
        return begin + into / values * spacing + into % values * stride;
    }
};

auto run_with(const std::vector<Run>& runs, std::int64_t sample)
{
    return std::ranges::upper_bound(runs, sample, {}, &Run::first) - 1;
}

struct Object {
    std::string group = {};
    std::string channel = {}; // empty: a group, or the file
    Type type = Type::none;
    std::uint64_t values = 0; // a chunk
    std::uint64_t bytes = 0;  // a chunk
    bool active = false;      // its raw data lie in the chunks
    bool indexed = false;     // it has been said where its raw data lie
    std::map<std::string, Property> properties = {};
    std::vector<Run> runs = {};
    std::int64_t samples = 0;
    bool mixed = false; // its samples change their type
};

Problem tdms_problem(const std::string& path, std::string what, std::string remedy = copy_again)
{
    Problem problem;
    problem.file = path;
    problem.what = std::move(what);
    problem.remedy = std::move(remedy);
    return problem;
}

bool read_at(const FileHandle& file, std::uint64_t at, char* to, std::size_t size)
{
    while (size > 0) {
        const ssize_t got = ::pread(file.get(), to, size, static_cast<off_t>(at));
        if (got < 0 && errno == EINTR) continue;
        if (got <= 0) return false;
        to += got;
        at += static_cast<std::uint64_t>(got);
        size -= static_cast<std::size_t>(got);
    }
    return true;
}

// Takes values from the metadata of one segment; what lies beyond their end is 0 and noted.
class Metadata {
public:
    Metadata(std::span<const char> bytes, bool big) : bytes_(bytes), big_(big) {}

    bool sound() const { return sound_; }
    std::size_t left() const { return bytes_.size() - at_; }
    std::size_t at() const { return at_; }

    template <class T>
    T number()
    {
        const char* from = take(sizeof(T));
        return from != nullptr ? number_at<T>(from, big_) : T{};
    }
    std::string text()
    {
        const auto size = number<std::uint32_t>();
        const char* from = take(size);
        return from != nullptr ? std::string(from, size) : std::string();
    }
    void skip(std::size_t count) { take(count); }
    Moment moment()
    {
        Moment moment;
        if (big_) moment.seconds = number<std::int64_t>();
        moment.fraction = number<std::uint64_t>();
        if (!big_) moment.seconds = number<std::int64_t>();
        return moment;
    }

private:
    const char* take(std::size_t count)
    {
        if (!sound_ || count > left()) {
            sound_ = false;
            return nullptr;
        }
        at_ += count;
        return bytes_.data() + at_ - count;
    }

    std::span<const char> bytes_;
    bool big_;
    std::size_t at_ = 0;
    bool sound_ = true;
};

// "/'group'/'channel'", quotes in a name doubled. Empty where it is no such path.
std::optional<std::vector<std::string>> names_in(const std::string& path)
{
    std::vector<std::string> names;
    if (path == "/") return names;
    std::size_t at = 0;
    while (at < path.size()) {
        if (path.compare(at, 2, "/'") != 0 || names.size() == 2) return std::nullopt;
        std::string name;
        for (at += 2;; ++at) {
            if (at >= path.size()) return std::nullopt;
            if (path[at] != '\'') {
                name += path[at];
            } else if (path.compare(at, 2, "''") == 0) {
                name += path[at++];
            } else {
                break;
            }
        }
        ++at;
        std::ranges::replace_if(
            name, [](unsigned char c) { return c < ' '; }, ' ');
        names.push_back(std::move(name));
    }
    return names;
}

class Walk {
public:
    Walk(const OpenedFile& file, const std::string& path)
        : file_(file), path_(path), size_(static_cast<std::uint64_t>(file.size))
    {
    }

    std::optional<Problem> segments()
    {
        std::uint64_t at = 0;
        while (at < size_) {
            if (auto problem = segment(at)) return problem;
            if (last_) break;
        }
        return std::nullopt;
    }

    std::vector<std::unique_ptr<Object>> objects; // in the order of their first mention
    std::vector<std::string> remarks;

private:
    Problem at_byte(std::uint64_t at, const std::string& what, std::string remedy = copy_again) const
    {
        return tdms_problem(path_, fmt::format("the segment at byte {} {}", at, what), std::move(remedy));
    }

    // Moves `at` behind the segment.
    std::optional<Problem> segment(std::uint64_t& at)
    {
        std::array<char, lead_in_size> lead{};
        if (size_ - at < lead.size() || !read_at(file_.handle, at, lead.data(), lead.size()))
            return at_byte(at, "is cut off: its lead-in has 28 bytes");
        if (std::memcmp(lead.data(), "TDSm", 4) != 0) return at_byte(at, "does not begin with TDSm");
        const auto contents = number_at<std::uint32_t>(lead.data() + 4, false);
        const auto is_version = [&](bool big) {
            const auto version = number_at<std::uint32_t>(lead.data() + 8, big);
            return version == 4712 || version == 4713;
        };
        // Whether the lead-in follows the order of the rest is told by the version.
        if (!is_version(false) && !is_version(true))
            return at_byte(at,
                           fmt::format("is of version {}; 4712 and 4713 are read",
                                       number_at<std::uint32_t>(lead.data() + 8, false)),
                           "save it as TDMS 2.0");
        const bool lead_big = !is_version(false);
        const bool big = (contents & big_endian_data) != 0;
        const auto next = number_at<std::uint64_t>(lead.data() + 12, lead_big);
        const auto raw = number_at<std::uint64_t>(lead.data() + 20, lead_big);
        const std::uint64_t body = at + lead.size();
        const std::uint64_t held = size_ - body;
        const bool open = next == left_open;
        if (!open && next > held) return at_byte(at, fmt::format("promises {} bytes, the file holds {}", next, held));
        const std::uint64_t length = open ? held : next;
        if (raw > length) {
            if (open) return close_unfinished(at);
            return at_byte(at, fmt::format("has its raw data behind its end, {} of {} bytes", raw, length));
        }
        if ((contents & daqmx_data) != 0)
            return at_byte(at, "holds raw data of a converter, whose scaling is not public",
                           "convert it to a TDMS file of numbers or to WAV");
        if ((contents & has_metadata) != 0) {
            if (raw > most_metadata) return at_byte(at, fmt::format("has {} bytes of metadata", raw));
            metadata_.resize(static_cast<std::size_t>(raw));
            if (!read_at(file_.handle, body, metadata_.data(), metadata_.size())) return at_byte(at, "cannot be read");
            if (auto problem = read_metadata(at, big, (contents & new_object_list) != 0)) return problem;
        }
        const std::uint64_t raw_size = length - raw;
        if ((contents & has_raw_data) != 0 && raw_size > 0)
            if (auto problem = note_raw_data(at, body + raw, raw_size, (contents & interleaved_data) != 0, big, open))
                return problem;
        if (open) return close_unfinished(at);
        at = body + length;
        return std::nullopt;
    }

    // The recorder did not come to note where the last segment ends.
    std::optional<Problem> close_unfinished(std::uint64_t at)
    {
        last_ = true;
        remarks.push_back(fmt::format(
            "the recorder did not close the file: of its last segment, at byte {}, only whole chunks are read", at));
        return std::nullopt;
    }

    std::optional<Problem> read_metadata(std::uint64_t at, bool big, bool anew)
    {
        Metadata metadata(metadata_, big);
        if (anew) {
            for (Object* object : active_) object->active = false;
            active_.clear();
        }
        const auto damaged = [&](const std::string& what) {
            return at_byte(at, fmt::format("has metadata that cannot be read: {}", what));
        };
        const auto count = metadata.number<std::uint32_t>();
        // An object takes at least twelve bytes.
        if (count > metadata.left() / 12) return damaged(fmt::format("{} objects in {} bytes", count, metadata.left()));
        for (std::uint32_t i = 0; i < count; ++i) {
            const std::string path = metadata.text();
            if (!metadata.sound()) break;
            auto known = by_path_.find(path);
            if (known == by_path_.end()) {
                if (objects.size() >= most_objects) return damaged(fmt::format("more than {} objects", most_objects));
                auto names = names_in(path);
                if (!names) return damaged(fmt::format("an object's path at byte {}", metadata.at()));
                objects.push_back(std::make_unique<Object>());
                if (!names->empty()) objects.back()->group = (*names)[0];
                if (names->size() > 1) objects.back()->channel = (*names)[1];
                known = by_path_.emplace(path, objects.back().get()).first;
            }
            Object& object = *known->second;
            const auto index = metadata.number<std::uint32_t>();
            if (index == 0x1269 || index == 0x1369)
                return at_byte(at, "holds raw data of a converter, whose scaling is not public",
                               "convert it to a TDMS file of numbers or to WAV");
            if (index == 0 && !object.indexed) return damaged("an object refers to an index that was not given");
            if (index != 0 && index != 0xFFFFFFFFU)
                if (auto why = read_index(metadata, index, object)) return damaged(*why);
            if (index == 0xFFFFFFFFU && object.active)
                std::erase(active_, &object);
            else if (index != 0xFFFFFFFFU && !object.active)
                active_.push_back(&object);
            object.active = index != 0xFFFFFFFFU;
            if (auto why = read_properties(metadata, object)) return damaged(*why);
        }
        if (!metadata.sound()) return damaged("it ends too soon");
        return std::nullopt;
    }

    static std::optional<std::string> read_index(Metadata& metadata, std::uint32_t length, Object& object)
    {
        const auto type = static_cast<Type>(metadata.number<std::uint32_t>());
        const auto dimension = metadata.number<std::uint32_t>();
        const auto values = metadata.number<std::uint64_t>();
        std::uint64_t bytes = 0;
        if (type == Type::text) {
            bytes = metadata.number<std::uint64_t>();
        } else {
            const std::uint64_t width = width_of(type);
            if (width == 0) return fmt::format("data type {:#x}", static_cast<std::uint32_t>(type));
            if (__builtin_mul_overflow(values, width, &bytes)) return fmt::format("{} values in a chunk", values);
        }
        if (dimension != 1 && metadata.sound()) return fmt::format("{} dimensions of a channel", dimension);
        if (length != 20 && length != 28) return fmt::format("an index of {} bytes", length);
        if (length == 28 && type != Type::text) metadata.skip(8);
        if (bytes > (std::uint64_t{1} << 62)) return fmt::format("{} bytes in a chunk", bytes);
        object.mixed = object.mixed || (object.samples > 0 && object.type != type);
        object.type = type;
        object.values = values;
        object.bytes = bytes;
        object.indexed = true;
        return std::nullopt;
    }

    static std::optional<std::string> read_properties(Metadata& metadata, Object& object)
    {
        const auto count = metadata.number<std::uint32_t>();
        if (count > metadata.left() / 8) return fmt::format("{} properties in {} bytes", count, metadata.left());
        for (std::uint32_t i = 0; i < count && metadata.sound(); ++i) {
            const std::string name = metadata.text();
            const auto type = static_cast<Type>(metadata.number<std::uint32_t>());
            Property property;
            const auto number = [&]<class T>(T value) {
                property.number = static_cast<double>(value);
                property.text = fmt::format("{}", value);
            };
            switch (type) {
            case Type::int8: number(int{metadata.number<std::int8_t>()}); break;
            case Type::int16: number(metadata.number<std::int16_t>()); break;
            case Type::int32: number(metadata.number<std::int32_t>()); break;
            case Type::int64: number(metadata.number<std::int64_t>()); break;
            case Type::boolean:
            case Type::uint8: number(unsigned{metadata.number<std::uint8_t>()}); break;
            case Type::uint16: number(metadata.number<std::uint16_t>()); break;
            case Type::uint32: number(metadata.number<std::uint32_t>()); break;
            case Type::uint64: number(metadata.number<std::uint64_t>()); break;
            case Type::single_float:
            case Type::single_with_unit: number(metadata.number<float>()); break;
            case Type::double_float:
            case Type::double_with_unit: number(metadata.number<double>()); break;
            case Type::text: property.text = metadata.text(); break;
            case Type::timestamp: property.moment = metadata.moment(); break;
            default:
                if (width_of(type) == 0)
                    return fmt::format("property {} of data type {:#x}", name, static_cast<std::uint32_t>(type));
                metadata.skip(width_of(type));
            }
            if (metadata.sound()) object.properties[name] = std::move(property);
        }
        return std::nullopt;
    }

    std::optional<Problem> note_raw_data(std::uint64_t at, std::uint64_t begin, std::uint64_t size, bool interleaved,
                                         bool big, bool open)
    {
        std::uint64_t chunk = 0; // bytes
        std::uint64_t row = 0;   // of interleaved samples
        std::uint64_t rows = 0;
        for (const Object* object : active_) {
            if (object->values == 0 && object->bytes == 0) continue;
            if (__builtin_add_overflow(chunk, object->bytes, &chunk))
                return at_byte(at, "has chunks too large to be right");
            if (!interleaved) continue;
            if (width_of(object->type) == 0) return at_byte(at, "has interleaved texts");
            if (rows != 0 && object->values != rows) return at_byte(at, "interleaves channels of different lengths");
            rows = object->values;
            row += width_of(object->type);
        }
        if (chunk == 0) return at_byte(at, fmt::format("has {} bytes of raw data of which nothing is said", size));
        std::uint64_t chunks = size / chunk;
        std::uint64_t rest = size % chunk;
        if (interleaved && row > 0) { // rows follow each other whatever the chunk
            rows = size / row;
            rest = size % row;
            chunks = rows > 0 ? 1 : 0;
            chunk = rows * row;
        }
        if (rest != 0 && !open)
            return at_byte(at, fmt::format("has {} bytes of raw data, which is no whole number of chunks of {} bytes",
                                           size, interleaved ? row : chunk));
        if (chunks == 0) return std::nullopt;
        std::uint64_t offset = 0;
        for (Object* object : active_) {
            if (object->values == 0 && object->bytes == 0) continue;
            const std::uint64_t width = width_of(object->type);
            Run run{.first = object->samples,
                    .begin = interleaved ? begin : begin + offset,
                    .spacing = chunk,
                    .chunks = chunks,
                    .values = interleaved ? rows : object->values,
                    .stride = static_cast<std::uint32_t>(interleaved ? row : width),
                    .big = big,
                    .into_row = static_cast<std::uint32_t>(interleaved ? offset : 0)};
            offset += interleaved ? width : object->bytes;
            if ((sample_name(object->type).empty() && object->type != Type::timestamp) || object->channel.empty() ||
                run.values == 0)
                continue;
            // As many as there are bytes, so no overflow.
            object->samples += static_cast<std::int64_t>(run.chunks * run.values);
            if (joins(object->runs, run)) continue;
            if (++runs_ > most_runs)
                return tdms_problem(path_, "its samples are strewn over too many segments", "defragment it");
            object->runs.push_back(run);
        }
        return std::nullopt;
    }

    // Whether a run goes on evenly where the last one ends; then the last one is made longer.
    static bool joins(std::vector<Run>& runs, const Run& run)
    {
        if (runs.empty()) return false;
        Run& last = runs.back();
        if (last.values != run.values || last.stride != run.stride || last.big != run.big ||
            last.into_row != run.into_row)
            return false;
        const std::uint64_t gap = run.begin - (last.begin + (last.chunks - 1) * last.spacing);
        if ((last.chunks > 1 && gap != last.spacing) || (run.chunks > 1 && gap != run.spacing)) return false;
        last.spacing = gap;
        last.chunks += run.chunks;
        return true;
    }

    const OpenedFile& file_;
    const std::string& path_;
    std::uint64_t size_;
    std::unordered_map<std::string, Object*> by_path_;
    std::vector<Object*> active_; // whose raw data a chunk holds, in order
    std::vector<char> metadata_;
    std::size_t runs_ = 0;
    bool last_ = false;
};

// One of the file's recordings.
struct Part {
    std::string name = {};
    std::vector<const Object*> channels = {};
};

const Property* property_of(const Object& object, const std::string& name)
{
    const auto found = object.properties.find(name);
    return found != object.properties.end() ? &found->second : nullptr;
}

std::optional<double> number_of(const Object& object, const std::string& name)
{
    const Property* property = property_of(object, name);
    return property != nullptr ? property->number : std::nullopt;
}

// What must be one in all channels of a recording.
auto common(const Object& object)
{
    const Property* start = property_of(object, "wf_start_time");
    return std::tuple(object.samples, is_integer(object.type), number_of(object, "wf_increment").value_or(0.0),
                      start != nullptr && start->moment ? *start->moment : Moment{},
                      number_of(object, "wf_start_offset").value_or(0.0));
}

std::vector<Part> parts_in(const Walk& walk)
{
    std::vector<std::string> groups;
    std::map<std::string, std::vector<const Object*>> channels;
    for (const auto& object : walk.objects) {
        if (object->samples == 0 || object->mixed || object->type == Type::timestamp) continue;
        if (!channels.contains(object->group)) groups.push_back(object->group);
        channels[object->group].push_back(object.get());
    }
    std::vector<Part> parts;
    std::set<std::string> taken;
    for (const std::string& group : groups) {
        std::vector<Part> of_group;
        std::map<decltype(common(*walk.objects.front())), std::size_t> alike;
        for (const Object* channel : channels[group]) {
            const auto [place, fresh] = alike.try_emplace(common(*channel), of_group.size());
            if (fresh) of_group.emplace_back();
            of_group[place->second].channels.push_back(channel);
        }
        for (Part& part : of_group) {
            part.name = group;
            if (of_group.size() > 1) {
                const auto& first = part.channels.front()->channel;
                part.name += "/" + (part.channels.size() == 1   ? first
                                    : part.channels.size() == 2 ? first + "+" + part.channels.back()->channel
                                                                : first + "+...+" + part.channels.back()->channel);
            }
            if (part.name.empty()) part.name = "unnamed";
            for (std::size_t n = parts.size() + 1; !taken.insert(part.name).second; ++n)
                part.name = fmt::format("{}~{}", part.name, n);
            parts.push_back(std::move(part));
        }
    }
    return parts;
}

Result<double> rate_of(const std::string& path, const Part& part, const ReadOptions& options)
{
    const Object& first = *part.channels.front();
    if (const Property* unit = property_of(first, "wf_xunit_string");
        unit != nullptr && !unit->text.empty() && unit->text != "s")
        return fail(tdms_problem(path, fmt::format("{} runs over {}, not over seconds", part.name, unit->text),
                                 "name a recording over time"));
    const auto increment = number_of(first, "wf_increment");
    if (!increment && options.rate_hz) return *options.rate_hz;
    if (!increment)
        return fail(tdms_problem(path, fmt::format("{} states no rate (wf_increment)", part.name), "give rate_hz"));
    const double exact = 1.0 / *increment;
    if (!(exact > 0.0) || !std::isfinite(exact))
        return fail(tdms_problem(path, fmt::format("{} states a step of {} s (wf_increment)", part.name, *increment),
                                 "export it again with the right one"));
    // 1/1000 s is no binary number: 1000 Hz must not become 999.9999999999999 Hz.
    const double whole = std::round(exact);
    const double rate = 1.0 / whole == *increment ? whole : exact;
    if (options.rate_hz && std::abs(*options.rate_hz - rate) > 1e-3 * rate)
        return fail(tdms_problem(path,
                                 fmt::format("{} states a rate of {:.6g} Hz, but {} Hz was given as rate_hz", part.name,
                                             rate, *options.rate_hz),
                                 "keep the right one"));
    return rate;
}

std::vector<RecordingPart> told(const std::string& path, const std::vector<Part>& parts)
{
    std::vector<RecordingPart> list;
    for (const Part& part : parts) {
        const std::string channels =
            fmt::format("{} channel{}", part.channels.size(), part.channels.size() == 1 ? "" : "s");
        const auto samples = part.channels.front()->samples;
        const auto rate = rate_of(path, part, {});
        list.push_back({.name = part.name,
                        .says = rate ? fmt::format("{}, {:.6g} Hz, {:.6g} s", channels, *rate,
                                                   static_cast<double>(samples) / *rate)
                                     : fmt::format("{}, {} samples; {}", channels, samples, rate.error().what)});
    }
    return list;
}

std::string start_of(const Object& channel)
{
    const Property* start = property_of(channel, "wf_start_time");
    if (start == nullptr || !start->moment || *start->moment == Moment{}) return {};
    Moment moment = *start->moment;
    const double offset = number_of(channel, "wf_start_offset").value_or(0.0);
    if (!(std::abs(offset) < 1e9)) return {};
    const double whole = std::floor(offset);
    const auto more = static_cast<std::uint64_t>(std::ldexp(offset - whole, 53)) << 11;
    const bool carry = __builtin_add_overflow(moment.fraction, more, &moment.fraction);
    std::int64_t seconds = 0;
    if (__builtin_add_overflow(moment.seconds, static_cast<std::int64_t>(whole) + (carry ? 1 : 0), &seconds)) return {};
    moment.seconds = seconds;
    return iso8601(moment);
}

// Properties that users and programs give a channel, however they write them.
ChannelFacts facts_of(const Object& channel)
{
    ChannelFacts facts;
    for (const auto& [name, property] : channel.properties) {
        std::string key;
        for (const char c : name) {
            const auto byte = static_cast<unsigned char>(c);
            if (std::isalnum(byte) != 0) key += static_cast<char>(std::tolower(byte));
        }
        std::string text = property.moment ? iso8601(*property.moment) : property.text;
        std::ranges::replace_if(
            text, [](unsigned char c) { return c < ' '; }, ' ');
        if (key == "unitstring") facts.unit = text;
        if (key == "sensor" || key == "sensormodel" || key == "model") facts.sensor = text;
        if (key == "serial" || key == "serialnumber" || key == "sensorserial" || key == "sensorserialnumber")
            facts.serial = text;
        if (key == "sensitivity" || key == "sensorsensitivity") facts.sensitivity = text;
        if (key == "calibrated" || key == "calibrationdate") facts.calibrated = text.substr(0, text.find('T'));
        if (key == "direction") facts.direction = text;
        if (key == "teds" || key == "tedshex" || key == "tedsdata") facts.teds = text;
    }
    return facts;
}

RecordingInfo info_of(const Part& part, double rate_hz, const Walk& walk)
{
    const Object& first = *part.channels.front();
    RecordingInfo info;
    info.format = fmt::format("TDMS, {}", sample_name(first.type));
    info.rate_hz = rate_hz;
    info.channels = static_cast<int>(part.channels.size());
    info.frames = first.samples;
    info.integer_pcm = is_integer(first.type);
    info.step = info.integer_pcm ? 1.0 : 0.0;
    info.start = start_of(first);
    info.remarks = walk.remarks;
    std::size_t scaled = 0;
    for (const Object* channel : part.channels) {
        info.names.push_back(channel->channel);
        info.facts.push_back(facts_of(*channel));
        if (number_of(*channel, "NI_Number_Of_Scales").value_or(0.0) > 0.0) ++scaled;
    }
    if (scaled > 0)
        info.remarks.push_back(fmt::format("{} of its channels carry scaling properties, which are not applied: the "
                                           "stored values are read, so state their scale",
                                           scaled));
    read_sheets(info);
    const auto same_unit = [&](const ChannelFacts& facts) { return facts.unit == info.facts.front().unit; };
    if (std::ranges::all_of(info.facts, same_unit)) info.unit = info.facts.front().unit;
    return info;
}

// Of a channel of timestamps; nothing where the file became shorter.
std::optional<Moment> moment_at(const FileHandle& file, const Object& channel, std::int64_t sample)
{
    const Run& run = *run_with(channel.runs, sample);
    std::array<char, 16> bytes{};
    if (!read_at(file, run.row_of(sample) + run.into_row, bytes.data(), bytes.size())) return std::nullopt;
    return Metadata(bytes, run.big).moment();
}

// By the timestamps that stand beside the samples of a recording, where there are any: they can be stamped up to a
// sample late.
TimedRate timed_rate(const FileHandle& file, const Walk& walk, const Part& part)
{
    const Object& first = *part.channels.front();
    const auto stamps = std::ranges::find_if(walk.objects, [&](const auto& object) {
        return object->type == Type::timestamp && !object->mixed && object->group == first.group &&
               object->samples == first.samples;
    });
    if (stamps == walk.objects.end() || first.samples < 2) return {};
    const auto from = moment_at(file, **stamps, 0), to = moment_at(file, **stamps, first.samples - 1);
    if (!from || !to) return {};
    // Two numbers of seconds can be as far apart as numbers get.
    const double seconds = static_cast<double>(to->seconds) - static_cast<double>(from->seconds) +
                           (static_cast<double>(to->fraction) - static_cast<double>(from->fraction)) * 0x1p-64;
    if (!(seconds > 0.0)) return {};
    const auto steps = static_cast<double>(first.samples - 1);
    return {.hz = steps / seconds,
            .relative = 0.5 / steps,
            .by = fmt::format("the timestamps of channel {}", (*stamps)->channel)};
}

class TdmsReader final : public RecordingReader {
public:
    struct Channel {
        Type type = Type::none;
        std::vector<Run> runs = {};
    };

    TdmsReader(std::string path, FileHandle file, std::vector<Channel> channels, RecordingInfo info)
        : path_(std::move(path)), file_(std::move(file)), channels_(std::move(channels)), info_(std::move(info))
    {
    }

    const RecordingInfo& info() const override { return info_; }

    Result<std::size_t> read(std::span<double> values) override
    {
        const auto wanted = static_cast<std::int64_t>(std::min<std::uint64_t>(
            values.size() / channels_.size(), static_cast<std::uint64_t>(info_.frames - next_)));
        constexpr std::int64_t block = 4096; // the same rows are then asked for by every channel
        for (std::int64_t done = 0; done < wanted;) {
            const std::int64_t count = std::min(block, wanted - done);
            for (std::size_t c = 0; c < channels_.size(); ++c) {
                double* to = values.data() + static_cast<std::size_t>(done) * channels_.size() + c;
                if (!read_channel(channels_[c], next_, static_cast<std::size_t>(count), to))
                    return fail(tdms_problem(
                        path_, fmt::format("frame {} of {} cannot be read: the file became shorter or its disk fails",
                                           next_ + 1, info_.frames)));
            }
            next_ += count;
            done += count;
        }
        return static_cast<std::size_t>(wanted);
    }

    Result<void> seek(std::int64_t frame) override
    {
        if (frame < 0 || frame > info_.frames)
            return fail(tdms_problem(path_, fmt::format("frame {} of {} cannot be reached", frame + 1, info_.frames),
                                     "ask for a frame within the recording"));
        next_ = frame;
        return {};
    }

private:
    bool read_channel(const Channel& channel, std::int64_t first, std::size_t count, double* to)
    {
        auto run = run_with(channel.runs, first);
        while (count > 0) {
            const auto into = static_cast<std::uint64_t>(first - run->first);
            if (into >= run->chunks * run->values) {
                ++run;
                continue;
            }
            const auto part =
                static_cast<std::size_t>(std::min({std::uint64_t{count}, run->values - into % run->values,
                                                   std::max<std::uint64_t>(1, most_at_once / run->stride)}));
            const char* bytes = fetched(run->row_of(first), part * run->stride);
            if (bytes == nullptr) return false;
            convert(channel.type, bytes + run->into_row, run->stride, run->big, part, to, channels_.size());
            to += part * channels_.size();
            first += static_cast<std::int64_t>(part);
            count -= part;
        }
        return true;
    }

    // Bytes of the file, kept until others are asked for: of interleaved samples each channel asks for the same.
    const char* fetched(std::uint64_t begin, std::size_t size)
    {
        if (begin == fetched_from_ && size == bytes_.size()) return bytes_.data();
        bytes_.resize(size);
        fetched_from_ = begin;
        if (read_at(file_, begin, bytes_.data(), size)) return bytes_.data();
        bytes_.clear();
        return nullptr;
    }

    std::string path_;
    FileHandle file_;
    std::vector<Channel> channels_;
    RecordingInfo info_;
    std::int64_t next_ = 0;
    std::vector<char> bytes_;
    std::uint64_t fetched_from_ = 0;
};

struct Opened {
    OpenedFile file;
    std::unique_ptr<Walk> walk; // null: not of this format
    std::vector<Part> parts;
};

std::optional<Problem> open_file(const std::string& path, Opened& opened)
{
    auto regular = open_regular_file(path);
    if (!regular) return regular.error();
    opened.file = std::move(*regular);
    std::array<char, 4> head{};
    if (!read_at(opened.file.handle, 0, head.data(), head.size())) return std::nullopt;
    const std::string_view magic(head.data(), head.size());
    if (magic == "TDSh")
        return tdms_problem(path, "this is the index of a TDMS file, without samples", "open the .tdms file beside it");
    if (magic != "TDSm") return std::nullopt;
    opened.walk = std::make_unique<Walk>(opened.file, path);
    if (auto problem = opened.walk->segments()) return problem;
    opened.parts = parts_in(*opened.walk);
    for (const auto& object : opened.walk->objects)
        if (object->mixed)
            opened.walk->remarks.push_back(
                fmt::format("channel {} of {} is left out: its data type changes from segment to segment",
                            object->channel, object->group));
    if (!opened.parts.empty()) return std::nullopt;
    const bool mixed = std::ranges::any_of(opened.walk->objects, [](const auto& object) { return object->mixed; });
    if (mixed)
        return tdms_problem(path, "its channels change their data type from segment to segment", "export it again");
    return tdms_problem(path, "no channel holds numbers", "record it again, or look for the right file");
}

} // namespace

Result<std::unique_ptr<RecordingReader>> open_tdms(const std::string& path, const ReadOptions& options)
{
    Opened opened;
    if (auto problem = open_file(path, opened)) return fail(std::move(*problem));
    if (!opened.walk) return nullptr;
    const auto chosen = chosen_part(path, told(path, opened.parts), options.part);
    if (!chosen) return fail(chosen.error());
    const Part& part = opened.parts[*chosen];
    if (part.channels.size() > greatest_channels)
        return fail(tdms_problem(
            path,
            fmt::format("{} has {} channels; 1 to {} can be read", part.name, part.channels.size(), greatest_channels),
            "split it into several groups"));
    const auto rate = rate_of(path, part, options);
    if (!rate) return fail(rate.error());
    RecordingInfo info = info_of(part, *rate, *opened.walk);
    info.timed_rate = timed_rate(opened.file.handle, *opened.walk, part);
    std::vector<TdmsReader::Channel> channels;
    for (const Object* channel : part.channels) channels.push_back({.type = channel->type, .runs = channel->runs});
    return std::make_unique<TdmsReader>(path, std::move(opened.file.handle), std::move(channels), std::move(info));
}

Result<std::vector<RecordingPart>> parts_of_tdms(const std::string& path)
{
    Opened opened;
    if (auto problem = open_file(path, opened)) return fail(std::move(*problem));
    if (!opened.walk) return std::vector<RecordingPart>{};
    return told(path, opened.parts);
}

} // namespace becalm::io
