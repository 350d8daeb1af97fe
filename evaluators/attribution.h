// Which source makes which component.
//
// A source is believed where a line that it is known for (rank 1) lies within its tolerance of a component. Its speed
// is then taken from that component, and its other lines count only where components lie at the very place that this
// speed gives: a wide tolerance for every harmonic would find a source in any spectrum. Of the possible speeds the one
// that explains most is taken. Other conditions of the same place, in which the source runs at another speed, confirm a
// match where the component moves along and refute it where it stays. A reference channel on the source does both, too
// (evaluators/reference_channel.h): a component that does not move with it is none of the source's, and one that does
// goes before others, but lies at its door only where a line fits. (common practice, no source)
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "evaluators/reference_channel.h"
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
    // Of each source, in that order, what its reference channel says of each component; empty where it has none.
    std::vector<std::vector<std::optional<ReferenceSays>>> references = {};
};

// For each component of `here` the sources that may make it, strongest evidence first; none where it is unexplained.
std::vector<std::vector<SourceMatch>> attribute(const Occasion& here, std::span<const Occasion> elsewhere,
                                                double resolution_hz);

// For each component what reference channels say beside the matches: "moves with channel 4 (fan), coherence 0.97" where
// no line of the source fits, "does not move with channel 4 (fan), coherence 0.02" where one would have.
std::vector<std::vector<std::string>>
reference_notes(const Occasion& here, std::span<const std::vector<SourceMatch>> matches, double resolution_hz);

// For each component the family it belongs to: "2 x 7.00 Hz"; empty where it heads one or stands alone. A family has
// three members at least, so that a chance multiple makes none.
std::vector<std::string> harmonic_series(std::span<const FoundComponent> components, double resolution_hz);

} // namespace becalm::evaluators
