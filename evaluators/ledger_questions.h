// What a recording's ledger tells of stretches of its time: by day, by night, all of it, without what is left out.
// Nothing is filtered again, and rows are read at the ends of stretches only (src/io/ledger_folder.h).
//
// Seconds of the ledger count where they lie wholly inside a stretch; what is left out is widened to whole seconds. The
// first window of a running r.m.s. in a stretch does not reach back before it. The clock is that of the recording's
// start throughout; a stretch past midnight belongs to the day it begins on. Quantities: filters/quantities.h. As with
// `weigh`, a channel that is unfit shows its numbers and a finding; one with gaps in its numbers has none. Of a stream
// that has ended it is known where: other stretches are not concerned.
#pragma once

#include <vector>

#include "evaluators/ledger_verdicts.h"
#include "src/base/problem.h"
#include "src/io/ledger_folder.h"
#include "src/model/criterion.h"
#include "src/model/reports.h"
#include "src/model/span.h"

namespace becalm::evaluators {

struct LedgerQuestion {
    std::vector<ClockSpan> hours = {};       // a stretch each; empty: all hours of the day
    bool by_day = false;                     // each day by itself
    TimeSpan span = {};                      // seconds of the recording
    std::vector<ExcludedSpan> left_out = {}; // of them
};

// Hours and days need a start with a clock time: a Problem where the ledger has none.
Result<LedgerAnswer> answer(const io::LedgerFolder& ledger, const LedgerQuestion& question);

// With verdicts of each stretch. Problems, beside those above: an unknown criterion, an axis of which the ledger has
// two channels.
Results<LedgerAnswer> answer(const io::LedgerFolder& ledger, const LedgerQuestion& question,
                             const io::CriteriaLibrary& library, const LedgerJudging& judging);

} // namespace becalm::evaluators
