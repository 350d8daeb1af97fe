#include "evaluators/assess.h"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <filesystem>
#include <map>
#include <optional>
#include <set>
#include <utility>

#include <fmt/format.h>

#include "evaluators/chosen_criteria.h"
#include "evaluators/exposure.h"
#include "evaluators/fitness.h"
#include "evaluators/instruments.h"
#include "evaluators/measured.h"
#include "evaluators/noise_floor.h"
#include "evaluators/pass_cache.h"
#include "evaluators/quantity.h"
#include "evaluators/selection.h"
#include "evaluators/survey_conditions.h"
#include "evaluators/verdicts.h"
#include "src/io/recording_path.h"

namespace becalm::evaluators {
namespace {

std::string resolved(const Survey& survey, const std::string& file)
{
    const std::filesystem::path path(file);
    return path.is_absolute() ? file : (std::filesystem::path(survey.path).parent_path() / path).string();
}

Unit unit_of(const Recording& recording)
{
    const auto unit = unit_named(recording.unit);
    BECALM_ASSERT(unit.has_value()); // the survey's reader refuses unknown units
    return *unit;
}

class Judgement {
public:
    Judgement(const Survey& survey, const io::CriteriaLibrary& library, const AssessOptions& options)
        : survey_(survey), options_(options), chosen_(survey, library, options.criteria)
    {
        result_.title = survey.title;
        result_.setting = name_of(survey.setting);
        result_.decision_rule = name_of(survey.decision_rule);
        result_.file = survey.path;
        result_.sha256 = survey.sha256;
    }

    Results<Judged> reach()
    {
        if (auto problems = problems_of_the_call(); !problems.empty()) return tl::unexpected(std::move(problems));
        measure();
        // Half a judgement would look like a whole one in which much could not be judged.
        if (options_.stop.stop_requested()) return tl::unexpected(stopped("nothing was written"));
        note_rates();
        for (auto&& findings : {directions(measured_), survey_conditions(survey_), sensor_histories(survey_),
                                sensor_sheets(survey_), calibrators_.findings})
            std::ranges::copy(findings, std::back_inserter(result_.findings));
        if (options_.judge) {
            reach_verdicts(survey_, chosen_, measured_, result_);
            std::ranges::move(noise_floors(survey_, measured_, result_.verdicts), std::back_inserter(result_.findings));
        }
        return Judged{std::move(result_), std::move(measured_)};
    }

    Results<KeptPasses> keep(const Shard& shard)
    {
        if (auto problems = problems_of_the_call(); !problems.empty()) return tl::unexpected(std::move(problems));
        std::map<std::string, int> files; // path → place
        std::vector<PassRequest> requests;
        KeptPasses kept;
        for (PassRequest& request : all_requests()) {
            const auto [file, is_new] = files.try_emplace(request.path, static_cast<int>(files.size()));
            if (file->second % shard.of != shard.index - 1) continue;
            kept.files += is_new ? 1 : 0;
            requests.push_back(std::move(request));
        }
        kept.files_of_survey = static_cast<int>(files.size());
        kept.recordings = static_cast<int>(requests.size());
        std::atomic<int> filtered{0};
        store::Cache cache(options_.cache_folder, engine_version());
        cache.keep_everything();
        const auto passes = run_passes_cached(requests,
                                              {.jobs = options_.jobs,
                                               .progress = options_.progress,
                                               .stop = options_.stop,
                                               .finished = [&](std::size_t, const auto&) { ++filtered; }},
                                              cache);
        if (options_.stop.stop_requested()) return tl::unexpected(stopped("what was filtered is kept"));
        if (auto trouble = cache.trouble()) return tl::unexpected(std::vector<Problem>{std::move(*trouble)});
        for (const auto& pass : passes)
            if (!pass) kept.unreadable.push_back(to_text(pass.error()));
        kept.filtered = filtered - static_cast<int>(kept.unreadable.size());
        return kept;
    }

    // --- a few recordings at a time ---

    const ChosenCriteria& chosen() const { return chosen_; }
    const std::vector<Measured>& measured() const { return measured_; }
    void prepare()
    {
        requests_ = all_requests();
        note_drifts();
    }

