// A table of the survey on the screen: cells that show a value of the text and change it.
//
// A change of any number of cells is one undo step, or none: what the survey's reader refuses is said in a sentence and
// leaves every cell as it was. Numbers are shown and read in the chosen language, ids with their label beside them.
#pragma once

#include <QAbstractTableModel>
#include <string>
#include <utility>
#include <vector>

#include "src/io/survey_file.h"
#include "ui/desktop/session.h"

namespace becalm::desktop {

enum class CellKind {
    text,
    number,
    choice,      // of the options, or nothing
    open_choice, // of the options, or words of one's own
    date,
    moment, // date and time with offset
    shown   // cannot be changed
};

struct TableColumn {
    std::string key = {}; // as the survey's text has it
    QString title = {};   // with the unit, where there is one
    CellKind kind = CellKind::text;
    QString tip = {};
    int width = 10; // characters
};

struct Option {
    QString value = {}; // as the text has it
    QString words = {};
};

struct CellEdit {
    int row = 0;
    int column = 0;
    QString typed = {};
};

// What edits of cells mean for the text.
struct TextChanges {
    struct NewEntry {
        std::string array = {}, lines = {};
        friend bool operator==(const NewEntry&, const NewEntry&) = default;
    };
    struct NewId {
        std::string array = {};
        std::size_t index = 0;
        std::string id = {};
    };
    std::vector<NewEntry> entries = {};
    std::vector<io::ValueEdit> values = {};
    std::vector<NewId> ids = {}; // last: a reference follows its entry
};

class SurveyTable : public QAbstractTableModel {
    Q_OBJECT

public:
    enum Role { group_start = Qt::UserRole, group_is_odd };

    SurveyTable(Session& session, std::vector<TableColumn> columns, QObject* parent);

    const std::vector<TableColumn>& columns() const { return columns_; }
    int column_of(std::string_view key) const; // -1: none
    virtual std::vector<Option> options(int row, int column) const;

    // What a person would type to get this cell.
    virtual QString typed_at(int row, int column) const = 0;
    bool is_editable(int row, int column) const;
    // Whether rows below the last can be typed or pasted.
    virtual bool can_grow() const { return false; }

    // All in one undo step called `step`. false: refused, and said.
    bool apply(const QString& step, const std::vector<CellEdit>& edits);

    // What the survey holds now.
    void load();

    int columnCount(const QModelIndex& parent = {}) const override;
    QVariant headerData(int section, Qt::Orientation orientation, int role) const override;
    QVariant data(const QModelIndex& index, int role) const override;
    Qt::ItemFlags flags(const QModelIndex& index) const override;
    bool setData(const QModelIndex& index, const QVariant& value, int role) override;
    int rowCount(const QModelIndex& parent = {}) const override;

protected:
    virtual int reload() = 0; // gives the number of rows
    virtual QString words_at(int row, int column) const;
    virtual QString tip_at(int row, int column) const;
    virtual bool is_guess(int /*row*/, int /*column*/) const { return false; }
    virtual bool is_alarming(int /*row*/, int /*column*/) const { return false; } // says what is wrong
    virtual bool is_repeated(int /*row*/, int /*column*/) const { return false; } // as the row above has it
    virtual int group_of(int row) const { return row; }
    virtual Result<TextChanges> changes_of(const std::vector<CellEdit>& edits) const = 0;

    // The TOML of what was typed; no value where nothing was.
    Result<std::optional<std::string>> toml_of(const CellEdit& edit) const;
    // The option's value where `typed` is one of them by value or words, else `typed`.
    QString resolved(int row, int column, const QString& typed) const;
    Problem problem_of(int column, const QString& what, const QString& remedy) const;
    const std::string& text() const { return session_.document().text(); }
    std::string path() const;

    Session& session_;

private:
    std::vector<TableColumn> columns_;
    int rows_ = 0;
};

// A text of a number as the survey has it, in the chosen language with every digit.
QString number_as_typed(std::string_view number);

// The text with the changes made.
Result<std::string> changed_text(std::string text, const std::string& path, const TextChanges& changes);

} // namespace becalm::desktop
