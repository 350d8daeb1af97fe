#include "src/io/table_xlsx.h"

#include <algorithm>
#include <charconv>
#include <chrono>
#include <cmath>
#include <filesystem>
#include <map>
#include <string_view>
#include <xlsxwriter.h>

#include <fmt/format.h>

#include "src/io/atomic_file.h"
#include "src/io/stopped.h"
#include "src/io/xlsx_check.h"
#include "src/model/table_pages.h"

namespace becalm::io {
namespace {

constexpr std::size_t most_units = 32'767; // UTF-16 code units a cell holds [Excel's limit]
constexpr std::string_view not_text = "\xEF\xBF\xBD";

// Bytes of the well-formed UTF-8 character that begins there, 0 where none does [RFC 3629, section 4].
std::size_t length_of_character(std::string_view text)
{
    const auto byte = [&](std::size_t i) {
        return i < text.size() ? static_cast<unsigned char>(text[i]) : static_cast<unsigned char>(0);
    };
    const unsigned char first = byte(0);
    if (first < 0x80) return 1;
    const std::size_t length = first >= 0xF5 ? 0 : first >= 0xF0 ? 4 : first >= 0xE0 ? 3 : first >= 0xC2 ? 2 : 0;
    for (std::size_t i = 1; i < length; ++i)
        if ((byte(i) & 0xC0) != 0x80) return 0;
    if ((first == 0xE0 && byte(1) < 0xA0) || (first == 0xED && byte(1) > 0x9F) || (first == 0xF0 && byte(1) < 0x90) ||
        (first == 0xF4 && byte(1) > 0x8F))
        return 0;
    return length;
}

// "_x0041_" stands for a character in this format.
bool looks_escaped(std::string_view text)
{
    const auto is_hex = [](char c) {
        return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f') || (c >= 'A' && c <= 'F');
    };
    return text.size() >= 7 && text.starts_with("_x") && text[6] == '_' &&
           std::ranges::all_of(text.substr(2, 4), is_hex);
}

// As a cell may hold it: what XML has no place for becomes U+FFFD.
std::string cell_text(std::string_view text, bool& was_cut)
{
    std::string result;
    std::size_t units = 0;
    const std::string notice = fmt::format(" [cut: {} bytes in all, whole in CSV]", text.size());
    std::size_t fits = 0; // bytes of the result beside which the notice still has a place
    while (!text.empty()) {
        const std::size_t length = length_of_character(text);
        std::string_view character = length > 0 ? text.substr(0, length) : not_text;
        if (character[0] == '\0' || character == "\xEF\xBF\xBE" || character == "\xEF\xBF\xBF") character = not_text;
        units += length == 4 ? 2 : 1;
        if (units > most_units) {
            was_cut = true;
            return result.substr(0, fits) + notice;
        }
        if (looks_escaped(text)) {
            result += "_x005F";
            units += 6;
        }
        result += character;
        if (units + notice.size() <= most_units) fits = result.size();
        text.remove_prefix(std::max<std::size_t>(length, 1));
    }
    return result;
}

// As the library writes it between tags: three signs by name, control characters by number, ends of lines as they are
// (which are not counted).
std::size_t bytes_as_xml(std::string_view text)
{
    std::size_t bytes = 0;
    for (const char c : text) {
        const auto byte = static_cast<unsigned char>(c);
        const bool control = byte < 0x20 && c != '\t' && c != '\n';
        bytes += c == '&' ? 5U : c == '<' || c == '>' ? 4U : control ? 7U : c == '\n' ? 0U : 1U;
    }
    return bytes;
}

// A day at 00:00, in seconds from 1970.
std::time_t seconds_at(const std::string& date)
{
    using namespace std::chrono;
    int parts[3] = {1980, 1, 1}; // the first day that the container's own dates can tell
    if (date.size() >= 10) {
        std::from_chars(date.data(), date.data() + 4, parts[0]);
        std::from_chars(date.data() + 5, date.data() + 7, parts[1]);
        std::from_chars(date.data() + 8, date.data() + 10, parts[2]);
    }
    const year_month_day day{year(parts[0]), month(static_cast<unsigned>(parts[1])),
                             std::chrono::day(static_cast<unsigned>(parts[2]))};
    return duration_cast<seconds>(sys_days(day).time_since_epoch()).count();
}

// libxlsxwriter takes no const text, and changes none.
char* as_it_wants(const std::string& text) { return const_cast<char*>(text.c_str()); }

double width_of(const TableColumn& column)
{
    const auto at_least = [&](double width) { return std::max(width, static_cast<double>(column.name.size()) + 4.0); };
    switch (column.kind) {
    case ColumnKind::prose: return 60.0;
    case ColumnKind::key: return at_least(16.0);
    case ColumnKind::truth:
    case ColumnKind::whole: return at_least(8.0);
    default: return at_least(12.0);
    }
}

class Workbook {
public:
    Workbook(const std::string& path, const std::string& folder, const XlsxOptions& options)
    {
        lxw_workbook_options wanted{.constant_memory = LXW_TRUE, .tmpdir = as_it_wants(folder), .use_zip64 = LXW_FALSE};
        book_ = workbook_new_opt(path.c_str(), &wanted);
        if (book_ == nullptr) {
            keep(LXW_ERROR_MEMORY_MALLOC_FAILED);
            return;
        }
        lxw_doc_properties properties{};
        const std::string title = "Tables of a judgement";
        properties.title = as_it_wants(title);
        properties.created = seconds_at(options.date);
        keep(workbook_set_properties(book_, &properties));
        header_ = workbook_add_format(book_);
        format_set_bold(header_);
        format_set_bg_color(header_, 0xDDE6EE);
        format_set_bottom(header_, LXW_BORDER_THIN);
        // Three digits and more of whatever a comfort value may be; what is far off in powers of ten.
        add_format(ColumnKind::measured, "[=0]0;[<0.001]0.000E+00;0.00000");
        add_format(ColumnKind::seconds, "0.000");
        add_format(ColumnKind::share, "0.0000");
        add_format(ColumnKind::whole, "0");
    }
    Workbook(const Workbook&) = delete;
    Workbook& operator=(const Workbook&) = delete;
    ~Workbook()
    {
        if (book_ != nullptr) lxw_workbook_free(book_);
    }

