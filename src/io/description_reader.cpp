#include "src/io/description_reader.h"

#include <algorithm>
#include <array>
#include <cerrno>
#include <charconv>
#include <chrono>
#include <cmath>
#include <cstring>
#include <filesystem>
#include <unistd.h>

#include <fmt/format.h>

#include "src/io/atomic_file.h"
#include "src/io/raw_numbers.h"
#include "src/io/recording_path.h"
#include "src/io/recording_reader.h"
#include "src/io/regular_file.h"
#include "src/io/sensitivity.h"
#include "src/io/stream_reader.h"
#include "src/io/teds.h"
#include "src/io/toml_fields.h"

namespace becalm::io {

namespace {

namespace fs = std::filesystem;

constexpr std::string_view table_name = "becalm-recording";
constexpr std::size_t longest_description = std::size_t{1} << 20;
constexpr std::size_t most_files = 10'000;
constexpr int greatest_channels = 256;

Problem unusable(const std::string& path, std::string what, std::string remedy)
{
    Problem problem;
    problem.file = path;
    problem.what = std::move(what);
    problem.remedy = std::move(remedy);
    return problem;
}

struct Description {
    std::vector<std::string> files = {}; // as named
    bool side_by_side = false;
    std::optional<RawNumbers> numbers = {}; // of raw files
    bool big = false;
    int channels = 0; // of a raw file
    bool interleaved = true;
    std::int64_t header_bytes = 0;
    std::optional<double> rate_hz = {};
    std::string start = {};
    std::string unit = {};
    std::vector<std::string> names = {};
    std::vector<double> scale = {};
    std::vector<std::string> teds = {}, sensitivity = {}; // one a channel, or one for all
    int line = 0;                                         // of the table
};

// ---- the document ----

// Within the folder: no way up, none from elsewhere. What links make of it is looked at when it is opened.
bool is_below(const std::string& name)
{
    const fs::path path(name);
    const bool plain = std::ranges::none_of(name, [](unsigned char c) { return c < ' ' || c == '\\' || c == 0x7F; });
    return plain && !name.empty() && path.is_relative() &&
           std::ranges::none_of(path, [](const fs::path& part) { return part == ".."; });
}

std::vector<double> numbers_in(TomlFields& fields, std::string_view key)
{
    const toml::node* node = fields.find(key);
    if (node == nullptr) return {};
    std::vector<double> values;
    const auto take = [&](const toml::node& one) {
        const auto value = one.value<double>();
        if (value && std::isfinite(*value) && *value != 0.0) values.push_back(*value);
        return value && std::isfinite(*value) && *value != 0.0;
    };
    bool sound = true;
    if (const toml::array* array = node->as_array())
        for (const toml::node& one : *array) sound = take(one) && sound;
    else
        sound = take(*node);
    if (!sound)
        fields.fault(key, "this must be a number other than 0, or a list of them", "write scale = [0.01, 0.02]");
    return values;
}

std::vector<std::string> plain(std::vector<Placed<std::string>> placed)
{
    std::vector<std::string> values;
    for (Placed<std::string>& one : placed) values.push_back(std::move(one.value));
    return values;
}

// A text, or a list of them.
std::vector<std::string> one_or_several(TomlFields& fields, std::string_view key)
{
    const toml::node* node = fields.find(key);
    if (node == nullptr) return {};
    std::vector<std::string> texts;
    const auto take = [&](const toml::node& one) {
        if (const auto text = one.value<std::string>()) texts.push_back(*text); // empty: nothing of that channel
        return one.is_string();
    };
    bool sound = true;
    if (const toml::array* array = node->as_array())
        for (const toml::node& one : *array) sound = take(one) && sound;
    else
        sound = take(*node);
    if (!sound) fields.fault(key, "this must be a text, or a list of them", "put each between quotes");
    return texts;
}

Result<Description> description_in(const std::string& text, const std::string& path)
{
    auto root = parse_toml(text, path);
    if (!root) return fail(root.error());
    TomlFaults faults(path);
    constexpr std::array<std::string_view, 1> tables{table_name};
    TomlFields document(*root, "", tables, faults);
    const toml::node* node = document.find(table_name);
    if (node == nullptr || node->as_table() == nullptr)
        return fail(unusable(path, "there is no table [becalm-recording]", "write it above the keys"));
    constexpr std::array<std::string_view, 14> keys{"files",  "side_by_side", "numbers", "byte_order", "channels",
                                                    "layout", "header_bytes", "rate_hz", "start",      "unit",
                                                    "names",  "scale",        "teds",    "sensitivity"};
    TomlFields fields(*node->as_table(), std::string(table_name), keys, faults);

    Description description;
    description.line = fields.line();
    description.side_by_side = fields.has("side_by_side");
    const std::string_view list = description.side_by_side ? "side_by_side" : "files";
    if (description.side_by_side && fields.has("files"))
        fields.fault("files", "files stand in files or in side_by_side, not in both", "keep one of the two");
    if (!fields.has(list)) fields.require("files", "[\"run.bin\"]");
    for (Placed<std::string>& file : fields.texts(list)) {
        if (!is_below(recording_path(file.value).file))
            faults.add(file.where, file.key,
                       fmt::format("{} does not lie in the description's folder or below it", file.value),
                       "copy the file there and name it from there");
        description.files.push_back(std::move(file.value));
    }
    const std::size_t most = description.side_by_side ? greatest_channels : most_files;
    if (fields.has(list) && (description.files.empty() || description.files.size() > most))
        fields.fault(list, fmt::format("it names {} files; 1 to {} can be read", description.files.size(), most),
                     "name at least one, or split the recording");

    if (const auto numbers = fields.one_of("numbers", as_strings(names_of_raw_numbers)))
        description.numbers = static_cast<RawNumbers>(std::ranges::find(names_of_raw_numbers, numbers->value) -
                                                      names_of_raw_numbers.begin());
    const std::vector<std::string> orders{"little", "big"};
    if (const auto order = fields.one_of("byte_order", orders)) description.big = order->value == "big";
    const std::vector<std::string> layouts{"interleaved", "one after the other"};
    if (const auto layout = fields.one_of("layout", layouts)) description.interleaved = layout->value == "interleaved";
    constexpr NumberRule channels_rule{
        .least = 1.0, .most = greatest_channels, .words = "a whole number from 1 to 256"};
    constexpr NumberRule bytes_rule{.least = 0.0, .most = 1e15, .words = "a whole number, 0 or more"};
    const auto whole = [&](std::string_view key, const NumberRule& rule, double otherwise) {
        const double value = fields.number(key, rule).value_or(otherwise);
        if (value == std::floor(value)) return value;
        fields.fault(key, fmt::format("this must be {}", rule.words), "write a whole number");
        return otherwise;
    };
    description.channels = static_cast<int>(whole("channels", channels_rule, 1.0));
    description.header_bytes = static_cast<std::int64_t>(whole("header_bytes", bytes_rule, 0.0));
    description.rate_hz = fields.number("rate_hz", above_zero);
    if (const auto start = fields.text_not_empty("start")) description.start = start->value;
    if (const auto unit = fields.text_not_empty("unit")) description.unit = unit->value;
    description.names = plain(fields.texts("names"));
    description.scale = numbers_in(fields, "scale");
    description.teds = one_or_several(fields, "teds");
    description.sensitivity = one_or_several(fields, "sensitivity");
    for (const std::string& teds : description.teds)
        if (const auto sheet = basic_teds(teds); !teds.empty() && !sheet)
            fields.fault("teds", sheet.error().what, "write the bytes as hexadecimal text, or leave it empty");
    for (const std::string& stated : description.sensitivity)
        if (const auto sensitivity = sensitivity_in(stated); !stated.empty() && !sensitivity)
            fields.fault("sensitivity", sensitivity.error().what, sensitivity.error().remedy);
    if (description.numbers) {
        fields.require("channels", "3");
        fields.require("rate_hz", "1000.0");
    } else {
        for (const std::string_view key : {"byte_order", "channels", "layout", "header_bytes"})
            if (fields.has(key))
                fields.fault(key, fmt::format("{} is said of raw files, whose numbers must be said too", key),
                             "add numbers = \"int16\" or what they are, or take this out");
    }
    if (!faults.empty()) return fail(faults.sorted().front());
    return description;
}

Result<Description> read_description(const std::string& path)
{
    const auto text = read_text_file(path, longest_description);
    if (!text) return fail(text.error());
    return description_in(*text, path);
}

// Where a file named by the description lies; a Problem where a link leads out of its folder.
Result<std::string> place_of(const std::string& description, const std::string& name)
{
    const fs::path folder = fs::path(description).parent_path();
    const std::string whole = (folder / name).string();
    std::error_code error;
    const fs::path home = fs::canonical(folder.empty() ? fs::path(".") : folder, error);
    const fs::path file = fs::canonical(recording_path(whole).file, error);
    if (error) return whole; // whoever opens it says what is wrong
    const auto [inside, rest] = std::ranges::mismatch(home, file);
    if (inside != home.end())
        return fail(unusable(description, fmt::format("{} is a link to a file that lies elsewhere", name),
                             "copy the file itself into the description's folder"));
    return whole;
}

// ---- raw files ----

class RawReader final : public RecordingReader {
public:
    RawReader(std::string path, FileHandle file, const Description& description, RecordingInfo info)
        : path_(std::move(path)), file_(std::move(file)), numbers_(*description.numbers), big_(description.big),
          interleaved_(description.interleaved), begin_(description.header_bytes), info_(std::move(info))
    {
    }

