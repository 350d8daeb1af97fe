#include "ui/figures/palette.h"

#include <algorithm>
#include <cmath>

namespace becalm::figures {
namespace {

// Calm is pale, strong is dark.
constexpr std::array<Colour, 7> scale{{{0xf6, 0xf1, 0xe4},
                                       {0xd9, 0xe0, 0xc8},
                                       {0xa6, 0xc8, 0xb3},
                                       {0x6b, 0xa7, 0xa4},
                                       {0x40, 0x7f, 0x94},
                                       {0x38, 0x4f, 0x7c},
                                       {0x2b, 0x23, 0x52}}};

Colour mixed(Colour a, Colour b, double part_of_b)
{
    const double part = std::clamp(part_of_b, 0.0, 1.0);
    const auto channel = [&](std::uint8_t from, std::uint8_t to) {
        return static_cast<std::uint8_t>(std::lround(from + part * (to - from)));
    };
    return {channel(a.red, b.red), channel(a.green, b.green), channel(a.blue, b.blue)};
}

double linear(std::uint8_t channel)
{
    const double part = channel / 255.0;
    return part <= 0.04045 ? part / 12.92
                           : std::pow((part + 0.055) / 1.055, 2.4); // not a limit: the transfer function of sRGB
}

} // namespace

Colour colour_of(Ink ink)
{
    switch (ink) {
    case Ink::first: return {0x12, 0x3f, 0x5c};
    case Ink::second: return {0xc8, 0x54, 0x0f};
    case Ink::third: return {0x2f, 0x9a, 0x9a};
    case Ink::fourth: return {0x74, 0x4f, 0x3b};
    case Ink::text: return {0x16, 0x24, 0x2e};
    case Ink::quiet: return {0x5a, 0x68, 0x71};
    case Ink::hairline: return {0xdd, 0xe2, 0xe4};
    case Ink::paper: break;
    }
    return {0xff, 0xff, 0xff};
}

Colour tint(Colour colour, double part) { return mixed(colour_of(Ink::paper), colour, part); }

Colour sequential(std::size_t level, std::size_t levels)
{
    if (levels < 2) return scale.front();
    const double place = static_cast<double>(std::min(level, levels - 1)) / static_cast<double>(levels - 1) *
                         static_cast<double>(scale.size() - 1);
    const auto below = std::min(static_cast<std::size_t>(place), scale.size() - 2);
    return mixed(scale[below], scale[below + 1], place - static_cast<double>(below));
}

double luminance(Colour colour)
{
    return 0.2126 * linear(colour.red) + 0.7152 * linear(colour.green) + 0.0722 * linear(colour.blue);
}

double contrast(Colour a, Colour b)
{
    const double first = luminance(a) + 0.05, second = luminance(b) + 0.05; // not a limit: WCAG 2.1
    return std::max(first, second) / std::min(first, second);
}

} // namespace becalm::figures
