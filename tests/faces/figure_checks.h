// What holds of every figure that is laid out, whatever it shows and whoever measures its words.
#pragma once

#include <algorithm>
#include <functional>
#include <string>
#include <utility>
#include <vector>

#include "ui/figures/scene.h"

namespace becalm::tests {

inline std::vector<std::pair<figures::Role, figures::Words>> words_of(const figures::Scene& scene)
{
    std::vector<std::pair<figures::Role, figures::Words>> all;
    for (const figures::Item& item : scene.items)
        if (const auto* words = std::get_if<figures::Words>(&item.shape)) all.emplace_back(item.role, *words);
    return all;
}

inline bool overlap(const figures::Rect& a, const figures::Rect& b)
{
    constexpr double slack = 0.01;
    return a.left + slack < b.right() && b.left + slack < a.right() && a.top + slack < b.bottom() &&
           b.top + slack < a.bottom();
}

inline std::string told(const figures::Words& words)
{
    const figures::Rect box = figures::box_of(words);
    return "\"" + words.text + "\" at " + std::to_string(box.left) + ", " + std::to_string(box.top) + ", " +
           std::to_string(box.width) + " x " + std::to_string(box.height);
}

inline void each_point(const figures::Item& item, const std::function<void(figures::Point)>& use)
{
    if (const auto* box = std::get_if<figures::Box>(&item.shape)) {
        use({box->rect.left, box->rect.top});
        use({box->rect.right(), box->rect.bottom()});
    } else if (const auto* path = std::get_if<figures::Path>(&item.shape)) {
        for (const auto& run : path->runs)
            for (const figures::Point& point : run) use(point);
    } else if (const auto* cells = std::get_if<figures::Cells>(&item.shape)) {
        for (const double x : cells->x_edges)
            for (const double y : cells->y_edges) use({x, y});
    }
}

// What holds of every figure. Empty: holds.
inline std::string fault_in(const figures::Scene& scene)
{
    const auto words = words_of(scene);
    for (std::size_t i = 0; i < words.size(); ++i) {
        const figures::Rect box = figures::box_of(words[i].second);
        if (!(box.left > -0.01 && box.top > -0.01 && box.right() < scene.width_px + 0.01 &&
              box.bottom() < scene.height_px + 0.01))
            return "outside: " + told(words[i].second);
        for (std::size_t j = 0; j < i; ++j)
            if (overlap(box, figures::box_of(words[j].second)))
                return told(words[i].second) + " overlaps " + told(words[j].second);
    }
    std::string fault;
    for (const figures::Item& item : scene.items)
        each_point(item, [&](figures::Point point) {
            if (!(point.x > -1.0 && point.y > -1.0 && point.x < scene.width_px + 1.0 &&
                  point.y < scene.height_px + 1.0))
                fault = "a point at " + std::to_string(point.x) + ", " + std::to_string(point.y);
            if (item.role != figures::Role::series && item.role != figures::Role::heat) return;
            const bool inside = std::any_of(scene.areas.begin(), scene.areas.end(), [&](const figures::PlotArea& area) {
                return point.x > area.rect.left - 0.01 && point.x < area.rect.right() + 0.01 &&
                       point.y > area.rect.top - 0.01 && point.y < area.rect.bottom() + 0.01;
            });
            if (!inside)
                fault = "data outside of the plot at " + std::to_string(point.x) + ", " + std::to_string(point.y);
        });
    for (const auto& entry : words) {
        if (entry.first != figures::Role::tick_label) continue;
        const figures::Words& label = entry.second;
        const bool beside = std::any_of(scene.areas.begin(), scene.areas.end(), [&](const figures::PlotArea& area) {
            const bool below = label.at.y > area.rect.bottom() && label.at.x > area.rect.left - 1.0 &&
                               label.at.x < area.rect.right() + 1.0;
            const bool left = label.at.x < area.rect.left && label.at.y > area.rect.top - 1.0 &&
                              label.at.y < area.rect.bottom() + 8.0;
            return below || left;
        });
        if (!beside) fault = "a tick label beside no axis: " + told(label);
    }
    return fault;
}

} // namespace becalm::tests
