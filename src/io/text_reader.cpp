// Delimited text, streamed: rows are read where they lie in one block of the file, so memory does not grow with its
// length.
//
// Opening goes once through the file, to count the rows and to prove that the times run evenly; numbers are converted
// when they are asked for. How the file writes its numbers is told by src/io/text_dialect.h.
#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "src/io/even_time.h"
#include "src/io/recording_reader.h"
#include "src/io/regular_file.h"
#include "src/io/teds.h"
#include "src/io/text_clock.h"
#include "src/io/text_dialect.h"
#include "src/io/text_grid.h"
#include "src/io/text_lines.h"

namespace becalm::io {

namespace {

constexpr std::size_t head_bytes = std::size_t{64} << 10;
constexpr int greatest_channels = 256;

using Step = TimeStep;

const char* after_spaces(const char* at, const char* end)
{
    while (at < end && *at == ' ') ++at;
    return at;
}

// The time of row after row, in the unit of the time column; by the clock in seconds since midnight of the first day.
class RowTimes {
public:
    RowTimes(const TextDialect& dialect, const std::string& path) : dialect_(&dialect), path_(&path) {}

    // `precision` may be null.
    Result<double> next(std::string_view row, std::int64_t line, PrintedPrecision* precision)
    {
        const char* const end = row.data() + row.size();
        const char* const begin = after_spaces(row.data(), end);
        if (dialect_->clock_fields > 0) return next_on_clock(row, begin, end, line, precision);
        double time = 0.0;
        const char* const after = parse_number(begin, end, *dialect_, time);
        if (after == nullptr || skip_delimiter(after, end, *dialect_) == nullptr)
            return fail(row_problem(row, line, *dialect_, *path_));
        if (!std::isfinite(time))
            return fail(text_problem(*path_, line, 1 + static_cast<int>(begin - row.data()),
                                     "the time of this row is not a number", "write the time"));
        if (precision != nullptr) precision->add({begin, static_cast<std::size_t>(after - begin)});
        return time;
    }

    const std::optional<ClockTime>& first() const { return first_; }

private:
    Result<double> next_on_clock(std::string_view row, const char* begin, const char* end, std::int64_t line,
                                 PrintedPrecision* precision)
    {
        const char* at = nullptr;
        const std::string_view field = field_at(begin, end, dialect_->delimiter, at);
        const char* then = skip_delimiter(at, end, *dialect_);
        std::optional<ClockTime> time;
        if (then != nullptr && dialect_->clock_fields == 2) {
            const auto day = date_in(field);
            time = time_of_day_in(field_at(then, end, dialect_->delimiter, at));
            then = skip_delimiter(at, end, *dialect_);
            if (time) time->day = day;
            if (!day) time.reset();
        } else if (then != nullptr) {
            time = date_and_time_in(field);
            if (!time) time = time_of_day_in(field);
        }
        if (!time || then == nullptr) return fail(row_problem(row, line, *dialect_, *path_));
        if (!first_) {
            first_ = time;
            midnight_ns_ = first_->total_ns() - first_->of_day_ns;
        }
        if (time->day.has_value() != first_->day.has_value() ||
            time->offset_s.has_value() != first_->offset_s.has_value())
            return fail(text_problem(*path_, line, 0, "the time of this row is not written as in the rows above",
                                     "give every row a date, or none, and an offset from UTC, or none"));
        std::int64_t ns = time->total_ns() - midnight_ns_ + days_ * day_ns;
        // Without a date, a clock that falls by more than half a day has passed midnight.
        if (!time->day && last_ns_ - ns > day_ns / 2) {
            if (days_ == most_days)
                return fail(text_problem(*path_, line, 0, "the clock has passed midnight too often to be one recording",
                                         "put the date in front of the times"));
            ++days_;
            ns += day_ns;
        }
        last_ns_ = ns;
        if (precision != nullptr) precision->add_decimals(time->decimals);
        return static_cast<double>(ns) / static_cast<double>(nanoseconds);
    }