    const RecordingInfo& info() const override { return info_; }

    Result<std::size_t> read(std::span<double> values) override
    {
        const auto channels = static_cast<std::size_t>(info_.channels);
        constexpr std::uint64_t block = 8192;
        const auto wanted =
            std::min<std::uint64_t>(values.size() / channels, static_cast<std::uint64_t>(info_.frames - next_));
        for (std::uint64_t done = 0; done < wanted;) {
            const auto count = static_cast<std::size_t>(std::min(block, wanted - done));
            double* const to = values.data() + done * channels;
            bool sound = true;
            if (interleaved_)
                sound = take(next_ * info_.channels, count * channels, to, 1);
            else
                for (std::size_t c = 0; c < channels && sound; ++c)
                    sound = take(static_cast<std::int64_t>(c) * info_.frames + next_, count, to + c, channels);
            if (!sound)
                return fail(
                    unusable(path_,
                             fmt::format("frame {} of {} cannot be read: the file became shorter or its disk fails",
                                         next_ + 1, info_.frames),
                             "copy it again from the recorder"));
            next_ += static_cast<std::int64_t>(count);
            done += count;
        }
        return static_cast<std::size_t>(wanted);
    }

    Result<void> seek(std::int64_t frame) override
    {
        if (frame < 0 || frame > info_.frames)
            return fail(unusable(path_, fmt::format("frame {} of {} cannot be reached", frame + 1, info_.frames),
                                 "ask for a frame within the recording"));
        next_ = frame;
        return {};
    }

private:
    // Numbers from the `first` of the file on, into every `step`-th of `to`.
    bool take(std::int64_t first, std::size_t count, double* to, std::size_t step)
    {
        const std::size_t width = width_of(numbers_);
        bytes_.resize(count * width);
        const std::int64_t from = begin_ + first * static_cast<std::int64_t>(width);
        for (std::size_t filled = 0; filled < bytes_.size();) {
            const ssize_t got = ::pread(file_.get(), bytes_.data() + filled, bytes_.size() - filled,
                                        from + static_cast<std::int64_t>(filled));
            if (got < 0 && errno == EINTR) continue;
            if (got <= 0) return false;
            filled += static_cast<std::size_t>(got);
        }
        numbers_from(bytes_.data(), numbers_, big_, count, to, step);
        return true;
    }

