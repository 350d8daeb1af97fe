#include "evaluators/iso18738.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <numeric>
#include <span>

#include <fmt/format.h>

#include "evaluators/selected_bins.h"

namespace becalm::evaluators::iso18738 {
namespace {

std::vector<double> selected_swings(const QuantityArguments& arguments)
{
    std::vector<double> sizes;
    for (const SelectedSwings& one : arguments.swings)
        for (const Swing& swing : *one.swings)
            if (std::ranges::any_of(one.selected, [&](const TimeSpan& span) {
                    return static_cast<double>(swing.at_s) >= span.from_s &&
                           static_cast<double>(swing.at_s) < span.to_s;
                }))
                sizes.push_back(static_cast<double>(swing.size));
    return sizes;
}

Problem no_swing()
{
    return {.what = "the weighted acceleration does not swing from one side to the other in what is selected",
            .remedy = "measure longer or exclude less"};
}

double percent_of(const QuantityArguments& arguments)
{
    constexpr double usual = 95.0; // not a limit: the percentile in the name of A95
    return std::clamp(parameter(arguments, "percentile", usual), 1.0, 100.0);
}

// Slope of the least-squares line through the means of bins that are bin_s apart, per second.
double slope(std::span<const MotionBin> bins, double bin_s)
{
    const double middle = static_cast<double>(bins.size() - 1) / 2.0;
    double products = 0.0, squares = 0.0;
    for (std::size_t i = 0; i < bins.size(); ++i) {
        const double t = static_cast<double>(i) - middle;
        products += t * static_cast<double>(bins[i].mean);
        squares += t * t;
    }
    return products / squares / bin_s;
}

constexpr const char* low_pass = "means over 0.05 s stand in for the publication's low-pass at 10 Hz";

} // namespace

double not_exceeded_by(std::vector<double> values, double percent)
{
    BECALM_ASSERT(!values.empty() && percent > 0.0 && percent <= 100.0);
    const auto count = static_cast<double>(values.size());
    // Rounding must not ask for one more: 95 % of 20 are 19.
    const double rank = std::ceil(percent * count / 100.0 - 1e-9);
    const auto at = values.begin() + static_cast<std::ptrdiff_t>(std::clamp(rank, 1.0, count)) - 1;
    std::ranges::nth_element(values, at);
    return *at;
}

ValueSeries swing_series(const QuantityArguments& arguments)
{
    return {.values = selected_swings(arguments), .percent = percent_of(arguments)};
}

QuantityResult swing_greatest(const QuantityArguments& arguments)
{
    const std::vector<double> sizes = selected_swings(arguments);
    if (sizes.empty()) return fail(no_swing());
    return QuantityValue{.value = std::ranges::max(sizes)};
}

QuantityResult swing_a95(const QuantityArguments& arguments)
{
    const std::vector<double> sizes = selected_swings(arguments);
    if (sizes.empty()) return fail(no_swing());
    const double percent = percent_of(arguments);
    return QuantityValue{
        .value = not_exceeded_by(sizes, percent),
        .notes = {fmt::format("axis {}: {} peak-to-peak values, however small; {:.4g} % of them are at "
                              "most so great, the greatest is {:.3g} m/s2",
                              name_of(arguments.axis), sizes.size(), percent, std::ranges::max(sizes))}};
}

QuantityResult jerk_greatest(const QuantityArguments& arguments)
{
    if (auto problem = no_acceleration_bins(arguments)) return fail(std::move(*problem));
    const double window_s = parameter(arguments, "window_s", 0.5);
    QuantityValue result{.notes = {low_pass}};
    bool any = false;
    for (const SelectedMotion& one : arguments.motions) {
        const double bin_s = one.motion->bin_s;
        const auto length = static_cast<std::size_t>(std::max(2L, std::lround(window_s / bin_s)));
        for (const TimeSpan& span : one.selected) {
            const auto bins = bins_inside(*one.motion, span);
            for (std::size_t i = 0; i + length <= bins.size(); ++i) {
                result.value = std::max(result.value, std::abs(slope(bins.subspan(i, length), bin_s)));
                any = true;
            }
        }
    }
    if (!any)
        return fail({.what = fmt::format("no stretch of {:.4g} s is left for the slope", window_s),
                     .remedy = "measure longer or exclude less"});
    return result;
}

QuantityResult acceleration_a95(const QuantityArguments& arguments)
{
    if (auto problem = no_acceleration_bins(arguments)) return fail(std::move(*problem));
    constexpr double from_share = 0.05, to_share = 0.95; // not a limit: of the greatest speed
    std::vector<double> magnitudes;
    double greatest_speed = 0.0;
    for (const SelectedMotion& one : arguments.motions)
        for (const TimeSpan& span : one.selected) {
            const auto bins = bins_inside(*one.motion, span);
            if (bins.empty()) continue;
            double offset = 0.0;
            for (const MotionBin& bin : bins) offset += static_cast<double>(bin.mean);
            offset /= static_cast<double>(bins.size());
            // Speed at the middle of each bin.
            std::vector<double> accelerations, speeds;
            double speed = 0.0;
            for (const MotionBin& bin : bins) {
                const double a = static_cast<double>(bin.mean) - offset;
                accelerations.push_back(std::abs(a));
                speeds.push_back(std::abs(speed + a * one.motion->bin_s / 2.0));
                speed += a * one.motion->bin_s;
            }
            const double greatest = std::ranges::max(speeds);
            greatest_speed = std::max(greatest_speed, greatest);
            for (std::size_t i = 0; i < speeds.size(); ++i)
                if (speeds[i] >= from_share * greatest && speeds[i] <= to_share * greatest)
                    magnitudes.push_back(accelerations[i]);
        }
    if (magnitudes.empty())
        return fail({.what = "no ride from rest to rest is left", .remedy = "list each ride as an event"});
    const double percent = percent_of(arguments);
    return QuantityValue{
        .value = not_exceeded_by(std::move(magnitudes), percent),
        .notes = {fmt::format("the speed is summed up from the acceleration of each selected stretch, taken to be one "
                              "ride from rest to rest; greatest {:.3g} m/s",
                              greatest_speed),
                  low_pass}};
}

} // namespace becalm::evaluators::iso18738
