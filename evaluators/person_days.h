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

// Vibration of the hand and arm, and that of the whole body, are different exposures of one day.
bool is_of_hands(Position position);
bool is_of_hands(const Criterion& criterion); // all its positions are

struct DayTask {
    const Task* task = nullptr;
    Part part = {};
    std::string why_not = {}; // "cannot be judged, because ..."; empty where its recordings serve
};

struct DayTasks {
    std::vector<DayTask> tasks = {};
    // A task of the hands adds nothing to the whole body's day, nor the other way round, and is left out.
    std::vector<std::string> notes = {};
};

std::vector<const Measured*> recordings_of(const Task& task, const std::vector<Measured>& measured);

// All pointers lead into the arguments.
DayTasks tasks_of_day(const Survey& survey, const ChosenCriteria& chosen, const std::vector<Measured>& measured,
                      const Exposure& day, const Criterion& criterion);

} // namespace becalm::evaluators
