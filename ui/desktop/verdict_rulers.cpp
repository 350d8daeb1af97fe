#include "ui/desktop/verdict_rulers.h"

#include <QStringList>

#include "ui/desktop/verdict_facts.h"
#include "ui/desktop/words.h"

namespace becalm::desktop {

figures::RulerInput ruler_input(const Verdict& verdict, const QString& words)
{
    figures::RulerInput ruler{.words = plain(words), .shown = numbers_for(verdict.unit)};
    for (const Band& band : verdict.bands) ruler.bands.push_back({band.name, band.from, band.limit, band.exceeds});
    ruler.value = verdict.value;
    ruler.expanded_uncertainty = verdict.expanded_uncertainty;
    if (verdict.judged && verdict.band_index) ruler.band = static_cast<std::size_t>(*verdict.band_index);
    ruler.why_not = verdict.why_not;
    return ruler;
}

QString ruler_words(const Survey& survey, const Verdict& verdict, bool with_space)
{
    QStringList where;
    if (!verdict.person.empty()) where << shown(verdict.person);
    if (with_space && !verdict.space.empty()) where << space_words(survey, verdict.space);
    if (!verdict.position.empty()) where << shown(verdict.position);
    if (!verdict.condition.empty()) where << condition_words(survey, verdict.condition);
    QString words = where.join(QStringLiteral(", ")) + QStringLiteral(": ") + criterion_words(verdict);
    if (!verdict.axis.empty()) words += QStringLiteral(" (%1)").arg(shown(verdict.axis));
    return words;
}

} // namespace becalm::desktop
