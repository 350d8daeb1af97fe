#include "src/model/clock_span.h"

#include <fmt/chrono.h>
#include <fmt/format.h>

namespace becalm {

std::string clock_text(const ClockSpan& hours)
{
    return fmt::format("{:02}:{:02}-{:02}:{:02}", hours.from_min / 60, hours.from_min % 60, hours.to_min / 60,
                       hours.to_min % 60);
}

std::string clock_text(const std::vector<ClockSpan>& hours)
{
    std::string text;
    for (const ClockSpan& span : hours) text += (text.empty() ? "" : ", ") + clock_text(span);
    return text;
}

std::string date_text(std::chrono::sys_days day)
{
    return fmt::format("{:%Y-%m-%d}", fmt::gmtime(std::chrono::sys_seconds(day)));
}

} // namespace becalm
