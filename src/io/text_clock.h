// Dates and times of day as loggers print them in front of a row.
//
// Read: 2026-03-14T09:30:00.125Z, with a blank for the T, with / or . in the date, with an offset (+01:00, +0100, +01);
// 14.03.2026 09:30:00,125; 09:30:00.125 alone. Not read, because nobody can tell: 03/04/2026, years of two digits,
// times of twelve hours. ISO 8601-1:2019, 5.4; DIN 5008 for the points.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace becalm::io {

inline constexpr std::int64_t nanoseconds = 1'000'000'000;
inline constexpr std::int64_t day_ns = 86'400 * nanoseconds;

struct ClockTime {
    std::optional<std::int64_t> day; // since 1970-01-01, where a date was given
    std::int64_t of_day_ns = 0;      // as the clock showed it
    int decimals = 0;                // of the second, as printed
    std::optional<int> offset_s;     // from UTC, where given; only with a date

    // Counts on over days, in UTC where the offset is known.
    std::int64_t total_ns() const { return day.value_or(0) * day_ns + of_day_ns - offset_s.value_or(0) * nanoseconds; }
};

// The whole of `text`, blanks around it left out. A comma before decimals of the second counts as a point.
std::optional<std::int64_t> date_in(std::string_view text);       // days since 1970-01-01
std::optional<ClockTime> time_of_day_in(std::string_view text);   // without a date
std::optional<ClockTime> date_and_time_in(std::string_view text); // both, perhaps with an offset

// ISO 8601: "2026-03-14T09:30:00.125Z"; only the time of day where there is no date.
std::string iso_8601(const ClockTime& time);
// "09:30:00.125" on the day's clock; days are left out.
std::string clock_face(std::int64_t ns, int decimals);

} // namespace becalm::io
