#include "evaluators/uncertainty.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdint>
#include <numbers>

#include <fmt/format.h>

#include "src/base/problem.h"

namespace becalm::evaluators {
namespace {

// A small generator with a fixed sequence on every machine: a counter times an odd number, mixed (splitmix64).
class Draws {
public:
    explicit Draws(std::uint64_t seed) : state_(seed) {}

    std::uint64_t bits()
    {
        std::uint64_t z = state_ += 0x9e3779b97f4a7c15U;
        z = (z ^ (z >> 30U)) * 0xbf58476d1ce4e5b9U;
        z = (z ^ (z >> 27U)) * 0x94d049bb133111ebU;
        return z ^ (z >> 31U);
    }
    // Above 0, below 1.
    double uniform() { return (static_cast<double>(bits() >> 11U) + 0.5) * 0x1p-53; }
    // Mean 0, standard deviation 1: the polar method, two at a time.
    double normal()
    {
        if (has_spare_) {
            has_spare_ = false;
            return spare_;
        }
        double x = 0.0, y = 0.0, square = 0.0;
        do {
            x = 2.0 * uniform() - 1.0;
            y = 2.0 * uniform() - 1.0;
            square = x * x + y * y;
        } while (square >= 1.0 || square == 0.0);
        const double factor = std::sqrt(-2.0 * std::log(square) / square);
        spare_ = y * factor;
        has_spare_ = true;
        return x * factor;
    }
    double rectangular() { return std::numbers::sqrt3 * (2.0 * uniform() - 1.0); }
    // A Gumbel variable, turned about its mean: where the measured maximum lies high, the true one is lower.
    double maximum()
    {
        const double standard = -std::log(-std::log(uniform()));
        return -(standard - std::numbers::egamma) * std::sqrt(6.0) / std::numbers::pi;
    }

private:
    std::uint64_t state_;
    double spare_ = 0.0;
    bool has_spare_ = false;
};

std::uint64_t seed_of(const Budget& budget)
{
    std::uint64_t seed = budget.sources.size();
    const auto take = [&](double number) { seed = Draws(seed ^ std::bit_cast<std::uint64_t>(number)).bits(); };
    for (const Candidate& candidate : budget.candidates) {
        take(candidate.value);
        for (const Contribution& contribution : candidate.contributions) take(contribution.standard);
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

Propagated::Propagated(const Budget& budget, int draws, bool always)
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

    const std::uint64_t seed = seed_of(budget);
    method_ = fmt::format("Monte Carlo, {} draws, seed {:016x}", draws, seed);
    // Normal sources of one candidate alone are drawn as one.
    std::vector<std::size_t> drawn;
    std::vector<double> own(near.size(), 0.0);
    for (std::size_t j = 0; j < ordered.sources.size(); ++j) {
        std::vector<std::size_t> holders;
        for (std::size_t n = 0; n < near.size(); ++n)
            if (standards[near[n]][j] != 0.0) holders.push_back(n);
        const bool is_plain = !ordered.sources[j].is_maximum && !ordered.sources[j].is_rectangular;
        if (holders.size() == 1 && is_plain)
            own[holders.front()] = std::hypot(own[holders.front()], standards[near[holders.front()]][j]);
        else if (!holders.empty())
            drawn.push_back(j);
    }
    Draws from(seed);
    std::vector<double> deviations(drawn.size());
    draws_.reserve(static_cast<std::size_t>(draws));
    for (int draw = 0; draw < draws; ++draw) {
        for (std::size_t d = 0; d < drawn.size(); ++d) {
            const UncertaintySource& source = ordered.sources[drawn[d]];
            deviations[d] = source.is_maximum       ? from.maximum()
                            : source.is_rectangular ? from.rectangular()
                                                    : from.normal();
        }
        double greatest = 0.0;
        for (std::size_t n = 0; n < near.size(); ++n) {
            double value = ordered.candidates[near[n]].value;
            if (own[n] > 0.0) value += own[n] * from.normal();
            for (std::size_t d = 0; d < drawn.size(); ++d) value += standards[near[n]][drawn[d]] * deviations[d];
            greatest = n == 0 ? value : std::max(greatest, value);
        }
        draws_.push_back(greatest);
    }
    double mean = 0.0, squares = 0.0;
    for (const double value : draws_) mean += value - value_;
    mean /= draws;
    for (const double value : draws_) squares += (value - value_ - mean) * (value - value_ - mean);
    standard_ = std::sqrt(squares / (draws - 1));
    std::ranges::sort(draws_);
}

double Propagated::probability_of_at_least(double limit) const
{
    if (is_monte_carlo()) {
        const auto below = std::ranges::lower_bound(draws_, limit) - draws_.begin();
        return 1.0 - static_cast<double>(below) / static_cast<double>(draws_.size());
    }
    if (!(standard_ > 0.0)) return value_ >= limit ? 1.0 : 0.0;
    return 0.5 * std::erfc((limit - value_) / standard_ / std::numbers::sqrt2);
}

double Propagated::quantile(double probability) const
{
    BECALM_ASSERT(is_monte_carlo() && probability > 0.0 && probability < 1.0);
    return draws_[static_cast<std::size_t>(probability * static_cast<double>(draws_.size()))];
}

} // namespace becalm::evaluators
