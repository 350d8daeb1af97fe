// What can be told from the raw samples of one channel in one pass: range, mean, samples that are no numbers, clipping, drop-outs.
//
// Clipping: at least three equal samples in a row at the very highest or lowest value of the channel, entered or left by a
// jump of more than three of the smallest steps seen there. A smooth crest also shows equal samples where the rate is high or
// the resolution coarse, but it is entered by one smallest step or two; a clipped one by whatever the slope was
// (common practice, no source).
// Drop-out: at least 0.1 s and 20 samples exactly alike in a channel that is not constant as a whole (common practice, no source).
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

namespace becalm::filters {

struct SampleRun {
    std::int64_t begin = 0; // sample index
    std::int64_t count = 0;
};

// Scans of neighbouring spans merge; runs that touch become one.
class ChannelScan {
public:
    explicit ChannelScan(double rate_hz) : rate_hz_(rate_hz) {}

    // `values` follow the ones before without a gap; `first` is the index of values[0]. Samples that are not finite are
    // noted and overwritten with `substitute`. Returns the least and the greatest finite value.
    struct Range {
        double min, max;
    };
    Range add(double* values, std::size_t count, std::int64_t first, double substitute);

    // Takes over what the scan of the following span has found.
    void merge(const ChannelScan& next);

    std::int64_t samples() const { return samples_; }
    double min() const { return low_.level; }
    double max() const { return high_.level; }
    double mean() const;
    double deviation() const; // standard deviation about the mean
    bool constant() const { return samples_ > 1 && low_.level == high_.level; }
    std::vector<SampleRun> not_finite() const { return not_finite_; }
    std::vector<SampleRun> clipped() const;   // in order of time
    std::vector<SampleRun> drop_outs() const; // empty where constant()

private:
    // Runs of equal samples at the highest or the lowest value so far.
    struct Extreme {
        double level = 0.0;
        struct Run {
            std::int64_t begin, count;
            double jump; // the greater of the steps into and out of the run
        };
        std::vector<Run> runs;
    };

    void note_extremes(const double* values, std::size_t count, std::int64_t first, Extreme& extreme);
    void note_flat(const double* values, std::size_t count, std::int64_t first);

    double rate_hz_;
    std::int64_t samples_ = 0;
    std::int64_t next_ = 0; // index of the sample after the last seen
    double sum_ = 0.0, sum_squares_ = 0.0;
    double reference_ = 0.0; // the first sample: sums are taken about it, so that a great offset costs no digits
    double previous_ = 0.0;
    Extreme low_, high_;
    double least_step_ = 0.0; // smallest difference seen beside an extreme, 0: none yet
    SampleRun flat_{};        // the run of equal samples that is still open
    std::vector<SampleRun> flat_runs_;
    std::vector<SampleRun> not_finite_;
};

} // namespace becalm::filters
