// A figure as it lies on the drawing: boxes, paths, cells and words at places in px (1/96 inch), in the order of
// painting, x to the right and y downwards. Whoever paints needs no clipping, no patterns and no knowledge of axes.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "ui/figures/palette.h"
#include "ui/figures/ticks.h"

namespace becalm::figures {

struct Point {
    double x = 0.0, y = 0.0;
};

struct Rect {
    double left = 0.0, top = 0.0, width = 0.0, height = 0.0;

    double right() const { return left + width; }
    double bottom() const { return top + height; }
};

struct Stroke {
    Colour colour = Colour();
    double width_px = 1.0;
    Dash dash = Dash::solid;
};

struct Box {
    Rect rect = Rect();
    std::optional<Colour> fill = {};
    std::optional<Stroke> edge = {};
};

// One path of several runs; closed ones are areas.
struct Path {
    std::vector<std::vector<Point>> runs = {};
    bool closed = false;
    std::optional<Colour> fill = {};
    std::optional<Stroke> edge = {};
};

// Cells between whole pixels: cell (i, j) has the colour colours[levels[j * columns + i]]; `empty_cell` has none.
struct Cells {
    static constexpr std::uint8_t empty_cell = 255;
    std::vector<double> x_edges = {}, y_edges = {}; // rising
    std::vector<std::uint8_t> levels = {};
    std::vector<Colour> colours = {};
};

enum class Anchor { start, middle, end };

struct Words {
    Point at = Point(); // on the base line
    std::string text = {};
    Anchor anchor = Anchor::start;
    double size_px = 11.0;
    bool bold = false;
    Colour colour = Colour();
    double width_px = 0.0; // as measured
};

// What an item is of, for whoever looks for it: hit tests of a desktop, tests of geometry.
enum class Role {
    background,
    title,
    note,
    panel_words, // heading of a panel, words of an axis
    key,         // of the series, of the colours
    grid,
    tick,
    tick_label,
    shade, // bands, hatches
    heat,
    series,
    level,
    level_label,
    marker,
    marker_label,
    rung,
    rung_label,
    ruler,
    ruler_label
};

struct Item {
    Role role = Role::background;
    std::variant<Box, Path, Cells, Words> shape = {};
};

// Where a panel's plot lies and what its pixels mean: a cursor's value, a span dragged with the mouse.
struct PlotArea {
    std::size_t panel = 0;
    Rect rect = Rect();
    AxisScale x = AxisScale(), y = AxisScale();
};

struct Scene {
    double width_px = 0.0, height_px = 0.0;
    std::string title = {};       // for who cannot see it
    std::string description = {}; // likewise: what is shown, with its ranges and what was left out
    std::vector<Item> items = {};
    std::vector<PlotArea> areas = {};
};

// The same drawing `by` times as large, for eyes or screens that want it larger.
Scene enlarged(Scene scene, double by);

// From a little above the capitals to a little below the descenders.
Rect box_of(const Words& words);

} // namespace becalm::figures
