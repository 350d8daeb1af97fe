// Events that a survey lists inside longer recordings, and the motion in them and around them.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "evaluators/quantity.h"

namespace becalm::evaluators {

struct ListedEvent {
    SelectedMotion motion = {};
    double from_s = 0.0, to_s = 0.0; // from the recording's first sample
};

// The events of arguments.motions; a Problem where the recordings list none, or where a part of one is left out.
// `what`: the name that a message gives them, such as "transition".
Result<std::vector<ListedEvent>> listed_events(const QuantityArguments& arguments, std::string_view what);

// Means over `window_s` of a series, one for each bin at which a window begins; a window is a whole number of bins,
// the nearest to window_s.
class MovingMean {
public:
    MovingMean(const MotionSeries& series, double window_s);

    double window_s() const { return static_cast<double>(bins_) * series_->bin_s; }

    // Mean over the window whose centre is nearest to centre_s; empty where it would reach outside the recording.
    std::optional<double> at(double centre_s) const;

    // Greatest |mean| over the windows whose centres lie in [from_s, to_s] (half a bin either side); empty where one of
    // them would reach outside the recording.
    std::optional<double> greatest(double from_s, double to_s) const;

    // Greatest |mean(t + apart_s) - mean(t)| over t in [from_s, to_s]; empty likewise.
    std::optional<double> greatest_step(double apart_s, double from_s, double to_s) const;

private:
    std::optional<double> beginning_at(std::ptrdiff_t bin) const;
    std::ptrdiff_t bin_of(double centre_s) const; // at which that window begins

    const MotionSeries* series_;
    std::ptrdiff_t bins_;
};

// "12.1, 30.8, 9.3"; the greatest 12 alone where there are more.
std::string listed_values(const std::vector<double>& values);

} // namespace becalm::evaluators
