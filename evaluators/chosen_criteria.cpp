#include "evaluators/chosen_criteria.h"

#include <algorithm>

#include <fmt/format.h>

#include "src/base/nearest.h"

namespace becalm::evaluators {

std::vector<Problem> ChosenCriteria::problems() const
{
    std::vector<Problem> problems;
    const auto resolve = [&](const std::string& id, ProblemKind kind, const std::string& file, int line) {
        if (library_.criteria.contains(id)) return;
        std::vector<std::string> known;
        for (const auto& [name, criterion] : library_.criteria) known.push_back(name);
        const std::string near = nearest_name(id, known);
        problems.push_back(
            {.kind = kind,
             .file = file,
             .line = line,
             .what = fmt::format("there is no criterion \"{}\"", id),
             .remedy = near.empty() ? "`becalm criteria list` shows all"
                                    : fmt::format("did you mean \"{}\"? `becalm criteria list` shows all", near)});
    };
    for (const std::string& id : ids_) resolve(id, ProblemKind::usage, "", 0);
    if (ids_.empty())
        for (const Judge& judge : survey_.judges)
            for (const std::string& id : judge.criteria) resolve(id, ProblemKind::bad_input, survey_.path, judge.line);
    return problems;
}

std::vector<const Criterion*> ChosenCriteria::of(const Recording& recording) const
{
    std::vector<const Criterion*> chosen;
    const std::string& use = survey_.space(recording.space)->use;
    const auto add = [&](const std::string& id) {
        const Criterion& criterion = library_.criteria.find(id)->second;
        if (!criterion.positions.empty() &&
            std::ranges::find(criterion.positions, recording.position) == criterion.positions.end())
            return;
        if (std::ranges::find(chosen, &criterion) == chosen.end()) chosen.push_back(&criterion);
    };
    if (!ids_.empty()) {
        for (const std::string& id : ids_) add(id);
        return chosen;
    }
    for (const Judge& judge : survey_.judges)
        if (judge.uses.empty() || std::ranges::find(judge.uses, use) != judge.uses.end())
            for (const std::string& id : judge.criteria) add(id);
    return chosen;
}

bool ChosenCriteria::judges(const Criterion& criterion, const Recording& recording) const
{
    const std::vector<const Criterion*> criteria = of(recording);
    return std::ranges::find(criteria, &criterion) != criteria.end();
}

bool ChosenCriteria::is_confirmed(const Criterion& criterion) const
{
    return std::ranges::any_of(survey_.judges, [&](const Judge& judge) {
        return !judge.confirmed_by.empty() && std::ranges::find(judge.criteria, criterion.id) != judge.criteria.end();
    });
}

} // namespace becalm::evaluators
