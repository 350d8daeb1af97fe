#include "evaluators/uncertainty.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <span>

#include <fmt/format.h>

#include "filters/draws.h"
#include "src/base/problem.h"

namespace becalm::evaluators {
namespace {

std::uint64_t seed_for(const Budget& budget)
{
    std::uint64_t seed = budget.sources.size();
    for (const Candidate& candidate : budget.candidates) {
        seed = filters::seed_of(seed, std::span(&candidate.value, 1));
        for (const Contribution& contribution : candidate.contributions)
            seed = filters::seed_of(seed, std::span(&contribution.standard, 1));
    }
    return seed;
}

double variance_of(const std::vector<double>& by_source)
{
    double variance = 0.0;
    for (const double standard : by_source) variance += standard * standard;
    return variance;
}

// What each source adds to the candidate, all its terms together.
std::vector<double> by_source(const Candidate& candidate, const std::vector<UncertaintySource>& sources)
{
    std::vector<double> sum(sources.size(), 0.0);
    for (const Contribution& contribution : candidate.contributions) sum[contribution.source] += contribution.standard;
    double variance = 0.0, spread = 0.0;
    for (std::size_t i = 0; i < sum.size(); ++i) {
        if (!sources[i].dof) continue;
        variance += sum[i] * sum[i];
        spread += std::pow(sum[i], 4.0) / *sources[i].dof;
    }
    if (!(spread > 0.0)) return sum;
    const double dof = std::max(3.0, variance * variance / spread);
    const double for_few = std::sqrt(dof / (dof - 2.0));
    for (std::size_t i = 0; i < sum.size(); ++i)
        if (sources[i].dof) sum[i] *= for_few;
    return sum;
}

bool is_normal_shape(const UncertaintySource& source) { return !source.is_maximum && !source.is_rectangular; }

bool are_proportional(const std::vector<double>& a, const std::vector<double>& b)
{
    constexpr double rounding = 1e-9;
    for (std::size_t i = 0; i < a.size(); ++i)
        for (std::size_t j = 0; j < i; ++j)
            if (std::abs(a[i] * b[j] - a[j] * b[i]) > rounding * (std::abs(a[i] * b[j]) + std::abs(a[j] * b[i])))
                return false;
    return true;
}

std::vector<UncertaintyComponent> components_of(const Budget& budget, const std::vector<double>& standards)
{
    std::vector<UncertaintyComponent> components;
    std::vector<double> spread; // sum of u^4 / dof, for the Welch-Satterthwaite formula [jcgm100-2008, G.4.1]
    std::vector<bool> used(budget.sources.size(), false);
    for (const Contribution& contribution : budget.candidates.front().contributions) used[contribution.source] = true;
    for (std::size_t i = 0; i < standards.size(); ++i) {
        if (!used[i]) continue;
        const UncertaintySource& source = budget.sources[i];
        auto component = std::ranges::find(components, source.name, &UncertaintyComponent::name);
        if (component == components.end()) {
            components.push_back({.name = source.name, .standard = 0.0, .method = source.method});
            spread.push_back(0.0);
            component = std::prev(components.end());
        } else if (component->method.find(source.method) == std::string::npos) {
            component->method += "; " + source.method;
        }
        component->standard = std::hypot(component->standard, standards[i]);
        if (source.dof)
            spread[static_cast<std::size_t>(component - components.begin())] +=
                std::pow(standards[i], 4.0) / *source.dof;
    }
    for (std::size_t i = 0; i < components.size(); ++i)
        if (spread[i] > 0.0) components[i].dof = std::pow(components[i].standard, 4.0) / spread[i];
    return components;
}

} // namespace

Propagated::Propagated(const Budget& budget, int draws, bool always) : budget_(budget)
{
    BECALM_ASSERT(!budget.candidates.empty() && draws > 1);
    Budget ordered = budget;
    std::ranges::stable_sort(ordered.candidates, std::ranges::greater{}, &Candidate::value);
    std::vector<std::vector<double>> standards;
    for (const Candidate& candidate : ordered.candidates) standards.push_back(by_source(candidate, ordered.sources));
    value_ = ordered.candidates.front().value;
    components_ = components_of(ordered, standards.front());
    standard_ = std::sqrt(variance_of(standards.front()));

    // Those that come within reach of the greatest.
    constexpr double reach = 5.0; // not a limit: standard deviations of the difference, beyond which 1 of 10^6 remains
    std::vector<std::size_t> near{0};
    for (std::size_t i = 1; i < standards.size(); ++i) {
        double variance = 0.0;
        for (std::size_t j = 0; j < standards[i].size(); ++j)
            variance += (standards[0][j] - standards[i][j]) * (standards[0][j] - standards[i][j]);
        if (value_ - ordered.candidates[i].value < reach * std::sqrt(variance)) near.push_back(i);
    }
    bool is_normal = true;
    for (std::size_t j = 0; j < ordered.sources.size(); ++j)
        for (const std::size_t i : near)
            is_normal = is_normal && !(ordered.sources[j].is_maximum && standards[i][j] != 0.0);
    if (near.size() == 1 && is_normal && !always) {
        method_ = "first order";
        return;
    }

    const std::uint64_t seed = seed_for(budget);
    method_ = fmt::format("Monte Carlo, {} draws, seed {:016x}", draws, seed);
    // Normal sources that move the candidates in the same proportion are drawn as one.
    struct Drawn {
        const UncertaintySource* shape;
        std::vector<double> standards; // of each near candidate
    };
    std::vector<Drawn> drawn;
    for (std::size_t j = 0; j < ordered.sources.size(); ++j) {
        Drawn one{.shape = &ordered.sources[j], .standards = {}};
        for (const std::size_t i : near) one.standards.push_back(standards[i][j]);
        if (std::ranges::all_of(one.standards, [](double standard) { return standard == 0.0; })) continue;
        const auto alike = std::ranges::find_if(drawn, [&](const Drawn& other) {
            return is_normal_shape(*other.shape) && is_normal_shape(*one.shape) &&
                   are_proportional(other.standards, one.standards);
        });
        if (alike == drawn.end()) {
            drawn.push_back(std::move(one));
            continue;
        }
        for (std::size_t n = 0; n < near.size(); ++n)
            alike->standards[n] = std::copysign(std::hypot(alike->standards[n], one.standards[n]), alike->standards[n]);
    }
    filters::Draws from(seed);
    std::vector<double> values(near.size());
    draws_.reserve(static_cast<std::size_t>(draws));
    for (int draw = 0; draw < draws; ++draw) {
        for (std::size_t n = 0; n < near.size(); ++n) values[n] = ordered.candidates[near[n]].value;
        for (const Drawn& one : drawn) {
            const double deviation = one.shape->is_maximum       ? from.maximum()
                                     : one.shape->is_rectangular ? from.rectangular()
                                                                 : from.normal();
            for (std::size_t n = 0; n < near.size(); ++n) values[n] += one.standards[n] * deviation;
        }
        draws_.push_back(std::ranges::max(values));
    }
    double mean = 0.0, squares = 0.0;
    for (const double value : draws_) mean += value - value_;
    mean /= draws;
    for (const double value : draws_) squares += (value - value_ - mean) * (value - value_ - mean);
    standard_ = std::sqrt(squares / (draws - 1));
}

double Propagated::probability_of_at_least(double limit) const
{
    if (is_monte_carlo()) {
        const auto beyond = std::ranges::count_if(draws_, [limit](double value) { return value >= limit; });
        return static_cast<double>(beyond) / static_cast<double>(draws_.size());
    }
    if (!(standard_ > 0.0)) return value_ >= limit ? 1.0 : 0.0;
    return 0.5 * std::erfc((limit - value_) / standard_ / std::numbers::sqrt2);
}

double Propagated::quantile(double probability) const
{
    BECALM_ASSERT(is_monte_carlo() && probability > 0.0 && probability < 1.0);
    std::vector<double> values = draws_;
    const auto at = values.begin() + static_cast<std::ptrdiff_t>(probability * static_cast<double>(values.size()));
    std::ranges::nth_element(values, at);
    return *at;
}

} // namespace becalm::evaluators
