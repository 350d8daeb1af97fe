#include "ui/desktop/plan_view.h"

#include <QApplication>
#include <QDragEnterEvent>
#include <QFontMetricsF>
#include <QKeyEvent>
#include <QMimeData>
#include <QMouseEvent>
#include <QPainter>
#include <QWheelEvent>
#include <algorithm>
#include <cmath>

#include "ui/desktop/band_glyph.h"
#include "ui/desktop/space_tree_model.h"
#include "ui/desktop/words.h"

namespace becalm::desktop {
namespace {

constexpr double greatest_zoom = 40.0;
constexpr double zoom_octaves = 1.0 / 3.0; // of a notch of the wheel, of a key
constexpr double margin_px = 8.0, pad_px = 4.0, widest_words_px = 150.0;

double glyph_height(const QFontMetricsF& metrics) { return std::round(metrics.ascent()); }

// What a plate says below the name.
QString band_line(const PlanMark& mark, const QFontMetricsF& metrics)
{
    return metrics.elidedText(mark.band, Qt::ElideRight, widest_words_px);
}
QString name_line(const PlanMark& mark, const QFontMetricsF& bold)
{
    return bold.elidedText(mark.words, Qt::ElideRight, widest_words_px);
}

QFont bold_of(QFont font)
{
    font.setBold(true);
    return font;
}

PlanPlace inside(PlanPlace place)
{
    // A thousandth of a plan is nearer than anybody points; the file stays readable.
    const auto kept = [](double share) { return std::round(std::clamp(share, 0.0, 1.0) * 1e4) / 1e4; };
    return {kept(place.x), kept(place.y)};
}

} // namespace

PlanView::PlanView(QWidget* parent) : QWidget(parent)
{
    setMouseTracking(true);
    setFocusPolicy(Qt::StrongFocus);
    setMinimumSize(220, 160);
    setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Expanding);
    setAccessibleName(tr("Plan with the spaces"));
}

void PlanView::show_picture(std::shared_ptr<const PlanPicture> picture, bool shows_all)
{
    picture_ = std::move(picture);
    if (shows_all) {
        zoom_ = 1.0;
        centre_ = {0.5, 0.5};
    }
    forget_layout();
}

void PlanView::show_marks(std::vector<PlanMark> marks, const std::string& chosen)
{
    marks_ = std::move(marks);
    chosen_ = chosen;
    // What is chosen is seen, whatever lies around it.
    std::ranges::stable_partition(marks_, [&](const PlanMark& mark) { return mark.space == chosen_; });
    QStringList told;
    for (const PlanMark& mark : marks_) told << mark.readout;
    setAccessibleDescription(told.join(QStringLiteral("; ")));
    forget_layout();
}

void PlanView::set_placing(bool placing)
{
    placing_ = placing;
    setAcceptDrops(placing);
}

void PlanView::forget_layout()
{
    plates_.clear();
    update();
}

QSizeF PlanView::sheet() const
{
    return !picture_ || picture_->image.isNull() ? QSizeF(400.0, 300.0) : QSizeF(picture_->image.size());
}

QRectF PlanView::ground() const
{
    const QSizeF room(std::max(1.0, width() - 2.0 * margin_px), std::max(1.0, height() - 2.0 * margin_px));
    const QSizeF size = sheet().scaled(room, Qt::KeepAspectRatio) * zoom_;
    return {width() / 2.0 - centre_.x() * size.width(), height() / 2.0 - centre_.y() * size.height(), size.width(),
            size.height()};
}

QPointF PlanView::at(const PlanPlace& place) const
{
    const QRectF on = ground();
    return {on.left() + place.x * on.width(), on.top() + place.y * on.height()};
}

PlanPlace PlanView::place_at(const QPointF& point) const
{
    const QRectF on = ground();
    return {(point.x() - on.left()) / on.width(), (point.y() - on.top()) / on.height()};
}

void PlanView::zoom_by(double factor, const QPointF& about)
{
    const PlanPlace before = place_at(about);
    zoom_ = std::clamp(zoom_ * factor, 1.0, greatest_zoom);
    const PlanPlace after = place_at(about);
    centre_ += QPointF(before.x - after.x, before.y - after.y);
    move_by({});
}

void PlanView::move_by(const QPointF& by)
{
    const QRectF on = ground();
    centre_ -= QPointF(by.x() / on.width(), by.y() / on.height());
    const auto kept = [](double share) { return std::clamp(share, 0.0, 1.0); };
    centre_ = zoom_ <= 1.0 ? QPointF(0.5, 0.5) : QPointF(kept(centre_.x()), kept(centre_.y()));
    forget_layout();
}

