// What the daily exposures of all publications have in common: how long a day the motion lasts has to be known, and a
// value is that of one task or condition alone. The criterion says how tasks add up (conditions = "...").
//
// Of a judged day also: how long the same work, its tasks in the same shares, may last until a bound is reached. With
// the reference duration fixed, A(8) grows with the square root of the time, a dose with its fourth root, points with
// the time itself, so t = T (bound / value)^p, p = 2, 4, 1 [directive-2002-44-ec, annex; iso5349-1-2001;
// iso2631-1-1997, annex B; computed from the definition]. Hours; may be more than a day has.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "evaluators/quantity.h"
#include "src/model/assessment.h"
#include "src/model/survey.h"

namespace becalm::evaluators {

// Nothing can be said about a day whose hours are not known.
Problem exposure_missing();

// "600 s measured, exposure 4.5 h a day"; exposed_s is known.
std::string exposure_note(const QuantityArguments& arguments);

// All days of a person are judged together.
bool refers_to_a_week(const Criterion& criterion);

// Hours of all tasks behind the verdict of a person; 0 where the survey has no such day.
double exposed_hours(const Survey& survey, const Criterion& criterion, const Verdict& verdict);

struct TimeToBound {
    std::string band = {}; // that begins above the bound
    double bound = 0.0;    // unit of the verdict
    double hours = 0.0;    // of the same work
    bool exceeds = false;  // that band does
};

// For each bound of the verdict's bands. None where the verdict is of no daily quantity, has no value or no bands, or
// there was no motion at all.
std::vector<TimeToBound> times_to_bounds(const Verdict& verdict, double exposed_h);

} // namespace becalm::evaluators
