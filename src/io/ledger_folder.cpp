#include "src/io/ledger_folder.h"

#include <algorithm>
#include <array>
#include <bit>
#include <cerrno>
#include <charconv>
#include <cmath>
#include <fcntl.h>
#include <filesystem>
#include <system_error>
#include <unistd.h>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "src/io/atomic_file.h"
#include "src/io/json_in.h"
#include "src/io/json_out.h"
#include "src/io/ledger_npy.h"
#include "src/io/raw_bytes.h"

namespace becalm::io {
namespace {

namespace fs = std::filesystem;
using Json = nlohmann::json;

constexpr std::uint64_t room_for_rows = 1'000'000'000'000; // whose number the header has room for
constexpr std::int64_t records_at_once = 4096;

// Rows added up. The first of them can be the first of a selection, whose window must not reach back.
struct Sums {
    Tally tally = {};
    double linear_rms_if_first = 0.0;
    double raw_min = std::numeric_limits<double>::infinity(), raw_max = -std::numeric_limits<double>::infinity();
    std::int64_t pieces = 0;

    void add(const LedgerRow& row, double rate_hz)
    {
        tally.add(row, rate_hz, false);
        linear_rms_if_first = std::max(linear_rms_if_first, pieces == 0 ? row.linear_rms_within : row.linear_rms);
        raw_min = std::min(raw_min, row.raw_min);
        raw_max = std::max(raw_max, row.raw_max);
        ++pieces;
    }

