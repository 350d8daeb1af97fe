#include "src/io/criterion_file.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <dlfcn.h>
#include <filesystem>
#include <map>
#include <optional>
#include <set>
#include <system_error>
#include <tuple>

#include <fmt/format.h>

#include "src/io/atomic_file.h"
#include "src/io/document_keys.h"
#include "src/io/file_hash.h"
#include "src/io/toml_fields.h"
#include "src/io/toml_text.h"

namespace becalm::io {
namespace {

namespace fs = std::filesystem;

template <class Values>
std::vector<std::string> names_of(const Values& values)
{
    std::vector<std::string> names;
    for (const auto value : values) names.emplace_back(name_of(value));
    return names;
}

std::vector<std::string> keys_of(const Bibliography& bibliography)
{
    std::vector<std::string> names;
    for (const auto& [key, publication] : bibliography) names.push_back(key);
    return names;
}

// The axes a key of a table of weightings or factors speaks for.
std::vector<Axis> axes_of(std::string_view key)
{
    if (key == "horizontal") return {Axis::x, Axis::y};
    if (key == "vertical") return {Axis::z};
    if (const auto axis = axis_named(key)) return {*axis};
    return {};
}

class CriterionReader {
public:
    CriterionReader(const toml::table& root, const std::string& path, const Bibliography& bibliography,
                    TomlFaults& faults)
        : bibliography_(bibliography), faults_(faults), stem_(fs::path(path).stem().string()),
          fields_(root, {}, keys::criterion, faults)
    {
    }

    Criterion read()
    {
        read_identity();
        read_quantity();
        read_decision();
        read_parameters(fields_, criterion_.parameters);
        if (fields_.has("term"))
            read_terms();
        else
            read_axes();
        require_parameters();
        read_combination();
        read_clock();
        check_axes_of_decision();
        read_curves();
        read_conditions();
        fields_.require("confirmed", "\"from memory\" (or how else the numbers were confirmed)");
        read_confirmed();
        if (auto note = fields_.text("note")) criterion_.note = std::move(note->value);
        read_scales();
        return std::move(criterion_);
    }

private:
    void read_identity()
    {
        for (const auto& [key, example] : {std::pair{"id", toml_string(stem_)},
                                           {"title", std::string("\"...\"")},
                                           {"source", std::string("\"...\" (a key of sources.toml)")},
                                           {"clause", std::string("\"Table 1\"")}})
            fields_.require(key, example);
        if (const auto id = fields_.text_not_empty("id")) {
            criterion_.id = id->value;
            if (id->value != stem_)
                fields_.fault("id", fmt::format("id is {}, but the file is {}.toml", toml_string(id->value), stem_),
                              "give both the same name");
        }
        if (auto title = fields_.text_not_empty("title")) criterion_.title = std::move(title->value);
        if (auto clause = fields_.text_not_empty("clause")) criterion_.clause = std::move(clause->value);
        if (const auto source = fields_.text_not_empty("source")) {
            criterion_.source = source->value;
            const auto publication = bibliography_.find(source->value);
            if (publication == bibliography_.end())
                fields_.fault("source", fmt::format("source: {} is not in sources.toml", toml_string(source->value)),
                              suggestion(source->value, keys_of(bibliography_)) +
                                  "; or add it to a sources.toml beside this file");
            else
                criterion_.edition = publication->second.edition;
        }
        if (fields_.has("setting") && fields_.has("settings"))
            fields_.fault("setting", "setting and settings are both given", "keep one of them");
        if (const auto setting = fields_.one_of("setting", names_of(all_settings)))
            criterion_.settings.push_back(*setting_named(setting->value));
        for (const auto& setting : fields_.some_of("settings", names_of(all_settings)))
            criterion_.settings.push_back(*setting_named(setting.value));
    }

    void read_quantity()
    {
        std::vector<std::string> quantities;
        for (const auto& [quantity, unit] : keys::quantity_units) quantities.emplace_back(quantity);
        fields_.require("quantity", "\"weighted_rms\" (or another quantity)");
        const auto quantity = fields_.one_of("quantity", quantities);
        fields_.require("unit", "\"m/s2\" (the quantity's unit)");
        const auto unit = fields_.text("unit");
        if (unit) criterion_.unit = unit->value;
        if (!quantity) return;
        criterion_.quantity = quantity->value;
        const std::string_view needed =
            std::ranges::find(keys::quantity_units, quantity->value, &std::pair<keys::Name, keys::Name>::first)->second;
        if (unit && unit->value != needed)
            fields_.fault("unit", fmt::format("unit cannot be {}", toml_string(unit->value)),
                          fmt::format("{} is stated in \"{}\"", quantity->value, needed));
    }

