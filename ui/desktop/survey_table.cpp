#include "ui/desktop/survey_table.h"

#include <QDateTime>
#include <QFont>
#include <QGuiApplication>
#include <QLocale>
#include <QPalette>
#include <algorithm>

#include "src/io/toml_text.h"
#include "ui/desktop/words.h"

namespace becalm::desktop {

SurveyTable::SurveyTable(Session& session, std::vector<TableColumn> columns, QObject* parent)
    : QAbstractTableModel(parent), session_(session), columns_(std::move(columns))
{
}

int SurveyTable::column_of(std::string_view key) const
{
    const auto found = std::ranges::find(columns_, key, &TableColumn::key);
    return found == columns_.end() ? -1 : static_cast<int>(found - columns_.begin());
}

std::vector<Option> SurveyTable::options(int, int) const { return {}; }

bool SurveyTable::is_editable(int, int column) const
{
    return columns_[static_cast<std::size_t>(column)].kind != CellKind::shown;
}

std::string SurveyTable::path() const { return plain(session_.document().path()); }

int SurveyTable::rowCount(const QModelIndex& parent) const { return parent.isValid() ? 0 : rows_; }

int SurveyTable::columnCount(const QModelIndex& parent) const
{
    return parent.isValid() ? 0 : static_cast<int>(columns_.size());
}

// Rows come and go at the end, so that the cell with the cursor stays the one with the cursor.
void SurveyTable::load()
{
    const int rows = reload();
    if (rows > rows_) {
        beginInsertRows({}, rows_, rows - 1);
        rows_ = rows;
        endInsertRows();
    } else if (rows < rows_) {
        beginRemoveRows({}, rows, rows_ - 1);
        rows_ = rows;
        endRemoveRows();
    }
    if (rows_ > 0) emit dataChanged(index(0, 0), index(rows_ - 1, columnCount() - 1));
}

QVariant SurveyTable::headerData(int section, Qt::Orientation orientation, int role) const
{
    if (orientation == Qt::Vertical) return role == Qt::DisplayRole ? QVariant(section + 1) : QVariant();
    if (section < 0 || section >= columnCount()) return {};
    const TableColumn& column = columns_[static_cast<std::size_t>(section)];
    if (role == Qt::DisplayRole) return column.title;
    if (role == Qt::ToolTipRole) return column.tip.isEmpty() ? column.title : column.tip;
    return {};
}

QVariant SurveyTable::data(const QModelIndex& index, int role) const
{
    const int row = index.row(), column = index.column();
    if (!index.isValid() || row >= rows_) return {};
    const auto kind = columns_[static_cast<std::size_t>(column)].kind;
    switch (role) {
    case Qt::DisplayRole: {
        const QString words = words_at(row, column);
        return is_guess(row, column) ? tr("%1 (guess)").arg(words) : words;
    }
    case Qt::EditRole: return typed_at(row, column);
    case Qt::ToolTipRole: return tip_at(row, column);
    case Qt::TextAlignmentRole:
        return kind == CellKind::number ? QVariant(Qt::AlignRight | Qt::AlignVCenter) : QVariant();
    case Qt::FontRole: {
        const bool guess = is_guess(row, column), alarming = is_alarming(row, column);
        if (!guess && !alarming) return {};
        QFont font = QGuiApplication::font();
        font.setItalic(guess);
        font.setBold(alarming);
        return font;
    }
    case Qt::ForegroundRole:
        return !is_alarming(row, column) && (is_repeated(row, column) || kind == CellKind::shown)
                   ? QVariant(QGuiApplication::palette().brush(QPalette::PlaceholderText))
                   : QVariant();
    case Qt::BackgroundRole:
        return group_of(row) % 2 == 1 ? QVariant(QGuiApplication::palette().brush(QPalette::AlternateBase))
                                      : QVariant();
    case group_start: return row == 0 || group_of(row) != group_of(row - 1);
    case group_is_odd: return group_of(row) % 2 == 1;
    default: return {};
    }
}

Qt::ItemFlags SurveyTable::flags(const QModelIndex& index) const
{
    Qt::ItemFlags flags = QAbstractTableModel::flags(index);
    if (index.isValid() && is_editable(index.row(), index.column()) && session_.document().survey())
        flags |= Qt::ItemIsEditable;
    return flags;
}

bool SurveyTable::setData(const QModelIndex& index, const QVariant& value, int role)
{
    if (role != Qt::EditRole || !index.isValid()) return false;
    const QString typed = value.toString();
    if (typed == typed_at(index.row(), index.column())) return true;
    return apply(tr("edit of %1").arg(columns_[static_cast<std::size_t>(index.column())].title),
                 {{index.row(), index.column(), typed}});
}

QString SurveyTable::words_at(int row, int column) const
{
    const QString typed = typed_at(row, column);
    const auto kind = columns_[static_cast<std::size_t>(column)].kind;
    if (typed.isEmpty() || (kind != CellKind::choice && kind != CellKind::open_choice)) return typed;
    const auto all = options(row, column);
    const auto found = std::ranges::find(all, typed, &Option::value);
    return found == all.end() ? typed : found->words;
}

QString SurveyTable::tip_at(int, int column) const { return columns_[static_cast<std::size_t>(column)].tip; }

QString SurveyTable::resolved(int row, int column, const QString& typed) const
{
    const QString wanted = typed.trimmed();
    const auto all = options(row, column);
    const auto is = [&](const Option& option, Qt::CaseSensitivity sensitivity) {
        return option.value.compare(wanted, sensitivity) == 0 || option.words.compare(wanted, sensitivity) == 0;
    };
    for (const Option& option : all)
        if (option.value == wanted) return option.value;
    for (const auto sensitivity : {Qt::CaseSensitive, Qt::CaseInsensitive})
        for (const Option& option : all)
            if (is(option, sensitivity)) return option.value;
    return wanted;
}

Problem SurveyTable::problem_of(int column, const QString& what, const QString& remedy) const
{
    return {.kind = ProblemKind::usage,
            .what = plain(columns_[static_cast<std::size_t>(column)].title + QStringLiteral(": ") + what),
            .remedy = plain(remedy)};
}

Result<std::optional<std::string>> SurveyTable::toml_of(const CellEdit& edit) const
{
    using Toml = std::optional<std::string>;
    QString typed = edit.typed.trimmed();
    switch (columns_[static_cast<std::size_t>(edit.column)].kind) {
    case CellKind::number: {
        if (typed.isEmpty()) return Toml();
        const auto number = number_in(typed);
        if (!number)
            return fail(problem_of(edit.column, tr("\"%1\" is no number").arg(typed),
                                   tr("type digits, with a comma or a point before the decimals")));
        std::string toml = io::toml_number(*number);
        if (toml.ends_with(".0")) toml.resize(toml.size() - 2); // as a person would write it
        return Toml(std::move(toml));
    }
    case CellKind::date: {
        if (typed.isEmpty()) return Toml();
        const QDate date = QDate::fromString(typed, Qt::ISODate);
        return Toml(date.isValid() ? plain(date.toString(Qt::ISODate)) : io::toml_string(plain(typed)));
    }
    case CellKind::moment: {
        if (typed.isEmpty()) return Toml();
        // What is no moment goes to the reader in quotes, which says what it wants.
        const QDateTime moment = QDateTime::fromString(typed, Qt::ISODate);
        const bool has_offset = moment.timeSpec() == Qt::OffsetFromUTC || moment.timeSpec() == Qt::UTC;
        typed.replace(QChar(u' '), QChar(u'T'));
        return Toml(moment.isValid() && has_offset && typed.size() >= 20 ? plain(typed)
                                                                         : io::toml_string(plain(typed)));
    }
    case CellKind::choice:
    case CellKind::open_choice: typed = resolved(edit.row, edit.column, typed); break;
    case CellKind::text:
    case CellKind::shown: break;
    }
    return typed.isEmpty() ? Toml() : Toml(io::toml_string(plain(typed)));
}

bool SurveyTable::apply(const QString& step, const std::vector<CellEdit>& edits)
{
    if (edits.empty()) return true;
    const auto changes = changes_of(edits);
    if (!changes) {
        session_.say(problem_words(changes.error()));
        return false;
    }
    return session_.change(step, changed_text(text(), path(), *changes));
}

QString number_as_typed(std::string_view number)
{
    bool ok = false;
    const double value = QLocale::c().toDouble(shown(number), &ok);
    if (!ok) return shown(number);
    QString text = QString::number(value, 'g', QLocale::FloatingPointShortest);
    return text.replace(QChar(u'.'), QLocale().decimalPoint());
}

Result<std::string> changed_text(std::string text, const std::string& path, const TextChanges& changes)
{
    const auto take = [&](Result<std::string> next) -> Result<void> {
        if (!next) return fail(next.error());
        text = std::move(*next);
        return {};
    };
    std::vector<TextChanges::NewEntry> made;
    for (const auto& entry : changes.entries) {
        if (std::ranges::find(made, entry) != made.end()) continue;
        made.push_back(entry);
        if (const auto done = take(io::with_entry(text, path, entry.array, entry.lines)); !done)
            return fail(done.error());
    }
    if (const auto done = take(io::with_values(text, path, changes.values)); !done) return fail(done.error());
    for (const auto& id : changes.ids)
        if (const auto done = take(io::with_id(text, path, id.array, id.index, id.id)); !done)
            return fail(done.error());
    return text;
}

} // namespace becalm::desktop
