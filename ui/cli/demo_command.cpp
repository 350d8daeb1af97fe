#include <fmt/format.h>

#include "ui/cli/command.h"
#include "ui/demo/demo_survey.h"

namespace becalm::cli {
namespace {

class DemoCommand final : public Command {
public:
    Options declare(Options parent) override
    {
        Options app = parent.command("demo", "Write surveys of our own invention to try the program on");
        app.text("FOLDER", folder_, "new or empty", Need::required);
        return app;
    }

    int run(const Console& console) override
    {
        const auto summary = demo::write_demo_survey(folder_);
        if (!summary) {
            console.complain(summary.error());
            return exit_code_of(summary.error());
        }
        console.print(
            fmt::format("{} invented recordings, {:.0f} minutes in all, nothing of it measured. Judge them with\n",
                        summary->recordings, summary->recorded_s / 60.0));
        for (const std::string& survey : summary->surveys) console.print(fmt::format("  becalm assess {}\n", survey));
        return done;
    }

private:
    std::string folder_;
};

} // namespace

std::unique_ptr<Command> make_demo_command() { return std::make_unique<DemoCommand>(); }

} // namespace becalm::cli
