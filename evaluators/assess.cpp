#include "evaluators/assess.h"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <map>
#include <set>
#include <tuple>

#include <fmt/format.h>

#include "evaluators/classify.h"
#include "evaluators/combine.h"
#include "evaluators/fitness.h"
#include "evaluators/pass.h"
#include "evaluators/quantity.h"
#include "src/base/nearest.h"

namespace becalm::evaluators {
namespace {

// A verdict that could not be reached.
struct Refusal {
    std::string why;
};

template <class Names>
std::string joined(const Names& names, std::string_view separator = ", ")
{
    std::string text;
    for (const auto& name : names) {
        if (!text.empty()) text += separator;
        text += name;
    }
    return text;
}

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

// One recording on its way through the judgement.
struct Measured {
    const Recording* recording = nullptr;
    Motion motion = Motion::acceleration;
    std::optional<PassResult> pass = {};
    std::string unreadable = {};             // why there is no pass
    std::map<int, std::string> refused = {}; // channel → the first refusal that concerns it

    const ChannelMapping* mapping(Axis axis) const
    {
        const auto found = std::ranges::find(recording->channels, axis, &ChannelMapping::axis);
        return found == recording->channels.end() ? nullptr : &*found;
    }
};

class Judgement {
public:
    Judgement(const Survey& survey, const io::CriteriaLibrary& library, const AssessOptions& options)
        : survey_(survey), library_(library), options_(options)
    {
        result_.title = survey.title;
        result_.setting = name_of(survey.setting);
        result_.file = survey.path;
        result_.sha256 = survey.sha256;
    }

    Results<Assessment> reach()
    {
        if (auto problems = choose_criteria(); !problems.empty()) return tl::unexpected(std::move(problems));
        measure();
        // Half a judgement would look like a whole one in which much could not be judged.
        if (options_.stop.stop_requested())
            return tl::unexpected(std::vector<Problem>{{.kind = ProblemKind::outside_world,
                                                        .file = survey_.path,
                                                        .what = "stopped before the end",
                                                        .remedy = "nothing was written"}});
        note_rates();
        if (options_.judge) {
            for (const auto& group : groups(true)) judge(group, false);
            for (const auto& group : groups(false)) judge(group, true);
        }
        return std::move(result_);
    }

private:
    using Group = std::vector<Measured*>; // of one space, position and condition

    void step(std::string what, std::string of) { result_.provenance.push_back({std::move(what), std::move(of)}); }

    // --- which criteria ---

