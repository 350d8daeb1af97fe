#include "evaluators/selection.h"

#include <algorithm>
#include <charconv>
#include <cmath>

namespace becalm::evaluators {
namespace {

constexpr double day_s = 86400.0;

std::optional<double> number_at(std::string_view text, std::size_t at, std::size_t length)
{
    if (at + length > text.size()) return {};
    double value = 0.0;
    const char* begin = text.data() + at;
    const auto [end, error] = std::from_chars(begin, begin + length, value, std::chars_format::fixed);
    if (error != std::errc{} || end != begin + length) return {};
    return value;
}

char text_at(const std::string& text, std::size_t at) { return at < text.size() ? text[at] : '\0'; }

std::vector<TimeSpan> tidied(std::vector<TimeSpan> spans)
{
    std::ranges::sort(spans, {}, &TimeSpan::from_s);
    std::vector<TimeSpan> joined;
    for (const TimeSpan& span : spans) {
        if (!(span.from_s < span.to_s)) continue;
        if (!joined.empty() && span.from_s <= joined.back().to_s)
            joined.back().to_s = std::max(joined.back().to_s, span.to_s);
        else
            joined.push_back(span);
    }
    return joined;
}

} // namespace

std::optional<LocalStart> local_start(const std::string& start)
{
    // 2026-05-02T10:12:00.25+01:00 or ...Z, as the survey's reader writes it.
    const auto year = number_at(start, 0, 4), month = number_at(start, 5, 2), day = number_at(start, 8, 2);
    const auto hour = number_at(start, 11, 2), minute = number_at(start, 14, 2);
    const std::size_t offset = std::min(start.find_first_of("Zz+-", 17), start.size());
    const auto second = offset > 17 ? number_at(start, 17, offset - 17) : std::nullopt;
    if (!year || !month || !day || !hour || !minute || !second) return {};
    const std::chrono::year_month_day date{std::chrono::year(static_cast<int>(*year)),
                                           std::chrono::month(static_cast<unsigned>(*month)),
                                           std::chrono::day(static_cast<unsigned>(*day))};
    if (!date.ok()) return {};
    double offset_s = 0.0;
    if (const char sign = text_at(start, offset); sign == '+' || sign == '-') {
        const auto hours = number_at(start, offset + 1, 2), minutes = number_at(start, offset + 4, 2);
        if (!hours || !minutes) return {};
        offset_s = (sign == '-' ? -1.0 : 1.0) * (*hours * 3600.0 + *minutes * 60.0);
    }
    return LocalStart{date, *hour * 3600.0 + *minute * 60.0 + *second, offset_s};
}

double local_s(const LocalStart& start)
{
    return static_cast<double>(start.date.time_since_epoch().count()) * day_s + start.second_of_day;
}

double utc_s(const LocalStart& start) { return local_s(start) - start.offset_s; }

std::vector<TimeSpan> within_hours(const LocalStart& start, double duration_s, std::span<const ClockSpan> hours,
                                   std::span<const ClockSpan> sunday_hours, const TimeSpan& near)
{
    std::vector<TimeSpan> inside;
    // A stretch past midnight of the day before may reach into the recording.
    const double from_s = std::max(near.from_s, 0.0), to_s = std::min(near.to_s, duration_s);
    const int first = static_cast<int>((start.second_of_day + from_s) / day_s);
    const int days = static_cast<int>((start.second_of_day + to_s) / day_s) + 1;
    for (int d = first - 1; d < days; ++d) {
        const bool is_sunday = std::chrono::weekday(start.date + std::chrono::days(d)) == std::chrono::Sunday;
        for (const ClockSpan& span : is_sunday ? sunday_hours : hours) {
            const double midnight = d * day_s - start.second_of_day;
            const double from = midnight + span.from_min * 60.0;
            const double to = midnight + span.to_min * 60.0 + (span.to_min < span.from_min ? day_s : 0.0);
            inside.push_back({std::max(from, 0.0), std::min(to, duration_s)});
        }
    }
    return tidied(std::move(inside));
}

std::vector<TimeSpan> within_hours(const LocalStart& start, double duration_s, std::span<const ClockSpan> hours,
                                   const TimeSpan& near)
{
    return within_hours(start, duration_s, hours, hours, near);
}

std::vector<TimeSpan> common(std::span<const TimeSpan> a, std::span<const TimeSpan> b)
{
    std::vector<TimeSpan> both;
    for (const TimeSpan& left : a)
        for (const TimeSpan& right : b) {
            const TimeSpan span{std::max(left.from_s, right.from_s), std::min(left.to_s, right.to_s)};
            if (span.from_s < span.to_s) both.push_back(span);
        }
    std::ranges::sort(both, {}, &TimeSpan::from_s);
    return both;
}

std::vector<TimeSpan> without(std::span<const TimeSpan> a, std::span<const TimeSpan> b)
{
    std::vector<TimeSpan> cuts(b.begin(), b.end());
    std::ranges::sort(cuts, {}, &TimeSpan::from_s);
    std::vector<TimeSpan> left;
    for (const TimeSpan& span : a) {
        double begin = span.from_s;
        for (const TimeSpan& cut : cuts) {
            if (cut.to_s <= begin || cut.from_s >= span.to_s) continue;
            if (cut.from_s > begin) left.push_back({begin, cut.from_s});
            begin = std::max(begin, cut.to_s);
        }
        if (begin < span.to_s) left.push_back({begin, span.to_s});
    }
    return left;
}

double hours_in(std::span<const ClockSpan> hours)
{
    double minutes = 0.0;
    for (const ClockSpan& span : hours)
        minutes += span.to_min - span.from_min + (span.to_min < span.from_min ? 24.0 * 60.0 : 0.0);
    return minutes / 60.0;
}

} // namespace becalm::evaluators
