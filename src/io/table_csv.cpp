#include "src/io/table_csv.h"

#include <cmath>
#include <filesystem>
#include <iterator>
#include <memory>
#include <system_error>
#include <vector>

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

// Not committed yet.
Result<std::unique_ptr<AtomicFile>> written_csv(const Table& table, const std::string& path,
                                                const std::stop_token& stop)
{
    auto file = AtomicFile::create(path);
    if (!file) return file;
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
    if (!state) return tl::unexpected(state.error());
    return file;
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
    const std::filesystem::path place(folder);
    std::error_code error; // of making the folder it shows when the first file is written
    std::filesystem::create_directories(place, error);
    std::vector<std::unique_ptr<AtomicFile>> files;
    const auto write = [&](const Table& table) -> Result<void> {
        auto written = written_csv(table, (place / (table.name + ".csv")).string(), stop);
        if (!written) return tl::unexpected(written.error());
        if (auto flushed = (*written)->flush(); !flushed) return flushed;
        files.push_back(std::move(*written));
        return {};
    };
    for (const Table& table : book.tables)
        if (auto written = write(table); !written) return written;
    for (const Table& table : {columns_page(book), about_page(book)})
        if (auto written = write(table); !written) return written;

    // All is on the disk. The names cannot be changed in one step, so the table that says what the others are of goes
    // first and comes last: where it is, all are of one judgement.
    const std::string about = (place / "about.csv").string();
    if (std::filesystem::is_regular_file(about, error) && !std::filesystem::remove(about, error))
        return fail({.kind = ProblemKind::outside_world,
                     .file = about,
                     .what = "it cannot be replaced: " + error.message(),
                     .remedy = "check the permissions of the folder"});
    return commit_all(files);
}

} // namespace becalm::io
