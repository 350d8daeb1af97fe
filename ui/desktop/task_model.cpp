#include "ui/desktop/task_model.h"

#include <algorithm>
#include <set>

#include "src/io/toml_text.h"
#include "ui/desktop/words.h"

namespace becalm::desktop {
namespace {

std::vector<TableColumn> task_columns()
{
    const auto tr = [](const char* text) { return TaskModel::tr(text); };
    return {
        {"person", tr("Person"), CellKind::text, tr("Or the job, where several persons do it"), 24},
        {"day", tr("Day"), CellKind::text, tr("Where the days of a week differ"), 16},
        {"space", tr("Where"), CellKind::choice, tr("The space of the task"), 28},
        {"position", tr("Position"), CellKind::choice,
         tr("Where the motion enters; empty: the one that was measured there"), 18},
        {"condition", tr("Condition"), CellKind::choice, tr("What runs meanwhile; empty: all that was measured"), 18},
        {"hours", tr("Hours"), CellKind::number, tr("Of exposure a day"), 8}};
}

} // namespace

TaskModel::TaskModel(Session& session, QObject* parent) : SurveyTable(session, task_columns(), parent) { load(); }

int TaskModel::reload()
{
    if (const auto survey = session_.document().survey()) survey_ = survey;
    if (!session_.document().is_open()) survey_.reset();
    rows_.clear();
    for (std::size_t e = 0; survey_ && e < survey_->exposures.size(); ++e)
        for (std::size_t t = 0; t < survey_->exposures[e].tasks.size(); ++t) rows_.push_back({e, t});
    return static_cast<int>(rows_.size());
}

std::vector<Option> TaskModel::options(int, int column) const
{
    std::vector<Option> all;
    const std::string& key = columns()[static_cast<std::size_t>(column)].key;
    const auto add = [&](const std::string& id, const std::string& words) {
        all.push_back({shown(id), shown(words.empty() ? id : words)});
    };
    if (!survey_) return all;
    if (key == "space") {
        for (const Space& space : survey_->spaces) add(space.id, space.label);
    } else if (key == "position") {
        all.push_back({QString(), tr("as measured")});
        for (const Position position : all_positions) add(std::string(name_of(position)), "");
    } else if (key == "condition") {
        all.push_back({QString(), tr("all measured")});
        for (const Condition& condition : survey_->conditions) add(condition.id, condition.title);
    }
    return all;
}

QString TaskModel::typed_at(int row, int column) const
{
    if (!survey_ || row >= static_cast<int>(rows_.size())) return {};
    const Row& at = rows_[static_cast<std::size_t>(row)];
    const Exposure& exposure = survey_->exposures[at.exposure];
    const Task& task = exposure.tasks[at.task];
    const std::string& key = columns()[static_cast<std::size_t>(column)].key;
    if (key == "person") return shown(exposure.person);
    if (key == "day") return shown(exposure.day);
    if (key == "space") return shown(task.space);
    if (key == "position") return task.position ? shown(name_of(*task.position)) : QString();
    if (key == "condition") return shown(task.condition);
    return number_as_typed(io::toml_number(task.hours));
}

QString TaskModel::words_at(int row, int column) const
{
    const QString words = SurveyTable::words_at(row, column);
    if (!words.isEmpty()) return words;
    for (const Option& option : options(row, column))
        if (option.value.isEmpty()) return option.words; // what an empty cell stands for
    return words;
}

bool TaskModel::is_repeated(int row, int column) const
{
    return column < 2 && row > 0 && group_of(row) == group_of(row - 1);
}

int TaskModel::group_of(int row) const
{
    return row < static_cast<int>(rows_.size()) ? static_cast<int>(rows_[static_cast<std::size_t>(row)].exposure) : 0;
}

Result<TextChanges> TaskModel::changes_of(const std::vector<CellEdit>& edits) const
{
    TextChanges changes;
    for (const CellEdit& edit : edits) {
        if (edit.row >= rowCount())
            return fail(
                problem_of(edit.column, tr("the block has more rows than there are below"), tr("add the tasks first")));
        const Row& row = rows_[static_cast<std::size_t>(edit.row)];
        auto toml = toml_of(edit);
        if (!toml) return fail(toml.error());
        const std::string& key = columns()[static_cast<std::size_t>(edit.column)].key;
        io::ValueEdit value{.array = "exposure", .index = row.exposure, .key = key, .value = std::move(*toml)};
        if (key != "person" && key != "day") {
            value.within = "tasks";
            value.item = row.task;
        }
        changes.values.push_back(std::move(value));
    }
    return changes;
}

bool TaskModel::add(const std::string& person, const std::string& day, const Task& task)
{
    const auto survey = session_.document().survey();
    if (!survey) return false;
    const auto there = std::ranges::find_if(
        survey->exposures, [&](const Exposure& exposure) { return exposure.person == person && exposure.day == day; });
    const auto index = static_cast<std::size_t>(there - survey->exposures.begin());
    return session_.change(
        tr("new task"),
        there != survey->exposures.end()
            ? io::with_task(text(), path(), index, task)
            : io::with_entry(text(), path(), "exposure",
                             io::entry_as_toml(Exposure{.person = person, .day = day, .tasks = {task}})));
}

bool TaskModel::remove(const std::vector<int>& rows)
{
    std::string changed = text();
    for (const int row : std::set<int, std::greater<>>(rows.begin(), rows.end())) {
        if (row < 0 || row >= static_cast<int>(rows_.size())) continue;
        const Row& at = rows_[static_cast<std::size_t>(row)];
        auto next = io::without_task(changed, path(), at.exposure, at.task);
        if (!next) return session_.change({}, std::move(next));
        changed = std::move(*next);
    }
    return session_.change(tr("removal of a task"), std::move(changed));
}

} // namespace becalm::desktop
