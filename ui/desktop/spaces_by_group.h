// The spaces of a survey by deck, storey or vehicle, each with its verdicts, the worst first at every level.
#pragma once

#include <QString>
#include <string>
#include <vector>

#include "src/model/assessment.h"
#include "src/model/survey.h"

namespace becalm::desktop {

struct SpaceFilter {
    enum class Verdicts { all, exceeded, not_judged, near_limit };
    std::string use = {}; // empty: any
    Verdicts verdicts = Verdicts::all;
    QString text = {}; // every word of it is found in the row, in any case of letters

    friend bool operator==(const SpaceFilter&, const SpaceFilter&) = default;
};

struct SpaceRow {
    const Space* space = nullptr;
    std::vector<const Verdict*> verdicts = {}; // those that the filter lets pass, worst first

    const Verdict* worst() const { return verdicts.empty() ? nullptr : verdicts.front(); }
};

struct SpaceGroup {
    std::string name = {}; // empty: of no group
    std::vector<SpaceRow> rows = {};

    const Verdict* worst() const { return rows.empty() ? nullptr : rows.front().worst(); }
};

// Points into both arguments. Spaces without any verdict come last; a filter on verdicts leaves them out. Equally bad
// ones keep the order of the survey.
std::vector<SpaceGroup> spaces_by_group(const Survey& survey, const Assessment& assessment,
                                        const SpaceFilter& filter = {});

// Those uses that spaces have, in the order of the survey.
std::vector<std::string> uses_of(const Survey& survey);

// Verdicts as a table for a spreadsheet: tabs between the columns, a line for each. Of groups also the spaces without.
QString table_of(const Survey& survey, const std::vector<SpaceGroup>& groups);
QString table_of(const Survey& survey, const std::vector<const Verdict*>& verdicts);

} // namespace becalm::desktop
