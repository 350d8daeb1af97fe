// A text attached to a PDF behind its last byte, as an incremental update [ISO 32000-1:2008, 7.5.6, 7.11.4]: the file
// as it was stays as it is, byte for byte, so that a digest of it can stand in what is attached; any reader of PDF
// offers the text under "attachments".
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace becalm::report {

struct Attachment {
    std::string name = {};        // ASCII letters, digits, hyphen, full stop
    std::string description = {}; // the same, and spaces
    std::string content = {};
};

// The PDF with the text; nothing where the PDF is not built as that of pdf.h (one classic table of cross references).
std::optional<std::string> with_attachment(std::string_view pdf, const Attachment& attachment);

// What with_attachment() was given; the name and description are not read. Nothing where there is no such text.
struct Detached {
    std::string_view pdf = {}, content = {};
};
std::optional<Detached> detached(std::string_view file);

} // namespace becalm::report
