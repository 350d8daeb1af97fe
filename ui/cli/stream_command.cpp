#include <algorithm>
#include <cmath>
#include <fcntl.h>
#include <unistd.h>

#include <fmt/format.h>

#include "evaluators/selection.h"
#include "evaluators/stream.h"
#include "src/io/json_out.h"
#include "src/io/regular_file.h"
#include "ui/cli/command.h"
#include "ui/cli/lane_options.h"
#include "ui/cli/weighed_table.h"

namespace becalm::cli {
namespace {

class StreamCommand final : public Command {
public:
    Options declare(Options parent) override
    {
        Options app = parent.command("stream", "Weigh a recording as it comes out of a pipe, for as long as it lasts, "
                                               "and keep its ledger");
        app.text("SOURCE", source_,
                 "- for WAV on the standard input, or a description NAME.recording.toml of raw numbers with "
                 "files = [\"-\"]",
                 Need::required);
        app.text("--lanes", lanes_, "what is weighed how: 1=x:Wd,2=y:Wd,3=z:Wk, or x:Wd,y:Wd,z:Wk for channels 1, 2, 3",
                 Need::required);
        app.text("--input", input_, "read this named pipe or device instead of the standard input");
        app.output("--ledger", ledger_, "keep the ledger, a row a second of each lane, in this new folder");
        app.text("--start", start_, "of the first sample: 2026-03-14T00:00:00+01:00");
        app.text("--unit", unit_, fmt::format("of the stored values: {} (default m/s2)", unit_names()));
        app.number("--scale", scale_, "a stored 1.0 (full scale of integer PCM) is so many of the unit");
        app.text("--offset", offset_, "what is taken away first: first10s (default) or none");
        app.output("--json", json_, "write JSON to FILE, or to the output for -");
        return app;
    }

    int run(const Console& console) override
    {
        auto request = parse();
        if (!request) return give_up(console, {request.error()});
        io::FileHandle pipe(input_.empty() ? ::fcntl(STDIN_FILENO, F_DUPFD_CLOEXEC, 0)
                                           : ::open(input_.c_str(), O_RDONLY | O_CLOEXEC | O_NOCTTY));
        const std::string from = input_.empty() ? "standard input" : input_;
        if (!pipe.is_open()) return give_up(console, {io::system_problem(from, io::FileAttempt::read, errno)});
        if (input_.empty() && ::isatty(STDIN_FILENO) == 1)
            return give_up(console, {{.kind = ProblemKind::usage,
                                      .what = "the standard input is a terminal",
                                      .remedy = "send samples: RECORDER | becalm stream ..."}});
        auto stream = io::open_stream(source_, std::move(pipe), console.stop);
        if (!stream) return give_up(console, {stream.error()});
        if (console.progress)
            request->progress = [&](double seconds) {
                console.err << fmt::format("\r{:.0f} s streamed ", seconds) << std::flush;
            };
        const auto file = evaluators::stream(**stream, source_ == "-" ? from : source_, *request);
        console.end_progress();
        return tell(
            console, file.map([](const WeighedFile& one) { return std::vector{one}; }), json_,
            [&](const std::vector<WeighedFile>& files) { show(console, files.front()); },
            [](const std::vector<WeighedFile>& files) { return io::as_json(files); },
            file && std::ranges::all_of(file->lanes, [](const WeighedLane& lane) { return lane.rms.has_value(); })
                ? done
                : unusable);
    }

private:
    void show(const Console& console, const WeighedFile& file) const
    {
        console.print(fmt::format("{}: {:.3f} s at {:.6g} Hz\n", file.file, file.duration_s, file.rate_hz));
        show_lanes(console, file.lanes);
        for (Finding finding : file.findings) {
            finding.recording.clear(); // stands above
            console.print(finding);
        }
        if (!ledger_.empty())
            console.print(fmt::format("its ledger lies in {}; ask it by `becalm ledger {}`\n", ledger_, ledger_));
    }

    Result<evaluators::StreamRequest> parse() const
    {
        evaluators::StreamRequest request{.folder = ledger_, .scale = scale_, .start = start_};
        auto lanes = lanes_from(lanes_);
        if (!lanes) return tl::unexpected(lanes.error());
        request.lanes = std::move(*lanes);
        const auto unit = unit_of(unit_, scale_);
        if (!unit) return tl::unexpected(unit.error());
        request.unit = *unit;
        if (offset_ != "first10s" && offset_ != "none")
            return fail({.kind = ProblemKind::usage,
                         .what = fmt::format("there is no offset rule \"{}\" for a stream", offset_),
                         .remedy = "choose first10s or none"});
        if (offset_ == "none") request.offset = evaluators::OffsetRule::none;
        if (!start_.empty() && !evaluators::local_start(start_))
            return fail({.kind = ProblemKind::usage,
                         .what = fmt::format("\"{}\" is no start", start_),
                         .remedy = "write date, time and offset of the clock: 2026-03-14T00:00:00+01:00"});
        return request;
    }

    // "x:Wd,y:Wd,z:Wk" or "1=x:Wd,1=x:Wk"
    static Result<std::vector<Lane>> lanes_from(const std::string& text)
    {
        std::vector<Lane> lanes;
        int channel = 1;
        for (const std::string& item : split(text, ',')) {
            const std::size_t colon = item.find(':');
            const auto axes = axes_from(item.substr(0, colon), channel);
            if (!axes) return tl::unexpected(axes.error());
            const std::string name = colon == std::string::npos ? std::string() : item.substr(colon + 1);
            const auto weighting = weighting_named(name);
            if (!weighting)
                return fail({.kind = ProblemKind::usage,
                             .what = fmt::format("\"{}\" names no weighting", item),
                             .remedy = fmt::format("write AXIS:WEIGHTING, such as z:Wk; weightings are {}",
                                                   weighting_names())});
            const Lane lane{axes->front().first, axes->front().second, *weighting};
            if (std::ranges::find(lanes, lane) != lanes.end())
                return fail({.kind = ProblemKind::usage,
                             .what = fmt::format("\"{}\" stands there twice", item),
                             .remedy = "take one of them out"});
            lanes.push_back(lane);
            channel = lane.channel + 1;
        }
        return lanes;
    }

    std::string source_, lanes_, input_, ledger_, start_, unit_ = "m/s2", offset_ = "first10s", json_;
    std::optional<double> scale_;
};

} // namespace

std::unique_ptr<Command> make_stream_command() { return std::make_unique<StreamCommand>(); }

} // namespace becalm::cli
