// The judged days of persons in words. No widgets.
#pragma once

#include <QString>
#include <QStringList>
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
};

// In the order of the survey.
std::vector<DayResult> day_results(const Judgement& judgement, const io::CriteriaLibrary& library);

// Who has to act on what: a paragraph for each duty, with the days it is about.
QStringList duties(const Judgement& judgement, const io::CriteriaLibrary& library);

// "3 h 12 min", rounded down.
QString hours_words(double hours);

} // namespace becalm::desktop
