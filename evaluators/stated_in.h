// A procedure that states a velocity, or an acceleration, refuses values of anything else.
#pragma once

#include <optional>

#include "evaluators/quantity.h"

namespace becalm::evaluators {

// Why the ledger's values are not of `wanted`: the weighting gives something else. Empty where they are.
std::optional<Problem> unless_stated_in(const QuantityArguments& arguments, Motion wanted);

} // namespace becalm::evaluators
