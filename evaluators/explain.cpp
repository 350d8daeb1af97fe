#include "evaluators/explain.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numbers>
#include <set>

#include <fmt/format.h>

#include "evaluators/attribution.h"
#include "evaluators/classify.h"
#include "evaluators/component_details.h"
#include "evaluators/fitness.h"
#include "evaluators/read_again.h"
#include "evaluators/recorded_spectrum.h"
#include "evaluators/reference_channel.h"
#include "evaluators/selection.h"
#include "filters/weighting.h"
#include "filters/welch.h"
#include "src/base/nearest.h"

namespace becalm::evaluators {
namespace {

constexpr double least_share = 1e-3;        // of the mean square; fainter components explain nothing
constexpr std::size_t most_components = 60; // of an axis

// A component: from the phases where it is steady, else as the averaged spectrum has it. Both r.m.s. are weighted,
// factor included.
struct AxisLine : filters::SpectralLine {
    filters::SpectralLine averaged = {};
    std::string averaged_because = {}; // empty: from the phases
    std::optional<double> uncertainty_hz = {}, confidence = {};
    std::optional<double> beat_hz = {}; // with the other one of two that are one line in the averaged spectrum
};

// What can be said of an axis beside one reference channel: of its recordings together, and why not of some.
struct AxisReference {
    std::optional<filters::CrossDensities> densities = {};
    std::vector<std::string> why_not = {};
};

// A recording of an axis, and what of it the spectrum is of.
struct AxisRecording {
    const Measured* measured = nullptr;
    int channel = 1;
    const ChannelSpectra* spectra = nullptr;
    std::vector<TimeSpan> selected = {};
};

// One axis of a verdict: its weighted spectrum and the components in it.
struct AxisSpectrum {
    VerdictTerm term = {};
    Motion motion = Motion::acceleration;
    WeightingId weighting = WeightingId::none;
    std::vector<double> density = {}; // weighted, factor included
    double resolution_hz = 0.0;
    double rate_hz = 0.0;
    double mean_square = 0.0;
    std::vector<AxisLine> lines = {};
    std::vector<AxisRecording> recordings = {};
    std::map<int, AxisReference> references = {}; // by channel
    // Where one recording has them all.
    const ChannelSpectra* spectra() const { return recordings.size() == 1 ? recordings.front().spectra : nullptr; }
};

std::vector<filters::SpectralLine> plain(std::span<const AxisLine> lines) { return {lines.begin(), lines.end()}; }

// The lines with what the phases know of them. `resolution_hz`: of the averaged spectrum.
std::vector<AxisLine> refined(std::span<const filters::SpectralLine> averaged, double resolution_hz,
                              const Phases& phases)
{
    std::vector<std::vector<const filters::Component*>> near(averaged.size()); // of each line, the strongest first
    const double reach_hz = std::max(resolution_hz, phases.resolution_hz);
    for (const filters::Component& component : phases.components) {
        const auto nearest = std::ranges::min_element(
            averaged, {}, [&](const filters::SpectralLine& line) { return std::abs(line.hz - component.hz); });
        if (nearest != averaged.end() && std::abs(nearest->hz - component.hz) < reach_hz)
            near[static_cast<std::size_t>(nearest - averaged.begin())].push_back(&component);
    }
    std::vector<AxisLine> lines;
    for (std::size_t i = 0; i < averaged.size(); ++i) {
        const auto as_averaged = [&](std::string because) {
            lines.push_back({averaged[i], averaged[i], std::move(because)});
        };
        const auto from = [&](const filters::Component& component) {
            AxisLine& line = lines.emplace_back();
            line.averaged = averaged[i];
            line.hz = component.hz;
            line.rms = component.rms;
            line.above_floor = component.above_floor;
            line.uncertainty_hz = std::hypot(component.hz_uncertainty, component.wander_hz);
            line.confidence = component.confidence;
        };
        const auto& found = near[i];
        const auto is_tone = [](const filters::Component* one) { return one->character == filters::Character::tone; };
        if (!phases.why_not.empty())
            as_averaged(phases.why_not);
        else if (found.empty())
            as_averaged("it does not stand out by itself where phases are compared");
        else if (!std::ranges::all_of(found, is_tone))
            as_averaged("it is not steady: it wanders, or is noise around a resonance");
        else if (found.front()->close_pair && !found.front()->beat_hz)
            as_averaged("another tone is nearer than the recording can tell apart");
        else if (found.size() == 1)
            from(*found.front());
        else
            for (std::size_t j = 0; j < 2; ++j) {
                from(*found[j]);
                lines.back().beat_hz = std::abs(found[0]->hz - found[1]->hz);
            }
    }
    return lines;
}

double gain(const AxisSpectrum& axis, double hz)
{
    return std::abs(filters::analytic_response(axis.weighting, axis.motion, hz)) * axis.term.factor;
}

std::vector<AxisSpectrum> with_components(std::vector<AxisSpectrum> axes)
{
    double whole = 0.0;
    for (const AxisSpectrum& axis : axes) whole += axis.mean_square;
    for (AxisSpectrum& axis : axes) {
        std::erase_if(axis.lines, [&](const AxisLine& line) { return line.rms * line.rms < least_share * whole; });
        if (axis.lines.size() > most_components) axis.lines.resize(most_components);
    }
    return axes;
}

class Explainer {
public:
    Explainer(const Survey& survey, const Judged& judged, const ExplainOptions& options)
        : survey_(survey), judged_(judged), options_(options)
    {
        std::set<int> references;
        for (const Source& source : survey.sources)
            if (source.reference_channel) references.insert(*source.reference_channel);
        references_.assign(references.begin(), references.end());
    }

