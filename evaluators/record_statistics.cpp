#include "evaluators/record_statistics.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include <fmt/format.h>

#include "evaluators/en12299.h"
#include "evaluators/selected_bins.h"
#include "filters/draws.h"

namespace becalm::evaluators {
namespace {

constexpr std::size_t fewest_blocks = 8;   // common practice, no source: fewer say nothing about a variance
constexpr std::size_t fewest_values = 4;   // with 3 degrees of freedom the t-distribution has a variance
constexpr double shortest_section_s = 5.0; // common practice, no source: of maxima
constexpr std::size_t most_sections = 12;
constexpr std::size_t most_groups = 24; // of rows of spectra
// Drawn from themselves values scatter so many times as much as noise would: they are none (common practice, no
// source).
constexpr double no_noise = 1.5;         // not a limit: a ratio
constexpr double most_drawn = 4e5;       // values, about
constexpr double greatest_scatter = 0.5; // of section maxima about their mean; common practice, no source

struct Spread {
    double mean = 0.0, variance = 0.0; // the variance of one value, over n - 1
};

Spread spread_of(std::span<const double> values)
{
    const auto n = static_cast<double>(values.size());
    Spread spread{.mean = std::accumulate(values.begin(), values.end(), 0.0) / n};
    for (const double value : values) spread.variance += (value - spread.mean) * (value - spread.mean);
    spread.variance /= n - 1.0;
    return spread;
}

// One row of the ledger that counts.
struct Row {
    std::size_t recording = 0; // of the arguments
    std::size_t row = 0;       // of its ledger
};

bool is_whole(const Ledger& ledger, std::size_t i) { return 2.0 * ledger.rows[i].samples >= ledger.rate_hz; }

std::vector<Row> rows_of(const QuantityArguments& arguments)
{
    std::vector<Row> rows;
    for (std::size_t recording = 0; recording < arguments.rows.size(); ++recording) {
        const Ledger& ledger = *arguments.rows[recording].ledger;
        for_each_row(ledger, arguments.rows[recording].selected, [&](std::size_t i, bool inside) {
            if (inside && is_whole(ledger, i)) rows.push_back({recording, i});
        });
    }
    return rows;
}

// The arguments that a stretch of the rows would have been alone.
QuantityArguments section_of(const QuantityArguments& arguments, std::span<const Row> rows)
{
    QuantityArguments section = arguments;
    section.tally = {};
    section.recordings.clear();
    section.rows.clear();
    const Row* before = nullptr;
    for (const Row& at : rows) {
        const Ledger& ledger = *arguments.rows[at.recording].ledger;
        const bool is_new = before == nullptr || before->recording != at.recording;
        const bool starts_run = is_new || before->row + 1 != at.row;
        if (is_new) {
            section.recordings.emplace_back();
            section.rows.push_back({.ledger = &ledger});
        }
        section.recordings.back().add(ledger.rows[at.row], ledger.rate_hz, starts_run);
        const double second = static_cast<double>(ledger.first_second) + static_cast<double>(at.row);
        auto& spans = section.rows.back().selected;
        if (starts_run) spans.push_back({second, second});
        spans.back().to_s = second + 1.0;
        before = &at;
    }
    for (const Tally& tally : section.recordings) section.tally = merge(section.tally, tally);
    return section;
}

// [from_s, to_s) of the spans' own time, one after the other.
std::vector<TimeSpan> stretch_of(std::span<const TimeSpan> spans, double from_s, double to_s)
{
    std::vector<TimeSpan> stretch;
    double before = 0.0;
    for (const TimeSpan& span : spans) {
        const double length = span.to_s - span.from_s;
        const double begin = std::max(0.0, from_s - before), end = std::min(length, to_s - before);
        if (begin < end) stretch.push_back({span.from_s + begin, span.from_s + end});
        before += length;
    }
    return stretch;
}

double length_of(std::span<const TimeSpan> spans)
{
    double length = 0.0;
    for (const TimeSpan& span : spans) length += span.to_s - span.from_s;
    return length;
}

using Found = tl::expected<RecordStatistic, std::string>;

Found unknown(const char* why) { return tl::unexpected(std::string(why)); }

constexpr const char* too_short = "the record is too short to tell";
constexpr const char* one_event = "one event tells nothing about the next";
constexpr const char* few_events = "few events tell nothing about the next";

class FromRecords {
public:
    FromRecords(const Quantity& quantity, const QuantityArguments& arguments)
        : quantity_(quantity), arguments_(arguments)
    {
    }