    // What is compared, and what a decision averages.
    std::vector<std::string> quantities() const
    {
        std::vector<std::string> names;
        if (!criterion_.quantity.empty()) names.push_back(criterion_.quantity);
        if (criterion_.decision && !criterion_.decision->average_quantity.empty())
            names.push_back(criterion_.decision->average_quantity);
        return names;
    }

    // KB is a weighting of its own, and a velocity no acceleration.
    void check_weighting(TomlFields& fields, std::string_view key, WeightingId id)
    {
        const auto is_among = [](const auto& names, std::string_view name) {
            return std::ranges::find(names, name) != names.end();
        };
        for (const std::string& quantity : quantities()) {
            const std::string_view unit =
                std::ranges::find(keys::quantity_units, quantity, &std::pair<keys::Name, keys::Name>::first)->second;
            if (is_among(keys::quantities_of_kb, quantity) && id != WeightingId::KB)
                return fields.fault(key, fmt::format("{}: {} is of the weighting KB", fields.dotted(key), quantity),
                                    "write \"KB\"");
            if (is_among(keys::units_of_acceleration, unit) && id != WeightingId::none &&
                output_of(id) != Motion::acceleration)
                return fields.fault(key,
                                    fmt::format("{}: {} gives a {}, and {} is of an acceleration", fields.dotted(key),
                                                name_of(id), name_of(output_of(id)), quantity),
                                    "choose another weighting or another quantity");
        }
    }

    // Names are those that the quantity knows, values any number.
    void read_parameters(TomlFields& fields, std::map<std::string, double>& parameters)
    {
        const toml::node* node = fields.find("parameters");
        if (node == nullptr) return;
        const toml::table* table = node->as_table();
        if (table == nullptr) {
            fields.fault("parameters", fmt::format("{} must be a table", fields.dotted("parameters")),
                         "write { name = value }");
            return;
        }
        const std::vector<std::string> asked_for = quantities();
        std::vector<keys::Name> known;
        for (const auto& [quantity, parameter] : keys::quantity_parameters)
            if (std::ranges::find(asked_for, quantity) != asked_for.end() &&
                std::ranges::find(known, parameter) == known.end())
                known.push_back(parameter);
        TomlFields entries(*table, fields.dotted("parameters"), known, faults_);
        for (const keys::Name parameter : known)
            if (const auto value = entries.number(parameter)) parameters[std::string(parameter)] = *value;
    }

    // Of the criterion itself, or of every term.
    void require_parameters()
    {
        for (const auto& [name, parameter] : keys::needed_parameters) {
            if (name != criterion_.quantity) continue;
            const auto has = [&](const AxisTerm& term) { return term.parameters.contains(std::string(parameter)); };
            if (criterion_.parameters.contains(std::string(parameter)) ||
                (fields_.has("term") && std::ranges::all_of(criterion_.terms, has)))
                continue;
            fields_.fault("parameters", fmt::format("the quantity {} needs the parameter {}", name, parameter),
                          fmt::format("add parameters = {{ {} = ... }}", parameter));
        }
    }

    std::optional<Placed<std::string>> read_rule()
    {
        fields_.require("axes", "\"each\" (or highest, vertical, total, sum_of_totals, ratio)");
        auto rule = fields_.one_of("axes", names_of(all_axis_rules));
        if (rule) criterion_.rule = *axis_rule_named(rule->value);
        return rule;
    }

    // Terms one by one: for values over several positions, or with parameters of their own.
    void read_terms()
    {
        read_rule();
        for (const std::string_view key : {"weighting", "factor"})
            if (fields_.has(key))
                fields_.fault(key, fmt::format("{} stands beside [[term]]", key),
                              "each term says it for itself; remove it here");
        std::set<std::tuple<Axis, std::optional<Position>, int>> seen;
        for (TomlFields& fields : fields_.tables("term", keys::term)) {
            fields.require("axis", "\"z\"");
            fields.require("weighting", "\"Wk\"");
            AxisTerm term;
            const auto axis = fields.one_of("axis", names_of(all_axes));
            if (axis) term.axis = *axis_named(axis->value);
            if (const auto weighting = fields.one_of("weighting", names_of(all_weightings))) {
                term.weighting = *weighting_named(weighting->value);
                check_weighting(fields, "weighting", term.weighting);
            }
            if (const auto position = fields.one_of("position", names_of(all_positions)))
                term.position = *position_named(position->value);
            term.factor = fields.number("factor", above_zero).value_or(1.0);
            term.group = static_cast<int>(
                fields.number("group", {.least = 1.0, .most = 1000.0, .words = "from 1 to 1000"}).value_or(1.0));
            read_parameters(fields, term.parameters);
            if (axis && !seen.emplace(term.axis, term.position, term.group).second)
                fields.fault("axis", fmt::format("{}: the same axis, position and group again", fields.dotted("axis")),
                             "remove one of the terms");
            criterion_.terms.push_back(std::move(term));
        }
        // Terms that name their positions need all of them. Others are taken wherever the criterion looks.
        const bool name_positions =
            std::ranges::any_of(criterion_.terms, [](const AxisTerm& term) { return term.position.has_value(); });
        for (const std::string_view key : {"needed", "positions"})
            if (name_positions && fields_.has(key))
                fields_.fault(key, fmt::format("{} stands beside terms with positions", key),
                              "each term says it for itself; remove it here");
        std::map<Axis, WeightingId> weightings;
        for (const AxisTerm& term : criterion_.terms) weightings[term.axis] = term.weighting;
        if (!name_positions) read_needed(weightings);
    }

