// Drawings of the invented ferry's decks: SVG, seen from above, the bow to the right. Lengths are in units of the
// drawing, not to scale.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace becalm::demo {

struct DeckPlan {
    std::string_view file; // below plans/
    std::string svg;       // a room that the survey names has its id there
};

std::vector<DeckPlan> ferry_plans();

} // namespace becalm::demo
