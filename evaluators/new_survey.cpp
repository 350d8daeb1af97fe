#include "evaluators/new_survey.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <filesystem>
#include <optional>
#include <set>
#include <span>
#include <string_view>
#include <utility>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "src/base/units.h"
#include "src/io/recording_reader.h"
#include "src/io/sensitivity.h"

namespace becalm::evaluators {
namespace {

namespace fs = std::filesystem;

constexpr int deepest = 3;

std::string lower_case(std::string_view text)
{
    std::string lower(text);
    std::ranges::transform(lower, lower.begin(), [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return lower;
}

// Letters and digits, those beyond ASCII as they are, everything between them one hyphen.
std::string slug_of(std::string_view text)
{
    std::string slug;
    for (const char c : lower_case(text)) {
        const auto byte = static_cast<unsigned char>(c);
        if (std::isalnum(byte) != 0 || byte >= 0x80)
            slug += c;
        else if (!slug.empty() && slug.back() != '-')
            slug += '-';
    }
    if (!slug.empty() && slug.back() == '-') slug.pop_back();
    return slug.empty() ? "space" : slug;
}

// "deck3" of "deck3.wav" and of "deck3.recording.toml".
std::string stem_of(const fs::path& file)
{
    const fs::path stem = file.stem();
    return (stem.extension() == ".recording" ? stem.stem() : stem).string();
}

// ---- finding the files
// ------------------------------------------------------------------------------------------------

Problem unreadable(const fs::path& folder, const std::error_code& error)
{
    return {.kind = ProblemKind::outside_world,
            .file = folder.string(),
            .what = "the folder cannot be read: " + error.message(),
            .remedy = "check its name and its permissions"};
}

class Finder {
public:
    explicit Finder(std::vector<Problem>& problems) : problems_(problems) {}

    // Relative paths below `folder`, sorted by their parts.
    std::vector<fs::path> files_below(const fs::path& folder)
    {
        look_into(folder, {}, 0);
        std::ranges::sort(files_);
        leave_out_what_is_described(folder);
        return std::move(files_);
    }

private:
    // The files of a description are read through it.
    void leave_out_what_is_described(const fs::path& folder)
    {
        std::set<fs::path> described;
        for (const fs::path& file : files_) {
            const auto of_it = io::files_of_recording((folder / file).string());
            if (!of_it) continue; // said when it is opened
            for (const io::RecordingFile& one : std::span(*of_it).subspan(1))
                described.insert(fs::path(one.path).lexically_normal());
        }
        std::erase_if(files_,
                      [&](const fs::path& file) { return described.contains((folder / file).lexically_normal()); });
    }

    void look_into(const fs::path& root, const fs::path& below, int depth)
    {
        std::error_code error;
        auto entry = fs::directory_iterator(below.empty() ? root : root / below, error);
        for (; !error && entry != fs::directory_iterator(); entry.increment(error)) {
            const fs::path name = entry->path().filename();
            if (name.string().starts_with('.')) continue;
            std::error_code vanished;
            const fs::file_status status = entry->symlink_status(vanished);
            if (fs::is_directory(status) && depth < deepest) look_into(root, below / name, depth + 1);
            if (!io::looks_like_a_recording(name.string())) continue;
            if (fs::is_regular_file(status)) files_.push_back(below / name);
            if (fs::is_symlink(status))
                problems_.push_back({.file = entry->path().string(),
                                     .what = "this is a symbolic link, which is not followed",
                                     .remedy = "put the file itself into the folder"});
        }
        if (error) problems_.push_back(unreadable(below.empty() ? root : root / below, error));
    }

    std::vector<Problem>& problems_;
    std::vector<fs::path> files_;
};

// ---- guessing the axes
// ------------------------------------------------------------------------------------------------

// "acc_z", "Vertical", "ch3 lat": the first word that is an axis's name.
std::optional<Axis> axis_in(std::string_view name)
{
    constexpr std::array<std::pair<std::string_view, Axis>, 38> words{
        {{"x", Axis::x},     {"ax", Axis::x},         {"vx", Axis::x},           {"accx", Axis::x},
         {"velx", Axis::x},  {"long", Axis::x},       {"longitudinal", Axis::x}, {"foreaft", Axis::x},
         {"surge", Axis::x}, {"y", Axis::y},          {"ay", Axis::y},           {"vy", Axis::y},
         {"accy", Axis::y},  {"vely", Axis::y},       {"lat", Axis::y},          {"lateral", Axis::y},
         {"trans", Axis::y}, {"transverse", Axis::y}, {"transversal", Axis::y},  {"sway", Axis::y},
         {"z", Axis::z},     {"az", Axis::z},         {"vz", Axis::z},           {"accz", Axis::z},
         {"velz", Axis::z},  {"vert", Axis::z},       {"vertical", Axis::z},     {"vertikal", Axis::z},
         {"heave", Axis::z}, {"längs", Axis::x},      {"quer", Axis::y},         {"rx", Axis::rx},
         {"roll", Axis::rx}, {"ry", Axis::ry},        {"pitch", Axis::ry},       {"rz", Axis::rz},
         {"yaw", Axis::rz},  {"up", Axis::z}}};
    const std::string lower = lower_case(name);
    for (std::size_t begin = 0; begin < lower.size();) {
        const auto is_part = [](char c) {
            const auto byte = static_cast<unsigned char>(c);
            return std::isalnum(byte) != 0 || byte >= 0x80;
        };
        std::size_t end = begin;
        while (end < lower.size() && is_part(lower[end])) ++end;
        const std::string_view word = std::string_view(lower).substr(begin, end - begin);
        const auto known = std::ranges::find(words, word, &std::pair<std::string_view, Axis>::first);
        if (known != words.end()) return known->second;
        begin = end + 1;
    }
    return std::nullopt;
}

// What a recording's comment says of a guess; guesses_in() finds it again.
constexpr std::string_view axes_remark = "axes guessed: ";
constexpr std::string_view axis_remark = "axis guessed: ";
constexpr std::string_view left_out_remark = " names no axis and is left out";
constexpr std::string_view unit_remark = "unit guessed";
constexpr std::string_view stated_unit_remark = ": set unit and scale to what that stands for";
constexpr std::string_view scale_remark = "integer samples: add scale";
constexpr std::string_view between_remarks = "; ";

struct Mapping {
    std::vector<std::vector<ChannelMapping>> sensors; // every axis at most once in each
    std::string guess;                                // what was guessed, for the comment
};

Mapping mapping_of(const io::RecordingInfo& info)
{
    std::vector<std::pair<int, Axis>> axes;
    std::string left_out;
    for (std::size_t c = 0; c < info.names.size(); ++c) {
        if (const auto axis = axis_in(info.names[c]))
            axes.emplace_back(static_cast<int>(c) + 1, *axis);
        else
            left_out += fmt::format("{}{} ({})", left_out.empty() ? "" : ", ", c + 1, info.names[c]);
    }
    if (axes.empty() && info.facts.size() == static_cast<std::size_t>(info.channels)) {
        for (std::size_t c = 0; c < info.facts.size(); ++c)
            if (const auto axis = axis_in(info.facts[c].direction)) axes.emplace_back(static_cast<int>(c) + 1, *axis);
        if (axes.size() == info.facts.size())
            left_out.clear();
        else // north and east are no axes of a room
            axes.clear();
    }
    Mapping mapping;
    if (!axes.empty()) {
        if (!left_out.empty()) mapping.guess = fmt::format("channel {}{}", left_out, left_out_remark);
    } else {
        const bool triaxial = info.channels % 3 == 0;
        constexpr std::array<Axis, 3> order{Axis::x, Axis::y, Axis::z};
        for (int c = 1; c <= info.channels; ++c)
            axes.emplace_back(c, triaxial ? order[static_cast<std::size_t>((c - 1) % 3)] : Axis::z);
        mapping.guess = triaxial             ? fmt::format("{}x, y, z in this order", axes_remark)
                        : info.channels == 1 ? axis_guess(Axis::z)
                                             : fmt::format("{}every channel is z of another place", axes_remark);
    }
    for (const auto& [channel, axis] : axes) {
        const auto has_it = [&](const ChannelMapping& mapped) { return mapped.axis == axis; };
        if (mapping.sensors.empty() || std::ranges::any_of(mapping.sensors.back(), has_it))
            mapping.sensors.emplace_back();
        mapping.sensors.back().push_back({channel, axis});
    }
    return mapping;
}

// ---- putting the survey together
// --------------------------------------------------------------------------------------

// As src/base/units.h spells it.
std::optional<std::string> unit_in(std::string_view stated)
{
    std::string plain(stated);
    constexpr std::array<std::pair<std::string_view, std::string_view>, 5> spellings{
        {{"²", "2"}, {"µ", "u"}, {"μ", "u"}, {"^", ""}, {" ", ""}}};
    for (const auto& [from, to] : spellings)
        for (auto at = plain.find(from); at != std::string::npos; at = plain.find(from))
            plain.replace(at, from.size(), to);
    if (plain == "m/s/s") plain = "m/s2";
    if (!unit_named(plain)) return std::nullopt;
    return plain;
}

class Builder {
public:
    // `taken`: ids of spaces that are there already; `known`: the survey whose sensors alone may be named, else those
    // that files tell of are made.
    explicit Builder(Survey& survey, std::set<std::string> taken = {}, const Survey* known = nullptr)
        : survey_(survey), known_(known), ids_(std::move(taken))
    {
    }

    // Every recording in the file at `path`, which the survey calls `file`.
    void add_all_of(const fs::path& file, const std::string& path, std::vector<Problem>& problems)
    {
        const auto add_one = [&](const std::string& part) {
            const std::string named = part.empty() ? "" : "#" + part;
            const auto reader = io::open_recording(path + named);
            if (reader)
                add(file, part, (*reader)->info());
            else
                problems.push_back(reader.error());
        };
        const auto parts = io::parts_of(path);
        if (!parts) return problems.push_back(parts.error());
        if (parts->size() <= 1) return add_one({});
        for (const io::RecordingPart& part : *parts) add_one(part.name);
    }

private:
    void add(const fs::path& file, const std::string& part, const io::RecordingInfo& info)
    {
        const Mapping mapping = mapping_of(info);
        Recording recording;
        recording.file = file.generic_string() + (part.empty() ? "" : "#" + part);
        recording.start = info.start;
        std::vector<std::string> remarks;
        if (!mapping.guess.empty()) remarks.push_back(mapping.guess);
        const io::ChannelFacts* const stated = scaled_by(info);
        const auto unit = unit_in(info.unit);
        if (stated != nullptr && (info.integer_pcm || !unit || stated->unit == info.unit)) {
            recording.unit = *unit_in(stated->unit);
            recording.scale = stated->scale;
            remarks.push_back("unit and scale as the file states them");
        } else if (unit) {
            recording.unit = *unit;
        } else if (const auto sensitivity = sensitivity_of(info)) {
            recording.sensitivity = info.facts.front().sensitivity;
            recording.unit = sensitivity->unit;
            if (info.unit == "mV") recording.scale_v = 1e-3;
            recording.scale = recording.scale_v.value_or(1.0) / sensitivity->volts;
            remarks.push_back("volts, by the sensitivity that the file states");
        } else
            remarks.push_back(info.unit.empty() ? std::string(unit_remark)
                                                : fmt::format("the file states {}{}", info.unit, stated_unit_remark));
        if (info.integer_pcm && !(recording.sensitivity.empty() ? recording.scale : recording.scale_v))
            remarks.push_back(fmt::format("{} = what {} is in this unit", scale_remark, io::one_of(info)));
        recording.comment = fmt::format("{}", fmt::join(remarks, between_remarks));

        const std::string id = part.empty() ? free_id(file) : unused(slug_of(stem_of(file) + "-" + part));
        for (std::size_t s = 0; s < mapping.sensors.size(); ++s) {
            const bool several = mapping.sensors.size() > 1;
            Space space;
            space.id = several ? unused(fmt::format("{}-{}", id, s + 1)) : id;
            space.label = title_in(info).value_or(stem_of(file)) + (part.empty() ? "" : " " + part) +
                          (several ? fmt::format(", sensor {}", s + 1) : "");
            space.use = "unknown";
            space.group = file.parent_path().generic_string();
            recording.space = space.id;
            recording.channels = mapping.sensors[s];
            recording.sensor = sensor_of(info, recording.channels);
            ids_.insert(space.id);
            survey_.spaces.push_back(std::move(space));
            survey_.recordings.push_back(recording);
        }
    }

    // Where the file states one and the same unit and scale of all its channels: those of the first.
    static const io::ChannelFacts* scaled_by(const io::RecordingInfo& info)
    {
        if (info.facts.size() != static_cast<std::size_t>(info.channels)) return nullptr;
        const io::ChannelFacts& first = info.facts.front();
        const bool alike = std::ranges::all_of(info.facts, [&](const io::ChannelFacts& facts) {
            return facts.unit == first.unit && facts.scale == first.scale;
        });
        return alike && first.scale && unit_in(first.unit) ? &first : nullptr;
    }

    // Of volts: where the file states one and the same of all its channels.
    static std::optional<io::Sensitivity> sensitivity_of(const io::RecordingInfo& info)
    {
        if ((info.unit != "V" && info.unit != "mV") || info.facts.size() != static_cast<std::size_t>(info.channels))
            return std::nullopt;
        const std::string& first = info.facts.front().sensitivity;
        const bool alike =
            std::ranges::all_of(info.facts, [&](const io::ChannelFacts& facts) { return facts.sensitivity == first; });
        const auto sensitivity = io::sensitivity_in(first);
        return alike && sensitivity ? std::optional(*sensitivity) : std::nullopt;
    }

    // The register's entry for the serial number that the file states of these channels, made where it is new; empty
    // where it states none or several.
    std::string sensor_of(const io::RecordingInfo& info, const std::vector<ChannelMapping>& channels)
    {
        const io::ChannelFacts* one = nullptr;
        for (const ChannelMapping& mapping : channels) {
            const auto at = static_cast<std::size_t>(mapping.channel - 1);
            if (at >= info.facts.size() || info.facts[at].serial.empty()) return {};
            if (one != nullptr && one->serial != info.facts[at].serial) return {};
            one = &info.facts[at];
        }
        if (one == nullptr) return {};
        const std::vector<Sensor>& there = known_ != nullptr ? known_->sensors : survey_.sensors;
        const auto found = std::ranges::find(there, one->serial, &Sensor::serial);
        if (found != there.end()) return found->id;
        if (known_ != nullptr) return {};
        std::set<std::string> taken;
        for (const Sensor& sensor : survey_.sensors) taken.insert(sensor.id);
        Sensor sensor{.id = id_of("sn-" + one->serial, taken), .model = one->sensor, .serial = one->serial};
        if (const auto sensitivity = io::sensitivity_in(one->sensitivity)) {
            constexpr double millivolts = 1000.0;
            sensor.sensitivity = std::round(sensitivity->volts * millivolts * 1e9) / 1e9;
            const bool is_quotient = sensitivity->unit.find('/') != std::string::npos;
            sensor.sensitivity_unit =
                is_quotient ? fmt::format("mV/({})", sensitivity->unit) : "mV/" + sensitivity->unit;
        }
        sensor.calibrated = one->calibrated;
        sensor.teds = one->teds;
        survey_.sensors.push_back(sensor);
        return sensor.id;
    }

    static std::optional<std::string> title_in(const io::RecordingInfo& info)
    {
        constexpr std::string_view title = "title in the file: ";
        for (const std::string& remark : info.remarks)
            if (remark.starts_with(title)) return remark.substr(title.size());
        return std::nullopt;
    }

    // The name of the file; of its folders too where another file has it already.
    std::string free_id(const fs::path& file) const
    {
        const std::string id = slug_of(stem_of(file));
        if (!ids_.contains(id)) return id;
        return unused(slug_of((file.parent_path() / stem_of(file)).generic_string()));
    }

    std::string unused(const std::string& id) const { return id_of(id, ids_); }

    Survey& survey_;
    const Survey* known_;
    std::set<std::string> ids_;
};

std::string title_of(const fs::path& folder)
{
    std::error_code error;
    const fs::path whole = fs::weakly_canonical(folder, error);
    const std::string name = (error ? folder : whole).filename().string();
    return name.empty() ? "Survey" : name;
}

} // namespace

Results<NewSurvey> survey_from_folder(const std::string& folder)
{
    std::error_code error;
    const fs::file_status status = fs::status(folder, error);
    if (!fs::exists(status) || !fs::is_directory(status)) {
        const bool missing = status.type() == fs::file_type::not_found;
        return tl::unexpected(std::vector<Problem>{{.kind = ProblemKind::outside_world,
                                                    .file = folder,
                                                    .what = missing              ? "there is no such folder"
                                                            : fs::exists(status) ? "this is no folder"
                                                                                 : "the folder cannot be read",
                                                    .remedy = "name the folder that holds the recordings"}});
    }

    NewSurvey result;
    const std::vector<fs::path> files = Finder(result.problems).files_below(folder);
    Builder builder(result.survey);
    for (const fs::path& file : files) builder.add_all_of(file, (fs::path(folder) / file).string(), result.problems);
    if (result.survey.recordings.empty()) {
        if (result.problems.empty())
            result.problems.push_back({.kind = ProblemKind::outside_world,
                                       .file = folder,
                                       .what = "there is no recording in this folder nor in three levels below it",
                                       .remedy = "put WAV, RF64, W64, FLAC or delimited text files there"});
        return tl::unexpected(std::move(result.problems));
    }
    Survey& survey = result.survey;
    survey.path = (fs::path(folder) / "survey.toml").string();
    survey.title = title_of(folder);
    survey.setting = Setting::building;
    survey.note = "Made from the recordings found here: check setting, spaces, axes, units and scales.";
    survey.judges.push_back({.criteria = {"iso2631-2-2003"}});
    return result;
}

NewSurvey further_recordings(const Survey& survey, const std::vector<std::string>& paths)
{
    NewSurvey result;
    std::set<std::string> taken;
    for (const Space& space : survey.spaces) taken.insert(space.id);
    Builder builder(result.survey, std::move(taken), &survey);
    std::error_code error;
    const fs::path home = fs::weakly_canonical(fs::absolute(survey.path, error), error).parent_path();

    std::vector<fs::path> files;
    for (const std::string& path : paths) {
        if (!fs::is_directory(path, error)) {
            files.emplace_back(path);
            continue;
        }
        const std::vector<fs::path> found = Finder(result.problems).files_below(path);
        for (const fs::path& file : found) files.push_back(fs::path(path) / file);
        if (found.empty())
            result.problems.push_back({.kind = ProblemKind::outside_world,
                                       .file = path,
                                       .what = "there is no recording in this folder nor in three levels below it",
                                       .remedy = "choose the folder that holds the recordings"});
    }
    for (const fs::path& file : files) {
        const fs::path whole = fs::weakly_canonical(fs::absolute(file, error), error);
        const fs::path relative = whole.lexically_relative(home);
        const std::string name = (relative.empty() ? whole : relative).generic_string();
        const auto is_there = [&](const Survey& of) {
            return std::ranges::any_of(of.recordings, [&](const Recording& recording) {
                return fs::path(recording.file).lexically_normal() == fs::path(name);
            });
        };
        if (is_there(survey) || is_there(result.survey)) {
            result.problems.push_back({.kind = ProblemKind::usage,
                                       .file = file.string(),
                                       .what = "this recording is in the survey already",
                                       .remedy = "change what stands there"});
            continue;
        }
        builder.add_all_of(name, whole.string(), result.problems);
    }
    return result;
}

namespace {

std::vector<std::string_view> remarks_in(std::string_view comment)
{
    std::vector<std::string_view> remarks;
    while (!comment.empty()) {
        const std::size_t end = std::min(comment.find(between_remarks), comment.size());
        remarks.push_back(comment.substr(0, end));
        comment.remove_prefix(std::min(end + between_remarks.size(), comment.size()));
    }
    return remarks;
}

Guesses guess_of(std::string_view remark)
{
    return {.axes = remark.starts_with(axes_remark) || remark.starts_with(axis_remark) ||
                    (remark.starts_with("channel ") && remark.ends_with(left_out_remark)),
            .unit = remark == unit_remark || remark.ends_with(stated_unit_remark),
            .scale_missing = remark.starts_with(scale_remark)};
}

} // namespace

Guesses guesses_in(std::string_view comment)
{
    Guesses guesses;
    for (const std::string_view remark : remarks_in(comment)) {
        const Guesses guess = guess_of(remark);
        guesses.axes |= guess.axes;
        guesses.unit |= guess.unit;
        guesses.scale_missing |= guess.scale_missing;
    }
    return guesses;
}

std::string axis_guess(Axis axis) { return fmt::format("{}{}", axis_remark, name_of(axis)); }

std::string without_guesses(std::string_view comment, const Guesses& settled)
{
    std::string left;
    for (const std::string_view remark : remarks_in(comment)) {
        const Guesses guess = guess_of(remark);
        if ((guess.axes && settled.axes) || (guess.unit && settled.unit) ||
            (guess.scale_missing && settled.scale_missing))
            continue;
        left += fmt::format("{}{}", left.empty() ? "" : between_remarks, remark);
    }
    return left;
}

std::string id_of(std::string_view words, const std::set<std::string>& taken)
{
    const std::string id = slug_of(words);
    std::string candidate = id;
    for (int n = 2; taken.contains(candidate); ++n) candidate = fmt::format("{}-{}", id, n);
    return candidate;
}

} // namespace becalm::evaluators
