// How much more would settle a verdict: the same stationary motion recorded for longer, or more such events or repeats,
// until the expanded uncertainty no longer covers the bound.
//
// What the statistics of the record add falls as 1 / sqrt(n), n times the record, and its degrees of freedom grow with
// n [jcgm100-2008, 4.2.3 and G.4.1]; calibration, filter, mounting and position stay, and so does the scatter of a
// greatest value, which no longer record makes smaller. The value itself is taken to stay where it is. Where axes
// compete the uncertainty is drawn anew for each n.
#pragma once

#include "evaluators/uncertainty.h"

namespace becalm::evaluators {

// `bound` and the words' `unit`: as of the value. k: of the expanded uncertainty. Empty where that does not cover the
// bound as it is.
std::optional<Settling> settling(const Propagated& value, double bound, double k, std::string_view unit);

} // namespace becalm::evaluators
