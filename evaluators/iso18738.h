// ISO 18738-1:2012: ride quality of lifts, measured on the car floor. From memory with medium confidence: switched off
// until confirmed.
//
//   vibration      peak to peak of the weighted acceleration (Wd in x and y, Wk in z): the difference of two
//   consecutive
//                  extremes of opposite sign. The greatest, and A95: 95 % of the peak-to-peak values are at most so
//                  great
//   jerk           slope of the least-squares line over 0.5 s of the vertical acceleration, low-passed at 10 Hz
//   acceleration   A95 of the vertical acceleration, low-passed at 10 Hz, while the speed is between 5 % and 95 % of
//   its
//                  greatest
// The procedure looks at what lies between the doors' closing and opening: list each ride as an event, or one stretch
// at constant speed, or leave out the rest.
//
// The low-pass was not read; means over bins of 0.05 s stand in for it (3 dB down at 8.9 Hz, computed from the
// definition).
#pragma once

#include <vector>

#include "evaluators/quantity.h"

namespace becalm::evaluators::iso18738 {

// Of the weighted lane, m/s2. A swing counts where its later extreme lies in what is selected.
QuantityResult swing_greatest(const QuantityArguments& arguments);

// The smallest peak-to-peak value that at least `percentile` % of them do not exceed. Parameter: percentile (95).
QuantityResult swing_a95(const QuantityArguments& arguments);

// The peak-to-peak values that it looks at.
ValueSeries swing_series(const QuantityArguments& arguments);

// Greatest |slope| over windows wholly inside a selected stretch, m/s^3. Parameter: window_s (0.5).
QuantityResult jerk_greatest(const QuantityArguments& arguments);

// A95 of |acceleration|, m/s2. The speed is summed up from the acceleration, so each selected stretch must be one whole
// ride from rest to rest: its mean acceleration is taken away as the sensor's offset. Parameter: percentile (95).
QuantityResult acceleration_a95(const QuantityArguments& arguments);

// The smallest of `values` that at least `percent` % of them do not exceed. values not empty, 0 < percent <= 100.
double not_exceeded_by(std::vector<double> values, double percent);

} // namespace becalm::evaluators::iso18738