    void add(const Table& table, const std::stop_token& stop)
    {
        if (error_ != LXW_NO_ERROR) return;
        lxw_worksheet* sheet = workbook_add_worksheet(book_, table.name.c_str());
        if (sheet == nullptr) {
            keep(LXW_ERROR_CREATING_TMPFILE);
            return;
        }
        sheets_.emplace_back();
        for (std::size_t i = 0; i < table.columns.size(); ++i) {
            const auto column = static_cast<lxw_col_t>(i);
            keep(worksheet_set_column(sheet, column, column, width_of(table.columns[i]), nullptr));
            write_text(sheet, 0, column, table.columns[i].name, header_);
        }
        worksheet_freeze_panes(sheet, 1, 0);
        if (table.rows > 0 && !table.columns.empty())
            keep(worksheet_autofilter(sheet, 0, 0, static_cast<lxw_row_t>(table.rows),
                                      static_cast<lxw_col_t>(table.columns.size() - 1)));
        lxw_row_t row = 0;
        table.each_row([&](std::span<const Cell> cells) {
            ++row;
            for (std::size_t i = 0; i < cells.size(); ++i)
                write(sheet, row, static_cast<lxw_col_t>(i), cells[i], format_of(table.columns[i].kind));
            return error_ == LXW_NO_ERROR && !stop.stop_requested();
        });
    }

    Result<void> close(const std::string& path)
    {
        if (book_ != nullptr && error_ == LXW_NO_ERROR) {
            keep(workbook_close(book_)); // frees it, whatever comes of it
            book_ = nullptr;
        }
        if (error_ == LXW_NO_ERROR) return {};
        return fail({.kind = ProblemKind::outside_world,
                     .file = path,
                     .what = fmt::format("cannot be written: {}", lxw_strerror(error_)),
                     .remedy = "check the folder and the free space on its disk"});
    }

    std::uint64_t cut_texts() const { return cut_texts_; }
    const std::vector<XlsxSheet>& sheets() const { return sheets_; }

private:
    void keep(lxw_error error)
    {
        if (error_ == LXW_NO_ERROR) error_ = error;
    }

