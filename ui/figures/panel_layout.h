// How each kind of panel is laid out in its box. Inside the room only; layout.h is the way in.
#pragma once

#include <string>
#include <vector>

#include "ui/figures/canvas.h"
#include "ui/figures/figure.h"

namespace becalm::figures {

// What a panel's words need beside it; panels of one kind share the greatest.
struct Margins {
    double left = 0.0, right = 0.0;
};

struct Surroundings {
    std::size_t panel = 0;     // its number
    std::string heading = {};  // of the panel
    Rect box = {};             // all that the panel may use
    bool x_axis_below = false; // the next panel has the same x axis and labels it
    Margins margins = {};      // agreed upon
};

// A plot with the ranges of its axes known.
struct RangedPlot {
    const Plot* plot = nullptr;
    AxisScale x = {}, y = {}, colour = {};   // places on the drawing still open
    std::vector<std::string> notes = {};     // what had to be left out
    bool has_data = false, has_gaps = false; // gaps: of the colours
    std::string description = {};
};
RangedPlot ranged(const Plot& plot, Language language);

// Without room for any flag, label or rung that can be left out.
double least_height_of(const RangedPlot& plot, const Surroundings& around, const Canvas& canvas);
double least_height_of(const Ladder& ladder, const Surroundings& around, const Canvas& canvas);
double least_height_of(const Ruler& ruler, const Surroundings& around, const Canvas& canvas);

// As high as reads well, where the figure leaves it open.
double natural_height_of(const RangedPlot& plot, const Surroundings& around, const Canvas& canvas);
double natural_height_of(const Ladder& ladder, const Surroundings& around, const Canvas& canvas);
double natural_height_of(const Ruler& ruler, const Surroundings& around, const Canvas& canvas);

Margins margins_of(const RangedPlot& plot, const Surroundings& around, const Canvas& canvas);
Margins margins_of(const Ladder& ladder, const Surroundings& around, const Canvas& canvas);
Margins margins_of(const Ruler& ruler, const Surroundings& around, const Canvas& canvas);

// Adds what found no room to `notes`. `shown` false: only that, nothing is drawn.
void draw(const RangedPlot& plot, const Surroundings& around, Canvas& canvas, std::vector<std::string>& notes,
          bool shown);
void draw(const Ladder& ladder, const Surroundings& around, Canvas& canvas);
void draw(const Ruler& ruler, const Surroundings& around, Canvas& canvas);

std::string description_of(const Ladder& ladder, Language language);
std::string description_of(const Ruler& ruler, Language language);

// "quantity, unit"
std::string words_with_unit(const std::string& words, const std::string& unit);

} // namespace becalm::figures