    ExplanationReport report()
    {
        ExplanationReport report{.assessment = judged_.assessment};
        for (const Verdict& verdict : judged_.assessment.verdicts) {
            if (!verdict.judged || (!options_.space.empty() && verdict.space != options_.space)) continue;
            report.explanations.push_back(explained(verdict));
        }
        return report;
    }

private:
    // --- spectra ---

    // Of the term's recordings together, weighted; nothing where one has no spectrum inside the selection.
    std::optional<AxisSpectrum> spectrum_of(const Verdict& verdict, const VerdictTerm& term, std::string& why_not)
    {
        AxisSpectrum result{.term = term, .weighting = *weighting_named(term.weighting)};
        const Axis axis = *axis_named(term.axis);
        double duration = 0.0;
        for (const Measured& measured : judged_.measured) {
            const Recording& recording = *measured.recording;
            if (!measured.pass || std::ranges::find(term.recordings, recording.file) == term.recordings.end() ||
                (!verdict.space.empty() && recording.space != verdict.space) ||
                (!term.position.empty() && name_of(recording.position) != term.position))
                continue;
            const ChannelMapping* mapping = measured.mapping(axis);
            if (mapping == nullptr) continue;
            const ChannelResult* channel = measured.channel(mapping->channel);
            if (channel == nullptr || !channel->spectra) continue;
            const ChannelSpectra& spectra = *channel->spectra;
            auto selected = selection(measured.pass->duration_s,
                                      run_in_for(result.weighting, measured.pass->duration_s), recording.excluded);
            std::vector<double> density = mean_density(spectra, selected);
            if (density.empty()) {
                selected = selection(measured.pass->duration_s, 0.0, recording.excluded);
                density = mean_density(spectra, selected);
            }
            if (density.empty()) {
                why_not = fmt::format("{}: what is left of it is shorter than a row of its spectra; exclude less or "
                                      "measure longer",
                                      recording.file);
                return {};
            }
            if (duration > 0.0 &&
                (spectra.resolution_hz != result.resolution_hz || density.size() != result.density.size())) {
                why_not = fmt::format("{}: its spectrum has other bins than those of the recordings it is taken "
                                      "together with (rate or length differ)",
                                      recording.file);
                return {};
            }
            result.recordings.push_back({&measured, mapping->channel, &spectra, std::move(selected)});
            result.motion = measured.motion;
            result.resolution_hz = spectra.resolution_hz;
            result.rate_hz = spectra.rate_hz;
            result.density.resize(density.size(), 0.0);
            for (std::size_t k = 0; k < density.size(); ++k)
                result.density[k] += density[k] * measured.pass->duration_s;
            duration += measured.pass->duration_s;
        }
        if (duration == 0.0) {
            why_not = "there is no spectrum of its recordings (they are shorter than 2 s)";
            return {};
        }
        for (double& value : result.density) value /= duration;
        take_from_recordings(result);
        for (AxisLine& line : result.lines) {
            line.rms *= gain(result, line.hz);
            line.averaged.rms *= gain(result, line.averaged.hz);
        }
        std::ranges::sort(result.lines, std::ranges::greater{}, &filters::SpectralLine::rms);
        for (std::size_t k = 0; k < result.density.size(); ++k) {
            const double g = gain(result, static_cast<double>(k) * result.resolution_hz);
            result.density[k] *= g * g;
            result.mean_square += result.density[k] * result.resolution_hz;
        }
        return result;
    }

