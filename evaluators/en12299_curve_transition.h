// EN 12299:2009, comfort on curve transitions. From memory with medium confidence: switched off until confirmed.
//
//   P_CT = max(0; A y_1s + B j_1s - C) + D r^E          per cent of passengers dissatisfied
//   y_1s  greatest lateral acceleration, 1 s moving mean, from the transition's start to 1.6 s past its end    m/s2
//   j_1s  greatest lateral jerk: difference of that mean over 1 s, from 1 s before the start to the end        m/s3
//   r     greatest roll rate, 1 s mean, between start and end                                                  deg/s
// A to E for standing or seated passengers stand in the criterion.
//
// What the publication leaves open to somebody who has not read it, and what is done here: a moving mean belongs to the
// middle of its second; the jerk at t is mean(t + 1 s) - mean(t); its low-pass was not read, means over bins of 0.05 s
// stand in for it. Each event that the survey lists is one transition, from the end of the straight to the beginning
// of the circular curve; the greatest of them is compared, and the mean is told.
#pragma once

#include "evaluators/quantity.h"

namespace becalm::evaluators::en12299 {

struct CurveFactors {
    double a = 0.0, b = 0.0, c = 0.0, d = 0.0, e = 0.0;
};

struct Transition {
    double acceleration = 0.0; // m/s2
    double jerk = 0.0;         // m/s3
    double roll_rate = 0.0;    // deg/s
};

double curve_transition_percent(const CurveFactors& factors, const Transition& transition);

// %. Of the lateral acceleration (axis y); needs the motion, with the roll rate (axis rx) beside it. Parameters: A, B,
// C, D, E, no defaults.
QuantityResult curve_transition(const QuantityArguments& arguments);

} // namespace becalm::evaluators::en12299
