// Daily exposures of persons.
#include <algorithm>

#include <fmt/format.h>

#include "ui/figures/text.h"
#include "ui/report/chapters.h"
#include "ui/report/exposure_words.h"

namespace becalm::report {
namespace {

std::string unit_of(const std::string& unit)
{
    return unit == "m/s2" ? "m/s²" : unit == "m/s^1.75" ? "m/s¹·⁷⁵" : unit == "1" ? "" : unit;
}

std::string in_words(const Chapter& chapter, const ExposureTask& task)
{
    ExposureTask named = task;
    named.space = chapter.space_words(task.space);
    named.position = chapter.position_words(task.position);
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
    // In m/s², as the law tells its numbers.
    std::string told(const std::optional<double>& value, int digits = 3) const
    {
        return value ? chapter_.digits(figures::number_text(*value, digits)) : "";
    }

    std::string told(const std::optional<double>& value, const std::optional<double>& expanded_uncertainty) const
    {
        return told(value) + (expanded_uncertainty ? "\u00a0±\u00a0" + told(*expanded_uncertainty, 2) : std::string());
    }

    std::string bound(double value) const { return chapter_.digits(fmt::format("{:g}", value)); }

    std::string told(const ExposureSum& sum) const { return told(sum.value, sum.expanded_uncertainty); }

    std::string which(const ExposureTable& table, const ExposureSums& sums) const
    {
        return table.kind == ExposureKind::hand_arm ? words_.vector_sum.text()
                                                    : filled(words_.highest, axes_text(sums));
    }

    void add_values(const ExposureTable& values) const
    {
        Table table{.caption = kind_text(values, chapter_.language),
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
            const std::string hours_told = chapter_.digits(fmt::format("{:.4g}", hours));
            for (const ExposureAxis& axis : axes) {
                const bool is_task = axis.rms.has_value();
                put({name, hours_told, fmt::format("{} ({})", axis.axis, axis.weighting), told(axis.rms),
                     chapter_.digits(fmt::format("{:g}", axis.factor)),
                     is_task ? told(std::optional(axis.factor * *axis.rms)) : "", told(axis.a8),
                     is_task && axis.points ? told(std::optional(*axis.points / hours)) : "", told(axis.points)},
                    {told(axis.vdv), axis.judged_s ? fmt::format("{:.0f}", *axis.judged_s) : "", told(axis.daily_vdv)});
            }
            if (!axes.empty())
                put({name, hours_told, which(values, sums), "", "", told(magnitude), told(sums.a8),
                     magnitude.value && sums.points.value ? told(std::optional(*sums.points.value / hours)) : "",
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
        std::vector<Note> notes;
        for (const std::string& note : values.notes) notes.push_back({.text = note});
        List seats;
        for (const ExposureTask& task : values.tasks) {
            const std::string name = figures::isolated(in_words(chapter_, task));
            if (!task.why_not.empty()) notes.push_back({.of = name + ": ", .text = task.why_not});
            for (const SeatValue& seat : task.seat) {
                std::string of = fmt::format("{}: {} ({}): ", name, words_.seat_value.text(), seat.criterion);
                if (seat.percent)
                    seats.items.push_back(of + told(seat.percent));
                else
                    notes.push_back({.of = std::move(of), .text = seat.why_not});
            }
        }
        if (!seats.items.empty()) chapter_.document.blocks.emplace_back(std::move(seats));
        add_said(chapter_, notes);
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
                times += fmt::format("{}{} ({}): {}", times.empty() ? "" : "; ", bound(time.bound), time.band,
                                     time_text(time.hours, chapter_.language));
            table.rows.push_back(
                {{day.asked_for ? verdict.criterion : filled(words_.taken, verdict.criterion),
                  told(verdict.value, verdict.expanded_uncertainty), unit_of(verdict.unit),
                  chapter_.axis_words(verdict.axis), band_text(verdict, words_),
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
            return chapter_.say(filled(words_.no_bound_in_a_day, kind_text(values, chapter_.language)));
        Table table{.caption = fmt::format("{}: {}", words_.task_times.text(), kind_text(values, chapter_.language)),
                    .columns = {{std::string(words_.task)},
                                {std::string(words_.criterion)},
                                {std::string(words_.bound)},
                                {std::string(words_.alone), CellForm::number},
                                {std::string(words_.beside), CellForm::number},
                                {std::string(words_.left), CellForm::number}}};
        for (const ExposureTask& task : values.tasks)
            for (const TaskTime& time : times_to_tell(task))
                table.rows.push_back({{in_words(chapter_, task), time.criterion,
                                       fmt::format("{} {}: {}", bound(time.bound), unit_of(time.unit), time.band),
                                       alone_text(time, chapter_.language), beside_text(time, chapter_.language),
                                       left_text(time, task.hours, chapter_.language)}});
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
    std::vector<Note> notes;
    for (const std::string& note : report.notes) notes.push_back({.text = note});
    add_said(chapter, notes);
    for (const ExposureDay& day : report.days) DayTables(chapter, day).add();
    for (const ExposureDuty& duty : report.duties) {
        chapter.say(filled(words.duty, fmt::format("{}", fmt::join(duty.days, "; "))), true);
        chapter.document.blocks.emplace_back(List{.items = {duty.words}, .language = "en"});
    }
    chapter.say(std::string(words.exposure_caution), true);
}

} // namespace becalm::report
