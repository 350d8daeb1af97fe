#include "ui/demo/deck_plans.h"

#include <fmt/format.h>

namespace becalm::demo {
namespace {

struct Room {
    std::string_view name;
    int left, top, width, height;
    std::string_view id = {}; // in the survey
};

std::string drawn(std::string_view title, const std::vector<Room>& rooms)
{
    std::string svg = fmt::format(
        R"(<svg xmlns="http://www.w3.org/2000/svg" width="1000" height="300" viewBox="0 0 1000 300">
<title>{0}</title>
<rect x="0" y="0" width="1000" height="300" fill="#ffffff"/>
<path d="M 40 60 L 760 60 Q 900 60 970 150 Q 900 240 760 240 L 40 240 Z" fill="#ffffff" stroke="#404040" stroke-width="3"/>
<text x="40" y="40" font-family="sans-serif" font-size="18" fill="#404040">{0} (invented)</text>
)",
        title);
    for (const Room& room : rooms) {
        svg += fmt::format(
            R"(<rect {}x="{}" y="{}" width="{}" height="{}" fill="none" stroke="#404040" stroke-width="1.5"/>
)",
            room.id.empty() ? "" : fmt::format("id=\"{}\" ", room.id), room.left, room.top, room.width, room.height);
        // At the lower wall, so that a mark in the middle does not hide it.
        svg += fmt::format(
            R"(<text x="{}" y="{}" font-family="sans-serif" font-size="12" fill="#404040" text-anchor="middle">{}</text>
)",
            room.left + room.width / 2, room.top + room.height - 8, room.name);
    }
    return svg + "</svg>\n";
}

} // namespace

std::vector<DeckPlan> ferry_plans()
{
    return {{.file = "deck2.svg",
             .svg = drawn("Deck 2", {{"Crew 3", 60, 70, 90, 75},
                                     {"Crew 4", 60, 155, 90, 75, "d2-crew-4"},
                                     {"Engine room", 180, 70, 300, 160},
                                     {"Control room", 495, 70, 90, 75, "d2-control"},
                                     {"Workshop", 495, 155, 90, 75},
                                     {"Crew 1", 675, 70, 90, 75, "d2-crew-1"},
                                     {"Crew 2", 675, 155, 90, 75}})},
            {.file = "deck4.svg",
             .svg = drawn("Deck 4", {{"213", 60, 70, 120, 75},
                                     {"214", 60, 155, 120, 75, "d4-214"},
                                     {"Galley", 200, 70, 100, 75, "d4-galley"},
                                     {"Stores", 200, 155, 100, 75},
                                     {"Saloon", 320, 70, 360, 160},
                                     {"201", 695, 70, 90, 75, "d4-201"},
                                     {"202", 695, 155, 90, 75}})},
            {.file = "deck6.svg",
             .svg = drawn("Deck 6", {{"Open deck", 60, 70, 560, 160},
                                     {"301", 635, 70, 90, 75},
                                     {"302", 635, 155, 90, 75, "d6-302"},
                                     {"Wheelhouse", 780, 95, 100, 110, "d6-wheelhouse"}})}};
}

} // namespace becalm::demo
