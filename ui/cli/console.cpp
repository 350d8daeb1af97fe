#include "ui/cli/console.h"

#include <algorithm>
#include <deque>
#include <ostream>

#include <fmt/format.h>

#include "src/io/atomic_file.h"

namespace becalm::cli {
namespace {

// One problem, one line, and no escape sequences from a file name to the terminal.
std::string one_line(std::string_view text)
{
    std::string safe;
    for (const char c : text) {
        if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f)
            safe += fmt::format("\\x{:02x}", static_cast<unsigned char>(c));
        else
            safe += c;
    }
    return safe;
}

// Columns a terminal gives to UTF-8 text, combining and wide characters aside.
std::size_t columns_of(std::string_view text)
{
    std::size_t columns = 0;
    for (const char c : text)
        if ((static_cast<unsigned char>(c) & 0xc0U) != 0x80U) ++columns;
    return columns;
}

} // namespace

ExitCode exit_code_of(const Problem& problem) { return problem.kind == ProblemKind::usage ? bad_usage : unusable; }

void Console::complain(const Problem& problem) const { err << "becalm: " << one_line(to_text(problem)) << '\n'; }

void Console::complain(const std::vector<Problem>& problems) const
{
    for (const Problem& problem : problems) complain(problem);
}

std::function<void(double)> Console::progress_for(std::string what) const
{
    if (!progress) return {};
    return [this, what = std::move(what)](double fraction) {
        err << fmt::format("\r{} {:3.0f} %\x1b[K", what, 100.0 * fraction);
        err.flush();
    };
}

void Console::end_progress() const
{
    if (progress) err << "\r\x1b[K" << std::flush;
}

void Console::print(std::string_view text) const
{
    for (const char c : text) {
        if (c == '\n')
            out << c;
        else
            out << one_line({&c, 1});
    }
}

void Console::print(const Finding& finding) const
{
    // Of a file that could not be read the message names the place itself.
    const bool named = finding.recording.empty() || finding.message.starts_with(finding.recording + ":");
    out << fmt::format("  {:8} {}{}\n", std::string(name_of(finding.severity)) + ":",
                       named ? "" : one_line(finding.recording) + ": ", one_line(finding.message));
}

int give_up(const Console& console, const std::vector<Problem>& problems)
{
    console.complain(problems);
    return std::ranges::any_of(problems, [](const Problem& problem) { return exit_code_of(problem) == bad_usage; })
               ? bad_usage
               : unusable;
}

Result<void> deliver(const Console& console, const std::string& target, const std::function<std::string()>& text)
{
    return deliver(console, {{target, text}});
}

Result<void> deliver(const Console& console, std::initializer_list<Delivery> deliveries)
{
    std::deque<std::string> contents; // stays where it is while it grows
    std::vector<io::FileToWrite> files;
    for (const auto& [target, text] : deliveries) {
        if (target.empty()) continue;
        if (target == "-") {
            console.out << text();
            continue;
        }
        // Written whole and renamed into place, a file must be a file; and a redirected output would be replaced under
        // the shell's hand.
        if (target.starts_with("/dev/std") || target.starts_with("/dev/fd/") || target.starts_with("/proc/self/fd/"))
            return fail({.kind = ProblemKind::usage,
                         .file = target,
                         .what = "an open stream cannot be written as a file",
                         .remedy = "write - for the output"});
        contents.push_back(text());
        files.push_back({target, contents.back()});
    }
    return io::write_files_atomically(files);
}

Table::Table(std::vector<std::pair<std::string, bool>> columns) : columns_(std::move(columns)) {}

void Table::add(std::vector<std::string> cells)
{
    BECALM_ASSERT(cells.size() == columns_.size());
    for (std::string& cell : cells) cell = one_line(cell);
    rows_.push_back(std::move(cells));
}

std::string Table::text(std::string_view indent) const
{
    std::vector<std::size_t> widths;
    for (std::size_t c = 0; c < columns_.size(); ++c) {
        std::size_t width = columns_of(columns_[c].first);
        for (const auto& row : rows_) width = std::max(width, columns_of(row[c]));
        widths.push_back(width);
    }
    std::string text;
    const auto add_row = [&](const auto& cell_of) {
        std::string line(indent);
        for (std::size_t c = 0; c < columns_.size(); ++c) {
            const std::string& cell = cell_of(c);
            const std::string padding(widths[c] - columns_of(cell), ' ');
            if (c > 0) line += "  ";
            line += columns_[c].second ? padding + cell : cell + padding;
        }
        line.erase(line.find_last_not_of(' ') + 1);
        text += line + "\n";
    };
    add_row([&](std::size_t c) -> const std::string& { return columns_[c].first; });
    for (const auto& row : rows_) add_row([&](std::size_t c) -> const std::string& { return row[c]; });
    return text;
}

std::string counted(std::ptrdiff_t count, std::string_view noun)
{
    return fmt::format("{} {}{}", count, noun, count == 1 ? "" : "s");
}

std::string number(const std::optional<double>& value) { return value ? fmt::format("{:.4g}", *value) : "-"; }

} // namespace becalm::cli
