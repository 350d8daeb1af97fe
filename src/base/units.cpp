#include "src/base/units.h"

namespace becalm {

std::string_view name_of(Motion motion)
{
    switch (motion) {
    case Motion::acceleration: return "acceleration";
    case Motion::velocity: return "velocity";
    case Motion::displacement: return "displacement";
    }
    return {};
}

std::string_view si_unit_of(Motion motion, bool rotates)
{
    switch (motion) {
    case Motion::acceleration: return rotates ? "rad/s2" : "m/s2";
    case Motion::velocity: return rotates ? "rad/s" : "m/s";
    case Motion::displacement: return rotates ? "rad" : "m";
    }
    return {};
}

std::optional<Motion> motion_named(std::string_view name)
{
    for (const Motion motion : {Motion::acceleration, Motion::velocity, Motion::displacement})
        if (name_of(motion) == name) return motion;
    return std::nullopt;
}

std::optional<Unit> unit_named(std::string_view name)
{
    for (const Unit& unit : units)
        if (unit.name == name) return unit;
    return std::nullopt;
}

std::string_view unit_names() { return "m/s2, mm/s2, g, mg, m/s, mm/s, um/s, m, mm, um, rad/s2, deg/s2, rad/s, deg/s"; }

} // namespace becalm