    std::string path_;
    FileHandle file_;
    RawNumbers numbers_;
    bool big_, interleaved_;
    std::int64_t begin_;
    RecordingInfo info_;
    std::int64_t next_ = 0;
    std::vector<char> bytes_;
};

RecordingInfo info_of_raw(const Description& description)
{
    RecordingInfo info;
    info.format = fmt::format("raw {}", names_of_raw_numbers[static_cast<std::size_t>(*description.numbers)]);
    info.rate_hz = *description.rate_hz;
    info.channels = description.channels;
    info.integer_pcm = *description.numbers < RawNumbers::float32;
    info.step = info.integer_pcm ? 1.0 : 0.0;
    return info;
}

bool is_of_a_stream(const Description& description)
{
    return std::ranges::find(description.files, "-") != description.files.end();
}

Result<std::unique_ptr<RecordingReader>> open_raw(const std::string& path, const Description& description)
{
    auto opened = open_regular_file(path);
    if (!opened) return fail(opened.error());
    const auto frame = static_cast<std::int64_t>(width_of(*description.numbers)) * description.channels;
    const std::int64_t held = opened->size - description.header_bytes;
    if (held < frame)
        return fail(unusable(path,
                             fmt::format("it holds {} bytes, its description says {} of header and frames of {}",
                                         opened->size, description.header_bytes, frame),
                             "correct the description, or copy the file again"));
    if (held % frame != 0)
        return fail(unusable(
            path,
            fmt::format("behind its header it holds {} bytes, which is no whole number of frames of {}", held, frame),
            "correct channels, numbers or header_bytes, or copy the file again"));
    RecordingInfo info = info_of_raw(description);
    info.frames = held / frame;
    return std::make_unique<RawReader>(path, std::move(opened->handle), description, std::move(info));
}

// ---- several files ----

struct NamedFile {
    std::string name = {}; // as the description names it
    std::string path = {};
    RecordingInfo info = {};
    std::int64_t first = 0; // frame of the recording, of files in sequence
};

// What opens each of the files.
struct Opener {
    std::string path = {}; // of the description
    Description description = {};
    ReadOptions options = {};

