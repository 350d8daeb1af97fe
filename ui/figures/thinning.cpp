#include "ui/figures/thinning.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <utility>

namespace becalm::figures {
namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();
constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();

// Gathers the samples of one column of pixels after the other.
class Thinning {
public:
    Thinning(const AxisScale& x_scale, bool y_logarithmic)
        : x_scale_(x_scale), y_logarithmic_(y_logarithmic),
          columns_(static_cast<std::int64_t>(std::ceil(x_scale.length_px())))
    {
    }

    bool is_gap(Point sample) const
    {
        return !std::isfinite(sample.x) || !std::isfinite(sample.y) || (y_logarithmic_ && sample.y <= 0.0) ||
               (x_scale_.logarithmic && sample.x <= 0.0);
    }

    void add(Point sample)
    {
        if (!(sample.x >= column_from_ && sample.x < column_to_)) enter_column_of(sample.x);
        if (held_ == 0) first_ = least_ = greatest_ = {sample, held_};
        if (sample.y < least_.sample.y) least_ = {sample, held_};
        if (sample.y > greatest_.sample.y) greatest_ = {sample, held_};
        last_ = {sample, held_++};
    }

    void gap()
    {
        close_column();
        if (!run_.empty()) runs_.push_back(std::move(run_));
        run_.clear();
    }

    std::vector<std::vector<Point>> runs()
    {
        gap();
        return std::move(runs_);
    }

private:
    struct Held {
        Point sample = {};
        std::size_t index = 0;
    };

    void enter_column_of(double x)
    {
        std::int64_t column = -1;
        if (x > x_scale_.to)
            column = columns_;
        else if (x >= x_scale_.from)
            column = std::clamp(static_cast<std::int64_t>(std::abs(x_scale_.px(x) - x_scale_.px_from)), std::int64_t{0},
                                columns_ - 1);
        if (column == column_) return; // to rounding at its edge
        close_column();
        column_ = column;
        const double direction = x_scale_.px_to > x_scale_.px_from ? 1.0 : -1.0;
        const auto edge = [&](std::int64_t k) {
            return x_scale_.value(x_scale_.px_from + direction * static_cast<double>(k));
        };
        column_from_ = column < 0           ? -infinite
                       : column >= columns_ ? std::nextafter(x_scale_.to, infinite)
                                            : edge(column);
        column_to_ = column < 0 ? x_scale_.from : column >= columns_ ? infinite : edge(column + 1);
    }

    void close_column()
    {
        std::array<Held, 4> kept{first_, least_, greatest_, last_};
        std::sort(kept.begin(), kept.end(), [](const Held& a, const Held& b) { return a.index < b.index; });
        for (std::size_t i = 0; i < kept.size() && held_ > 0; ++i)
            if (i == 0 || kept[i].index != kept[i - 1].index) run_.push_back(kept[i].sample);
        held_ = 0;
        column_ = none;
        column_from_ = infinite;
        column_to_ = -infinite;
    }

    static constexpr std::int64_t none = std::numeric_limits<std::int64_t>::min();

    AxisScale x_scale_;
    bool y_logarithmic_;
    std::int64_t columns_;
    std::int64_t column_ = none;
    double column_from_ = infinite, column_to_ = -infinite;
    std::size_t held_ = 0;
    Held first_, least_, greatest_, last_;
    std::vector<Point> run_;
    std::vector<std::vector<Point>> runs_;
};

template <class PointAt>
std::vector<std::vector<Point>> thinned(std::size_t n, PointAt point_at, const AxisScale& x_scale, bool y_logarithmic)
{
    Thinning thinning(x_scale, y_logarithmic);
    for (std::size_t i = 0; i < n; ++i) {
        const Point point = point_at(i);
        if (thinning.is_gap(point))
            thinning.gap();
        else
            thinning.add(point);
    }
    return thinning.runs();
}

// A listed x shorter than the values ends the series.
std::size_t points_in(const Places& x, std::size_t values)
{
    return x.listed.empty() ? values : std::min(values, x.listed.size());
}

std::size_t steps_in(const Places& x, std::size_t values)
{
    return x.listed.empty() ? values : std::min(values, x.listed.size() - 1);
}

// Sutherland and Hodgman: one edge of the rectangle at a time.
template <class Inside, class Crossing>
std::vector<Point> cut(const std::vector<Point>& area, Inside inside, Crossing crossing)
{
    std::vector<Point> result;
    result.reserve(area.size() + 4);
    for (std::size_t i = 0; i < area.size(); ++i) {
        const Point &a = area[i], &b = area[(i + 1) % area.size()];
        if (inside(a)) result.push_back(a);
        if (inside(a) != inside(b)) result.push_back(crossing(a, b));
    }
    return result;
}

Point at_x(Point a, Point b, double x) { return {x, a.y + (b.y - a.y) * (x - a.x) / (b.x - a.x)}; }
Point at_y(Point a, Point b, double y) { return {a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y), y}; }