    std::vector<Problem> choose_criteria()
    {
        std::vector<Problem> problems;
        const auto resolve = [&](const std::string& id, ProblemKind kind, const std::string& file, int line) {
            if (library_.criteria.contains(id)) return;
            std::vector<std::string> known;
            for (const auto& [name, criterion] : library_.criteria) known.push_back(name);
            const std::string near = nearest_name(id, known);
            problems.push_back(
                {.kind = kind,
                 .file = file,
                 .line = line,
                 .what = fmt::format("there is no criterion \"{}\"", id),
                 .remedy = near.empty() ? "`becalm criteria list` shows all"
                                        : fmt::format("did you mean \"{}\"? `becalm criteria list` shows all", near)});
        };
        for (const std::string& id : options_.criteria) resolve(id, ProblemKind::usage, "", 0);
        if (options_.criteria.empty())
            for (const Judge& judge : survey_.judges)
                for (const std::string& id : judge.criteria)
                    resolve(id, ProblemKind::bad_input, survey_.path, judge.line);
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

    // Criteria that judge this recording's space, in the order in which the survey names them.
    std::vector<const Criterion*> criteria_for(const Recording& recording) const
    {
        std::vector<const Criterion*> chosen;
        const std::string& use = survey_.space(recording.space)->use;
        const auto add = [&](const std::string& id) {
            const Criterion& criterion = library_.criteria.find(id)->second;
            if (!criterion.positions.empty() &&
                std::ranges::find(criterion.positions, recording.position) == criterion.positions.end())
                return;
            if (std::ranges::find(chosen, &criterion) == chosen.end()) chosen.push_back(&criterion);
        };
        if (!options_.criteria.empty()) {
            for (const std::string& id : options_.criteria) add(id);
            return chosen;
        }
        for (const Judge& judge : survey_.judges)
            if (judge.uses.empty() || std::ranges::find(judge.uses, use) != judge.uses.end())
                for (const std::string& id : judge.criteria) add(id);
        return chosen;
    }

    // --- the pass ---

    void measure()
    {
        std::vector<PassRequest> requests;
        for (const Recording& recording : survey_.recordings) {
            const Unit unit = unit_of(recording);
            measured_.push_back({.recording = &recording, .motion = unit.motion});
            PassRequest request{.path = resolved(survey_, recording.file),
                                .input = unit.motion,
                                .to_si = unit.to_si * recording.scale.value_or(1.0),
                                .scale_given = recording.scale.has_value(),
                                .keep_rows = true};
            std::set<Lane> lanes;
            for (const ChannelMapping& mapping : recording.channels) {
                lanes.insert({mapping.channel, mapping.axis, WeightingId::none}); // fitness looks at every channel
                for (const Criterion* criterion : criteria_for(recording))
                    for (const AxisTerm& term : criterion->terms)
                        if (term.axis == mapping.axis && is_taken_at(term, recording))
                            lanes.insert({mapping.channel, mapping.axis, term.weighting});
            }
            request.lanes.assign(lanes.begin(), lanes.end());
            requests.push_back(std::move(request));
        }
        auto passes =
            run_passes(requests, {.jobs = options_.jobs, .progress = options_.progress, .stop = options_.stop});
        for (std::size_t i = 0; i < passes.size(); ++i) {
            if (passes[i])
                take(measured_[i], std::move(*passes[i]));
            else
                refuse(measured_[i], passes[i].error());
        }
    }

    void refuse(Measured& measured, Problem problem)
    {
        const std::string& file = measured.recording->file;
        if (problem.file == resolved(survey_, file)) problem.file = file;
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
        step(fmt::format("scaled: a stored 1 is {:.10g} {}", recording.scale.value_or(1.0), recording.unit), file);
        for (const ChannelResult& channel : pass.channels)
            step(fmt::format("offset: {:.6g} {} (mean of the first 10 s) taken from channel {}", channel.offset,
                             si_unit_of(measured.motion), channel.channel),
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

        const auto selected = selection(pass.duration_s, 0.0, recording.excluded);
        for (Finding& finding : fitness(file, pass, measured.motion, selected)) {
            if (finding.severity == Severity::refusal && finding.channel && finding.code != "rate-too-low")
                measured.refused.try_emplace(*finding.channel, finding.message);
            result_.findings.push_back(std::move(finding));
        }
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
                                    joined(found))});
    }

    // --- the verdicts ---

    static bool is_taken_at(const AxisTerm& term, const Recording& recording)
    {
        return !term.position || *term.position == recording.position;
    }

    static bool spans_positions(const Criterion& criterion)
    {
        return std::ranges::any_of(criterion.terms, [](const AxisTerm& term) { return term.position.has_value(); });
    }

    std::vector<Group> groups(bool by_position)
    {
        std::vector<Group> groups;
        std::map<std::tuple<std::string, std::optional<Position>, std::string>, std::size_t> index;
        for (Measured& measured : measured_) {
            const Recording& recording = *measured.recording;
            const auto position = by_position ? std::optional(recording.position) : std::nullopt;
            const auto [entry, is_new] =
                index.try_emplace({recording.space, position, recording.condition}, groups.size());
            if (is_new) groups.emplace_back();
            groups[entry->second].push_back(&measured);
        }
        return groups;
    }

    void judge(const Group& group, bool over_positions)
    {
        std::vector<const Criterion*> criteria;
        for (const Measured* measured : group)
            for (const Criterion* criterion : criteria_for(*measured->recording))
                if (spans_positions(*criterion) == over_positions &&
                    std::ranges::find(criteria, criterion) == criteria.end())
                    criteria.push_back(criterion);
        for (const Criterion* criterion : criteria) judge(group, *criterion);
    }

    // Somebody compared the criterion's numbers with the publication, says the survey.
    bool is_confirmed(const Criterion& criterion) const
    {
        return std::ranges::any_of(survey_.judges, [&](const Judge& judge) {
            return !judge.confirmed_by.empty() &&
                   std::ranges::find(judge.criteria, criterion.id) != judge.criteria.end();
        });
    }

