// How one delimited text file writes its numbers, told from its first lines.
//
// A file is: an optional byte order mark; preamble, names and units in any order of lines that are no rows of numbers;
// then rows of numbers to the end. Lines that begin with # are passed over anywhere. Fields are separated by commas,
// semicolons, tabs or runs of spaces; numbers have a decimal point or, unless commas separate fields, a decimal comma.
// A field may stand in double quotes; where commas separate fields a decimal comma stands in quotes alone. The first
// field may be the time of the row: a number, date and time of day, or a time of day; or date and time are two fields.
//
// Nothing is guessed where two readings are possible: that is a Problem.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "src/base/problem.h"
#include "src/io/recording_reader.h"
#include "src/io/text_number.h"

namespace becalm::io {

struct TextDialect {
    char delimiter = ','; // ',', ';', '\t' or ' ' (runs of spaces)
    bool decimal_comma = false;
    int fields = 0;                    // in every row, the time column included
    std::int64_t first_row_offset = 0; // bytes from the beginning of the file
    std::int64_t first_row_line = 0;   // from 1
    bool time_column = false;          // the first field is a time, or the first two are date and time of day
    int clock_fields = 0;              // of these as a clock shows them: 0 (a number), 1 or 2
    int time_fields() const { return clock_fields > 0 ? clock_fields : time_column ? 1 : 0; }
    double time_unit_s = 1.0;        // seconds that a 1 in the time column stands for
    std::optional<double> rate_hz;   // stated above the rows
    std::int64_t rate_line = 0;      // where
    std::vector<std::string> names;  // of the channels (without the time column); empty where there are none; UTF-8
    std::string unit;                // of all channels, where they agree; UTF-8
    std::string start;               // as stated above the rows, ISO 8601; empty where nothing unambiguous is said
    std::vector<ChannelFacts> facts; // one a channel, or empty where nothing is said
};

// `head` is the beginning of the file, `whole` tells that it is all of it. `rate_given`: somebody else knows the rate,
// so a first column without a name is taken for a channel and not for the time.
Result<TextDialect> detect_dialect(std::string_view head, bool whole, bool rate_given, const std::string& path);

// No control characters but tab, line ends and form feed. Bytes beyond ASCII are allowed: UTF-8 and Latin-1 names and
// units.
bool is_printable_text(std::string_view bytes);

enum class LineKind { blank, comment, row };
LineKind kind_of_line(std::string_view line);

// A number in double quotes; as parse_number.
const char* parse_quoted_number(const char* at, const char* end, const TextDialect& dialect, double& value);

// The number that begins at `at`; returns the place after it, or nullptr where there is none that a double can hold.
inline const char* parse_number(const char* at, const char* end, const TextDialect& dialect, double& value)
{
    if (at < end && *at == '"') return parse_quoted_number(at, end, dialect, value);
    const char comma = dialect.delimiter == ',' ? no_point : ',';
    return parse_decimal(at, end, dialect.decimal_comma ? comma : '.', value);
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

// The text of the field that begins at `at`, without quotes; `after` is its end. Where there are blanks at its end they
// stay outside.
std::string_view field_at(const char* at, const char* end, char delimiter, const char*& after);

// What is wrong with a line that should be a row: text where a number belongs, too few fields, an empty one.
Problem row_problem(std::string_view line, std::int64_t number, const TextDialect& dialect, const std::string& path);

// A Problem at a line of the file; `column` 0 where the whole line is meant.
Problem text_problem(const std::string& path, std::int64_t line, int column, std::string what, std::string remedy);

// The last digit to which a column's numbers were printed: fixed decimals, or a fixed count of significant digits where
// that is coarser. Trailing zeros may be missing, so the whole column tells, not one number.
class PrintedPrecision {
public:
    void add(std::string_view number);
    void add_decimals(int decimals); // of a second on a clock
    // One unit of the last printed digit of numbers of the magnitude of `value`.
    double unit_at(double value) const;

private:
    int decimals_ = 0;    // greatest seen
    int significant_ = 1; // greatest seen
};

} // namespace becalm::io