    const TextDialect* dialect_;
    const std::string* path_;
    std::optional<ClockTime> first_ = {};
    static constexpr std::int64_t most_days = 10'000;
    std::int64_t midnight_ns_ = 0;
    std::int64_t days_ = 0;
    std::int64_t last_ns_ = 0;
};

struct Scan {
    std::int64_t rows = 0;
    EvenTime time = {};
    std::optional<ClockTime> first = {}; // on a clock
};

Result<Scan> scan(LineSource& lines, const TextDialect& dialect, const std::string& path)
{
    Scan scan;
    RowTimes times(dialect, path);
    std::string_view line;
    std::int64_t blank_line = 0;
    lines.begin_at(dialect.first_row_offset, dialect.first_row_line);
    while (lines.next(line)) {
        const LineKind kind = kind_of_line(line);
        if (kind == LineKind::comment) continue;
        if (kind == LineKind::blank) {
            if (blank_line == 0) blank_line = lines.number();
            continue;
        }
        if (blank_line != 0)
            return fail(text_problem(path, blank_line, 0, "an empty line stands between rows of numbers",
                                     "take it out, or write nan for a lost sample"));
        ++scan.rows;
        if (!dialect.time_column) continue;
        const auto time = times.next(line, lines.number(), &scan.time.precision());
        if (!time) return fail(time.error());
        scan.time.add(*time, lines.number());
    }
    if (lines.fault()) return fail(*lines.fault());
    scan.first = times.first();
    return scan;
}

// A time as the file shows it.
std::string shown(double time, const TextDialect& dialect)
{
    if (dialect.clock_fields == 0) return fmt::format("{}", time);
    std::string face = clock_face(std::llround(time * static_cast<double>(nanoseconds)), 9);
    while (face.back() == '0') face.pop_back();
    if (face.back() == '.') face.pop_back();
    return face.size() < 8 ? face + "0" : face;
}

// A clock set forth or back by an hour in the middle, which is what summer time does.
bool is_by_an_hour(const Step& step, const TextDialect& dialect)
{
    return dialect.clock_fields > 0 && std::abs(std::abs(step.length()) - 3600.0) < 5.0;
}

// More than this between two statements of one rate is a contradiction and not a matter of digits.
bool differ(double stated_hz, double other_hz) { return std::abs(stated_hz - other_hz) > 1e-3 * stated_hz; }

Result<double> rate_of(const TextDialect& dialect, const EvenTime& time, const ReadOptions& options,
                       const std::string& path)
{
    if (dialect.rate_hz && options.rate_hz && differ(*options.rate_hz, *dialect.rate_hz))
        return fail(text_problem(path, dialect.rate_line, 0,
                                 fmt::format("this states a rate of {} Hz, but {} Hz was given as rate_hz",
                                             *dialect.rate_hz, *options.rate_hz),
                                 "keep the right one"));
    const auto stated = dialect.rate_hz ? dialect.rate_hz : options.rate_hz;
    if (!dialect.time_column || time.rows() < 2) {
        if (stated) return *stated;
        return fail(text_problem(
            path, 0, 0, "the file states no rate and has no time column",
            "write the line # rate_hz: 1000 (with the right rate) above the numbers, or add a time column"));
    }

    const double mean_s = time.mean_step() * dialect.time_unit_s;
    if (const auto step = time.unresolved_step(); step && !stated)
        return fail(text_problem(
            path, step->line, 0,
            fmt::format("time stands still at {}: times are printed to {:.3g} s, but follow each other by {:.3g} s, so "
                        "that a lost sample would not show",
                        shown(step->to, dialect), time.printed_unit() * dialect.time_unit_s, mean_s),
            "print times with more digits, or write the line # rate_hz: 1000 (with the right rate) above the numbers"));
    if (const auto step = time.irregular_step()) {
        const bool back = step->to <= step->from;
        const std::string moves = step->to == step->from ? "stands still at" : back ? "goes back" : "jumps";
        const std::string places =
            step->to == step->from ? shown(step->to, dialect)
                                   : fmt::format("from {} to {}", shown(step->from, dialect), shown(step->to, dialect));
        return fail(text_problem(path, step->line, 0,
                                 fmt::format("time {} {} at line {}; this step is {:.6g} s, the mean step {:.6g} s",
                                             moves, places, step->line, step->length() * dialect.time_unit_s, mean_s),
                                 is_by_an_hour(*step, dialect)
                                     ? "this looks like the change to or from summer time: give times in UTC"
                                     : "split the recording there, or resample it to an even rate"));
    }
    if (!(mean_s > 0.0))
        return fail(
            text_problem(path, dialect.first_row_line, 0, "the time column does not rise", "give rising times"));
    const double measured = 1.0 / mean_s;
    // The first and the last time are printed to a unit, which over few rows may be much.
    const double of_printing =
        time.printed_unit() / (std::abs(time.mean_step()) * static_cast<double>(time.rows() - 1));
    if (stated && differ(*stated, measured) && std::abs(*stated - measured) > of_printing * measured)
        return fail(text_problem(
            path, dialect.rate_hz ? dialect.rate_line : 0, 0,
            fmt::format("the rate is stated as {} Hz, but the time column runs at {:.6g} Hz", *stated, measured),
            "keep the right one"));
    return stated ? *stated : measured;
}

// The rows of a file, one after the other.
class Rows {
public:
    Rows(std::string path, LineSource lines, TextDialect dialect)
        : path_(std::move(path)), lines_(std::move(lines)), dialect_(std::move(dialect))
    {
        rewind();
    }

