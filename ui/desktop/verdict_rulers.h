// Verdicts as rulers: the value with its expanded uncertainty among the bands of its criterion.
#pragma once

#include <QString>

#include "src/model/assessment.h"
#include "src/model/survey.h"
#include "ui/figures/builders.h"

namespace becalm::desktop {

figures::RulerInput ruler_input(const Verdict& verdict, const QString& words);

// "Cabin 12, floor, Service speed: ISO 6954:2000"; of a day of a person, who it is.
QString ruler_words(const Survey& survey, const Verdict& verdict);

} // namespace becalm::desktop
