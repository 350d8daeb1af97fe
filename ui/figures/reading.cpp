#include "ui/figures/reading.h"

#include <algorithm>
#include <cmath>

namespace becalm::figures {
namespace {

std::size_t points_of(const Series& series)
{
    const std::size_t n = series.values.size();
    return series.x.listed.empty() ? n : std::min(n, series.x.listed.size());
}

// Rising x: the first place that is not below.
std::size_t lower_bound(const Places& places, std::size_t n, double x)
{
    std::size_t from = 0, count = n;
    while (count > 0) {
        const std::size_t half = count / 2;
        if (places.at(from + half) < x) {
            from += half + 1;
            count -= half + 1;
        } else {
            count = half;
        }
    }
    return from;
}

std::optional<double> at_point(const Series& series, double x)
{
    const std::size_t n = points_of(series);
    if (n == 0) return {};
    const std::size_t above = std::min(lower_bound(series.x, n, x), n - 1);
    const std::size_t below = above > 0 ? above - 1 : above;
    const std::size_t nearest = std::abs(series.x.at(below) - x) < std::abs(series.x.at(above) - x) ? below : above;
    const double apart = n > 1 ? std::abs(series.x.at(above) - series.x.at(above == below ? 1 : below)) : 0.0;
    if (std::abs(series.x.at(nearest) - x) > apart) return {};
    return series.values[nearest];
}

// n values between n + 1 edges: the last edge not above x.
std::optional<double> between(const Places& edges, std::size_t n, double x, const std::vector<double>& values)
{
    if (n == 0 || (!edges.listed.empty() && edges.listed.size() < n + 1)) return {};
    if (!(x >= edges.at(0) && x <= edges.at(n))) return {};
    std::size_t at = lower_bound(edges, n + 1, x);
    if (at > 0 && (at > n || edges.at(at) > x)) --at;
    return values[std::min(at, n - 1)];
}

std::optional<std::size_t> cell_in(const std::vector<double>& edges, double at)
{
    if (edges.size() < 2 || !(at >= edges.front() && at <= edges.back())) return {};
    const auto above = std::ranges::upper_bound(edges, at);
    return std::min(static_cast<std::size_t>(above - edges.begin()), edges.size() - 1) - 1;
}

} // namespace

std::optional<double> curve_value(const Plot& plot, double x)
{
    for (const Series& series : plot.series) {
        if (series.form == SeriesForm::band || series.form == SeriesForm::points) continue;
        const auto value = series.form == SeriesForm::line ? at_point(series, x)
                                                           : between(series.x, series.values.size(), x, series.values);
        if (value && std::isfinite(*value)) return value;
    }
    return {};
}

std::optional<double> cell_value(const Plot& plot, double x, double y)
{
    if (!plot.heat) return {};
    const auto column = cell_in(plot.heat->x_edges, x), row = cell_in(plot.heat->y_edges, y);
    if (!column || !row) return {};
    const std::size_t at = *row * (plot.heat->x_edges.size() - 1) + *column;
    if (at >= plot.heat->values.size() || !std::isfinite(plot.heat->values[at])) return {};
    return static_cast<double>(plot.heat->values[at]);
}

} // namespace becalm::figures
