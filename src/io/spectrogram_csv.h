// A spectrogram as delimited text, row by row as it comes:
//   time_s,channel,axis,weighting,unit,1,1.25,1.6, ...
// a line each row and lane; the columns from the sixth on are named by their frequency in Hz. Memory does not grow.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "src/base/problem.h"
#include "src/io/atomic_file.h"
#include "src/model/reports.h"

namespace becalm::io {

class SpectrogramCsv {
public:
    // The file takes its name when it is finished; until then whatever was there stays.
    static Result<SpectrogramCsv> create(const std::string& path);

    // After a failure to write, rows are let pass; finish() tells it.
    void add(const SpectrogramRow& row);

    // Keeps the lines of those lanes that the report has: others turned out not to be trusted.
    Result<void> finish(const std::vector<SpectrumLane>& lanes);

private:
    SpectrogramCsv(std::string path, std::unique_ptr<AtomicFile> file) : path_(std::move(path)), file_(std::move(file))
    {
    }
    void flush();

    std::string path_;
    std::unique_ptr<AtomicFile> file_;
    std::vector<std::string> lanes_ = {}; // that had rows: "channel,axis,weighting"
    std::string pending_ = {};
    bool has_head_ = false;
    Result<void> state_ = {};
};

} // namespace becalm::io
