// A span of a recording as a whole in memory, for numerics that look at several channels, or at all of a record, at
// once. Bounded: at most 32,000,000 samples, counted over the channels wanted (256 MB).
#pragma once

#include <string>
#include <vector>

#include "evaluators/weigh.h"

namespace becalm::evaluators {

inline constexpr std::size_t most_samples_in_memory = 32'000'000;

struct SelectedChannel {
    ChannelOfReport is = {};
    std::vector<double> samples = {}; // SI, offset included
};

struct SelectedSamples {
    std::string sha256 = {};
    double rate_hz = 0.0;
    double from_s = 0.0, duration_s = 0.0;
    std::vector<SelectedChannel> channels = {}; // ascending
};

// The channels that `options.axes` names, or all of them, over options.span; unit and scale as for weigh(), weightings
// and the offset rule play no part. Refuses a channel that is not there, integer samples without a scale, a span
// outside the recording or with more samples than the bound, and one that holds samples which are no finite numbers.
Result<SelectedSamples> selected_samples(const std::string& path, const WeighOptions& options);

// "what is wrong; what to do", for a report.
std::string reason(const Problem& problem);

} // namespace becalm::evaluators
