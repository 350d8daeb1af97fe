#include "filters/quantities.h"

#include <cmath>

namespace becalm::filters {

double weighted_rms(const Tally& tally)
{
    return tally.duration_s > 0.0 ? std::sqrt(tally.sum_squares / tally.duration_s) : 0.0;
}

double crest_factor(const Tally& tally)
{
    const double rms = weighted_rms(tally);
    return rms > 0.0 ? tally.peak / rms : 0.0;
}

double vdv(const Tally& tally) { return std::pow(tally.sum_fourths, 0.25); }

double evdv(const Tally& tally)
{
    constexpr double factor = 1.4; // not a limit: of the definition
    return factor * weighted_rms(tally) * std::pow(tally.duration_s, 0.25);
}

double msdv(const Tally& tally) { return std::sqrt(tally.sum_squares); }

double total_value(std::span<const WeightedAxis> axes)
{
    double sum = 0.0;
    for (const WeightedAxis& axis : axes) sum += axis.factor * axis.factor * axis.value * axis.value;
    return std::sqrt(sum);
}

double vdv_over(double vdv_value, double measured_s, double exposed_s)
{
    return vdv_value * std::pow(exposed_s / measured_s, 0.25);
}

double equivalent_over(double rms, double exposed_s, double reference_s)
{
    return rms * std::sqrt(exposed_s / reference_s);
}

} // namespace becalm::filters
