// The days of persons at work as a table: what each task adds on each axis, what the day comes to, how long the work
// may last.
//
// The values are those of Directive 2002/44/EC and of the guides to it, by the shipped criteria, whatever the survey is
// judged by [directive-2002-44-ec, annex; eu-guide-wbv, D.4 and E; eu-guide-hav, E; iso5349-1-2001]:
//   a task on an axis   k a_w sqrt(T / 8 h); k VDV (T / judged duration)^(1/4); points 100 (k a_w / action value)^2 T /
//                       8 h, which are 50 (k a_w)^2 an hour of the whole body and 2 a_hw^2 of the hand (computed)
//   the day             squares of A(8), fourth powers of doses, and points add up, an axis at a time
//   compared            whole body: the highest axis; hand: the vector sum, points of the axes added up, each hand
//   SEAT value          where seat and floor were measured: the criteria of ISO 10326-1
// Verdicts are those of the survey's own criteria of a working day, as assess() gives them, or of the call's; where
// none judges such a day, of the first that daily_criteria_for() offers, and the report says so.
//
// Times to a bound B, v being what is compared and p the power of its time (evaluators/exposure.h):
//   the whole day, its tasks in the same shares   t = T (B / v)^p
//   a task alone                                  t = T_i (B / v_i)^p
//   a task beside the others as they are          t with v(T_1, ..., t, ..., T_n) = B; what remains is t - T_i
// (computed from the definition) A time may be longer than a day.
#pragma once

#include <string>

#include "evaluators/assess.h"
#include "src/model/exposure_report.h"

namespace becalm::evaluators {

struct ExposureOptions {
    AssessOptions assess = {}; // of its criteria each must be one of a working day
    std::string person = {};   // this one alone; empty: all
};

// Problems: no [[exposure]], nobody of that name, a criterion that is unknown or of no working day, those of assess().
// What cannot be judged says why in its place.
Results<ExposureReport> exposure_report(const Survey& survey, const io::CriteriaLibrary& library,
                                        const ExposureOptions& options = {});

} // namespace becalm::evaluators
