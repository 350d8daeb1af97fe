// What the survey's machines, tracks and walkers would excite: frequencies predicted from how fast they run.
//
//   kind        from                            lines
//   shaft       rpm                             orders 1, 2, 3 of rpm/60
//   propeller   rpm, blades                     shaft order 1; blade passing blades x rpm/60 and multiples to 4
//   engine      rpm, cylinders, strokes         2-stroke: orders of rpm/60, firing cylinders x rpm/60; 4-stroke: half
//                                               orders k rpm/120, firing cylinders x rpm/120; multiples of the firing
//   gear        rpm, teeth                      mesh teeth x rpm/60 and twice that; the shaft
//   generator   rpm                             rpm/60, and the 2nd order, which an electrical machine has
//   walker      hz                              pace and its 2nd to 4th harmonic; half the pace for lateral motion
//   track       speed_km_h, spacing_m           v / (3.6 L) and twice that: sleepers, joints, axles
//   wheel       speed_km_h, diameter_m          v / (3.6 pi D) and multiples to 4: out-of-round wheels
//   plant       rpm or hz, blades               rotation and multiples to 3; blade passing
//   mains       hz                              hz and 2 hz, the pull of electrical machines
//   other       hz, or rpm                      multiples to 3
// (computed from the definition; walking by four harmonics as in sci-p354)
//
// The condition's speed goes before the source's own, which is that of the usual condition: shaft_rpm for the shaft and
// the propeller, speed_km_h for what rolls. Engines, gears and generators keep their own, or take shaft_rpm where they
// state none.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "src/base/problem.h"
#include "src/model/survey.h"

namespace becalm::evaluators {

struct PredictedLine {
    std::string source = {}; // id
    std::string name = {};   // "blade passing x 2"
    double order = 1.0;      // of the source's fundamental
    double fundamental_hz = 0.0;
    double hz = 0.0;
    double tolerance_hz =
        0.0;      // half width in which a component may lie: the source's tolerance_percent, 1 % without one
    int rank = 1; // 1: what such a source is known for; higher: harmonics and what it may do besides
};

// Lines up to `most_hz`, ascending. A Problem where the source's speed or numbers are missing: which key to add where.
Result<std::vector<PredictedLine>> predicted_lines(const Source& source, const Condition* condition, double most_hz);

// Where the speed stands that a source's lines rest on; every line is in proportion to it.
struct SourceSpeed {
    bool of_condition = false; // a value of the condition, not of the source
    std::string key = {};      // "rpm", "hz", "speed_km_h", "shaft_rpm"
    double value = 0.0;        // > 0
};

// Nothing where no speed is stated: predicted_lines() tells what is missing.
std::optional<SourceSpeed> speed_of(const Source& source, const Condition* condition);

} // namespace becalm::evaluators