    Result<std::unique_ptr<RecordingReader>> operator()(const std::string& file) const
    {
        if (description.numbers) return open_raw(file, description);
        if (is_description(recording_path(file).file))
            return fail(
                unusable(path, fmt::format("{} is a description itself", file), "name the files that it names"));
        return open_recording(file, options);
    }
};

// Where the format writes it: "2031-05-17T06:30:05.25Z". Zone as it stands.
struct Start {
    double seconds = 0.0;
    double resolution_s = 1.0;
    std::string zone = {};
};

std::optional<Start> start_in(const std::string& text)
{
    const auto number = [&](std::size_t at, std::size_t count) -> std::optional<int> {
        int value = 0;
        if (text.size() < at + count) return std::nullopt;
        const char* const from = text.data() + at;
        const auto [end, error] = std::from_chars(from, from + count, value);
        return error == std::errc() && end == from + count ? std::optional(value) : std::nullopt;
    };
    const auto y = number(0, 4), mo = number(5, 2), d = number(8, 2), h = number(11, 2), mi = number(14, 2),
               s = number(17, 2);
    if (!y || !mo || !d || !h || !mi || !s) return std::nullopt;
    using namespace std::chrono;
    const year_month_day date{year{*y}, month{static_cast<unsigned>(*mo)}, day{static_cast<unsigned>(*d)}};
    if (!date.ok()) return std::nullopt;
    Start start;
    start.seconds =
        static_cast<double>(sys_days(date).time_since_epoch().count()) * 86400.0 + *h * 3600.0 + *mi * 60.0 + *s;
    std::size_t at = 19;
    if (at < text.size() && text[at] == '.')
        for (++at; at < text.size() && text[at] >= '0' && text[at] <= '9'; ++at) {
            start.resolution_s /= 10.0;
            start.seconds += (text[at] - '0') * start.resolution_s;
        }
    start.zone = text.substr(at);
    return start;
}

// How much later than `other` a file begins, and how finely that is known; none where one does not say.
std::optional<std::pair<double, double>> later_by(const std::string& start, const std::string& other)
{
    const auto a = start_in(start), b = start_in(other);
    if (!a || !b || a->zone != b->zone) return std::nullopt;
    return std::pair(a->seconds - b->seconds, std::max(a->resolution_s, b->resolution_s));
}

// What must agree between any two files.
std::optional<Problem> difference(const std::string& path, const NamedFile& a, const NamedFile& b, bool side_by_side)
{
    const auto differ = [&](std::string_view what, const auto& of_a, const auto& of_b) {
        return unusable(path, fmt::format("{} has {} {}, {} has {}", a.name, what, of_a, b.name, of_b),
                        "describe them as recordings of their own");
    };
    if (a.info.rate_hz != b.info.rate_hz) return differ("a rate in Hz of", a.info.rate_hz, b.info.rate_hz);
    if (a.info.format != b.info.format && (!side_by_side || a.info.step != b.info.step))
        return differ("the format", a.info.format, b.info.format);
    if (a.info.step != b.info.step) return differ("a step of", a.info.step, b.info.step);
    if (side_by_side) {
        if (a.info.frames != b.info.frames) return differ("a length in samples of", a.info.frames, b.info.frames);
        if (const auto later = later_by(b.info.start, a.info.start);
            later && std::abs(later->first) > later->second + 1.0 / a.info.rate_hz)
            return unusable(path,
                            fmt::format("{} begins {:.6g} s {} than {}", b.name, std::abs(later->first),
                                        later->first > 0 ? "later" : "earlier", a.name),
                            "cut them to the same time");
        return std::nullopt;
    }
    if (a.info.channels != b.info.channels) return differ("a number of channels of", a.info.channels, b.info.channels);
    if (a.info.unit != b.info.unit) return differ("the unit", a.info.unit, b.info.unit);
    if (a.info.names != b.info.names)
        return differ("the channels", fmt::format("{}", fmt::join(a.info.names, ", ")),
                      fmt::format("{}", fmt::join(b.info.names, ", ")));
    if (const auto later = later_by(b.info.start, a.info.start)) {
        const double lasts = static_cast<double>(a.info.frames) / a.info.rate_hz;
        const double gap = later->first - lasts;
        if (std::abs(gap) > later->second + 1.0 / a.info.rate_hz)
            return unusable(path,
                            gap > 0 ? fmt::format("between {} and {} {:.6g} s are missing", a.name, b.name, gap)
                                    : fmt::format("{} and {} overlap by {:.6g} s", a.name, b.name, -gap),
                            "describe them as recordings of their own");
    }
    return std::nullopt;
}

class DescribedReader final : public RecordingReader {
public:
    DescribedReader(Opener opener, std::vector<NamedFile> files, RecordingInfo info)
        : opener_(std::move(opener)), files_(std::move(files)), info_(std::move(info)),
          side_by_side_(opener_.description.side_by_side)
    {
    }

