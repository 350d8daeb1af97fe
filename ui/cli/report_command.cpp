#include <fmt/format.h>

#include "ui/cli/command.h"
#include "ui/report/make_report.h"

namespace becalm::cli {
namespace {

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
        app.text("--letterhead", letterhead_,
                 "folder with logo.svg or logo.png, header.txt, closing.txt (header.de.txt: of a German report)");
        app.text("--language", language_code_, "what the report is written in: en (default), de or fr");
        app.text("--date", date_, "YYYY-MM-DD (default: that of the latest recording, where one states its start)");
        app.jobs(jobs_);
        return app;
    }

    int run(const Console& console) override
    {
        const report::ReportRequest request{.survey = survey_,
                                            .html = html_,
                                            .pdf = pdf_,
                                            .criteria = criteria_,
                                            .letterhead = letterhead_,
                                            .language = language_code_,
                                            .date = date_,
                                            .jobs = jobs_,
                                            .progress = console.progress_for("reading"),
                                            .stop = console.stop};
        const auto made = report::made_report(request);
        console.end_progress();
        if (!made) return give_up(console, made.error());
        console.complain(made->cautions);
        console.complain(made->unreadable_recordings);
        const report::Written written = report::write_report(request, *made);
        for (const std::string& file : written.files) console.print(fmt::format("{} written\n", file));
        if (!written.problems.empty()) return give_up(console, written.problems);
        if (made->unreadable) console.print("a recording could not be read; the report says which and why\n");
        if (made->nothing_judged) console.print("nothing could be judged; the report says why\n");
        return made->unreadable || made->nothing_judged ? unusable : done;
    }

private:
    std::string survey_, html_, pdf_, letterhead_, date_, language_code_ = "en";
    std::vector<std::string> criteria_;
    int jobs_ = 0;
};

} // namespace

std::unique_ptr<Command> make_report_command() { return std::make_unique<ReportCommand>(); }

} // namespace becalm::cli
