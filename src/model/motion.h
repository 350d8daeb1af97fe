// What a procedure needs of the motion itself, kept coarsely: means of short bins, and swings from crest to trough.
#pragma once

#include <vector>

namespace becalm {

// Least, greatest and mean value of one bin of a channel, SI, the offset taken away. The mean over a bin is a gentle
// low-pass (first zero at 1 / bin_s).
struct MotionBin {
    float mean = 0.0F, min = 0.0F, max = 0.0F;
};

struct MotionSeries {
    double bin_s = 0.05;              // not a limit: s
    std::vector<MotionBin> bins = {}; // bin k covers [k, k + 1) bin_s from the first selected sample
};

// Peak to peak: from one extreme of a lane to the next one of the opposite sign, a single zero crossing between them.
struct Swing {
    float at_s = 0.0F; // of the later extreme, from the first selected sample
    float size = 0.0F; // in the lane's unit, >= 0
};

} // namespace becalm
