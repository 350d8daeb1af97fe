#include "ui/figures/labels.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <utility>

namespace becalm::figures {
namespace {

constexpr double from_mast_px = 3.0; // to its own words
constexpr double mast_gap_px = 2.0;  // to the words of others

template <class Wish>
std::vector<std::size_t> in_order(std::size_t n, Wish wish)
{
    std::vector<std::size_t> order(n);
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return wish(a) < wish(b); });
    return order;
}

// Neighbours that want the same place, moved as one: they end up centred on the mean of their wishes.
struct Pile {
    std::size_t first = 0, count = 0;
    double size = 0.0;
    double start_sum = 0.0; // of where the pile would start if each of its labels had its wish
    double start(double from, double to) const
    {
        return std::max(from, std::min(start_sum / static_cast<double>(count), to - size));
    }
};

using Placing = std::vector<std::optional<PlacedFlag>>;

class FlagPlaces {
public:
    FlagPlaces(std::span<const Flag> flags, double from_px, double to_px, double gap_px, int rows)
        : flags_(flags), from_px_(from_px), to_px_(to_px), gap_px_(gap_px), rows_(rows), placing_(flags.size())
    {
    }

    bool is_open(std::size_t i) const
    {
        const double at = flags_[i].at_px;
        return !placing_[i] && std::isfinite(at) && at >= from_px_ && at <= to_px_;
    }

    void try_rows(std::size_t i, bool to_the_left, int from_row)
    {
        const auto [at, width] = flags_[i];
        const double from = to_the_left ? at - from_mast_px - width : at + from_mast_px;
        for (int row = from_row; row < rows_ && is_open(i); ++row)
            if (const PlacedFlag place{row, to_the_left, from, from + width}; is_free(i, place)) placing_[i] = place;
    }

    const Placing& placing() const { return placing_; }

private:
    bool is_free(std::size_t i, const PlacedFlag& place) const
    {
        if (place.from_px < from_px_ || place.to_px > to_px_) return false;
        const auto crosses = [](double mast, const PlacedFlag& words) {
            return mast > words.from_px - mast_gap_px && mast < words.to_px + mast_gap_px;
        };
        for (std::size_t j = 0; j < flags_.size(); ++j) {
            if (!placing_[j]) continue;
            const PlacedFlag& other = *placing_[j];
            const bool side_by_side = place.from_px < other.to_px + gap_px_ && other.from_px < place.to_px + gap_px_;
            if (other.row == place.row && side_by_side) return false;
            if (other.row >= place.row && crosses(flags_[j].at_px, place)) return false;
            if (place.row >= other.row && crosses(flags_[i].at_px, other)) return false;
        }
        return true;
    }

    std::span<const Flag> flags_;
    double from_px_, to_px_, gap_px_;
    int rows_;
    Placing placing_;
};

// More flags are better, then fewer rows.
std::pair<std::ptrdiff_t, int> worth(const Placing& placing)
{
    std::ptrdiff_t placed = 0;
    int rows = 0;
    for (const auto& place : placing)
        if (place) {
            ++placed;
            rows = std::max(rows, place->row + 1);
        }
    return {placed, -rows};
}

} // namespace

Placing placed_flags(std::span<const Flag> flags, double from_px, double to_px, double gap_px, int rows)
{
    const std::vector<std::size_t> from_the_right =
        in_order(flags.size(), [&](std::size_t k) { return -flags[k].at_px; });
    const auto has_no_room_at_its_right = [&](std::size_t i) {
        return flags[i].at_px + from_mast_px + flags[i].width_px > to_px;
    };
    // Taken from the right, a flag flying to the right finds the masts that it must rise above already there. Those at
    // the right end fly to the left, over masts still to come: in which row is best is tried out.
    Placing best(flags.size());
    for (int row = 0; row < std::max(rows, 1); ++row) {
        FlagPlaces places(flags, from_px, to_px, gap_px, rows);
        for (const std::size_t i : from_the_right)
            if (places.is_open(i) && has_no_room_at_its_right(i)) places.try_rows(i, true, row);
        for (const bool to_the_left : {false, true})
            for (const std::size_t i : from_the_right)
                if (places.is_open(i)) places.try_rows(i, to_the_left, 0);
        if (worth(places.placing()) > worth(best)) best = places.placing();
    }
    return best;
}

std::vector<std::optional<double>> spread(std::span<const MarginLabel> labels, double from_px, double to_px)
{
    std::vector<std::optional<double>> result(labels.size());
    std::vector<std::size_t> order = in_order(labels.size(), [&](std::size_t i) { return labels[i].centre_px; });
    double total = 0.0;
    std::size_t fit = 0;
    while (fit < order.size() && total + labels[order[fit]].size_px <= to_px - from_px)
        total += labels[order[fit++]].size_px;
    order.resize(fit);

    std::vector<Pile> piles;
    for (std::size_t k = 0; k < order.size(); ++k) {
        const MarginLabel& label = labels[order[k]];
        piles.push_back({k, 1, label.size_px, label.centre_px - label.size_px / 2.0});
        while (piles.size() > 1) {
            const Pile last = piles.back();
            Pile& before = piles[piles.size() - 2];
            if (before.start(from_px, to_px) + before.size <= last.start(from_px, to_px)) break;
            before.start_sum += last.start_sum - static_cast<double>(last.count) * before.size;
            before.count += last.count;
            before.size += last.size;
            piles.pop_back();
        }
    }
    for (const Pile& pile : piles) {
        double at = pile.start(from_px, to_px);
        for (std::size_t k = pile.first; k < pile.first + pile.count; ++k) {
            const double size = labels[order[k]].size_px;
            result[order[k]] = at + size / 2.0;
            at += size;
        }
    }
    return result;
}

} // namespace becalm::figures