    void load(std::span<const std::size_t> recordings)
    {
        std::vector<PassRequest> requests;
        for (const std::size_t i : recordings) requests.push_back(requests_[i]);
        if (!cache_ && !options_.cache_folder.empty() && !options_.passes) {
            cache_.emplace(options_.cache_folder, engine_version());
            cache_->keep_everything();
        }
        auto passes = passes_of(requests, cache_ ? &*cache_ : nullptr);
        for (std::size_t k = 0; k < passes.size(); ++k) {
            Measured& measured = measured_[recordings[k]];
            if (!passes[k]) {
                refuse(measured, passes[k].error());
                continue;
            }
            take(measured, std::move(*passes[k]));
            for (LaneResult& lane : measured.pass->lanes)
                if (!is_looked_at(lane.lane, *measured.recording)) lane.ledger.rows = {};
        }
        result_.provenance.clear(); // a step of each recording: nobody asks for them
    }

    void drop(std::size_t recording) { measured_[recording].pass.reset(); }

    std::vector<Finding> take_findings() { return std::exchange(result_.findings, {}); }

    std::vector<Problem> problems_of_the_call() const
    {
        std::vector<Problem> problems = chosen_.problems();
        if (options_.judge && options_.criteria.empty() && survey_.judges.empty())
            problems.push_back({.file = survey_.path,
                                .what = "the survey does not say by which criteria to judge",
                                .remedy = "add [[judge]] with criteria = [\"...\"], or name some with --criterion"});
        if (survey_.recordings.empty())
            problems.push_back({.file = survey_.path,
                                .what = "the survey has no recordings",
                                .remedy = "add [[recording]] tables, or let `becalm new FOLDER` make them"});
        return problems;
    }

private:
    // Fitness looks at a channel as it was recorded, and at its scan alone.
    bool is_looked_at(const Lane& lane, const Recording& recording) const
    {
        if (lane.weighting != WeightingId::none) return true;
        for (const Criterion* criterion : chosen_.of(recording))
            for (const AxisTerm& term : criterion->terms)
                if (term.weighting == WeightingId::none && term.axis == lane.axis) return true;
        return false;
    }

    std::vector<Problem> stopped(std::string remedy) const
    {
        return {{.kind = ProblemKind::outside_world,
                 .file = survey_.path,
                 .what = "stopped before the end",
                 .remedy = std::move(remedy)}};
    }

    void step(std::string what, std::string of) { result_.provenance.push_back({std::move(what), std::move(of)}); }

    // --- the pass ---

    // One for each recording; `measured_` has their places.
    std::vector<PassRequest> all_requests()
    {
        std::vector<PassRequest> requests;
        for (const Recording& recording : survey_.recordings) {
            const Unit unit = unit_of(recording);
            measured_.push_back({.recording = &recording,
                                 .path = resolved(survey_, recording.file),
                                 .to_si = unit.to_si * recording.scale.value_or(1.0),
                                 .motion = unit.motion,
                                 .rotates = unit.rotates});
            PassRequest request{.path = measured_.back().path,
                                .read = {.resample_hz = recording.resample_hz},
                                .input = unit.motion,
                                .to_si = measured_.back().to_si,
                                .scale_given =
                                    (recording.sensitivity.empty() ? recording.scale : recording.scale_v).has_value(),
                                .keep_rows = true};
            std::set<Lane> lanes, swings;
            std::set<int> spectra, motions;
            for (const ChannelMapping& mapping : recording.channels) {
                lanes.insert({mapping.channel, mapping.axis, WeightingId::none}); // fitness looks at every channel
                for (const Criterion* criterion : chosen_.of(recording))
                    for (const AxisTerm& term : criterion->terms) {
                        if (!is_taken_at(term, recording)) continue;
                        const unsigned needs = needs_of(*criterion);
                        // Of every axis: a curve needs the roll beside the lateral motion, whose [[recording]] is
                        // another one of the same file.
                        if (needs & needs_motion) motions.insert(mapping.channel);
                        if (term.axis != mapping.axis) continue;
                        const Lane lane{mapping.channel, mapping.axis, term.weighting};
                        lanes.insert(lane);
                        if ((needs & needs_spectra) || options_.spectra) spectra.insert(mapping.channel);
                        if (needs & needs_swings) swings.insert(lane);
                    }
            }
            request.lanes.assign(lanes.begin(), lanes.end());
            request.swing_lanes.assign(swings.begin(), swings.end());
            request.spectra_channels.assign(spectra.begin(), spectra.end());
            request.motion_channels.assign(motions.begin(), motions.end());
            requests.push_back(std::move(request));
        }
        return requests;
    }

