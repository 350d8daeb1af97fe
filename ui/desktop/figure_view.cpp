#include "ui/desktop/figure_view.h"

#include <QAction>
#include <QBuffer>
#include <QClipboard>
#include <QContextMenuEvent>
#include <QFileDialog>
#include <QFileInfo>
#include <QGuiApplication>
#include <QImage>
#include <QKeyEvent>
#include <QMenu>
#include <QMouseEvent>
#include <QPageSize>
#include <QPainter>
#include <QPdfWriter>
#include <algorithm>
#include <cmath>

#include "src/io/atomic_file.h"
#include "ui/desktop/look.h"
#include "ui/desktop/words.h"
#include "ui/figures/figure_csv.h"
#include "ui/figures/layout.h"
#include "ui/figures/reading.h"
#include "ui/figures/svg.h"

namespace becalm::desktop {
namespace {

constexpr double png_scale = 2.0; // 192 dots an inch

const figures::Plot* plot_of(const figures::Figure& figure, std::size_t panel)
{
    return panel < figure.panels.size() ? std::get_if<figures::Plot>(&figure.panels[panel].content) : nullptr;
}

// As large as the text of the window, where a figure of the least size has room for it. A height of 0: any.
double scale_in(double width_px, double height_px)
{
    constexpr double least_width_px = 240.0, least_height_px = 160.0; // of figures::Figure
    double most = width_px / least_width_px;
    if (height_px > 0.0) most = std::min(most, height_px / least_height_px);
    return std::min(text_scale(), std::max(most, 1.0));
}

QString on_axis(const figures::PlotAxis& axis, double value)
{
    if (axis.kind == figures::AxisKind::time) return number_words(value, 6) + QStringLiteral(" s");
    QString text = number_words(value * axis.numbers.shown_per_unit, 4);
    if (!axis.numbers.unit.empty()) text += QChar(0x00A0) + shown(axis.numbers.unit);
    return text;
}

QImage as_image(const figures::Scene& scene)
{
    QImage image(static_cast<int>(std::ceil(scene.width_px * png_scale)),
                 static_cast<int>(std::ceil(scene.height_px * png_scale)), QImage::Format_RGB32);
    image.fill(Qt::white);
    image.setDotsPerMeterX(static_cast<int>(96.0 * png_scale / 0.0254)); // not a limit: metres to the inch
    image.setDotsPerMeterY(image.dotsPerMeterX());
    QPainter painter(&image);
    painter.scale(png_scale, png_scale);
    paint(painter, scene);
    painter.end();
    return image;
}

QByteArray as_png(const figures::Scene& scene)
{
    QByteArray bytes;
    QBuffer buffer(&bytes);
    buffer.open(QIODevice::WriteOnly);
    as_image(scene).save(&buffer, "PNG");
    return bytes;
}

QByteArray as_pdf(const figures::Scene& scene, const QString& title)
{
    QByteArray bytes;
    QBuffer buffer(&bytes);
    buffer.open(QIODevice::WriteOnly);
    QPdfWriter writer(&buffer);
    writer.setTitle(title);
    writer.setResolution(1200);
    constexpr double points_a_px = 72.0 / 96.0;
    writer.setPageSize(QPageSize(QSizeF(scene.width_px * points_a_px, scene.height_px * points_a_px), QPageSize::Point,
                                 QString(), QPageSize::ExactMatch));
    writer.setPageMargins(QMarginsF(0, 0, 0, 0));
    QPainter painter(&writer);
    painter.scale(1200.0 / 96.0, 1200.0 / 96.0);
    paint(painter, scene);
    painter.end();
    return bytes;
}

} // namespace

FigureView::FigureView(QWidget* parent) : QWidget(parent)
{
    setMouseTracking(true);
    setAccessibleName(tr("no figure"));
    setFocusPolicy(Qt::StrongFocus);
    setMinimumSize(240, 160);
    setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Expanding);
}

void FigureView::show_figure(Maker maker, const QString& name)
{
    maker_ = std::move(maker);
    name_ = name;
    refresh();
}

void FigureView::clear()
{
    maker_ = nullptr;
    refresh();
}

void FigureView::refresh()
{
    figure_.reset();
    scene_.reset();
    picture_ = QPixmap();
    if (natural_) updateGeometry();
    lay_out();
    // What cannot see the picture is told what it shows.
    setAccessibleName(scene_ && !scene_->title.empty() ? shown(scene_->title) : tr("no figure"));
    setAccessibleDescription(scene_ ? shown(scene_->description) : QString());
    update();
}

void FigureView::set_natural_height(bool natural)
{
    natural_ = natural;
    QSizePolicy policy(QSizePolicy::Expanding, natural ? QSizePolicy::Preferred : QSizePolicy::Expanding);
    policy.setHeightForWidth(natural);
    setSizePolicy(policy);
}

void FigureView::lay_out()
{
    if (scene_ || !maker_) return;
    const double scale = scale_in(width(), natural_ ? 0.0 : height());
    figure_ = maker_(width() / scale, natural_ ? 0.0 : height() / scale);
    scene_ = figures::enlarged(figures::laid_out(*figure_, painted_width()), scale);
}

