#include <cmath>

#include <fmt/format.h>

#include "src/io/json_out.h"
#include "ui/cli/command.h"
#include "ui/demo/planted_faults.h"

namespace becalm::cli {
namespace {

class ProveCommand final : public Command {
public:
    Options declare(Options parent) override
    {
        Options app = parent.command("prove", "How many planted faults does `becalm check` find, and how many sound "
                                              "recordings does it accuse?");
        app.number("--count", count_, "recordings to make (default 300)");
        app.number("--seed", seed_, "of the series (default 1)");
        app.output("--json", json_, "write JSON to FILE, or to the output for -");
        app.jobs(jobs_);
        return app;
    }

    int run(const Console& console) override
    {
        auto report = reported(console);
        console.end_progress();
        return tell(
            console, report, json_, [&](const auto& told) { show(console, told); },
            [](const auto& told) { return io::as_json(told); }, done);
    }

private:
    Result<PlantedReport> reported(const Console& console) const
    {
        constexpr double most = 100'000.0, greatest_seed = 0x1p53;
        if (!(count_ >= 1.0 && count_ <= most) || count_ != std::floor(count_))
            return fail({.what = fmt::format("--count is {}", count_), .remedy = "ask for 1 to 100000 recordings"});
        if (!(seed_ >= 0.0 && seed_ <= greatest_seed) || seed_ != std::floor(seed_))
            return fail({.what = fmt::format("--seed is {}", seed_), .remedy = "give a whole number from 0 on"});
        return demo::hold_against_planted_faults({.count = static_cast<int>(count_),
                                                  .seed = static_cast<std::uint64_t>(seed_),
                                                  .jobs = jobs_,
                                                  .progress = console.progress_for("proving"),
                                                  .stop = console.stop});
    }

    static void show(const Console& console, const PlantedReport& report)
    {
        Table table({{"planted", false},
                     {"recordings", true},
                     {"found", true},
                     {"in place", true},
                     {"false alarms", true},
                     {"how bad", false}});
        for (const PlantedKind& kind : report.kinds)
            table.add({kind.code.empty() ? "nothing" : kind.code, fmt::format("{}", kind.planted),
                       kind.code.empty() ? "" : fmt::format("{}", kind.found),
                       kind.has_place ? fmt::format("{}", kind.at_the_place) : "", fmt::format("{}", kind.false_alarms),
                       kind.severity});
        console.print(table.text("  "));
        for (const MissedFault& fault : report.missed)
            console.print(
                fmt::format("  recording {} ({}): {} {}\n", fault.recording, fault.setting, fault.code, fault.what));
        for (const MissedFault& fault : report.false_alarms)
            console.print(fmt::format("  recording {} ({}, {} planted): false alarm {}\n", fault.recording,
                                      fault.setting, fault.code.empty() ? "nothing" : fault.code, fault.what));
        const auto share = [](int part, int of) { return of > 0 ? 100.0 * part / of : 0.0; };
        console.print(fmt::format("{} of {} planted faults found ({:.1f} %); false alarms in {} of {} recordings "
                                  "({:.1f} %)\n",
                                  report.found(), report.planted(), share(report.found(), report.planted()),
                                  report.accused(), report.recordings, share(report.accused(), report.recordings)));
    }

    double count_ = 300.0, seed_ = 1.0;
    std::string json_;
    int jobs_ = 0;
};

} // namespace

std::unique_ptr<Command> make_prove_command() { return std::make_unique<ProveCommand>(); }

} // namespace becalm::cli
