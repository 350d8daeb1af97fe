// Response factor R of floors: the greatest 1 s running r.m.s. of the weighted acceleration over the base value of the
// curve where people are most sensitive (0.005 m/s2 vertical, 0.00357 m/s2 horizontal). From memory; the worked example
// of MSB02 p. 66 (40 mm/s2 on 5 mm/s2 gives 8) is in the tests.
#pragma once

#include "evaluators/quantity.h"

namespace becalm::evaluators::response_factor {

// Parameter: base, m/s2, no default (it differs by axis).
QuantityResult response_factor(const QuantityArguments& arguments);

} // namespace becalm::evaluators::response_factor
