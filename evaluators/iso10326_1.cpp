#include "evaluators/iso10326_1.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "evaluators/iso2631_1.h"
#include "filters/quantities.h"
#include "filters/weighting.h"

namespace becalm::evaluators::iso10326_1 {
namespace {

double weighted_mean_square(const std::vector<double>& density, double resolution_hz, WeightingId weighting,
                            Motion motion)
{
    double sum = 0.0;
    for (std::size_t k = 1; k < density.size(); ++k) // the mean is no vibration
        sum += density[k] *
               std::norm(filters::analytic_response(weighting, motion, static_cast<double>(k) * resolution_hz));
    return sum * resolution_hz;
}

double length_of(const std::vector<TimeSpan>& spans, double end_s)
{
    double length = 0.0;
    for (const TimeSpan& span : spans) length += std::max(0.0, std::min(span.to_s, end_s) - span.from_s);
    return length;
}

} // namespace

QuantityResult seat_rms(const QuantityArguments& arguments) { return iso2631_1::weighted_rms(arguments); }

QuantityResult seat_vdv(const QuantityArguments& arguments)
{
    return QuantityValue{.value = filters::vdv_over(filters::vdv(arguments.tally), arguments.tally.duration_s, 1.0)};
}

QuantityResult seat_psd(const QuantityArguments& arguments)
{
    // Recordings count by the time they tell of.
    double energy = 0.0, duration = 0.0;
    for (const SelectedSpectra& recording : arguments.spectra) {
        const std::vector<double> density = mean_density(*recording.spectra, recording.selected);
        if (density.empty()) continue;
        const double length = length_of(recording.selected, recording.spectra->rows.back().to_s);
        energy += length * weighted_mean_square(density, recording.spectra->resolution_hz, arguments.weighting,
                                                arguments.motion);
        duration += length;
    }
    if (duration <= 0.0)
        return fail({.what = fmt::format("no spectrum lies wholly inside the selected time of axis {}",
                                         name_of(arguments.axis)),
                     .remedy = "measure longer or exclude less"});
    return QuantityValue{.value = std::sqrt(energy / duration)};
}

} // namespace becalm::evaluators::iso10326_1
