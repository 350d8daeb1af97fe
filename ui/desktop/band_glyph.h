// A band as it is drawn: a row of small boxes, one for each band from the mildest on, with the one that holds the value
// filled; a bar beneath those that exceed. What cannot be judged is hatched. Place tells it, tone only underlines it.
#pragma once

#include <QColor>
#include <QPainter>

#include "ui/desktop/scene_painter.h"
#include "ui/desktop/verdict_facts.h"

namespace becalm::desktop {

Ground ground_of(const QPalette& palette);

// The sequential tone of the band; invalid where the value lies in none.
QColor tone_of(const BandPlace& place, Ground ground);

// Black or white, whichever is read better on `fill`: at least 4.5:1 (WCAG 2.2, 1.4.3, since one of the two always is).
QColor ink_on(const QColor& fill);

double glyph_width(const BandPlace& place, double height_px);
void paint_glyph(QPainter& painter, const QPointF& top_left, double height_px, const BandPlace& place,
                 const QColor& ink);

} // namespace becalm::desktop
