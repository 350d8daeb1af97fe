#include "evaluators/din4150_2.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

namespace becalm::evaluators::din4150_2 {
namespace {

constexpr double per_mm = 1000.0; // mm in a metre; not a limit: KB is the number of mm/s

double sum_of_squares(std::span<const double> values)
{
    double sum = 0.0;
    for (const double value : values) sum += value * value;
    return sum;
}

int takt_s_of(const QuantityArguments& arguments)
{
    return std::max(1, static_cast<int>(std::lround(parameter(arguments, "takt_s", 30.0))));
}

Zeroing zeroing_of(const QuantityArguments& arguments)
{
    const auto below = arguments.parameters.find("zero_below");
    if (below != arguments.parameters.end()) return {.value = below->second, .inclusive = false};
    return {.value = parameter(arguments, "zero_up_to", Zeroing{}.value), .inclusive = true};
}

std::vector<double> all_takt_maxima(const QuantityArguments& arguments)
{
    std::vector<double> all;
    for (const SelectedRows& rows : arguments.rows)
        std::ranges::copy(takt_maxima(rows, takt_s_of(arguments)), std::back_inserter(all));
    return all;
}

std::string hours(double seconds) { return fmt::format("{:.4g} h", seconds / 3600.0); }

} // namespace

std::vector<double> takt_maxima(const SelectedRows& rows, int takt_s)
{
    BECALM_ASSERT(takt_s > 0);
    const Ledger& ledger = *rows.ledger;
    std::vector<double> maxima;
    std::int64_t takt = -1;
    for_each_row(ledger, rows.selected, [&](std::size_t i, bool inside) {
        if (!inside) return;
        const std::int64_t belongs_to = (ledger.first_second + static_cast<std::int64_t>(i)) / takt_s;
        if (maxima.empty() || belongs_to != takt) maxima.push_back(0.0);
        takt = belongs_to;
        maxima.back() = std::max(maxima.back(), per_mm * ledger.rows[i].exponential_rms_fast);
    });
    return maxima;
}

double kb_ftm_of(std::span<const double> takt_maxima, Zeroing zeroing)
{
    BECALM_ASSERT(!takt_maxima.empty());
    std::vector<double> counted;
    for (const double kb_fti : takt_maxima) counted.push_back(zeroing.of(kb_fti));
    return std::sqrt(sum_of_squares(counted) / static_cast<double>(counted.size()));
}

double kb_ftr_share(double kb_ftm, double exposed_s, double reference_s, double rest_factor)
{
    BECALM_ASSERT(reference_s > 0.0);
    return kb_ftm * std::sqrt(rest_factor * exposed_s / reference_s);
}

double kb_ftr_of(std::span<const double> shares) { return std::sqrt(sum_of_squares(shares)); }

bool is_met(Outcome outcome)
{
    return outcome == Outcome::met_by_greatest || outcome == Outcome::met_as_rare || outcome == Outcome::met_by_average;
}

Outcome decide(double greatest, std::optional<double> average, const DecisionLimits& limits, bool rare_events,
               bool strict)
{
    const auto keeps = [&](double value, double limit) { return strict ? value < limit : value <= limit; };
    if (keeps(greatest, limits.lower)) return Outcome::met_by_greatest;
    if (!keeps(greatest, limits.upper)) return Outcome::not_met_by_greatest;
    if (rare_events) return Outcome::met_as_rare;
    if (!limits.average) return Outcome::not_met_by_average;
    if (!average) return Outcome::open;
    return keeps(*average, *limits.average) ? Outcome::met_by_average : Outcome::not_met_by_average;
}

std::string words_of(Outcome outcome, const DecisionLimits& limits, const DecisionRule& rule,
                     std::optional<double> average)
{
    const std::string_view keeps = rule.strict ? "below" : "at most";
    const auto between = [&](bool met) {
        return fmt::format("between {} and {} the average over the period decides: {:.4g} is {}{} {}", limits.lower,
                           limits.upper, average.value_or(0.0), met ? "" : "not ", keeps, limits.average.value_or(0.0));
    };
    switch (outcome) {
    case Outcome::met_by_greatest: return fmt::format("the greatest value is {} {}", keeps, limits.lower);
    case Outcome::met_as_rare:
        return fmt::format("the greatest value is {} {} and there are no more than {:.3g} events in the period", keeps,
                           limits.upper, rule.rare_events);
    case Outcome::met_by_average: return between(true);
    case Outcome::not_met_by_greatest: return fmt::format("the greatest value is not {} {}", keeps, limits.upper);
    case Outcome::not_met_by_average:
        if (limits.average) return between(false);
        return fmt::format("the greatest value is not {} {}, and no average counts here", keeps, limits.lower);
    case Outcome::open: break;
    }
    return fmt::format("between {} and {} the average over the period decides, and it is not known", limits.lower,
                       limits.upper);
}

ValueSeries takt_series(const QuantityArguments& arguments)
{
    ValueSeries series{.values = all_takt_maxima(arguments)};
    const Zeroing zeroing = zeroing_of(arguments);
    for (double& kb_fti : series.values) kb_fti = zeroing.of(kb_fti);
    return series;
}

QuantityResult kb_fmax(const QuantityArguments& arguments)
{
    return QuantityValue{.value = per_mm * arguments.tally.exponential_rms_fast};
}

QuantityResult kb_ftm(const QuantityArguments& arguments)
{
    const std::vector<double> maxima = all_takt_maxima(arguments);
    if (maxima.empty()) return fail({.what = "no second is left", .remedy = "measure longer or exclude less"});
    const Zeroing zeroing = zeroing_of(arguments);
    const auto zeros = std::ranges::count_if(maxima, [&](double kb_fti) { return zeroing.of(kb_fti) == 0.0; });
    return QuantityValue{.value = kb_ftm_of(maxima, zeroing),
                         .notes = {fmt::format("{} intervals of {} s from the recording's start, {} of them {} {:.6g} "
                                               "and counted as 0",
                                               maxima.size(), takt_s_of(arguments), zeros,
                                               zeroing.inclusive ? "at most" : "below", zeroing.value)}};
}

QuantityResult kb_ftr(const QuantityArguments& arguments)
{
    if (!arguments.reference_s)
        return fail({.what = "it is not known over which duration the average is taken",
                     .remedy = "add reference_h = ... (hours) to the criterion"});
    QuantityResult mean = kb_ftm(arguments);
    if (!mean) return mean;
    const double reference_s = *arguments.reference_s;
    double exposed_s = arguments.exposed_s.value_or(reference_s);
    std::string lasts = arguments.exposed_s ? fmt::format("{} of {}", hours(exposed_s), hours(reference_s))
                                            : fmt::format("the whole {}: the condition states no exposure_h or events",
                                                          hours(reference_s));
    if (arguments.events) {
        const double takte =
            static_cast<double>(all_takt_maxima(arguments).size()) / static_cast<double>(arguments.rows.size());
        exposed_s = *arguments.events * takte * takt_s_of(arguments);
        lasts = fmt::format("{:.6g} events of {:.3g} intervals, {} of {}", *arguments.events, takte, hours(exposed_s),
                            hours(reference_s));
    }
    if (exposed_s > reference_s)
        return fail({.what = fmt::format("the condition lasts longer ({}) than the period ({})", hours(exposed_s),
                                         hours(reference_s)),
                     .remedy = "state how long or how often it is there in this period"});
    const double rest_factor = parameter(arguments, "rest_factor", 1.0);
    mean->value = kb_ftr_share(mean->value, exposed_s, reference_s, rest_factor);
    mean->notes.push_back(lasts +
                          (rest_factor == 1.0 ? "" : fmt::format(", times of rest count {:.3g}-fold", rest_factor)));
    return mean;
}

} // namespace becalm::evaluators::din4150_2
