#include "src/io/utc_time.h"

#include <chrono>

#include <fmt/format.h>

namespace becalm::io {

namespace {

constexpr std::int64_t second_us = 1'000'000;
constexpr std::int64_t day_us = 86'400 * second_us;

} // namespace

std::optional<std::int64_t> moment_of(int year, int day_of_year, int hour, int minute, int second,
                                      std::int64_t microsecond)
{
    if (year < 1 || year > 9999 || hour < 0 || hour > 23 || minute < 0 || minute > 59 || second < 0 || second > 60 ||
        microsecond < 0 || microsecond >= second_us)
        return std::nullopt;
    const std::chrono::year of_year(year);
    if (day_of_year < 1 || day_of_year > (of_year.is_leap() ? 366 : 365)) return std::nullopt;
    const std::chrono::sys_days first = of_year / std::chrono::January / 1;
    const std::int64_t days = first.time_since_epoch().count() + day_of_year - 1;
    return days * day_us + ((std::int64_t{hour} * 60 + minute) * 60 + second) * second_us + microsecond;
}

std::string iso_time(std::int64_t moment)
{
    std::int64_t days = moment / day_us;
    if (moment % day_us < 0) --days;
    const std::int64_t in_day = moment - days * day_us;
    const std::chrono::year_month_day date{std::chrono::sys_days(std::chrono::days(days))};
    const std::int64_t seconds = in_day / second_us;
    std::string text = fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}", static_cast<int>(date.year()),
                                   static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()),
                                   seconds / 3600, seconds / 60 % 60, seconds % 60);
    if (in_day % second_us == 0) return text;
    text += fmt::format(".{:06}", in_day % second_us);
    while (text.back() == '0') text.pop_back();
    return text;
}

} // namespace becalm::io
