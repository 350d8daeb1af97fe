#include "src/io/survey_file.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <limits>
#include <map>
#include <set>
#include <tuple>

#include <fmt/format.h>

#include "src/base/units.h"
#include "src/io/atomic_file.h"
#include "src/io/document_keys.h"
#include "src/io/file_hash.h"
#include "src/io/sensitivity.h"
#include "src/io/toml_fields.h"
#include "src/io/toml_text.h"

namespace becalm::io {
namespace {

template <class Values>
std::vector<std::string> names_of(const Values& values)
{
    std::vector<std::string> names;
    for (const auto value : values) names.emplace_back(name_of(value));
    return names;
}

std::vector<std::string> names_of_units()
{
    std::vector<std::string> names;
    for (const Unit& unit : units) names.emplace_back(unit.name);
    return names;
}

template <class T>
T value_or(std::optional<Placed<T>> field, T otherwise = {})
{
    return field ? std::move(field->value) : std::move(otherwise);
}

// An expanded uncertainty.
constexpr NumberRule percent_of_value{
    .least = 0.0, .most = 100.0, .most_allowed = false, .words = "0 or more and below 100"};

enum class PlanFormat { picture, pdf, unknown };

PlanFormat plan_format(std::string_view file)
{
    const std::size_t dot = file.rfind('.');
    std::string ending(dot == std::string_view::npos ? "" : file.substr(dot));
    std::ranges::transform(ending, ending.begin(), [](char c) { return c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c; });
    if (ending == ".png" || ending == ".jpg" || ending == ".jpeg" || ending == ".svg") return PlanFormat::picture;
    return ending == ".pdf" ? PlanFormat::pdf : PlanFormat::unknown;
}

// Reads one document. Ids are collected first table by table, so that recordings can be held against them.
class SurveyReader {
public:
    SurveyReader(const toml::table& root, TomlFaults& faults)
        : faults_(faults), document_(root, {}, keys::survey, faults)
    {
    }

    Survey read()
    {
        document_.require("title", "\"...\"");
        document_.require("setting", "\"vessel\" (or rail, road, building, lift)");
        survey_.title = value_or(document_.text("title"));
        if (const auto setting = document_.one_of("setting", names_of(all_settings)))
            survey_.setting = *setting_named(setting->value);
        survey_.client = value_or(document_.text("client"));
        survey_.note = value_or(document_.text("note"));
        for (const std::string_view key : keys::survey_statements)
            if (const std::string text = value_or(document_.text(key)); !text.empty())
                survey_.statements.emplace(key, text);
        survey_.mounting_percent = document_.number("mounting_percent", percent_of_value);
        survey_.position_percent = document_.number("position_percent", percent_of_value);
        if (const auto rule = document_.one_of("decision_rule", names_of(all_comparisons)))
            survey_.decision_rule = *comparison_named(rule->value);

        for (TomlFields& fields : document_.tables("sensor", keys::sensor)) read_sensor(fields);
        for (TomlFields& fields : document_.tables("condition", keys::condition, keys::condition_values))
            read_condition(fields);
        for (TomlFields& fields : document_.tables("source", keys::source, keys::source_values)) read_source(fields);
        for (TomlFields& fields : document_.tables("plan", keys::plan)) read_plan(fields);
        for (TomlFields& fields : document_.tables("space", keys::space)) read_space(fields);
        for (TomlFields& fields : document_.tables("recording", keys::recording)) read_recording(fields);
        for (TomlFields& fields : document_.tables("calibration_check", keys::calibration_check))
            read_calibration_check(fields);
        for (TomlFields& fields : document_.tables("exposure", keys::exposure)) read_exposure(fields);
        for (TomlFields& fields : document_.tables("judge", keys::judge)) read_judge(fields);
        return std::move(survey_);
    }

private:
    // Ids of the tables of one kind, in the order of the file, with the line of each.
    struct Ids {
        std::vector<std::string> names;
        std::map<std::string, int, std::less<>> lines;
    };

    std::string read_id(TomlFields& fields, Ids& ids)
    {
        fields.require("id", "\"...\"");
        const auto id = fields.text_not_empty("id");
        if (!id) return {};
        const auto [known, is_new] = ids.lines.emplace(id->value, fields.line());
        if (is_new)
            ids.names.push_back(id->value);
        else
            fields.fault("id",
                         fmt::format("{} {} stands in line {} already", id->key, toml_string(id->value), known->second),
                         "give each its own id");
        return id->value;
    }

    // The id of an entry of another table.
    std::string read_reference(TomlFields& fields, std::string_view key, std::string_view kind, const Ids& ids)
    {
        const auto reference = fields.text_not_empty(key);
        if (!reference) return {};
        if (!ids.lines.contains(reference->value))
            fields.fault(key,
                         fmt::format("{}: there is no [[{}]] with the id {}", reference->key, kind,
                                     toml_string(reference->value)),
                         suggestion(reference->value, ids.names));
        return reference->value;
    }

    static std::map<std::string, double> read_values(TomlFields& fields, std::span<const std::string_view> names)
    {
        std::map<std::string, double> values;
        for (const std::string_view name : names)
            if (const auto value = fields.number(name)) values.emplace(name, *value);
        return values;
    }

