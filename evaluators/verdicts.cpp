#include "evaluators/verdicts.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <tuple>

#include <fmt/format.h>

#include "evaluators/classify.h"
#include "evaluators/combine.h"
#include "evaluators/din4150_2.h"
#include "evaluators/exposure.h"
#include "evaluators/person_days.h"
#include "evaluators/selection.h"
#include "evaluators/settling.h"
#include "evaluators/term_value.h"
#include "evaluators/value_budget.h"

namespace becalm::evaluators {
namespace {

using Group = std::vector<const Measured*>;

// What a group of recordings gives to a criterion's period.
struct Candidate {
    std::vector<Part> parts = {}; // one, or two where the clock divides them into work and rest
    bool states_share = false;    // its condition says how long or how often it lasts
};

// The groups of recordings of one space, position (or all of them) and condition, in the order of the survey.
struct Places {
    using Key = std::pair<std::string, std::optional<Position>>;

    bool by_position = true;
    std::vector<Group> groups = {};
    std::map<Key, std::vector<std::size_t>> at = {}; // groups of one place, a condition each

    Key key(const Measured& measured) const
    {
        return {measured.recording->space, by_position ? std::optional(measured.recording->position) : std::nullopt};
    }

    // The groups of this one's place, itself among them.
    std::vector<const Group*> around(const Group& group) const
    {
        std::vector<const Group*> there;
        for (const std::size_t i : at.at(key(*group.front()))) there.push_back(&groups[i]);
        return there;
    }
};

enum class Fit { fits, other_period, unknown_period };

// Of the axes' values, with what they were made of.
struct Reached {
    std::vector<TermValue> terms = {};
    std::vector<Combined> values = {};
    std::optional<Position> position = {}; // the governing one of several
    std::vector<Reached> others = {};      // at the other positions, with values
};

class Verdicts {
public:
    Verdicts(const Survey& survey, const ChosenCriteria& chosen, Group measured, const Window* window,
             Assessment& result)
        : survey_(survey), chosen_(chosen), measured_(std::move(measured)), window_(window), result_(result)
    {
        for (const Exposure& exposure : survey.exposures)
            for (const Task& task : exposure.tasks) {
                spaces_of_tasks_.insert(task.space);
                for (const Measured* measured_task : recordings_of(task, measured_)) of_tasks_.insert(measured_task);
            }
    }

    void reach()
    {
        for (const bool by_position : {true, false}) {
            const Places places = places_of(by_position);
            for (const Group& group : places.groups) {
                std::vector<const Criterion*> criteria;
                for (const Measured* measured : group)
                    for (const Criterion* criterion : chosen_.of(*measured->recording))
                        if (joins_positions(*criterion) != by_position &&
                            (window_ == nullptr || window_->criterion == criterion) &&
                            std::ranges::find(criteria, criterion) == criteria.end())
                            criteria.push_back(criterion);
                for (const Criterion* criterion : criteria) judge(group, *criterion, places.around(group));
            }
        }
        if (window_ == nullptr) judge_persons();
        tell_missing_periods();
    }

private:
    // --- which recordings belong together ---

    Places places_of(bool by_position) const
    {
        Places places{.by_position = by_position};
        std::map<std::pair<Places::Key, std::string>, std::size_t> index;
        for (const Measured* measured : measured_) {
            const Places::Key place = places.key(*measured);
            const auto [entry, is_new] =
                index.try_emplace({place, measured->recording->condition}, places.groups.size());
            if (is_new) {
                places.groups.emplace_back();
                places.at[place].push_back(entry->second);
            }
            places.groups[entry->second].push_back(measured);
        }
        return places;
    }

    const Condition* condition_of(const Group& group) const
    {
        return survey_.condition(group.front()->recording->condition);
    }

    // --- what they stand for ---

    Fit fit(const Group& group, const Criterion& criterion, Candidate& candidate) const
    {
        const Condition* condition = condition_of(group);
        Part part{.group = group, .condition = condition, .window = window_};
        if (condition != nullptr && condition->exposure_h) part.exposed_s = *condition->exposure_h * 3600.0;
        if (condition != nullptr) part.events = condition->events;
        candidate = {.states_share = part.exposed_s || part.events};
        if (!criterion.period.empty()) {
            const std::string stated = condition == nullptr ? std::string() : condition->period;
            part.rest = stated == "rest" && criterion.rest.has_value();
            const bool is_this = stated == criterion.period || (stated == "rest" && criterion.period == "day");
            if (!stated.empty() && !is_this) return Fit::other_period;
            if (stated.empty()) return by_clock(std::move(part), criterion, candidate);
        }
        candidate.parts = {std::move(part)};
        return Fit::fits;
    }