    Found of_mean(double value_power) const
    {
        // Doses add up over events; what repeats a motion that lasts is averaged over time.
        std::vector<double> recordings;
        for (const Tally& tally : arguments_.recordings)
            recordings.push_back(integral_of(tally) / (by_event() ? 1.0 : tally.duration_s));
        const auto between = between_recordings(recordings, value_power);
        if (by_event()) return between ? Found(*between) : unknown(one_event);
        std::vector<double> seconds;
        const bool fourths = is_of_fourths();
        for (const SelectedRows& recording : arguments_.rows) {
            const Ledger& ledger = *recording.ledger;
            for_each_row(ledger, recording.selected, [&](std::size_t i, bool inside) {
                const LedgerRow& row = ledger.rows[i];
                if (inside && is_whole(ledger, i))
                    seconds.push_back((fourths ? row.sum_fourths : row.sum_squares) / row.samples);
            });
        }
        return greater(of_mean_of(std::move(seconds), value_power, "s"), between);
    }

    // Of the seconds of the bins, each recording about its own mean.
    Found of_bins() const
    {
        const auto between = between_recordings(values_of_each(), 1.0);
        if (by_event()) return between ? Found(*between) : unknown(one_event);
        std::vector<double> seconds;
        for (const SelectedMotion& one : arguments_.motions) {
            const auto in_second = static_cast<std::size_t>(std::max(1L, std::lround(1.0 / one.motion->bin_s)));
            double sum = 0.0, count = 0.0;
            for (const TimeSpan& span : one.selected)
                for (const MotionBin& bin : bins_inside(*one.motion, span)) {
                    sum += static_cast<double>(bin.mean);
                    count += 1.0;
                }
            for (const TimeSpan& span : one.selected) {
                const auto bins = bins_inside(*one.motion, span);
                for (std::size_t first = 0; first + in_second <= bins.size(); first += in_second) {
                    double squares = 0.0;
                    for (const MotionBin& bin : bins.subspan(first, in_second))
                        squares += std::pow(static_cast<double>(bin.mean) - sum / count, 2.0);
                    seconds.push_back(squares / static_cast<double>(in_second));
                }
            }
        }
        return greater(of_mean_of(std::move(seconds), 0.5, "s"), between);
    }

    // Of what was made from mean spectra: groups of rows left out in turn.
    Found of_spectra(double value) const
    {
        const std::vector<double> each = values_of_each();
        const bool of_greatest = quantity_.from == FromRecord::greatest_spectrum;
        if (of_greatest && each.size() > 1) {
            // The recording that governs tells of time, all of them of themselves.
            const auto governs = static_cast<std::size_t>(std::ranges::max_element(each) - each.begin());
            const QuantityArguments one = alone(arguments_, governs);
            const RecordStatistic between = of_repeats(value, each, true);
            if (by_event()) return between;
            return greater(FromRecords(quantity_, one).of_rows(value), between);
        }
        const auto between = between_recordings(each, 1.0);
        if (by_event()) return between ? Found(*between) : unknown(one_event);
        return greater(of_rows(value), between);
    }

    Found of_maximum(double value) const
    {
        std::string what;
        const auto values = values_of_sections(shortest_section_s, what);
        if (!values) return tl::unexpected(values.error());
        const Spread spread = spread_of(*values);
        const double of_one = std::sqrt(spread.variance);
        if (of_one > greatest_scatter * spread.mean)
            return unknown("the motion is not stationary, and its greatest value stands alone");
        return RecordStatistic{.relative = of_one / linear(value),
                               .dof = static_cast<double>(values->size()) - 1.0,
                               .is_maximum = true,
                               .method = fmt::format("scatter of the maxima of {} {}", values->size(), what)};
    }

    Found of_series(double value) const
    {
        ValueSeries series = quantity_.series(arguments_);
        const bool is_percentile = series.percent.has_value();
        if (is_percentile && (*series.percent <= 0.0 || *series.percent >= 100.0)) return of_maximum(value);
        std::optional<RecordStatistic> between;
        if (!series.are_events) {
            between = between_recordings(values_of_each(), 1.0);
            if (by_event()) return between ? Found(*between) : unknown(one_event);
        }
        if (!is_percentile) {
            for (double& one : series.values) one *= one;
            return greater(of_mean_of(std::move(series.values), 0.5, "values"), between);
        }
        return greater(of_percentile(series), between);
    }

