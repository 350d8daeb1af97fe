// What lets a reader compute each value again, and the publications.
#include <algorithm>
#include <set>

#include <fmt/format.h>

#include "ui/report/chapters.h"
#include "ui/report/core_words.h"
#include "ui/report/verdict_order.h"

namespace becalm::report {
namespace {

// What is no hash is told in words; the facts beside it stay the same in every language.
std::string shown_value(const Input& input, const Wording& words)
{
    if (input.kind == "asked") return words.in_place_of_own.text();
    return input.kind == "recording" && input.value == "not read" ? words.not_read.text() : input.value;
}

} // namespace

void add_values(const Chapter& chapter)
{
    const Wording& words = chapter.words;
    chapter.heading(words.appendix_values, "values");
    chapter.say(std::string(words.values_words));
    Table values{.caption = std::string(words.values_table),
                 .columns = {{std::string(words.verdict)},
                             {std::string(words.value), CellForm::number},
                             {std::string(words.uncertainty), CellForm::number},
                             {std::string(words.unit)},
                             {std::string(words.band)}}};
    Table terms{.caption = std::string(words.terms_table),
                .columns = {{std::string(words.verdict)},
                            {std::string(words.axis)},
                            {std::string(words.weighting)},
                            {std::string(words.factor), CellForm::number},
                            {std::string(words.value), CellForm::number},
                            {std::string(words.unit)},
                            {std::string(words.duration), CellForm::number},
                            {std::string(words.recordings), CellForm::code}}};
    const auto& verdicts = chapter.input.report.assessment.verdicts;
    auto told = std::ranges::find(chapter.input.inputs, "verdict", &Input::kind); // in the order of the verdicts
    for (const Verdict& verdict : verdicts) {
        BECALM_ASSERT(told != chapter.input.inputs.end() && told->kind == "verdict");
        values.rows.push_back({{told->name, chapter.number(verdict.value), chapter.number(verdict.expanded_uncertainty),
                                verdict.unit, band_text(verdict, words)},
                               facts_of(*told)});
        for (const VerdictTerm& term : verdict.terms) {
            const auto row = [&](const std::string& axis, const std::optional<double>& value, double duration_s) {
                terms.rows.push_back(
                    {{told->name, axis, term.weighting, chapter.number(term.factor), chapter.number(value),
                      verdict.unit, chapter.number(duration_s), fmt::format("{}", fmt::join(term.recordings, ", "))}});
            };
            const std::string axis =
                term.position.empty() ? term.axis : term.axis + ", " + chapter.position_words(term.position);
            row(axis, term.value, term.duration_s);
            for (const VerdictPart& part : term.parts)
                row(axis + ": " + (part.condition.empty() ? part.space : part.condition), part.value, part.duration_s);
        }
        ++told;
    }
    chapter.add(std::move(values));
    chapter.add(std::move(terms));
}

void add_steps(const Chapter& chapter)
{
    const Wording& words = chapter.words;
    chapter.heading(words.appendix_steps, "steps");
    Table table{.caption = std::string(words.steps_table),
                .columns = {{std::string(words.of), CellForm::code}, Chapter::quoted(words.step)}};
    for (const ProvenanceStep& step : chapter.input.report.assessment.provenance)
        table.rows.push_back({{step.of, step.step}});
    chapter.add(std::move(table));
}

void add_publications(const Chapter& chapter)
{
    const Wording& words = chapter.words;
    chapter.heading(words.appendix_sources, "publications");
    Table table{.caption = std::string(words.sources_table),
                .columns = {{std::string(words.edition)},
                            {std::string(words.title)},
                            Chapter::quoted(words.status),
                            Chapter::quoted(words.seen)}};
    std::set<std::string> seen;
    for (const std::string& id : criteria_of(chapter.input.report.assessment)) {
        const Criterion* criterion = chapter.criterion(id);
        if (criterion == nullptr || !seen.insert(criterion->source).second) continue;
        const auto entry = chapter.input.bibliography.find(criterion->source);
        if (entry == chapter.input.bibliography.end())
            table.rows.push_back({{criterion->edition, criterion->title, "", ""}});
        else
            table.rows.push_back(
                {{entry->second.edition, entry->second.title, entry->second.status, entry->second.seen}});
    }
    chapter.add(std::move(table));
}

void add_inputs(const Chapter& chapter)
{
    const Wording& words = chapter.words;
    chapter.heading(words.appendix_inputs, "inputs");
    chapter.say(std::string(words.inputs_words));
    Table table{.caption = std::string(words.inputs_table),
                .columns = {{std::string(words.input)},
                            {std::string(words.name), CellForm::code},
                            {std::string(words.sha256), CellForm::code}}};
    for (const Input& input : chapter.input.inputs)
        if (input.kind != "verdict")
            table.rows.push_back(
                {{input_kind_words(input.kind, chapter.language), input.name, shown_value(input, words)},
                 facts_of(input)});
    chapter.add(std::move(table));
}

} // namespace becalm::report
