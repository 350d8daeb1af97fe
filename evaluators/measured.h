// A recording on its way through the judgement: its passes, what its fitness refuses, and which seconds of it count.
#pragma once

#include <chrono>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "evaluators/pass.h"
#include "src/base/units.h"
#include "src/model/criterion.h"
#include "src/model/survey.h"

namespace becalm::evaluators {

struct Measured {
    const Recording* recording = nullptr;
    std::string path = {}; // of the file, the survey's folder before it
    double to_si = 1.0;    // of a stored 1.0
    Motion motion = Motion::acceleration;
    bool rotates = false;
    std::optional<PassResult> pass = {};
    std::string unreadable = {};             // why there is no pass
    std::map<int, std::string> refused = {}; // channel → the first refusal that concerns it
    double drift_percent = 0.0;              // of its sensor from the check before to the one after; 0: not known

    const ChannelMapping* mapping(Axis axis) const; // nullptr where the axis was not measured
    const ChannelResult* channel(int number) const; // of the pass, which there must be; nullptr where it was not run
};

// Whether the term's axis is measured where this recording was taken.
inline bool is_taken_at(const AxisTerm& term, const Recording& recording)
{
    return !term.position || *term.position == recording.position;
}

// Whether its terms ask for positions of their own; whether its verdict looks at several positions at once.
bool spans_positions(const Criterion& criterion);
bool joins_positions(const Criterion& criterion);

// A stretch of the calendar that is judged by itself (evaluators/monitor.h), and what of each recording lies in it.
struct Window {
    struct Piece {
        const Measured* measured = nullptr;
        std::vector<TimeSpan> spans = {};        // seconds from its first sample, rising; empty: no pass
        std::map<int, std::string> refused = {}; // channel → what in these seconds makes it unfit
    };
    const Criterion* criterion = nullptr; // that judges it
    std::chrono::sys_days date = {};      // of the place: says whether the hours of rest are those of a Sunday
    std::vector<Piece> pieces = {};       // in the order of the survey

    const Piece& of(const Measured& measured) const; // which there must be
};

// Which part of a period or of a person's day a selection stands for.
enum class ClockPart { whole, working, resting };

// Recordings taken together: those of one space, position and condition, or those of a task.
struct Part {
    std::vector<const Measured*> group = {};
    const Condition* condition = nullptr; // may be null
    std::string space = {};               // of a task; empty elsewhere
    std::optional<double> exposed_s = {}; // the motion lasts so long a day or period
    std::optional<double> events = {};    // or such an event happens so often
    bool rest = false;                    // counts by the criterion's factor of rest
    bool by_clock = false;                // the recordings' own times say what belongs to the period
    ClockPart clock = ClockPart::whole;
    const Window* window = nullptr; // what lies outside does not count; may be null

    const std::map<int, std::string>& refused(const Measured& measured) const
    {
        return window == nullptr ? measured.refused : window->of(measured).refused;
    }
};

// The seconds of the recording that belong to the part, before run-in and exclusions: one list for each event where the
// recording lists events, else one list. Lists may be empty.
std::vector<std::vector<TimeSpan>> stretches(const Measured& measured, const Part& part, const Criterion& criterion);

} // namespace becalm::evaluators
