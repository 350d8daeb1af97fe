// Paints what ui/figures has laid out, on a screen, an image or a page alike.
#pragma once

#include <QColor>
#include <QPainter>

#include "ui/figures/scene.h"
#include "ui/figures/text.h"

namespace becalm::desktop {

// On a dark ground the colours of a figure are turned over in lightness and keep their hue; in high contrast what is
// quiet on a light ground is told as loud as the rest.
enum class Ground { light, dark, contrast };

QColor colour_on(figures::Colour colour, Ground ground);

// Widths as the painter's font has them, for figures::laid_out: labels keep clear of each other in the very font.
figures::TextWidth painted_width();

void paint(QPainter& painter, const figures::Scene& scene, Ground ground = Ground::light);

} // namespace becalm::desktop
