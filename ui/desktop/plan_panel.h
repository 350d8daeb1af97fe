// The plan pictures of a survey: which one is seen, its spaces with their bands, and what is placed where.
#pragma once

#include <QComboBox>
#include <QDateTime>
#include <QLabel>
#include <QPushButton>
#include <QSpinBox>
#include <QWidget>

#include "ui/desktop/latest_task.h"
#include "ui/desktop/plan_picture.h"
#include "ui/desktop/plan_view.h"
#include "ui/desktop/session.h"

namespace becalm::desktop {

class PlanPanel final : public QWidget {
    Q_OBJECT

public:
    explicit PlanPanel(Session& session, QWidget* parent = nullptr);

    void refresh();
    // Writes a [[plan]] for a picture, a drawing or a PDF; nothing is copied.
    bool add_plan(const QString& path);
    bool place(const std::string& space, PlanPlace place); // on the plan that is seen
    bool take_off(const std::string& space);
    bool is_reading() const { return reading_; }
    PlanView& view() { return *view_; }

signals:
    void hovered(const QString& words);
    void amount_wanted();

private:
    struct Loaded {
        QString path = {};
        int page = 1;
        QDateTime changed = {};
        std::string plan = {};

        bool operator==(const Loaded&) const = default;
    };
    struct Read {
        Loaded of = Loaded();
        std::shared_ptr<const PlanPicture> picture = {};
    };

    const Plan* plan() const;
    void fill_plans();
    void load();
    void show_marks();
    void show_words();
    void choose(const std::string& space);
    std::optional<std::size_t> number_of(const std::string& space) const;

    Session& session_;
    QComboBox* plans_;
    QSpinBox* page_;
    QPushButton *add_, *place_, *take_off_;
    QLabel* words_;
    PlanView* view_;
    std::string plan_id_;
    std::string seen_space_; // whose plan was brought up last
    Loaded loaded_;
    std::shared_ptr<const PlanPicture> picture_;
    bool reading_ = false, filling_ = false;
    LatestTask<Read> reader_;
};

} // namespace becalm::desktop
