// A document as PDF on A4: any script that the machine has fonts for (Pango), fonts embedded, pages numbered, heads of
// tables repeated, chapters in the outline and as links in the contents. Figures are painted from the same drawing as
// on a screen and in SVG. The title and the author's program stand in the metadata; the same document gives the same
// bytes with the same fonts and libraries.
#pragma once

#include <string>

#include "src/base/problem.h"
#include "ui/report/document.h"

namespace becalm::report {

// `closing` stands at the end, in small letters; `date` (YYYY-MM-DD, may be empty) is that of the file's creation.
Result<std::string> pdf_of(const Document& document, const std::string& closing, const std::string& date);

} // namespace becalm::report