    void read_axes()
    {
        const auto rule = read_rule();

        fields_.require("weighting", "\"Wm\" (or a table by axis)");
        std::map<Axis, WeightingId> weightings;
        read_per_axis("weighting", [&](TomlFields& fields, std::string_view key, const std::vector<Axis>& axes) {
            const auto name = fields.one_of(key, names_of(all_weightings));
            if (name) check_weighting(fields, key, *weighting_named(name->value));
            // A faulty name still says that the axis has a weighting, so that it is not missed elsewhere.
            for (const Axis axis : axes) weightings[axis] = name ? *weighting_named(name->value) : WeightingId::none;
        });
        std::map<Axis, double> factors;
        read_per_axis("factor", [&](TomlFields& fields, std::string_view key, const std::vector<Axis>& axes) {
            const auto factor = fields.number(key, above_zero);
            for (const Axis axis : axes) {
                if (&fields != &fields_ && !weightings.contains(axis))
                    fields.fault(key,
                                 fmt::format("{}: the axis {} has no weighting", fields.dotted(key), name_of(axis)),
                                 "give it one, or remove the factor");
                if (factor) factors[axis] = *factor;
            }
        });
        for (const auto& [axis, weighting] : weightings)
            criterion_.terms.push_back(
                {.axis = axis, .weighting = weighting, .factor = factors.contains(axis) ? factors[axis] : 1.0});
        if (rule && criterion_.rule == AxisRule::vertical && fields_.find("weighting") != nullptr &&
            !(weightings.size() <= 1 && (weightings.empty() || weightings.contains(Axis::z))))
            fields_.fault("weighting", "axes = \"vertical\" judges z alone, but weighting names other axes",
                          "weight z only, or choose other axes");
        read_needed(weightings);
    }

    // One value for every axis alike, or a table by axis.
    template <class Take>
    void read_per_axis(std::string_view key, Take take)
    {
        const toml::node* node = fields_.find(key);
        if (node == nullptr) return;
        const toml::table* table = node->as_table();
        if (table == nullptr) {
            const bool vertical = criterion_.rule == AxisRule::vertical;
            take(fields_, key, vertical ? std::vector{Axis::z} : std::vector{Axis::x, Axis::y, Axis::z});
            return;
        }
        if (table->empty())
            fields_.fault(key, fmt::format("{} names no axis", key), "name at least one, such as { z = ... }");
        TomlFields by_axis(*table, std::string(key), keys::per_axis, faults_);
        std::map<Axis, std::string_view> spoken_for;
        for (const std::string_view axis_key : keys::per_axis) {
            if (!by_axis.has(axis_key)) continue;
            const std::vector<Axis> axes = axes_of(axis_key);
            for (const Axis axis : axes)
                if (const auto [earlier, is_new] = spoken_for.emplace(axis, axis_key); !is_new)
                    by_axis.fault(axis_key,
                                  fmt::format("{} gives the axis {} again", by_axis.dotted(axis_key), name_of(axis)),
                                  fmt::format("{} has given it; keep one of them", by_axis.dotted(earlier->second)));
            take(by_axis, axis_key, axes);
        }
    }

    void read_needed(const std::map<Axis, WeightingId>& weightings)
    {
        std::vector<std::string> weighted;
        for (const auto& [axis, weighting] : weightings) {
            weighted.emplace_back(name_of(axis));
            // Judged apart, an axis needs no other one.
            if (!fields_.has("needed") && criterion_.rule != AxisRule::each) criterion_.needed.push_back(axis);
        }
        if (weighted.empty()) return; // noted already, and every axis would be a fault of its own
        for (const auto& axis : fields_.some_of("needed", weighted))
            criterion_.needed.push_back(*axis_named(axis.value));
        fault_where_empty("needed", "leave it out if every axis is needed, or none where axes = \"each\"");
    }

