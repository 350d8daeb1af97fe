#include <algorithm>
#include <map>

#include <fmt/format.h>

#include "evaluators/monitor.h"
#include "src/io/json_out.h"
#include "src/io/survey_file.h"
#include "ui/cli/cache_option.h"
#include "ui/cli/clock_text.h"
#include "ui/cli/command.h"
#include "ui/cli/monitor_figures.h"

namespace becalm::cli {
namespace {

constexpr std::size_t most_shown = 5; // of the worst periods, and of those that cannot be judged

// "2026-05-02"
std::optional<std::chrono::sys_days> date_in(std::string_view text)
{
    if (text.size() != 10 || text[4] != '-' || text[7] != '-') return {};
    const auto year = whole(text.substr(0, 4)), month = whole(text.substr(5, 2)), day = whole(text.substr(8, 2));
    if (!year || !month || !day || *month < 1 || *day < 1) return {};
    const std::chrono::year_month_day date{std::chrono::year(*year), std::chrono::month(static_cast<unsigned>(*month)),
                                           std::chrono::day(static_cast<unsigned>(*day))};
    if (!date.ok()) return {};
    return std::chrono::sys_days(date);
}

// "night=22:00-06:00"
std::optional<evaluators::NamedHours> hours_in(std::string_view text)
{
    const std::size_t equals = text.find('=');
    if (equals == std::string_view::npos || equals == 0) return {};
    const auto hours = clock_span_in(text.substr(equals + 1));
    if (!hours) return {};
    return evaluators::NamedHours{std::string(text.substr(0, equals)), *hours};
}

// "2026-05-02", "2026-05-02 14:00"
std::string when_text(const MonitoredPeriod& period)
{
    return period.hour.empty() ? period.date : period.date + " " + period.hour;
}

std::string percent_text(const std::optional<double>& percent)
{
    if (!percent) return "-";
    return *percent < 10.0 ? fmt::format("{:.2g} %", *percent) : fmt::format("{:.0f} %", *percent);
}

class MonitorCommand final : public Command {
public:
    Options declare(Options parent) override
    {
        Options app =
            parent.command("monitor", "Judge each day, night, week or hour of a long recording or a campaign");
        app.text("SURVEY", survey_, "survey.toml whose recordings have their start", Need::required);
        app.texts("--criterion", criteria_, "by this one instead of the survey's own [[judge]] (repeat for more)");
        app.text("--by", by_,
                 "day: the criterion's hours of each day, or whole days (default); period: criteria without hours over "
                 "those of the others, or of --period; week; hour");
        app.texts("--period", periods_,
                  "with --by period: NAME=HH:MM-HH:MM for criteria without hours (repeat for more)");
        app.text("--from", from_, "the first day, such as 2026-05-02");
        app.text("--to", to_, "the last day");
        app.number("--least-coverage", least_coverage_,
                   "per cent of a period; what was measured for less is not judged");
        app.output("--json", json_, "write JSON to FILE, or to the output for -");
        app.output("--csv", csv_, "write one row a period to FILE, or to the output for -");
        app.text("--figures", figures_, "write the values of each place over time as SVG into this folder");
        app.flag("--fail-on-exceedance", fail_on_exceedance_, "exit with 1 where something is exceeded");
        cache_.declare(app);
        app.jobs(jobs_);
        return app;
    }