    void add(const Sums& next)
    {
        linear_rms_if_first =
            std::max(linear_rms_if_first, pieces == 0 ? next.linear_rms_if_first : next.tally.linear_rms);
        tally = merge(tally, next.tally);
        raw_min = std::min(raw_min, next.raw_min);
        raw_max = std::max(raw_max, next.raw_max);
        ++pieces;
    }
};

std::span<const LedgerField> fields_of_sums()
{
    static constexpr std::array<LedgerField, 11> fields{{
        {"second", true, LedgerFieldUnit::seconds, "of the recording that the sum begins with"},
        {"samples", true, LedgerFieldUnit::none, ""},
        {"integral_squares", false, LedgerFieldUnit::lane_squared, "over time"},
        {"integral_fourths", false, LedgerFieldUnit::lane_fourth, "over time"},
        {"peak", false, LedgerFieldUnit::lane, ""},
        {"running_rms", false, LedgerFieldUnit::lane, ""},
        {"running_rms_if_first", false, LedgerFieldUnit::lane, "of windows that do not reach back before the sum"},
        {"running_rms_slow", false, LedgerFieldUnit::lane, ""},
        {"running_rms_fast", false, LedgerFieldUnit::lane, ""},
        {"recorded_min", false, LedgerFieldUnit::recorded, ""},
        {"recorded_max", false, LedgerFieldUnit::recorded, ""},
    }};
    return fields;
}

std::array<LedgerNumber, 11> numbers_of(const Sums& sums, std::int64_t second)
{
    const auto whole = [](std::int64_t value) { return LedgerNumber{.whole = value}; };
    const auto real = [](double value) { return LedgerNumber{.real = value}; };
    const Tally& tally = sums.tally;
    return {whole(second),
            whole(static_cast<std::int64_t>(tally.samples)),
            real(tally.sum_squares),
            real(tally.sum_fourths),
            real(tally.peak),
            real(tally.linear_rms),
            real(sums.linear_rms_if_first),
            real(tally.exponential_rms_slow),
            real(tally.exponential_rms_fast),
            real(sums.raw_min),
            real(sums.raw_max)};
}

double real_at(const char* record, std::size_t field)
{
    return number_at<double>(record + 8 * field, ByteOrder::little);
}

Sums sums_at(const char* record)
{
    Sums sums;
    sums.tally = {.samples = number_at<std::uint64_t>(record + 8, ByteOrder::little),
                  .sum_squares = real_at(record, 2),
                  .sum_fourths = real_at(record, 3),
                  .peak = real_at(record, 4),
                  .linear_rms = real_at(record, 5),
                  .exponential_rms_slow = real_at(record, 7),
                  .exponential_rms_fast = real_at(record, 8)};
    sums.linear_rms_if_first = real_at(record, 6);
    sums.raw_min = real_at(record, 9);
    sums.raw_max = real_at(record, 10);
    sums.pieces = 1;
    return sums;
}

// In the order of fields_of_ledger().
LedgerRow row_at(const char* record)
{
    return {.samples = static_cast<std::uint32_t>(number_at<std::uint64_t>(record + 8, ByteOrder::little)),
            .sum_squares = real_at(record, 9),
            .sum_fourths = real_at(record, 10),
            .peak = real_at(record, 4),
            .linear_rms = real_at(record, 5),
            .linear_rms_within = real_at(record, 6),
            .exponential_rms_slow = real_at(record, 7),
            .exponential_rms_fast = real_at(record, 8),
            .raw_min = real_at(record, 11),
            .raw_max = real_at(record, 12)};
}

Finding finding_in(const Json& entry)
{
    const auto second = [](const Json& value) {
        return value.is_null() ? std::optional<double>() : std::optional(value.get<double>());
    };
    Finding finding{.severity = Severity::refusal, // what is not known is not passed over
                    .code = entry.at("code").get<std::string>(),
                    .message = entry.at("message").get<std::string>(),
                    .from_s = second(entry.at("from_s")),
                    .to_s = second(entry.at("to_s"))};
    for (const Severity severity : {Severity::note, Severity::caution})
        if (entry.at("severity").get<std::string>() == name_of(severity)) finding.severity = severity;
    if (!entry.at("channel").is_null()) finding.channel = int_in(entry.at("channel"));
    for (const Json& span : entry.at("spans"))
        finding.spans.push_back({span.at(0).get<double>(), span.at(1).get<double>()});
    return finding;
}

Problem unusable(const std::string& path, std::string what, std::string remedy)
{
    return {.kind = ProblemKind::outside_world, .file = path, .what = std::move(what), .remedy = std::move(remedy)};
}

// A file of records that grows behind a header of its own.
class GrowingRecords {
public:
    static Result<GrowingRecords> create(const std::string& path, std::span<const LedgerField> fields)
    {
        GrowingRecords file(path, fields);
        file.handle_ = FileHandle(::open(path.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666));
        if (!file.handle_.is_open()) return fail(system_problem(path, FileAttempt::write, errno));
        file.end_ = static_cast<std::int64_t>(file.header_bytes_);
        if (auto written = file.tell(); !written) return fail(written.error());
        return file;
    }

    void add(std::span<const LedgerNumber> numbers)
    {
        append_npy_record(pending_, fields_, numbers);
        ++count_;
    }
    Result<void> write()
    {
        auto written = put(pending_, end_);
        end_ += static_cast<std::int64_t>(pending_.size());
        pending_.clear();
        return written;
    }
    Result<void> flush()
    {
        if (::fdatasync(handle_.get()) != 0) return fail(system_problem(path_, FileAttempt::write, errno));
        return {};
    }
    // Writes down how many there are.
    Result<void> tell() { return put(npy_header(fields_, static_cast<std::uint64_t>(count_), header_bytes_), 0); }

private:
    GrowingRecords(std::string path, std::span<const LedgerField> fields)
        : path_(std::move(path)), fields_(fields), header_bytes_(npy_header(fields, room_for_rows).size())
    {
    }

    Result<void> put(std::string_view bytes, std::int64_t at)
    {
        while (!bytes.empty()) {
            const ssize_t written = ::pwrite(handle_.get(), bytes.data(), bytes.size(), at);
            if (written < 0 && errno == EINTR) continue;
            if (written < 0) return fail(system_problem(path_, FileAttempt::write, errno));
            bytes.remove_prefix(static_cast<std::size_t>(written));
            at += written;
        }
        return {};
    }

