#include <algorithm>

#include <fmt/format.h>

#include "evaluators/exposure_table.h"
#include "src/io/json_out.h"
#include "src/io/survey_file.h"
#include "ui/cli/cache_option.h"
#include "ui/cli/command.h"
#include "ui/report/exposure_words.h"

namespace becalm::cli {
namespace {

std::string of_band(const Verdict& verdict)
{
    if (!verdict.judged) return "not judged";
    if (!verdict.band_index) return "no limits set";
    const std::string& name = verdict.bands[static_cast<std::size_t>(*verdict.band_index)].name;
    const bool says_so = name.find("exceeded") != std::string::npos;
    return name + (verdict.exceeded && !says_so ? ", exceeded" : "");
}

std::string with_uncertainty(const ExposureSum& sum)
{
    std::string text = number(sum.value);
    if (sum.expanded_uncertainty) text += fmt::format(" ± {:.2g}", *sum.expanded_uncertainty);
    return text;
}

// What was said of several tasks, once.
class Said {
public:
    void add(const std::string& what, const std::string& where)
    {
        auto known = std::ranges::find(all_, what, &decltype(all_)::value_type::first);
        if (known == all_.end()) known = all_.insert(all_.end(), {what, {}});
        if (std::ranges::find(known->second, where) == known->second.end()) known->second.push_back(where);
    }
    std::string text() const
    {
        std::string text;
        for (const auto& [what, where] : all_) text += fmt::format("  note on {}: {}\n", fmt::join(where, "; "), what);
        return text;
    }

private:
    std::vector<std::pair<std::string, std::vector<std::string>>> all_;
};

class ExposureCommand final : public Command {
public:
    Options declare(Options parent) override
    {
        Options app = parent.command("exposure", "Daily exposures of persons at work, task by task");
        app.text("SURVEY", survey_, "survey.toml, with [[exposure]] tables", Need::required);
        app.text("--person", person_, "this person's days alone");
        app.texts("--criterion", criteria_,
                  "judge days by this one instead of the survey's own [[judge]] (repeat for more)");
        app.output("--json", json_, "write JSON to FILE, or to the output for -");
        app.output("--csv", csv_, "write one row an axis of a task to FILE, or to the output for -");
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
        auto criteria = io::load_all_criteria(survey_);
        if (!criteria) return give_up(console, criteria.error());
        console.complain(criteria->library.problems);
        const auto report = evaluators::exposure_report(*survey, criteria->library,
                                                        {.assess = {.criteria = criteria_,
                                                                    .jobs = jobs_,
                                                                    .cache_folder = cache_.folder_for(survey_),
                                                                    .cache_trouble = CacheOption::told_on(console),
                                                                    .progress = console.progress_for("reading"),
                                                                    .stop = console.stop},
                                                         .person = person_});
        console.end_progress();
        if (!report) return give_up(console, report.error());
        bool unreadable = false;
        for (const Finding& finding : report->findings) {
            if (finding.code != "unreadable") continue;
            unreadable = true;
            console.complain({.file = survey_, .what = finding.message});
        }
        if (json_ != "-" && csv_ != "-") show(console, *report);
        const auto delivered = deliver(
            console, {{json_, [&] { return io::as_json(*report); }}, {csv_, [&] { return io::as_csv(*report); }}});
        if (!delivered) return give_up(console, {delivered.error()});
        const bool any_judged =
            std::ranges::any_of(report->days,
                                [](const ExposureDay& day) {
                                    return std::ranges::any_of(
                                        day.verdicts, [](const DayVerdict& one) { return one.verdict.judged; });
                                }) ||
            std::ranges::any_of(report->weeks, [](const DayVerdict& one) { return one.verdict.judged; });
        return unreadable || !any_judged ? unusable : done;
    }

private:
    static void show(const Console& console, const ExposureReport& report)
    {
        console.print(fmt::format("{} ({}): daily exposure, {}\n", report.title, report.setting,
                                  counted(std::ssize(report.days), "day")));
        for (const std::string& note : report.notes) console.print(fmt::format("note: {}\n", note));
        for (const ExposureDay& day : report.days) {
            const std::string who = day.day.empty() ? day.person : fmt::format("{}, {}", day.person, day.day);
            console.print(fmt::format("\n{}: {}\n", who, report::hours_text(day.hours)));
            for (const ExposureTable& table : day.tables) show(console, table);
            show(console, day.verdicts);
            for (const ExposureTable& table : day.tables) show_times(console, table);
            show_notes(console, day);
        }
        if (!report.weeks.empty()) {
            console.print("\nWeeks\n");
            show(console, report.weeks);
        }
        if (!report.duties.empty()) console.print("\nDuty to act\n");
        for (const ExposureDuty& duty : report.duties)
            console.print(fmt::format("  {}. {}\n", fmt::join(duty.days, "; "), duty.words));
        bool heading = false;
        for (const Finding& finding : report.findings) {
            if (finding.severity == Severity::note) continue;
            if (!heading) console.print("\nFindings\n");
            heading = true;
            console.print(finding);
        }
        console.print(fmt::format("\n{}\n", report::wording_of(report::Language::english).exposure_caution.text()));
    }