    // Left out one by one.
    Found of_events(double value) const
    {
        const std::size_t count = arguments_.recordings.size();
        if (count < fewest_values) return unknown(few_events);
        std::vector<double> values;
        for (std::size_t out = 0; out < count; ++out) {
            const QuantityResult one = quantity_.evaluate(without(out));
            if (!one) return unknown("without one of the events there is no value");
            values.push_back(one->value);
        }
        const Spread spread = spread_of(values);
        const auto n = static_cast<double>(count);
        return RecordStatistic{.relative = std::sqrt(spread.variance * (n - 1.0) * (n - 1.0) / n) / value,
                               .dof = n - 1.0,
                               .method = fmt::format("{} events, left out one by one", count),
                               .shrinks = Shrinks::with_events,
                               .amount = n};
    }

    // Of the values of repeats that are not pooled.
    RecordStatistic of_repeats(double value, const std::vector<double>& each, bool highest) const
    {
        std::vector<double> values;
        for (const double one : each) values.push_back(linear(one));
        const Spread spread = spread_of(values);
        const auto n = static_cast<double>(values.size());
        return RecordStatistic{.relative = std::sqrt(spread.variance / (highest ? 1.0 : n)) / linear(value),
                               .dof = n - 1.0,
                               .is_maximum = highest,
                               .method = fmt::format("between {} recordings", values.size()),
                               .shrinks = highest ? Shrinks::never : Shrinks::with_recordings,
                               .amount = n};
    }

private:
    bool by_event() const { return arguments_.events.has_value(); }
    bool is_of_fourths() const { return quantity_.from == FromRecord::mean_fourth; }
    double integral_of(const Tally& tally) const { return is_of_fourths() ? tally.sum_fourths : tally.sum_squares; }
    double linear(double value) const { return quantity_.unit == "dB" ? std::pow(10.0, value / 20.0) : value; }

    // What the record of one place tells of time, unless its recordings differ more than that.
    static Found greater(Found within, const std::optional<RecordStatistic>& between)
    {
        if (between && (!within || between->relative > within->relative)) return *between;
        return within;
    }

    // Empty for one alone, or where they have no mean.
    std::optional<RecordStatistic> between_recordings(const std::vector<double>& values, double value_power) const
    {
        if (values.size() < 2) return {};
        const Spread spread = spread_of(values);
        const auto n = static_cast<double>(values.size());
        if (!(spread.mean > 0.0)) return {};
        return RecordStatistic{.relative = value_power * std::sqrt(spread.variance / n) / spread.mean,
                               .dof = n - 1.0,
                               .method =
                                   fmt::format("between {} {}", values.size(), by_event() ? "events" : "recordings"),
                               .shrinks = by_event() ? Shrinks::with_events : Shrinks::with_recordings,
                               .amount = n};
    }

    // Of a value that goes with the power of their mean.
    Found of_mean_of(std::vector<double> values, double value_power, const char* unit) const
    {
        if (values.size() < fewest_values) return unknown(too_short);
        const double mean = std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(values.size());
        if (!(mean > 0.0)) return unknown("there is no motion");
        const VarianceOfMean within = variance_of_mean(std::move(values));
        return RecordStatistic{.relative = value_power * std::sqrt(within.variance) / mean,
                               .dof = within.dof,
                               .method = fmt::format("variance of the mean over blocks of {} {}{}", within.block, unit,
                                                     within.settled ? "" : ", which still grows with them"),
                               .shrinks = Shrinks::with_time,
                               .amount = arguments_.tally.duration_s};
    }

    // Of each recording (or event) alone, linear; empty where one has none.
    std::vector<double> values_of_each() const
    {
        std::vector<double> values;
        if (arguments_.recordings.size() < 2) return values;
        for (std::size_t i = 0; i < arguments_.recordings.size(); ++i) {
            const QuantityResult one = quantity_.evaluate(alone(arguments_, i));
            if (!one) return {};
            values.push_back(linear(one->value));
        }
        return values;
    }