    static std::optional<int> read_channel_number(TomlFields& fields, std::string_view key)
    {
        const toml::node* node = fields.find(key);
        if (node == nullptr) return {};
        const auto* number = node->as_integer(); // 4.0 is no count
        if (number != nullptr && number->get() >= 1 && number->get() <= std::numeric_limits<int>::max())
            return static_cast<int>(number->get());
        fields.fault(key, fmt::format("{} is not a channel number", fields.dotted(key)),
                     "write a whole number: channels are numbered 1, 2, 3, ...");
        return {};
    }

    void read_sensor(TomlFields& fields)
    {
        Sensor sensor;
        sensor.line = fields.line();
        sensor.id = read_id(fields, sensors_);
        sensor.title = value_or(fields.text("title"));
        sensor.model = value_or(fields.text("model"));
        sensor.serial = value_or(fields.text("serial"));
        sensor.sensitivity = fields.number("sensitivity", above_zero);
        sensor.sensitivity_unit = value_or(fields.text("sensitivity_unit"));
        sensor.calibrated = fields.date("calibrated");
        sensor.certificate = value_or(fields.text("certificate"));
        sensor.uncertainty_percent = fields.number("uncertainty_percent", percent_of_value);
        sensor.calibration_valid_months = fields.number("calibration_valid_months", above_zero);
        sensor.noise_m_s2 = fields.number("noise_m_s2", above_zero);
        if (auto teds = fields.text_not_empty("teds")) sensor.teds = std::move(teds->value);
        read_calibrations(fields, sensor);
        survey_.sensors.push_back(std::move(sensor));
    }

    static void read_calibrations(TomlFields& fields, Sensor& sensor)
    {
        for (TomlFields& entry : fields.tables("calibrations", keys::calibration)) {
            entry.require("date", "2026-03-01");
            Calibration calibration{.date = entry.date("date"),
                                    .sensitivity = entry.number("sensitivity", above_zero),
                                    .uncertainty_percent = entry.number("uncertainty_percent", percent_of_value),
                                    .certificate = value_or(entry.text("certificate"))};
            if (calibration.date.empty()) continue;
            if (std::ranges::find(sensor.calibrations, calibration.date, &Calibration::date) !=
                sensor.calibrations.end())
                entry.fault(
                    "date",
                    fmt::format("{}: there is a calibration of {} already", entry.dotted("date"), calibration.date),
                    "give each calibration its own day");
            sensor.calibrations.push_back(std::move(calibration));
        }
        std::ranges::stable_sort(sensor.calibrations, {}, &Calibration::date);
    }

    void read_calibration_check(TomlFields& fields)
    {
        CalibrationCheck check;
        check.line = fields.line();
        fields.require("file", "\"...\"");
        fields.require("sensor", "\"...\"");
        fields.require("when", "\"before\" (or after)");
        check.file = value_or(fields.text_not_empty("file"));
        check.sensor = read_reference(fields, "sensor", "sensor", sensors_);
        check.channel = read_channel_number(fields, "channel").value_or(check.channel);
        check.when = value_or(fields.one_of("when", as_strings(keys::calibration_moments)));
        if (auto unit = fields.one_of("unit", names_of_units())) check.unit = std::move(unit->value);
        check.scale = fields.number("scale");
        if (check.scale == 0.0)
            fields.fault("scale", fmt::format("{} is 0", fields.dotted("scale")),
                         "a stored value of 1.0 must be some amount of the unit; it may be negative");
        check.amplitude = fields.number("amplitude", above_zero).value_or(check.amplitude);
        check.hz = fields.number("hz", above_zero).value_or(check.hz);
        check.tolerance_percent = fields.number("tolerance_percent", above_zero).value_or(check.tolerance_percent);
        const auto unit = unit_named(check.unit);
        if (unit && (unit->motion != Motion::acceleration || unit->rotates))
            fields.fault("unit", fmt::format("{}: {} is no acceleration", fields.dotted("unit"), check.unit),
                         "the amplitude of a calibrator is stated in m/s2 r.m.s.: record it with an accelerometer");
        survey_.calibration_checks.push_back(std::move(check));
    }

    void read_condition(TomlFields& fields)
    {
        Condition condition;
        condition.line = fields.line();
        condition.id = read_id(fields, conditions_);
        condition.title = value_or(fields.text("title"));
        condition.period = value_or(fields.one_of("period", as_strings(keys::condition_periods)));
        condition.exposure_h = fields.number(
            "exposure_h", {.least = 0.0, .least_allowed = false, .most = 24.0, .words = "above 0 and at most 24"});
        condition.events = fields.number("events", above_zero);
        condition.values = read_values(fields, keys::condition_values);
        survey_.conditions.push_back(std::move(condition));
    }

    void read_source(TomlFields& fields)
    {
        Source source;
        source.line = fields.line();
        source.id = read_id(fields, sources_);
        source.title = value_or(fields.text("title"));
        fields.require("kind", "\"shaft\" (or another kind)");
        source.kind = value_or(fields.one_of("kind", as_strings(keys::source_kinds)));
        source.values = read_values(fields, keys::source_values);
        source.reference_channel = read_channel_number(fields, "reference_channel");
        survey_.sources.push_back(std::move(source));
    }

