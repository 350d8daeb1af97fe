// A long table: one observation a row, the same columns in each, every column explained. What spreadsheets and
// programs of others read is written from it (src/io/table_csv.h, src/io/table_xlsx.h).
#pragma once

#include <cstdint>
#include <functional>
#include <span>
#include <string>
#include <utility>
#include <variant>
#include <vector>

namespace becalm {

enum class ColumnKind {
    key,      // a name or a word
    prose,    // a sentence or several
    truth,    // true or false
    whole,    // counts and numbers that name something
    plain,    // numbers as they are: frequencies, factors
    seconds,  // s
    measured, // a value that may lie anywhere between 1e-6 and 1e6
    share     // 0 to 1
};

struct TableColumn {
    std::string name = {};
    ColumnKind kind = ColumnKind::key;
    std::string unit = {};  // "s", "Hz", "as unit" (the column of that name says it); empty: none
    std::string words = {}; // what it is
};

using Cell = std::variant<std::monostate, bool, std::int64_t, double, std::string>; // monostate: no value

struct Table {
    std::string name = {};  // letters, digits and _, at most 31
    std::string words = {}; // what a row is
    std::vector<TableColumn> columns = {};
    std::uint64_t rows = 0;
    // Hands out the rows in order, as many cells as columns, valid during the call; ends early where `take` says false.
    // Can be called again.
    using Take = std::function<bool(std::span<const Cell> row)>;
    std::function<void(const Take& take)> each_row = {};
};

struct TableBook {
    std::vector<std::pair<std::string, std::string>> about = {}; // what it is of: name, text
    std::vector<Table> tables = {};
};

} // namespace becalm
