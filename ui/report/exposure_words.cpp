#include "ui/report/exposure_words.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "ui/figures/figure_words.h"
#include "ui/figures/text.h"

namespace becalm::report {
namespace {

constexpr double day_h = 24.0; // not a limit: hours of a day

} // namespace

std::string hours_text(double hours)
{
    constexpr double rounding = 1e-6; // of a minute
    const auto minutes = static_cast<long long>(hours * 60.0 + rounding);
    if (minutes < 1 && hours > 0.0) return fmt::format("{:.0f} s", std::floor(hours * 3600.0 + rounding));
    if (minutes < 60) return fmt::format("{} min", minutes);
    if (minutes % 60 == 0) return fmt::format("{} h", minutes / 60);
    return fmt::format("{} h {} min", minutes / 60, minutes % 60);
}

std::string time_text(double hours, Language language)
{
    return hours > day_h ? wording_of(language).not_within_a_day.text() : hours_text(hours);
}

std::vector<TaskTime> times_to_tell(const ExposureTask& task)
{
    std::vector<TaskTime> times = task.times;
    if (std::ranges::find(times, "m/s2", &TaskTime::unit) != times.end())
        std::erase_if(times, [](const TaskTime& time) { return time.unit == "1"; });
    return times;
}

bool reaches_a_bound(const ExposureTable& table)
{
    return std::ranges::any_of(table.tasks, [](const ExposureTask& task) {
        return std::ranges::any_of(task.times, [](const TaskTime& time) {
            return time.others_exceed || time.alone_h.value_or(2.0 * day_h) <= day_h ||
                   time.beside_h.value_or(2.0 * day_h) <= day_h;
        });
    });
}

std::string alone_text(const TaskTime& time, Language language)
{
    return time.alone_h ? time_text(*time.alone_h, language) : wording_of(language).not_within_a_day.text();
}

std::string beside_text(const TaskTime& time, Language language)
{
    if (time.others_exceed) return wording_of(language).others_exceed.text();
    return time.beside_h ? time_text(*time.beside_h, language) : "-";
}

std::string left_text(const TaskTime& time, double task_h, Language language)
{
    if (!time.beside_h) return "-";
    if (*time.beside_h > day_h) return wording_of(language).not_within_a_day.text();
    const double left = *time.beside_h - task_h;
    if (left >= 0.0) return hours_text(left);
    constexpr double minutes = 60.0;
    return "−" + hours_text(std::ceil(-left * minutes) / minutes);
}

std::string task_text(const ExposureTask& task)
{
    std::string text = task.space;
    if (!task.position.empty()) text += ", " + task.position;
    if (!task.condition.empty()) text += ", " + task.condition;
    return text;
}

std::string kind_text(const ExposureTable& table, Language language)
{
    const Wording& words = wording_of(language);
    if (table.kind == ExposureKind::whole_body) return words.whole_body.text();
    return filled(table.governs ? words.hand_arm_governs : words.hand_arm,
                  figures::position_words(table.hand, language));
}

std::string axes_text(const ExposureSums& sums)
{
    std::string text = sums.a8.axis;
    if (!sums.daily_vdv.axis.empty() && sums.daily_vdv.axis != text) text += ", VDV " + sums.daily_vdv.axis;
    return text;
}

} // namespace becalm::report
