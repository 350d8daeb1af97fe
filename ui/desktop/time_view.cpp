#include "ui/desktop/time_view.h"

#include <QKeyEvent>
#include <QMouseEvent>
#include <QPainter>
#include <QWheelEvent>
#include <algorithm>
#include <cmath>
#include <utility>

#include "ui/desktop/words.h"

namespace becalm::desktop {
namespace {

constexpr double zoom_step = 2.0, pan_step = 0.25;
constexpr double dot_px = 2.4;   // radius
constexpr double least_px = 3.0; // of a span that is to be seen

QColor with_alpha(QColor colour, int alpha)
{
    colour.setAlpha(alpha);
    return colour;
}

} // namespace

TimeView::TimeView(QWidget* parent) : FigureView(parent) { set_spans_draggable(true); }

void TimeView::set_selection(std::optional<TimeSpan> selection)
{
    selection_ = selection;
    update();
}

void TimeView::set_window(std::optional<TimeSpan> window)
{
    window_ = window;
    update();
}

void TimeView::set_events(std::vector<EventSpan> events)
{
    events_ = std::move(events);
    update();
}

void TimeView::set_left_out(std::vector<ExcludedSpan> spans)
{
    left_out_ = std::move(spans);
    update();
}

void TimeView::set_dots(std::vector<QPointF> dots)
{
    dots_ = std::move(dots);
    update();
}

int TimeView::columns() const
{
    return static_cast<int>(std::ceil(width_of_plot_ > 0.0 ? width_of_plot_ : std::max(100, width() - 120)));
}

const figures::PlotArea* TimeView::area()
{
    const auto& areas = scene().areas;
    return areas.empty() ? nullptr : &areas.front();
}

double TimeView::seconds_of(double px)
{
    const figures::PlotArea* plot = area();
    if (plot == nullptr) return 0.0;
    return plot->x.value(std::clamp(px, plot->rect.left, plot->rect.right()));
}

// Space and the letters are taken before a shortcut of the window has them, while this view has the focus.
bool TimeView::event(QEvent* event)
{
    if (event->type() == QEvent::ShortcutOverride) {
        const auto* key = static_cast<QKeyEvent*>(event);
        if (key->modifiers() == Qt::NoModifier && (key->key() == Qt::Key_Space || key->key() == Qt::Key_X)) {
            event->accept();
            return true;
        }
    }
    return FigureView::event(event);
}

void TimeView::paintEvent(QPaintEvent* event)
{
    FigureView::paintEvent(event);
    const figures::PlotArea* plot = area();
    if (plot == nullptr) return;
    width_of_plot_ = plot->rect.width;
    QPainter painter(this);
    const QRectF box(plot->rect.left, plot->rect.top, plot->rect.width, plot->rect.height);
    painter.setClipRect(box.adjusted(-1, -1, 1, 1));
    const auto between = [&](double from_s, double to_s) {
        double left = plot->x.px(from_s), right = plot->x.px(to_s);
        if (right - left < least_px) {
            left = (left + right - least_px) / 2.0;
            right = left + least_px;
        }
        return QRectF(left, box.top(), right - left, box.height());
    };
    const auto is_seen = [&](double from_s, double to_s) { return to_s >= plot->x.from && from_s <= plot->x.to; };

    for (const ExcludedSpan& span : left_out_) {
        if (!is_seen(span.from_s, span.to_s)) continue;
        const QRectF body = between(span.from_s, span.to_s);
        painter.fillRect(body, with_alpha(palette().color(QPalette::Base), 150));
        painter.fillRect(body, QBrush(with_alpha(palette().color(QPalette::Text), 90), Qt::BDiagPattern));
    }
    const QColor ink = colour_on(figures::colour_of(figures::Ink::second), ground());
    for (const EventSpan& each : events_) {
        if (!is_seen(each.from_s, each.to_s)) continue;
        QRectF bar = between(each.from_s, each.to_s);
        bar.setTop(bar.bottom() - 5.0);
        painter.fillRect(bar, ink);
        const QString words = each.title.empty() ? tr("event") : shown(each.title);
        const double left = std::max(bar.left(), box.left()), right = std::min(bar.right(), box.right());
        const QString fitting = painter.fontMetrics().elidedText(words, Qt::ElideRight, static_cast<int>(right - left));
        if (fitting.size() > 2) {
            painter.setPen(palette().color(QPalette::WindowText));
            painter.drawText(QPointF(left + 2.0, bar.top() - 3.0), fitting);
        }
    }
    const QColor highlight = palette().color(QPalette::Highlight);
    if (window_ && !(window_->from_s <= plot->x.from && window_->to_s >= plot->x.to)) {
        const QRectF frame = between(window_->from_s, window_->to_s);
        const QColor shade = with_alpha(palette().color(QPalette::Window), 120);
        painter.fillRect(QRectF(box.topLeft(), QPointF(frame.left(), box.bottom())), shade);
        painter.fillRect(QRectF(QPointF(frame.right(), box.top()), box.bottomRight()), shade);
        painter.setPen(QPen(palette().color(QPalette::WindowText), 1.0));
        painter.setBrush(Qt::NoBrush);
        painter.drawRect(frame.adjusted(0, 0, 0, -1));
    }
    if (selection_ && is_seen(selection_->from_s, selection_->to_s)) {
        const QRectF body = between(selection_->from_s, selection_->to_s);
        painter.fillRect(body, with_alpha(highlight, 60));
        painter.setPen(QPen(highlight, 1.0));
        painter.drawLine(body.topLeft(), body.bottomLeft());
        painter.drawLine(body.topRight(), body.bottomRight());
    }
    if (!dots_.empty()) {
        painter.setRenderHint(QPainter::Antialiasing);
        painter.setPen(Qt::NoPen);
        painter.setBrush(colour_on(figures::colour_of(figures::Ink::first), ground()));
        for (const QPointF& dot : dots_)
            painter.drawEllipse(QPointF(plot->x.px(dot.x()), plot->y.px(dot.y())), dot_px, dot_px);
    }
}

void TimeView::resizeEvent(QResizeEvent* event)
{
    width_of_plot_ = 0.0;
    FigureView::resizeEvent(event);
    emit resized();
}

void TimeView::wheelEvent(QWheelEvent* event)
{
    const QPoint turn = event->angleDelta();
    const bool across = std::abs(turn.x()) > std::abs(turn.y());
    if (across || event->modifiers() & Qt::ShiftModifier)
        emit step_wanted(-(across ? turn.x() : turn.y()) / 120.0 * pan_step);
    else if (turn.y() != 0)
        emit zoom_wanted(seconds_of(event->position().x()), std::pow(zoom_step, turn.y() / 240.0));
    event->accept();
}

void TimeView::mousePressEvent(QMouseEvent* event)
{
    if (event->button() == Qt::MiddleButton || (event->button() == Qt::LeftButton && space_down_)) {
        panned_from_ = event->position().x();
        setCursor(Qt::ClosedHandCursor);
        return;
    }
    FigureView::mousePressEvent(event);
}

void TimeView::mouseMoveEvent(QMouseEvent* event)
{
    if (!panned_from_) {
        FigureView::mouseMoveEvent(event);
        return;
    }
    const double px = event->position().x();
    const double by_s = seconds_of(*panned_from_) - seconds_of(px);
    space_moved_ = true;
    panned_from_ = px;
    // A window drawn here is dragged along, a curve moves under the hand.
    emit move_wanted(window_ ? -by_s : by_s);
}

void TimeView::mouseReleaseEvent(QMouseEvent* event)
{
    if (std::exchange(panned_from_, std::nullopt)) {
        unsetCursor();
        return;
    }
    FigureView::mouseReleaseEvent(event);
}

void TimeView::keyPressEvent(QKeyEvent* event)
{
    if (event->modifiers() & (Qt::ControlModifier | Qt::AltModifier)) {
        FigureView::keyPressEvent(event);
        return;
    }
    switch (event->key()) {
    case Qt::Key_Left: emit step_wanted(-pan_step); break;
    case Qt::Key_Right: emit step_wanted(pan_step); break;
    case Qt::Key_PageUp: emit step_wanted(-1.0); break;
    case Qt::Key_PageDown: emit step_wanted(1.0); break;
    case Qt::Key_Plus:
    case Qt::Key_Equal: emit zoom_wanted(std::nullopt, zoom_step); break;
    case Qt::Key_Minus: emit zoom_wanted(std::nullopt, 1.0 / zoom_step); break;
    case Qt::Key_Home: emit beginning_wanted(); break;
    case Qt::Key_End: emit end_wanted(); break;
    case Qt::Key_X: emit leave_out_wanted(); break;
    case Qt::Key_Space:
        if (!event->isAutoRepeat()) {
            space_down_ = true;
            space_moved_ = false;
        }
        break;
    default: FigureView::keyPressEvent(event);
    }
}

// Space plays, unless it was held down to drag.
void TimeView::keyReleaseEvent(QKeyEvent* event)
{
    if (event->key() != Qt::Key_Space || event->isAutoRepeat()) {
        FigureView::keyReleaseEvent(event);
        return;
    }
    if (std::exchange(space_down_, false) && !space_moved_) emit play_wanted();
}

} // namespace becalm::desktop
