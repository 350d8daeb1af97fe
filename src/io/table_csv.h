// Long tables as delimited text [RFC 4180]: comma, CR LF, UTF-8 without a mark, point as decimal sign, a header row of
// the columns' names. Numbers are the shortest text that reads back the same double; no value, and what is not finite,
// is an empty field; truth is true or false. A text that a spreadsheet could take for a formula gets an apostrophe
// (src/io/csv_field.h); numbers never do. Memory does not grow with the rows.
#pragma once

#include <stop_token>
#include <string>
#include <vector>

#include "src/base/problem.h"
#include "src/model/table.h"

namespace becalm::io {

// Of a book: NAME.csv for each table, about.csv and columns.csv, which explains every column. All of it lies inside
// the folder, which is made where it is not there; other files in it are left alone. All are written
// before one takes its name, so that want of space leaves the old ones; about.csv goes first and comes last: where it
// is, all are of one judgement.
Result<void> write_csv_folder(const TableBook& book, const std::string& folder, const std::stop_token& stop = {});

// Names of the files that the above writes.
std::vector<std::string> csv_names_of(const TableBook& book);

} // namespace becalm::io
