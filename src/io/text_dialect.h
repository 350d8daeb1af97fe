// How one delimited text file writes its numbers, told from its first lines.
//
// A file is: an optional byte order mark; preamble, names and units in any order of lines that are no rows of numbers;
// then rows of numbers to the end. Lines that begin with # are passed over anywhere. Fields are separated by commas,
// semicolons, tabs or runs of spaces; numbers have a decimal point or, unless commas separate fields, a decimal comma.
//
// Nothing is guessed where two readings are possible: that is a Problem.
#pragma once

#include <charconv>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "src/base/problem.h"

namespace becalm::io {

struct TextDialect {
    char delimiter = ','; // ',', ';', '\t' or ' ' (runs of spaces)
    bool decimal_comma = false;
    int fields = 0;                    // in every row, the time column included
    std::int64_t first_row_offset = 0; // bytes from the beginning of the file
    std::int64_t first_row_line = 0;   // from 1
    bool time_column = false;          // the first field is a time
    double time_unit_s = 1.0;          // seconds that a 1 in the time column stands for
    std::optional<double> rate_hz;     // stated above the rows
    std::int64_t rate_line = 0;        // where
    std::vector<std::string> names;    // of the channels (without the time column); empty where there are none; UTF-8
    std::string unit;                  // of all channels, where they agree; UTF-8
};

// `head` is the beginning of the file, `whole` tells that it is all of it. `rate_given`: somebody else knows the rate,
// so a first column without a name is taken for a channel and not for the time.
Result<TextDialect> detect_dialect(std::string_view head, bool whole, bool rate_given, const std::string& path);

// No control characters but tab, line ends and form feed. Bytes beyond ASCII are allowed: UTF-8 and Latin-1 names and
// units.
bool is_printable_text(std::string_view bytes);

enum class LineKind { blank, comment, row };
LineKind kind_of_line(std::string_view line);

// The number that begins at `at`; returns the place after it, or nullptr where there is none that a double can hold.
inline const char* parse_number(const char* at, const char* end, const TextDialect& dialect, double& value)
{
    if (!dialect.decimal_comma) {
        // from_chars takes no plus sign.
        if (at + 1 < end && *at == '+' && at[1] != '-') ++at;
        const auto parsed = std::from_chars(at, end, value);
        return parsed.ec == std::errc() ? parsed.ptr : nullptr;
    }
    constexpr std::ptrdiff_t longest = 63;
    char copy[longest];
    char* out = copy;
    for (; at < end && *at != dialect.delimiter && *at != ' ' && out < copy + longest; ++at) {
        if (*at == '.') return nullptr; // "1.234" may be a thousand here
        *out++ = *at == ',' ? '.' : *at;
    }
    if (out == copy || out[-1] == '.' || (out == copy + longest)) return nullptr;
    const char* begin = copy;
    if (out - copy > 1 && copy[0] == '+' && copy[1] != '-') ++begin;
    const auto parsed = std::from_chars(begin, static_cast<const char*>(out), value);
    return parsed.ec == std::errc() && parsed.ptr == out ? at : nullptr;
}

// Takes one field's end: spaces around it and the delimiter. nullptr where something else stands there.
inline const char* skip_delimiter(const char* at, const char* end, const TextDialect& dialect)
{
    const char* const number_end = at;
    while (at < end && *at == ' ') ++at;
    if (at == end) return at;
    if (dialect.delimiter == ' ') return at == number_end ? nullptr : at;
    if (*at != dialect.delimiter) return nullptr;
    ++at;
    while (at < end && *at == ' ') ++at;
    return at == end ? nullptr : at; // an empty last field
}

// What is wrong with a line that should be a row: text where a number belongs, too few fields, an empty one.
Problem row_problem(std::string_view line, std::int64_t number, const TextDialect& dialect, const std::string& path);

// A Problem at a line of the file; `column` 0 where the whole line is meant.
Problem text_problem(const std::string& path, std::int64_t line, int column, std::string what, std::string remedy);

// The last digit to which a column's numbers were printed: fixed decimals, or a fixed count of significant digits where
// that is coarser. Trailing zeros may be missing, so the whole column tells, not one number.
class PrintedPrecision {
public:
    void add(std::string_view number);
    // One unit of the last printed digit of numbers of the magnitude of `value`.
    double unit_at(double value) const;

private:
    int decimals_ = 0;    // greatest seen
    int significant_ = 1; // greatest seen
};

} // namespace becalm::io
