// Verdicts in the order in which faces of text tell them.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "src/model/assessment.h"

namespace becalm::report {

// The criteria of the verdicts, in the order in which they first come.
std::vector<std::string> criteria_of(const Assessment& assessment);

// Those of one criterion: what is judged first, by band and value, the most severe first.
std::vector<const Verdict*> worst_first(const Assessment& assessment, std::string_view criterion);

// Of a space, over all criteria: what exceeds, then what lies highest among its bands; null where nothing has a band.
const Verdict* worst_of(const Assessment& assessment, std::string_view space);

// The band of the value as a place, ".#." for the second of three, so that it is told without words or colours too.
std::string band_place(const Verdict& verdict);

} // namespace becalm::report
