#include "src/io/table_csv.h"

#include <cmath>
#include <filesystem>
#include <iterator>
#include <system_error>

#include <fmt/format.h>

#include "src/io/atomic_file.h"
#include "src/io/csv_field.h"
#include "src/io/stopped.h"
#include "src/model/table_pages.h"

namespace becalm::io {
namespace {

constexpr std::size_t block_bytes = std::size_t{1} << 16;

struct AppendTo {
    std::string& text;
    void operator()(std::monostate) const {}
    void operator()(bool value) const { text += value ? "true" : "false"; }
    void operator()(std::int64_t value) const { fmt::format_to(std::back_inserter(text), "{}", value); }
    void operator()(double value) const
    {
        if (std::isfinite(value)) fmt::format_to(std::back_inserter(text), "{}", value);
    }
    void operator()(const std::string& value) const { text += csv_field(value); }
};

Result<void> write_csv(const Table& table, const std::string& path, const std::stop_token& stop)
{
    auto file = AtomicFile::create(path);
    if (!file) return tl::unexpected(file.error());
    std::string pending;
    Result<void> state;
    for (const TableColumn& column : table.columns) pending += (pending.empty() ? "" : ",") + column.name;
    pending += "\r\n";
    table.each_row([&](std::span<const Cell> row) {
        for (std::size_t i = 0; i < row.size(); ++i) {
            if (i > 0) pending += ',';
            std::visit(AppendTo{pending}, row[i]);
        }
        pending += "\r\n";
        if (pending.size() < block_bytes) return true;
        state = (*file)->append(pending);
        pending.clear();
        return state.has_value() && !stop.stop_requested();
    });
    if (state && stop.stop_requested()) state = tl::unexpected(stopped(path));
    if (state) state = (*file)->append(pending);
    if (!state) return state;
    return (*file)->commit();
}

} // namespace

std::vector<std::string> csv_names_of(const TableBook& book)
{
    std::vector<std::string> names{"about.csv", "columns.csv"};
    for (const Table& table : book.tables) names.push_back(table.name + ".csv");
    return names;
}

Result<void> write_csv_folder(const TableBook& book, const std::string& folder, const std::stop_token& stop)
{
    std::error_code ignored; // what goes wrong shows when the first file is written
    std::filesystem::create_directories(folder, ignored);
    const auto write = [&](const Table& table) {
        return write_csv(table, (std::filesystem::path(folder) / (table.name + ".csv")).string(), stop);
    };
    for (const Table& table : {about_page(book), columns_page(book)})
        if (auto written = write(table); !written) return written;
    for (const Table& table : book.tables)
        if (auto written = write(table); !written) return written;
    return {};
}

} // namespace becalm::io
