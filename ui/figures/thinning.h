// What of a long series a drawing can show, and what of a line lies inside a rectangle.
//
// A column of pixels keeps the first, least, greatest and last sample that fall into it, in their order: the lines
// drawn through these cover the same pixels as those through all (Jugel, Jerzak, Hackenbroich, Markl 2014).
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "ui/figures/figure.h"
#include "ui/figures/scene.h"

namespace becalm::figures {

// Runs of samples without a gap, in the data's units. A gap is a sample that is no number, or not above zero where an
// axis is logarithmic. O(n) time, at most four samples a column of pixels and one column more on either side.
std::vector<std::vector<Point>> thinned_line(const Places& x, std::span<const double> y, const AxisScale& x_scale,
                                             bool y_logarithmic);

// The same of the outline of steps; x are edges.
std::vector<std::vector<Point>> thinned_steps(const Places& x, std::span<const double> y, const AxisScale& x_scale,
                                              bool y_logarithmic);

// A long line as it comes, evenly spaced, in memory that does not grow with it: of `cells` stretches of equal length
// the first, least, greatest and last sample. A drawing of fewer columns of pixels than cells shows what all samples
// would.
class RunningLine {
public:
    RunningLine(double first, double step, std::size_t samples, std::size_t cells = 4096);

    void add(std::span<const double> samples);
    Places x() const { return {.listed = x_}; }
    const std::vector<double>& values() const { return y_; }

private:
    double first_, step_;
    std::size_t samples_, cell_;
    std::size_t done_ = 0;
    std::size_t first_at_ = 0, least_at_ = 0, greatest_at_ = 0; // of the cell being filled
    double first_value_ = 0.0, least_ = 0.0, greatest_ = 0.0;
    std::vector<double> x_ = {}, y_ = {};
};

// Upper and lower edge of a band; a gap in one is a gap in both, so the runs match.
struct ThinnedBand {
    std::vector<std::vector<Point>> upper = {}, lower = {};
};
ThinnedBand thinned_band(const Places& x, std::span<const double> upper, std::span<const double> lower,
                         const AxisScale& x_scale, bool y_logarithmic);

// The parts of a line inside `rect` (Liang and Barsky 1984).
std::vector<std::vector<Point>> clipped_line(std::span<const Point> line, const Rect& rect);

// The part of an area inside `rect` (Sutherland and Hodgman 1974); empty where there is none.
std::vector<Point> clipped_area(std::vector<Point> area, const Rect& rect);

// A heat map in cells of whole pixels, at least `least_px` wide and high; each is the greatest of the values it covers.
// `colour` maps to 0 ... levels in px. `levels` at most 254.
Cells reduced_cells(const HeatMap& map, const AxisScale& x_scale, const AxisScale& y_scale, const AxisScale& colour,
                    std::size_t levels, double least_px);

} // namespace becalm::figures
