// EN 12299:2009, comfort on discrete events (local lateral irregularities). From memory with medium confidence:
// switched off until confirmed.
//
//   P_DE = max(0; a y_pp + b |y_2s| - c)          per cent of passengers dissatisfied
//   y_pp  peak to peak, y_2s mean of the lateral acceleration over a window of 2 s, moved by 0.1 s, low-passed m/s2
// a, b, c for standing or seated passengers stand in the criterion.
//
// The publication's low-pass was not read; means over bins of 0.05 s stand in for it. Each event that the survey lists
// is one local event: the greatest over the windows wholly inside it is its value, the greatest of them is compared,
// and the mean is told.
#pragma once

#include "evaluators/quantity.h"

namespace becalm::evaluators::en12299 {

struct EventFactors {
    double a = 0.0, b = 0.0, c = 0.0;
};

double discrete_event_percent(const EventFactors& factors, double peak_to_peak, double mean);

// %. Of the lateral acceleration (axis y); needs the motion. Parameters: a, b, c, no defaults.
QuantityResult discrete_event(const QuantityArguments& arguments);

} // namespace becalm::evaluators::en12299
