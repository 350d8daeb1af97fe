#include "ui/cli/clock_text.h"

#include <charconv>

namespace becalm::cli {

std::optional<int> whole(std::string_view text)
{
    int value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc() || end != text.data() + text.size() || text.empty()) return {};
    return value;
}

std::optional<int> minutes_in(std::string_view text)
{
    if (text.size() != 5 || text[2] != ':') return {};
    const auto hours = whole(text.substr(0, 2)), minutes = whole(text.substr(3));
    constexpr int midnight = 24 * 60;
    if (!hours || !minutes || *hours < 0 || *minutes < 0 || *minutes > 59 || *hours * 60 + *minutes > midnight)
        return {};
    return *hours * 60 + *minutes;
}

std::optional<ClockSpan> clock_span_in(std::string_view text)
{
    if (text.size() != 11 || text[5] != '-') return {};
    const auto from = minutes_in(text.substr(0, 5)), to = minutes_in(text.substr(6));
    if (!from || !to || *from == *to) return {};
    return ClockSpan{*from, *to};
}

} // namespace becalm::cli
