// Weighted quantities as a table for people.
#pragma once

#include <span>

#include "src/model/reports.h"
#include "ui/cli/console.h"

namespace becalm::cli {

// A row a lane, and what the doses are of where that is not plain.
void show_lanes(const Console& console, std::span<const WeighedLane> lanes);

} // namespace becalm::cli
