// Recordings with one known fault each, held against what the fitness of a recording finds: a table of what it is
// worth.
//
// A series of recordings of 24 s, three channels, 500, 800 or 1000 Hz, made anew from the seed: a hull that hums on a
// swell, footfall on a floor, the passage of a train, bangs. One in twelve is sound; each of the others has one fault
// of random severity on one channel at a random second. They are written to a temporary folder, read, run through the
// pass and looked at as those of a survey are. The same seed gives the same table.
#pragma once

#include <cstdint>
#include <functional>
#include <stop_token>

#include "src/base/problem.h"
#include "src/model/planted.h"

namespace becalm::demo {

struct PlantedOptions {
    int count = 300;
    std::uint64_t seed = 1;
    int jobs = 0; // threads; 0: as many as the machine has
    std::function<void(double fraction)> progress = {};
    std::stop_token stop = {};
};

// A Problem: a temporary folder that cannot be written to, or stopped.
Result<PlantedReport> hold_against_planted_faults(const PlantedOptions& options = {});

} // namespace becalm::demo
