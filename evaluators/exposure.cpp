#include "evaluators/exposure.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include <fmt/format.h>

namespace becalm::evaluators {
namespace {

bool looks_at(const Criterion& criterion, Position position)
{
    return criterion.positions.empty() || std::ranges::find(criterion.positions, position) != criterion.positions.end();
}

bool fits(const Criterion& criterion, Setting setting)
{
    return criterion.settings.empty() || std::ranges::find(criterion.settings, setting) != criterion.settings.end();
}

// The guides to the Directive give its points.
std::string publication_of(const Criterion& criterion)
{
    return criterion.source.starts_with("eu-guide-") ? std::string("directive-2002-44-ec") : criterion.source;
}

} // namespace

Problem exposure_missing()
{
    return {.what = "it is not known how long a day the exposure lasts",
            .remedy = "add exposure_h = ... (hours) to the condition of these recordings, or name the space and the "
                      "hours among the tasks of an [[exposure]]"};
}

std::string exposure_note(const QuantityArguments& arguments)
{
    BECALM_ASSERT(arguments.exposed_s.has_value());
    return fmt::format("{:.0f} s measured, exposure {:.4g} h a day", arguments.tally.duration_s,
                       *arguments.exposed_s / 3600.0);
}

bool refers_to_a_week(const Criterion& criterion)
{
    constexpr double day_h = 24.0; // not a limit: a longer reference is that of a week
    return criterion.reference_h.value_or(0.0) > day_h;
}

bool stands_for(const Recording& recording, const Task& task)
{
    return recording.space == task.space && (!task.position || *task.position == recording.position) &&
           (task.condition.empty() || task.condition == recording.condition);
}

bool is_of_hands(Position position) { return position == Position::hand_left || position == Position::hand_right; }

bool is_of_hands(const Criterion& criterion)
{
    return !criterion.positions.empty() &&
           std::ranges::all_of(criterion.positions, [](Position position) { return is_of_hands(position); });
}

bool is_of_other_kind(const Survey& survey, const Task& task, const Criterion& criterion)
{
    if (criterion.positions.empty()) return false;
    const bool of_hands = is_of_hands(criterion);
    bool recorded = false;
    for (const Recording& recording : survey.recordings) {
        if (!stands_for(recording, task)) continue;
        if (is_of_hands(recording.position) == of_hands) return false;
        recorded = true;
    }
    return recorded;
}

double exposed_hours(const Survey& survey, const Criterion& criterion, const Verdict& verdict)
{
    const bool whole_week = refers_to_a_week(criterion);
    double hours = 0.0;
    for (const Exposure& exposure : survey.exposures)
        if (exposure.person == verdict.person && (whole_week || exposure.day == verdict.condition))
            for (const Task& task : exposure.tasks)
                if (!is_of_other_kind(survey, task, criterion)) hours += task.hours;
    return hours;
}

std::vector<TimeToBound> times_to_bounds(const Verdict& verdict, double exposed_h)
{
    const Quantity* quantity = quantity_named(verdict.quantity);
    if (quantity == nullptr || !quantity->daily || !verdict.value || *verdict.value <= 0.0 || exposed_h <= 0.0)
        return {};
    const double power = power_of_time(verdict.quantity);
    std::vector<TimeToBound> times;
    for (std::size_t i = 0; i + 1 < verdict.bands.size(); ++i) {
        const auto& limit = verdict.bands[i].limit;
        if (!limit) continue;
        times.push_back({.band = verdict.bands[i + 1].name,
                         .bound = *limit,
                         .hours = exposed_h * std::pow(*limit / *verdict.value, power),
                         .exceeds = verdict.bands[i + 1].exceeds});
    }
    return times;
}

bool is_daily(const Criterion& criterion)
{
    const Quantity* quantity = quantity_named(criterion.quantity);
    return quantity != nullptr && quantity->daily;
}

double power_of_time(std::string_view quantity)
{
    return quantity == "daily_exposure" ? 2.0 : quantity == "exposure_points" ? 1.0 : 4.0;
}

std::vector<UnjudgedTask> unjudged_tasks(const Survey& survey, const io::CriteriaLibrary& library)
{
    std::vector<const Criterion*> daily;
    for (const auto& [id, criterion] : library.criteria)
        if (is_daily(criterion)) daily.push_back(&criterion);
    std::set<UnjudgedTask> tasks;
    const auto is_judged = [&](const UnjudgedTask& task) {
        return std::ranges::any_of(survey.judges, [&](const Judge& judge) {
            if (!judge.uses.empty() && std::ranges::find(judge.uses, task.use) == judge.uses.end()) return false;
            return std::ranges::any_of(daily, [&](const Criterion* criterion) {
                return std::ranges::find(judge.criteria, criterion->id) != judge.criteria.end() &&
                       looks_at(*criterion, task.position);
            });
        });
    };
    for (const Exposure& exposure : survey.exposures)
        for (const Task& task : exposure.tasks) {
            const Space* space = survey.space(task.space);
            if (space == nullptr) continue;
            for (const Recording& recording : survey.recordings) {
                const bool can_be_judged = std::ranges::any_of(daily, [&](const Criterion* criterion) {
                    return !criterion->positions.empty() && looks_at(*criterion, recording.position);
                });
                const UnjudgedTask of{space->use, recording.position};
                if (stands_for(recording, task) && can_be_judged && !is_judged(of)) tasks.insert(of);
            }
        }
    return {tasks.begin(), tasks.end()};
}

std::vector<DailyCriteria> daily_criteria_for(const Survey& survey, const io::CriteriaLibrary& library,
                                              const std::vector<UnjudgedTask>& tasks)
{
    std::map<std::string, DailyCriteria> by_publication;
    for (const auto& [id, criterion] : library.criteria) {
        const bool is_wanted =
            std::ranges::any_of(tasks, [&](const UnjudgedTask& task) { return looks_at(criterion, task.position); });
        // Those that stay switched off until somebody has confirmed their numbers are for the editor.
        if (!is_daily(criterion) || !is_wanted || !fits(criterion, survey.setting) || criterion.check_first) continue;
        DailyCriteria& of = by_publication[publication_of(criterion)];
        if (of.edition.empty() || criterion.source == publication_of(criterion)) of.edition = criterion.edition;
        of.criteria.push_back(id);
    }
    std::vector<DailyCriteria> all;
    for (auto& [source, criteria] : by_publication)
        if (source == "directive-2002-44-ec")
            all.insert(all.begin(), std::move(criteria));
        else
            all.push_back(std::move(criteria));
    return all;
}

std::vector<Duty> duties(const std::vector<Verdict>& verdicts, const io::CriteriaLibrary& library)
{
    const auto words_of = [&](const Verdict& verdict) {
        const auto criterion = library.criteria.find(verdict.criterion);
        return criterion == library.criteria.end() ? std::string() : criterion->second.note;
    };
    std::vector<const Verdict*> worst; // of each day
    for (const Verdict& verdict : verdicts) {
        if (verdict.person.empty() || !verdict.exceeded || words_of(verdict).empty()) continue;
        const auto same_day = std::ranges::find_if(worst, [&](const Verdict* other) {
            return other->person == verdict.person && other->condition == verdict.condition;
        });
        if (same_day == worst.end())
            worst.push_back(&verdict);
        else if (verdict.band_index > (*same_day)->band_index)
            *same_day = &verdict;
    }
    std::vector<Duty> all;
    for (const Verdict* verdict : worst) {
        const std::string words = words_of(*verdict);
        auto duty = std::ranges::find(all, words, &Duty::words);
        if (duty == all.end()) duty = all.insert(duty, {.words = words});
        duty->days.push_back(verdict);
    }
    return all;
}

} // namespace becalm::evaluators