    void measure()
    {
        auto passes = passes_of(all_requests(), nullptr);
        note_drifts();
        for (std::size_t i = 0; i < passes.size(); ++i) {
            if (passes[i])
                take(measured_[i], std::move(*passes[i]));
            else
                refuse(measured_[i], passes[i].error());
        }
    }

    // What the calibrators say before and after, of each recording's sensor.
    void note_drifts()
    {
        calibrators_ = calibration_checks(survey_);
        for (Measured& measured : measured_)
            if (const auto drift = calibrators_.drift_percent.find(measured.recording->sensor);
                drift != calibrators_.drift_percent.end())
                measured.drift_percent = drift->second;
    }

    // `cache` is one that is open already; nullptr: the folder's, tidied afterwards.
    std::vector<Result<PassResult>> passes_of(const std::vector<PassRequest>& requests, store::Cache* cache)
    {
        if (options_.passes) return options_.passes(requests);
        const PassOptions options{.jobs = options_.jobs, .progress = options_.progress, .stop = options_.stop};
        if (options_.cache_folder.empty()) return run_passes(requests, options);
        std::optional<store::Cache> own;
        if (cache == nullptr) cache = &own.emplace(options_.cache_folder, engine_version());
        auto passes = run_passes_cached(requests, options, *cache);
        if (const auto trouble = cache->trouble(); trouble && options_.cache_trouble && !trouble_told_) {
            options_.cache_trouble(*trouble);
            trouble_told_ = true;
        }
        return passes;
    }

    void refuse(Measured& measured, Problem problem)
    {
        const std::string& file = measured.recording->file;
        if (problem.file == io::recording_path(resolved(survey_, file)).file) problem.file = file;
        measured.unreadable = to_text(problem);
        result_.findings.push_back(
            {.severity = Severity::refusal, .code = "unreadable", .message = measured.unreadable, .recording = file});
    }

    void take(Measured& measured, PassResult pass)
    {
        const Recording& recording = *measured.recording;
        const std::string& file = recording.file;
        step(fmt::format("read: {}, {:.10g} Hz, {} channel{}, {:.3f} s; sha256 {}", pass.info.format, pass.info.rate_hz,
                         pass.info.channels, pass.info.channels == 1 ? "" : "s", pass.duration_s, pass.sha256),
             file);
        if (!pass.info.resampled.empty()) step("resampled: " + pass.info.resampled, file);
        step(fmt::format("scaled: a stored 1 is {:.10g} {}{}", recording.scale.value_or(1.0), recording.unit,
                         recording.sensitivity.empty()
                             ? ""
                             : fmt::format(", {:.10g} V by a sensitivity of {}", recording.scale_v.value_or(1.0),
                                           recording.sensitivity)),
             file);
        for (std::string& fact : statements_of(pass.info)) step(std::move(fact), file);
        for (const ChannelResult& channel : pass.channels)
            step(fmt::format("offset: {:.6g} {} (mean of the first 10 s) taken from channel {}", channel.offset,
                             si_unit_of(measured.motion, measured.rotates), channel.channel),
                 file);
        for (const LaneResult& lane : pass.lanes)
            if (!lane.refused && lane.lane.weighting != WeightingId::none)
                step(fmt::format("weighted: channel {} ({}) by {}, from rest at the first sample, latency removed",
                                 lane.lane.channel, name_of(lane.lane.axis), name_of(lane.lane.weighting)),
                     file);
        for (const ExcludedSpan& span : recording.excluded) {
            step(fmt::format("excluded: {:.3f} s to {:.3f} s, whole seconds: {}", span.from_s, span.to_s, span.reason),
                 file);
            if (span.from_s >= pass.duration_s)
                result_.findings.push_back(
                    {.severity = Severity::caution,
                     .code = "exclusion-outside",
                     .message = fmt::format("the excluded span {:.3f} s to {:.3f} s lies behind the end at {:.3f} s",
                                            span.from_s, span.to_s, pass.duration_s),
                     .recording = file,
                     .from_s = span.from_s,
                     .to_s = span.to_s});
        }
        std::set<Motion> outputs;
        for (const LaneResult& lane : pass.lanes)
            if (!lane.refused) outputs.insert(output_of(lane.lane.weighting, measured.motion));
        outputs.erase(measured.motion);
        for (const Motion output : outputs)
            step(fmt::format("converted: {} to {} inside the weighting (times (j w)^{})", name_of(measured.motion),
                             name_of(output), derivative_order(measured.motion) - derivative_order(output)),
                 file);

        auto selected = selection(pass.duration_s, 0.0, recording.excluded);
        if (!recording.events.empty()) { // they alone are judged
            std::vector<TimeSpan> events;
            for (const EventSpan& event : recording.events)
                events.push_back({std::floor(event.from_s), std::ceil(event.to_s)});
            selected = common(selected, events);
            step(fmt::format("events: {} listed, judged one by one", recording.events.size()), file);
        }
        for (Finding& finding : fitness(file, pass, measured.motion, selected, is_of_hands(recording.position))) {
            if (finding.severity == Severity::refusal && finding.channel && finding.code != "rate-too-low")
                measured.refused.try_emplace(*finding.channel, finding.message);
            result_.findings.push_back(std::move(finding));
        }
        std::ranges::move(sensor_mix_ups(survey_, recording, pass.info), std::back_inserter(result_.findings));
        std::ranges::move(timings(file, pass.info), std::back_inserter(result_.findings));
        measured.pass = std::move(pass);
    }

