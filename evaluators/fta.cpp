#include "evaluators/fta.h"

#include <fmt/format.h>

#include "evaluators/stated_in.h"
#include "evaluators/third_octaves.h"

namespace becalm::evaluators::fta {

double rms_of_peak(double peak_particle_velocity, double crest_factor) { return peak_particle_velocity / crest_factor; }

QuantityResult velocity_level(const QuantityArguments& arguments)
{
    if (const auto problem = unless_stated_in(arguments, Motion::velocity)) return fail(*problem);
    const double reference = parameter(arguments, "reference", micro_inch_per_s);
    const double greatest = arguments.tally.linear_rms;
    if (!(greatest > 0.0))
        return fail({.what = "there is no motion at all, which has no level", .remedy = "check the channel"});
    return QuantityValue{.value = level_db(greatest, reference),
                         .notes = {fmt::format("dB re {:.3g} m/s, greatest r.m.s. velocity over 1 s", reference)}};
}

} // namespace becalm::evaluators::fta
