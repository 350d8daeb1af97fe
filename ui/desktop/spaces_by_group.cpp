#include "ui/desktop/spaces_by_group.h"

#include <QCoreApplication>
#include <QStringList>
#include <algorithm>
#include <unordered_map>

#include "ui/desktop/copied_table.h"
#include "ui/desktop/verdict_facts.h"
#include "ui/desktop/words.h"

namespace becalm::desktop {
namespace {

struct Words { // what a translator sees as their place
    Q_DECLARE_TR_FUNCTIONS(becalm::desktop::SpaceGroups)
};

bool passes(const Verdict& verdict, SpaceFilter::Verdicts wanted)
{
    switch (wanted) {
    case SpaceFilter::Verdicts::exceeded: return verdict.exceeded;
    case SpaceFilter::Verdicts::not_judged: return !verdict.judged;
    case SpaceFilter::Verdicts::near_limit: return is_near_limit(verdict);
    case SpaceFilter::Verdicts::all: break;
    }
    return true;
}

// Where the words of a search are looked for.
QString haystack(const Survey& survey, const Space& space, const Verdict* verdict)
{
    QStringList parts{shown(space.id), shown(space.label), shown(space.use), shown(space.group)};
    if (verdict != nullptr)
        parts << shown(verdict->criterion) << shown(verdict->title) << shown(verdict->edition)
              << shown(verdict->position) << condition_words(survey, verdict->condition) << band_words(*verdict);
    return parts.join(QChar(u'\n'));
}

bool holds(const QString& where, const QStringList& words)
{
    return std::ranges::all_of(words, [&](const QString& word) { return where.contains(word, Qt::CaseInsensitive); });
}

// Rows and groups by their worst; what has none comes last.
bool worse(const Verdict* a, const Verdict* b)
{
    if (a == nullptr || b == nullptr) return a != nullptr && b == nullptr;
    return is_worse(*a, *b);
}

QStringList table_heads()
{
    return {Words::tr("group"),     Words::tr("space"),
            Words::tr("use"),       Words::tr("position"),
            Words::tr("condition"), Words::tr("criterion"),
            Words::tr("value"),     Words::tr("± (k = 2)"),
            Words::tr("unit"),      Words::tr("band"),
            Words::tr("place"),     Words::tr("exceeded"),
            Words::tr("distance"),  Words::tr("why it cannot be judged")};
}

QStringList place_cells(const Survey& survey, const Space& space)
{
    return {shown(space.group), space_words(survey, space.id), shown(space.use)};
}

QStringList cells_of(const Survey& survey, const Verdict& verdict)
{
    const Space* space = survey.space(verdict.space);
    const QStringList place =
        space != nullptr ? place_cells(survey, *space) : QStringList{QString(), shown(verdict.person), QString()};
    const figures::Numbers numbers = numbers_for(verdict.unit);
    const auto number = [&](const std::optional<double>& value) {
        return value ? number_words(*value * numbers.shown_per_unit) : QString();
    };
    return place + QStringList{shown(verdict.position),
                               condition_words(survey, verdict.condition),
                               criterion_words(verdict),
                               number(verdict.value),
                               number(verdict.expanded_uncertainty),
                               shown(numbers.unit),
                               band_words(verdict),
                               place_glyph(band_place(&verdict)),
                               !verdict.judged    ? QString()
                               : verdict.exceeded ? Words::tr("yes")
                                                  : Words::tr("no"),
                               verdict.judged ? distance_words(verdict) : QString(),
                               shown(verdict.why_not)};
}

} // namespace

std::vector<SpaceGroup> spaces_by_group(const Survey& survey, const Assessment& assessment, const SpaceFilter& filter)
{
    std::unordered_map<std::string_view, std::vector<const Verdict*>> of_space;
    for (const Verdict& verdict : assessment.verdicts)
        if (!verdict.space.empty() && passes(verdict, filter.verdicts)) of_space[verdict.space].push_back(&verdict);
    const QStringList words = filter.text.split(QChar(u' '), Qt::SkipEmptyParts);
    std::vector<SpaceGroup> groups;
    std::unordered_map<std::string_view, std::size_t> number_of;
    for (const Space& space : survey.spaces) {
        if (!filter.use.empty() && space.use != filter.use) continue;
        SpaceRow row{&space, of_space[space.id]};
        const bool had_verdicts = !row.verdicts.empty();
        if (!words.isEmpty())
            std::erase_if(row.verdicts,
                          [&](const Verdict* verdict) { return !holds(haystack(survey, space, verdict), words); });
        if (row.verdicts.empty() && (had_verdicts || filter.verdicts != SpaceFilter::Verdicts::all ||
                                     !holds(haystack(survey, space, nullptr), words)))
            continue;
        std::ranges::stable_sort(row.verdicts, worse);
        const auto [found, is_new] = number_of.try_emplace(space.group, groups.size());
        if (is_new) groups.push_back({.name = space.group});
        groups[found->second].rows.push_back(std::move(row));
    }
    for (SpaceGroup& group : groups) std::ranges::stable_sort(group.rows, worse, &SpaceRow::worst);
    std::ranges::stable_sort(groups, worse, &SpaceGroup::worst);
    return groups;
}

std::vector<std::string> uses_of(const Survey& survey)
{
    std::vector<std::string> uses;
    for (const Space& space : survey.spaces)
        if (std::ranges::find(uses, space.use) == uses.end()) uses.push_back(space.use);
    return uses;
}

QString table_of(const Survey& survey, const std::vector<SpaceGroup>& groups)
{
    CopiedTable table(table_heads());
    for (const SpaceGroup& group : groups)
        for (const SpaceRow& row : group.rows) {
            if (row.verdicts.empty()) table.add(place_cells(survey, *row.space));
            for (const Verdict* verdict : row.verdicts) table.add(cells_of(survey, *verdict));
        }
    return table.text();
}

QString table_of(const Survey& survey, const std::vector<const Verdict*>& verdicts)
{
    CopiedTable table(table_heads());
    for (const Verdict* verdict : verdicts) table.add(cells_of(survey, *verdict));
    return table.text();
}

} // namespace becalm::desktop