    void read_combination()
    {
        if (const auto rule = fields_.one_of("repeats", names_of(all_repeats_rules)))
            criterion_.repeats = *repeats_rule_named(rule->value);
        if (const auto rule = fields_.one_of("conditions", names_of(all_parts_rules)))
            criterion_.conditions = *parts_rule_named(rule->value);
        criterion_.highest_position = fields_.boolean("highest_position").value_or(false);
        if (criterion_.rule != AxisRule::ratio) return;
        for (const int group : {1, 2})
            if (std::ranges::find(criterion_.terms, group, &AxisTerm::group) == criterion_.terms.end())
                fields_.fault("axes", fmt::format("axes = \"ratio\", but no term is of group {}", group),
                              "a ratio is the total of the terms of group 1 over that of group 2");
    }

    // "07:00-23:00"
    static std::optional<ClockSpan> clock_span(std::string_view text)
    {
        if (text.size() != 11 || text[2] != ':' || text[5] != '-' || text[8] != ':') return {};
        const auto two = [&](std::size_t at) -> int {
            if (text[at] < '0' || text[at] > '9' || text[at + 1] < '0' || text[at + 1] > '9') return -1;
            return (text[at] - '0') * 10 + (text[at + 1] - '0');
        };
        const int from_h = two(0), from_m = two(3), to_h = two(6), to_m = two(9);
        const auto fits = [](int h, int m) { return h >= 0 && m >= 0 && m < 60 && h * 60 + m <= 24 * 60; };
        if (!fits(from_h, from_m) || !fits(to_h, to_m)) return {};
        const ClockSpan span{from_h * 60 + from_m, to_h * 60 + to_m};
        if (span.from_min == span.to_min) return {};
        return span;
    }

    static std::vector<ClockSpan> clock_spans(TomlFields& fields, std::string_view key)
    {
        std::vector<ClockSpan> spans;
        for (const Placed<std::string>& text : fields.texts(key)) {
            if (const auto span = clock_span(text.value))
                spans.push_back(*span);
            else
                fields.fault(key, fmt::format("{}: {} is no stretch of a day", text.key, toml_string(text.value)),
                             "write it as \"07:00-23:00\"; \"22:00-06:00\" runs past midnight");
        }
        return spans;
    }

    void read_clock()
    {
        criterion_.hours = clock_spans(fields_, "hours");
        if (fields_.has("hours") && !fields_.has("period"))
            fields_.fault("hours", "hours without a period", "add period = \"day\" (or evening, night)");
        const toml::node* node = fields_.find("rest");
        if (node == nullptr) return;
        const toml::table* table = node->as_table();
        if (table == nullptr) {
            fields_.fault("rest", "rest must be a table", "write { factor = 2.0, hours = [ \"19:00-22:00\" ] }");
            return;
        }
        TomlFields entries(*table, "rest", keys::rest, faults_);
        entries.require("factor", "2.0");
        RestHours rest;
        rest.factor = entries.number("factor", above_zero).value_or(1.0);
        rest.hours = clock_spans(entries, "hours");
        rest.sunday_hours = clock_spans(entries, "sunday_hours");
        if (!entries.has("sunday_hours")) rest.sunday_hours = rest.hours;
        criterion_.rest = std::move(rest);
    }

    void read_decision()
    {
        const toml::node* node = fields_.find("decision");
        if (node == nullptr) return;
        const toml::table* table = node->as_table();
        if (table == nullptr) {
            fields_.fault("decision", "decision must be a table",
                          "write { average_quantity = \"...\", strict = false }");
            return;
        }
        TomlFields entries(*table, "decision", keys::decision, faults_);
        entries.require("average_quantity", "\"kb_ftr\"");
        std::vector<std::string> quantities;
        for (const auto& [quantity, unit] : keys::quantity_units) quantities.emplace_back(quantity);
        DecisionRule rule;
        if (const auto quantity = entries.one_of("average_quantity", quantities))
            rule.average_quantity = quantity->value;
        rule.strict = entries.boolean("strict").value_or(false);
        rule.rare_events = entries.number("rare_events", not_negative).value_or(0.0);
        criterion_.decision = std::move(rule);
    }

    void check_axes_of_decision()
    {
        if (criterion_.decision && criterion_.rule != AxisRule::highest && criterion_.rule != AxisRule::vertical)
            fields_.fault("decision", "a decision looks at one axis, but axes leaves several",
                          "choose axes = \"highest\" (or vertical)");
    }

