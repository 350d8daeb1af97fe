// The weighted samples of a recording, for programs that go on with them: as a whole beside the quantities of weigh(),
// or block by block in constant memory.
//
// Samples are what comes out of a lane, from the selection's first sample on: in the SI unit of what the weighting
// gives, the offset taken away, the filters' latency removed, no run-in left out. Nothing stands in for what could not
// be weighted: such a lane has no samples.
#pragma once

#include <condition_variable>
#include <cstddef>
#include <memory>
#include <mutex>
#include <optional>
#include <stop_token>
#include <string>
#include <thread>
#include <vector>

#include "evaluators/weigh.h"
#include "src/io/recording_reader.h"
#include "src/model/ledger_lane.h"

namespace becalm::evaluators {

struct WeightedSeries {
    WeighedFile weighed = {}; // as weigh() gives it, to the last bit
    io::RecordingInfo info = {};
    std::vector<Ledger> ledgers = {};              // of each lane of `weighed`; no rows where it was refused
    std::vector<std::vector<double>> samples = {}; // of each lane where wanted; empty where it has no quantities
    std::string recorded_unit = {};                // of every channel, SI
};

// Without `samples` in constant memory but for the ledger's rows, on all threads. With them 8 bytes a sample and lane,
// and a recording that lasts longer than a span of the pass is read twice: whoever listens has it run as one, which may
// change the last digits of a quantity. Throws std::bad_alloc where the memory is not there.
Result<WeightedSeries> weighted_series(const std::string& path, const WeighOptions& options, bool samples);

// A lane's ledger as it is given to others; it points into `series`. All seconds of the selection count.
LedgerLane ledger_lane(const WeightedSeries& series, std::size_t lane);

// Folds the rows wholly inside `spans` (those that count where empty): its quantities, none where no row is.
struct Folded {
    Tally tally = {};
    WeighedLane quantities = {};
};
Folded folded(const LedgerLane& lane, const std::vector<TimeSpan>& spans);

// Weighted samples as they come, while the recording is read by a thread of its own, which is never more than two
// blocks ahead.
class WeightedBlocks {
public:
    // Blocks of `block_s` > 0, and of one sample at least; options.progress is not told. Refuses a recording that
    // cannot be opened and a weighting that the rate is too low for; what else weigh() refuses, next() tells.
    static Result<std::unique_ptr<WeightedBlocks>> open(const std::string& path, const WeighOptions& options,
                                                        double block_s);
    ~WeightedBlocks();

    const io::RecordingInfo& info() const { return info_; }
    double from_s() const { return static_cast<double>(begin_) / info_.rate_hz; } // of the first selected sample
    double duration_s() const { return static_cast<double>(end_ - begin_) / info_.rate_hz; }
    const std::vector<WeighedLane>& lanes() const { return lanes_; } // without quantities

    // One lane after the other, equally many samples each; the last block may be shorter. Empty: that was all. A gap in
    // the recording is told at its end, for it may lie anywhere: what was weighted across one must not be used.
    using Block = std::vector<double>;
    Result<Block> next(const std::stop_token& stop = {});

private:
    WeightedBlocks() = default;

    void run(const PassRequest& request, const WeighOptions& options);
    void take(const PassOptions::Samples& samples);
    void cut(std::size_t frames);

    io::RecordingInfo info_ = {};
    std::int64_t begin_ = 0, end_ = 0;
    std::vector<Lane> keys_ = {};
    std::vector<WeighedLane> lanes_ = {};
    std::size_t frames_ = 0;
    std::vector<std::vector<double>> waiting_ = {}; // of each lane, what no block has yet

    std::mutex mutex_ = {};
    std::condition_variable_any changed_ = {};
    std::optional<Block> ready_ = {};
    bool over_ = false;
    std::optional<Problem> fault_ = {};
    std::stop_source stop_ = {};
    std::jthread reader_ = {}; // last, so that it ends before what it works on
};

} // namespace becalm::evaluators
