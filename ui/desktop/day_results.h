// The judged days of persons in words, and what could judge days that nothing judges yet. No widgets.
#pragma once

#include <QString>
#include <QStringList>
#include <string>
#include <vector>

#include "ui/desktop/session.h"

namespace becalm::desktop {

struct DayResult {
    QString person = {}, day = {};
    QString criterion = {}; // its title
    QString value = {};     // or why there is none
    QString verdict = {};   // the band's words
    QString times = {};     // how long the same work may last, a sentence a bound
    QString notes = {};
    QString duty = {}; // where a value is exceeded: what has to be done, in the criterion's words
    int severity = -1; // number of the band; -1: none
};

// In the order of the survey.
std::vector<DayResult> day_results(const Judgement& judgement, const io::CriteriaLibrary& library);

// Who has to act on what: a paragraph for each duty, with the days it is about. Of a day with several values exceeded,
// the most severe counts.
QStringList duties(const std::vector<DayResult>& results);

// "3 h 12 min", rounded down.
QString hours_words(double hours);

// A use and a position of a task for which the survey names no criterion of a day.
struct UnjudgedTask {
    std::string use = {};
    Position position = Position::floor;
    friend auto operator<=>(const UnjudgedTask&, const UnjudgedTask&) = default;
};
std::vector<UnjudgedTask> unjudged_tasks(const Survey& survey, const io::CriteriaLibrary& library);

// Publications that judge such days in this setting; the first is the one that goes without saying in its setting.
struct DailyCriteria {
    QString words = {};
    std::vector<std::string> criteria = {};
};
std::vector<DailyCriteria> daily_criteria_for(const Survey& survey, const io::CriteriaLibrary& library,
                                              const std::vector<UnjudgedTask>& tasks);

} // namespace becalm::desktop
