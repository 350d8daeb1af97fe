// The pages that explain a book of tables, themselves tables.
#pragma once

#include <string>
#include <vector>

#include "src/model/table.h"

namespace becalm {

// A table whose rows lie in memory.
Table table_of(std::string name, std::string words, std::vector<TableColumn> columns,
               std::vector<std::vector<Cell>> rows);

// "about": what the book is of, then a row for each table with its number of rows.
Table about_page(const TableBook& book);

// "columns": a row for each column of each table with unit and meaning.
Table columns_page(const TableBook& book);

} // namespace becalm