    // A list of [hz, value] for every axis alike, or a table of lists by axis.
    void read_curves()
    {
        const bool is_needed =
            std::ranges::find(keys::quantities_with_curve, criterion_.quantity) != keys::quantities_with_curve.end();
        const toml::node* node = fields_.find("curve");
        if (node == nullptr) {
            if (is_needed) fields_.require("curve", "[ [4.0, 0.005], [8.0, 0.005], [80.0, 0.05] ] (Hz, value)");
            return;
        }
        if (!is_needed) {
            fields_.fault("curve", fmt::format("the quantity {} looks at no curve", criterion_.quantity),
                          "remove it, or choose another quantity");
            return;
        }
        const toml::table* table = node->as_table();
        if (table == nullptr) {
            const auto curve = curve_of(fields_, "curve", *node);
            for (const AxisTerm& term : criterion_.terms) criterion_.curves[term.axis] = curve;
            return;
        }
        TomlFields by_axis(*table, "curve", keys::per_axis, faults_);
        for (const std::string_view key : keys::per_axis)
            if (const toml::node* entry = by_axis.find(key))
                for (const Axis axis : axes_of(key)) criterion_.curves[axis] = curve_of(by_axis, key, *entry);
        for (const AxisTerm& term : criterion_.terms)
            if (!criterion_.curves.contains(term.axis))
                by_axis.fault(name_of(term.axis), fmt::format("curve has none for the axis {}", name_of(term.axis)),
                              "add it, or give the axis no weighting");
    }

    static std::vector<CurvePoint> curve_of(TomlFields& fields, std::string_view key, const toml::node& node)
    {
        const std::string_view form = "write [ [4.0, 0.005], [8.0, 0.005] ]: Hz ascending, values above 0";
        std::vector<CurvePoint> points;
        const toml::array* list = node.as_array();
        bool good = list != nullptr && list->size() >= 2;
        for (std::size_t i = 0; good && i < list->size(); ++i) {
            const toml::array* pair = list->get(i)->as_array();
            good = pair != nullptr && pair->size() == 2;
            if (!good) break;
            const auto hz = pair->get(0)->value<double>(), value = pair->get(1)->value<double>();
            good = hz && value && *hz > 0.0 && *value > 0.0 && std::isfinite(*hz) && std::isfinite(*value) &&
                   (points.empty() || *hz > points.back().hz);
            if (good) points.push_back({*hz, *value});
        }
        if (!good) fields.fault(key, fmt::format("{} is no curve", fields.dotted(key)), std::string(form));
        return points;
    }

    void fault_where_empty(std::string_view key, std::string remedy)
    {
        const toml::node* node = fields_.find(key);
        if (node != nullptr && node->is_array() && node->as_array()->empty())
            fields_.fault(key, fmt::format("{} is empty", key), std::move(remedy));
    }

    void read_conditions()
    {
        for (const auto& position : fields_.some_of("positions", names_of(all_positions)))
            criterion_.positions.push_back(*position_named(position.value));
        fault_where_empty("positions", "leave it out if any position will do");
        fault_where_empty("settings", "leave it out if the criterion fits any setting");
        if (auto period = fields_.one_of("period", as_strings(keys::periods)))
            criterion_.period = std::move(period->value);
        criterion_.reference_h = fields_.number("reference_h", above_zero);
        for (const std::string& quantity : quantities())
            if (std::ranges::find(keys::quantities_with_reference, quantity) != keys::quantities_with_reference.end())
                fields_.require("reference_h", "8.0 (hours; the T0 of A(T0), the T_r of an average)");
        criterion_.least_duration_s = fields_.number("least_duration_s", not_negative).value_or(0.0);
        const double recordings = fields_.number("least_recordings", above_zero).value_or(1.0);
        if (recordings != std::floor(recordings))
            fields_.fault("least_recordings", fmt::format("least_recordings is {}, not a whole number", recordings),
                          "write a whole number");
        criterion_.least_recordings = static_cast<int>(std::min(recordings, 1e6));
        criterion_.check_first = fields_.boolean("check_first").value_or(false);
        criterion_.limits_missing = fields_.boolean("limits_missing").value_or(false);
        if (criterion_.limits_missing && fields_.has("scale"))
            fields_.fault("limits_missing", "limits_missing stands beside [[scale]]",
                          "remove it once the limits are typed in");
        criterion_.wished_duration_s = fields_.number("wished_duration_s", not_negative).value_or(0.0);
    }

    void read_confirmed()
    {
        const auto confirmed = fields_.text_not_empty("confirmed");
        if (!confirmed) return;
        criterion_.confirmed = confirmed->value;
        const bool known = confirmed->value == "computed from the definition" ||
                           confirmed->value.starts_with("from ") || bibliography_.contains(confirmed->value);
        if (!known)
            fields_.fault("confirmed", fmt::format("confirmed cannot be {}", toml_string(confirmed->value)),
                          "write \"from memory\", \"computed from the definition\", a key of sources.toml, or words "
                          "that begin with \"from \"");
    }

