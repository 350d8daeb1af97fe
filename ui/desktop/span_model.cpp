#include "ui/desktop/span_model.h"

#include <QLocale>
#include <algorithm>

#include "ui/desktop/words.h"

namespace becalm::desktop {

QString seconds_words(double seconds)
{
    QLocale locale;
    locale.setNumberOptions(QLocale::OmitGroupSeparator);
    QString text = locale.toString(seconds, 'f', 3);
    while (text.endsWith(QChar(u'0'))) text.chop(1);
    if (text.endsWith(locale.decimalPoint())) text.chop(1);
    return text;
}

void SpanModel::show(const std::vector<ExcludedSpan>& excluded, const std::vector<EventSpan>& events)
{
    std::vector<Span> spans;
    for (std::size_t i = 0; i < excluded.size(); ++i)
        spans.push_back({false, i, excluded[i].from_s, excluded[i].to_s, excluded[i].reason});
    for (std::size_t i = 0; i < events.size(); ++i)
        spans.push_back({true, i, events[i].from_s, events[i].to_s, events[i].title});
    std::ranges::stable_sort(spans, {}, &Span::from_s);
    const auto same = [](const Span& a, const Span& b) {
        return a.is_event == b.is_event && a.index == b.index && a.from_s == b.from_s && a.to_s == b.to_s &&
               a.words == b.words;
    };
    if (std::ranges::equal(spans, spans_, same)) return; // keeps what is chosen in the table
    beginResetModel();
    spans_ = std::move(spans);
    endResetModel();
}

int SpanModel::rowCount(const QModelIndex& parent) const
{
    return parent.isValid() ? 0 : static_cast<int>(spans_.size());
}

int SpanModel::columnCount(const QModelIndex& parent) const { return parent.isValid() ? 0 : columns; }

QVariant SpanModel::data(const QModelIndex& index, int role) const
{
    const Span& of = span(index.row());
    if (role == Qt::TextAlignmentRole && (index.column() == from || index.column() == to))
        return static_cast<int>(Qt::AlignRight | Qt::AlignVCenter);
    if (role == Qt::ToolTipRole) return shown(of.words);
    if (role != Qt::DisplayRole && role != Qt::EditRole) return {};
    switch (index.column()) {
    case kind: return of.is_event ? tr("event") : tr("left out");
    case from: return seconds_words(of.from_s);
    case to: return seconds_words(of.to_s);
    default: return shown(of.words);
    }
}

QVariant SpanModel::headerData(int section, Qt::Orientation orientation, int role) const
{
    if (orientation != Qt::Horizontal || role != Qt::DisplayRole) return {};
    switch (section) {
    case kind: return tr("What");
    case from: return tr("From, s");
    case to: return tr("To, s");
    default: return tr("Reason");
    }
}

Qt::ItemFlags SpanModel::flags(const QModelIndex& index) const
{
    const Qt::ItemFlags usual = QAbstractTableModel::flags(index);
    return index.column() == kind ? usual : usual | Qt::ItemIsEditable;
}

// The table changes when the survey has.
bool SpanModel::setData(const QModelIndex& index, const QVariant& value, int role)
{
    if (role != Qt::EditRole || !index.isValid() || index.column() == kind) return false;
    if (value.toString() == data(index, Qt::EditRole).toString()) return false;
    Span span = this->span(index.row());
    if (index.column() == words) {
        span.words = plain(value.toString().trimmed());
    } else {
        const auto number = number_in(value.toString());
        if (!number) {
            emit not_a_number(value.toString());
            return false;
        }
        (index.column() == from ? span.from_s : span.to_s) = *number;
    }
    emit changed(span);
    return true;
}

} // namespace becalm::desktop
