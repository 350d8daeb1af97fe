// A recording as it comes out of a pipe: weighed in constant memory, its ledger kept in a folder that grows beside it
// (src/io/ledger_folder.h), for questions asked later or meanwhile (evaluators/ledger_questions.h).
//
// The rows are those of the same samples in a file, to the last bit (run_stream() in evaluators/pass.h).
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "evaluators/pass.h"
#include "src/model/reports.h"

namespace becalm::evaluators {

struct StreamRequest {
    std::string folder = {};      // of the ledger; empty: none is kept
    std::vector<Lane> lanes = {}; // not empty
    Unit unit = units[0];
    std::optional<double> scale = {};
    OffsetRule offset = OffsetRule::first_10_s;        // or none
    std::string start = {};                            // ISO 8601; empty: what the stream states
    std::function<void(double seconds)> progress = {}; // of the recording, some ten times a second
};

// What it came to when it ended, as `weigh` tells it of a file; no SHA-256, since there is no file. What the ledger
// holds counts from time to time (every 10 s or so) and at the end; a fault leaves what counted until then.
Result<WeighedFile> stream(io::StreamReader& stream, const std::string& name, const StreamRequest& request);

} // namespace becalm::evaluators
