// Becalm's colours, and the strokes that tell lines apart without them.
//
// Chosen for this project by search: on white every ink has a contrast of at least 3:1 (WCAG 2.2, 1.4.11), text at
// least 4.5:1 (1.4.3); any two of the four series inks differ by at least 27 in CIELAB for common sight and for
// simulated protanopia, deuteranopia and tritanopia (Machado, Oliveira, Fernandes 2009, severity 1). Contrasts on
// white: first 11.1, second 4.4, third 3.4, fourth 7.2. The sequential scale falls evenly in lightness from 95 to 17
// (CIE L*), so it reads in grey as well. Tests compute all of this from the definitions.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>

namespace becalm::figures {

struct Colour {
    std::uint8_t red = 0, green = 0, blue = 0;

    friend bool operator==(const Colour&, const Colour&) = default;
};

enum class Ink {
    first,    // deep water
    second,   // a buoy
    third,    // shallows
    fourth,   // peat
    text,     // words, base lines
    quiet,    // lesser words, source lines
    hairline, // grid: not meant to be read
    paper     // background
};

inline constexpr std::array series_inks{Ink::first, Ink::second, Ink::third, Ink::fourth};

enum class Dash { solid, dashed, dotted, dash_dot };

Colour colour_of(Ink ink);

// Mixed with the background: part 1 is the colour itself.
Colour tint(Colour colour, double part);

// Level `level` of `levels` of the sequential scale: 0 the palest.
Colour sequential(std::size_t level, std::size_t levels);

// Relative luminance, and the ratio of contrast (1 to 21), as WCAG 2.2 defines them.
double luminance(Colour colour);
double contrast(Colour a, Colour b);

} // namespace becalm::figures