    static void show(const Console& console, const ExposureTable& table)
    {
        const bool hand = table.kind == ExposureKind::hand_arm;
        console.print(fmt::format("  {} ({})\n", report::kind_text(table), fmt::join(table.criteria, ", ")));
        std::vector<std::pair<std::string, bool>> columns{
            {"task", false}, {"hours", true},       {"axis", false},      {"weighting", false}, {"a_w, m/s2", true},
            {"k", true},     {"k a_w, m/s2", true}, {"A(8), m/s2", true}, {"points/h", true},   {"points", true}};
        if (!hand) {
            columns.emplace_back("VDV, m/s^1.75", true);
            columns.emplace_back("judged, s", true);
            columns.emplace_back("VDV(8), m/s^1.75", true);
        }
        Table text(std::move(columns));
        const auto add = [&](std::vector<std::string> cells, std::vector<std::string> dose) {
            if (!hand) cells.insert(cells.end(), dose.begin(), dose.end());
            text.add(std::move(cells));
        };
        const auto add_rows = [&](const std::string& name, double hours, const std::vector<ExposureAxis>& axes,
                                  const ExposureSums& sums, const ExposureSum& magnitude) {
            bool first = true;
            for (const ExposureAxis& axis : axes) {
                const bool is_task = axis.rms.has_value();
                add({first ? name : "", first ? fmt::format("{:.4g}", hours) : "", axis.axis, axis.weighting,
                     is_task ? number(axis.rms) : "", fmt::format("{:g}", axis.factor),
                     is_task ? number(axis.factor * *axis.rms) : "", number(axis.a8),
                     is_task && axis.points ? number(*axis.points / hours) : "", number(axis.points)},
                    {is_task ? number(axis.vdv) : "", axis.judged_s ? fmt::format("{:.0f}", *axis.judged_s) : "",
                     number(axis.daily_vdv)});
                first = false;
            }
            if (axes.empty()) return;
            const bool is_task = magnitude.value.has_value();
            const std::string which = hand ? "vector sum" : "highest: " + report::axes_text(sums);
            add({"", "", which, "", "", "", is_task ? with_uncertainty(magnitude) : "", with_uncertainty(sums.a8),
                 is_task && sums.points.value ? number(*sums.points.value / hours) : "", number(sums.points.value)},
                {"", "", number(sums.daily_vdv.value)});
        };
        for (const ExposureTask& task : table.tasks)
            if (task.why_not.empty())
                add_rows(report::task_text(task), task.hours, task.axes, task.sums, task.magnitude);
        double hours = 0.0;
        for (const ExposureTask& task : table.tasks) hours += task.hours;
        if (table.tasks.size() > 1) add_rows("whole day", hours, table.axes, table.sums, {});
        console.print(text.text("    "));
        for (const ExposureTask& task : table.tasks)
            if (!task.why_not.empty())
                console.print(fmt::format("    {}: {}\n", report::task_text(task), task.why_not));
        for (const ExposureTask& task : table.tasks)
            for (const SeatValue& seat : task.seat)
                console.print(fmt::format("    {}: SEAT value ({}) {}\n", report::task_text(task), seat.criterion,
                                          seat.percent ? fmt::format("{:.4g} %", *seat.percent) : seat.why_not));
    }