    const std::string& path() const { return path_; }
    const TextDialect& dialect() const { return dialect_; }
    std::int64_t line() const { return lines_.number(); }

    void rewind() { lines_.begin_at(dialect_.first_row_offset, dialect_.first_row_line); }

    std::optional<Problem> next(std::string_view& row)
    {
        while (lines_.next(row))
            if (kind_of_line(row) == LineKind::row) return std::nullopt;
        if (lines_.fault()) return lines_.fault();
        return text_problem(path_, lines_.number(), 0, "the file became shorter while it was read", "read it again");
    }

    // The values behind the time, which was looked at when the file was opened.
    std::optional<Problem> convert(std::string_view row, double* values) const
    {
        const char* const end = row.data() + row.size();
        const char* at = after_spaces(row.data(), end);
        const int times = dialect_.time_fields();
        for (int field = 0; field < dialect_.fields; ++field) {
            if (at == end) return fault_of(row);
            if (field < times)
                field_at(at, end, dialect_.delimiter, at);
            else
                at = parse_number(at, end, dialect_, *values++);
            if (at == nullptr) return fault_of(row);
            at = skip_delimiter(at, end, dialect_);
            if (at == nullptr) return fault_of(row);
        }
        return at == end ? std::nullopt : std::optional(fault_of(row));
    }

private:
    Problem fault_of(std::string_view row) const { return row_problem(row, lines_.number(), dialect_, path_); }

    std::string path_;
    LineSource lines_;
    TextDialect dialect_;
};

Problem out_of_reach(const std::string& path, std::int64_t frame, std::int64_t frames)
{
    return text_problem(path, 0, 0, fmt::format("frame {} of {} cannot be reached", frame + 1, frames),
                        "ask for a frame within the recording");
}

class TextReader final : public RecordingReader {
public:
    TextReader(Rows rows, RecordingInfo info) : rows_(std::move(rows)), info_(std::move(info)) {}

    const RecordingInfo& info() const override { return info_; }

