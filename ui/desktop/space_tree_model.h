// Groups, their spaces, and the verdicts of a space with more than one, as a tree for a view.
#pragma once

#include <QAbstractItemModel>
#include <memory>
#include <vector>

#include "ui/desktop/session.h"
#include "ui/desktop/spaces_by_group.h"
#include "ui/desktop/verdict_facts.h"

namespace becalm::desktop {

// What a space is dragged as: its id.
inline constexpr char space_mime_type[] = "application/x-becalm-space";

class SpaceTreeModel final : public QAbstractItemModel {
    Q_OBJECT

public:
    enum Column { space, value, band, limit, use, criterion, condition, columns };
    enum Role { sort_role = Qt::UserRole, space_id_role, place_role };

    using QAbstractItemModel::QAbstractItemModel;

    // `judgement` may be null: spaces without verdicts.
    void show(std::shared_ptr<const Survey> survey, std::shared_ptr<const Judgement> judgement,
              const SpaceFilter& filter);
    const std::vector<SpaceGroup>& groups() const { return groups_; }
    const Survey* survey() const { return survey_.get(); }

    // Of a row: its verdict, or the worst; null where it has none.
    const Verdict* verdict(const QModelIndex& index) const;
    // The row of a space, or that of one of its verdicts; invalid where the filter leaves it out.
    QModelIndex index_of(const std::string& space_id) const;
    QModelIndex index_of(const Verdict& verdict) const;

    QModelIndex index(int row, int column, const QModelIndex& parent = {}) const override;
    QModelIndex parent(const QModelIndex& index) const override;
    int rowCount(const QModelIndex& parent = {}) const override;
    int columnCount(const QModelIndex& parent = {}) const override;
    QVariant data(const QModelIndex& index, int role = Qt::DisplayRole) const override;
    QVariant headerData(int section, Qt::Orientation orientation, int role = Qt::DisplayRole) const override;
    Qt::ItemFlags flags(const QModelIndex& index) const override;
    QStringList mimeTypes() const override;
    QMimeData* mimeData(const QModelIndexList& indexes) const override;

private:
    struct Node {
        int parent = -1, row = 0; // parent -1: a group
        std::vector<int> children = {};
        const SpaceGroup* group = nullptr;
        const SpaceRow* space = nullptr; // null of a group
        const Verdict* verdict = nullptr;
        int rank = 0; // among its neighbours, worst first
    };
    int add(Node node);
    const Node* node(const QModelIndex& index) const;
    QString words(const Node& node, int column) const;

    std::shared_ptr<const Survey> survey_;
    std::shared_ptr<const Judgement> judgement_; // what the groups point into
    std::vector<SpaceGroup> groups_;
    std::vector<Node> nodes_;
    std::vector<int> roots_;
};

} // namespace becalm::desktop
