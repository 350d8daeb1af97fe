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
#include "src/io/criterion_file.h"
#include "src/model/assessment.h"
#include "src/model/survey.h"

namespace becalm::evaluators {

// Nothing can be said about a day whose hours are not known.
Problem exposure_missing();

// "600 s measured, exposure 4.5 h a day"; exposed_s is known.
std::string exposure_note(const QuantityArguments& arguments);

// All days of a person are judged together.
bool refers_to_a_week(const Criterion& criterion);

// By space, position and condition, as far as the task names them.
bool stands_for(const Recording& recording, const Task& task);

// Vibration of the hand and arm, and that of the whole body, are different exposures of one day.
bool is_of_hands(Position position);
bool is_of_hands(const Criterion& criterion); // all its positions are

// The task was recorded, and nowhere that such a criterion looks at: at the hands alone, or at none. It adds nothing to
// the day then.
bool is_of_other_kind(const Survey& survey, const Task& task, const Criterion& criterion);

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

// A use and a position of a task for which the survey names no criterion of a day.
struct UnjudgedTask {
    std::string use = {};
    Position position = Position::floor;
    friend auto operator<=>(const UnjudgedTask&, const UnjudgedTask&) = default;
};
std::vector<UnjudgedTask> unjudged_tasks(const Survey& survey, const io::CriteriaLibrary& library);

// Publications that judge such days in this setting; the first is the one that goes without saying in its setting.
struct DailyCriteria {
    std::string edition = {};
    std::vector<std::string> criteria = {}; // ids
};
std::vector<DailyCriteria> daily_criteria_for(const Survey& survey, const io::CriteriaLibrary& library,
                                              const std::vector<UnjudgedTask>& tasks);

// What has to be done where days exceed a value, in the words of the criterion's note, and which days these are: of a
// day with several values exceeded the most severe one counts.
struct Duty {
    std::string words = {};
    std::vector<const Verdict*> days = {}; // of the argument
};
std::vector<Duty> duties(const std::vector<Verdict>& verdicts, const io::CriteriaLibrary& library);

// Whether a criterion compares something of a working day.
bool is_daily(const Criterion& criterion);

// With which power of its value the time grows: 2 of A(8), 4 of a dose, 1 of points. `quantity` is a daily one.
double power_of_time(std::string_view quantity);

} // namespace becalm::evaluators
