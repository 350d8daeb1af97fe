#include "src/model/survey.h"

#include <algorithm>

namespace becalm {
namespace {

template <class Entry>
const Entry* entry_of(const std::vector<Entry>& entries, std::string_view id)
{
    const auto found = std::ranges::find(entries, id, &Entry::id);
    return found == entries.end() ? nullptr : &*found;
}

} // namespace

const Space* Survey::space(std::string_view id) const { return entry_of(spaces, id); }
const Condition* Survey::condition(std::string_view id) const { return entry_of(conditions, id); }
const Sensor* Survey::sensor(std::string_view id) const { return entry_of(sensors, id); }
const Plan* Survey::plan(std::string_view id) const { return entry_of(plans, id); }

std::optional<double> Survey::mounting_percent_of(const Recording& recording) const
{
    return recording.mounting_percent ? recording.mounting_percent : mounting_percent;
}

std::optional<double> Survey::position_percent_of(const Recording& recording) const
{
    if (recording.position_percent) return recording.position_percent;
    const Space* there = space(recording.space);
    return there != nullptr && there->position_percent ? there->position_percent : position_percent;
}

Calibration calibration_on(const Sensor& sensor, std::string_view date)
{
    Calibration held{.date = sensor.calibrated,
                     .sensitivity = sensor.sensitivity,
                     .uncertainty_percent = sensor.uncertainty_percent,
                     .certificate = sensor.certificate};
    if (sensor.calibrations.empty()) return held;
    // ISO 8601 dates sort as text.
    const std::string_view day = date.substr(0, 10);
    const Calibration* last = &sensor.calibrations.front();
    for (const Calibration& calibration : sensor.calibrations)
        if (day.empty() || calibration.date <= day) last = &calibration;
    held.date = last->date;
    if (last->sensitivity) held.sensitivity = last->sensitivity;
    if (last->uncertainty_percent) held.uncertainty_percent = last->uncertainty_percent;
    if (!last->certificate.empty()) held.certificate = last->certificate;
    return held;
}

} // namespace becalm
