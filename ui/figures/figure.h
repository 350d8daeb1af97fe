// What a figure shows, as plain data: nothing here knows of pixels in a plot, of SVG or of a screen, and nothing
// computes a quantity. figures/builders.h makes figures from vectors, figures/layout.h places one on a drawing,
// figures/svg.h writes that down; a desktop paints the same drawing.
//
// Numbers are in the unit of the data; an axis says by which factor and in which unit they are shown. What is no
// number (NaN, infinite) is a gap. Zero and less on a logarithmic axis is left out, and the figure says how often.
#pragma once

#include <chrono>
#include <cstddef>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "ui/figures/language.h"
#include "ui/figures/measures.h"
#include "ui/figures/palette.h"
#include "ui/figures/ticks.h"

// Members that are structures begin as T(): GCC 12 takes `= {}` there for uninitialised (mended in 13).
namespace becalm::figures {

enum class AxisKind {
    linear,
    logarithmic,
    third_octaves, // logarithmic, Hz, marked at the midband frequencies
    time           // linear, s, marked in s, min, h, days or by the clock
};

struct PlotAxis {
    AxisKind kind = AxisKind::linear;
    std::string words = {}; // what it is: "frequency"
    Numbers numbers = Numbers();
    std::optional<double> from = {}, to = {};             // empty: as far as the data go
    double most_decades = 5.0;                            // of an automatic logarithmic range, below its top
    std::optional<std::chrono::local_seconds> start = {}; // local time at x = 0 of a time axis
};

// x of n points, or the n + 1 edges of n steps: listed, or evenly spaced where the list is empty.
struct Places {
    std::vector<double> listed = {};
    double first = 0.0, step = 1.0;

    double at(std::size_t i) const { return listed.empty() ? first + static_cast<double>(i) * step : listed[i]; }
};

enum class SeriesForm {
    line,  // x of points
    steps, // x of edges: the outline
    bars,  // x of edges: a body from the base line up
    band,  // x of points: filled from `lower` to `values`
    points // x of points: a mark each, with an error bar where `reach` has one
};

struct Series {
    std::string words = {}; // in the key; empty: not in it
    SeriesForm form = SeriesForm::line;
    Places x = Places();
    std::vector<double> values = {};
    std::vector<double> lower = {}; // of a band only
    std::vector<double> reach = {}; // of points only: from the value to either end of its error bar
    Ink ink = Ink::first;
    Dash dash = Dash::solid;
    double width_px = curve_px;
    bool shaded = false; // a line or steps with a pale body beneath
};

// Values over two axes in steps of colour, the strongest value of what falls into one cell of the drawing. Row j lies
// between y_edges[j] and [j + 1], column i between x_edges[i] and [i + 1]: values[j * columns + i].
struct HeatMap {
    std::vector<double> x_edges = {}, y_edges = {};
    std::vector<float> values = {};
    PlotAxis colour = {.kind = AxisKind::logarithmic, .most_decades = 4.0}; // not time; words are those of the legend
};

// A vertical line with a flag above the plot.
struct Marker {
    enum class Kind { source, finding };
    double x = 0.0;
    std::string words = {};
    Kind kind = Kind::source;
};

// A horizontal line, named in the margin.
struct Level {
    enum class Kind { limit, source };
    double y = 0.0;
    std::string words = {};
    Kind kind = Kind::limit;
};

// A horizontal band, shaded by its place among `Plot::bands` (the first is the mildest) and named in the margin.
struct LevelBand {
    std::optional<double> from = {}, to = {}; // empty: without end
    std::string words = {};
};

// A stretch of x that does not count: hatched, its reason on a flag.
struct LeftOut {
    double from = 0.0, to = 0.0;
    std::string words = {};
};

struct Plot {
    PlotAxis x = PlotAxis(), y = PlotAxis();
    std::vector<Series> series = {};
    std::optional<HeatMap> heat = {};
    std::vector<Marker> markers = {};
    std::vector<Level> levels = {};
    std::vector<LevelBand> bands = {};
    std::vector<LeftOut> left_out = {};
};

// Shares of a whole as a staircase: each rung begins where the one above ends.
struct Rung {
    std::string words = {};
    std::string detail = {}; // frequency, level: smaller, beneath
    double share = 0.0;      // 0 to 1
    bool rest = false;       // what no source explains: hatched
};

struct Ladder {
    std::string words = {}; // of the scale: "share of the weighted energy"
    std::vector<Rung> rungs = {};
};

// A value with its expanded uncertainty among the bands of a criterion; the bands rise like stairs, the mildest below.
struct RulerBand {
    std::string words = {};
    std::optional<double> from = {}, to = {}; // empty: from the end of the band before, or without end
    bool exceeds = false;                     // hatched
    bool holds_value = false;                 // said by who judged
};

struct Ruler {
    Numbers numbers = Numbers();
    bool logarithmic = false;
    std::vector<RulerBand> bands = {}; // mildest first
    std::optional<double> value = {};
    std::optional<double> expanded_uncertainty = {};
    std::string value_words = {};    // "12.3 mm/s² ± 1.1 mm/s²", or why there is no value
    std::string distance_words = {}; // "7.7 mm/s² below the next limit"
    std::optional<double> next_limit = {};
};

struct Panel {
    std::string words = {}; // above it; empty: the y axis speaks for itself
    double share = 1.0;     // of the height, beside the other panels
    std::variant<Plot, Ladder, Ruler> content = {};
};

struct Figure {
    double width_px = 800.0;  // at least 240; less is drawn at that size
    double height_px = 500.0; // at least 160 and what the panels need; 0: as high as reads well
    std::string title = {}, subtitle = {};
    std::vector<Panel> panels = {};
    std::vector<std::string> notes = {};   // beneath, small
    Language language = Language::english; // of what the drawing itself says, and of its numbers
};

} // namespace becalm::figures