    // The lines, not weighted yet, and how the axis moves with the reference channels.
    void take_from_recordings(AxisSpectrum& axis)
    {
        const auto averaged = filters::spectral_lines(axis.density, axis.resolution_hz);
        std::map<int, std::vector<filters::CrossDensities>> parts;
        Phases phases{.why_not = "several recordings are taken together, and phases do not go on from one to the next"};
        for (const AxisRecording& recording : axis.recordings) {
            const ChannelAgain& again = read_again_of(recording);
            if (axis.recordings.size() == 1) phases = again.phases;
            for (const WithReference& with : again.references) {
                auto& why_not = axis.references[with.reference].why_not;
                auto& of_channel = parts[with.reference];
                if (!with.densities)
                    why_not.push_back(with.why_not);
                else if (!of_channel.empty() && of_channel.front().values.size() != with.densities->values.size())
                    why_not.push_back(recording.measured->recording->file + " has another rate than the others");
                else
                    of_channel.push_back(*with.densities);
            }
        }
        axis.lines = refined(averaged, axis.resolution_hz, phases);
        for (const auto& [channel, of_channel] : parts) {
            if (of_channel.empty()) continue;
            AxisReference& reference = axis.references[channel];
            filters::CrossDensities densities = filters::pooled(of_channel);
            if (std::string why_not = why_no_coherence(densities); why_not.empty())
                reference.densities = std::move(densities);
            else
                reference.why_not.push_back(axis.recordings.front().measured->recording->file + ": " + why_not);
        }
    }

    // Once for each selection of a recording, all its channels together.
    const ChannelAgain& read_again_of(const AxisRecording& recording)
    {
        std::vector<std::pair<double, double>> spans;
        for (const TimeSpan& span : recording.selected) spans.emplace_back(span.from_s, span.to_s);
        const auto [entry, is_new] = read_again_.try_emplace(std::pair(recording.measured, std::move(spans)));
        if (is_new) {
            std::vector<int> channels;
            for (const ChannelMapping& mapping : recording.measured->recording->channels) {
                const ChannelResult* channel = recording.measured->channel(mapping.channel);
                if (channel != nullptr && channel->spectra) channels.push_back(mapping.channel);
            }
            entry->second =
                read_again(*recording.measured, recording.selected, channels, references_, options_.assess.stop);
        }
        return *std::ranges::find(entry->second, recording.channel, &ChannelAgain::channel);
    }

    std::vector<AxisSpectrum> spectra_of(const Verdict& verdict, std::string& why_not)
    {
        std::vector<AxisSpectrum> axes;
        const bool one_axis = axis_named(verdict.axis).has_value();
        for (const VerdictTerm& term : verdict.terms) {
            if (one_axis && term.axis != verdict.axis) continue;
            auto axis = spectrum_of(verdict, term, why_not);
            if (!axis) return {};
            axes.push_back(std::move(*axis));
        }
        return with_components(std::move(axes));
    }