    // No period is stated: the recordings' own times tell, where all of them have one.
    Fit by_clock(Part part, const Criterion& criterion, Candidate& candidate) const
    {
        const auto has_start = [](const Measured* measured) {
            return local_start(measured->recording->start).has_value();
        };
        if (criterion.hours.empty() || !std::ranges::all_of(part.group, has_start)) return Fit::unknown_period;
        part.by_clock = true;
        const auto seconds = [&](const Part& candidate_part) {
            double sum = 0.0;
            for (const Measured* measured : candidate_part.group)
                if (measured->pass)
                    for (const auto& spans : stretches(*measured, candidate_part, criterion))
                        for (const TimeSpan& span : spans) sum += span.to_s - span.from_s;
            return sum;
        };
        // What cannot be read belongs to the period it may belong to, so that its verdict says why there is none.
        const bool readable =
            std::ranges::all_of(part.group, [](const Measured* measured) { return measured->pass.has_value(); });
        if (readable && seconds(part) < 1.0) return Fit::other_period;
        if (!criterion.rest || !readable) {
            candidate.parts = {std::move(part)};
            return Fit::fits;
        }
        const double period_h = hours_in(criterion.hours);
        const auto date = window_ != nullptr ? window_->date : local_start(part.group.front()->recording->start)->date;
        const bool on_sunday = std::chrono::weekday(date) == std::chrono::Sunday;
        const double rest_h = hours_in(on_sunday ? criterion.rest->sunday_hours : criterion.rest->hours);
        for (const ClockPart clock : {ClockPart::working, ClockPart::resting}) {
            Part one = part;
            one.clock = clock;
            one.rest = clock == ClockPart::resting;
            if (seconds(one) < 1.0) continue;
            if (!one.exposed_s && !one.events) one.exposed_s = 3600.0 * (one.rest ? rest_h : period_h - rest_h);
            candidate.parts.push_back(std::move(one));
        }
        return Fit::fits;
    }

    // --- one space ---

    // Id of the criterion, space, position: verdicts that are told by this key come in the same order every time.
    using PlaceKey = std::tuple<std::string, std::string, std::string>;

    static PlaceKey key(const Group& group, const Criterion& criterion)
    {
        const Recording& first = *group.front()->recording;
        return {criterion.id, first.space, joins_positions(criterion) ? "" : std::string(name_of(first.position))};
    }

    // `around`: the groups of the same place, a condition each.
    void judge(const Group& group, const Criterion& criterion, const std::vector<const Group*>& around)
    {
        const Quantity& quantity = quantity_of(criterion.quantity);
        // Tasks of a person say how long; the person's day is judged then. Where a task names one position of a space,
        // the others have no exposure.
        const Condition* condition = condition_of(group);
        const bool says_how_long = condition != nullptr && condition->exposure_h;
        if (quantity.daily && (std::ranges::any_of(group, [&](const Measured* m) { return of_tasks_.contains(m); }) ||
                               (!says_how_long && spaces_of_tasks_.contains(group.front()->recording->space))))
            return;
        if (quantity.daily && refers_to_a_week(criterion))
            return close(blank(group, criterion),
                         fmt::format("{} looks at a whole week, and the survey tells of no person's days; add an "
                                     "[[exposure]] with its tasks for each day",
                                     criterion.id));
        Candidate candidate;
        switch (fit(group, criterion, candidate)) {
        case Fit::other_period: other_period_.try_emplace(key(group, criterion), &criterion, group); return;
        case Fit::unknown_period:
            this_period_.insert(key(group, criterion));
            return close(blank(group, criterion),
                         fmt::format("it is not known whether the recording stands for the {0}; add period = \"{0}\" "
                                     "to its condition{1}",
                                     criterion.period,
                                     criterion.hours.empty() ? "" : ", or start = ... to the recording"));
        case Fit::fits: break;
        }
        this_period_.insert(key(group, criterion));
        std::vector<Part> parts = std::move(candidate.parts);
        std::vector<std::string> conditions{group.front()->recording->condition};
        if (criterion.conditions != PartsRule::each && candidate.states_share) {
            parts.clear();
            conditions.clear();
            for (const Group* other : around) {
                Candidate beside;
                if (!is_judged_by(*other, criterion) || fit(*other, criterion, beside) != Fit::fits ||
                    !beside.states_share)
                    continue;
                if (parts.empty() && other != &group) return; // judged with the first of them
                parts.insert(parts.end(), beside.parts.begin(), beside.parts.end());
                conditions.push_back(other->front()->recording->condition);
            }
        }
        Verdict verdict = blank(group, criterion);
        verdict.condition = fmt::format("{}", fmt::join(conditions, " + "));
        verdict.recordings.clear();
        for (const Part& part : parts)
            for (const Measured* measured : part.group) name_recording(verdict, measured->recording->file);
        judge(std::move(verdict), criterion, parts);
    }

