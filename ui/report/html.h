// A document as one HTML file that stands by itself: figures as SVG within it, pictures as data, a style sheet of a few
// lines, no scripts, nothing fetched. It is written so that an XML parser reads it too, and the same document gives the
// same bytes. All text is escaped, and names set in their own direction.
#pragma once

#include <string>

#include "ui/report/document.h"

namespace becalm::report {

// Up to the end of the text; closed_html() puts the seal and the end behind it.
std::string open_html(const Document& document);

// The whole file: `open` as above, then a footer with `words` and `facts`.
std::string closed_html(const std::string& open, const Facts& facts, const std::string& words);

// How the footer begins, once in every file: what stands before it is the text that the seal is of.
std::string_view footer_begin();

} // namespace becalm::report
