// Daily exposures of persons: tasks, durations, A(8), VDV, points.
#pragma once

#include <QComboBox>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QTableWidget>

#include "evaluators/exposure.h"
#include "ui/desktop/day_results.h"
#include "ui/desktop/page.h"
#include "ui/desktop/survey_grid.h"
#include "ui/desktop/task_model.h"

namespace becalm::desktop {

class PeoplePage final : public Page {
    Q_OBJECT

public:
    explicit PeoplePage(Session& session, QWidget* parent = nullptr);

protected:
    void refresh() override;
    void resizeEvent(QResizeEvent* event) override;

private:
    QWidget* make_entry();
    QWidget* make_offer();
    void fill_choices();
    void add_task();
    void show_offer();
    void show_results();

    TaskModel* tasks_;
    SurveyGrid* grid_;
    QLineEdit *person_ = nullptr, *day_ = nullptr, *hours_ = nullptr;
    QComboBox *space_ = nullptr, *position_ = nullptr, *condition_ = nullptr;
    QWidget* offer_ = nullptr;
    QLabel* offer_words_ = nullptr;
    QComboBox* offered_ = nullptr;
    std::vector<evaluators::UnjudgedTask> unjudged_;
    std::vector<evaluators::DailyCriteria> offers_;
    QLabel *state_ = nullptr, *duty_ = nullptr;
    QTableWidget* results_ = nullptr;
};

} // namespace becalm::desktop
