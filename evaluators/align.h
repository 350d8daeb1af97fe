// When two files hold the same motion: by how much one is later, and how its clock drifts against the other's
// (filters/alignment.h says how, and how sure). What `becalm align` shows, and what `becalm relate --with` rests on.
#pragma once

#include <span>

#include "evaluators/selected_samples.h"

namespace becalm::evaluators {

struct AlignOptions {
    std::string channel = "1";      // number from 1, or the name that the file gives it
    std::string other_channel = {}; // empty: the one that fits best
    // s > 0: how far apart the recordings may be. Empty: 10 s, or a quarter of the shorter one.
    std::optional<double> most_lag_s = {};
    // s > 0: length of what is compared. Empty: a twelfth of what is left beside the lags, 2 s to 20 s.
    std::optional<double> piece_s = {};
    double most_ppm = 200.0; // > 0
};

// Index of the channel called `wanted` (number or name) among those that were read; `option` is what the user said.
Result<std::size_t> channel_among(const std::string& path, const std::string& wanted, const std::string& option,
                                  const std::vector<SelectedChannel>& channels);

// The options as far as they concern time, for recordings of such durations.
struct ClockSearched {
    double most_lag_s = 0.0, piece_s = 0.0, most_ppm = 0.0;
};
Result<ClockSearched> clock_search(const AlignOptions& wanted, double duration_s, double other_duration_s);

// One channel beside another of the same rate. Where the recordings are too short for pieces, the lag alone.
Result<ClocksCompared> clocks_compared(double rate_hz, std::span<const double> one, std::span<const double> other,
                                       const ClockSearched& search);

// The channel of `others` that fits best.
struct BestFit {
    std::size_t other = 0; // index
    ClocksCompared clocks = {};
};
Result<BestFit> best_fit(double rate_hz, std::span<const double> one, const std::vector<SelectedChannel>& others,
                         const ClockSearched& search);

// A finding where the drift is more than twice its uncertainty, or cannot be told.
void add_findings(const ClocksCompared& clocks, const std::string& other, std::vector<Finding>& findings);

// Both rates as their files state them must be the same, else there is a Problem.
std::optional<Problem> rates_differ(const std::string& path, double rate_hz, const std::string& other_path,
                                    double other_rate_hz);

// Over options.span of both files, each in its own seconds. Unit and scale play no part. Refuses what the reading and
// filters/alignment.h refuse: among others motion that is not common, or repeats itself.
Result<AlignmentReport> align(const std::string& path, const std::string& other_path, const WeighOptions& options,
                              const AlignOptions& wanted);

} // namespace becalm::evaluators
