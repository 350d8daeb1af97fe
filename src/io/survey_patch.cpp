// Changes to the text of a survey. The tree tells where a value stands; only the text there is touched. Every change is
// held against the tree it must give, so a layout nobody thought of gives a Problem and never a spoilt file.
#include <algorithm>
#include <cmath>
#include <optional>
#include <sstream>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "src/io/survey_file.h"
#include "src/io/toml_fields.h"
#include "src/io/toml_text.h"

namespace becalm::io {
namespace {

struct Edit {
    std::size_t from = 0;
    std::size_t to = 0;
    std::string text;
};

struct Range {
    std::size_t from = 0;
    std::size_t to = 0;
};

constexpr std::string_view blanks = " \t";

class SurveyText {
public:
    SurveyText(std::string_view text, const std::string& path)
        : text_(text), path_(path),
          end_of_line_(text.find("\r\n") != std::string_view::npos && text.find("\r\n") + 1 == text.find('\n') ? "\r\n"
                                                                                                               : "\n")
    {
    }

    const std::string& path() const { return path_; }
    const std::string& end_of_line() const { return end_of_line_; }
    std::string_view slice(Range range) const { return text_.substr(range.from, range.to - range.from); }

    // toml++ counts lines by LF and columns by code points, without the byte order mark.
    std::size_t offset_of(toml::source_position position) const
    {
        std::size_t offset = start();
        for (toml::source_index line = 1; line < position.line; ++line) offset = text_.find('\n', offset) + 1;
        for (toml::source_index column = 1; column < position.column && offset < text_.size(); ++column) {
            ++offset;
            while (offset < text_.size() && (static_cast<unsigned char>(text_[offset]) & 0xC0) == 0x80) ++offset;
        }
        return std::min(offset, text_.size());
    }

    Range range_of(const toml::source_region& region) const { return {offset_of(region.begin), offset_of(region.end)}; }
    Range range_of(const toml::node& node) const { return range_of(node.source()); }

    std::size_t line_start(std::size_t offset) const
    {
        const std::size_t before = offset == 0 ? std::string_view::npos : text_.rfind('\n', offset - 1);
        return before == std::string_view::npos ? 0 : before + 1;
    }
    // Just before the line's CRLF or LF, or the end of the text.
    std::size_t line_end(std::size_t offset) const
    {
        const std::size_t newline = text_.find('\n', offset);
        if (newline == std::string_view::npos) return text_.size();
        return newline > offset && text_[newline - 1] == '\r' ? newline - 1 : newline;
    }
    std::size_t next_line(std::size_t offset) const
    {
        const std::size_t newline = text_.find('\n', offset);
        return newline == std::string_view::npos ? text_.size() : newline + 1;
    }
    std::string_view indent_of_line(std::size_t offset) const
    {
        const std::size_t start = line_start(offset);
        const std::size_t end = std::min(text_.find_first_not_of(blanks, start), text_.size());
        return slice({start, end});
    }
    bool only_blanks(Range range) const { return slice(range).find_first_not_of(" \t\r\n") == std::string_view::npos; }
    bool only_comment_after(std::size_t offset) const
    {
        const std::size_t first = text_.find_first_not_of(blanks, offset);
        return first == std::string_view::npos || first >= line_end(offset) || text_[first] == '#';
    }
    std::string_view line_at(std::size_t offset) const { return slice({line_start(offset), line_end(offset)}); }
    bool is_comment(std::size_t offset) const
    {
        const std::string_view line = line_at(offset);
        const std::size_t first = line.find_first_not_of(blanks);
        return first != std::string_view::npos && line[first] == '#';
    }
    std::size_t size() const { return text_.size(); }
    // Behind the byte order mark, where there is one.
    std::size_t start() const { return text_.starts_with("\xEF\xBB\xBF") ? 3 : 0; }
    bool ends_with_line() const { return size() == start() || text_.ends_with('\n'); }
    // The same lines with the ends this file uses, each indented.
    std::string own_lines(std::string_view lines, std::string_view indent) const
    {
        std::string out;
        while (!lines.empty()) {
            const std::size_t newline = std::min(lines.find('\n'), lines.size());
            std::string_view line = lines.substr(0, newline);
            if (line.ends_with('\r')) line.remove_suffix(1);
            if (!line.empty()) out += indent;
            out += line;
            if (newline < lines.size()) out += end_of_line_;
            lines.remove_prefix(std::min(newline + 1, lines.size()));
        }
        return out;
    }
    // Takes the lines of a range out; the last line of a file without a final line break takes the break before it
    // along.
    Edit whole_lines(Range range) const
    {
        std::size_t from = line_start(range.from);
        const std::size_t to = next_line(range.to);
        if (to == text_.size() && !text_.ends_with('\n') && from > 0) from = line_end(line_start(from - 1));
        return {from, to, ""};
    }
    bool same_line(std::size_t a, std::size_t b) const { return slice({a, b}).find('\n') == std::string_view::npos; }

    // The next character that belongs to neither blanks nor a comment; must only be asked between values.
    std::size_t next_mark(std::size_t offset) const
    {
        while (offset < text_.size()) {
            offset = text_.find_first_not_of(" \t\r\n", offset);
            if (offset == std::string_view::npos) return text_.size();
            if (text_[offset] != '#') return offset;
            offset = next_line(offset);
        }
        return text_.size();
    }
    char at(std::size_t offset) const { return offset < text_.size() ? text_[offset] : '\0'; }

