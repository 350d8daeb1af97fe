// Universal File Format: time responses of datasets 58 (text) and 58b (binary), with the units of dataset 164.
//
// Layouts: Universal File Formats, dataset 58 / 58b, SDRC; definition published by the University of Cincinnati
// Structural Dynamics Research Laboratory. A dataset lies between two lines "    -1"; that of a function at a degree of
// freedom has its number, five identification lines (records 1 to 5), six records of fields of fixed width and the
// values: in rows of 6E13.5, 4E20.12 or, with an abscissa, 2(E13.5,E20.12), or as bytes.
//
// Opening goes once through the file, to find the datasets and to hold the counts they state against what is there.
// Channels lie one behind the other, so each has its own place in the file and its own small block of values.
#include <array>
#include <charconv>
#include <chrono>
#include <limits>
#include <map>
#include <set>
#include <tuple>

#include <fmt/format.h>

#include "src/base/units.h"
#include "src/io/even_time.h"
#include "src/io/raw_bytes.h"
#include "src/io/recording_reader.h"
#include "src/io/regular_file.h"
#include "src/io/stated_text.h"
#include "src/io/utc_time.h"

namespace becalm::io {

namespace {

constexpr std::size_t window_bytes = std::size_t{64} << 10; // the longest line, too
constexpr std::size_t greatest_functions = 65'536;
constexpr std::size_t greatest_channels = 256;
constexpr double shortest_s = 1e-9, longest_s = 1e6; // between samples
constexpr std::int64_t block_frames = 1020;          // whole rows of every layout

constexpr auto export_again = "export it again";
constexpr auto copy_again = "copy it again from the recorder";

std::string_view without_trailing_blanks(std::string_view text)
{
    const auto last = text.find_last_not_of(" \t\r");
    return last == std::string_view::npos ? std::string_view{} : text.substr(0, last + 1);
}

bool is_blank(std::string_view line) { return without_trailing_blanks(line).empty(); }

// Columns 1 to 6 of a line of its own.
bool is_delimiter(std::string_view line) { return without_trailing_blanks(line) == "    -1"; }

std::string_view columns(std::string_view line, std::size_t from, std::size_t width)
{
    return from < line.size() ? line.substr(from, width) : std::string_view{};
}

std::string_view without_blanks_around(std::string_view text)
{
    text = without_trailing_blanks(text);
    const auto first = text.find_first_not_of(" \t");
    return first == std::string_view::npos ? std::string_view{} : text.substr(first);
}

std::optional<std::int64_t> whole_number(std::string_view field)
{
    field = without_blanks_around(field);
    if (field.starts_with('+')) field.remove_prefix(1);
    std::int64_t value = 0;
    const auto parsed = std::from_chars(field.data(), field.data() + field.size(), value);
    if (field.empty() || parsed.ec != std::errc() || parsed.ptr != field.data() + field.size()) return std::nullopt;
    return value;
}

// As Fortran writes it: "1.25000E-03", "0.125D+01", "1.25000-103". Without a point Fortran would put one into it, which
// no other language does: that is no number here.
std::optional<double> real_number(std::string_view field)
{
    field = without_blanks_around(field);
    if (field.starts_with('+')) field.remove_prefix(1);
    std::array<char, 40> copy{};
    std::size_t size = 0;
    bool point = false, exponent = false, letters = false;
    for (const char c : field) {
        if (size + 2 > copy.size()) return std::nullopt;
        const bool sign = c == '+' || c == '-';
        if (c == '.') point = true;
        if (c == 'D' || c == 'd' || c == 'E' || c == 'e') {
            exponent = true;
            copy[size++] = 'e';
            continue;
        }
        if (sign && point && !exponent) {
            exponent = true;
            copy[size++] = 'e';
        }
        letters = letters || (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z'); // NaN, Infinity
        copy[size++] = c;
    }
    double value = 0.0;
    const auto parsed = std::from_chars(copy.data(), copy.data() + size, value);
    if (size == 0 || parsed.ec != std::errc() || parsed.ptr != copy.data() + size || (!point && !letters))
        return std::nullopt;
    return value;
}

// A unit's or an identification line's text; "NONE" is the definition's word for nothing.
std::string words_in(std::string_view field)
{
    std::string words = stated_text(field);
    return words == "NONE" || words == "none" || words == "None" ? std::string() : words;
}

// How values lie in rows of text.
struct RowLayout {
    std::int64_t frames;  // a row
    std::size_t abscissa; // columns of one, 0: there is none
    std::size_t ordinate;
    std::string_view words;

    std::size_t columns_of(std::int64_t count) const { return static_cast<std::size_t>(count) * (abscissa + ordinate); }
};

struct Lengths {
    double per_metre = 1.0; // a metre is so many units of length of the file
    std::string words = {}; // as the file describes them
};

enum class DataType { displacement = 8, velocity = 11, acceleration = 12, time = 17, frequency = 18 };

// One dataset 58 or 58b.
struct Function {
    std::int64_t line = 0; // of its number; 0 behind the first binary dataset, where lines mean nothing
    std::int64_t offset = 0;
    std::array<std::string, 5> id = {};
    std::int64_t type = 0;
    std::string response = {}, reference = {}; // entity, node and direction
    std::string direction = {};                // "12 +Z"
    bool binary = false;
    ByteOrder order = ByteOrder::little;
    bool twice = false; // double precision
    bool complex = false;
    bool even = true;
    std::int64_t count = 0;
    double first = 0.0;
    double increment = 0.0;
    int increment_digits = 0;
    bool whole_rate = false; // the increment is that of a whole number of hertz, cut to the digits there are
    std::int64_t abscissa_type = 0, ordinate_type = 0, denominator_type = 0;
    std::string abscissa_unit = {}, unit = {};
    std::optional<Lengths> lengths = {}; // of the dataset 164 before it
    std::int64_t data_begins = 0;
    std::int64_t data_line = 0;
    std::int64_t row_bytes = 0;      // of text, line end included
    std::int64_t abscissa_bytes = 0; // of binary, uneven: 4 or 8
    std::string why_not = {};        // it is no channel; empty where it is one
    std::string remedy = {};

    bool is_wanted() const { return type == 1 && !complex && why_not.empty(); }

    RowLayout layout() const
    {
        if (even) return twice ? RowLayout{4, 0, 20, "4E20.12"} : RowLayout{6, 0, 13, "6E13.5"};
        return twice ? RowLayout{2, 13, 20, "2(E13.5,E20.12)"} : RowLayout{3, 13, 13, "6E13.5"};
    }
    double rate_hz() const { return whole_rate ? std::round(1.0 / increment) : 1.0 / increment; }
};

std::string_view name_of_function(std::int64_t type)
{
    constexpr std::array<std::string_view, 28> names{"general or unknown function",
                                                     "time response",
                                                     "auto spectrum",
                                                     "cross spectrum",
                                                     "frequency response function",
                                                     "transmissibility",
                                                     "coherence",
                                                     "auto correlation",
                                                     "cross correlation",
                                                     "power spectral density",
                                                     "energy spectral density",
                                                     "probability density function",
                                                     "spectrum",
                                                     "cumulative frequency distribution",
                                                     "peaks and valleys",
                                                     "stress and cycles",
                                                     "strain and cycles",
                                                     "orbit",
                                                     "mode indicator function",
                                                     "force pattern",
                                                     "partial power",
                                                     "partial coherence",
                                                     "eigenvalue",
                                                     "eigenvector",
                                                     "shock response spectrum",
                                                     "finite impulse response filter",
                                                     "multiple coherence",
                                                     "order function"};
    return type >= 0 && std::cmp_less(type, names.size()) ? names[static_cast<std::size_t>(type)]
                                                          : "function of unknown type";
}

// The lines of a file, with the places where they lie.
class Lines {
public:
    Lines(const FileHandle& handle, const std::string& path) : handle_(handle), path_(path), window_(window_bytes) {}

    void go_to(std::int64_t offset)
    {
        base_ = offset;
        at_ = filled_ = 0;
        at_end_ = false;
    }

    // The next line without its end; false at the end of the file or after a fault. It lives until the next call.
    bool next(std::string_view& line)
    {
        for (std::size_t searched = 0;;) {
            const char* const from = window_.data() + at_;
            if (const void* found =
                    filled_ > at_ + searched ? std::memchr(from + searched, '\n', filled_ - at_ - searched) : nullptr)
                return give({from, static_cast<std::size_t>(static_cast<const char*>(found) - from)}, 1, line);
            searched = filled_ - at_;
            if (at_end_) return searched > 0 && give({from, searched}, 0, line);
            if (!refill()) return false;
        }
    }

    std::int64_t begin() const { return begin_; } // of the line handed out last, bytes from the beginning of the file
    std::int64_t after() const { return base_ + static_cast<std::int64_t>(at_); }
    std::int64_t number() const { return number_; }
    const std::optional<Problem>& fault() const { return fault_; }

private:
    bool give(std::string_view found, std::size_t end, std::string_view& line)
    {
        begin_ = after();
        at_ += found.size() + end;
        if (!found.empty() && found.back() == '\r') found.remove_suffix(1);
        line = found;
        ++number_;
        return true;
    }

    bool refill()
    {
        const std::size_t kept = filled_ - at_;
        if (kept == window_.size()) {
            fault_ = text_problem(path_, number_ + 1, 0, fmt::format("a line is longer than {} bytes", window_bytes),
                                  "check that the file has line ends");
            return false;
        }
        std::memmove(window_.data(), window_.data() + at_, kept);
        base_ += static_cast<std::int64_t>(at_);
        at_ = 0;
        const auto got =
            read_bytes_at(handle_, path_, base_ + static_cast<std::int64_t>(kept), std::span(window_).subspan(kept));
        if (!got) {
            fault_ = got.error();
            return false;
        }
        filled_ = kept + *got;
        at_end_ = *got < window_.size() - kept;
        return true;
    }

    const FileHandle& handle_;
    const std::string& path_;
    std::vector<char> window_;
    std::int64_t base_ = 0; // of the window in the file
    std::size_t at_ = 0;    // of what is not yet handed out, in the window
    std::size_t filled_ = 0;
    bool at_end_ = false;
    std::int64_t begin_ = 0;
    std::int64_t number_ = 0;
    std::optional<Problem> fault_;
};

struct Abscissa {
    double value = 0.0;
    std::string text = {}; // as it is printed, or would be with the digits it has
};

// `count` values from frame `from` on, and their abscissae where asked for; both within the function.
Result<void> decode(const FileHandle& handle, const std::string& path, const Function& f, std::int64_t from,
                    std::span<double> ordinates, std::vector<Abscissa>* abscissae = nullptr)
{
    const auto count = static_cast<std::int64_t>(ordinates.size());
    if (abscissae != nullptr) abscissae->assign(ordinates.size(), {});
    std::vector<char> bytes;
    const auto shorter = [&] {
        return fail(text_problem(path, 0, 0, "the file became shorter while it was read", "read it again"));
    };

    if (f.binary) {
        const std::int64_t value_bytes = f.twice ? 8 : 4, pair = f.abscissa_bytes + value_bytes;
        bytes.resize(static_cast<std::size_t>(count * pair));
        const auto got = read_bytes_at(handle, path, f.data_begins + from * pair, bytes);
        if (!got) return fail(got.error());
        if (*got < bytes.size()) return shorter();
        const auto number = [&](const char* at, std::int64_t size) {
            return size == 8 ? number_at<double>(at, f.order) : static_cast<double>(number_at<float>(at, f.order));
        };
        const char* at = bytes.data();
        for (std::size_t i = 0; i < ordinates.size(); ++i, at += pair) {
            if (abscissae != nullptr && f.abscissa_bytes > 0) {
                const double value = number(at, f.abscissa_bytes);
                (*abscissae)[i] = {value, fmt::format("{:.{}e}", value, f.abscissa_bytes == 4 ? 6 : 14)};
            }
            ordinates[i] = number(at + f.abscissa_bytes, value_bytes);
        }
        return {};
    }

    const RowLayout layout = f.layout();
    const std::int64_t first_row = from / layout.frames, end_row = (from + count + layout.frames - 1) / layout.frames;
    bytes.resize(static_cast<std::size_t>((end_row - first_row) * f.row_bytes));
    const auto got = read_bytes_at(handle, path, f.data_begins + first_row * f.row_bytes, bytes);
    if (!got) return fail(got.error());
    for (std::int64_t i = 0; i < count; ++i) {
        const std::int64_t row = (from + i) / layout.frames, place = (from + i) % layout.frames;
        const std::size_t in_row = layout.columns_of(place);
        const std::size_t at = static_cast<std::size_t>((row - first_row) * f.row_bytes) + in_row;
        if (at + layout.columns_of(1) > *got) return shorter();
        const auto number = [&](std::size_t column, std::size_t width, double& value) -> std::optional<Problem> {
            const std::string_view field(bytes.data() + at + column, width);
            const auto parsed = real_number(field);
            if (!parsed)
                return text_problem(path, f.data_line > 0 ? f.data_line + row : 0,
                                    static_cast<int>(in_row + column) + 1,
                                    fmt::format("\"{}\" stands where a number of {} columns with a decimal point "
                                                "belongs (rows of {})",
                                                stated_text(field), width, layout.words),
                                    export_again);
            value = *parsed;
            return std::nullopt;
        };
        if (abscissae != nullptr && layout.abscissa > 0) {
            Abscissa& abscissa = (*abscissae)[static_cast<std::size_t>(i)];
            if (auto fault = number(0, layout.abscissa, abscissa.value)) return fail(std::move(*fault));
            abscissa.text = without_blanks_around({bytes.data() + at, layout.abscissa});
            std::ranges::replace_if(
                abscissa.text, [](char c) { return c == 'D' || c == 'd'; }, 'E');
        }
        if (auto fault = number(layout.abscissa, layout.ordinate, ordinates[static_cast<std::size_t>(i)]))
            return fail(std::move(*fault));
    }
    return {};
}

// "4.88281E-04" is what is left of 1/2048: a whole number of hertz that is printed alike is taken for meant.
bool stands_for_a_whole_rate(double increment, int digits)
{
    const double rate = std::round(1.0 / increment);
    return digits > 0 && rate >= 1.0 && rate < 1e7 && 1.0 / increment != rate &&
           fmt::format("{:.{}e}", 1.0 / rate, digits - 1) == fmt::format("{:.{}e}", increment, digits - 1);
}

// Significant digits of a number in text, trailing zeros included.
int digits_of(std::string_view number)
{
    int digits = 0;
    for (const char c : number) {
        if (c >= '0' && c <= '9') digits += digits > 0 || c != '0';
        if (c == 'e' || c == 'E' || c == 'd' || c == 'D') break;
    }
    return digits;
}

bool is_usable(double increment) { return increment >= shortest_s && increment <= longest_s; }

class Scanner {
public:
    Scanner(const OpenedFile& file, const std::string& path) : file_(file), path_(path), lines_(file.handle, path) {}

    Result<std::vector<Function>> scan()
    {
        std::string_view line;
        while (lines_.next(line)) {
            if (is_blank(line)) continue;
            if (!is_delimiter(line))
                return fail(
                    fault(lines_.begin(), "a line \"    -1\" belongs here, which begins a dataset", export_again));
            auto scanned = dataset();
            if (!scanned) return fail(scanned.error());
        }
        if (lines_.fault()) return fail(*lines_.fault());
        for (Function& function : functions_) {
            judge(function);
            if (function.why_not.empty() && !function.even) {
                auto looked = look_at_abscissa(function);
                if (!looked) return fail(looked.error());
            }
        }
        return std::move(functions_);
    }

private:
    // A complaint at the line handed out last; at a byte where lines have lost their meaning.
    Problem fault(std::int64_t offset, std::string what, std::string remedy) const
    {
        if (binary_seen_) return text_problem(path_, 0, 0, fmt::format("byte {}: {}", offset, what), std::move(remedy));
        return text_problem(path_, lines_.number(), 0, std::move(what), std::move(remedy));
    }

    Problem cut_off(std::string_view within) const
    {
        if (lines_.fault()) return *lines_.fault();
        return text_problem(path_, binary_seen_ ? 0 : lines_.number(), 0,
                            fmt::format("the file ends within {} (at byte {})", within, file_.size), copy_again);
    }

    Result<void> dataset()
    {
        std::string_view line;
        if (!lines_.next(line)) return fail(cut_off("a dataset, before its number"));
        const auto number = whole_number(columns(line, 0, 6));
        if (!number)
            return fail(
                fault(lines_.begin(), "the number of a dataset belongs into the columns 1 to 6 here", export_again));
        const bool binary = line.size() > 6 && (line[6] == 'b' || line[6] == 'B');
        if (*number == 58) return function(line, binary);
        if (binary) return skip_binary(line);
        if (*number == 164) return units();
        while (lines_.next(line))
            if (is_delimiter(line)) return {};
        return fail(cut_off(fmt::format("dataset {}", *number)));
    }

    struct BinaryHeader {
        std::int64_t order = 0, floating_point = 0, lines = 0, bytes = 0;
    };

    Result<BinaryHeader> binary_header(std::string_view line)
    {
        BinaryHeader header;
        const std::array<std::int64_t*, 4> fields{&header.order, &header.floating_point, &header.lines, &header.bytes};
        // In columns (I6,A1,2I6,2I12), or else with spaces between.
        constexpr std::array<std::pair<std::size_t, std::size_t>, 4> places{{{7, 6}, {13, 6}, {19, 12}, {31, 12}}};
        std::array<std::optional<std::int64_t>, 4> values{};
        std::ranges::transform(places, values.begin(), [&](const auto& place) {
            return whole_number(columns(line, place.first, place.second));
        });
        if (!std::ranges::all_of(values, [](const auto& value) { return value.has_value(); })) {
            std::string_view rest = columns(line, 7, line.size());
            for (auto& value : values) {
                rest = without_blanks_around(rest);
                const auto end = std::min(rest.find(' '), rest.size());
                value = whole_number(rest.substr(0, end));
                rest.remove_prefix(end);
            }
        }
        for (std::size_t i = 0; i < fields.size(); ++i) {
            if (!values[i] || *values[i] < 0)
                return fail(fault(lines_.begin(),
                                  "the header of a binary dataset is damaged: order of bytes, format of numbers, "
                                  "count of lines and count of bytes belong here",
                                  export_again));
            *fields[i] = *values[i];
        }
        return header;
    }

    Result<void> skip_binary(std::string_view line)
    {
        const auto header = binary_header(line);
        if (!header) return fail(header.error());
        for (std::int64_t i = 0; i < header->lines; ++i)
            if (!lines_.next(line)) return fail(cut_off("a binary dataset"));
        return pass_over(header->bytes);
    }

    // The bytes of a binary dataset and the delimiter behind them, with or without a line end between.
    Result<void> pass_over(std::int64_t bytes)
    {
        const std::int64_t begins = lines_.after();
        binary_seen_ = true;
        if (bytes > file_.size - begins)
            return fail(fault(begins,
                              fmt::format("the header of a binary dataset promises {} bytes, the file holds {}", bytes,
                                          file_.size - begins),
                              copy_again));
        lines_.go_to(begins + bytes);
        std::string_view line;
        while (lines_.next(line)) {
            if (is_blank(line)) continue;
            if (is_delimiter(line)) return {};
            return fail(
                fault(lines_.begin(),
                      fmt::format("a line \"    -1\" belongs here, behind the {} bytes of a binary dataset", bytes),
                      export_again));
        }
        return fail(cut_off("a binary dataset, before its last line"));
    }

    Result<void> units()
    {
        std::string_view line;
        if (!lines_.next(line)) return fail(cut_off("dataset 164"));
        Lengths lengths{.words = words_in(columns(line, 10, 20))};
        if (!lines_.next(line)) return fail(cut_off("dataset 164"));
        const auto factor = real_number(columns(line, 0, 25));
        if (!factor || !(*factor > 0.0) || !std::isfinite(*factor))
            return fail(fault(lines_.begin(),
                              "the factor of length of dataset 164 belongs into the columns 1 to 25 here, a number "
                              "above 0 with a decimal point",
                              export_again));
        lengths.per_metre = *factor;
        lengths_ = std::move(lengths);
        while (lines_.next(line))
            if (is_delimiter(line)) return {};
        return fail(cut_off("dataset 164"));
    }

    Result<void> function(std::string_view line, bool binary)
    {
        if (functions_.size() == greatest_functions)
            return fail(fault(lines_.begin(), fmt::format("it holds more than {} functions", greatest_functions),
                              "split it into several files"));
        Function f;
        f.line = binary_seen_ ? 0 : lines_.number();
        f.offset = lines_.begin();
        f.binary = binary;
        f.lengths = lengths_;
        BinaryHeader header;
        if (binary) {
            const auto read = binary_header(line);
            if (!read) return fail(read.error());
            header = *read;
            f.order = header.order == 1 ? ByteOrder::little : ByteOrder::big;
            if (header.lines != 11)
                return fail(fault(lines_.begin(),
                                  fmt::format("dataset 58b has 11 lines before its bytes; {} are stated", header.lines),
                                  export_again));
        }
        for (int record = 1; record <= 11; ++record) {
            if (!lines_.next(line)) return fail(cut_off(fmt::format("record {} of dataset 58", record)));
            if (is_delimiter(line))
                return fail(fault(lines_.begin(),
                                  fmt::format("dataset 58 ends before its record {}; 11 records are expected", record),
                                  export_again));
            if (auto bad = take(record, line, f)) return fail(std::move(*bad));
        }
        if (binary) {
            if ((header.order != 1 && header.order != 2) || header.floating_point != 2) {
                f.why_not = header.floating_point != 2 ? "its numbers are not in the format of IEEE 754"
                                                       : fmt::format("its order of bytes is {}", header.order);
                f.remedy = "export it with numbers of IEEE 754, or as text";
            }
            f.data_begins = lines_.after();
            if (auto bad = hold_against(f, header.bytes)) return fail(std::move(*bad));
            functions_.push_back(std::move(f));
            return pass_over(header.bytes);
        }
        return rows(std::move(f));
    }

    std::optional<Problem> bad_field(int record, std::string_view what, std::string_view format) const
    {
        return fault(lines_.begin(),
                     fmt::format("record {} of dataset 58: {} cannot be read; its fields are {}", record, what, format),
                     export_again);
    }

    std::optional<Problem> take(int record, std::string_view line, Function& f) const
    {
        const auto whole = [&](std::size_t from, std::size_t width, std::int64_t& value) {
            const std::string_view field = columns(line, from, width);
            const auto number = is_blank(field) ? std::optional<std::int64_t>(0) : whole_number(field);
            value = number.value_or(0);
            return number.has_value();
        };
        if (record <= 5) {
            f.id[static_cast<std::size_t>(record) - 1] = words_in(line.substr(0, 80));
            return std::nullopt;
        }
        if (record == 6) {
            std::int64_t node = 0, direction = 0, reference_node = 0, reference_direction = 0;
            if (!whole(0, 5, f.type) || !whole(41, 10, node) || !whole(51, 4, direction) ||
                !whole(66, 10, reference_node) || !whole(76, 4, reference_direction))
                return bad_field(record, "function type, node or direction", "2(I5,I10),2(1X,A10,I10,I4)");
            f.response = degree_of_freedom(words_in(columns(line, 31, 10)), node, direction);
            f.reference = degree_of_freedom(words_in(columns(line, 56, 10)), reference_node, reference_direction);
            f.direction = degree_of_freedom({}, node, direction);
            return std::nullopt;
        }
        if (record == 7) {
            std::int64_t type = 0, spacing = 0;
            if (!whole(0, 10, type) || !whole(10, 10, f.count) || !whole(20, 10, spacing))
                return bad_field(record, "type, count or spacing of the data", "3I10,3E13.5");
            if (type != 2 && type != 4 && type != 5 && type != 6) {
                f.why_not = fmt::format("its data are of type {}; 2 and 4 (real) are read", type);
                f.remedy = "export it as real numbers";
            } else if (f.count < 1) {
                f.why_not = fmt::format("it states {} values", f.count);
                f.remedy = "record it again";
            }
            f.twice = type == 4 || type == 6;
            f.complex = type >= 5;
            f.even = spacing != 0;
            if (!f.even) return std::nullopt;
            const auto first = real_number(columns(line, 30, 13)), increment = real_number(columns(line, 43, 13));
            if (!first || !increment || !std::isfinite(*first) || !std::isfinite(*increment))
                return bad_field(record, "abscissa minimum or increment", "3I10,3E13.5");
            f.first = *first;
            f.increment = *increment;
            f.increment_digits = digits_of(columns(line, 43, 13));
            return std::nullopt;
        }
        std::int64_t type = 0;
        if (!whole(0, 10, type)) return bad_field(record, "data type", "I10,3I5,2(1X,A20)");
        const std::string unit = words_in(columns(line, 47, 20));
        if (record == 8) f.abscissa_type = type, f.abscissa_unit = unit;
        if (record == 9) f.ordinate_type = type, f.unit = unit;
        if (record == 10) f.denominator_type = type;
        return std::nullopt;
    }

    static std::string degree_of_freedom(const std::string& entity, std::int64_t node, std::int64_t direction)
    {
        constexpr std::array<std::string_view, 7> names{"", "X", "Y", "Z", "RX", "RY", "RZ"};
        std::string text = entity;
        const auto add = [&](const std::string& word) { text += (text.empty() ? "" : " ") + word; };
        if (node != 0) add(fmt::format("{}", node));
        const auto size = direction < 0 ? -direction : direction;
        if (size > 0 && std::cmp_less(size, names.size()))
            add(fmt::format("{}{}", direction < 0 ? '-' : '+', names[static_cast<std::size_t>(size)]));
        return text;
    }

    // Counts of a binary dataset, before anybody trusts them.
    std::optional<Problem> hold_against(Function& f, std::int64_t bytes) const
    {
        if (!f.is_wanted()) return std::nullopt;
        const std::int64_t value = f.twice ? 8 : 4;
        const bool fits_single = !f.even && bytes % (value + 4) == 0 && bytes / (value + 4) == f.count;
        const bool fits_double = !f.even && bytes % (value + 8) == 0 && bytes / (value + 8) == f.count;
        f.abscissa_bytes = fits_single ? 4 : fits_double ? 8 : 0;
        if (f.even ? bytes % value == 0 && bytes / value == f.count : fits_single || fits_double) return std::nullopt;
        return fault(lines_.begin(),
                     fmt::format("record 7 of dataset 58b promises {} values of {} bytes{}, its header {} bytes",
                                 f.count, value, f.even ? "" : " and their abscissae", bytes),
                     export_again);
    }

    // The rows of a dataset in text, to its delimiter.
    Result<void> rows(Function f)
    {
        const RowLayout layout = f.layout();
        const std::int64_t last = std::max<std::int64_t>(f.count, 1) - 1;
        const std::int64_t expected = last / layout.frames + 1;
        const std::size_t last_columns = layout.columns_of(last % layout.frames + 1);
        const bool wanted = f.is_wanted();
        f.data_begins = lines_.after();
        f.data_line = binary_seen_ ? 0 : lines_.number() + 1;
        std::string_view line;
        for (std::int64_t row = 0; lines_.next(line); ++row) {
            if (is_delimiter(line)) {
                if (wanted && row != expected)
                    return fail(fault(lines_.begin(),
                                      fmt::format("record 7 of dataset 58 promises {} values, which are {} rows of "
                                                  "{}; {} stand here",
                                                  f.count, expected, layout.words, row),
                                      "export it again, or repair the count"));
                functions_.push_back(std::move(f));
                return {};
            }
            if (!wanted) continue;
            if (row >= expected)
                return fail(fault(lines_.begin(),
                                  fmt::format("record 7 of dataset 58 promises {} values, which are {} rows of {}; "
                                              "this is one row more",
                                              f.count, expected, layout.words),
                                  "export it again, or repair the count"));
            const std::size_t width = row + 1 < expected ? layout.columns_of(layout.frames) : last_columns;
            const std::size_t there = without_trailing_blanks(line).size();
            if (there != width)
                return fail(
                    fault(lines_.begin(),
                          fmt::format("this row of values ends in column {}; by record 7 of dataset 58 ({} values, "
                                      "rows of {}) it ends in column {}",
                                      there, f.count, layout.words, width),
                          export_again));
            if (row == 0) f.row_bytes = lines_.after() - lines_.begin();
            if (lines_.begin() != f.data_begins + row * f.row_bytes)
                return fail(fault(lines_.begin(), "the row before this one is longer or shorter than the others",
                                  "give all rows the same line ends and no spaces behind"));
        }
        return fail(cut_off("the values of dataset 58"));
    }

    static void judge(Function& f)
    {
        const auto refuse = [&](std::string why, std::string remedy) {
            if (!f.why_not.empty()) return;
            f.why_not = std::move(why);
            f.remedy = std::move(remedy);
        };
        if (f.type != 1)
            return refuse(fmt::format("{}, which is no time response", name_of_function(f.type)),
                          "export the time responses");
        if (f.complex) return refuse("its values are complex", "export real time responses");
        if (f.abscissa_type == static_cast<std::int64_t>(DataType::frequency))
            return refuse("its abscissa is a frequency", "export the time responses");
        const std::string unit = f.abscissa_unit;
        if (!unit.empty() && unit != "s" && unit != "S" && unit != "sec" && unit != "Sec" && unit != "SEC" &&
            unit != "seconds" && unit != "Seconds" && unit != "second")
            return refuse(fmt::format("its abscissa is in \"{}\"; seconds are read", unit),
                          "export it with an abscissa in s");
        if (f.even && !is_usable(f.increment))
            return refuse(fmt::format("its abscissa increment is {} s", f.increment),
                          fmt::format("give one from {} to {} s", shortest_s, longest_s));
        f.whole_rate = f.even && stands_for_a_whole_rate(f.increment, f.increment_digits);
    }

    // Values with an abscissa of their own are a recording where it runs evenly to the precision to which it is there.
    Result<void> look_at_abscissa(Function& f) const
    {
        EvenTime time;
        std::vector<double> ordinates;
        std::vector<Abscissa> abscissae;
        for (std::int64_t at = 0; at < f.count; at += block_frames) {
            ordinates.resize(static_cast<std::size_t>(std::min(block_frames, f.count - at)));
            auto read = decode(file_.handle, path_, f, at, ordinates, &abscissae);
            if (!read) return read;
            if (at == 0) f.first = abscissae.front().value;
            for (std::int64_t value = at + 1; const Abscissa& abscissa : abscissae) {
                if (!std::isfinite(abscissa.value)) {
                    f.why_not = fmt::format("abscissa {} is not a number", value);
                    f.remedy = export_again;
                    return {};
                }
                time.add(abscissa.value, abscissa.text, value++);
            }
        }
        if (f.count < 2) {
            f.why_not = "it holds one value, and no increment";
            f.remedy = export_again;
            return {};
        }
        const double mean = time.mean_step();
        if (const auto step = time.unresolved_step()) {
            f.why_not = fmt::format("its abscissa stands still at {}: it is stored to {:.3g} s, but steps by {:.3g} s, "
                                    "so that a lost sample would not show",
                                    step->to, time.printed_unit(), mean);
            f.remedy = "export it with even spacing";
        } else if (const auto uneven = time.irregular_step()) {
            f.why_not = fmt::format("its abscissa is uneven: value {} is {:.6g} s behind the one before, the mean step "
                                    "is {:.6g} s",
                                    uneven->line, uneven->length(), mean);
            f.remedy = "split the recording there, or resample it to an even rate";
        } else if (!is_usable(mean)) {
            f.why_not = fmt::format("its abscissa rises by {} s from value to value", mean);
            f.remedy = fmt::format("give times that rise by {} to {} s", shortest_s, longest_s);
        }
        f.increment = mean;
        return {};
    }

    const OpenedFile& file_;
    const std::string& path_;
    Lines lines_;
    std::optional<Lengths> lengths_;
    std::vector<Function> functions_;
    bool binary_seen_ = false;
};

// ---- recordings of the functions
// --------------------------------------------------------------------------------------

struct Group {
    std::vector<const Function*> functions = {};
    std::string why_not = {};
    std::string remedy = {};
    std::set<std::string> responses = {};
};

// Time responses over the same times are channels of one recording, until a degree of freedom comes again: that is
// another run. What cannot be read is put together by its reason.
std::vector<Group> groups_of(const std::vector<Function>& functions)
{
    std::vector<Group> groups;
    using Times = std::tuple<std::int64_t, double, double>;
    std::map<Times, std::size_t> open;
    std::map<std::string, std::size_t> refused;
    for (const Function& f : functions) {
        const Times times{f.count, f.first, f.increment};
        std::size_t at = groups.size();
        if (!f.why_not.empty()) {
            at = refused.try_emplace(f.why_not, at).first->second;
        } else if (const auto found = open.find(times);
                   found != open.end() &&
                   (f.response.empty() || !groups[found->second].responses.contains(f.response))) {
            at = found->second;
        } else {
            open[times] = at;
        }
        if (at == groups.size()) groups.push_back({.why_not = f.why_not, .remedy = f.remedy});
        groups[at].functions.push_back(&f);
        groups[at].responses.insert(f.response);
    }
    for (Group& group : groups)
        if (group.why_not.empty() && group.functions.size() > greatest_channels) {
            group.why_not =
                fmt::format("it has {} channels; 1 to {} can be read", group.functions.size(), greatest_channels);
            group.remedy = "split it into several files";
        }
    return groups;
}

std::vector<RecordingPart> parts_in(const std::vector<Group>& groups, bool readable_only)
{
    std::vector<RecordingPart> parts;
    for (std::size_t g = 0; g < groups.size(); ++g) {
        const Group& group = groups[g];
        const Function& first = *group.functions.front();
        const std::size_t count = group.functions.size();
        RecordingPart part{.name = fmt::format("{}", g + 1)};
        if (group.why_not.empty()) {
            part.says = fmt::format("{} channel{}, {:.6g} Hz, {:.6g} s{}{}", count, count == 1 ? "" : "s",
                                    first.rate_hz(), static_cast<double>(first.count) / first.rate_hz(),
                                    first.id[0].empty() ? "" : ": ", first.id[0]);
        } else if (readable_only) {
            continue;
        } else {
            part.says = fmt::format("cannot be read: {}{}", group.why_not,
                                    count == 1 ? "" : fmt::format(" ({} functions)", count));
        }
        parts.push_back(std::move(part));
    }
    return parts;
}

std::optional<Motion> motion_of(const Function& f)
{
    switch (static_cast<DataType>(f.ordinate_type)) {
    case DataType::displacement: return Motion::displacement;
    case DataType::velocity: return Motion::velocity;
    case DataType::acceleration: return Motion::acceleration;
    default: return std::nullopt;
    }
}

// The unit as src/base/units.h spells it.
std::optional<Unit> known_unit(std::string_view label)
{
    std::string plain;
    for (const char c : label)
        if (c != ' ' && c != '^' && c != '*') plain += static_cast<char>(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c);
    for (const auto& [from, to] : {std::pair("²", "2"), std::pair("sec", "s"), std::pair("µ", "u")})
        for (auto at = plain.find(from); at != std::string::npos; at = plain.find(from))
            plain.replace(at, std::string_view(from).size(), to);
    return unit_named(plain);
}

// Of a motion in the units of length of dataset 164.
void add_lengths(const Lengths& lengths, Motion motion, ChannelFacts& facts)
{
    const std::string behind = std::string(si_unit_of(motion)).substr(1); // "", "/s", "/s2"
    for (const auto& [name, per_metre] : {std::pair("m", 1.0), std::pair("mm", 1e3), std::pair("um", 1e6)})
        if (std::abs(lengths.per_metre - per_metre) <= 1e-9 * per_metre && unit_named(name + behind)) {
            facts.unit = name + behind;
            return;
        }
    facts.unit = "m" + behind;
    facts.scale = 1.0 / lengths.per_metre;
}

// "17-MAY-31  06:30:05": two digits of the year are those from 1970 to 2069. Anything else is no date.
std::string moment_in(std::string_view line)
{
    constexpr std::string_view months = "JANFEBMARAPRMAYJUNJULAUGSEPOCTNOVDEC";
    line = without_blanks_around(line);
    const auto hyphen = line.find('-');
    if (hyphen == std::string_view::npos || line.size() < hyphen + 7 || line[hyphen + 4] != '-') return {};
    std::string month(line.substr(hyphen + 1, 3));
    for (char& c : month) c = static_cast<char>(c >= 'a' && c <= 'z' ? c - 'a' + 'A' : c);
    const auto found = months.find(month);
    const auto day = whole_number(line.substr(0, hyphen));
    const std::string_view behind = line.substr(hyphen + 5);
    const auto space = std::min(behind.find(' '), behind.size());
    const auto year = whole_number(behind.substr(0, space));
    if (found == std::string_view::npos || found % 3 != 0 || !day || !year || *year < 0 || *year > 9999) return {};
    const std::int64_t full_year = space > 2 ? *year : *year < 70 ? 2000 + *year : 1900 + *year;
    const auto month_number = static_cast<int>(found / 3) + 1;
    const auto full = std::chrono::year(static_cast<int>(full_year)) / month_number / static_cast<int>(*day);
    if (*day < 1 || *day > 31 || !full.ok()) return {};
    std::string text = fmt::format("{:04}-{:02}-{:02}", full_year, month_number, *day);
    const std::string_view time = without_blanks_around(behind.substr(space));
    if (time.size() >= 8 && time[2] == ':' && time[5] == ':') {
        const auto hour = whole_number(time.substr(0, 2)), minute = whole_number(time.substr(3, 2)),
                   second = whole_number(time.substr(6, 2));
        if (hour && minute && second && *hour >= 0 && *hour < 24 && *minute >= 0 && *minute < 60 && *second >= 0 &&
            *second <= 60)
            text += fmt::format("T{:02}:{:02}:{:02}", *hour, *minute, *second);
    }
    return text;
}

RecordingInfo info_of(const Group& group, const std::vector<Group>& all)
{
    const Function& first = *group.functions.front();
    RecordingInfo info;
    info.format = first.binary ? fmt::format("UFF dataset 58b, {}-bit float", first.twice ? 64 : 32)
                               : fmt::format("UFF dataset 58, rows of {}", first.layout().words);
    info.rate_hz = first.rate_hz();
    info.channels = static_cast<int>(group.functions.size());
    info.frames = first.count;
    info.start = moment_in(first.id[2]);
    const auto remark = [&](std::string text) { info.remarks.push_back(std::move(text)); };
    if (!info.start.empty())
        remark("The start is when the function was made, as its third identification line states; a year of two "
               "digits is taken for one from 1970 to 2069.");
    if (first.whole_rate)
        remark(fmt::format("The increment has {} digits; it is taken for that of {:.0f} Hz, which has the same.",
                           first.increment_digits, first.rate_hz()));
    if (!first.even)
        remark("The values come with an abscissa of their own, which is even to the precision to which it is stored.");
    if (first.first != 0.0) remark(fmt::format("The abscissa begins at {:.6g} s.", first.first));

    // The first identification line names a channel where it tells the channels apart.
    std::set<std::string> titles;
    for (const Function* f : group.functions) titles.insert(f->id[0]);
    const bool titled = titles.size() == group.functions.size() && !titles.contains("");
    bool alike = true;
    for (std::size_t c = 0; c < group.functions.size(); ++c) {
        const Function& f = *group.functions[c];
        std::string freedom = f.response;
        if (!freedom.empty() && !f.reference.empty()) freedom += " of " + f.reference;
        std::string name = freedom;
        if (titled && (group.functions.size() > 1 || freedom.empty()))
            name = f.id[0] + (freedom.empty() ? "" : " (" + freedom + ")");
        info.names.push_back(std::move(name));
        ChannelFacts facts{.unit = f.unit, .direction = f.direction};
        const auto motion = motion_of(f);
        const auto unit = known_unit(f.unit);
        if (motion && f.unit.empty() && f.lengths) add_lengths(*f.lengths, *motion, facts);
        if (motion && facts.unit.empty())
            remark(fmt::format("Channel {} is a{} {} whose unit is not stated.", c + 1,
                               *motion == Motion::acceleration ? "n" : "", name_of(*motion)));
        if (motion && unit && unit->motion != *motion)
            remark(fmt::format("Channel {} is called a{} {} and has the unit {}; the unit is kept.", c + 1,
                               *motion == Motion::acceleration ? "n" : "", name_of(*motion), f.unit));
        else if (motion && unit && f.lengths && unit->name != "g" && unit->name != "mg" &&
                 std::abs(unit->to_si * f.lengths->per_metre - 1.0) > 1e-6)
            remark(fmt::format("Channel {} has the unit {}, while dataset 164 ({}) states {:.6g} units of length a "
                               "metre; the unit is kept.",
                               c + 1, f.unit, f.lengths->words, f.lengths->per_metre));
        if (f.denominator_type > 1)
            remark(fmt::format("Channel {} is a ratio by its record 10 (denominator of data type {}).", c + 1,
                               f.denominator_type));
        const std::string stated = facts.scale ? fmt::format("{:.9g} {}", *facts.scale, facts.unit) : facts.unit;
        if (c == 0) info.unit = stated;
        alike = alike && info.unit == stated;
        info.facts.push_back(std::move(facts));
    }
    if (!alike) info.unit.clear();
    if (std::ranges::all_of(info.names, &std::string::empty)) info.names.clear();
    constexpr std::size_t reasons_told = 8;
    std::size_t reasons = 0;
    for (const Group& other : all)
        if (!other.why_not.empty() && ++reasons <= reasons_told)
            remark(fmt::format("{} function{} of the file cannot be read: {}.", other.functions.size(),
                               other.functions.size() == 1 ? "" : "s", other.why_not));
    if (reasons > reasons_told)
        remark(fmt::format("More of its functions cannot be read, for {} other reasons.", reasons - reasons_told));
    return info;
}

class UffReader final : public RecordingReader {
public:
    UffReader(std::string path, FileHandle handle, std::vector<Function> functions, RecordingInfo info)
        : path_(std::move(path)), handle_(std::move(handle)), functions_(std::move(functions)), info_(std::move(info)),
          blocks_(functions_.size())
    {
    }

    const RecordingInfo& info() const override { return info_; }

    Result<std::size_t> read(std::span<double> values) override
    {
        const std::size_t channels = functions_.size();
        const std::size_t frames = std::min(values.size() / channels, static_cast<std::size_t>(info_.frames - next_));
        for (std::size_t c = 0; c < channels; ++c) {
            Block& block = blocks_[c];
            for (std::size_t i = 0; i < frames;) {
                const std::int64_t frame = next_ + static_cast<std::int64_t>(i);
                if (frame < block.first || frame >= block.end()) {
                    block.first = frame;
                    block.values.resize(static_cast<std::size_t>(std::min(block_frames, info_.frames - frame)));
                    auto loaded = decode(handle_, path_, functions_[c], frame, block.values);
                    if (!loaded) {
                        block.values.clear();
                        return fail(loaded.error());
                    }
                }
                const auto in_block = static_cast<std::size_t>(frame - block.first);
                const std::size_t run = std::min(frames - i, block.values.size() - in_block);
                for (std::size_t k = 0; k < run; ++k) values[(i + k) * channels + c] = block.values[in_block + k];
                i += run;
            }
        }
        next_ += static_cast<std::int64_t>(frames);
        return frames;
    }

    Result<void> seek(std::int64_t frame) override
    {
        if (frame < 0 || frame > info_.frames)
            return fail(text_problem(path_, 0, 0,
                                     fmt::format("frame {} of {} cannot be reached", frame + 1, info_.frames),
                                     "ask for a frame within the recording"));
        next_ = frame;
        return {};
    }

private:
    struct Block {
        std::int64_t first = 0;
        std::vector<double> values = {};
        std::int64_t end() const { return first + static_cast<std::int64_t>(values.size()); }
    };

    std::string path_;
    FileHandle handle_;
    std::vector<Function> functions_; // one a channel
    RecordingInfo info_;
    std::vector<Block> blocks_;
    std::int64_t next_ = 0; // frame
};

// Two lines tell: "    -1" and a dataset's number in the first six columns. A column of numbers can begin like that,
// but goes on like that too.
Result<bool> is_uff(const OpenedFile& file, const std::string& path)
{
    std::array<char, 512> head{};
    const auto got = read_bytes_at(file.handle, path, 0, head);
    if (!got) return fail(got.error());
    std::string_view rest(head.data(), *got);
    std::array<std::string_view, 3> lines{};
    for (std::string_view& line : lines) {
        const auto end = std::min(rest.find('\n'), rest.size());
        line = without_trailing_blanks(rest.substr(0, end));
        rest.remove_prefix(std::min(end + 1, rest.size()));
    }
    const auto number = whole_number(columns(lines[1], 0, 6));
    if (!is_delimiter(lines[0]) || !number || *number < 1 || lines[1].size() < 6 || lines[1][5] == ' ') return false;
    return lines[1].size() > 6 || lines[2].size() != 6 || !whole_number(lines[2]) || is_delimiter(lines[2]);
}

} // namespace

Result<std::unique_ptr<RecordingReader>> open_uff(const std::string& path, const ReadOptions& options)
{
    auto opened = open_regular_file(path);
    if (!opened) return fail(opened.error());
    const auto ours = is_uff(*opened, path);
    if (!ours) return fail(ours.error());
    if (!*ours) return nullptr;
    const auto functions = Scanner(*opened, path).scan();
    if (!functions) return fail(functions.error());
    if (functions->empty())
        return fail(text_problem(path, 0, 0, "it holds no function (dataset 58 or 58b)", "export the time responses"));

    const std::vector<Group> groups = groups_of(*functions);
    const auto refusal = [&](const Group& group) {
        const Function& f = *group.functions.front();
        return fail(text_problem(path, f.line, 0,
                                 f.line > 0 ? group.why_not : fmt::format("byte {}: {}", f.offset, group.why_not),
                                 group.remedy));
    };
    // Functions that are no recordings do not keep a file from being read that holds one recording alone.
    const std::vector<RecordingPart> readable = parts_in(groups, true), all = parts_in(groups, false);
    if (options.part.empty() && readable.empty()) return refusal(groups.front());
    const auto& offered = options.part.empty() ? readable : all;
    const auto chosen = chosen_part(path, offered, options.part);
    if (!chosen) return fail(chosen.error());
    const auto at = std::ranges::find(all, offered[*chosen].name, &RecordingPart::name) - all.begin();
    const Group& group = groups[static_cast<std::size_t>(at)];
    if (!group.why_not.empty()) return refusal(group);
    std::vector<Function> channels;
    for (const Function* f : group.functions) channels.push_back(*f);
    return std::make_unique<UffReader>(path, std::move(opened->handle), std::move(channels), info_of(group, groups));
}

Result<std::vector<RecordingPart>> parts_of_uff(const std::string& path)
{
    auto opened = open_regular_file(path);
    if (!opened) return fail(opened.error());
    const auto ours = is_uff(*opened, path);
    if (!ours) return fail(ours.error());
    if (!*ours) return std::vector<RecordingPart>{};
    const auto functions = Scanner(*opened, path).scan();
    if (!functions) return fail(functions.error());
    return parts_in(groups_of(*functions), false);
}

} // namespace becalm::io
