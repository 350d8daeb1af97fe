#include "filters/row_accumulator.h"

#include <algorithm>
#include <cmath>

#include "filters/lane_kernel.h"

namespace becalm::filters {

std::int64_t RowAccumulator::first_sample_of(std::int64_t second, double rate_hz)
{
    // A sample that falls on the second to rounding belongs to it.
    return static_cast<std::int64_t>(std::ceil(static_cast<double>(second) * rate_hz - 1e-6));
}

RowAccumulator::RowAccumulator(int width, std::size_t lanes, double rate_hz, std::int64_t first_second)
    : width_(width), rate_hz_(rate_hz), second_(first_second), sample_(first_sample_of(first_second, rate_hz)),
      row_begin_(sample_), row_end_(first_sample_of(first_second + 1, rate_hz)),
      window_length_(std::max<std::int64_t>(1, std::llround(rate_hz))), slow_(-std::expm1(-1.0 / rate_hz)),
      fast_(-std::expm1(-1.0 / (0.125 * rate_hz))), sums_(static_cast<std::size_t>(kernel::running_slots * width)),
      window_(static_cast<std::size_t>((window_length_ + 1) * width)), finished_(lanes)
{
}

void RowAccumulator::add(const double* rows, std::size_t count)
{
    const kernel::Table& run = kernel::chosen();
    const auto running = width_ == 8 ? run.running8 : run.running4;
    const auto suffix = width_ == 8 ? run.suffix8 : run.suffix4;
    const kernel::Running state{.sums = sums_.data(), .window = window_.data(), .slow = slow_, .fast = fast_};
    const auto w = static_cast<std::size_t>(width_);
    while (count > 0) {
        if (sample_ == row_end_) close_row(); // a second without samples (rate below 1 Hz) leaves an empty row
        // Pieces end at the row's end, at the window block's end, and where windows begin to lie wholly inside the row.
        const std::int64_t first_within = row_begin_ + window_length_ - 1;
        const bool within = sample_ >= first_within;
        std::int64_t piece = std::min(row_end_ - sample_, window_length_ - position_);
        if (!within) piece = std::min(piece, first_within - sample_);
        piece = std::min(piece, static_cast<std::int64_t>(count));
        if (piece > 0) {
            running(state, rows, static_cast<std::size_t>(piece), static_cast<std::size_t>(position_), within);
            rows += static_cast<std::size_t>(piece) * w;
            count -= static_cast<std::size_t>(piece);
            sample_ += piece;
            position_ += piece;
        }
        if (position_ == window_length_) {
            suffix(window_.data(), static_cast<std::size_t>(window_length_));
            std::fill_n(sums_.data() + static_cast<std::size_t>(kernel::prefix) * w, w, 0.0);
            position_ = 0;
        }
    }
    if (sample_ == row_end_) close_row();
}

void RowAccumulator::finish()
{
    if (sample_ > row_begin_) close_row();
}

void RowAccumulator::close_row()
{
    const auto w = static_cast<std::size_t>(width_);
    const auto sum = [&](kernel::RunningSlot slot, std::size_t lane) -> double& {
        return sums_[static_cast<std::size_t>(slot) * w + lane];
    };
    const std::int64_t samples = sample_ - row_begin_;
    const auto window = static_cast<double>(window_length_);
    for (std::size_t lane = 0; lane < finished_.size(); ++lane) {
        // A row shorter than the window holds none; it is then compared as if silence surrounded it.
        const double within = samples < window_length_ ? sum(kernel::sum_squares, lane) : sum(kernel::within_max, lane);
        finished_[lane].push_back({.samples = static_cast<std::uint32_t>(samples),
                                   .sum_squares = sum(kernel::sum_squares, lane),
                                   .sum_fourths = sum(kernel::sum_fourths, lane),
                                   .peak = std::sqrt(sum(kernel::peak, lane)),
                                   .linear_rms = std::sqrt(sum(kernel::linear_max, lane) / window),
                                   .linear_rms_within = std::sqrt(within / window),
                                   .exponential_rms_slow = std::sqrt(sum(kernel::slow_max, lane)),
                                   .exponential_rms_fast = std::sqrt(sum(kernel::fast_max, lane)),
                                   .raw_min = 0.0,
                                   .raw_max = 0.0});
    }
    for (const kernel::RunningSlot slot : {kernel::sum_squares, kernel::sum_fourths, kernel::peak, kernel::linear_max,
                                           kernel::within_max, kernel::slow_max, kernel::fast_max})
        std::fill_n(sums_.data() + static_cast<std::size_t>(slot) * w, w, 0.0);
    ++second_;
    row_begin_ = row_end_;
    row_end_ = first_sample_of(second_ + 1, rate_hz_);
}

} // namespace becalm::filters