    QuantityArguments without(std::size_t out) const
    {
        QuantityArguments rest = arguments_;
        const auto drop = [out](auto& list) {
            if (out < list.size()) list.erase(list.begin() + static_cast<std::ptrdiff_t>(out));
        };
        drop(rest.recordings);
        drop(rest.rows);
        drop(rest.spectra);
        drop(rest.motions);
        drop(rest.swings);
        rest.tally = {};
        for (const Tally& tally : rest.recordings) rest.tally = merge(rest.tally, tally);
        return rest;
    }

    // --- spectra ---

    Found of_rows(double value) const
    {
        struct Group {
            std::size_t recording = 0, first = 0, last = 0; // rows of spectra
        };
        std::vector<std::vector<std::size_t>> rows; // that count, of each recording
        std::size_t all = 0;
        for (const SelectedSpectra& one : arguments_.spectra) {
            rows.emplace_back();
            for (std::size_t i = 0; i < one.spectra->rows.size(); ++i) {
                const SpectralRow& row = one.spectra->rows[i];
                if (std::ranges::any_of(one.selected, [&](const TimeSpan& span) {
                        return row.from_s >= span.from_s - 1e-9 && row.to_s <= span.to_s + 1e-9;
                    }))
                    rows.back().push_back(i);
            }
            all += rows.back().size();
        }
        const std::size_t size = (all + most_groups - 1) / most_groups;
        std::vector<Group> groups;
        for (std::size_t recording = 0; recording < rows.size(); ++recording)
            for (std::size_t first = 0; first < rows[recording].size(); first += size)
                groups.push_back({recording, rows[recording][first],
                                  rows[recording][std::min(first + size, rows[recording].size()) - 1]});
        if (groups.size() < fewest_values) return unknown(too_short);
        const auto n = static_cast<double>(groups.size());
        std::vector<double> values;
        for (const Group& group : groups) {
            const auto& [spectra, selected] = arguments_.spectra[group.recording];
            QuantityArguments rest = arguments_;
            std::vector<TimeSpan>& left = rest.spectra[group.recording].selected;
            left.clear();
            // Neighbours of the group overlap with it, and stay.
            const double before_s = group.first > 0 ? spectra->rows[group.first - 1].to_s : 0.0;
            const bool has_next = group.last + 1 < spectra->rows.size();
            for (const TimeSpan& span : selected) {
                if (group.first > 0 && span.from_s < before_s)
                    left.push_back({span.from_s, std::min(span.to_s, before_s)});
                if (!has_next) continue;
                const double after_s = spectra->rows[group.last + 1].from_s;
                if (span.to_s > after_s) left.push_back({std::max(span.from_s, after_s), span.to_s});
            }
            if (rows[group.recording].front() == group.first && rows[group.recording].back() == group.last)
                rest.spectra.erase(rest.spectra.begin() + static_cast<std::ptrdiff_t>(group.recording));
            const QuantityResult one = quantity_.evaluate(rest);
            if (!one) return unknown("without a part of the record there is no value");
            values.push_back(n * linear(value) - (n - 1.0) * linear(one->value));
        }
        constexpr double shared = 3.0 / 70.0; // correlation of neighbouring segments
        const VarianceOfMean within = variance_of_mean(values);
        const double rows_in_block = static_cast<double>(size * within.block);
        return RecordStatistic{.relative =
                                   std::sqrt(within.variance * (1.0 + 2.0 * shared / rows_in_block)) / linear(value),
                               .dof = within.dof,
                               .method = fmt::format("{} parts of the spectra left out in turn", values.size()),
                               .shrinks = Shrinks::with_time,
                               .amount = arguments_.tally.duration_s};
    }

    // --- maxima ---

    // Values of sections of the record; of the recordings or events where there are enough of them.
    tl::expected<std::vector<double>, std::string> values_of_sections(double shortest_s, std::string& what) const
    {
        std::vector<QuantityArguments> sections;
        if (arguments_.recordings.size() >= fewest_values) {
            what = by_event() ? "events" : "recordings";
            for (std::size_t i = 0; i < arguments_.recordings.size(); ++i) sections.push_back(alone(arguments_, i));
        } else {
            if (by_event()) return tl::unexpected(std::string(few_events));
            if (quantity_.needs & (needs_motion | needs_swings))
                what = fmt::format("sections of {:.0f} s", cut_time(shortest_s, sections));
            else
                what = fmt::format("sections of {} s", cut_rows(shortest_s, sections));
        }
        std::vector<double> values;
        for (const QuantityArguments& section : sections) {
            const QuantityResult one = quantity_.evaluate(section);
            if (!one) return tl::unexpected(std::string("its sections have no value"));
            values.push_back(linear(one->value));
        }
        if (values.size() < fewest_values) return tl::unexpected(std::string(too_short));
        return values;
    }

