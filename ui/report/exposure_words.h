// Times and tasks of a person's day in words, for a table of them.
#pragma once

#include <string>
#include <vector>

#include "src/model/exposure_report.h"
#include "ui/report/wording.h"

namespace becalm::report {

std::string hours_text(double hours); // "3 h 12 min", rounded down

// The same of a time to a bound; what a day does not hold is said so.
std::string time_text(double hours, Language language = Language::english);

// Those of points say the same as those of A(8) and stay out beside them.
std::vector<TaskTime> times_to_tell(const ExposureTask& task);

// Whether any task reaches a bound within a day, alone or beside the others.
bool reaches_a_bound(const ExposureTable& table);

std::string alone_text(const TaskTime& time, Language language = Language::english);
std::string beside_text(const TaskTime& time, Language language = Language::english);
// What is left of the time beside the other tasks; negative, and rounded up, where the task lasts too long.
std::string left_text(const TaskTime& time, double task_h, Language language = Language::english);

std::string task_text(const ExposureTask& task);                                          // "cab, seat-pan, loaded"
std::string kind_text(const ExposureTable& table, Language language = Language::english); // "Whole body"; which hand
// The axis that is compared; several where r.m.s. value and dose differ in it.
std::string axes_text(const ExposureSums& sums);

} // namespace becalm::report