void PlanView::lay_out()
{
    if (plates_.size() == marks_.size()) return;
    const QFontMetricsF metrics(font()), bold(bold_of(font()));
    std::vector<PlateWish> wishes;
    wishes.reserve(marks_.size());
    for (const PlanMark& mark : marks_) {
        const double glyph = glyph_height(metrics), across = glyph_width(mark.verdict, glyph);
        const double second =
            across + (across > 0.0 ? pad_px : 0.0) + metrics.horizontalAdvance(band_line(mark, metrics));
        const double wide = std::max(bold.horizontalAdvance(name_line(mark, bold)), second) + 2.0 * pad_px + 2.0;
        wishes.push_back({at(mark.place), QSizeF(std::ceil(wide), std::ceil(2.0 * metrics.height() + 2.0 * pad_px)),
                          QSizeF(std::ceil(std::max(across, glyph) + 2.0 * pad_px), std::ceil(glyph + 2.0 * pad_px))});
    }
    plates_ = lay_out_plates(wishes, QRectF(rect()));
}

QRectF PlanView::plate_of(const std::string& space)
{
    lay_out();
    for (std::size_t i = 0; i < marks_.size(); ++i)
        if (marks_[i].space == space) return plates_[i].rect;
    return {};
}

const PlanMark* PlanView::mark_at(const QPointF& point)
{
    lay_out();
    for (std::size_t i = 0; i < marks_.size(); ++i)
        if (plates_[i].rect.contains(point)) return &marks_[i];
    return nullptr;
}

void PlanView::paint_plate(QPainter& painter, const PlanMark& mark, const Plate& plate)
{
    const bool is_chosen = mark.space == chosen_;
    const QColor tone = tone_of(mark.verdict, ground_of(palette()));
    const QColor fill = tone.isValid() ? tone : palette().color(QPalette::Base);
    const QColor ink = ink_on(fill);
    const QRectF rect = plate.rect;
    painter.setBrush(fill);
    painter.setPen(QPen(ink_on(palette().color(QPalette::Window)), 1.0));
    painter.drawRect(rect);
    if (mark.verdict.state == BandPlace::State::cannot_be_judged) {
        QColor hatch = ink;
        hatch.setAlpha(70); // words stand on it
        painter.fillRect(rect, QBrush(hatch, Qt::BDiagPattern));
    }
    if (is_chosen) {
        // Two lines, dark and light, so that it shows on any plan.
        painter.setBrush(Qt::NoBrush);
        painter.setPen(QPen(Qt::white, 6.0));
        painter.drawRect(rect.adjusted(-3.0, -3.0, 3.0, 3.0));
        painter.setPen(QPen(Qt::black, 3.0));
        painter.drawRect(rect.adjusted(-3.0, -3.0, 3.0, 3.0));
    }
    const QFontMetricsF metrics(font()), bold(bold_of(font()));
    const double glyph = glyph_height(metrics);
    if (!plate.has_words) {
        const double across = glyph_width(mark.verdict, glyph);
        paint_glyph(painter, {rect.center().x() - across / 2.0, rect.center().y() - glyph / 2.0}, glyph, mark.verdict,
                    ink);
        return;
    }
    painter.setPen(ink);
    painter.setFont(bold_of(font()));
    const double left = rect.left() + pad_px + 1.0, first = rect.top() + pad_px + metrics.ascent();
    painter.drawText(QPointF(left, first), name_line(mark, bold));
    painter.setFont(font());
    const double second = first + metrics.height();
    paint_glyph(painter, {left, second - glyph + 2.0}, glyph, mark.verdict, ink);
    const double across = glyph_width(mark.verdict, glyph);
    painter.setPen(ink);
    painter.drawText(QPointF(left + across + (across > 0.0 ? pad_px : 0.0), second), band_line(mark, metrics));
}

void PlanView::paintEvent(QPaintEvent*)
{
    QPainter painter(this);
    painter.fillRect(rect(), palette().color(QPalette::Mid));
    const QRectF on = ground();
    painter.fillRect(on, Qt::white);
    painter.setRenderHint(QPainter::SmoothPixmapTransform);
    if (picture_ && !picture_->image.isNull()) {
        // The smallest that has a pixel for each of the screen: shrinking by more than half loses thin walls.
        const QImage* image = &picture_->image;
        for (const QImage& smaller : picture_->smaller)
            if (smaller.width() >= on.width() * devicePixelRatioF()) image = &smaller;
        painter.drawImage(on, *image);
    }
    lay_out();
    // The most important last, so that it lies on top.
    for (std::size_t i = marks_.size(); i-- > 0;) {
        Plate plate = plates_[i];
        if (held_at_ && marks_[i].space == held_) plate.rect.translate(*held_at_ - at(marks_[i].place));
        if (plate.rect.intersects(QRectF(rect()))) paint_plate(painter, marks_[i], plate);
    }
    if (hasFocus()) {
        painter.setBrush(Qt::NoBrush);
        painter.setPen(QPen(palette().color(QPalette::Highlight), 2.0));
        painter.drawRect(QRectF(rect()).adjusted(1, 1, -1, -1));
    }
}

void PlanView::resizeEvent(QResizeEvent* event)
{
    forget_layout();
    QWidget::resizeEvent(event);
}

void PlanView::changeEvent(QEvent* event)
{
    if (event->type() == QEvent::FontChange || event->type() == QEvent::PaletteChange) forget_layout();
    QWidget::changeEvent(event);
}

