#include <algorithm>

#include <fmt/format.h>

#include "evaluators/assess.h"
#include "evaluators/trend.h"
#include "src/io/json_out.h"
#include "src/io/survey_file.h"
#include "ui/cli/cache_option.h"
#include "ui/cli/command.h"
#include "ui/cli/trend_figures.h"

namespace becalm::cli {
namespace {

class TrendCommand final : public Command {
public:
    Options declare(Options parent) override
    {
        Options app = parent.command("trend", "How values follow what the conditions state, such as the speed");
        app.text("SURVEY", survey_, "survey.toml", Need::required);
        app.text("--over", over_, "what the conditions state: speed_kn, shaft_rpm, traffic_per_h, ...", Need::required);
        app.number("--at", at_, "what is to be expected there, with its 95 % interval");
        app.texts("--criterion", criteria_, "by this one instead of the survey's own [[judge]] (repeat for more)");
        app.text("--space", space_, "this space alone");
        app.text("--figures", figures_, "write values, line and interval as SVG into this folder");
        app.output("--json", json_, "write JSON to FILE, or to the output for -");
        app.output("--csv", csv_, "write points and line to FILE, or to the output for -");
        cache_.declare(app);
        app.jobs(jobs_);
        return app;
    }

    int run(const Console& console) override
    {
        if (!json_.empty() && json_ == csv_)
            return give_up(console, {{.kind = ProblemKind::usage,
                                      .what = fmt::format("--json and --csv both go to {}", json_),
                                      .remedy = "give one of them another file"}});
        const auto survey = io::read_survey(survey_);
        if (!survey) return give_up(console, survey.error());
        if (!space_.empty() && survey->space(space_) == nullptr)
            return give_up(console, {{.kind = ProblemKind::usage,
                                      .what = fmt::format("the survey has no space \"{}\"", space_),
                                      .remedy = "leave --space out to see all"}});
        auto criteria = io::load_all_criteria(survey_);
        if (!criteria) return give_up(console, criteria.error());
        console.complain(criteria->library.problems);
        const auto assessment = evaluators::assess(*survey, criteria->library,
                                                   {.criteria = criteria_,
                                                    .jobs = jobs_,
                                                    .cache_folder = cache_.folder_for(survey_),
                                                    .cache_trouble = CacheOption::told_on(console),
                                                    .progress = console.progress_for("judging"),
                                                    .stop = console.stop});
        console.end_progress();
        if (!assessment) return give_up(console, assessment.error());
        auto report = evaluators::trends_over(*survey, *assessment, over_, at_);
        if (report && !space_.empty())
            std::erase_if(report->trends, [&](const Trend& trend) { return trend.space != space_; });
        const bool any = report && std::ranges::any_of(report->trends,
                                                       [](const Trend& trend) { return trend.exponent.has_value(); });
        if (!report) return give_up(console, {report.error()});
        const bool shown = json_ != "-" && csv_ != "-";
        if (!figures_.empty()) {
            const auto written = write_figures(*report, figures_);
            if (!written) return give_up(console, {written.error()});
            if (shown)
                console.print(fmt::format("{} written to {}\n", counted(std::ssize(*written), "figure"), figures_));
        }
        if (shown) show(console, *report);
        const auto delivered = deliver(
            console, {{json_, [&] { return io::as_json(*report); }}, {csv_, [&] { return io::as_csv(*report); }}});
        if (!delivered) return give_up(console, {delivered.error()});
        return any ? done : unusable;
    }

private:
    static void show(const Console& console, const TrendReport& report)
    {
        std::vector<std::pair<std::string, bool>> columns{{"space", false}, {"position", false},  {"criterion", false},
                                                          {"axis", false},  {"points", true},     {"exponent", true},
                                                          {"95 %", false},  {"scatter, dB", true}};
        if (report.at) {
            columns.emplace_back(fmt::format("at {:g}", *report.at), true);
            columns.emplace_back("95 %", false);
            columns.emplace_back("unit", false);
        }
        Table table(std::move(columns));
        bool any = false;
        for (const Trend& trend : report.trends) {
            if (!trend.exponent) continue;
            any = true;
            std::vector<std::string> row{trend.space,
                                         trend.position,
                                         trend.criterion,
                                         trend.axis,
                                         fmt::format("{}", trend.points.size()),
                                         fmt::format("{:.2f}", trend.exponent->value),
                                         fmt::format("{:.2f} to {:.2f}", trend.exponent->low, trend.exponent->high),
                                         fmt::format("{:.2f}", *trend.scatter_db)};
            if (trend.expected) {
                row.push_back(number(trend.expected->value));
                row.push_back(number(trend.expected->low) + " to " + number(trend.expected->high));
                row.push_back(trend.unit);
            }
            table.add(std::move(row));
        }
        console.print(fmt::format("{}: value = factor * ({})^exponent\n", report.title, report.over));
        if (any) console.print(table.text("  "));
        for (const Trend& trend : report.trends) {
            const std::string where = fmt::format("  {} {}, {}", trend.space, trend.position, trend.criterion);
            if (!trend.why_not.empty()) console.print(fmt::format("{}: no line, because {}\n", where, trend.why_not));
            for (const std::string& note : trend.notes) console.print(fmt::format("{}: {}\n", where, note));
        }
        if (report.trends.empty()) console.print("  nothing was judged in a condition that states it\n");
        console.print(
            "A line describes what was measured; a resonance between two conditions is not in it, and what is "
            "expected is no verdict.\n");
    }

    std::string survey_, over_, space_, figures_, json_, csv_;
    std::vector<std::string> criteria_;
    std::optional<double> at_;
    CacheOption cache_;
    int jobs_ = 0;
};

} // namespace

std::unique_ptr<Command> make_trend_command() { return std::make_unique<TrendCommand>(); }

} // namespace becalm::cli
