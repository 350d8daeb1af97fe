#include "ui/figures/scene.h"

namespace becalm::figures {
namespace {

void enlarge(Point& point, double by)
{
    point.x *= by;
    point.y *= by;
}

void enlarge(Rect& rect, double by)
{
    rect.left *= by;
    rect.top *= by;
    rect.width *= by;
    rect.height *= by;
}

void enlarge(std::optional<Stroke>& edge, double by)
{
    if (edge) edge->width_px *= by;
}

void enlarge(Box& box, double by)
{
    enlarge(box.rect, by);
    enlarge(box.edge, by);
}

void enlarge(Path& path, double by)
{
    for (auto& run : path.runs)
        for (Point& point : run) enlarge(point, by);
    enlarge(path.edge, by);
}

void enlarge(Cells& cells, double by)
{
    for (double& edge : cells.x_edges) edge *= by;
    for (double& edge : cells.y_edges) edge *= by;
}

void enlarge(Words& words, double by)
{
    enlarge(words.at, by);
    words.size_px *= by;
    words.width_px *= by;
}

void enlarge(AxisScale& scale, double by)
{
    scale.px_from *= by;
    scale.px_to *= by;
}

} // namespace

Scene enlarged(Scene scene, double by)
{
    if (by == 1.0) return scene;
    scene.width_px *= by;
    scene.height_px *= by;
    for (Item& item : scene.items) std::visit([&](auto& shape) { enlarge(shape, by); }, item.shape);
    for (PlotArea& area : scene.areas) {
        enlarge(area.rect, by);
        enlarge(area.x, by);
        enlarge(area.y, by);
    }
    return scene;
}

} // namespace becalm::figures
