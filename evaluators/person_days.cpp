#include "evaluators/person_days.h"

#include <algorithm>
#include <set>

#include <fmt/format.h>

#include "evaluators/exposure.h"

namespace becalm::evaluators {
namespace {

std::string place_of(const Task& task)
{
    return task.space + (task.condition.empty() ? "" : fmt::format(" ({})", task.condition));
}

} // namespace

std::vector<const Measured*> recordings_of(const Task& task, const std::vector<const Measured*>& measured)
{
    std::vector<const Measured*> found;
    for (const Measured* one : measured)
        if (stands_for(*one->recording, task)) found.push_back(one);
    return found;
}

DayTasks tasks_of_day(const Survey& survey, const ChosenCriteria& chosen, const std::vector<const Measured*>& measured,
                      const Exposure& day, const Criterion& criterion)
{
    DayTasks result;
    for (const Task& task : day.tasks) {
        const auto recordings = recordings_of(task, measured);
        if (is_of_other_kind(survey, task, criterion)) {
            result.notes.push_back(fmt::format("the task at {} was recorded at the {} alone and adds nothing here",
                                               place_of(task), is_of_hands(criterion) ? "seat or floor" : "hands"));
            continue;
        }
        DayTask one{.task = &task, .part = {.space = task.space, .exposed_s = task.hours * 3600.0}};
        std::set<Position> positions;
        for (const Measured* candidate : recordings) {
            if (!chosen.judges(criterion, *candidate->recording)) continue;
            one.part.group.push_back(candidate);
            positions.insert(candidate->recording->position);
        }
        if (one.part.group.empty())
            one.why_not = fmt::format("the task at {} (line {}) has no recording that {} looks at; record it, or "
                                      "take the task out",
                                      place_of(task), task.line, criterion.id);
        else if (positions.size() > 1 && !joins_positions(criterion))
            one.why_not = fmt::format("the task at {} (line {}) has recordings at several positions; say which "
                                      "one with position = \"...\"",
                                      place_of(task), task.line);
        one.part.condition = survey.condition(task.condition);
        result.tasks.push_back(std::move(one));
    }
    return result;
}

} // namespace becalm::evaluators
