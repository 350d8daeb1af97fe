// A judgement as long tables for others: one observation a row, every column named, explained and with its unit.
//
//   verdicts, bands, terms, parts, uncertainty   what was judged and how it came about; joined by `verdict`
//   recordings, channels, exclusions, conditions, findings   what was measured; joined by `recording`, `condition`
//   third_octaves   of each recording, channel and weighting: the mean density over the seconds that count, run-in left
//                   out, times |H|^2, in bands of the base-ten system [iec61260-1-2014]
//   components      of each verdict, where it was explained (evaluators/explain.h)
//   ledger          a row for each second of each lane
//
// Numbers are those of the judgement, to the last bit; nothing is judged here.
#pragma once

#include <string>
#include <vector>

#include "evaluators/assess.h"
#include "src/io/ledger_npy.h"
#include "src/model/explanation.h"
#include "src/model/table.h"

namespace becalm::evaluators {

struct TablesOf {
    const Survey& survey;
    const Judged& judged;                           // with spectra (AssessOptions::spectra), else no third octaves
    const ExplanationReport* explanation = nullptr; // of the same judgement; nullptr: no table of components
    bool ledger = true;
    std::string program = {}; // name and version
    std::string date = {};    // what the tables are dated
};

// The lanes of all recordings that could be read, in the survey's order. They point into `judged`.
io::LedgerIndex ledgers_of(const Survey& survey, const Judged& judged);

// The tables point into what they are of.
TableBook tables_of(const TablesOf& of);

} // namespace becalm::evaluators
