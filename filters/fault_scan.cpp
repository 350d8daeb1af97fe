#include "filters/fault_scan.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "filters/lane_kernel.h"

namespace becalm::filters {
namespace {

constexpr std::size_t stretches_about = 4; // before and after the one that is looked at
constexpr std::size_t most_events = 512;
constexpr std::size_t most_means = 128;
constexpr std::size_t cells = 2048;
constexpr std::int64_t enough_levels = 20'000; // samples
constexpr double outstanding = 25.0;           // times the energy beside it
constexpr double near_an_extreme = 0.15;       // not a limit: of the range
constexpr double single_tolerance = 0.25, quiet_about = 1.0 / 3.0;
constexpr double fast_enough = 0.3; // not a limit: (2 sin(pi f / rate))^2 of f = 0.088 rate

double second_difference(const double* x) { return x[-1] - 2.0 * x[0] + x[1]; }

} // namespace

FaultScan::FaultScan(double rate_hz, std::int64_t begin, double step)
    : rate_hz_(rate_hz), begin_(begin), step_(step), length_(std::max<std::int64_t>(16, std::llround(0.02 * rate_hz)))
{
}

void FaultScan::add(const double* values, std::size_t count, std::int64_t first, double least, double greatest)
{
    if (count == 0) return;
    if (has_first_ == 0) {
        first_ = values[0];
        least_ = greatest_ = values[0];
        has_first_ = 1;
        tail_begin_ = first;
    }
    add_mean(values, count, first);
    const bool reaches_out = blocks_ == 0 || least < least_ || greatest > greatest_;
    // Where every bit below the highest changes, values between those seen can change no other.
    const bool has_stuck_bits = (changing_ & (changing_ + 1)) != 0 || changing_ == 0;
    if (step_ > 0.0 && (reaches_out || has_stuck_bits)) add_bits(values, count, least, greatest);
    least_ = std::min(least_, least);
    greatest_ = std::max(greatest_, greatest);
    // Without a limit at first; then what comes near an extreme, an eighth of all at most, and some of all.
    const double margin = near_an_extreme * (greatest_ - least_);
    const bool is_near = greatest > greatest_ - margin || least < least_ + margin;
    if (reaches_out || levelled_ < enough_levels || (is_near && levelled_ < enough_levels + seen_ / 8) ||
        blocks_ % 16 == 0)
        add_levels(values, count, least, greatest);
    seen_ += static_cast<std::int64_t>(count);
    ++blocks_;
    tail_.insert(tail_.end(), values, values + count);
    close_stretches();
}

// --- means ---

void FaultScan::add_mean(const double* values, std::size_t count, std::int64_t first)
{
    const auto second = static_cast<std::int64_t>(std::floor(static_cast<double>(first - begin_) / rate_hz_));
    count_bin(second, kernel::chosen().sum_about(values, count, first_), static_cast<double>(count));
}

void FaultScan::count_bin(std::int64_t second, double sum, double count)
{
    second = std::max<std::int64_t>(second, 0);
    while (second / width_s_ >= static_cast<std::int64_t>(most_means)) widen(2 * width_s_);
    const auto bin = static_cast<std::size_t>(second / width_s_);
    if (means_.size() <= bin) means_.resize(bin + 1);
    means_[bin].sum += sum;
    means_[bin].count += count;
}

void FaultScan::widen(std::int64_t width_s)
{
    for (; width_s_ < width_s; width_s_ *= 2) {
        std::vector<WanderingMean> wider((means_.size() + 1) / 2);
        for (std::size_t i = 0; i < means_.size(); ++i) {
            wider[i / 2].sum += means_[i].sum;
            wider[i / 2].count += means_[i].count;
        }
        means_ = std::move(wider);
    }
}

// --- bits ---

void FaultScan::add_bits(const double* values, std::size_t count, double least, double greatest)
{
    const double per_step = 1.0 / step_;
    constexpr double most = 0x1p30;
    if (std::max(std::abs(least), std::abs(greatest)) * std::abs(per_step) > most) return;
    const auto stored = [&](double value) {
        const double steps = value * per_step;
        return static_cast<std::uint32_t>(static_cast<std::int32_t>(steps + (steps < 0.0 ? -0.5 : 0.5)));
    };
    if (levelled_ == 0 && blocks_ == 0) set_ = stored(values[0]);
    std::uint32_t changing = 0;
    const std::uint32_t set = set_;
    for (std::size_t i = 0; i < count; ++i) changing |= stored(values[i]) ^ set;
    changing_ |= changing;
}

// --- levels ---

void FaultScan::make_room(double least, double greatest)
{
    if (levels_.empty()) {
        if (!(greatest > least)) return;
        level_width_ = (greatest - least) / static_cast<double>(cells / 4);
        level_low_ = least - level_width_ * static_cast<double>(cells / 4);
        levels_.resize(cells);
    }
    const auto reach = [&] { return level_width_ * static_cast<double>(cells); };
    while (least < level_low_ || greatest >= level_low_ + reach()) {
        // Twice as wide, growing to the side that needs it: pairs become one.
        const bool downwards = least < level_low_;
        std::vector<Cell> wider(cells);
        const std::size_t shift = downwards ? cells / 2 : 0;
        for (std::size_t i = 0; i < cells; ++i) {
            Cell& cell = wider[shift + i / 2];
            cell.add(levels_[i]);
        }
        if (downwards) level_low_ -= reach();
        level_width_ *= 2.0;
        levels_ = std::move(wider);
        if (!std::isfinite(reach())) return; // what is beyond any sensor is refused elsewhere
    }
}

void FaultScan::add_levels(const double* values, std::size_t count, double least, double greatest)
{
    make_room(least, greatest);
    if (levels_.empty() || !std::isfinite(level_width_ * static_cast<double>(cells))) return;
    const double per_width = 1.0 / level_width_;
    const auto cell_of = [&](double value) -> Cell& {
        const auto cell = static_cast<std::int32_t>((value - level_low_) * per_width);
        return levels_[static_cast<std::size_t>(std::clamp<std::int32_t>(cell, 0, cells - 1))];
    };
    // What is asked for later lies nearer the extremes than this, whatever still comes.
    const double margin = near_an_extreme * (greatest_ - least_);
    const double high = greatest_ - margin, low = least_ + margin;
    for (std::size_t i = 1; i + 1 < count; ++i) {
        const double value = values[i];
        const double c = second_difference(values + i);
        Cell& into = cell_of(value);
        into.count += 1.0;
        into.bend += c * c;
        if (value > high) {
            const double outermost = std::min({values[i - 1], value, values[i + 1]});
            if (outermost > high) {
                Cell& crest = cell_of(outermost);
                crest.inner += 1.0;
                crest.inner_bend += c * c;
            }
        } else if (value < low) {
            const double outermost = std::max({values[i - 1], value, values[i + 1]});
            if (outermost < low) {
                Cell& crest = cell_of(outermost);
                crest.inner += 1.0;
                crest.inner_bend += c * c;
            }
        }
    }
    levelled_ += static_cast<std::int64_t>(count);
}

Flatness FaultScan::flatness(bool high) const
{
    Flatness best;
    if (levels_.empty()) return best;
    double count = 0.0, bend = 0.0, sum = 0.0;
    std::size_t first = cells, last = 0;
    for (std::size_t i = 0; i < cells; ++i) {
        if (levels_[i].count == 0.0) continue;
        first = std::min(first, i);
        last = i;
        count += levels_[i].count;
        bend += levels_[i].bend;
        sum += levels_[i].count * (static_cast<double>(i) + 0.5);
    }
    if (count == 0.0 || bend == 0.0) return best;
    const double middle = sum / count;
    const double reach = high ? static_cast<double>(last) + 1.0 - middle : middle - static_cast<double>(first);
    if (reach < 64.0) return best; // too coarse to tell
    const auto within = [&](std::size_t width) {
        Cell inside;
        for (std::size_t k = 0; k < width && k < cells; ++k) {
            const std::size_t i = high ? last - std::min(last, k) : std::min(first + k, cells - 1);
            inside.add(levels_[i]);
        }
        return inside;
    };
    // Where most of a recording is quiet, all of it says little: what lies below the crests counts too.
    Cell below;
    constexpr double from_share = 0.15, to_share = 0.7; // not a limit: shares of the way to the extreme
    for (auto k = static_cast<std::size_t>(from_share * reach); k < static_cast<std::size_t>(to_share * reach); ++k) {
        const std::size_t i = high ? last - std::min(last, k) : std::min(first + k, cells - 1);
        below.add(levels_[i]);
    }
    const double usual = std::sqrt(std::max(bend / count, below.count > 0.0 ? below.bend / below.count : 0.0));
    for (const double share : {0.01, 0.014, 0.02, 0.028, 0.04, 0.056}) { // not a limit: shares of that way
        const auto width = static_cast<std::size_t>(std::lround(share * reach));
        if (width < 2) continue;
        const Cell near = within(width), twice = within(2 * width);
        const double growth = twice.count / near.count;
        const double bent = near.inner > 0.0 ? std::sqrt(near.inner_bend / near.inner) / usual : 0.0;
        const double flat = growth * (0.5 + bent), flattest = best.growth * (0.5 + best.bend);
        constexpr double few = 16.0;
        if (near.inner < few || (best.samples > 0 && flat >= flattest)) continue;
        best = {.samples = static_cast<std::int64_t>(near.count),
                .h = static_cast<double>(width) / reach,
                .growth = growth,
                .inner = static_cast<std::int64_t>(near.inner),
                .bend = bent};
    }
    return best;
}

// --- what is fast ---

void FaultScan::close_stretches()
{
    const auto length = static_cast<std::size_t>(length_);
    // Stretch s holds the samples 1 + s length ... of tail_: each needs a neighbour on either side.
    const std::size_t closed = stretches_.size(), close = tail_.size() < 2 ? 0 : (tail_.size() - 2) / length;
    if (close <= closed) return;
    stretches_.resize(close);
    kernel::chosen().bends(tail_.data() + 1 + closed * length, length, close - closed, stretches_.data() + closed);
    for (std::size_t last = std::max(closed, 2 * stretches_about); last < close; ++last) {
        // Most fail here already.
        const std::size_t middle = last - stretches_about;
        if (stretches_[middle] > outstanding * stretches_[last]) look_at(middle);
    }
    const std::size_t spent = stretches_.size() > 4 * stretches_about ? stretches_.size() - 2 * stretches_about : 0;
    if (spent == 0) return;
    stretches_.erase(stretches_.begin(), stretches_.begin() + static_cast<std::ptrdiff_t>(spent));
    tail_.erase(tail_.begin(), tail_.begin() + static_cast<std::ptrdiff_t>(spent * length));
    tail_begin_ += static_cast<std::int64_t>(spent * length);
}

void FaultScan::look_at(std::size_t middle)
{
    const auto at = [&](int d) {
        return stretches_[static_cast<std::size_t>(static_cast<std::ptrdiff_t>(middle) + d)];
    };
    const double size = at(0);
    const double beside = std::max({at(-4), at(-3), at(3), at(4)});
    if (!(size > outstanding * beside)) return;
    if (size < at(-1) || size < at(-2) || size <= at(1) || size <= at(2)) return;

    const auto length = static_cast<std::size_t>(length_);
    const double* x = tail_.data() + 1 + middle * length;
    std::size_t peak = 0;
    for (std::size_t i = 1; i < length; ++i)
        if (std::abs(second_difference(x + i)) > std::abs(second_difference(x + peak))) peak = i;
    const double* p = x + peak;
    const double top = second_difference(p);
    const auto near = [&](double value, double expected) {
        return std::abs(value - expected) <= single_tolerance * std::abs(top);
    };
    // What belongs to the spike is left out of what must be quiet about it. Of two samples any of the four second
    // differences may be the greatest.
    int before = 0, after = 0;
    bool is_spike = false, of_two = false;
    const auto is_like = [&](int from, auto... shape) {
        int d = from;
        const bool alike = (near(second_difference(p + d++), shape * top) && ...);
        if (!alike || is_spike) return;
        is_spike = true;
        before = -from;
        after = d - 1;
        of_two = sizeof...(shape) == 4;
    };
    is_like(-1, -0.5, 1.0, -0.5);
    is_like(-1, -1.0, 1.0, 1.0, -1.0);
    is_like(-2, -1.0, 1.0, 1.0, -1.0);
    is_like(0, 1.0, -1.0, -1.0, 1.0);
    is_like(-3, 1.0, -1.0, -1.0, 1.0);
    const auto reach = static_cast<int>(length_ / 2);
    for (int d = 1; is_spike && d <= reach; ++d) {
        if (d > before && std::abs(second_difference(p - d)) > quiet_about * std::abs(top)) is_spike = false;
        if (d > after && std::abs(second_difference(p + d)) > quiet_about * std::abs(top)) is_spike = false;
    }
    if (!is_spike) {
        const auto slope_of = [&](int d) {
            const double* from = x + d * length_;
            double sum = 0.0;
            for (std::size_t i = 0; i < length; ++i) sum += (from[i + 1] - from[i]) * (from[i + 1] - from[i]);
            return sum;
        };
        const double slope = 0.25 * (slope_of(-4) + slope_of(-3) + slope_of(3) + slope_of(4));
        if (size - beside < fast_enough * (slope_of(0) - slope)) return; // slow for all its size
    }
    if (events_.size() >= most_events) {
        ++uncounted_;
        return;
    }
    events_.push_back({.at = tail_begin_ + 1 + static_cast<std::int64_t>(middle * length + peak),
                       .height = (of_two ? 1.0 : 0.5) * std::abs(top),
                       .background = 0.5 * std::sqrt(beside / static_cast<double>(length)),
                       .is_spike = is_spike ? 1 : 0});
}

// --- spans ---

void FaultScan::merge(const FaultScan& next)
{
    if (next.has_first_ == 0) return;
    if (has_first_ == 0) {
        *this = next;
        return;
    }
    for (const FastEvent& event : next.events_) {
        if (events_.size() < most_events)
            events_.push_back(event);
        else
            ++uncounted_;
    }
    uncounted_ += next.uncounted_;
    changing_ |= next.changing_ | (set_ ^ next.set_);

    for (std::size_t i = 0; i < next.means_.size(); ++i) {
        const WanderingMean& mean = next.means_[i];
        if (mean.count > 0.0)
            count_bin(static_cast<std::int64_t>(i) * next.width_s_, mean.sum + mean.count * (next.first_ - first_),
                      mean.count);
    }

    if (!next.levels_.empty()) {
        if (levels_.empty()) {
            levels_ = next.levels_;
            level_low_ = next.level_low_;
            level_width_ = next.level_width_;
        } else {
            make_room(next.least_, next.greatest_);
            for (std::size_t i = 0; i < cells; ++i) {
                const Cell& cell = next.levels_[i];
                if (cell.count == 0.0 && cell.inner == 0.0) continue;
                const double level = next.level_low_ + (static_cast<double>(i) + 0.5) * next.level_width_;
                const double place =
                    std::clamp((level - level_low_) / level_width_, 0.0, static_cast<double>(cells - 1));
                Cell& into = levels_[static_cast<std::size_t>(place)];
                into.add(cell);
            }
        }
    }
    least_ = std::min(least_, next.least_);
    greatest_ = std::max(greatest_, next.greatest_);
    levelled_ += next.levelled_;
}

void FaultScan::finish()
{
    flat_ = {flatness(false), flatness(true)};
    levels_ = {};
    tail_ = {};
    stretches_ = {};
}

} // namespace becalm::filters
