// The value of one axis: every part evaluated by the criterion's quantity, repeats and parts combined by its rules.
//
//   repeats      pooled | mean | highest of the recordings of one axis, place and condition
//   conditions   the conditions of a period, or the tasks of a person's day: v = (sum v_i^p)^(1/p), p = 1, 2 or 4, or
//                the highest; with hours of rest v_i grows by the root of the criterion's factor
// The rules are the criterion's; the publications behind them: [bs6472-1-2008, 3.5] fourth powers of doses,
// [directive-2002-44-ec, annex] squares of daily exposures, [din4150-2-1999, 6.4] squares with rest counted double.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "evaluators/measured.h"
#include "evaluators/quantity.h"
#include "evaluators/record_statistics.h"
#include "src/model/assessment.h"

namespace becalm::evaluators {

// A verdict that could not be reached: "cannot be judged, because `why`".
struct Refusal {
    std::string why;
};

// What the record of one part says about the scatter of the term's value.
struct PartStatistic {
    double share = 1.0; // what a relative change of the part's value adds to the term's
    tl::expected<RecordStatistic, std::string> statistic = {};
};

struct TermValue {
    VerdictTerm shown = {};
    std::vector<const Recording*> recordings = {};
    std::vector<PartStatistic> statistics = {};
    double drift_percent = 0.0;    // the greatest of its recordings' (Measured)
    std::string drift_sensor = {}; // whose it is
};

// Notes in the order in which they came, each once.
class Notes {
public:
    void add(std::string text);
    std::vector<std::string> take() { return std::move(texts_); }

private:
    std::vector<std::string> texts_;
};

// What the term asks for over the parts; empty where a part has no recording of the axis at the term's position.
// `only` narrows the recordings to one position. All lanes of the term have been run.
tl::expected<std::optional<TermValue>, Refusal> term_value(const Criterion& criterion, const Quantity& quantity,
                                                           const AxisTerm& term, std::span<const Part> parts,
                                                           std::optional<Position> only, Notes& notes);

// (sum v^p)^(1/p) and the like; `values` not empty, `rule` not each where there are several.
double combined(PartsRule rule, std::span<const double> values);

// What a relative change of each of them adds to it, relative; of several that compete the greatest alone counts.
std::vector<double> shares_of(PartsRule rule, std::span<const double> values);

} // namespace becalm::evaluators