    // --- sources ---

    const Condition* condition_of(const Verdict& verdict) const
    {
        for (const VerdictTerm& term : verdict.terms)
            for (const std::string& file : term.recordings)
                for (const Recording& recording : survey_.recordings)
                    if (recording.file == file && (verdict.space.empty() || recording.space == verdict.space))
                        return survey_.condition(recording.condition);
        return nullptr;
    }

    Occasion occasion_of(const AxisSpectrum& axis, const Condition* condition, std::vector<std::string>* notes) const
    {
        Occasion occasion{.condition = condition == nullptr ? std::string() : condition->id};
        for (const filters::SpectralLine& line : axis.lines)
            occasion.components.push_back({line.hz, line.rms * line.rms});
        for (const Source& source : survey_.sources) {
            auto lines = predicted_lines(source, condition, axis.rate_hz / 2.0);
            if (!lines && notes != nullptr)
                note_once(*notes, fmt::format("{}; {}", lines.error().what, lines.error().remedy));
            occasion.sources.push_back(lines ? std::move(*lines) : std::vector<PredictedLine>());
            occasion.references.push_back(said_of(axis, source));
            if (notes != nullptr && source.reference_channel)
                for (const std::string& why_not : axis.references.at(*source.reference_channel).why_not)
                    note_once(*notes, fmt::format("axis {}: nothing is known of its coherence with channel {} ({}): {}",
                                                  axis.term.axis, *source.reference_channel, source.id, why_not));
        }
        return occasion;
    }

    // What the source's reference channel says of each component; empty where there is none.
    static std::vector<std::optional<ReferenceSays>> said_of(const AxisSpectrum& axis, const Source& source)
    {
        if (!source.reference_channel) return {};
        const auto& densities = axis.references.at(*source.reference_channel).densities;
        if (!densities) return {};
        std::vector<filters::SpectralLine> recorded = plain(axis.lines);
        for (filters::SpectralLine& line : recorded) line.rms /= gain(axis, line.hz);
        std::vector<std::optional<ReferenceSays>> said;
        for (std::size_t i = 0; i < recorded.size(); ++i) {
            auto& says = said.emplace_back(reference_says(*densities, recorded, i));
            if (!says) continue;
            says->source = source.id;
            says->channel = *source.reference_channel;
        }
        return said;
    }

    static void note_once(std::vector<std::string>& notes, std::string note)
    {
        if (std::ranges::find(notes, note) == notes.end()) notes.push_back(std::move(note));
    }

    // What one axis of a verdict shows by itself; nothing where it has no spectrum. Made once, for every other
    // condition of the place asks for it.
    const std::optional<Occasion>& alone(const Verdict& verdict, const VerdictTerm& term)
    {
        const auto [made, is_new] = alone_.try_emplace(&term);
        if (!is_new) return made->second;
        std::string why_not;
        auto spectrum = spectrum_of(verdict, term, why_not);
        if (spectrum && spectrum->mean_square > 0.0)
            made->second = occasion_of(with_components({std::move(*spectrum)}).front(), condition_of(verdict), nullptr);
        return made->second;
    }

    // The same axis, place and criterion under other conditions.
    std::vector<Occasion> elsewhere(const Verdict& verdict, const AxisSpectrum& axis)
    {
        std::vector<Occasion> others;
        if (verdict.space.empty()) return others;
        for (const Verdict& other : judged_.assessment.verdicts) {
            if (!other.judged || other.space != verdict.space || other.criterion != verdict.criterion ||
                other.condition == verdict.condition)
                continue;
            for (const VerdictTerm& term : other.terms) {
                if (term.axis != axis.term.axis || term.position != axis.term.position) continue;
                if (const auto& occasion = alone(other, term)) others.push_back(*occasion);
            }
        }
        return others;
    }

    // --- one verdict ---

