#include "evaluators/classify.h"

#include <algorithm>

#include "src/base/problem.h"

namespace becalm::evaluators {
namespace {

bool below_upper_end(double value, const Band& band)
{
    return !band.limit || (band.inclusive ? value <= *band.limit : value < *band.limit);
}

bool above_lower_end(double value, std::span<const Band> bands, std::size_t i)
{
    if (bands[i].from) return value >= *bands[i].from;
    return i == 0 || !below_upper_end(value, bands[i - 1]);
}

} // namespace

Classification classify(double value, std::span<const Band> bands)
{
    BECALM_ASSERT(!bands.empty() && !bands.back().limit);
    std::vector<std::size_t> holding;
    for (std::size_t i = 0; i < bands.size(); ++i)
        if (above_lower_end(value, bands, i) && below_upper_end(value, bands[i])) holding.push_back(i);
    BECALM_ASSERT(!holding.empty());
    Classification result{.band = holding.back()};
    holding.pop_back();
    result.also = std::move(holding);
    return result;
}

double compared(Comparison rule, double value, double expanded_uncertainty)
{
    return rule == Comparison::guarded ? value + expanded_uncertainty : value;
}

const Scale* scale_for(const Criterion& criterion, std::string_view use)
{
    const auto own = std::ranges::find(criterion.scales, use, &Scale::use);
    if (own != criterion.scales.end()) return &*own;
    const auto any = std::ranges::find(criterion.scales, std::string_view("any"), &Scale::use);
    return any == criterion.scales.end() ? nullptr : &*any;
}

} // namespace becalm::evaluators
