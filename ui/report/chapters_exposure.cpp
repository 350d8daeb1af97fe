// Daily exposures of persons.
#include <algorithm>

#include <fmt/format.h>

#include "ui/figures/text.h"
#include "ui/report/chapters.h"
#include "ui/report/exposure_words.h"

namespace becalm::report {
namespace {

// In m/s², as the law tells its numbers.
std::string told(const std::optional<double>& value) { return value ? figures::number_text(*value, 3) : ""; }

std::string unit_of(const std::string& unit)
{
    return unit == "m/s2" ? "m/s²" : unit == "m/s^1.75" ? "m/s¹·⁷⁵" : unit == "1" ? "" : unit;
}

std::string told(const ExposureSum& sum)
{
    std::string text = told(sum.value);
    if (sum.expanded_uncertainty) text += " ± " + figures::number_text(*sum.expanded_uncertainty, 2);
    return text;
}

std::string in_words(const Chapter& chapter, const ExposureTask& task)
{
    ExposureTask named = task;
    named.space = chapter.space_words(task.space);
    named.condition = chapter.condition_words(task.condition);
    return task_text(named);
}

class DayTables {
public:
    DayTables(const Chapter& chapter, const ExposureDay& day) : chapter_(chapter), words_(chapter.words), day_(day) {}

    void add() const
    {
        std::string who = figures::isolated(day_.person);
        if (!day_.day.empty()) who += ", " + figures::isolated(day_.day);
        chapter_.subheading(who);
        for (const ExposureTable& table : day_.tables) add_values(table);
        add_verdicts();
        for (const ExposureTable& table : day_.tables) add_times(table);
    }

private:
    static std::string which(const ExposureTable& table, const ExposureSums& sums, const Wording& words)
    {
        return table.kind == ExposureKind::hand_arm ? std::string(words.vector_sum)
                                                    : filled(words.highest, axes_text(sums));
    }

    void add_values(const ExposureTable& values) const
    {
        Table table{.caption = kind_text(values, words_),
                    .columns = {{std::string(words_.task)},
                                {std::string(words_.hours), CellForm::number},
                                {std::string(words_.axis)},
                                {"a_w, m/s²", CellForm::number},
                                {"k", CellForm::number},
                                {"k a_w, m/s²", CellForm::number},
                                {"A(8), m/s²", CellForm::number},
                                {std::string(words_.points_an_hour), CellForm::number},
                                {std::string(words_.points), CellForm::number}}};
        const bool with_doses = values.kind == ExposureKind::whole_body;
        if (with_doses) {
            table.columns.push_back({"VDV, m/s¹·⁷⁵", CellForm::number});
            table.columns.push_back({std::string(words_.duration), CellForm::number});
            table.columns.push_back({"VDV(8), m/s¹·⁷⁵", CellForm::number});
        }
        const auto add_rows = [&](const std::string& name, double hours, const std::vector<ExposureAxis>& axes,
                                  const ExposureSums& sums, const ExposureSum& magnitude) {
            const auto put = [&](std::vector<std::string> cells, const std::vector<std::string>& doses) {
                if (with_doses) cells.insert(cells.end(), doses.begin(), doses.end());
                table.rows.push_back({std::move(cells)});
            };
            const std::string hours_told = fmt::format("{:.4g}", hours);
            for (const ExposureAxis& axis : axes) {
                const bool is_task = axis.rms.has_value();
                put({name, hours_told, fmt::format("{} ({})", axis.axis, axis.weighting), told(axis.rms),
                     fmt::format("{:g}", axis.factor), is_task ? told(axis.factor * *axis.rms) : "", told(axis.a8),
                     is_task && axis.points ? told(*axis.points / hours) : "", told(axis.points)},
                    {told(axis.vdv), axis.judged_s ? fmt::format("{:.0f}", *axis.judged_s) : "", told(axis.daily_vdv)});
            }
            if (!axes.empty())
                put({name, hours_told, which(values, sums, words_), "", "", told(magnitude), told(sums.a8),
                     magnitude.value && sums.points.value ? told(*sums.points.value / hours) : "",
                     told(sums.points.value)},
                    {"", "", told(sums.daily_vdv.value)});
        };
        double hours = 0.0;
        for (const ExposureTask& task : values.tasks) {
            hours += task.hours;
            add_rows(in_words(chapter_, task), task.hours, task.axes, task.sums, task.magnitude);
        }
        if (values.tasks.size() > 1) add_rows(std::string(words_.whole_day), hours, values.axes, values.sums, {});
        chapter_.add(std::move(table));
        List said{.items = values.notes};
        for (const ExposureTask& task : values.tasks) {
            const std::string name = figures::isolated(in_words(chapter_, task));
            if (!task.why_not.empty()) said.items.push_back(name + ": " + task.why_not);
            for (const SeatValue& seat : task.seat)
                said.items.push_back(fmt::format("{}: {} ({}): {}", name, words_.seat_value, seat.criterion,
                                                 seat.percent ? told(seat.percent) : seat.why_not));
        }
        if (!said.items.empty()) chapter_.document.blocks.emplace_back(std::move(said));
    }

