// Names, units and remarks as a file states them, made fit for JSON and reports: UTF-8, no control characters.
#pragma once

#include <string>
#include <string_view>

namespace becalm::io {

// What is no UTF-8 is taken for Latin-1, in which older loggers write units.
std::string as_utf8(std::string_view text);

// The same of a field of fixed width: what follows a NUL is left out, control characters become spaces, and spaces at
// either end go.
std::string stated_text(std::string_view field);

} // namespace becalm::io
