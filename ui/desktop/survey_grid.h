// A SurveyTable on the screen: by mouse and keyboard, as a spreadsheet would.
//
//   Enter, F2, typing   change the cell          Ctrl+C, Ctrl+V   copy, paste as tab-separated text
//   Delete              empty the cells          Ctrl+D           the topmost selected row into those below
// A pasted block fills a selection that is a multiple of it; rows below the last become new entries where the table can
// grow. Each is one undo step.
#pragma once

#include <QTableView>

#include "ui/desktop/survey_table.h"

namespace becalm::desktop {

class SurveyGrid final : public QTableView {
    Q_OBJECT

public:
    SurveyGrid(SurveyTable& table, const QString& name, QWidget* parent = nullptr);

    SurveyTable& table() const { return table_; }
    // Rows with a selected cell, ascending; the current one where nothing is selected.
    std::vector<int> chosen_rows() const;

    void copy() const;
    bool paste();
    bool fill_down();
    bool empty_cells();

protected:
    void keyPressEvent(QKeyEvent* event) override;
    void contextMenuEvent(QContextMenuEvent* event) override;

private:
    QList<QModelIndex> chosen() const; // by row, then column
    SurveyTable& table_;
};

} // namespace becalm::desktop
