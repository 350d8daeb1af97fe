#include "ui/desktop/scene_painter.h"

#include <QFont>
#include <QFontMetricsF>
#include <QGuiApplication>
#include <QPaintEngine>
#include <QPainterPath>
#include <QPen>
#include <algorithm>
#include <cmath>
#include <map>

#include "ui/desktop/words.h"
#include "ui/figures/measures.h"
#include "ui/figures/thinning.h"

namespace becalm::desktop {
namespace {

using figures::Anchor;
using figures::Box;
using figures::Cells;
using figures::Dash;
using figures::Path;
using figures::Stroke;
using figures::Words;

// Qt's rasteriser looks through all edges of a path that cross a row of pixels, for each of them: a dense curve in one
// path takes the square of its points. In pieces it takes their number.
constexpr std::size_t points_a_piece = 32, points_in_one = 400;
constexpr double least_slab_px = 1.0;
constexpr double dense_travel = 24.0; // px up and down for each px across

QFont font_of(double size_px, bool bold)
{
    QFont font = QGuiApplication::font();
    font.setPixelSize(std::max(1, static_cast<int>(std::lround(size_px))));
    font.setBold(bold);
    font.setHintingPreference(QFont::PreferNoHinting); // the same widths at every scale
    return font;
}

class ScenePainter {
public:
    ScenePainter(QPainter& painter, Ground ground) : painter_(painter), ground_(ground) {}

    void draw(const Box& box)
    {
        pen(box.edge);
        brush(box.fill);
        painter_.drawRect(QRectF(box.rect.left, box.rect.top, box.rect.width, box.rect.height));
    }

    void draw(const Path& path)
    {
        pen(path.edge);
        brush(path.fill);
        if (!path.closed && !path.fill) { // many points: no path object needed
            // A solid line is its pieces.
            const bool in_pieces = path.edge && path.edge->dash == Dash::solid && is_raster();
            for (const auto& run : path.runs) {
                points_.clear();
                for (const figures::Point& point : run) points_.emplace_back(point.x, point.y);
                const bool dense = in_pieces && is_dense(run);
                if (dense) {
                    painter_.setRenderHint(QPainter::Antialiasing, false);
                    QPen thin = painter_.pen();
                    thin.setWidthF(1.0);
                    painter_.setPen(thin);
                }
                const std::size_t piece = in_pieces ? points_a_piece : points_.size();
                for (std::size_t from = 0; from + 1 < points_.size(); from += piece - 1)
                    painter_.drawPolyline(points_.data() + from,
                                          static_cast<int>(std::min(piece, points_.size() - from)));
                if (dense) {
                    painter_.setRenderHint(QPainter::Antialiasing);
                    pen(path.edge);
                }
            }
            return;
        }
        if (path.closed && !path.edge && is_raster() && points_in(path) > points_in_one) {
            for (const auto& run : path.runs) fill_in_slabs(run);
            return;
        }
        QPainterPath whole;
        for (const auto& run : path.runs) {
            if (run.empty()) continue;
            whole.moveTo(run.front().x, run.front().y);
            for (std::size_t i = 1; i < run.size(); ++i) whole.lineTo(run[i].x, run[i].y);
            if (path.closed) whole.closeSubpath();
        }
        painter_.drawPath(whole);
    }

    void draw(const Cells& cells)
    {
        const std::size_t columns = cells.x_edges.empty() ? 0 : cells.x_edges.size() - 1;
        const std::size_t rows = cells.y_edges.empty() ? 0 : cells.y_edges.size() - 1;
        painter_.setPen(Qt::NoPen);
        for (std::size_t j = 0; j < rows; ++j)
            for (std::size_t i = 0; i < columns;) {
                const std::size_t from = i;
                const std::uint8_t level = cells.levels[j * columns + from];
                while (i < columns && cells.levels[j * columns + i] == level) ++i;
                if (level == Cells::empty_cell) continue;
                painter_.fillRect(QRectF(cells.x_edges[from], cells.y_edges[j], cells.x_edges[i] - cells.x_edges[from],
                                         cells.y_edges[j + 1] - cells.y_edges[j]),
                                  colour_on(cells.colours[level], ground_));
            }
    }

