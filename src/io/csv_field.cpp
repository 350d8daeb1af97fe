#include "src/io/csv_field.h"

#include <algorithm>
#include <array>
#include <string_view>

namespace becalm::io {
namespace {

bool could_be_a_formula(std::string_view text)
{
    // U+FF1D, U+FF0B, U+FF0D, U+FF20: wide = + - @, which some spreadsheets take for the narrow ones
    static constexpr std::array<std::string_view, 11> signs{
        "=", "+", "-", "@", "\t", "\r", "\n", "\xEF\xBC\x9D", "\xEF\xBC\x8B", "\xEF\xBC\x8D", "\xEF\xBC\xA0"};
    const std::size_t begin = text.find_first_not_of(" '");
    if (begin == std::string_view::npos) return false;
    return std::ranges::any_of(signs, [&](std::string_view sign) { return text.substr(begin).starts_with(sign); });
}

} // namespace

std::string csv_field(const std::string& text)
{
    std::string field = text;
    if (could_be_a_formula(text)) field.insert(0, "'");
    if (field.find_first_of(",\"\r\n") == std::string::npos) return field;
    std::string quoted = "\"";
    for (const char c : field) quoted += c == '"' ? std::string("\"\"") : std::string(1, c);
    return quoted + "\"";
}

} // namespace becalm::io
