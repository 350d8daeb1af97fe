// Spectra in rows of time, streaming: power spectral densities of one channel, averaged over the segments that begin
// in each row, in memory that does not grow with duration.
//
// Conventions of the density as in filters/welch.h. Segments last 16 s (bins 0.0625 Hz apart), or the whole selection
// where that is shorter, and one begins every 8 s: with the first sample of second 0, 8, 16, ... of the selection, as
// the ledger counts its seconds. At a rate of which 8 s hold no whole number of samples the distance therefore varies
// by one sample, and a segment is the whole number of samples that 16 s always hold. Only whole segments count.
//
// A row lasts 8 s, or so many times 8 s that there are at most 240 rows. Bins go up to 250 Hz or half the rate.
//
// Streams over neighbouring spans of a selection give the same rows, to the last bit, as one stream over the whole: a
// span computes the segments that begin in it, and the sum of a row is taken over pieces of fixed length first
// (SpectrumLayout::piece_segments), which no span may cut.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "filters/welch.h"
#include "src/model/spectra.h"

namespace becalm::filters {

constexpr std::int64_t spectrum_hop_s = 8;
constexpr std::int64_t usual_spectrum_rows = 240; // at most

// Where the segments and rows of a selection lie.
struct SpectrumLayout {
    double rate_hz = 0.0;
    std::int64_t samples = 0;        // of the selection
    std::size_t length = 0;          // samples of a segment, >= 8
    std::size_t bins = 0;            // that are kept
    std::int64_t segments = 0;       // >= 1
    std::int64_t row_segments = 1;   // that begin in a row
    std::int64_t piece_segments = 1; // summed up by themselves first

    std::int64_t begin_of(std::int64_t segment) const; // its first sample
    std::int64_t end_of(std::int64_t segment) const { return begin_of(segment) + static_cast<std::int64_t>(length); }
    std::int64_t row_of(std::int64_t segment) const { return segment / row_segments; }
    std::uint32_t segments_in(std::int64_t row) const;
    // Segments that begin before `second`.
    std::int64_t segments_before(std::int64_t second) const;
};

// Of a selection of `samples`. `piece_s`, a multiple of spectrum_hop_s: length of the spans that it may be cut into.
// Empty where the selection lasts less than 2 s or has less than 8 samples a segment.
// At most `most_rows` >= 1 rows, where no more are wanted than tell of the whole.
std::optional<SpectrumLayout> spectrum_layout(double rate_hz, std::int64_t samples, std::int64_t piece_s,
                                              std::int64_t most_rows = usual_spectrum_rows);

// The rows of one channel over a part of its segments.
class SpectrumRows {
public:
    explicit SpectrumRows(const SpectrumLayout& layout) : layout_(layout) {}

    // Density, summed over `segments` of `row`; rows come in order, their pieces in order of time.
    void add(std::int64_t row, std::uint32_t segments, std::vector<double> sums);

    // Takes over what the next span has.
    void append(SpectrumRows&& next);

    // Once all segments are there.
    ChannelSpectra spectra() &&;

private:
    struct Row {
        std::int64_t row = 0;
        std::uint32_t segments = 0;
        std::vector<double> sums = {};   // while segments are missing: here, or in a neighbouring span
        std::vector<float> density = {}; // then
    };
    void close_if_whole(Row& row) const;

    SpectrumLayout layout_;
    std::vector<Row> rows_;
};

// Makes rows out of samples.
class SpectrumStream {
public:
    // Of segments [first, end), which begin and end with a piece or with the selection. `density` has the layout's
    // length and rate, and outlives this.
    SpectrumStream(const SpectrumLayout& layout, SegmentDensity& density, std::int64_t first, std::int64_t end);

    // Samples follow each other from layout.begin_of(first) on; what comes after the last segment is let pass.
    void add(std::span<const double> samples);

    SpectrumRows& rows() { return rows_; }

private:
    void close_piece(std::int64_t row);

    SpectrumLayout layout_;
    SegmentDensity* density_;
    std::int64_t segment_, end_;  // the one being filled; all that are to come
    std::vector<double> pending_; // its samples
    std::size_t filled_ = 0;
    std::vector<double> sums_; // of the piece
    std::uint32_t summed_ = 0; // segments
    SpectrumRows rows_;
};

} // namespace becalm::filters
