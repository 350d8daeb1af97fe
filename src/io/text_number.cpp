#include "src/io/text_number.h"

namespace becalm::io {

const char* parse_any_decimal(const char* at, const char* end, char point, double& value)
{
    // from_chars takes no plus sign.
    if (at + 1 < end && *at == '+' && at[1] != '-' && at[1] != '+') ++at;
    if (point == '.') {
        const auto parsed = std::from_chars(at, end, value);
        return parsed.ec == std::errc() ? parsed.ptr : nullptr;
    }
    constexpr std::ptrdiff_t longest = 63;
    char copy[longest];
    char* out = copy;
    const char* const begin = at;
    for (; at < end && out < copy + longest; ++at) {
        if (*at == '.') return nullptr; // "1.234" may be a thousand here
        const bool of_number = (*at >= '0' && *at <= '9') || (*at >= 'a' && *at <= 'z') || (*at >= 'A' && *at <= 'Z') ||
                               *at == '-' || *at == '+' || *at == point;
        if (!of_number) break;
        *out++ = *at == point ? '.' : *at;
    }
    if (out == copy || out[-1] == '.' || out == copy + longest) return nullptr;
    const auto parsed = std::from_chars(static_cast<const char*>(copy), static_cast<const char*>(out), value);
    return parsed.ec == std::errc() && parsed.ptr == out ? begin + (out - copy) : nullptr;
}

} // namespace becalm::io