    void add_verdicts() const
    {
        Table table{.caption = std::string(words_.verdicts),
                    .columns = {{std::string(words_.criterion)},
                                {std::string(words_.value), CellForm::number},
                                {std::string(words_.unit)},
                                {std::string(words_.axis)},
                                {std::string(words_.band)},
                                {std::string(words_.exceeded)},
                                {std::string(words_.same_work)}}};
        for (const DayVerdict& day : day_.verdicts) {
            const Verdict& verdict = day.verdict;
            std::string times;
            for (const DayTime& time : day.times)
                times += fmt::format("{}{:g} ({}): {}", times.empty() ? "" : "; ", time.bound, time.band,
                                     time_text(time.hours, words_));
            std::string value = told(verdict.value);
            if (verdict.expanded_uncertainty) value += " ± " + figures::number_text(*verdict.expanded_uncertainty, 2);
            table.rows.push_back(
                {{day.asked_for ? verdict.criterion : filled(words_.taken, verdict.criterion), value,
                  unit_of(verdict.unit), verdict.axis, band_text(verdict, words_),
                  verdict.judged && verdict.band_index ? std::string(verdict.exceeded ? words_.yes : words_.no) : "",
                  times}});
        }
        chapter_.add(std::move(table));
    }

    void add_times(const ExposureTable& values) const
    {
        const bool any =
            std::ranges::any_of(values.tasks, [](const ExposureTask& task) { return !task.times.empty(); });
        if (any && !reaches_a_bound(values))
            return chapter_.say(filled(words_.no_bound_in_a_day, kind_text(values, words_)));
        Table table{.caption = fmt::format("{}: {}", words_.task_times, kind_text(values, words_)),
                    .columns = {{std::string(words_.task)},
                                {std::string(words_.criterion)},
                                {std::string(words_.bound)},
                                {std::string(words_.alone), CellForm::number},
                                {std::string(words_.beside), CellForm::number},
                                {std::string(words_.left), CellForm::number}}};
        for (const ExposureTask& task : values.tasks)
            for (const TaskTime& time : times_to_tell(task))
                table.rows.push_back(
                    {{in_words(chapter_, task), time.criterion,
                      fmt::format("{:g} {}: {}", time.bound, unit_of(time.unit), time.band), alone_text(time, words_),
                      beside_text(time, words_), left_text(time, task.hours, words_)}});
        chapter_.add(std::move(table));
    }

    const Chapter& chapter_;
    const Wording& words_;
    const ExposureDay& day_;
};

} // namespace

void add_exposure(const Chapter& chapter)
{
    if (!chapter.input.exposure) return;
    const ExposureReport& report = *chapter.input.exposure;
    const Wording& words = chapter.words;
    chapter.heading(words.exposure, "exposure");
    chapter.say(std::string(words.exposure_words));
    for (const std::string& note : report.notes) chapter.say(note);
    for (const ExposureDay& day : report.days) DayTables(chapter, day).add();
    for (const ExposureDuty& duty : report.duties)
        chapter.say(filled(words.duty, fmt::format("{}", fmt::join(duty.days, "; ")), duty.words), true);
    chapter.say(std::string(words.exposure_caution), true);
}

} // namespace becalm::report
