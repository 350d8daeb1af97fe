#include <cmath>

#include <fmt/format.h>

#include "evaluators/weigh.h"
#include "src/io/json_out.h"
#include "ui/cli/command.h"

namespace becalm::cli {
namespace {

class ResponseCommand final : public Command {
public:
    Options declare(Options parent) override
    {
        Options app = parent.command("response", "What the running filter does beside the analytic definition");
        app.text("--weighting", weighting_, std::string(weighting_names()), Need::required);
        app.number("--rate", rate_hz_, "sampling rate, Hz", Need::required);
        app.text("--input", input_, "acceleration (default), velocity or displacement");
        app.numbers("--at", at_hz_, "frequencies, Hz (default: third-octave centres up to half the rate)");
        app.output("--json", json_, "write JSON to FILE, or to the output for -");
        return app;
    }

    int run(const Console& console) override
    {
        const auto report = reported();
        return tell(
            console, report, json_, [&](const auto& told) { show(console, told); },
            [](const auto& told) { return io::as_json(told); });
    }

private:
    Result<ResponseReport> reported() const
    {
        const auto weighting = weighting_named(weighting_);
        if (!weighting)
            return fail({.kind = ProblemKind::usage,
                         .what = fmt::format("there is no weighting \"{}\"", weighting_),
                         .remedy = fmt::format("choose from {}", weighting_names())});
        const auto input = motion_named(input_);
        if (!input)
            return fail({.kind = ProblemKind::usage,
                         .what = fmt::format("there is no input \"{}\"", input_),
                         .remedy = "choose acceleration, velocity or displacement"});
        if (!(rate_hz_ > 0.0) || rate_hz_ > 1e9)
            return fail({.kind = ProblemKind::usage,
                         .what = fmt::format("a rate of {:.6g} Hz is no sampling rate", rate_hz_),
                         .remedy = "give it in Hz"});
        return evaluators::show_response(*weighting, *input, rate_hz_, at_hz_);
    }

    static void show(const Console& console, const ResponseReport& report)
    {
        console.print(fmt::format("{} from {} to {} at {:.6g} Hz: latency {} samples (removed), {} taps beside the "
                                  "poles\n",
                                  report.weighting, report.input, report.output, report.rate_hz, report.latency_samples,
                                  report.taps));
        Table table({{"Hz", true},
                     {"running", true},
                     {"degrees", true},
                     {"definition", true},
                     {"degrees", true},
                     {"difference %", true}});
        for (const ResponsePoint& point : report.points)
            table.add({fmt::format("{:.5g}", point.hz), fmt::format("{:.6g}", point.magnitude),
                       fmt::format("{:.3f}", point.phase_deg), fmt::format("{:.6g}", point.analytic_magnitude),
                       fmt::format("{:.3f}", point.analytic_phase_deg),
                       point.analytic_magnitude > 0.0
                           ? fmt::format("{:+.4f}", 100.0 * (point.magnitude / point.analytic_magnitude - 1.0))
                           : "-"});
        console.print(table.text("  "));
        if (report.accurate_to_hz > 0.0)
            console.print(fmt::format(
                "  within 0.01 % and 0.01 degrees to {:.6g} Hz; above, within 1e-5 of the greatest magnitude\n",
                report.accurate_to_hz));
    }

    std::string weighting_, input_ = "acceleration", json_;
    double rate_hz_ = 0.0;
    std::vector<double> at_hz_;
};

} // namespace

std::unique_ptr<Command> make_response_command() { return std::make_unique<ResponseCommand>(); }

} // namespace becalm::cli
