#include "ui/report/report_contents.h"

#include <algorithm>
#include <iterator>

#include <fmt/format.h>

#include "ui/figures/figure_words.h"
#include "ui/figures/text.h"
#include "ui/report/chapters.h"
#include "ui/report/dates.h"

namespace becalm::report {
std::string date_of(const ReportInput& input) { return input.date.empty() ? latest_date(input.survey) : input.date; }

void Chapter::heading(std::string_view text, std::string anchor) const
{
    document.blocks.emplace_back(Heading{.level = 2, .words = std::string(text), .anchor = std::move(anchor)});
}

void Chapter::subheading(std::string_view text, int level) const
{
    document.blocks.emplace_back(Heading{.level = level, .words = std::string(text)});
}

void Chapter::say(std::string text, bool caution) const
{
    document.blocks.emplace_back(Paragraph{.words = std::move(text), .caution = caution});
}

void Chapter::add(Table table) const
{
    if (!table.rows.empty()) document.blocks.emplace_back(std::move(table));
}

std::string Chapter::number(const std::optional<double>& value) const { return exact_text(value, language); }

std::string Chapter::axis_words(std::string_view axis) const
{
    return axis == "total" ? words.total_axis.text() : std::string(axis);
}

std::string Chapter::position_words(std::string_view position) const
{
    return figures::position_words(position, language);
}

std::string Chapter::joined(const std::vector<std::string>& items_with_numbers) const
{
    return fmt::format("{}", fmt::join(items_with_numbers, figures::words_of(language).list_separator.text()));
}

std::string Chapter::space_words(std::string_view id) const
{
    const Space* space = input.survey.space(id);
    return space != nullptr && !space->label.empty() ? space->label : std::string(id);
}

std::string Chapter::condition_words(std::string_view id) const
{
    const Condition* condition = input.survey.condition(id);
    return condition != nullptr && !condition->title.empty() ? condition->title : std::string(id);
}

std::string Chapter::subject_words(const Verdict& verdict) const
{
    return verdict.person.empty() ? space_words(verdict.space) : verdict.person;
}

std::string Chapter::place_words(const Verdict& verdict) const
{
    std::string text = figures::isolated(subject_words(verdict));
    if (!verdict.position.empty()) text += ", " + position_words(verdict.position);
    if (!verdict.condition.empty()) text += ", " + figures::isolated(condition_words(verdict.condition));
    return text;
}

const Criterion* Chapter::criterion(std::string_view id) const
{
    const auto found = input.library.criteria.find(id);
    return found == input.library.criteria.end() ? nullptr : &found->second;
}

Facts verdict_fact(const Assessment& assessment, const Verdict& verdict)
{
    return {{"verdict", std::to_string(&verdict - assessment.verdicts.data())}};
}

Document report_contents(const ReportInput& input, Language language)
{
    const Wording& words = wording_of(language);
    Document document{.language = std::string(figures::code_of(language)),
                      .title = input.survey.title,
                      .letterhead = input.letterhead.above,
                      .contents_words = words.contents.text(),
                      .picture_not_drawn = words.picture_not_drawn.text()};
    if (!input.survey.client.empty()) document.subtitle.push_back(filled(words.client, input.survey.client));
    if (const std::string date = date_of(input); !date.empty())
        document.subtitle.push_back(filled(words.date, date_text(date, language)));
    document.subtitle.push_back(filled(words.by_program, input.version));

    const Chapter chapter{input, language, words, document};
    for (const auto add : {add_verdicts, add_cautions, add_purpose, add_object, add_conditions, add_instruments,
                           add_left_out, add_fitness, add_results, add_exposure, add_causes, add_uncertainty})
        add(chapter);
    document.blocks.insert(document.blocks.end(), input.letterhead.beneath.begin(), input.letterhead.beneath.end());
    for (const auto add : {add_values, add_steps, add_publications, add_inputs}) add(chapter);
    return document;
}

} // namespace becalm::report
