// The words that figures say themselves, in one table for each language. {} are filled in, in their order. Names of
// sources, bands and axes of measurement are those of whoever gives them.
#pragma once

#include <array>
#include <string>
#include <string_view>

#include "ui/figures/language.h"

namespace becalm::figures {

struct FigureWords {
    // Axes and keys.
    Phrase frequency, one_third_octave, time, clock_time, value, limits, left_out, no_data, nothing_to_show;
    std::array<Phrase, 12> months; // on the axis of a clock
    Phrase days, days_and_hours, day;

    // Values among bands.
    Phrase uncertainty_not_stated, below_next_limit, above_last_limit, percent_of_limit, within_uncertainty, not_judged,
        not_judged_because, hatched_exceeds;

    // Shares.
    Phrase not_known, other, others, share_of_energy, unexplained, axis, rest;

    // Series.
    Phrase least_to_greatest, named_least_to_greatest, peak_of_each, rms_of_each, second, seconds, change, against;

    // Periods of a campaign.
    Phrase date, within_allowed, exceeding, measured;

    // Over what conditions state.
    Phrase measured_uncertain, fitted_line, further_values;

    // Of an explanation.
    Phrase weighted_spectrum, weighted_bands, spectrum_over_time, what_carries, of_axis, weighted_density, weighted_rms,
        how_made, weighting_shape, curve_times, curve_of_criterion;
    Phrase list_separator; // between items that hold numbers
    std::array<Phrase, 8> positions;

    // Notes.
    Phrase no_room_for_label, beyond_axis, of_series, value_not_on_axis, values_not_on_axis, value_infinite,
        values_infinite, place_not_on_axis, places_not_on_axis;

    // For who cannot see the figure.
    Phrase range, plot_of, values, colours, marked_at, line_at, band, from, to, left_out_span, shares, of_the_whole,
        exceeds, holds_value;
};

const FigureWords& words_of(Language language);

// "floor" -> "plancher"; what is no position stays as it is.
std::string position_words(std::string_view position, Language language);

// What the program calls a line of a source (evaluators/sources.h): "blade passing x 2" -> "Blattfolge × 2". A name
// that is not in the table stays as it is; so does English.
std::string line_words(std::string_view line, Language language);

} // namespace becalm::figures