    const RecordingInfo& info() const override { return info_; }

    Result<std::size_t> read(std::span<double> values) override
    {
        const auto channels = static_cast<std::size_t>(info_.channels);
        const auto wanted = static_cast<std::size_t>(
            std::min<std::uint64_t>(values.size() / channels, static_cast<std::uint64_t>(info_.frames - next_)));
        return side_by_side_ ? read_beside(values.data(), wanted) : read_in_sequence(values.first(wanted * channels));
    }

    Result<void> seek(std::int64_t frame) override
    {
        if (frame < 0 || frame > info_.frames)
            return fail(unusable(opener_.path, fmt::format("frame {} of {} cannot be reached", frame + 1, info_.frames),
                                 "ask for a frame within the recording"));
        if (frame != next_) {
            next_ = frame;
            placed_ = false;
        }
        return {};
    }

private:
    // A file as it was when the description was opened.
    Result<std::unique_ptr<RecordingReader>> opened(const NamedFile& file) const
    {
        auto reader = opener_(file.path);
        if (!reader) return fail(reader.error());
        const RecordingInfo& now = (*reader)->info();
        if (now.frames != file.info.frames || now.channels != file.info.channels || now.rate_hz != file.info.rate_hz)
            return fail(unusable(file.path, "the file changed while it was read", "read it again"));
        return reader;
    }

    Result<std::size_t> read_in_sequence(std::span<double> values)
    {
        const auto channels = static_cast<std::size_t>(info_.channels);
        std::size_t done = 0;
        while (done < values.size()) {
            const auto in = static_cast<std::size_t>(std::ranges::upper_bound(files_, next_, {}, &NamedFile::first) -
                                                     files_.begin() - 1);
            if (readers_.empty() || open_ != in) {
                readers_.clear();
                auto reader = opened(files_[in]);
                if (!reader) return fail(reader.error());
                readers_.push_back(std::move(*reader));
                open_ = in;
                placed_ = next_ == files_[in].first;
            }
            if (!placed_)
                if (auto sought = readers_.front()->seek(next_ - files_[in].first); !sought)
                    return fail(sought.error());
            placed_ = true;
            const auto got = readers_.front()->read(values.subspan(done));
            if (!got) return fail(got.error());
            if (*got == 0)
                return fail(unusable(files_[in].path, "the file became shorter while it was read", "read it again"));
            done += *got * channels;
            next_ += static_cast<std::int64_t>(*got);
        }
        return done / channels;
    }

