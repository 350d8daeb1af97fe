// Holds a running filter against its analytic definition on a grid that the design does not use.
#pragma once

#include <string>
#include <vector>

#include "filters/digital_design.h"

namespace becalm::filters::tests {

// What is promised in filters/digital_design.h, and the names under which a failure is told.
struct DesignErrors {
    double magnitude = 0.0;     // greatest relative error of the magnitude up to accurate_to_hz(); promised 1e-4
    double magnitude_hz = 0.0;  // where
    double phase_deg = 0.0;     // greatest error of the phase there; promised 0.01
    double phase_hz = 0.0;      //
    double above = 0.0;         // greatest error of the magnitude above, relative to the maximum; promised 1e-5
    double above_hz = 0.0;      //
    double complex_above = 0.0; // greatest complex error above, up to 0.6 of half the rate, same unit; promised 1e-5
    double complex_above_hz = 0.0;

    bool kept() const;
};

DesignErrors errors_of(const DigitalWeighting& weighting);

// Designs and checks; empty where the promise is kept, otherwise everything needed to repeat the case.
std::string broken_promise(WeightingId id, Motion input, double rate_hz);

// The grid: Hz, ascending, from f1 / 50 to half the rate.
std::vector<double> check_grid(const DigitalWeighting& weighting);

} // namespace becalm::filters::tests
