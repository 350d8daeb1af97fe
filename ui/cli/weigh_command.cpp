#include <charconv>

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include "evaluators/weigh.h"
#include "src/io/json_out.h"
#include "ui/cli/command.h"

namespace becalm::cli {
namespace {

Result<std::vector<WeightingId>> weightings_from(const std::string& text)
{
    std::vector<WeightingId> ids;
    for (const std::string& name : split(text, ',')) {
        const auto id = weighting_named(name);
        if (!id)
            return fail({.kind = ProblemKind::usage, .what = fmt::format("there is no weighting \"{}\"", name),
                         .remedy = fmt::format("choose from {}", weighting_names())});
        if (std::ranges::find(ids, *id) == ids.end()) ids.push_back(*id);
    }
    return ids;
}

// "z", "x,y,z" (channel 1, 2, 3) or "1=x,3=z".
Result<std::vector<std::pair<int, Axis>>> axes_from(const std::string& text)
{
    std::vector<std::pair<int, Axis>> axes;
    int next = 1;
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
            return fail({.kind = ProblemKind::usage, .what = fmt::format("\"{}\" is no axis", item),
                         .remedy = "write x, y, z, rx, ry or rz, or CHANNEL=AXIS, separated by commas"});
        for (const auto& [other_channel, other_axis] : axes)
            if (other_channel == channel || other_axis == *axis)
                return fail({.kind = ProblemKind::usage, .what = fmt::format("\"{}\" names a channel or an axis twice", text),
                             .remedy = "map each channel to one axis"});
        axes.emplace_back(channel, *axis);
        next = channel + 1;
    }
    return axes;
}

class WeighCommand final : public Command {
public:
    CLI::App* declare(CLI::App& parent) override
    {
        CLI::App* app = parent.add_subcommand("weigh", "Weighted quantities of recordings, no survey needed");
        app->add_option("FILE", files_, "recordings: WAV, RF64, W64, FLAC, delimited text")->required();
        app->add_option("--weighting", weighting_, "Wk[,Wd,...], or none")->required();
        app->add_option("--axes", axes_, "z, or x,y,z for channels 1, 2, 3, or 1=x,3=z");
        app->add_option("--unit", unit_, fmt::format("of the stored values: {} (default m/s2)", unit_names()));
        app->add_option("--scale", scale_, "a stored 1.0 (full scale of integer PCM) is so many of the unit");
        app->add_option("--from", from_, "first second that counts");
        app->add_option("--to", to_, "second at which it ends");
        app->add_option("--offset", offset_, "what is taken away first: first10s (default), mean or none");
        app->add_option("--jobs", jobs_, "threads (default: all cores)")->check(CLI::Range(0, 4096));
        app->add_option("--json", json_, "write JSON to FILE, or to the output for -");
        return app;
    }

    int run(const Console& console) override
    {
        const auto options = options_from(console);
        if (!options) {
            console.complain(options.error());
            return exit_code_of(options.error());
        }
        const evaluators::WeighResult result = evaluators::weigh(files_, *options);
        console.end_progress();
        console.complain(result.problems);
        if (json_ != "-")
            for (const WeighedFile& file : result.files) show(console, file);
        if (const auto delivered = deliver(console, json_, io::as_json(result.files)); !delivered) {
            console.complain(delivered.error());
            return exit_code_of(delivered.error());
        }
        return exit_code(result);
    }

private:
    Result<evaluators::WeighOptions> options_from(const Console& console) const
    {
        evaluators::WeighOptions options{.scale = scale_, .jobs = jobs_, .progress = console.progress_for("weighing"), .stop = console.stop};
        auto weightings = weightings_from(weighting_);
        if (!weightings) return tl::unexpected(weightings.error());
        options.weightings = std::move(*weightings);
        if (!axes_.empty()) {
            auto axes = axes_from(axes_);
            if (!axes) return tl::unexpected(axes.error());
            options.axes = std::move(*axes);
        }
        const auto unit = unit_named(unit_);
        if (!unit)
            return fail({.kind = ProblemKind::usage, .what = fmt::format("there is no unit \"{}\"", unit_),
                         .remedy = fmt::format("choose from {}", unit_names())});
        options.unit = *unit;
        if (scale_ && (*scale_ == 0.0 || !std::isfinite(*scale_)))
            return fail({.kind = ProblemKind::usage, .what = "a scale of 0 makes every value 0", .remedy = "say what a stored 1.0 is"});
        options.span = {from_.value_or(0.0), to_.value_or(options.span.to_s)};
        if (!(options.span.from_s >= 0.0) || !(options.span.to_s > options.span.from_s))
            return fail({.kind = ProblemKind::usage, .what = "--from must be 0 or more and --to greater than --from", .remedy = "choose a span of time"});
        if (offset_ == "first10s") options.offset = evaluators::OffsetRule::first_10_s;
        else if (offset_ == "mean") options.offset = evaluators::OffsetRule::mean;
        else if (offset_ == "none") options.offset = evaluators::OffsetRule::none;
        else
            return fail({.kind = ProblemKind::usage, .what = fmt::format("there is no offset rule \"{}\"", offset_), .remedy = "choose first10s, mean or none"});
        return options;
    }

    static void show(const Console& console, const WeighedFile& file)
    {
        if (file.lanes.empty()) return; // the complaint says it all
        console.print(fmt::format("{}: {:.3f} s at {:.6g} Hz{}\n", file.file, file.duration_s, file.rate_hz,
                                  file.from_s > 0.0 ? fmt::format(" from {:.3f} s on", file.from_s) : ""));
        Table table({{"channel", true}, {"axis", false}, {"weighting", false}, {"r.m.s.", true}, {"peak", true}, {"crest", true},
                     {"MTVV lin.", true}, {"MTVV exp.", true}, {"unit", false}, {"VDV m/s^1.75", true}, {"MSDV m/s^1.5", true}});
        bool any_plain_motion = false;
        for (const WeighedLane& lane : file.lanes) {
            const bool acceleration = lane.unit == "m/s2";
            any_plain_motion |= !acceleration;
            table.add({std::to_string(lane.channel), lane.axis, lane.weighting, number(lane.rms), number(lane.peak), number(lane.crest_factor),
                       number(lane.mtvv_linear), number(lane.mtvv_exponential), lane.unit, acceleration ? number(lane.vdv) : "-",
                       acceleration ? number(lane.msdv) : "-"});
        }
        console.print(table.text("  "));
        if (file.total_rms) console.print(fmt::format("  root of the sum of squares over x, y, z: {} {}\n", number(file.total_rms), file.lanes.front().unit));
        if (any_plain_motion) console.print("  without a weighting a channel keeps its own motion; doses are of accelerations only\n");
        for (const Finding& finding : file.findings) {
            Finding shown = finding;
            shown.recording.clear(); // stands above
            console.print(shown);
        }
    }

    static int exit_code(const evaluators::WeighResult& result)
    {
        for (const Problem& problem : result.problems)
            if (exit_code_of(problem) == bad_usage) return bad_usage;
        if (!result.problems.empty()) return unusable;
        for (const WeighedFile& file : result.files)
            for (const WeighedLane& lane : file.lanes)
                if (!lane.rms) return unusable;
        return done;
    }

    std::vector<std::string> files_;
    std::string weighting_, axes_, unit_ = "m/s2", offset_ = "first10s", json_;
    std::optional<double> scale_, from_, to_;
    int jobs_ = 0;
};

} // namespace

std::unique_ptr<Command> make_weigh_command() { return std::make_unique<WeighCommand>(); }

} // namespace becalm::cli
