// What comes out of a judgement, for every face alike.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "src/model/criterion.h"
#include "src/model/finding.h"

namespace becalm {

// A value of one axis on the way to the compared value.
struct VerdictTerm {
    std::string axis = {};
    std::string position = {}; // where the criterion asks for one
    int group = 1;             // terms of a group form one total
    std::string weighting = {};
    double factor = 1.0;
    std::optional<double> value = {}; // before the factor, in the quantity's unit
    double duration_s = 0.0;          // judged duration
    std::vector<std::string> recordings = {};
};

struct Verdict {
    std::string space = {};
    std::string position = {};
    std::string condition = {};
    std::string criterion = {};
    std::string title = {};   // of the criterion
    std::string edition = {}; // as sources.toml names it
    std::string clause = {};
    std::string confirmed = {}; // how the criterion's numbers were confirmed
    std::string use = {};
    std::string quantity = {};
    std::string axis = {};      // governing axis, or "total"
    std::string weighting = {}; // of the governing axis, or each one joined with "+"
    std::optional<double> value = {};
    std::string unit = {};
    std::optional<double> expanded_uncertainty = {}; // k = 2, same unit
    bool judged = false;
    std::string why_not = {}; // "cannot be judged, because ..."; empty where judged
    std::optional<int> band_index = {};
    std::vector<std::string> also_bands = {}; // further bands whose overlapping range holds the value
    std::vector<Band> bands = {};
    bool exceeded = false;
    std::vector<VerdictTerm> terms = {};
    std::vector<std::string> recordings = {};
    std::vector<std::string> notes =
        {}; // assumptions a reader must know: scaling in time, run-in left out, "from memory"
};

struct ProvenanceStep {
    std::string step = {};
    std::string of = {};
};

struct Assessment {
    std::string title = {};
    std::string setting = {};
    std::string file = {};
    std::string sha256 = {};
    std::vector<Verdict> verdicts = {};
    std::vector<Finding> findings = {};
    std::vector<ProvenanceStep> provenance = {};
};

} // namespace becalm