    Result<std::size_t> read(std::span<double> values) override
    {
        const auto channels = static_cast<std::size_t>(info_.channels);
        const std::size_t frames = std::min(values.size() / channels, static_cast<std::size_t>(info_.frames - next_));
        for (std::size_t frame = 0; frame < frames; ++frame) {
            std::string_view row;
            if (auto fault = rows_.next(row)) return fail(std::move(*fault));
            if (auto fault = rows_.convert(row, values.data() + frame * channels)) return fail(std::move(*fault));
            ++next_;
        }
        return frames;
    }

    Result<void> seek(std::int64_t frame) override
    {
        if (frame < 0 || frame > info_.frames) return fail(out_of_reach(rows_.path(), frame, info_.frames));
        if (frame < next_) {
            rows_.rewind();
            next_ = 0;
        }
        for (std::string_view row; next_ < frame; ++next_)
            if (auto fault = rows_.next(row)) return fail(std::move(*fault));
        return {};
    }

private:
    Rows rows_;
    RecordingInfo info_;
    std::int64_t next_ = 0; // frame
};

// Rows at irregular times put onto an even grid, see src/io/text_grid.h.
class ResamplingReader final : public RecordingReader {
public:
    ResamplingReader(Rows rows, RecordingInfo info, std::int64_t count)
        : rows_(std::move(rows)), info_(std::move(info)), count_(count),
          grid_(static_cast<std::size_t>(info_.channels), info_.rate_hz),
          row_(static_cast<std::size_t>(info_.channels)), times_(rows_.dialect(), rows_.path())
    {
    }
    // `times_` looks at the dialect in `rows_`.
    ResamplingReader(const ResamplingReader&) = delete;
    ResamplingReader& operator=(const ResamplingReader&) = delete;

    const RecordingInfo& info() const override { return info_; }

    Result<std::size_t> read(std::span<double> values) override
    {
        const auto channels = static_cast<std::size_t>(info_.channels);
        std::size_t frames = 0;
        for (; frames < values.size() / channels && next_ < info_.frames; ++frames, ++next_) {
            while (!grid_.give(next_, values.subspan(frames * channels, channels)))
                if (auto fault = feed()) return fail(std::move(*fault));
        }
        return frames;
    }

    Result<void> seek(std::int64_t frame) override
    {
        if (frame < 0 || frame > info_.frames) return fail(out_of_reach(rows_.path(), frame, info_.frames));
        if (frame < next_) begin_again();
        next_ = frame; // the grid passes over what is not asked for
        return {};
    }

    // Goes once through the record; the shape of what lies between the rows is known this well.
    Result<double> difference()
    {
        std::vector<double> block(static_cast<std::size_t>(info_.channels) * 1024);
        for (;;) {
            const auto got = read(block);
            if (!got) return fail(got.error());
            if (*got == 0) break;
        }
        const double difference = grid_.difference();
        begin_again();
        return difference;
    }
    void say(std::string words) { info_.resampled = std::move(words); }

private:
    void begin_again()
    {
        rows_.rewind();
        times_ = RowTimes(rows_.dialect(), rows_.path());
        grid_.begin();
        fed_ = 0;
        next_ = 0;
    }

    std::optional<Problem> feed()
    {
        if (fed_ == count_) {
            grid_.end();
            return std::nullopt;
        }
        std::string_view row;
        if (auto fault = rows_.next(row)) return fault;
        const auto time = times_.next(row, rows_.line(), nullptr);
        if (!time) return time.error();
        if (auto fault = rows_.convert(row, row_.data())) return fault;
        ++fed_;
        grid_.add(*time * rows_.dialect().time_unit_s, row_);
        return std::nullopt;
    }