    void read_scales()
    {
        std::map<std::string, int> lines;
        for (TomlFields& fields : fields_.tables("scale", keys::scale)) {
            Scale scale;
            scale.line = fields.line();
            fields.require("use", "\"any\" (or the use of the spaces it is for)");
            if (!criterion_.decision)
                fields.require("bands", "[ { name = \"...\", below = 1.0 }, { name = \"...\" } ]");
            if (auto use = fields.text_not_empty("use")) {
                const auto [earlier, is_new] = lines.emplace(use->value, scale.line);
                if (!is_new)
                    fields.fault("use",
                                 fmt::format("{}: the scale in line {} is for {} already", use->key, earlier->second,
                                             toml_string(use->value)),
                                 "one scale for each use");
                scale.use = std::move(use->value);
            }
            if (criterion_.decision)
                read_decision_limits(fields, scale);
            else
                read_bands(fields, scale);
            criterion_.scales.push_back(std::move(scale));
        }
    }

    void read_decision_limits(TomlFields& fields, Scale& scale)
    {
        fields.require("lower", "0.1");
        fields.require("upper", "0.4");
        DecisionLimits limits;
        limits.lower = fields.number("lower", above_zero).value_or(1.0);
        limits.upper = fields.number("upper", above_zero).value_or(limits.lower);
        limits.average = fields.number("average", above_zero);
        if (limits.upper < limits.lower)
            fields.fault("upper",
                         fmt::format("{} is {}, below lower = {}", fields.dotted("upper"), limits.upper, limits.lower),
                         "up to lower it is met, above upper it is not");
        if (fields.has("bands"))
            fields.fault("bands", fmt::format("{} stands beside a decision", fields.dotted("bands")),
                         "the bands of a decision follow from its limits; remove them");
        scale.decision = limits;
    }

    void read_bands(TomlFields& scale_fields, Scale& scale)
    {
        std::vector<TomlFields> entries = scale_fields.tables("bands", keys::band);
        const toml::node* node = scale_fields.find("bands");
        if (node != nullptr && node->is_array() && node->as_array()->empty())
            scale_fields.fault("bands", fmt::format("{} is empty", scale_fields.dotted("bands")),
                               "name at least one band");
        for (std::size_t i = 0; i < entries.size(); ++i)
            scale.bands.push_back(read_band(entries[i], i + 1 == entries.size(), scale.bands));
    }

    // `milder`: the bands before it.
    Band read_band(TomlFields& fields, bool is_last, const std::vector<Band>& milder)
    {
        Band band;
        fields.require("name", "\"...\"");
        if (auto name = fields.text_not_empty("name")) band.name = std::move(name->value);
        band.exceeds = fields.boolean("exceeds").value_or(false);
        const auto below = fields.number("below", above_zero);
        const auto up_to = fields.number("up_to", above_zero);
        band.from = fields.number("from", not_negative);
        band.limit = below ? below : up_to;
        band.inclusive = !below && up_to;

        const std::string_view limit_key = fields.has("below") ? "below" : "up_to";
        const bool has_limit = fields.has("below") || fields.has("up_to");
        if (fields.has("below") && fields.has("up_to"))
            fields.fault("up_to", fmt::format("{} stands beside below", fields.dotted("up_to")),
                         "below leaves the limit itself to the next band, up_to does not; keep one");
        if (!has_limit && !is_last)
            fields.fault("below", fmt::format("{} has no limit", fields.place()),
                         "every band but the last needs below = ... or up_to = ...");
        if (has_limit && is_last)
            fields.fault(limit_key,
                         fmt::format("{} leaves the values above it without a band", fields.dotted(limit_key)),
                         "the last band has no limit; remove it, or add a band after it");
        if (milder.empty()) {
            if (band.from.value_or(0.0) > 0.0)
                fields.fault("from", fmt::format("{} leaves the values under it without a band", fields.dotted("from")),
                             "the first band begins at 0; remove from, or add a band before it");
            return band;
        }
        const Band& before = milder.back();
        if (band.limit && before.limit && *band.limit <= *before.limit)
            fields.fault(limit_key,
                         fmt::format("{} is {}, not above the limit {} of the band before", fields.dotted(limit_key),
                                     *band.limit, *before.limit),
                         "list the bands from the mildest to the most severe");
        if (band.from && before.limit && *band.from > *before.limit)
            fields.fault("from",
                         fmt::format("{} is {}, above the limit {} of the band before", fields.dotted("from"),
                                     *band.from, *before.limit),
                         "values between the two would have no band");
        if (band.from && band.limit && *band.from >= *band.limit)
            fields.fault("from",
                         fmt::format("{} is {}, not below the band's own limit {}", fields.dotted("from"), *band.from,
                                     *band.limit),
                         "a band begins below where it ends");
        if (before.exceeds && !band.exceeds)
            fields.fault("exceeds",
                         fmt::format("{}: a milder band exceeds already, this one does not", fields.dotted("exceeds")),
                         "add exceeds = true");
        return band;
    }