    Explanation explained(const Verdict& verdict)
    {
        Explanation result{.verdict = verdict};
        std::vector<AxisSpectrum> axes = spectra_of(verdict, result.why_not);
        if (axes.empty()) {
            if (result.why_not.empty()) result.why_not = "its axes have no spectrum";
            return result;
        }
        double whole = 0.0;
        for (const AxisSpectrum& axis : axes) {
            whole += axis.mean_square;
            result.resolution_hz = std::max(result.resolution_hz, axis.resolution_hz);
        }
        if (whole <= 0.0) {
            result.why_not = "nothing moves under the weighting";
            return result;
        }
        const Condition* condition = condition_of(verdict);
        if (condition != nullptr) result.condition = condition->id;
        for (AxisSpectrum& axis : axes) {
            const auto details = details_of(axis);
            const Occasion here = occasion_of(axis, condition, &result.notes);
            const auto others = elsewhere(verdict, axis);
            auto matches = attribute(here, others, axis.resolution_hz);
            auto notes = reference_notes(here, matches, axis.resolution_hz);
            const auto series = harmonic_series(here.components, axis.resolution_hz);
            for (std::size_t i = 0; i < axis.lines.size(); ++i) {
                const AxisLine& line = axis.lines[i];
                result.components.push_back({.axis = axis.term.axis,
                                             .hz = line.hz,
                                             .weighted_rms = line.rms,
                                             .share = line.rms * line.rms / whole,
                                             .above_floor = line.above_floor,
                                             .series = series[i].empty() ? details[i].sideband : series[i],
                                             .beat_hz = details[i].beat_hz,
                                             .drift_hz = details[i].drift_hz,
                                             .matches = std::move(matches[i]),
                                             .notes = std::move(notes[i]),
                                             .averaged_because = line.averaged_because,
                                             .frequency_uncertainty_hz = line.uncertainty_hz,
                                             .confidence = line.confidence});
            }
            result.spectra.push_back(shown(axis, here));
            for (const filters::ThirdOctave& band : filters::third_octaves_within(axis.resolution_hz, axis.rate_hz)) {
                const double rms = filters::band_rms(axis.density, axis.resolution_hz, band.from_hz, band.to_hz);
                const double share = rms * rms / whole;
                if (share >= least_share) result.bands.push_back({axis.term.axis, band.nominal_hz, rms, share});
            }
        }
        std::ranges::stable_sort(result.components, std::ranges::greater{}, &ExplainedComponent::share);
        for (const ExplainedComponent& component : result.components)
            (component.matches.empty() ? result.unexplained_share : result.explained_share) += component.share;
        result.broad_share = std::max(0.0, 1.0 - result.explained_share - result.unexplained_share);
        if (survey_.sources.empty())
            result.notes.push_back(
                "the survey names no sources; add [[source]] tables and every component that fits is "
                "named");
        if (!follows_rms(verdict.quantity))
            result.notes.push_back(fmt::format("the {} is taken to follow the root of the mean square; it follows the "
                                               "greatest moments more",
                                               verdict.quantity));
        find_cures(result);
        for (const Change& change : options_.changes)
            result.predictions.push_back(predicted(result, axes, whole, change));
        return result;
    }

    // A line that drifts has no one frequency that its phases could tell: the averaged one stays.
    static std::vector<ComponentDetails> details_of(AxisSpectrum& axis)
    {
        auto details = component_details(plain(axis.lines), axis.resolution_hz, axis.spectra());
        for (std::size_t i = 0; i < details.size(); ++i) {
            AxisLine& line = axis.lines[i];
            if (line.beat_hz) { // what the rows of time see of two in one line is their beat
                details[i].beat_hz = line.beat_hz;
                details[i].drift_hz.reset();
            }
            if (!details[i].drift_hz || !line.averaged_because.empty()) continue;
            line = {line.averaged, line.averaged, "it drifts"};
        }
        return details;
    }

