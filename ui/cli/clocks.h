// How two files' clocks go beside each other, told to people.
#pragma once

#include "src/model/reports.h"
#include "ui/cli/console.h"

namespace becalm::cli {

// Lag, drift and quality, two or three lines.
void show_clocks(const Console& console, const ClocksCompared& clocks);

} // namespace becalm::cli