    const Bibliography& bibliography_;
    TomlFaults& faults_;
    std::string stem_;
    TomlFields fields_;
    Criterion criterion_;
};

// Files of the folder itself that end in .toml, in the order of their names.
std::vector<fs::path> toml_files_in(const fs::path& folder, std::vector<Problem>& problems)
{
    std::vector<fs::path> files;
    std::error_code error;
    fs::directory_iterator entries(folder, error);
    for (; !error && entries != fs::directory_iterator(); entries.increment(error)) {
        const fs::path& path = entries->path();
        if (path.extension() == ".toml" && path.filename() != "sources.toml") files.push_back(path);
    }
    if (error)
        problems.push_back({.kind = ProblemKind::outside_world,
                            .file = folder.string(),
                            .key = {},
                            .what = fmt::format("the folder cannot be read: {}", error.message()),
                            .remedy = "check its permissions"});
    std::ranges::sort(files);
    return files;
}

// A survey may lie beside criteria of its own.
bool is_a_survey(std::string_view text)
{
    const Result<toml::table> root = parse_toml(text, {});
    return root && !root->contains("quantity") &&
           std::ranges::any_of(std::array{"recording", "space", "judge"},
                               [&](const char* key) { return root->contains(key); });
}

Bibliography with_sources_near(const fs::path& folder, Bibliography bibliography, std::vector<Problem>& problems)
{
    std::error_code error;
    const fs::path whole = fs::absolute(folder, error).lexically_normal();
    const fs::path above =
        (whole.has_filename() ? whole.parent_path() : whole.parent_path().parent_path()) / "sources.toml";
    for (const fs::path& path : {above, folder / "sources.toml"}) {
        if (!fs::exists(path, error)) continue;
        Results<Bibliography> more = read_sources(path.string());
        if (!more) {
            std::ranges::move(more.error(), std::back_inserter(problems));
            continue;
        }
        for (auto& [key, publication] : *more) bibliography.insert_or_assign(key, std::move(publication));
    }
    return bibliography;
}

} // namespace

Results<Bibliography> read_sources(const std::string& path)
{
    const Result<std::string> text = read_text_file(path);
    if (!text) return tl::unexpected(std::vector{text.error()});
    const Result<toml::table> root = parse_toml(*text, path);
    if (!root) return tl::unexpected(std::vector{root.error()});

    TomlFaults faults(path);
    Bibliography bibliography;
    for (const auto& [key, node] : *root) {
        const toml::table* table = node.as_table();
        if (table == nullptr) {
            faults.add(key.source(), toml_key(key.str()), fmt::format("{} is not a table", toml_key(key.str())),
                       fmt::format("write [{}] and title, edition, status below it", toml_key(key.str())));
            continue;
        }
        TomlFields fields(*table, toml_key(key.str()), keys::publication, faults);
        Publication publication;
        publication.key = key.str();
        for (const auto& [name, target, needed] :
             {std::tuple{"title", &Publication::title, true}, std::tuple{"edition", &Publication::edition, true},
              std::tuple{"status", &Publication::status, true}, std::tuple{"seen", &Publication::seen, false},
              std::tuple{"note", &Publication::note, false}}) {
            if (needed) fields.require(name, "\"...\"");
            if (auto value = fields.text_not_empty(name)) publication.*target = std::move(value->value);
        }
        bibliography.emplace(publication.key, std::move(publication));
    }
    if (!faults.empty()) return tl::unexpected(faults.sorted());
    return bibliography;
}

Results<Criterion> parse_criterion(std::string_view text, const std::string& path, const Bibliography& bibliography)
{
    const Result<toml::table> root = parse_toml(text, path);
    if (!root) return tl::unexpected(std::vector{root.error()});
    TomlFaults faults(path);
    Criterion criterion = CriterionReader(*root, path, bibliography, faults).read();
    if (!faults.empty()) return tl::unexpected(faults.sorted());
    criterion.path = path;
    criterion.sha256 = sha256_of_text(text);
    return criterion;
}

Results<Criterion> read_criterion(const std::string& path, const Bibliography& bibliography)
{
    const Result<std::string> text = read_text_file(path);
    if (!text) return tl::unexpected(std::vector{text.error()});
    return parse_criterion(*text, path, bibliography);
}

CriteriaLibrary load_criteria(const std::vector<std::string>& folders, const Bibliography& bibliography)
{
    CriteriaLibrary library;
    for (const std::string& folder : folders) {
        std::error_code error;
        if (!fs::is_directory(folder, error)) continue;
        const Bibliography known = with_sources_near(folder, bibliography, library.problems);
        for (const fs::path& path : toml_files_in(folder, library.problems)) {
            const std::string id = path.stem().string();
            const Result<std::string> text = read_text_file(path.string());
            if (text && is_a_survey(*text)) continue;
            const bool overrides = library.criteria.erase(id) > 0;
            if (!text) {
                library.problems.push_back(text.error());
                continue;
            }
            Results<Criterion> criterion = parse_criterion(*text, path.string(), known);
            if (criterion) {
                criterion->is_local = &folder != &folders.front();
                criterion->overrides = overrides;
                library.criteria.emplace(id, *std::move(criterion));
            } else {
                std::ranges::move(criterion.error(), std::back_inserter(library.problems));
            }
        }
    }
    return library;
}

std::string criterion_template(std::string_view id)
{
    return fmt::format(
        R"(# A criterion of your own: what is compared with what. `becalm criteria check FILE` complains line by line;
# `becalm criteria show ID` prints one of the program's own to compare with. Every value here is an example.
id = {0}             # the name of this file without .toml
title = "Title, as a report prints it"
source = {0}         # key in the sources.toml beside this file: title, edition, status
clause = "Table 1"
quantity = "weighted_rms"        # {1}
unit = "m/s2"                    # of the quantity
axes = "highest"                 # each | highest | vertical | total | sum_of_totals
weighting = {{ horizontal = "Wd", vertical = "Wk" }} # or one for all, such as "Wm"
# factor = {{ horizontal = 1.4, vertical = 1.0 }}    # multiplying factors, 1 where missing
# needed = ["z"]                 # axes without which nothing can be judged
# positions = ["floor"]          # any where missing
# period = "day"                 # day | evening | night
# reference_h = 16.0             # reference duration of a dose or an exposure
# least_duration_s = 60.0        # a shorter recording cannot be judged
# least_recordings = 15          # events or sections
confirmed = "from memory"        # how the numbers were confirmed; better a key of sources.toml
# note = "shown with every verdict"

[[scale]]
use = "any"                      # or the use of the spaces it is for; one table each
bands = [
    {{ name = "acceptable", up_to = 0.1 }},        # up_to keeps the end in the band, below leaves it to the next
    {{ name = "not acceptable", exceeds = true }}, # the last band has no end
]
)",
        toml_string(id), [] {
            std::string names;
            for (const auto& [quantity, unit] : keys::quantity_units)
                names += (names.empty() ? "" : ", ") + std::string(quantity);
            return names;
        }());
}

