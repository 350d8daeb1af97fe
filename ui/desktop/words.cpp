#include "ui/desktop/words.h"

#include <QCoreApplication>
#include <QLocale>
#include <cmath>

#include "ui/figures/explanation_figures.h"
#include "ui/figures/text.h"

namespace becalm::desktop {

std::optional<double> number_in(const QString& text)
{
    QString plain_text = text.trimmed();
    plain_text.replace(QLocale().decimalPoint(), QStringLiteral("."));
    plain_text.replace(QChar(u','), QChar(u'.'));
    plain_text.replace(QChar(0x2212), QChar(u'-'));
    bool ok = false;
    const double value = QLocale::c().toDouble(plain_text, &ok);
    if (!ok || !std::isfinite(value)) return std::nullopt;
    return value;
}

QString number_words(double value, int significant)
{
    QString text = shown(figures::number_text(value, significant));
    return text.replace(QChar(u'.'), QLocale().decimalPoint());
}

QString unit_words(std::string_view unit) { return shown(figures::pretty_unit(unit)); }

figures::Numbers numbers_for(std::string_view unit) { return figures::shown_in(unit); }

QString value_words(const Verdict& verdict)
{
    if (!verdict.value) return shown(verdict.why_not);
    const figures::Numbers numbers = numbers_for(verdict.unit);
    QString text = number_words(*verdict.value * numbers.shown_per_unit, 3);
    if (verdict.expanded_uncertainty)
        text += QStringLiteral(" ± ") + number_words(*verdict.expanded_uncertainty * numbers.shown_per_unit, 2);
    return numbers.unit.empty() ? text : text + QChar(0x00A0) + shown(numbers.unit);
}

QString band_words(const Verdict& verdict)
{
    if (!verdict.judged) return QCoreApplication::translate("becalm::desktop::Words", "cannot be judged");
    if (!verdict.band_index) return QCoreApplication::translate("becalm::desktop::Words", "no limits set");
    QString text = shown(verdict.bands[static_cast<std::size_t>(*verdict.band_index)].name);
    for (const std::string& also : verdict.also_bands)
        text += QCoreApplication::translate("becalm::desktop::Words", " (or %1)").arg(shown(also));
    return text;
}

QString problem_words(const Problem& problem) { return shown(to_text(problem)); }

} // namespace becalm::desktop
