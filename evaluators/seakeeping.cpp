#include "evaluators/seakeeping.h"

#include <cmath>

#include "evaluators/selected_bins.h"

namespace becalm::evaluators::seakeeping {

QuantityResult motion_rms(const QuantityArguments& arguments)
{
    if (auto problem = no_acceleration_bins(arguments)) return fail(std::move(*problem));
    double squares = 0.0, count = 0.0;
    for (const SelectedMotion& one : arguments.motions) {
        double sum = 0.0, bins = 0.0;
        for (const TimeSpan& span : one.selected)
            for (const MotionBin& bin : bins_inside(*one.motion, span)) {
                sum += static_cast<double>(bin.mean);
                bins += 1.0;
            }
        const double mean = bins > 0.0 ? sum / bins : 0.0;
        for (const TimeSpan& span : one.selected)
            for (const MotionBin& bin : bins_inside(*one.motion, span))
                squares += (static_cast<double>(bin.mean) - mean) * (static_cast<double>(bin.mean) - mean);
        count += bins;
    }
    if (count == 0.0)
        return fail({.what = "nothing is left of the motion", .remedy = "measure longer or exclude less"});
    return QuantityValue{.value = std::sqrt(squares / count),
                         .notes = {"r.m.s. value about the mean, of motion up to about 9 Hz (means over 0.05 s)"}};
}

} // namespace becalm::evaluators::seakeeping