    Result<std::size_t> read_beside(double* to, std::size_t wanted)
    {
        if (readers_.empty())
            for (const NamedFile& file : files_) {
                auto reader = opened(file);
                if (!reader) return fail(reader.error());
                readers_.push_back(std::move(*reader));
            }
        const auto channels = static_cast<std::size_t>(info_.channels);
        constexpr std::size_t block = 4096;
        for (std::size_t done = 0; done < wanted;) {
            const std::size_t count = std::min(block, wanted - done);
            std::size_t channel = 0;
            for (std::size_t f = 0; f < files_.size(); ++f) {
                if (!placed_)
                    if (auto sought = readers_[f]->seek(next_); !sought) return fail(sought.error());
                const auto of_file = static_cast<std::size_t>(files_[f].info.channels);
                part_.resize(count * of_file);
                for (std::size_t filled = 0; filled < part_.size();) {
                    const auto got = readers_[f]->read(std::span(part_).subspan(filled));
                    if (!got) return fail(got.error());
                    if (*got == 0)
                        return fail(
                            unusable(files_[f].path, "the file became shorter while it was read", "read it again"));
                    filled += *got * of_file;
                }
                for (std::size_t i = 0; i < count; ++i)
                    for (std::size_t c = 0; c < of_file; ++c)
                        to[(done + i) * channels + channel + c] = part_[i * of_file + c];
                channel += of_file;
            }
            placed_ = true;
            next_ += static_cast<std::int64_t>(count);
            done += count;
        }
        return wanted;
    }

