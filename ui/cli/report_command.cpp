#include <algorithm>
#include <filesystem>

#include <fmt/format.h>

#include "evaluators/explain.h"
#include "src/io/atomic_file.h"
#include "src/io/criterion_file.h"
#include "src/io/survey_file.h"
#include "ui/cli/command.h"
#include "ui/cli/dates.h"
#include "ui/report/html.h"
#include "ui/report/pdf.h"
#include "ui/report/report_contents.h"

namespace becalm::cli {
namespace {

// Where the survey lies as seen from the report.
std::string relative_to(const std::string& report, const std::string& survey)
{
    std::error_code none;
    const auto folder = std::filesystem::weakly_canonical(std::filesystem::absolute(report, none), none).parent_path();
    const auto file = std::filesystem::weakly_canonical(std::filesystem::absolute(survey, none), none);
    const auto relative = file.lexically_relative(folder);
    return (relative.empty() ? file : relative).generic_string();
}

class ReportCommand final : public Command {
public:
    Options declare(Options parent) override
    {
        Options app = parent.command("report", "Write the judgement as a document");
        app.text("SURVEY", survey_, "survey.toml", Need::required);
        app.output("--html", html_, "write one HTML file that stands by itself");
        app.output("--pdf", pdf_, "write it as PDF");
        app.texts("--criterion", criteria_,
                  "judge by this one instead of the survey's own [[judge]] (repeat for more)");
        app.text("--letterhead", letterhead_, "folder with logo.svg or logo.png, header.txt, closing.txt");
        app.text("--date", date_, "YYYY-MM-DD (default: that of the latest recording, where one states its start)");
        app.jobs(jobs_);
        return app;
    }

    int run(const Console& console) override
    {
        if (const auto problem = problem_of_the_call()) return give_up(console, {*problem});
        report::Letterhead letterhead;
        if (!letterhead_.empty()) {
            auto read = report::read_letterhead(letterhead_);
            if (!read) return give_up(console, {read.error()});
            letterhead = *std::move(read);
            console.complain(letterhead.cautions);
        }
        const auto survey = io::read_survey(survey_);
        if (!survey) return give_up(console, survey.error());
        auto criteria = io::load_all_criteria(survey_);
        if (!criteria) return give_up(console, criteria.error());
        console.complain(criteria->library.problems);
        const auto sources = io::read_sources((std::filesystem::path(io::data_folder()) / "sources.toml").string());
        if (!sources) return give_up(console, sources.error());
        auto explained = evaluators::explain(*survey, criteria->library,
                                             {.assess = {.criteria = criteria_,
                                                         .jobs = jobs_,
                                                         .progress = console.progress_for("reading"),
                                                         .stop = console.stop}});
        console.end_progress();
        if (!explained) return give_up(console, explained.error());
        explained->assessment = report::portable(std::move(explained->assessment), criteria->library);

        const auto inputs =
            report::inputs_of(*survey, explained->assessment, criteria->library,
                              relative_to(html_.empty() ? pdf_ : html_, survey_), criteria_, BECALM_VERSION);
        const report::ReportInput input{.survey = *survey,
                                        .report = *explained,
                                        .library = criteria->library,
                                        .bibliography = *sources,
                                        .inputs = inputs,
                                        .date = date_,
                                        .version = BECALM_VERSION,
                                        .letterhead = std::move(letterhead)};
        if (const auto written = write(console, input); !written) return give_up(console, {written.error()});
        const auto& verdicts = explained->assessment.verdicts;
        const bool unreadable = std::ranges::find(explained->assessment.findings, "unreadable", &Finding::code) !=
                                explained->assessment.findings.end();
        if (unreadable) console.print("a recording could not be read; the report says which and why\n");
        if (!std::ranges::any_of(verdicts, &Verdict::judged))
            console.print("nothing could be judged; the report says why\n");
        return unreadable || !std::ranges::any_of(verdicts, &Verdict::judged) ? unusable : done;
    }

private:
    Result<void> write(const Console& console, const report::ReportInput& input) const
    {
        const report::Document document = report::report_contents(input);
        const std::string html = report::open_html(document);
        std::string pdf;
        if (!pdf_.empty()) {
            auto made = report::pdf_of(
                document, report::filled(report::english().seal_of_html, report::seal_of(html, input.inputs)),
                report::date_of(input));
            if (!made) return tl::unexpected(made.error());
            pdf = *std::move(made);
        }
        if (!html_.empty()) {
            const auto written = io::write_file_atomically(html_, report::sealed(html, input.inputs));
            if (!written) return written;
            console.print(fmt::format("{} written\n", html_));
        }
        if (!pdf_.empty()) {
            const auto written = io::write_file_atomically(pdf_, pdf);
            if (!written) return written;
            console.print(fmt::format("{} written\n", pdf_));
        }
        return {};
    }

    std::optional<Problem> problem_of_the_call() const
    {
        if ((html_.empty() && pdf_.empty()) || html_ == "-" || pdf_ == "-")
            return Problem{.kind = ProblemKind::usage,
                           .what = "report needs the name of a file to write",
                           .remedy = "give --html FILE or --pdf FILE; the report names its survey as seen from there"};
        if (html_ == pdf_)
            return Problem{.kind = ProblemKind::usage,
                           .what = fmt::format("--html and --pdf both go to {}", html_),
                           .remedy = "give one of them another file"};
        if (!date_.empty() && !is_date(date_))
            return Problem{.kind = ProblemKind::usage,
                           .what = fmt::format("--date {}: this is no date", date_),
                           .remedy = "write it as 2026-03-14"};
        std::error_code none;
        for (const std::string& file : {html_, pdf_})
            if (std::filesystem::equivalent(file, survey_, none))
                return Problem{.kind = ProblemKind::usage,
                               .what = "the report would replace the survey",
                               .remedy = "give it another file"};
        return {};
    }

    std::string survey_, html_, pdf_, letterhead_, date_;
    std::vector<std::string> criteria_;
    int jobs_ = 0;
};

} // namespace

std::unique_ptr<Command> make_report_command() { return std::make_unique<ReportCommand>(); }

} // namespace becalm::cli