    // The text with the edits made, which must read as `expected`.
    Result<std::string> edited(std::vector<Edit> edits, const toml::table& expected) const
    {
        std::ranges::stable_sort(edits, std::ranges::greater{}, &Edit::from);
        std::string changed(text_);
        for (const Edit& edit : edits) changed.replace(edit.from, edit.to - edit.from, edit.text);
        const Result<toml::table> read_back = parse_toml(changed, path_);
        if (read_back && *read_back == expected) return changed;
        return fail({.file = path_,
                     .key = {},
                     .what = "the program cannot make this change in the way the file is laid out",
                     .remedy = "make it in an editor; the file is as it was"});
    }

private:
    std::string_view text_;
    std::string path_;
    std::string end_of_line_;
};

// Greatest offset at which a value inside `node` ends.
std::size_t end_of(const SurveyText& text, const toml::node& node)
{
    std::size_t end = text.range_of(node).to;
    if (const toml::table* table = node.as_table())
        for (const auto& [key, value] : *table) end = std::max(end, end_of(text, value));
    if (const toml::array* array = node.as_array())
        for (const toml::node& value : *array) end = std::max(end, end_of(text, value));
    return end;
}

bool has_header(const toml::node& node)
{
    const toml::table* table = node.as_table();
    if (table != nullptr) return !table->is_inline();
    const toml::array* array = node.as_array();
    return array != nullptr && !array->empty() && array->get(0)->is_table() && !array->get(0)->as_table()->is_inline();
}

// Where the part of a table that stands directly below its header ends: after its last value that is no table of its
// own.
std::size_t end_of_body(const SurveyText& text, const toml::table& table)
{
    std::size_t end = text.range_of(table).to;
    for (const auto& [key, value] : table)
        if (!has_header(value)) end = std::max(end, text.range_of(value).to);
    return end;
}

Edit added_key(const SurveyText& text, const toml::table& table, std::string_view key, std::string_view value)
{
    const std::string assignment = fmt::format("{} = {}", toml_key(key), value);
    if (table.is_inline()) {
        std::size_t end = text.range_of(table).from + 1;
        for (const auto& [name, node] : table) end = std::max(end, end_of(text, node));
        return {end, end, table.empty() ? " " + assignment + " " : ", " + assignment};
    }
    const std::size_t end = end_of_body(text, table);
    const std::size_t at = text.line_end(end);
    return {at, at, text.end_of_line() + std::string(text.indent_of_line(end)) + assignment};
}

std::string to_inline_table(const ExcludedSpan& span)
{
    return fmt::format("{{ from_s = {}, to_s = {}, reason = {} }}", toml_number(span.from_s), toml_number(span.to_s),
                       toml_string(span.reason));
}

toml::table to_table(const ExcludedSpan& span)
{
    return toml::table{{"from_s", span.from_s}, {"to_s", span.to_s}, {"reason", span.reason}};
}

// A new element after the last; an array over several lines gets a line for it, and comments stay with their elements.
std::vector<Edit> appended(const SurveyText& text, const toml::array& array, const std::string& element)
{
    const Range all = text.range_of(array);
    if (array.empty()) return {{all.from + 1, all.from + 1, " " + element + (text.at(all.from + 1) == ']' ? " " : "")}};

    const Range last = text.range_of(*array.get(array.size() - 1));
    const std::size_t mark = text.next_mark(last.to);
    const bool has_comma = text.at(mark) == ',';
    const std::size_t after = has_comma ? mark + 1 : last.to;
    const std::string indent(text.indent_of_line(last.from));
    if (text.same_line(all.from, last.from)) return {{last.to, last.to, ", " + element}};
    if (text.same_line(after, all.to)) return {{last.to, last.to, "," + text.end_of_line() + indent + element}};
    const std::size_t at = text.line_end(after);
    Edit line{at, at, text.end_of_line() + indent + element + (has_comma ? "," : "")};
    if (has_comma) return {line};
    if (at == last.to) return {{at, at, "," + line.text}};
    return {{last.to, last.to, ","}, line};
}

// A new [[recording.exclude]] below the last.
Edit appended_table(const SurveyText& text, const toml::table& last, const ExcludedSpan& span)
{
    const std::size_t end = end_of_body(text, last);
    const std::size_t at = text.line_end(end);
    const std::string line = text.end_of_line() + std::string(text.indent_of_line(end));
    return {at, at,
            text.end_of_line() + text.end_of_line() + std::string(text.indent_of_line(text.range_of(last).from)) +
                std::string(text.slice(text.range_of(last))) + line + "from_s = " + toml_number(span.from_s) + line +
                "to_s = " + toml_number(span.to_s) + line + "reason = " + toml_string(span.reason)};
}

// Whether the line of `offset` is a key somebody took out with a comment mark: "# key = ...".
bool is_commented_key(const SurveyText& text, std::size_t offset)
{
    if (!text.is_comment(offset)) return false;
    std::string_view line = text.line_at(offset);
    line.remove_prefix(line.find('#') + 1);
    line.remove_prefix(std::min(line.find_first_not_of(blanks), line.size()));
    const std::string_view key = line.substr(0, line.find_first_of(" \t="));
    line.remove_prefix(key.size());
    line.remove_prefix(std::min(line.find_first_not_of(blanks), line.size()));
    return !key.empty() && toml_key(key) == key && line.starts_with('=');
}

// The end of a table's last line, with the tables below its own header and keys that are commented out.
std::size_t end_of_entry(const SurveyText& text, const toml::table& table)
{
    std::size_t end = text.line_end(end_of(text, table));
    for (std::size_t next = text.next_line(end); next < text.size() && is_commented_key(text, next);
         next = text.next_line(end))
        end = text.line_end(next);
    return end;
}

// Where the comment lines directly above a header begin, or the header's own line.
std::size_t start_of_entry(const SurveyText& text, const toml::table& table)
{
    const std::size_t header = text.line_start(text.range_of(table).from);
    std::size_t start = header;
    while (start > text.start()) {
        const std::size_t above = std::max(text.line_start(start - 1), text.start());
        if (!text.is_comment(above)) break;
        const std::string_view line = text.slice({above, text.line_end(above)});
        // A heading of a section, which the text below it belongs to.
        if (line.substr(line.find('#') + 1).starts_with(" ---")) return header;
        start = above;
    }
    return start;
}

std::vector<Edit> without_table(const SurveyText& text, const toml::table& table)
{
    Range lines{start_of_entry(text, table), end_of_entry(text, table)};
    const std::size_t line_before = lines.from == 0 ? 0 : text.line_start(lines.from - 1);
    if (text.only_blanks({line_before, lines.from})) lines.from = line_before;
    return {text.whole_lines(lines)};
}

std::vector<Edit> without_element(const SurveyText& text, const toml::array& array, std::size_t index)
{
    const Range own = text.range_of(*array.get(index));
    const std::size_t mark = text.next_mark(own.to);
    const bool has_comma = text.at(mark) == ',';
    const std::size_t after = has_comma ? mark + 1 : own.to;
    const bool is_last = index + 1 == array.size();
    const Range gap_before{index == 0 ? own.from : text.range_of(*array.get(index - 1)).to, own.from};

    // A comma that would be left dangling although the list had none before.
    std::vector<Edit> edits;
    if (is_last && !has_comma && index > 0 && text.at(gap_before.from) == ',')
        edits.push_back({gap_before.from, gap_before.from + 1, ""});

    const std::size_t start = text.line_start(own.from);
    const bool alone = text.only_blanks({start, own.from}) && !text.same_line(text.range_of(array).from, own.from) &&
                       text.same_line(own.to, after) && text.only_comment_after(after);
    if (alone) {
        edits.push_back(text.whole_lines({start, after}));
        return edits;
    }
    if (!is_last) {
        const Range gap{own.to, text.range_of(*array.get(index + 1)).from};
        const bool has_comment = text.slice(gap).find('#') != std::string_view::npos;
        return {{own.from, has_comment ? after : gap.to, ""}};
    }
    if (index > 0 && text.slice(gap_before).find('#') == std::string_view::npos) return {{gap_before.from, own.to, ""}};
    edits.push_back({own.from, after, ""});
    return edits;
}

// The whole line of a key, where nothing else stands on it.
std::optional<Edit> without_line(const SurveyText& text, const toml::table& table, std::string_view key)
{
    if (table.is_inline()) return std::nullopt;
    for (const auto& [name, node] : table) {
        if (name.str() != key) continue;
        const Range value = text.range_of(node);
        const std::size_t from = text.line_start(text.range_of(name.source()).from);
        const bool own_line = text.only_blanks({from, text.range_of(name.source()).from}) &&
                              text.only_blanks({value.to, text.line_end(value.to)});
        if (own_line) return text.whole_lines({from, value.to});
    }
    return std::nullopt;
}

// The [[recording]] tables of one file; a file can serve several places.
Result<std::vector<std::size_t>> recordings_of(const toml::table& root, const std::string& path,
                                               const std::string& file)
{
    std::vector<std::size_t> found;
    const toml::array* recordings = root["recording"].as_array();
    for (std::size_t i = 0; recordings != nullptr && i < recordings->size(); ++i) {
        const toml::table* recording = recordings->get(i)->as_table();
        if (recording != nullptr && (*recording)["file"].value<std::string>() == file) found.push_back(i);
    }
    if (found.empty())
        return fail({.kind = ProblemKind::usage,
                     .file = path,
                     .key = {},
                     .what = fmt::format("no [[recording]] has file = {}", toml_string(file)),
                     .remedy = "write the file as the survey does"});
    return found;
}

toml::table& recording_at(toml::table& root, std::size_t index)
{
    return *root["recording"].as_array()->get(index)->as_table();
}
const toml::table& recording_at(const toml::table& root, std::size_t index)
{
    return *root["recording"].as_array()->get(index)->as_table();
}

Problem malformed_exclusions(const std::string& path, const toml::node& node)
{
    return {.file = path,
            .line = static_cast<int>(node.source().begin.line),
            .column = static_cast<int>(node.source().begin.column),
            .key = "exclude",
            .what = "exclude is not a list of tables",
            .remedy = "write exclude = [ { from_s = 12.0, to_s = 15.0, reason = \"...\" } ]"};
}

bool is_list_of_tables(const toml::node& node)
{
    const toml::array* array = node.as_array();
    return array != nullptr && std::ranges::all_of(*array, [](const toml::node& entry) { return entry.is_table(); });
}

struct Removal {
    std::vector<Edit> edits;
    bool list_goes = false; // the key as well, since nothing is left in its list
};

Removal removed_exclusion(const SurveyText& text, const toml::table& recording, const toml::array& exclusions,
                          std::size_t index)
{
    const bool only_one = exclusions.size() == 1;
    if (has_header(exclusions)) return {without_table(text, *exclusions.get(index)->as_table()), only_one};
    if (only_one) {
        const Range all = text.range_of(exclusions);
        const Range own = text.range_of(*exclusions.get(0));
        const bool has_comment = text.slice({all.from, own.from}).find('#') != std::string_view::npos ||
                                 text.slice({own.to, all.to}).find('#') != std::string_view::npos;
        // A comment in the list or behind it is a reason to keep its line.
        if (!has_comment)
            if (auto line = without_line(text, recording, "exclude")) return {{*std::move(line)}, true};
    }
    return {without_element(text, exclusions, index), false};
}

Problem misuse(const std::string& path, std::string what, std::string remedy)
{
    return {.kind = ProblemKind::usage, .file = path, .key = {}, .what = std::move(what), .remedy = std::move(remedy)};
}

Problem table_of_its_own(const std::string& path, const toml::node& node, std::string dotted, std::string_view key)
{
    return {.file = path,
            .line = static_cast<int>(node.source().begin.line),
            .column = static_cast<int>(node.source().begin.column),
            .key = std::move(dotted),
            .what = fmt::format("{} is written as a table of its own", key),
            .remedy = "change it in an editor"};
}

// The tree { v = value } of a value that stands on one line.
Result<toml::table> value_of(std::string_view value, const std::string& path)
{
    Result<toml::table> tree = parse_toml(fmt::format("v = {}\n", value), path);
    if (!tree || tree->size() != 1 || tree->get("v") == nullptr ||
        value.find_first_of("\r\n") != std::string_view::npos)
        return fail(misuse(path, fmt::format("{} is not a TOML value on one line", toml_string(value)),
                           "write a number, or a string in quotes"));
    return tree;
}

Result<const toml::table*> entry_at(const toml::table& root, const std::string& path, std::string_view array,
                                    std::size_t index)
{
    const toml::array* entries = root[array].as_array();
    const toml::table* table =
        entries == nullptr || index >= entries->size() ? nullptr : entries->get(index)->as_table();
    if (table == nullptr)
        return fail(misuse(path, fmt::format("there is no {}[{}]", array, index),
                           fmt::format("count the [[{}]] tables from 0", array)));
    return table;
}

// A list of tables that is there; nullptr where there is none.
Result<const toml::array*> list_of_tables(const toml::table& root, const std::string& path, std::string_view array)
{
    const toml::node* node = root.get(array);
    if (node == nullptr) return nullptr;
    if (!is_list_of_tables(*node))
        return fail({.file = path,
                     .line = static_cast<int>(node->source().begin.line),
                     .column = static_cast<int>(node->source().begin.column),
                     .key = std::string(array),
                     .what = fmt::format("{} is not a list of tables", array),
                     .remedy = fmt::format("write each as a [[{}]] table", array)});
    return node->as_array();
}

// A key of a table with its value, in the order of the text.
struct KeyInText {
    std::string_view name;
    std::size_t from = 0; // of the key
    Range value;
};

std::vector<KeyInText> keys_in_text(const SurveyText& text, const toml::table& table)
{
    std::vector<KeyInText> keys;
    for (const auto& [name, node] : table) {
        const Range value = text.range_of(node);
        keys.push_back({name.str(), text.range_of(name.source()).from, {value.from, end_of(text, node)}});
    }
    std::ranges::sort(keys, {}, &KeyInText::from);
    return keys;
}

Edit without_key_in_braces(const SurveyText& text, const toml::table& table, std::string_view key)
{
    const std::vector<KeyInText> keys = keys_in_text(text, table);
    const auto own = std::ranges::find(keys, key, &KeyInText::name);
    if (std::next(own) != keys.end()) return {own->from, std::next(own)->from, ""};
    return {own == keys.begin() ? own->from : std::prev(own)->value.to, own->value.to, ""};
}

// The lines of an entry as an element of a list in brackets; nothing where it takes more than one line, or a comment
// would be lost.
std::optional<std::string> as_inline_table(const SurveyText& lines, const toml::table& entry)
{
    std::string out;
    std::size_t done = lines.start();
    for (const KeyInText& key : keys_in_text(lines, entry)) {
        const std::string_view source = lines.slice({key.from, key.value.to});
        const bool has_comment = lines.slice({done, key.from}).find('#') != std::string_view::npos;
        if (has_comment || source.find('\n') != std::string_view::npos) return std::nullopt;
        out += (out.empty() ? "{ " : ", ") + std::string(source);
        done = key.value.to;
    }
    if (lines.slice({done, lines.size()}).find('#') != std::string_view::npos) return std::nullopt;
    return out.empty() ? "{}" : out + " }";
}

// A new [[array]] below the last of them; one between two other tables is told from them by a blank line.
Edit appended_entry(const SurveyText& text, const toml::table& last, std::string_view header, std::string_view lines)
{
    const std::size_t at = end_of_entry(text, last);
    const std::string_view indent = text.indent_of_line(text.range_of(last).from);
    const std::string& eol = text.end_of_line();
    return {at, at, eol + eol + text.own_lines(fmt::format("{}\n{}", header, lines), indent)};
}

Edit first_entry(const SurveyText& text, std::string_view header, std::string_view lines)
{
    const std::string& eol = text.end_of_line();
    std::string added = text.own_lines(fmt::format("{}\n{}", header, lines), "");
    if (text.size() > text.start()) added = (text.ends_with_line() ? eol : eol + eol) + added;
    return {text.size(), text.size(), text.ends_with_line() ? added + eol : added};
}

} // namespace

Result<std::string> with_exclusion(std::string_view text, const std::string& path, const std::string& file,
                                   const ExcludedSpan& span)
{
    if (!std::isfinite(span.from_s) || !std::isfinite(span.to_s) || span.from_s < 0.0 || span.from_s >= span.to_s)
        return fail({.kind = ProblemKind::usage,
                     .file = path,
                     .key = {},
                     .what = fmt::format("an exclusion cannot run from {} s to {} s", span.from_s, span.to_s),
                     .remedy = "it begins at 0 s or later and ends after it begins"});
    if (span.reason.empty())
        return fail({.kind = ProblemKind::usage,
                     .file = path,
                     .key = {},
                     .what = "an exclusion needs a reason",
                     .remedy = "say in a few words why this span is not judged"});
    const Result<toml::table> root = parse_toml(text, path);
    if (!root) return fail(root.error());
    const auto indices = recordings_of(*root, path, file);
    if (!indices) return fail(indices.error());

    const SurveyText source(text, path);
    toml::table expected = *root;
    std::vector<Edit> edits;
    for (const std::size_t index : *indices) {
        const toml::table& recording = recording_at(*root, index);
        const toml::node* node = recording.get("exclude");
        toml::table& wanted = recording_at(expected, index);
        if (node == nullptr) {
            edits.push_back(added_key(source, recording, "exclude", "[ " + to_inline_table(span) + " ]"));
            wanted.insert("exclude", toml::array{to_table(span)});
            continue;
        }
        if (!is_list_of_tables(*node)) return fail(malformed_exclusions(path, *node));
        const toml::array& exclusions = *node->as_array();
        if (has_header(exclusions))
            edits.push_back(appended_table(source, *exclusions.get(exclusions.size() - 1)->as_table(), span));
        else
            std::ranges::copy(appended(source, exclusions, to_inline_table(span)), std::back_inserter(edits));
        wanted["exclude"].as_array()->push_back(to_table(span));
    }
    return source.edited(std::move(edits), expected);
}

Result<std::string> without_exclusion(std::string_view text, const std::string& path, const std::string& file,
                                      std::size_t index)
{
    const Result<toml::table> root = parse_toml(text, path);
    if (!root) return fail(root.error());
    const auto indices = recordings_of(*root, path, file);
    if (!indices) return fail(indices.error());

    // Which one: counted in the first recording of the file; the others lose the one that equals it.
    const toml::node* first = recording_at(*root, indices->front()).get("exclude");
    if (first != nullptr && !is_list_of_tables(*first)) return fail(malformed_exclusions(path, *first));
    if (first == nullptr || index >= first->as_array()->size())
        return fail({.kind = ProblemKind::usage,
                     .file = path,
                     .key = {},
                     .what = fmt::format("{} has no exclusion number {}", toml_string(file), index + 1),
                     .remedy = "count them in the first [[recording]] of this file"});
    const toml::table& removed = *first->as_array()->get(index)->as_table();

    const SurveyText source(text, path);
    toml::table expected = *root;
    std::vector<Edit> edits;
    for (const std::size_t recording_index : *indices) {
        const toml::table& recording = recording_at(*root, recording_index);
        const toml::node* node = recording.get("exclude");
        if (node == nullptr || !is_list_of_tables(*node)) continue;
        const toml::array& exclusions = *node->as_array();
        std::size_t entry = index;
        if (recording_index != indices->front()) {
            entry = 0;
            while (entry < exclusions.size() && *exclusions.get(entry)->as_table() != removed) ++entry;
            if (entry == exclusions.size()) continue;
        }
        Removal removal = removed_exclusion(source, recording, exclusions, entry);
        std::ranges::move(removal.edits, std::back_inserter(edits));
        toml::table& wanted = recording_at(expected, recording_index);
        if (removal.list_goes) {
            wanted.erase("exclude");
        } else {
            toml::array& left = *wanted["exclude"].as_array();
            left.erase(left.begin() + static_cast<std::ptrdiff_t>(entry));
        }
    }
    return source.edited(std::move(edits), expected);
}

Result<std::string> with_value(std::string_view text, const std::string& path, std::string_view array,
                               std::size_t index, std::string_view key, std::string_view value)
{
    const Result<toml::table> root = parse_toml(text, path);
    if (!root) return fail(root.error());
    const Result<toml::table> wanted = value_of(value, path);
    if (!wanted) return fail(wanted.error());
    const Result<const toml::table*> table = entry_at(*root, path, array, index);
    if (!table) return fail(table.error());

    const SurveyText source(text, path);
    toml::table expected = *root;
    expected[array].as_array()->get(index)->as_table()->insert_or_assign(key, *wanted->get("v"));
    const toml::node* present = (*table)->get(key);
    if (present == nullptr) return source.edited({added_key(source, **table, key, value)}, expected);
    if (has_header(*present))
        return fail(table_of_its_own(path, *present, fmt::format("{}[{}].{}", array, index, key), key));
    const Range range = source.range_of(*present);
    return source.edited({{range.from, range.to, std::string(value)}}, expected);
}

Result<std::string> without_value(std::string_view text, const std::string& path, std::string_view array,
                                  std::size_t index, std::string_view key)
{
    const Result<toml::table> root = parse_toml(text, path);
    if (!root) return fail(root.error());
    const Result<const toml::table*> table = entry_at(*root, path, array, index);
    if (!table) return fail(table.error());
    const toml::node* present = (*table)->get(key);
    const std::string dotted = fmt::format("{}[{}].{}", array, index, key);
    if (present == nullptr)
        return fail(misuse(path, fmt::format("there is no {}", dotted), "it is gone already; nothing needs a change"));
    if (has_header(*present)) return fail(table_of_its_own(path, *present, dotted, key));

    const SurveyText source(text, path);
    toml::table expected = *root;
    expected[array].as_array()->get(index)->as_table()->erase(key);
    if ((*table)->is_inline()) return source.edited({without_key_in_braces(source, **table, key)}, expected);
    const std::vector<KeyInText> keys = keys_in_text(source, **table);
    const auto own = std::ranges::find(keys, key, &KeyInText::name);
    return source.edited({source.whole_lines({own->from, own->value.to})}, expected);
}

Result<std::string> with_entry(std::string_view text, const std::string& path, std::string_view array,
                               std::string_view entry_toml)
{
    const Result<toml::table> root = parse_toml(text, path);
    if (!root) return fail(root.error());
    const Result<const toml::array*> entries = list_of_tables(*root, path, array);
    if (!entries) return fail(entries.error());

    std::string_view lines = entry_toml;
    while (lines.ends_with('\n') || lines.ends_with('\r')) lines.remove_suffix(1);
    const std::string header = fmt::format("[[{}]]", toml_key(array));
    const Result<toml::table> parsed = parse_toml(fmt::format("{}\n{}\n", header, lines), path);
    const toml::array* alone = parsed && parsed->size() == 1 ? parsed->get(array)->as_array() : nullptr;
    if (alone == nullptr || alone->size() != 1)
        return fail(misuse(path, fmt::format("{} are not the lines of one {} table", toml_string(lines), header),
                           parsed ? "give the lines below one header" : parsed.error().what));
    const toml::table& entry = *alone->get(0)->as_table();

    const SurveyText source(text, path);
    toml::table expected = *root;
    if (*entries == nullptr) {
        expected.insert(array, *alone);
        return source.edited({first_entry(source, header, lines)}, expected);
    }
    expected[array].as_array()->push_back(entry);
    if (has_header(**entries)) {
        const toml::table& last = *(*entries)->get((*entries)->size() - 1)->as_table();
        return source.edited({appended_entry(source, last, header, lines)}, expected);
    }
    // Parsed once more without its header, so that the places are those of the lines.
    const Result<toml::table> bare = parse_toml(lines, path);
    const auto element = bare ? as_inline_table(SurveyText(lines, path), *bare) : std::nullopt;
    if (!element)
        return fail({.file = path,
                     .line = static_cast<int>((*entries)->source().begin.line),
                     .column = static_cast<int>((*entries)->source().begin.column),
                     .key = std::string(array),
                     .what = fmt::format("{} is a list in brackets, and the new entry needs lines of its own", array),
                     .remedy = fmt::format("write the entries as {} tables in an editor first", header)});
    return source.edited(appended(source, **entries, *element), expected);
}

Result<std::string> without_entry(std::string_view text, const std::string& path, std::string_view array,
                                  std::size_t index)
{
    const Result<toml::table> root = parse_toml(text, path);
    if (!root) return fail(root.error());
    const Result<const toml::array*> entries = list_of_tables(*root, path, array);
    if (!entries) return fail(entries.error());
    if (const auto there = entry_at(*root, path, array, index); !there) return fail(there.error());

    const SurveyText source(text, path);
    toml::table expected = *root;
    if (!has_header(**entries)) {
        toml::array& left = *expected[array].as_array();
        left.erase(left.begin() + static_cast<std::ptrdiff_t>(index));
        return source.edited(without_element(source, **entries, index), expected);
    }
    if ((*entries)->size() == 1) {
        expected.erase(array);
    } else {
        toml::array& left = *expected[array].as_array();
        left.erase(left.begin() + static_cast<std::ptrdiff_t>(index));
    }
    return source.edited(without_table(source, *(*entries)->get(index)->as_table()), expected);
}

Result<std::string> with_top_value(std::string_view text, const std::string& path, std::string_view key,
                                   std::string_view value)
{
    const Result<toml::table> root = parse_toml(text, path);
    if (!root) return fail(root.error());
    const Result<toml::table> wanted = value_of(value, path);
    if (!wanted) return fail(wanted.error());

    const SurveyText source(text, path);
    toml::table expected = *root;
    expected.insert_or_assign(key, *wanted->get("v"));
    if (const toml::node* present = root->get(key)) {
        if (has_header(*present)) return fail(table_of_its_own(path, *present, std::string(key), key));
        const Range range = source.range_of(*present);
        return source.edited({{range.from, range.to, std::string(value)}}, expected);
    }
    const std::string assignment = fmt::format("{} = {}", toml_key(key), value);
    std::optional<std::size_t> last;
    for (const auto& [name, node] : *root)
        if (!has_header(node)) last = std::max(last.value_or(0), source.range_of(node).to);
    if (!last) return source.edited({{source.start(), source.start(), assignment + source.end_of_line()}}, expected);
    const std::size_t at = source.line_end(*last);
    return source.edited({{at, at, source.end_of_line() + assignment}}, expected);
}

namespace {

std::string text_of(const toml::node& node)
{
    const auto written = [](const auto& value) {
        std::ostringstream out;
        out << value;
        return out.str();
    };
    if (const auto* text = node.as_string()) return text->get();
    if (const auto* whole = node.as_integer()) return std::to_string(whole->get());
    if (const auto* number = node.as_floating_point()) return toml_number(number->get());
    if (const auto* date = node.as_date()) return written(date->get());
    if (const auto* time = node.as_time()) return written(time->get());
    if (const auto* moment = node.as_date_time()) return written(moment->get());
    if (const auto* flag = node.as_boolean()) return flag->get() ? "true" : "false";
    return {};
}

// The table that an edit is about; nullptr where the entry has no such table.
template <class Table>
Table* table_of(Table& root, const ValueEdit& edit)
{
    auto* entries = root[edit.array].as_array();
    Table* table = entries == nullptr || edit.index >= entries->size() ? nullptr : entries->get(edit.index)->as_table();
    if (table == nullptr || edit.within.empty()) return table;
    auto* inner = table->get(edit.within);
    if (inner == nullptr) return nullptr;
    if (!edit.item) return inner->as_table();
    auto* items = inner->as_array();
    return items == nullptr || *edit.item >= items->size() ? nullptr : items->get(*edit.item)->as_table();
}

std::string dotted(const ValueEdit& edit)
{
    return fmt::format("{}[{}]{}{}.{}", edit.array, edit.index, edit.within.empty() ? "" : "." + edit.within,
                       edit.item ? fmt::format("[{}]", *edit.item) : "", edit.key);
}

bool overlap(std::vector<Edit> edits)
{
    std::ranges::sort(edits, {}, [](const Edit& edit) { return std::pair(edit.from, edit.to); });
    for (std::size_t i = 1; i < edits.size(); ++i)
        if (edits[i].from < edits[i - 1].to) return true;
    return false;
}

} // namespace

Result<std::vector<EntryTexts>> entries_in(std::string_view text, const std::string& path, std::string_view array)
{
    const Result<toml::table> root = parse_toml(text, path);
    if (!root) return fail(root.error());
    const Result<const toml::array*> entries = list_of_tables(*root, path, array);
    if (!entries) return fail(entries.error());
    std::vector<EntryTexts> result;
    if (*entries == nullptr) return result;
    for (const toml::node& entry : **entries) {
        EntryTexts& texts = result.emplace_back();
        for (const auto& [key, value] : *entry.as_table())
            if (!value.is_table() && !value.is_array()) texts.emplace(key.str(), text_of(value));
    }
    return result;
}

Result<std::string> with_values(std::string_view text, const std::string& path, std::span<const ValueEdit> wanted)
{
    const Result<toml::table> root = parse_toml(text, path);
    if (!root) return fail(root.error());
    toml::table expected = *root;
    const SurveyText source(text, path);

    const auto is_same_place = [](const ValueEdit& a, const ValueEdit& b) {
        return a.array == b.array && a.index == b.index && a.key == b.key && a.within == b.within && a.item == b.item;
    };
    std::vector<const ValueEdit*> last;
    for (const ValueEdit& edit : wanted) {
        std::erase_if(last, [&](const ValueEdit* other) { return is_same_place(*other, edit); });
        last.push_back(&edit);
    }

    std::vector<Edit> edits;
    for (const ValueEdit* edit : last) {
        const toml::table* table = table_of(*root, *edit);
        if (table == nullptr)
            return fail(misuse(path, fmt::format("there is no place for {}", dotted(*edit)),
                               "count entries from 0; a table inside an entry must be there"));
        toml::table* changed = table_of(expected, *edit);
        const toml::node* present = table->get(edit->key);
        if (present != nullptr && has_header(*present))
            return fail(table_of_its_own(path, *present, dotted(*edit), edit->key));
        if (!edit->value) {
            if (present == nullptr) continue;
            changed->erase(edit->key);
            if (table->is_inline()) {
                edits.push_back(without_key_in_braces(source, *table, edit->key));
            } else {
                const std::vector<KeyInText> keys = keys_in_text(source, *table);
                const auto own = std::ranges::find(keys, edit->key, &KeyInText::name);
                edits.push_back(source.whole_lines({own->from, own->value.to}));
            }
            continue;
        }
        const Result<toml::table> value = value_of(*edit->value, path);
        if (!value) return fail(value.error());
        const toml::node& set = *value->get("v");
        if (present != nullptr && present->is_value() && present->type() == set.type() &&
            text_of(*present) == text_of(set))
            continue;
        changed->insert_or_assign(edit->key, set);
        if (present == nullptr) {
            edits.push_back(added_key(source, *table, edit->key, *edit->value));
        } else {
            const Range range = source.range_of(*present);
            edits.push_back({range.from, range.to, *edit->value});
        }
    }
    if (edits.empty()) return std::string(text);
    if (!overlap(edits)) {
        // What is added at one place keeps its order: of equal places the last is put in first.
        std::ranges::reverse(edits);
        auto changed = source.edited(std::move(edits), expected);
        if (changed || last.size() == 1) return changed;
    }
    // Changes that touch each other are made one after the other.
    std::string changed(text);
    for (const ValueEdit* edit : last) {
        auto next = with_values(changed, path, std::span(edit, 1));
        if (!next) return next;
        changed = std::move(*next);
    }
    return changed;
}

Result<std::string> with_id(std::string_view text, const std::string& path, std::string_view array, std::size_t index,
                            std::string_view id)
{
    const Result<toml::table> root = parse_toml(text, path);
    if (!root) return fail(root.error());
    const Result<const toml::table*> entry = entry_at(*root, path, array, index);
    if (!entry) return fail(entry.error());
    const auto old = (**entry)["id"].value<std::string>();
    if (!old) return fail(misuse(path, fmt::format("{}[{}] has no id", array, index), "give it one first"));

    std::vector<ValueEdit> edits{{.array = std::string(array), .index = index, .key = "id", .value = toml_string(id)}};
    // Where an entry of this kind is named: a list, and the list within its entries.
    const auto rename = [&](const std::string& list, const std::string& within) {
        const toml::array* entries = (*root)[list].as_array();
        for (std::size_t i = 0; entries != nullptr && i < entries->size(); ++i) {
            const toml::table* named = entries->get(i)->as_table();
            if (named == nullptr) continue;
            ValueEdit edit{.array = list, .index = i, .key = std::string(array), .value = toml_string(id)};
            if (within.empty()) {
                if ((*named)[array].value<std::string>() == old) edits.push_back(std::move(edit));
                continue;
            }
            edit.within = within;
            const toml::array* items = (*named)[within].as_array();
            for (std::size_t k = 0; items != nullptr && k < items->size(); ++k) {
                const toml::table* item = items->get(k)->as_table();
                edit.item = k;
                if (item != nullptr && (*item)[array].value<std::string>() == old) edits.push_back(edit);
            }
        }
    };
    // Two entries of one id are a fault already; then nobody knows which of them is meant.
    const toml::array& all = *(*root)[array].as_array();
    const auto same = std::ranges::count_if(all, [&](const toml::node& other) {
        return other.is_table() && (*other.as_table())["id"].value<std::string>() == old;
    });
    if (same == 1) {
        rename("recording", "");
        rename("space", "");
        rename("exposure", "tasks");
    }
    return with_values(text, path, edits);
}

Result<std::string> with_task(std::string_view text, const std::string& path, std::size_t exposure, const Task& task)
{
    const Result<toml::table> root = parse_toml(text, path);
    if (!root) return fail(root.error());
    const Result<const toml::table*> entry = entry_at(*root, path, "exposure", exposure);
    if (!entry) return fail(entry.error());
    const std::string element = task_as_toml(task);
    const Result<toml::table> wanted = value_of(element, path);
    if (!wanted) return fail(wanted.error());

    const SurveyText source(text, path);
    toml::table expected = *root;
    toml::table& changed = *expected["exposure"].as_array()->get(exposure)->as_table();
    const toml::node* tasks = (*entry)->get("tasks");
    if (tasks == nullptr) {
        changed.insert("tasks", toml::array{*wanted->get("v")->as_table()});
        return source.edited({added_key(source, **entry, "tasks", "[ " + element + " ]")}, expected);
    }
    if (!is_list_of_tables(*tasks))
        return fail({.file = path,
                     .line = static_cast<int>(tasks->source().begin.line),
                     .key = "tasks",
                     .what = "tasks is not a list of tables",
                     .remedy = "write tasks = [ { space = \"...\", hours = 4.0 } ]"});
    const toml::array& list = *tasks->as_array();
    changed["tasks"].as_array()->push_back(*wanted->get("v")->as_table());
    if (!has_header(list)) return source.edited(appended(source, list, element), expected);
    // As [[exposure.tasks]] below the last.
    const toml::table& last = *list.get(list.size() - 1)->as_table();
    const std::size_t at = source.line_end(end_of_body(source, last));
    std::string lines = std::string(source.slice(source.range_of(last))) + "\n";
    for (const auto& [key, value] : *wanted->get("v")->as_table())
        lines += fmt::format("{} = {}\n", std::string(key.str()),
                             value.is_string() ? toml_string(value.as_string()->get()) : text_of(value));
    while (lines.ends_with('\n')) lines.pop_back();
    const std::string_view indent = source.indent_of_line(source.range_of(last).from);
    return source.edited({{at, at, source.end_of_line() + source.end_of_line() + source.own_lines(lines, indent)}},
                         expected);
}

Result<std::string> without_task(std::string_view text, const std::string& path, std::size_t exposure, std::size_t task)
{
    const Result<toml::table> root = parse_toml(text, path);
    if (!root) return fail(root.error());
    const Result<const toml::table*> entry = entry_at(*root, path, "exposure", exposure);
    if (!entry) return fail(entry.error());
    const toml::node* tasks = (*entry)->get("tasks");
    if (tasks == nullptr || !is_list_of_tables(*tasks) || task >= tasks->as_array()->size())
        return fail(
            misuse(path, fmt::format("there is no exposure[{}].tasks[{}]", exposure, task), "count the tasks from 0"));
    const toml::array& list = *tasks->as_array();
    if (list.size() == 1) return without_entry(text, path, "exposure", exposure);

    const SurveyText source(text, path);
    toml::table expected = *root;
    toml::array& left = *(*expected["exposure"].as_array()->get(exposure)->as_table())["tasks"].as_array();
    left.erase(left.begin() + static_cast<std::ptrdiff_t>(task));
    return source.edited(has_header(list) ? without_table(source, *list.get(task)->as_table())
                                          : without_element(source, list, task),
                         expected);
}

} // namespace becalm::io
