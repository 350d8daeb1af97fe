#include "evaluators/measured.h"

#include <algorithm>

#include "evaluators/selection.h"

namespace becalm::evaluators {
namespace {

std::vector<TimeSpan> by_clock(const Measured& measured, const Part& part, const Criterion& criterion)
{
    const double duration = measured.pass->duration_s;
    const auto start = local_start(measured.recording->start);
    BECALM_ASSERT(start.has_value()); // whoever made the part looked
    TimeSpan near;
    if (part.window != nullptr)
        if (const auto& spans = part.window->of(measured).spans; !spans.empty())
            near = {spans.front().from_s, spans.back().to_s};
    const std::vector<TimeSpan> period = within_hours(*start, duration, criterion.hours, near);
    if (part.clock == ClockPart::whole || !criterion.rest) return period;
    const std::vector<TimeSpan> rest =
        within_hours(*start, duration, criterion.rest->hours, criterion.rest->sunday_hours, near);
    return part.clock == ClockPart::resting ? common(period, rest) : without(period, rest);
}

} // namespace

bool spans_positions(const Criterion& criterion)
{
    return std::ranges::any_of(criterion.terms, [](const AxisTerm& term) { return term.position.has_value(); });
}

bool joins_positions(const Criterion& criterion) { return spans_positions(criterion) || criterion.highest_position; }

const ChannelMapping* Measured::mapping(Axis axis) const
{
    const auto found = std::ranges::find(recording->channels, axis, &ChannelMapping::axis);
    return found == recording->channels.end() ? nullptr : &*found;
}

const ChannelResult* Measured::channel(int number) const
{
    const auto found = std::ranges::find(pass->channels, number, &ChannelResult::channel);
    return found == pass->channels.end() ? nullptr : &*found;
}

const Window::Piece& Window::of(const Measured& measured) const
{
    const auto found = std::ranges::find(pieces, &measured, &Piece::measured);
    BECALM_ASSERT(found != pieces.end());
    return *found;
}

std::vector<std::vector<TimeSpan>> stretches(const Measured& measured, const Part& part, const Criterion& criterion)
{
    std::vector<TimeSpan> whole{{0.0, measured.pass->duration_s}};
    if (part.by_clock) whole = by_clock(measured, part, criterion);
    if (part.window != nullptr) whole = common(whole, part.window->of(measured).spans);
    if (measured.recording->events.empty()) return {whole};
    std::vector<std::vector<TimeSpan>> events;
    for (const EventSpan& event : measured.recording->events) {
        const TimeSpan span{event.from_s, event.to_s};
        events.push_back(common(whole, std::span(&span, 1)));
    }
    return events;
}

} // namespace becalm::evaluators