const figures::Scene& FigureView::scene()
{
    lay_out();
    if (!scene_) scene_.emplace();
    return *scene_;
}

const figures::Figure& FigureView::figure()
{
    lay_out();
    if (!figure_) figure_.emplace();
    return *figure_;
}

Ground FigureView::ground() const
{
    if (is_high_contrast(palette())) return Ground::contrast;
    return palette().color(QPalette::Window).lightnessF() < 0.5F ? Ground::dark : Ground::light;
}

QSize FigureView::sizeHint() const { return {640, natural_ ? heightForWidth(std::max(width(), 240)) : 400}; }

int FigureView::heightForWidth(int width) const
{
    if (!natural_ || !maker_) return 160;
    if (scene_ && std::abs(scene_->width_px - width) < 1.0) return static_cast<int>(std::ceil(scene_->height_px));
    const double scale = scale_in(width, 0.0);
    return static_cast<int>(
        std::ceil(figures::laid_out(maker_(width / scale, 0.0), painted_width()).height_px * scale));
}

void FigureView::resizeEvent(QResizeEvent* event)
{
    figure_.reset();
    scene_.reset();
    picture_ = QPixmap();
    QWidget::resizeEvent(event);
}

void FigureView::changeEvent(QEvent* event)
{
    if (event->type() == QEvent::FontChange || event->type() == QEvent::PaletteChange) refresh();
    QWidget::changeEvent(event);
}

void FigureView::paintEvent(QPaintEvent*)
{
    QPainter painter(this);
    lay_out();
    if (!scene_) {
        painter.fillRect(rect(), palette().base());
        return;
    }
    if (const double ratio = devicePixelRatioF(); picture_.isNull() || picture_.devicePixelRatio() != ratio) {
        picture_ = QPixmap(size() * ratio);
        picture_.setDevicePixelRatio(ratio);
        picture_.fill(Qt::transparent);
        QPainter once(&picture_);
        paint(once, *scene_, ground());
    }
    painter.drawPixmap(0, 0, picture_);
    if (dragged_from_ && cursor_) {
        for (const figures::PlotArea& area : scene_->areas)
            if (area.panel == dragged_panel_) {
                const double left =
                    std::clamp(std::min(dragged_from_->x(), cursor_->x()), area.rect.left, area.rect.right());
                const double right =
                    std::clamp(std::max(dragged_from_->x(), cursor_->x()), area.rect.left, area.rect.right());
                QColor colour = palette().color(QPalette::Highlight);
                colour.setAlpha(70);
                painter.fillRect(QRectF(left, area.rect.top, right - left, area.rect.height), colour);
            }
        return;
    }
    if (!cursor_) return;
    if (const figures::PlotArea* area = area_at(*cursor_)) {
        QPen pen(palette().color(QPalette::WindowText), 1.0, Qt::DotLine);
        painter.setPen(pen);
        painter.drawLine(QPointF(cursor_->x(), area->rect.top), QPointF(cursor_->x(), area->rect.bottom()));
        painter.drawLine(QPointF(area->rect.left, cursor_->y()), QPointF(area->rect.right(), cursor_->y()));
    }
}

const figures::PlotArea* FigureView::area_at(const QPointF& at)
{
    for (const figures::PlotArea& area : scene().areas)
        if (at.x() >= area.rect.left && at.x() <= area.rect.right() && at.y() >= area.rect.top &&
            at.y() <= area.rect.bottom())
            return &area;
    return nullptr;
}

std::optional<FigureView::Reading> FigureView::reading_at(const QPointF& at)
{
    const figures::PlotArea* area = area_at(at);
    if (area == nullptr) return std::nullopt;
    return Reading{area->panel, area->x.value(at.x()), area->y.value(at.y())};
}

QString FigureView::words_of(const Reading& reading)
{
    const figures::Plot* plot = plot_of(figure(), reading.panel);
    if (plot == nullptr) return {};
    QString words = on_axis(plot->x, reading.x) + QStringLiteral(", ") + on_axis(plot->y, reading.y);
    if (const auto cell = figures::cell_value(*plot, reading.x, reading.y))
        words += tr("; here %1").arg(on_axis(plot->heat->colour, *cell));
    else if (const auto value = figures::curve_value(*plot, reading.x))
        words += tr("; curve %1").arg(on_axis(plot->y, *value));
    return words;
}

void FigureView::mouseMoveEvent(QMouseEvent* event)
{
    cursor_ = event->position();
    const auto reading = reading_at(*cursor_);
    emit hovered(reading ? words_of(*reading) : QString());
    update();
    QWidget::mouseMoveEvent(event);
}

void FigureView::mousePressEvent(QMouseEvent* event)
{
    if (event->button() == Qt::LeftButton && spans_draggable_)
        if (const figures::PlotArea* area = area_at(event->position())) {
            dragged_from_ = event->position();
            dragged_panel_ = area->panel;
        }
    QWidget::mousePressEvent(event);
}

