// Purpose, object, conditions, instruments, what was left out, fitness.
#include <algorithm>
#include <filesystem>
#include <map>

#include <fmt/format.h>

#include "src/io/atomic_file.h"
#include "ui/figures/text.h"
#include "ui/report/chapters.h"
#include "ui/report/core_words.h"
#include "ui/report/pdf_pages.h"
#include "ui/report/verdict_order.h"

namespace becalm::report {
namespace {

std::string joined(const std::vector<std::string>& list) { return fmt::format("{}", fmt::join(list, ", ")); }

// "shaft_rpm 165, speed_kn 13.5": as the survey notes them.
std::string noted(const Chapter& chapter, const std::map<std::string, double>& values)
{
    std::vector<std::string> items;
    for (const auto& [name, value] : values) items.push_back(name + " " + chapter.number(value));
    return chapter.joined(items);
}

std::string span_text(const Chapter& chapter, double from_s, double to_s)
{
    return chapter.digits(fmt::format("{:.10g}–{:.10g}", from_s, to_s));
}

std::string why_no_page(PageFault fault, const Plan& plan, const Wording& words)
{
    switch (fault) {
    case PageFault::damaged: return std::string(words.plan_damaged);
    case PageFault::locked: return std::string(words.plan_locked);
    case PageFault::no_page: return filled(words.plan_no_page, std::to_string(plan.page));
    case PageFault::failed: break;
    }
    return std::string(words.plan_failed);
}

PictureMark mark_of(const Chapter& chapter, const Space& space, std::size_t number)
{
    PictureMark mark{std::to_string(number), 100.0 * space.place->x, 100.0 * space.place->y};
    if (const Verdict* worst = worst_of(chapter.input.report.assessment, space.id)) {
        mark.words += "\u00a0" + band_place(*worst);
        mark.stands_out = worst->exceeded;
    }
    return mark;
}

// The spaces of the plan that have a place, by their number in the table of spaces.
void add_plan(const Chapter& chapter, const Plan& plan)
{
    const Survey& survey = chapter.input.survey;
    const Wording& words = chapter.words;
    const std::string title = plan.title.empty() ? plan.id : plan.title;
    const auto not_shown = [&](std::string_view why) {
        chapter.say(filled(words.plan_not_shown, figures::isolated(title), figures::isolated(plan.file), why), true);
    };
    const std::filesystem::path file(plan.file);
    const std::filesystem::path path =
        file.is_absolute() ? file : std::filesystem::path(survey.path).parent_path() / file;
    constexpr std::size_t most_bytes = std::size_t{32} << 20;
    const auto bytes = io::read_text_file(path.string(), most_bytes);
    if (!bytes) return not_shown(bytes.error().what);
    Picture picture{.media_type = picture_type(*bytes), .bytes = *bytes};
    if (bytes->starts_with("%PDF-") || (picture.media_type.empty() && is_pdf(*bytes))) {
        auto page = picture_of_page(*bytes, plan.page);
        if (const auto* fault = std::get_if<PageFault>(&page)) return not_shown(why_no_page(*fault, plan, words));
        picture = std::get<Picture>(std::move(page));
    }
    picture.alternative = filled(words.plan_alternative, title);
    picture.caption = title;
    if (picture.media_type.empty()) return not_shown(words.plan_unknown);
    for (std::size_t i = 0; i < survey.spaces.size(); ++i)
        if (const Space& space = survey.spaces[i]; space.plan == plan.id && space.place)
            picture.marks.push_back(mark_of(chapter, space, i + 1));
    if (!picture.marks.empty()) picture.caption += ". " + std::string(words.plan_marks);
    chapter.document.blocks.emplace_back(std::move(picture));
}

// Each item that a report is asked for, also where nobody has stated it.
void add_statements(const Chapter& chapter)
{
    const Wording& words = chapter.words;
    Table table{.caption = std::string(words.statement_table),
                .columns = {{std::string(words.item)}, {std::string(words.statement)}}};
    const auto row = [&](std::string_view item, const std::string& text) {
        table.rows.push_back({{std::string(item), text.empty() ? std::string(words.not_stated) : text}});
    };
    row(words.client_stated, chapter.input.survey.client);
    const auto& statements = chapter.input.survey.statements;
    for (const auto& [key, item] : {std::pair("purpose", words.purpose_stated),
                                    {"object", words.object_stated},
                                    {"author", words.author},
                                    {"instruments", words.instruments_stated},
                                    {"mounting", words.mounting},
                                    {"background", words.background},
                                    {"complaints", words.complaints},
                                    {"deviations", words.deviations}}) {
        const auto stated = statements.find(key);
        row(item, stated == statements.end() ? "" : stated->second);
    }
    chapter.add(std::move(table));
}

} // namespace

void add_purpose(const Chapter& chapter)
{
    const Survey& survey = chapter.input.survey;
    const Wording& words = chapter.words;
    chapter.heading(words.purpose, "purpose");
    chapter.say(std::string(words.purpose_words));
    if (!survey.note.empty()) chapter.say(survey.note);
    add_statements(chapter);
    Table table{.caption = std::string(words.judged_by),
                .columns = {{std::string(words.criterion)},
                            {std::string(words.edition)},
                            {std::string(words.uses)},
                            {std::string(words.confirmed_by)}}};
    const auto row = [&](const std::string& id, const std::string& uses, const std::string& by) {
        const Criterion* criterion = chapter.criterion(id);
        const std::string edition =
            criterion == nullptr ? ""
                                 : criterion->edition + (criterion->edition.empty() ? "" : ", ") + criterion->title;
        table.rows.push_back({{id, edition, uses, by}});
    };
    const bool asked = std::ranges::find(chapter.input.inputs, "asked", &Input::kind) != chapter.input.inputs.end();
    for (const Input& one : chapter.input.inputs)
        if (one.kind == "asked") row(one.name, std::string(words.all_uses), "");
    if (!asked)
        for (const Judge& judge : survey.judges)
            for (const std::string& id : judge.criteria)
                row(id, judge.uses.empty() ? std::string(words.all_uses) : joined(judge.uses), judge.confirmed_by);
    chapter.add(std::move(table));
}

void add_object(const Chapter& chapter)
{
    const Survey& survey = chapter.input.survey;
    const Wording& words = chapter.words;
    chapter.heading(words.object, "object");
    chapter.say(filled(words.setting, words.settings[static_cast<std::size_t>(survey.setting)]));
    chapter.say(std::string(words.axes_words));
    Table table{.caption = std::string(words.spaces),
                .columns = {{std::string(words.mark), CellForm::number},
                            {std::string(words.space)},
                            {std::string(words.label)},
                            {std::string(words.use)},
                            {std::string(words.group)},
                            {std::string(words.plan)}}};
    for (std::size_t i = 0; i < survey.spaces.size(); ++i) {
        const Space& space = survey.spaces[i];
        table.rows.push_back({{std::to_string(i + 1), space.id, space.label, space.use, space.group, space.plan}});
    }
    chapter.add(std::move(table));
    for (const Plan& plan : survey.plans) add_plan(chapter, plan);
}

void add_conditions(const Chapter& chapter)
{
    const Survey& survey = chapter.input.survey;
    const Wording& words = chapter.words;
    chapter.heading(words.conditions, "conditions");
    if (survey.conditions.empty()) chapter.say(std::string(words.no_conditions));
    Table conditions{.caption = std::string(words.condition_table),
                     .columns = {{std::string(words.condition)},
                                 {std::string(words.title)},
                                 {std::string(words.noted)},
                                 {std::string(words.period)},
                                 {std::string(words.hours), CellForm::number},
                                 {std::string(words.events), CellForm::number}}};
    for (const Condition& condition : survey.conditions)
        conditions.rows.push_back({{condition.id, condition.title, noted(chapter, condition.values), condition.period,
                                    chapter.number(condition.exposure_h), chapter.number(condition.events)}});
    chapter.add(std::move(conditions));
    Table sources{.caption = std::string(words.source_table),
                  .columns = {{std::string(words.source)},
                              {std::string(words.title)},
                              {std::string(words.kind)},
                              {std::string(words.noted)}}};
    for (const Source& source : survey.sources)
        sources.rows.push_back({{source.id, source.title, source.kind, noted(chapter, source.values)}});
    chapter.add(std::move(sources));
    Table tasks{.caption = std::string(words.exposure_table),
                .columns = {{std::string(words.person)},
                            {std::string(words.day)},
                            {std::string(words.space)},
                            {std::string(words.position)},
                            {std::string(words.condition)},
                            {std::string(words.hours), CellForm::number}}};
    for (const Exposure& exposure : survey.exposures)
        for (const Task& task : exposure.tasks)
            tasks.rows.push_back({{exposure.person, exposure.day, chapter.space_words(task.space),
                                   task.position ? chapter.position_words(name_of(*task.position)) : "",
                                   chapter.condition_words(task.condition), chapter.number(task.hours)}});
    chapter.add(std::move(tasks));
}

void add_instruments(const Chapter& chapter)
{
    const Survey& survey = chapter.input.survey;
    const Wording& words = chapter.words;
    chapter.heading(words.instruments, "instruments");
    if (survey.sensors.empty()) chapter.say(std::string(words.no_sensors), true);
    const auto stated = [&](const std::string& text) { return text.empty() ? std::string(words.not_stated) : text; };
    Table sensors{.caption = std::string(words.sensor_table),
                  .columns = {{std::string(words.sensor)},
                              {std::string(words.title)},
                              {std::string(words.serial)},
                              {std::string(words.calibrated)},
                              {std::string(words.certificate)},
                              {std::string(words.sensor_uncertainty), CellForm::number}}};
    for (const Sensor& sensor : survey.sensors)
        sensors.rows.push_back(
            {{sensor.id, sensor.title, stated(sensor.serial), stated(date_text(sensor.calibrated, chapter.language)),
              stated(sensor.certificate), stated(chapter.number(sensor.uncertainty_percent))}});
    chapter.add(std::move(sensors));
    chapter.say(std::string(words.filter_words));
    Table recordings{.caption = std::string(words.recording_table),
                     .columns = {{std::string(words.recording), CellForm::code},
                                 {std::string(words.space)},
                                 {std::string(words.position)},
                                 {std::string(words.condition)},
                                 {std::string(words.sensor)},
                                 {std::string(words.channels)},
                                 {std::string(words.scale)},
                                 Chapter::quoted(words.read_as),
                                 {std::string(words.start)},
                                 {std::string(words.comment)}}};
    for (const Recording& recording : survey.recordings) {
        std::string channels;
        for (const ChannelMapping& mapping : recording.channels)
            channels += fmt::format("{}{} = {}", channels.empty() ? "" : ", ", mapping.channel, name_of(mapping.axis));
        const AsRead read = as_read(chapter.input.report.assessment, recording.file);
        recordings.rows.push_back(
            {{recording.file, chapter.space_words(recording.space), chapter.position_words(name_of(recording.position)),
              chapter.condition_words(recording.condition), recording.sensor, channels,
              chapter.number(recording.scale.value_or(1.0)) + "\u00a0" + figures::pretty_unit(recording.unit),
              read.facts.empty() ? std::string(words.not_read) : read.facts,
              date_text(recording.start, chapter.language), recording.comment}});
    }
    chapter.add(std::move(recordings));
}

void add_left_out(const Chapter& chapter)
{
    const Wording& words = chapter.words;
    chapter.heading(words.left_out, "left-out");
    Table spans{.caption = std::string(words.excluded_table),
                .columns = {{std::string(words.recording), CellForm::code},
                            {std::string(words.from_to), CellForm::number},
                            {std::string(words.reason)}}};
    Table events{.caption = std::string(words.event_table),
                 .columns = {{std::string(words.recording), CellForm::code},
                             {std::string(words.from_to), CellForm::number},
                             {std::string(words.event)}}};
    for (const Recording& recording : chapter.input.survey.recordings) {
        for (const ExcludedSpan& span : recording.excluded)
            spans.rows.push_back({{recording.file, span_text(chapter, span.from_s, span.to_s), span.reason}});
        for (const EventSpan& event : recording.events)
            events.rows.push_back({{recording.file, span_text(chapter, event.from_s, event.to_s), event.title}});
    }
    Table refused{.caption = std::string(words.refused_table),
                  .columns = {{std::string(words.space)},
                              {std::string(words.position)},
                              {std::string(words.condition)},
                              {std::string(words.criterion)},
                              Chapter::quoted(words.reason)}};
    for (const Verdict& verdict : chapter.input.report.assessment.verdicts)
        if (!verdict.judged)
            refused.rows.push_back({{chapter.subject_words(verdict), chapter.position_words(verdict.position),
                                     chapter.condition_words(verdict.condition), verdict.criterion, verdict.why_not}});
    if (spans.rows.empty() && refused.rows.empty()) chapter.say(std::string(words.nothing_left_out));
    chapter.add(std::move(spans));
    chapter.add(std::move(events));
    chapter.add(std::move(refused));
}

void add_fitness(const Chapter& chapter)
{
    const Wording& words = chapter.words;
    chapter.heading(words.fitness, "fitness");
    const auto& findings = chapter.input.report.assessment.findings;
    if (findings.empty()) return chapter.say(std::string(words.nothing_found));
    chapter.say(std::string(words.severity_words));
    Table table{.caption = std::string(words.finding_table),
                .columns = {{std::string(words.severity)},
                            {std::string(words.recording), CellForm::code},
                            {std::string(words.channel), CellForm::number},
                            {std::string(words.from_to), CellForm::number},
                            {std::string(words.finding)},
                            Chapter::quoted(words.finding_quoted)}};
    for (const Severity severity : {Severity::refusal, Severity::caution, Severity::note})
        for (const Finding& finding : findings) {
            if (finding.severity != severity) continue;
            std::string when = finding.from_s ? chapter.digits(fmt::format("{:.10g}", *finding.from_s)) : "";
            if (finding.from_s && finding.to_s) when = span_text(chapter, *finding.from_s, *finding.to_s);
            table.rows.push_back({{words.severities[static_cast<std::size_t>(severity)].text(), finding.recording,
                                   finding.channel ? std::to_string(*finding.channel) : "", when,
                                   finding_title(finding.code, chapter.language), finding.message}});
        }
    chapter.add(std::move(table));
}

} // namespace becalm::report
