#include "ui/desktop/copied_table.h"

#include <QClipboard>
#include <QGuiApplication>

namespace becalm::desktop {

void CopiedTable::add(const QStringList& cells)
{
    QStringList clean;
    for (QString cell : cells) {
        for (const char16_t separator : {u'\t', u'\n', u'\r'}) cell.replace(QChar(separator), QChar(u' '));
        clean << cell;
    }
    text_ += clean.join(QChar(u'\t')) + QChar(u'\n');
}

void CopiedTable::copy() const { copy_to_clipboard(text_); }

void copy_to_clipboard(const QString& text) { QGuiApplication::clipboard()->setText(text); }

} // namespace becalm::desktop
