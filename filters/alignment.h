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
#include <vector>

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

struct ClockSearch {
    double most_lag_s = 0.0;
    double piece_s = 10.0; // what drifts within one blurs its lag: 100 ppm over 10 s are 1 ms
    double most_ppm = 200.0;
    double least_quality = 0.5;
};

struct PieceLag {
    double at_s = 0.0; // its middle, in `one`
    double lag_s = 0.0;
    double quality = 0.0;
};

// lag(t) = lag_s + drift t, t in the samples of `one`: a straight line through the lags of pieces.
struct ClockRelation {
    double lag_s = 0.0, lag_uncertainty_s = 0.0;         // at the first sample of `one`
    double drift_ppm = 0.0, drift_uncertainty_ppm = 0.0; // as ClockDrift
    double middle_lag_s = 0.0;                           // in the middle of what was compared
    double quality = 0.0;                                // median correlation of the pieces on the line
    double scatter_s = 0.0;                              // of the lags about the line
    std::vector<PieceLag> pieces = {};                   // in order of time
    std::size_t left_out = 0;                            // pieces with nothing in common, or too little
};

// Up to 24 pieces, evenly spread. The one that fits best is sought over all lags, the others where most_ppm may have
// taken them. Uncertainties are standard ones: of the least-squares line, from the scatter of the lags and 0.003
// samples that the search itself may be off, times sqrt(nu / (nu - 2)) for nu = pieces - 2 degrees of freedom (the
// standard deviation of Student's t). A clock that does not run evenly shows as scatter.
//
// Refuses as lag_between does; recordings that hold less than 5 pieces beside the lags that are sought; those with less
// than 5 usable pieces, or less than half of them; and lags that follow no line, so that on it the median correlation
// is below the least quality: unlike narrow-band motions can be shifted to fit, but not by the same lag everywhere.
Result<ClockRelation> clock_relation(const Recorded& one, const Recorded& other, const ClockSearch& search);

// Where the coherence of a motion seen through both clocks falls to 90 %, Hz, over a duration in which the lag changes
// evenly by drift_ppm: sinc^2(f drift duration) = 0.9 at f drift duration = 0.178. Infinite without drift.
double coherent_to_hz(double drift_ppm, double duration_s);

} // namespace becalm::filters
