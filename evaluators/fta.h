// Vibration levels of ground-borne vibration in the United States. [fta-0123-2018] From secondary texts and memory.
//
//   L_v = 20 lg(v / v0)   v the greatest unweighted r.m.s. velocity over 1 s, vertical; v0 = 1 micro-inch a second
//                         = 2.54e-8 m/s (ISO 1683 has 1e-9 m/s: never mix them)
//   v = PPV / 4           of a peak particle velocity, crest factor 4
#pragma once

#include "evaluators/quantity.h"

namespace becalm::evaluators::fta {

inline constexpr double micro_inch_per_s = 2.54e-8; // m/s

// r.m.s. velocity that the guide takes a peak particle velocity for, m/s.
double rms_of_peak(double peak_particle_velocity, double crest_factor = 4.0);

// Level of the greatest r.m.s. velocity over 1 s (windows at every sample), dB. Parameter: reference, m/s (2.54e-8).
// The weighting must give a velocity.
QuantityResult velocity_level(const QuantityArguments& arguments);

} // namespace becalm::evaluators::fta