    void add_format(ColumnKind kind, const char* numbers)
    {
        lxw_format* format = workbook_add_format(book_);
        format_set_num_format(format, numbers);
        formats_[kind] = format;
    }

    lxw_format* format_of(ColumnKind kind) const
    {
        const auto found = formats_.find(kind);
        return found == formats_.end() ? nullptr : found->second;
    }

    void count(std::size_t text_bytes)
    {
        ++sheets_.back().cells;
        sheets_.back().text_bytes += text_bytes;
    }

    void write_text(lxw_worksheet* sheet, lxw_row_t row, lxw_col_t column, const std::string& text, lxw_format* format)
    {
        count(bytes_as_xml(text));
        keep(worksheet_write_string(sheet, row, column, text.c_str(), format));
    }

    void write_number(lxw_worksheet* sheet, lxw_row_t row, lxw_col_t column, double number, lxw_format* format)
    {
        count(fmt::format("{:.16G}", number).size()); // as the library writes it
        keep(worksheet_write_number(sheet, row, column, number, format));
    }

    void write(lxw_worksheet* sheet, lxw_row_t row, lxw_col_t column, const Cell& cell, lxw_format* format)
    {
        if (const auto* text = std::get_if<std::string>(&cell)) {
            if (text->empty()) return;
            bool was_cut = false;
            write_text(sheet, row, column, cell_text(*text, was_cut), nullptr);
            if (was_cut) ++cut_texts_;
        } else if (const auto* truth = std::get_if<bool>(&cell)) {
            count(1);
            keep(worksheet_write_boolean(sheet, row, column, *truth ? 1 : 0, nullptr));
        } else if (const auto* whole = std::get_if<std::int64_t>(&cell)) {
            write_number(sheet, row, column, static_cast<double>(*whole), format);
        } else if (const auto* number = std::get_if<double>(&cell)) {
            if (!std::isfinite(*number)) return;
            write_number(sheet, row, column, *number, format);
        }
    }

    lxw_workbook* book_ = nullptr;
    lxw_format* header_ = nullptr;
    std::map<ColumnKind, lxw_format*> formats_;
    lxw_error error_ = LXW_NO_ERROR;
    std::uint64_t cut_texts_ = 0;
    std::vector<XlsxSheet> sheets_;
};

} // namespace

Result<XlsxWritten> write_xlsx(const TableBook& book, const std::string& path, const XlsxOptions& options,
                               const std::stop_token& stop)
{
    XlsxWritten result;
    TableBook told{.about = book.about, .tables = {}};
    for (const Table& table : book.tables) {
        if (table.rows <= options.most_rows) {
            told.tables.push_back(table);
            continue;
        }
        result.left_out.push_back(table.name);
        told.about.emplace_back(
            "not in this file",
            fmt::format("table {} ({}): it has {} rows and a sheet holds {}; becalm tables writes it as CSV, and the "
                        "seconds of recordings as NPY",
                        table.name, table.words, table.rows, options.most_rows));
    }
    auto file = AtomicFile::create(path);
    if (!file) return tl::unexpected(file.error());
    const std::string temporary = (*file)->temporary_path();
    // Its temporary parts lie in the folder of the file itself, which was named for it and has to have the space.
    Workbook workbook(temporary, std::filesystem::path(temporary).parent_path().string(), options);
    workbook.add(about_page(told), stop);
    workbook.add(columns_page(told), stop);
    for (const Table& table : told.tables) workbook.add(table, stop);
    if (stop.stop_requested()) return fail(stopped(path));
    if (auto closed = workbook.close(path); !closed) return tl::unexpected(closed.error());
    if (const std::string fault = fault_of_xlsx(temporary, workbook.sheets()); !fault.empty())
        return fail({.kind = ProblemKind::outside_world,
                     .file = path,
                     .what = "cannot be written: " + fault,
                     .remedy = "check the free space on its disk"});
    if (auto committed = (*file)->commit(); !committed) return tl::unexpected(committed.error());
    result.cut_texts = workbook.cut_texts();
    return result;
}

} // namespace becalm::io
