// Time histories of one file as acceleration, velocity and displacement, with high-pass and low-pass, in memory that
// does not grow with duration (filters/history.h says how, and how exactly). What `becalm history` shows.
//
// The high-pass is Butterworth's magnitude without phase, -3 dB at its frequency; half of it is the lower limit of
// filters/history.h, so that nothing below 0.354 of it comes through at all, whatever its order. An integration needs
// one: without it the displacement would be that of the sensor's drift.
//
// Values are over what is settled: 10 / high-pass seconds from both ends are left out where the span is longer than
// four times that, else a finding says that they are not.
#pragma once

#include <functional>

#include "evaluators/weigh.h"

namespace becalm::evaluators {

struct HistoryOptions {
    std::vector<Motion> as = {Motion::acceleration, Motion::velocity, Motion::displacement}; // in this order; not empty
    std::optional<double> high_pass_hz = {}, low_pass_hz = {};
    int order = 4; // of both, 1 ... 16
    // Called with the time histories as they become ready, in order of time. `about` tells the channels and quantities;
    // its values are not there yet. Must not throw.
    std::function<void(const HistoryReport& about, const HistoryRows& rows)> rows = {};
};

// Over the channels and the span that evaluators/selected_samples.h reads block by block, twice: the mean first.
// Refuses, beyond what the reading refuses: an integration without a high-pass, or with one that the span cannot
// resolve; a high-pass that is not below the low-pass; filters at half the rate or beyond; so low a high-pass that its
// pieces would take more than 0.3 GB.
Result<HistoryReport> history(const std::string& path, const WeighOptions& options, const HistoryOptions& wanted);

} // namespace becalm::evaluators
