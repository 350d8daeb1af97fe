// From weighted samples to ledger rows: the sums, the peak and the running means of one lane group, a row a second.
//
// The linear running mean is exact whatever came before: a window is the suffix of one block of T samples plus the
// prefix of the next, so nothing is ever subtracted and a great shock leaves no residue in the quiet that follows.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "filters/aligned_buffer.h"
#include "src/model/ledger.h"

namespace becalm::filters {

class RowAccumulator {
public:
    // `lanes` of `width` are real; the first sample that comes is the first of second `first_second` of the count
    // that began at second 0 with sample 0. rate_hz > 0.
    RowAccumulator(int width, std::size_t lanes, double rate_hz, std::int64_t first_second);

    // Takes rows [i * width + lane], aligned to width doubles as LaneGroup::rows() are. Finished ledger rows are
    // appended to rows_of(lane).
    void add(const double* rows, std::size_t count);

    // Closes the last, shorter row, if any.
    void finish();

    std::vector<LedgerRow>& rows_of(std::size_t lane) { return finished_[lane]; }

    // Index of the first sample of second `second`.
    static std::int64_t first_sample_of(std::int64_t second, double rate_hz);

private:
    void close_row();

    int width_;
    double rate_hz_;
    std::int64_t second_; // the row being filled
    std::int64_t sample_; // index of the next sample
    std::int64_t row_begin_, row_end_;
    std::int64_t window_length_; // samples in 1 s
    std::int64_t position_ = 0;  // in the window block
    double slow_, fast_;
    AlignedBuffer sums_, window_;
    std::vector<std::vector<LedgerRow>> finished_;
};

} // namespace becalm::filters
