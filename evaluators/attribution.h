// Which source makes which component.
//
// A source is believed where a line that it is known for (rank 1) lies within its tolerance of a component. Its speed
// is then taken from that component, and its other lines count only where components lie at the very place that this
// speed gives: a wide tolerance for every harmonic would find a source in any spectrum. Of the possible speeds the one
// that explains most is taken. Other conditions of the same place, in which the source runs at another speed, confirm a
// match where the component moves along and refute it where it stays. (common practice, no source)
#pragma once

#include <span>
#include <string>
#include <vector>

#include "evaluators/sources.h"
#include "src/model/explanation.h"

namespace becalm::evaluators {

struct FoundComponent {
    double hz = 0.0;
    double strength = 0.0; // weighted mean square, or anything that grows with it
};

// One condition of a place: what was found, and the lines of each source under it. A source that does not run, or whose
// speed is not known, has none.
struct Occasion {
    std::string condition = {};
    std::vector<FoundComponent> components = {};
    std::vector<std::vector<PredictedLine>> sources = {}; // in the same order in every occasion
};

// For each component of `here` the sources that may make it, strongest evidence first; none where it is unexplained.
std::vector<std::vector<SourceMatch>> attribute(const Occasion& here, std::span<const Occasion> elsewhere,
                                                double resolution_hz);

// For each component the family it belongs to: "2 x 7.00 Hz"; empty where it heads one or stands alone. A family has
// three members at least, so that a chance multiple makes none.
std::vector<std::string> harmonic_series(std::span<const FoundComponent> components, double resolution_hz);

} // namespace becalm::evaluators
