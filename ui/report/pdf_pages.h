// Pages of PDF files that others made (plans), by poppler: as a picture for those who cannot show PDF, and painted as
// they are.
#pragma once

#include <string>
#include <string_view>
#include <variant>

#include "ui/report/document.h"

struct _cairo; // of cairo.h, cairo_t

namespace becalm::report {

// Why a page cannot be drawn.
enum class PageFault {
    damaged, // no PDF, or one that cannot be made sense of
    locked,  // a password is needed
    no_page, // the file has fewer pages
    failed   // it cannot be drawn: no room, a size that no page has
};

// A PDF by its first bytes; something else may stand before its head [PDF Reference 1.7, H.3, note 13] (from memory).
bool is_pdf(std::string_view bytes);

// The page (from 1) as PNG on white, at 150 dots an inch and at most 6 million dots; with the file, so that a writer
// can paint it itself.
std::variant<Picture, PageFault> picture_of_page(const std::string& pdf, int page);

// Paints the page at (0, 0), in points; false: it could not be done.
bool paint_page(_cairo* context, const std::string& pdf, int page);

// The file of that name that is attached to the PDF; empty where there is none.
std::string attached_to(const std::string& pdf, const std::string& name);

} // namespace becalm::report
