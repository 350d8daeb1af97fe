// Axes and measuring positions.
//
// x, y, z: translations; rx, ry, rz: rotations about them. Basicentric axes for a person (x fore-and-aft, y lateral,
// z along the spine) [iso2631-1-1997, 5.2]; in buildings and vessels z is vertical.
#pragma once

#include <array>
#include <optional>
#include <string_view>

namespace becalm {

enum class Axis { x, y, z, rx, ry, rz };

inline constexpr std::array<Axis, 6> all_axes{Axis::x, Axis::y, Axis::z, Axis::rx, Axis::ry, Axis::rz};

std::string_view name_of(Axis axis);
std::optional<Axis> axis_named(std::string_view name);
constexpr bool is_rotation(Axis axis) { return axis >= Axis::rx; }

// Where on or under a person the sensor sits.
enum class Position { floor, seat_pan, seat_back, feet, bed, head, hand_left, hand_right };

inline constexpr std::array<Position, 8> all_positions{Position::floor,     Position::seat_pan,  Position::seat_back,
                                                       Position::feet,      Position::bed,       Position::head,
                                                       Position::hand_left, Position::hand_right};

std::string_view name_of(Position position); // "floor", "seat-pan", ...
std::optional<Position> position_named(std::string_view name);

} // namespace becalm
