#include "ui/desktop/band_glyph.h"

#include <QPalette>
#include <algorithm>

namespace becalm::desktop {
namespace {

constexpr std::size_t most_boxes = 12; // more would not be told apart; the last stands for all above

double box_width(double height_px) { return std::max(4.0, height_px * 0.55); }

std::size_t boxes_of(const BandPlace& place)
{
    return place.state == BandPlace::State::in_band ? std::min(place.bands, most_boxes) : 3;
}

figures::Colour plain_colour(const QColor& colour)
{
    return {static_cast<std::uint8_t>(colour.red()), static_cast<std::uint8_t>(colour.green()),
            static_cast<std::uint8_t>(colour.blue())};
}

} // namespace

Ground ground_of(const QPalette& palette)
{
    return palette.color(QPalette::Window).lightnessF() < 0.5F ? Ground::dark : Ground::light;
}

QColor tone_of(const BandPlace& place, Ground ground)
{
    if (place.state != BandPlace::State::in_band) return {};
    return colour_on(figures::sequential(place.band, std::max<std::size_t>(place.bands, 2)), ground);
}

QColor ink_on(const QColor& fill)
{
    const figures::Colour under = plain_colour(fill);
    constexpr figures::Colour black{0, 0, 0}, white{255, 255, 255};
    return figures::contrast(under, black) >= figures::contrast(under, white) ? QColor(Qt::black) : QColor(Qt::white);
}

double glyph_width(const BandPlace& place, double height_px)
{
    if (place.state == BandPlace::State::nothing) return 0.0;
    return static_cast<double>(boxes_of(place)) * (box_width(height_px) + 1.0);
}

void paint_glyph(QPainter& painter, const QPointF& top_left, double height_px, const BandPlace& place,
                 const QColor& ink)
{
    if (place.state == BandPlace::State::nothing) return;
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing, false);
    painter.setPen(QPen(ink, 1.0));
    const double width = box_width(height_px);
    if (place.state != BandPlace::State::in_band) {
        const QRectF whole(top_left.x(), top_left.y(), glyph_width(place, height_px) - 1.0, height_px - 3.0);
        painter.setBrush(place.state == BandPlace::State::cannot_be_judged ? QBrush(ink, Qt::BDiagPattern)
                                                                           : QBrush(Qt::NoBrush));
        painter.drawRect(whole);
        painter.restore();
        return;
    }
    const std::size_t boxes = boxes_of(place);
    const auto shown_box = [&](std::size_t band) { return std::min(band, boxes - 1); };
    for (std::size_t i = 0; i < boxes; ++i) {
        const double left = top_left.x() + static_cast<double>(i) * (width + 1.0);
        painter.setBrush(i == shown_box(place.band) ? QBrush(ink) : QBrush(Qt::NoBrush));
        painter.drawRect(QRectF(left, top_left.y(), width - 1.0, height_px - 4.0));
        if (place.exceeds_from < place.bands && i >= shown_box(place.exceeds_from))
            painter.drawLine(QPointF(left, top_left.y() + height_px - 1.0),
                             QPointF(left + width - 1.0, top_left.y() + height_px - 1.0));
    }
    painter.restore();
}

} // namespace becalm::desktop
