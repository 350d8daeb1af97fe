#include "ui/desktop/survey_grid.h"

#include <QApplication>
#include <QClipboard>
#include <QComboBox>
#include <QContextMenuEvent>
#include <QDateEdit>
#include <QHeaderView>
#include <QKeyEvent>
#include <QLineEdit>
#include <QMenu>
#include <QPainter>
#include <QPointer>
#include <QStyledItemDelegate>
#include <QTimer>
#include <algorithm>
#include <set>
#include <utility>

namespace becalm::desktop {
namespace {

class ChoiceBox final : public QComboBox {
public:
    using QComboBox::QComboBox;

    bool is_picking() const { return picking_; }
    void showPopup() override
    {
        picking_ = true;
        QComboBox::showPopup();
    }
    void hidePopup() override
    {
        QComboBox::hidePopup();
        QTimer::singleShot(0, this, [this] { picking_ = false; }); // after activated()
    }

private:
    bool picking_ = false;
};

class CellDelegate final : public QStyledItemDelegate {
public:
    CellDelegate(const SurveyTable& table, QObject* parent) : QStyledItemDelegate(parent), table_(table) {}

    QWidget* createEditor(QWidget* parent, const QStyleOptionViewItem& option, const QModelIndex& index) const override
    {
        const TableColumn& column = table_.columns()[static_cast<std::size_t>(index.column())];
        QWidget* editor = nullptr;
        switch (column.kind) {
        case CellKind::choice:
        case CellKind::open_choice: {
            auto* box = new ChoiceBox(parent);
            for (const Option& choice : table_.options(index.row(), index.column()))
                box->addItem(choice.words, choice.value);
            box->setEditable(column.kind == CellKind::open_choice);
            if (box->isEditable()) box->setInsertPolicy(QComboBox::NoInsert);
            // What is picked from the list is meant; what is found by its letters waits for Enter, as typed text does.
            connect(box, &QComboBox::activated, self_, [self = self_, box] {
                if (!box->is_picking()) return;
                QTimer::singleShot(0, box, [self, box] {
                    if (!box->isVisible()) return; // Enter has closed it meanwhile
                    emit self->commitData(box);
                    emit self->closeEditor(box);
                });
            });
            editor = box;
            break;
        }
        case CellKind::date: {
            auto* date = new QDateEdit(parent);
            date->setCalendarPopup(true);
            date->setDisplayFormat(QStringLiteral("yyyy-MM-dd"));
            editor = date;
            break;
        }
        case CellKind::text:
        case CellKind::number:
        case CellKind::moment: editor = new QLineEdit(parent); break;
        case CellKind::shown: return nullptr;
        }
        editor->setAccessibleName(column.title);
        editor->setAutoFillBackground(true);
        (void)option;
        return editor;
    }

    void setEditorData(QWidget* editor, const QModelIndex& index) const override
    {
        // Once: a judgement that arrives meanwhile must not take back what is being typed.
        if (std::exchange(filled_, editor) == editor) return;
        const QString typed = index.data(Qt::EditRole).toString();
        if (auto* box = qobject_cast<QComboBox*>(editor)) {
            const int at = box->findData(typed);
            box->setCurrentIndex(at);
            if (box->isEditable()) {
                if (at < 0) box->setEditText(typed);
                box->lineEdit()->selectAll();
            }
        } else if (auto* date = qobject_cast<QDateEdit*>(editor)) {
            const QDate day = QDate::fromString(typed, Qt::ISODate);
            date->setDate(day.isValid() ? day : QDate::currentDate());
        } else if (auto* line = qobject_cast<QLineEdit*>(editor)) {
            line->setText(typed);
            line->selectAll();
        }
    }

    void setModelData(QWidget* editor, QAbstractItemModel* model, const QModelIndex& index) const override
    {
        QString typed;
        if (const auto* box = qobject_cast<QComboBox*>(editor)) {
            const int at = box->currentIndex();
            const bool is_choice = at >= 0 && box->currentText() == box->itemText(at);
            if (!is_choice && !box->isEditable()) return;
            typed = is_choice ? box->itemData(at).toString() : box->currentText();
        } else if (const auto* date = qobject_cast<QDateEdit*>(editor)) {
            typed = date->date().toString(Qt::ISODate);
        } else if (const auto* line = qobject_cast<QLineEdit*>(editor)) {
            typed = line->text();
        }
        model->setData(index, typed, Qt::EditRole);
    }