std::string sources_template(std::string_view id)
{
    return fmt::format(
        "# Publications that the criteria beside this file cite.\n[{}]\ntitle = \"Title of the publication\"\n"
        "edition = \"Edition, as a verdict quotes it\"\nstatus = \"current when entered\"\n",
        toml_key(id));
}

namespace {

// Data installed with the library that this code is part of (the Python module lies in PREFIX/lib/python3.x/...), where
// it is not the program's own: that of an interpreter says nothing.
std::optional<std::string> data_beside_library(const fs::path& program)
{
    Dl_info self{};
    if (dladdr(reinterpret_cast<const void*>(&data_folder), &self) == 0 || self.dli_fname == nullptr) return {};
    if (*self.dli_fname != '/') return {}; // a program by the name it was called with
    std::error_code error;
    const fs::path library = fs::canonical(self.dli_fname, error);
    if (error || library == program) return {};
    for (fs::path folder = library.parent_path(); folder.has_relative_path(); folder = folder.parent_path())
        if (const fs::path beside = folder / "share" / "becalm"; fs::is_directory(beside / "criteria", error))
            return beside.string();
    return {};
}

} // namespace

std::string data_folder()
{
    if (const char* chosen = std::getenv("BECALM_DATA"); chosen != nullptr && *chosen != '\0') return chosen;
    std::error_code error;
    const fs::path program = fs::read_symlink("/proc/self/exe", error);
    if (auto beside = data_beside_library(program)) return *beside;
    if (!error) {
        const fs::path beside = program.parent_path().parent_path() / "share" / "becalm";
        if (fs::is_directory(beside / "criteria", error)) return beside.string();
    }
    if (fs::is_directory(fs::path(BECALM_INSTALLED_DATA) / "criteria", error)) return BECALM_INSTALLED_DATA;
    return BECALM_SOURCE_DATA;
}

} // namespace becalm::io
