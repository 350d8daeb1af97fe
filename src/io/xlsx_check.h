// Is a spreadsheet whole? libxlsxwriter does not notice when one of its temporary parts meets a full disk, and packs
// what there is. So what was packed is read again: every part has to end with the tag it began with, and every sheet
// has to hold as many cells as were written to it.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

namespace becalm::io {

// `cells[i]`: of xl/worksheets/sheet(i + 1).xml. Empty where all is well, else what is wrong. Constant memory.
std::string fault_of_xlsx(const std::string& path, const std::vector<std::uint64_t>& cells);

} // namespace becalm::io
