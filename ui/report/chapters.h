// The chapters of a report, each appended to the document by a function of its own. For report_contents.cpp.
#pragma once

#include <string>
#include <string_view>

#include "ui/report/report_contents.h"

namespace becalm::report {

struct Chapter {
    const ReportInput& input;
    Language language;
    const Wording& words;
    Document& document;

    void heading(std::string_view text, std::string anchor) const; // of the chapter
    void subheading(std::string_view text, int level = 3) const;
    void say(std::string text, bool caution = false) const;
    void add(Table table) const; // nothing where it has no rows

    // A column whose cells are the judgement's own words.
    static Column quoted(std::string_view words) { return {.words = std::string(words), .language = "en"}; }
    // Numbers among units and names without points, with the decimal sign of the language.
    std::string digits(std::string numbers) const { return figures::in_digits_of(language, std::move(numbers)); }
    std::string number(const std::optional<double>& value) const; // as short as it can be; empty where there is none
    std::string value(const std::optional<double>& value, std::string_view unit) const
    {
        return value_text(value, unit, language);
    }
    std::string uncertainty(const std::optional<double>& value, std::string_view unit) const
    {
        return uncertainty_text(value, unit, language);
    }
    std::string axis_words(std::string_view axis) const;
    std::string position_words(std::string_view position) const;
    std::string joined(const std::vector<std::string>& items_with_numbers) const;

    // What the survey calls them, else their ids.
    std::string space_words(std::string_view id) const;
    std::string condition_words(std::string_view id) const;
    // Whose day, or which space.
    std::string subject_words(const Verdict& verdict) const;
    std::string place_words(const Verdict& verdict) const; // with position and condition, for a sentence or a figure
    const Criterion* criterion(std::string_view id) const; // nullptr: not in the library
};

// A verdict in a table of them: which one of the judgement's it is.
Facts verdict_fact(const Assessment& assessment, const Verdict& verdict);

struct Note {
    std::string of = {}; // of which places, with what stands behind it; empty: of all
    std::string text = {};
};

// In the words of the language first, then what can only be quoted.
void add_said(const Chapter& chapter, const std::vector<Note>& notes);

// What was measured (chapters_measured.cpp).
void add_purpose(const Chapter& chapter);
void add_object(const Chapter& chapter);
void add_conditions(const Chapter& chapter);
void add_instruments(const Chapter& chapter);
void add_left_out(const Chapter& chapter);
void add_fitness(const Chapter& chapter);

// What it comes to (chapters_results.cpp).
void add_verdicts(const Chapter& chapter);
void add_results(const Chapter& chapter);
void add_causes(const Chapter& chapter);
void add_uncertainty(const Chapter& chapter);
void add_cautions(const Chapter& chapter);

// Whose day it is, where the survey tells of days (chapters_exposure.cpp).
void add_exposure(const Chapter& chapter);

// What it rests on (chapters_appendix.cpp).
void add_values(const Chapter& chapter);
void add_steps(const Chapter& chapter);
void add_publications(const Chapter& chapter);
void add_inputs(const Chapter& chapter);

} // namespace becalm::report
