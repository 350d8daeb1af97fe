#include <fmt/format.h>

#include "evaluators/align.h"
#include "src/io/json_out.h"
#include "ui/cli/clocks.h"
#include "ui/cli/command.h"
#include "ui/cli/lane_options.h"

namespace becalm::cli {
namespace {

class AlignCommand final : public Command {
public:
    Options declare(Options parent) override
    {
        Options app =
            parent.command("align", "Lag between two recordings of the same motion, and drift of their clocks");
        app.text("FILE", file_, "recording", Need::required);
        app.text("OTHER", other_, "recording of the same motion, by another recorder", Need::required);
        app.text("--channel", wanted_.channel, "of FILE: number or name (default 1)");
        app.text("--other-channel", wanted_.other_channel, "of OTHER (default the one that fits best)");
        app.number("--from", from_, "first second that counts, in each file");
        app.number("--to", to_, "second at which it ends");
        app.number("--resample", resample_,
                   "of texts whose times run unevenly: put their rows onto this even rate, Hz");
        app.number("--most-lag", wanted_.most_lag_s,
                   "how far apart the files may be, s (default 10, a quarter of a short one)");
        app.number("--piece", wanted_.piece_s, "length of the pieces that are compared, s (default 2 to 20)");
        app.number("--most-ppm", wanted_.most_ppm, "drift that is looked for, parts in a million (default 200)");
        app.output("--json", json_, "write JSON to FILE, or to the output for -");
        return app;
    }

    int run(const Console& console) override
    {
        auto report = reported(console);
        console.end_progress();
        return tell(
            console, report, json_, [&](const auto& told) { show(console, told); },
            [](const auto& told) { return io::as_json(told); });
    }

private:
    Result<AlignmentReport> reported(const Console& console) const
    {
        evaluators::WeighOptions options{.progress = console.progress_for("reading"), .stop = console.stop};
        options.resample_hz = resample_;
        options.span = {from_.value_or(0.0), to_.value_or(options.span.to_s)};
        if (auto fault = fault_of(options.span)) return tl::unexpected(std::move(*fault));
        return evaluators::align(file_, other_, options, wanted_);
    }

    static void show(const Console& console, const AlignmentReport& report)
    {
        console.print(fmt::format("{}: channel {}, {:.3f} s at {:.6g} Hz\n{}: channel {}, {:.3f} s\n", report.file,
                                  report.channel.channel, report.duration_s, report.rate_hz, report.other,
                                  report.other_channel.channel, report.other_duration_s));
        show_clocks(console, report.clocks);
        for (const Finding& finding : report.findings) console.print(finding);
    }

    std::string file_, other_, json_;
    std::optional<double> from_, to_, resample_;
    evaluators::AlignOptions wanted_;
};

} // namespace

std::unique_ptr<Command> make_align_command() { return std::make_unique<AlignCommand>(); }

} // namespace becalm::cli
