// The criteria that fit the survey, to be searched and ticked. One whose numbers nobody has compared with the
// publication yet asks who did, and when.
#pragma once

#include <QFrame>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QSortFilterProxyModel>
#include <QStandardItemModel>
#include <QTreeView>
#include <QWidget>

#include "ui/desktop/criteria_choice.h"
#include "ui/desktop/session.h"

namespace becalm::desktop {

class CriteriaPanel final : public QWidget {
    Q_OBJECT

public:
    explicit CriteriaPanel(Session& session, QWidget* parent = nullptr);

    void refresh();

private:
    void ticked(const QStandardItem& item);
    void show_item(QStandardItem& item, const CriterionChoice& choice) const;
    const CriterionChoice* choice_of(const QString& id) const;
    QString current_id() const;
    void ask_who(const QString& id);
    void show_current();
    void confirm();

    Session& session_;
    QLineEdit* search_;
    QTreeView* list_;
    QStandardItemModel* model_;
    QSortFilterProxyModel* found_;
    QLabel* count_;
    QFrame* asking_;
    QLabel* question_;
    QLineEdit* who_;
    QPushButton* judge_;
    QString asked_id_;
    std::shared_ptr<const Survey> survey_; // what choices_ is of
    std::vector<CriterionChoice> choices_; // a row each
    const io::CriteriaLibrary* library_ = nullptr;
    bool filling_ = false;
};

} // namespace becalm::desktop