    Verdict blank(const Group& group, const Criterion& criterion) const
    {
        const Recording& first = *group.front()->recording;
        Verdict verdict{.space = first.space,
                        .position = spans_positions(criterion) ? "all" : std::string(name_of(first.position)),
                        .condition = first.condition,
                        .criterion = criterion.id,
                        .title = criterion.title,
                        .edition = criterion.edition,
                        .clause = criterion.clause,
                        .confirmed = criterion.confirmed,
                        .use = survey_.space(first.space)->use,
                        .quantity = criterion.quantity,
                        .unit = criterion.unit};
        for (const Measured* measured : group) verdict.recordings.push_back(measured->recording->file);
        if (const Scale* scale = scale_for(criterion, verdict.use)) verdict.bands = scale->bands;
        return verdict;
    }

    void close(Verdict verdict, const std::string& why_not)
    {
        verdict.judged = why_not.empty();
        if (!why_not.empty()) verdict.why_not = "cannot be judged, because " + why_not;
        result_.verdicts.push_back(std::move(verdict));
    }

    void judge(const Group& group, const Criterion& criterion)
    {
        Verdict verdict = blank(group, criterion);
        const Condition* condition = survey_.condition(verdict.condition);
        if (!criterion.settings.empty() &&
            std::ranges::find(criterion.settings, survey_.setting) == criterion.settings.end())
            return close(verdict, fmt::format("{} is not for the setting \"{}\"; choose another criterion",
                                              criterion.id, name_of(survey_.setting)));
        if (!criterion.period.empty()) {
            // A recording made for the other period is no fault: that period's criterion judges it.
            if (condition != nullptr && !condition->period.empty() && condition->period != criterion.period) return;
            if (condition == nullptr || condition->period.empty())
                return close(verdict, fmt::format("it is not known whether the recording stands for the {0}; add "
                                                  "period = \"{0}\" to its condition",
                                                  criterion.period));
        }
        if (criterion.check_first && !is_confirmed(criterion))
            return close(verdict, fmt::format("the numbers of {} are from memory and not certain, so it is switched "
                                              "off; check the publication first, then "
                                              "add confirmed-by = \"...\" (who compared them, when) to its [[judge]]",
                                              criterion.id));
        if (criterion.limits_missing)
            return close(verdict, fmt::format("the values of {} are not in the program; type them in from your copy: "
                                              "copy {} to a folder criteria beside the "
                                              "survey, remove limits_missing and add its [[scale]]",
                                              criterion.edition, criterion.path));
        if (!criterion.scales.empty() && scale_for(criterion, verdict.use) == nullptr) {
            std::vector<std::string> uses;
            for (const Scale& scale : criterion.scales) uses.push_back(scale.use);
            return close(verdict, fmt::format("{} does not list the use \"{}\"; it knows {}", criterion.edition,
                                              verdict.use, joined(uses)));
        }

        std::vector<std::string> missing;
        for (const AxisTerm& term : criterion.terms) {
            if (criterion.rule == AxisRule::vertical && term.axis != Axis::z) continue;
            auto value = term_of(group, criterion, term, condition, verdict.notes);
            if (!value) return close(verdict, value.error().why);
            if (*value) {
                verdict.terms.push_back(std::move(**value));
            } else if (term.position) {
                return close(verdict, fmt::format("the axis {} at the position {} is missing, which {} needs",
                                                  name_of(term.axis), name_of(*term.position), criterion.id));
            } else if (std::ranges::find(criterion.needed, term.axis) != criterion.needed.end()) {
                return close(verdict, fmt::format("the axis {0} is missing, which {1} needs; map a channel to {0}",
                                                  name_of(term.axis), criterion.id));
            } else {
                missing.emplace_back(name_of(term.axis));
            }
        }
        if (!missing.empty()) {
            const std::string message =
                fmt::format("not measured here: axis {}; a higher value there would go unnoticed", joined(missing));
            verdict.notes.push_back(message);
            result_.findings.push_back({.severity = Severity::caution,
                                        .code = "missing-axis",
                                        .message = fmt::format("{} ({}): {}", verdict.space, criterion.id, message),
                                        .recording = verdict.recordings.front()});
        }

        const std::vector<Combined> values = combine(criterion.rule, verdict.terms);
        if (values.empty())
            return close(verdict, fmt::format("none of the axes that {} looks at was measured", criterion.id));
        for (const Combined& value : values) conclude(verdict, criterion, value);
    }

