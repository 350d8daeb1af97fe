#include <fmt/format.h>

#include "evaluators/relate.h"
#include "src/io/json_out.h"
#include "ui/cli/clocks.h"
#include "ui/cli/command.h"
#include "ui/cli/lane_options.h"

namespace becalm::cli {
namespace {

class RelateCommand final : public Command {
public:
    Options declare(Options parent) override
    {
        Options app = parent.command(
            "relate", "How the channels of a recording move with one of them: coherence, transfer, deflection");
        app.text("FILE", file_, "recording", Need::required);
        app.text("--reference", wanted_.reference, "channel that the others are measured by: its number or name",
                 Need::required);
        lanes_.declare_selection(app);
        app.number("--resolution", wanted_.resolution_hz,
                   "spacing of the bins, Hz (default 0.25, coarser where the span is short)");
        app.text("--with", wanted_.with,
                 "a second file of the same rate, unit and scale: shifted to the first, its channels are compared too");
        app.number("--most-lag", wanted_.most_lag_s,
                   "with --with: how far apart the files may be, s (default 10, a quarter of a short one)");
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
    Result<RelationReport> reported(const Console& console) const
    {
        if (wanted_.most_lag_s && wanted_.with.empty())
            return fail({.kind = ProblemKind::usage,
                         .what = "--most-lag is of a second file, and there is none",
                         .remedy = "say --with FILE, or leave it out"});
        const auto options = lanes_.parse(console, "reading");
        if (!options) return tl::unexpected(options.error());
        return evaluators::relate(file_, *options, wanted_);
    }

    static void show(const Console& console, const RelationReport& report)
    {
        console.print(fmt::format("{}: {:.3f} s at {:.6g} Hz, against channel {}{}\n{}, {:.4g} Hz apart, Hann window, "
                                  "half overlapping; +- is "
                                  "the standard uncertainty of chance\n",
                                  report.file, report.duration_s, report.rate_hz, report.reference.channel,
                                  report.reference.name ? " (" + *report.reference.name + ")" : "",
                                  counted(report.segments, "segment"), report.resolution_hz));
        if (report.other) {
            console.print(fmt::format("with {}, its channels as \"with 1\" and so on\n", report.other->file));
            show_clocks(console, report.other->clocks);
        }
        for (const RelatedLine& line : report.lines) show(console, report, line);
        for (const Finding& finding : report.findings) console.print(finding);
    }

    static void show(const Console& console, const RelationReport& report, const RelatedLine& line)
    {
        console.print(
            fmt::format("\n{:.3f} Hz, reference {} {} r.m.s.\n", line.hz, number(line.reference_rms), report.unit));
        Table table({{"channel", true},
                     {"axis", false},
                     {"coherence", true},
                     {"magnitude", true},
                     {"+-", true},
                     {"phase deg", true},
                     {"+-", true},
                     {"real", true},
                     {"imaginary", true}});
        std::string apart;
        for (std::size_t i = 0; i < line.channels.size(); ++i) {
            const RelatedMotion& motion = line.channels[i];
            const ChannelOfReport& channel = report.channels[i].channel;
            const bool of_other = report.channels[i].of_other;
            table.add({fmt::format("{}{}", of_other ? "with " : "", channel.channel), channel.axis.value_or("-"),
                       fmt::format("{:.3f}", motion.coherence), number(motion.magnitude),
                       fmt::format("{:.2g}", motion.magnitude_uncertainty), fmt::format("{:.1f}", motion.phase_deg),
                       fmt::format("{:.2g}", motion.phase_uncertainty_deg), fmt::format("{:.4f}", motion.real),
                       fmt::format("{:.4f}", motion.imaginary)});
            if (!motion.moves_together())
                apart += fmt::format("  channel {}{} and the reference do not move together there: magnitude and phase "
                                     "say little\n",
                                     channel.channel, of_other ? " of the second file" : "");
        }
        console.print(table.text("  ") + apart);
    }

    std::string file_, json_;
    LaneOptions lanes_;
    evaluators::RelateOptions wanted_;
};

} // namespace

std::unique_ptr<Command> make_relate_command() { return std::make_unique<RelateCommand>(); }

} // namespace becalm::cli
