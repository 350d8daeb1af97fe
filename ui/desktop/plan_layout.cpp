#include "ui/desktop/plan_layout.h"

#include <algorithm>
#include <array>

namespace becalm::desktop {
namespace {

QRectF around(const QPointF& at, const QSizeF& size)
{
    return {at.x() - size.width() / 2.0, at.y() - size.height() / 2.0, size.width(), size.height()};
}

// The plate on its place, then shifted so that the mark stays at one of its edges.
std::array<QRectF, 5> tries(const PlateWish& wish)
{
    const QRectF on = around(wish.at, wish.plate);
    const double x = (wish.plate.width() - wish.mark.width()) / 2.0;
    const double y = (wish.plate.height() - wish.mark.height()) / 2.0;
    return {on, on.translated(0.0, y), on.translated(0.0, -y), on.translated(x, 0.0), on.translated(-x, 0.0)};
}

} // namespace

std::vector<Plate> lay_out_plates(const std::vector<PlateWish>& wishes, const QRectF& within)
{
    std::vector<Plate> plates;
    plates.reserve(wishes.size());
    for (const PlateWish& wish : wishes) plates.push_back({around(wish.at, wish.mark), false});
    // What a plate must keep clear of: the marks, and plates that have words already.
    for (std::size_t i = 0; i < wishes.size(); ++i) {
        if (!within.contains(wishes[i].at)) continue;
        for (const QRectF& rect : tries(wishes[i])) {
            if (!within.contains(rect)) continue;
            bool is_free = true;
            for (std::size_t j = 0; j < plates.size() && is_free; ++j)
                is_free = j == i || !plates[j].rect.intersects(rect);
            if (!is_free) continue;
            plates[i] = {rect, true};
            break;
        }
    }
    return plates;
}

} // namespace becalm::desktop
