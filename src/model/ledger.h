// The ledger: per lane, one row a second of mergeable sums. Every procedure that can reads the ledger, not samples.
//
// A row of second k covers the samples i with k <= i / rate < k + 1. Rows merge by addition (sums) and maximum; a span
// of rows folds into a Tally, and folding two adjacent spans and merging equals folding the whole: sums to rounding
// (the order of addition differs), maxima exactly.
//
// Running r.m.s. values:
//   linear       sqrt(1/T * integral over the last T of a_w^2), T = 1 s = the rate's nearest whole number of samples
//   exponential  kernel exp(-t/tau)/tau, from rest at the start of the pass; e[n] = e[n-1] exp(-dt/tau) + (1 -
//   exp(-dt/tau)) a_w^2
// [iso2631-1-1997, 6.3.1 eq. 2 and 3]
//
// Selecting rows: the linear maximum over a selection must use windows wholly inside it, so the first row of each
// unbroken run contributes `linear_rms_within` only. The exponential average remembers what came before the run and so
// can only be too high there, never too low.
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <span>
#include <string_view>
#include <vector>

#include "src/base/units.h"
#include "src/model/axis.h"
#include "src/model/span.h"
#include "src/model/weighting_id.h"

namespace becalm {

// One axis of one position under one weighting.
struct Lane {
    int channel = 1; // from 1, in the recording
    Axis axis = Axis::z;
    WeightingId weighting = WeightingId::none;

    friend bool operator==(const Lane&, const Lane&) = default;
    friend auto operator<=>(const Lane&, const Lane&) = default;
};

// Unit of what comes out of the lane's weighting where its channel carries `input`: m/s2, and of a rotation rad/s2.
inline std::string_view unit_behind(const Lane& lane, Motion input)
{
    return si_unit_of(output_of(lane.weighting, input), is_rotation(lane.axis));
}

struct LedgerRow {
    std::uint32_t samples = 0;
    double sum_squares = 0.0; // sum of a_w^2           [(m/s2)^2]
    double sum_fourths = 0.0; // sum of a_w^4           [(m/s2)^4]
    double peak = 0.0;        // max |a_w|              [m/s2]
    double linear_rms = 0.0;  // greatest 1 s running r.m.s. whose window ends in this row
    double linear_rms_within =
        0.0; // the same, windows wholly inside this row; sqrt(integral/1 s) where the row is shorter
    double exponential_rms_slow = 0.0; // greatest, tau = 1 s
    double exponential_rms_fast = 0.0; // greatest, tau = 0.125 s
    double raw_min = 0.0;              // of the channel in SI units, offset not removed
    double raw_max = 0.0;

    friend bool operator==(const LedgerRow&, const LedgerRow&) = default;
};

struct Ledger {
    Lane lane;
    double rate_hz = 0.0;
    std::int64_t first_second = 0; // second of the recording that rows.front() covers
    std::vector<LedgerRow> rows = {};

    // Adds the rows of `next`, which must be of the same lane and rate and begin where this ledger ends.
    void append(const Ledger& next);
};

// Sums and maxima of a selection of rows, or of several selections of the same lane.
struct Tally {
    std::uint64_t samples = 0;
    double duration_s = 0.0;
    double sum_squares = 0.0; // per-sample sums times 1/rate: integral of a_w^2 dt
    double sum_fourths = 0.0; // integral of a_w^4 dt
    double peak = 0.0;
    double linear_rms = 0.0;
    double exponential_rms_slow = 0.0;
    double exponential_rms_fast = 0.0;

    // Adds one row; `starts_run` where the row before it is not part of the selection.
    void add(const LedgerRow& row, double rate_hz, bool starts_run);
};

// Two disjoint selections of the same lane taken together (no window spans the joint).
Tally merge(const Tally& a, const Tally& b);

// Row `i` lies wholly inside one of `selected`.
bool is_selected(const Ledger& ledger, std::size_t i, std::span<const TimeSpan> selected);

// Rows [begin, end) between the ends of `selected`: none outside is inside one of them. Many short selections are taken
// from long ledgers, so who goes over rows goes over these.
struct RowRange {
    std::size_t begin = 0, end = 0;
};
RowRange rows_near(const Ledger& ledger, std::span<const TimeSpan> selected);

// visit(i, inside) for each of them in order; inside as is_selected() has it. Rows well inside one span, nearly all
// where spans are long, are known without a look at them.
template <class Visit>
void for_each_row(const Ledger& ledger, std::span<const TimeSpan> selected, Visit visit)
{
    const auto [begin, end] = rows_near(ledger, selected);
    const auto at = [&](double second) { // row of it, inside [begin, end]
        const double row = second - static_cast<double>(ledger.first_second);
        return row <= static_cast<double>(begin) ? begin
               : row >= static_cast<double>(end) ? end
                                                 : static_cast<std::size_t>(row);
    };
    for (std::size_t i = begin; i < end;) {
        const double second = static_cast<double>(ledger.first_second) + static_cast<double>(i);
        std::size_t known_to = i; // a row lasts a second at most, and a sample for rounding
        for (const TimeSpan& span : selected)
            if (second >= span.from_s && span.to_s - second > 2.0) known_to = std::max(known_to, at(span.to_s - 2.0));
        for (; i < known_to; ++i) visit(i, true);
        if (i < end) visit(i, is_selected(ledger, i, selected));
        ++i;
    }
}

// Folds the rows wholly inside any of `selected`. Spans are seconds from the first sample; they may touch or overlap.
Tally fold(const Ledger& ledger, std::span<const TimeSpan> selected);

// Everything in the ledger.
Tally fold(const Ledger& ledger);

// [0, duration) minus the excluded spans, widened outwards to whole seconds; `from_s` drops the beginning (run-in).
std::vector<TimeSpan> selection(double duration_s, double from_s, std::span<const ExcludedSpan> excluded);

} // namespace becalm
