// Were the right sensors in the right place, and do they still measure what they say? Cautions and notes of a survey's
// sensors, their mounting and their checks; what they rest on is common practice without a source.
//
//   calibration-expired  a sensor used later than calibration_valid_months after the calibration that holds then
//   sensitivity-drift    two successive calibrations differ by more than their expanded uncertainties together
//                        (root of the sum of squares)
//   sensor-mix-up        a file says the serial number of another sensor of the survey, or of none of them
//   wrong-axis           gravity on a channel that is said to be horizontal while none is on z (not where persons lie)
//   polarity             gravity on z against its sign on most recordings of the survey; no r.m.s. value depends on it
//   swapped-channels     the levels of a recording's axes fit those of the same place under other conditions far better
//                        with two of them exchanged: three recordings at least, each pair off by 6 dB or more together,
//                        four times as well in mean square
//   calibration-check    (a note) what a calibrator's recording gives, and the scale that follows from it
//   calibration-off      it deviates from the calibrator by more than the tolerance, or cannot be evaluated
//   calibration-drift    before and after differ by more than the tolerance
#pragma once

#include <span>
#include <string>
#include <vector>

#include "evaluators/measured.h"
#include "src/model/finding.h"
#include "src/model/survey.h"

namespace becalm::evaluators {

std::vector<Finding> sensor_histories(const Survey& survey);

// Of what the file says of its channels against the survey.
std::vector<Finding> sensor_mix_ups(const Survey& survey, const Recording& recording, const io::RecordingInfo& info);

// Of all recordings that could be read.
std::vector<Finding> directions(std::span<const Measured> measured);

// The r.m.s. value of the line of a calibrator within 2 % of its frequency, unit of the samples, by a Hann-windowed
// Fourier sum over the middle of the recording (10 s at most). Refuses a rate below 2.5 times the frequency and less
// than 20 periods.
Result<double> line_rms(std::span<const double> samples, double rate_hz, double hz);

// Reads the recordings of the survey's calibrators; `folder` is the survey's.
std::vector<Finding> calibration_checks(const Survey& survey);

} // namespace becalm::evaluators
