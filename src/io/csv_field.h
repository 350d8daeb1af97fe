// A field of comma-separated text [RFC 4180]: quoted where needed.
#pragma once

#include <string>

namespace becalm::io {

// A spreadsheet must not take a title for a formula: what begins like one gets a quotation mark before it.
std::string csv_field(const std::string& text);

} // namespace becalm::io
