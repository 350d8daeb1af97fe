#include "ui/desktop/source_spectrum_view.h"

#include <QMouseEvent>
#include <QPainter>
#include <algorithm>
#include <cmath>

namespace becalm::desktop {
namespace {

constexpr double reach_px = 5.0; // beside a line that is taken

}

void SourceSpectrumView::mark(std::optional<double> hz)
{
    marked_ = hz;
    update();
}

const figures::Plot* SourceSpectrumView::plot()
{
    const auto& panels = figure().panels;
    return panels.empty() || scene().areas.empty() ? nullptr : std::get_if<figures::Plot>(&panels.front().content);
}

std::optional<double> SourceSpectrumView::place_of(std::size_t marker)
{
    const figures::Plot* plot = this->plot();
    if (plot == nullptr || marker >= plot->markers.size()) return {};
    const figures::PlotArea& area = scene().areas.front();
    const double hz = plot->markers[marker].x;
    if (!area.x.holds(hz)) return {};
    return area.x.px(hz);
}

std::optional<std::size_t> SourceSpectrumView::marker_at(const QPointF& at)
{
    const figures::Plot* plot = this->plot();
    if (plot == nullptr || area_at(at) == nullptr) return {};
    std::optional<std::size_t> nearest;
    double least = reach_px;
    for (std::size_t i = 0; i < plot->markers.size(); ++i)
        if (const auto px = place_of(i); px && std::abs(*px - at.x()) <= least) {
            least = std::abs(*px - at.x());
            nearest = i;
        }
    return nearest;
}

void SourceSpectrumView::paintEvent(QPaintEvent* event)
{
    FigureView::paintEvent(event);
    if (!marked_ || scene().areas.empty()) return;
    const figures::PlotArea& area = scene().areas.front();
    if (!area.x.holds(*marked_)) return;
    const double px = area.x.px(*marked_);
    QPainter painter(this);
    QColor colour = palette().color(QPalette::Highlight);
    colour.setAlpha(90);
    painter.fillRect(QRectF(px - 4.0, area.rect.top, 8.0, area.rect.height), colour);
}

void SourceSpectrumView::mousePressEvent(QMouseEvent* event)
{
    if (event->button() == Qt::LeftButton)
        if (const auto marker = marker_at(event->position())) {
            taken_hz_ = plot()->markers[*marker].x;
            emit line_taken(*marker);
        }
    FigureView::mousePressEvent(event);
}

void SourceSpectrumView::mouseMoveEvent(QMouseEvent* event)
{
    if (taken_hz_ && !scene().areas.empty()) {
        const figures::PlotArea& area = scene().areas.front();
        const double to =
            area.x.value(std::clamp(event->position().x(), area.rect.left + 1.0, area.rect.right() - 1.0));
        if (to > 0.0) emit line_drawn(*taken_hz_, to);
    } else {
        setCursor(marker_at(event->position()) ? Qt::SizeHorCursor : Qt::ArrowCursor);
    }
    FigureView::mouseMoveEvent(event);
}

void SourceSpectrumView::mouseReleaseEvent(QMouseEvent* event)
{
    const bool drew = event->button() == Qt::LeftButton && std::exchange(taken_hz_, std::nullopt).has_value();
    FigureView::mouseReleaseEvent(event);
    if (drew) emit line_left();
}

} // namespace becalm::desktop
