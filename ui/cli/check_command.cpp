#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "evaluators/assess.h"
#include "evaluators/instruments.h"
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
        app.flag("--propose", propose_, "print the exclusions that the findings ask for, to paste into the survey");
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
        const auto judged = evaluators::judged(*survey, criteria->library,
                                               {.jobs = jobs_,
                                                .spectra = true, // the mains hum only there
                                                .cache_folder = cache_.folder_for(survey_),
                                                .cache_trouble = CacheOption::told_on(console),
                                                .progress = console.progress_for("checking"),
                                                .stop = console.stop});
        console.end_progress();
        if (!judged) {
            console.complain(judged.error());
            return unusable;
        }
        const Assessment* const assessment = &judged->assessment;
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
        show_statements(console, judged->measured);
        const auto refusals = std::ranges::count(assessment->findings, Severity::refusal, &Finding::severity);
        const auto unjudged = std::ranges::count(assessment->verdicts, false, &Verdict::judged);
        console.print(fmt::format("{}, {}, {} of them a refusal; {} of {} cannot be reached\n",
                                  counted(std::ssize(survey->recordings), "recording"),
                                  counted(std::ssize(assessment->findings), "finding"), refusals, unjudged,
                                  counted(std::ssize(assessment->verdicts), "verdict")));
        if (propose_) console.print(proposed_exclusions(*survey, assessment->findings));
        return refusals > 0 ? unusable : done;
    }

private:
    // Of each file once; one file can stand in several tables.
    static void show_statements(const Console& console, const std::vector<evaluators::Measured>& measured)
    {
        std::vector<std::string> seen;
        for (const evaluators::Measured& one : measured) {
            const std::string& file = one.recording->file;
            if (!one.pass || std::ranges::find(seen, file) != seen.end()) continue;
            seen.push_back(file);
            for (const std::string& statement : evaluators::statements_of(one.pass->info))
                console.print(fmt::format("  {}: {}\n", file, statement));
        }
    }

    // Whole seconds, since a judgement leaves out no less; those the survey excludes already come first.
    static std::string proposed_exclusions(const Survey& survey, const std::vector<Finding>& findings)
    {
        std::string out;
        for (const Recording& recording : survey.recordings) {
            std::vector<ExcludedSpan> spans;
            for (const Finding& finding : findings) {
                if (finding.recording != recording.file || finding.severity == Severity::note) continue;
                if (std::ranges::find(recording.channels, finding.channel.value_or(0), &ChannelMapping::channel) ==
                    recording.channels.end())
                    continue;
                for (const TimeSpan& span : finding.spans)
                    spans.push_back({std::max(0.0, std::floor(span.from_s)), std::ceil(span.to_s),
                                     fmt::format("{}, channel {}", finding.code, *finding.channel)});
            }
            if (spans.empty()) continue;
            std::ranges::stable_sort(spans, {}, &ExcludedSpan::from_s);
            std::vector<ExcludedSpan> joined;
            for (ExcludedSpan& span : spans) {
                if (joined.empty() || span.from_s > joined.back().to_s) {
                    joined.push_back(std::move(span));
                    continue;
                }
                joined.back().to_s = std::max(joined.back().to_s, span.to_s);
                if (joined.back().reason.find(span.reason) == std::string::npos)
                    joined.back().reason += "; " + span.reason;
            }
            Recording proposed = recording;
            proposed.excluded.insert(proposed.excluded.end(), joined.begin(), joined.end());
            out +=
                fmt::format("\n# {} (space {}), instead of its exclude; nothing is left out before you paste it:\n{}",
                            recording.file, recording.space, io::exclusions_as_toml(proposed));
        }
        return out.empty() ? "\n# no finding asks for an exclusion\n" : out;
    }

    std::string survey_;
    CacheOption cache_;
    bool propose_ = false;
    int jobs_ = 0;
};

} // namespace

std::unique_ptr<Command> make_check_command() { return std::make_unique<CheckCommand>(); }

} // namespace becalm::cli
