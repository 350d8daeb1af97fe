#include "filters/spectrum_rows.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "filters/row_accumulator.h"
#include "src/base/problem.h"

namespace becalm::filters {
namespace {

constexpr double segment_s = 2.0 * static_cast<double>(spectrum_hop_s);
constexpr double least_duration_s = 2.0; // not a limit: shorter ones have no spectrum worth the name
constexpr double highest_hz = 250.0;     // not a limit: beyond every weighting of comfort
constexpr std::size_t least_length = 8;

} // namespace

std::optional<SpectrumLayout> spectrum_layout(double rate_hz, std::int64_t samples, std::int64_t piece_s,
                                              std::int64_t most_rows)
{
    BECALM_ASSERT(most_rows >= 1);
    BECALM_ASSERT(piece_s > 0 && piece_s % spectrum_hop_s == 0);
    const double duration_s = static_cast<double>(samples) / rate_hz;
    if (duration_s < least_duration_s - 1e-9) return std::nullopt;
    SpectrumLayout layout{.rate_hz = rate_hz, .samples = samples, .piece_segments = piece_s / spectrum_hop_s};
    // ceil(8 s rate) + floor(16 s rate) is never beyond ceil(24 s rate): a segment lies in 16 whole seconds.
    layout.length =
        static_cast<std::size_t>(std::min<std::int64_t>(samples, std::llround(std::floor(segment_s * rate_hz + 1e-6))));
    if (layout.length < least_length) return std::nullopt;
    const double resolution_hz = rate_hz / static_cast<double>(layout.length);
    layout.bins =
        std::min(layout.length / 2, static_cast<std::size_t>(std::floor(highest_hz / resolution_hz + 1e-9))) + 1;
    layout.segments = std::max<std::int64_t>(
        1, static_cast<std::int64_t>((duration_s - segment_s) / static_cast<double>(spectrum_hop_s)));
    while (layout.end_of(layout.segments) <= samples) ++layout.segments;
    const auto hop = static_cast<double>(spectrum_hop_s * most_rows);
    layout.row_segments = std::max<std::int64_t>(1, std::llround(std::ceil(duration_s / hop - 1e-9)));
    return layout;
}

std::int64_t SpectrumLayout::begin_of(std::int64_t segment) const
{
    return RowAccumulator::first_sample_of(segment * spectrum_hop_s, rate_hz);
}

std::uint32_t SpectrumLayout::segments_in(std::int64_t row) const
{
    return static_cast<std::uint32_t>(std::min((row + 1) * row_segments, segments) - row * row_segments);
}

std::int64_t SpectrumLayout::segments_before(std::int64_t second) const
{
    return std::min(segments, (second + spectrum_hop_s - 1) / spectrum_hop_s);
}

void SpectrumRows::add(std::int64_t row, std::uint32_t segments, std::vector<double> sums)
{
    if (rows_.empty() || rows_.back().row != row) {
        rows_.push_back({.row = row, .segments = segments, .sums = std::move(sums)});
    } else {
        Row& mine = rows_.back();
        mine.segments += segments;
        for (std::size_t k = 0; k < mine.sums.size(); ++k) mine.sums[k] += sums[k];
    }
    close_if_whole(rows_.back());
}

void SpectrumRows::append(SpectrumRows&& next)
{
    for (Row& row : next.rows_) {
        if (row.sums.empty())
            rows_.push_back(std::move(row));
        else
            add(row.row, row.segments, std::move(row.sums));
    }
    next.rows_.clear();
}

void SpectrumRows::close_if_whole(Row& row) const
{
    if (row.segments < layout_.segments_in(row.row)) return;
    row.density.resize(row.sums.size());
    for (std::size_t k = 0; k < row.sums.size(); ++k)
        row.density[k] = static_cast<float>(row.sums[k] / static_cast<double>(row.segments));
    row.sums = {};
}

ChannelSpectra SpectrumRows::spectra() &&
{
    ChannelSpectra spectra{.resolution_hz = layout_.rate_hz / static_cast<double>(layout_.length),
                           .rate_hz = layout_.rate_hz};
    const double duration_s = static_cast<double>(layout_.samples) / layout_.rate_hz;
    constexpr auto hop_s = static_cast<double>(spectrum_hop_s);
    spectra.rows.reserve(rows_.size());
    for (Row& row : rows_) {
        BECALM_ASSERT(row.segments == layout_.segments_in(row.row));
        const double from_s = static_cast<double>(row.row * layout_.row_segments) * hop_s;
        const double to_s = from_s + static_cast<double>(row.segments - 1) * hop_s + segment_s;
        spectra.rows.push_back({.from_s = from_s,
                                .to_s = std::min(to_s, duration_s),
                                .segments = row.segments,
                                .density = std::move(row.density)});
    }
    rows_.clear();
    return spectra;
}

SpectrumStream::SpectrumStream(const SpectrumLayout& layout, SegmentDensity& density, std::int64_t first,
                               std::int64_t end)
    : layout_(layout), density_(&density), segment_(first), end_(end), pending_(layout.length), sums_(layout.bins, 0.0),
      rows_(layout)
{
    BECALM_ASSERT(density.length() == layout.length);
    BECALM_ASSERT(first % layout.piece_segments == 0);
    BECALM_ASSERT(end % layout.piece_segments == 0 || end == layout.segments);
}

void SpectrumStream::add(std::span<const double> samples)
{
    while (!samples.empty() && segment_ < end_) {
        const std::size_t taken = std::min(samples.size(), layout_.length - filled_);
        std::copy_n(samples.begin(), taken, pending_.begin() + static_cast<std::ptrdiff_t>(filled_));
        samples = samples.subspan(taken);
        filled_ += taken;
        if (filled_ < layout_.length) return;

        density_->add(pending_, sums_);
        ++summed_;
        const std::int64_t before = segment_++;
        if (segment_ == end_ || segment_ % layout_.piece_segments == 0 ||
            layout_.row_of(segment_) != layout_.row_of(before))
            close_piece(layout_.row_of(before));
        if (segment_ == end_) return; // the next one would begin beyond, where the selection is a single segment
        const std::int64_t hop = layout_.begin_of(segment_) - layout_.begin_of(before);
        std::copy(pending_.begin() + hop, pending_.end(), pending_.begin());
        filled_ -= static_cast<std::size_t>(hop);
    }
}

void SpectrumStream::close_piece(std::int64_t row)
{
    for (std::size_t k = 0; k < sums_.size(); ++k) sums_[k] *= density_->factor(k);
    rows_.add(row, std::exchange(summed_, 0), sums_);
    std::ranges::fill(sums_, 0.0);
}

} // namespace becalm::filters