    // Rows in each section.
    std::size_t cut_rows(double shortest_s, std::vector<QuantityArguments>& sections) const
    {
        const std::vector<Row> rows = rows_of(arguments_);
        const std::size_t count = std::min(most_sections, rows.size() / static_cast<std::size_t>(shortest_s));
        for (std::size_t i = 0; i < count; ++i) {
            const auto at = [&](std::size_t section) {
                return rows.begin() + static_cast<std::ptrdiff_t>(section * rows.size() / count);
            };
            const std::vector<Row> of_section(at(i), at(i + 1));
            if (!of_section.empty()) sections.push_back(section_of(arguments_, of_section));
        }
        return count == 0 ? 0 : rows.size() / count;
    }

    // Seconds of each section, of what the reducers gathered.
    double cut_time(double shortest_s, std::vector<QuantityArguments>& sections) const
    {
        double whole_s = 0.0;
        for (const SelectedMotion& one : arguments_.motions) whole_s += length_of(one.selected);
        for (const SelectedSwings& one : arguments_.swings) whole_s += length_of(one.selected);
        const auto count = std::min(most_sections, static_cast<std::size_t>(whole_s / shortest_s));
        const double section_s = whole_s / static_cast<double>(std::max<std::size_t>(1, count));
        for (std::size_t i = 0; i < count; ++i) {
            QuantityArguments section = arguments_;
            double before_s = 0.0;
            const auto narrow = [&](auto& list) {
                for (auto& one : list) {
                    const double length = length_of(one.selected);
                    const double from_s = static_cast<double>(i) * section_s - before_s;
                    one.selected = stretch_of(one.selected, from_s, from_s + section_s);
                    before_s += length;
                }
            };
            narrow(section.motions);
            narrow(section.swings);
            sections.push_back(std::move(section));
        }
        return section_s;
    }

    // --- percentiles ---

    Found of_percentile(const ValueSeries& series) const
    {
        const std::vector<double>& values = series.values;
        const auto n = static_cast<double>(values.size());
        const double share = *series.percent / 100.0;
        if (values.size() < fewest_blocks || n * std::min(share, 1.0 - share) < 1.0 - 1e-9)
            return unknown(series.are_events ? few_events : "the record has too few values for the percentile");
        const double at = en12299::percentile(values, *series.percent);
        if (!(at > 0.0)) return unknown("there is no motion");
        const double together = series.are_events ? 1.0 : correlated_values(values);
        const std::uint64_t seed = filters::seed_of(values.size(), values);
        const auto draws = static_cast<std::size_t>(std::clamp(most_drawn / n, 100.0, 400.0));
        double relative = scatter_of_resampled(series, at, together, draws, seed);
        if (series.are_rms) {
            const double of_noise = scatter_of_normal(series, at, together, draws, seed);
            if (relative < no_noise * of_noise) relative = of_noise;
        }
        return RecordStatistic{
            .relative = relative,
            .dof = std::max(1.0, n / together - 1.0),
            .method = fmt::format("{} percentiles drawn from {} values, seed {:016x}", draws, values.size(), seed),
            .shrinks = series.are_all      ? Shrinks::never
                       : series.are_events ? Shrinks::with_events
                                           : Shrinks::with_time,
            .amount = series.are_events ? n : arguments_.tally.duration_s};
    }

    // Of the percentiles of series put together from runs of the record's own values.
    static double scatter_of_resampled(const ValueSeries& series, double at, double together, std::size_t draws,
                                       std::uint64_t seed)
    {
        const std::size_t n = series.values.size();
        const double wanted = std::max(std::cbrt(static_cast<double>(n)), 2.0 * together);
        const std::size_t run =
            series.are_events ? 1 : std::min(n / fewest_values, static_cast<std::size_t>(std::ceil(wanted)));
        filters::Draws from(seed);
        std::vector<double> percentiles, drawn;
        for (std::size_t draw = 0; draw < draws; ++draw) {
            drawn.clear();
            while (drawn.size() < n) {
                const std::size_t first = from.below(n); // the series is taken as a ring
                for (std::size_t i = 0; i < run && drawn.size() < n; ++i)
                    drawn.push_back(series.values[(first + i) % n]);
            }
            percentiles.push_back(en12299::percentile(drawn, *series.percent));
        }
        return std::sqrt(spread_of(percentiles).variance) / at;
    }

