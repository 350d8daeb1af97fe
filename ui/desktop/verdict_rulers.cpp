#include "ui/desktop/verdict_rulers.h"

#include <QStringList>

#include "ui/desktop/verdict_facts.h"
#include "ui/desktop/words.h"
#include "ui/figures/explanation_figures.h"

namespace becalm::desktop {

figures::RulerInput ruler_input(const Verdict& verdict, const QString& words)
{
    return figures::ruler_of(verdict, plain(words));
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
