// The entries of one list of tables of the survey, a row each: [[sensor]], [[condition]], [[source]], [[space]].
#pragma once

#include <functional>
#include <set>

#include "ui/desktop/survey_table.h"

namespace becalm::desktop {

class EntryModel final : public SurveyTable {
    Q_OBJECT

public:
    struct Kind {
        std::string array = {};
        QString noun = {};                                            // "sensor"
        std::vector<std::pair<std::string, std::string>> needed = {}; // keys of a new entry, with their TOML
        std::function<std::vector<Option>(const std::string& key)> options = {};
        std::function<QString(int row, const std::string& key)> words = {}; // of columns that are only shown
    };
    EntryModel(Session& session, Kind kind, std::vector<TableColumn> columns, QObject* parent);

    std::vector<Option> options(int row, int column) const override;
    QString typed_at(int row, int column) const override;
    bool can_grow() const override { return true; }

    bool add();                                // an entry with an id of its own, last
    bool remove(const std::vector<int>& rows); // all in one step; refused where something still names one

protected:
    int reload() override;
    QString words_at(int row, int column) const override;
    Result<TextChanges> changes_of(const std::vector<CellEdit>& edits) const override;

private:
    Result<std::string> new_lines(const std::vector<const CellEdit*>& edits, std::set<std::string>& taken) const;

    Kind kind_;
    std::vector<io::EntryTexts> entries_;
};

} // namespace becalm::desktop
