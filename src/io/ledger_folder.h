// A ledger in a folder that grows while a recording lasts, and questions to it that do not read every row.
//
// The folder is that of src/io/ledger_npy.h, a file of rows for each lane, and beside it two files of sums: a record
// for every whole minute and every whole hour of the recording. A question adds up whole hours, whole minutes at both
// ends and single rows at the ends of those.
//
// The order of addition is part of what a sum is: a minute is the sum of its rows in their order, an hour that of its
// minutes, a selection that of its pieces in order of time, each piece the largest that fits. So a sum is the same to
// the last bit whether its pieces are read or made anew from the rows, and differs from fold() of the rows one by one
// (src/model/ledger.h) by rounding; maxima are the same.
//
// A file's header tells how many records of it count. Rows are written before the header tells of them, and rows before
// sums: whoever reads meanwhile, and whoever comes after a power cut or a full disk, finds what the headers tell.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "src/base/problem.h"
#include "src/io/regular_file.h"
#include "src/model/finding.h"
#include "src/model/ledger.h"
#include "src/model/ledger_lane.h"

namespace becalm::io {

inline constexpr int minute_of_rows = 60, hour_of_rows = 3600;

// Whose ledger it is. Units are SI.
struct LedgerOrigin {
    std::string file = {};  // as it was called
    std::string start = {}; // ISO 8601, may be empty
    double rate_hz = 0.0;
    std::vector<Lane> lanes = {};
    std::vector<std::string> units = {}; // of what comes out of each of them
    std::string recorded_unit = {};
};

// Why no ledger can be begun there: another one lies in it.
std::optional<Problem> why_not_begun(const std::string& folder);

class LedgerFolderWriter {
public:
    // Makes the folder where it is not there. One that holds a ledger is refused.
    static Result<std::unique_ptr<LedgerFolderWriter>> create(const std::string& folder, const LedgerOrigin& origin);
    virtual ~LedgerFolderWriter() = default;

    // The next rows of each lane, as many of each.
    virtual Result<void> append(std::span<const std::vector<LedgerRow>> rows) = 0;
    // What is known of each lane's channel at the end.
    struct Fitness {
        std::string why_unfit = {};
        bool holds_no_numbers = false;
    };
    // From here on all that was appended counts, for whoever reads and after a power cut. `findings`: at the end.
    virtual Result<void> commit(std::span<const Fitness> fitness = {},
                                std::optional<std::vector<Finding>> findings = {}) = 0;
};

class LedgerFolder {
public:
    // `folder`, or the index.json in it. Folders without sums are refused.
    static Result<LedgerFolder> open(const std::string& folder);

    struct OfLane {
        Lane lane = {};
        std::string unit = {}; // of the r.m.s.
        std::string why_unfit = {};
        bool holds_no_numbers = false;
    };
    const std::string& file() const { return file_; }
    const std::string& start() const { return start_; }
    const std::string& recorded_unit() const { return recorded_unit_; }
    double rate_hz() const { return rate_hz_; }
    std::int64_t seconds() const { return seconds_; } // rows that every lane has
    const std::vector<OfLane>& lanes() const { return lanes_; }
    // Of the stream, refusals with the whole seconds that they lie in (none: they concern all of it). Empty as long as
    // the stream has not ended.
    const std::optional<std::vector<Finding>>& findings() const { return findings_; }

    // Of the seconds [from, to) of each selection, which are in order of time and do not overlap. What lies beyond the
    // ledger is not there.
    struct Seconds {
        std::int64_t from = 0, to = 0;
    };
    Result<Tally> tally(std::size_t lane, std::span<const Seconds> selected) const;
    // The rows of a stretch, every bit as they were appended; fewer where the ledger ends before.
    Result<std::vector<LedgerRow>> rows(std::size_t lane, const Seconds& stretch) const;
    // The same as tally() from the rows alone: what the sums must be.
    Result<Tally> tally_of_rows(std::size_t lane, std::span<const Seconds> selected) const;

private:
    struct Records {
        std::string path = {};
        FileHandle handle = {};
        std::int64_t header_bytes = 0, count = 0;
        std::size_t record_bytes = 0;
    };
    struct Files {
        Records rows, minutes, hours;
    };
    static Result<Records> open_records(const std::string& path, std::span<const LedgerField> fields);
    static Result<void> read(const Records& records, std::int64_t first, std::int64_t count, std::vector<char>& bytes);
    Result<Tally> tally(std::size_t lane, std::span<const Seconds> selected, bool with_sums) const;

    std::string file_, start_, recorded_unit_;
    double rate_hz_ = 0.0;
    std::int64_t seconds_ = 0;
    std::vector<OfLane> lanes_;
    std::optional<std::vector<Finding>> findings_;
    std::vector<Files> files_;
};

} // namespace becalm::io
