// The budget of a verdict's value: what the survey states and the records tell, source by source.
//
//   calibration   the sensor's uncertainty_percent (k = 2): common to all axes of that sensor, independent between
//                 sensors; of a term's several recordings the greatest counts. Missing: the value has no uncertainty.
//   drift         of the sensor from the calibrator's check before to the one after: no value is corrected, so it lies
//                 anywhere between; bounds of a rectangular distribution whose half width is the whole drift
//                 [jcgm100-2008, 4.3.7], common as the calibration is
//   filter        0.01 %, within which the weightings follow their definition; bounds of a rectangular distribution,
//                 common to all axes
//   mounting,     the survey's own estimates (k = 2), of the recording or (position) the space where these state their
//   position      own: common to the axes of a recording, independent between recordings, not made smaller by repeats;
//                 of a term's several recordings the greatest counts
//   statistics    evaluators/record_statistics.h, independent between axes, conditions and tasks
//
// The two sides of a ratio have sensors, mountings and filters of their own. A source that changes the motion by a
// share p changes a value that goes with its power q by q p; a level by 20 / ln 10 p.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <tuple>
#include <vector>

#include "evaluators/combine.h"
#include "evaluators/term_value.h"
#include "evaluators/uncertainty.h"
#include "src/model/survey.h"

namespace becalm::evaluators {

class ValueBudget {
public:
    ValueBudget(const Survey& survey, const Quantity& quantity); // quantity.power is not empty

    // A value that the terms were combined to, the one that governs first; then those that compete with it.
    void add(const std::vector<TermValue>& terms, const Combined& value);

    // `propagated` stays empty where a sensor states nothing.
    Uncertainty uncertainty(std::optional<Propagated>& propagated) const;

private:
    std::size_t source(const std::string& name, const std::string& of, bool lowers, UncertaintySource what);
    void add_stated(const TermValue& term, double share, Candidate& candidate);
    void add_statistics(const TermValue& term, double share, Candidate& candidate);

    const Survey& survey_;
    const Quantity& quantity_;
    Budget budget_;
    std::map<std::tuple<std::string, std::string, bool>, std::size_t> known_;
    std::vector<std::string> not_covered_;
    bool calibration_missing_ = false;
};

} // namespace becalm::evaluators