    // The value of one axis over the recordings of the group; empty where no recording has the axis.
    tl::expected<std::optional<VerdictTerm>, Refusal> term_of(const Group& group, const Criterion& criterion,
                                                              const AxisTerm& axis, const Condition* condition,
                                                              std::vector<std::string>& notes)
    {
        VerdictTerm term{.axis = std::string(name_of(axis.axis)),
                         .group = axis.group,
                         .weighting = std::string(name_of(axis.weighting)),
                         .factor = axis.factor};
        if (axis.position) term.position = name_of(*axis.position);
        QuantityArguments arguments;
        arguments.parameters = axis.parameters;
        arguments.parameters.insert(criterion.parameters.begin(), criterion.parameters.end()); // the term's own win
        double left_out = 0.0, excluded = 0.0;
        double measured_s = 0.0; // what a publication's least duration is about: the run-in was measured as well
        for (const Measured* measured : group) {
            const ChannelMapping* mapping = measured->mapping(axis.axis);
            if (mapping == nullptr || !is_taken_at(axis, *measured->recording)) continue;
            const std::string& file = measured->recording->file;
            if (!measured->pass) return tl::unexpected(Refusal{measured->unreadable});
            if (const auto refused = measured->refused.find(mapping->channel); refused != measured->refused.end())
                return tl::unexpected(Refusal{fmt::format("{}: {}", file, refused->second)});
            const Lane lane{mapping->channel, axis.axis, axis.weighting};
            const auto result = std::ranges::find(measured->pass->lanes, lane, &LaneResult::lane);
            BECALM_ASSERT(result != measured->pass->lanes.end());
            if (result->refused)
                return tl::unexpected(
                    Refusal{fmt::format("{}: {}; {}", file, result->refused->what, result->refused->remedy)});

            const double duration = measured->pass->duration_s;
            const double run_in = run_in_for(axis.weighting, duration);
            const auto selected = selection(duration, run_in, measured->recording->excluded);
            const Tally tally = fold(result->ledger, selected);
            left_out = std::max(left_out, run_in);
            excluded += duration - run_in - tally.duration_s;
            measured_s += fold(result->ledger, selection(duration, 0.0, measured->recording->excluded)).duration_s;
            if (tally.samples == 0)
                return tl::unexpected(
                    Refusal{fmt::format("{}: nothing is left of its {:.3f} s after what is excluded", file, duration)});
            arguments.recordings.push_back(tally);
            arguments.rows.push_back({&result->ledger, selected});
            arguments.tally = merge(arguments.tally, tally);
            term.recordings.push_back(file);
        }
        if (arguments.recordings.empty()) return std::optional<VerdictTerm>();

        if (arguments.recordings.size() < static_cast<std::size_t>(criterion.least_recordings))
            return tl::unexpected(Refusal{fmt::format(
                "there are {} recordings of axis {}, and {} asks for at least {}; record more events or sections",
                arguments.recordings.size(), term.axis, criterion.edition, criterion.least_recordings)});
        term.duration_s = arguments.tally.duration_s;
        if (measured_s < criterion.least_duration_s)
            return tl::unexpected(Refusal{
                fmt::format("{:.3f} s of axis {} can be used, and {} asks for at least {:.0f} s; measure longer",
                            measured_s, term.axis, criterion.edition, criterion.least_duration_s)});
        if (condition != nullptr && condition->exposure_h) arguments.exposed_s = *condition->exposure_h * 3600.0;
        if (condition != nullptr) arguments.events = condition->events;
        if (criterion.reference_h) arguments.reference_s = *criterion.reference_h * 3600.0;
        const Quantity* quantity = quantity_named(criterion.quantity);
        BECALM_ASSERT(quantity != nullptr); // the criterion's reader refuses unknown quantities
        QuantityResult value = quantity->evaluate(arguments);
        if (!value) return tl::unexpected(Refusal{fmt::format("{}; {}", value.error().what, value.error().remedy)});
        term.value = value->value;

        const auto note = [&](std::string text) {
            if (std::ranges::find(notes, text) == notes.end()) notes.push_back(std::move(text));
        };
        for (std::string& text : value->notes) note(std::move(text));
        if (left_out > 0.0) note(fmt::format("the first {:.0f} s are left out while the filter settles", left_out));
        if (excluded > 0.5) note(fmt::format("{:.0f} s excluded", excluded));
        if (measured_s < criterion.wished_duration_s)
            note(fmt::format("{:.0f} s can be used; {:.0f} s are wished for", measured_s, criterion.wished_duration_s));
        return std::optional(std::move(term));
    }

