#include "src/io/stated_text.h"

namespace becalm::io {

namespace {

bool is_continuation(char byte) { return (static_cast<unsigned char>(byte) & 0xC0U) == 0x80U; }

bool is_utf8(std::string_view text)
{
    for (std::size_t i = 0; i < text.size();) {
        const auto lead = static_cast<unsigned char>(text[i]);
        const std::size_t length = lead < 0x80                   ? 1
                                   : lead >= 0xC2 && lead < 0xE0 ? 2
                                   : lead >= 0xE0 && lead < 0xF0 ? 3
                                   : lead >= 0xF0 && lead < 0xF5 ? 4
                                                                 : 0;
        if (length == 0 || i + length > text.size()) return false;
        for (std::size_t k = 1; k < length; ++k)
            if (!is_continuation(text[i + k])) return false;
        // Overlong forms, surrogates and code points beyond U+10FFFF are no UTF-8 either.
        const auto second = length > 1 ? static_cast<unsigned char>(text[i + 1]) : 0U;
        if ((lead == 0xE0 && second < 0xA0) || (lead == 0xED && second >= 0xA0) || (lead == 0xF0 && second < 0x90) ||
            (lead == 0xF4 && second >= 0x90))
            return false;
        i += length;
    }
    return true;
}

} // namespace

std::string as_utf8(std::string_view text)
{
    if (is_utf8(text)) return std::string(text);
    std::string converted;
    for (const char byte : text) {
        const auto value = static_cast<unsigned char>(byte);
        if (value < 0x80) {
            converted += byte;
        } else {
            converted += static_cast<char>(0xC0U | value >> 6);
            converted += static_cast<char>(0x80U | (value & 0x3FU));
        }
    }
    return converted;
}

std::string stated_text(std::string_view field)
{
    std::string text(field.substr(0, field.find('\0')));
    for (char& c : text)
        if (static_cast<unsigned char>(c) < 0x20 || c == 0x7F) c = ' ';
    const auto begin = text.find_first_not_of(' ');
    if (begin == std::string::npos) return {};
    return as_utf8(std::string_view(text).substr(begin, text.find_last_not_of(' ') - begin + 1));
}

} // namespace becalm::io
