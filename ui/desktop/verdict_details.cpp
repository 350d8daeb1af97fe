#include "ui/desktop/verdict_details.h"

#include <QCoreApplication>
#include <algorithm>

#include "ui/desktop/verdict_facts.h"
#include "ui/desktop/verdict_rulers.h"
#include "ui/desktop/words.h"

namespace becalm::desktop {
namespace {

struct Words { // what a translator sees as their place
    Q_DECLARE_TR_FUNCTIONS(becalm::desktop::VerdictDetails)
};

class Details {
public:
    void head(const QString& words)
    {
        html_ += QStringLiteral("<p style=\"margin:0 0 6px 0\"><b>%1</b></p>").arg(words.toHtmlEscaped());
    }
    void part(const QString& words)
    {
        html_ += QStringLiteral("<p style=\"margin:8px 0 2px 0\"><b>%1</b></p>").arg(words.toHtmlEscaped());
    }
    void line(const QString& name, const QString& words)
    {
        if (words.isEmpty()) return;
        html_ += QStringLiteral("<p style=\"margin:2px 0\"><b>%1:</b> %2</p>")
                     .arg(name.toHtmlEscaped(), words.toHtmlEscaped());
    }
    void points(const QStringList& all)
    {
        html_ += QStringLiteral("<ul style=\"margin-left:-24px\">");
        for (const QString& words : all) html_ += QStringLiteral("<li>%1</li>").arg(words.toHtmlEscaped());
        html_ += QStringLiteral("</ul>");
    }
    void row(const QStringList& cells, const QString& tag = QStringLiteral("td"))
    {
        html_ += QStringLiteral("<tr>");
        for (const QString& cell : cells)
            html_ += QStringLiteral("<%1 align=\"left\" style=\"padding-right:10px\">%2</%1>")
                         .arg(tag, cell.toHtmlEscaped());
        html_ += QStringLiteral("</tr>");
    }
    void begin_table() { html_ += QStringLiteral("<table>"); }
    void end_table() { html_ += QStringLiteral("</table>"); }
    const QString& html() const { return html_; }

private:
    QString html_;
};

QString amount(const std::optional<double>& value, const std::string& unit)
{
    if (!value) return QStringLiteral("–");
    const figures::Numbers numbers = numbers_for(unit);
    const QString words = number_words(*value * numbers.shown_per_unit, 4);
    return numbers.unit.empty() ? words : words + QChar(0x00A0) + shown(numbers.unit);
}

QString seconds(double duration_s) { return number_words(duration_s, 4) + QStringLiteral("\u00A0s"); }

void tell_terms(Details& details, const Survey& survey, const Verdict& verdict)
{
    if (verdict.terms.empty()) return;
    details.part(Words::tr("From the axes to the value"));
    details.begin_table();
    details.row(
        {Words::tr("axis"), Words::tr("weighting"), Words::tr("factor"), Words::tr("value"), Words::tr("judged")},
        QStringLiteral("th"));
    for (const VerdictTerm& term : verdict.terms) {
        const QString axis =
            term.position.empty() ? shown(term.axis) : shown(term.axis) + QStringLiteral(", ") + shown(term.position);
        details.row({axis, shown(term.weighting), number_words(term.factor), amount(term.value, verdict.unit),
                     seconds(term.duration_s)});
    }
    details.end_table();
    QStringList parts;
    for (const VerdictTerm& term : verdict.terms)
        for (const VerdictPart& part : term.parts) {
            QString words = shown(term.axis) + QStringLiteral(": ");
            if (!part.space.empty()) words += space_words(survey, part.space) + QStringLiteral(", ");
            words += condition_words(survey, part.condition) + QStringLiteral(", ") + amount(part.value, verdict.unit);
            if (part.exposed_h) words += Words::tr(", %1 h").arg(number_words(*part.exposed_h));
            if (part.events) words += Words::tr(", %1 events").arg(number_words(*part.events));
            if (part.rest) words += Words::tr(", in hours of rest");
            parts << words;
        }
    if (!parts.isEmpty()) {
        details.part(Words::tr("Parts that add up"));
        details.points(parts);
    }
}

} // namespace

QString details_of(const Survey& survey, const Verdict& verdict)
{
    Details details;
    details.head(ruler_words(survey, verdict));
    if (verdict.value)
        details.line(Words::tr("Value"),
                     value_words(verdict) + (verdict.expanded_uncertainty ? Words::tr(" (k = 2)")
                                                                          : Words::tr(", uncertainty not stated")));
    if (verdict.judged) {
        QString band = band_words(verdict);
        if (verdict.band_index)
            band += Words::tr(" (band %1 of %2)").arg(*verdict.band_index + 1).arg(verdict.bands.size());
        details.line(Words::tr("Band"), band);
        details.line(Words::tr("Limit"), distance_words(verdict));
        if (verdict.uncertainty && verdict.uncertainty->settling)
            details.line(Words::tr("To be sure"), shown(verdict.uncertainty->settling->words));
        if (verdict.exceeded) details.line(Words::tr("Verdict"), Words::tr("exceeded"));
    } else {
        details.line(Words::tr("Verdict"), shown(verdict.why_not));
    }
    if (verdict.decision && verdict.decision->value)
        details.line(Words::tr("Second quantity"), shown(verdict.decision->quantity) + QStringLiteral(" = ") +
                                                       amount(verdict.decision->value, verdict.unit));
    details.line(Words::tr("Publication"), shown(verdict.edition));
    details.line(Words::tr("Clause"), shown(verdict.clause));
    details.line(Words::tr("Its numbers"), verdict.confirmed.empty() ? QString() : shown(verdict.confirmed));
    for (const Judge& judge : survey.judges)
        if (std::ranges::find(judge.criteria, verdict.criterion) != judge.criteria.end())
            details.line(Words::tr("Compared with the publication"), shown(judge.confirmed_by));
    details.line(Words::tr("Quantity"), shown(verdict.quantity));
    details.line(Words::tr("Axis"), shown(verdict.axis));
    details.line(Words::tr("Weighting"), shown(verdict.weighting));
    details.line(Words::tr("Use"), shown(verdict.use));
    if (!verdict.notes.empty()) {
        details.part(Words::tr("Assumptions"));
        QStringList notes;
        for (const std::string& note : verdict.notes) notes << shown(note);
        details.points(notes);
    }
    tell_terms(details, survey, verdict);
    if (!verdict.recordings.empty()) {
        details.part(Words::tr("Recordings"));
        QStringList files;
        for (const std::string& file : verdict.recordings) files << shown(file);
        details.points(files);
    }
    return details.html();
}

} // namespace becalm::desktop
