// Could a verdict be noise of the instruments? Finding "noise-floor" where the noise of sensor and recorder comes to a
// third or more both of the value and of the lowest bound of the verdict's bands: it then adds 5 % or more to what it
// is added to (1 / 3 in mean square: 1 / 9), and a value near the bound may be made of it. A third, some 10 dB, is
// common practice without a source.
//
// The noise of a weighted lane is the greatest of what can be told:
//   stated         `noise_m_s2` of the sensor: r.m.s. with the sensor at rest, within the band of the weighting or
//                  weighted; taken as it is, of accelerations weighted to accelerations alone. A caution.
//   quantisation   steps of q are uniformly wrong by half a step at most: q / sqrt(12) r.m.s., spread evenly up to half
//                  the rate: q sqrt(1/12 2/rate integral |H|^2 df). Computed from the definition. A caution.
//   floor          where the pass gathered spectra: from 0.4 to 0.75 of the range that they cover they are even to 3 dB
//                  and alike in the quietest and the loudest quarter of the time; its density then stands for a white
//                  noise at all frequencies. A motion as broad and as steady cannot be told from it, so that this is a
//                  note; it is looked at where nothing else comes to that much and the sensor states no noise.
// Of the values that go with a power of the motion, and of levels; each axis that the value is made of counts.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "evaluators/measured.h"
#include "src/model/assessment.h"
#include "src/model/finding.h"
#include "src/model/survey.h"

namespace becalm::evaluators {

// R.m.s. of a lane, unit of what comes out of its weighting.
struct Noise {
    double rms = 0.0;
    std::string how = {}; // "the quantisation (steps of 0.0006 m/s2)"
    bool is_certain = true;
};

// r.m.s. behind the weighting of white noise with the one-sided density `density` (unit of the channel squared, per Hz)
// up to half the rate.
double weighted_white_noise(double density, double rate_hz, WeightingId weighting, Motion input);

// The greatest of what can be told, of the floor too or not; empty where nothing can.
std::optional<Noise> noise_of(const Measured& measured, const Sensor* sensor, const Lane& lane, bool with_floor);

// One finding a recording, channel and weighting: that of the verdict which it concerns most.
std::vector<Finding> noise_floors(const Survey& survey, std::span<const Measured> measured,
                                  std::span<const Verdict> verdicts);

} // namespace becalm::evaluators
