// Two conditions side by side: for each place and criterion the value of both and what changes from the first to the
// second, as evaluators/compare.h pairs and computes it. Nothing is judged.
#pragma once

#include <QString>
#include <optional>
#include <string>
#include <vector>

#include "src/model/assessment.h"
#include "src/model/survey.h"

namespace becalm::desktop {

struct ConditionChange {
    const Verdict* first = nullptr;     // null: there is none of this place and criterion
    const Verdict* second = nullptr;    // likewise; not both
    std::optional<double> percent = {}; // of the first; empty also for levels in dB
    std::optional<double> db = {};      // 20 lg of the ratio; of levels their difference
    std::optional<int> bands = {};      // up the bands of a scale that both share; > 0 is worse

    const Verdict& any() const { return first != nullptr ? *first : *second; }
};

// Of one space (empty: of all). Verdicts are partners where space, position and criterion agree, and the axis where a
// criterion has a verdict for each. What gets worse most comes first, then what has no partner.
std::vector<ConditionChange> changes_between(const Assessment& assessment, const std::string& first,
                                             const std::string& second, const std::string& space);

// Those that verdicts name, in their order.
std::vector<std::string> conditions_of(const Assessment& assessment, const std::string& space);

// "fair → poor (worse by 1)", "fair in both".
QString band_change_words(const ConditionChange& change);

QString table_of(const Survey& survey, const std::vector<ConditionChange>& changes, const std::string& first,
                 const std::string& second);

} // namespace becalm::desktop
