#include "tests/architecture/source_text.h"

#include <algorithm>
#include <cctype>
#include <cstdlib>
#include <regex>

namespace becalm::architecture {

namespace {

bool is_word(char c) { return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_'; }

bool is_digit(char c) { return c >= '0' && c <= '9'; }

int line_at(std::string_view text, std::size_t position)
{
    return 1 + static_cast<int>(std::count(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(position), '\n'));
}

// Ends of the things that start at `at`; npos-free: an unfinished thing ends with the text.

std::size_t end_after(std::string_view text, std::string_view mark, std::size_t from)
{
    const auto at = text.find(mark, from);
    return at == std::string_view::npos ? text.size() : at + mark.size();
}

std::size_t end_of_literal(std::string_view text, std::size_t at)
{
    const char quote = text[at];
    std::size_t end = at + 1;
    while (end < text.size() && text[end] != quote && text[end] != '\n') end += text[end] == '\\' ? 2 : 1;
    return std::min(end + 1, text.size());
}

// `at` stands on the quote of R"mark( ... )mark".
std::size_t end_of_raw_string(std::string_view text, std::size_t at)
{
    const auto open = text.find('(', at);
    if (open == std::string_view::npos) return text.size();
    const std::string close = ")" + std::string(text.substr(at + 1, open - at - 1)) + "\"";
    return end_after(text, close, open);
}

} // namespace

std::string without_comments(std::string_view source, Keep keep)
{
    std::string result(source);
    const auto blank = [&](std::size_t from, std::size_t to) {
        for (std::size_t i = from; i < to; ++i)
            if (result[i] != '\n') result[i] = ' ';
    };
    std::size_t at = 0;
    while (at < source.size()) {
        const char c = source[at];
        const char before = at > 0 ? source[at - 1] : ' ';
        if (source.substr(at, 2) == "//") {
            const auto end = std::min(source.find('\n', at), source.size());
            blank(at, end);
            at = end;
        } else if (source.substr(at, 2) == "/*") {
            const auto end = end_after(source, "*/", at + 2);
            blank(at, end);
            at = end;
        } else if (c == '"' || (c == '\'' && !is_word(before))) { // 1'000 holds no character literal
            const auto end = c == '"' && before == 'R' ? end_of_raw_string(source, at) : end_of_literal(source, at);
            if (keep == Keep::code) blank(at + 1, end > at + 1 ? end - 1 : end);
            at = end;
        } else {
            ++at;
        }
    }
    return result;
}

std::vector<Include> includes_of(std::string_view source)
{
    static const std::regex pattern(R"(^[ \t]*#[ \t]*include[ \t]*([<"])([^>"\n]+)[>"])", std::regex::multiline);
    const std::string code = without_comments(source, Keep::code_and_strings);
    std::vector<Include> result;
    for (std::sregex_iterator match(code.begin(), code.end(), pattern), end; match != end; ++match)
        result.push_back(
            {line_at(code, static_cast<std::size_t>(match->position(1))), (*match)[1] == "\"", (*match)[2]});
    return result;
}

std::vector<FloatingLiteral> floating_literals_of(std::string_view source)
{
    const std::string code = without_comments(source, Keep::code);
    std::vector<FloatingLiteral> result;
    std::size_t at = 0;
    while (at < code.size()) {
        const bool starts = is_digit(code[at]) || (code[at] == '.' && at + 1 < code.size() && is_digit(code[at + 1]));
        if (!starts) { // a word swallows the digits in it: x25, lane_0
            if (!is_word(code[at])) {
                ++at;
                continue;
            }
            while (at < code.size() && is_word(code[at])) ++at;
            continue;
        }
        const std::size_t begin = at;
        while (at < code.size()) {
            const bool exponent_sign =
                (code[at] == '+' || code[at] == '-') && (code[at - 1] == 'e' || code[at - 1] == 'E');
            if (!is_word(code[at]) && code[at] != '.' && code[at] != '\'' && !exponent_sign) break;
            ++at;
        }
        std::string text = code.substr(begin, at - begin);
        const bool hexadecimal = text.starts_with("0x") || text.starts_with("0X");
        if (hexadecimal || text.find_first_of(".eE") == std::string::npos) continue;
        std::string digits = text;
        std::erase(digits, '\'');
        result.push_back({line_at(code, begin), std::strtod(digits.c_str(), nullptr), std::move(text)});
    }
    return result;
}

std::string_view line_of(std::string_view source, int line)
{
    std::size_t begin = 0;
    for (int i = 1; i < line; ++i) begin = end_after(source, "\n", begin);
    return source.substr(begin, source.find('\n', begin) - begin);
}

} // namespace becalm::architecture
