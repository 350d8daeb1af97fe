// Half cycles of a signal and the swings between them, streaming.
//
// A half cycle is what lies between two zero crossings; its extreme is the sample furthest from zero, the earliest one
// of equals. Samples that are exactly zero belong to the half cycle before them, so a signal that only touches zero has
// not crossed it. A swing is the difference of the extremes of two neighbouring half cycles: peak to peak with a single
// zero crossing between [iso18738-1-2012, peak-to-peak vibration level; from memory].
//
// The half cycle that the end of the signal cuts is not known to be over and gives no swing; the one that its beginning
// cuts counts with what is seen of it. Swings thus come out too small there, never too great.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "src/model/motion.h"

namespace becalm::filters {

class HalfCycles {
public:
    // Holds `most` half cycles; a signal with more of them is_overfull(), and what it holds is of no use.
    explicit HalfCycles(std::size_t most) : most_(most) {}

    // Samples follow each other without a gap; `first` is the index of the first one.
    void add(const double* samples, std::size_t count, std::size_t stride, std::int64_t first);

    // Takes over what the next span has: the half cycle that the joint cuts becomes one again.
    void append(const HalfCycles& next);

    bool is_overfull() const { return overfull_; }

    // Times are those of samples index / rate_hz.
    std::vector<Swing> swings(double rate_hz) const;

private:
    struct Extreme {
        double value = 0.0; // not zero; signs alternate
        std::int64_t sample = 0;
    };
    void add(const Extreme& extreme);

    std::size_t most_;
    bool overfull_ = false;
    std::vector<Extreme> extremes_; // the last one of a half cycle that goes on
};

} // namespace becalm::filters
