// From measured recordings to verdicts: which recordings belong together, what they stand for, which band they reach.
//
// Order of combination: recordings of an axis (repeats) → parts of a period or of a person's day (conditions) → axes →
// positions (where the criterion lets the worst govern) → band or decision.
#pragma once

#include <vector>

#include "evaluators/chosen_criteria.h"
#include "evaluators/measured.h"
#include "src/model/assessment.h"

namespace becalm::evaluators {

// Appends verdicts, findings about missing axes and the provenance of each judgement to `result`.
void reach_verdicts(const Survey& survey, const ChosenCriteria& chosen, const std::vector<Measured>& measured,
                    Assessment& result);

// The same of one window, its recordings and its criterion alone; persons' days are none of its.
void reach_verdicts(const Survey& survey, const ChosenCriteria& chosen, const Window& window, Assessment& result);

} // namespace becalm::evaluators
