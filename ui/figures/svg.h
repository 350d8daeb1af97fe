// A figure as SVG 1.1 text: by itself, without scripts, fonts, styles, identifiers or references, so that several can
// stand in one HTML page. <title> and <desc> tell it to who cannot see it. Coordinates are rounded to 0.01 px; the same
// figure gives the same bytes.
#pragma once

#include <string>
#include <string_view>

#include "ui/figures/layout.h"

namespace becalm::figures {

std::string svg_of(const Scene& scene);

// Laid out with the approximate widths of text.h.
std::string svg_of(const Figure& figure);

// Text as XML content or attribute value: &, <, >, " and ' escaped, anything XML cannot hold replaced.
std::string xml_text(std::string_view text);

} // namespace becalm::figures