    // Of the percentiles of normal series like the record's about that of the distribution: x_i = a x_(i-1) + e_i
    // hangs together for (1 + a) / (1 - a) values.
    static double scatter_of_normal(const ValueSeries& series, double at, double together, std::size_t draws,
                                    std::uint64_t seed)
    {
        const double deviation = std::sqrt(spread_of(series.values).variance);
        const double a = (together - 1.0) / (together + 1.0), fresh = std::sqrt(1.0 - a * a);
        const double of_distribution = filters::normal_quantile(*series.percent / 100.0);
        filters::Draws from(~seed);
        double squares = 0.0;
        std::vector<double> drawn(series.values.size());
        for (std::size_t draw = 0; draw < draws; ++draw) {
            double x = from.normal();
            for (double& one : drawn) one = x = a * x + fresh * from.normal();
            const double off = en12299::percentile(drawn, *series.percent) - of_distribution;
            squares += off * off;
        }
        return deviation * std::sqrt(squares / static_cast<double>(draws)) / at;
    }

    const Quantity& quantity_;
    const QuantityArguments& arguments_;
};

} // namespace

double correlated_values(const std::vector<double>& values)
{
    BECALM_ASSERT(values.size() >= 2);
    const Spread spread = spread_of(values);
    const std::size_t n = values.size();
    double together = 1.0;
    if (!(spread.variance > 0.0)) return together;
    // Up to a quarter of the series: beyond, few pairs say little.
    for (std::size_t distance = 1; distance <= n / 4; ++distance) {
        double products = 0.0;
        for (std::size_t i = distance; i < n; ++i)
            products += (values[i] - spread.mean) * (values[i - distance] - spread.mean);
        // What taking the series' own mean away hides of it, about 1 / n.
        const double correlation =
            products / (static_cast<double>(n - 1) * spread.variance) + 1.0 / static_cast<double>(n);
        if (correlation < 2.0 / std::sqrt(static_cast<double>(n))) break; // no more than chance gives
        together += 2.0 * correlation;
    }
    return together;
}

VarianceOfMean variance_of_mean(std::vector<double> values)
{
    BECALM_ASSERT(values.size() >= fewest_values);
    const auto of = [&](std::size_t block) {
        const auto n = static_cast<double>(values.size());
        return VarianceOfMean{.variance = spread_of(values).variance / n, .dof = n - 1.0, .block = block};
    };
    VarianceOfMean found = of(1);
    while (values.size() / 2 >= fewest_blocks) {
        for (std::size_t i = 0; i < values.size() / 2; ++i) values[i] = 0.5 * (values[2 * i] + values[2 * i + 1]);
        values.resize(values.size() / 2);
        VarianceOfMean doubled = of(2 * found.block);
        // The sampling error of a variance is sqrt(2 / dof) of it.
        doubled.settled = doubled.variance <= found.variance * (1.0 + std::sqrt(2.0 / doubled.dof));
        found = doubled;
        if (found.settled) break;
    }
    return found;
}

tl::expected<RecordStatistic, std::string> record_statistic(const Quantity& quantity,
                                                            const QuantityArguments& arguments, RepeatsRule repeats,
                                                            double value, const std::vector<double>& each)
{
    if (!(value > 0.0) && quantity.unit != "dB") return tl::unexpected(std::string("there is no motion"));
    const FromRecords from(quantity, arguments);
    if (each.size() > 1) return from.of_repeats(value, each, repeats == RepeatsRule::highest);
    const double power = quantity.power.value_or(1.0);
    switch (quantity.from) {
    case FromRecord::mean_square: return from.of_mean(power / 2.0);
    case FromRecord::mean_fourth: return from.of_mean(power / 4.0);
    case FromRecord::mean_spectrum:
    case FromRecord::greatest_spectrum: return from.of_spectra(value);
    case FromRecord::mean_motion: return from.of_bins();
    case FromRecord::maximum: return from.of_maximum(value);
    case FromRecord::series: return from.of_series(value);
    case FromRecord::events: return from.of_events(value);
    case FromRecord::other: break;
    }
    return tl::unexpected(std::string("the record's statistics are not known for this quantity"));
}

} // namespace becalm::evaluators
