#include "evaluators/en12299_discrete_event.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include <fmt/format.h>

#include "evaluators/listed_events.h"
#include "evaluators/selected_bins.h"

namespace becalm::evaluators::en12299 {
namespace {

constexpr double window_s = 2.0, step_s = 0.1;

struct Window {
    double percent = 0.0, peak_to_peak = 0.0, mean = 0.0;
};

// The worst window wholly inside the event; empty where none fits in.
std::optional<Window> worst_window(const EventFactors& factors, const ListedEvent& event)
{
    const MotionSeries& series = *event.motion.motion;
    const auto bins = bins_inside(series, {event.from_s, event.to_s});
    const auto length = static_cast<std::size_t>(std::lround(window_s / series.bin_s));
    const auto step = static_cast<std::size_t>(std::max(1L, std::lround(step_s / series.bin_s)));
    std::optional<Window> worst;
    for (std::size_t begin = 0; begin + length <= bins.size(); begin += step) {
        double sum = 0.0;
        const auto window_bins = bins.subspan(begin, length);
        for (const MotionBin& bin : window_bins) sum += static_cast<double>(bin.mean);
        const auto [least, greatest] = std::ranges::minmax(window_bins, {}, &MotionBin::mean);
        Window window{.peak_to_peak = static_cast<double>(greatest.mean) - static_cast<double>(least.mean),
                      .mean = sum / static_cast<double>(length)};
        window.percent = discrete_event_percent(factors, window.peak_to_peak, window.mean);
        if (!worst || window.percent > worst->percent) worst = window;
    }
    return worst;
}

} // namespace

double discrete_event_percent(const EventFactors& factors, double peak_to_peak, double mean)
{
    return std::max(0.0, factors.a * peak_to_peak + factors.b * std::abs(mean) - factors.c);
}

QuantityResult discrete_event(const QuantityArguments& arguments)
{
    if (auto problem = no_acceleration_bins(arguments)) return fail(std::move(*problem));
    const auto events = listed_events(arguments, "local event");
    if (!events) return tl::unexpected(events.error());
    const EventFactors factors{
        .a = parameter(arguments, "a", 0.0), .b = parameter(arguments, "b", 0.0), .c = parameter(arguments, "c", 0.0)};
    std::vector<double> percents;
    Window worst;
    for (const ListedEvent& event : *events) {
        const auto window = worst_window(factors, event);
        if (!window)
            return fail({.what = fmt::format("the local event from {:.2f} s to {:.2f} s is shorter than the window of "
                                             "{:.0f} s",
                                             event.from_s, event.to_s, window_s),
                         .remedy = "list it with the motion before and after it"});
        if (percents.empty() || window->percent > std::ranges::max(percents)) worst = *window;
        percents.push_back(window->percent);
    }
    const double mean = std::accumulate(percents.begin(), percents.end(), 0.0) / static_cast<double>(percents.size());
    QuantityValue result{.value = std::ranges::max(percents)};
    result.notes.push_back(fmt::format("{} local event{}: {} %, mean {:.1f} %; the greatest is compared",
                                       percents.size(), percents.size() == 1 ? "" : "s", listed_values(percents),
                                       mean));
    result.notes.push_back(
        fmt::format("its window: {:.3g} m/s2 from peak to peak, mean {:.3g} m/s2", worst.peak_to_peak, worst.mean));
    result.notes.emplace_back(
        "accelerations count from the mean of the recording's first 10 s, which must be of straight "
        "track; means over 0.05 s stand in for the publication's low-pass, which was not read");
    return result;
}

} // namespace becalm::evaluators::en12299
