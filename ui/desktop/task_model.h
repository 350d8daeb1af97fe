// The days of persons, a row a task: what somebody does where for how many hours. Person and day belong to the whole
// [[exposure]], and change in all its rows.
#pragma once

#include "ui/desktop/survey_table.h"

namespace becalm::desktop {

class TaskModel final : public SurveyTable {
    Q_OBJECT

public:
    TaskModel(Session& session, QObject* parent);

    std::vector<Option> options(int row, int column) const override;
    QString typed_at(int row, int column) const override;

    // A further task of this person's day; the day begins with it where there is none yet.
    bool add(const std::string& person, const std::string& day, const Task& task);
    bool remove(const std::vector<int>& rows);

protected:
    int reload() override;
    QString words_at(int row, int column) const override;
    bool is_repeated(int row, int column) const override;
    int group_of(int row) const override;
    Result<TextChanges> changes_of(const std::vector<CellEdit>& edits) const override;

private:
    struct Row {
        std::size_t exposure = 0, task = 0;
    };
    std::shared_ptr<const Survey> survey_;
    std::vector<Row> rows_;
};

} // namespace becalm::desktop