    std::string path_;
    FileHandle handle_;
    std::span<const LedgerField> fields_;
    std::size_t header_bytes_;
    std::string pending_;
    std::int64_t end_ = 0, count_ = 0;
};

class Writer final : public LedgerFolderWriter {
public:
    Writer(std::string folder, const LedgerOrigin& origin) : folder_(std::move(folder)), origin_(origin)
    {
        for (const Lane& lane : origin.lanes) ledgers_.push_back({.lane = lane, .rate_hz = origin.rate_hz});
        for (std::size_t l = 0; l < ledgers_.size(); ++l)
            index_.lanes.push_back({.ledger = &ledgers_[l],
                                    .file = origin.file,
                                    .start = origin.start,
                                    .unit = origin.units[l],
                                    .recorded_unit = origin.recorded_unit,
                                    .selected = {TimeSpan{}},
                                    .rows_kept = 0});
        index_.sums_of_s = {minute_of_rows, hour_of_rows};
    }

    Result<void> begin()
    {
        for (const LedgerLane& lane : index_.lanes) {
            auto rows = GrowingRecords::create(path_of(npy_name_of(lane)), fields_of_ledger());
            if (!rows) return fail(rows.error());
            auto minutes = GrowingRecords::create(path_of(sums_name_of(lane, minute_of_rows)), fields_of_sums());
            if (!minutes) return fail(minutes.error());
            auto hours = GrowingRecords::create(path_of(sums_name_of(lane, hour_of_rows)), fields_of_sums());
            if (!hours) return fail(hours.error());
            files_.push_back({std::move(*rows), std::move(*minutes), std::move(*hours), {}, {}});
        }
        return commit({}, {});
    }

    Result<void> append(std::span<const std::vector<LedgerRow>> rows) override
    {
        BECALM_ASSERT(rows.size() == files_.size());
        for (std::size_t l = 0; l < rows.size(); ++l) {
            Files& files = files_[l];
            Ledger piece{.lane = ledgers_[l].lane, .rate_hz = origin_.rate_hz, .first_second = rows_, .rows = rows[l]};
            const LedgerLane lane{.ledger = &piece, .selected = {TimeSpan{}}};
            for (std::size_t i = 0; i < piece.rows.size(); ++i) {
                files.rows.add(ledger_numbers(lane, i));
                sum_up(files, piece.rows[i], rows_ + static_cast<std::int64_t>(i));
            }
            for (GrowingRecords* file : {&files.rows, &files.minutes, &files.hours})
                if (auto written = file->write(); !written) return written;
        }
        rows_ += rows.empty() ? 0 : std::ssize(rows.front());
        return {};
    }

    Result<void> commit(std::span<const Fitness> fitness, std::optional<std::vector<Finding>> findings) override
    {
        for (Files& files : files_)
            for (GrowingRecords* file : {&files.rows, &files.minutes, &files.hours})
                if (auto flushed = file->flush(); !flushed) return flushed;
        for (Files& files : files_)
            for (GrowingRecords* file : {&files.rows, &files.minutes, &files.hours})
                if (auto told = file->tell(); !told) return told;
        for (std::size_t l = 0; l < index_.lanes.size(); ++l) {
            index_.lanes[l].rows_kept = static_cast<std::uint64_t>(rows_);
            if (fitness.empty()) continue;
            index_.lanes[l].why_unfit = fitness[l].why_unfit;
            index_.lanes[l].holds_no_numbers = fitness[l].holds_no_numbers;
        }
        if (findings) index_.findings = std::move(findings);
        return write_file_atomically(path_of("index.json"), as_json(index_));
    }

private:
    struct Files {
        GrowingRecords rows, minutes, hours;
        Sums minute, hour; // that are not full yet
    };

