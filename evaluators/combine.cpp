#include "evaluators/combine.h"

#include <algorithm>
#include <set>

#include "filters/quantities.h"

namespace becalm::evaluators {
namespace {

Combined alone(std::span<const VerdictTerm> terms, std::size_t i)
{
    const double value = terms[i].factor * *terms[i].value;
    return {.value = value, .axis = terms[i].axis, .weighting = terms[i].weighting, .from = {i}, .shares = {value}};
}

// The total of the terms that `counts` lets through.
template <class Counts>
Combined total(std::span<const VerdictTerm> terms, Counts counts)
{
    Combined combined{.axis = "total"};
    std::vector<filters::WeightedAxis> axes;
    std::vector<std::string> weightings;
    for (std::size_t i = 0; i < terms.size(); ++i) {
        if (!counts(terms[i])) continue;
        axes.push_back({*terms[i].value, terms[i].factor});
        combined.from.push_back(i);
        if (std::ranges::find(weightings, terms[i].weighting) == weightings.end())
            weightings.push_back(terms[i].weighting);
    }
    for (const std::string& weighting : weightings)
        combined.weighting += (combined.weighting.empty() ? "" : "+") + weighting;
    combined.value = filters::total_value(axes);
    for (const filters::WeightedAxis& axis : axes) {
        const double part = axis.factor * axis.value;
        combined.shares.push_back(combined.value > 0.0 ? part * part / combined.value : 0.0);
    }
    return combined;
}

Combined total(std::span<const VerdictTerm> terms)
{
    return total(terms, [](const VerdictTerm&) { return true; });
}

Combined total_of_group(std::span<const VerdictTerm> terms, int group)
{
    return total(terms, [group](const VerdictTerm& term) { return term.group == group; });
}

Combined sum_of_totals(std::span<const VerdictTerm> terms)
{
    Combined sum = total(terms); // for its names
    sum.value = 0.0;
    std::set<int> groups;
    for (const VerdictTerm& term : terms) groups.insert(term.group);
    for (const int group : groups) {
        const Combined part = total_of_group(terms, group);
        sum.value += part.value;
        for (std::size_t i = 0; i < part.from.size(); ++i) sum.shares[part.from[i]] = part.shares[i];
    }
    return sum;
}

// In per cent; empty where the lower total is nothing.
std::vector<Combined> ratio(std::span<const VerdictTerm> terms)
{
    const Combined above = total_of_group(terms, 1), below = total_of_group(terms, 2);
    if (below.value == 0.0) return {};
    Combined ratio = total(terms); // for its names
    ratio.value = 100.0 * above.value / below.value;
    ratio.axis = terms.front().axis;
    std::ranges::fill(ratio.shares, 0.0);
    const double of_above = 100.0 / below.value, of_below = -ratio.value / below.value;
    for (std::size_t i = 0; i < above.from.size(); ++i) ratio.shares[above.from[i]] = of_above * above.shares[i];
    for (std::size_t i = 0; i < below.from.size(); ++i) ratio.shares[below.from[i]] = of_below * below.shares[i];
    return {ratio};
}

} // namespace

std::vector<Combined> combine(AxisRule rule, std::span<const VerdictTerm> terms)
{
    std::vector<Combined> each;
    for (std::size_t i = 0; i < terms.size(); ++i) each.push_back(alone(terms, i));
    if (each.empty()) return {};
    switch (rule) {
    case AxisRule::each: return each;
    case AxisRule::highest: return {*std::ranges::max_element(each, {}, &Combined::value)};
    case AxisRule::vertical: std::erase_if(each, [](const Combined& c) { return c.axis != "z"; }); return each;
    case AxisRule::total: return {total(terms)};
    case AxisRule::sum_of_totals: return {sum_of_totals(terms)};
    case AxisRule::ratio: return ratio(terms);
    }
    return {};
}

} // namespace becalm::evaluators
