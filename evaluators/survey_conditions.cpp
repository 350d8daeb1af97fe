#include "evaluators/survey_conditions.h"

#include <algorithm>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <tuple>

#include <fmt/format.h>
#include <fmt/ranges.h>

namespace becalm::evaluators {
namespace {

using Names = std::vector<std::string>;

std::optional<double> noted(const Condition& condition, const std::string& key)
{
    const auto found = condition.values.find(key);
    return found == condition.values.end() ? std::nullopt : std::optional(found->second);
}

// Conditions under which something was recorded, in the survey's order.
std::vector<const Condition*> conditions_in_use(const Survey& survey)
{
    std::vector<const Condition*> used;
    for (const Condition& condition : survey.conditions)
        if (std::ranges::find(survey.recordings, condition.id, &Recording::condition) != survey.recordings.end())
            used.push_back(&condition);
    return used;
}

class Look {
public:
    explicit Look(const Survey& survey) : survey_(survey), conditions_(conditions_in_use(survey)) {}

    std::vector<Finding> findings()
    {
        if (survey_.setting == Setting::vessel) look_at_a_vessel();
        if (survey_.setting == Setting::rail) look_at_rail();
        look_at_calibration();
        return std::move(findings_);
    }

private:
    void add(Severity severity, std::string code, std::string message)
    {
        findings_.push_back({.severity = severity, .code = std::move(code), .message = std::move(message)});
    }

    void note_recordings_without_condition(std::string_view what_is_not_known)
    {
        const auto count = std::ranges::count(survey_.recordings, std::string(), &Recording::condition);
        if (count > 0)
            add(Severity::note, "no-condition",
                fmt::format("{} of {} recordings name no condition, so {} they were made at is not known; add "
                            "[[condition]] and name it in them",
                            count, survey_.recordings.size(), what_is_not_known));
    }

    Names conditions_without(const std::string& key) const
    {
        Names names;
        for (const Condition* condition : conditions_)
            if (!noted(*condition, key)) names.push_back(condition->id);
        return names;
    }

    // "service (5), trial (6)"
    Names conditions_above(const std::string& key, double greatest) const
    {
        Names names;
        for (const Condition* condition : conditions_)
            if (const auto value = noted(*condition, key); value && *value > greatest)
                names.push_back(fmt::format("{} ({:.4g})", condition->id, *value));
        return names;
    }

    // --- vessels ---

    void look_at_a_vessel()
    {
        note_recordings_without_condition("the shaft speed");
        if (const Names without = conditions_without("shaft_rpm"); !without.empty())
            add(Severity::caution, "shaft-speed",
                fmt::format("the shaft speed is not noted for: {}; add shaft_rpm, without which nobody can repeat the "
                            "measurement or name its sources",
                            fmt::join(without, ", ")));
        constexpr double greatest_sea_state = 3.0, greatest_wind_bft = 4.0;
        if (const Names rough = conditions_above("sea_state", greatest_sea_state); !rough.empty())
            add(Severity::caution, "sea-state",
                fmt::format("measured in a sea state above {:.0f}: {}; waves add what the machinery does not",
                            greatest_sea_state, fmt::join(rough, ", ")));
        if (const Names windy = conditions_above("wind_bft", greatest_wind_bft); !windy.empty())
            add(Severity::caution, "wind",
                fmt::format("measured in wind above Beaufort {:.0f}: {}", greatest_wind_bft, fmt::join(windy, ", ")));
        look_at_depth();
        look_at_directions();
    }

    void look_at_depth()
    {
        constexpr double least_draughts = 5.0;
        Names shallow;
        for (const Condition* condition : conditions_) {
            const auto depth = noted(*condition, "water_depth_m"), draught = noted(*condition, "draught_m");
            if (depth && draught && *depth < least_draughts * *draught)
                shallow.push_back(
                    fmt::format("{} ({:.4g} m of water, {:.4g} m draught)", condition->id, *depth, *draught));
        }
        if (!shallow.empty())
            add(Severity::caution, "shallow-water",
                fmt::format("measured in less than {:.0f} draughts of water: {}; shallow water changes what the "
                            "propeller excites",
                            least_draughts, fmt::join(shallow, ", ")));
    }