    // What a figure shows of an axis.
    ExplainedSpectrum shown(const AxisSpectrum& axis, const Occasion& here) const
    {
        ExplainedSpectrum result{.axis = axis.term.axis,
                                 .weighting = axis.term.weighting,
                                 .unit = std::string(si_unit_of(output_of(axis.weighting, axis.motion),
                                                                is_rotation(*axis_named(axis.term.axis)))),
                                 .resolution_hz = axis.resolution_hz,
                                 .density = axis.density};
        for (const auto& lines : here.sources)
            for (const PredictedLine& line : lines)
                result.lines.push_back({line.source, line.name, line.hz, line.rank});
        if (!options_.spectrograms || axis.spectra() == nullptr)
            return result;          // rows of several recordings do not join
        std::vector<float> squared; // of the gain at each bin
        for (std::size_t k = 0; k < axis.density.size(); ++k) {
            const double g = gain(axis, static_cast<double>(k) * axis.resolution_hz);
            squared.push_back(static_cast<float>(g * g));
        }
        result.rows = axis.spectra()->rows;
        for (SpectralRow& row : result.rows)
            for (std::size_t k = 0; k < row.density.size(); ++k) row.density[k] *= squared[k];
        return result;
    }

    static bool follows_rms(std::string_view quantity)
    {
        static const std::set<std::string_view> those{"weighted_rms", "weighted_velocity", "daily_exposure",
                                                      "msdv",         "comfort_index",     "vibration_level"};
        return those.contains(quantity);
    }

    // With which the value grows with the motion.
    static double power_of(std::string_view quantity)
    {
        const Quantity* known = quantity_named(quantity);
        return known == nullptr ? 1.0 : known->power.value_or(1.0);
    }

    static bool is_of(const ExplainedComponent& component, std::string_view source)
    {
        return !component.matches.empty() && component.matches.front().source == source;
    }

    // --- cures ---

    void find_cures(Explanation& result) const
    {
        const Verdict& verdict = result.verdict;
        if (verdict.unit == "dB") {
            result.notes.push_back("the value is a level; shares are of its mean square");
            return;
        }
        if (verdict.band_index && *verdict.band_index > 0 && !verdict.decision) {
            const Band& milder = verdict.bands[static_cast<std::size_t>(*verdict.band_index) - 1];
            if (milder.limit && *verdict.value > 0.0) {
                result.next_band = milder.name;
                result.next_limit = milder.limit;
                const double held =
                    compared(survey_.decision_rule, *verdict.value, verdict.expanded_uncertainty.value_or(0.0));
                result.needed_percent = 100.0 * std::max(0.0, 1.0 - *milder.limit / held);
            }
        }
        std::map<std::string, double> shares;
        for (const ExplainedComponent& component : result.components)
            if (!component.matches.empty()) shares[component.matches.front().source] += component.share;
        for (const auto& [source, share] : shares) {
            Cure cure{.source = source, .share = share};
            cure.value_without =
                *verdict.value * std::pow(std::max(0.0, 1.0 - share), power_of(verdict.quantity) / 2.0);
            if (result.next_limit) {
                const double ratio = 1.0 - *result.needed_percent / 100.0;
                const double needed = 1.0 - std::pow(ratio, 2.0 / power_of(verdict.quantity)); // of the mean square
                if (share > needed) {
                    cure.reduction_db = -10.0 * std::log10(1.0 - needed / share);
                    cure.words = fmt::format("{:.1f} dB less of {} reaches \"{}\"", *cure.reduction_db, source,
                                             result.next_band);
                } else {
                    cure.words = fmt::format("not reachable by {} alone: without it the value is {:.4g} {}", source,
                                             cure.value_without, verdict.unit);
                }
            } else {
                cure.words = fmt::format("without {} the value is {:.4g} {}", source, cure.value_without, verdict.unit);
            }
            result.cures.push_back(std::move(cure));
        }
        std::ranges::stable_sort(result.cures, std::ranges::greater{}, &Cure::share);
    }

    // --- what if ---

