// A field of comma-separated text [RFC 4180]: quoted where needed.
#pragma once

#include <string>

namespace becalm::io {

// A spreadsheet must not take a title for a formula: a text whose first character, blanks and apostrophes aside, is one
// of = + - @ tab CR LF, or the wide form of one of the four, gets an apostrophe before it. Nothing is lost: who reads
// the file takes the first apostrophe off a field that begins with one followed by (blanks, apostrophes and) such a
// character. Numbers do not come here.
std::string csv_field(const std::string& text);

} // namespace becalm::io
