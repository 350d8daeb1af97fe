// The tasks of a person's day, each with the recordings that stand for it under a criterion.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "evaluators/chosen_criteria.h"
#include "evaluators/measured.h"
#include "src/model/criterion.h"
#include "src/model/survey.h"

namespace becalm::evaluators {

struct DayTask {
    const Task* task = nullptr;
    Part part = {};
    std::string why_not = {}; // "cannot be judged, because ..."; empty where its recordings serve
};

struct DayTasks {
    std::vector<DayTask> tasks = {};
    // Tasks of the other kind are left out (is_of_other_kind() of evaluators/exposure.h).
    std::vector<std::string> notes = {};
};

std::vector<const Measured*> recordings_of(const Task& task, const std::vector<const Measured*>& measured);

// All pointers lead into the arguments.
DayTasks tasks_of_day(const Survey& survey, const ChosenCriteria& chosen, const std::vector<const Measured*>& measured,
                      const Exposure& day, const Criterion& criterion);

} // namespace becalm::evaluators