    // Expanded uncertainty (k = 2) of the value as far as the sensors' calibration goes; empty where a sensor states
    // none.
    std::optional<double> calibration_uncertainty(const Verdict& verdict, const Combined& value) const
    {
        double sum_squares = 0.0;
        for (const std::size_t i : value.from) {
            double percent = 0.0;
            for (const std::string& file : verdict.terms[i].recordings) {
                // One file can hold the channels of several sensors, each in a table of its own.
                const auto recording = std::ranges::find_if(survey_.recordings, [&](const Recording& candidate) {
                    return candidate.file == file && candidate.space == verdict.space &&
                           name_of(candidate.position) ==
                               (verdict.terms[i].position.empty() ? verdict.position : verdict.terms[i].position) &&
                           candidate.condition == verdict.condition &&
                           std::ranges::any_of(candidate.channels, [&](const ChannelMapping& mapping) {
                               return name_of(mapping.axis) == verdict.terms[i].axis;
                           });
                });
                BECALM_ASSERT(recording != survey_.recordings.end());
                const Sensor* sensor = survey_.sensor(recording->sensor);
                if (sensor == nullptr || !sensor->uncertainty_percent) return std::nullopt;
                percent = std::max(percent, *sensor->uncertainty_percent);
            }
            // One instrument measured all axes: its error is common to them, and adds by the share of each axis in the
            // value.
            const double part = verdict.terms[i].factor * *verdict.terms[i].value;
            sum_squares += part * part * percent / 100.0;
        }
        return value.value > 0.0 ? sum_squares / value.value : 0.0;
    }

    void conclude(Verdict verdict, const Criterion& criterion, const Combined& value)
    {
        verdict.value = value.value;
        verdict.axis = value.axis;
        verdict.weighting = value.weighting;
        verdict.expanded_uncertainty = calibration_uncertainty(verdict, value);
        if (verdict.bands.empty()) {
            verdict.notes.push_back("the publication sets no limits; the value is reported");
        } else {
            const Classification classified = classify(value.value, verdict.bands);
            verdict.band_index = static_cast<int>(classified.band);
            verdict.exceeded = verdict.bands[classified.band].exceeds;
            for (const std::size_t i : classified.also) verdict.also_bands.push_back(verdict.bands[i].name);
        }
        if (criterion.is_local)
            verdict.notes.push_back(fmt::format("by the local file {}{}", criterion.path,
                                                criterion.overrides ? ", in place of the program's own edition" : ""));
        if (!criterion.note.empty()) verdict.notes.push_back(criterion.note);
        step(fmt::format("judged: {} {} = {:.6g} {} by {} ({}), sha256 {}", verdict.axis, verdict.quantity, value.value,
                         verdict.unit, criterion.id, criterion.path, criterion.sha256),
             fmt::format("{} {}{}{}", verdict.space, verdict.position, verdict.condition.empty() ? "" : " ",
                         verdict.condition));
        close(std::move(verdict), "");
    }

    const Survey& survey_;
    const io::CriteriaLibrary& library_;
    const AssessOptions& options_;
    std::vector<Measured> measured_;
    Assessment result_;
};

} // namespace

Results<Assessment> assess(const Survey& survey, const io::CriteriaLibrary& library, const AssessOptions& options)
{
    return Judgement(survey, library, options).reach();
}

} // namespace becalm::evaluators