    int run(const Console& console) override
    {
        evaluators::MonitorOptions options;
        if (const auto problem = read_options(options)) return give_up(console, {*problem});
        const auto survey = io::read_survey(survey_);
        if (!survey) return give_up(console, survey.error());
        auto criteria = io::load_all_criteria(survey_);
        if (!criteria) return give_up(console, criteria.error());
        console.complain(criteria->library.problems);
        options.assess = {.criteria = criteria_,
                          .jobs = jobs_,
                          .cache_folder = cache_.folder_for(survey_),
                          .cache_trouble = CacheOption::told_on(console),
                          .progress = console.progress_for("judging"),
                          .stop = console.stop};
        const auto report = evaluators::monitor(*survey, criteria->library, options);
        console.end_progress();
        if (!report) return give_up(console, report.error());
        bool incomplete = false;
        for (const Finding& finding : report->findings) {
            if (finding.code != "unreadable" && finding.code != "no-start") continue;
            incomplete = true;
            const auto recording = std::ranges::find(survey->recordings, finding.recording, &Recording::file);
            console.complain({.file = survey_,
                              .line = recording == survey->recordings.end() ? 0 : recording->line,
                              .what = finding.message});
        }
        if (json_ != "-" && csv_ != "-") show(console, *report);
        const auto delivered = deliver(
            console, {{json_, [&] { return io::as_json(*report); }}, {csv_, [&] { return io::as_csv(*report); }}});
        if (!delivered) return give_up(console, {delivered.error()});
        if (!figures_.empty()) {
            const auto written = write_figures(*report, figures_);
            if (!written) return give_up(console, {written.error()});
            if (json_ != "-" && csv_ != "-")
                console.print(fmt::format("{} written to {}\n", counted(std::ssize(*written), "figure"), figures_));
        }
        const auto any = [&](auto of) {
            return std::ranges::any_of(report->series, [&](const MonitorSeries& one) { return of(one.summary) > 0; });
        };
        if (incomplete || !any([](const MonitorSummary& summary) { return summary.judged; })) return unusable;
        return fail_on_exceedance_ && any([](const MonitorSummary& summary) { return summary.exceeded; }) ? exceeded
                                                                                                          : done;
    }

private:
    std::optional<Problem> read_options(evaluators::MonitorOptions& options) const
    {
        const auto usage = [](std::string what, std::string remedy) {
            return Problem{.kind = ProblemKind::usage, .what = std::move(what), .remedy = std::move(remedy)};
        };
        if (!json_.empty() && json_ == csv_)
            return usage(fmt::format("--json and --csv both go to {}", json_), "give one of them another file");
        const auto by = monitor_by_named(by_);
        if (!by) return usage(fmt::format("--by \"{}\" is not known", by_), "take day, period, week or hour");
        options.by = *by;
        for (const auto& [name, text, target] :
             {std::tuple("--from", &from_, &options.from), std::tuple("--to", &to_, &options.to)}) {
            if (text->empty()) continue;
            *target = date_in(*text);
            if (!*target) return usage(fmt::format("{} \"{}\" is no date", name, *text), "write it as 2026-05-02");
        }
        if (!periods_.empty() && options.by != MonitorBy::period)
            return usage("--period names hours for --by period", "add --by period, or leave it out");
        for (const std::string& text : periods_) {
            const auto hours = hours_in(text);
            if (!hours)
                return usage(fmt::format("--period \"{}\" names no hours", text), "write it as night=22:00-06:00");
            if (std::ranges::find(options.periods, hours->name, &evaluators::NamedHours::name) != options.periods.end())
                return usage(fmt::format("--period names {} twice", hours->name), "give each a name of its own");
            options.periods.push_back(*hours);
        }
        if (least_coverage_ && !(*least_coverage_ > 0.0 && *least_coverage_ <= 100.0))
            return usage(fmt::format("--least-coverage is {:g}", *least_coverage_), "give per cent, above 0 up to 100");
        options.least_coverage_percent = least_coverage_;
        return {};
    }

    // "night", "day", "week": what is counted.
    static std::string noun_of(const MonitorReport& report, const MonitorSeries& series)
    {
        if (report.by == MonitorBy::week || report.by == MonitorBy::hour) return std::string(name_of(report.by));
        return series.period.empty() ? "day" : series.period;
    }

    void show(const Console& console, const MonitorReport& report) const
    {
        std::map<std::string, std::vector<const MonitorSeries*>> by_criterion;
        std::vector<std::string> order;
        for (const MonitorSeries& series : report.series) {
            const std::string key = series.criterion + "\n" + series.period;
            if (by_criterion[key].empty()) order.push_back(key);
            by_criterion[key].push_back(&series);
        }
        console.print(fmt::format("{} ({}), each {} by itself\n\n", report.title, report.setting, name_of(report.by)));
        for (const std::string& key : order) show(console, report, by_criterion[key]);
        show_findings(console, report);
        console.print(
            "By the clock that each recording's start states; a night belongs to the day it begins in. A trend "
            "describes what was\nmeasured and is no verdict. Comfort evaluation is no structural, machinery "
            "or health assessment.\n");
    }

    void show(const Console& console, const MonitorReport& report, const std::vector<const MonitorSeries*>& all) const
    {
        const MonitorSeries& first = *all.front();
        const std::string noun = noun_of(report, first);
        console.print(fmt::format("{}: {} ({}){}\n", first.edition, first.title, first.criterion,
                                  first.hours.empty() ? "" : ", " + first.period + " " + first.hours));
        Table table({{"space", false},
                     {"position", false},
                     {"condition", false},
                     {"axis", false},
                     {noun + "s", true},
                     {"judged", true},
                     {"exceed", true},
                     {"in a row", true},
                     {"gaps", true},
                     {"measured", true},
                     {"median", true},
                     {"90 %", true},
                     {"greatest", true},
                     {"unit", false},
                     {"on", false},
                     {"a week", false}});
        for (const MonitorSeries* series : all) {
            const MonitorSummary& summary = series->summary;
            // Of a decision in two steps the worst need not have the greatest value.
            table.add({series->space, series->position, series->condition, series->axis,
                       fmt::format("{}", summary.periods), fmt::format("{}", summary.judged),
                       fmt::format("{}", summary.exceeded), fmt::format("{}", summary.longest_run),
                       fmt::format("{}", summary.gaps), percent_text(summary.coverage_percent), number(summary.median),
                       number(summary.nine_tenths), number(summary.greatest), series->unit,
                       summary.worst ? when_text(series->periods[*summary.worst]) : "-", trend_text(summary)});
        }
        console.print(table.text("  "));
        show_worst(console, all);
        int half_measured = 0;
        for (const MonitorSeries* series : all) {
            show_refusals(console, *series);
            half_measured += series->summary.half_measured;
        }
        if (half_measured > 0)
            console.print(
                fmt::format("  less than half of the {} was measured for {}; --least-coverage asks for more\n", noun,
                            counted(half_measured, "value")));
        console.print("\n");
    }