    bool is_judged_by(const Group& group, const Criterion& criterion) const
    {
        return std::ranges::any_of(
            group, [&](const Measured* measured) { return chosen_.judges(criterion, *measured->recording); });
    }

    static void name_recording(Verdict& verdict, const std::string& file)
    {
        if (std::ranges::find(verdict.recordings, file) == verdict.recordings.end()) verdict.recordings.push_back(file);
    }

    // A chosen period that nothing was recorded for at a place.
    void tell_missing_periods()
    {
        for (const auto& [place, missing] : other_period_) {
            if (this_period_.contains(place)) continue;
            const auto& [of, group] = missing;
            const Criterion& criterion = *of;
            Verdict verdict = blank(group, criterion);
            verdict.condition.clear();
            verdict.recordings.clear();
            close(std::move(verdict), fmt::format("no recording of this place stands for the {}; record then, or leave "
                                                  "{} out for it",
                                                  criterion.period, criterion.id));
        }
    }

    // --- a person's day ---

    void judge_persons()
    {
        std::vector<std::string> persons;
        for (const Exposure& exposure : survey_.exposures)
            if (std::ranges::find(persons, exposure.person) == persons.end()) persons.push_back(exposure.person);
        for (const std::string& person : persons) {
            std::vector<const Exposure*> days;
            std::vector<const Criterion*> criteria;
            for (const Exposure& exposure : survey_.exposures) {
                if (exposure.person != person) continue;
                days.push_back(&exposure);
                for (const Task& task : exposure.tasks)
                    for (const Measured* measured : recordings_of(task, measured_))
                        for (const Criterion* criterion : chosen_.of(*measured->recording))
                            if (quantity_of(criterion->quantity).daily &&
                                std::ranges::find(criteria, criterion) == criteria.end())
                                criteria.push_back(criterion);
            }
            for (const Criterion* criterion : criteria) {
                if (refers_to_a_week(*criterion)) {
                    judge_days(person, days, *criterion);
                    continue;
                }
                for (const Exposure* day : days) judge_days(person, std::span(&day, 1), *criterion);
            }
        }
    }

    void judge_days(const std::string& person, std::span<const Exposure* const> days, const Criterion& criterion)
    {
        std::vector<Part> parts;
        std::vector<std::string> names;
        std::string why_not;
        Verdict verdict = blank_of(criterion);
        verdict.person = person;
        for (const Exposure* day : days) {
            if (!day->day.empty()) names.push_back(day->day);
            DayTasks tasks = tasks_of_day(survey_, chosen_, measured_, *day, criterion);
            for (std::string& note : tasks.notes) verdict.notes.push_back(std::move(note));
            for (DayTask& task : tasks.tasks) {
                for (const Measured* measured : task.part.group) name_recording(verdict, measured->recording->file);
                if (!task.why_not.empty()) why_not = task.why_not;
                parts.push_back(std::move(task.part));
            }
        }
        if (parts.empty() && !verdict.notes.empty()) return; // all of it is of the other kind
        if (parts.empty()) why_not = "the day has no tasks; add some to its [[exposure]]";
        verdict.condition = fmt::format("{}", fmt::join(names, " + "));
        if (!why_not.empty()) return close(std::move(verdict), why_not);
        const Recording& first = *parts.front().group.front()->recording;
        verdict.use = survey_.space(first.space)->use;
        if (const Scale* scale = scale_for(criterion, verdict.use)) set_bands(verdict, criterion, *scale);
        verdict.position = spans_positions(criterion) ? "all" : std::string(name_of(first.position));
        judge(std::move(verdict), criterion, parts);
    }

