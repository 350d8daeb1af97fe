#include "ui/desktop/entry_model.h"

#include <algorithm>
#include <map>
#include <set>

#include "evaluators/new_survey.h"
#include "src/io/toml_text.h"
#include "ui/desktop/words.h"

namespace becalm::desktop {

EntryModel::EntryModel(Session& session, Kind kind, std::vector<TableColumn> columns, QObject* parent)
    : SurveyTable(session, std::move(columns), parent), kind_(std::move(kind))
{
    load();
}

std::vector<Option> EntryModel::options(int, int column) const
{
    return kind_.options ? kind_.options(columns()[static_cast<std::size_t>(column)].key) : std::vector<Option>();
}

int EntryModel::reload()
{
    if (auto entries = io::entries_in(text(), path(), kind_.array)) entries_ = std::move(*entries);
    return static_cast<int>(entries_.size());
}

QString EntryModel::typed_at(int row, int column) const
{
    const TableColumn& of = columns()[static_cast<std::size_t>(column)];
    if (row >= static_cast<int>(entries_.size())) return {};
    const auto& entry = entries_[static_cast<std::size_t>(row)];
    const auto found = entry.find(of.key);
    if (found == entry.end()) return {};
    return of.kind == CellKind::number ? number_as_typed(found->second) : shown(found->second);
}

QString EntryModel::words_at(int row, int column) const
{
    const TableColumn& of = columns()[static_cast<std::size_t>(column)];
    if (of.kind == CellKind::shown && kind_.words) return kind_.words(row, of.key);
    return SurveyTable::words_at(row, column);
}

Result<std::string> EntryModel::new_lines(const std::vector<const CellEdit*>& edits, std::set<std::string>& taken) const
{
    std::map<std::string, std::string> values;
    QString name = kind_.noun;
    for (const CellEdit* edit : edits) {
        const std::string& key = columns()[static_cast<std::size_t>(edit->column)].key;
        auto toml = toml_of(*edit);
        if (!toml) return fail(toml.error());
        if (!*toml) continue;
        values[key] = std::move(**toml);
        if (key == "title" || key == "label") name = edit->typed;
    }
    for (const auto& [key, toml] : kind_.needed) values.try_emplace(key, toml);
    if (!values.contains("id")) values["id"] = io::toml_string(evaluators::id_of(plain(name), taken));
    // In the order of the columns.
    std::string lines;
    for (const TableColumn& column : columns())
        if (const auto value = values.find(column.key); value != values.end())
            lines += column.key + " = " + value->second + "\n";
    return lines;
}

Result<TextChanges> EntryModel::changes_of(const std::vector<CellEdit>& edits) const
{
    TextChanges changes;
    std::map<int, std::vector<const CellEdit*>> further;
    for (const CellEdit& edit : edits) {
        if (edit.row >= rowCount()) {
            further[edit.row].push_back(&edit);
            continue;
        }
        const std::string& key = columns()[static_cast<std::size_t>(edit.column)].key;
        const auto index = static_cast<std::size_t>(edit.row);
        if (edit.typed == typed_at(edit.row, edit.column)) continue;
        if (key == "id") {
            changes.ids.push_back({kind_.array, index, plain(edit.typed.trimmed())});
            continue;
        }
        auto toml = toml_of(edit);
        if (!toml) return fail(toml.error());
        changes.values.push_back({.array = kind_.array, .index = index, .key = key, .value = std::move(*toml)});
    }
    std::set<std::string> taken;
    for (const auto& entry : entries_)
        if (const auto id = entry.find("id"); id != entry.end()) taken.insert(id->second);
    for (const auto& [row, cells] : further) {
        auto lines = new_lines(cells, taken);
        if (!lines) return fail(lines.error());
        if (const auto id = std::ranges::find_if(cells, [&](const CellEdit* cell) { return cell->column == 0; });
            id != cells.end())
            taken.insert(plain((*id)->typed.trimmed()));
        changes.entries.push_back({kind_.array, std::move(*lines)});
    }
    return changes;
}

bool EntryModel::add()
{
    std::set<std::string> taken;
    for (const auto& entry : entries_)
        if (const auto id = entry.find("id"); id != entry.end()) taken.insert(id->second);
    const auto lines = new_lines({}, taken);
    if (!lines) {
        session_.say(problem_words(lines.error()));
        return false;
    }
    return session_.change(tr("new %1").arg(kind_.noun), io::with_entry(text(), path(), kind_.array, *lines));
}

bool EntryModel::remove(const std::vector<int>& rows)
{
    std::set<int, std::greater<>> from_the_end(rows.begin(), rows.end());
    std::string changed = text();
    for (const int row : from_the_end) {
        auto next = io::without_entry(changed, path(), kind_.array, static_cast<std::size_t>(row));
        if (!next) return session_.change({}, std::move(next));
        changed = std::move(*next);
    }
    return session_.change(tr("removal of a %1").arg(kind_.noun), std::move(changed));
}

} // namespace becalm::desktop
