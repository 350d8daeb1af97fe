// Was the survey made as the practice of its trade asks? What can be told from the survey alone, before any recording
// is opened. Cautions and notes, never refusals: a contract may ask for other conditions.
//
//   no-condition          recordings that name no condition (vessels, rail)
//   shaft-speed           vessels: a condition without shaft_rpm
//   sea-state, wind       vessels: above 3, above Beaufort 4 [iso6954-2000, iso20283-5-2016, from memory]
//   shallow-water         vessels: less than five draughts of water (the same, from memory)
//   directions            vessels: no point of a deck (group of spaces) measured in three directions
//                         [iso6954-2000, from memory]
//   section-speed         rail: a condition without speed_km_h
//   section-speeds-differ rail: test sections of one value are run at about constant speed [en12299-2009, from memory]
//   old-calibration       a sensor calibrated more than two years before a recording began (common practice, no source)
// One finding a matter, however many conditions, decks or sensors it concerns.
#pragma once

#include <string>
#include <vector>

#include "src/model/finding.h"
#include "src/model/survey.h"

namespace becalm::evaluators {

std::vector<Finding> survey_conditions(const Survey& survey);

// What `old-calibration` rests on, for one sensor.
constexpr int calibration_years = 2; // common practice, no source
struct CalibrationInUse {
    bool is_dated = false; // the survey says when the sensor was calibrated
    std::string date = {}; // of the calibration that holds then
    std::string used = {}; // day of the last recording that names it; empty: no such recording says its start
    bool is_old = false;   // calibrated more than those years before
};
CalibrationInUse calibration_in_use(const Survey& survey, const Sensor& sensor);

} // namespace becalm::evaluators
