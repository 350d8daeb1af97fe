// Delimited text, streamed: rows are read where they lie in one block of the file, so memory does not grow with its
// length.
//
// Opening goes once through the file, to count the rows and to prove that the times run evenly; numbers are converted
// when they are asked for. How the file writes its numbers is told by src/io/text_dialect.h.
#include <algorithm>
#include <array>
#include <cmath>
#include <cstring>
#include <unistd.h>

#include <fmt/format.h>

#include "src/io/even_time.h"
#include "src/io/recording_reader.h"
#include "src/io/regular_file.h"
#include "src/io/text_dialect.h"

namespace becalm::io {

namespace {

constexpr std::size_t head_bytes = std::size_t{64} << 10;
constexpr std::size_t longest_line = std::size_t{1} << 20;
constexpr int greatest_channels = 256;

// The lines of a file from some place on.
class LineSource {
public:
    LineSource(FileHandle handle, std::string path)
        : handle_(std::move(handle)), path_(std::move(path)), block_(longest_line)
    {
    }

    void begin_at(std::int64_t offset, std::int64_t line)
    {
        // A regular file that is open can always be positioned; a fault of the disk shows in the read that follows.
        ::lseek(handle_.get(), offset, SEEK_SET);
        begin_ = end_ = 0;
        number_ = line - 1;
        at_end_ = false;
        fault_.reset();
    }

    // The next line without its end; false at the end of the file or after a fault. The line lives until the next call.
    bool next(std::string_view& line)
    {
        for (std::size_t searched = 0;;) {
            const char* const from = block_.data() + begin_;
            if (const void* found =
                    end_ > begin_ + searched ? std::memchr(from + searched, '\n', end_ - begin_ - searched) : nullptr) {
                const auto length = static_cast<std::size_t>(static_cast<const char*>(found) - from);
                begin_ += length + 1;
                return give({from, length}, line);
            }
            searched = end_ - begin_;
            if (at_end_) {
                if (searched == 0) return false;
                begin_ = end_;
                return give({from, searched}, line);
            }
            if (!refill()) return false;
        }
    }

    std::int64_t number() const { return number_; }
    const std::optional<Problem>& fault() const { return fault_; }

private:
    bool give(std::string_view found, std::string_view& line)
    {
        if (!found.empty() && found.back() == '\r') found.remove_suffix(1);
        line = found;
        ++number_;
        return true;
    }

    bool refill()
    {
        const std::size_t kept = end_ - begin_;
        if (kept == block_.size()) {
            fault_ = text_problem(path_, number_ + 1, 0, fmt::format("a line is longer than {} bytes", longest_line),
                                  "check that the file has line ends");
            return false;
        }
        std::memmove(block_.data(), block_.data() + begin_, kept);
        const auto got = read_bytes(handle_, path_, std::span(block_).subspan(kept));
        if (!got) {
            fault_ = got.error();
            return false;
        }
        begin_ = 0;
        end_ = kept + *got;
        at_end_ = *got < block_.size() - kept;
        return true;
    }

    FileHandle handle_;
    std::string path_;
    std::vector<char> block_;
    std::size_t begin_ = 0; // of what is not yet handed out
    std::size_t end_ = 0;
    bool at_end_ = false;
    std::int64_t number_ = 0; // of the line handed out last
    std::optional<Problem> fault_;
};

struct Scan {
    std::int64_t rows = 0;
    EvenTime time;
};

const char* after_spaces(const char* at, const char* end)
{
    while (at < end && *at == ' ') ++at;
    return at;
}

Result<Scan> scan(LineSource& lines, const TextDialect& dialect, const std::string& path)
{
    Scan scan;
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
        const char* const end = line.data() + line.size();
        const char* const begin = after_spaces(line.data(), end);
        double time = 0.0;
        const char* const after = parse_number(begin, end, dialect, time);
        if (after == nullptr || skip_delimiter(after, end, dialect) == nullptr)
            return fail(row_problem(line, lines.number(), dialect, path));
        if (!std::isfinite(time))
            return fail(text_problem(path, lines.number(), 1 + static_cast<int>(begin - line.data()),
                                     "the time of this row is not a number", "write the time"));
        scan.time.add(time, {begin, static_cast<std::size_t>(after - begin)}, lines.number());
    }
    if (lines.fault()) return fail(*lines.fault());
    return scan;
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
                        step->to, time.printed_unit() * dialect.time_unit_s, mean_s),
            "print times with more digits, or write the line # rate_hz: 1000 (with the right rate) above the numbers"));
    if (const auto step = time.irregular_step()) {
        const bool back = step->to <= step->from;
        const std::string moves = step->to == step->from ? "stands still at" : back ? "goes back" : "jumps";
        const std::string places =
            step->to == step->from ? fmt::format("{}", step->to) : fmt::format("from {} to {}", step->from, step->to);
        return fail(text_problem(path, step->line, 0,
                                 fmt::format("time {} {} at line {}; this step is {:.6g} s, the mean step {:.6g} s",
                                             moves, places, step->line, step->length() * dialect.time_unit_s, mean_s),
                                 "split the recording there, or resample it to an even rate"));
    }
    if (!(mean_s > 0.0))
        return fail(
            text_problem(path, dialect.first_row_line, 0, "the time column does not rise", "give rising times"));
    const double measured = 1.0 / mean_s;
    if (stated && differ(*stated, measured))
        return fail(text_problem(
            path, dialect.rate_hz ? dialect.rate_line : 0, 0,
            fmt::format("the rate is stated as {} Hz, but the time column runs at {:.6g} Hz", *stated, measured),
            "keep the right one"));
    return stated ? *stated : measured;
}

