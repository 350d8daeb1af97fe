// Ride index of rail vehicles, in two forms that differ; a criterion names the one it uses. From memory
// [ride-index-1956].
//
// Component form. Of each component of frequency f with the peak a in cm/s2:
//   W_i = 0.896 (a^3 F(f) / f)^0.1,    W = (sum W_i^10)^0.1
//   F vertical    0.325 f^2 from 0.5 Hz to 5.9 Hz, 400 / f^2 to 20 Hz, 1 above
//   F horizontal  0.8 f^2 from 0.5 Hz to 5.4 Hz, 650 / f^2 to 26 Hz, 1 above
// Components are the lines that stand out of the spectrum of the channel as recorded (recorded_spectrum.h), their peak
// sqrt(2) times their r.m.s. value.
//
// Weighted form. Of the acceleration's r.m.s. value a in m/s2 under the weighting B:
//   W = 4.42 a^0.3
//   B(f) = k sqrt((1.911 f^2 + (0.25 f^2)^2) / ((1 - 0.277 f^2)^2 + (1.563 f - 0.0368 f^3)^2)), k = 0.588 vertical,
//   0.737 horizontal
// a is summed over the spectrum from 0.5 Hz, where the component form begins, to half the rate.
#pragma once

#include <span>

#include "evaluators/quantity.h"

namespace becalm::evaluators::ride_index {

enum class Direction { vertical, horizontal };

// z is vertical, x and y are horizontal.
Direction direction_of(Axis axis);

// F(f), 0 below 0.5 Hz.
double component_weighting(Direction direction, double hz);

struct Component {
    double hz = 0.0;
    double peak_cm_s2 = 0.0;
};
double of_components(Direction direction, std::span<const Component> components);

// B(f).
double acceleration_weighting(Direction direction, double hz);

// Both need spectra. Several recordings: the greatest counts.
QuantityResult components(const QuantityArguments& arguments); // 1
QuantityResult weighted(const QuantityArguments& arguments);   // 1

} // namespace becalm::evaluators::ride_index
