// What can be told from the raw samples of one channel in one pass: range, mean, samples that are no numbers, clipping,
// drop-outs.
//
// Clipping: at least three equal samples in a row at the very highest or lowest value of the channel, entered or left
// by a jump of more than twenty of the smallest differences seen near that value, or at least eight by a jump of more
// than three. A smooth crest also shows equal samples where the rate is high or the resolution coarse, but three equal
// samples of a parabola in steps of q are entered by 3 q at most; a clipped crest is entered by whatever the slope was
// (common practice, no source). Differences of neighbours and differences of these count, since both are multiples of
// the resolution; those within the rounding of single precision do not.
//
// Drop-out: at least 0.1 s and 20 samples exactly alike in a channel that is not constant as a whole, entered or left
// by a jump of more than three of the smallest steps of the channel, or 1 s long (common practice, no
// source). A slow crest in coarse steps stands still too, but begins and ends with a step of the resolution.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

namespace becalm::filters {

namespace kernel {
struct ScanResult;
}

struct SampleRun {
    std::int64_t begin = 0; // sample index
    std::int64_t count = 0;

    friend bool operator==(const SampleRun&, const SampleRun&) = default;
};

// Scans of neighbouring spans merge; runs that touch become one.
class ChannelScan {
public:
    explicit ChannelScan(double rate_hz) : rate_hz_(rate_hz) {}

    // `values` follow the ones before without a gap; `first` is the index of values[0]. Samples that are not finite are
    // noted, overwritten with `substitute` and count for nothing else. Returns the least and the greatest finite value;
    // infinity and minus infinity where there is none.
    struct Range {
        double min, max;
    };
    Range add(double* values, std::size_t count, std::int64_t first, double substitute);

    // Takes over what the scan of the following span has found.
    void merge(const ChannelScan& next);

    std::int64_t samples() const { return samples_; } // finite ones
    double min() const { return low_.level; }
    double max() const { return high_.level; }
    double mean() const;
    double deviation() const;                         // standard deviation about the mean
    double least_step() const { return least_step_; } // smallest difference of neighbours; 0: none yet
    bool constant() const { return samples_ > 1 && low_.level == high_.level; }
    std::vector<SampleRun> not_finite() const { return not_finite_; }
    std::vector<SampleRun> clipped() const;   // in order of time
    std::vector<SampleRun> drop_outs() const; // empty where constant()

    // Everything the scan holds, in either direction, for who keeps it (src/store/archive.h).
    template <class Archive, class Scan>
    static void serialize(Archive& archive, Scan& scan)
    {
        auto& [rate, samples, begin, next, sum, sum_squares, first, previous, low, high, leading, flat, least_step,
               flat_runs, not_finite] = scan;
        archive(rate, samples, begin, next, sum, sum_squares, first, previous, leading, flat, least_step, flat_runs,
                not_finite);
        for (auto* extreme : {&low, &high}) {
            auto& [level, least, runs] = *extreme;
            archive(level, least, runs);
        }
    }

private:
    // Runs of equal samples at the highest or the lowest value so far.
    struct Extreme {
        double level = 0.0;
        double least_step = 0.0; // smallest difference seen in the blocks that reach the level, 0: none yet
        struct Run {
            std::int64_t begin, count;
            double jump; // the greater of the steps into and out of the run
        };
        std::vector<Run> runs = {};

        bool ends_at(std::int64_t sample) const
        {
            return !runs.empty() && runs.back().begin + runs.back().count == sample;
        }
    };

    // Equal samples anywhere.
    struct FlatRun {
        std::int64_t begin = 0, count = 0;
        double jump = 0.0; // the greater of the steps into and out of the run
    };

    void add_finite(const double* values, std::size_t count, std::int64_t first, const kernel::ScanResult& scan);
    void note_extremes(const double* values, std::size_t count, std::int64_t first, Extreme& extreme);
    void note_flat(const double* values, std::size_t count, std::int64_t first, std::int64_t equal_neighbours);
    void end_flat(double step);
    bool is_drop_out(const FlatRun& run) const;
    void merge_extreme(Extreme& mine, const Extreme& theirs, bool better, bool touches, double first) const;
    // Whether the last finite sample stands right before this one.
    bool follows(std::int64_t sample) const { return samples_ > 0 && next_ == sample; }

    double rate_hz_;
    std::int64_t samples_ = 0;
    std::int64_t begin_ = 0; // index of the first finite sample
    std::int64_t next_ = 0;  // index of the sample after the last finite one
    double sum_ = 0.0, sum_squares_ = 0.0;
    double first_ = 0.0;    // the first finite sample: sums are taken about it, so that a great offset costs no digits
    double previous_ = 0.0; // the last finite sample
    Extreme low_, high_;
    FlatRun leading_ = {};    // the run that begins with the first sample; it may belong to a run of the span before
    FlatRun flat_ = {};       // the run that ends with the last sample
    double least_step_ = 0.0; // smallest difference of neighbours, 0: none yet
    std::vector<FlatRun> flat_runs_; // closed ones that are long enough, the leading one left out
    std::vector<SampleRun> not_finite_;
};

} // namespace becalm::filters
