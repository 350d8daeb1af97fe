// A table on its way to a spreadsheet, through the clipboard: tabs between the columns, a line for each row.
#pragma once

#include <QStringList>

namespace becalm::desktop {

class CopiedTable {
public:
    explicit CopiedTable(const QStringList& heads) { add(heads); }

    // Tabs and line ends inside a cell become spaces, since they would tear the row apart.
    void add(const QStringList& cells);
    const QString& text() const { return text_; }
    void copy() const; // to the clipboard

private:
    QString text_;
};

void copy_to_clipboard(const QString& text);

} // namespace becalm::desktop