class TextReader final : public RecordingReader {
public:
    TextReader(std::string path, LineSource lines, TextDialect dialect, RecordingInfo info)
        : path_(std::move(path)), lines_(std::move(lines)), dialect_(std::move(dialect)), info_(std::move(info))
    {
        rewind();
    }

    const RecordingInfo& info() const override { return info_; }

    Result<std::size_t> read(std::span<double> values) override
    {
        const auto channels = static_cast<std::size_t>(info_.channels);
        const std::size_t frames = std::min(values.size() / channels, static_cast<std::size_t>(info_.frames - next_));
        for (std::size_t frame = 0; frame < frames; ++frame) {
            std::string_view row;
            if (auto fault = next_row(row)) return fail(std::move(*fault));
            if (!convert(row, values.data() + frame * channels))
                return fail(row_problem(row, lines_.number(), dialect_, path_));
            ++next_;
        }
        return frames;
    }

    Result<void> seek(std::int64_t frame) override
    {
        if (frame < 0 || frame > info_.frames)
            return fail(text_problem(path_, 0, 0,
                                     fmt::format("frame {} of {} cannot be reached", frame + 1, info_.frames),
                                     "ask for a frame within the recording"));
        if (frame < next_) rewind();
        for (std::string_view row; next_ < frame; ++next_)
            if (auto fault = next_row(row)) return fail(std::move(*fault));
        return {};
    }

private:
    void rewind()
    {
        lines_.begin_at(dialect_.first_row_offset, dialect_.first_row_line);
        next_ = 0;
    }

    std::optional<Problem> next_row(std::string_view& row)
    {
        while (lines_.next(row))
            if (kind_of_line(row) == LineKind::row) return std::nullopt;
        if (lines_.fault()) return lines_.fault();
        return text_problem(path_, lines_.number(), 0, "the file became shorter while it was read", "read it again");
    }

    bool convert(std::string_view row, double* values) const
    {
        const char* const end = row.data() + row.size();
        const char* at = after_spaces(row.data(), end);
        double time = 0.0;
        for (int field = 0; field < dialect_.fields; ++field) {
            if (at == end) return false;
            const bool is_time = dialect_.time_column && field == 0;
            at = parse_number(at, end, dialect_, is_time ? time : *values);
            if (at == nullptr) return false;
            at = skip_delimiter(at, end, dialect_);
            if (at == nullptr) return false;
            if (!is_time) ++values;
        }
        return at == end;
    }

    std::string path_;
    LineSource lines_;
    TextDialect dialect_;
    RecordingInfo info_;
    std::int64_t next_ = 0; // frame
};

} // namespace

Result<std::unique_ptr<RecordingReader>> open_text(const std::string& path, const ReadOptions& options)
{
    if (options.rate_hz && !(*options.rate_hz > 0.0 && std::isfinite(*options.rate_hz))) {
        Problem problem =
            text_problem(path, 0, 0, fmt::format("rate_hz is {}", *options.rate_hz), "give a rate above 0 Hz");
        problem.kind = ProblemKind::usage;
        return fail(std::move(problem));
    }
    auto opened = open_regular_file(path);
    if (!opened) return fail(opened.error());
    std::vector<char> head(head_bytes);
    const auto got = read_bytes(opened->handle, path, head);
    if (!got) return fail(got.error());
    const std::string_view beginning(head.data(), *got);
    if (!is_printable_text(beginning)) return nullptr;

    auto dialect = detect_dialect(beginning, *got < head_bytes, options.rate_hz.has_value(), path);
    if (!dialect) return fail(dialect.error());

    LineSource lines(std::move(opened->handle), path);
    const auto scanned = scan(lines, *dialect, path);
    if (!scanned) return fail(scanned.error());
    const auto rate = rate_of(*dialect, scanned->time, options, path);
    if (!rate) return fail(rate.error());

    RecordingInfo info;
    info.format = "delimited text";
    info.rate_hz = *rate;
    info.channels = dialect->fields - (dialect->time_column ? 1 : 0);
    info.frames = scanned->rows;
    info.seekable = false;
    info.names = dialect->names;
    info.unit = dialect->unit;
    if (info.channels > greatest_channels)
        return fail(
            text_problem(path, dialect->first_row_line, 0,
                         fmt::format("it has {} channels; 1 to {} can be read", info.channels, greatest_channels),
                         "split it into several files"));
    return std::make_unique<TextReader>(path, std::move(lines), std::move(*dialect), std::move(info));
}

} // namespace becalm::io
