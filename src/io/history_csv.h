// Time histories as delimited text, sample by sample as they come:
//   time_s,channel 1 acceleration m/s2,channel 1 velocity m/s, ...
// a column a channel and quantity, named by channel, the file's name for it, axis, quantity and unit. Time is that of
// the recording. Memory does not grow.
#pragma once

#include <memory>
#include <string>

#include "src/base/problem.h"
#include "src/io/atomic_file.h"
#include "src/model/reports.h"

namespace becalm::io {

class HistoryCsv {
public:
    // The file takes its name when it is finished; until then whatever was there stays.
    static Result<HistoryCsv> create(const std::string& path);

    // After a failure to write, rows are let pass; finish() tells it.
    void add(const HistoryReport& about, const HistoryRows& rows);
    Result<void> finish();
    // The same in two steps, for who has other files to commit with it.
    Result<std::unique_ptr<AtomicFile>> release();

private:
    explicit HistoryCsv(std::unique_ptr<AtomicFile> file) : file_(std::move(file)) {}
    void flush();

    std::unique_ptr<AtomicFile> file_;
    std::string pending_ = {};
    bool has_head_ = false;
    Result<void> state_ = {};
};

} // namespace becalm::io