    void read_plan(TomlFields& fields)
    {
        Plan plan;
        plan.line = fields.line();
        plan.id = read_id(fields, plans_);
        plan.title = value_or(fields.text("title"));
        fields.require("file", "\"...\"");
        plan.file = value_or(fields.text_not_empty("file"));
        const PlanFormat format = plan_format(plan.file);
        if (!plan.file.empty() && format == PlanFormat::unknown)
            fields.fault(
                "file",
                fmt::format("{}: {} is no PNG, JPEG, SVG or PDF", fields.dotted("file"), toml_string(plan.file)),
                "save the drawing as one of these; the name's ending tells which it is");
        if (const auto page = fields.number("page", {.least = 1.0, .most = 1e6, .words = "a page number, from 1"})) {
            plan.page = static_cast<int>(*page);
            if (plan.page != *page)
                fields.fault("page", fmt::format("{} is {}", fields.dotted("page"), *page),
                             "pages are counted 1, 2, 3, ...");
            else if (format == PlanFormat::picture)
                fields.fault(
                    "page",
                    fmt::format("{}: {} is a picture without pages", fields.dotted("page"), toml_string(plan.file)),
                    "remove the page, or name the PDF");
        }
        survey_.plans.push_back(std::move(plan));
    }

    void read_space(TomlFields& fields)
    {
        Space space;
        space.line = fields.line();
        space.id = read_id(fields, spaces_);
        space.label = value_or(fields.text("label"));
        fields.require("use", "\"passenger-cabin\" (or what the criterion's scale calls it)");
        space.use = value_or(fields.text_not_empty("use"));
        space.group = value_or(fields.text("group"));
        space.plan = read_reference(fields, "plan", "plan", plans_);
        read_place(fields, space);
        space.position_percent = fields.number("position_percent", percent_of_value);
        survey_.spaces.push_back(std::move(space));
    }

    static void read_place(TomlFields& fields, Space& space)
    {
        const toml::node* node = fields.find("place");
        if (node == nullptr) return;
        const toml::array* shares = node->as_array();
        const auto share = [&](std::size_t i) {
            const toml::node* entry = shares != nullptr && shares->size() == 2 ? shares->get(i) : nullptr;
            return entry != nullptr && entry->is_number() ? entry->value<double>() : std::nullopt;
        };
        const auto x = share(0);
        const auto y = share(1);
        const auto on_plan = [](double value) { return value >= 0.0 && value <= 1.0; };
        if (!x || !y)
            return fields.fault("place", fmt::format("{} is not a list of two numbers", fields.dotted("place")),
                                "write the shares of the plan's width and height from the left and the top edge, such "
                                "as [0.31, 0.62]");
        if (!on_plan(*x) || !on_plan(*y))
            return fields.fault("place", fmt::format("{} is [{}, {}]", fields.dotted("place"), *x, *y),
                                "each share must be 0 to 1, from the left and the top edge of the plan");
        if (!fields.has("plan"))
            return fields.fault("place", fmt::format("{} lies on no plan", fields.dotted("place")),
                                "add plan = \"...\", the id of a [[plan]]");
        space.place = PlanPlace{*x, *y};
    }

    void read_recording(TomlFields& fields)
    {
        Recording recording;
        recording.line = fields.line();
        fields.require("file", "\"...\"");
        fields.require("space", "\"...\"");
        fields.require("channels", "{ 1 = \"x\", 2 = \"y\", 3 = \"z\" }");
        recording.file = value_or(fields.text_not_empty("file"));
        recording.space = read_reference(fields, "space", "space", spaces_);
        if (const auto position = fields.one_of("position", names_of(all_positions)))
            recording.position = *position_named(position->value);
        recording.condition = read_reference(fields, "condition", "condition", conditions_);
        recording.sensor = read_reference(fields, "sensor", "sensor", sensors_);
        read_channels(fields, recording);
        if (auto unit = fields.one_of("unit", names_of_units())) recording.unit = std::move(unit->value);
        recording.scale = fields.number("scale");
        if (recording.scale == 0.0) {
            fields.fault("scale", fmt::format("{} is 0", fields.dotted("scale")),
                         "a stored value of 1.0 must be some amount of the unit; it may be negative");
            recording.scale.reset();
        }
        read_sensitivity(fields, recording);
        recording.start = fields.moment("start");
        recording.resample_hz = fields.number("resample_hz", above_zero);
        read_exclusions(fields, recording);
        read_events(fields, recording);
        check_rotations(fields, recording);
        recording.mounting_percent = fields.number("mounting_percent", percent_of_value);
        recording.position_percent = fields.number("position_percent", percent_of_value);
        recording.comment = value_or(fields.text("comment"));
        survey_.recordings.push_back(std::move(recording));
    }