// Groups of whole columns (or rows) of the map between whole pixels.
struct Groups {
    std::vector<double> edges = {};      // px, rising
    std::vector<std::size_t> first = {}; // index of the first column of each group, and one behind the last
    bool reversed = false;               // px fall where the index rises
};

Groups groups_of(const std::vector<double>& edges, const AxisScale& scale, double least_px)
{
    Groups groups{.reversed = scale.px_to < scale.px_from};
    const double low = std::min(scale.px_from, scale.px_to), high = std::max(scale.px_from, scale.px_to);
    if (edges.size() < 2 || std::any_of(edges.begin(), edges.end(), [](double edge) { return std::isnan(edge); }))
        return {};
    // The last edge before the plot and the first behind it.
    std::size_t begin = 0, end = edges.size() - 1;
    while (begin < end && edges[begin + 1] <= scale.from) ++begin;
    while (end > begin && edges[end - 1] >= scale.to) --end;
    const auto px = [&](double edge) {
        if (edge <= scale.from) return scale.px_from; // also zero and less on a logarithmic axis
        return edge >= scale.to ? scale.px_to : scale.px(edge);
    };
    std::vector<std::pair<double, std::size_t>> places; // px, index of the edge
    for (std::size_t i = begin; i <= end; ++i) {
        const double at = std::clamp(std::round(px(edges[i])), std::ceil(low), std::floor(high));
        const double moved = places.empty() ? 0.0 : std::abs(at - places.back().first);
        if (places.empty() || moved >= least_px) {
            places.emplace_back(at, i);
        } else if (i == end && moved > 0.0) {
            if (places.size() > 1) places.pop_back(); // the remainder joins the last group
            places.emplace_back(at, i);
        }
    }
    if (places.size() < 2) return {};
    for (const auto& [at, index] : places) {
        groups.edges.push_back(at);
        groups.first.push_back(index);
    }
    if (groups.reversed) std::reverse(groups.edges.begin(), groups.edges.end());
    return groups;
}

} // namespace

std::vector<std::vector<Point>> thinned_line(const Places& x, std::span<const double> y, const AxisScale& x_scale,
                                             bool y_logarithmic)
{
    return thinned(
        points_in(x, y.size()),
        [&](std::size_t i) {
            return Point{x.at(i), y[i]};
        },
        x_scale, y_logarithmic);
}

std::vector<std::vector<Point>> thinned_steps(const Places& x, std::span<const double> y, const AxisScale& x_scale,
                                              bool y_logarithmic)
{
    return thinned(
        2 * steps_in(x, y.size()),
        [&](std::size_t i) {
            return Point{x.at(i / 2 + i % 2), y[i / 2]};
        },
        x_scale, y_logarithmic);
}

RunningLine::RunningLine(double first, double step, std::size_t samples, std::size_t cells)
    : first_(first), step_(step), samples_(samples), cell_(std::max<std::size_t>(1, (samples + cells - 1) / cells))
{
}

void RunningLine::add(std::span<const double> samples)
{
    for (const double value : samples) {
        if (done_ % cell_ == 0) {
            first_at_ = least_at_ = greatest_at_ = done_;
            first_value_ = least_ = greatest_ = value;
        }
        if (value < least_) least_ = value, least_at_ = done_;
        if (value > greatest_) greatest_ = value, greatest_at_ = done_;
        if (++done_ % cell_ != 0 && done_ != samples_) continue;
        std::array<std::pair<std::size_t, double>, 4> kept{
            std::pair{first_at_, first_value_}, {least_at_, least_}, {greatest_at_, greatest_}, {done_ - 1, value}};
        std::ranges::sort(kept);
        for (std::size_t i = 0; i < kept.size(); ++i) {
            if (i > 0 && kept[i].first == kept[i - 1].first) continue;
            x_.push_back(first_ + static_cast<double>(kept[i].first) * step_);
            y_.push_back(kept[i].second);
        }
    }
}

