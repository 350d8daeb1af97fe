// Labels that keep out of each other's way: flags on masts, and words pushed apart in a margin. Pure geometry.
#pragma once

#include <optional>
#include <span>
#include <vector>

namespace becalm::figures {

// A mast at `at_px`, rising from below through the rows up to its flag, which flies to one side.
struct Flag {
    double at_px = 0.0;
    double width_px = 0.0;
};

struct PlacedFlag {
    int row = 0; // 0 is the lowest
    bool to_the_left = false;
    double from_px = 0.0, to_px = 0.0; // of its words
};

// For each flag its place, or nothing where no row has room. Flags lie within [from_px, to_px] at least `gap_px` apart,
// and no mast crosses another's words. Low rows and the right side come first.
std::vector<std::optional<PlacedFlag>> placed_flags(std::span<const Flag> flags, double from_px, double to_px,
                                                    double gap_px, int rows);

// A label `size_px` long that would like to be centred at `centre_px`.
struct MarginLabel {
    double centre_px = 0.0;
    double size_px = 0.0;
};

// Centres within [from_px, to_px] as near to the wishes as they can be without overlap, in the order of the wishes;
// nothing for the labels (the last in order) that have no room at all.
std::vector<std::optional<double>> spread(std::span<const MarginLabel> labels, double from_px, double to_px);

} // namespace becalm::figures
