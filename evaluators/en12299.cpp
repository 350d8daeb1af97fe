#include "evaluators/en12299.h"

#include <algorithm>
#include <cmath>
#include <map>

#include <fmt/format.h>

namespace becalm::evaluators::en12299 {
namespace {

int block_s_of(const QuantityArguments& arguments)
{
    return std::max(1, static_cast<int>(parameter(arguments, "block_s", 5.0)));
}

double percent_of(const QuantityArguments& arguments)
{
    constexpr double usual = 95.0; // not a limit: a percentile
    return std::clamp(parameter(arguments, "percentile", usual), 0.0, 100.0);
}

} // namespace

std::vector<double> block_values(const SelectedRows& rows, int block_s)
{
    std::vector<double> values;
    const Ledger& ledger = *rows.ledger;
    for (const TimeSpan& span : rows.selected) {
        const auto begin = static_cast<std::int64_t>(std::ceil(span.from_s)) - ledger.first_second;
        const auto end =
            std::min(static_cast<std::int64_t>(std::floor(std::min(span.to_s, 1e15))) - ledger.first_second,
                     static_cast<std::int64_t>(ledger.rows.size()));
        for (std::int64_t first = std::max<std::int64_t>(begin, 0); first + block_s <= end; first += block_s) {
            double squares = 0.0, samples = 0.0;
            for (std::int64_t i = first; i < first + block_s; ++i) {
                squares += ledger.rows[static_cast<std::size_t>(i)].sum_squares;
                samples += ledger.rows[static_cast<std::size_t>(i)].samples;
            }
            values.push_back(std::sqrt(squares / samples));
        }
    }
    return values;
}

double percentile(std::vector<double> values, double percent)
{
    BECALM_ASSERT(!values.empty() && percent >= 0.0 && percent <= 100.0);
    const double position = percent / 100.0 * static_cast<double>(values.size() - 1);
    const auto below = values.begin() + static_cast<std::ptrdiff_t>(position);
    std::ranges::nth_element(values, below);
    if (below + 1 == values.end()) return *below;
    const double above = *std::min_element(below + 1, values.end());
    return *below + (position - std::floor(position)) * (above - *below);
}

double class_percentile(const std::vector<double>& values, double percent, double width)
{
    BECALM_ASSERT(!values.empty() && percent >= 0.0 && percent <= 100.0 && width > 0.0);
    constexpr double rounding = 1e-9; // of a class, of a value
    std::map<double, double> counts;  // by the number of the class
    for (const double value : values) counts[std::floor(value / width + rounding)] += 1.0;
    const double wanted = percent / 100.0 * static_cast<double>(values.size());
    double below = 0.0;
    for (const auto& [number, count] : counts) {
        if (below + count >= wanted - rounding) return (number + std::min(1.0, (wanted - below) / count)) * width;
        below += count;
    }
    return (counts.rbegin()->first + 1.0) * width;
}

ValueSeries blocks(const QuantityArguments& arguments)
{
    ValueSeries series{.percent = percent_of(arguments), .are_rms = true};
    for (const SelectedRows& rows : arguments.rows)
        std::ranges::copy(block_values(rows, block_s_of(arguments)), std::back_inserter(series.values));
    return series;
}

QuantityResult block_rms(const QuantityArguments& arguments)
{
    const int block_s = block_s_of(arguments);
    const double percent = percent_of(arguments);
    const bool by_classes = parameter(arguments, "percentile_rule", 0.0) == 1.0;
    const double width = parameter(arguments, "class_width", 0.01);
    if (by_classes && !(width > 0.0))
        return fail({.what = fmt::format("the class width is {:.4g} m/s2", width), .remedy = "make it greater than 0"});
    const std::vector<double> values = blocks(arguments).values;
    if (values.empty())
        return fail({.what = fmt::format("no whole block of {} s is left", block_s),
                     .remedy = "measure longer or exclude less"});
    const auto at = [&](double p) { return by_classes ? class_percentile(values, p, width) : percentile(values, p); };
    QuantityValue result{.value = at(percent)};
    result.notes.push_back(
        by_classes
            ? fmt::format("{} blocks of {} s; percentiles by the cumulative frequency of classes {:.4g} m/s2 "
                          "wide, linear inside a class",
                          values.size(), block_s, width)
            : fmt::format("{} blocks of {} s; percentiles linear between order statistics", values.size(), block_s));
    if (percent == 100.0)
        result.notes.push_back(
            fmt::format("axis {}: the greatest block counts; half of the blocks are up to {:.3g} m/s2, 95 % up to "
                        "{:.3g} m/s2",
                        name_of(arguments.axis), at(50.0), at(95.0)));
    return result;
}

} // namespace becalm::evaluators::en12299
