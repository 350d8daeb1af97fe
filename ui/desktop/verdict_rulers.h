// Verdicts as rulers: the value with its expanded uncertainty among the bands of its criterion.
#pragma once

#include <QString>

#include "src/model/assessment.h"
#include "src/model/survey.h"
#include "ui/figures/builders.h"

namespace becalm::desktop {

figures::RulerInput ruler_input(const Verdict& verdict, const QString& words);

// "Cabin 12, floor, Service speed: ISO 6954:2000 (z)"; of a day of a person, who it is. Without the space where that is
// plain.
QString ruler_words(const Survey& survey, const Verdict& verdict, bool with_space = true);

} // namespace becalm::desktop
