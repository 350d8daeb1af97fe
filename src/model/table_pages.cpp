#include "src/model/table_pages.h"

#include <memory>

namespace becalm {
namespace {

std::string type_of(ColumnKind kind)
{
    switch (kind) {
    case ColumnKind::key:
    case ColumnKind::prose: return "text";
    case ColumnKind::truth: return "true or false";
    case ColumnKind::whole: return "whole number";
    default: return "number";
    }
}

} // namespace

Table table_of(std::string name, std::string words, std::vector<TableColumn> columns,
               std::vector<std::vector<Cell>> rows)
{
    const auto kept = std::make_shared<const std::vector<std::vector<Cell>>>(std::move(rows));
    return {.name = std::move(name),
            .words = std::move(words),
            .columns = std::move(columns),
            .rows = kept->size(),
            .each_row = [kept](const Table::Take& take) {
                for (const std::vector<Cell>& row : *kept)
                    if (!take(row)) return;
            }};
}

Table about_page(const TableBook& book)
{
    std::vector<std::vector<Cell>> rows;
    for (const auto& [name, text] : book.about) rows.push_back({name, text, {}});
    for (const Table& table : book.tables)
        rows.push_back({"table " + table.name, table.words, static_cast<std::int64_t>(table.rows)});
    return table_of("about", "What these tables are of.",
                    {{"name", ColumnKind::key, "", "what is said"},
                     {"text", ColumnKind::prose, "", "what it is; of a table: what a row is"},
                     {"rows", ColumnKind::whole, "", "of a table, its header not counted"}},
                    std::move(rows));
}

Table columns_page(const TableBook& book)
{
    std::vector<std::vector<Cell>> rows;
    const auto text_or_nothing = [](const std::string& text) { return text.empty() ? Cell() : Cell(text); };
    for (const Table& table : book.tables)
        for (const TableColumn& column : table.columns)
            rows.push_back({table.name, column.name, type_of(column.kind), text_or_nothing(column.unit), column.words});
    return table_of("columns", "What each column of each table means.",
                    {{"table", ColumnKind::key, "", "name of the table"},
                     {"column", ColumnKind::key, "", "name of the column"},
                     {"type", ColumnKind::key, "", "text, number, whole number, true or false"},
                     {"unit", ColumnKind::key, "", "of its numbers; \"as unit\": the table's column unit says it"},
                     {"meaning", ColumnKind::prose, "", "what it is; an empty cell: no value"}},
                    std::move(rows));
}

} // namespace becalm