    // At secondary points two directions suffice, or one; at one point of each deck all three are asked for.
    void look_at_directions()
    {
        using Point = std::tuple<std::string, Position, std::string>; // space, position, condition
        std::map<Point, std::set<Axis>> axes;
        Names decks;
        for (const Recording& recording : survey_.recordings) {
            auto& measured = axes[{recording.space, recording.position, recording.condition}];
            for (const ChannelMapping& mapping : recording.channels)
                if (!is_rotation(mapping.axis)) measured.insert(mapping.axis);
            const std::string& deck = survey_.space(recording.space)->group;
            if (std::ranges::find(decks, deck) == decks.end()) decks.push_back(deck);
        }
        Names lacking;
        for (const std::string& deck : decks)
            if (std::ranges::none_of(axes, [&](const auto& point) {
                    return survey_.space(std::get<0>(point.first))->group == deck && point.second.size() == 3;
                }))
                lacking.push_back(deck.empty() ? "the spaces without a group" : deck);
        if (!lacking.empty())
            add(Severity::note, "directions",
                fmt::format("no point was measured in three directions on: {}; one of each deck is asked for at least",
                            fmt::join(lacking, ", ")));
    }

    // --- rail ---

    void look_at_rail()
    {
        note_recordings_without_condition("the speed");
        if (const Names without = conditions_without("speed_km_h"); !without.empty())
            add(Severity::caution, "section-speed",
                fmt::format("the speed is not noted for: {}; add speed_km_h", fmt::join(without, ", ")));
        const Condition *slowest = nullptr, *fastest = nullptr;
        for (const Condition* condition : conditions_) {
            const auto speed = noted(*condition, "speed_km_h");
            if (!speed) continue;
            if (slowest == nullptr || *speed < *noted(*slowest, "speed_km_h")) slowest = condition;
            if (fastest == nullptr || *speed > *noted(*fastest, "speed_km_h")) fastest = condition;
        }
        if (slowest == nullptr) return;
        constexpr double about_constant = 1.05; // common practice, no source
        const double low = *noted(*slowest, "speed_km_h"), high = *noted(*fastest, "speed_km_h");
        if (high > about_constant * low)
            add(Severity::note, "section-speeds-differ",
                fmt::format("the conditions differ in speed, from {:.4g} km/h ({}) to {:.4g} km/h ({}); each is judged "
                            "by itself, and the test sections of one value are asked to be run at about constant speed",
                            low, slowest->id, high, fastest->id));
    }

    // --- every survey ---

    void look_at_calibration()
    {
        Names old;
        for (const Sensor& sensor : survey_.sensors)
            if (const CalibrationInUse calibration = calibration_in_use(survey_, sensor); calibration.is_old)
                old.push_back(
                    fmt::format("{} (calibrated {}, used {})", sensor.id, calibration.date, calibration.used));
        if (!old.empty())
            add(Severity::caution, "old-calibration",
                fmt::format("calibrated more than {} years before a recording: {}; have the sensitivity checked",
                            calibration_years, fmt::join(old, ", ")));
    }

    const Survey& survey_;
    std::vector<const Condition*> conditions_;
    std::vector<Finding> findings_;
};

} // namespace

CalibrationInUse calibration_in_use(const Survey& survey, const Sensor& sensor)
{
    CalibrationInUse calibration;
    for (const Recording& recording : survey.recordings)
        if (recording.sensor == sensor.id) calibration.used = std::max(calibration.used, recording.start.substr(0, 10));
    calibration.date = calibration_on(sensor, calibration.used).date.substr(0, 10);
    calibration.is_dated = calibration.date.size() == 10;
    if (!calibration.is_dated) return calibration;
    // ISO 8601 dates sort as text.
    const std::string until = fmt::format("{:04}{}", std::stoi(calibration.date.substr(0, 4)) + calibration_years,
                                          calibration.date.substr(4, 6));
    calibration.is_old = calibration.used > until;
    return calibration;
}

std::vector<Finding> survey_conditions(const Survey& survey) { return Look(survey).findings(); }

} // namespace becalm::evaluators