    // --- the verdict ---

    static const Quantity& quantity_of(const std::string& name)
    {
        const Quantity* quantity = quantity_named(name);
        BECALM_ASSERT(quantity != nullptr); // the criterion's reader refuses unknown quantities
        return *quantity;
    }

    static Verdict blank_of(const Criterion& criterion)
    {
        return {.criterion = criterion.id,
                .title = criterion.title,
                .edition = criterion.edition,
                .clause = criterion.clause,
                .confirmed = criterion.confirmed,
                .quantity = criterion.quantity,
                .unit = criterion.unit};
    }

    Verdict blank(const Group& group, const Criterion& criterion) const
    {
        const Recording& first = *group.front()->recording;
        Verdict verdict = blank_of(criterion);
        verdict.space = first.space;
        verdict.position = joins_positions(criterion) ? "all" : std::string(name_of(first.position));
        verdict.condition = first.condition;
        verdict.use = survey_.space(first.space)->use;
        for (const Measured* measured : group) verdict.recordings.push_back(measured->recording->file);
        if (const Scale* scale = scale_for(criterion, verdict.use)) set_bands(verdict, criterion, *scale);
        return verdict;
    }

    static void set_bands(Verdict& verdict, const Criterion& criterion, const Scale& scale)
    {
        if (!scale.decision) {
            verdict.bands = scale.bands;
            return;
        }
        const bool keeps = !criterion.decision->strict; // a value equal to the limit keeps it
        verdict.bands = {
            {.name = "requirements met by the greatest value", .limit = scale.decision->lower, .inclusive = keeps},
            {.name = "requirements met by the average over the period",
             .limit = scale.decision->upper,
             .inclusive = keeps},
            {.name = "requirements not met", .exceeds = true}};
        verdict.decision = {.quantity = criterion.decision->average_quantity, .limits = *scale.decision};
    }

    void close(Verdict verdict, const std::string& why_not)
    {
        verdict.judged = why_not.empty();
        if (!why_not.empty()) verdict.why_not = "cannot be judged, because " + why_not;
        result_.verdicts.push_back(std::move(verdict));
    }

    // Why the criterion judges nothing of the kind; empty where it does.
    std::string out_of_question(const Verdict& verdict, const Criterion& criterion) const
    {
        if (!criterion.settings.empty() &&
            std::ranges::find(criterion.settings, survey_.setting) == criterion.settings.end())
            return fmt::format("{} is not for the setting \"{}\"; choose another criterion", criterion.id,
                               name_of(survey_.setting));
        if (criterion.check_first && !chosen_.is_confirmed(criterion))
            return fmt::format("the numbers of {} are from memory and not certain, so it is switched off; check the "
                               "publication first, then add confirmed-by = \"...\" (who compared them, when) to its "
                               "[[judge]]",
                               criterion.id);
        if (criterion.limits_missing)
            return fmt::format("the values of {} are not in the program; type them in from your copy: copy {} to a "
                               "folder criteria beside the survey, remove limits_missing and add its [[scale]]",
                               criterion.edition, criterion.path);
        if (!criterion.scales.empty() && scale_for(criterion, verdict.use) == nullptr) {
            std::vector<std::string> uses;
            for (const Scale& scale : criterion.scales) uses.push_back(scale.use);
            return fmt::format("{} does not list the use \"{}\"; it knows {}", criterion.edition, verdict.use,
                               fmt::join(uses, ", "));
        }
        return {};
    }

    void judge(Verdict verdict, const Criterion& criterion, const std::vector<Part>& parts)
    {
        if (const std::string why_not = out_of_question(verdict, criterion); !why_not.empty())
            return close(std::move(verdict), why_not);
        Notes notes;
        for (std::string& note : verdict.notes) notes.add(std::move(note));
        auto reached = values_of(verdict, criterion, quantity_of(criterion.quantity), parts, notes);
        verdict.notes = notes.take();
        if (!reached) return close(std::move(verdict), reached.error().why);
        for (const TermValue& term : reached->terms) verdict.terms.push_back(term.shown);
        if (reached->position) verdict.position = name_of(*reached->position);
        if (reached->values.empty())
            return close(std::move(verdict),
                         criterion.rule == AxisRule::ratio
                             ? std::string("the lower of the two values is nothing; there is no ratio")
                             : fmt::format("none of the axes that {} looks at was measured", criterion.id));
        for (const Combined& value : reached->values) conclude(verdict, criterion, parts, *reached, value);
    }

