#include "ui/figures/ticks.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>

#include <fmt/format.h>

#include "filters/welch.h"
#include "ui/figures/figure_words.h"
#include "ui/figures/measures.h"

namespace becalm::figures {
namespace {

constexpr double rounding = 1e-9; // of a step: a range's end that is a tick to rounding is one

bool is_usable(const AxisScale& scale)
{
    return std::isfinite(scale.from) && std::isfinite(scale.to) && scale.from < scale.to &&
           (!scale.logarithmic || scale.from > 0.0) && std::isfinite(scale.length_px()) && scale.length_px() > 0.0;
}

// The step's index of the first and last multiple inside, or nothing where they cannot be told apart.
struct Multiples {
    std::int64_t first = 1, last = 0;
};

Multiples multiples_inside(double from, double to, double step)
{
    const double first = std::ceil(from / step - rounding), last = std::floor(to / step + rounding);
    constexpr double most = 4e15; // whole numbers beyond have no neighbours in a double
    if (!(std::abs(first) < most && std::abs(last) < most && last - first < 1e5)) return {};
    return {static_cast<std::int64_t>(first), static_cast<std::int64_t>(last)};
}

bool labels_keep_apart(const std::vector<TickMark>& marks, const AxisScale& scale, const LabelRoom& room)
{
    std::optional<double> free_from;
    const double direction = scale.px_to > scale.px_from ? 1.0 : -1.0;
    for (const TickMark& mark : marks) {
        if (mark.label.empty()) continue;
        const double at = direction * scale.px(mark.value), half = room.extent(mark.label) / 2.0;
        if (free_from && at - half < *free_from) return false;
        free_from = at + half + room.gap_px;
    }
    return true;
}

// The last resort: a label that would touch the one before is left out.
void keep_labels_apart(std::vector<TickMark>& marks, const AxisScale& scale, const LabelRoom& room)
{
    std::optional<double> free_from;
    const double direction = scale.px_to > scale.px_from ? 1.0 : -1.0;
    for (TickMark& mark : marks) {
        if (mark.label.empty()) continue;
        const double at = direction * scale.px(mark.value), half = room.extent(mark.label) / 2.0;
        if (free_from && at - half < *free_from)
            mark.label.clear();
        else
            free_from = at + half + room.gap_px;
    }
}

std::size_t labels_in(const std::vector<TickMark>& marks)
{
    return static_cast<std::size_t>(
        std::count_if(marks.begin(), marks.end(), [](const TickMark& mark) { return !mark.label.empty(); }));
}

int decimals_of(double step) { return std::max(0, static_cast<int>(-std::floor(std::log10(step) + rounding))); }

// Numbers `shown` a `step` apart, none beyond `greatest`.
std::string step_label(double shown, double step, double greatest, const Numbers& numbers)
{
    if (numbers.form == NumberForm::prefixed) return with_si_prefix(shown, numbers.unit);
    if (step >= 1e-4 && greatest < 1e6) return decimal_text(shown, decimals_of(step));
    if (std::abs(shown) < step * rounding) return "0";
    const int exponent = static_cast<int>(std::floor(std::log10(greatest) + rounding));
    const double unit = std::pow(10.0, exponent);
    return decimal_text(shown / unit, decimals_of(step / unit)) + "×" + power_of_ten(exponent);
}

std::vector<TickMark> linear_marks(const AxisScale& scale, const Numbers& numbers, double step)
{
    const double per_unit = numbers.shown_per_unit;
    const double from = scale.from * per_unit, to = scale.to * per_unit;
    const double greatest = std::max(std::abs(from), std::abs(to));
    std::vector<TickMark> marks;
    const Multiples multiples = multiples_inside(from, to, step);
    for (std::int64_t k = multiples.first; k <= multiples.last; ++k) {
        const double shown = static_cast<double>(k) * step;
        marks.push_back(
            {std::clamp(shown / per_unit, scale.from, scale.to), step_label(shown, step, greatest, numbers)});
    }
    return marks;
}

// The next of 1, 2, 5, 10 ... after one of them.
double step_after(double step) { return nice_from_below(step * 3.0 / 2.0); }

Ticks linear_steps(const AxisScale& scale, const Numbers& numbers, const LabelRoom& room)
{
    Ticks result{.unit = numbers.form == NumberForm::plain ? numbers.unit : ""};
    if (!is_usable(scale) || !(numbers.shown_per_unit > 0.0)) return result;
    const double span = (scale.to - scale.from) * numbers.shown_per_unit;
    const double finest = span * std::max(room.least_apart_px, 1.0) / scale.length_px();
    if (!(finest > 1e-300 && span < 1e300)) return result;
    // A step no greater than the range has a multiple inside: even a tiny axis says one number.
    double step = std::min(nice_from_below(finest), nice_from_above(span));
    for (; step <= span * (1.0 + rounding); step = step_after(step)) {
        result.marks = linear_marks(scale, numbers, step);
        if (labels_keep_apart(result.marks, scale, room)) break;
    }
    // One number alone tells no scale: somewhat closer ones, where their labels have room, do.
    if (labels_in(result.marks) < 2)
        if (auto closer = linear_marks(scale, numbers, nice_from_above(step * 2.0 / 3.0));
            labels_keep_apart(closer, scale, room))
            result.marks = std::move(closer);
    keep_labels_apart(result.marks, scale, room);
    return result;
}

// ---- logarithmic

std::string decade_label(double shown, int exponent, int mantissa, bool as_powers, const Numbers& numbers)
{
    if (numbers.form == NumberForm::prefixed) return with_si_prefix(shown, numbers.unit);
    if (!as_powers) return decimal_text(shown, std::max(0, -exponent));
    return mantissa == 1 ? power_of_ten(exponent) : std::to_string(mantissa) + "×" + power_of_ten(exponent);
}

// `labelled`: which multiples of a decade; every `stride`th decade.
std::vector<TickMark> decade_marks(const AxisScale& scale, const Numbers& numbers, const std::vector<int>& labelled,
                                   int stride, bool marks_between)
{
    const double from = scale.from * numbers.shown_per_unit, to = scale.to * numbers.shown_per_unit;
    const int first = static_cast<int>(std::floor(std::log10(from) - rounding));
    const int last = static_cast<int>(std::ceil(std::log10(to) + rounding));
    // Numbers as long as "10000" read more easily than powers; across more decades powers do.
    const bool as_powers =
        from < percent(90) * 1e-4 || to > 2e5 * (1.0 + rounding) || (last - first > 6 && (from < 1e-3 || to > 1e4));
    std::vector<TickMark> marks;
    for (int exponent = first; exponent <= last; ++exponent)
        for (int mantissa = 1; mantissa <= 9; ++mantissa) {
            const double shown =
                exponent < 0 ? mantissa / std::pow(10.0, -exponent) : mantissa * std::pow(10.0, exponent);
            if (shown < from * (1.0 - rounding) || shown > to * (1.0 + rounding)) continue;
            const bool has_label =
                exponent % stride == 0 && std::find(labelled.begin(), labelled.end(), mantissa) != labelled.end();
            if (!has_label && !marks_between && mantissa != 1) continue;
            marks.push_back({std::clamp(shown / numbers.shown_per_unit, scale.from, scale.to),
                             has_label ? decade_label(shown, exponent, mantissa, as_powers, numbers) : ""});
        }
    return marks;
}

// ---- time

constexpr std::int64_t minute = 60, hour = 3600, day = 86400;

std::string date_of(std::int64_t local_s, const FigureWords& words)
{
    const std::chrono::year_month_day date{
        std::chrono::floor<std::chrono::days>(std::chrono::local_seconds{std::chrono::seconds{local_s}})};
    return fmt::format("{} {}", static_cast<unsigned>(date.day()),
                       words.months[static_cast<unsigned>(date.month()) - 1].text());
}

// Whole seconds and the rest; a multiple of the step that a double holds a little too low belongs to the next second.
struct Seconds {
    std::int64_t whole = 0;
    std::string decimals = {}; // ".25"
};

Seconds seconds_of(double at_s, double step_s)
{
    const int decimals = decimals_of(step_s);
    Seconds result{.whole = static_cast<std::int64_t>(std::floor(at_s + std::pow(10.0, -decimals) / 2.0))};
    if (decimals > 0)
        result.decimals = decimal_text(std::max(0.0, at_s - static_cast<double>(result.whole)), decimals).substr(1);
    return result;
}

// Local seconds since 1970; a day begins at each multiple of 86,400.
std::string clock_label(double local_s, double step_s, Language language)
{
    const Seconds seconds = seconds_of(local_s, step_s);
    const std::int64_t in_day = ((seconds.whole % day) + day) % day;
    if (in_day == 0 && step_s >= static_cast<double>(minute)) return date_of(seconds.whole, words_of(language));
    std::string text = fmt::format("{:02}:{:02}", in_day / hour, in_day % hour / minute);
    if (step_s < static_cast<double>(minute))
        text += fmt::format(":{:02}", in_day % minute) + in_digits_of(language, seconds.decimals);
    return text;
}

enum class TimeUnit { seconds, minutes, hours, days };

TimeUnit unit_for(double greatest_s, double step_s)
{
    if (greatest_s <= 3.0 * minute || step_s < 1.0) return TimeUnit::seconds;
    if (greatest_s <= 3.0 * hour) return TimeUnit::minutes;
    return greatest_s <= 3.0 * day ? TimeUnit::hours : TimeUnit::days;
}

bool counts_whole(double step_s, std::int64_t unit_s) { return std::fmod(step_s, static_cast<double>(unit_s)) == 0.0; }

std::string name_of(TimeUnit unit, double step_s, const FigureWords& words)
{
    switch (unit) {
    case TimeUnit::seconds: return "s";
    case TimeUnit::minutes: return counts_whole(step_s, minute) ? "min" : "min:s";
    case TimeUnit::hours:
        if (counts_whole(step_s, hour)) return "h";
        return counts_whole(step_s, minute) ? "h:min" : "h:min:s";
    case TimeUnit::days: break;
    }
    return (counts_whole(step_s, day) ? words.days : words.days_and_hours).text();
}

std::string elapsed_label(double at_s, double step_s, TimeUnit unit, Language language)
{
    if (unit == TimeUnit::seconds) return in_digits_of(language, decimal_text(at_s, decimals_of(step_s)));
    const auto whole = static_cast<std::int64_t>(std::llround(at_s));
    const std::int64_t magnitude = std::abs(whole);
    const std::string sign = whole < 0 ? "−" : "";
    const std::string seconds = counts_whole(step_s, minute) ? "" : fmt::format(":{:02}", magnitude % minute);
    if (unit == TimeUnit::minutes) return sign + std::to_string(magnitude / minute) + seconds;
    const std::string minutes = counts_whole(step_s, hour) ? "" : fmt::format(":{:02}", magnitude % hour / minute);
    if (unit == TimeUnit::hours) return sign + std::to_string(magnitude / hour) + minutes + seconds;
    if (counts_whole(step_s, day)) return sign + std::to_string(magnitude / day);
    return sign +
           fmt::format("{} {} {}:{:02}", magnitude / day, words_of(language).day.text(), magnitude % day / hour,
                       magnitude % hour / minute) +
           seconds;
}

std::vector<double> time_steps()
{
    std::vector<double> steps;
    for (int exponent = -9; exponent < 0; ++exponent)
        for (const int mantissa : {1, 2, 5}) steps.push_back(mantissa / std::pow(10.0, -exponent));
    for (const std::int64_t step : {std::int64_t{1}, std::int64_t{2}, std::int64_t{5}, std::int64_t{10},
                                    std::int64_t{20}, std::int64_t{30}, minute, 2 * minute, 5 * minute, 10 * minute,
                                    20 * minute, 30 * minute, hour, 2 * hour, 3 * hour, 6 * hour, 12 * hour})
        steps.push_back(static_cast<double>(step));
    for (double days = 1.0; days < 1e9; days *= 10.0)
        for (const double mantissa : {1.0, 2.0, 5.0}) steps.push_back(days * mantissa * static_cast<double>(day));
    return steps;
}

} // namespace

double AxisScale::px(double value) const
{
    // Logarithms apart: a ratio of numbers far from each other may have no double.
    const double part = logarithmic ? (std::log(value) - std::log(from)) / (std::log(to) - std::log(from))
                                    : (value - from) / (to - from);
    return px_from + std::clamp(part, -1e3, 1e3) * (px_to - px_from);
}

double AxisScale::value(double px) const
{
    const double part = (px - px_from) / (px_to - px_from);
    return logarithmic ? from * std::pow(to / from, part) : from + part * (to - from);
}

double AxisScale::length_px() const { return std::abs(px_to - px_from); }

double nice_from_below(double value)
{
    const double power = std::pow(10.0, std::floor(std::log10(value)));
    for (const double nice : {1.0, 2.0, 5.0})
        if (value <= nice * power * (1.0 + rounding)) return nice * power;
    return 10.0 * power;
}

double nice_from_above(double value)
{
    const double power = std::pow(10.0, std::floor(std::log10(value) + rounding));
    for (const double nice : {5.0, 2.0})
        if (value >= nice * power * (1.0 - rounding)) return nice * power;
    return power;
}

std::string with_si_prefix(double value, const std::string& unit)
{
    static const std::array<std::string, 9> prefixes{"p", "n", "µ", "m", "", "k", "M", "G", "T"};
    if (!std::isfinite(value) || value == 0.0) return number_text(value) + (unit.empty() ? "" : " " + unit);
    // Four digits first: 999.96 is 1000 and so takes the next prefix.
    const double rounded = std::strtod(fmt::format("{:.3e}", value).c_str(), nullptr);
    const int thousands =
        std::clamp(static_cast<int>(std::floor(std::log10(std::abs(rounded)) / 3.0 + rounding)), -4, 4);
    std::string digits = fmt::format("{:.4g}", rounded / std::pow(1000.0, thousands));
    if (digits.starts_with('-')) digits.replace(0, 1, "−");
    const std::string symbol = prefixes[static_cast<std::size_t>(thousands + 4)] + unit;
    return symbol.empty() ? digits : digits + " " + symbol;
}

Ticks in_digits_of(Language language, Ticks ticks)
{
    for (TickMark& mark : ticks.marks) mark.label = in_digits_of(language, std::move(mark.label));
    return ticks;
}

Ticks linear_ticks(const AxisScale& scale, const Numbers& numbers, const LabelRoom& room)
{
    return linear_steps(scale, numbers, room);
}

Ticks logarithmic_ticks(const AxisScale& scale, const Numbers& numbers, const LabelRoom& room)
{
    Ticks result{.unit = numbers.form == NumberForm::plain ? numbers.unit : ""};
    if (!is_usable(scale) || !scale.logarithmic || !(numbers.shown_per_unit > 0.0)) return result;
    const double decades = std::log10(scale.to / scale.from);
    if (!(scale.from * numbers.shown_per_unit > 1e-290 && scale.to * numbers.shown_per_unit < 1e290)) return result;
    const bool marks_between = scale.length_px() / decades >= 40.0;

    std::vector<TickMark> few = decade_marks(scale, numbers, {1, 2, 5}, 1, marks_between || decades < 2.0);
    if (labels_in(few) < 3) {
        Ticks steps = linear_steps(scale, numbers, room);
        if (labels_in(steps.marks) > labels_in(few)) return steps;
    }
    const auto take = [&](std::vector<TickMark> marks) {
        result.marks = std::move(marks);
        keep_labels_apart(result.marks, scale, room);
        return result;
    };
    if (decades <= 4.0 && labels_keep_apart(few, scale, room)) return take(std::move(few));
    for (const int stride : {1, 2, 3, 5, 10, 20, 50, 100}) {
        std::vector<TickMark> marks = decade_marks(scale, numbers, {1}, stride, marks_between);
        if (labels_in(marks) < 2) break;
        if (labels_keep_apart(marks, scale, room)) return take(std::move(marks));
    }
    return take(std::move(few));
}

Ticks third_octave_ticks(const AxisScale& scale, const LabelRoom& room)
{
    Ticks result{.unit = "Hz"};
    if (!is_usable(scale) || !scale.logarithmic) return result;
    if (scale.from < 1e-4 || scale.to > 9e5) return logarithmic_ticks(scale, {.unit = "Hz"}, room);
    const int first = static_cast<int>(std::ceil(10.0 * std::log10(scale.from) - rounding));
    const int last = static_cast<int>(std::floor(10.0 * std::log10(scale.to) + rounding));
    for (const int stride : {1, 3, 10, 30}) {
        result.marks.clear();
        for (int n = first; n <= last; ++n) {
            const filters::ThirdOctave band = filters::third_octave(n);
            result.marks.push_back({std::clamp(band.exact_hz, scale.from, scale.to),
                                    n % stride == 0 ? fmt::format("{:.6g}", band.nominal_hz) : ""});
        }
        if (labels_keep_apart(result.marks, scale, room)) return result;
    }
    keep_labels_apart(result.marks, scale, room);
    return result;
}

Ticks time_ticks(const AxisScale& scale, std::optional<std::chrono::local_seconds> start, const LabelRoom& room,
                 Language language)
{
    Ticks result;
    if (!is_usable(scale) || scale.logarithmic) return result;
    const double offset = start ? static_cast<double>(start->time_since_epoch().count()) : 0.0;
    const double greatest = std::max(std::abs(scale.from), std::abs(scale.to)), span = scale.to - scale.from;
    static const std::vector<double> steps = time_steps();
    for (std::size_t i = 0; i < steps.size(); ++i) {
        const double step = steps[i];
        const bool last = i + 1 == steps.size() || steps[i + 1] > span;
        if (!last && step * scale.length_px() < span * std::max(room.least_apart_px, 1.0)) continue;
        const TimeUnit unit = unit_for(greatest, step);
        const Multiples multiples = multiples_inside(scale.from + offset, scale.to + offset, step);
        result.marks.clear();
        for (std::int64_t k = multiples.first; k <= multiples.last; ++k) {
            const double at = static_cast<double>(k) * step;
            result.marks.push_back({std::clamp(at - offset, scale.from, scale.to),
                                    start ? clock_label(at, step, language) : elapsed_label(at, step, unit, language)});
        }
        result.unit = start ? "" : name_of(unit, step, words_of(language));
        if (last || labels_keep_apart(result.marks, scale, room)) break;
    }
    keep_labels_apart(result.marks, scale, room);
    return result;
}

} // namespace becalm::figures
