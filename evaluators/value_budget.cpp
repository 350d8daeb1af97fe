#include "evaluators/value_budget.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

namespace becalm::evaluators {
namespace {

constexpr double coverage = 2.0;            // k of what a survey states, and of what is reported
constexpr double filter_bound = 0.01 / 100; // what tests/filters hold the weightings to

} // namespace

ValueBudget::ValueBudget(const Survey& survey, const Quantity& quantity) : survey_(survey), quantity_(quantity)
{
    BECALM_ASSERT(quantity.power.has_value());
}

std::size_t ValueBudget::source(const std::string& name, const std::string& of, bool lowers, UncertaintySource what)
{
    const auto [at, is_new] = known_.try_emplace({name, of, lowers}, budget_.sources.size());
    if (is_new) {
        what.name = name;
        budget_.sources.push_back(std::move(what));
    }
    return at->second;
}

void ValueBudget::add(const std::vector<TermValue>& terms, const Combined& value)
{
    Candidate candidate{.value = value.value};
    const bool is_level = quantity_.unit == "dB"; // its term alone: factors of levels mean nothing
    for (std::size_t i = 0; i < value.from.size(); ++i) {
        const TermValue& term = terms[value.from[i]];
        const double share = is_level ? 20.0 / std::numbers::ln10 : value.shares[i];
        add_stated(term, share * (is_level ? 1.0 : *quantity_.power), candidate);
        add_statistics(term, share, candidate);
    }
    budget_.candidates.push_back(std::move(candidate));
}

// `share`: what a relative change of the motion adds to the value.
void ValueBudget::add_stated(const TermValue& term, double share, Candidate& candidate)
{
    const bool lowers = share < 0.0;
    double percent = 0.0;
    std::string sensor_id;
    for (const Recording* recording : term.recordings) {
        const Sensor* sensor = survey_.sensor(recording->sensor);
        const std::optional<double> stated =
            sensor == nullptr ? std::nullopt : calibration_on(*sensor, recording->start).uncertainty_percent;
        if (!stated) {
            if (!calibration_missing_)
                not_covered_.push_back(
                    recording->sensor.empty()
                        ? std::string("calibration: a recording names no sensor")
                        : fmt::format("calibration: the sensor {} states no uncertainty_percent", recording->sensor));
            calibration_missing_ = true;
        } else if (sensor_id.empty() || *stated > percent) {
            percent = *stated;
            sensor_id = sensor->id;
        }
    }
    const auto put = [&](const std::string& name, const std::string& of, double relative, UncertaintySource what) {
        candidate.contributions.push_back({source(name, of, lowers, std::move(what)), share * relative});
    };
    if (!sensor_id.empty())
        put("calibration", sensor_id, percent / 100.0 / coverage,
            {.method = fmt::format("sensor {}: {:.4g} %, k = 2", sensor_id, percent)});
    if (term.drift_percent != 0.0)
        put("drift", term.drift_sensor, std::abs(term.drift_percent) / 100.0 / std::numbers::sqrt3,
            {.method = fmt::format("sensor {}: {:+.2g} % from the check before to the one after, rectangular",
                                   term.drift_sensor, term.drift_percent),
             .is_rectangular = true});
    if (term.shown.weighting != name_of(WeightingId::none))
        put("filter", "", filter_bound / std::numbers::sqrt3,
            {.method = "within 0.01 % of the definition, rectangular"}); // too small for its shape to be seen
    const std::string& place = term.recordings.front()->file;
    std::optional<double> mounting, position;
    for (const Recording* recording : term.recordings) {
        mounting = std::max(mounting, survey_.mounting_percent_of(*recording)); // nothing stated is least
        position = std::max(position, survey_.position_percent_of(*recording));
    }
    for (const auto& [name, stated] : {std::pair("mounting", mounting), std::pair("position", position)})
        if (stated)
            put(name, place, *stated / 100.0 / coverage, {.method = fmt::format("stated: {:.4g} %, k = 2", *stated)});
}

void ValueBudget::add_statistics(const TermValue& term, double share, Candidate& candidate)
{
    for (const PartStatistic& part : term.statistics) {
        if (part.share == 0.0) continue;
        if (!part.statistic) {
            const std::string text = fmt::format("statistics of axis {}: {}", term.shown.axis, part.statistic.error());
            // Of a value that competes with the governing one no more than that can be said.
            if (budget_.candidates.empty() && std::ranges::find(not_covered_, text) == not_covered_.end())
                not_covered_.push_back(text);
            continue;
        }
        candidate.contributions.push_back({budget_.sources.size(), share * part.share * part.statistic->relative});
        budget_.sources.push_back({.name = "statistics",
                                   .method = part.statistic->method,
                                   .dof = part.statistic->dof,
                                   .is_maximum = part.statistic->is_maximum,
                                   .shrinks = part.statistic->shrinks,
                                   .amount = part.statistic->amount});
    }
}

Uncertainty ValueBudget::uncertainty(std::optional<Propagated>& propagated) const
{
    const Propagated result(budget_);
    Uncertainty uncertainty{.k = coverage, .components = result.components(), .not_covered = not_covered_};
    if (calibration_missing_) return uncertainty;
    uncertainty.standard = result.standard();
    uncertainty.method = result.method();
    propagated = result;
    return uncertainty;
}

} // namespace becalm::evaluators