    // A line above each group of rows.
    void paint(QPainter* painter, const QStyleOptionViewItem& option, const QModelIndex& index) const override
    {
        QStyledItemDelegate::paint(painter, option, index);
        if (!index.data(SurveyTable::group_start).toBool() || index.row() == 0) return;
        painter->save();
        painter->setPen(option.palette.color(QPalette::Mid));
        painter->drawLine(option.rect.topLeft(), option.rect.topRight());
        painter->restore();
    }

private:
    const SurveyTable& table_;
    mutable QPointer<QWidget> filled_ = {};
    CellDelegate* const self_ = this; // editors are made by a const function, and what they do is told by a signal
};

// Lines of cells, as spreadsheets put them on the clipboard; a cell in quotes may hold line ends and tabs.
std::vector<QStringList> block_of(const QString& text)
{
    std::vector<QStringList> rows(1);
    QString cell;
    bool quoted = false;
    for (qsizetype i = 0; i < text.size(); ++i) {
        const QChar c = text[i];
        if (quoted) {
            if (c != QChar(u'"'))
                cell += c;
            else if (i + 1 < text.size() && text[i + 1] == QChar(u'"'))
                cell += text[++i];
            else
                quoted = false;
        } else if (c == QChar(u'"') && cell.isEmpty()) {
            quoted = true;
        } else if (c == QChar(u'\t') || c == QChar(u'\n')) {
            rows.back() << std::exchange(cell, {});
            if (c == QChar(u'\n')) rows.emplace_back();
        } else if (c != QChar(u'\r')) {
            cell += c;
        }
    }
    if (!cell.isEmpty() || !rows.back().isEmpty()) rows.back() << cell;
    if (rows.back().isEmpty()) rows.pop_back(); // behind the last line's end
    return rows;
}

QString as_cell(const QString& text)
{
    if (!text.contains(QChar(u'\t')) && !text.contains(QChar(u'\n')) && !text.startsWith(QChar(u'"'))) return text;
    QString escaped = text;
    escaped.replace(QStringLiteral("\""), QStringLiteral("\"\""));
    return QStringLiteral("\"%1\"").arg(escaped);
}

} // namespace

SurveyGrid::SurveyGrid(SurveyTable& table, const QString& name, QWidget* parent) : QTableView(parent), table_(table)
{
    setModel(&table_);
    setItemDelegate(new CellDelegate(table_, this));
    setAccessibleName(name);
    setTabKeyNavigation(false); // Tab goes on to the next control
    setSelectionMode(ExtendedSelection);
    setEditTriggers(DoubleClicked | EditKeyPressed | AnyKeyPressed | SelectedClicked);
    setWordWrap(false);
    setTextElideMode(Qt::ElideMiddle); // files of one folder differ in their ends
    setHorizontalScrollMode(ScrollPerPixel);
    verticalHeader()->setDefaultSectionSize(fontMetrics().height() + 9);
    verticalHeader()->hide();
    horizontalHeader()->setDefaultAlignment(Qt::AlignLeft | Qt::AlignVCenter);
    horizontalHeader()->setHighlightSections(false);
    const int character = fontMetrics().averageCharWidth();
    for (int column = 0; column < table_.columnCount(); ++column) {
        const TableColumn& of = table_.columns()[static_cast<std::size_t>(column)];
        const int title = fontMetrics().horizontalAdvance(of.title) + 3 * character;
        setColumnWidth(column, std::max(of.width * character, title));
    }
}

QList<QModelIndex> SurveyGrid::chosen() const
{
    QList<QModelIndex> all = selectionModel()->selectedIndexes();
    if (all.isEmpty() && currentIndex().isValid()) all << currentIndex();
    std::ranges::sort(all, [](const QModelIndex& a, const QModelIndex& b) {
        return std::pair(a.row(), a.column()) < std::pair(b.row(), b.column());
    });
    return all;
}

std::vector<int> SurveyGrid::chosen_rows() const
{
    std::set<int> rows;
    for (const QModelIndex& index : chosen()) rows.insert(index.row());
    return {rows.begin(), rows.end()};
}

void SurveyGrid::copy() const
{
    const QList<QModelIndex> all = chosen();
    if (all.isEmpty()) return;
    int first = all.front().column(), last = first;
    for (const QModelIndex& index : all) {
        first = std::min(first, index.column());
        last = std::max(last, index.column());
    }
    QStringList lines;
    for (const int row : chosen_rows()) {
        QStringList cells;
        for (int column = first; column <= last; ++column)
            cells << (all.contains(model()->index(row, column)) ? as_cell(table_.typed_at(row, column)) : QString());
        lines << cells.join(QChar(u'\t'));
    }
    QApplication::clipboard()->setText(lines.join(QChar(u'\n')));
}

bool SurveyGrid::paste()
{
    const std::vector<QStringList> block = block_of(QApplication::clipboard()->text());
    const QList<QModelIndex> all = chosen();
    if (block.empty() || (all.isEmpty() && table_.rowCount() > 0)) return false;
    const int height = static_cast<int>(block.size());
    int width = 0;
    for (const QStringList& row : block) width = std::max(width, static_cast<int>(row.size()));
    int top = 0, left = 0, bottom = 0, right = 0;
    if (!all.isEmpty()) {
        top = all.front().row();
        bottom = all.back().row();
        left = right = all.front().column();
        for (const QModelIndex& index : all) {
            left = std::min(left, index.column());
            right = std::max(right, index.column());
        }
    }
    const auto times = [](int selected, int of_block) {
        return selected > of_block && selected % of_block == 0 ? selected / of_block : 1;
    };
    const int down = times(bottom - top + 1, height), across = times(right - left + 1, width);
    std::vector<CellEdit> edits;
    for (int row = 0; row < height * down; ++row)
        for (int column = 0; column < width * across; ++column) {
            const QStringList& cells = block[static_cast<std::size_t>(row % height)];
            const int to_row = top + row, to_column = left + column;
            if (column % width >= cells.size() || to_column >= table_.columnCount()) continue;
            if (to_row < table_.rowCount() && !table_.is_editable(to_row, to_column)) continue;
            edits.push_back({to_row, to_column, cells[column % width]});
        }
    return table_.apply(tr("paste of %n row(s)", nullptr, height * down), edits);
}

bool SurveyGrid::fill_down()
{
    const QList<QModelIndex> all = chosen();
    if (all.isEmpty()) return false;
    const std::vector<int> rows = chosen_rows();
    // Of one row: what stands above it.
    const int from = rows.size() > 1 ? rows.front() : rows.front() - 1;
    if (from < 0) return false;
    std::vector<CellEdit> edits;
    for (const QModelIndex& index : all)
        if (index.row() != from && table_.is_editable(index.row(), index.column()))
            edits.push_back({index.row(), index.column(), table_.typed_at(from, index.column())});
    return table_.apply(tr("fill down"), edits);
}

bool SurveyGrid::empty_cells()
{
    std::vector<CellEdit> edits;
    for (const QModelIndex& index : chosen())
        if (table_.is_editable(index.row(), index.column())) edits.push_back({index.row(), index.column(), {}});
    return table_.apply(tr("emptied cells"), edits);
}

void SurveyGrid::keyPressEvent(QKeyEvent* event)
{
    const bool is_plain = event->modifiers() == Qt::NoModifier || event->modifiers() == Qt::KeypadModifier;
    if (event->matches(QKeySequence::Copy)) {
        copy();
    } else if (event->matches(QKeySequence::Paste)) {
        (void)paste();
    } else if (event->key() == Qt::Key_D && event->modifiers() == Qt::ControlModifier) {
        (void)fill_down();
    } else if (event->key() == Qt::Key_Delete && is_plain) {
        (void)empty_cells();
    } else if ((event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter) && is_plain &&
               state() != EditingState) {
        edit(currentIndex());
    } else {
        QTableView::keyPressEvent(event);
    }
}

void SurveyGrid::contextMenuEvent(QContextMenuEvent* event)
{
    QMenu menu(this);
    menu.addAction(tr("&Copy"), QKeySequence::Copy, this, [this] { copy(); });
    menu.addAction(tr("&Paste"), QKeySequence::Paste, this, [this] { (void)paste(); });
    menu.addAction(tr("&Fill down"), QKeySequence(Qt::CTRL | Qt::Key_D), this, [this] { (void)fill_down(); });
    menu.addAction(tr("&Empty"), QKeySequence(Qt::Key_Delete), this, [this] { (void)empty_cells(); });
    menu.exec(event->globalPos());
}

} // namespace becalm::desktop
