#include "src/io/json_out.h"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "src/io/csv_field.h"

namespace becalm::io {
namespace {

using Json = nlohmann::ordered_json;

template <class Value>
Json or_null(const std::optional<Value>& value)
{
    return value ? Json(*value) : Json(nullptr);
}

Json text_or_null(const std::string& text) { return text.empty() ? Json(nullptr) : Json(text); }

// File names and titles come from outside and may not be UTF-8; the output always is.
std::string written(const Json& json) { return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n"; }

Json as_tree(const Finding& finding)
{
    Json json{{"severity", name_of(finding.severity)}, {"code", finding.code}};
    if (!finding.recording.empty()) json["recording"] = finding.recording;
    json["channel"] = or_null(finding.channel);
    json["at_s"] = or_null(finding.from_s);
    if (finding.to_s) json["to_s"] = *finding.to_s;
    json["message"] = finding.message;
    return json;
}

Json as_tree(const std::vector<Finding>& findings)
{
    Json list = Json::array();
    for (const Finding& finding : findings) list.push_back(as_tree(finding));
    return list;
}

Json as_tree(const std::vector<WeighedLane>& lanes)
{
    Json list = Json::array();
    for (const WeighedLane& lane : lanes)
        list.push_back({{"channel", lane.channel},
                        {"axis", lane.axis},
                        {"weighting", lane.weighting},
                        {"unit", lane.unit},
                        {"rms", or_null(lane.rms)},
                        {"peak", or_null(lane.peak)},
                        {"crest_factor", or_null(lane.crest_factor)},
                        {"mtvv_linear", or_null(lane.mtvv_linear)},
                        {"mtvv_exponential", or_null(lane.mtvv_exponential)},
                        {"vdv", or_null(lane.vdv)},
                        {"evdv", or_null(lane.evdv)},
                        {"msdv", or_null(lane.msdv)}});
    return list;
}

Json as_tree(const std::vector<Band>& bands)
{
    Json list = Json::array();
    for (const Band& band : bands) {
        Json entry{{"name", band.name}, {"below", or_null(band.limit)}};
        if (band.limit && band.inclusive) entry["inclusive"] = true;
        if (band.from) entry["from"] = *band.from;
        if (band.exceeds) entry["exceeds"] = true;
        list.push_back(std::move(entry));
    }
    return list;
}

Json as_tree(const VerdictTerm& term)
{
    Json json{{"axis", term.axis}};
    if (!term.position.empty()) json["position"] = term.position;
    json.update({{"weighting", term.weighting},
                 {"factor", term.factor},
                 {"value", or_null(term.value)},
                 {"duration_s", term.duration_s},
                 {"recordings", term.recordings}});
    if (term.parts.empty()) return json;
    Json parts = Json::array();
    for (const VerdictPart& part : term.parts)
        parts.push_back({{"condition", text_or_null(part.condition)},
                         {"space", text_or_null(part.space)},
                         {"rest", part.rest},
                         {"value", part.value},
                         {"exposed_h", or_null(part.exposed_h)},
                         {"events", or_null(part.events)},
                         {"duration_s", part.duration_s}});
    json["parts"] = std::move(parts);
    return json;
}

Json as_tree(const std::optional<DecisionOutcome>& decision)
{
    if (!decision) return nullptr;
    return {{"quantity", decision->quantity},
            {"value", or_null(decision->value)},
            {"lower", decision->limits.lower},
            {"upper", decision->limits.upper},
            {"average", or_null(decision->limits.average)},
            {"words", decision->words}};
}

Json band_of(const Verdict& verdict)
{
    return verdict.band_index ? Json(verdict.bands[static_cast<std::size_t>(*verdict.band_index)].name) : Json(nullptr);
}

Json as_tree(const std::optional<Settling>& settling)
{
    if (!settling) return nullptr;
    return {{"bound", settling->bound},
            {"times", or_null(settling->times)},
            {"more_s", or_null(settling->more_s)},
            {"more_events", or_null(settling->more_events)},
            {"more_recordings", or_null(settling->more_recordings)},
            {"in_the_way", text_or_null(settling->in_the_way)},
            {"words", settling->words}};
}

Json as_tree(const std::optional<Uncertainty>& uncertainty)
{
    if (!uncertainty) return nullptr;
    Json components = Json::array();
    for (const UncertaintyComponent& component : uncertainty->components)
        components.push_back({{"name", component.name},
                              {"standard", component.standard},
                              {"method", component.method},
                              {"dof", or_null(component.dof)}});
    const auto& standard = uncertainty->standard;
    return {{"standard", or_null(standard)},
            {"expanded", standard ? Json(uncertainty->k * *standard) : Json(nullptr)},
            {"k", uncertainty->k},
            {"method", text_or_null(uncertainty->method)},
            {"components", std::move(components)},
            {"not_covered", uncertainty->not_covered},
            {"probability_exceeded", or_null(uncertainty->probability_exceeded)},
            {"probability_of_band", or_null(uncertainty->probability_of_band)},
            {"settling", as_tree(uncertainty->settling)}};
}

Json as_tree(const Verdict& verdict)
{
    Json terms = Json::array();
    for (const VerdictTerm& term : verdict.terms) terms.push_back(as_tree(term));
    return {{"space", verdict.space},
            {"position", verdict.position},
            {"condition", text_or_null(verdict.condition)},
            {"person", text_or_null(verdict.person)},
            {"criterion", verdict.criterion},
            {"edition", verdict.edition},
            {"clause", verdict.clause},
            {"confirmed", verdict.confirmed},
            {"use", verdict.use},
            {"quantity", verdict.quantity},
            {"axis", text_or_null(verdict.axis)},
            {"weighting", text_or_null(verdict.weighting)},
            {"value", or_null(verdict.value)},
            {"unit", verdict.unit},
            {"expanded_uncertainty", or_null(verdict.expanded_uncertainty)},
            {"uncertainty", as_tree(verdict.uncertainty)},
            {"judged", verdict.judged},
            {"why_not", text_or_null(verdict.why_not)},
            {"band", band_of(verdict)},
            {"band_index", or_null(verdict.band_index)},
            {"also_bands", verdict.also_bands},
            {"bands", as_tree(verdict.bands)},
            {"exceeded", verdict.exceeded},
            {"decision", as_tree(verdict.decision)},
            {"terms", std::move(terms)},
            {"notes", verdict.notes},
            {"recordings", verdict.recordings}};
}

std::string csv_number(const std::optional<double>& value) { return value ? fmt::format("{}", *value) : std::string(); }

Json as_tree(const ChannelOfReport& channel)
{
    return {{"channel", channel.channel}, {"axis", or_null(channel.axis)}, {"name", or_null(channel.name)}};
}

// What is infinite, because nothing is known, becomes null.
Json as_tree(const RelatedMotion& motion)
{
    return {{"hz", motion.hz},
            {"coherence", motion.coherence},
            {"moves_together", motion.moves_together()},
            {"amplitude", {motion.real, motion.imaginary}},
            {"magnitude", motion.magnitude},
            {"magnitude_uncertainty", motion.magnitude_uncertainty},
            {"phase_deg", motion.phase_deg},
            {"phase_uncertainty_deg", motion.phase_uncertainty_deg}};
}

Json as_tree(const UncertainValue& value) { return {{"value", value.value}, {"uncertainty", value.uncertainty}}; }

Json as_tree(const ClocksCompared& clocks)
{
    Json pieces = Json::array();
    for (const LagOfPiece& piece : clocks.pieces)
        pieces.push_back({{"at_s", piece.at_s}, {"lag_s", piece.lag_s}, {"quality", piece.quality}});
    return {{"lag_s", {{"value", clocks.lag_s}, {"uncertainty", or_null(clocks.lag_uncertainty_s)}}},
            {"drift_ppm", clocks.drift_ppm ? as_tree(*clocks.drift_ppm) : Json(nullptr)},
            {"why_no_drift", text_or_null(clocks.why_no_drift)},
            {"quality", clocks.quality},
            {"coherent_to_hz", or_null(clocks.coherent_to_hz)},
            {"scatter_s", clocks.scatter_s},
            {"piece_s", clocks.piece_s},
            {"pieces", std::move(pieces)},
            {"pieces_left_out", clocks.pieces_left_out}};
}

Json as_tree(const std::optional<ModeFound>& mode, const std::string& why_not)
{
    Json entry{{"frequency_hz", mode ? as_tree(mode->frequency_hz) : Json(nullptr)},
               {"damping", mode ? as_tree(mode->damping) : Json(nullptr)}};
    entry["why_not"] = text_or_null(why_not);
    return entry;
}

Json as_tree(const ExposureSum& sum)
{
    return {{"value", or_null(sum.value)},
            {"axis", text_or_null(sum.axis)},
            {"expanded_uncertainty", or_null(sum.expanded_uncertainty)}};
}

Json as_tree(const ExposureSums& sums)
{
    return {{"a8", as_tree(sums.a8)}, {"daily_vdv", as_tree(sums.daily_vdv)}, {"points", as_tree(sums.points)}};
}

Json as_tree(const std::vector<ExposureAxis>& axes)
{
    Json list = Json::array();
    for (const ExposureAxis& axis : axes)
        list.push_back({{"axis", axis.axis},
                        {"weighting", axis.weighting},
                        {"factor", axis.factor},
                        {"rms", or_null(axis.rms)},
                        {"vdv", or_null(axis.vdv)},
                        {"judged_s", or_null(axis.judged_s)},
                        {"a8", or_null(axis.a8)},
                        {"daily_vdv", or_null(axis.daily_vdv)},
                        {"points", or_null(axis.points)}});
    return list;
}

Json as_tree(const ExposureTask& task)
{
    Json seat = Json::array(), times = Json::array();
    for (const SeatValue& value : task.seat)
        seat.push_back({{"criterion", value.criterion},
                        {"percent", or_null(value.percent)},
                        {"expanded_uncertainty", or_null(value.expanded_uncertainty)},
                        {"why_not", text_or_null(value.why_not)}});
    for (const TaskTime& time : task.times)
        times.push_back({{"criterion", time.criterion},
                         {"band", time.band},
                         {"bound", time.bound},
                         {"unit", time.unit},
                         {"exceeds", time.exceeds},
                         {"alone_h", or_null(time.alone_h)},
                         {"beside_h", or_null(time.beside_h)},
                         {"left_h", time.beside_h ? Json(*time.beside_h - task.hours) : Json(nullptr)},
                         {"others_exceed", time.others_exceed}});
    return {{"space", task.space},
            {"position", text_or_null(task.position)},
            {"condition", text_or_null(task.condition)},
            {"hours", task.hours},
            {"why_not", text_or_null(task.why_not)},
            {"recordings", task.recordings},
            {"axes", as_tree(task.axes)},
            {"magnitude", as_tree(task.magnitude)},
            {"sums", as_tree(task.sums)},
            {"points_an_hour", or_null(task.points_an_hour)},
            {"seat", std::move(seat)},
            {"times", std::move(times)},
            {"notes", task.notes}};
}

std::string_view name_of(ExposureKind kind) { return kind == ExposureKind::hand_arm ? "hand-arm" : "whole-body"; }

Json as_tree(const ExposureTable& table)
{
    Json tasks = Json::array();
    for (const ExposureTask& task : table.tasks) tasks.push_back(as_tree(task));
    return {{"kind", name_of(table.kind)}, {"hand", text_or_null(table.hand)},
            {"governs", table.governs},    {"criteria", table.criteria},
            {"tasks", std::move(tasks)},   {"axes", as_tree(table.axes)},
            {"sums", as_tree(table.sums)}, {"notes", table.notes}};
}

Json as_tree(const std::vector<DayVerdict>& verdicts)
{
    Json list = Json::array();
    for (const DayVerdict& day : verdicts) {
        Json times = Json::array();
        for (const DayTime& time : day.times)
            times.push_back(
                {{"band", time.band}, {"bound", time.bound}, {"exceeds", time.exceeds}, {"hours", time.hours}});
        Json entry = as_tree(day.verdict);
        entry["asked_for"] = day.asked_for;
        entry["times"] = std::move(times);
        list.push_back(std::move(entry));
    }
    return list;
}

Json as_tree(const std::vector<BandLevel>& levels)
{
    Json bands = Json::array();
    for (const BandLevel& band : levels)
        bands.push_back(
            {{"n", band.n}, {"exact_hz", band.exact_hz}, {"nominal_hz", band.nominal_hz}, {"rms", band.rms}});
    return bands;
}

} // namespace

std::string as_json(const LedgerAnswer& answer)
{
    Json stretches = Json::array();
    for (const LedgerStretch& stretch : answer.stretches) {
        stretches.push_back({{"date", text_or_null(stretch.date)},
                             {"hours", text_or_null(stretch.hours)},
                             {"seconds", stretch.seconds},
                             {"lanes", as_tree(stretch.lanes)}});
        if (!answer.judged_as) continue;
        Json verdicts = Json::array();
        for (const Verdict& verdict : stretch.verdicts) verdicts.push_back(as_tree(verdict));
        stretches.back()["verdicts"] = std::move(verdicts);
    }
    Json json{{"schema", "becalm.ledger-answer/1"},
              {"file", answer.file},
              {"start", text_or_null(answer.start)},
              {"rate_hz", answer.rate_hz},
              {"seconds", answer.seconds}};
    if (answer.judged_as)
        json["judged_as"] = {{"setting", answer.judged_as->setting},
                             {"use", answer.judged_as->use},
                             {"position", answer.judged_as->position}};
    json["stretches"] = std::move(stretches);
    json["findings"] = as_tree(answer.findings);
    return written(json);
}

std::string as_json(const std::vector<WeighedFile>& files)
{
    Json list = Json::array();
    for (const WeighedFile& file : files) {
        Json lanes = as_tree(file.lanes);
        Json entry{{"file", file.file},
                   {"sha256", text_or_null(file.sha256)},
                   {"rate_hz", file.rate_hz > 0.0 ? Json(file.rate_hz) : Json(nullptr)},
                   {"from_s", file.from_s},
                   {"duration_s", file.duration_s},
                   {"lanes", std::move(lanes)},
                   {"total_rms", or_null(file.total_rms)},
                   {"findings", as_tree(file.findings)}};
        if (file.bands) {
            Json channels = Json::array();
            for (const RecordedBands& bands : *file.bands)
                channels.push_back({{"channel", bands.channel},
                                    {"unit", bands.unit},
                                    {"resolution_hz", bands.resolution_hz},
                                    {"segments", bands.segments},
                                    {"third_octave", as_tree(bands.third_octaves)}});
            entry["recorded"] = std::move(channels);
        }
        list.push_back(std::move(entry));
    }
    return written({{"schema", "becalm.weigh/1"}, {"files", std::move(list)}});
}

std::string as_json(const ResponseReport& response)
{
    Json points = Json::array();
    for (const ResponsePoint& point : response.points)
        points.push_back({{"hz", point.hz},
                          {"magnitude", point.magnitude},
                          {"phase_deg", point.phase_deg},
                          {"analytic_magnitude", point.analytic_magnitude},
                          {"analytic_phase_deg", point.analytic_phase_deg}});
    return written({{"schema", "becalm.response/1"},
                    {"weighting", response.weighting},
                    {"input", response.input},
                    {"output", response.output},
                    {"rate_hz", response.rate_hz},
                    {"latency_samples", response.latency_samples},
                    {"correction_taps", response.taps},
                    {"accurate_to_hz", response.accurate_to_hz},
                    {"least_rate_hz", response.least_rate_hz},
                    {"points", std::move(points)}});
}

std::string as_json(const SpectrumReport& spectrum)
{
    Json lanes = Json::array();
    for (const SpectrumLane& lane : spectrum.lanes) {
        const auto by_bin = [&](const std::vector<double>& values) {
            Json pairs = Json::array();
            for (auto k = static_cast<std::size_t>(lane.first_bin); k < values.size(); ++k)
                pairs.push_back({static_cast<double>(k) * lane.resolution_hz, values[k]});
            return pairs;
        };
        Json dominant = Json::array();
        for (const DominantComponent& line : lane.dominant) {
            Json entry{{"hz", line.hz}, {"rms", line.rms}, {"energy_share", line.energy_share}};
            entry["above_floor"] = line.above_floor; // infinite (a floor of nothing) becomes null
            dominant.push_back(std::move(entry));
        }
        Json entry{{"channel", lane.channel},
                   {"axis", lane.axis},
                   {"weighting", lane.weighting},
                   {"unit", lane.unit},
                   {"resolution_hz", lane.resolution_hz},
                   {"segments", lane.segments},
                   {"window", "hann"},
                   {"overlap", 0.5},
                   {"scaling", "density"},
                   {"row", {{"segments", lane.row_segments}, {"s", lane.row_s}, {"rows", lane.rows}}},
                   {"psd", by_bin(lane.density)},
                   {"psd_max", by_bin(lane.greatest)},
                   {"psd_min", by_bin(lane.least)},
                   {"third_octave", as_tree(lane.third_octaves)},
                   {"octave", as_tree(lane.octaves)},
                   {"dominant", std::move(dominant)}};
        if (!lane.amplitude.empty()) entry["amplitude"] = by_bin(lane.amplitude);
        if (spectrum.running_s) {
            Json running = Json::array();
            for (const RunningBandLevel& band : lane.running_bands)
                running.push_back({{"bands_an_octave", band.bands_an_octave},
                                   {"n", band.n},
                                   {"exact_hz", band.exact_hz},
                                   {"nominal_hz", band.nominal_hz},
                                   {"greatest", band.greatest},
                                   {"mean", band.mean},
                                   {"class_1", band.class_1}});
            entry["running_bands"] = std::move(running);
        }
        lanes.push_back(std::move(entry));
    }
    Json document{{"schema", "becalm.spectrum/1"},
                  {"file", spectrum.file},
                  {"sha256", text_or_null(spectrum.sha256)},
                  {"rate_hz", spectrum.rate_hz},
                  {"duration_s", spectrum.duration_s},
                  {"from_hz", spectrum.from_hz},
                  {"lanes", std::move(lanes)},
                  {"findings", as_tree(spectrum.findings)}};
    if (spectrum.converted_to) document["converted_to"] = *spectrum.converted_to;
    if (spectrum.running_s) document["running_s"] = *spectrum.running_s;
    return written(document);
}

std::string as_json(const RelationReport& relation)
{
    Json channels = Json::array();
    for (const RelatedChannel& related : relation.channels) {
        Json bins = Json::array();
        for (const RelatedMotion& bin : related.bins) bins.push_back(as_tree(bin));
        Json entry = as_tree(related.channel);
        if (related.of_other) entry["file"] = relation.other->file;
        entry["bins"] = std::move(bins);
        channels.push_back(std::move(entry));
    }
    Json lines = Json::array();
    for (const RelatedLine& line : relation.lines) {
        Json points = Json::array();
        for (std::size_t i = 0; i < line.channels.size(); ++i) {
            Json entry = as_tree(relation.channels[i].channel);
            if (relation.channels[i].of_other) entry["file"] = relation.other->file;
            entry.update(as_tree(line.channels[i]));
            points.push_back(std::move(entry));
        }
        lines.push_back({{"hz", line.hz},
                         {"bin_hz", line.bin_hz},
                         {"reference_rms", line.reference_rms},
                         {"channels", std::move(points)}});
    }
    Json document{{"schema", "becalm.relation/1"},
                  {"file", relation.file},
                  {"sha256", relation.sha256},
                  {"rate_hz", relation.rate_hz},
                  {"from_s", relation.from_s},
                  {"duration_s", relation.duration_s},
                  {"unit", relation.unit},
                  {"reference", as_tree(relation.reference)},
                  {"resolution_hz", relation.resolution_hz},
                  {"window", "hann"},
                  {"overlap", 0.5},
                  {"segments", relation.segments},
                  {"averages", relation.averages},
                  {"lines", std::move(lines)},
                  {"channels", std::move(channels)},
                  {"findings", as_tree(relation.findings)}};
    if (relation.other) {
        Json other{{"file", relation.other->file}, {"sha256", relation.other->sha256}};
        other["channel"] = as_tree(relation.other->channel);
        other.update(as_tree(relation.other->clocks));
        document["with"] = std::move(other);
    }
    return written(document);
}

std::string as_json(const AlignmentReport& alignment)
{
    Json document{{"schema", "becalm.alignment/1"},
                  {"file", alignment.file},
                  {"sha256", alignment.sha256},
                  {"other", alignment.other},
                  {"other_sha256", alignment.other_sha256},
                  {"rate_hz", alignment.rate_hz},
                  {"from_s", alignment.from_s},
                  {"duration_s", alignment.duration_s},
                  {"other_duration_s", alignment.other_duration_s},
                  {"channel", as_tree(alignment.channel)},
                  {"other_channel", as_tree(alignment.other_channel)},
                  {"most_lag_s", alignment.most_lag_s},
                  {"most_ppm", alignment.most_ppm}};
    document.update(as_tree(alignment.clocks));
    document["findings"] = as_tree(alignment.findings);
    return written(document);
}

std::string as_json(const HistoryReport& history)
{
    const auto filter = [](const std::optional<HistoryFilter>& one) {
        return one ? Json{{"hz", one->hz}, {"order", one->order}} : Json(nullptr);
    };
    Json channels = Json::array();
    for (const HistoryOfChannel& one : history.channels) {
        Json quantities = Json::array();
        for (const HistoryQuantity& quantity : one.quantities)
            quantities.push_back({{"motion", quantity.motion},
                                  {"unit", quantity.unit},
                                  {"rms", quantity.rms},
                                  {"peak", quantity.peak},
                                  {"peak_at_s", quantity.peak_at_s},
                                  {"peak_to_peak", quantity.peak_to_peak},
                                  {"crest_factor", or_null(quantity.crest_factor)}});
        Json entry = as_tree(one.channel);
        entry["quantities"] = std::move(quantities);
        channels.push_back(std::move(entry));
    }
    return written({{"schema", "becalm.history/1"},
                    {"file", history.file},
                    {"sha256", history.sha256},
                    {"rate_hz", history.rate_hz},
                    {"from_s", history.from_s},
                    {"duration_s", history.duration_s},
                    {"recorded", history.recorded},
                    {"filter", "butterworth, zero phase"},
                    {"high_pass", filter(history.high_pass)},
                    {"low_pass", filter(history.low_pass)},
                    {"nothing_below_hz", history.nothing_below_hz},
                    {"settled_from_s", history.settled_from_s},
                    {"settled_to_s", history.settled_to_s},
                    {"channels", std::move(channels)},
                    {"findings", as_tree(history.findings)}});
}

std::string as_json(const DecayReport& decay)
{
    Json channels = Json::array();
    for (const DecayOfChannel& one : decay.channels) {
        Json entry = as_tree(one.channel);
        if (!decay.ambient) {
            entry.update(as_tree(one.decay ? std::optional(one.decay->mode) : std::nullopt, one.why_not));
            if (one.decay)
                entry.update({{"logarithmic_decrement", one.decay->decrement},
                              {"from_s", one.decay->from_s},
                              {"to_s", one.decay->to_s},
                              {"from_amplitude", one.decay->from_amplitude},
                              {"to_amplitude", one.decay->to_amplitude},
                              {"noise_floor", one.decay->noise_floor},
                              {"misfit", one.decay->misfit}});
        }
        channels.push_back(std::move(entry));
    }
    Json modes = Json::array();
    for (const AmbientModeFound& found : decay.modes) {
        Json shape = Json::array(), half_power = Json::array();
        for (const std::complex<double> point : found.shape) shape.push_back(Json::array({point.real(), point.imag()}));
        for (const HalfPowerOfChannel& one : found.half_power) {
            Json entry{{"channel", one.channel}};
            entry.update(as_tree(one.mode, one.why_not));
            half_power.push_back(std::move(entry));
        }
        modes.push_back({{"frequency_hz", as_tree(found.mode.frequency_hz)},
                         {"damping", as_tree(found.mode.damping)},
                         {"from_hz", found.from_hz},
                         {"to_hz", found.to_hz},
                         {"first_to_second", found.first_to_second},
                         {"shape", std::move(shape)},
                         {"half_power", std::move(half_power)}});
    }
    return written({{"schema", "becalm.decay/1"},
                    {"file", decay.file},
                    {"sha256", decay.sha256},
                    {"rate_hz", decay.rate_hz},
                    {"from_s", decay.from_s},
                    {"duration_s", decay.duration_s},
                    {"unit", decay.unit},
                    {"method", decay.ambient ? "ambient" : "free-decay"},
                    {"above_hz", decay.above_hz},
                    {"below_hz", decay.below_hz},
                    {"resolution_hz", or_null(decay.resolution_hz)},
                    {"channels", std::move(channels)},
                    {"modes", std::move(modes)},
                    {"left_out", decay.left_out},
                    {"findings", as_tree(decay.findings)}});
}

std::string as_json(const Assessment& assessment)
{
    Json verdicts = Json::array();
    for (const Verdict& verdict : assessment.verdicts) verdicts.push_back(as_tree(verdict));
    Json provenance = Json::array();
    for (const ProvenanceStep& step : assessment.provenance)
        provenance.push_back({{"step", step.step}, {"of", step.of}});
    return written({{"schema", "becalm.assessment/1"},
                    {"survey",
                     {{"title", assessment.title},
                      {"setting", assessment.setting},
                      {"decision_rule", assessment.decision_rule},
                      {"file", assessment.file},
                      {"sha256", assessment.sha256}}},
                    {"verdicts", std::move(verdicts)},
                    {"findings", as_tree(assessment.findings)},
                    {"provenance", std::move(provenance)}});
}

std::string as_json(const LedgerIndex& index)
{
    Json fields = Json::array();
    for (const LedgerField& field : fields_of_ledger())
        fields.push_back({{"name", field.name}, {"type", field.whole ? "<i8" : "<f8"}, {"meaning", field.words}});
    Json lanes = Json::array();
    for (const LedgerLane& lane : index.lanes) {
        Json units = Json::object();
        for (const LedgerField& field : fields_of_ledger())
            units[std::string(field.name)] = text_or_null(unit_of(field, lane));
        lanes.push_back({{"file", npy_name_of(lane)},
                         {"rows", lane.rows_kept.value_or(lane.ledger->rows.size())},
                         {"recording", lane.recording},
                         {"recording_file", lane.file},
                         {"sha256", lane.sha256},
                         {"space", lane.space},
                         {"position", lane.position},
                         {"condition", text_or_null(lane.condition)},
                         {"start", text_or_null(lane.start)},
                         {"rate_hz", lane.ledger->rate_hz},
                         {"channel", lane.ledger->lane.channel},
                         {"axis", name_of(lane.ledger->lane.axis)},
                         {"weighting", name_of(lane.ledger->lane.weighting)},
                         {"first_second", lane.ledger->first_second},
                         {"why_unfit", text_or_null(lane.why_unfit)},
                         {"units", std::move(units)}});
        if (index.sums_of_s.empty()) continue;
        Json sums = Json::array();
        for (const int seconds : index.sums_of_s)
            sums.push_back({{"file", sums_name_of(lane, seconds)}, {"seconds", seconds}});
        lanes.back()["sums"] = std::move(sums);
        lanes.back()["holds_no_numbers"] = lane.holds_no_numbers;
    }
    Json unreadable = Json::array();
    for (const auto& [file, why] : index.unreadable) unreadable.push_back({{"recording_file", file}, {"why", why}});
    Json json{{"schema", "becalm.ledger/1"},
              {"survey", {{"title", index.title}, {"file", index.survey}, {"sha256", index.sha256}}},
              {"fields", std::move(fields)},
              {"lanes", std::move(lanes)},
              {"unreadable", std::move(unreadable)}};
    if (!index.findings) return written(json);
    json["findings"] = Json::array();
    for (const Finding& finding : *index.findings) {
        Json spans = Json::array();
        for (const TimeSpan& span : finding.spans) spans.push_back({span.from_s, span.to_s});
        json["findings"].push_back({{"severity", name_of(finding.severity)},
                                    {"code", finding.code},
                                    {"channel", or_null(finding.channel)},
                                    {"from_s", or_null(finding.from_s)},
                                    {"to_s", or_null(finding.to_s)},
                                    {"spans", std::move(spans)},
                                    {"message", finding.message}});
    }
    return written(json);
}

std::string as_json(const ExplanationReport& report)
{
    Json explanations = Json::array();
    for (const Explanation& explanation : report.explanations) {
        const Verdict& verdict = explanation.verdict;
        Json components = Json::array();
        for (const ExplainedComponent& component : explanation.components) {
            Json matches = Json::array();
            for (const SourceMatch& match : component.matches)
                matches.push_back({{"source", match.source},
                                   {"line", match.line},
                                   {"predicted_hz", match.predicted_hz},
                                   {"off_hz", match.off_hz},
                                   {"reference_channel", or_null(match.reference_channel)},
                                   {"coherence", or_null(match.coherence)},
                                   {"evidence", match.evidence}});
            Json entry{{"axis", component.axis},
                       {"hz", component.hz},
                       {"weighted_rms", component.weighted_rms},
                       {"share", component.share}};
            entry["above_floor"] = component.above_floor; // infinite (a floor of nothing) becomes null
            entry["series"] = text_or_null(component.series);
            entry["beat_hz"] = or_null(component.beat_hz);
            entry["drift_hz"] = or_null(component.drift_hz);
            entry["refined"] = component.averaged_because.empty();
            entry["frequency_uncertainty_hz"] = or_null(component.frequency_uncertainty_hz);
            entry["confidence"] = or_null(component.confidence);
            entry["averaged_because"] = text_or_null(component.averaged_because);
            entry["matches"] = std::move(matches);
            entry["notes"] = component.notes;
            components.push_back(std::move(entry));
        }
        Json bands = Json::array();
        for (const BandShare& band : explanation.bands)
            bands.push_back({{"axis", band.axis},
                             {"nominal_hz", band.nominal_hz},
                             {"weighted_rms", band.weighted_rms},
                             {"share", band.share}});
        Json cures = Json::array();
        for (const Cure& cure : explanation.cures)
            cures.push_back({{"source", cure.source},
                             {"share", cure.share},
                             {"reduction_db", or_null(cure.reduction_db)},
                             {"value_without", cure.value_without},
                             {"words", cure.words}});
        Json predictions = Json::array();
        for (const Prediction& prediction : explanation.predictions)
            predictions.push_back(
                {{"change", prediction.change},
                 {"value", prediction.value},
                 {"expanded_uncertainty", or_null(prediction.expanded_uncertainty)},
                 {"band_index", or_null(prediction.band_index)},
                 {"band", prediction.band_index
                              ? Json(verdict.bands[static_cast<std::size_t>(*prediction.band_index)].name)
                              : Json(nullptr)},
                 {"exceeded", prediction.exceeded},
                 {"notes", prediction.notes}});
        explanations.push_back({{"space", verdict.space},
                                {"position", verdict.position},
                                {"condition", text_or_null(verdict.condition)},
                                {"person", text_or_null(verdict.person)},
                                {"criterion", verdict.criterion},
                                {"axis", text_or_null(verdict.axis)},
                                {"weighting", text_or_null(verdict.weighting)},
                                {"value", or_null(verdict.value)},
                                {"unit", verdict.unit},
                                {"band", band_of(verdict)},
                                {"why_not", text_or_null(explanation.why_not)},
                                {"resolution_hz", explanation.resolution_hz},
                                {"components", std::move(components)},
                                {"third_octaves", std::move(bands)},
                                {"explained_share", explanation.explained_share},
                                {"unexplained_share", explanation.unexplained_share},
                                {"broad_share", explanation.broad_share},
                                {"next_band", text_or_null(explanation.next_band)},
                                {"next_limit", or_null(explanation.next_limit)},
                                {"needed_percent", or_null(explanation.needed_percent)},
                                {"cures", std::move(cures)},
                                {"predictions", std::move(predictions)},
                                {"notes", explanation.notes}});
    }
    return written({{"schema", "becalm.explanation/1"},
                    {"survey",
                     {{"title", report.assessment.title},
                      {"setting", report.assessment.setting},
                      {"file", report.assessment.file},
                      {"sha256", report.assessment.sha256}}},
                    {"explanations", std::move(explanations)},
                    {"findings", as_tree(report.assessment.findings)}});
}

std::string as_json(const ComparisonReport& report)
{
    const auto side = [](const ComparedSide& one) {
        return Json{{"kind", one.kind},
                    {"title", text_or_null(one.title)},
                    {"file", one.file},
                    {"sha256", one.sha256},
                    {"condition", text_or_null(one.condition)}};
    };
    const auto stated = [](const Verdict& verdict) {
        return Json{{"condition", text_or_null(verdict.condition)},
                    {"axis", text_or_null(verdict.axis)},
                    {"edition", verdict.edition},
                    {"use", verdict.use},
                    {"weighting", text_or_null(verdict.weighting)},
                    {"value", or_null(verdict.value)},
                    {"expanded_uncertainty", or_null(verdict.expanded_uncertainty)},
                    {"judged", verdict.judged},
                    {"why_not", text_or_null(verdict.why_not)},
                    {"band", band_of(verdict)},
                    {"band_index", or_null(verdict.band_index)},
                    {"exceeded", verdict.exceeded}};
    };
    const auto place = [](const Verdict& verdict) {
        return Json{
            {"space", verdict.space},         {"position", verdict.position}, {"person", text_or_null(verdict.person)},
            {"criterion", verdict.criterion}, {"quantity", verdict.quantity}, {"unit", verdict.unit}};
    };
    Json pairs = Json::array();
    for (const ComparedPair& pair : report.pairs) {
        Json spectra = Json::array();
        for (const ComparedSpectrum& spectrum : pair.spectra) {
            Json bands = Json::array();
            for (const ComparedBand& band : spectrum.bands)
                bands.push_back({{"nominal_hz", band.nominal_hz},
                                 {"first", band.first},
                                 {"second", band.second},
                                 {"db", or_null(band.db)}});
            Json entry{{"axis", spectrum.axis}, {"weighting", spectrum.weighting}, {"unit", spectrum.unit}};
            entry["bands"] = std::move(bands);
            spectra.push_back(std::move(entry));
        }
        Json entry = place(pair.first);
        entry.update({{"first", stated(pair.first)},
                      {"second", stated(pair.second)},
                      {"why_not", text_or_null(pair.why_not)},
                      {"percent", or_null(pair.percent)},
                      {"db", or_null(pair.db)},
                      {"expanded_uncertainty_percent", or_null(pair.uncertainty_percent)},
                      {"expanded_uncertainty_db", or_null(pair.uncertainty_db)},
                      {"calibration_cancels", pair.calibration_cancels},
                      {"uncertainty", text_or_null(pair.uncertainty_words)},
                      {"bands", or_null(pair.bands)},
                      {"band_change", text_or_null(pair.band_words)},
                      {"third_octaves", std::move(spectra)},
                      {"notes", pair.notes}});
        pairs.push_back(std::move(entry));
    }
    Json alone = Json::array();
    for (const WithoutPartner& one : report.without_partner) {
        Json entry = place(one.verdict);
        entry["of"] = one.is_of_first ? "first" : "second";
        entry["verdict"] = stated(one.verdict);
        entry["why"] = one.why;
        alone.push_back(std::move(entry));
    }
    Json summaries = Json::array();
    for (const ComparisonSummary& summary : report.summaries)
        summaries.push_back({{"criterion", text_or_null(summary.criterion)},
                             {"pairs", summary.pairs},
                             {"mean_db", or_null(summary.mean_db)},
                             {"confidence", 0.95}, // not a limit: of the interval
                             {"from_db", or_null(summary.from_db)},
                             {"to_db", or_null(summary.to_db)},
                             {"median_db", or_null(summary.median_db)},
                             {"lower", summary.lower},
                             {"higher", summary.higher},
                             {"unchanged", summary.unchanged},
                             {"better_band", summary.better_band},
                             {"worse_band", summary.worse_band},
                             {"same_band", summary.same_band}});
    Json document{{"schema", "becalm.comparison/1"}};
    document["first"] = side(report.first);
    document["second"] = side(report.second);
    document["pairs"] = std::move(pairs);
    document["without_partner"] = std::move(alone);
    document["summaries"] = std::move(summaries);
    document["notes"] = report.notes;
    return written(document);
}

std::string as_json(const TrendReport& report)
{
    const auto estimate = [](const std::optional<TrendEstimate>& one) {
        return one ? Json{{"value", one->value}, {"low", one->low}, {"high", one->high}} : Json(nullptr);
    };
    Json trends = Json::array();
    for (const Trend& trend : report.trends) {
        Json points = Json::array();
        for (const TrendPoint& point : trend.points)
            points.push_back({{"condition", point.condition},
                              {"at", point.at},
                              {"value", point.value},
                              {"expanded_uncertainty", or_null(point.expanded_uncertainty)},
                              {"off_db", or_null(point.off_db)}});
        Json entry{{"space", trend.space},     {"position", trend.position}, {"criterion", trend.criterion},
                   {"edition", trend.edition}, {"quantity", trend.quantity}, {"axis", trend.axis},
                   {"unit", trend.unit}};
        entry["points"] = std::move(points);
        entry["exponent"] = estimate(trend.exponent);
        entry["factor"] = or_null(trend.factor);
        entry["scatter_db"] = or_null(trend.scatter_db);
        entry["expected"] = estimate(trend.expected);
        Json line = Json::array();
        for (const TrendLinePoint& point : trend.line)
            line.push_back(
                {{"at", point.at}, {"value", point.value.value}, {"low", point.value.low}, {"high", point.value.high}});
        entry["line"] = std::move(line);
        entry["why_not"] = text_or_null(trend.why_not);
        entry["notes"] = trend.notes;
        trends.push_back(std::move(entry));
    }
    Json document{{"schema", "becalm.trend/1"}};
    document["survey"] = {{"title", report.title}, {"file", report.file}, {"sha256", report.sha256}};
    document["over"] = report.over;
    document["at"] = or_null(report.at);
    document["confidence"] = 0.95; // not a limit: of the intervals
    document["trends"] = std::move(trends);
    return written(document);
}

std::string as_json(const ExposureReport& report)
{
    Json days = Json::array(), duties = Json::array();
    for (const ExposureDay& day : report.days) {
        Json tables = Json::array();
        for (const ExposureTable& table : day.tables) tables.push_back(as_tree(table));
        days.push_back({{"person", day.person},
                        {"day", text_or_null(day.day)},
                        {"hours", day.hours},
                        {"tables", std::move(tables)},
                        {"verdicts", as_tree(day.verdicts)}});
    }
    for (const ExposureDuty& duty : report.duties) duties.push_back({{"days", duty.days}, {"words", duty.words}});
    Json document{{"schema", "becalm.exposure/1"}};
    document["survey"] = {
        {"title", report.title}, {"setting", report.setting}, {"file", report.file}, {"sha256", report.sha256}};
    document["days"] = std::move(days);
    document["weeks"] = as_tree(report.weeks);
    document["duties"] = std::move(duties);
    document["notes"] = report.notes;
    document["findings"] = as_tree(report.findings);
    return written(document);
}

std::string as_csv(const ExposureReport& report)
{
    std::string text = "person,day,kind,hand,governs,row,space,position,condition,hours,axis,weighting,factor,rms,vdv,"
                       "judged_s,a8,daily_vdv,points,points_an_hour,a8_expanded_uncertainty,why_not\r\n";
    for (const ExposureDay& day : report.days)
        for (const ExposureTable& table : day.tables) {
            double hours = 0.0; // of the day's tasks that count here
            for (const ExposureTask& task : table.tasks) hours += task.hours;
            // What stands in every row of a task, or of the day.
            const auto row = [&](std::string_view what, const ExposureTask* task, const ExposureAxis& axis,
                                 const std::optional<double>& an_hour, const std::optional<double>& uncertainty) {
                const std::vector<std::string> fields{csv_field(day.person),
                                                      csv_field(day.day),
                                                      std::string(name_of(table.kind)),
                                                      table.hand,
                                                      table.governs ? "true" : "false",
                                                      std::string(what),
                                                      task == nullptr ? std::string() : csv_field(task->space),
                                                      task == nullptr ? std::string() : task->position,
                                                      task == nullptr ? std::string() : csv_field(task->condition),
                                                      csv_number(task == nullptr ? hours : task->hours),
                                                      axis.axis,
                                                      axis.weighting,
                                                      axis.weighting.empty() ? std::string() : csv_number(axis.factor),
                                                      csv_number(axis.rms),
                                                      csv_number(axis.vdv),
                                                      csv_number(axis.judged_s),
                                                      csv_number(axis.a8),
                                                      csv_number(axis.daily_vdv),
                                                      csv_number(axis.points),
                                                      csv_number(an_hour),
                                                      csv_number(uncertainty),
                                                      task == nullptr ? std::string() : csv_field(task->why_not)};
                for (std::size_t i = 0; i < fields.size(); ++i) text += (i > 0 ? "," : "") + fields[i];
                text += "\r\n";
            };
            const auto compared = [](const ExposureSums& sums) {
                return ExposureAxis{.axis = sums.a8.axis,
                                    .a8 = sums.a8.value,
                                    .daily_vdv = sums.daily_vdv.value,
                                    .points = sums.points.value};
            };
            for (const ExposureTask& task : table.tasks) {
                for (const ExposureAxis& axis : task.axes) row("axis", &task, axis, {}, {});
                row("task", &task, compared(task.sums), task.points_an_hour, task.sums.a8.expanded_uncertainty);
            }
            for (const ExposureAxis& axis : table.axes) row("day-axis", nullptr, axis, {}, {});
            row("day", nullptr, compared(table.sums), {}, table.sums.a8.expanded_uncertainty);
        }
    return text;
}

std::string as_json(const MonitorReport& report)
{
    Json all = Json::array();
    for (const MonitorSeries& series : report.series) {
        Json periods = Json::array();
        for (const MonitoredPeriod& period : series.periods)
            periods.push_back({{"date", period.date},
                               {"hour", text_or_null(period.hour)},
                               {"from", text_or_null(period.from)},
                               {"to", text_or_null(period.to)},
                               {"expected_s", or_null(period.expected_s)},
                               {"measured_s", period.measured_s},
                               {"coverage_percent", or_null(period.coverage_percent)},
                               {"gap", period.is_gap},
                               {"verdict", as_tree(period.verdict)}});
        const MonitorSummary& summary = series.summary;
        Json in_band = Json::array();
        for (std::size_t i = 0; i < summary.in_band.size(); ++i)
            in_band.push_back({{"band", series.bands[i].name}, {"periods", summary.in_band[i]}});
        Json trend = nullptr;
        if (summary.trend)
            trend = {{"per_week", summary.trend->per_week}, {"low", summary.trend->low}, {"high", summary.trend->high}};
        Json told{{"periods", summary.periods},
                  {"judged", summary.judged},
                  {"exceeded", summary.exceeded},
                  {"not_judged", summary.not_judged},
                  {"gaps", summary.gaps},
                  {"longest_run", summary.longest_run},
                  {"worst", summary.worst ? Json(*summary.worst) : Json(nullptr)},
                  {"in_band", std::move(in_band)},
                  {"least", or_null(summary.least)},
                  {"quarter", or_null(summary.quarter)},
                  {"median", or_null(summary.median)},
                  {"three_quarters", or_null(summary.three_quarters)},
                  {"nine_tenths", or_null(summary.nine_tenths)},
                  {"greatest", or_null(summary.greatest)},
                  {"coverage_percent", or_null(summary.coverage_percent)},
                  {"half_measured", summary.half_measured},
                  {"trend", std::move(trend)},
                  {"why_no_trend", text_or_null(summary.why_no_trend)}};
        all.push_back({{"space", series.space},
                       {"position", series.position},
                       {"condition", text_or_null(series.condition)},
                       {"criterion", series.criterion},
                       {"edition", series.edition},
                       {"quantity", series.quantity},
                       {"axis", text_or_null(series.axis)},
                       {"unit", series.unit},
                       {"period", text_or_null(series.period)},
                       {"hours", text_or_null(series.hours)},
                       {"bands", as_tree(series.bands)},
                       {"summary", std::move(told)},
                       {"periods", std::move(periods)}});
    }
    return written({{"schema", "becalm.monitor/1"},
                    {"survey",
                     {{"title", report.title},
                      {"setting", report.setting},
                      {"file", report.file},
                      {"sha256", report.sha256},
                      {"decision_rule", report.decision_rule}}},
                    {"by", name_of(report.by)},
                    {"least_coverage_percent", or_null(report.least_coverage_percent)},
                    {"series", std::move(all)},
                    {"findings", as_tree(report.findings)}});
}

std::string as_csv(const MonitorReport& report)
{
    std::string text =
        "space,position,condition,criterion,quantity,period,hours,date,hour,from,to,expected_s,measured_s,"
        "coverage_percent,gap,axis,value,unit,expanded_uncertainty,judged,band_index,band,exceeded,"
        "why_not\r\n";
    for (const MonitorSeries& series : report.series)
        for (const MonitoredPeriod& period : series.periods) {
            const Verdict& verdict = period.verdict;
            const std::string band =
                verdict.band_index ? verdict.bands[static_cast<std::size_t>(*verdict.band_index)].name : std::string();
            const std::vector<std::string> fields{csv_field(series.space),
                                                  csv_field(verdict.position),
                                                  csv_field(series.condition),
                                                  csv_field(series.criterion),
                                                  series.quantity,
                                                  series.period,
                                                  csv_field(series.hours),
                                                  period.date,
                                                  period.hour,
                                                  period.from,
                                                  period.to,
                                                  csv_number(period.expected_s),
                                                  fmt::format("{}", period.measured_s),
                                                  csv_number(period.coverage_percent),
                                                  period.is_gap ? "true" : "false",
                                                  verdict.axis,
                                                  csv_number(verdict.value),
                                                  verdict.unit,
                                                  csv_number(verdict.expanded_uncertainty),
                                                  verdict.judged ? "true" : "false",
                                                  verdict.band_index ? std::to_string(*verdict.band_index)
                                                                     : std::string(),
                                                  csv_field(band),
                                                  verdict.exceeded ? "true" : "false",
                                                  csv_field(verdict.why_not)};
            for (std::size_t i = 0; i < fields.size(); ++i) text += (i > 0 ? "," : "") + fields[i];
            text += "\r\n";
        }
    return text;
}

std::string as_json(const PlantedReport& report)
{
    Json json{{"schema", "becalm.planted/1"}, {"recordings", report.recordings},
              {"seed", report.seed},          {"planted", report.planted()},
              {"found", report.found()},      {"recordings_with_false_alarms", report.accused()},
              {"kinds", Json::array()},       {"missed", Json::array()},
              {"false_alarms", Json::array()}};
    for (const PlantedKind& kind : report.kinds)
        json["kinds"].push_back({{"code", text_or_null(kind.code)},
                                 {"severity", kind.severity},
                                 {"recordings", kind.planted},
                                 {"found", kind.code.empty() ? Json(nullptr) : Json(kind.found)},
                                 {"found_in_place", kind.has_place ? Json(kind.at_the_place) : Json(nullptr)},
                                 {"recordings_with_false_alarms", kind.false_alarms}});
    for (const auto& [key, list] :
         {std::pair("missed", &report.missed), std::pair("false_alarms", &report.false_alarms)})
        for (const MissedFault& fault : *list)
            json[key].push_back({{"recording", fault.recording},
                                 {"planted", text_or_null(fault.code)},
                                 {"setting", fault.setting},
                                 {"what", fault.what}});
    return written(json);
}

std::string as_csv(const ComparisonReport& report)
{
    std::string text = "space,position,person,criterion,quantity,unit,first_condition,second_condition,first_axis,"
                       "second_axis,first_value,second_value,percent,db,expanded_uncertainty_percent,"
                       "expanded_uncertainty_db,calibration_cancels,bands,band_change,why_not\r\n";
    const auto add = [&](const Verdict* first, const Verdict* second, const ComparedPair& pair,
                         const std::string& why_not) {
        const Verdict& any = first != nullptr ? *first : *second;
        const auto of = [](const Verdict* verdict, std::string Verdict::*field) {
            return verdict == nullptr ? std::string() : csv_field(verdict->*field);
        };
        const auto value = [](const Verdict* verdict) {
            return verdict == nullptr ? std::string() : csv_number(verdict->value);
        };
        const std::vector<std::string> fields{csv_field(any.space),
                                              csv_field(any.position),
                                              csv_field(any.person),
                                              csv_field(any.criterion),
                                              any.quantity,
                                              any.unit,
                                              of(first, &Verdict::condition),
                                              of(second, &Verdict::condition),
                                              of(first, &Verdict::axis),
                                              of(second, &Verdict::axis),
                                              value(first),
                                              value(second),
                                              csv_number(pair.percent),
                                              csv_number(pair.db),
                                              csv_number(pair.uncertainty_percent),
                                              csv_number(pair.uncertainty_db),
                                              pair.calibration_cancels ? "true" : "false",
                                              pair.bands ? std::to_string(*pair.bands) : std::string(),
                                              csv_field(pair.band_words),
                                              csv_field(why_not)};
        for (std::size_t i = 0; i < fields.size(); ++i) text += (i > 0 ? "," : "") + fields[i];
        text += "\r\n";
    };
    for (const ComparedPair& pair : report.pairs) add(&pair.first, &pair.second, pair, pair.why_not);
    for (const WithoutPartner& one : report.without_partner)
        add(one.is_of_first ? &one.verdict : nullptr, one.is_of_first ? nullptr : &one.verdict, {}, one.why);
    return text;
}

std::string as_csv(const Assessment& assessment)
{
    std::string text = "space,position,condition,use,criterion,edition,clause,quantity,axis,weighting,value,"
                       "unit,expanded_uncertainty,"
                       "judged,band_index,band,exceeded,why_not,recordings,person,"
                       "standard_uncertainty,probability_exceeded,probability_of_band,decision_rule,also_bands,"
                       "decision,confirmed\r\n";
    const auto joined = [](const std::vector<std::string>& texts) {
        std::string all;
        for (const std::string& one : texts) all += (all.empty() ? "" : "; ") + one;
        return all;
    };
    for (const Verdict& verdict : assessment.verdicts) {
        const Uncertainty uncertainty = verdict.uncertainty.value_or(Uncertainty{});
        const std::string band =
            verdict.band_index ? verdict.bands[static_cast<std::size_t>(*verdict.band_index)].name : std::string();
        const std::vector<std::string> fields{csv_field(verdict.space),
                                              csv_field(verdict.position),
                                              csv_field(verdict.condition),
                                              csv_field(verdict.use),
                                              csv_field(verdict.criterion),
                                              csv_field(verdict.edition),
                                              csv_field(verdict.clause),
                                              verdict.quantity,
                                              verdict.axis,
                                              verdict.weighting,
                                              csv_number(verdict.value),
                                              verdict.unit,
                                              csv_number(verdict.expanded_uncertainty),
                                              verdict.judged ? "true" : "false",
                                              verdict.band_index ? std::to_string(*verdict.band_index) : std::string(),
                                              csv_field(band),
                                              verdict.exceeded ? "true" : "false",
                                              csv_field(verdict.why_not),
                                              csv_field(joined(verdict.recordings)),
                                              csv_field(verdict.person),
                                              csv_number(uncertainty.standard),
                                              csv_number(uncertainty.probability_exceeded),
                                              csv_number(uncertainty.probability_of_band),
                                              assessment.decision_rule,
                                              csv_field(joined(verdict.also_bands)),
                                              csv_field(verdict.decision ? verdict.decision->words : std::string()),
                                              csv_field(verdict.confirmed)};
        for (std::size_t i = 0; i < fields.size(); ++i) text += (i > 0 ? "," : "") + fields[i];
        text += "\r\n";
    }
    return text;
}

std::string as_csv(const TrendReport& report)
{
    std::string text = "space,position,criterion,edition,quantity,axis,unit,over,kind,condition,at,value,low,high,"
                       "expanded_uncertainty,off_db,exponent,exponent_low,exponent_high,factor,scatter_db,why_not,"
                       "notes\r\n";
    for (const Trend& trend : report.trends) {
        std::string notes;
        for (const std::string& note : trend.notes) notes += (notes.empty() ? "" : "; ") + note;
        using Maybe = std::optional<double>;
        const auto of = [](const std::optional<TrendEstimate>& estimate, double TrendEstimate::*number) {
            return estimate ? Maybe((*estimate).*number) : Maybe();
        };
        const auto add = [&](std::string_view kind, const std::string& condition, Maybe at, Maybe value, Maybe low,
                             Maybe high, Maybe uncertainty, Maybe off_db) {
            const std::vector<std::string> fields{csv_field(trend.space),
                                                  csv_field(trend.position),
                                                  csv_field(trend.criterion),
                                                  csv_field(trend.edition),
                                                  trend.quantity,
                                                  trend.axis,
                                                  trend.unit,
                                                  csv_field(report.over),
                                                  std::string(kind),
                                                  csv_field(condition),
                                                  csv_number(at),
                                                  csv_number(value),
                                                  csv_number(low),
                                                  csv_number(high),
                                                  csv_number(uncertainty),
                                                  csv_number(off_db),
                                                  csv_number(of(trend.exponent, &TrendEstimate::value)),
                                                  csv_number(of(trend.exponent, &TrendEstimate::low)),
                                                  csv_number(of(trend.exponent, &TrendEstimate::high)),
                                                  csv_number(trend.factor),
                                                  csv_number(trend.scatter_db),
                                                  csv_field(trend.why_not),
                                                  csv_field(notes)};
            for (std::size_t i = 0; i < fields.size(); ++i) text += (i > 0 ? "," : "") + fields[i];
            text += "\r\n";
        };
        for (const TrendPoint& point : trend.points)
            add("measured", point.condition, point.at, point.value, {}, {}, point.expanded_uncertainty, point.off_db);
        for (const TrendLinePoint& point : trend.line)
            add("line", {}, point.at, point.value.value, point.value.low, point.value.high, {}, {});
        if (trend.expected)
            add("expected", {}, report.at, trend.expected->value, trend.expected->low, trend.expected->high, {}, {});
    }
    return text;
}

} // namespace becalm::io
