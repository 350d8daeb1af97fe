// Persons at work: recordings whose weighted values are known, and the guides that the expected values come from.
#pragma once

#include <cmath>
#include <numbers>
#include <string>

#include "filters/weighting.h"

#include "tests/evaluators/case.h"

namespace becalm::evaluators::tests {

inline constexpr double hour = 3600.0;
inline constexpr const char* definition = "computed from the definition";
inline constexpr const char* wbv_guide = "EU guide to good practice on whole-body vibration";
inline constexpr const char* hav_guide = "EU guide to good practice on hand-arm vibration";

inline double gain(WeightingId id, double hz, Motion motion = Motion::acceleration)
{
    return std::abs(filters::analytic_response(id, motion, hz));
}

// A sine whose weighted r.m.s. is `rms`.
inline Signal weighted_as(double rms, WeightingId id, double hz, int rate_hz, double duration_s)
{
    return sine(rms * std::numbers::sqrt2 / gain(id, hz), hz, rate_hz, duration_s);
}

inline constexpr double followed = 5e-4; // the filters follow the definition to 1e-4; a sine cut at whole seconds

inline Case& vehicle(Case& survey, const std::string& space, double x, double y, double z, const std::string& more = "")
{
    return survey.space(space, "driver")
        .recording(space + ".wav", space, "1 = \"x\", 2 = \"y\", 3 = \"z\"",
                   {weighted_as(x, WeightingId::Wd, 1.0, 256, 125.0), weighted_as(y, WeightingId::Wd, 2.0, 256, 125.0),
                    weighted_as(z, WeightingId::Wk, 5.0, 256, 125.0)},
                   "position = \"seat-pan\"\n" + more, 256);
}

} // namespace becalm::evaluators::tests
