#include <algorithm>

#include <fmt/format.h>

#include "evaluators/assess.h"
#include "src/io/survey_file.h"
#include "ui/cli/cache_option.h"
#include "ui/cli/command.h"

namespace becalm::cli {
namespace {

class CheckCommand final : public Command {
public:
    Options declare(Options parent) override
    {
        Options app = parent.command("check", "Is every recording of a survey fit to be judged?");
        app.text("SURVEY", survey_, "survey.toml", Need::required);
        cache_.declare(app);
        app.jobs(jobs_);
        return app;
    }

    int run(const Console& console) override
    {
        const auto survey = io::read_survey(survey_);
        if (!survey) {
            console.complain(survey.error());
            return unusable;
        }
        const auto criteria = io::load_all_criteria(survey_);
        if (!criteria) {
            console.complain(criteria.error());
            return unusable;
        }
        console.complain(criteria->library.problems);
        const auto assessment = evaluators::assess(*survey, criteria->library,
                                                   {.jobs = jobs_,
                                                    .cache_folder = cache_.folder_for(survey_),
                                                    .cache_trouble = CacheOption::told_on(console),
                                                    .progress = console.progress_for("checking"),
                                                    .stop = console.stop});
        console.end_progress();
        if (!assessment) {
            console.complain(assessment.error());
            return unusable;
        }
        // The worst first; refusals of verdicts that no finding of a recording explains (too short, an unlisted use)
        // belong here too.
        for (const Severity severity : {Severity::refusal, Severity::caution, Severity::note})
            for (const Finding& finding : assessment->findings)
                if (finding.severity == severity) console.print(finding);
        for (const Verdict& verdict : assessment->verdicts)
            if (!verdict.judged)
                console.print(fmt::format("  {} {}{}{}: {}: {}\n", verdict.space, verdict.position,
                                          verdict.condition.empty() ? "" : " ", verdict.condition, verdict.criterion,
                                          verdict.why_not));
        const auto refusals = std::ranges::count(assessment->findings, Severity::refusal, &Finding::severity);
        const auto unjudged = std::ranges::count(assessment->verdicts, false, &Verdict::judged);
        console.print(fmt::format("{}, {}, {} of them a refusal; {} of {} cannot be reached\n",
                                  counted(std::ssize(survey->recordings), "recording"),
                                  counted(std::ssize(assessment->findings), "finding"), refusals, unjudged,
                                  counted(std::ssize(assessment->verdicts), "verdict")));
        return refusals > 0 ? unusable : done;
    }

private:
    std::string survey_;
    CacheOption cache_;
    int jobs_ = 0;
};

} // namespace

std::unique_ptr<Command> make_check_command() { return std::make_unique<CheckCommand>(); }

} // namespace becalm::cli
