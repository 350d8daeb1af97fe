#include <algorithm>
#include <filesystem>

#include <fmt/format.h>

#include "evaluators/assess.h"
#include "src/io/atomic_file.h"
#include "src/io/survey_file.h"
#include "ui/cli/command.h"
#include "ui/report/inputs.h"

namespace becalm::cli {
namespace {

class VerifyCommand final : public Command {
public:
    Options declare(Options parent) override
    {
        Options app = parent.command("verify", "Does a report still agree with its survey and recordings?");
        app.text("REPORT", report_, "the HTML or PDF file that `becalm report` wrote", Need::required);
        app.text("--survey", survey_, "survey.toml (default: where the report says, as seen from it)");
        app.jobs(jobs_);
        return app;
    }

    // The survey is judged anew, from the recordings: what is kept beside it is not asked.
    int run(const Console& console) override
    {
        const auto file = io::read_text_file(report_);
        if (!file) return give_up(console, {file.error()});
        const auto told = report::read_back(*file, report_);
        if (!told) return give_up(console, {told.error()});
        const std::string survey_file = std::ranges::find(told->inputs, "survey", &report::Input::kind)->name;
        const std::filesystem::path stated(survey_file);
        const std::string path =
            !survey_.empty() ? survey_
            : stated.is_absolute()
                ? survey_file
                : (std::filesystem::path(report_).parent_path() / stated).lexically_normal().string();
        const auto survey = io::read_survey(path);
        if (!survey) return give_up(console, survey.error());
        auto criteria = io::load_all_criteria(path);
        if (!criteria) return give_up(console, criteria.error());
        console.complain(criteria->library.problems);
        std::vector<std::string> asked;
        for (const report::Input& input : told->inputs)
            if (input.kind == "asked") asked.push_back(input.name);
        auto assessment = evaluators::assess(
            *survey, criteria->library,
            {.criteria = asked, .jobs = jobs_, .progress = console.progress_for("judging"), .stop = console.stop});
        console.end_progress();
        if (!assessment) return give_up(console, assessment.error());
        const auto now = report::inputs_of(*survey, report::portable(*std::move(assessment), criteria->library),
                                           criteria->library, survey_file, asked, BECALM_VERSION);
        report::Comparison comparison = report::compared(told->inputs, now);
        if (told->text == report::SealedText::changed)
            comparison.differences.insert(comparison.differences.begin(),
                                          "the text of the report is no longer the one that was sealed");
        for (const std::string& remark : comparison.remarks) console.print(fmt::format("remark: {}\n", remark));
        for (const std::string& difference : comparison.differences) console.print(difference + "\n");
        if (!comparison.differences.empty()) {
            console.print(fmt::format("{} differs from {}\n", report_, path));
            return unusable;
        }
        const auto values = std::ranges::count(now, "verdict", &report::Input::kind);
        const auto recordings = std::ranges::count(now, "recording", &report::Input::kind);
        const std::string checked = fmt::format("{}, {}", counted(recordings, "recording"), counted(values, "verdict"));
        if (told->text == report::SealedText::unknown) {
            console.print(fmt::format("what is attached to {} agrees with {}: {}; another program has written the PDF "
                                      "anew, so what its pages say was not checked: verify the file that `becalm "
                                      "report` wrote\n",
                                      report_, path, checked));
            return unusable;
        }
        console.print(fmt::format("{} agrees with {}: {}, text and seal\n", report_, path, checked));
        return done;
    }

private:
    std::string report_, survey_;
    int jobs_ = 0;
};

} // namespace

std::unique_ptr<Command> make_verify_command() { return std::make_unique<VerifyCommand>(); }

} // namespace becalm::cli
