#include "evaluators/quantity.h"

#include <algorithm>
#include <array>

#include "evaluators/bs6472_1.h"
#include "evaluators/din4150_2.h"
#include "evaluators/directive_2002_44.h"
#include "evaluators/en12299.h"
#include "evaluators/en12299_curve_transition.h"
#include "evaluators/en12299_discrete_event.h"
#include "evaluators/iso10326_1.h"
#include "evaluators/iso18738.h"
#include "evaluators/iso2631_1.h"
#include "evaluators/iso6954.h"
#include "evaluators/iso6954_1984.h"
#include "evaluators/ns8176.h"
#include "evaluators/response_factor.h"
#include "evaluators/ride_index.h"

namespace becalm::evaluators {
namespace {

constexpr auto quantities = std::to_array<Quantity>({
    {"weighted_rms", "m/s2", "frequency-weighted r.m.s. acceleration", iso2631_1::weighted_rms},
    {"mtvv_linear", "m/s2", "greatest linear running r.m.s. (1 s)", iso2631_1::mtvv_linear},
    {"mtvv_exponential", "m/s2", "greatest exponential running r.m.s. (1 s)", iso2631_1::mtvv_exponential},
    {"peak", "m/s2", "greatest weighted acceleration", iso2631_1::peak},
    {"msdv", "m/s^1.5", "motion sickness dose value", iso2631_1::msdv},
    {"vdv", "m/s^1.75", "vibration dose value", bs6472_1::vdv},
    {"evdv", "m/s^1.75", "estimated vibration dose value", bs6472_1::evdv},
    {"daily_exposure", "m/s2", "daily exposure A(8)", directive_2002_44::daily_exposure, needs_ledger, true},
    {"daily_vdv", "m/s^1.75", "daily vibration dose value", directive_2002_44::daily_vdv, needs_ledger, true},
    {"daily_evdv", "m/s^1.75", "estimated daily vibration dose value", iso2631_1::daily_evdv, needs_ledger, true},
    {"exposure_points", "1", "exposure points of a day", directive_2002_44::exposure_points, needs_ledger, true, 2.0},
    {"seat_rms", "%", "SEAT value, r.m.s. of seat over floor", iso10326_1::seat_rms},
    {"seat_vdv", "%", "SEAT value, dose of seat over floor", iso10326_1::seat_vdv},
    {"seat_psd", "%", "SEAT value, weighted spectrum of seat over floor", iso10326_1::seat_psd, needs_spectra},
    {"vomiting_percent", "%", "people who may vomit", iso2631_1::vomiting_percent},
    {"weighted_velocity", "m/s", "frequency-weighted r.m.s. velocity", iso6954::weighted_velocity},
    {"event_rms", "m/s2", "statistical maximum over events of the running r.m.s. acceleration", ns8176::event_rms},
    {"event_velocity", "m/s", "statistical maximum over events of the running r.m.s. velocity", ns8176::event_velocity},
    {"block_rms", "m/s2", "percentile of the r.m.s. values of consecutive blocks", en12299::block_rms},
    {"comfort_index", "1", "percentile of the r.m.s. values of consecutive blocks, times the criterion's factors",
     en12299::block_rms},
    {"component_peak", "m/s", "peak of the greatest component over the criterion's curve", iso6954_1984::component_peak,
     needs_spectra},
    {"curve_transition_percent", "%", "passengers dissatisfied with a curve transition", en12299::curve_transition,
     needs_motion},
    {"discrete_event_percent", "%", "passengers dissatisfied with a local event", en12299::discrete_event,
     needs_motion},
    {"ride_index_components", "1", "ride index, component form", ride_index::components, needs_spectra},
    {"ride_index_weighted", "1", "ride index, weighted form", ride_index::weighted, needs_spectra},
    {"swing_greatest", "m/s2", "greatest peak-to-peak value", iso18738::swing_greatest, needs_swings},
    {"swing_a95", "m/s2", "peak-to-peak value that 95 % of them do not exceed", iso18738::swing_a95, needs_swings},
    {"jerk_greatest", "m/s^3", "greatest jerk", iso18738::jerk_greatest, needs_motion},
    {"ride_acceleration_a95", "m/s2", "acceleration that 95 % do not exceed while the speed changes",
     iso18738::acceleration_a95, needs_motion},
    {"running_velocity", "m/s", "greatest running r.m.s. of the weighted velocity (1 s)", iso6954::running_velocity},
    {"response_factor", "1", "greatest 1 s running r.m.s. over the base value of the curve",
     response_factor::response_factor},
    {"kb_fmax", "1", "greatest KB_F, the running r.m.s. (0.125 s) of the weighted velocity in mm/s",
     din4150_2::kb_fmax},
    {"kb_ftm", "1", "root mean square of the greatest KB_F of every 30 s", din4150_2::kb_ftm},
    {"kb_ftr", "1", "KB_F averaged over the period, what a condition adds to it", din4150_2::kb_ftr},
});

} // namespace

double parameter(const QuantityArguments& arguments, const std::string& name, double otherwise)
{
    const auto found = arguments.parameters.find(name);
    return found == arguments.parameters.end() ? otherwise : found->second;
}

const Quantity* quantity_named(std::string_view name)
{
    const auto found = std::ranges::find(quantities, name, &Quantity::name);
    return found == quantities.end() ? nullptr : found;
}

} // namespace becalm::evaluators
