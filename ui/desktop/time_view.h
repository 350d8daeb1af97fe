// A figure over time that can be moved through: wheel and keys zoom and pan, a left drag selects a span. What lies over
// the curves (selection, window, events, single samples, what is being played) is painted here and not part of the
// figure.
#pragma once

#include <QPointF>
#include <QString>
#include <optional>
#include <vector>

#include "src/model/span.h"
#include "ui/desktop/figure_view.h"

namespace becalm::desktop {

class TimeView final : public FigureView {
    Q_OBJECT

public:
    explicit TimeView(QWidget* parent = nullptr);

    void set_selection(std::optional<TimeSpan> selection);
    void set_window(std::optional<TimeSpan> window); // what another view shows of this one
    void set_events(std::vector<EventSpan> events);
    void set_left_out(std::vector<ExcludedSpan> spans); // veiled, where the curve hides the figure's hatching
    void set_dots(std::vector<QPointF> dots);           // in the data's units

    // The width of its plot; a guess before it is laid out.
    int columns() const;

signals:
    void zoom_wanted(std::optional<double> at_s, double factor); // empty: the middle of what is looked at
    void move_wanted(double by_s);
    void step_wanted(double windows); // of what is looked at
    void beginning_wanted();
    void end_wanted();
    void leave_out_wanted();
    void play_wanted();
    void resized();

protected:
    bool event(QEvent* event) override;
    void paintEvent(QPaintEvent* event) override;
    void resizeEvent(QResizeEvent* event) override;
    void wheelEvent(QWheelEvent* event) override;
    void mousePressEvent(QMouseEvent* event) override;
    void mouseMoveEvent(QMouseEvent* event) override;
    void mouseReleaseEvent(QMouseEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;
    void keyReleaseEvent(QKeyEvent* event) override;

private:
    const figures::PlotArea* area();
    double seconds_of(double px);

    std::optional<TimeSpan> selection_, window_;
    std::vector<EventSpan> events_;
    std::vector<ExcludedSpan> left_out_;
    std::vector<QPointF> dots_;
    std::optional<double> panned_from_; // px
    bool space_down_ = false, space_moved_ = false;
    double width_of_plot_ = 0.0;
};

} // namespace becalm::desktop
