#include "ui/desktop/day_results.h"

#include <QCoreApplication>

#include "evaluators/exposure.h"
#include "ui/desktop/words.h"

namespace becalm::desktop {
namespace {

QString tr(const char* text) { return QCoreApplication::translate("becalm::desktop::Days", text); }

constexpr double day_h = 24.0; // not a limit: hours of a day

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
                         .verdict = band_words(verdict)};
        QStringList notes;
        for (const std::string& note : verdict.notes) notes << shown(note);
        result.notes = notes.join(QChar(u'\n'));
        if (const auto criterion = library.criteria.find(verdict.criterion); criterion != library.criteria.end())
            result.times = times_words(*judgement.survey, criterion->second, verdict);
        results.push_back(std::move(result));
    }
    return results;
}

QStringList duties(const Judgement& judgement, const io::CriteriaLibrary& library)
{
    QStringList paragraphs;
    for (const evaluators::Duty& duty : evaluators::duties(judgement.assessment().verdicts, library)) {
        QStringList who;
        for (const Verdict* verdict : duty.days) {
            QString day = shown(verdict->person);
            if (!verdict->condition.empty()) day += QStringLiteral(", ") + shown(verdict->condition);
            who << day + QStringLiteral(": ") + band_words(*verdict);
        }
        paragraphs << who.join(QStringLiteral("; ")) + QStringLiteral(". ") + shown(duty.words);
    }
    return paragraphs;
}

} // namespace becalm::desktop
