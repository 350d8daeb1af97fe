// What dominates a value, a row for each component, greatest share first.
#pragma once

#include <QAbstractTableModel>
#include <memory>

#include "src/model/explanation.h"
#include "ui/desktop/session.h"

namespace becalm::desktop {

class ComponentsModel final : public QAbstractTableModel {
    Q_OBJECT

public:
    enum Column { frequency, axis, share, made_by, because, series, beats, drift, column_count };

    using QAbstractTableModel::QAbstractTableModel;

    // `explanation` lies in `causes`; null: an empty table.
    void show(std::shared_ptr<const Causes> causes, const Explanation* explanation);
    const ExplainedComponent* component(int row) const;

    int rowCount(const QModelIndex& parent = {}) const override;
    int columnCount(const QModelIndex& parent = {}) const override;
    QVariant data(const QModelIndex& index, int role) const override;
    QVariant headerData(int section, Qt::Orientation orientation, int role) const override;

private:
    QString words(const ExplainedComponent& component, int column) const;

    std::shared_ptr<const Causes> causes_;
    const Explanation* explanation_ = nullptr;
};

// "Of the energy: 71 % by named sources, 12 % in components that no source explains, 17 % broad."
QString shares_in_words(const Explanation& explanation);

} // namespace becalm::desktop