    Rows rows_;
    RecordingInfo info_;
    std::int64_t count_; // rows
    EvenGrid grid_;
    std::vector<double> row_;
    RowTimes times_;
    std::int64_t fed_ = 0;
    std::int64_t next_ = 0; // frame
};

// Why these rows cannot be put onto an even grid of `rate_hz`.
std::optional<Problem> why_not_resampled(const TextDialect& dialect, const EvenTime& time, double rate_hz,
                                         const std::string& path)
{
    const auto refusal = [&](std::int64_t line, std::string what, std::string remedy) {
        return text_problem(path, line, 0, std::move(what), std::move(remedy));
    };
    if (!dialect.time_column || time.rows() < 4)
        return refusal(0, "resample_hz wants a time column and at least four rows", "take resample_hz out");
    if (const Step back = time.shortest_step(); back.length() < 0.0)
        return refusal(
            back.line, fmt::format("time goes back from {} to {}", shown(back.from, dialect), shown(back.to, dialect)),
            is_by_an_hour(back, dialect) ? "this looks like the change to or from summer time: give times in UTC"
                                         : "put the rows in order of time");
    if (const auto step = time.unresolved_step())
        return refusal(step->line,
                       fmt::format("times are printed too coarsely to put the rows in their places: to {:.3g} s",
                                   time.printed_unit() * dialect.time_unit_s),
                       "print times with more digits");
    const double span_s = (time.last() - time.first()) * dialect.time_unit_s;
    if (!(span_s > 0.0)) return refusal(dialect.first_row_line, "the time column does not rise", "give rising times");
    const double usual_s = span_s / static_cast<double>(time.rows() - 1 - time.standing());
    if (!time.irregular_step()) {
        if (!differ(rate_hz, 1.0 / usual_s)) return std::nullopt;
        return refusal(dialect.first_row_line,
                       fmt::format("its times run evenly at {:.6g} Hz; resample_hz = {:.6g} is for times that do not",
                                   1.0 / usual_s, rate_hz),
                       "take resample_hz out");
    }
    constexpr double greatest_gap = 10.0;  // usual steps; common practice, no source
    constexpr double greatest_gain = 20.0; // nothing was measured up there
    const Step gap = time.longest_step();
    if (gap.length() * dialect.time_unit_s > greatest_gap * usual_s)
        return refusal(gap.line,
                       fmt::format("nothing was recorded from {} to {}, {:.3g} times the mean step of {:.3g} s",
                                   shown(gap.from, dialect), shown(gap.to, dialect),
                                   gap.length() * dialect.time_unit_s / usual_s, usual_s),
                       "split the recording there");
    if (rate_hz * usual_s < 0.999)
        return refusal(0,
                       fmt::format("resample_hz is {:.6g}, and the rows come at {:.6g} Hz in the mean; what lies above "
                                   "half of the lower rate would be folded down",
                                   rate_hz, 1.0 / usual_s),
                       fmt::format("write resample_hz = {:.0f} or more", std::ceil(1.0 / usual_s)));
    if (rate_hz * usual_s > greatest_gain)
        return refusal(
            0, fmt::format("resample_hz is {:.6g}, and the rows come at {:.6g} Hz in the mean", rate_hz, 1.0 / usual_s),
            fmt::format("write resample_hz = {:.0f} or less", std::floor(greatest_gain / usual_s)));
    return std::nullopt;
}

} // namespace

Result<std::unique_ptr<RecordingReader>> open_text(const std::string& path, const ReadOptions& options)
{
    for (const auto& [name, rate_hz] :
         {std::pair("rate_hz", options.rate_hz), std::pair("resample_hz", options.resample_hz)})
        if (rate_hz && !(*rate_hz > 0.0 && std::isfinite(*rate_hz))) {
            Problem problem =
                text_problem(path, 0, 0, fmt::format("{} is {}", name, *rate_hz), "give a rate above 0 Hz");
            problem.kind = ProblemKind::usage;
            return fail(std::move(problem));
        }
    auto opened = open_regular_file(path);
    if (!opened) return fail(opened.error());
    std::vector<char> head(head_bytes);
    const auto got = read_bytes(opened->handle, path, head);
    if (!got) return fail(got.error());
    std::string_view beginning(head.data(), *got);
    const bool whole = *got < head_bytes;
    const TextEncoding encoding = encoding_of(beginning);
    std::string transcoded;
    if (encoding != TextEncoding::bytes) {
        transcoded.resize(3 * beginning.size());
        Utf16Decoder decoder(encoding);
        char* out = decoder.decode(beginning.substr(2), transcoded.data());
        if (whole) out = decoder.finish(out);
        transcoded.resize(static_cast<std::size_t>(out - transcoded.data()));
        beginning = transcoded;
    }
    if (beginning.empty() || !is_printable_text(beginning)) return nullptr;

    auto dialect = detect_dialect(beginning, whole, options.rate_hz.has_value(), path);
    if (!dialect) return fail(dialect.error());

    LineSource lines(std::move(*opened), path, encoding);
    const auto scanned = scan(lines, *dialect, path);
    if (!scanned) return fail(scanned.error());
    bool resample = false;
    if (options.resample_hz) {
        if (auto fault = why_not_resampled(*dialect, scanned->time, *options.resample_hz, path))
            return fail(std::move(*fault));
        resample = scanned->time.irregular_step().has_value();
    }
    const auto rate = resample ? Result<double>(*options.resample_hz) : rate_of(*dialect, scanned->time, options, path);
    if (!rate) return fail(rate.error());

    RecordingInfo info;
    info.format = "delimited text";
    info.rate_hz = *rate;
    info.channels = dialect->fields - dialect->time_fields();
    info.frames = scanned->rows;
    info.seekable = false;
    info.names = dialect->names;
    info.unit = dialect->unit;
    info.facts = dialect->facts;
    info.start = dialect->start;
    read_sheets(info);
    if (const auto& first = scanned->first) {
        if (first->day)
            info.start = iso_8601(*first);
        else if (info.start.empty())
            info.remarks.push_back(
                fmt::format("the clock of the first row shows {}; the date is not stated", iso_8601(*first)));
    }
    if (info.channels > greatest_channels)
        return fail(
            text_problem(path, dialect->first_row_line, 0,
                         fmt::format("it has {} channels; 1 to {} can be read", info.channels, greatest_channels),
                         "split it into several files"));
    if (dialect->rate_hz && dialect->time_column && scanned->rows > 1 && !resample) {
        const EvenTime& time = scanned->time;
        const double steps = std::abs(time.mean_step()) * static_cast<double>(scanned->rows - 1);
        info.timed_rate = {.hz = 1.0 / (time.mean_step() * dialect->time_unit_s),
                           .relative = time.printed_unit() / steps,
                           .by = "its time column"};
    }
    Rows rows(path, std::move(lines), std::move(*dialect));
    if (!resample) return std::make_unique<TextReader>(std::move(rows), std::move(info));

    const EvenTime& time = scanned->time;
    const double unit_s = rows.dialect().time_unit_s;
    const double span_s = (time.last() - time.first()) * unit_s;
    info.format = "delimited text, resampled";
    info.frames = EvenGrid::frames_in(span_s, *rate);
    auto reader = std::make_unique<ResamplingReader>(std::move(rows), std::move(info), scanned->rows);
    const auto difference = reader->difference();
    if (!difference) return fail(difference.error());
    const double mean_hz = static_cast<double>(time.rows() - 1 - time.standing()) / span_s;
    reader->say(fmt::format(
        "its {} rows at irregular times ({:.4g} Hz in the mean, longest gap {:.3g} s{}) were put onto {:.6g} Hz by "
        "cubic "
        "interpolation; straight lines between the rows would differ by {:.2g} % (r.m.s.), and what was between them "
        "above "
        "about {:.3g} Hz is not known",
        time.rows(), mean_hz, time.longest_step().length() * unit_s,
        time.standing() > 0 ? fmt::format("; {} of one time with another were averaged", time.standing()) : "", *rate,
        100.0 * *difference, 0.5 / (time.longest_step().length() * unit_s)));
    return reader;
}

} // namespace becalm::io
