#include "evaluators/record_statistics.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include <fmt/format.h>

namespace becalm::evaluators {
namespace {

constexpr std::size_t fewest_blocks = 8;               // common practice, no source: fewer say nothing about a variance
constexpr std::size_t fewest_values = 4;               // with 3 degrees of freedom the t-distribution has a variance
constexpr double shortest_section_s = 5.0;             // common practice, no source: of maxima
constexpr double shortest_percentile_section_s = 30.0; // common practice, no source: six blocks of 5 s, one of 30 s
constexpr std::size_t most_maxima = 12, most_percentiles = 6; // sections
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

class FromRecords {
public:
    FromRecords(const Quantity& quantity, const QuantityArguments& arguments)
        : quantity_(quantity), arguments_(arguments)
    {
    }

    tl::expected<RecordStatistic, std::string> of_mean(double value_power) const
    {
        // Doses add up over events; what repeats a motion that lasts is averaged over time.
        const bool by_event = arguments_.events.has_value();
        std::vector<double> recordings;
        for (const Tally& tally : arguments_.recordings)
            recordings.push_back(integral_of(tally) / (by_event ? 1.0 : tally.duration_s));
        std::optional<RecordStatistic> between;
        if (recordings.size() > 1) {
            const Spread spread = spread_of(recordings);
            const auto n = static_cast<double>(recordings.size());
            if (spread.mean > 0.0)
                between = RecordStatistic{
                    .relative = value_power * std::sqrt(spread.variance / n) / spread.mean,
                    .dof = n - 1.0,
                    .method = fmt::format("between {} {}", recordings.size(), by_event ? "events" : "recordings")};
        }
        if (by_event) {
            if (between) return *between;
            return tl::unexpected(std::string("one event tells nothing about the next"));
        }
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
        if (seconds.size() < fewest_values) {
            if (between) return *between;
            return tl::unexpected(std::string("the record is too short to tell"));
        }
        const double mean = std::accumulate(seconds.begin(), seconds.end(), 0.0) / static_cast<double>(seconds.size());
        if (!(mean > 0.0)) return tl::unexpected(std::string("there is no motion"));
        const VarianceOfMean within = variance_of_mean(std::move(seconds));
        const double relative = value_power * std::sqrt(within.variance) / mean;
        if (between && between->relative > relative) return *between;
        return RecordStatistic{.relative = relative,
                               .dof = within.dof,
                               .method = fmt::format("variance of the mean over blocks of {} s{}", within.block,
                                                     within.settled ? "" : ", which still grows with them")};
    }

    tl::expected<RecordStatistic, std::string> of_sections(double value) const
    {
        const bool is_maximum = quantity_.from == FromRecord::maximum;
        const std::size_t most = is_maximum ? most_maxima : most_percentiles;
        std::vector<std::vector<Row>> sections(1);
        const std::vector<Row> rows = rows_of(arguments_);
        std::string what = "recordings";
        if (arguments_.recordings.size() >= fewest_values) {
            for (const Row& at : rows) {
                if (!sections.back().empty() && sections.back().back().recording != at.recording)
                    sections.emplace_back();
                sections.back().push_back(at);
            }
        } else {
            if (arguments_.events) return tl::unexpected(std::string("few events tell nothing about the next"));
            const double shortest = is_maximum ? shortest_section_s : shortest_percentile_section_s;
            const std::size_t count = std::min(most, rows.size() / static_cast<std::size_t>(shortest));
            if (count < fewest_values) return tl::unexpected(std::string("the record is too short to tell"));
            what = fmt::format("sections of {} s", rows.size() / count);
            sections.clear();
            for (std::size_t i = 0; i < count; ++i)
                sections.emplace_back(rows.begin() + static_cast<std::ptrdiff_t>(i * rows.size() / count),
                                      rows.begin() + static_cast<std::ptrdiff_t>((i + 1) * rows.size() / count));
        }
        std::vector<double> values;
        for (const std::vector<Row>& section : sections) {
            if (section.empty()) continue;
            const QuantityResult one = quantity_.evaluate(section_of(arguments_, section));
            if (!one) return tl::unexpected(std::string("its sections have no value"));
            values.push_back(linear(one->value));
        }
        if (values.size() < fewest_values) return tl::unexpected(std::string("the record is too short to tell"));
        const Spread spread = spread_of(values);
        const double n = static_cast<double>(values.size());
        const double of_one = std::sqrt(spread.variance);
        if (is_maximum && of_one > greatest_scatter * spread.mean)
            return tl::unexpected(std::string("the motion is not stationary, and its greatest value stands alone"));
        return RecordStatistic{.relative = of_one / (is_maximum ? 1.0 : std::sqrt(n)) / linear(value),
                               .dof = n - 1.0,
                               .is_maximum = is_maximum,
                               .method = fmt::format("{} of {} {}", is_maximum ? "scatter of the maxima" : "scatter",
                                                     values.size(), what)};
    }

    // Left out one by one.
    tl::expected<RecordStatistic, std::string> of_events(double value) const
    {
        const std::size_t count = arguments_.recordings.size();
        if (count < fewest_values) return tl::unexpected(std::string("few events tell nothing about the next"));
        std::vector<double> values;
        for (std::size_t out = 0; out < count; ++out) {
            QuantityArguments rest = arguments_;
            rest.recordings.erase(rest.recordings.begin() + static_cast<std::ptrdiff_t>(out));
            rest.rows.erase(rest.rows.begin() + static_cast<std::ptrdiff_t>(out));
            rest.tally = {};
            for (const Tally& tally : rest.recordings) rest.tally = merge(rest.tally, tally);
            const QuantityResult one = quantity_.evaluate(rest);
            if (!one) return tl::unexpected(std::string("without one of the events there is no value"));
            values.push_back(one->value);
        }
        const Spread spread = spread_of(values);
        const auto n = static_cast<double>(count);
        return RecordStatistic{.relative = std::sqrt(spread.variance * (n - 1.0) * (n - 1.0) / n) / value,
                               .dof = n - 1.0,
                               .method = fmt::format("{} events, left out one by one", count)};
    }

    // Of the values of repeats that are not pooled.
    tl::expected<RecordStatistic, std::string> of_repeats(double value, const std::vector<double>& each,
                                                          bool highest) const
    {
        std::vector<double> values;
        for (const double one : each) values.push_back(linear(one));
        const Spread spread = spread_of(values);
        const auto n = static_cast<double>(values.size());
        return RecordStatistic{.relative = std::sqrt(spread.variance / (highest ? 1.0 : n)) / linear(value),
                               .dof = n - 1.0,
                               .is_maximum = highest,
                               .method = fmt::format("between {} recordings", values.size())};
    }

private:
    bool is_of_fourths() const { return quantity_.from == FromRecord::mean_fourth; }
    double integral_of(const Tally& tally) const { return is_of_fourths() ? tally.sum_fourths : tally.sum_squares; }
    double linear(double value) const { return quantity_.unit == "dB" ? std::pow(10.0, value / 20.0) : value; }

    const Quantity& quantity_;
    const QuantityArguments& arguments_;
};

} // namespace

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
    case FromRecord::maximum:
    case FromRecord::sections: return from.of_sections(value);
    case FromRecord::events: return from.of_events(value);
    case FromRecord::other: break;
    }
    return tl::unexpected(std::string("the record's statistics are not known for this quantity"));
}

} // namespace becalm::evaluators
