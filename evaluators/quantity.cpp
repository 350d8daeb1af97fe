#include "evaluators/quantity.h"

#include <algorithm>
#include <array>

#include "evaluators/base_curves.h"
#include "evaluators/bs6472_1.h"
#include "evaluators/dg11.h"
#include "evaluators/din4150_2.h"
#include "evaluators/directive_2002_44.h"
#include "evaluators/en12299.h"
#include "evaluators/en12299_curve_transition.h"
#include "evaluators/en12299_discrete_event.h"
#include "evaluators/fta.h"
#include "evaluators/iso10137.h"
#include "evaluators/iso10326_1.h"
#include "evaluators/iso18738.h"
#include "evaluators/iso2631_1.h"
#include "evaluators/iso6954.h"
#include "evaluators/iso6954_1984.h"
#include "evaluators/jgj_t170.h"
#include "evaluators/ns8176.h"
#include "evaluators/os_rms.h"
#include "evaluators/response_factor.h"
#include "evaluators/ride_index.h"
#include "evaluators/seakeeping.h"
#include "evaluators/trafikverket.h"
#include "evaluators/uni9614.h"
#include "evaluators/vibration_level.h"

namespace becalm::evaluators {
namespace {

constexpr auto quantities = std::to_array<Quantity>({
    {"weighted_rms", "m/s2", "frequency-weighted r.m.s. acceleration", iso2631_1::weighted_rms,
     FromRecord::mean_square},
    {"mtvv_linear", "m/s2", "greatest linear running r.m.s. (1 s)", iso2631_1::mtvv_linear, FromRecord::maximum},
    {"mtvv_exponential", "m/s2", "greatest exponential running r.m.s. (1 s)", iso2631_1::mtvv_exponential,
     FromRecord::maximum},
    {"peak", "m/s2", "greatest weighted acceleration", iso2631_1::peak, FromRecord::maximum},
    {"msdv", "m/s^1.5", "motion sickness dose value", iso2631_1::msdv, FromRecord::mean_square},
    {"vdv", "m/s^1.75", "vibration dose value", bs6472_1::vdv, FromRecord::mean_fourth},
    {"evdv", "m/s^1.75", "estimated vibration dose value", bs6472_1::evdv, FromRecord::mean_square},
    {"daily_exposure", "m/s2", "daily exposure A(8)", directive_2002_44::daily_exposure, FromRecord::mean_square,
     needs_ledger, true},
    {"daily_vdv", "m/s^1.75", "daily vibration dose value", directive_2002_44::daily_vdv, FromRecord::mean_fourth,
     needs_ledger, true},
    {"daily_evdv", "m/s^1.75", "estimated daily vibration dose value", iso2631_1::daily_evdv, FromRecord::mean_square,
     needs_ledger, true},
    {"exposure_points", "1", "exposure points of a day", directive_2002_44::exposure_points, FromRecord::mean_square,
     needs_ledger, true, 2.0},
    {"seat_rms", "%", "SEAT value, r.m.s. of seat over floor", iso10326_1::seat_rms, FromRecord::mean_square},
    {"seat_vdv", "%", "SEAT value, dose of seat over floor", iso10326_1::seat_vdv, FromRecord::mean_fourth},
    {"seat_psd", "%", "SEAT value, weighted spectrum of seat over floor", iso10326_1::seat_psd,
     FromRecord::mean_spectrum, needs_spectra},
    {"vomiting_percent", "%", "people who may vomit", iso2631_1::vomiting_percent, FromRecord::mean_square},
    {"weighted_velocity", "m/s", "frequency-weighted r.m.s. velocity", iso6954::weighted_velocity,
     FromRecord::mean_square},
    {"event_rms", "m/s2", "statistical maximum over events of the running r.m.s. acceleration", ns8176::event_rms,
     FromRecord::events},
    {"event_velocity", "m/s", "statistical maximum over events of the running r.m.s. velocity", ns8176::event_velocity,
     FromRecord::events},
    {"block_rms", "m/s2", "percentile of the r.m.s. values of consecutive blocks", en12299::block_rms,
     FromRecord::series, needs_ledger, false, 1.0, en12299::blocks},
    {"comfort_index", "1", "percentile of the r.m.s. values of consecutive blocks, times the criterion's factors",
     en12299::block_rms, FromRecord::series, needs_ledger, false, 1.0, en12299::blocks},
    {"component_peak", "m/s", "peak of the greatest component over the criterion's curve", iso6954_1984::component_peak,
     FromRecord::greatest_spectrum, needs_spectra},
    {"curve_transition_percent", "%", "passengers dissatisfied with a curve transition", en12299::curve_transition,
     FromRecord::other, needs_motion, false, std::nullopt},
    {"discrete_event_percent", "%", "passengers dissatisfied with a local event", en12299::discrete_event,
     FromRecord::other, needs_motion, false, std::nullopt},
    {"ride_index_components", "1", "ride index, component form", ride_index::components, FromRecord::greatest_spectrum,
     needs_spectra, false, 3.0 / 10.0},
    {"ride_index_weighted", "1", "ride index, weighted form", ride_index::weighted, FromRecord::greatest_spectrum,
     needs_spectra, false, 3.0 / 10.0},
    {"swing_greatest", "m/s2", "greatest peak-to-peak value", iso18738::swing_greatest, FromRecord::maximum,
     needs_swings},
    {"swing_a95", "m/s2", "peak-to-peak value that 95 % of them do not exceed", iso18738::swing_a95, FromRecord::series,
     needs_swings, false, 1.0, iso18738::swing_series},
    {"jerk_greatest", "m/s^3", "greatest jerk", iso18738::jerk_greatest, FromRecord::maximum, needs_motion},
    {"ride_acceleration_a95", "m/s2", "acceleration that 95 % do not exceed while the speed changes",
     iso18738::acceleration_a95, FromRecord::events, needs_motion},
    {"motion_rms", "m/s2", "r.m.s. acceleration of slow motion about its mean", seakeeping::motion_rms,
     FromRecord::mean_motion, needs_motion},
    {"running_velocity", "m/s", "greatest running r.m.s. of the weighted velocity (1 s)", iso6954::running_velocity,
     FromRecord::maximum},
    {"response_factor", "1", "greatest 1 s running r.m.s. over the base value of the curve",
     response_factor::response_factor, FromRecord::maximum},
    {"kb_fmax", "1", "greatest KB_F, the running r.m.s. (0.125 s) of the weighted velocity in mm/s", din4150_2::kb_fmax,
     FromRecord::maximum},
    {"kb_ftm", "1", "root mean square of the greatest KB_F of every 30 s", din4150_2::kb_ftm, FromRecord::series,
     needs_ledger, false, 1.0, din4150_2::takt_series},
    {"kb_ftr", "1", "KB_F averaged over the period, what a condition adds to it", din4150_2::kb_ftr, FromRecord::series,
     needs_ledger, false, 1.0, din4150_2::takt_series},
    {"curve_ratio", "1", "greatest third-octave r.m.s. value over the curve", base_curves::curve_ratio,
     FromRecord::mean_spectrum, needs_spectra},
    {"curve_level", "dB", "greatest third-octave level over the curve", base_curves::curve_level,
     FromRecord::mean_spectrum, needs_spectra},
    {"peak_ratio", "1", "greatest acceleration over the curve at the natural frequency", iso10137::peak_ratio,
     FromRecord::maximum, needs_spectra},
    {"velocity_level", "dB", "level of the greatest r.m.s. velocity (1 s)", fta::velocity_level, FromRecord::maximum},
    {"vibration_level", "dB", "vertical vibration level, average", vibration_level::vibration_level,
     FromRecord::mean_spectrum, needs_spectra},
    {"vibration_level_max", "dB", "vibration level, greatest", vibration_level::vibration_level_max,
     FromRecord::maximum},
    {"vibration_level_l10", "dB", "vibration level exceeded for a tenth of the time",
     vibration_level::vibration_level_l10, FromRecord::series, needs_ledger, false, 1.0,
     vibration_level::sample_series},
    {"band_level", "dB", "greatest weighted third-octave level", jgj_t170::band_level, FromRecord::mean_spectrum,
     needs_spectra},
    {"source_rms", "m/s2", "statistical maximum over events, residual vibration taken away", uni9614::source_rms,
     FromRecord::events},
    {"ranked_velocity", "m/s", "weighted velocity that so many events of the night reach",
     trafikverket::ranked_velocity, FromRecord::series, needs_ledger, false, 1.0, trafikverket::event_series},
    {"peak_percent_g", "%", "greatest acceleration in per cent of gravity", dg11::peak_percent_g, FromRecord::maximum},
    {"espa", "%", "equivalent sinusoidal peak acceleration in per cent of gravity", dg11::espa, FromRecord::maximum},
    {"one_step_rms", "m/s", "percentile over walks of the weighted r.m.s. velocity", os_rms::one_step_rms,
     FromRecord::series, needs_ledger, false, 1.0, os_rms::walk_series},
});

} // namespace

QuantityArguments alone(const QuantityArguments& arguments, std::size_t recording)
{
    QuantityArguments one = arguments;
    one.tally = arguments.recordings[recording];
    one.recordings = {arguments.recordings[recording]};
    one.rows = {arguments.rows[recording]};
    const auto pick = [recording](auto& list) {
        if (recording < list.size()) list = {list[recording]};
    };
    pick(one.spectra);
    pick(one.motions);
    pick(one.swings);
    for (auto& [axis, motions] : one.beside) pick(motions);
    return one;
}

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

unsigned needs_of(const Criterion& criterion)
{
    unsigned needs = quantity_named(criterion.quantity)->needs;
    if (criterion.decision) needs |= quantity_named(criterion.decision->average_quantity)->needs;
    return needs;
}

} // namespace becalm::evaluators
