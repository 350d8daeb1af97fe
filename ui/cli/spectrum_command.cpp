#include <fmt/format.h>

#include "evaluators/spectrum.h"
#include "src/io/json_out.h"
#include "ui/cli/command.h"
#include "ui/cli/lane_options.h"

namespace becalm::cli {
namespace {

class SpectrumCommand final : public Command {
public:
    Options declare(Options parent) override
    {
        Options app = parent.command("spectrum", "Spectrum, one-third octaves and dominant components of a recording");
        app.text("FILE", file_, "recording", Need::required);
        lanes_.declare(app, false);
        app.number("--resolution", resolution_hz_, "spacing of the bins, Hz (default 0.25)");
        app.output("--json", json_, "write JSON to FILE, or to the output for -");
        return app;
    }

    int run(const Console& console) override
    {
        auto report = reported(console);
        console.end_progress();
        if (!report) {
            console.complain(report.error());
            return exit_code_of(report.error());
        }
        if (json_ != "-") show(console, *report);
        if (const auto delivered = deliver(console, json_, [&] { return io::as_json(*report); }); !delivered) {
            console.complain(delivered.error());
            return exit_code_of(delivered.error());
        }
        return report->lanes.empty() ? unusable : done;
    }

private:
    Result<SpectrumReport> reported(const Console& console) const
    {
        if (resolution_hz_ && !(*resolution_hz_ > 0.0))
            return fail({.kind = ProblemKind::usage,
                         .what = "the resolution must be greater than 0",
                         .remedy = "give it in Hz"});
        const auto options = lanes_.parse(console, "reading");
        if (!options) return tl::unexpected(options.error());
        return evaluators::spectrum(file_, *options, resolution_hz_);
    }

    static void show(const Console& console, const SpectrumReport& report)
    {
        console.print(fmt::format("{}: {:.3f} s at {:.6g} Hz\n", report.file, report.duration_s, report.rate_hz));
        for (const SpectrumLane& lane : report.lanes) {
            console.print(fmt::format(
                "\nchannel {}, axis {}, weighting {}: {} segments, {:.4g} Hz apart, Hann window, half overlapping\n",
                lane.channel, lane.axis, lane.weighting, lane.segments, lane.resolution_hz));
            Table bands({{"one-third octave Hz", true}, {"r.m.s. " + lane.unit, true}});
            for (const BandLevel& band : lane.third_octaves)
                bands.add({fmt::format("{:.6g}", band.nominal_hz), number(band.rms)});
            console.print(bands.text("  "));
            if (lane.dominant.empty()) {
                console.print("  no component stands out of its surroundings\n");
                continue;
            }
            Table components({{"component Hz", true},
                              {"r.m.s. " + lane.unit, true},
                              {"share of energy %", true},
                              {"above floor dB", true}});
            for (const DominantComponent& line : lane.dominant)
                components.add({fmt::format("{:.3f}", line.hz), number(line.rms),
                                fmt::format("{:.1f}", 100.0 * line.energy_share),
                                fmt::format("{:.1f}", 10.0 * std::log10(line.above_floor))});
            console.print(components.text("  "));
        }
        for (const Finding& finding : report.findings) console.print(finding);
    }

    std::string file_, json_;
    LaneOptions lanes_;
    std::optional<double> resolution_hz_;
};

} // namespace

std::unique_ptr<Command> make_spectrum_command() { return std::make_unique<SpectrumCommand>(); }

} // namespace becalm::cli