    // Of one position, or of that position of several that has the greatest value.
    tl::expected<Reached, Refusal> values_of(const Verdict& verdict, const Criterion& criterion,
                                             const Quantity& quantity, const std::vector<Part>& parts, Notes& notes)
    {
        if (!criterion.highest_position) return values_at(verdict, criterion, quantity, parts, {}, notes);
        std::set<Position> positions;
        for (const Part& part : parts)
            for (const Measured* measured : part.group) positions.insert(measured->recording->position);
        std::vector<Reached> found;
        std::vector<std::string> each;
        for (const Position position : positions) {
            auto reached = values_at(verdict, criterion, quantity, parts, position, notes);
            if (!reached) return reached;
            if (reached->values.empty()) continue;
            reached->position = position;
            each.push_back(fmt::format("{} {:.4g} {}", name_of(position), reached->values.front().value, verdict.unit));
            found.push_back(std::move(*reached));
        }
        if (found.empty()) return Reached{};
        const auto governs =
            std::ranges::max_element(found, {}, [](const Reached& reached) { return reached.values.front().value; });
        Reached highest = std::move(*governs);
        found.erase(governs);
        highest.others = std::move(found);
        if (each.size() > 1) notes.add(fmt::format("the greatest position governs: {}", fmt::join(each, ", ")));
        return highest;
    }

    tl::expected<Reached, Refusal> values_at(const Verdict& verdict, const Criterion& criterion,
                                             const Quantity& quantity, const std::vector<Part>& parts,
                                             std::optional<Position> only, Notes& notes)
    {
        Reached reached;
        std::vector<std::string> missing;
        for (const AxisTerm& term : criterion.terms) {
            if (criterion.rule == AxisRule::vertical && term.axis != Axis::z) continue;
            auto value = term_value(criterion, quantity, term, parts, only, notes);
            if (!value) return tl::unexpected(value.error());
            if (*value) {
                reached.terms.push_back(std::move(**value));
            } else if (term.position) {
                return tl::unexpected(Refusal{fmt::format("the axis {} at the position {} is missing, which {} needs",
                                                          name_of(term.axis), name_of(*term.position), criterion.id)});
            } else if (std::ranges::find(criterion.needed, term.axis) != criterion.needed.end()) {
                return tl::unexpected(Refusal{fmt::format(
                    "the axis {0} is missing{2}, which {1} needs; map a channel to {0}", name_of(term.axis),
                    criterion.id, only ? fmt::format(" at the position {}", name_of(*only)) : std::string())});
            } else {
                missing.emplace_back(name_of(term.axis));
            }
        }
        if (!missing.empty()) tell_missing_axes(verdict, criterion, missing, notes);
        std::vector<VerdictTerm> shown;
        for (const TermValue& term : reached.terms) shown.push_back(term.shown);
        reached.values = combine(criterion.rule, shown);
        return reached;
    }

    void tell_missing_axes(const Verdict& verdict, const Criterion& criterion, const std::vector<std::string>& missing,
                           Notes& notes)
    {
        const std::string message = fmt::format("not measured here: axis {}; a higher value there would go unnoticed",
                                                fmt::join(missing, ", "));
        notes.add(message);
        Finding finding{.severity = Severity::caution,
                        .code = "missing-axis",
                        .message = fmt::format("{} ({}): {}", verdict.space.empty() ? verdict.person : verdict.space,
                                               criterion.id, message),
                        .recording = verdict.recordings.front()};
        const auto is_same = [&](const Finding& other) {
            return other.message == finding.message && other.recording == finding.recording;
        };
        if (std::ranges::none_of(result_.findings, is_same)) result_.findings.push_back(std::move(finding));
    }

    // What the value's uncertainty is made of. Empty where the quantity is no power of the motion.
    std::optional<Uncertainty> uncertainty_of(const Criterion& criterion, const Reached& reached, const Combined& value,
                                              const Quantity& quantity, std::optional<Propagated>& propagated) const
    {
        if (!quantity.power) return std::nullopt;
        ValueBudget whole(survey_, quantity);
        const bool axes_compete = criterion.rule == AxisRule::highest;
        const auto add = [&](const Reached& of, const Combined& governing) {
            if (!axes_compete) return whole.add(of.terms, governing);
            std::vector<VerdictTerm> shown;
            for (const TermValue& term : of.terms) shown.push_back(term.shown);
            for (const Combined& axis : combine(AxisRule::each, shown)) whole.add(of.terms, axis);
        };
        add(reached, value);
        for (const Reached& position : reached.others) add(position, position.values.front());
        return whole.uncertainty(propagated);
    }