    // Volts were recorded: what a stored 1.0 is follows from the sensitivity.
    static void read_sensitivity(TomlFields& fields, Recording& recording)
    {
        const auto text = fields.text_not_empty("sensitivity");
        if (!text) return;
        const auto sensitivity = sensitivity_in(text->value);
        if (!sensitivity)
            return fields.fault("sensitivity", fmt::format("{}: {}", text->key, sensitivity.error().what),
                                sensitivity.error().remedy);
        if (fields.has("unit"))
            return fields.fault("unit", fmt::format("{} stands beside a sensitivity", fields.dotted("unit")),
                                "take one of them out: the sensitivity says of which unit the volts are");
        recording.sensitivity = text->value;
        recording.scale_v = recording.scale;
        recording.unit = sensitivity->unit;
        recording.scale = recording.scale_v.value_or(1.0) / sensitivity->volts;
    }

    void read_channels(TomlFields& fields, Recording& recording)
    {
        const toml::node* node = fields.find("channels");
        if (node == nullptr) return;
        const toml::table* table = node->as_table();
        if (table == nullptr || table->empty()) {
            fields.fault("channels", fmt::format("{} names no channel", fields.dotted("channels")),
                         "write which channel is which axis, such as { 1 = \"x\", 2 = \"y\", 3 = \"z\" }");
            return;
        }
        // Every key is a channel number or a fault, so the keys found are the keys known.
        std::vector<std::string_view> found;
        for (const auto& [key, value] : *table) found.push_back(key.str());
        TomlFields channels(*table, fields.dotted("channels"), found, faults_);

        for (const std::string_view key : found) {
            int channel = 0;
            const auto [end, error] = std::from_chars(key.data(), key.data() + key.size(), channel);
            const bool is_number = error == std::errc{} && end == key.data() + key.size() && key.front() != '0';
            if (!is_number || channel < 1) {
                channels.fault(key, fmt::format("{} is not a channel number", channels.dotted(key)),
                               "channels are numbered 1, 2, 3, ...");
                continue;
            }
            if (const auto axis = channels.one_of(key, names_of(all_axes)))
                recording.channels.push_back({channel, *axis_named(axis->value)});
        }
        std::ranges::sort(recording.channels, {}, &ChannelMapping::channel);

        std::map<Axis, int> channel_of;
        for (const ChannelMapping& mapping : recording.channels) {
            const std::string key = std::to_string(mapping.channel);
            const auto [first, is_new] = channel_of.emplace(mapping.axis, mapping.channel);
            if (!is_new) {
                channels.fault(
                    key,
                    fmt::format("duplicate channel mapping: {} gives the axis {}, which channel {} has already",
                                channels.dotted(key), name_of(mapping.axis), first->second),
                    "give each axis of a recording to one channel");
                continue;
            }
            const auto place =
                std::tuple(recording.file, recording.space, recording.position, recording.condition, mapping.axis);
            if (recording.file.empty() || recording.space.empty()) continue;
            const auto [earlier, is_first] = lines_.emplace(place, recording.line);
            if (!is_first)
                channels.fault(key,
                               fmt::format("duplicate channel mapping: {} repeats the axis {} of {} at the same space, "
                                           "position and condition, see line {}",
                                           channels.dotted(key), name_of(mapping.axis), toml_string(recording.file),
                                           earlier->second),
                               "remove one of them, or correct its space, position or condition");
        }
    }

    void read_exclusions(TomlFields& fields, Recording& recording)
    {
        for (TomlFields& entry : fields.tables("exclude", keys::exclusion)) {
            const std::size_t faults_before = faults_.count();
            entry.require("from_s", "12.0");
            entry.require("to_s", "15.0");
            entry.require("reason", "\"...\"");
            const auto from_s = entry.number("from_s", not_negative);
            const auto to_s = entry.number("to_s", above_zero);
            std::string reason = value_or(entry.text_not_empty("reason"));
            if (from_s && to_s && *from_s >= *to_s)
                entry.fault(
                    "to_s",
                    fmt::format("{} is {}, which is not after from_s = {}", entry.dotted("to_s"), *to_s, *from_s),
                    "an exclusion ends after it begins");
            if (faults_.count() == faults_before) recording.excluded.push_back({*from_s, *to_s, std::move(reason)});
        }
    }

    void read_events(TomlFields& fields, Recording& recording)
    {
        for (TomlFields& entry : fields.tables("events", keys::event)) {
            const std::size_t faults_before = faults_.count();
            entry.require("from_s", "12.0");
            entry.require("to_s", "40.0");
            const auto from_s = entry.number("from_s", not_negative);
            const auto to_s = entry.number("to_s", above_zero);
            std::string title = value_or(entry.text("title"));
            if (from_s && to_s && *from_s >= *to_s)
                entry.fault(
                    "to_s",
                    fmt::format("{} is {}, which is not after from_s = {}", entry.dotted("to_s"), *to_s, *from_s),
                    "an event ends after it begins");
            if (faults_.count() == faults_before) recording.events.push_back({*from_s, *to_s, std::move(title)});
        }
        std::ranges::sort(recording.events, {}, &EventSpan::from_s);
        for (std::size_t i = 1; i < recording.events.size(); ++i)
            if (recording.events[i].from_s < recording.events[i - 1].to_s)
                fields.fault("events",
                             fmt::format("{}: the events at {} s and at {} s overlap", fields.dotted("events"),
                                         recording.events[i - 1].from_s, recording.events[i].from_s),
                             "what belongs to both would count twice; move an end");
    }

