#include "ui/desktop/day_results.h"

#include <QCoreApplication>
#include <algorithm>
#include <map>
#include <set>

#include "evaluators/exposure.h"
#include "evaluators/quantity.h"
#include "ui/desktop/words.h"

namespace becalm::desktop {
namespace {

QString tr(const char* text) { return QCoreApplication::translate("becalm::desktop::Days", text); }

constexpr double day_h = 24.0; // not a limit: hours of a day

bool is_daily(const Criterion& criterion)
{
    const auto* quantity = evaluators::quantity_named(criterion.quantity);
    return quantity != nullptr && quantity->daily;
}

bool looks_at(const Criterion& criterion, Position position)
{
    return criterion.positions.empty() || std::ranges::find(criterion.positions, position) != criterion.positions.end();
}

bool fits(const Criterion& criterion, Setting setting)
{
    return criterion.settings.empty() || std::ranges::find(criterion.settings, setting) != criterion.settings.end();
}

QString times_words(const Survey& survey, const Criterion& criterion, const Verdict& verdict)
{
    const double exposed_h = evaluators::exposed_hours(survey, criterion, verdict);
    const bool of_week = evaluators::refers_to_a_week(criterion);
    QStringList lines;
    for (const auto& time : evaluators::times_to_bounds(verdict, exposed_h)) {
        const QString words =
            !of_week && time.hours > day_h ? tr("%1: not within a day of this work") : tr("%1: after %2 of this work");
        QString line = words.arg(shown(time.band));
        if (line.contains(QStringLiteral("%2"))) line = line.arg(hours_words(time.hours));
        lines << line;
    }
    return lines.join(QChar(u'\n'));
}

// In the unit of the criterion: the law's numbers are told in m/s2.
QString day_value_words(const Verdict& verdict)
{
    if (!verdict.value) return shown(verdict.why_not);
    QString text = number_words(*verdict.value, 3);
    if (verdict.expanded_uncertainty) text += QStringLiteral(" ± ") + number_words(*verdict.expanded_uncertainty, 2);
    const QString unit = unit_words(verdict.unit);
    return unit == QStringLiteral("1") ? text : text + QChar(0x00A0) + unit;
}

} // namespace

QString hours_words(double hours)
{
    const auto minutes = static_cast<long long>(hours * 60.0 + 1e-6);
    if (minutes < 60) return tr("%1 min").arg(minutes);
    if (minutes % 60 == 0) return tr("%1 h").arg(minutes / 60);
    return tr("%1 h %2 min").arg(minutes / 60).arg(minutes % 60);
}

std::vector<DayResult> day_results(const Judgement& judgement, const io::CriteriaLibrary& library)
{
    std::vector<DayResult> results;
    for (const Verdict& verdict : judgement.assessment().verdicts) {
        if (verdict.person.empty()) continue;
        DayResult result{.person = shown(verdict.person),
                         .day = shown(verdict.condition),
                         .criterion = shown(verdict.title),
                         .value = day_value_words(verdict),
                         .verdict = band_words(verdict),
                         .severity = verdict.band_index.value_or(-1)};
        QStringList notes;
        for (const std::string& note : verdict.notes) notes << shown(note);
        result.notes = notes.join(QChar(u'\n'));
        if (const auto criterion = library.criteria.find(verdict.criterion); criterion != library.criteria.end()) {
            result.times = times_words(*judgement.survey, criterion->second, verdict);
            if (verdict.exceeded) result.duty = shown(criterion->second.note);
        }
        results.push_back(std::move(result));
    }
    return results;
}

QStringList duties(const std::vector<DayResult>& results)
{
    std::vector<const DayResult*> worst; // of each day
    for (const DayResult& result : results) {
        if (result.duty.isEmpty()) continue;
        const auto same_day = std::ranges::find_if(
            worst, [&](const DayResult* other) { return other->person == result.person && other->day == result.day; });
        if (same_day == worst.end())
            worst.push_back(&result);
        else if (result.severity > (*same_day)->severity)
            *same_day = &result;
    }
    std::vector<std::pair<QString, QStringList>> all;
    for (const DayResult* result : worst) {
        auto duty = std::ranges::find(all, result->duty, &std::pair<QString, QStringList>::first);
        if (duty == all.end()) duty = all.insert(duty, {result->duty, {}});
        const QString who =
            result->day.isEmpty() ? result->person : result->person + QStringLiteral(", ") + result->day;
        duty->second << who + QStringLiteral(": ") + result->verdict;
    }
    QStringList paragraphs;
    for (const auto& [duty, who] : all) paragraphs << who.join(QStringLiteral("; ")) + QStringLiteral(". ") + duty;
    return paragraphs;
}

std::vector<UnjudgedTask> unjudged_tasks(const Survey& survey, const io::CriteriaLibrary& library)
{
    std::vector<const Criterion*> daily;
    for (const auto& [id, criterion] : library.criteria)
        if (is_daily(criterion)) daily.push_back(&criterion);
    std::set<UnjudgedTask> tasks;
    const auto is_judged = [&](const UnjudgedTask& task) {
        return std::ranges::any_of(survey.judges, [&](const Judge& judge) {
            if (!judge.uses.empty() && std::ranges::find(judge.uses, task.use) == judge.uses.end()) return false;
            return std::ranges::any_of(daily, [&](const Criterion* criterion) {
                return std::ranges::find(judge.criteria, criterion->id) != judge.criteria.end() &&
                       looks_at(*criterion, task.position);
            });
        });
    };
    for (const Exposure& exposure : survey.exposures)
        for (const Task& task : exposure.tasks) {
            const Space* space = survey.space(task.space);
            if (space == nullptr) continue;
            for (const Recording& recording : survey.recordings) {
                const bool is_of_task = recording.space == task.space &&
                                        (!task.position || *task.position == recording.position) &&
                                        (task.condition.empty() || task.condition == recording.condition);
                const bool can_be_judged = std::ranges::any_of(daily, [&](const Criterion* criterion) {
                    return !criterion->positions.empty() && looks_at(*criterion, recording.position);
                });
                const UnjudgedTask of{space->use, recording.position};
                if (is_of_task && can_be_judged && !is_judged(of)) tasks.insert(of);
            }
        }
    return {tasks.begin(), tasks.end()};
}

std::vector<DailyCriteria> daily_criteria_for(const Survey& survey, const io::CriteriaLibrary& library,
                                              const std::vector<UnjudgedTask>& tasks)
{
    // The guides to the Directive give its points.
    const auto publication = [](const Criterion& criterion) {
        return criterion.source.starts_with("eu-guide-") ? std::string("directive-2002-44-ec") : criterion.source;
    };
    std::map<std::string, DailyCriteria> by_publication;
    for (const auto& [id, criterion] : library.criteria) {
        const bool is_wanted =
            std::ranges::any_of(tasks, [&](const UnjudgedTask& task) { return looks_at(criterion, task.position); });
        // Those that stay switched off until somebody has confirmed their numbers are for the editor.
        if (!is_daily(criterion) || !is_wanted || !fits(criterion, survey.setting) || criterion.check_first) continue;
        DailyCriteria& of = by_publication[publication(criterion)];
        if (of.words.isEmpty() || criterion.source == publication(criterion)) of.words = shown(criterion.edition);
        of.criteria.push_back(id);
    }
    std::vector<DailyCriteria> all;
    for (auto& [source, criteria] : by_publication)
        if (source == "directive-2002-44-ec")
            all.insert(all.begin(), std::move(criteria));
        else
            all.push_back(std::move(criteria));
    return all;
}

} // namespace becalm::desktop
