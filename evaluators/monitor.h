// A long recording or a campaign, judged day by day: every period of the calendar by itself, from the passes that
// assess() would look at, and by the same procedures. Nothing is filtered again for a day.
//
// A period is what the criterion's hours are on a calendar day by the clock of the place; a stretch past midnight
// belongs to the day it begins on. A criterion without hours judges whole days, midnight to midnight, or the hours that
// the call names (`periods`). Recordings whose condition states the period are cut at midnight, those of a night at
// noon.
//
// The clock is what each recording's start states: its offset counts for the whole recording. So a day on which the
// clock is changed has 23 h or 25 h where the recordings say so, and every second belongs to one period. A second of
// the ledger belongs to the whole day in which it begins; hours of a criterion take whole seconds only, as assess()
// does.
//
// Recordings of one place, condition and axis may not overlap by more than a second: periods that hold such seconds are
// refused. What makes a channel unfit (clipped, drop-out) refuses the periods that it lies in. A recording without a
// start belongs to no day; its place is left out and a finding says so.
//
// Coverage is what was recorded of a period, exclusions and run-in counted in, over what the period lasts.
//
// Recordings are loaded in order of time and dropped when their days are done: memory holds some days of them, and no
// less than the longest one.
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <vector>

#include "evaluators/assess.h"
#include "src/model/monitoring.h"

namespace becalm::evaluators {

struct NamedHours {
    std::string name = {};
    ClockSpan hours = {};
};

struct MonitorOptions {
    AssessOptions assess = {}; // `judge` is true
    MonitorBy by = MonitorBy::day;
    std::optional<std::chrono::sys_days> from = {}, to = {}; // days of the place, both counted in
    std::optional<double> least_coverage_percent = {};       // less than this of a period cannot be judged
    std::vector<NamedHours> periods = {}; // by period: of criteria without hours; empty: those of the other criteria
};

// Problems: those of assess(); no recording with a start; persons' days; a question that makes no sense (by period
// without hours, a week for a criterion whose Sundays have other hours of rest).
Results<MonitorReport> monitor(const Survey& survey, const io::CriteriaLibrary& library,
                               const MonitorOptions& options = {});

} // namespace becalm::evaluators
