#include <filesystem>

#include <fmt/format.h>

#include "evaluators/new_survey.h"
#include "src/io/atomic_file.h"
#include "src/io/survey_file.h"
#include "ui/cli/command.h"

namespace becalm::cli {
namespace {

class NewCommand final : public Command {
public:
    Options declare(Options parent) override
    {
        Options app = parent.command("new", "Write a first survey.toml from the recordings in a folder");
        app.text("FOLDER", folder_, "with recordings in it or up to three levels below", Need::required);
        return app;
    }

    int run(const Console& console) override
    {
        const std::string path = (std::filesystem::path(folder_) / "survey.toml").string();
        std::error_code ignored;
        if (std::filesystem::exists(path, ignored)) { // before the recordings are opened, which may take a while
            console.complain(
                {.file = path, .what = "there is a survey already", .remedy = "edit it, or move it away first"});
            return unusable;
        }
        const auto made = evaluators::survey_from_folder(folder_);
        if (!made) {
            console.complain(made.error());
            return unusable;
        }
        console.complain(made->problems);
        if (const auto written = io::write_new_file_atomically(path, io::survey_as_toml(made->survey)); !written) {
            console.complain(written.error());
            return exit_code_of(written.error());
        }
        console.print(fmt::format(
            "{}: {} in {}\nSay where each was taken, which unit it has and what its spaces are used for, then run\n"
            "  becalm check {}\n  becalm assess {}\n",
            path, counted(std::ssize(made->survey.recordings), "recording"),
            counted(std::ssize(made->survey.spaces), "space"), path, path));
        return made->problems.empty() ? done : unusable;
    }

private:
    std::string folder_;
};

} // namespace

std::unique_ptr<Command> make_new_command() { return std::make_unique<NewCommand>(); }

} // namespace becalm::cli