    // A rotation told in m/s2, or a translation in rad/s2, is a slip of the mapping.
    static void check_rotations(TomlFields& fields, const Recording& recording)
    {
        const auto unit = unit_named(recording.unit);
        for (const ChannelMapping& mapping : recording.channels)
            if (unit && is_rotation(mapping.axis) != unit->rotates)
                return fields.fault(
                    "unit",
                    fmt::format("{}: the axis {} is not told in {}", fields.dotted("unit"), name_of(mapping.axis),
                                recording.unit),
                    unit->rotates
                        ? "give the translations of this file a [[recording]] of their own, with their unit"
                        : "write unit = \"rad/s2\" (or deg/s2, rad/s, deg/s); rotations and translations of one "
                          "file each have a [[recording]] of their own");
    }

    void read_exposure(TomlFields& fields)
    {
        Exposure exposure;
        exposure.line = fields.line();
        fields.require("person", "\"...\" (or the job)");
        fields.require("tasks", "[ { space = \"...\", hours = 4.0 } ]");
        exposure.person = value_or(fields.text_not_empty("person"));
        exposure.day = value_or(fields.text("day"));
        double hours = 0.0;
        for (TomlFields& entry : fields.tables("tasks", keys::task)) {
            Task task;
            task.line = entry.line();
            entry.require("space", "\"...\"");
            entry.require("hours", "4.0");
            task.space = read_reference(entry, "space", "space", spaces_);
            if (const auto position = entry.one_of("position", names_of(all_positions)))
                task.position = *position_named(position->value);
            task.condition = read_reference(entry, "condition", "condition", conditions_);
            task.hours =
                entry
                    .number("hours",
                            {.least = 0.0, .least_allowed = false, .most = 24.0, .words = "above 0 and at most 24"})
                    .value_or(0.0);
            hours += task.hours;
            exposure.tasks.push_back(std::move(task));
        }
        if (hours > 24.0)
            fields.fault("tasks", fmt::format("{}: the tasks last {:.4g} h together", fields.dotted("tasks"), hours),
                         "a day has 24 h");
        for (const Exposure& other : survey_.exposures)
            if (other.person == exposure.person && other.day == exposure.day && !exposure.person.empty())
                fields.fault("day",
                             fmt::format("{}: the day of {} stands in line {} already", fields.dotted("day"),
                                         toml_string(exposure.person), other.line),
                             "days that differ need different names, such as day = \"Monday\"");
        survey_.exposures.push_back(std::move(exposure));
    }

    void read_judge(TomlFields& fields)
    {
        Judge judge;
        judge.line = fields.line();
        fields.require("criteria", "[\"iso6954-2000\"] (see becalm criteria list)");
        for (Placed<std::string>& id : fields.texts("criteria")) judge.criteria.push_back(std::move(id.value));
        for (Placed<std::string>& use : fields.texts("uses")) judge.uses.push_back(std::move(use.value));
        if (auto confirmed_by = fields.text_not_empty("confirmed-by"))
            judge.confirmed_by = std::move(confirmed_by->value);
        const toml::node* criteria = fields.find("criteria");
        if (criteria != nullptr && criteria->is_array() && criteria->as_array()->empty())
            fields.fault("criteria", fmt::format("{} is empty", fields.dotted("criteria")),
                         "name at least one criterion (see becalm criteria list)");
        survey_.judges.push_back(std::move(judge));
    }

    TomlFaults& faults_;
    TomlFields document_;
    Survey survey_;
    Ids sensors_;
    Ids conditions_;
    Ids sources_;
    Ids plans_;
    Ids spaces_;
    std::map<std::tuple<std::string, std::string, Position, std::string, Axis>, int> lines_;
};

} // namespace

Results<Survey> parse_survey(std::string_view text, const std::string& path)
{
    const Result<toml::table> root = parse_toml(text, path);
    if (!root) return tl::unexpected(std::vector{root.error()});
    TomlFaults faults(path);
    Survey survey = SurveyReader(*root, faults).read();
    if (!faults.empty()) return tl::unexpected(faults.sorted());
    survey.path = path;
    survey.sha256 = sha256_of_text(text);
    return survey;
}

Results<Survey> read_survey(const std::string& path)
{
    const Result<std::string> text = read_text_file(path);
    if (!text) return tl::unexpected(std::vector{text.error()});
    return parse_survey(*text, path);
}

// --- writing ---

namespace {

constexpr std::string_view survey_head =
    R"(# A survey: what was measured where, with what, and what it is judged by.
# Lines that begin with # are comments; they stay when the program changes this file.

)";

constexpr std::string_view statements_comment =
    R"(# For the report, each a text; what is left out stands there as not stated: purpose (why it was measured), object (building,
# vessel, vehicle and its parts), author, instruments (amplifiers, recorder, software), mounting (how sensors were fastened),
# background (vibration without the source), complaints (what people said; rattle, sound), deviations (from the publications).
)";
constexpr std::string_view uncertainty_comment =
    R"(# mounting_percent, position_percent = your estimate of what mounting and place add to the uncertainty of a value (k = 2);
