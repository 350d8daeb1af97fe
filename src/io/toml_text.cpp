#include "src/io/toml_text.h"

#include <algorithm>
#include <cctype>
#include <cstdint>

#include <fmt/format.h>

namespace becalm::io {
namespace {

// Bytes of the well-formed UTF-8 sequence at the start of `text`; 0 where there is none [Unicode 15.0, table 3-7].
std::size_t utf8_length(std::string_view text)
{
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(i < text.size() ? text[i] : 0); };
    const auto tail = [&](std::size_t from, std::size_t to) {
        for (std::size_t i = from; i < to; ++i)
            if (byte(i) < 0x80 || byte(i) > 0xBF) return false;
        return true;
    };
    const unsigned char first = byte(0);
    const unsigned char second = byte(1);
    if (first < 0x80) return 1;
    if (first >= 0xC2 && first <= 0xDF) return tail(1, 2) ? 2 : 0;
    if (first >= 0xE0 && first <= 0xEF) {
        const bool overlong = first == 0xE0 && second < 0xA0;
        const bool surrogate = first == 0xED && second > 0x9F;
        return tail(1, 3) && !overlong && !surrogate ? 3 : 0;
    }
    if (first >= 0xF0 && first <= 0xF4) {
        const bool overlong = first == 0xF0 && second < 0x90;
        const bool too_great = first == 0xF4 && second > 0x8F;
        return tail(1, 4) && !overlong && !too_great ? 4 : 0;
    }
    return 0;
}

template <class Value, class ToToml>
std::string listed(std::span<const Value> values, ToToml to_toml)
{
    std::string out = "[";
    for (const Value& value : values) out += (out.size() > 1 ? ", " : "") + to_toml(value);
    return out + "]";
}

} // namespace

std::string toml_string(std::string_view text)
{
    std::string out = "\"";
    while (!text.empty()) {
        const std::size_t length = utf8_length(text);
        const auto first = static_cast<unsigned char>(text.front());
        if (length == 0)
            out += "\xEF\xBF\xBD";
        else if (length > 1)
            out += text.substr(0, length);
        else if (first == '"' || first == '\\')
            out += {'\\', text.front()};
        else if (first == '\n')
            out += "\\n";
        else if (first == '\r')
            out += "\\r";
        else if (first == '\t')
            out += "\\t";
        else if (first < 0x20 || first == 0x7F)
            out += fmt::format("\\u{:04X}", first);
        else
            out += text.front();
        text.remove_prefix(std::max<std::size_t>(length, 1));
    }
    return out + '"';
}

std::string toml_key(std::string_view key)
{
    const bool bare = !key.empty() && std::ranges::all_of(key, [](unsigned char c) {
        return c < 0x80 && (std::isalnum(c) != 0 || c == '_' || c == '-');
    });
    return bare ? std::string(key) : toml_string(key);
}

std::string toml_number(double value)
{
    std::string text = fmt::format("{}", value);
    if (text.find_first_of(".e") == std::string::npos) text += ".0";
    return text;
}

std::string toml_list(std::span<const std::string> values) { return listed(values, toml_string); }
std::string toml_list(std::span<const double> values) { return listed(values, toml_number); }

} // namespace becalm::io
