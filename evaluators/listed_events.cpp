#include "evaluators/listed_events.h"

#include <algorithm>
#include <cmath>
#include <functional>

#include <fmt/format.h>
#include <fmt/ranges.h>

namespace becalm::evaluators {

Result<std::vector<ListedEvent>> listed_events(const QuantityArguments& arguments, std::string_view what)
{
    if (!arguments.events_listed || arguments.motions.empty())
        return fail({.what = fmt::format("the recordings do not say where the {}s are", what),
                     .remedy = "list them: events = [ { from_s = ..., to_s = ... } ] in each [[recording]]"});
    std::vector<ListedEvent> events;
    for (const SelectedMotion& motion : arguments.motions) {
        if (motion.selected.size() != 1)
            return fail({.what = fmt::format("the {} {} of {} is left out in part", what, events.size() + 1,
                                             arguments.motions.size()),
                         .remedy = "leave it out wholly, or let it in"});
        events.push_back({motion, motion.selected.front().from_s, motion.selected.front().to_s});
    }
    return events;
}

MovingMean::MovingMean(const MotionSeries& series, double window_s)
    : series_(&series), bins_(std::max<std::ptrdiff_t>(1, std::lround(window_s / series.bin_s)))
{
}

std::optional<double> MovingMean::beginning_at(std::ptrdiff_t bin) const
{
    if (bin < 0 || bin + bins_ > std::ssize(series_->bins)) return std::nullopt;
    double sum = 0.0;
    for (std::ptrdiff_t i = bin; i < bin + bins_; ++i)
        sum += static_cast<double>(series_->bins[static_cast<std::size_t>(i)].mean);
    return sum / static_cast<double>(bins_);
}

std::ptrdiff_t MovingMean::bin_of(double centre_s) const
{
    return std::lround(centre_s / series_->bin_s - static_cast<double>(bins_) / 2.0);
}

std::optional<double> MovingMean::at(double centre_s) const { return beginning_at(bin_of(centre_s)); }

std::optional<double> MovingMean::greatest(double from_s, double to_s) const
{
    double result = 0.0;
    for (std::ptrdiff_t bin = bin_of(from_s); bin <= bin_of(to_s); ++bin) {
        const auto mean = beginning_at(bin);
        if (!mean) return std::nullopt;
        result = std::max(result, std::abs(*mean));
    }
    return result;
}

std::optional<double> MovingMean::greatest_step(double apart_s, double from_s, double to_s) const
{
    const std::ptrdiff_t apart = std::lround(apart_s / series_->bin_s);
    double result = 0.0;
    for (std::ptrdiff_t bin = bin_of(from_s); bin <= bin_of(to_s); ++bin) {
        const auto first = beginning_at(bin), second = beginning_at(bin + apart);
        if (!first || !second) return std::nullopt;
        result = std::max(result, std::abs(*second - *first));
    }
    return result;
}

std::string listed_values(const std::vector<double>& values)
{
    constexpr std::size_t most = 12;
    std::vector<double> shown = values;
    if (shown.size() > most) {
        std::ranges::sort(shown, std::greater{});
        shown.resize(most);
    }
    return fmt::format("{:.1f}{}", fmt::join(shown, ", "), values.size() > most ? " and less" : "");
}

} // namespace becalm::evaluators
