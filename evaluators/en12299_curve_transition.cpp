#include "evaluators/en12299_curve_transition.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

#include <fmt/format.h>

#include "evaluators/listed_events.h"
#include "evaluators/selected_bins.h"

namespace becalm::evaluators::en12299 {
namespace {

constexpr double second = 1.0;
constexpr double acceleration_past_end_s = 1.6; // not a limit: how far past the transition's end the procedure looks
constexpr double jerk_before_start_s = 1.0;
constexpr double degrees = 180.0 / std::numbers::pi;

// The series of roll rates that belongs to the recording of event i.
Result<const MotionSeries*> roll_of(const QuantityArguments& arguments, std::size_t i)
{
    const auto beside = arguments.beside.find(Axis::rx);
    if (beside == arguments.beside.end() || beside->second.size() != arguments.motions.size())
        return fail(
            {.what = "the roll rate is missing or unfit, which the procedure needs beside the lateral acceleration",
             .remedy = "map a channel to rx in a [[recording]] of the same file, with unit = \"deg/s\" or \"rad/s\""});
    const SelectedMotion& roll = beside->second[i];
    if (roll.kind != Motion::velocity)
        return fail(
            {.what = fmt::format("the roll is told as an {}, and the procedure needs its rate", name_of(roll.kind)),
             .remedy = "measure it with unit = \"deg/s\" or \"rad/s\""});
    if (roll.motion->bins.empty())
        return fail(
            {.what = "the rate of the roll is too low for means over 0.05 s", .remedy = "sample at 20 Hz or faster"});
    return roll.motion;
}

Result<Transition> measured(const ListedEvent& event, const MotionSeries& roll)
{
    const MovingMean lateral(*event.motion.motion, second), rolling(roll, second);
    const auto acceleration = lateral.greatest(event.from_s, event.to_s + acceleration_past_end_s);
    const auto jerk = lateral.greatest_step(second, event.from_s - jerk_before_start_s, event.to_s);
    const auto roll_rate = rolling.greatest(event.from_s, event.to_s);
    if (!acceleration || !jerk || !roll_rate)
        return fail({.what = fmt::format("the transition from {:.2f} s to {:.2f} s lies too near an end of its "
                                         "recording: {:.1f} s before it and {:.1f} s after it are looked at",
                                         event.from_s, event.to_s, jerk_before_start_s + second / 2.0,
                                         acceleration_past_end_s + second / 2.0),
                     .remedy = "record further, or do not list it"});
    return Transition{.acceleration = *acceleration, .jerk = *jerk / second, .roll_rate = *roll_rate * degrees};
}

} // namespace

double curve_transition_percent(const CurveFactors& factors, const Transition& transition)
{
    return std::max(0.0, factors.a * transition.acceleration + factors.b * transition.jerk - factors.c) +
           factors.d * std::pow(transition.roll_rate, factors.e);
}

QuantityResult curve_transition(const QuantityArguments& arguments)
{
    if (auto problem = no_acceleration_bins(arguments)) return fail(std::move(*problem));
    const auto events = listed_events(arguments, "transition");
    if (!events) return tl::unexpected(events.error());
    const CurveFactors factors{.a = parameter(arguments, "A", 0.0),
                               .b = parameter(arguments, "B", 0.0),
                               .c = parameter(arguments, "C", 0.0),
                               .d = parameter(arguments, "D", 0.0),
                               .e = parameter(arguments, "E", 0.0)};
    std::vector<double> percents;
    Transition worst;
    for (std::size_t i = 0; i < events->size(); ++i) {
        const auto roll = roll_of(arguments, i);
        if (!roll) return tl::unexpected(roll.error());
        const auto transition = measured((*events)[i], **roll);
        if (!transition) return tl::unexpected(transition.error());
        const double percent = curve_transition_percent(factors, *transition);
        if (percents.empty() || percent > std::ranges::max(percents)) worst = *transition;
        percents.push_back(percent);
    }
    const double mean = std::accumulate(percents.begin(), percents.end(), 0.0) / static_cast<double>(percents.size());
    QuantityValue result{.value = std::ranges::max(percents)};
    result.notes.push_back(fmt::format("{} transition{}: {} %, mean {:.1f} %; the greatest is compared",
                                       percents.size(), percents.size() == 1 ? "" : "s", listed_values(percents),
                                       mean));
    result.notes.push_back(fmt::format("its lateral acceleration {:.3g} m/s2, jerk {:.3g} m/s3, roll rate {:.3g} deg/s",
                                       worst.acceleration, worst.jerk, worst.roll_rate));
    result.notes.emplace_back(
        "accelerations count from the mean of the recording's first 10 s, which must be of straight "
        "track; means over 0.05 s stand in for the publication's low-pass, which was not read");
    return result;
}

} // namespace becalm::evaluators::en12299