ThinnedBand thinned_band(const Places& x, std::span<const double> upper, std::span<const double> lower,
                         const AxisScale& x_scale, bool y_logarithmic)
{
    const std::size_t n = points_in(x, std::min(upper.size(), lower.size()));
    const auto is_gap = [&](double value) { return !std::isfinite(value) || (y_logarithmic && value <= 0.0); };
    const auto edge = [&](std::span<const double> values) {
        return thinned(
            n,
            [&](std::size_t i) {
                return Point{x.at(i), is_gap(upper[i]) || is_gap(lower[i]) ? not_a_number : values[i]};
            },
            x_scale, y_logarithmic);
    };
    return {edge(upper), edge(lower)};
}

std::vector<std::vector<Point>> clipped_line(std::span<const Point> line, const Rect& rect)
{
    std::vector<std::vector<Point>> runs;
    bool open = false; // the last run goes on
    for (std::size_t i = 0; i + 1 < line.size(); ++i) {
        const Point a = line[i], b = line[i + 1];
        double enter = 0.0, leave = 1.0;
        const auto bound = [&](double move, double room) { // a + t move stays on the right side: t move <= room
            if (move == 0.0) return room >= 0.0;
            const double t = room / move;
            if (move > 0.0)
                leave = std::min(leave, t);
            else
                enter = std::max(enter, t);
            return enter <= leave;
        };
        const double dx = b.x - a.x, dy = b.y - a.y;
        if (!(bound(-dx, a.x - rect.left) && bound(dx, rect.right() - a.x) && bound(-dy, a.y - rect.top) &&
              bound(dy, rect.bottom() - a.y))) {
            open = false;
            continue;
        }
        if (!open || enter > 0.0) runs.push_back({{a.x + enter * dx, a.y + enter * dy}});
        runs.back().push_back({a.x + leave * dx, a.y + leave * dy});
        open = leave == 1.0;
    }
    return runs;
}

std::vector<Point> clipped_area(std::vector<Point> area, const Rect& rect)
{
    area = cut(
        area, [&](Point p) { return p.x >= rect.left; }, [&](Point a, Point b) { return at_x(a, b, rect.left); });
    area = cut(
        area, [&](Point p) { return p.x <= rect.right(); }, [&](Point a, Point b) { return at_x(a, b, rect.right()); });
    area = cut(
        area, [&](Point p) { return p.y >= rect.top; }, [&](Point a, Point b) { return at_y(a, b, rect.top); });
    area = cut(
        area, [&](Point p) { return p.y <= rect.bottom(); },
        [&](Point a, Point b) { return at_y(a, b, rect.bottom()); });
    if (area.size() < 3) area.clear();
    return area;
}

Cells reduced_cells(const HeatMap& map, const AxisScale& x_scale, const AxisScale& y_scale, const AxisScale& colour,
                    std::size_t levels, double least_px)
{
    const Groups across = groups_of(map.x_edges, x_scale, least_px), up = groups_of(map.y_edges, y_scale, least_px);
    Cells cells{.x_edges = across.edges, .y_edges = up.edges};
    for (std::size_t level = 0; level < levels; ++level) cells.colours.push_back(sequential(level, levels));
    if (across.edges.empty() || up.edges.empty()) return {.colours = cells.colours};

    const std::size_t in_columns = map.x_edges.size() - 1, columns = across.edges.size() - 1,
                      rows = up.edges.size() - 1;
    const auto level_of = [&](float value) {
        if (value == -std::numeric_limits<float>::infinity()) return Cells::empty_cell;
        const double place = colour.px(value) / std::abs(colour.px_to - colour.px_from) * static_cast<double>(levels);
        return static_cast<std::uint8_t>(std::clamp(place, 0.0, static_cast<double>(levels - 1)));
    };
    cells.levels.reserve(columns * rows);
    for (std::size_t drawn_row = 0; drawn_row < rows; ++drawn_row) {
        const std::size_t row = up.reversed ? rows - 1 - drawn_row : drawn_row;
        for (std::size_t drawn_column = 0; drawn_column < columns; ++drawn_column) {
            const std::size_t column = across.reversed ? columns - 1 - drawn_column : drawn_column;
            float greatest = -std::numeric_limits<float>::infinity();
            for (std::size_t j = up.first[row]; j < up.first[row + 1]; ++j)
                for (std::size_t i = across.first[column]; i < across.first[column + 1]; ++i) {
                    const std::size_t at = j * in_columns + i;
                    if (at >= map.values.size()) continue;
                    const float value = map.values[at];
                    if (std::isfinite(value) && (!colour.logarithmic || value > 0.0F))
                        greatest = std::max(greatest, value);
                }
            cells.levels.push_back(level_of(greatest));
        }
    }
    return cells;
}

} // namespace becalm::figures
