// Whether a column of times runs evenly, to the precision to which it is printed or stored.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <optional>
#include <string_view>

#include "src/io/text_dialect.h"

namespace becalm::io {

struct TimeStep {
    double from = 0.0;
    double to = 0.0;
    std::int64_t line = 0; // of `to`
    double length() const { return to - from; }
};

// Keeps of a time column what shows whether it runs evenly. The usual step is known at the end only, and so is the
// precision to which the times were printed, which with a fixed count of digits depends on their magnitude: so the
// shortest and the longest step are kept for every power of ten.
class EvenTime {
public:
    PrintedPrecision& precision() { return precision_; }

    // `text`: as it is printed.
    void add(double time, std::string_view text, std::int64_t line)
    {
        precision_.add(text);
        add(time, line);
    }

    void add(double time, std::int64_t line)
    {
        if (rows_++ == 0) {
            first_ = time;
        } else {
            const double size = std::max(std::abs(time), std::abs(last_));
            if (size >= next_power_ || size < power_) enter_power_of(size);
            Extremes& extremes = powers_[current_];
            const TimeStep step{last_, time, line};
            if (!extremes.seen) extremes = {true, size, step, step};
            extremes.size = std::max(extremes.size, size);
            if (step.length() < extremes.shortest.length()) extremes.shortest = step;
            if (step.length() > extremes.longest.length()) extremes.longest = step;
            standing_ += step.length() == 0.0;
        }
        last_ = time;
    }

    std::int64_t rows() const { return rows_; }
    std::int64_t standing() const { return standing_; } // rows with the time of the row before
    double first() const { return first_; }
    double last() const { return last_; }
    double mean_step() const { return (last_ - first_) / static_cast<double>(rows_ - 1); }

    // Where times are printed so coarsely that some do not differ from the one before: the first such step.
    std::optional<TimeStep> unresolved_step() const
    {
        const TimeStep shortest = shortest_step();
        const bool unresolved = is_coarse() && shortest.length() == 0.0;
        return unresolved ? std::optional(shortest) : std::nullopt;
    }

    // The step that is most out of order, where one is more so than 1 % of the mean step and the printing allow.
    std::optional<TimeStep> irregular_step() const
    {
        const double mean = mean_step();
        // Times printed to the very step (1000 Hz in milliseconds) are exact or fail to resolve it: allowing for a unit
        // there would let a lost sample pass.
        const bool exact = is_coarse() && shortest_step().length() > 0.0;
        std::optional<TimeStep> worst;
        double worst_excess = 1.0;
        for (const Extremes& extremes : powers_) {
            if (!extremes.seen) continue;
            // Either end of a step may be rounded by half a unit.
            const double allowed = 0.01 * std::abs(mean) + (exact ? 0.0 : precision_.unit_at(extremes.size));
            for (const TimeStep& step : {extremes.shortest, extremes.longest}) {
                // Whatever else there is, this is the plainest fault.
                if (step.length() < -allowed) return step;
                const double excess = std::abs(step.length() - mean) / allowed;
                if (excess <= worst_excess) continue;
                worst = step;
                worst_excess = excess;
            }
        }
        return worst;
    }

    TimeStep shortest_step() const
    {
        std::optional<TimeStep> shortest;
        for (const Extremes& extremes : powers_)
            if (extremes.seen && (!shortest || extremes.shortest.length() < shortest->length()))
                shortest = extremes.shortest;
        return shortest.value_or(TimeStep{});
    }

    TimeStep longest_step() const
    {
        TimeStep longest;
        for (const Extremes& extremes : powers_)
            if (extremes.seen && extremes.longest.length() > longest.length()) longest = extremes.longest;
        return longest;
    }

    double printed_unit() const { return precision_.unit_at(std::max(std::abs(first_), std::abs(last_))); }

private:
    struct Extremes {
        bool seen = false;
        double size = 0.0; // greatest magnitude of a time
        TimeStep shortest;
        TimeStep longest;
    };

    // With fewer than about one and a half units to a step, a lost sample could hide in the rounding.
    bool is_coarse() const { return printed_unit() > 0.65 * std::abs(mean_step()); }

    void enter_power_of(double size)
    {
        constexpr int least = -20;
        const int power = size > 0.0 ? static_cast<int>(std::floor(std::log10(size))) : least;
        const int kept = std::clamp(power, least, least + static_cast<int>(powers_.size()) - 1);
        current_ = static_cast<std::size_t>(kept - least);
        power_ = kept == least ? 0.0 : std::pow(10.0, power);
        next_power_ = std::pow(10.0, power + 1);
    }

    PrintedPrecision precision_;
    std::array<Extremes, 64> powers_{};
    std::size_t current_ = 0;
    double power_ = 0.0;
    double next_power_ = 0.0; // 0: none entered yet
    std::int64_t rows_ = 0;
    std::int64_t standing_ = 0;
    double first_ = 0.0;
    double last_ = 0.0;
};

} // namespace becalm::io
