// A span of time within a recording, seconds from its first sample: [from_s, to_s).
#pragma once

#include <limits>
#include <string>

namespace becalm {

struct TimeSpan {
    double from_s = 0.0;
    double to_s = std::numeric_limits<double>::infinity();
};

// A span that a person took out of the judgement, and why.
struct ExcludedSpan {
    double from_s = 0.0;
    double to_s = 0.0;
    std::string reason = {};
};

// An event inside a longer recording: a train, a footfall test, a curve.
struct EventSpan {
    double from_s = 0.0;
    double to_s = 0.0;
    std::string title = {};
};

} // namespace becalm