    void conclude(Verdict verdict, const Criterion& criterion, const std::vector<Part>& parts, const Reached& reached,
                  const Combined& value)
    {
        verdict.value = value.value;
        verdict.axis = value.axis;
        verdict.weighting = value.weighting;
        std::optional<Propagated> propagated;
        verdict.uncertainty = uncertainty_of(criterion, reached, value, quantity_of(criterion.quantity), propagated);
        if (verdict.uncertainty && verdict.uncertainty->standard)
            verdict.expanded_uncertainty = verdict.uncertainty->k * *verdict.uncertainty->standard;
        const double held = compared(survey_.decision_rule, value.value, verdict.expanded_uncertainty.value_or(0.0));
        if (survey_.decision_rule == Comparison::guarded && !verdict.bands.empty()) {
            if (!verdict.expanded_uncertainty) return close(std::move(verdict), unknown_guard(verdict));
            verdict.notes.push_back(fmt::format("guarded: the value with its expanded uncertainty, {:.4g} {}, is "
                                                "compared (JCGM 106:2012)",
                                                held, verdict.unit));
        }
        if (verdict.decision) {
            if (const std::string why_not = decide(verdict, criterion, parts, held); !why_not.empty())
                return close(std::move(verdict), why_not);
        } else if (verdict.bands.empty()) {
            verdict.notes.push_back("the publication sets no limits; the value is reported");
        } else {
            const Classification classified = classify(held, verdict.bands);
            verdict.band_index = static_cast<int>(classified.band);
            for (const std::size_t i : classified.also) verdict.also_bands.push_back(verdict.bands[i].name);
        }
        if (verdict.band_index) verdict.exceeded = verdict.bands[static_cast<std::size_t>(*verdict.band_index)].exceeds;
        if (propagated && verdict.band_index && !verdict.decision) say_how_sure(verdict, *propagated);
        if (propagated && verdict.band_index) say_what_settles(verdict, *propagated);
        if (criterion.is_local)
            verdict.notes.push_back(fmt::format("by the local file {}{}", criterion.path,
                                                criterion.overrides ? ", in place of the program's own edition" : ""));
        if (!criterion.note.empty()) verdict.notes.push_back(criterion.note);
        result_.provenance.push_back(
            {fmt::format("judged: {} {} = {:.6g} {} by {} ({}), sha256 {}", verdict.axis, verdict.quantity, value.value,
                         verdict.unit, criterion.id, criterion.path, criterion.sha256),
             verdict.person.empty()
                 ? fmt::format("{} {}{}{}", verdict.space, verdict.position, verdict.condition.empty() ? "" : " ",
                               verdict.condition)
                 : fmt::format("{}{}{}", verdict.person, verdict.condition.empty() ? "" : " ", verdict.condition)});
        close(std::move(verdict), "");
    }

    static std::string unknown_guard(const Verdict& verdict)
    {
        return verdict.uncertainty
                   ? fmt::format("the decision rule is guarded, and the uncertainty of the value is not known ({}); "
                                 "state it, or take decision_rule = \"simple\"",
                                 fmt::join(verdict.uncertainty->not_covered, "; "))
                   : fmt::format("the decision rule is guarded, and no uncertainty is known for {}; take "
                                 "decision_rule = \"simple\"",
                                 verdict.quantity);
    }

    // Of a true value: that it lies where the bands exceed, and that it lies in the band of the verdict (the most
    // severe that holds it, as for the value itself).
    static void say_how_sure(Verdict& verdict, const Propagated& propagated)
    {
        const std::vector<Band>& bands = verdict.bands;
        const auto from = [&](std::size_t i) {
            if (i == 0 || i == bands.size()) return i == 0 ? 1.0 : 0.0;
            return propagated.probability_of_at_least(bands[i].from ? *bands[i].from
                                                                    : bands[i - 1].limit.value_or(0.0));
        };
        const auto index = static_cast<std::size_t>(*verdict.band_index);
        verdict.uncertainty->probability_of_band = std::max(0.0, from(index) - from(index + 1));
        const auto exceeding = std::ranges::find(bands, true, &Band::exceeds);
        if (exceeding != bands.end())
            verdict.uncertainty->probability_exceeded = from(static_cast<std::size_t>(exceeding - bands.begin()));
    }

