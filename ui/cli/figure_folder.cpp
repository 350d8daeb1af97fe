#include "ui/cli/figure_folder.h"

#include <algorithm>
#include <filesystem>
#include <system_error>

#include <fmt/format.h>

#include "src/io/atomic_file.h"
#include "ui/figures/svg.h"

namespace becalm::cli {
namespace {

// What a file may be called everywhere.
std::string plain(const std::string& text)
{
    std::string name;
    for (const char c : text) {
        const bool keeps =
            (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '.' || c == '_';
        if (keeps)
            name += c;
        else if (!name.empty() && name.back() != '-')
            name += '-';
    }
    while (!name.empty() && name.back() == '-') name.pop_back();
    return name;
}

} // namespace

FigureFolder::FigureFolder(std::string folder) : folder_(std::move(folder))
{
    std::error_code ignored;
    std::filesystem::create_directories(folder_, ignored);
}

Result<void> FigureFolder::keep(const std::string& name, const figures::Figure& figure)
{
    const std::string stem = plain(name);
    std::string file = stem + ".svg";
    for (int k = 2; std::ranges::find(names_, file) != names_.end(); ++k) file = fmt::format("{}-{}.svg", stem, k);
    const auto written =
        io::write_file_atomically((std::filesystem::path(folder_) / file).string(), figures::svg_of(figure));
    if (!written) return written;
    names_.push_back(file);
    return {};
}

} // namespace becalm::cli
