// The statistical uncertainty of one axis's value, as far as the record tells it: how far the value of another record
// of the same motion, as long as this one, may lie from it. Relative, one standard deviation.
//
//   mean square, mean of fourth powers   the variance of the mean over blocks of ledger rows: s^2 of the blocks over
//       their number. Neighbouring rows are correlated, so the blocks are doubled (1, 2, 4, ... s) until the variance
//       of the mean no longer grows by more than its own sampling error; what the last doubling gave counts. A value
//       that goes with the power q of it has q times its relative uncertainty. [jcgm100-2008, 4.2.3, 5.1.2]
//       The same holds for the seconds of motion bins, and for the squares of a series' values.
//   several recordings or events of one place    the same between them, where that is greater
//   spectra     rows of time left out in turn, in 24 groups at most: the values that go with them (jackknife; common
//       practice, no source) are a series like the blocks above. Neighbouring rows share half a segment: of noise under
//       a Hann window 3/70 of their variance (computed from the definition), which is added.
//   maxima      the standard deviation of the maxima of sections: the greatest value of many scatters as those of its
//       parts do, since the scale of a Gumbel distribution does not depend on their number (computed from the
//       definition). Sections that differ by more than half of their mean are no stationary motion: refused.
//   percentiles of blocks, swings, events    drawn [jcgm101-2008, 7]: percentiles of values drawn anew from the record,
//       in runs as long as neighbours hang together (bootstrap; common practice, no source). r.m.s. values: of whole
//       records of a normal series of the same spread and correlation, each compared with the percentile of the
//       distribution, so that it holds what a percentile of few values is off; unless their own scatter half as much
//       again, as shocks do. (The root of a chi-square variable is about normal: Fisher's approximation, common
//       practice, no source.) One value beyond the percentile is the least that is asked for.
//   a statistic over events     the jackknife: left out one by one (common practice, no source)
//
// How few values a standard deviation rests on is left to evaluators/uncertainty.h, as degrees of freedom. Rows of a
// last part of a second are left out. Axes and parts are taken as independent of each other.
#pragma once

#include <string>

#include "evaluators/quantity.h"
#include "evaluators/uncertainty.h"

namespace becalm::evaluators {

struct RecordStatistic {
    double relative = 0.0; // of the value; of a level (dB): of what the level is of
    double dof = 0.0;
    bool is_maximum = false; // distributed as a maximum (Gumbel) and not normally
    std::string method = {};
    Shrinks shrinks = Shrinks::never; // what makes it smaller
    double amount = 0.0;              // of what it was found from: seconds, events, recordings
};

// `value` is what the quantity gave for the arguments, or `each` of its recordings where the repeats are not pooled
// (else empty). Why there is none: "one event tells nothing about the next" and the like.
tl::expected<RecordStatistic, std::string> record_statistic(const Quantity& quantity,
                                                            const QuantityArguments& arguments, RepeatsRule repeats,
                                                            double value, const std::vector<double>& each);

// How long the values of a series hang together: the sum of their correlations over all distances, as far as these stay
// above 0; 1 where each stands by itself. Two values at least.
double correlated_values(const std::vector<double>& values);

// Variance of the mean of a stationary series whose neighbours may be correlated, by doubled blocks.
struct VarianceOfMean {
    double variance = 0.0;
    double dof = 0.0;
    std::size_t block = 1; // values in a block
    bool settled = false;  // false: it grew to the last
};

// `values`: four at least.
VarianceOfMean variance_of_mean(std::vector<double> values);

} // namespace becalm::evaluators
