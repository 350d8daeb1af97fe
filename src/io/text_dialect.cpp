#include "src/io/text_dialect.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <charconv>
#include <cmath>
#include <limits>

#include <fmt/format.h>

#include "src/base/units.h"
#include "src/io/stated_text.h"
#include "src/io/text_clock.h"

namespace becalm::io {

namespace {

constexpr std::string_view blanks = " \t\r\f\v";

std::string_view trimmed(std::string_view text)
{
    const auto begin = text.find_first_not_of(blanks);
    if (begin == std::string_view::npos) return {};
    return text.substr(begin, text.find_last_not_of(blanks) - begin + 1);
}

std::string_view unquoted(std::string_view text)
{
    text = trimmed(text);
    if (text.size() >= 2 && text.front() == '"' && text.back() == '"') return trimmed(text.substr(1, text.size() - 2));
    return text;
}

std::string lower_case(std::string_view text)
{
    std::string lower(text);
    std::transform(lower.begin(), lower.end(), lower.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return lower;
}

bool is_continuation(char byte) { return (static_cast<unsigned char>(byte) & 0xC0U) == 0x80U; }

// At most twenty characters, quoted, so that a message stays one readable line whatever the file holds.
std::string quoted(std::string_view text)
{
    constexpr int greatest_length = 20;
    const std::string readable = as_utf8(text.substr(0, 4 * greatest_length));
    std::string result = "\"";
    int length = 0;
    for (const char byte : readable) {
        if (!is_continuation(byte) && ++length > greatest_length) return result + "\"...";
        const auto value = static_cast<unsigned char>(byte);
        if (value < 0x20 || value == 0x7F)
            result += fmt::format("\\x{:02x}", value);
        else
            result += byte;
    }
    return result + (text.size() > 4 * greatest_length ? "\"..." : "\"");
}

int column_at(std::string_view line, std::size_t offset)
{
    const auto before = line.substr(0, offset);
    return 1 +
           static_cast<int>(std::count_if(before.begin(), before.end(), [](char c) { return !is_continuation(c); }));
}

struct Field {
    std::string_view text;  // trimmed
    std::size_t offset = 0; // of the text within its line
};

std::vector<Field> split(std::string_view line, char delimiter)
{
    std::vector<Field> fields;
    const auto add = [&](std::size_t begin, std::size_t end) {
        const std::string_view whole = line.substr(begin, end - begin);
        const std::string_view text = trimmed(whole);
        fields.push_back({text, text.empty() ? begin : begin + static_cast<std::size_t>(text.data() - whole.data())});
    };
    if (delimiter == ' ') {
        for (std::size_t at = line.find_first_not_of(' '); at != std::string_view::npos;) {
            const std::size_t end = std::min(line.find(' ', at), line.size());
            add(at, end);
            at = line.find_first_not_of(' ', end);
        }
        return fields;
    }
    std::size_t begin = 0;
    bool in_quotes = false;
    for (std::size_t at = 0; at < line.size(); ++at) {
        if (line[at] == '"') in_quotes = !in_quotes;
        if (line[at] != delimiter || in_quotes) continue;
        add(begin, at);
        begin = at + 1;
    }
    add(begin, line.size());
    return fields;
}

bool is_number(std::string_view text, const TextDialect& dialect)
{
    double value = 0.0;
    return !text.empty() &&
           parse_number(text.data(), text.data() + text.size(), dialect, value) == text.data() + text.size();
}

// How many of the first fields are a date and a time of day: 0, 1 or 2.
int clock_fields_of(const std::vector<Field>& fields)
{
    if (fields.size() < 2) return 0;
    const std::string_view first = unquoted(fields[0].text);
    if (first.empty() || first.front() < '0' || first.front() > '9') return 0;
    if (date_and_time_in(first) || time_of_day_in(first)) return 1;
    return fields.size() > 2 && date_in(first) && time_of_day_in(unquoted(fields[1].text)) ? 2 : 0;
}

bool are_numbers(const std::vector<Field>& fields, const TextDialect& dialect)
{
    return std::all_of(fields.begin() + clock_fields_of(fields), fields.end(),
                       [&](const Field& f) { return is_number(f.text, dialect); });
}

struct Line {
    std::string_view text;
    std::int64_t number = 0;
    std::size_t offset = 0;
    LineKind kind = LineKind::row;
};

std::vector<Line> lines_of(std::string_view head, bool whole)
{
    std::vector<Line> lines;
    std::size_t at = head.substr(0, 3) == "\xEF\xBB\xBF" ? 3 : 0;
    for (std::int64_t number = 1; at < head.size(); ++number) {
        const auto end = head.find('\n', at);
        // The last line may be cut through by the end of the head.
        if (end == std::string_view::npos && !whole && !lines.empty()) break;
        std::string_view text = head.substr(at, end == std::string_view::npos ? end : end - at);
        if (!text.empty() && text.back() == '\r') text.remove_suffix(1);
        lines.push_back({text, number, at, kind_of_line(text)});
        if (end == std::string_view::npos) break;
        at = end + 1;
    }
    return lines;
}

// The count of lines that are wholly numbers when read this way.
int rows_read_by(const std::vector<Line>& lines, const TextDialect& dialect)
{
    int rows = 0;
    for (const Line& line : lines) {
        if (line.kind != LineKind::row) continue;
        rows += are_numbers(split(line.text, dialect.delimiter), dialect);
    }
    return rows;
}

TextDialect dialect_with(char delimiter, bool decimal_comma)
{
    TextDialect dialect;
    dialect.delimiter = delimiter;
    dialect.decimal_comma = decimal_comma;
    return dialect;
}

// A rate line: `rate_hz: 1000`, `# Sample rate, 1 kHz`, `fs=2048`.
struct StatedRate {
    std::optional<double> rate_hz; // none where the line means to state a rate and fails
};

std::optional<StatedRate> rate_in(std::string_view line, bool decimal_comma)
{
    constexpr std::string_view before = " \t#\"'";
    constexpr std::string_view between = " \t:=,;\"'";
    constexpr std::array<std::string_view, 7> keys{"sampling_rate", "sampling rate", "sample_rate", "sample rate",
                                                   "samplerate",    "rate",          "fs"};
    const std::string lower = lower_case(line);
    std::string_view rest = lower;
    rest.remove_prefix(std::min(rest.find_first_not_of(before), rest.size()));
    const auto key = std::find_if(keys.begin(), keys.end(), [&](auto k) { return rest.substr(0, k.size()) == k; });
    if (key == keys.end()) return std::nullopt;
    rest.remove_prefix(key->size());

    double factor = 1.0;
    constexpr std::array<std::pair<std::string_view, double>, 10> key_units{{{"_hz", 1.0},
                                                                             {" hz", 1.0},
                                                                             {"(hz)", 1.0},
                                                                             {" (hz)", 1.0},
                                                                             {"[hz]", 1.0},
                                                                             {" [hz]", 1.0},
                                                                             {"_khz", 1e3},
                                                                             {" khz", 1e3},
                                                                             {" (khz)", 1e3},
                                                                             {" [khz]", 1e3}}};
    bool unit_known = false;
    for (const auto& [unit, hz] : key_units) {
        if (rest.substr(0, unit.size()) != unit) continue;
        rest.remove_prefix(unit.size());
        factor = hz;
        unit_known = true;
        break;
    }
    const auto number_at = rest.find_first_not_of(between);
    if (number_at == 0 || number_at == std::string_view::npos) return std::nullopt;
    rest.remove_prefix(number_at);
    const std::string_view number =
        rest.substr(0, rest.find_first_not_of(decimal_comma ? "0123456789.,e+-" : "0123456789.e+-"));
    const bool has_digit = number.find_first_of("0123456789") != std::string_view::npos;
    if (!has_digit) return std::nullopt; // prose that begins with the word

    double value = 0.0;
    // A rate is often written with a point even where the rows have commas.
    const bool has_comma = number.find(',') != std::string_view::npos;
    const TextDialect notation = dialect_with('\t', has_comma);
    if (!is_number(number, notation)) return StatedRate{};
    parse_number(number.data(), number.data() + number.size(), notation, value);
    rest.remove_prefix(number.size());
    while (!rest.empty() && (between.find(rest.front()) != std::string_view::npos)) rest.remove_prefix(1);
    while (!rest.empty() && (between.find(rest.back()) != std::string_view::npos)) rest.remove_suffix(1);
    if (rest == "khz" && !unit_known)
        factor = 1e3;
    else if (!rest.empty() && rest != "hz" && rest != "1/s" && rest != "sps" && rest != "samples/s")
        return StatedRate{};
    value *= factor;
    if (!(value > 0.0) || !std::isfinite(value)) return StatedRate{};
    return StatedRate{value};
}

// Superscripts, Greek letters and powers in the plain spelling of src/base/units.h.
std::string plain_unit(std::string_view text)
{
    std::string unit = as_utf8(trimmed(text));
    constexpr std::array<std::pair<std::string_view, std::string_view>, 6> spellings{
        {{"\xC2\xB2", "2"}, {"\xC2\xB5", "u"}, {"\xCE\xBC", "u"}, {"\xC2\xB0", "deg"}, {"**", ""}, {"^", ""}}};
    for (const auto& [from, to] : spellings)
        for (auto at = unit.find(from); at != std::string::npos; at = unit.find(from))
            unit.replace(at, from.size(), to);
    return unit;
}

std::optional<double> seconds_in(std::string_view unit)
{
    constexpr std::array<std::pair<std::string_view, double>, 11> spellings{{{"s", 1.0},
                                                                             {"sec", 1.0},
                                                                             {"second", 1.0},
                                                                             {"seconds", 1.0},
                                                                             {"sek", 1.0},
                                                                             {"ms", 1e-3},
                                                                             {"us", 1e-6},
                                                                             {"ns", 1e-9},
                                                                             {"min", 60.0},
                                                                             {"h", 3600.0},
                                                                             {"", 1.0}}};
    const std::string plain = lower_case(plain_unit(unit));
    for (const auto& [name, seconds] : spellings)
        if (name == plain) return seconds;
    return std::nullopt;
}

std::string_view without_brackets(std::string_view text)
{
    text = unquoted(text);
    if (text.size() >= 2 &&
        ((text.front() == '(' && text.back() == ')') || (text.front() == '[' && text.back() == ']')))
        return trimmed(text.substr(1, text.size() - 2));
    return text;
}

bool is_bracketed(std::string_view text) { return without_brackets(text).size() != unquoted(text).size(); }

bool is_unit(std::string_view text)
{
    const std::string unit = plain_unit(without_brackets(text));
    return unit_named(unit) || unit == "V" || unit == "mV" || unit == "-" || unit == "counts" ||
           (!unit.empty() && seconds_in(unit));
}

struct NameAndUnit {
    std::string_view name;
    std::string_view unit; // as written; empty where the name has none
};

// "x [m/s2]" and "x (g)". "x (front)" is a name as a whole.
NameAndUnit taken_apart(std::string_view text)
{
    text = unquoted(text);
    const auto open = text.find_last_of("([");
    if (open == std::string_view::npos || text.empty() || (text.back() != ')' && text.back() != ']')) return {text, {}};
    const std::string_view unit = without_brackets(text.substr(open));
    if (!is_unit(unit)) return {text, {}};
    return {trimmed(text.substr(0, open)), unit};
}

struct TimeName {
    std::string_view unit;    // may be empty
    bool in_brackets = false; // then it can be nothing but a unit
};

// "time", "t [ms]", "Zeit/s", "time_s", "Temps (s)".
std::optional<TimeName> time_name(std::string_view text)
{
    text = unquoted(text);
    const std::string lower = lower_case(text);
    for (const std::string_view word : {"time", "zeit", "temps", "tempo", "t"}) {
        if (lower.compare(0, word.size(), word) != 0) continue;
        const std::string_view rest = text.substr(word.size());
        if (rest.empty()) return TimeName{};
        const std::string_view unit = trimmed(rest);
        if (unit.empty()) return TimeName{};
        if (is_bracketed(unit)) return TimeName{without_brackets(unit), true};
        if (rest.front() != ' ' && rest.front() != '_' && rest.front() != '/' && rest.front() != ',') continue;
        const std::string_view after = trimmed(rest.substr(1));
        if (!after.empty() && seconds_in(after)) return TimeName{after, false};
    }
    return std::nullopt;
}

// Names separated by spaces have their units in words of their own.
std::vector<std::string> header_fields(std::string_view line, char delimiter)
{
    std::vector<std::string> fields;
    for (const Field& field : split(line, delimiter)) {
        const bool is_a_unit =
            delimiter == ' ' && is_bracketed(field.text) && !fields.empty() && !is_bracketed(fields.back());
        if (is_a_unit)
            fields.back() += " " + std::string(field.text);
        else
            fields.emplace_back(field.text);
    }
    return fields;
}

// Rows above the numbers that have as many fields as they.
struct Header {
    std::vector<std::string> names;
    std::vector<std::string> units;
};

class Detector {
public:
    Detector(std::string_view head, bool whole, bool rate_given, const std::string& path)
        : lines_(lines_of(head, whole)), rate_given_(rate_given), path_(path)
    {
    }

    Result<TextDialect> detect()
    {
        if (auto fault = choose_notation()) return fail(std::move(*fault));
        if (auto fault = find_doubtful_commas()) return fail(std::move(*fault));
        if (auto fault = read_rate()) return fail(std::move(*fault));
        read_preamble();
        if (auto fault = find_spoilt_rows()) return fail(std::move(*fault));
        if (auto fault = settle_lone_commas()) return fail(std::move(*fault));
        const Header header = read_header();
        if (auto fault = find_time(header)) return fail(std::move(*fault));
        name_channels(header);
        state_facts();
        return dialect_;
    }

private:
    Problem at_line(const Line& line, int column, std::string what, std::string remedy) const
    {
        return text_problem(path_, line.number, column, std::move(what), std::move(remedy));
    }

    bool is_row_of_numbers(const Line& line) const
    {
        return line.kind == LineKind::row && are_numbers(split(line.text, dialect_.delimiter), dialect_);
    }

    std::optional<Problem> choose_notation()
    {
        // Of readings that explain equally many lines the first is taken; the one true doubt is refused further below.
        const std::array<TextDialect, 8> readings{
            dialect_with('\t', false), dialect_with(';', false), dialect_with(',', false), dialect_with('\t', true),
            dialect_with(';', true),   dialect_with(' ', false), dialect_with(' ', true),  dialect_with(',', true)};
        for (const TextDialect& reading : readings) {
            const int rows = rows_read_by(lines_, reading);
            if (rows <= rows_) continue;
            rows_ = rows;
            dialect_ = reading;
        }
        if (rows_ == 0) return no_rows();
        const auto first =
            std::find_if(lines_.begin(), lines_.end(), [&](const Line& l) { return is_row_of_numbers(l); });
        first_row_ = static_cast<std::size_t>(first - lines_.begin());
        dialect_.first_row_offset = static_cast<std::int64_t>(first->offset);
        dialect_.first_row_line = first->number;
        const auto fields = split(first->text, dialect_.delimiter);
        dialect_.fields = static_cast<int>(fields.size());
        dialect_.clock_fields = clock_fields_of(fields);
        dialect_.time_column = dialect_.clock_fields > 0;
        return std::nullopt;
    }

    // With commas between fields, a comma within a quoted number is decimal or parts thousands; decimals of a second
    // behind a comma would become a channel.
    std::optional<Problem> find_doubtful_commas() const
    {
        if (dialect_.delimiter != ',') return std::nullopt;
        bool like_thousands = dialect_.decimal_comma;
        bool like_decimals = dialect_.clock_fields > 0 && dialect_.fields > dialect_.clock_fields + 1;
        for (const Line& line : lines_) {
            if (!is_row_of_numbers(line)) continue;
            const auto fields = split(line.text, ',');
            for (const Field& field : fields) {
                const auto comma = unquoted(field.text).find(',');
                if (comma == std::string_view::npos) continue;
                const auto after = unquoted(field.text).substr(comma + 1);
                like_thousands &= after.size() == 3 && comma <= 4 && unquoted(field.text).substr(0, comma) != "0";
            }
            if (!like_decimals) continue;
            const auto clock_fields = static_cast<std::size_t>(clock_fields_of(fields));
            if (clock_fields == 0 || fields.size() <= clock_fields) continue;
            const std::string_view clock = fields[clock_fields - 1].text;
            const std::string_view next = fields[clock_fields].text;
            like_decimals = clock.find_first_of("\".") == std::string_view::npos && next.size() == 3 &&
                            next.find_first_not_of("0123456789") == std::string_view::npos;
        }
        const Line& row = lines_[first_row_];
        if (like_thousands)
            return at_line(row, 0, "the commas within the quoted numbers may be decimal or part thousands",
                           "write decimal points and no marks between thousands");
        if (like_decimals)
            return at_line(row, 0, "the field behind the time of day may be a channel or the decimals of the second",
                           "write a decimal point in the time of day, or put it in quotes");
        return std::nullopt;
    }

    // The most useful complaint: the first line that is partly numbers, and what spoils it.
    Problem no_rows() const
    {
        for (const Line& line : lines_) {
            if (line.kind != LineKind::row || rate_in(line.text, false)) continue;
            for (const char delimiter : {'\t', ';', ',', ' '}) {
                const TextDialect reading = dialect_with(delimiter, delimiter == ';' || delimiter == '\t');
                const TextDialect point = dialect_with(delimiter, false);
                const auto fields = split(line.text, delimiter);
                const auto numeric = [&](const Field& f) {
                    return is_number(f.text, reading) || is_number(f.text, point);
                };
                const auto bad = std::find_if_not(fields.begin(), fields.end(), numeric);
                if (fields.size() < 2 || std::none_of(fields.begin(), fields.end(), numeric) || bad == fields.end())
                    continue;
                return at_line(
                    line, column_at(line.text, bad->offset),
                    fmt::format("{} stands where a number belongs, and no other line is a row of numbers",
                                quoted(bad->text)),
                    "give rows of numbers, separated by commas, semicolons, tabs or spaces; times in seconds, or "
                    "such as 2026-03-14T09:30:00.125");
            }
        }
        return text_problem(path_, 0, 0, "there is no row of numbers in this text",
                            "give rows of numbers, separated by commas, semicolons, tabs or spaces");
    }

    std::optional<Problem> read_rate()
    {
        for (std::size_t i = 0; i < first_row_; ++i) {
            const auto stated = rate_in(lines_[i].text, dialect_.decimal_comma);
            if (!stated) continue;
            is_preamble_.resize(first_row_);
            is_preamble_[i] = true;
            if (!stated->rate_hz)
                return at_line(lines_[i], 0,
                               fmt::format("the rate is not understood: {}", quoted(trimmed(lines_[i].text))),
                               "write it as rate_hz: 1000");
            if (dialect_.rate_hz && *dialect_.rate_hz != *stated->rate_hz)
                return at_line(lines_[i], 0,
                               fmt::format("this states a rate of {} Hz, line {} one of {} Hz", *stated->rate_hz,
                                           dialect_.rate_line, *dialect_.rate_hz),
                               "keep the right one");
            dialect_.rate_hz = stated->rate_hz;
            dialect_.rate_line = lines_[i].number;
        }
        is_preamble_.resize(first_row_);
        return std::nullopt;
    }

    bool is_header_line(std::size_t i) const { return lines_[i].kind == LineKind::row && !is_preamble_[i]; }

    // A row above the first good one that is meant as numbers must not be taken for a header and lost.
    std::optional<Problem> find_spoilt_rows() const
    {
        if (dialect_.fields < 2) return std::nullopt;
        bool names_seen = false;
        for (std::size_t i = 0; i < first_row_; ++i) {
            if (!is_header_line(i)) continue;
            const auto fields = split(lines_[i].text, dialect_.delimiter);
            if (static_cast<int>(fields.size()) != dialect_.fields) continue;
            const auto numeric = [&](const Field& f) { return is_number(f.text, dialect_); };
            if (clock_fields_of(fields) > 0) return row_problem(lines_[i].text, lines_[i].number, dialect_, path_);
            const auto numbers = std::count_if(fields.begin(), fields.end(), numeric);
            const bool mostly_numbers = names_seen && dialect_.fields > 2 && numbers > 0;
            if (numeric(fields.front()) || mostly_numbers)
                return row_problem(lines_[i].text, lines_[i].number, dialect_, path_);
            names_seen = names_seen || numbers == 0;
        }
        return std::nullopt;
    }

    std::optional<std::vector<std::string>> fields_above(std::size_t line) const
    {
        auto fields = header_fields(lines_[line].text, dialect_.delimiter);
        if (static_cast<int>(fields.size()) != dialect_.fields) return std::nullopt;
        return fields;
    }

    Header read_header() const
    {
        Header header;
        std::vector<std::size_t> above; // nearest first
        for (std::size_t i = first_row_; i-- > 0;)
            if (is_header_line(i)) above.push_back(i);
        std::size_t names_at = 0;
        if (!above.empty()) {
            auto fields = fields_above(above[0]);
            const auto unit_or_nothing = [](const std::string& f) { return unquoted(f).empty() || is_unit(f); };
            const bool units = fields && std::all_of(fields->begin(), fields->end(), unit_or_nothing) &&
                               (above.size() > 1 || std::any_of(fields->begin(), fields->end(), is_bracketed));
            if (units) {
                header.units = std::move(*fields);
                names_at = 1;
            }
        }
        if (names_at < above.size())
            if (auto fields = fields_above(above[names_at])) header.names = std::move(*fields);
        if (above.empty()) header.names = names_in_comment();
        return header;
    }

    // "# time, x, y" right above the numbers, as numerical libraries write it.
    std::vector<std::string> names_in_comment() const
    {
        if (first_row_ == 0 || lines_[first_row_ - 1].kind != LineKind::comment || is_preamble_[first_row_ - 1])
            return {};
        std::string_view text = lines_[first_row_ - 1].text;
        text.remove_prefix(std::min(text.find_first_not_of(" \t#"), text.size()));
        auto fields = header_fields(text, dialect_.delimiter);
        const bool textual =
            std::none_of(fields.begin(), fields.end(), [&](auto& f) { return is_number(f, dialect_); });
        if (static_cast<int>(fields.size()) != dialect_.fields || !textual) return {};
        return fields;
    }

    // "12,5" is one number with a decimal comma or two numbers; names above tell, or a zero that only decimals have
    // ("0,05",
    // "-0,5").
    std::optional<Problem> settle_lone_commas()
    {
        if (dialect_.delimiter != ',' || dialect_.fields != 2 || !read_header().names.empty() ||
            rows_read_by(lines_, dialect_with('\t', true)) != rows_)
            return std::nullopt;
        const auto has_zero_of_decimals = [&](const Line& line) {
            if (!is_row_of_numbers(line)) return false;
            const auto fields = split(line.text, ',');
            if (fields.size() < 2) return false; // a row cut short, which is complained about when it is read
            return fields[0].text == "-0" || (fields[1].text.size() > 1 && fields[1].text.front() == '0');
        };
        if (std::any_of(lines_.begin(), lines_.end(), has_zero_of_decimals)) {
            dialect_.delimiter = '\t';
            dialect_.decimal_comma = true;
            dialect_.fields = 1;
            return std::nullopt;
        }
        const Line& row = lines_[first_row_];
        return at_line(row, 0, fmt::format("{} may be two numbers or one with a decimal comma", quoted(row.text)),
                       "put a row of names above the numbers (time,z), or write decimal points");
    }

    std::optional<Problem> find_time(const Header& header)
    {
        if (dialect_.clock_fields > 0) return std::nullopt;
        if (!header.names.empty()) {
            if (const auto named = time_name(header.names.front())) {
                const std::string_view unit =
                    named->unit.empty() && !header.units.empty() ? without_brackets(header.units.front()) : named->unit;
                const auto seconds = seconds_in(unit);
                if (!seconds)
                    return text_problem(path_, dialect_.first_row_line, 0,
                                        fmt::format("the unit of the time column is not understood: {}", quoted(unit)),
                                        "give times in s, ms, us, ns, min or h");
                dialect_.time_column = true;
                dialect_.time_unit_s = *seconds;
                if (dialect_.fields == 1)
                    return text_problem(path_, dialect_.first_row_line, 0, "there is a time column and no other",
                                        "add the columns of the channels");
                return std::nullopt;
            }
            if (!unquoted(header.names.front()).empty()) return std::nullopt;
        }
        if (dialect_.fields < 2 || dialect_.rate_hz || rate_given_ || !first_column_runs_evenly()) return std::nullopt;
        const auto seconds = header.units.empty() ? 1.0 : seconds_in(without_brackets(header.units.front()));
        if (!seconds) return std::nullopt; // a column in m/s2 that happens to rise evenly
        dialect_.time_column = true;
        dialect_.time_unit_s = *seconds;
        return std::nullopt;
    }

    // Always rising, and nine steps in ten alike: a time, though perhaps one with gaps, which the reader complains
    // about.
    bool first_column_runs_evenly() const
    {
        std::vector<double> times;
        PrintedPrecision precision;
        for (std::size_t i = first_row_; i < lines_.size(); ++i) {
            if (!is_row_of_numbers(lines_[i])) continue;
            const auto field = split(lines_[i].text, dialect_.delimiter).front().text;
            double time = 0.0;
            parse_number(field.data(), field.data() + field.size(), dialect_, time);
            if (!std::isfinite(time) || (!times.empty() && time <= times.back())) return false;
            times.push_back(time);
            precision.add(field);
        }
        if (times.size() < 3) return false;
        std::vector<double> steps(times.size() - 1);
        for (std::size_t i = 0; i < steps.size(); ++i) steps[i] = times[i + 1] - times[i];
        std::vector<double> sorted = steps;
        std::nth_element(sorted.begin(), sorted.begin() + static_cast<std::ptrdiff_t>(sorted.size() / 2), sorted.end());
        const double usual = sorted[sorted.size() / 2];
        std::size_t alike = 0;
        for (std::size_t i = 0; i < steps.size(); ++i)
            alike += std::abs(steps[i] - usual) <= 0.01 * usual + precision.unit_at(times[i + 1]);
        return 10 * alike >= 9 * steps.size() || alike + 1 == steps.size();
    }

    void name_channels(const Header& header)
    {
        const auto first = static_cast<std::size_t>(dialect_.time_fields());
        std::vector<std::string> units;
        for (std::size_t i = first; i < header.names.size(); ++i) {
            const NameAndUnit parts = taken_apart(header.names[i]);
            dialect_.names.push_back(as_utf8(parts.name));
            units.push_back(as_utf8(parts.unit));
        }
        if (!header.units.empty()) {
            units.clear();
            for (std::size_t i = first; i < header.units.size(); ++i)
                units.push_back(as_utf8(without_brackets(header.units[i])));
        }
        if (!units.empty() && std::all_of(units.begin(), units.end(), [&](auto& u) { return u == units.front(); }))
            dialect_.unit = units.front();
        else if (!units.empty())
            units_ = std::move(units);
    }

    // "key: value", "key = value", "key;value", each perhaps behind a #. What two lines tell differently is left out,
    // and so is whatever could be meant of something else (the serial number of a recorder, say).
    void read_preamble()
    {
        std::array<std::string, 5> told; // in the order of `kinds`
        std::array<bool, 5> contradicted{};
        constexpr std::array<std::string_view, 5> starts{"start", "start time", "started", "recording start",
                                                         "date and time"};
        constexpr std::array<std::string_view, 4> serials{"sensor serial", "sensor serial number", "sensor s/n",
                                                          "transducer serial"};
        constexpr std::array<std::string_view, 3> sensitivities{"sensitivity", "sensor sensitivity", "empfindlichkeit"};
        constexpr std::array<std::string_view, 3> units{"unit", "units", "einheit"};
        const auto is_one_of = [](const auto& words, std::string_view key) {
            return std::find(words.begin(), words.end(), key) != words.end();
        };
        std::optional<std::int64_t> date;
        std::optional<ClockTime> time;
        for (std::size_t i = 0; i < first_row_; ++i) {
            if (is_preamble_[i]) continue;
            std::string_view line = lines_[i].text;
            line.remove_prefix(std::min(line.find_first_not_of(" \t#"), line.size()));
            const auto at = line.find_first_of(dialect_.delimiter == ',' ? ":=;\t," : ":=;\t");
            if (at == std::string_view::npos) continue;
            std::string key = lower_case(unquoted(line.substr(0, at)));
            std::replace(key.begin(), key.end(), '_', ' ');
            std::string_view value = trimmed(line.substr(at + 1));
            while (!value.empty() && (value.back() == ';' || value.back() == ','))
                value = trimmed(value.substr(0, value.size() - 1));
            value = unquoted(value);
            std::string key_unit;
            if (const auto open = key.find_first_of("(["); open != std::string::npos) {
                key_unit = without_brackets(unquoted(line.substr(0, at)).substr(open));
                key = std::string(trimmed(std::string_view(key).substr(0, open)));
            }
            std::size_t kind = told.size();
            std::string statement;
            if (is_one_of(starts, key) && date_and_time_in(value)) {
                kind = 0;
                statement = iso_8601(*date_and_time_in(value));
            } else if ((key == "date" || key == "datum") && date_in(value)) {
                date = date_in(value);
                is_preamble_[i] = true;
            } else if ((key == "time" || key == "uhrzeit" || key == "start time") && time_of_day_in(value)) {
                time = time_of_day_in(value);
                is_preamble_[i] = true;
            } else if (is_one_of(serials, key) && is_single(value)) {
                kind = 1;
                statement = as_utf8(value);
            } else if (is_one_of(sensitivities, key) && is_single(value) && value.front() >= '0' &&
                       value.front() <= '9') {
                const std::string both = as_utf8(value) + (key_unit.empty() ? "" : " " + as_utf8(key_unit));
                if (both.find_first_of("Vv/") == std::string::npos) continue; // of what?
                kind = 2;
                statement = both;
            } else if (is_one_of(units, key) && is_unit(value)) {
                kind = 3;
                statement = as_utf8(without_brackets(value));
            } else if (key == "teds" && is_single(value)) {
                kind = 4;
                statement = as_utf8(value);
            }
            if (kind == told.size()) continue;
            is_preamble_[i] = true;
            contradicted[kind] = contradicted[kind] || (!told[kind].empty() && told[kind] != statement);
            told[kind] = statement;
        }
        if (told[0].empty() && date && time) {
            time->day = date;
            told[0] = iso_8601(*time);
        }
        for (std::size_t kind = 0; kind < told.size(); ++kind)
            if (contradicted[kind]) told[kind].clear();
        dialect_.start = told[0];
        told_.serial = told[1];
        told_.sensitivity = told[2];
        told_.unit = told[3];
        told_.teds = told[4];
    }

    // One value and not one a channel.
    static bool is_single(std::string_view value)
    {
        return !value.empty() && value.size() <= 60 && value.find_first_of(";\t") == std::string_view::npos;
    }

    void state_facts()
    {
        const auto channels = static_cast<std::size_t>(dialect_.fields - dialect_.time_fields());
        if (dialect_.unit.empty() && units_.empty()) dialect_.unit = told_.unit;
        told_.unit.clear();
        if (units_.size() != channels && told_.serial.empty() && told_.sensitivity.empty() && told_.teds.empty())
            return;
        dialect_.facts.assign(channels, told_);
        for (std::size_t i = 0; i < channels && units_.size() == channels; ++i) dialect_.facts[i].unit = units_[i];
    }

    std::vector<Line> lines_;
    bool rate_given_;
    const std::string& path_;
    TextDialect dialect_;
    int rows_ = 0;
    std::size_t first_row_ = 0;
    std::vector<bool> is_preamble_;
    std::vector<std::string> units_; // of the channels, where they differ
    ChannelFacts told_;              // above the rows, of all channels
};

} // namespace

Result<TextDialect> detect_dialect(std::string_view head, bool whole, bool rate_given, const std::string& path)
{
    return Detector(head, whole, rate_given, path).detect();
}

bool is_printable_text(std::string_view bytes)
{
    return std::none_of(bytes.begin(), bytes.end(), [](char byte) {
        const auto value = static_cast<unsigned char>(byte);
        return (value < 0x20 && !(value >= '\t' && value <= '\r')) || value == 0x7F;
    });
}

LineKind kind_of_line(std::string_view line)
{
    if (!line.empty() && line.front() > '#') return LineKind::row; // nearly all
    const auto at = line.find_first_not_of(blanks);
    if (at == std::string_view::npos) return LineKind::blank;
    return line[at] == '#' ? LineKind::comment : LineKind::row;
}

Problem row_problem(std::string_view line, std::int64_t number, const TextDialect& dialect, const std::string& path)
{
    const auto fields = split(line, dialect.delimiter);
    for (std::size_t i = 0; i < fields.size(); ++i) {
        const Field& field = fields[i];
        if (static_cast<int>(i) < dialect.clock_fields) {
            if (clock_fields_of(fields) == dialect.clock_fields || fields.size() < 2) continue;
            return text_problem(path, number, column_at(line, field.offset),
                                fmt::format("{} stands where a date or a time of day belongs", quoted(field.text)),
                                "write it as in the first row, or put # before a line that is no data");
        }
        if (field.text.empty() || is_number(field.text, dialect)) continue;
        return text_problem(path, number, column_at(line, field.offset),
                            fmt::format("{} stands where a number belongs", quoted(field.text)),
                            "correct it, write nan for a lost sample, or put # before a line that is no data");
    }
    if (static_cast<int>(fields.size()) != dialect.fields)
        return text_problem(path, number, 0,
                            fmt::format("this row has {} field{}, the first row (line {}) has {}", fields.size(),
                                        fields.size() == 1 ? "" : "s", dialect.first_row_line, dialect.fields),
                            "complete it, or put # before a line that is no data");
    for (const Field& field : fields)
        if (field.text.empty())
            return text_problem(path, number, column_at(line, field.offset), "a field is empty",
                                "fill it in, or write nan for a lost sample");
    return text_problem(path, number, 0, fmt::format("this row cannot be read: {}", quoted(line)), "correct it");
}

Problem text_problem(const std::string& path, std::int64_t line, int column, std::string what, std::string remedy)
{
    Problem problem;
    problem.file = path;
    problem.line = static_cast<int>(std::min<std::int64_t>(line, std::numeric_limits<int>::max()));
    problem.column = column;
    problem.what = std::move(what);
    problem.remedy = std::move(remedy);
    return problem;
}

const char* parse_quoted_number(const char* at, const char* end, const TextDialect& dialect, double& value)
{
    const char* const close = std::find(at + 1, end, '"');
    if (close == end) return nullptr;
    const std::string_view text = trimmed({at + 1, static_cast<std::size_t>(close - at - 1)});
    if (text.empty()) return nullptr;
    const char* const text_end = text.data() + text.size();
    const bool whole = parse_decimal(text.data(), text_end, dialect.decimal_comma ? ',' : '.', value) == text_end;
    return whole ? close + 1 : nullptr;
}

std::string_view field_at(const char* at, const char* end, char delimiter, const char*& after)
{
    if (at < end && *at == '"') {
        const char* const close = std::find(at + 1, end, '"');
        after = close == end ? end : close + 1;
        return {at + 1, static_cast<std::size_t>(close - at - 1)};
    }
    after = std::find(at, end, delimiter);
    while (after > at && after[-1] == ' ') --after;
    return {at, static_cast<std::size_t>(after - at)};
}

void PrintedPrecision::add_decimals(int decimals)
{
    decimals_ = std::max(decimals_, decimals);
    significant_ = std::numeric_limits<double>::digits10 + 2;
}

void PrintedPrecision::add(std::string_view number)
{
    int significant = 0;
    int decimals = 0;
    bool after_point = false;
    for (std::size_t i = 0; i < number.size(); ++i) {
        const char c = number[i];
        if (c == '.' || c == ',') {
            after_point = true;
        } else if (c >= '0' && c <= '9') {
            significant += significant > 0 || c != '0';
            decimals += after_point;
        } else if (c == 'e' || c == 'E') {
            int exponent = 0;
            const bool plus = i + 1 < number.size() && number[i + 1] == '+';
            std::from_chars(number.data() + i + (plus ? 2 : 1), number.data() + number.size(), exponent);
            decimals -= std::clamp(exponent, -400, 400);
            break;
        }
    }
    decimals_ = std::max(decimals_, decimals);
    significant_ = std::max(significant_, significant);
}

double PrintedPrecision::unit_at(double value) const
{
    const double fixed = std::pow(10.0, -decimals_);
    if (value == 0.0) return fixed;
    return std::max(fixed, std::pow(10.0, std::floor(std::log10(std::abs(value))) + 1.0 - significant_));
}

} // namespace becalm::io
