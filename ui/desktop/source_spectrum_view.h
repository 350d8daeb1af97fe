// A spectrum whose source lines can be drawn along the frequency axis with the mouse, and in which a frequency can be
// marked. Markers count as the figure's first panel has them.
#pragma once

#include "ui/desktop/figure_view.h"

namespace becalm::desktop {

class SourceSpectrumView final : public FigureView {
    Q_OBJECT

public:
    using FigureView::FigureView;

    void mark(std::optional<double> hz);
    std::optional<double> marked() const { return marked_; }

    // px of a marker on the frequency axis; nothing where it lies outside.
    std::optional<double> place_of(std::size_t marker);

signals:
    void line_taken(std::size_t marker);           // the mouse holds it from now on
    void line_drawn(double from_hz, double to_hz); // of the line taken: since it was taken
    void line_left();

protected:
    void paintEvent(QPaintEvent* event) override;
    void mousePressEvent(QMouseEvent* event) override;
    void mouseMoveEvent(QMouseEvent* event) override;
    void mouseReleaseEvent(QMouseEvent* event) override;

private:
    std::optional<std::size_t> marker_at(const QPointF& at);
    const figures::Plot* plot();

    std::optional<double> marked_;
    std::optional<double> taken_hz_; // where the line was when it was taken
};

} // namespace becalm::desktop
