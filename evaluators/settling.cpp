#include "evaluators/settling.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

namespace becalm::evaluators {
namespace {

// Empty: without what measuring makes smaller.
Budget with_more(const Budget& budget, std::optional<double> times)
{
    Budget more = budget;
    for (UncertaintySource& source : more.sources)
        if (source.shrinks != Shrinks::never && source.dof)
            source.dof = times ? std::optional((*source.dof + 1.0) * *times - 1.0) : std::nullopt;
    for (Candidate& candidate : more.candidates)
        for (Contribution& contribution : candidate.contributions)
            if (more.sources[contribution.source].shrinks != Shrinks::never)
                contribution.standard *= times ? 1.0 / std::sqrt(*times) : 0.0;
    return more;
}

double standard_with(const Budget& budget, std::optional<double> times)
{
    return Propagated(with_more(budget, times)).standard();
}

std::string counted(double number, const char* noun)
{
    return fmt::format("{:.0f} more {}{}", number, noun, number == 1.0 ? "" : "s");
}

std::string lasting(double seconds)
{
    constexpr double minute = 60.0, hour = 3600.0, day = 86400.0;
    if (seconds < 2.0 * minute) return fmt::format("{:.0f} s", std::ceil(seconds));
    if (seconds < 2.0 * hour) return fmt::format("{:.2g} min", seconds / minute);
    if (seconds < 2.0 * day) return fmt::format("{:.2g} h", seconds / hour);
    return fmt::format("{:.0f} days", std::ceil(seconds / day));
}

// The greatest component that stays.
std::string staying(const Budget& budget)
{
    const Propagated rest(with_more(budget, std::nullopt));
    const auto greatest = std::ranges::max_element(rest.components(), {}, &UncertaintyComponent::standard);
    return greatest == rest.components().end() ? std::string() : greatest->name;
}

} // namespace

std::optional<Settling> settling(const Propagated& value, double bound, double k, std::string_view unit)
{
    const Budget& budget = value.budget();
    const double enough = std::abs(bound - value.value()) / k; // of the standard uncertainty
    if (value.standard() < enough) return {};
    Settling result{.bound = bound};
    constexpr double most = 1e4; // not a limit: times the record, beyond which nobody measures
    if (!(standard_with(budget, std::nullopt) < enough) || !(standard_with(budget, most) < enough)) {
        result.in_the_way = staying(budget);
        const std::string what = result.in_the_way == "statistics" ? "the scatter of the greatest value"
                                 : result.in_the_way.empty()       ? "it lies on it"
                                                                   : result.in_the_way;
        result.words = fmt::format("measuring longer would not tell the value from its nearest limit: {}",
                                   result.in_the_way.empty() ? what : what + " stands in the way");
        return result;
    }
    double low = 1.0, high = most;
    while (high / low > 1.001) {
        const double middle = std::sqrt(low * high);
        (standard_with(budget, middle) < enough ? high : low) = middle;
    }
    result.times = high;
    const auto grow = [&](Shrinks kind, std::optional<double>& more) {
        for (const UncertaintySource& source : budget.sources)
            if (source.shrinks == kind) more = std::max(more.value_or(0.0), (high - 1.0) * source.amount);
    };
    grow(Shrinks::with_time, result.more_s);
    grow(Shrinks::with_events, result.more_events);
    grow(Shrinks::with_recordings, result.more_recordings);
    for (std::optional<double>* whole : {&result.more_events, &result.more_recordings})
        if (*whole) *whole = std::ceil(**whole);
    std::string what;
    const auto say = [&](const std::string& words) { what += (what.empty() ? "" : " and ") + words; };
    if (result.more_s) say(lasting(*result.more_s) + " more of the same motion");
    if (result.more_events) say(counted(*result.more_events, "event"));
    if (result.more_recordings) say(counted(*result.more_recordings, "recording"));
    result.words = fmt::format("{} ({:.3g} times as much in all) would tell the value from {:.4g}{}{}", what, high,
                               bound, unit == "1" ? "" : " ", unit == "1" ? "" : unit);
    return result;
}

} // namespace becalm::evaluators
