// A user's own letterhead: a folder with logo.svg or logo.png, header.txt above the report, closing.txt beneath it.
// header.de.txt and closing.de.txt come before them in a German report, and so in the other languages.
#pragma once

#include <string>
#include <vector>

#include "src/base/problem.h"
#include "ui/report/document.h"
#include "ui/report/wording.h"

namespace becalm::report {

struct Letterhead {
    std::vector<Block> above = {}, beneath = {};
    std::vector<Problem> cautions = {}; // what is not there
};

// Problems: no such folder; a file that is there but cannot be read or is no picture.
Result<Letterhead> read_letterhead(const std::string& folder, Language language = Language::english);

// "image/png", "image/jpeg", "image/svg+xml" by content; empty: none of them.
std::string picture_type(std::string_view bytes);

} // namespace becalm::report
