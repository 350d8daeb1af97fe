// A transducer's sensitivity as people write it: "10.2 mV/(m/s2)", "10,2 mV/(m/s²)", "100 mV/g", "28.8 V/(m/s)",
// "1,02e-2 V/ms-2". Decimal point or comma; V, mV, uV or µV over a unit that a survey knows (src/base/units.h), in
// brackets or not. What is no voltage (charge, counts) is refused.
#pragma once

#include <string>
#include <string_view>

#include "src/base/problem.h"

namespace becalm::io {

struct Sensitivity {
    double volts = 0.0;    // for 1 of `unit`; above 0
    std::string unit = {}; // as a survey writes it
};

Result<Sensitivity> sensitivity_in(std::string_view text);

} // namespace becalm::io
