#include "ui/cli/weighed_table.h"

namespace becalm::cli {

void show_lanes(const Console& console, std::span<const WeighedLane> lanes)
{
    Table table({{"channel", true},
                 {"axis", false},
                 {"weighting", false},
                 {"r.m.s.", true},
                 {"peak", true},
                 {"crest", true},
                 {"MTVV lin.", true},
                 {"MTVV exp.", true},
                 {"unit", false},
                 {"VDV m/s^1.75", true},
                 {"MSDV m/s^1.5", true}});
    bool any_other_motion = false;
    for (const WeighedLane& lane : lanes) {
        const bool acceleration = lane.unit == "m/s2";
        any_other_motion |= !acceleration;
        table.add({std::to_string(lane.channel), lane.axis, lane.weighting, number(lane.rms), number(lane.peak),
                   number(lane.crest_factor), number(lane.mtvv_linear), number(lane.mtvv_exponential), lane.unit,
                   acceleration ? number(lane.vdv) : "-", acceleration ? number(lane.msdv) : "-"});
    }
    console.print(table.text("  "));
    if (any_other_motion)
        console.print(
            "  doses are told of accelerations in m/s2: KB and velocity give a velocity, a rotation is in rad/s2, and "
            "without a weighting a channel keeps its own motion\n");
}

} // namespace becalm::cli
