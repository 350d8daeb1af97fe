// The Swedish transport administration's guide for existing lines: how often a night a weighted velocity is exceeded.
// [trafikverket-vibration]
//
//   measures where 1.4 mm/s is exceeded at least five times in an average night (22:00 to 06:00), to be considered
//   where 0.7 mm/s is and 1.4 mm/s at least once
// "At least five times above v" is "the fifth-greatest event lies above v". Each recording (or event) is one passage,
// all of one night; its value is the greatest running r.m.s. (1 s) of the weighted velocity [ss460-48-61].
#pragma once

#include "evaluators/quantity.h"

namespace becalm::evaluators::trafikverket {

// Value of the event of the given rank, m/s; a note gives the greatest. Parameters: rank (5), time_constant_s (0.028).
QuantityResult ranked_velocity(const QuantityArguments& arguments);

// The night's events as a sample of such nights: the value of the given rank is a percentile of them.
ValueSeries event_series(const QuantityArguments& arguments);

} // namespace becalm::evaluators::trafikverket
