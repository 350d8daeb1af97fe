#include "ui/cli/lane_options.h"

#include <algorithm>
#include <charconv>
#include <cmath>

#include <fmt/format.h>

#include "ui/cli/command.h"

namespace becalm::cli {
namespace {

Result<std::vector<WeightingId>> weightings_from(const std::string& text)
{
    std::vector<WeightingId> ids;
    for (const std::string& name : split(text, ',')) {
        const auto id = weighting_named(name);
        if (!id)
            return fail({.kind = ProblemKind::usage,
                         .what = fmt::format("there is no weighting \"{}\"", name),
                         .remedy = fmt::format("choose from {}", weighting_names())});
        if (std::ranges::find(ids, *id) == ids.end()) ids.push_back(*id);
    }
    return ids;
}

} // namespace

Result<std::vector<std::pair<int, Axis>>> axes_from(const std::string& text, int next)
{
    std::vector<std::pair<int, Axis>> axes;
    for (const std::string& item : split(text, ',')) {
        const std::size_t equals = item.find('=');
        int channel = next;
        std::string name = item;
        if (equals != std::string::npos) {
            const auto [end, error] = std::from_chars(item.data(), item.data() + equals, channel);
            if (error != std::errc() || end != item.data() + equals) channel = 0;
            name = item.substr(equals + 1);
        }
        const auto axis = axis_named(name);
        if (!axis || channel < 1)
            return fail({.kind = ProblemKind::usage,
                         .what = fmt::format("\"{}\" is no axis", item),
                         .remedy = "write x, y, z, rx, ry or rz, or CHANNEL=AXIS, separated by commas"});
        for (const auto& [other_channel, other_axis] : axes)
            if (other_channel == channel || other_axis == *axis)
                return fail({.kind = ProblemKind::usage,
                             .what = fmt::format("\"{}\" names a channel or an axis twice", text),
                             .remedy = "map each channel to one axis"});
        axes.emplace_back(channel, *axis);
        next = channel + 1;
    }
    return axes;
}

std::optional<Problem> fault_of(const TimeSpan& span)
{
    if (span.from_s >= 0.0 && span.to_s > span.from_s) return std::nullopt;
    return Problem{.kind = ProblemKind::usage,
                   .what = "--from must be 0 or more and --to greater than --from",
                   .remedy = "choose a span of time"};
}

Result<Unit> unit_of(const std::string& name, const std::optional<double>& scale)
{
    const auto unit = unit_named(name);
    if (!unit)
        return fail({.kind = ProblemKind::usage,
                     .what = fmt::format("there is no unit \"{}\"", name),
                     .remedy = fmt::format("choose from {}", unit_names())});
    if (scale && (*scale == 0.0 || !std::isfinite(*scale)))
        return fail({.kind = ProblemKind::usage,
                     .what = fmt::format("a scale of {} cannot be used", *scale),
                     .remedy = "say how much of the unit a stored 1.0 is"});
    return *unit;
}

void LaneOptions::declare(Options app, bool weighting_required)
{
    app.text("--weighting", weighting_, fmt::format("one or more, such as Wk,Wd: {}", weighting_names()),
             weighting_required ? Need::required : Need::optional);
    declare_selection(app);
    app.text("--offset", offset_, "what is taken away first: first10s (default), mean or none");
    app.jobs(jobs_);
}

void LaneOptions::declare_selection(Options app)
{
    app.text("--axes", axes_, "z, or x,y,z for channels 1, 2, 3, or 1=x,3=z");
    app.text("--unit", unit_, fmt::format("of the stored values: {} (default m/s2)", unit_names()));
    app.number("--scale", scale_, "a stored 1.0 (full scale of integer PCM) is so many of the unit");
    app.number("--resample", resample_, "of a text whose times run unevenly: put its rows onto this even rate, Hz");
    app.number("--from", from_, "first second that counts");
    app.number("--to", to_, "second at which it ends");
}

Result<evaluators::WeighOptions> LaneOptions::parse(const Console& console, const std::string& what_is_done) const
{
    evaluators::WeighOptions options{
        .scale = scale_, .jobs = jobs_, .progress = console.progress_for(what_is_done), .stop = console.stop};
    auto weightings = weightings_from(weighting_);
    if (!weightings) return tl::unexpected(weightings.error());
    options.weightings = std::move(*weightings);
    if (!axes_.empty()) {
        auto axes = axes_from(axes_);
        if (!axes) return tl::unexpected(axes.error());
        options.axes = std::move(*axes);
    }
    const auto unit = unit_of(unit_, scale_);
    if (!unit) return tl::unexpected(unit.error());
    options.unit = *unit;
    options.resample_hz = resample_;
    options.span = {from_.value_or(0.0), to_.value_or(options.span.to_s)};
    if (auto fault = fault_of(options.span)) return tl::unexpected(std::move(*fault));
    if (offset_ == "first10s")
        options.offset = evaluators::OffsetRule::first_10_s;
    else if (offset_ == "mean")
        options.offset = evaluators::OffsetRule::mean;
    else if (offset_ == "none")
        options.offset = evaluators::OffsetRule::none;
    else
        return fail({.kind = ProblemKind::usage,
                     .what = fmt::format("there is no offset rule \"{}\"", offset_),
                     .remedy = "choose first10s, mean or none"});
    return options;
}

} // namespace becalm::cli
