// Moments of files that count seconds, days of the year or years of two digits, as ISO 8601.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

namespace becalm::io {

// Microseconds from 1970-01-01T00:00:00, leap seconds not counted; none where a number is out of its range (the day of
// the year from 1, seconds up to 60, years from 1 to 9999).
std::optional<std::int64_t> moment_of(int year, int day_of_year, int hour, int minute, int second,
                                      std::int64_t microsecond);

// "2031-05-17T06:30:05.25": no more digits of the second than it takes.
std::string iso_time(std::int64_t moment);

} // namespace becalm::io