    static void show(const Console& console, const std::vector<DayVerdict>& verdicts)
    {
        Table table({{"criterion", false},
                     {"value", true},
                     {"axis", false},
                     {"verdict", false},
                     {"this work, in these shares, reaches a bound after", false}});
        std::vector<std::pair<std::string, std::string>> refusals; // why, and the criteria
        for (const DayVerdict& day : verdicts) {
            const Verdict& verdict = day.verdict;
            const std::string criterion = verdict.criterion + (day.asked_for ? "" : " (taken)");
            if (!verdict.judged) {
                auto known = std::ranges::find(refusals, verdict.why_not, &decltype(refusals)::value_type::first);
                if (known == refusals.end()) known = refusals.insert(refusals.end(), {verdict.why_not, {}});
                known->second += (known->second.empty() ? "" : ", ") + criterion;
                continue;
            }
            std::string value = number(verdict.value);
            if (verdict.expanded_uncertainty) value += fmt::format(" ± {:.2g}", *verdict.expanded_uncertainty);
            if (verdict.unit != "1") value += " " + verdict.unit;
            std::vector<std::string> times;
            for (const DayTime& time : day.times)
                times.push_back(fmt::format("{:g} ({}): {}", time.bound, time.band, report::time_text(time.hours)));
            table.add({criterion, value, verdict.axis, of_band(verdict), fmt::format("{}", fmt::join(times, "; "))});
        }
        if (std::ranges::any_of(verdicts, [](const DayVerdict& day) { return day.verdict.judged; }))
            console.print(table.text("  "));
        for (const auto& [why, of] : refusals) console.print(fmt::format("  {}: {}\n", of, why));
    }

    static void show_times(const Console& console, const ExposureTable& table)
    {
        Table times({{"task", false},
                     {"criterion", false},
                     {"bound", false},
                     {"alone, after", false},
                     {"beside the other tasks, after", false},
                     {"stated", true},
                     {"left", true}});
        bool any = false;
        for (const ExposureTask& task : table.tasks) {
            bool first = true;
            for (const TaskTime& time : report::times_to_tell(task)) {
                any = true;
                times.add({first ? report::task_text(task) : "", time.criterion,
                           fmt::format("{:g}{}: {}", time.bound, time.unit == "1" ? "" : " " + time.unit, time.band),
                           report::alone_text(time), report::beside_text(time), report::hours_text(task.hours),
                           report::left_text(time, task.hours)});
                first = false;
            }
        }
        const std::string kind = report::kind_text(table);
        if (any && !report::reaches_a_bound(table))
            return console.print(fmt::format(
                "  {}\n", report::filled(report::wording_of(report::Language::english).no_bound_in_a_day, kind)));
        if (any) console.print(fmt::format("  {}: how long each task may last\n{}", kind, times.text("    ")));
    }

    static void show_notes(const Console& console, const ExposureDay& day)
    {
        Said said;
        for (const ExposureTable& table : day.tables) {
            for (const std::string& note : table.notes) said.add(note, report::kind_text(table));
            for (const ExposureTask& task : table.tasks)
                for (const std::string& note : task.notes) said.add(note, report::task_text(task));
        }
        for (const DayVerdict& one : day.verdicts)
            if (one.verdict.uncertainty)
                for (const std::string& part : one.verdict.uncertainty->not_covered)
                    said.add("not in the uncertainty: " + part, "the day");
        console.print(said.text());
    }

    std::string survey_, person_, json_, csv_;
    std::vector<std::string> criteria_;
    CacheOption cache_;
    int jobs_ = 0;
};

} // namespace

std::unique_ptr<Command> make_exposure_command() { return std::make_unique<ExposureCommand>(); }

} // namespace becalm::cli