    // Two rates in one survey are legal and usually a slip of the recorder's settings.
    void note_rates()
    {
        std::map<std::int64_t, std::pair<double, std::string>>
            rates; // in mHz, so that a rate told by a time column equals its nominal value
        for (const Measured& measured : measured_)
            if (measured.pass)
                rates.try_emplace(std::llround(measured.pass->info.rate_hz * 100.0), measured.pass->info.rate_hz,
                                  measured.recording->file);
        if (rates.size() < 2) return;
        std::vector<std::string> found;
        for (const auto& [key, rate] : rates) found.push_back(fmt::format("{:.6g} Hz ({})", rate.first, rate.second));
        result_.findings.push_back(
            {.severity = Severity::caution,
             .code = "two-rates",
             .message = fmt::format("the recordings have different rates: {}; each is judged at its own, but check the "
                                    "recorder's settings",
                                    fmt::join(found, ", "))});
    }

    const Survey& survey_;
    const AssessOptions& options_;
    ChosenCriteria chosen_;
    std::vector<Measured> measured_;
    CalibratorChecks calibrators_;
    std::vector<PassRequest> requests_; // where recordings are loaded a few at a time
    std::optional<store::Cache> cache_; // then
    bool trouble_told_ = false;
    Assessment result_;
};

} // namespace

Results<Judged> judged(const Survey& survey, const io::CriteriaLibrary& library, const AssessOptions& options)
{
    return Judgement(survey, library, options).reach();
}

Results<KeptPasses> keep_passes(const Survey& survey, const io::CriteriaLibrary& library, const AssessOptions& options,
                                const Shard& shard)
{
    BECALM_ASSERT(!options.cache_folder.empty() && shard.index >= 1 && shard.index <= shard.of);
    return Judgement(survey, library, options).keep(shard);
}

struct Measuring::Inside {
    Inside(const Survey& survey, const io::CriteriaLibrary& library, const AssessOptions& options)
        : judgement(survey, library, options)
    {
    }
    Judgement judgement;
};

Measuring::Measuring(const Survey& survey, const io::CriteriaLibrary& library, const AssessOptions& options)
    : inside_(std::make_unique<Inside>(survey, library, options))
{
    if (problems().empty()) inside_->judgement.prepare();
}
Measuring::~Measuring() = default;
std::vector<Problem> Measuring::problems() const { return inside_->judgement.problems_of_the_call(); }
const ChosenCriteria& Measuring::chosen() const { return inside_->judgement.chosen(); }
const std::vector<Measured>& Measuring::measured() const { return inside_->judgement.measured(); }
void Measuring::load(std::span<const std::size_t> recordings) { inside_->judgement.load(recordings); }
void Measuring::drop(std::size_t recording) { inside_->judgement.drop(recording); }
std::vector<Finding> Measuring::take_findings() { return inside_->judgement.take_findings(); }

Results<Assessment> assess(const Survey& survey, const io::CriteriaLibrary& library, const AssessOptions& options)
{
    auto result = judged(survey, library, options);
    if (!result) return tl::unexpected(std::move(result.error()));
    return std::move(result->assessment);
}

} // namespace becalm::evaluators
