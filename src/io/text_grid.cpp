#include "src/io/text_grid.h"

#include <algorithm>
#include <cmath>

namespace becalm::io {

EvenGrid::EvenGrid(std::size_t channels, double rate_hz) : rate_hz_(rate_hz), sums_(channels)
{
    for (Point& one : points_) one.values.resize(channels);
}

std::int64_t EvenGrid::frames_in(double span_s, double rate_hz)
{
    return static_cast<std::int64_t>(std::floor(span_s * rate_hz * (1.0 + 1e-12) + 1e-9)) + 1;
}

void EvenGrid::begin()
{
    head_ = held_ = from_ = 0;
    ended_ = false;
    std::ranges::fill(sums_, Sums{});
}

void EvenGrid::add(double time_s, std::span<const double> values)
{
    if (held_ > 0 && point(held_ - 1).time_s == time_s) {
        Point& last = point(held_ - 1);
        last.rows += 1.0;
        for (std::size_t c = 0; c < values.size(); ++c) last.values[c] += (values[c] - last.values[c]) / last.rows;
        return;
    }
    if (held_ == 0) first_s_ = time_s;
    if (held_ == points_.size()) {
        head_ = (head_ + 1) % points_.size();
        --held_;
        --from_;
    }
    Point& next = point(held_++);
    next.time_s = time_s;
    next.rows = 1.0;
    std::ranges::copy(values, next.values.begin());
}

void EvenGrid::end() { ended_ = true; }

double EvenGrid::slope(std::size_t i, std::size_t channel) const
{
    const auto secant = [&](std::size_t a) {
        return (point(a + 1).values[channel] - point(a).values[channel]) / (point(a + 1).time_s - point(a).time_s);
    };
    if (i == 0) return secant(0);
    if (i + 1 == held_) return secant(i - 1);
    const double before = point(i).time_s - point(i - 1).time_s;
    const double after = point(i + 1).time_s - point(i).time_s;
    return (after * secant(i - 1) + before * secant(i)) / (before + after);
}

bool EvenGrid::give(std::int64_t frame, std::span<double> values)
{
    if (held_ < 2) return false;
    const double time_s = first_s_ + static_cast<double>(frame) / rate_hz_;
    // A point is whole when another follows, or the end; the slope at the far end of an interval wants the one after
    // it.
    const auto is_known = [&] { return ended_ || from_ + 3 < held_; };
    while (is_known() && time_s > point(from_ + 1).time_s && from_ + 2 < held_) ++from_;
    if (!is_known()) return false;

    const Point& left = point(from_);
    const Point& right = point(from_ + 1);
    const double step = right.time_s - left.time_s;
    const double u = std::clamp((time_s - left.time_s) / step, 0.0, 1.0);
    for (std::size_t c = 0; c < values.size(); ++c) {
        const double rise = right.values[c] - left.values[c];
        const double line = left.values[c] + u * rise;
        // Hermite's form less the line: u (1 - u) times a straight line.
        const double bend =
            u * (1.0 - u) * ((1.0 - u) * (slope(from_, c) * step - rise) - u * (slope(from_ + 1, c) * step - rise));
        values[c] = line + bend;
        if (!std::isfinite(values[c])) continue;
        Sums& sums = sums_[c];
        if (sums.count == 0.0) sums.first = values[c];
        const double moved = values[c] - sums.first;
        sums.count += 1.0;
        sums.sum += moved;
        sums.squares += moved * moved;
        sums.differences += bend * bend;
    }
    return true;
}

double EvenGrid::difference() const
{
    double greatest = 0.0;
    for (const Sums& sums : sums_) {
        const double about_mean = sums.squares - sums.sum * sums.sum / std::max(1.0, sums.count);
        if (about_mean > 0.0) greatest = std::max(greatest, std::sqrt(sums.differences / about_mean));
    }
    return greatest;
}

} // namespace becalm::io
