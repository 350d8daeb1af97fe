// Two conditions side by side: a table of what changes, and the rulers of the chosen row beside each other.
#pragma once

#include <QComboBox>
#include <QLabel>
#include <QStandardItemModel>
#include <QTreeView>
#include <QWidget>

#include "ui/desktop/condition_comparison.h"
#include "ui/desktop/figure_view.h"
#include "ui/desktop/session.h"

namespace becalm::desktop {

class ComparisonPanel final : public QWidget {
    Q_OBJECT

public:
    explicit ComparisonPanel(Session& session, QWidget* parent = nullptr);

    // Of one space, or of all where `space` is empty.
    void show_space(std::shared_ptr<const Judgement> judgement, const std::string& space);
    void copy_table() const;

signals:
    void verdict_chosen(const Verdict& verdict);
    void could_not_export(const QString& why);

protected:
    bool eventFilter(QObject* watched, QEvent* event) override;

private:
    void fill();
    void show_rows();
    void show_rulers();
    std::string condition(const QComboBox& box) const;

    Session& session_;
    QComboBox *first_, *second_;
    QTreeView* table_;
    QStandardItemModel* model_;
    FigureView *first_ruler_, *second_ruler_;
    QLabel* words_;
    std::shared_ptr<const Judgement> judgement_;
    std::string space_;
    std::vector<ConditionChange> changes_;
};

} // namespace becalm::desktop
