#include "evaluators/en12299.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

namespace becalm::evaluators::en12299 {

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
    std::ranges::sort(values);
    const double position = percent / 100.0 * static_cast<double>(values.size() - 1);
    const auto below = static_cast<std::size_t>(position);
    const std::size_t above = std::min(below + 1, values.size() - 1);
    return values[below] + (position - static_cast<double>(below)) * (values[above] - values[below]);
}

QuantityResult block_rms(const QuantityArguments& arguments)
{
    const int block_s = std::max(1, static_cast<int>(parameter(arguments, "block_s", 5.0)));
    const double percent = std::clamp(parameter(arguments, "percentile", 95.0), 0.0, 100.0);
    std::vector<double> values;
    for (const SelectedRows& rows : arguments.rows)
        std::ranges::copy(block_values(rows, block_s), std::back_inserter(values));
    if (values.empty())
        return fail({.what = fmt::format("no whole block of {} s is left", block_s),
                     .remedy = "measure longer or exclude less"});
    const std::size_t blocks = values.size();
    return QuantityValue{
        .value = percentile(std::move(values), percent),
        .notes = {fmt::format("{} blocks of {} s; percentiles linear between order statistics", blocks, block_s)}};
}

} // namespace becalm::evaluators::en12299
