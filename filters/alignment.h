// When was the same motion recorded twice? Lag between two recordings of it, and drift of one sampling clock against
// the other.
//
//   c(l) = sum one[i] other[i + l] / sqrt(sum one[i]^2 sum other[i + l]^2)   over the samples that overlap, means away
//
// by FFT. The lag is where c is greatest: a parabola through that sample and its neighbours, and a second one through
// the correlation an eighth of a sample apart, which the spectrum gives exactly; without it, content near half the rate
// would pull the parabola aside by some hundredths of a sample. The greatest c is the quality: 1 where the recordings
// are the same but for a factor, sqrt(the shares of energy that they have in common) otherwise.
//
// [cross-correlation for time delays: J. S. Bendat, A. G. Piersol, Random Data, from memory; overlap in the denominator
// and the second parabola: this project's choice]
#pragma once

#include <cstddef>
#include <span>

#include "src/base/problem.h"

namespace becalm::filters {

struct Recorded {
    double rate_hz = 0.0;
    std::span<const double> samples = {};
};

struct LagSearch {
    double most_lag_s = 0.0;    // looks from -most_lag_s to most_lag_s; half of the shorter recording at most
    double least_quality = 0.5; // refuses lags of less [common practice, no source]
};

struct Lag {
    double lag_s = 0.0;     // `other` has the motion so much later in its own samples than `one`
    double quality = 0.0;   // greatest normalised correlation
    double next_best = 0.0; // greatest one beside its peak: near to the quality where the motion repeats itself
};

// Refuses rates that differ, a search that leaves less than half of the shorter recording to compare, a greatest
// correlation at the end of the search or below the least quality, and motion that repeats itself (next best above 99 %
// of the best), since any of its periods could be the lag. Recordings of up to some 10^7 samples.
Result<Lag> lag_between(const Recorded& one, const Recorded& other, const LagSearch& search);

struct DriftSearch {
    double most_lag_s = 0.0;
    double piece_s = 60.0;   // compared at the begin and at the end
    double most_ppm = 200.0; // of drift: two crystals of ordinary make [common practice, no source]
    double least_quality = 0.5;
};

struct ClockDrift {
    double drift_ppm = 0.0; // the clock of `other` is so much faster: it takes more samples of the same time
    double apart_s = 0.0;   // from the piece at the begin to the one at the end
    Lag begin, end;
};

// Lag of a piece near the begin and of one near the end, most_lag_s inside, so that any lag that is sought finds both
// recordings there. Refuses as lag_between does, and recordings that are too short for two pieces. What drifts within a
// piece blurs its lag: 100 ppm over 60 s are 6 ms.
Result<ClockDrift> clock_drift(const Recorded& one, const Recorded& other, const DriftSearch& search);

} // namespace becalm::filters
