// Which seconds of a recording count: what a person excluded, the events listed, and the hours of the clock.
#pragma once

#include <chrono>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "src/model/criterion.h"
#include "src/model/survey.h"

namespace becalm::evaluators {

// When a recording began, by the clock of the place (the offset that its start states).
struct LocalStart {
    std::chrono::sys_days date = {};
    double second_of_day = 0.0;
    double offset_s = 0.0; // of the clock: local time minus UTC
};

// Seconds since 1970: by the clock of the place, and UTC.
double local_s(const LocalStart& start);
double utc_s(const LocalStart& start);

// From an ISO 8601 date and time with offset, as the survey holds it; empty where there is none. The offset is taken as
// that of the place throughout: a change to or from summer time inside a recording is not seen.
std::optional<LocalStart> local_start(const std::string& start);

// The parts of [0, duration_s) that lie in the hours, seconds from the start. `hours` count for every day but Sunday,
// `sunday_hours` for Sundays; a stretch past midnight belongs to the day it begins on. Only the days that `near` (of
// the recording) touches are looked at: what lies outside of it may be missing.
std::vector<TimeSpan> within_hours(const LocalStart& start, double duration_s, std::span<const ClockSpan> hours,
                                   std::span<const ClockSpan> sunday_hours, const TimeSpan& near = {});
std::vector<TimeSpan> within_hours(const LocalStart& start, double duration_s, std::span<const ClockSpan> hours,
                                   const TimeSpan& near = {});

// What is in both lists, and what is in the first but not in the second; spans of a list do not overlap each other.
std::vector<TimeSpan> common(std::span<const TimeSpan> a, std::span<const TimeSpan> b);
std::vector<TimeSpan> without(std::span<const TimeSpan> a, std::span<const TimeSpan> b);

// Hours that a day of these stretches has.
double hours_in(std::span<const ClockSpan> hours);

} // namespace becalm::evaluators
