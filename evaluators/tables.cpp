#include "evaluators/tables.h"

#include <algorithm>
#include <cmath>
#include <complex>
#include <filesystem>
#include <map>
#include <memory>

#include <fmt/format.h>

#include "evaluators/fitness.h"
#include "evaluators/selection.h"
#include "filters/weighting.h"
#include "filters/welch.h"
#include "src/model/table_pages.h"

namespace becalm::evaluators {
namespace {

using Kind = ColumnKind;
using Row = std::vector<Cell>;

constexpr const char* as_unit = "as unit"; // the table's column says it

Cell text(std::string_view words) { return words.empty() ? Cell() : Cell(std::string(words)); }
Cell whole(std::int64_t value) { return value; }
Cell number(double value) { return value; }

Cell maybe(const std::optional<double>& value) { return value ? Cell(*value) : Cell(); }
Cell maybe(const std::optional<int>& value) { return value ? whole(*value) : Cell(); }

std::string joined(const std::vector<std::string>& texts)
{
    std::string all;
    for (const std::string& one : texts) all += (all.empty() ? "" : "; ") + one;
    return all;
}

std::string unit_of(const Measured& measured, WeightingId weighting)
{
    return std::string(si_unit_of(output_of(weighting, measured.motion), measured.rotates));
}

// The seconds that count, a criterion's run-in aside: what assess() judges.
std::vector<TimeSpan> counted(const Measured& measured, double from_s = 0.0)
{
    auto selected = selection(measured.pass->duration_s, from_s, measured.recording->excluded);
    if (measured.recording->events.empty()) return selected;
    std::vector<TimeSpan> events;
    for (const EventSpan& event : measured.recording->events)
        events.push_back({std::floor(event.from_s), std::ceil(event.to_s)});
    return common(selected, events);
}

double seconds_in(const std::vector<TimeSpan>& spans)
{
    double sum = 0.0;
    for (const TimeSpan& span : spans) sum += span.to_s - span.from_s;
    return sum;
}

// --- what says whose a row is

void add_place_columns(std::vector<TableColumn>& columns)
{
    columns.insert(columns.end(), {{"space", Kind::key, "", "id of the space; empty for a day of a person"},
                                   {"position", Kind::key, "", "where in the space"},
                                   {"condition", Kind::key, "", "id of the condition; empty: none was stated"},
                                   {"person", Kind::key, "", "whose day it is; empty for a space"},
                                   {"criterion", Kind::key, "", "id of the criterion"}});
}

std::vector<TableColumn> columns_of_verdict(std::vector<TableColumn> further)
{
    std::vector<TableColumn> columns{{"verdict", Kind::whole, "", "number of the verdict in the table verdicts"}};
    add_place_columns(columns);
    std::ranges::move(further, std::back_inserter(columns));
    return columns;
}

Row row_of_verdict(std::size_t i, const Verdict& verdict, Row further)
{
    Row row{whole(static_cast<std::int64_t>(i) + 1),
            text(verdict.space),
            text(verdict.position),
            text(verdict.condition),
            text(verdict.person),
            text(verdict.criterion)};
    std::ranges::move(further, std::back_inserter(row));
    return row;
}

std::vector<TableColumn> columns_of_recording(std::vector<TableColumn> further)
{
    std::vector<TableColumn> columns{
        {"recording", Kind::whole, "", "number of the recording: its place in the survey, from 1"},
        {"file", Kind::key, "", "of the recording, as the survey names it"},
        {"space", Kind::key, "", "id of the space"},
        {"position", Kind::key, "", "where in the space"},
        {"condition", Kind::key, "", "id of the condition; empty: none was stated"}};
    std::ranges::move(further, std::back_inserter(columns));
    return columns;
}

Row row_of_recording(std::size_t i, const Recording& recording, Row further)
{
    Row row{whole(static_cast<std::int64_t>(i) + 1), text(recording.file), text(recording.space),
            text(name_of(recording.position)), text(recording.condition)};
    std::ranges::move(further, std::back_inserter(row));
    return row;
}

// --- what was judged

Table verdicts_table(const TablesOf& of)
{
    std::vector<TableColumn> columns{
        {"verdict", Kind::whole, "", "number of the verdict, from 1, in the order of assess"}};
    add_place_columns(columns);
    columns.insert(
        columns.end(),
        {{"judged", Kind::truth, "", "whether it could be judged"},
         {"value", Kind::measured, as_unit, "the value that is compared; empty: none, why_not tells"},
         {"unit", Kind::key, "", "of value, the uncertainties and the limits in bands"},
         {"expanded_uncertainty", Kind::measured, as_unit, "of value, coverage factor as in coverage_factor"},
         {"standard_uncertainty", Kind::measured, as_unit, "of value"},
         {"coverage_factor", Kind::plain, "", "expanded by standard uncertainty"},
         {"probability_exceeded", Kind::share, "1", "that the true value exceeds what is allowed or asked for"},
         {"probability_of_band", Kind::share, "1", "that the true value lies in the verdict's band"},
         {"band_index", Kind::whole, "", "of the band that holds the value, 0 is the mildest"},
         {"band", Kind::key, "", "its name, in the publication's words"},
         {"exceeded", Kind::truth, "", "whether the band exceeds what is allowed or asked for"},
         {"also_bands", Kind::key, "", "further bands whose range holds the value, joined by \"; \""},
         {"decision_rule", Kind::key, "", "simple: value by limit; guarded: value plus expanded uncertainty by limit"},
         {"decision", Kind::prose, "", "how it was decided where a criterion decides in two steps"},
         {"why_not", Kind::prose, "", "why it could not be judged"},
         {"title", Kind::prose, "", "of the criterion"},
         {"edition", Kind::key, "", "of its publication"},
         {"clause", Kind::key, "", "in the publication"},
         {"confirmed", Kind::key, "", "how the criterion's numbers were confirmed"},
         {"use", Kind::key, "", "of the space, by which the limits were chosen"},
         {"quantity", Kind::key, "", "what the value is"},
         {"axis", Kind::key, "", "the governing axis, or total"},
         {"weighting", Kind::key, "", "of the governing axis, or each one joined with +"},
         {"label", Kind::key, "", "of the space"},
         {"group", Kind::key, "", "of the space: a deck, a storey, a coach"},
         {"recordings", Kind::prose, "", "files that it rests on, joined by \"; \""},
         {"notes", Kind::prose, "", "assumptions a reader must know, joined by \"; \""}});
    std::vector<Row> rows;
    const Assessment& assessment = of.judged.assessment;
    for (std::size_t i = 0; i < assessment.verdicts.size(); ++i) {
        const Verdict& verdict = assessment.verdicts[i];
        const Space* space = of.survey.space(verdict.space);
        const Uncertainty uncertainty = verdict.uncertainty.value_or(Uncertainty{});
        const std::string band =
            verdict.band_index ? verdict.bands[static_cast<std::size_t>(*verdict.band_index)].name : std::string();
        rows.push_back(row_of_verdict(i, verdict,
                                      {verdict.judged,
                                       maybe(verdict.value),
                                       text(verdict.unit),
                                       maybe(verdict.expanded_uncertainty),
                                       maybe(uncertainty.standard),
                                       uncertainty.standard ? number(uncertainty.k) : Cell(),
                                       maybe(uncertainty.probability_exceeded),
                                       maybe(uncertainty.probability_of_band),
                                       maybe(verdict.band_index),
                                       text(band),
                                       verdict.exceeded,
                                       text(joined(verdict.also_bands)),
                                       text(assessment.decision_rule),
                                       text(verdict.decision ? verdict.decision->words : std::string()),
                                       text(verdict.why_not),
                                       text(verdict.title),
                                       text(verdict.edition),
                                       text(verdict.clause),
                                       text(verdict.confirmed),
                                       text(verdict.use),
                                       text(verdict.quantity),
                                       text(verdict.axis),
                                       text(verdict.weighting),
                                       text(space != nullptr ? space->label : std::string()),
                                       text(space != nullptr ? space->group : std::string()),
                                       text(joined(verdict.recordings)),
                                       text(joined(verdict.notes))}));
    }
    return table_of("verdicts", "A verdict: a place, a condition and a criterion.", std::move(columns),
                    std::move(rows));
}

Table bands_table(const TablesOf& of)
{
    std::vector<Row> rows;
    for (std::size_t i = 0; i < of.judged.assessment.verdicts.size(); ++i) {
        const Verdict& verdict = of.judged.assessment.verdicts[i];
        for (std::size_t j = 0; j < verdict.bands.size(); ++j) {
            const Band& band = verdict.bands[j];
            const auto index = static_cast<int>(j);
            rows.push_back(
                row_of_verdict(i, verdict,
                               {whole(index), text(band.name), maybe(band.from), maybe(band.limit), band.inclusive,
                                text(verdict.unit), band.exceeds, verdict.band_index == std::optional(index)}));
        }
    }
    return table_of(
        "bands", "A band of a verdict's criterion, the mildest first.",
        columns_of_verdict({{"band_index", Kind::whole, "", "0 is the mildest"},
                            {"band", Kind::key, "", "name, in the publication's words"},
                            {"from", Kind::measured, as_unit,
                             "lowest value where ranges overlap; empty: the limit of the band before"},
                            {"limit", Kind::measured, as_unit, "upper end; empty: none"},
                            {"inclusive", Kind::truth, "", "whether the limit itself belongs to the band"},
                            {"unit", Kind::key, "", "of from and limit"},
                            {"exceeds", Kind::truth, "", "whether a value here exceeds what is allowed or asked for"},
                            {"holds_value", Kind::truth, "", "whether the verdict is this band"}}),
        std::move(rows));
}

Table terms_table(const TablesOf& of)
{
    std::vector<Row> rows;
    for (std::size_t i = 0; i < of.judged.assessment.verdicts.size(); ++i) {
        const Verdict& verdict = of.judged.assessment.verdicts[i];
        for (std::size_t j = 0; j < verdict.terms.size(); ++j) {
            const VerdictTerm& term = verdict.terms[j];
            rows.push_back(
                row_of_verdict(i, verdict,
                               {whole(static_cast<std::int64_t>(j) + 1), text(term.axis), text(term.position),
                                whole(term.group), text(term.weighting), number(term.factor), maybe(term.value),
                                text(verdict.quantity), number(term.duration_s), text(joined(term.recordings))}));
        }
    }
    return table_of("terms", "A value of one axis on the way to a verdict's value.",
                    columns_of_verdict({{"term", Kind::whole, "", "number of the term in its verdict, from 1"},
                                        {"axis", Kind::key, "", "x, y, z, ..."},
                                        {"term_position", Kind::key, "", "where the criterion asks for one"},
                                        {"group", Kind::whole, "", "terms of a group form one total"},
                                        {"weighting", Kind::key, "", "frequency weighting"},
                                        {"factor", Kind::plain, "1", "multiplying factor k of the axis"},
                                        {"value", Kind::measured, "that of quantity", "before the factor"},
                                        {"quantity", Kind::key, "", "what the value is"},
                                        {"duration_s", Kind::seconds, "s", "judged duration"},
                                        {"recordings", Kind::prose, "", "files that it rests on, joined by \"; \""}}),
                    std::move(rows));
}

Table parts_table(const TablesOf& of)
{
    std::vector<Row> rows;
    for (std::size_t i = 0; i < of.judged.assessment.verdicts.size(); ++i) {
        const Verdict& verdict = of.judged.assessment.verdicts[i];
        for (std::size_t j = 0; j < verdict.terms.size(); ++j)
            for (const VerdictPart& part : verdict.terms[j].parts)
                rows.push_back(row_of_verdict(i, verdict,
                                              {whole(static_cast<std::int64_t>(j) + 1), text(part.condition),
                                               text(part.space), part.rest, number(part.value), maybe(part.exposed_h),
                                               maybe(part.events), number(part.duration_s)}));
    }
    return table_of(
        "parts", "What one condition, or one task of a person's day, adds to a term.",
        columns_of_verdict({{"term", Kind::whole, "", "number of the term in its verdict"},
                            {"part_condition", Kind::key, "", "id of the condition"},
                            {"part_space", Kind::key, "", "id of the space of a task"},
                            {"rest", Kind::truth, "", "whether it lies in hours of rest"},
                            {"value", Kind::measured, "that of quantity", "of the axis, over this part alone"},
                            {"exposed_h", Kind::plain, "h", "how long it lasts a day or period"},
                            {"events", Kind::plain, "", "how often it happens"},
                            {"duration_s", Kind::seconds, "s", "measured"}}),
        std::move(rows));
}

Table uncertainty_table(const TablesOf& of)
{
    std::vector<Row> rows;
    for (std::size_t i = 0; i < of.judged.assessment.verdicts.size(); ++i) {
        const Verdict& verdict = of.judged.assessment.verdicts[i];
        if (!verdict.uncertainty) continue;
        const Uncertainty& whole_of = *verdict.uncertainty;
        const auto add = [&](const std::string& name, bool covered, const Cell& standard, const Cell& share,
                             const Cell& dof, const std::string& method) {
            rows.push_back(row_of_verdict(
                i, verdict,
                {text(name), covered, standard, covered ? text(verdict.unit) : Cell(), share, dof, text(method)}));
        };
        double squares = 0.0;
        for (const UncertaintyComponent& component : whole_of.components)
            squares += component.standard * component.standard;
        for (const UncertaintyComponent& component : whole_of.components)
            add(component.name, true, component.standard,
                squares > 0.0 ? Cell(component.standard * component.standard / squares) : Cell(), maybe(component.dof),
                component.method);
        for (const std::string& missing : whole_of.not_covered) {
            const std::size_t colon = missing.find(": ");
            const bool named = colon != std::string::npos;
            add(named ? missing.substr(0, colon) : "", false, {}, {}, {}, named ? missing.substr(colon + 2) : missing);
        }
    }
    return table_of(
        "uncertainty", "What a verdict's uncertainty is made of, and what is not in it.",
        columns_of_verdict({{"component", Kind::key, "", "calibration, filter, mounting, position, statistics"},
                            {"covered", Kind::truth, "", "false: it is not in the uncertainty, method tells why"},
                            {"standard_uncertainty", Kind::measured, as_unit, "its contribution to the value's"},
                            {"unit", Kind::key, "", "of standard_uncertainty"},
                            {"share", Kind::share, "1", "of the sum of the squares of this verdict's components"},
                            {"degrees_of_freedom", Kind::plain, "", "empty: known for certain"},
                            {"method", Kind::prose, "", "how it is known, or why it is not covered"}}),
        std::move(rows));
}

Table components_table(const TablesOf& of)
{
    std::vector<Row> rows;
    const auto& verdicts = of.judged.assessment.verdicts;
    std::size_t next = 0; // explanations come in the order of the verdicts, those that were judged
    for (const Explanation& explanation : of.explanation->explanations) {
        while (next < verdicts.size() && !verdicts[next].judged) ++next;
        BECALM_ASSERT(next < verdicts.size());
        const std::size_t i = next++;
        std::map<std::string, std::string> units; // axis → of its spectrum
        for (const ExplainedSpectrum& spectrum : explanation.spectra) units[spectrum.axis] = spectrum.unit;
        for (const ExplainedComponent& component : explanation.components) {
            const SourceMatch* match = component.matches.empty() ? nullptr : &component.matches.front();
            rows.push_back(row_of_verdict(
                i, verdicts[i],
                {text(component.axis), number(component.hz), maybe(component.frequency_uncertainty_hz),
                 number(component.weighted_rms), text(units[component.axis]), number(component.share),
                 std::isfinite(component.above_floor) ? number(component.above_floor) : Cell(), text(component.series),
                 match != nullptr ? text(match->source) : Cell(), match != nullptr ? text(match->line) : Cell(),
                 match != nullptr ? maybe(match->coherence) : Cell(), component.averaged_because.empty(),
                 text(component.averaged_because)}));
        }
    }
    return table_of(
        "components", "A component that stands out of the weighted spectrum of a verdict.",
        columns_of_verdict({{"axis", Kind::key, "", "x, y, z, ..."},
                            {"hz", Kind::plain, "Hz", "frequency"},
                            {"frequency_uncertainty_hz", Kind::plain, "Hz", "standard; empty: not from phases"},
                            {"weighted_rms", Kind::measured, as_unit, "r.m.s. after weighting and factor"},
                            {"unit", Kind::key, "", "of weighted_rms"},
                            {"share", Kind::share, "1", "of the mean square that the value rests on"},
                            {"above_floor", Kind::plain, "1", "ratio of densities; empty: there is no floor"},
                            {"series", Kind::key, "", "the family of lines it belongs to"},
                            {"source", Kind::key, "", "id of the source for which most speaks; empty: none does"},
                            {"source_line", Kind::key, "", "which of the source's lines"},
                            {"coherence", Kind::share, "1", "with the source's reference channel, where it has one"},
                            {"from_phases", Kind::truth, "", "whether frequency and amplitude come from phases"},
                            {"averaged_because", Kind::prose, "", "why they come from the averaged spectrum"}}),
        std::move(rows));
}

// --- what was measured

Table recordings_table(const TablesOf& of)
{
    std::vector<Row> rows;
    for (std::size_t i = 0; i < of.judged.measured.size(); ++i) {
        const Measured& measured = of.judged.measured[i];
        const Recording& recording = *measured.recording;
        const Sensor* sensor = of.survey.sensor(recording.sensor);
        const auto& pass = measured.pass;
        const Cell nothing;
        rows.push_back(row_of_recording(
            i, recording,
            {pass ? text(pass->sha256) : nothing, pass ? text(pass->info.format) : nothing,
             pass ? number(pass->info.rate_hz) : nothing, pass ? whole(pass->info.channels) : nothing,
             pass ? number(pass->duration_s) : nothing, pass ? number(seconds_in(counted(measured))) : nothing,
             text(recording.start), text(recording.unit), maybe(recording.scale), text(recording.sensor),
             sensor != nullptr ? text(sensor->serial) : nothing, sensor != nullptr ? text(sensor->calibrated) : nothing,
             sensor != nullptr ? text(sensor->certificate) : nothing,
             sensor != nullptr ? maybe(sensor->uncertainty_percent) : nothing, text(measured.unreadable),
             text(recording.comment)}));
    }
    return table_of(
        "recordings", "A [[recording]] of the survey.",
        columns_of_recording(
            {{"sha256", Kind::key, "", "of the file's content"},
             {"format", Kind::key, "", "of the file"},
             {"rate_hz", Kind::plain, "Hz", "sampling rate"},
             {"channels", Kind::whole, "", "in the file"},
             {"duration_s", Kind::seconds, "s", "of the file"},
             {"counted_s", Kind::seconds, "s", "without what is excluded, in listed events alone where there are some"},
             {"start", Kind::key, "", "ISO 8601, as the survey states it"},
             {"unit", Kind::key, "", "of the stored values times the scale"},
             {"scale", Kind::plain, as_unit, "what a stored 1 is; empty: 1"},
             {"sensor", Kind::key, "", "id of the sensor"},
             {"serial", Kind::key, "", "number of the sensor"},
             {"calibrated", Kind::key, "", "date of its calibration"},
             {"certificate", Kind::key, "", "of the calibration"},
             {"sensor_uncertainty_percent", Kind::plain, "%", "expanded (k = 2), of its sensitivity"},
             {"unreadable", Kind::prose, "", "why it could not be read; empty: it could"},
             {"comment", Kind::prose, "", "as the survey has it"}}),
        std::move(rows));
}

Table channels_table(const TablesOf& of)
{
    std::vector<Row> rows;
    for (std::size_t i = 0; i < of.judged.measured.size(); ++i) {
        const Measured& measured = of.judged.measured[i];
        for (const ChannelMapping& mapping : measured.recording->channels) {
            const ChannelResult* channel = measured.pass ? measured.channel(mapping.channel) : nullptr;
            const auto refused = measured.refused.find(mapping.channel);
            const bool refusal = refused != measured.refused.end();
            rows.push_back(
                row_of_recording(i, *measured.recording,
                                 {whole(mapping.channel), text(name_of(mapping.axis)), channel != nullptr && !refusal,
                                  refusal ? text(refused->second) : text(measured.unreadable),
                                  channel != nullptr ? number(channel->offset) : Cell(),
                                  channel != nullptr ? number(channel->scan.min()) : Cell(),
                                  channel != nullptr ? number(channel->scan.max()) : Cell(),
                                  text(si_unit_of(measured.motion, measured.rotates))}));
        }
    }
    return table_of("channels", "A channel of a recording that stands for an axis.",
                    columns_of_recording(
                        {{"channel", Kind::whole, "", "of the file, from 1"},
                         {"axis", Kind::key, "", "that it stands for"},
                         {"fit", Kind::truth, "", "whether it may be judged"},
                         {"why_unfit", Kind::prose, "", "the first finding that refuses it"},
                         {"offset", Kind::measured, as_unit, "mean of the first 10 s, taken away before filtering"},
                         {"min", Kind::measured, as_unit, "least value as recorded, offset included"},
                         {"max", Kind::measured, as_unit, "greatest value as recorded, offset included"},
                         {"unit", Kind::key, "", "of offset, min and max"}}),
                    std::move(rows));
}

Table exclusions_table(const TablesOf& of)
{
    std::vector<Row> rows;
    for (std::size_t i = 0; i < of.survey.recordings.size(); ++i)
        for (const ExcludedSpan& span : of.survey.recordings[i].excluded)
            rows.push_back(row_of_recording(i, of.survey.recordings[i],
                                            {number(span.from_s), number(span.to_s), text(span.reason)}));
    return table_of("exclusions", "A span that the survey leaves out.",
                    columns_of_recording({{"from_s", Kind::seconds, "s", "from the first sample"},
                                          {"to_s", Kind::seconds, "s", "its end; whole seconds around it are left out"},
                                          {"reason", Kind::prose, "", "as the survey states it"}}),
                    std::move(rows));
}

Table conditions_table(const TablesOf& of)
{
    std::vector<Row> rows;
    for (const Condition& condition : of.survey.conditions) {
        const auto add = [&](const Cell& name, const Cell& value) {
            rows.push_back({text(condition.id), text(condition.title), text(condition.period),
                            maybe(condition.exposure_h), maybe(condition.events), name, value});
        };
        if (condition.values.empty()) add({}, {});
        for (const auto& [name, value] : condition.values) add(name, value);
    }
    return table_of("conditions", "A value that a condition states; one row of a condition that states none.",
                    {{"condition", Kind::key, "", "id"},
                     {"title", Kind::prose, "", "as the survey has it"},
                     {"period", Kind::key, "", "day, night, ... where it stands for one"},
                     {"exposure_h", Kind::plain, "h", "how long a day or period it lasts"},
                     {"events", Kind::plain, "", "or how often it happens"},
                     {"name", Kind::key, "", "of the value; its unit is part of it, as in speed_kn"},
                     {"value", Kind::plain, "as name", "what is stated"}},
                    std::move(rows));
}

Table findings_table(const TablesOf& of)
{
    std::vector<Row> rows;
    for (const Finding& finding : of.judged.assessment.findings)
        rows.push_back({text(name_of(finding.severity)), text(finding.code), text(finding.recording),
                        maybe(finding.channel), maybe(finding.from_s), maybe(finding.to_s), text(finding.message)});
    return table_of("findings", "What was noticed about a recording or the survey.",
                    {{"severity", Kind::key, "", "note, caution, or refusal (it cannot be judged as it is)"},
                     {"code", Kind::key, "", "stable, for programs"},
                     {"file", Kind::key, "", "of the recording; empty: the survey as a whole"},
                     {"channel", Kind::whole, "", "of the file, from 1"},
                     {"from_s", Kind::seconds, "s", "where it begins, from the first sample"},
                     {"to_s", Kind::seconds, "s", "where it ends, where it is a span"},
                     {"message", Kind::prose, "", "what it is and what to do"}},
                    std::move(rows));
}

// --- one-third octaves

struct WeightedLane {
    std::size_t recording = 0;
    const Measured* measured = nullptr;
    const ChannelSpectra* spectra = nullptr;
    Lane lane = {};
    std::vector<TimeSpan> selected = {};
};

std::vector<WeightedLane> lanes_with_spectra(const Judged& judged)
{
    std::vector<WeightedLane> lanes;
    for (std::size_t i = 0; i < judged.measured.size(); ++i) {
        const Measured& measured = judged.measured[i];
        if (!measured.pass) continue;
        for (const LaneResult& lane : measured.pass->lanes) {
            const ChannelResult* channel = measured.channel(lane.lane.channel);
            if (lane.refused || channel == nullptr || !channel->spectra) continue;
            WeightedLane one{i, &measured, &*channel->spectra, lane.lane, {}};
            one.selected = counted(measured, run_in_for(lane.lane.weighting, measured.pass->duration_s));
            if (mean_density(*one.spectra, one.selected).empty()) one.selected = counted(measured); // too short for it
            if (!mean_density(*one.spectra, one.selected).empty()) lanes.push_back(std::move(one));
        }
    }
    return lanes;
}

Table third_octaves_table(const TablesOf& of)
{
    Table table{.name = "third_octaves",
                .words =
                    "A one-third-octave band of a recording's channel under a weighting, over the seconds that count.",
                .columns = columns_of_recording({{"channel", Kind::whole, "", "of the file, from 1"},
                                                 {"axis", Kind::key, "", "that it stands for"},
                                                 {"weighting", Kind::key, "", "none: as recorded"},
                                                 {"nominal_hz", Kind::plain, "Hz", "by which the band is called"},
                                                 {"exact_hz", Kind::plain, "Hz", "its centre"},
                                                 {"rms", Kind::measured, as_unit, "of what lies in the band"},
                                                 {"unit", Kind::key, "", "of rms"}}),
                .rows = 0,
                .each_row = {}};
    const auto lanes = std::make_shared<const std::vector<WeightedLane>>(lanes_with_spectra(of.judged));
    for (const WeightedLane& lane : *lanes)
        table.rows += filters::third_octaves_within(lane.spectra->resolution_hz, lane.spectra->rate_hz).size();
    table.each_row = [lanes](const Table::Take& take) {
        for (const WeightedLane& lane : *lanes) {
            const double resolution = lane.spectra->resolution_hz;
            std::vector<double> density = mean_density(*lane.spectra, lane.selected);
            BECALM_ASSERT(!density.empty());
            for (std::size_t k = 0; k < density.size(); ++k)
                density[k] *= std::norm(filters::analytic_response(lane.lane.weighting, lane.measured->motion,
                                                                   static_cast<double>(k) * resolution));
            Row row = row_of_recording(lane.recording, *lane.measured->recording,
                                       {whole(lane.lane.channel), text(name_of(lane.lane.axis)),
                                        text(name_of(lane.lane.weighting)), 0.0, 0.0, 0.0,
                                        unit_of(*lane.measured, lane.lane.weighting)});
            const std::size_t first = row.size() - 4; // the band's three numbers
            for (const filters::ThirdOctave& band : filters::third_octaves_within(resolution, lane.spectra->rate_hz)) {
                row[first] = band.nominal_hz;
                row[first + 1] = band.exact_hz;
                row[first + 2] = filters::band_rms(density, resolution, band.from_hz, band.to_hz);
                if (!take(row)) return;
            }
        }
    };
    return table;
}

// --- seconds

Table ledger_table(const TablesOf& of)
{
    Table table{.name = "ledger",
                .words = "A second of a recording's channel under a weighting.",
                .columns = columns_of_recording(
                    {{"channel", Kind::whole, "", "of the file, from 1"},
                     {"axis", Kind::key, "", "that it stands for"},
                     {"weighting", Kind::key, "", "none: as recorded, without the offset"},
                     {"unit", Kind::key, "",
                      "of rms, peak and the running values; of the sums its square and its fourth power"},
                     {"recorded_unit", Kind::key, "", "of recorded_min and recorded_max"}}),
                .rows = 0,
                .each_row = {}};
    for (const LedgerField& field : fields_of_ledger()) {
        std::string unit;
        switch (field.unit) {
        case LedgerFieldUnit::seconds: unit = "s"; break;
        case LedgerFieldUnit::lane: unit = as_unit; break;
        case LedgerFieldUnit::lane_squared: unit = "square of unit"; break;
        case LedgerFieldUnit::lane_fourth: unit = "fourth power of unit"; break;
        case LedgerFieldUnit::recorded: unit = "as recorded_unit"; break;
        case LedgerFieldUnit::none: break;
        }
        table.columns.push_back(
            {std::string(field.name), field.whole ? Kind::whole : Kind::measured, unit, std::string(field.words)});
    }
    const auto index = std::make_shared<const io::LedgerIndex>(ledgers_of(of.survey, of.judged));
    for (const LedgerLane& lane : index->lanes) table.rows += lane.ledger->rows.size();
    table.each_row = [index, &survey = of.survey](const Table::Take& take) {
        const auto& fields = fields_of_ledger();
        for (const LedgerLane& lane : index->lanes) {
            const auto place = static_cast<std::size_t>(lane.recording) - 1;
            const Lane& is = lane.ledger->lane;
            Row row = row_of_recording(place, survey.recordings[place],
                                       {whole(is.channel), text(name_of(is.axis)), text(name_of(is.weighting)),
                                        text(lane.unit), text(lane.recorded_unit)});
            const std::size_t first = row.size();
            row.resize(first + fields.size());
            for (std::size_t i = 0; i < lane.ledger->rows.size(); ++i) {
                const auto numbers = ledger_numbers(lane, i);
                for (std::size_t j = 0; j < fields.size(); ++j)
                    row[first + j] = fields[j].whole ? Cell(numbers[j].whole) : Cell(numbers[j].real);
                if (!take(row)) return;
            }
        }
    };
    return table;
}

} // namespace

io::LedgerIndex ledgers_of(const Survey& survey, const Judged& judged)
{
    io::LedgerIndex index{.title = survey.title,
                          .survey = std::filesystem::path(survey.path).filename().string(),
                          .sha256 = survey.sha256};
    for (std::size_t i = 0; i < judged.measured.size(); ++i) {
        const Measured& measured = judged.measured[i];
        const Recording& recording = *measured.recording;
        if (!measured.pass) {
            index.unreadable.emplace_back(recording.file, measured.unreadable);
            continue;
        }
        for (const LaneResult& lane : measured.pass->lanes) {
            if (lane.refused) continue;
            const auto refused = measured.refused.find(lane.lane.channel);
            index.lanes.push_back({.ledger = &lane.ledger,
                                   .recording = static_cast<int>(i) + 1,
                                   .file = recording.file,
                                   .sha256 = measured.pass->sha256,
                                   .space = recording.space,
                                   .position = std::string(name_of(recording.position)),
                                   .condition = recording.condition,
                                   .start = recording.start,
                                   .unit = unit_of(measured, lane.lane.weighting),
                                   .recorded_unit = std::string(si_unit_of(measured.motion, measured.rotates)),
                                   .selected = counted(measured),
                                   .why_unfit = refused == measured.refused.end() ? std::string() : refused->second});
        }
    }
    return index;
}

TableBook tables_of(const TablesOf& of)
{
    const Assessment& assessment = of.judged.assessment;
    TableBook book;
    const auto say = [&](std::string name, const std::string& words) {
        if (!words.empty()) book.about.emplace_back(std::move(name), words);
    };
    say("title", assessment.title);
    say("client", of.survey.client);
    say("setting", assessment.setting);
    say("survey", std::filesystem::path(assessment.file).filename().string());
    say("survey_sha256", assessment.sha256);
    say("decision_rule", assessment.decision_rule);
    say("date", of.date);
    say("program", of.program);
    say("reading",
        "One observation a row; an empty cell is no value. The table columns says what each column is and its "
        "unit. verdict and recording are numbers that join the tables.");
    say("caution", "Comfort evaluation is no structural, machinery or health assessment; local codes, contracts and "
                   "licensed practice prevail.");
    book.tables = {verdicts_table(of),    bands_table(of),      terms_table(of),        parts_table(of),
                   uncertainty_table(of), recordings_table(of), channels_table(of),     exclusions_table(of),
                   conditions_table(of),  findings_table(of),   third_octaves_table(of)};
    if (of.explanation != nullptr) book.tables.push_back(components_table(of));
    if (of.ledger) book.tables.push_back(ledger_table(of));
    return book;
}

} // namespace becalm::evaluators