# they can also stand in a [[recording]], and position_percent in a [[space]], for these alone.
# decision_rule = "guarded": exceeded unless the value with its uncertainty surely is not.
)";
constexpr std::string_view sensor_comment = R"(
# --- Sensors: with what. The expanded (k = 2) uncertainty of the sensitivity goes into that of every value. ---
)";
constexpr std::string_view sensor_example = R"(#[[sensor]]
#id = "a1"
#title = "..."
#model = "..."
#serial = "..."             # held against what a file says of its sensors
#calibrated = 2026-03-01
#certificate = "..."
#uncertainty_percent = 2.0
#calibration_valid_months = 24
#noise_m_s2 = 0.0004        # r.m.s. with the sensor at rest, weighted or within the band that is judged
#teds = "a1.ted"            # its electronic data sheet: a file, or hexadecimal text; its serial number is held against the others
#calibrations = [ { date = 2026-03-01, sensitivity = 10.21, uncertainty_percent = 1.5, certificate = "..." } ] # instead: its history
)";

constexpr std::string_view condition_comment = R"(
# --- Conditions: what the vessel, train, plant or traffic was doing, and how long a day of it lasts. ---
)";
constexpr std::string_view condition_example = R"(#[[condition]]
#id = "service"
#title = "..."
#period = "day"             # day | evening | night | rest (hours of rest in the day)
#exposure_h = 8.0           # hours a day; or events = how often it happens
)";

constexpr std::string_view source_comment = R"(
# --- Sources: what can excite vibration. ---
)";
constexpr std::string_view source_example = R"(#[[source]]
#id = "shaft"
#kind = "shaft"             # shaft | propeller | engine | gear | generator | walker | track | wheel | plant | mains | other
#rpm = 105
#reference_channel = 4      # of the recordings' files, where a transducer sits on it; needs no axis
)";

constexpr std::string_view plan_comment = R"(
# --- Plans: drawings that spaces can be shown on (PNG, SVG, or a page of a PDF). No verdict depends on them. ---
)";
constexpr std::string_view plan_example = R"(#[[plan]]
#id = "deck-5"
#title = "Deck 5"
#file = "plans/deck5.png"   # relative to the folder of this file; page = 2 of a PDF
)";

constexpr std::string_view space_comment = R"(
# --- Spaces: where. The criterion's scale is chosen by `use`. ---
# plan = "deck-5" and place = [0.31, 0.62] show one on a plan: shares of its width and height from the left and the top.
)";
constexpr std::string_view space_example = R"(#[[space]]
#id = "d5-201"
#label = "Cabin 201"
#use = "passenger-cabin"
#group = "Deck 5"
)";

constexpr std::string_view recording_comment = R"(
# --- Recordings: which file was taken where. `channels` says which channel is which axis (x, y, z, rx, ry, rz). ---
# A stored 1.0 is `scale` of `unit` (m/s2 unless said otherwise); integer samples need it, full scale counts as 1.0.
# sensitivity = "100 mV/g" in place of unit, where volts were recorded: `scale` is then what a stored 1.0 is in volts.
# exclude = [ { from_s = 12.0, to_s = 15.0, reason = "door slam" } ] takes a span out of the judgement.
# events = [ { from_s = 30.0, to_s = 55.0, title = "train 1" } ] names the events of a long recording: these alone are judged, one by one.
)";
constexpr std::string_view recording_example = R"(#[[recording]]
#file = "d5-201.wav"
#space = "d5-201"
#position = "floor"         # floor | seat-pan | seat-back | feet | bed | head | hand-left | hand-right
#channels = { 1 = "x", 2 = "y", 3 = "z" }
)";

constexpr std::string_view check_comment = R"(
# --- Calibration checks: recordings of a calibrator before and after. amplitude = 10.0 m/s2 r.m.s., hz = 159.2 unless said otherwise. ---
)";
constexpr std::string_view check_example = R"(#[[calibration_check]]
#file = "calibrator-before.wav"
#sensor = "a1"
#channel = 1
#when = "before"            # before | after
)";

constexpr std::string_view exposure_comment = R"(
# --- Exposures: what a person does for how long on a working day, for daily exposures; `day` where days of a week differ. ---
)";
constexpr std::string_view exposure_example = R"(#[[exposure]]
#person = "driver"
#tasks = [ { space = "d5-201", condition = "service", hours = 4.0 } ]
)";

constexpr std::string_view judge_comment = R"(
# --- Judgement: by which criteria (`becalm criteria list`); `uses` narrows it to spaces of these uses. ---
)";
constexpr std::string_view judge_example = R"(#[[judge]]
#criteria = ["iso6954-2000"]
)";

void add_line(std::string& out, std::string_view key, std::string_view value)
{
    out += fmt::format("{} = {}\n", key, value);
}

