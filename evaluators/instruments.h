// Were the right sensors in the right place, and do they still measure what they say? Cautions and notes of a survey's
// sensors, their mounting and their checks; what they rest on is common practice without a source.
//
//   calibration-expired  a sensor used later than calibration_valid_months after the calibration that holds then
//   sensitivity-drift    two successive calibrations differ by more than their expanded uncertainties together
//                        (root of the sum of squares)
//   sensor-mix-up        a file says the serial number of another sensor of the survey, or of none of them
//   data-sheet           a sensor's electronic data sheet cannot be read
//   sensitivity-differs  a file states another sensitivity than the survey does for its day, by more than the
//                        calibration's uncertainty and 1 %
//   wrong-axis           gravity on a channel that is said to be horizontal while none is on z (not where persons lie)
//   polarity             gravity on z against its sign on most recordings of the survey; no r.m.s. value depends on it
//   swapped-channels     the levels of a recording's axes fit those of the same place under other conditions far better
//                        with two of them exchanged: three recordings at least, each pair off by 6 dB or more together,
//                        four times as well in mean square
//   calibration-check    (a note) what a calibrator's recording gives, and the scale that follows from it
//   calibration-off      it deviates from the calibrator by more than the tolerance, or cannot be evaluated
//   calibration-drift    before and after differ by more than the tolerance; whatever they differ by counts in the
//                        uncertainty (evaluators/value_budget.h)
//   rate-off             the calibrator's line lies more than 1 % beside its frequency; or times in the file tell
//                        another rate than the file states, by more than 0.01 % and more than they can be wrong
//   time-gap             (a note) the file that holds a recording goes on behind a gap
#pragma once

#include <map>
#include <span>
#include <string>
#include <vector>

#include "evaluators/measured.h"
#include "src/model/finding.h"
#include "src/model/survey.h"

namespace becalm::evaluators {

std::vector<Finding> sensor_histories(const Survey& survey);

// Of the sensors' electronic data sheets, which are read here.
std::vector<Finding> sensor_sheets(const Survey& survey);

// Of what the file says of its channels against the survey.
std::vector<Finding> sensor_mix_ups(const Survey& survey, const Recording& recording, const io::RecordingInfo& info);

// What a file says of itself that no value rests on, a sentence each: "the file says of channel 1: serial number 17".
std::vector<std::string> statements_of(const io::RecordingInfo& info);

// Of the times in the file.
std::vector<Finding> timings(const std::string& recording, const io::RecordingInfo& info);

// Of all recordings that could be read.
std::vector<Finding> directions(std::span<const Measured> measured);

// The line of a calibrator.
struct CalibratorLine {
    double rms = 0.0; // unit of the samples
    double hz = 0.0;
};

// Within 2 % of its frequency, by a Hann-windowed Fourier sum; where that holds less than half of the r.m.s. value of
// the samples, the strongest line from half to twice its frequency, if that holds 0.7 of it. Refuses a rate below 2.5
// times the frequency and less than 20 periods.
Result<CalibratorLine> line_of(std::span<const double> samples, double rate_hz, double hz);

struct CalibratorChecks {
    std::vector<Finding> findings = {};
    std::map<std::string, double> drift_percent = {}; // sensor → the greatest of its channels' from before to after
};

// Reads the recordings of the survey's calibrators, the middle 10 s of each at most.
CalibratorChecks calibration_checks(const Survey& survey);

} // namespace becalm::evaluators
