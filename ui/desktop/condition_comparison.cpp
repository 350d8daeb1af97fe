#include "ui/desktop/condition_comparison.h"

#include <QCoreApplication>
#include <algorithm>

#include "evaluators/compare.h"
#include "ui/desktop/copied_table.h"
#include "ui/desktop/verdict_facts.h"
#include "ui/desktop/words.h"

namespace becalm::desktop {
namespace {

struct Words { // what a translator sees as their place
    Q_DECLARE_TR_FUNCTIONS(becalm::desktop::Comparison)
};

QString signed_words(const std::optional<double>& value, int significant)
{
    if (!value) return QString();
    const QString words = number_words(*value, significant);
    return *value > 0.0 ? QStringLiteral("+") + words : words;
}

} // namespace

std::vector<ConditionChange> changes_between(const Assessment& assessment, const std::string& first,
                                             const std::string& second, const std::string& space)
{
    std::vector<const Verdict*> of_first, of_second;
    for (const Verdict& verdict : assessment.verdicts) {
        if (verdict.space.empty() || (!space.empty() && verdict.space != space)) continue;
        if (verdict.condition == first) of_first.push_back(&verdict);
        if (verdict.condition == second) of_second.push_back(&verdict);
    }
    std::vector<ConditionChange> changes;
    for (const auto& [a, b] : evaluators::partners_of(of_first, of_second, evaluators::PartnersBy::place)) {
        ConditionChange change{.first = a, .second = b};
        if (a != nullptr && b != nullptr) {
            const auto [percent, db, bands] = evaluators::change_between(*a, *b);
            change.percent = percent;
            change.db = db;
            change.bands = bands;
        }
        changes.push_back(change);
    }
    std::ranges::stable_sort(changes, [](const ConditionChange& a, const ConditionChange& b) {
        if (a.db.has_value() != b.db.has_value()) return a.db.has_value();
        return a.db && *a.db > *b.db;
    });
    return changes;
}

std::vector<std::string> conditions_of(const Assessment& assessment, const std::string& space)
{
    std::vector<std::string> all;
    for (const Verdict& verdict : assessment.verdicts)
        if (!verdict.space.empty() && !verdict.condition.empty() && (space.empty() || verdict.space == space) &&
            std::ranges::find(all, verdict.condition) == all.end())
            all.push_back(verdict.condition);
    return all;
}

QString band_change_words(const ConditionChange& change)
{
    const auto words = [](const Verdict* verdict) {
        return verdict == nullptr ? Words::tr("not measured") : band_words(*verdict);
    };
    if (change.bands == 0) return Words::tr("%1 in both").arg(words(change.first));
    QString text = words(change.first) + QStringLiteral(" → ") + words(change.second);
    if (change.bands && *change.bands > 0) text += Words::tr(" (worse by %1)").arg(*change.bands);
    if (change.bands && *change.bands < 0) text += Words::tr(" (better by %1)").arg(-*change.bands);
    return text;
}

QString table_of(const Survey& survey, const std::vector<ConditionChange>& changes, const std::string& first,
                 const std::string& second)
{
    CopiedTable table({Words::tr("space"), Words::tr("position"), Words::tr("criterion"),
                       condition_words(survey, first), condition_words(survey, second), Words::tr("unit"),
                       Words::tr("change, %"), Words::tr("change, dB"), Words::tr("bands")});
    for (const ConditionChange& change : changes) {
        const Verdict& any = change.any();
        const figures::Numbers numbers = numbers_for(any.unit);
        const auto value = [&](const Verdict* verdict) {
            return verdict != nullptr && verdict->value ? number_words(*verdict->value * numbers.shown_per_unit)
                                                        : QString();
        };
        table.add({space_words(survey, any.space), shown(any.position), criterion_words(any), value(change.first),
                   value(change.second), shown(numbers.unit), signed_words(change.percent, 3),
                   signed_words(change.db, 3), band_change_words(change)});
    }
    return table.text();
}

} // namespace becalm::desktop
