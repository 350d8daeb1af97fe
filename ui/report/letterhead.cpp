#include "ui/report/letterhead.h"

#include <algorithm>
#include <filesystem>
#include <iterator>
#include <sstream>

#include "src/io/atomic_file.h"

namespace becalm::report {
namespace {

constexpr std::size_t most_bytes = std::size_t{8} << 20;

bool is_there(const std::filesystem::path& path)
{
    std::error_code ignored;
    return std::filesystem::exists(path, ignored);
}

// A paragraph for each line that is not blank, of the language's own file where there is one.
Result<std::vector<Block>> paragraphs(const std::filesystem::path& folder, const std::string& name, Language language)
{
    std::filesystem::path path = folder / (name + "." + std::string(figures::code_of(language)) + ".txt");
    if (!is_there(path)) path = folder / (name + ".txt");
    std::vector<Block> blocks;
    if (!is_there(path)) return blocks;
    const auto text = io::read_text_file(path.string(), most_bytes);
    if (!text) return tl::unexpected(text.error());
    std::istringstream lines(*text);
    for (std::string line; std::getline(lines, line);)
        if (line.find_first_not_of(" \t\r") != std::string::npos) blocks.emplace_back(Paragraph{.words = line});
    return blocks;
}

} // namespace

std::string picture_type(std::string_view bytes)
{
    using namespace std::string_view_literals;
    constexpr std::size_t looked_at = 4096; // an SVG can begin with comments
    if (bytes.starts_with("\x89PNG\r\n\x1a\n"sv)) return "image/png";
    if (bytes.starts_with("\xff\xd8\xff"sv)) return "image/jpeg";
    return bytes.substr(0, looked_at).find("<svg") != std::string_view::npos ? "image/svg+xml" : "";
}

Result<Letterhead> read_letterhead(const std::string& folder, Language language)
{
    const std::filesystem::path path(folder);
    std::error_code ignored;
    if (!std::filesystem::is_directory(path, ignored))
        return fail({.kind = ProblemKind::usage,
                     .file = folder,
                     .what = "there is no such folder for the letterhead",
                     .remedy = "make it with logo.svg or logo.png, header.txt and closing.txt"});
    Letterhead result;
    const bool vector = is_there(path / "logo.svg");
    const std::filesystem::path logo = path / (vector ? "logo.svg" : "logo.png");
    if (is_there(logo)) {
        auto bytes = io::read_text_file(logo.string(), most_bytes);
        if (!bytes) return tl::unexpected(bytes.error());
        const std::string type = picture_type(*bytes);
        if (type.empty())
            return fail({.file = logo.string(), .what = "this is no SVG or PNG picture", .remedy = "save it as one"});
        result.above.emplace_back(
            Picture{.media_type = type, .bytes = *std::move(bytes), .alternative = wording_of(language).logo.text()});
    } else {
        result.cautions.push_back({.file = folder,
                                   .what = "the letterhead has no logo",
                                   .remedy = "put logo.svg or logo.png there; the report is written without"});
    }
    auto above = paragraphs(path, "header", language);
    if (!above) return tl::unexpected(above.error());
    std::ranges::move(*above, std::back_inserter(result.above));
    auto beneath = paragraphs(path, "closing", language);
    if (!beneath) return tl::unexpected(beneath.error());
    result.beneath = *std::move(beneath);
    return result;
}

} // namespace becalm::report
