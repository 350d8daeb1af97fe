// The part of a recording that is looked at, seconds from its first sample.
#pragma once

#include <algorithm>

namespace becalm::desktop {

struct TimeWindow {
    double from_s = 0.0, to_s = 1.0;
    double whole_s = 1.0; // of the recording: a window lies within
    double least_s = 0.0; // a window is not shorter

    double length_s() const { return to_s - from_s; }
    bool is_whole() const { return from_s <= 0.0 && to_s >= whole_s; }

    // As near to the span asked for as it can be.
    TimeWindow at(double from, double to) const
    {
        const double length = std::clamp(to - from, std::min(least_s, whole_s), whole_s);
        const double begin = std::clamp((from + to - length) / 2.0, 0.0, whole_s - length);
        return {begin, begin + length, whole_s, least_s};
    }
    // `factor` > 1 looks closer; what is at `at_s` stays in its place.
    TimeWindow zoomed(double at_s, double factor) const
    {
        const double length = std::clamp(length_s() / factor, std::min(least_s, whole_s), whole_s);
        const double begin = at_s - (at_s - from_s) / length_s() * length;
        return at(begin, begin + length);
    }
    TimeWindow moved(double by_s) const { return at(from_s + by_s, to_s + by_s); }
    TimeWindow whole() const { return {0.0, whole_s, whole_s, least_s}; }

    friend bool operator==(const TimeWindow&, const TimeWindow&) = default;
};

} // namespace becalm::desktop
