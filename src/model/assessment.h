// What comes out of a judgement, for every face alike.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "src/model/criterion.h"
#include "src/model/finding.h"

namespace becalm {

// What one condition, or one task of a person, adds to a value.
struct VerdictPart {
    std::string condition = {};
    std::string space = {}; // of a task
    bool rest = false;      // in hours of rest
    double value = 0.0;     // of the axis, before the factor, over this part alone
    std::optional<double> exposed_h = {};
    std::optional<double> events = {};
    double duration_s = 0.0;
};

// The second step of a decision.
struct DecisionOutcome {
    std::string quantity = {};
    std::optional<double> value = {}; // empty: not looked at
    DecisionLimits limits = {};
    std::string words = {}; // how it was decided
};

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
    std::vector<VerdictPart> parts = {}; // where several conditions or tasks add up
};

// A part of a value's uncertainty.
struct UncertaintyComponent {
    std::string name = {};          // "calibration", "filter", "mounting", "position", "statistics"
    double standard = 0.0;          // of the value, its unit
    std::string method = {};        // how it is known
    std::optional<double> dof = {}; // empty: known for certain
};

// How much more of the same measuring would put the nearest bound of the bands outside the expanded uncertainty.
struct Settling {
    double bound = 0.0;               // that the uncertainty covers now, in the value's unit
    std::optional<double> times = {}; // so many times the record, all in all; empty: no amount would do
    std::optional<double> more_s = {};
    std::optional<double> more_events = {};
    std::optional<double> more_recordings = {};
    std::string in_the_way =
        {}; // where no amount would do: the greatest component that measuring does not make smaller
    std::string words = {};
};

struct Uncertainty {
    double k = 2.0;                      // coverage factor
    std::optional<double> standard = {}; // empty where a component that must be stated is not
    std::vector<UncertaintyComponent> components = {};
    std::string method = {};                   // how they were put together
    std::vector<std::string> not_covered = {}; // "calibration: ...", "statistics: ...": what is not in it, and why
    std::optional<double> probability_exceeded = {}; // that the true value exceeds what is allowed or asked for
    std::optional<double> probability_of_band = {};  // that it lies in the verdict's band
    std::optional<Settling> settling = {};           // where it covers a bound of the verdict's band
};

struct Verdict {
    std::string space = {}; // empty for a day of a person
    std::string position = {};
    std::string condition = {};
    std::string person = {}; // whose day it is
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
    std::optional<Uncertainty> uncertainty =
        {}; // what it is made of; empty where the value is none of the motion's powers
    bool judged = false;
    std::string why_not = {}; // "cannot be judged, because ..."; empty where judged
    std::optional<int> band_index = {};
    std::vector<std::string> also_bands = {}; // further bands whose overlapping range holds the value
    std::vector<Band> bands = {};
    bool exceeded = false;
    std::optional<DecisionOutcome> decision = {};
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
    std::string decision_rule = {}; // "simple" or "guarded"
    std::string file = {};
    std::string sha256 = {};
    std::vector<Verdict> verdicts = {};
    std::vector<Finding> findings = {};
    std::vector<ProvenanceStep> provenance = {};
};

} // namespace becalm