    Prediction predicted(const Explanation& explanation, const std::vector<AxisSpectrum>& axes, double whole,
                         const Change& change) const
    {
        const Verdict& verdict = explanation.verdict;
        Prediction prediction{.change = described(change)};
        double mean_square = whole;
        bool touched = false;
        if (change.kind == Change::Kind::stiffen) {
            mean_square = stiffened(axes, change);
            touched = true;
            prediction.notes.push_back(
                "a single resonance is assumed to answer for the whole motion; measure it first");
        }
        for (const ExplainedComponent& component : explanation.components) {
            const bool near = std::abs(component.hz - change.amount) <= 0.1 * change.amount; // not a limit: of damp
            if (change.kind == Change::Kind::stiffen) break;
            if (change.kind == Change::Kind::damp ? !near : !is_of(component, change.source)) continue;
            touched = true;
            const auto axis = std::ranges::find_if(
                axes, [&](const AxisSpectrum& candidate) { return candidate.term.axis == component.axis; });
            const double factor = factor_of(change, component.hz, *axis, prediction.notes);
            mean_square += component.weighted_rms * component.weighted_rms * (factor * factor - 1.0);
        }
        if (!touched)
            prediction.notes.push_back(change.kind == Change::Kind::damp
                                           ? fmt::format("no component lies within 10 % of {:.4g} Hz", change.amount)
                                           : fmt::format("no component here is of {}", change.source));
        const double ratio = std::sqrt(std::max(0.0, mean_square) / whole);
        // To first order a relative error of the motion stays what it is: a level keeps its uncertainty in dB, a power
        // of the motion its relative one.
        const double times = std::pow(ratio, power_of(verdict.quantity));
        const bool is_level = verdict.unit == "dB";
        prediction.value =
            is_level ? *verdict.value + 20.0 * std::log10(std::max(ratio, 1e-6)) : *verdict.value * times;
        if (verdict.expanded_uncertainty)
            prediction.expanded_uncertainty = *verdict.expanded_uncertainty * (is_level ? 1.0 : times);
        if (verdict.band_index && !verdict.decision) {
            const auto band = classify(compared(survey_.decision_rule, prediction.value,
                                                prediction.expanded_uncertainty.value_or(0.0)),
                                       verdict.bands)
                                  .band;
            prediction.band_index = static_cast<int>(band);
            prediction.exceeded = verdict.bands[band].exceeds;
        }
        return prediction;
    }

    // The mean square once the structure is stiffer: bin by bin, since a resonance shapes noise and lines alike.
    static double stiffened(const std::vector<AxisSpectrum>& axes, const Change& change)
    {
        const auto dynamic = [&](double hz, double natural) {
            const double r = hz / natural, d = 2.0 * change.third * r;
            return 1.0 / std::sqrt(std::pow(1.0 - r * r, 2) + d * d);
        };
        double mean_square = 0.0;
        for (const AxisSpectrum& axis : axes)
            for (std::size_t k = 0; k < axis.density.size(); ++k) {
                const double hz = static_cast<double>(k) * axis.resolution_hz;
                const double factor =
                    dynamic(hz, change.amount * std::sqrt(change.second)) / dynamic(hz, change.amount) / change.second;
                mean_square += axis.density[k] * axis.resolution_hz * factor * factor;
            }
        return mean_square;
    }

    static double factor_of(const Change& change, double hz, const AxisSpectrum& axis, std::vector<std::string>& notes)
    {
        const auto note = [&](std::string text) {
            if (std::ranges::find(notes, text) == notes.end()) notes.push_back(std::move(text));
        };
        switch (change.kind) {
        case Change::Kind::reduce: return std::pow(10.0, -change.amount / 20.0);
        case Change::Kind::move: {
            const double there = hz + change.amount;
            if (there <= 0.0 || there >= axis.rate_hz / 2.0) {
                note("a component would leave the range of frequencies");
                return 0.0;
            }
            note("the structure's own response at the new frequency is not known and taken as unchanged");
            return gain(axis, there) / gain(axis, hz) * times_to_acceleration(axis.motion, hz, there);
        }
        case Change::Kind::isolate: {
            const double r = hz / change.amount, d = 2.0 * change.second * r;
            const double transmissibility = std::sqrt((1.0 + d * d) / (std::pow(1.0 - r * r, 2) + d * d));
            if (r < std::numbers::sqrt2) note(fmt::format("the mount amplifies the component of {:.2f} Hz", hz));
            return transmissibility;
        }
        case Change::Kind::damp:
            note("a resonance at this frequency is assumed; measure its damping before you rely on it");
            return std::min(1.0, 2.0 * change.third * std::sqrt(1.0 + 2.0 / change.second));
        case Change::Kind::stiffen: break; // not component by component
        }
        return 1.0;
    }