    // The nearest bound between the verdict's band and its neighbours, or of the two steps of a decision.
    static void say_what_settles(Verdict& verdict, const Propagated& propagated)
    {
        std::vector<double> bounds;
        if (verdict.decision) bounds = {verdict.decision->limits.lower, verdict.decision->limits.upper};
        const auto index = static_cast<std::size_t>(*verdict.band_index);
        for (const std::size_t i : {index, index + 1}) {
            if (verdict.decision || i == 0 || i >= verdict.bands.size()) continue;
            const std::optional<double> bound =
                verdict.bands[i].from ? verdict.bands[i].from : verdict.bands[i - 1].limit;
            if (bound) bounds.push_back(*bound);
        }
        if (bounds.empty()) return;
        const double nearest =
            *std::ranges::min_element(bounds, {}, [&](double bound) { return std::abs(bound - *verdict.value); });
        verdict.uncertainty->settling = settling(propagated, nearest, verdict.uncertainty->k, verdict.unit);
    }

    // The greatest value first; where it leaves the matter open, the average over the period decides.
    // `greatest`: what of it is compared.
    std::string decide(Verdict& verdict, const Criterion& criterion, const std::vector<Part>& parts, double greatest)
    {
        const DecisionRule& rule = *criterion.decision;
        const DecisionLimits& limits = verdict.decision->limits;
        double events = 0.0;
        const bool counts = std::ranges::all_of(parts, [](const Part& part) { return part.events.has_value(); });
        for (const Part& part : parts) events += part.events.value_or(0.0);
        const bool rare = counts && events <= rule.rare_events;
        din4150_2::Outcome outcome = din4150_2::decide(greatest, {}, limits, rare, rule.strict);
        if (outcome == din4150_2::Outcome::open) {
            Notes notes;
            auto reached = values_of(verdict, criterion, quantity_of(rule.average_quantity), parts, notes);
            for (std::string& text : notes.take())
                if (std::ranges::find(verdict.notes, text) == verdict.notes.end())
                    verdict.notes.push_back(std::move(text));
            if (!reached) return reached.error().why;
            BECALM_ASSERT(!reached->values.empty()); // the first quantity had some
            const Combined& average = reached->values.front();
            verdict.decision->value = average.value;
            double held = average.value;
            if (survey_.decision_rule == Comparison::guarded) {
                std::optional<Propagated> propagated;
                const auto uncertainty =
                    uncertainty_of(criterion, *reached, average, quantity_of(rule.average_quantity), propagated);
                if (!uncertainty || !uncertainty->standard) return unknown_guard(verdict);
                held = compared(survey_.decision_rule, held, uncertainty->k * *uncertainty->standard);
            }
            outcome = din4150_2::decide(greatest, held, limits, rare, rule.strict);
        }
        verdict.band_index = outcome == din4150_2::Outcome::met_by_average ? 1 : din4150_2::is_met(outcome) ? 0 : 2;
        verdict.decision->words = din4150_2::words_of(outcome, limits, rule, verdict.decision->value);
        return {};
    }

    const Survey& survey_;
    const ChosenCriteria& chosen_;
    Group measured_;
    const Window* window_; // may be null
    Assessment& result_;
    std::set<const Measured*> of_tasks_;
    std::set<std::string> spaces_of_tasks_;
    std::map<PlaceKey, std::pair<const Criterion*, Group>> other_period_; // places with recordings of another period
    std::set<PlaceKey> this_period_;                                      // and those with some of the criterion's own
};

} // namespace

void reach_verdicts(const Survey& survey, const ChosenCriteria& chosen, const std::vector<Measured>& measured,
                    Assessment& result)
{
    Group all;
    for (const Measured& one : measured) all.push_back(&one);
    Verdicts(survey, chosen, std::move(all), nullptr, result).reach();
}

void reach_verdicts(const Survey& survey, const ChosenCriteria& chosen, const Window& window, Assessment& result)
{
    Group inside;
    for (const Window::Piece& piece : window.pieces) inside.push_back(piece.measured);
    Verdicts(survey, chosen, std::move(inside), &window, result).reach();
}

} // namespace becalm::evaluators
