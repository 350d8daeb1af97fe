#include "src/io/text_clock.h"

#include <chrono>

#include <fmt/format.h>

namespace becalm::io {

namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }

// Takes what it understands from the front of a text.
class Taker {
public:
    explicit Taker(std::string_view text) : rest_(text) {}

    bool empty() const { return rest_.empty(); }
    char front() const { return rest_.empty() ? '\0' : rest_.front(); }
    bool skip(char c)
    {
        if (front() != c || rest_.empty()) return false;
        rest_.remove_prefix(1);
        return true;
    }
    bool skip_blanks()
    {
        const std::size_t before = rest_.size();
        while (front() == ' ') rest_.remove_prefix(1);
        return rest_.size() < before;
    }
    // `least` to `most` digits and no further one.
    std::optional<int> number(std::size_t least, std::size_t most)
    {
        std::size_t count = 0;
        int value = 0;
        for (; count < rest_.size() && is_digit(rest_[count]); ++count) {
            if (count == most) return std::nullopt;
            value = value * 10 + (rest_[count] - '0');
        }
        if (count < least) return std::nullopt;
        rest_.remove_prefix(count);
        digits_ = static_cast<int>(count);
        return value;
    }
    int digits() const { return digits_; } // of the last number

private:
    std::string_view rest_;
    int digits_ = 0;
};

std::optional<std::int64_t> take_date(Taker& taker)
{
    const auto first = taker.number(1, 4);
    if (!first) return std::nullopt;
    const bool year_first = taker.digits() == 4;
    if (!year_first && taker.digits() > 2) return std::nullopt;
    const char between = taker.front();
    if (between != '.' && (!year_first || (between != '-' && between != '/'))) return std::nullopt;
    taker.skip(between);
    const auto second = taker.number(1, 2);
    if (!second || !taker.skip(between)) return std::nullopt;
    const auto third = year_first ? taker.number(1, 2) : taker.number(4, 4);
    if (!third) return std::nullopt;
    const std::chrono::year_month_day date{std::chrono::year(year_first ? *first : *third),
                                           std::chrono::month(static_cast<unsigned>(*second)),
                                           std::chrono::day(static_cast<unsigned>(year_first ? *third : *first))};
    // Nanoseconds since 1970 reach to the year 2262.
    if (!date.ok() || date.year() < std::chrono::year(1900) || date.year() > std::chrono::year(2200))
        return std::nullopt;
    return std::chrono::sys_days(date).time_since_epoch().count();
}

std::optional<ClockTime> take_time(Taker& taker)
{
    const auto hour = taker.number(1, 2);
    if (!hour || *hour > 23 || !taker.skip(':')) return std::nullopt;
    const auto minute = taker.number(2, 2);
    if (!minute || *minute > 59 || !taker.skip(':')) return std::nullopt;
    const auto second = taker.number(2, 2);
    if (!second || *second > 59) return std::nullopt;
    ClockTime time;
    time.of_day_ns = (*hour * 3600 + *minute * 60 + *second) * nanoseconds;
    if (taker.skip('.') || taker.skip(',')) {
        const auto decimals = taker.number(1, 9);
        if (!decimals) return std::nullopt;
        time.decimals = taker.digits();
        std::int64_t ns = *decimals;
        for (int i = time.decimals; i < 9; ++i) ns *= 10;
        time.of_day_ns += ns;
    }
    return time;
}

std::optional<int> take_offset(Taker& taker)
{
    if (taker.skip('Z') || taker.skip('z')) return 0;
    const bool west = taker.front() == '-';
    if (!taker.skip('+') && !taker.skip('-')) return std::nullopt;
    auto hours = taker.number(2, 4);
    if (!hours || taker.digits() == 3) return std::nullopt;
    int minutes = 0;
    if (taker.digits() == 4) {
        minutes = *hours % 100;
        *hours /= 100;
    } else if (taker.skip(':')) {
        const auto stated = taker.number(2, 2);
        if (!stated) return std::nullopt;
        minutes = *stated;
    }
    if (*hours > 14 || minutes > 59) return std::nullopt;
    const int seconds = *hours * 3600 + minutes * 60;
    return west ? -seconds : seconds;
}

bool at_end(Taker& taker)
{
    taker.skip_blanks();
    return taker.empty();
}

} // namespace

std::optional<std::int64_t> date_in(std::string_view text)
{
    Taker taker(text);
    taker.skip_blanks();
    const auto day = take_date(taker);
    return day && at_end(taker) ? day : std::nullopt;
}

std::optional<ClockTime> time_of_day_in(std::string_view text)
{
    Taker taker(text);
    taker.skip_blanks();
    auto time = take_time(taker);
    return time && at_end(taker) ? time : std::nullopt;
}

std::optional<ClockTime> date_and_time_in(std::string_view text)
{
    Taker taker(text);
    taker.skip_blanks();
    const auto day = take_date(taker);
    if (!day) return std::nullopt;
    if (!taker.skip('T') && !taker.skip('t') && !taker.skip_blanks()) return std::nullopt;
    auto time = take_time(taker);
    if (!time) return std::nullopt;
    time->day = day;
    taker.skip_blanks();
    if (!taker.empty()) {
        time->offset_s = take_offset(taker);
        if (!time->offset_s) return std::nullopt;
    }
    return at_end(taker) ? time : std::nullopt;
}

std::string clock_face(std::int64_t ns, int decimals)
{
    std::int64_t of_day = ns % day_ns;
    if (of_day < 0) of_day += day_ns;
    const std::int64_t seconds = of_day / nanoseconds;
    std::string text = fmt::format("{:02}:{:02}:{:02}", seconds / 3600, seconds / 60 % 60, seconds % 60);
    if (decimals > 0)
        text += "." + fmt::format("{:09}", of_day % nanoseconds).substr(0, static_cast<std::size_t>(decimals));
    return text;
}

std::string iso_8601(const ClockTime& time)
{
    const std::string face = clock_face(time.of_day_ns, time.decimals);
    if (!time.day) return face;
    const std::chrono::year_month_day date{std::chrono::sys_days(std::chrono::days(*time.day))};
    std::string text = fmt::format("{:04}-{:02}-{:02}T{}", static_cast<int>(date.year()),
                                   static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()), face);
    if (!time.offset_s) return text;
    if (*time.offset_s == 0) return text + "Z";
    const int size = std::abs(*time.offset_s);
    return text + fmt::format("{}{:02}:{:02}", *time.offset_s < 0 ? '-' : '+', size / 3600, size / 60 % 60);
}

} // namespace becalm::io