void add_text(std::string& out, std::string_view key, std::string_view value)
{
    if (!value.empty()) add_line(out, key, toml_string(value));
}

void add_number(std::string& out, std::string_view key, const std::optional<double>& value)
{
    if (value) add_line(out, key, toml_number(*value));
}

// Bare where it is a TOML value of type T; a comment otherwise, since the reader would refuse it and somebody has to
// complete it first (a recorder that notes local time without an offset, say).
template <class T>
void add_calendar(std::string& out, std::string_view key, const std::string& value, std::string_view needed)
{
    if (value.empty()) return;
    const Result<toml::table> parsed = parse_toml("v = " + value + "\n", {});
    const bool is_value = parsed && parsed->size() == 1 && parsed->get("v") != nullptr && parsed->get("v")->is<T>();
    bool complete = is_value;
    if constexpr (std::is_same_v<T, toml::date_time>)
        complete = is_value && parsed->get("v")->as_date_time()->get().offset.has_value();
    if (complete)
        add_line(out, key, value);
    else
        out += fmt::format("# {} = {} # {}\n", key, toml_string(value), needed);
}

void add_values(std::string& out, const std::map<std::string, double>& values)
{
    for (const auto& [key, value] : values) add_line(out, toml_key(key), toml_number(value));
}

} // namespace

std::string entry_as_toml(const Sensor& sensor)
{
    std::string out;
    add_line(out, "id", toml_string(sensor.id));
    add_text(out, "title", sensor.title);
    add_text(out, "model", sensor.model);
    add_text(out, "serial", sensor.serial);
    add_number(out, "sensitivity", sensor.sensitivity);
    add_text(out, "sensitivity_unit", sensor.sensitivity_unit);
    add_calendar<toml::date>(out, "calibrated", sensor.calibrated, "write year-month-day");
    add_text(out, "certificate", sensor.certificate);
    add_number(out, "uncertainty_percent", sensor.uncertainty_percent);
    add_number(out, "calibration_valid_months", sensor.calibration_valid_months);
    add_number(out, "noise_m_s2", sensor.noise_m_s2);
    add_text(out, "teds", sensor.teds);
    if (!sensor.calibrations.empty()) {
        out += "calibrations = [\n";
        for (const Calibration& calibration : sensor.calibrations) {
            std::string entry = fmt::format("date = {}", calibration.date);
            if (calibration.sensitivity) entry += ", sensitivity = " + toml_number(*calibration.sensitivity);
            if (calibration.uncertainty_percent)
                entry += ", uncertainty_percent = " + toml_number(*calibration.uncertainty_percent);
            if (!calibration.certificate.empty()) entry += ", certificate = " + toml_string(calibration.certificate);
            out += fmt::format("    {{ {} }},\n", entry);
        }
        out += "]\n";
    }
    return out;
}

std::string entry_as_toml(const CalibrationCheck& check)
{
    const CalibrationCheck usual;
    std::string out;
    add_line(out, "file", toml_string(check.file));
    add_line(out, "sensor", toml_string(check.sensor));
    add_line(out, "channel", std::to_string(check.channel));
    add_line(out, "when", toml_string(check.when));
    if (check.unit != usual.unit) add_line(out, "unit", toml_string(check.unit));
    add_number(out, "scale", check.scale);
    if (check.amplitude != usual.amplitude) add_line(out, "amplitude", toml_number(check.amplitude));
    if (check.hz != usual.hz) add_line(out, "hz", toml_number(check.hz));
    if (check.tolerance_percent != usual.tolerance_percent)
        add_line(out, "tolerance_percent", toml_number(check.tolerance_percent));
    return out;
}

std::string entry_as_toml(const Condition& condition)
{
    std::string out;
    add_line(out, "id", toml_string(condition.id));
    add_text(out, "title", condition.title);
    add_text(out, "period", condition.period);
    add_number(out, "exposure_h", condition.exposure_h);
    add_number(out, "events", condition.events);
    add_values(out, condition.values);
    return out;
}

std::string entry_as_toml(const Source& source)
{
    std::string out;
    add_line(out, "id", toml_string(source.id));
    add_text(out, "title", source.title);
    add_line(out, "kind", toml_string(source.kind));
    add_values(out, source.values);
    if (source.reference_channel) add_line(out, "reference_channel", std::to_string(*source.reference_channel));
    return out;
}

std::string entry_as_toml(const Plan& plan)
{
    std::string out;
    add_line(out, "id", toml_string(plan.id));
    add_text(out, "title", plan.title);
    add_line(out, "file", toml_string(plan.file));
    if (plan.page != 1) add_line(out, "page", std::to_string(plan.page));
    return out;
}

std::string entry_as_toml(const Space& space)
{
    std::string out;
    add_line(out, "id", toml_string(space.id));
    add_text(out, "label", space.label);
    add_line(out, "use", toml_string(space.use));
    add_text(out, "group", space.group);
    add_text(out, "plan", space.plan);
    if (space.place) add_line(out, "place", toml_list(std::array{space.place->x, space.place->y}));
    add_number(out, "position_percent", space.position_percent);
    return out;
}

