// A plan with a plate for each space: its name, its band in words and by place, on the band's tone.
//
// Wheel or + and - zoom, dragging the ground or the arrows move it, 0 shows all of it. A click chooses a space,
// dragging its plate moves it (Alt and an arrow moves the chosen one), a space dropped from the list is placed where it
// falls.
#pragma once

#include <QWidget>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "src/model/survey.h"
#include "ui/desktop/plan_layout.h"
#include "ui/desktop/plan_picture.h"
#include "ui/desktop/verdict_facts.h"

namespace becalm::desktop {

struct PlanMark {
    std::string space = {};
    QString words = {}, band = {}, readout = {};
    PlanPlace place = PlanPlace();
    BandPlace verdict = BandPlace();
};

class PlanView final : public QWidget {
    Q_OBJECT

public:
    explicit PlanView(QWidget* parent = nullptr);

    // null, or without an image: an empty sheet. Another plan (`shows_all`) is shown whole.
    void show_picture(std::shared_ptr<const PlanPicture> picture, bool shows_all);
    void show_marks(std::vector<PlanMark> marks, const std::string& chosen); // most important first
    void set_placing(bool placing);                                          // there is a plan to place spaces on

    const std::vector<PlanMark>& marks() const { return marks_; }
    // Of a space on the view; empty where it has none.
    QRectF plate_of(const std::string& space);
    QPointF at(const PlanPlace& place) const;
    PlanPlace place_at(const QPointF& point) const; // not kept inside 0 to 1
    double zoom() const { return zoom_; }           // 1: the whole plan is seen

    QSize sizeHint() const override { return {480, 400}; }

signals:
    void space_clicked(const std::string& space);
    void space_activated(const std::string& space); // double click, Enter
    void space_placed(const std::string& space, PlanPlace place);
    void hovered(const QString& words);

protected:
    void paintEvent(QPaintEvent* event) override;
    void resizeEvent(QResizeEvent* event) override;
    void mousePressEvent(QMouseEvent* event) override;
    void mouseMoveEvent(QMouseEvent* event) override;
    void mouseReleaseEvent(QMouseEvent* event) override;
    void mouseDoubleClickEvent(QMouseEvent* event) override;
    void leaveEvent(QEvent* event) override;
    void wheelEvent(QWheelEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;
    void dragEnterEvent(QDragEnterEvent* event) override;
    void dragMoveEvent(QDragMoveEvent* event) override;
    void dropEvent(QDropEvent* event) override;
    void changeEvent(QEvent* event) override;

private:
    QSizeF sheet() const;  // of the picture, px
    QRectF ground() const; // where it lies on the view
    void zoom_by(double factor, const QPointF& about);
    void move_by(const QPointF& by);
    void lay_out();
    void forget_layout();
    const PlanMark* mark_at(const QPointF& point);
    void paint_plate(QPainter& painter, const PlanMark& mark, const Plate& plate);
    void nudge(int key, bool fine);

    std::shared_ptr<const PlanPicture> picture_;
    std::vector<PlanMark> marks_;
    std::vector<Plate> plates_; // of marks_; empty: to be laid out
    std::string chosen_;
    QPointF centre_ = {0.5, 0.5}; // of the view, in shares of the plan
    double zoom_ = 1.0;
    bool placing_ = false;
    std::optional<QPointF> pressed_;
    std::string held_;               // space whose plate is held
    std::optional<QPointF> held_at_; // where it is dragged to
};

} // namespace becalm::desktop
