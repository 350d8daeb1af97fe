// Which band a value falls into. Values are compared unrounded.
#pragma once

#include <span>
#include <vector>

#include "src/model/criterion.h"

namespace becalm::evaluators {

struct Classification {
    std::size_t band = 0;               // the most severe band whose range holds the value
    std::vector<std::size_t> also = {}; // milder bands whose overlapping ranges hold it too
};

// `bands` from the mildest to the most severe, the last without a limit (the reader sees to it); value >= 0.
Classification classify(double value, std::span<const Band> bands);

// What of a value is compared with limits: the value, or with its expanded uncertainty added, so that nothing is
// accepted that is not surely within (guarded acceptance with the guard band w = U) [jcgm106-2012, 8.3.2].
double compared(Comparison rule, double value, double expanded_uncertainty);

// The scale for a use: its own, else the one for "any"; nullptr where the publication lists neither.
const Scale* scale_for(const Criterion& criterion, std::string_view use);

} // namespace becalm::evaluators