void PlanView::mousePressEvent(QMouseEvent* event)
{
    if (event->button() != Qt::LeftButton) return QWidget::mousePressEvent(event);
    pressed_ = event->position();
    const PlanMark* mark = mark_at(event->position());
    held_ = mark != nullptr ? mark->space : std::string();
}

void PlanView::mouseMoveEvent(QMouseEvent* event)
{
    const QPointF point = event->position();
    if (!pressed_ || !(event->buttons() & Qt::LeftButton)) {
        const PlanMark* mark = mark_at(point);
        setCursor(mark != nullptr ? Qt::PointingHandCursor : Qt::ArrowCursor);
        emit hovered(mark != nullptr ? mark->readout : QString());
        return;
    }
    const QPointF by = point - *pressed_;
    const bool begins = by.manhattanLength() >= QApplication::startDragDistance();
    if (held_.empty()) {
        if (!begins && cursor().shape() != Qt::ClosedHandCursor) return;
        setCursor(Qt::ClosedHandCursor);
        move_by(by);
        pressed_ = point;
    } else if (placing_ && (begins || held_at_)) {
        setCursor(Qt::ClosedHandCursor);
        for (const PlanMark& mark : marks_)
            if (mark.space == held_) held_at_ = at(mark.place) + by;
        update();
    }
}

void PlanView::mouseReleaseEvent(QMouseEvent* event)
{
    if (event->button() != Qt::LeftButton) return QWidget::mouseReleaseEvent(event);
    const std::string held = std::exchange(held_, {});
    const auto held_at = std::exchange(held_at_, std::nullopt);
    pressed_.reset();
    setCursor(Qt::ArrowCursor);
    update();
    if (held.empty()) return;
    if (held_at)
        emit space_placed(held, inside(place_at(*held_at)));
    else
        emit space_clicked(held);
}

void PlanView::mouseDoubleClickEvent(QMouseEvent* event)
{
    if (const PlanMark* mark = mark_at(event->position())) emit space_activated(std::string(mark->space));
}

void PlanView::leaveEvent(QEvent* event)
{
    emit hovered({});
    QWidget::leaveEvent(event);
}

void PlanView::wheelEvent(QWheelEvent* event)
{
    constexpr double notch = 120.0; // eighths of a degree, 15 degrees
    zoom_by(std::exp2(zoom_octaves * event->angleDelta().y() / notch), event->position());
    event->accept();
}

void PlanView::nudge(int key, bool fine)
{
    const double step = fine ? 0.001 : 0.01;
    for (const PlanMark& mark : marks_) {
        if (mark.space != chosen_) continue;
        PlanPlace place = mark.place;
        if (key == Qt::Key_Left) place.x -= step;
        if (key == Qt::Key_Right) place.x += step;
        if (key == Qt::Key_Up) place.y -= step;
        if (key == Qt::Key_Down) place.y += step;
        emit space_placed(std::string(mark.space), inside(place));
        return;
    }
}

void PlanView::keyPressEvent(QKeyEvent* event)
{
    const bool is_arrow = event->key() == Qt::Key_Left || event->key() == Qt::Key_Right || event->key() == Qt::Key_Up ||
                          event->key() == Qt::Key_Down;
    if (is_arrow && event->modifiers() & Qt::AltModifier) {
        if (placing_) nudge(event->key(), event->modifiers() & Qt::ShiftModifier);
        return;
    }
    constexpr double step_px = 40.0;
    const QPointF middle = QRectF(rect()).center();
    switch (event->key()) {
    case Qt::Key_Plus:
    case Qt::Key_Equal: zoom_by(std::exp2(zoom_octaves), middle); break;
    case Qt::Key_Minus: zoom_by(std::exp2(-zoom_octaves), middle); break;
    case Qt::Key_0: zoom_by(1.0 / greatest_zoom, middle); break;
    case Qt::Key_Left: move_by({step_px, 0.0}); break;
    case Qt::Key_Right: move_by({-step_px, 0.0}); break;
    case Qt::Key_Up: move_by({0.0, step_px}); break;
    case Qt::Key_Down: move_by({0.0, -step_px}); break;
    case Qt::Key_Return:
    case Qt::Key_Enter:
        if (!chosen_.empty()) emit space_activated(std::string(chosen_));
        break;
    default: QWidget::keyPressEvent(event);
    }
}

void PlanView::dragEnterEvent(QDragEnterEvent* event)
{
    if (placing_ && event->mimeData()->hasFormat(QString::fromLatin1(space_mime_type))) event->acceptProposedAction();
}

void PlanView::dragMoveEvent(QDragMoveEvent* event)
{
    if (ground().contains(event->position()))
        event->acceptProposedAction();
    else
        event->ignore();
}

void PlanView::dropEvent(QDropEvent* event)
{
    const QByteArray id = event->mimeData()->data(QString::fromLatin1(space_mime_type));
    if (!placing_ || id.isEmpty() || !ground().contains(event->position())) return;
    event->acceptProposedAction();
    emit space_placed(id.toStdString(), inside(place_at(event->position())));
}

} // namespace becalm::desktop
