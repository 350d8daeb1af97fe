// Least, greatest and mean value of bins of 0.05 s, streaming.
//
// Bin k covers the samples i with k <= i / rate / 0.05 < k + 1, counted from the selection's first sample; a sample
// that falls on the joint to rounding belongs to the later one. 20 bins are a second of the ledger, to the sample, so
// bins of spans of whole seconds join without a seam. The last bin may hold fewer samples.
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "src/model/motion.h"

namespace becalm::filters {

class MotionBins {
public:
    static constexpr std::int64_t bins_a_second = 20;
    static constexpr double bin_s = 1.0 / static_cast<double>(bins_a_second);

    // The first sample that comes is the first of second `first_second`. rate_hz >= bins_a_second: below, some bins
    // would be empty.
    MotionBins(double rate_hz, std::int64_t first_second);

    void add(std::span<const double> samples);

    // Closes the last, shorter bin, if any.
    void finish();

    std::vector<MotionBin>& bins() { return bins_; }

    // Index of the first sample of a bin.
    static std::int64_t first_sample_of(std::int64_t bin, double rate_hz);

private:
    void begin_bin();
    void close_bin(std::span<const double> samples);

    double rate_hz_;
    std::int64_t bin_;            // the one being filled
    std::size_t length_ = 0;      // its samples
    std::vector<double> pending_; // those of them that came in earlier blocks
    std::vector<MotionBin> bins_;
};

} // namespace becalm::filters