    // Where the interval leaves the sign open, there is no trend to speak of.
    static std::string trend_text(const MonitorSummary& summary)
    {
        if (!summary.trend) return "-";
        const MonitorTrend& trend = *summary.trend;
        if (trend.low <= 0.0 && trend.high >= 0.0) return "steady";
        return fmt::format("{:+.2g} ({:+.2g} to {:+.2g})", trend.per_week, trend.low, trend.high);
    }

    static void show_worst(const Console& console, const std::vector<const MonitorSeries*>& all)
    {
        struct Period {
            const MonitorSeries* series;
            const MonitoredPeriod* period;
        };
        std::vector<Period> judged;
        for (const MonitorSeries* series : all)
            for (const MonitoredPeriod& period : series->periods)
                if (period.verdict.judged && period.verdict.value) judged.push_back({series, &period});
        if (judged.empty()) return;
        std::ranges::stable_sort(judged, std::ranges::greater{}, [](const Period& one) {
            const Verdict& verdict = one.period->verdict;
            return std::pair(verdict.band_index.value_or(0), *verdict.value);
        });
        if (judged.size() > most_shown) judged.resize(most_shown);
        Table table({{"worst", false},
                     {"space", false},
                     {"position", false},
                     {"condition", false},
                     {"axis", false},
                     {"value", true},
                     {"unit", false},
                     {"measured", true},
                     {"", false}});
        for (const auto& [series, period] : judged) {
            const Verdict& verdict = period->verdict;
            const std::string band = verdict.band_index
                                         ? verdict.bands[static_cast<std::size_t>(*verdict.band_index)].name
                                         : std::string("no limits set");
            table.add({when_text(*period), series->space, verdict.position, series->condition, verdict.axis,
                       number(verdict.value), series->unit, percent_text(period->coverage_percent),
                       band + (verdict.exceeded ? ", exceeded" : "")});
        }
        console.print("\n" + table.text("  "));
    }

    static void show_refusals(const Console& console, const MonitorSeries& series)
    {
        const std::string where = fmt::format("{} {}{}{}", series.space, series.position,
                                              series.condition.empty() ? "" : " " + series.condition,
                                              series.axis.empty() ? "" : " " + series.axis);
        std::map<std::string, std::vector<std::string>> refusals; // why → when
        std::vector<std::string> order, gaps;
        for (const MonitoredPeriod& period : series.periods) {
            if (period.is_gap) {
                gaps.push_back(when_text(period));
                continue;
            }
            if (period.verdict.judged) continue;
            if (refusals[period.verdict.why_not].empty()) order.push_back(period.verdict.why_not);
            refusals[period.verdict.why_not].push_back(when_text(period));
        }
        if (!gaps.empty()) console.print(fmt::format("  {}: nothing was recorded on {}\n", where, listed(gaps)));
        for (std::size_t i = 0; i < order.size() && i < most_shown; ++i)
            console.print(fmt::format("  {} on {}: {}\n", where, listed(refusals[order[i]]), order[i]));
        if (order.size() > most_shown)
            console.print(fmt::format("  {}: {} more reasons, see --csv\n", where, order.size() - most_shown));
    }

    static std::string listed(const std::vector<std::string>& when)
    {
        std::string text;
        for (std::size_t i = 0; i < when.size() && i < most_shown; ++i) text += (i > 0 ? ", " : "") + when[i];
        return when.size() > most_shown ? fmt::format("{} and {} more", text, when.size() - most_shown) : text;
    }

    // A year has many files: one of each kind is told.
    static void show_findings(const Console& console, const MonitorReport& report)
    {
        std::map<std::string, std::vector<const Finding*>> kinds;
        std::vector<std::string> order;
        for (const Finding& finding : report.findings) {
            if (finding.severity == Severity::note) continue;
            if (kinds[finding.code].empty()) order.push_back(finding.code);
            kinds[finding.code].push_back(&finding);
        }
        if (order.empty()) return;
        console.print("Findings\n");
        for (const std::string& code : order) {
            const auto& findings = kinds[code];
            for (std::size_t i = 0; i < findings.size() && i < most_shown; ++i) console.print(*findings[i]);
            if (findings.size() > most_shown)
                console.print(fmt::format("  and {} more of this kind, see --json\n", findings.size() - most_shown));
        }
        console.print("\n");
    }

    std::string survey_, by_ = "day", from_, to_, json_, csv_, figures_;
    std::vector<std::string> criteria_, periods_;
    std::optional<double> least_coverage_;
    bool fail_on_exceedance_ = false;
    CacheOption cache_;
    int jobs_ = 0;
};

} // namespace

std::unique_ptr<Command> make_monitor_command() { return std::make_unique<MonitorCommand>(); }

} // namespace becalm::cli
