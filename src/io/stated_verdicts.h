// Verdicts that were stated elsewhere, to be compared with others: the JSON of an assessment (becalm.assessment/1), or
// a table of predicted values.
//
// The table is comma-separated text [RFC 4180] with a header row and a point as decimal sign. It needs the columns
// `space`, `criterion` and `value`; `position`, `condition`, `axis`, `use`, `edition`, `quantity`, `weighting`, `unit`
// and `expanded_uncertainty` (k = 2, in the unit of the value) may stand beside them, an empty field states nothing.
// Other columns are not looked at, so that the CSV of an assessment is such a table too; rows of it without a value
// (judged "false") are left out.
#pragma once

#include <string>

#include "src/base/problem.h"
#include "src/model/assessment.h"

namespace becalm::io {

struct StatedVerdicts {
    Assessment assessment = {};
    bool is_table = false; // predicted values: what they do not state is empty
};

// Told apart by content: what begins with "{" is JSON. Problems name line and column of a table, key of JSON.
Result<StatedVerdicts> read_stated_verdicts(const std::string& path);

} // namespace becalm::io
