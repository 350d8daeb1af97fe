#include "ui/desktop/space_tree_model.h"

#include <QFont>
#include <QMimeData>
#include <algorithm>

#include "ui/desktop/words.h"

namespace becalm::desktop {

int SpaceTreeModel::add(Node node)
{
    const int number = static_cast<int>(nodes_.size());
    std::vector<int>& among = node.parent < 0 ? roots_ : nodes_[static_cast<std::size_t>(node.parent)].children;
    node.row = node.rank = static_cast<int>(among.size());
    among.push_back(number);
    nodes_.push_back(std::move(node));
    return number;
}

void SpaceTreeModel::show(std::shared_ptr<const Survey> survey, std::shared_ptr<const Judgement> judgement,
                          const SpaceFilter& filter)
{
    beginResetModel();
    nodes_.clear();
    roots_.clear();
    groups_.clear();
    survey_ = std::move(survey);
    judgement_ = std::move(judgement);
    if (survey_) {
        static const Assessment nothing;
        groups_ = spaces_by_group(*survey_, judgement_ ? judgement_->assessment() : nothing, filter);
    }
    for (const SpaceGroup& group : groups_) {
        const int root = add({.group = &group, .verdict = group.worst()});
        for (const SpaceRow& row : group.rows) {
            const int parent = add({.parent = root, .group = &group, .space = &row, .verdict = row.worst()});
            if (row.verdicts.size() < 2) continue;
            for (const Verdict* verdict : row.verdicts)
                add({.parent = parent, .group = &group, .space = &row, .verdict = verdict});
        }
    }
    endResetModel();
}

const SpaceTreeModel::Node* SpaceTreeModel::node(const QModelIndex& index) const
{
    return index.isValid() ? &nodes_[index.internalId()] : nullptr;
}

const Verdict* SpaceTreeModel::verdict(const QModelIndex& index) const
{
    const Node* at = node(index);
    return at == nullptr ? nullptr : at->verdict;
}

QModelIndex SpaceTreeModel::index_of(const std::string& space_id) const
{
    for (std::size_t i = 0; i < nodes_.size(); ++i)
        if (nodes_[i].space != nullptr && nodes_[i].space->space->id == space_id)
            return createIndex(nodes_[i].row, 0, i);
    return {};
}

QModelIndex SpaceTreeModel::index_of(const Verdict& verdict) const
{
    // A leaf names the verdict itself; a space stands for it only where it has no other.
    for (std::size_t i = 0; i < nodes_.size(); ++i)
        if (nodes_[i].verdict == &verdict && nodes_[i].space != nullptr && nodes_[i].children.empty())
            return createIndex(nodes_[i].row, 0, i);
    return {};
}

QModelIndex SpaceTreeModel::index(int row, int column, const QModelIndex& parent) const
{
    if (!hasIndex(row, column, parent)) return {};
    const std::vector<int>& among = parent.isValid() ? node(parent)->children : roots_;
    return createIndex(row, column, static_cast<quintptr>(among[static_cast<std::size_t>(row)]));
}

QModelIndex SpaceTreeModel::parent(const QModelIndex& index) const
{
    const Node* at = node(index);
    if (at == nullptr || at->parent < 0) return {};
    return createIndex(nodes_[static_cast<std::size_t>(at->parent)].row, 0, static_cast<quintptr>(at->parent));
}

int SpaceTreeModel::rowCount(const QModelIndex& parent) const
{
    if (parent.column() > 0) return 0;
    return static_cast<int>(parent.isValid() ? node(parent)->children.size() : roots_.size());
}

int SpaceTreeModel::columnCount(const QModelIndex&) const { return columns; }

QString SpaceTreeModel::words(const Node& node, int column) const
{
    const bool is_group = node.space == nullptr;
    const bool is_leaf_verdict = !is_group && node.parent >= 0 && nodes_[static_cast<std::size_t>(node.parent)].space;
    if (column == space) {
        if (is_group)
            return node.group->name.empty() ? tr("no group")
                                            : tr("%1 (%2)").arg(shown(node.group->name)).arg(node.group->rows.size());
        if (is_leaf_verdict) {
            const QString during = condition_words(*survey_, node.verdict->condition);
            return shown(node.verdict->position) + (during.isEmpty() ? QString() : QStringLiteral(", ") + during);
        }
        return space_words(*survey_, node.space->space->id);
    }
    if (is_group) return {};
    if (column == use) return is_leaf_verdict ? QString() : shown(node.space->space->use);
    if (node.verdict == nullptr) return column == band ? tr("no verdict") : QString();
    switch (column) {
    case value: return node.verdict->value ? value_words(*node.verdict) : QString();
    case band: {
        QString text = band_words(*node.verdict);
        const auto waiting = is_leaf_verdict ? 0 : std::ranges::count(node.space->verdicts, false, &Verdict::judged);
        // Where the worst is one of them, it says so itself.
        if (waiting > 0 && node.verdict->judged)
            text += tr("; %n more cannot be judged", nullptr, static_cast<int>(waiting));
        return text;
    }
    case limit: return node.verdict->judged ? distance_words(*node.verdict) : shown(node.verdict->why_not);
    case criterion: return criterion_words(*node.verdict);
    case condition: return condition_words(*survey_, node.verdict->condition);
    default: return {};
    }
}

QVariant SpaceTreeModel::data(const QModelIndex& index, int role) const
{
    const Node* at = node(index);
    if (at == nullptr) return {};
    const bool is_group = at->space == nullptr;
    switch (role) {
    case Qt::DisplayRole: return words(*at, index.column());
    case Qt::ToolTipRole:
        if (at->verdict == nullptr || is_group) return {};
        return at->verdict->judged ? distance_words(*at->verdict) : shown(at->verdict->why_not);
    case Qt::AccessibleDescriptionRole:
        if (index.column() != band || at->verdict == nullptr || !at->verdict->band_index) return {};
        return tr("band %1 of %2").arg(*at->verdict->band_index + 1).arg(at->verdict->bands.size());
    case Qt::FontRole:
        if (is_group || (index.column() == band && at->verdict != nullptr && at->verdict->exceeded)) {
            QFont bold;
            bold.setBold(true);
            return bold;
        }
        return {};
    case space_id_role: return is_group ? QVariant() : shown(at->space->space->id);
    case place_role: return QVariant::fromValue(is_group ? BandPlace() : band_place(at->verdict));
    case sort_role:
        // By how bad it is, but where a column's own order says more: words, and values.
        if (index.column() == value) return at->verdict && at->verdict->value ? *at->verdict->value : -1.0;
        if (index.column() == band || index.column() == limit) return at->rank;
        return words(*at, index.column()).toCaseFolded();
    default: return {};
    }
}

QVariant SpaceTreeModel::headerData(int section, Qt::Orientation orientation, int role) const
{
    if (orientation != Qt::Horizontal || role != Qt::DisplayRole) return {};
    switch (section) {
    case space: return tr("Space");
    case use: return tr("Use");
    case value: return tr("Worst value");
    case band: return tr("Band");
    case limit: return tr("To the limit");
    case criterion: return tr("Criterion");
    case condition: return tr("Condition");
    default: return {};
    }
}

Qt::ItemFlags SpaceTreeModel::flags(const QModelIndex& index) const
{
    const Node* at = node(index);
    if (at == nullptr) return Qt::NoItemFlags;
    const Qt::ItemFlags flags = Qt::ItemIsEnabled | Qt::ItemIsSelectable;
    return at->space == nullptr ? flags : flags | Qt::ItemIsDragEnabled;
}

QStringList SpaceTreeModel::mimeTypes() const { return {QString::fromLatin1(space_mime_type)}; }

QMimeData* SpaceTreeModel::mimeData(const QModelIndexList& indexes) const
{
    for (const QModelIndex& index : indexes)
        if (const Node* at = node(index); at != nullptr && at->space != nullptr) {
            auto* data = new QMimeData;
            data->setData(QString::fromLatin1(space_mime_type), shown(at->space->space->id).toUtf8());
            return data;
        }
    return nullptr;
}

} // namespace becalm::desktop
