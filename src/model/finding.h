// What the program noticed about a recording or a survey.
//
//   note     worth knowing; changes nothing
//   caution  a careful reader would ask about it; the value stands
//   refusal  the recording (or this channel) cannot be judged as it is
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "src/model/axis.h"
#include "src/model/span.h"

namespace becalm {

enum class Severity { note, caution, refusal };

std::string_view name_of(Severity severity);

struct Finding {
    Severity severity = Severity::note;
    std::string code = {};             // stable, for programs: "clipped", "gap", "constant-channel", ...
    std::string message = {};          // what it is and what to do, one or two sentences
    std::string recording = {};        // file as the survey names it; empty for the survey as a whole
    std::optional<int> channel = {};   // from 1
    std::optional<double> from_s = {}; // where it begins, seconds from the first sample
    std::optional<double> to_s = {};   // where it ends, where it is a span
    std::vector<TimeSpan> spans = {};  // each place, where an exclusion of them all would be the remedy
};

} // namespace becalm
