// Verdicts, results by criterion, causes and cures, uncertainty, cautions.
#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include <fmt/format.h>

#include "evaluators/quantity.h"
#include "ui/figures/explanation_figures.h"
#include "ui/figures/figure_words.h"
#include "ui/figures/text.h"
#include "ui/report/chapters.h"
#include "ui/report/core_words.h"
#include "ui/report/verdict_order.h"

namespace becalm::report {
namespace {

std::string heading_of(const Verdict& verdict)
{
    std::string text = verdict.edition;
    for (const std::string* part : {&verdict.clause, &verdict.title})
        if (!part->empty()) text += (text.empty() ? "" : ", ") + *part;
    return text.empty() ? verdict.criterion : text;
}

std::string axes_of(const Criterion& criterion, const Wording& words)
{
    return fmt::format("{}; {}; {}", words.axis_rules[static_cast<std::size_t>(criterion.rule)].text(),
                       words.parts_rules[static_cast<std::size_t>(criterion.conditions)].text(),
                       words.repeats_rules[static_cast<std::size_t>(criterion.repeats)].text());
}

std::string terms_of(const Chapter& chapter, const Criterion& criterion)
{
    std::vector<std::string> terms;
    for (const AxisTerm& term : criterion.terms)
        terms.push_back(fmt::format("{} {}{} × {}", name_of(term.axis), name_of(term.weighting),
                                    term.position ? " " + chapter.position_words(name_of(*term.position)) : "",
                                    chapter.number(term.factor)));
    return chapter.joined(terms);
}

std::string range_of(const Chapter& chapter, const Band& band, const std::string& unit)
{
    const Wording& words = chapter.words;
    std::string text = band.from ? filled(words.from_on, with_unit(*band.from, unit, chapter.language)) : "";
    if (band.limit)
        return text +
               filled(band.inclusive ? words.up_to : words.below, with_unit(*band.limit, unit, chapter.language));
    return text.empty() ? std::string(words.above) : text;
}

// Of one criterion, or of all with a column that says which.
Table table_of(const Chapter& chapter, const std::vector<const Verdict*>& verdicts, std::string_view caption)
{
    const Wording& words = chapter.words;
    Table table{.caption = std::string(caption),
                .columns = {{std::string(words.space)},
                            {std::string(words.position)},
                            {std::string(words.condition)},
                            {std::string(words.use)},
                            {std::string(words.axis)},
                            {std::string(words.weighting)},
                            {std::string(words.value), CellForm::number},
                            {std::string(words.uncertainty), CellForm::number},
                            {std::string(words.unit)},
                            {std::string(words.place), CellForm::number},
                            {std::string(words.band)},
                            {std::string(words.exceeded)}}};
    for (const Verdict* verdict : verdicts)
        table.rows.push_back(
            {{chapter.subject_words(*verdict), chapter.position_words(verdict->position),
              chapter.condition_words(verdict->condition), verdict->use, chapter.axis_words(verdict->axis),
              verdict->weighting, chapter.value(verdict->value, verdict->unit),
              chapter.uncertainty(verdict->expanded_uncertainty, verdict->unit), unit_text(verdict->unit),
              verdict->judged ? band_place(*verdict) : "", band_text(*verdict, words),
              verdict->judged && verdict->band_index ? std::string(verdict->exceeded ? words.yes : words.no) : ""},
             verdict_fact(chapter.input.report.assessment, *verdict)});
    return table;
}

// As many rulers as half a page holds stand in one figure.
void add_rulers(const Chapter& chapter, const std::vector<const Verdict*>& verdicts)
{
    constexpr std::size_t most = 3;
    std::vector<figures::RulerInput> rulers;
    std::string title(chapter.words.rulers);
    const auto put = [&] {
        if (rulers.empty()) return;
        chapter.document.blocks.emplace_back(Drawing{figures::ruler_figure(
            {.title = title, .subtitle = heading_of(*verdicts.front()), .height_px = 0.0, .language = chapter.language},
            rulers)});
        rulers.clear();
    };
    std::size_t drawn = 0;
    constexpr std::size_t most_drawn = 13 * most; // the table has them all
    for (const Verdict* verdict : verdicts) {
        if (!verdict->judged || !verdict->band_index || verdict->bands.size() < 2) continue;
        std::string place = chapter.place_words(*verdict);
        if (!verdict->axis.empty()) place += " (" + chapter.axis_words(verdict->axis) + ")";
        rulers.push_back(figures::ruler_of(*verdict, std::move(place)));
        if (rulers.size() == most) put();
        if (++drawn == most_drawn) break;
    }
    put();
}

void add_bands(const Chapter& chapter, const Criterion& criterion, const std::vector<const Verdict*>& verdicts)
{
    const Wording& words = chapter.words;
    if (criterion.limits_missing) chapter.say(std::string(words.limits_missing));
    Table table{.caption = std::string(words.bands_table),
                .columns = {{std::string(words.use)},
                            {std::string(words.band)},
                            {std::string(words.range)},
                            {std::string(words.exceeds)}}};
    std::set<std::string> seen;
    for (const Verdict* verdict : verdicts) {
        if (verdict->bands.empty() || !seen.insert(verdict->use).second) continue;
        for (std::size_t i = 0; i < verdict->bands.size(); ++i)
            table.rows.push_back(
                {{verdict->use, verdict->bands[i].name, range_of(chapter, verdict->bands[i], verdict->unit),
                  std::string(verdict->bands[i].exceeds ? words.yes : words.no)}});
    }
    chapter.add(std::move(table));
}

void add_notes(const Chapter& chapter, const std::vector<const Verdict*>& verdicts)
{
    std::vector<std::pair<std::string, std::vector<std::string>>> notes; // what, and the places it is about
    std::size_t judged = 0;
    for (const Verdict* verdict : verdicts) {
        if (!verdict->judged) continue;
        ++judged;
        std::vector<std::string> said = verdict->notes;
        if (verdict->decision) said.insert(said.begin(), verdict->decision->words);
        for (const std::string& note : said) {
            auto known = std::ranges::find(notes, note, &decltype(notes)::value_type::first);
            if (known == notes.end()) known = notes.insert(notes.end(), {note, {}});
            known->second.push_back(figures::isolated(chapter.subject_words(*verdict)));
        }
    }
    if (notes.empty()) return;
    chapter.subheading(chapter.words.notes, 4);
    std::vector<Note> told;
    for (auto& [note, places] : notes) {
        const bool about_all = places.size() == judged;
        places.erase(std::ranges::unique(places).begin(), places.end());
        told.push_back({about_all ? "" : fmt::format("{}: ", fmt::join(places, ", ")), note});
    }
    add_said(chapter, told);
}

std::string percent_text(const Chapter& chapter, double percent)
{
    return chapter.digits(fmt::format("{:.1f}", percent));
}

std::string joined_with(const std::vector<std::string>& list) { return fmt::format("{}", fmt::join(list, "; ")); }

void add_components(const Chapter& chapter, const Explanation& explanation)
{
    const Wording& words = chapter.words;
    constexpr std::size_t most_rows = 8;
    const std::string unit = explanation.spectra.empty() ? "" : explanation.spectra.front().unit;
    Table table{.caption = std::string(words.component_table),
                .columns = {{std::string(words.frequency), CellForm::number},
                            {std::string(words.axis)},
                            {filled(words.weighted, unit_text(unit)), CellForm::number},
                            {std::string(words.share), CellForm::number},
                            {std::string(words.made_by)},
                            Chapter::quoted(words.because)}};
    for (std::size_t i = 0; i < std::min(most_rows, explanation.components.size()); ++i) {
        const ExplainedComponent& component = explanation.components[i];
        std::vector<std::string> made_by, because;
        for (const SourceMatch& match : component.matches)
            made_by.push_back(match.source + " (" + figures::line_words(match.line, chapter.language) + ")");
        if (!component.series.empty()) because.push_back(component.series);
        if (!component.matches.empty())
            because.insert(because.end(), component.matches.front().evidence.begin(),
                           component.matches.front().evidence.end());
        because.insert(because.end(), component.notes.begin(), component.notes.end());
        table.rows.push_back(
            {{chapter.digits(figures::number_text(component.hz, 4)), component.axis,
              chapter.value(component.weighted_rms, unit), percent_text(chapter, 100.0 * component.share),
              made_by.empty() ? std::string(words.unexplained) : joined_with(made_by), joined_with(because)}});
    }
    chapter.add(std::move(table));
}

std::string cure_words(const Chapter& chapter, const Explanation& explanation, const Cure& cure)
{
    const Wording& words = chapter.words;
    const std::string without = with_unit(cure.value_without, explanation.verdict.unit, chapter.language);
    std::string text =
        percent_text(chapter, 100.0 * cure.share) + (chapter.language == Language::french ? " %\u00a0: " : " %: ");
    if (cure.reduction_db)
        return text + filled(words.cure_reaches, percent_text(chapter, *cure.reduction_db), cure.source,
                             explanation.next_band);
    return text + filled(explanation.next_limit ? words.cure_alone : words.cure_without, cure.source, without);
}

void add_explanation(const Chapter& chapter, const Explanation& explanation)
{
    const Wording& words = chapter.words;
    const Verdict& verdict = explanation.verdict;
    chapter.subheading(heading_of(verdict));
    std::string what =
        chapter.place_words(verdict) + ": " + with_unit(verdict.value.value_or(0.0), verdict.unit, chapter.language);
    chapter.say(what + ", " + band_text(verdict, words) + ".");
    if (!explanation.why_not.empty()) return chapter.say(filled(words.cannot_explain, explanation.why_not));
    add_components(chapter, explanation);
    chapter.say(filled(words.energy, percent_text(chapter, 100.0 * explanation.explained_share),
                       percent_text(chapter, 100.0 * explanation.unexplained_share),
                       percent_text(chapter, 100.0 * explanation.broad_share)));
    if (explanation.next_limit)
        chapter.say(filled(words.next_band, explanation.next_band,
                           percent_text(chapter, explanation.needed_percent.value_or(0.0)),
                           with_unit(*explanation.next_limit, verdict.unit, chapter.language)));
    List cures;
    for (const Cure& cure : explanation.cures) cures.items.push_back(cure_words(chapter, explanation, cure));
    if (!cures.items.empty()) chapter.document.blocks.emplace_back(std::move(cures));
    std::vector<Note> notes;
    for (const std::string& note : explanation.notes) notes.push_back({.text = note});
    add_said(chapter, notes);
    for (const ExplainedSpectrum& spectrum : explanation.spectra) {
        // Of a total every axis matters, else the governing one alone.
        if (explanation.spectra.size() > 1 && spectrum.axis != verdict.axis &&
            std::ranges::any_of(explanation.spectra,
                                [&](const ExplainedSpectrum& other) { return other.axis == verdict.axis; }))
            continue;
        figures::SpectrumInput input = figures::weighted_spectrum(explanation, spectrum, chapter.language);
        if (auto shape = figures::weighting_shape(spectrum, chapter.language))
            input.shapes.push_back(*std::move(shape));
        chapter.document.blocks.emplace_back(Drawing{figures::spectrum_figure(input)});
    }
    chapter.document.blocks.emplace_back(
        Drawing{figures::ladder_figure(figures::what_carries(explanation, chapter.language))});
}

// The limit that lies within the uncertainty of the value.
std::optional<double> limit_near(const Verdict& verdict)
{
    if (!verdict.judged || !verdict.value || !verdict.expanded_uncertainty) return {};
    for (const Band& band : verdict.bands)
        for (const std::optional<double>& end : {band.from, band.limit})
            if (end && std::abs(*end - *verdict.value) < *verdict.expanded_uncertainty) return end;
    return {};
}

// That the true value exceeds, in per cent; empty where it is not known.
std::string probability_text(const Verdict& verdict)
{
    if (!verdict.uncertainty || !verdict.uncertainty->probability_exceeded) return {};
    return figures::decimal_text(100.0 * *verdict.uncertainty->probability_exceeded, 0);
}

// How much of the same measuring would settle it, or what stands in its way.
std::string settling_text(const Chapter& chapter, const Verdict& verdict)
{
    if (!verdict.uncertainty || !verdict.uncertainty->settling) return {};
    const Settling& settling = *verdict.uncertainty->settling;
    return settling.times
               ? chapter.digits(figures::number_text(*settling.times, 2))
               : filled(chapter.words.settled_by_none, uncertainty_part_words(settling.in_the_way, chapter.language));
}

// A row a value, a column a part that any of them has.
Table budget_of(const Chapter& chapter)
{
    const Wording& words = chapter.words;
    const Assessment& assessment = chapter.input.report.assessment;
    std::vector<std::string> parts;
    for (const Verdict& verdict : assessment.verdicts)
        if (verdict.uncertainty)
            for (const UncertaintyComponent& part : verdict.uncertainty->components)
                if (std::ranges::find(parts, part.name) == parts.end()) parts.push_back(part.name);
    Table table{.caption = std::string(words.budget),
                .columns = {{std::string(words.space)},
                            {std::string(words.criterion)},
                            {std::string(words.value), CellForm::number}}};
    for (const std::string& part : parts)
        table.columns.push_back({uncertainty_part_words(part, chapter.language), CellForm::number});
    table.columns.push_back({std::string(words.uncertainty), CellForm::number});
    table.columns.push_back({std::string(words.unit)});
    for (const Verdict& verdict : assessment.verdicts) {
        if (!verdict.uncertainty || !verdict.expanded_uncertainty) continue;
        Row row{{chapter.place_words(verdict), verdict.criterion, chapter.value(verdict.value, verdict.unit)},
                verdict_fact(assessment, verdict)};
        for (const std::string& part : parts) {
            const auto found = std::ranges::find(verdict.uncertainty->components, part, &UncertaintyComponent::name);
            row.cells.push_back(found == verdict.uncertainty->components.end()
                                    ? std::string()
                                    : chapter.uncertainty(found->standard, verdict.unit));
        }
        row.cells.push_back(chapter.uncertainty(verdict.expanded_uncertainty, verdict.unit));
        row.cells.push_back(unit_text(verdict.unit));
        table.rows.push_back(std::move(row));
    }
    return table;
}

// What no part covers, and of how many values.
void add_not_covered(const Chapter& chapter)
{
    std::map<std::string, int> missing;
    for (const Verdict& verdict : chapter.input.report.assessment.verdicts)
        if (verdict.uncertainty)
            for (const std::string& what : verdict.uncertainty->not_covered) ++missing[what];
    Table table{.caption = std::string(chapter.words.unstated),
                .columns = {Chapter::quoted(chapter.words.unstated_quoted),
                            {std::string(chapter.words.count_of_values), CellForm::number}}};
    for (const auto& [what, times] : missing) table.rows.push_back({{what, std::to_string(times)}});
    chapter.add(std::move(table));
}

} // namespace

void add_said(const Chapter& chapter, const std::vector<Note>& notes)
{
    List said, quoted{.language = "en"};
    for (const Note& note : notes)
        if (const auto words = sentence_words(note.text, chapter.language))
            said.items.push_back(note.of + *words);
        else
            quoted.items.push_back(note.of + note.text);
    for (List* list : {&said, &quoted})
        if (!list->items.empty()) chapter.document.blocks.emplace_back(std::move(*list));
}

void add_verdicts(const Chapter& chapter)
{
    const Assessment& assessment = chapter.input.report.assessment;
    const Wording& words = chapter.words;
    chapter.heading(words.verdicts, "verdicts");
    const auto judged = std::ranges::count_if(assessment.verdicts, &Verdict::judged);
    const auto exceeding = std::ranges::count_if(assessment.verdicts, &Verdict::exceeded);
    chapter.say(filled(words.counts, std::to_string(judged), std::to_string(exceeding),
                       std::to_string(std::ssize(assessment.verdicts) - judged)));
    if (judged == 0) chapter.say(std::string(words.nothing_judged), true);
    chapter.say(std::string(words.how_read));
    chapter.say(std::string(words.quotes));
    for (const std::string& criterion : criteria_of(assessment)) {
        const auto verdicts = worst_first(assessment, criterion);
        chapter.add(table_of(chapter, verdicts, heading_of(*verdicts.front())));
    }
}

void add_results(const Chapter& chapter)
{
    const Assessment& assessment = chapter.input.report.assessment;
    const Wording& words = chapter.words;
    chapter.heading(words.results, "results");
    for (const std::string& id : criteria_of(assessment)) {
        const auto verdicts = worst_first(assessment, id);
        const Verdict& first = *verdicts.front();
        chapter.subheading(heading_of(first));
        const Criterion* criterion = chapter.criterion(id);
        if (criterion != nullptr) {
            Table compared{.caption = std::string(words.compared), .columns = {{std::string(words.criterion)}, {id}}};
            const std::string unit = unit_text(criterion->unit);
            compared.rows.push_back(
                {{std::string(words.value), quantity_words(criterion->quantity, chapter.language)}});
            compared.rows.push_back({{std::string(words.unit), unit.empty() ? "1" : unit}});
            compared.rows.push_back({{std::string(words.weighting), terms_of(chapter, *criterion)}});
            compared.rows.push_back({{std::string(words.combined), axes_of(*criterion, words)}});
            chapter.add(std::move(compared));
        }
        chapter.say(filled(words.confirmed,
                           first.confirmed == "from memory" ? words.from_memory : std::string_view(first.confirmed)));
        if (criterion != nullptr) add_bands(chapter, *criterion, verdicts);
        add_rulers(chapter, verdicts);
        add_notes(chapter, verdicts);
    }
}

void add_causes(const Chapter& chapter)
{
    const Wording& words = chapter.words;
    const auto& explanations = chapter.input.report.explanations;
    chapter.heading(words.causes, "causes");
    if (explanations.empty()) return chapter.say(std::string(words.nothing_to_explain));
    chapter.say(std::string(words.causes_words));
    const Assessment& assessment = chapter.input.report.assessment;
    for (const std::string& criterion : criteria_of(assessment)) {
        const Verdict& worst = *worst_first(assessment, criterion).front();
        if (!worst.judged) continue;
        const std::string key = key_of(worst);
        const auto found = std::ranges::find_if(
            explanations, [&](const Explanation& explanation) { return key_of(explanation.verdict) == key; });
        if (found != explanations.end()) add_explanation(chapter, *found);
    }
}

void add_uncertainty(const Chapter& chapter)
{
    const Wording& words = chapter.words;
    const Assessment& assessment = chapter.input.report.assessment;
    chapter.heading(words.uncertainty_chapter, "uncertainty");
    chapter.say(std::string(words.uncertainty_words));
    chapter.say(std::string(assessment.decision_rule == "guarded" ? words.rule_guarded : words.rule_simple));
    Table table{.caption = std::string(words.near_table),
                .columns = {{std::string(words.space)},
                            {std::string(words.criterion)},
                            {std::string(words.value), CellForm::number},
                            {std::string(words.uncertainty), CellForm::number},
                            {std::string(words.limit), CellForm::number},
                            {std::string(words.unit)},
                            {std::string(words.probability), CellForm::number},
                            {std::string(words.settled_by), CellForm::number}}};
    for (const Verdict& verdict : assessment.verdicts)
        if (const auto limit = limit_near(verdict)) {
            table.rows.push_back(
                {{chapter.place_words(verdict), verdict.criterion, chapter.value(verdict.value, verdict.unit),
                  chapter.uncertainty(verdict.expanded_uncertainty, verdict.unit), chapter.value(limit, verdict.unit),
                  unit_text(verdict.unit), probability_text(verdict), settling_text(chapter, verdict)},
                 verdict_fact(assessment, verdict)});
        }
    if (table.rows.empty()) chapter.say(std::string(words.none_near));
    chapter.add(std::move(table));
    chapter.add(budget_of(chapter));
    add_not_covered(chapter);
}

void add_cautions(const Chapter& chapter)
{
    const Wording& words = chapter.words;
    chapter.heading(words.cautions, "cautions");
    chapter.say(std::string(words.caution_comfort), true);
    chapter.say(std::string(words.caution_limits), true);
    std::set<std::string> from_memory, health;
    for (const Verdict& verdict : chapter.input.report.assessment.verdicts) {
        if (verdict.confirmed == "from memory") from_memory.insert(verdict.criterion);
        const evaluators::Quantity* quantity = evaluators::quantity_named(verdict.quantity);
        if (verdict.exceeded && quantity != nullptr && quantity->daily)
            health.insert(figures::isolated(chapter.subject_words(verdict)));
    }
    if (!from_memory.empty())
        chapter.say(filled(words.caution_memory, fmt::format("{}", fmt::join(from_memory, ", "))), true);
    if (!health.empty()) chapter.say(filled(words.caution_health, fmt::format("{}", fmt::join(health, ", "))), true);
}

} // namespace becalm::report