    void draw(const Words& words)
    {
        painter_.setFont(font_of(words.size_px, words.bold));
        painter_.setPen(colour_on(words.colour, ground_));
        const QString text = shown(words.text);
        double left = words.at.x;
        if (words.anchor != Anchor::start) {
            const double width = QFontMetricsF(painter_.font()).horizontalAdvance(text);
            left -= words.anchor == Anchor::middle ? width / 2.0 : width;
        }
        painter_.drawText(QPointF(left, words.at.y), text);
    }

private:
    bool is_raster() const
    {
        return painter_.paintEngine() != nullptr && painter_.paintEngine()->type() == QPaintEngine::Raster;
    }

    static std::size_t points_in(const Path& path)
    {
        std::size_t count = 0;
        for (const auto& run : path.runs) count += run.size();
        return count;
    }

    // Cut between whole pixels, so that the joints are not seen.
    void fill_in_slabs(const std::vector<figures::Point>& run)
    {
        if (run.empty()) return;
        const auto [least, greatest] = std::ranges::minmax(run, {}, &figures::Point::x);
        const auto [top, bottom] = std::ranges::minmax(run, {}, &figures::Point::y);
        const double from = std::floor(least.x), to = std::ceil(greatest.x), middle = std::round((from + to) / 2.0);
        if (run.size() <= points_a_piece || middle - from < least_slab_px) {
            points_.clear();
            for (const figures::Point& point : run) points_.emplace_back(point.x, point.y);
            painter_.drawPolygon(points_.data(), static_cast<int>(points_.size()));
            return;
        }
        const double height = bottom.y - top.y;
        fill_in_slabs(figures::clipped_area(run, {from, top.y, middle - from, height}));
        fill_in_slabs(figures::clipped_area(run, {middle, top.y, to - middle, height}));
    }

    // Up and down across many pixels in each column, as a curve of noise does: no edge of it is seen by itself.
    static bool is_dense(const std::vector<figures::Point>& run)
    {
        if (run.size() < points_in_one) return false;
        double travel = 0.0;
        for (std::size_t i = 1; i < run.size(); ++i) travel += std::abs(run[i].y - run[i - 1].y);
        return travel > dense_travel * std::abs(run.back().x - run.front().x);
    }

    void pen(const std::optional<Stroke>& stroke)
    {
        if (!stroke) {
            painter_.setPen(Qt::NoPen);
            return;
        }
        QPen pen(colour_on(stroke->colour, ground_), stroke->width_px);
        pen.setCapStyle(Qt::FlatCap);
        pen.setJoinStyle(Qt::RoundJoin);
        switch (stroke->dash) {
        case Dash::dashed: pen.setDashPattern({5.0, 3.0}); break;
        case Dash::dotted: pen.setDashPattern({1.0, 2.0}); break;
        case Dash::dash_dot: pen.setDashPattern({6.0, 3.0, 1.0, 3.0}); break;
        case Dash::solid: break;
        }
        painter_.setPen(pen);
    }

    void brush(const std::optional<figures::Colour>& fill)
    {
        if (fill)
            painter_.setBrush(colour_on(*fill, ground_));
        else
            painter_.setBrush(Qt::NoBrush);
    }

    QPainter& painter_;
    Ground ground_;
    std::vector<QPointF> points_;
};

} // namespace

QColor colour_on(figures::Colour colour, Ground ground)
{
    const QColor own(colour.red, colour.green, colour.blue);
    if (ground == Ground::light) return own;
    if (ground == Ground::contrast) {
        using figures::Ink;
        const auto ink = [](Ink which) { return colour_on(figures::colour_of(which), Ground::light); };
        if (colour == figures::colour_of(Ink::quiet)) return ink(Ink::text);
        if (colour == figures::colour_of(Ink::hairline)) return ink(Ink::quiet);
        return own;
    }
    float hue = 0.0F, saturation = 0.0F, lightness = 0.0F;
    own.getHslF(&hue, &saturation, &lightness);
    // White becomes a deep grey rather than black, black a soft white.
    constexpr float darkest = 0.11F, span = 0.81F;
    return QColor::fromHslF(hue, saturation, darkest + span * (1.0F - lightness));
}

figures::TextWidth painted_width()
{
    return [](std::string_view text, double size_px, bool bold) {
        return QFontMetricsF(font_of(size_px, bold)).horizontalAdvance(shown(text));
    };
}

void paint(QPainter& painter, const figures::Scene& scene, Ground ground)
{
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setRenderHint(QPainter::TextAntialiasing);
    ScenePainter each(painter, ground);
    for (const figures::Item& item : scene.items) std::visit([&](const auto& shape) { each.draw(shape); }, item.shape);
    painter.restore();
}

} // namespace becalm::desktop
