// Text between the core, which speaks UTF-8, and Qt; numbers as a person of the chosen language writes them.
#pragma once

#include <QString>
#include <optional>
#include <string>
#include <string_view>

#include "src/base/problem.h"
#include "src/model/assessment.h"
#include "ui/figures/ticks.h"

namespace becalm::desktop {

inline QString shown(std::string_view text)
{
    return QString::fromUtf8(text.data(), static_cast<qsizetype>(text.size()));
}
inline std::string plain(const QString& text) { return text.toStdString(); }

// A number as somebody typed it, with the decimal sign of the chosen language or a point: "0,5" and "0.5". Group
// separators are not taken for anything: "1.000" is one. Empty where it is no finite number.
std::optional<double> number_in(const QString& text);

// The shortest text that gives back the value to `significant` digits, in the chosen language.
QString number_words(double value, int significant = 4);

// "m/s2" -> "m/s²".
QString unit_words(std::string_view unit);

// How values of this unit are shown: m/s2 as mm/s², pure numbers without a unit.
figures::Numbers numbers_for(std::string_view unit);

// "81.2 mm/s² ± 6.0": the value of a verdict, or why there is none.
QString value_words(const Verdict& verdict);

// The band's own words, or that there are no limits, or that it cannot be judged.
QString band_words(const Verdict& verdict);

QString problem_words(const Problem& problem);

} // namespace becalm::desktop
