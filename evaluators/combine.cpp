#include "evaluators/combine.h"

#include <algorithm>
#include <set>

#include "filters/quantities.h"

namespace becalm::evaluators {
namespace {

Combined alone(std::span<const VerdictTerm> terms, std::size_t i)
{
    return {.value = terms[i].factor * *terms[i].value,
            .axis = terms[i].axis,
            .weighting = terms[i].weighting,
            .from = {i}};
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
    return combined;
}

Combined total(std::span<const VerdictTerm> terms)
{
    return total(terms, [](const VerdictTerm&) { return true; });
}

Combined sum_of_totals(std::span<const VerdictTerm> terms)
{
    Combined sum = total(terms); // for its names
    sum.value = 0.0;
    std::set<int> groups;
    for (const VerdictTerm& term : terms) groups.insert(term.group);
    for (const int group : groups)
        sum.value += total(terms, [group](const VerdictTerm& term) { return term.group == group; }).value;
    return sum;
}

// In per cent; empty where the lower total is nothing.
std::vector<Combined> ratio(std::span<const VerdictTerm> terms)
{
    Combined ratio = total(terms); // for its names
    const auto of_group = [&](int group) {
        return total(terms, [group](const VerdictTerm& term) { return term.group == group; }).value;
    };
    const double below = of_group(2);
    if (below == 0.0) return {};
    ratio.value = 100.0 * of_group(1) / below;
    ratio.axis = terms.front().axis;
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