void FigureView::mouseReleaseEvent(QMouseEvent* event)
{
    QWidget::mouseReleaseEvent(event);
    if (event->button() != Qt::LeftButton) return;
    const auto from = std::exchange(dragged_from_, std::nullopt);
    update();
    if (from && std::abs(event->position().x() - from->x()) >= 4.0) {
        for (const figures::PlotArea& area : scene().areas) {
            if (area.panel != dragged_panel_) continue;
            const auto value = [&](double x) { return area.x.value(std::clamp(x, area.rect.left, area.rect.right())); };
            const double a = value(from->x()), b = value(event->position().x());
            emit span_dragged(area.panel, std::min(a, b), std::max(a, b));
            return;
        }
        return;
    }
    if (const auto reading = reading_at(event->position())) emit clicked_at(reading->panel, reading->x, reading->y);
}

void FigureView::leaveEvent(QEvent* event)
{
    cursor_.reset();
    emit hovered({});
    update();
    QWidget::leaveEvent(event);
}

// The readout by keyboard: arrows move the cursor, with Ctrl by ten pixels.
void FigureView::keyPressEvent(QKeyEvent* event)
{
    const int step = event->modifiers() & Qt::ControlModifier ? 10 : 1;
    QPoint by;
    switch (event->key()) {
    case Qt::Key_Left: by = {-step, 0}; break;
    case Qt::Key_Right: by = {step, 0}; break;
    case Qt::Key_Up: by = {0, -step}; break;
    case Qt::Key_Down: by = {0, step}; break;
    default: QWidget::keyPressEvent(event); return;
    }
    if (scene().areas.empty()) return;
    const figures::Rect& rect = scene().areas.front().rect;
    cursor_ = cursor_ ? *cursor_ + by : QPointF(rect.left + rect.width / 2.0, rect.top + rect.height / 2.0);
    const auto reading = reading_at(*cursor_);
    emit hovered(reading ? words_of(*reading) : QString());
    update();
}

void FigureView::contextMenuEvent(QContextMenuEvent* event)
{
    if (!maker_) return;
    QMenu menu(this);
    add_export_actions(menu);
    menu.exec(event->globalPos());
}

void FigureView::add_export_actions(QMenu& menu)
{
    const auto add = [&](const QString& words, const QString& suffix, const QString& filter) {
        connect(menu.addAction(words), &QAction::triggered, this, [this, suffix, filter] {
            const QString path = QFileDialog::getSaveFileName(this, tr("Write the figure to"), name_ + suffix, filter);
            if (!path.isEmpty()) export_to(path);
        });
    };
    add(tr("Write as SVG…"), QStringLiteral(".svg"), tr("Drawing (*.svg)"));
    add(tr("Write as PNG…"), QStringLiteral(".png"), tr("Picture (*.png)"));
    add(tr("Write as PDF…"), QStringLiteral(".pdf"), tr("Page (*.pdf)"));
    add(tr("Write its numbers as CSV…"), QStringLiteral(".csv"), tr("Table (*.csv)"));
    menu.addSeparator();
    connect(menu.addAction(tr("Copy the figure")), &QAction::triggered, this, &FigureView::copy_picture);
    connect(menu.addAction(tr("Copy its numbers")), &QAction::triggered, this, &FigureView::copy_numbers);
}

// As large as in a report, whatever the window's size.
figures::Figure FigureView::figure_for_file() const { return maker_(800.0, natural_ ? 0.0 : 500.0); }

void FigureView::copy_picture()
{
    if (maker_) QGuiApplication::clipboard()->setImage(as_image(figures::laid_out(figure_for_file(), painted_width())));
}

void FigureView::copy_numbers()
{
    if (maker_) QGuiApplication::clipboard()->setText(shown(figures::csv_of(figure_for_file())));
}

bool FigureView::export_to(const QString& path)
{
    if (!maker_) return false;
    const QString suffix = QFileInfo(path).suffix().toLower();
    const figures::Figure whole = figure_for_file();
    std::string content;
    if (suffix == QStringLiteral("svg")) {
        content = figures::svg_of(whole);
    } else if (suffix == QStringLiteral("csv")) {
        content = figures::csv_of(whole);
    } else if (suffix == QStringLiteral("png") || suffix == QStringLiteral("pdf")) {
        const figures::Scene scene = figures::laid_out(whole, painted_width());
        const QByteArray bytes = suffix == QStringLiteral("png") ? as_png(scene) : as_pdf(scene, shown(whole.title));
        content.assign(bytes.constData(), static_cast<std::size_t>(bytes.size()));
    } else {
        emit could_not_export(
            tr("%1: a figure is written as .svg, .png, .pdf or .csv; end the name with one of them").arg(path));
        return false;
    }
    if (const auto written = io::write_file_atomically(plain(path), content); !written) {
        emit could_not_export(problem_words(written.error()));
        return false;
    }
    return true;
}

} // namespace becalm::desktop