    void sum_up(Files& files, const LedgerRow& row, std::int64_t second) const
    {
        files.minute.add(row, origin_.rate_hz);
        if (files.minute.pieces < minute_of_rows) return;
        files.minutes.add(numbers_of(files.minute, second + 1 - minute_of_rows));
        files.hour.add(files.minute);
        files.minute = {};
        if (files.hour.pieces < hour_of_rows / minute_of_rows) return;
        files.hours.add(numbers_of(files.hour, second + 1 - hour_of_rows));
        files.hour = {};
    }

    std::string path_of(const std::string& name) const { return (fs::path(folder_) / name).string(); }

    std::string folder_;
    LedgerOrigin origin_;
    std::vector<Ledger> ledgers_; // without rows: what the index points to
    LedgerIndex index_;
    std::vector<Files> files_;
    std::int64_t rows_ = 0; // of each lane
};

} // namespace

std::optional<Problem> why_not_begun(const std::string& folder)
{
    std::error_code error;
    if (!fs::exists(fs::path(folder) / "index.json", error)) return std::nullopt;
    return unusable(folder, "a ledger lies here already", "name a new folder, or move the old one away");
}

Result<std::unique_ptr<LedgerFolderWriter>> LedgerFolderWriter::create(const std::string& folder,
                                                                       const LedgerOrigin& origin)
{
    std::error_code error; // of making the folder it shows when the first file is written
    fs::create_directories(folder, error);
    if (auto problem = why_not_begun(folder)) return fail(std::move(*problem));
    auto writer = std::make_unique<Writer>(folder, origin);
    if (auto begun = writer->begin(); !begun) return fail(begun.error());
    return writer;
}

Result<LedgerFolder::Records> LedgerFolder::open_records(const std::string& path, std::span<const LedgerField> fields)
{
    auto opened = open_regular_file(path);
    if (!opened) return fail(opened.error());
    const auto damaged = [&](std::string what) {
        return fail(unusable(path, std::move(what), "take the folder from a copy, or stream the recording again"));
    };
    const std::size_t header_bytes = npy_header(fields, room_for_rows).size();
    std::string header(header_bytes, '\0');
    const auto got = read_bytes_at(opened->handle, path, 0, header);
    if (!got) return fail(got.error());
    constexpr std::string_view before = "'shape': (";
    const std::size_t at = header.find(before);
    std::uint64_t count = 0;
    if (at != std::string::npos)
        std::from_chars(header.data() + at + before.size(), header.data() + header.size(), count);
    if (*got < header_bytes || npy_header(fields, count, header_bytes) != header)
        return damaged("it does not begin as a file of a ledger does");
    Records records{.path = path,
                    .handle = std::move(opened->handle),
                    .header_bytes = static_cast<std::int64_t>(header_bytes),
                    .record_bytes = 8 * fields.size()};
    if (count > static_cast<std::uint64_t>(opened->size) / records.record_bytes ||
        opened->size - records.header_bytes < static_cast<std::int64_t>(count * records.record_bytes))
        return damaged(fmt::format("it is cut short: its header tells of {} records", count));
    records.count = static_cast<std::int64_t>(count);
    return records;
}

Result<LedgerFolder> LedgerFolder::open(const std::string& folder)
{
    const fs::path named(folder);
    const fs::path place = named.filename() == "index.json" ? named.parent_path() : named;
    const std::string index_path = (place / "index.json").string();
    const auto text = read_text_file(index_path);
    if (!text) return fail(text.error());
    LedgerFolder ledger;
    ledger.seconds_ = std::numeric_limits<std::int64_t>::max();
    try {
        const Json index = Json::parse(*text);
        for (const Json& entry : index.at("lanes")) {
            if (!entry.contains("sums"))
                return fail(unusable(index_path, "it tells of no sums: `becalm stream` did not write it",
                                     "stream the recording again"));
            const auto text_in = [&](const char* key) {
                return entry.at(key).is_null() ? std::string() : entry.at(key).get<std::string>();
            };
            const auto axis = axis_named(text_in("axis"));
            const auto weighting = weighting_named(text_in("weighting"));
            if (!axis || !weighting)
                return fail(unusable(index_path, "it names an unknown axis or weighting",
                                     "take the folder from a copy, or stream the recording again"));
            ledger.file_ = text_in("recording_file");
            ledger.start_ = text_in("start");
            ledger.recorded_unit_ = entry.at("units").at("recorded_min").get<std::string>();
            ledger.rate_hz_ = entry.at("rate_hz").get<double>();
            ledger.lanes_.push_back({.lane = {int_in(entry.at("channel")), *axis, *weighting},
                                     .unit = entry.at("units").at("rms").get<std::string>(),
                                     .why_unfit = text_in("why_unfit"),
                                     .holds_no_numbers = entry.at("holds_no_numbers").get<bool>()});
            const auto file_of = [&](int seconds) -> std::string {
                for (const Json& sums : entry.at("sums"))
                    if (int_in(sums.at("seconds")) == seconds) return sums.at("file").get<std::string>();
                return {};
            };
            Files files;
            const auto opened = [&](Records& records, const std::string& name,
                                    std::span<const LedgerField> fields) -> Result<void> {
                if (fs::path(name).filename() != name || name.empty())
                    return fail(unusable(index_path, fmt::format("it names \"{}\", no file of this folder", name),
                                         "take the folder from a copy, or stream the recording again"));
                auto found = open_records((place / name).string(), fields);
                if (!found) return fail(found.error());
                records = std::move(*found);
                return {};
            };
            // Sums before rows, which are written the other way round.
            if (auto found = opened(files.hours, file_of(hour_of_rows), fields_of_sums()); !found)
                return fail(found.error());
            if (auto found = opened(files.minutes, file_of(minute_of_rows), fields_of_sums()); !found)
                return fail(found.error());
            if (auto found = opened(files.rows, text_in("file"), fields_of_ledger()); !found)
                return fail(found.error());
            if (files.minutes.count > files.rows.count / minute_of_rows ||
                files.hours.count > files.rows.count / hour_of_rows)
                return fail(unusable(files.rows.path, "its sums tell of more rows than it has",
                                     "take the folder from a copy, or stream the recording again"));
            ledger.seconds_ = std::min(ledger.seconds_, files.rows.count);
            ledger.files_.push_back(std::move(files));
        }
        if (index.contains("findings")) {
            ledger.findings_.emplace();
            for (const Json& entry : index.at("findings")) ledger.findings_->push_back(finding_in(entry));
        }
    } catch (const std::exception& fault) { // of the parser and its accessors; they are not let out of here
        return fail(unusable(index_path, fmt::format("it is no index of a ledger: {}", fault.what()),
                             "name a folder that `becalm stream` wrote"));
    }
    if (ledger.lanes_.empty() || !(ledger.rate_hz_ > 0.0))
        return fail(unusable(index_path, "it tells of no lanes", "name a folder that `becalm stream` wrote"));
    return ledger;
}

Result<void> LedgerFolder::read(const Records& records, std::int64_t first, std::int64_t count,
                                std::vector<char>& bytes)
{
    bytes.resize(static_cast<std::size_t>(count) * records.record_bytes);
    const auto got =
        read_bytes_at(records.handle, records.path,
                      records.header_bytes + first * static_cast<std::int64_t>(records.record_bytes), bytes);
    if (!got) return fail(got.error());
    if (*got < bytes.size())
        return fail(unusable(records.path, fmt::format("record {} cannot be read: the file became shorter", first + 1),
                             "take the folder from a copy, or stream the recording again"));
    return {};
}

Result<Tally> LedgerFolder::tally(std::size_t lane, std::span<const Seconds> selected, bool with_sums) const
{
    const Files& files = files_[lane];
    Tally sum;
    std::vector<char> bytes;
    std::optional<Problem> fault;
    bool starts_run = true;
    const auto each = [&](const Records& records, std::int64_t first, std::int64_t end, auto&& visit) {
        for (std::int64_t at = first; at < end && !fault; at += records_at_once) {
            const std::int64_t count = std::min(records_at_once, end - at);
            if (auto got = read(records, at, count, bytes); !got) {
                fault = std::move(got.error());
                return;
            }
            for (std::int64_t i = 0; i < count; ++i)
                visit(bytes.data() + static_cast<std::size_t>(i) * records.record_bytes);
        }
    };
    const auto take = [&](const Sums& piece) {
        const double linear = std::max(sum.linear_rms, starts_run ? piece.linear_rms_if_first : piece.tally.linear_rms);
        sum = merge(sum, piece.tally);
        sum.linear_rms = linear;
        starts_run = false;
    };
    const auto take_rows = [&](std::int64_t from, std::int64_t to) {
        each(files.rows, from, to, [&](const char* record) {
            sum.add(row_at(record), rate_hz_, starts_run);
            starts_run = false;
        });
    };
    // Whole minutes, or hours of them, from what is written down or from the rows.
    const auto take_pieces = [&](std::int64_t from, std::int64_t to, int seconds) {
        const Records& records = seconds == hour_of_rows ? files.hours : files.minutes;
        const std::int64_t written = with_sums ? std::clamp(records.count * seconds, from, to) : from;
        each(records, from / seconds, written / seconds, [&](const char* record) { take(sums_at(record)); });
        Sums minute, hour;
        each(files.rows, written, to, [&](const char* record) {
            minute.add(row_at(record), rate_hz_);
            if (minute.pieces < minute_of_rows) return;
            hour.add(std::exchange(minute, {}));
            if (hour.pieces < seconds / minute_of_rows) return;
            take(hour);
            hour = {};
        });
    };
    const auto up = [](std::int64_t at, std::int64_t step) { return (at + step - 1) / step * step; };
    for (const Seconds& span : selected) {
        const std::int64_t from = std::clamp<std::int64_t>(span.from, 0, seconds_);
        const std::int64_t to = std::clamp<std::int64_t>(span.to, from, seconds_);
        starts_run = true;
        const auto take_minutes = [&](std::int64_t a, std::int64_t b) {
            const std::int64_t first = std::min(b, up(a, minute_of_rows));
            const std::int64_t last = std::max(first, b / minute_of_rows * minute_of_rows);
            take_rows(a, first);
            take_pieces(first, last, minute_of_rows);
            take_rows(last, b);
        };
        const std::int64_t first = up(from, hour_of_rows), last = to / hour_of_rows * hour_of_rows;
        if (first < last) {
            take_minutes(from, first);
            take_pieces(first, last, hour_of_rows);
            take_minutes(last, to);
        } else {
            take_minutes(from, to);
        }
        if (fault) return fail(std::move(*fault));
    }
    sum.duration_s = static_cast<double>(sum.samples) / rate_hz_;
    return sum;
}

Result<std::vector<LedgerRow>> LedgerFolder::rows(std::size_t lane, const Seconds& stretch) const
{
    const Records& records = files_[lane].rows;
    const std::int64_t from = std::clamp<std::int64_t>(stretch.from, 0, seconds_);
    const std::int64_t to = std::clamp<std::int64_t>(stretch.to, from, seconds_);
    std::vector<LedgerRow> rows;
    rows.reserve(static_cast<std::size_t>(to - from));
    std::vector<char> bytes;
    for (std::int64_t at = from; at < to; at += records_at_once) {
        const std::int64_t count = std::min(records_at_once, to - at);
        if (auto got = read(records, at, count, bytes); !got) return tl::unexpected(got.error());
        for (std::int64_t i = 0; i < count; ++i)
            rows.push_back(row_at(bytes.data() + static_cast<std::size_t>(i) * records.record_bytes));
    }
    return rows;
}

Result<Tally> LedgerFolder::tally(std::size_t lane, std::span<const Seconds> selected) const
{
    return tally(lane, selected, true);
}

Result<Tally> LedgerFolder::tally_of_rows(std::size_t lane, std::span<const Seconds> selected) const
{
    return tally(lane, selected, false);
}

} // namespace becalm::io
