// Units at the boundaries. Inside, everything is SI: m/s2, m/s, m, s, Hz.
//
// Standard acceleration of free fall g = 9.80665 m/s2 exactly [CGPM 1901, Resolution 2 of the 3rd meeting].
#pragma once

#include <array>
#include <numbers>
#include <optional>
#include <string_view>

namespace becalm {

// Which derivative of position a channel carries; the weightings are multiplied by (j w)^order(motion).
enum class Motion { acceleration, velocity, displacement };

// Times a signal must be differentiated to become an acceleration.
constexpr int derivative_order(Motion motion) { return static_cast<int>(motion); }

std::string_view name_of(Motion motion);                          // "acceleration" ...
std::string_view si_unit_of(Motion motion, bool rotates = false); // "m/s2", "m/s", "m"; "rad/s2", ...
std::optional<Motion> motion_named(std::string_view name);

struct Unit {
    std::string_view name;
    Motion motion;
    double to_si; // factor to the SI unit of the motion
    bool rotates = false;
};

inline constexpr double standard_gravity = 9.80665; // m/s2

inline constexpr std::array<Unit, 14> units{{
    {"m/s2", Motion::acceleration, 1.0},
    {"mm/s2", Motion::acceleration, 1e-3},
    {"g", Motion::acceleration, standard_gravity},
    {"mg", Motion::acceleration, 1e-3 * standard_gravity},
    {"m/s", Motion::velocity, 1.0},
    {"mm/s", Motion::velocity, 1e-3},
    {"um/s", Motion::velocity, 1e-6},
    {"m", Motion::displacement, 1.0},
    {"mm", Motion::displacement, 1e-3},
    {"um", Motion::displacement, 1e-6},
    {"rad/s2", Motion::acceleration, 1.0, true},
    {"deg/s2", Motion::acceleration, std::numbers::pi / 180.0, true},
    {"rad/s", Motion::velocity, 1.0, true},
    {"deg/s", Motion::velocity, std::numbers::pi / 180.0, true},
}};

std::optional<Unit> unit_named(std::string_view name);

// "m/s2, mm/s2, g, ..." for messages.
std::string_view unit_names();

} // namespace becalm