    // The acceleration of a component is kept when it moves: a recorded velocity or displacement falls as 1 / hz.
    static double times_to_acceleration(Motion recorded, double hz, double there)
    {
        return std::pow(hz / there, derivative_order(recorded));
    }

    static std::string described(const Change& change)
    {
        switch (change.kind) {
        case Change::Kind::reduce: return fmt::format("{} reduced by {:.4g} dB", change.source, change.amount);
        case Change::Kind::move: return fmt::format("{} moved by {:+.4g} Hz", change.source, change.amount);
        case Change::Kind::isolate:
            return fmt::format("{} on a mount of {:.4g} Hz, damping {:.3g}", change.source, change.amount,
                               change.second);
        case Change::Kind::damp:
            return fmt::format("a tuned damper at {:.4g} Hz, mass ratio {:.3g}, on a resonance of damping {:.3g}",
                               change.amount, change.second, change.third);
        case Change::Kind::stiffen:
            return fmt::format("a resonance at {:.4g} Hz, damping {:.3g}, made {:.4g} times as stiff", change.amount,
                               change.third, change.second);
        }
        return {};
    }

    const Survey& survey_;
    const Judged& judged_;
    const ExplainOptions& options_;
    std::vector<int> references_; // channels that sources ask for, ascending
    std::map<const VerdictTerm*, std::optional<Occasion>> alone_;
    std::map<std::pair<const Measured*, std::vector<std::pair<double, double>>>, std::vector<ChannelAgain>> read_again_;
};

std::vector<Problem> problems_of(const Survey& survey, const std::vector<Change>& changes)
{
    std::vector<std::string> known;
    for (const Source& source : survey.sources) known.push_back(source.id);
    std::vector<Problem> problems;
    for (const Change& change : changes) {
        if (change.kind == Change::Kind::damp || change.kind == Change::Kind::stiffen ||
            std::ranges::find(known, change.source) != known.end())
            continue;
        const std::string near = nearest_name(change.source, known);
        problems.push_back(
            {.kind = ProblemKind::usage,
             .what = fmt::format("the survey has no source \"{}\"", change.source),
             .remedy = near.empty() ? "add it as a [[source]]" : fmt::format("did you mean \"{}\"?", near)});
    }
    return problems;
}

} // namespace

Results<ExplanationReport> explain(const Survey& survey, const io::CriteriaLibrary& library,
                                   const ExplainOptions& options)
{
    if (auto problems = problems_of(survey, options.changes); !problems.empty())
        return tl::unexpected(std::move(problems));
    AssessOptions with_spectra = options.assess;
    with_spectra.spectra = true;
    const auto result = judged(survey, library, with_spectra);
    if (!result) return tl::unexpected(result.error());
    return explained(survey, *result, options);
}

Results<ExplanationReport> explained(const Survey& survey, const Judged& judged, const ExplainOptions& options)
{
    if (auto problems = problems_of(survey, options.changes); !problems.empty())
        return tl::unexpected(std::move(problems));
    auto report = Explainer(survey, judged, options).report();
    if (options.assess.stop.stop_requested()) // what was not read again would pass for what cannot be known
        return tl::unexpected(std::vector<Problem>{{.kind = ProblemKind::outside_world,
                                                    .file = survey.path,
                                                    .what = "stopped before the end",
                                                    .remedy = "nothing was written"}});
    return report;
}

} // namespace becalm::evaluators
