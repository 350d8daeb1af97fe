// Weighted quantities of single files, without a survey: what `becalm weigh` and the desktop's quick look show.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <stop_token>
#include <string>
#include <vector>

#include "evaluators/pass.h"
#include "src/model/reports.h"

namespace becalm::evaluators {

struct WeighOptions {
    std::vector<WeightingId> weightings = {};    // every axis gets every one
    std::vector<std::pair<int, Axis>> axes = {}; // channel → axis; empty: 1 = z, or 1, 2, 3 = x, y, z, or all six
    Unit unit = units[0];
    std::optional<double> scale = {};
    std::optional<double> resample_hz = {}; // io::ReadOptions
    TimeSpan span = {};
    OffsetRule offset = OffsetRule::first_10_s;
    std::shared_ptr<const io::SamplesInMemory> samples = {}; // no file is read then; the path is what they are called
    bool bands = false; // one-third octaves of each channel as recorded too, up to 250 Hz, in the same pass
    int jobs = 0;
    std::function<void(double fraction)> progress = {};
    std::stop_token stop = {};
};

struct WeighResult {
    std::vector<WeighedFile> files = {}; // one a path, in order
    std::vector<Problem> problems = {};  // files that could not be read; their entry has no lanes
};

// A rotation told in a unit of translations, or the other way round; a rotation may stand beside translations in SI
// units (m/s2), and is in rad/s2 then.
std::optional<Problem> fault_of(const Unit& unit, Axis axis);

// What the pass has to do for one file: every axis under every weighting. A Problem where the axes are not known,
// or are not told in the unit.
Result<PassRequest> request_for(const std::string& path, const WeighOptions& options);

// The quantities of a lane from its tally; none where the tally has no samples, or more than a number can hold. `unit`:
// of what comes out of the weighting.
WeighedLane weighed_lane(const Lane& lane, std::string unit, const Tally& tally);

// What a pass of request_for(path, options) came to.
WeighedFile weighed_file(const std::string& path, const PassResult& pass, const WeighOptions& options);

// weightings not empty.
WeighResult weigh(const std::vector<std::string>& paths, const WeighOptions& options);

// The running filter beside the analytic definition. `at_hz` empty: third-octave centres 10^(n/10) from 0.1 Hz (Wf:
// 0.02 Hz) to half the rate.
Result<ResponseReport> show_response(WeightingId weighting, Motion input, double rate_hz, std::vector<double> at_hz);

} // namespace becalm::evaluators
