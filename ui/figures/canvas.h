// The scene being laid out, with the type sizes and words' widths that everything on it shares. Inside the room only.
#pragma once

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include "ui/figures/figure_words.h"
#include "ui/figures/measures.h"
#include "ui/figures/scene.h"

namespace becalm::figures {

struct TypeSizes {
    double title = 15.0, text = 11.0, small = 10.0; // px
};

// A line of one pixel is crisp on the middle of a pixel.
inline double crisp(double px) { return std::floor(px) + 0.5; }

class Canvas {
public:
    Canvas(Scene& scene, const TextWidth& text_width, TypeSizes sizes, Language language)
        : scene_(scene), text_width_(text_width), sizes_(sizes), language_(language)
    {
    }

    Language language() const { return language_; }
    const FigureWords& said() const { return words_of(language_); }

    const TypeSizes& sizes() const { return sizes_; }
    Rect whole() const { return {0.0, 0.0, scene_.width_px, scene_.height_px}; }

    double width(std::string_view text, double size_px, bool bold = false) const
    {
        return text_width_(text, size_px, bold);
    }
    Extent extent(double size_px, bool bold = false) const
    {
        return [this, size_px, bold](std::string_view text) { return text_width_(text, size_px, bold); };
    }
    static double line_height(double size_px) { return leading * size_px; }

    struct Style {
        double size_px = 11.0;
        Ink ink = Ink::text;
        Anchor anchor = Anchor::start;
        bool bold = false;
    };

    // `at` is on the base line.
    void words(Role role, Point at, std::string text, const Style& style)
    {
        if (text.empty()) return;
        const double width_px = width(text, style.size_px, style.bold);
        add(role, Words{at, std::move(text), style.anchor, style.size_px, style.bold, colour_of(style.ink), width_px});
    }

    // Lines one below the other, the first with its top at `top`. Gives the bottom of the last.
    double lines(Role role, double x, double top, const std::vector<std::string>& texts, const Style& style)
    {
        for (const std::string& text : texts) {
            words(role, {x, top + style.size_px}, text, style);
            top += line_height(style.size_px);
        }
        return top;
    }

    void box(Role role, const Rect& rect, std::optional<Colour> fill, std::optional<Stroke> edge = {})
    {
        if (rect.width > 0.0 && rect.height > 0.0) add(role, Box{rect, fill, edge});
    }

    void line(Role role, Point from, Point to, const Stroke& stroke) { lines(role, {{from, to}}, stroke); }
    void lines(Role role, std::vector<std::vector<Point>> runs, const Stroke& stroke)
    {
        if (!runs.empty()) add(role, Path{.runs = std::move(runs), .edge = stroke});
    }
    void area(Role role, std::vector<std::vector<Point>> runs, Colour fill)
    {
        std::erase_if(runs, [](const auto& run) { return run.size() < 3; });
        if (!runs.empty()) add(role, Path{.runs = std::move(runs), .closed = true, .fill = fill});
    }

    // Strokes at 45 degrees, `apart_px` from each other along the edge.
    void hatch(Role role, const Rect& rect, const Stroke& stroke, double apart_px = 6.0)
    {
        std::vector<std::vector<Point>> runs;
        if (!(rect.width > 0.0 && rect.height > 0.0)) return;
        for (double at = apart_px / 2.0; at < rect.width + rect.height; at += apart_px) {
            const double up = std::min(at, rect.height), along = std::min(at, rect.width);
            runs.push_back({{rect.left + at - up, rect.top + up}, {rect.left + along, rect.top + at - along}});
        }
        lines(role, std::move(runs), stroke);
    }

    void area_of(PlotArea area) { scene_.areas.push_back(area); }
    void cells(Role role, Cells cells) { add(role, std::move(cells)); }

private:
    template <class Shape>
    void add(Role role, Shape shape)
    {
        // In place: GCC 12 takes the moved variant for uninitialised.
        Item& item = scene_.items.emplace_back();
        item.role = role;
        item.shape.template emplace<Shape>(std::move(shape));
    }

    Scene& scene_;
    const TextWidth& text_width_;
    TypeSizes sizes_;
    Language language_;
};

} // namespace becalm::figures
