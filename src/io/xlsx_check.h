// Is a spreadsheet whole? libxlsxwriter does not notice when one of its temporary parts meets a full disk, and packs
// what there is. So what was packed is read again: every part has to end with the tag it began with, and every sheet
// has to hold as many cells, and as many bytes of text between its tags, as were written to it.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

namespace becalm::io {

struct XlsxSheet {
    std::uint64_t cells = 0;
    std::uint64_t text_bytes = 0; // as XML, "&lt;" for "<"
};

// `sheets[i]`: what xl/worksheets/sheet(i + 1).xml is to hold. Empty where all is well, else what is wrong. Constant
// memory.
std::string fault_of_xlsx(const std::string& path, const std::vector<XlsxSheet>& sheets);

} // namespace becalm::io
