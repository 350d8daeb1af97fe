// What a verdict rests on, as text to read, to select and to copy: value and band, publication and clause, how its
// numbers were confirmed, the values of the axes, recordings, assumptions.
#pragma once

#include <QString>

#include "src/model/assessment.h"
#include "src/model/survey.h"

namespace becalm::desktop {

// Simple HTML; what comes from files is escaped.
QString details_of(const Survey& survey, const Verdict& verdict);

} // namespace becalm::desktop
