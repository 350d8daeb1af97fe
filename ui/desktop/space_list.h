// The spaces by group, the worst first, with a search and filters by use and by verdict.
#pragma once

#include <QComboBox>
#include <QLabel>
#include <QLineEdit>
#include <QSortFilterProxyModel>
#include <QTreeView>
#include <QWidget>

#include "ui/desktop/session.h"
#include "ui/desktop/space_tree_model.h"

namespace becalm::desktop {

class SpaceList final : public QWidget {
    Q_OBJECT

public:
    explicit SpaceList(Session& session, QWidget* parent = nullptr);

    void refresh();
    QTreeView& tree() { return *tree_; }
    void copy_table() const; // every verdict that is shown, for a spreadsheet

signals:
    void hovered(const QString& words);
    void amount_wanted();

protected:
    bool eventFilter(QObject* watched, QEvent* event) override;

private:
    void fill_uses();
    void show_rows();
    void show_choice();
    void show_words();
    void choose(const QModelIndex& current);
    void open_menu(const QPoint& at);
    SpaceFilter filter() const;

    Session& session_;
    QLineEdit* search_;
    QComboBox *use_, *verdicts_;
    QTreeView* tree_;
    QLabel *count_, *why_not_;
    SpaceTreeModel* model_;
    QSortFilterProxyModel* order_;
    std::shared_ptr<const Survey> survey_;
    std::shared_ptr<const Judgement> judgement_;
    SpaceFilter shown_filter_;
    bool filling_ = false;
};

} // namespace becalm::desktop
