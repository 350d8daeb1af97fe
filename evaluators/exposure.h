// What the daily exposures of all publications have in common: how long a day the motion lasts has to be known, and a
// value is that of one task or condition alone. The criterion says how tasks add up (conditions = "...").
#pragma once

#include <string>

#include "evaluators/quantity.h"

namespace becalm::evaluators {

// Nothing can be said about a day whose hours are not known.
Problem exposure_missing();

// "600 s measured, exposure 4.5 h a day"; exposed_s is known.
std::string exposure_note(const QuantityArguments& arguments);

} // namespace becalm::evaluators
