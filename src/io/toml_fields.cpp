#include "src/io/toml_fields.h"

#include <algorithm>
#include <cmath>
#include <tuple>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "src/base/nearest.h"
#include "src/io/toml_text.h"

namespace becalm::io {
namespace {

// toml++ builds and frees nested tables by recursion; a longer dotted key would exhaust the stack, and none of ours is
// longer.
constexpr int longest_dotted_key = 1000;
// Signs that begin a value; the parser takes some hundred bytes for each.
constexpr int most_values = 1'000'000;

// The first thing toml++ must not be shown: control characters (some of them trip an assertion inside it) and endless
// dotted keys.
std::optional<Problem> unfit_for_the_parser(std::string_view text, const std::string& path)
{
    int line = 1;
    int column = 1;
    int dots = 0, values = 0;
    for (const char c : text) {
        const auto byte = static_cast<unsigned char>(c);
        if (byte < 0x20 && c != '\t' && c != '\n' && c != '\r')
            return Problem{.file = path,
                           .line = line,
                           .column = column,
                           .key = {},
                           .what = fmt::format("the control character 0x{:02X} is not allowed in TOML", byte),
                           .remedy = "remove it; is this really a text file?"};
        if (c == ',' || c == '=' || c == '[') ++values;
        if (values > most_values)
            return Problem{.file = path,
                           .line = line,
                           .column = column,
                           .key = {},
                           .what = fmt::format("more than {} values", most_values),
                           .remedy = "check that it is the file you meant; divide a survey that is so large"};
        if (c == '.') ++dots;
        if (std::string_view("\n,=[]{}#").find(c) != std::string_view::npos) dots = 0;
        if (dots > longest_dotted_key)
            return Problem{.file = path,
                           .line = line,
                           .column = column,
                           .key = {},
                           .what = fmt::format("more than {} dots in a row of words", longest_dotted_key),
                           .remedy = "break the line, or shorten the key"};
        if (c == '\n') {
            ++line;
            column = 1;
        } else if ((byte & 0xC0) != 0x80) { // columns count code points, as toml++ does
            ++column;
        }
    }
    return std::nullopt;
}

std::string_view kind_of(const toml::node& node)
{
    switch (node.type()) {
    case toml::node_type::table: return "a table";
    case toml::node_type::array: return "an array";
    case toml::node_type::string: return "a string";
    case toml::node_type::integer:
    case toml::node_type::floating_point: return "a number";
    case toml::node_type::boolean: return "true or false";
    case toml::node_type::date: return "a date";
    case toml::node_type::time: return "a time";
    case toml::node_type::date_time: return "a date with time";
    case toml::node_type::none: break;
    }
    return "nothing";
}

std::string iso_text(const toml::date& date)
{
    return fmt::format("{:04}-{:02}-{:02}", unsigned{date.year}, unsigned{date.month}, unsigned{date.day});
}

std::string iso_text(const toml::date_time& moment)
{
    std::string text = fmt::format("{}T{:02}:{:02}:{:02}", iso_text(moment.date), unsigned{moment.time.hour},
                                   unsigned{moment.time.minute}, unsigned{moment.time.second});
    if (moment.time.nanosecond != 0) {
        text += fmt::format(".{:09}", moment.time.nanosecond);
        text.erase(text.find_last_not_of('0') + 1);
    }
    const int minutes = moment.offset ? moment.offset->minutes : 0;
    if (minutes == 0) return text + "Z";
    return text + fmt::format("{}{:02}:{:02}", minutes < 0 ? '-' : '+', std::abs(minutes) / 60, std::abs(minutes) % 60);
}

// The value where it is of type T, or a string that TOML would read as one.
template <class T>
std::optional<T> as_or_spelled(const toml::node& node)
{
    if (const auto* value = node.as<T>()) return value->get();
    const auto* spelled = node.as_string();
    if (spelled == nullptr || spelled->get().empty() || spelled->get().find_first_of("\r\n#") != std::string::npos)
        return std::nullopt;
    const Result<toml::table> parsed = parse_toml("v = " + spelled->get(), {});
    if (!parsed) return std::nullopt;
    const toml::node* value = parsed->get("v");
    if (value == nullptr || value->as<T>() == nullptr) return std::nullopt;
    return value->as<T>()->get();
}

} // namespace

Result<toml::table> parse_toml(std::string_view text, const std::string& path)
{
    if (auto problem = unfit_for_the_parser(text, path)) return fail(*std::move(problem));
    try {
        return toml::parse(text);
    } catch (const toml::parse_error& error) {
        return fail({.file = path,
                     .line = static_cast<int>(error.source().begin.line),
                     .column = static_cast<int>(error.source().begin.column),
                     .key = {},
                     .what = fmt::format("this is not TOML: {}", error.description()),
                     .remedy = "mend this line; the rest of the file is read after that"});
    }
}

void TomlFaults::add(const toml::source_region& where, std::string key, std::string what, std::string remedy)
{
    constexpr std::size_t most_told = 500;
    if (++count_ > most_told) return;
    problems_.push_back({.file = file_,
                         .line = static_cast<int>(where.begin.line),
                         .column = static_cast<int>(where.begin.column),
                         .key = std::move(key),
                         .what = std::move(what),
                         .remedy = std::move(remedy)});
}

std::vector<Problem> TomlFaults::sorted() const
{
    std::vector<Problem> problems = problems_;
    std::ranges::stable_sort(problems, {}, [](const Problem& p) { return std::tuple(p.line, p.column); });
    if (count_ > problems.size())
        problems.push_back({.file = file_,
                            .what = fmt::format("there are {} faults more", count_ - problems.size()),
                            .remedy = "mend these first"});
    return problems;
}

std::string suggestion(std::string_view word, std::span<const std::string> known)
{
    const std::string nearest = nearest_name(word, known);
    if (!nearest.empty()) return fmt::format("did you mean {}?", toml_string(nearest));
    constexpr std::size_t most_listed = 24;
    if (known.empty()) return "none is defined";
    return fmt::format("known here: {}{}", fmt::join(known.first(std::min(known.size(), most_listed)), ", "),
                       known.size() > most_listed ? ", ..." : "");
}

std::vector<std::string> as_strings(std::span<const std::string_view> names) { return {names.begin(), names.end()}; }

TomlFields::TomlFields(const toml::table& table, std::string place, std::span<const std::string_view> known,
                       TomlFaults& faults, std::span<const std::string_view> more)
    : table_(&table), place_(std::move(place)), faults_(&faults)
{
    for (const auto& [key, node] : table) {
        if (std::ranges::find(known, key.str()) != known.end() || std::ranges::find(more, key.str()) != more.end())
            continue;
        std::vector<std::string> names = as_strings(known);
        names.insert(names.end(), more.begin(), more.end());
        faults.add(key.source(), dotted(key.str()), fmt::format("unknown key {}", dotted(key.str())),
                   suggestion(key.str(), names));
    }
}

std::string TomlFields::dotted(std::string_view key) const
{
    return place_.empty() ? toml_key(key) : place_ + "." + toml_key(key);
}

void TomlFields::wrong_type(const toml::node& node, const std::string& key, std::string_view needed)
{
    faults_->add(node.source(), key, fmt::format("{} is {}", key, kind_of(node)), fmt::format("give {}", needed));
}

std::optional<Placed<std::string>> TomlFields::text_of(const toml::node& node, const std::string& key,
                                                       bool may_be_empty)
{
    const auto* value = node.as_string();
    if (value == nullptr) {
        wrong_type(node, key, "a string in quotes");
        return std::nullopt;
    }
    if (value->get().empty() && !may_be_empty) {
        faults_->add(node.source(), key, fmt::format("{} is empty", key), "write something between the quotes");
        return std::nullopt;
    }
    return Placed<std::string>{value->get(), node.source(), key};
}

std::optional<Placed<std::string>> TomlFields::text(std::string_view key)
{
    const toml::node* node = find(key);
    return node == nullptr ? std::nullopt : text_of(*node, dotted(key), true);
}

std::optional<Placed<std::string>> TomlFields::text_not_empty(std::string_view key)
{
    const toml::node* node = find(key);
    return node == nullptr ? std::nullopt : text_of(*node, dotted(key), false);
}

std::optional<double> TomlFields::number(std::string_view key, const NumberRule& rule)
{
    const toml::node* node = find(key);
    if (node == nullptr) return std::nullopt;
    const std::optional<double> value = node->is_number() ? node->value<double>() : std::nullopt;
    if (!value) {
        wrong_type(*node, dotted(key), "a number without quotes");
        return std::nullopt;
    }
    const bool fits = std::isfinite(*value) && (rule.least_allowed ? *value >= rule.least : *value > rule.least) &&
                      (rule.most_allowed ? *value <= rule.most : *value < rule.most);
    if (!fits) {
        faults_->add(node->source(), dotted(key), fmt::format("{} is {}", dotted(key), *value),
                     fmt::format("it must be {}", rule.words.empty() ? "a finite number" : rule.words));
        return std::nullopt;
    }
    return value;
}

std::optional<bool> TomlFields::boolean(std::string_view key)
{
    const toml::node* node = find(key);
    if (node == nullptr) return std::nullopt;
    if (const auto* value = node->as_boolean()) return value->get();
    wrong_type(*node, dotted(key), "true or false");
    return std::nullopt;
}

std::string TomlFields::date(std::string_view key)
{
    const toml::node* node = find(key);
    if (node == nullptr) return {};
    if (const auto value = as_or_spelled<toml::date>(*node)) return iso_text(*value);
    faults_->add(node->source(), dotted(key), fmt::format("{} is not a date", dotted(key)),
                 "write year-month-day, such as 2026-03-01");
    return {};
}

std::string TomlFields::moment(std::string_view key)
{
    const toml::node* node = find(key);
    if (node == nullptr) return {};
    const auto value = as_or_spelled<toml::date_time>(*node);
    if (value && value->offset) return iso_text(*value);
    faults_->add(node->source(), dotted(key),
                 fmt::format("{} is not a date and time with an offset from UTC", dotted(key)),
                 "write it such as 2026-05-02T10:12:00+01:00, or ...Z for UTC");
    return {};
}

bool TomlFields::is_one_of(const Placed<std::string>& field, std::span<const std::string> names)
{
    if (std::ranges::find(names, field.value) != names.end()) return true;
    faults_->add(field.where, field.key, fmt::format("{} cannot be {}", field.key, toml_string(field.value)),
                 suggestion(field.value, names));
    return false;
}

std::optional<Placed<std::string>> TomlFields::one_of(std::string_view key, std::span<const std::string> names)
{
    auto field = text(key);
    if (field && !is_one_of(*field, names)) return std::nullopt;
    return field;
}

std::vector<Placed<std::string>> TomlFields::texts(std::string_view key)
{
    const toml::node* node = find(key);
    if (node == nullptr) return {};
    const toml::array* array = node->as_array();
    if (array == nullptr) {
        wrong_type(*node, dotted(key), "a list of strings, such as [\"...\"]");
        return {};
    }
    std::vector<Placed<std::string>> values;
    for (std::size_t i = 0; i < array->size(); ++i)
        if (auto value = text_of(*array->get(i), fmt::format("{}[{}]", dotted(key), i), false))
            values.push_back(*std::move(value));
    return values;
}

std::vector<Placed<std::string>> TomlFields::some_of(std::string_view key, std::span<const std::string> names)
{
    std::vector<Placed<std::string>> values;
    for (Placed<std::string>& field : texts(key)) {
        if (!is_one_of(field, names)) continue;
        if (std::ranges::find(values, field.value, &Placed<std::string>::value) == values.end())
            values.push_back(std::move(field));
        else
            faults_->add(field.where, field.key, fmt::format("{} is listed twice", toml_string(field.value)),
                         "remove one of them");
    }
    return values;
}

std::vector<TomlFields> TomlFields::tables(std::string_view key, std::span<const std::string_view> known,
                                           std::span<const std::string_view> more)
{
    const toml::node* node = find(key);
    if (node == nullptr) return {};
    const toml::array* array = node->as_array();
    if (array == nullptr) {
        wrong_type(*node, dotted(key), "a list of tables");
        return {};
    }
    std::vector<TomlFields> entries;
    for (std::size_t i = 0; i < array->size(); ++i) {
        const std::string place = fmt::format("{}[{}]", dotted(key), i);
        if (const toml::table* entry = array->get(i)->as_table())
            entries.emplace_back(*entry, place, known, *faults_, more);
        else
            wrong_type(*array->get(i), place, "a table in braces");
    }
    return entries;
}

void TomlFields::require(std::string_view key, std::string_view example)
{
    if (has(key)) return;
    faults_->add(table_->source(), dotted(key), fmt::format("{} is missing", dotted(key)),
                 fmt::format("add {} = {}", toml_key(key), example));
}

void TomlFields::fault(std::string_view key, std::string what, std::string remedy)
{
    const toml::node* node = find(key);
    faults_->add(node == nullptr ? table_->source() : node->source(), dotted(key), std::move(what), std::move(remedy));
}

} // namespace becalm::io
