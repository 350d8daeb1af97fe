// Long tables as a spreadsheet (Office Open XML), one sheet a table, before them two that explain: "about" and
// "columns". Header rows stand still and carry a filter, columns have widths and number formats after their kind. Text
// is stored as text, which no spreadsheet takes for a formula, whatever it begins with; there are no formulas.
//
// Numbers are stored with 16 significant digits (libxlsxwriter), so that one can differ from the double it was by one
// unit in the 16th place; delimited text and NPY hold all. No value, and what is not finite, is an empty cell.
//
// What a spreadsheet cannot hold is told, never cut in silence: a table with more rows than a sheet has is left out as
// a whole, with a row in "about"; a text longer than a cell ends with "[cut ...]" and is counted.
//
// The same book and date give the same bytes. Memory does not grow with the rows.
#pragma once

#include <cstdint>
#include <stop_token>
#include <string>
#include <vector>

#include "src/base/problem.h"
#include "src/model/table.h"

namespace becalm::io {

struct XlsxOptions {
    std::string date = {};               // "2026-03-14": when it was created; empty: 1980-01-01
    std::uint64_t most_rows = 1'048'575; // below the header [ECMA-376; Excel's limit is 2^20 rows a sheet]
};

struct XlsxWritten {
    std::vector<std::string> left_out = {}; // names of tables
    std::uint64_t cut_texts = 0;
};

// The file is written whole or not at all; on the way it lies, under temporary names, in the folder of `path`.
Result<XlsxWritten> write_xlsx(const TableBook& book, const std::string& path, const XlsxOptions& options = {},
                               const std::stop_token& stop = {});

} // namespace becalm::io
