#include "ui/report/dates.h"

#include <algorithm>
#include <chrono>

namespace becalm::report {

bool is_date(const std::string& text)
{
    int year = 0;
    unsigned month = 0, day = 0;
    if (text.size() != 10 || text[4] != '-' || text[7] != '-') return false;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (i == 4 || i == 7) continue;
        if (text[i] < '0' || text[i] > '9') return false;
        const int digit = text[i] - '0';
        if (i < 4) year = 10 * year + digit;
        if (i == 5 || i == 6) month = 10 * month + static_cast<unsigned>(digit);
        if (i > 7) day = 10 * day + static_cast<unsigned>(digit);
    }
    return std::chrono::year_month_day(std::chrono::year(year), std::chrono::month(month), std::chrono::day(day)).ok();
}

std::string latest_date(const Survey& survey)
{
    constexpr std::size_t date_letters = 10; // of "2026-03-14T09:30:00+01:00"
    std::string latest;
    for (const Recording& recording : survey.recordings)
        latest = std::max(latest, recording.start.substr(0, date_letters));
    return latest;
}

} // namespace becalm::report
