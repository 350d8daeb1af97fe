#include "src/model/ledger.h"

#include <algorithm>
#include <cmath>

#include "src/base/problem.h"

namespace becalm {

void Ledger::append(const Ledger& next)
{
    BECALM_ASSERT(next.lane == lane && next.rate_hz == rate_hz);
    BECALM_ASSERT(next.first_second == first_second + static_cast<std::int64_t>(rows.size()));
    rows.insert(rows.end(), next.rows.begin(), next.rows.end());
}

void Tally::add(const LedgerRow& row, double rate_hz, bool starts_run)
{
    samples += row.samples;
    duration_s = static_cast<double>(samples) / rate_hz;
    sum_squares += row.sum_squares / rate_hz;
    sum_fourths += row.sum_fourths / rate_hz;
    peak = std::max(peak, row.peak);
    linear_rms = std::max(linear_rms, starts_run ? row.linear_rms_within : row.linear_rms);
    exponential_rms_slow = std::max(exponential_rms_slow, row.exponential_rms_slow);
    exponential_rms_fast = std::max(exponential_rms_fast, row.exponential_rms_fast);
}

Tally merge(const Tally& a, const Tally& b)
{
    return {.samples = a.samples + b.samples,
            .duration_s = a.duration_s + b.duration_s,
            .sum_squares = a.sum_squares + b.sum_squares,
            .sum_fourths = a.sum_fourths + b.sum_fourths,
            .peak = std::max(a.peak, b.peak),
            .linear_rms = std::max(a.linear_rms, b.linear_rms),
            .exponential_rms_slow = std::max(a.exponential_rms_slow, b.exponential_rms_slow),
            .exponential_rms_fast = std::max(a.exponential_rms_fast, b.exponential_rms_fast)};
}

bool is_selected(const Ledger& ledger, std::size_t i, std::span<const TimeSpan> selected)
{
    const double second = static_cast<double>(ledger.first_second) + static_cast<double>(i);
    const double end = second + static_cast<double>(ledger.rows[i].samples) / ledger.rate_hz;
    return std::ranges::any_of(selected, [&](const TimeSpan& span) {
        return second >= span.from_s && end <= span.to_s + 1.0 / ledger.rate_hz;
    });
}

RowRange rows_near(const Ledger& ledger, std::span<const TimeSpan> selected)
{
    double from = std::numeric_limits<double>::infinity(), to = 0.0;
    for (const TimeSpan& span : selected) {
        from = std::min(from, span.from_s);
        to = std::max(to, span.to_s);
    }
    const auto count = static_cast<double>(ledger.rows.size());
    const double origin = static_cast<double>(ledger.first_second);
    const auto begin = static_cast<std::size_t>(std::clamp(std::floor(from - origin), 0.0, count));
    return {begin, std::max(begin, static_cast<std::size_t>(std::clamp(std::ceil(to - origin), 0.0, count)))};
}

Tally fold(const Ledger& ledger, std::span<const TimeSpan> selected)
{
    Tally tally;
    bool starts_run = true;
    for_each_row(ledger, selected, [&](std::size_t i, bool inside) {
        if (inside) tally.add(ledger.rows[i], ledger.rate_hz, starts_run);
        starts_run = !inside;
    });
    return tally;
}

Tally fold(const Ledger& ledger)
{
    const TimeSpan everything{};
    return fold(ledger, std::span(&everything, 1));
}

std::vector<TimeSpan> selection(double duration_s, double from_s, std::span<const ExcludedSpan> excluded)
{
    std::vector<TimeSpan> cuts;
    for (const ExcludedSpan& span : excluded) cuts.push_back({std::floor(span.from_s), std::ceil(span.to_s)});
    std::ranges::sort(cuts, {}, &TimeSpan::from_s);

    std::vector<TimeSpan> kept;
    double begin = std::ceil(from_s);
    for (const TimeSpan& cut : cuts) {
        if (cut.from_s > begin) kept.push_back({begin, std::min(cut.from_s, duration_s)});
        begin = std::max(begin, cut.to_s);
    }
    if (begin < duration_s) kept.push_back({begin, duration_s});
    std::erase_if(kept, [](const TimeSpan& span) { return !(span.from_s < span.to_s); });
    return kept;
}

} // namespace becalm
