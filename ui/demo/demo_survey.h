// A survey of our own invention: the cabins and work places of a small coastal ferry, and the floors above the hall of
// its terminal. Nothing in it was measured; names, sources and levels are invented, signals synthesised from fixed
// seeds (ui/demo/synthesis.h), so everybody gets the same verdicts.
//
// A survey has one setting, so there are two: FOLDER/survey.toml (vessel) and FOLDER/terminal/survey.toml (building).
// Between them they show float and integer WAV, FLAC, text with decimal commas, geophones in mm/s, an excluded span
// with its reason, and one recording that cannot be judged. The ferry has plans of its decks (ui/demo/deck_plans.h) and
// tells two persons' days.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "src/base/problem.h"

namespace becalm::demo {

struct DemoSummary {
    std::vector<std::string> surveys = {}; // paths: the ferry, the terminal
    int recordings = 0;
    double recorded_s = 0.0; // of all together
    std::int64_t bytes = 0;  // of the recordings
};

// `folder` must be empty or not exist yet (the folder it lies in must). On a Problem everything is as it was before.
Result<DemoSummary> write_demo_survey(const std::string& folder);

} // namespace becalm::demo