    Opener opener_;
    std::vector<NamedFile> files_;
    RecordingInfo info_;
    bool side_by_side_;
    std::vector<std::unique_ptr<RecordingReader>> readers_; // in sequence: the one of `open_`
    std::size_t open_ = 0;
    bool placed_ = false; // the readers stand at next_
    std::int64_t next_ = 0;
    std::vector<double> part_;
};

// What the files say together.
RecordingInfo together(const std::vector<NamedFile>& files, bool side_by_side)
{
    RecordingInfo info = files.front().info;
    info.remarks.clear();
    for (const NamedFile& file : files) {
        info.seekable = info.seekable && file.info.seekable;
        for (const std::string& remark : file.info.remarks) info.remarks.push_back(file.name + ": " + remark);
    }
    if (!side_by_side) {
        info.frames = 0;
        for (const NamedFile& file : files) info.frames += file.info.frames;
        // From file to file a rate that is a little wrong hides in the resolution of their starts; over all of them it
        // adds up.
        const NamedFile& last = files.back();
        if (const auto later = later_by(last.info.start, files.front().info.start);
            later && later->first > later->second && last.first > 0)
            info.timed_rate = {.hz = static_cast<double>(last.first) / later->first,
                               .relative = later->second / later->first,
                               .by = "the start times of its files"};
        return info;
    }
    info.channels = 0;
    info.names.clear();
    info.facts.clear();
    for (const NamedFile& file : files) {
        const auto channels = static_cast<std::size_t>(file.info.channels);
        info.channels += file.info.channels;
        std::vector<std::string> names = file.info.names;
        if (names.size() != channels) names.assign(channels, fs::path(file.name).stem().string());
        info.names.insert(info.names.end(), names.begin(), names.end());
        std::vector<ChannelFacts> facts = file.info.facts;
        facts.resize(channels);
        for (ChannelFacts& fact : facts)
            if (fact.unit.empty()) fact.unit = file.info.unit;
        info.facts.insert(info.facts.end(), facts.begin(), facts.end());
        if (file.info.unit != info.unit) info.unit.clear();
    }
    if (std::ranges::all_of(info.facts, [](const ChannelFacts& fact) { return fact.unit.empty(); }) &&
        std::ranges::all_of(files, [](const NamedFile& file) { return file.info.facts.empty(); }))
        info.facts.clear();
    return info;
}

// Adds what the description says.
std::optional<Problem> complete(const std::string& path, const Description& description, RecordingInfo& info)
{
    const auto channels = static_cast<std::size_t>(info.channels);
    const auto wrong = [&](std::string what, std::string remedy) {
        Problem problem = unusable(path, std::move(what), std::move(remedy));
        problem.line = description.line;
        return problem;
    };
    if (description.rate_hz && std::abs(*description.rate_hz - info.rate_hz) > 1e-3 * info.rate_hz)
        return wrong(fmt::format("it says a rate of {} Hz, its files {} Hz", *description.rate_hz, info.rate_hz),
                     "keep the right one");
    if (!description.unit.empty() && !info.unit.empty() && description.unit != info.unit)
        return wrong(fmt::format("it says the unit {}, its files {}", description.unit, info.unit),
                     "keep the right one");
    if (!description.start.empty() && !info.start.empty() && description.start != info.start)
        return wrong(fmt::format("it says a start of {}, its files {}", description.start, info.start),
                     "keep the right one");
    if (!description.names.empty() && description.names.size() != channels)
        return wrong(fmt::format("it names {} channels, there are {}", description.names.size(), channels),
                     "name each channel");
    if (description.scale.size() > 1 && description.scale.size() != channels)
        return wrong(fmt::format("it gives {} scales, there are {} channels", description.scale.size(), channels),
                     "give one scale, or one a channel");
    for (const auto& [what, texts] :
         {std::pair("data sheets (teds)", &description.teds), std::pair("sensitivities", &description.sensitivity)})
        if (texts->size() > 1 && texts->size() != channels)
            return wrong(fmt::format("it gives {} {}, there are {} channels", texts->size(), what, channels),
                         "give one, or one a channel");
    if (!description.teds.empty() || !description.sensitivity.empty()) {
        info.facts.resize(channels);
        const auto of = [](const std::vector<std::string>& texts, std::size_t c) {
            return texts.empty() ? std::string() : texts[texts.size() == 1 ? 0 : c];
        };
        for (std::size_t c = 0; c < channels; ++c) {
            if (auto teds = of(description.teds, c); !teds.empty()) info.facts[c].teds = std::move(teds);
            if (auto text = of(description.sensitivity, c); !text.empty()) info.facts[c].sensitivity = std::move(text);
        }
        read_sheets(info);
    }
    if (!description.unit.empty()) info.unit = description.unit;
    if (!description.start.empty()) info.start = description.start;
    if (!description.names.empty()) info.names = description.names;
    if (!description.scale.empty()) {
        info.facts.resize(channels);
        for (std::size_t c = 0; c < channels; ++c) {
            info.facts[c].scale = description.scale[description.scale.size() == 1 ? 0 : c];
            if (!description.unit.empty()) info.facts[c].unit = description.unit;
        }
    }
    return std::nullopt;
}

std::vector<std::string> without_parts(const std::string& path, const Description& description)
{
    const fs::path folder = fs::path(path).parent_path();
    std::vector<std::string> files;
    for (const std::string& name : description.files) {
        // A # belongs to the name where a file of that name is there.
        const RecordingPath found = recording_path((folder / name).string());
        const std::size_t part = found.part.empty() ? 0 : found.part.size() + 1;
        std::string file = name.substr(0, name.size() - part);
        if (std::ranges::find(files, file) == files.end()) files.push_back(std::move(file));
    }
    return files;
}

} // namespace

bool is_description(const std::string& path)
{
    auto opened = open_regular_file(path);
    if (!opened || std::cmp_greater(opened->size, longest_description)) return false;
    std::string head(std::min<std::size_t>(static_cast<std::size_t>(opened->size), std::size_t{16} << 10), '\0');
    const auto got = read_bytes(opened->handle, path, head);
    if (!got) return false;
    head.resize(*got);
    if (head.find('\0') != std::string::npos) return false;
    const std::string header = fmt::format("[{}]", table_name);
    for (std::size_t at = head.find(header); at != std::string::npos; at = head.find(header, at + 1)) {
        const std::size_t line = at == 0 ? 0 : head.find_last_of('\n', at - 1) + 1;
        const std::string_view before = std::string_view(head).substr(line, at - line);
        if (before.find_first_not_of(" \t\xEF\xBB\xBF") == std::string_view::npos) return true;
    }
    return false;
}

Result<std::vector<std::string>> files_described(const std::string& path)
{
    const auto description = read_description(path);
    if (!description) return fail(description.error());
    return without_parts(path, *description);
}

Result<std::unique_ptr<RecordingReader>> open_description(const std::string& path, const ReadOptions& options)
{
    if (!is_description(path)) return nullptr;
    auto read = read_description(path);
    if (!read) return fail(read.error());
    Opener opener{.path = path, .description = std::move(*read)};
    const Description& description = opener.description;
    if (!options.part.empty())
        return fail(unusable(path, fmt::format("a description is of one recording, it has no part {}", options.part),
                             "name the part in its list of files"));
    if (options.rate_hz && description.rate_hz &&
        std::abs(*options.rate_hz - *description.rate_hz) > 1e-3 * *description.rate_hz)
        return fail(unusable(path,
                             fmt::format("it says a rate of {} Hz, but {} Hz was given as rate_hz",
                                         *description.rate_hz, *options.rate_hz),
                             "keep the right one"));
    if (is_of_a_stream(description))
        return fail(unusable(path, "it describes a stream, which is no recording to be read twice",
                             "send it through `becalm stream`, which keeps what it came to"));
    opener.options.rate_hz = description.rate_hz ? description.rate_hz : options.rate_hz;

    std::vector<NamedFile> files;
    std::int64_t frames = 0;
    int channels = 0;
    for (const std::string& name : description.files) {
        const auto place = place_of(path, name);
        if (!place) return fail(place.error());
        const auto reader = opener(*place);
        if (!reader) return fail(reader.error());
        files.push_back({.name = name, .path = *place, .info = (*reader)->info(), .first = frames});
        const NamedFile& before = files[description.side_by_side || files.size() == 1 ? 0 : files.size() - 2];
        if (auto problem = difference(path, before, files.back(), description.side_by_side);
            problem && files.size() > 1)
            return fail(std::move(*problem));
        frames += files.back().info.frames;
        channels += files.back().info.channels;
    }
    if (description.side_by_side && channels > greatest_channels)
        return fail(
            unusable(path, fmt::format("its files have {} channels; 1 to {} can be read", channels, greatest_channels),
                     "split it into several descriptions"));
    RecordingInfo info = together(files, description.side_by_side);
    if (auto problem = complete(path, description, info)) return fail(std::move(*problem));
    info.format = fmt::format("{}{}", info.format,
                              files.size() == 1          ? ", described"
                              : description.side_by_side ? fmt::format(", {} files side by side", files.size())
                                                         : fmt::format(", {} files in sequence", files.size()));
    info.files = without_parts(path, description);
    return std::make_unique<DescribedReader>(std::move(opener), std::move(files), std::move(info));
}

Result<std::vector<RecordingFile>> files_of_recording(const std::string& path)
{
    const std::string file = recording_path(path).file;
    std::vector<RecordingFile> files{{.path = file, .name = fs::path(file).filename().string()}};
    if (!is_description(file)) return files;
    const auto described = files_described(file);
    if (!described) return fail(described.error());
    for (const std::string& name : *described) {
        const auto place = place_of(file, name);
        if (!place) return fail(place.error());
        files.push_back({.path = *place, .name = name});
    }
    return files;
}

Result<StreamLayout> stream_described(const std::string& path)
{
    const auto read = read_description(path);
    if (!read) return fail(read.error());
    const Description& description = *read;
    const auto wrong = [&](std::string what, std::string remedy) {
        Problem problem = unusable(path, std::move(what), std::move(remedy));
        problem.line = description.line;
        return fail(std::move(problem));
    };
    if (description.files != std::vector<std::string>{"-"})
        return wrong("it describes files, not a stream", "write files = [\"-\"] for the standard input");
    if (!description.numbers || !description.interleaved)
        return wrong("a stream consists of raw numbers, all channels of a moment together",
                     "add numbers = \"float32\" or what they are, and leave out layout");
    StreamLayout layout{.info = info_of_raw(description),
                        .numbers = *description.numbers,
                        .big_endian = description.big,
                        .header_bytes = description.header_bytes};
    layout.info.format += ", streamed";
    if (auto problem = complete(path, description, layout.info)) return fail(std::move(*problem));
    return layout;
}

} // namespace becalm::io
