#include <algorithm>
#include <cmath>
#include <numbers>
#include <string_view>

#include <fmt/format.h>

#include "evaluators/decay.h"
#include "src/io/json_out.h"
#include "ui/cli/command.h"
#include "ui/cli/lane_options.h"

namespace becalm::cli {
namespace {

constexpr std::string_view caveat =
    "  damping depends on the amplitude: these values hold for the motion that was recorded\n";

class DecayCommand final : public Command {
public:
    Options declare(Options parent) override
    {
        Options app = parent.command(
            "decay", "Natural frequency and damping from a free decay (heel drop), or from ambient response");
        app.text("FILE", file_, "recording", Need::required);
        lanes_.declare_selection(app);
        app.number("--above", wanted_.above_hz, "the mode lies above, Hz");
        app.number("--below", wanted_.below_hz, "the mode lies below, Hz");
        app.flag("--ambient", wanted_.ambient, "from the response to ambient excitation, not from a decay");
        app.number("--resolution", wanted_.resolution_hz,
                   "with --ambient: spacing of the bins, Hz (default 0.02, coarser where the span is short)");
        app.output("--json", json_, "write JSON to FILE, or to the output for -");
        return app;
    }

    int run(const Console& console) override
    {
        auto report = reported(console);
        console.end_progress();
        const bool found =
            report && (!report->modes.empty() || std::ranges::any_of(report->channels, [](const auto& channel) {
                return channel.decay.has_value();
            }));
        return tell(
            console, report, json_, [&](const auto& told) { show(console, told); },
            [](const auto& told) { return io::as_json(told); }, found ? done : unusable);
    }

private:
    Result<DecayReport> reported(const Console& console) const
    {
        const auto options = lanes_.parse(console, "reading");
        if (!options) return tl::unexpected(options.error());
        return evaluators::decay(file_, *options, wanted_);
    }

    static std::vector<std::string> cells(const ModeFound& mode)
    {
        return {fmt::format("{:.4f}", mode.frequency_hz.value), fmt::format("{:.2g}", mode.frequency_hz.uncertainty),
                fmt::format("{:.3f}", 100.0 * mode.damping.value),
                fmt::format("{:.2g}", 100.0 * mode.damping.uncertainty)};
    }

    static void show(const Console& console, const DecayReport& report)
    {
        console.print(fmt::format("{}: {:.3f} s at {:.6g} Hz; +- is the standard uncertainty\n", report.file,
                                  report.duration_s, report.rate_hz));
        if (report.ambient)
            show_ambient(console, report);
        else
            show_decays(console, report);
        for (const Finding& finding : report.findings) console.print(finding);
    }

    static void show_decays(const Console& console, const DecayReport& report)
    {
        Table table({{"channel", true},
                     {"Hz", true},
                     {"+-", true},
                     {"damping %", true},
                     {"+-", true},
                     {"decrement", true},
                     {"from s", true},
                     {"to s", true},
                     {"amplitude from " + report.unit, true},
                     {"to", true}});
        std::string without;
        bool any = false;
        for (const DecayOfChannel& channel : report.channels) {
            if (!channel.decay) {
                without += fmt::format("  channel {}: {}\n", channel.channel.channel, channel.why_not);
                continue;
            }
            any = true;
            std::vector<std::string> row = cells(channel.decay->mode);
            row.insert(row.begin(), fmt::format("{}", channel.channel.channel));
            row.insert(row.end(),
                       {fmt::format("{:.4f}", channel.decay->decrement), fmt::format("{:.3f}", channel.decay->from_s),
                        fmt::format("{:.3f}", channel.decay->to_s), number(channel.decay->from_amplitude),
                        number(channel.decay->to_amplitude)});
            table.add(std::move(row));
        }
        if (any) console.print(table.text("  "));
        console.print(without);
        if (!without.empty())
            console.print("  choose the decay by --from and --to (end it where another mode rings on) and its mode by "
                          "--above and --below\n");
        if (any) console.print(caveat);
    }

    static void show_ambient(const Console& console, const DecayReport& report)
    {
        console.print(fmt::format("  modes sought from {:.4g} to {:.4g} Hz, bins {:.4g} Hz apart (--resolution: finer "
                                  "makes segments longer)\n",
                                  report.above_hz, report.below_hz, report.resolution_hz.value_or(0.0)));
        for (const AmbientModeFound& found : report.modes) {
            Table table({{"", false},
                         {"Hz", true},
                         {"+-", true},
                         {"damping %", true},
                         {"+-", true},
                         {"shape", true},
                         {"deg", true}});
            std::vector<std::string> row = cells(found.mode);
            row.insert(row.begin(), "all channels, decomposed");
            row.insert(row.end(), {"", ""});
            table.add(std::move(row));
            std::string without;
            for (std::size_t i = 0; i < found.half_power.size(); ++i) {
                const HalfPowerOfChannel& one = found.half_power[i];
                row = one.mode ? cells(*one.mode) : std::vector<std::string>(4, "-");
                row.insert(row.begin(), fmt::format("channel {}, half power", one.channel));
                row.push_back(fmt::format("{:.3f}", std::abs(found.shape[i])));
                row.push_back(fmt::format("{:.0f}", 180.0 / std::numbers::pi * std::arg(found.shape[i])));
                table.add(std::move(row));
                if (!one.mode) without += fmt::format("  channel {}, half power: {}\n", one.channel, one.why_not);
            }
            console.print("\n" + table.text("  ") + without);
        }
        if (report.modes.empty()) console.print("  no mode stands out; record for longer, or choose another range\n");
        if (!report.modes.empty()) console.print(caveat);
        for (const std::string& why : report.left_out) console.print("  left out: " + why + "\n");
    }

    std::string file_, json_;
    LaneOptions lanes_;
    evaluators::DampingOptions wanted_;
};

} // namespace

std::unique_ptr<Command> make_decay_command() { return std::make_unique<DecayCommand>(); }

} // namespace becalm::cli
