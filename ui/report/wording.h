// The words of a report, in one table for each language, and how numbers and dates are written in it: values with three
// significant digits, uncertainties with two (common practice, no source); the appendix has every digit.
//
// The words of publications (bands, titles), of the survey and of the judgement (findings, notes, reasons) stand as
// they are; what the judgement names by a code is put into words by core_words.h. {} are filled in, in their order.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>

#include "src/model/assessment.h"
#include "ui/figures/language.h"

namespace becalm::report {

using figures::filled;
using figures::Language;
using figures::Phrase;

struct Wording {
    Phrase contents, date, client, by_program, yes, no, not_stated, logo, picture_not_drawn;

    Phrase verdicts, counts, nothing_judged, how_read, criterion, space, position, condition, use, axis, weighting,
        value, uncertainty, unit, place, band, exceeded, not_judged, no_limits, also, total_axis;

    Phrase purpose, purpose_words, uses, all_uses, confirmed_by, judged_by, statement_table, item, statement,
        purpose_stated, object_stated, author, instruments_stated, mounting, background, complaints, deviations,
        client_stated;

    Phrase object, setting, spaces, label, group, plan, mark, plan_alternative, plan_not_shown, plan_damaged,
        plan_locked, plan_no_page, plan_failed, plan_marks, plan_unknown, axes_words;

    Phrase conditions, condition_table, title, noted, period, hours, events, source_table, source, kind, exposure_table,
        person, day, no_conditions;

    Phrase instruments, sensor_table, sensor, serial, calibrated, certificate, sensor_uncertainty, no_sensors,
        recording_table, recording, channels, read_as, scale, start, comment, not_read, filter_words;

    Phrase left_out, excluded_table, from_to, reason, event_table, event, refused_table, nothing_left_out;

    Phrase fitness, finding_table, severity, channel, finding, finding_quoted, nothing_found, severity_words;

    Phrase results, compared, confirmed, from_memory, bands_table, range, below, up_to, above, from_on, exceeds, rulers,
        notes, combined, limits_missing;

    Phrase causes, causes_words, cannot_explain, component_table, frequency, weighted, share, made_by, because,
        unexplained, energy, next_band, cure_reaches, cure_alone, cure_without, nothing_to_explain;

    Phrase uncertainty_chapter, uncertainty_words, rule_simple, rule_guarded, budget, unstated, unstated_quoted,
        count_of_values, probability, near_table, limit, none_near, settled_by, settled_by_none;

    Phrase exposure, exposure_words, whole_body, hand_arm, hand_arm_governs, task, whole_day, points_an_hour, points,
        highest, vector_sum, not_within_a_day, others_exceed, task_times, no_bound_in_a_day, bound, alone, beside, left,
        same_work, seat_value, duty, taken, exposure_caution;

    Phrase cautions, caution_comfort, caution_limits, caution_memory, caution_health, quotes;

    Phrase appendix_values, values_words, values_table, verdict, terms_table, factor, duration, recordings,
        appendix_steps, steps_table, step, of, appendix_sources, sources_table, edition, status, seen, appendix_inputs,
        inputs_words, seal_of_html, inputs_table, input, name, sha256, in_place_of_own;

    // By the values of what they are called after.
    std::array<Phrase, 5> settings;
    std::array<Phrase, 3> severities;
    std::array<Phrase, 6> axis_rules;
    std::array<Phrase, 5> parts_rules;
    std::array<Phrase, 3> repeats_rules;
};

const Wording& english();
const Wording& german();
const Wording& french();
const Wording& wording_of(Language language);

// "81.2" of 0.0812 m/s2; "5.8" of an uncertainty; "mm/s²". Empty where there is none.
std::string value_text(const std::optional<double>& value, std::string_view unit, Language language);
std::string uncertainty_text(const std::optional<double>& uncertainty, std::string_view unit, Language language);
std::string unit_text(std::string_view unit);
// "81.2 mm/s²"
std::string with_unit(double value, std::string_view unit, Language language);

// The shortest text that reads back the same number, with the decimal sign of the language.
std::string exact_text(const std::optional<double>& value, Language language);

// "2026-03-14T09:30:00+01:00" -> "2026-03-14 09:30:00 +01:00", "14.03.2026 ...", "14/03/2026 ...": as the language
// writes it. What is no such date stays as it is.
std::string date_text(const std::string& iso8601, Language language);

// The band in the publication's words, others that hold the value beside it; that it is not judged; that there are no
// limits.
std::string band_text(const Verdict& verdict, const Wording& words);

} // namespace becalm::report
