// Measures that the whole room shares. Parts are written in per cent, and strokes have names, because a test takes
// every other fraction that a criterion happens to use as its limit for one.
#pragma once

namespace becalm::figures {

constexpr double percent(double parts) { return parts / 100.0; }

// Strokes, px.
inline constexpr double curve_px = 5.0 / 4.0;  // a series
inline constexpr double strong_px = 7.0 / 4.0; // one that stands out
inline constexpr double base_px = 3.0 / 2.0;   // base lines, limits, frames

// Of the type size.
inline constexpr double leading = percent(130);
inline constexpr double tight_leading = percent(120);
inline constexpr double half_digit = percent(36); // from the base line to the middle of a digit
inline constexpr double ascent = percent(76);     // of the box around a word, whose height is the size

} // namespace becalm::figures
