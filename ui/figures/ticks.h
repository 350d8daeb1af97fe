// Where the marks of an axis stand and what they are called: pure functions of range, length and label size.
//
// No two labels overlap, whatever the range, the unit and the font: a function takes the finest of its patterns whose
// labels keep `gap_px` between them, and where even the coarsest does not, leaves out labels, never moves them. Every
// mark lies inside the range.
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <vector>

#include "ui/figures/language.h"
#include "ui/figures/text.h"

namespace becalm::figures {

// A value's place on the drawing: linear, or logarithmic in base 10.
struct AxisScale {
    double from = 0.0, to = 1.0; // from < to, both > 0 where logarithmic
    bool logarithmic = false;
    double px_from = 0.0, px_to = 1.0; // of `from` and `to`; px_to is the smaller one on an axis that points upwards

    // Beyond the range too, though never further than 1,000 lengths. `value` must be > 0 where logarithmic.
    double px(double value) const;
    double value(double px) const;
    double length_px() const;
    bool holds(double value) const { return value >= from && value <= to; }
};

struct TickMark {
    double value = 0.0;
    std::string label = {}; // empty: a mark without a label

    friend bool operator==(const TickMark&, const TickMark&) = default;
};

struct Ticks {
    std::vector<TickMark> marks = {}; // rising
    std::string unit = {};            // of the labels; empty where each says its own
};

struct LabelRoom {
    Extent extent = {};         // along the axis: the width on a horizontal one, the height on a vertical one
    double gap_px = 6.0;        // between neighbours
    double least_apart_px = 36; // between linear marks
};

enum class NumberForm {
    plain,   // numbers alone; the axis names the unit
    prefixed // every label with an SI prefix and the unit: "200 µm/s", "5 mm/s"
};

struct Numbers {
    std::string unit = {};       // with NumberForm::prefixed one whose first symbol has no exponent
    double shown_per_unit = 1.0; // the number shown = value * this
    NumberForm form = NumberForm::plain;
};

// Steps of 1, 2 or 5 times a power of ten, in the unit shown.
Ticks linear_ticks(const AxisScale& scale, const Numbers& numbers, const LabelRoom& room);

// Labels at 1, 2 and 5 of each decade where the decades are few, else at the decades, else at every second, third ...
// one; marks without labels at the whole multiples between where they have room. A range so short that it holds
// fewer than three of 1, 2 and 5 gets linear steps.
Ticks logarithmic_ticks(const AxisScale& scale, const Numbers& numbers, const LabelRoom& room);

// A mark at each exact one-third-octave midband frequency of the base-ten system [iec61260-1-2014, 5.2 to 5.5], called
// by its nominal frequency, Hz; labels at every band, every octave (..., 8, 16, 31.5, ...) or every decade.
Ticks third_octave_ticks(const AxisScale& scale, const LabelRoom& room);

// Seconds. Without `start` counted from 0 in s (up to 3 min), min (up to 3 h), h (up to 3 days) or days; with it clock
// times of that place, with the date where a day begins.
Ticks time_ticks(const AxisScale& scale, std::optional<std::chrono::local_seconds> start, const LabelRoom& room,
                 Language language = Language::english);

// With the decimal sign of the language in the labels.
Ticks in_digits_of(Language language, Ticks ticks);

// "5 mm/s²", "200 µm": value in `unit`, four significant digits at most.
std::string with_si_prefix(double value, const std::string& unit);

// The next 1, 2 or 5 times a power of ten that is not below, or not above `value` > 0.
double nice_from_below(double value);
double nice_from_above(double value);

} // namespace becalm::figures
