// MATLAB files, version 5 to 7.3: which of their variables are recordings, and reading them.
//
// A recording is a real matrix of numbers, its longer dimension time, or several vectors of one length side by side
// (fields of one struct, or variables). Its rate is told by what lies beside it or further out: a number "fs",
// "rate_hz", "sample_rate" or "dt", or a vector "t" or "time" of the same length. So are names of channels, unit and
// start.
#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <cstring>
#include <limits>
#include <set>
#include <utility>

#include <fmt/format.h>

#include "src/io/mat_tree.h"
#include "src/io/recording_reader.h"

namespace becalm::io {

namespace {

constexpr std::int64_t greatest_channels = 256;
// Shorter arrays are settings or results, where there is anything longer.
constexpr std::int64_t shortest_recording = 16;
constexpr std::int64_t block_frames = 8192;

using Words = std::span<const std::string_view>;
constexpr std::array<std::string_view, 7> rate_words{
    "fs", "rate_hz", "sample_rate", "samplerate", "sampling_rate", "sample_rate_hz", "fs_hz"};
constexpr std::array<std::string_view, 1> step_words{"dt"};
constexpr std::array<std::string_view, 2> time_words{"t", "time"};
constexpr std::array<std::string_view, 5> name_words{"names", "labels", "channels", "channel_names", "channel_labels"};
constexpr std::array<std::string_view, 2> unit_words{"unit", "units"};
constexpr std::array<std::string_view, 2> start_words{"start", "start_time"};

bool is_one_of(std::string_view name, Words words)
{
    std::string lower(name);
    std::ranges::transform(lower, lower.begin(), [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return std::ranges::find(words, lower) != words.end();
}

bool is_array(const MatNode& node)
{
    return node.kind == MatNode::Kind::numbers && node.size.size() == 2 && node.size[0] * node.size[1] > 1;
}

std::int64_t frames_of(const MatNode& node) { return std::max(node.size[0], node.size[1]); }
std::int64_t channels_of(const MatNode& node) { return std::min(node.size[0], node.size[1]); }

// One of the file's recordings.
struct Part {
    std::string name = {};
    std::vector<const MatNode*> arrays = {}; // one matrix, or vectors
    std::vector<const MatNode*> scopes = {}; // the structs it lies in, the innermost first
    std::int64_t frames = 0;
    std::int64_t channels = 0;
    bool integer = false;
};

// "run" and "acc" make "run.acc"; "run" and "(2)" make "run(2)".
std::string joined(const std::string& path, const std::string& name)
{
    const bool index = name.starts_with('(') || name.starts_with('{');
    std::string whole = path.empty() || index ? path + name : path + "." + name;
    std::ranges::replace_if(
        whole, [](unsigned char c) { return c < ' '; }, '?');
    return whole;
}

std::string listed(std::span<const MatNode* const> arrays)
{
    constexpr std::size_t all_told = 6;
    if (arrays.size() > all_told) return arrays.front()->name + "+...+" + arrays.back()->name;
    std::string names;
    for (const MatNode* array : arrays) names += (names.empty() ? "" : "+") + array->name;
    return names;
}

class Finder {
public:
    explicit Finder(const MatNode& root) { look_into(root, "", {}); }

    std::vector<Part> parts()
    {
        const auto is_short = [](const Part& part) { return part.frames < shortest_recording; };
        if (!std::ranges::all_of(parts_, is_short)) std::erase_if(parts_, is_short);
        return std::move(parts_);
    }

    // What there is else, for a message: "T (table or object)".
    const std::vector<std::string>& others() const { return others_; }

private:
    void look_into(const MatNode& node, const std::string& path, std::vector<const MatNode*> scopes)
    {
        const bool structure = node.kind == MatNode::Kind::structure;
        if (structure) scopes.insert(scopes.begin(), &node);
        std::vector<const MatNode*> vectors;
        const std::size_t parts_before = parts_.size();
        for (const MatNode& inside : node.inside) {
            const std::string name = joined(path, inside.name);
            if (inside.kind == MatNode::Kind::structure || inside.kind == MatNode::Kind::list) {
                look_into(inside, name, scopes);
            } else if (is_array(inside) && is_one_of(inside.name, time_words) && channels_of(inside) == 1) {
                others_.push_back(fmt::format("{} (time)", name));
            } else if (is_array(inside) && (channels_of(inside) > 1 || !structure)) {
                add(name, {&inside}, scopes);
            } else if (is_array(inside)) {
                vectors.push_back(&inside);
            } else if (inside.kind == MatNode::Kind::other ||
                       (inside.kind == MatNode::Kind::numbers && inside.size.size() > 2)) {
                others_.push_back(fmt::format(
                    "{} ({})", name,
                    inside.size.size() > 2 ? fmt::format("{} of {} dimensions", inside.class_name, inside.size.size())
                                           : inside.class_name));
            } else {
                others_.push_back(
                    fmt::format("{} ({})", name, inside.kind == MatNode::Kind::text ? "text" : "a single number"));
            }
        }
        add_vectors(path, vectors, scopes, parts_.size() > parts_before);
    }

    // Vectors of one length and kind are the channels of one recording.
    void add_vectors(const std::string& path, std::vector<const MatNode*> vectors,
                     const std::vector<const MatNode*>& scopes, bool beside_others)
    {
        const auto alike = [](const MatNode* a, const MatNode* b) {
            return frames_of(*a) == frames_of(*b) && a->integer == b->integer;
        };
        const bool one_kind = std::ranges::all_of(vectors, [&](const MatNode* v) { return alike(v, vectors.front()); });
        while (!vectors.empty()) {
            std::vector<const MatNode*> together;
            const MatNode* first = vectors.front();
            for (const MatNode* vector : vectors)
                if (alike(vector, first)) together.push_back(vector);
            std::erase_if(vectors, [&](const MatNode* vector) { return alike(vector, first); });
            const bool speaks_for_all = together.size() > 1 && one_kind && !beside_others && !path.empty();
            const std::string name = speaks_for_all ? path : joined(path, listed(together));
            add(name, std::move(together), scopes);
        }
    }

    void add(std::string name, std::vector<const MatNode*> arrays, std::vector<const MatNode*> scopes)
    {
        // Nothing keeps two fields of a damaged file from having the same name.
        for (std::size_t n = parts_.size() + 1; !names_.insert(name).second; ++n) name = fmt::format("{}~{}", name, n);
        Part part{.name = std::move(name), .arrays = std::move(arrays), .scopes = std::move(scopes)};
        const MatNode& first = *part.arrays.front();
        part.frames = frames_of(first);
        part.channels = part.arrays.size() > 1 ? static_cast<std::int64_t>(part.arrays.size()) : channels_of(first);
        part.integer = first.integer;
        parts_.push_back(std::move(part));
    }

    std::vector<Part> parts_;
    std::set<std::string> names_;
    std::vector<std::string> others_;
};

// The first thing of such a name and kind, from the innermost struct outwards.
template <class Fits>
const MatNode* beside(const Part& part, Words words, const Fits& fits)
{
    for (const MatNode* scope : part.scopes)
        for (const MatNode& node : scope->inside)
            if (is_one_of(node.name, words) && fits(node)) return &node;
    return nullptr;
}

// What states the rate of a recording: that of the innermost struct which states any; the rate of one run stands for
// itself whatever else the file says.
struct RateStatements {
    const MatNode* rate = nullptr;
    const MatNode* step = nullptr;
    const MatNode* time = nullptr;
};

RateStatements rate_statements(const Part& part)
{
    RateStatements found;
    for (const MatNode* scope : part.scopes) {
        for (const MatNode& node : scope->inside) {
            if (node.number && is_one_of(node.name, rate_words)) found.rate = &node;
            if (node.number && is_one_of(node.name, step_words)) found.step = &node;
            if (is_array(node) && channels_of(node) == 1 && frames_of(node) == part.frames &&
                is_one_of(node.name, time_words))
                found.time = &node;
        }
        if (found.rate != nullptr || found.step != nullptr || found.time != nullptr) break;
    }
    return found;
}

// The words of a cell array of texts or of the rows of a char array; one text is one word.
std::vector<std::string> words_of(const MatNode& node)
{
    std::vector<std::string> words;
    const auto trimmed = [](std::string word) {
        while (!word.empty() && (word.back() == ' ' || word.back() == '\0')) word.pop_back();
        std::ranges::replace_if(
            word, [](unsigned char c) { return c < ' '; }, ' ');
        return word;
    };
    if (node.kind == MatNode::Kind::list) {
        for (const MatNode& cell : node.inside) {
            if (cell.kind != MatNode::Kind::text) return {};
            words.push_back(trimmed(cell.text));
        }
    } else if (node.kind == MatNode::Kind::text) {
        std::size_t at = 0;
        for (auto end = node.text.find('\n'); end != std::string::npos; end = node.text.find('\n', at)) {
            words.push_back(trimmed(node.text.substr(at, end - at)));
            at = end + 1;
        }
        if (at < node.text.size()) words.push_back(trimmed(node.text.substr(at)));
    }
    return words;
}

MatBlock block_of(const MatNode& array, std::int64_t first, std::int64_t frames)
{
    if (array.size[0] >= array.size[1]) return {.row = first, .rows = frames, .columns = array.size[1]};
    return {.rows = array.size[0], .column = first, .columns = frames};
}

// More than this between two statements of one rate is a contradiction and not a matter of digits.
bool differ(double stated_hz, double other_hz) { return std::abs(stated_hz - other_hz) > 1e-3 * stated_hz; }

class Rate {
public:
    Rate(MatFile& file, const std::string& path, const Part& part, const ReadOptions& options)
        : file_(file), path_(path), part_(part), options_(options)
    {
    }

    Result<double> find()
    {
        const auto [rate, step, time] = rate_statements(part_);
        if (rate != nullptr)
            if (auto problem = state(*rate->number, rate->name)) return fail(std::move(*problem));
        if (step != nullptr)
            if (auto problem = state(1.0 / *step->number, step->name)) return fail(std::move(*problem));
        if (options_.rate_hz)
            if (auto problem = state(*options_.rate_hz, "rate_hz, which was given,")) return fail(std::move(*problem));
        if (time != nullptr) {
            auto measured = of_time(*time);
            if (!measured) return fail(measured.error());
            if (auto problem = state(*measured, time->name)) return fail(std::move(*problem));
        }
        if (stated_) return *stated_;
        return fail(
            mat_problem(path_, fmt::format("nothing beside {} states its rate", part_.name),
                        "add a number fs (Hz) or a vector t (s) of the same length to the file, or give rate_hz"));
    }

private:
    std::optional<Problem> state(double rate_hz, const std::string& by)
    {
        if (!(rate_hz > 0.0) || !std::isfinite(rate_hz))
            return mat_problem(path_, fmt::format("{} states a rate of {} Hz for {}", by, rate_hz, part_.name),
                               "give a rate above 0 Hz");
        if (!stated_) {
            stated_ = rate_hz;
            by_ = by;
        } else if (differ(*stated_, rate_hz)) {
            return mat_problem(path_,
                               fmt::format("{} states a rate of {:.6g} Hz for {}, {} one of {:.6g} Hz", by_, *stated_,
                                           part_.name, by, rate_hz),
                               "keep the right one");
        }
        return std::nullopt;
    }

    // Of times in seconds, which must run evenly: within 1 % of the mean step and their own rounding.
    Result<double> of_time(const MatNode& time)
    {
        const auto uneven = [&](std::string what, std::string remedy) {
            return fail(mat_problem(path_, fmt::format("{} of {} {}", time.name, part_.name, what), std::move(remedy)));
        };
        if (time.integer)
            return uneven("counts in whole numbers, of what is not said", "give times in seconds, or a number fs (Hz)");
        const MatNode* const wanted[] = {&time};
        if (auto ready = file_.prepare(wanted); !ready) return fail(ready.error());
        std::vector<double> values(static_cast<std::size_t>(std::min(part_.frames, block_frames)));
        double first = 0.0, last = 0.0;
        const auto each_block = [&](const auto& look) -> Result<void> {
            for (std::int64_t at = 0; at < part_.frames; at += block_frames) {
                const std::int64_t count = std::min(block_frames, part_.frames - at);
                const std::span<double> block = std::span(values).first(static_cast<std::size_t>(count));
                if (auto got = file_.block(time, block_of(time, at, count), block); !got) return got;
                if (auto fine = look(at, block); !fine) return fine;
            }
            return {};
        };
        // Ends first: the mean step is what every step is held against.
        for (const std::int64_t at : {std::int64_t{0}, part_.frames - 1}) {
            double& end = at == 0 ? first : last;
            if (auto got = file_.block(time, block_of(time, at, 1), {&end, 1}); !got) return fail(got.error());
        }
        const double step = (last - first) / static_cast<double>(part_.frames - 1);
        if (!(step > 0.0) || !std::isfinite(step)) return uneven("does not rise", "give rising times in seconds");
        const double size = std::max(std::abs(first), std::abs(last));
        const double resolution =
            size * (time.class_name == "single" || time.class_name == "float32" ? 0x1p-23 : 0x1p-52);
        if (resolution > 0.65 * step && !stated_)
            return uneven("is too coarse to tell a lost sample", "give times from 0 on in double, or a number fs (Hz)");
        double before = first - step;
        auto looked = each_block([&](std::int64_t at, std::span<const double> block) -> Result<void> {
            for (std::size_t i = 0; i < block.size(); ++i) {
                const double length = block[i] - before;
                if (!(std::abs(length - step) <= 0.01 * step + resolution))
                    return uneven(fmt::format("jumps from {} to {} at sample {}; the mean step is {:.6g} s", before,
                                              block[i], at + static_cast<std::int64_t>(i) + 1, step),
                                  "split the recording there, or resample it to an even rate");
                before = block[i];
            }
            return {};
        });
        if (!looked) return fail(looked.error());
        // Times are rounded: 1000 Hz must not become 999.9999999999 Hz.
        const double rate = 1.0 / step;
        const double whole = std::round(rate);
        return std::abs(rate - whole) <= rate * 4.0 * resolution / (last - first) ? whole : rate;
    }

    MatFile& file_;
    const std::string& path_;
    const Part& part_;
    const ReadOptions& options_;
    std::optional<double> stated_;
    std::string by_;
};

class MatReader final : public RecordingReader {
public:
    MatReader(std::string path, std::unique_ptr<MatFile> file, std::vector<const MatNode*> arrays, RecordingInfo info)
        : path_(std::move(path)), file_(std::move(file)), arrays_(std::move(arrays)), info_(std::move(info))
    {
    }

    const RecordingInfo& info() const override { return info_; }

    Result<std::size_t> read(std::span<double> values) override
    {
        const auto channels = static_cast<std::size_t>(info_.channels);
        const auto wanted = static_cast<std::int64_t>(
            std::min<std::uint64_t>(values.size() / channels, static_cast<std::uint64_t>(info_.frames - next_)));
        for (std::int64_t done = 0; done < wanted;) {
            const std::int64_t count = std::min(block_frames, wanted - done);
            if (auto got = read_block(count, values.data() + static_cast<std::size_t>(done) * channels); !got)
                return fail(got.error());
            next_ += count;
            done += count;
        }
        return static_cast<std::size_t>(wanted);
    }

    Result<void> seek(std::int64_t frame) override
    {
        if (frame < 0 || frame > info_.frames)
            return fail(mat_problem(path_, fmt::format("frame {} of {} cannot be reached", frame + 1, info_.frames),
                                    "ask for a frame within the recording"));
        next_ = frame;
        return {};
    }

private:
    Result<void> read_block(std::int64_t frames, double* to)
    {
        const auto channels = static_cast<std::size_t>(info_.channels);
        const auto count = static_cast<std::size_t>(frames);
        const MatNode& first = *arrays_.front();
        // Frame after frame already.
        if (arrays_.size() == 1 && (first.size[0] < first.size[1] || channels == 1))
            return file_->block(first, block_of(first, next_, frames), {to, count * channels});
        column_.resize(arrays_.size() == 1 ? count * channels : count);
        std::size_t channel = 0;
        for (const MatNode* array : arrays_) {
            if (auto got = file_->block(*array, block_of(*array, next_, frames), column_); !got) return got;
            for (std::size_t begin = 0; begin < column_.size(); begin += count, ++channel)
                for (std::size_t frame = 0; frame < count; ++frame)
                    to[frame * channels + channel] = column_[begin + frame];
        }
        return {};
    }

    std::string path_;
    std::unique_ptr<MatFile> file_;
    std::vector<const MatNode*> arrays_;
    RecordingInfo info_;
    std::int64_t next_ = 0;
    std::vector<double> column_;
};

enum class Version { none, v5, v73 };

// By the number of the version behind the free text of the header, and the order of bytes in which it is written.
Version version_of(const std::array<char, 128>& head)
{
    const bool little = head[126] == 'I' && head[127] == 'M';
    const bool big = head[126] == 'M' && head[127] == 'I';
    if ((!little && !big) || head[0] == '\0') return Version::none;
    const char high = little ? head[125] : head[124];
    const char low = little ? head[124] : head[125];
    if (low != '\0') return Version::none;
    return high == 1 ? Version::v5 : high == 2 ? Version::v73 : Version::none;
}

struct Opened {
    std::unique_ptr<MatFile> file; // null: not of this format
    Version version = Version::none;
    std::vector<Part> parts;
};

Result<Opened> opened_file(const std::string& path)
{
    auto regular = open_regular_file(path);
    if (!regular) return fail(regular.error());
    std::array<char, 128> head{};
    const auto got = read_bytes(regular->handle, path, head);
    if (!got) return fail(got.error());
    Opened opened;
    if (*got < head.size()) return opened;
    opened.version = version_of(head);
    if (opened.version == Version::none) return opened;
    auto file = opened.version == Version::v5 ? open_mat_v5(std::move(*regular), path)
                                              : open_mat_v73(std::move(*regular), path);
    if (!file) return fail(file.error());
    opened.file = std::move(*file);
    Finder finder(opened.file->variables());
    opened.parts = finder.parts();
    if (!opened.parts.empty()) return opened;
    std::string there;
    constexpr std::size_t told = 12;
    for (std::size_t i = 0; i < std::min(told, finder.others().size()); ++i)
        there += (there.empty() ? "" : ", ") + finder.others()[i];
    if (finder.others().size() > told) there += fmt::format(" and {} more", finder.others().size() - told);
    return fail(mat_problem(
        path,
        there.empty() ? "it holds no variables" : fmt::format("it holds no real matrix of numbers, only {}", there),
        "save the samples as a matrix of numbers (of a table: T{:,:}) with a number fs (Hz) beside it"));
}

std::string says(MatFile& file, const std::string& path, const Part& part)
{
    const std::string channels = fmt::format("{} channel{}", part.channels, part.channels == 1 ? "" : "s");
    if (part.channels > greatest_channels) return fmt::format("{}, too many", channels);
    const auto rate = Rate(file, path, part, {}).find();
    if (!rate) return fmt::format("{}, {} samples; {}", channels, part.frames, rate.error().what);
    return fmt::format("{}, {:.6g} Hz, {:.6g} s", channels, *rate, static_cast<double>(part.frames) / *rate);
}

Result<std::vector<RecordingPart>> told(Opened& opened, const std::string& path)
{
    // Nobody reads further in a list, and each is looked for in all variables.
    constexpr std::size_t rates_told = 200;
    // Together: of a compressed file each variable is then inflated once.
    std::vector<const MatNode*> times;
    for (const Part& part : std::span(opened.parts).first(std::min(rates_told, opened.parts.size())))
        if (const MatNode* time = rate_statements(part).time; time != nullptr && !time->integer) times.push_back(time);
    if (auto ready = opened.file->prepare(times); !ready) return fail(ready.error());
    std::vector<RecordingPart> parts;
    for (const Part& part : opened.parts)
        parts.push_back({.name = part.name,
                         .says = parts.size() < rates_told
                                     ? says(*opened.file, path, part)
                                     : fmt::format("{} channels, {} samples", part.channels, part.frames)});
    return parts;
}

RecordingInfo info_of(const Part& part, Version version, double rate_hz)
{
    RecordingInfo info;
    const std::string& class_name = part.arrays.front()->class_name;
    info.format = fmt::format("MATLAB {}, {}", version == Version::v5 ? "5" : "7.3", class_name);
    info.rate_hz = rate_hz;
    info.channels = static_cast<int>(part.channels);
    info.frames = part.frames;
    info.integer_pcm = part.integer;
    info.step = part.integer ? 1.0 : 0.0;
    const auto channels = static_cast<std::size_t>(part.channels);
    const auto is_words = [](const MatNode& node) { return !words_of(node).empty(); };
    const auto one_each = [&](const MatNode& node) { return words_of(node).size() == channels; };
    if (part.arrays.size() > 1 || channels == 1)
        for (const MatNode* array : part.arrays) info.names.push_back(array->name);
    if (const MatNode* names = beside(part, name_words, one_each)) info.names = words_of(*names);
    if (const MatNode* node = beside(part, unit_words, is_words)) {
        const std::vector<std::string> units = words_of(*node);
        if (std::ranges::all_of(units, [&](const std::string& unit) { return unit == units.front(); }))
            info.unit = units.front();
        else if (units.size() == channels)
            for (const std::string& unit : units) info.facts.push_back({.unit = unit});
    }
    if (const MatNode* start = beside(part, start_words, is_words)) {
        const std::string text = words_of(*start).front();
        const auto digits = [&](std::size_t from, std::size_t count) {
            return text.size() >= from + count && std::all_of(text.begin() + static_cast<std::ptrdiff_t>(from),
                                                              text.begin() + static_cast<std::ptrdiff_t>(from + count),
                                                              [](unsigned char c) { return std::isdigit(c) != 0; });
        };
        if (digits(0, 4) && digits(5, 2) && digits(8, 2) && text[4] == '-' && text[7] == '-' &&
            (text.size() == 10 || text[10] == 'T'))
            info.start = text;
    }
    return info;
}

} // namespace

Problem mat_problem(const std::string& path, std::string what, std::string remedy)
{
    Problem problem;
    problem.file = path;
    problem.what = std::move(what);
    problem.remedy = std::move(remedy);
    return problem;
}

void mat_add_utf8(std::string& text, std::uint32_t code)
{
    if (code < 0x80) {
        text += static_cast<char>(code);
    } else if (code < 0x800) {
        text += static_cast<char>(0xC0 | code >> 6);
        text += static_cast<char>(0x80 | (code & 0x3F));
    } else {
        text += static_cast<char>(0xE0 | code >> 12);
        text += static_cast<char>(0x80 | (code >> 6 & 0x3F));
        text += static_cast<char>(0x80 | (code & 0x3F));
    }
}

Result<std::unique_ptr<RecordingReader>> open_mat(const std::string& path, const ReadOptions& options)
{
    auto opened = opened_file(path);
    if (!opened) return fail(opened.error());
    if (!opened->file) return nullptr;
    const std::vector<Part>& parts = opened->parts;
    auto found =
        options.part.empty() && parts.size() == 1 ? parts.begin() : std::ranges::find(parts, options.part, &Part::name);
    if (found == parts.end() || (options.part.empty() && parts.size() > 1)) {
        const auto list = told(*opened, path);
        if (!list) return fail(list.error());
        const auto chosen = chosen_part(path, *list, options.part);
        if (!chosen) return fail(chosen.error());
        found = parts.begin() + static_cast<std::ptrdiff_t>(*chosen);
    }
    const Part& part = *found;
    if (part.channels > greatest_channels)
        return fail(mat_problem(
            path, fmt::format("{} has {} channels; 1 to {} can be read", part.name, part.channels, greatest_channels),
            "split it into several matrices"));
    const auto rate = Rate(*opened->file, path, part, options).find();
    if (!rate) return fail(rate.error());
    if (auto ready = opened->file->prepare(part.arrays); !ready) return fail(ready.error());
    RecordingInfo info = info_of(part, opened->version, *rate);
    return std::make_unique<MatReader>(path, std::move(opened->file), part.arrays, std::move(info));
}

Result<std::vector<RecordingPart>> parts_of_mat(const std::string& path)
{
    auto opened = opened_file(path);
    if (!opened) return fail(opened.error());
    if (!opened->file) return std::vector<RecordingPart>{};
    return told(*opened, path);
}

} // namespace becalm::io