std::string exclusions_as_toml(const Recording& recording)
{
    if (recording.excluded.empty()) return {};
    std::string out = "exclude = [\n";
    for (const ExcludedSpan& span : recording.excluded)
        out += fmt::format("    {{ from_s = {}, to_s = {}, reason = {} }},\n", toml_number(span.from_s),
                           toml_number(span.to_s), toml_string(span.reason));
    return out + "]\n";
}

std::string entry_as_toml(const Recording& recording)
{
    std::string out;
    add_line(out, "file", toml_string(recording.file));
    add_line(out, "space", toml_string(recording.space));
    add_line(out, "position", toml_string(name_of(recording.position)));
    add_text(out, "condition", recording.condition);
    add_text(out, "sensor", recording.sensor);
    std::string channels;
    for (const ChannelMapping& mapping : recording.channels)
        channels += fmt::format("{}{} = \"{}\"", channels.empty() ? "" : ", ", mapping.channel, name_of(mapping.axis));
    add_line(out, "channels", "{ " + channels + " }");
    if (recording.sensitivity.empty()) add_line(out, "unit", toml_string(recording.unit));
    add_number(out, "scale", recording.sensitivity.empty() ? recording.scale : recording.scale_v);
    add_text(out, "sensitivity", recording.sensitivity);
    add_calendar<toml::date_time>(out, "start", recording.start,
                                  "add the offset from UTC, such as 2026-05-02T10:12:00+01:00");
    add_number(out, "resample_hz", recording.resample_hz);
    out += exclusions_as_toml(recording);
    if (!recording.events.empty()) {
        out += "events = [\n";
        for (const EventSpan& event : recording.events)
            out +=
                fmt::format("    {{ from_s = {}, to_s = {}{} }},\n", toml_number(event.from_s), toml_number(event.to_s),
                            event.title.empty() ? "" : ", title = " + toml_string(event.title));
        out += "]\n";
    }
    add_number(out, "mounting_percent", recording.mounting_percent);
    add_number(out, "position_percent", recording.position_percent);
    add_text(out, "comment", recording.comment);
    return out;
}

std::string task_as_toml(const Task& task)
{
    return fmt::format("{{ space = {}, {}{}hours = {} }}", toml_string(task.space),
                       task.position ? fmt::format("position = {}, ", toml_string(name_of(*task.position))) : "",
                       task.condition.empty() ? "" : fmt::format("condition = {}, ", toml_string(task.condition)),
                       toml_number(task.hours));
}

std::string entry_as_toml(const Exposure& exposure)
{
    std::string out;
    add_line(out, "person", toml_string(exposure.person));
    add_text(out, "day", exposure.day);
    out += "tasks = [\n";
    for (const Task& task : exposure.tasks) out += fmt::format("    {},\n", task_as_toml(task));
    out += "]\n";
    return out;
}

std::string entry_as_toml(const Judge& judge)
{
    std::string out;
    add_line(out, "criteria", toml_list(judge.criteria));
    if (!judge.uses.empty()) add_line(out, "uses", toml_list(judge.uses));
    add_text(out, "confirmed-by", judge.confirmed_by);
    return out;
}

namespace {

template <class Entry>
void add_section(std::string& out, std::string_view array, std::string_view comment, std::string_view example,
                 const std::vector<Entry>& entries)
{
    out += comment;
    if (entries.empty()) out += example;
    for (std::size_t i = 0; i < entries.size(); ++i) {
        out += fmt::format("{}[[{}]]\n{}", i > 0 ? "\n" : "", array, entry_as_toml(entries[i]));
    }
}

} // namespace

std::string survey_as_toml(const Survey& survey)
{
    std::string out(survey_head);
    add_line(out, "title", toml_string(survey.title));
    out += fmt::format("setting = \"{}\"    # vessel | rail | road | building | lift\n", name_of(survey.setting));
    add_text(out, "client", survey.client);
    add_text(out, "note", survey.note);
    out += statements_comment;
    for (const std::string_view key : keys::survey_statements)
        if (const auto stated = survey.statements.find(key); stated != survey.statements.end())
            add_text(out, key, stated->second);
    out += uncertainty_comment;
    add_number(out, "mounting_percent", survey.mounting_percent);
    add_number(out, "position_percent", survey.position_percent);
    if (survey.decision_rule != Comparison::simple)
        add_line(out, "decision_rule", toml_string(name_of(survey.decision_rule)));
    add_section(out, "sensor", sensor_comment, sensor_example, survey.sensors);
    add_section(out, "condition", condition_comment, condition_example, survey.conditions);
    add_section(out, "source", source_comment, source_example, survey.sources);
    add_section(out, "plan", plan_comment, plan_example, survey.plans);
    add_section(out, "space", space_comment, space_example, survey.spaces);
    add_section(out, "recording", recording_comment, recording_example, survey.recordings);
    add_section(out, "calibration_check", check_comment, check_example, survey.calibration_checks);
    add_section(out, "exposure", exposure_comment, exposure_example, survey.exposures);
    add_section(out, "judge", judge_comment, judge_example, survey.judges);
    return out;
}

} // namespace becalm::io
