#include "ui/desktop/channel_model.h"

#include <QLocale>
#include <algorithm>
#include <map>
#include <set>

#include "src/base/units.h"
#include "src/io/toml_text.h"
#include "ui/desktop/words.h"

namespace becalm::desktop {
namespace {

std::vector<TableColumn> channel_columns()
{
    const auto tr = [](const char* text) { return ChannelModel::tr(text); };
    return {
        {"file", tr("File"), CellKind::text, tr("Relative to the survey's folder"), 20},
        {"channel", tr("Channel"), CellKind::shown, tr("Counted from 1, as the file has them"), 7},
        {"name", tr("Its name"), CellKind::shown, tr("Of the channel, as the file has it"), 9},
        {"says", tr("The file says"), CellKind::shown, tr("Rate, duration, unit and format, or what is wrong"), 22},
        {"axis", tr("Axis"), CellKind::choice,
         tr("x fore-and-aft, y lateral, z vertical or along the spine; roll, pitch and yaw turn about x, y, z"), 13},
        {"unit", tr("Unit"), CellKind::choice, tr("Of all channels of the recording"), 15},
        {"scale", tr("Scale"), CellKind::number,
         tr("What a stored 1.0 is in this unit; integer samples have 1.0 at full scale"), 9},
        {"sensitivity", tr("Sensitivity"), CellKind::text,
         tr("Where volts were recorded, such as 10.2 mV/(m/s2), in place of the unit; the scale is then in volts"), 14},
        {"space", tr("Space"), CellKind::open_choice, tr("Where it was taken; a new name makes a new space"), 20},
        {"position", tr("Position"), CellKind::choice, tr("Where on or under a person the sensor sat"), 10},
        {"condition", tr("Condition"), CellKind::choice, tr("What ran meanwhile"), 14},
        {"sensor", tr("Sensor"), CellKind::choice, tr("Its uncertainty goes into the verdict"), 14},
        {"start", tr("Start"), CellKind::moment,
         tr("Date, time and offset from UTC, such as 2026-05-02T10:12:00+01:00"), 25},
        {"resample_hz", tr("Resample to (Hz)"), CellKind::number,
         tr("Of a text whose times run unevenly: the even rate its rows are put onto"), 10},
        {"mounting_percent", tr("Mounting (%)"), CellKind::number,
         tr("Your estimate of what the mounting adds to the uncertainty (k = 2), in place of the survey's"), 10},
        {"position_percent", tr("Place (%)"), CellKind::number,
         tr("Your estimate of what the place adds to the uncertainty (k = 2), in place of the space's and the "
            "survey's"),
         10},
        {"comment", tr("Comment"), CellKind::text, {}, 36}};
}

QString axis_words(Axis axis)
{
    switch (axis) {
    case Axis::rx: return ChannelModel::tr("roll");
    case Axis::ry: return ChannelModel::tr("pitch");
    case Axis::rz: return ChannelModel::tr("yaw");
    case Axis::x:
    case Axis::y:
    case Axis::z: break;
    }
    return shown(name_of(axis));
}

const ChannelMapping* mapping_of(const Recording& recording, int channel)
{
    const auto found = std::ranges::find(recording.channels, channel, &ChannelMapping::channel);
    return found == recording.channels.end() ? nullptr : &*found;
}

// Without the zeros that tell of an accuracy.
QString short_number(double value, int significant)
{
    return QString::number(value, 'g', significant).replace(QChar(u'.'), QLocale().decimalPoint());
}

QString duration_words(double seconds)
{
    return seconds < 120.0    ? ChannelModel::tr("%1 s").arg(short_number(seconds, 3))
           : seconds < 7200.0 ? ChannelModel::tr("%1 min").arg(short_number(seconds / 60.0, 3))
                              : ChannelModel::tr("%1 h").arg(short_number(seconds / 3600.0, 3));
}

std::optional<std::string> text_or_nothing(const std::string& text)
{
    return text.empty() ? std::nullopt : std::optional(io::toml_string(text));
}

} // namespace

ChannelModel::ChannelModel(Session& session, const RecordingFacts& facts, QObject* parent)
    : SurveyTable(session, channel_columns(), parent), facts_(facts)
{
    load();
}

const FileFacts* ChannelModel::facts_at(int row) const { return facts_.of(recording_at(row).file); }

int ChannelModel::reload()
{
    if (const auto survey = session_.document().survey()) survey_ = survey;
    rows_.clear();
    if (!session_.document().is_open()) survey_.reset();
    if (!survey_) return 0;
    std::map<std::string, std::size_t> last_of; // unused channels stand below the last recording of their file
    std::map<std::string, std::set<int>> used;
    for (std::size_t i = 0; i < survey_->recordings.size(); ++i) {
        const Recording& recording = survey_->recordings[i];
        last_of[recording.file] = i;
        for (const ChannelMapping& mapping : recording.channels) used[recording.file].insert(mapping.channel);
    }
    for (std::size_t i = 0; i < survey_->recordings.size(); ++i) {
        const Recording& recording = survey_->recordings[i];
        std::set<int> channels;
        for (const ChannelMapping& mapping : recording.channels) channels.insert(mapping.channel);
        const FileFacts* facts = facts_.of(recording.file);
        if (facts != nullptr && facts->info && last_of[recording.file] == i)
            for (int channel = 1; channel <= facts->info->channels; ++channel)
                if (!used[recording.file].contains(channel)) channels.insert(channel);
        for (const int channel : channels) rows_.push_back({i, channel});
    }
    return static_cast<int>(rows_.size());
}

std::vector<Option> ChannelModel::options(int, int column) const
{
    std::vector<Option> all;
    const std::string& key = key_of(column);
    const auto add = [&](std::string_view value, const QString& words) { all.push_back({shown(value), words}); };
    const auto add_named = [&](const std::string& id, const std::string& words) {
        add(id, words.empty() || words == id ? shown(id) : shown(words));
    };
    if (key == "axis") {
        all.push_back({QString(), tr("not used")});
        for (const Axis axis : all_axes) add(name_of(axis), axis_words(axis));
    } else if (key == "unit") {
        for (const Unit& unit : units) add(unit.name, unit_words(unit.name));
    } else if (key == "position") {
        for (const Position position : all_positions) add(name_of(position), shown(name_of(position)));
    } else if (survey_ && key == "space") {
        for (const Space& space : survey_->spaces) add_named(space.id, space.label);
    } else if (survey_ && key == "condition") {
        all.push_back({QString(), tr("none")});
        for (const Condition& condition : survey_->conditions) add_named(condition.id, condition.title);
    } else if (survey_ && key == "sensor") {
        all.push_back({QString(), tr("none")});
        for (const Sensor& sensor : survey_->sensors) add_named(sensor.id, sensor.id);
    }
    return all;
}

QString ChannelModel::typed_at(int row, int column) const
{
    if (row >= static_cast<int>(rows_.size()) || !survey_) return {};
    const Recording& recording = recording_at(row);
    const std::string& key = key_of(column);
    if (key == "file") return shown(recording.file);
    if (key == "channel") return QString::number(at(row).channel);
    if (key == "name") {
        const FileFacts* facts = facts_at(row);
        const auto index = static_cast<std::size_t>(at(row).channel - 1);
        return facts != nullptr && facts->info && index < facts->info->names.size() ? shown(facts->info->names[index])
                                                                                    : QString();
    }
    if (key == "axis") {
        const ChannelMapping* mapping = mapping_of(recording, at(row).channel);
        return mapping == nullptr ? QString() : shown(name_of(mapping->axis));
    }
    if (key == "unit") return shown(recording.unit);
    const auto number = [](const std::optional<double>& value) {
        return value ? number_as_typed(io::toml_number(*value)) : QString();
    };
    if (key == "resample_hz") return number(recording.resample_hz);
    if (key == "mounting_percent") return number(recording.mounting_percent);
    if (key == "position_percent") return number(recording.position_percent);
    if (key == "scale") return number(recording.sensitivity.empty() ? recording.scale : recording.scale_v);
    if (key == "sensitivity") return shown(recording.sensitivity);
    if (key == "space") return shown(recording.space);
    if (key == "position") return shown(name_of(recording.position));
    if (key == "condition") return shown(recording.condition);
    if (key == "sensor") return shown(recording.sensor);
    if (key == "start") return shown(recording.start);
    if (key == "comment") return shown(recording.comment);
    return words_at(row, column);
}

QString ChannelModel::words_at(int row, int column) const
{
    if (row >= static_cast<int>(rows_.size()) || !survey_) return {};
    const std::string& key = key_of(column);
    if (key == "axis" && typed_at(row, column).isEmpty()) return tr("not used");
    if (key == "scale" && is_guess(row, column)) return tr("needed");
    if (key != "says") return SurveyTable::words_at(row, column);
    const FileFacts* facts = facts_at(row);
    if (facts == nullptr) return tr("being read …");
    if (!facts->info)
        return facts->bytes == 0 && facts->problem.contains(QStringLiteral("not there")) ? tr("not there")
                                                                                         : tr("cannot be read");
    const io::RecordingInfo& info = *facts->info;
    if (at(row).channel > info.channels) return tr("has only %n channel(s)", nullptr, info.channels);
    QString words =
        tr("%1 Hz, %2")
            .arg(short_number(info.rate_hz, 6), duration_words(static_cast<double>(info.frames) / info.rate_hz));
    if (!info.unit.empty()) words += QStringLiteral(", ") + unit_words(info.unit);
    if (info.integer_pcm) words += tr(", integers");
    return words;
}

QString ChannelModel::file_words(int row) const
{
    if (row < 0 || row >= static_cast<int>(rows_.size()) || !survey_) return {};
    const QString file = shown(recording_at(row).file);
    const FileFacts* facts = facts_at(row);
    if (facts == nullptr) return tr("%1 is being read").arg(file);
    if (!facts->info) return tr("%1: %2").arg(file, facts->problem);
    const io::RecordingInfo& info = *facts->info;
    QString words = tr("%1: %2, %3 Hz, %n channel(s), %4", nullptr, info.channels)
                        .arg(file, shown(info.format), short_number(info.rate_hz, 6),
                             duration_words(static_cast<double>(info.frames) / info.rate_hz));
    words += info.unit.empty() ? tr("; it states no unit") : tr("; unit %1").arg(unit_words(info.unit));
    if (!info.start.empty()) words += tr("; started %1").arg(shown(info.start));
    if (info.names.empty()) words += tr("; its channels have no names");
    if (info.integer_pcm) words += tr("; integer samples, which need a scale");
    return words;
}

QString ChannelModel::tip_at(int row, int column) const
{
    const std::string& key = key_of(column);
    if (key == "says" || key == "file" || key == "name" || key == "channel") return file_words(row);
    if (key == "comment") return typed_at(row, column);
    if (is_guess(row, column))
        return key == "scale"
                   ? tr("Integer samples: say what full scale is in this unit")
                   : tr("A guess: %1. Change it, or say \"These are right\".").arg(shown(recording_at(row).comment));
    return SurveyTable::tip_at(row, column);
}

bool ChannelModel::is_alarming(int row, int column) const
{
    if (row >= static_cast<int>(rows_.size()) || !survey_ || key_of(column) != "says") return false;
    const FileFacts* facts = facts_at(row);
    return facts != nullptr && (!facts->info || at(row).channel > facts->info->channels);
}

bool ChannelModel::is_guess(int row, int column) const
{
    if (row >= static_cast<int>(rows_.size()) || !survey_) return false;
    const std::string& key = key_of(column);
    if (key != "axis" && key != "unit" && key != "scale") return false;
    const evaluators::Guesses guesses = evaluators::guesses_in(recording_at(row).comment);
    return key == "axis"   ? guesses.axes
           : key == "unit" ? guesses.unit
                           : guesses.scale_missing && !recording_at(row).scale;
}

bool ChannelModel::has_guesses() const
{
    return survey_ && std::ranges::any_of(survey_->recordings, [](const Recording& recording) {
               const evaluators::Guesses guesses = evaluators::guesses_in(recording.comment);
               return guesses.axes || guesses.unit;
           });
}

bool ChannelModel::is_repeated(int row, int column) const
{
    const std::string& key = key_of(column);
    return key != "channel" && key != "name" && key != "axis" && row > 0 && at(row).recording == at(row - 1).recording;
}

int ChannelModel::group_of(int row) const
{
    return row < static_cast<int>(rows_.size()) ? static_cast<int>(at(row).recording) : 0;
}

Result<TextChanges> ChannelModel::changes_of(const std::vector<CellEdit>& edits) const
{
    TextChanges changes;
    std::map<std::size_t, evaluators::Guesses> settled;
    std::set<std::size_t> commented;
    std::map<QString, std::string> new_spaces; // by what was typed
    std::set<std::string> taken;
    for (const Space& space : survey_->spaces) taken.insert(space.id);
    for (const CellEdit& edit : edits) {
        if (edit.row >= rowCount())
            return fail(problem_of(edit.column, tr("the block has more rows than there are below"),
                                   tr("add the recordings first")));
        const Row& row = at(edit.row);
        const std::string& key = key_of(edit.column);
        io::ValueEdit value{.array = "recording", .index = row.recording, .key = key};
        auto toml = toml_of(edit);
        if (!toml) return fail(toml.error());
        value.value = std::move(*toml);
        if (key == "axis") {
            value.within = "channels";
            value.key = std::to_string(row.channel);
            settled[row.recording].axes = true;
        } else if (key == "unit") {
            settled[row.recording].unit = true;
        } else if (key == "scale") {
            settled[row.recording].scale_missing |= value.value.has_value();
        } else if (key == "comment") {
            commented.insert(row.recording);
        } else if (key == "space" && value.value) {
            const QString typed = edit.typed.trimmed();
            if (const QString id = resolved(edit.row, edit.column, typed); taken.contains(plain(id))) {
                value.value = io::toml_string(plain(id));
            } else {
                auto known = new_spaces.find(typed);
                if (known == new_spaces.end()) {
                    const std::string new_id = evaluators::id_of(plain(typed), taken);
                    known = new_spaces.emplace(typed, new_id).first;
                    taken.insert(new_id);
                    changes.entries.push_back(
                        {"space", io::entry_as_toml(Space{.id = new_id, .label = plain(typed), .use = "unknown"})});
                }
                value.value = io::toml_string(known->second);
            }
        }
        changes.values.push_back(std::move(value));
    }
    for (const auto& [recording, guesses] : settled) {
        const std::string& comment = survey_->recordings[recording].comment;
        const std::string left = evaluators::without_guesses(comment, guesses);
        if (left != comment && !commented.contains(recording))
            changes.values.push_back(
                {.array = "recording", .index = recording, .key = "comment", .value = text_or_nothing(left)});
    }
    return changes;
}

std::vector<std::size_t> ChannelModel::recordings_in(const std::vector<int>& rows) const
{
    std::set<std::size_t> recordings;
    for (const int row : rows)
        if (row >= 0 && row < static_cast<int>(rows_.size())) recordings.insert(at(row).recording);
    return {recordings.begin(), recordings.end()};
}

std::size_t ChannelModel::recordings_of(const std::vector<int>& rows) const { return recordings_in(rows).size(); }

bool ChannelModel::confirm(const std::vector<int>& rows)
{
    TextChanges changes;
    for (const std::size_t recording : recordings_in(rows)) {
        const std::string& comment = survey_->recordings[recording].comment;
        const std::string left = evaluators::without_guesses(comment, {.axes = true, .unit = true});
        if (left != comment)
            changes.values.push_back(
                {.array = "recording", .index = recording, .key = "comment", .value = text_or_nothing(left)});
    }
    return session_.change(tr("guesses found right"), changed_text(text(), path(), changes));
}

bool ChannelModel::remove(const std::vector<int>& rows)
{
    std::vector<std::size_t> recordings = recordings_in(rows);
    std::ranges::reverse(recordings);
    std::string changed = text();
    for (const std::size_t recording : recordings) {
        auto next = io::without_entry(changed, path(), "recording", recording);
        if (!next) return session_.change({}, std::move(next));
        changed = std::move(*next);
    }
    return session_.change(tr("removal of %n recording(s)", nullptr, static_cast<int>(recordings.size())),
                           std::move(changed));
}

bool ChannelModel::split(const std::vector<int>& rows)
{
    if (recordings_of(rows) != 1) {
        session_.say(tr("Choose channels of one recording to give them a place of their own."));
        return false;
    }
    const std::size_t index = recordings_in(rows).front();
    Recording apart = survey_->recordings[index];
    apart.channels.clear();
    TextChanges changes;
    std::set<Axis> given;
    for (const int row : std::set<int>(rows.begin(), rows.end())) {
        const int channel = at(row).channel;
        const ChannelMapping* mapping = mapping_of(survey_->recordings[index], channel);
        if (mapping != nullptr)
            changes.values.push_back(
                {.array = "recording", .index = index, .key = std::to_string(channel), .within = "channels"});
        // A channel without an axis gets one that is left; the guess is said.
        Axis axis = mapping != nullptr ? mapping->axis : Axis::z;
        for (const Axis other : {Axis::z, Axis::x, Axis::y})
            if (given.contains(axis)) axis = other;
        if (mapping == nullptr && !evaluators::guesses_in(apart.comment).axes)
            apart.comment = evaluators::axis_guess(axis) + (apart.comment.empty() ? "" : "; " + apart.comment);
        given.insert(axis);
        apart.channels.push_back({channel, axis});
    }
    if (changes.values.size() == survey_->recordings[index].channels.size()) {
        session_.say(tr("These are all channels of the recording: change its space instead."));
        return false;
    }
    std::set<std::string> taken;
    for (const Space& space : survey_->spaces) taken.insert(space.id);
    const Space* before = survey_->space(apart.space);
    Space space{.id = evaluators::id_of(apart.space, taken), .use = "unknown"};
    if (before != nullptr) {
        space.use = before->use;
        space.group = before->group;
        space.label = plain(tr("%1, other place").arg(shown(before->label.empty() ? before->id : before->label)));
    }
    apart.space = space.id;
    changes.entries = {{"space", io::entry_as_toml(space)}, {"recording", io::entry_as_toml(apart)}};
    return session_.change(tr("a place of its own"), changed_text(text(), path(), changes));
}

} // namespace becalm::desktop
