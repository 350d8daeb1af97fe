#include "ui/desktop/condition_comparison.h"

#include <QCoreApplication>
#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

#include "ui/desktop/copied_table.h"
#include "ui/desktop/verdict_facts.h"
#include "ui/desktop/words.h"

namespace becalm::desktop {
namespace {

struct Words { // what a translator sees as their place
    Q_DECLARE_TR_FUNCTIONS(becalm::desktop::Comparison)
};

bool is_level(const Verdict& verdict) { return verdict.unit == "dB"; }

bool same_scale(const Verdict& a, const Verdict& b)
{
    return std::ranges::equal(a.bands, b.bands, [](const Band& x, const Band& y) {
        return x.name == y.name && x.from == y.from && x.limit == y.limit && x.exceeds == y.exceeds;
    });
}

ConditionChange change_of(const Verdict* first, const Verdict* second)
{
    ConditionChange change{.first = first, .second = second};
    if (first == nullptr || second == nullptr) return change;
    if (first->value && second->value && first->unit == second->unit) {
        const double a = *first->value, b = *second->value;
        if (is_level(*first)) {
            change.db = b - a;
        } else if (a > 0.0 && b > 0.0) {
            change.percent = 100.0 * (b - a) / a;
            change.db = 20.0 * std::log10(b / a);
        }
    }
    if (first->judged && second->judged && first->band_index && second->band_index && same_scale(*first, *second))
        change.bands = *second->band_index - *first->band_index;
    return change;
}

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
    using Key = std::tuple<std::string, std::string, std::string>;
    struct Sides {
        std::vector<const Verdict*> first, second;
    };
    std::vector<Key> order;
    std::map<Key, Sides> of;
    for (const Verdict& verdict : assessment.verdicts) {
        if (verdict.space.empty() || (!space.empty() && verdict.space != space)) continue;
        if (verdict.condition != first && verdict.condition != second) continue;
        const Key key{verdict.space, verdict.position, verdict.criterion};
        const auto [found, is_new] = of.try_emplace(key);
        if (is_new) order.push_back(key);
        if (verdict.condition == first) found->second.first.push_back(&verdict);
        if (verdict.condition == second) found->second.second.push_back(&verdict);
    }
    std::vector<ConditionChange> changes;
    for (const Key& key : order) {
        Sides& sides = of[key];
        // The greatest axis may be another one in the other condition; one verdict each is a pair all the same.
        const bool by_axis = sides.first.size() > 1 || sides.second.size() > 1;
        for (const Verdict* a : sides.first) {
            const auto partner = std::ranges::find_if(
                sides.second, [&](const Verdict* b) { return b != nullptr && (!by_axis || a->axis == b->axis); });
            const Verdict* b = nullptr;
            if (partner != sides.second.end()) b = std::exchange(*partner, nullptr);
            changes.push_back(change_of(a, b));
        }
        for (const Verdict* b : sides.second)
            if (b != nullptr) changes.push_back(change_of(nullptr, b));
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
