#include "src/base/problem.h"
#include "src/model/axis.h"
#include "src/model/finding.h"
#include "src/model/monitoring.h"
#include "src/model/survey.h"
#include "src/model/weighting_id.h"

namespace becalm {
namespace {

template <class Values, class Value = typename Values::value_type>
std::optional<Value> value_named(const Values& values, std::string_view name)
{
    for (const Value value : values)
        if (name_of(value) == name) return value;
    return std::nullopt;
}

} // namespace

std::string_view name_of(Axis axis)
{
    constexpr std::array<std::string_view, 6> names{"x", "y", "z", "rx", "ry", "rz"};
    return names[static_cast<std::size_t>(axis)];
}

std::optional<Axis> axis_named(std::string_view name) { return value_named(all_axes, name); }

std::string_view name_of(Position position)
{
    constexpr std::array<std::string_view, 8> names{"floor", "seat-pan", "seat-back", "feet",
                                                    "bed",   "head",     "hand-left", "hand-right"};
    return names[static_cast<std::size_t>(position)];
}

std::optional<Position> position_named(std::string_view name) { return value_named(all_positions, name); }

std::string_view name_of(WeightingId id)
{
    constexpr std::array<std::string_view, 14> names{"none", "Wb", "Wc", "Wd", "We", "Wf",       "Wg",
                                                     "Wh",   "Wj", "Wk", "Wm", "KB", "velocity", "flat"};
    return names[static_cast<std::size_t>(id)];
}

std::optional<WeightingId> weighting_named(std::string_view name) { return value_named(all_weightings, name); }

std::string_view weighting_names() { return "none, Wb, Wc, Wd, We, Wf, Wg, Wh, Wj, Wk, Wm, KB, velocity, flat"; }

Motion output_of(WeightingId id)
{
    BECALM_ASSERT(id != WeightingId::none);
    return id == WeightingId::KB || id == WeightingId::velocity ? Motion::velocity : Motion::acceleration;
}

Motion output_of(WeightingId id, Motion input) { return id == WeightingId::none ? input : output_of(id); }

std::string_view name_of(Severity severity)
{
    constexpr std::array<std::string_view, 3> names{"note", "caution", "refusal"};
    return names[static_cast<std::size_t>(severity)];
}

std::string_view name_of(Setting setting)
{
    constexpr std::array<std::string_view, 5> names{"vessel", "rail", "road", "building", "lift"};
    return names[static_cast<std::size_t>(setting)];
}

std::optional<Setting> setting_named(std::string_view name) { return value_named(all_settings, name); }

std::string_view name_of(Comparison comparison) { return comparison == Comparison::guarded ? "guarded" : "simple"; }

std::optional<Comparison> comparison_named(std::string_view name) { return value_named(all_comparisons, name); }

std::string_view name_of(MonitorBy by)
{
    constexpr std::array<std::string_view, 4> names{"day", "period", "week", "hour"};
    return names[static_cast<std::size_t>(by)];
}

std::optional<MonitorBy> monitor_by_named(std::string_view name) { return value_named(all_monitor_by, name); }

} // namespace becalm
