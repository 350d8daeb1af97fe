#include "evaluators/exposure_table.h"

#include <algorithm>
#include <cmath>
#include <set>

#include <fmt/format.h>

#include "evaluators/classify.h"
#include "evaluators/combine.h"
#include "evaluators/exposure.h"
#include "evaluators/person_days.h"
#include "evaluators/term_value.h"
#include "evaluators/value_budget.h"
#include "evaluators/verdicts.h"

namespace becalm::evaluators {
namespace {

constexpr const char* seat_criteria[] = {"iso10326-1-seat-rms", "iso10326-1-seat-vdv"};

// The criteria whose values a table shows.
struct Carriers {
    const Criterion* a8 = nullptr;
    const Criterion* daily_vdv = nullptr; // not of hands
    const Criterion* points = nullptr;

    std::vector<const Criterion*> all() const
    {
        std::vector<const Criterion*> there;
        for (const Criterion* criterion : {a8, daily_vdv, points})
            if (criterion != nullptr) there.push_back(criterion);
        return there;
    }
};

const Criterion* known(const io::CriteriaLibrary& library, std::string_view id)
{
    const auto found = library.criteria.find(id);
    return found == library.criteria.end() ? nullptr : &found->second;
}

Carriers carriers_of(ExposureKind kind, const io::CriteriaLibrary& library)
{
    if (kind == ExposureKind::hand_arm)
        return {.a8 = known(library, "directive-2002-44-ec-hav"), .points = known(library, "eu-guide-hav-points")};
    return {.a8 = known(library, "directive-2002-44-ec-a8"),
            .daily_vdv = known(library, "directive-2002-44-ec-vdv"),
            .points = known(library, "eu-guide-wbv-points")};
}

// What a criterion makes of some tasks: the values of its terms and what is compared.
struct Reached {
    std::vector<std::optional<TermValue>> terms = {}; // in the order of the criterion's; empty: not measured
    ExposureSum sum = {};
    std::string why_not = {};
};

std::vector<VerdictTerm> shown(const std::vector<TermValue>& terms)
{
    std::vector<VerdictTerm> all;
    for (const TermValue& term : terms) all.push_back(term.shown);
    return all;
}

// Of those that are judged apart, the greatest.
std::optional<Combined> greatest(const Criterion& criterion, const std::vector<VerdictTerm>& terms)
{
    std::vector<Combined> values = combine(criterion.rule, terms);
    const auto found = std::ranges::max_element(values, {}, &Combined::value);
    return found == values.end() ? std::nullopt : std::optional(std::move(*found));
}

class Table {
public:
    Table(const Survey& survey, const io::CriteriaLibrary& library, const Judge& taken_by_all,
          const std::vector<Measured>& measured)
        : survey_(survey), library_(library), ids_(taken_by_all.criteria), chosen_(survey, library, ids_),
          measured_(measured.size())
    {
        std::ranges::transform(measured, measured_.begin(), [](const Measured& one) { return &one; });
    }

    // `verdicts`: those of the day.
    std::vector<ExposureTable> of(const Exposure& day, const ChosenCriteria& asked,
                                  const std::vector<DayVerdict>& verdicts, const Assessment& seats) const
    {
        std::vector<ExposureTable> tables;
        for (const ExposureKind kind : {ExposureKind::whole_body, ExposureKind::hand_arm}) {
            const Carriers carriers = carriers_of(kind, library_);
            if (carriers.a8 == nullptr) continue; // only of a library that is not the program's own
            const DayTasks tasks = tasks_of_day(survey_, chosen_, measured_, day, *carriers.a8);
            std::set<Position> positions;
            for (const DayTask& task : tasks.tasks)
                for (const Measured* measured : task.part.group) positions.insert(measured->recording->position);
            // A day of which nothing was recorded says so once.
            if (positions.empty() && (kind == ExposureKind::hand_arm || tasks.tasks.empty())) continue;
            std::vector<std::optional<Position>> sides;
            if (kind == ExposureKind::hand_arm)
                for (const Position position : positions) sides.emplace_back(position);
            else
                sides.emplace_back();
            std::vector<ExposureTable> of_kind;
            for (const std::optional<Position>& hand : sides)
                of_kind.push_back(table(kind, hand, carriers, day, tasks, asked, verdicts, seats));
            const auto higher = std::ranges::max_element(
                of_kind, {}, [](const ExposureTable& table) { return table.sums.a8.value.value_or(-1.0); });
            for (ExposureTable& one : of_kind) one.governs = &one == &*higher;
            std::ranges::move(of_kind, std::back_inserter(tables));
        }
        return tables;
    }

private:
    ExposureTable table(ExposureKind kind, std::optional<Position> hand, const Carriers& carriers, const Exposure& day,
                        const DayTasks& tasks, const ChosenCriteria& asked, const std::vector<DayVerdict>& verdicts,
                        const Assessment& seats) const
    {
        ExposureTable result{.kind = kind, .notes = tasks.notes};
        if (hand) result.hand = name_of(*hand);
        for (const Criterion* criterion : carriers.all()) result.criteria.push_back(criterion->id);
        std::vector<Part> parts;
        bool all_there = true;
        for (const DayTask& task : tasks.tasks) {
            result.tasks.push_back(row(task, hand, carriers, seats));
            parts.push_back(task.part);
            all_there = all_there && result.tasks.back().why_not.empty();
        }
        if (all_there && !parts.empty()) total(result, carriers, parts, hand);
        for (const DayVerdict& verdict : verdicts) add_times(result, tasks, verdict.verdict, day, hand, asked);
        return result;
    }

    // One task alone.
    ExposureTask row(const DayTask& task, std::optional<Position> hand, const Carriers& carriers,
                     const Assessment& seats) const
    {
        ExposureTask result{.space = task.task->space,
                            .condition = task.task->condition,
                            .hours = task.task->hours,
                            .line = task.task->line,
                            .why_not = task.why_not.empty() ? "" : "cannot be judged, because " + task.why_not};
        if (hand)
            result.position = name_of(*hand);
        else if (!task.part.group.empty())
            result.position = name_of(task.part.group.front()->recording->position);
        else if (task.task->position)
            result.position = name_of(*task.task->position);
        for (const Measured* measured : task.part.group)
            if ((!hand || measured->recording->position == *hand) &&
                std::ranges::find(result.recordings, measured->recording->file) == result.recordings.end())
                result.recordings.push_back(measured->recording->file);
        if (hand && result.why_not.empty() && result.recordings.empty())
            result.why_not =
                fmt::format("cannot be judged, because this task was not recorded at the {}", name_of(*hand));
        if (!result.why_not.empty()) return result;
        Part as_measured = task.part; // over the judged duration
        as_measured.exposed_s.reset();
        Notes notes;
        Reached rms = reached(*carriers.a8, "weighted_rms", {as_measured}, hand, notes);
        if (!rms.why_not.empty()) {
            result.why_not = rms.why_not;
            return result;
        }
        result.magnitude = rms.sum;
        result.axes = axes_of(*carriers.a8, rms.terms);
        for (ExposureAxis& axis : result.axes) {
            const auto term =
                std::ranges::find_if(rms.terms, [&](const auto& one) { return one && one->shown.axis == axis.axis; });
            axis.rms = (*term)->shown.value;
            axis.judged_s = (*term)->shown.duration_s;
        }
        Notes unheard; // the r.m.s. value's notes are those of its powers too
        if (carriers.daily_vdv != nullptr) {
            const Criterion without_reference = [&] {
                Criterion copy = *carriers.daily_vdv;
                copy.reference_h.reset(); // a dose without exposure and reference is that of the record
                return copy;
            }();
            const Reached dose = reached(without_reference, "vdv", {as_measured}, hand, unheard);
            for (ExposureAxis& axis : result.axes)
                for (const auto& term : dose.terms)
                    if (term && term->shown.axis == axis.axis) axis.vdv = term->shown.value;
        }
        result.sums = sums(result.axes, carriers, {task.part}, hand, unheard);
        if (result.sums.points.value) result.points_an_hour = *result.sums.points.value / result.hours;
        result.notes = notes.take();
        if (result.position == name_of(Position::seat_pan)) result.seat = seat_of(*task.task, seats);
        return result;
    }

    void total(ExposureTable& result, const Carriers& carriers, const std::vector<Part>& parts,
               std::optional<Position> hand) const
    {
        Notes notes;
        const Reached day = reached(*carriers.a8, carriers.a8->quantity, parts, hand, notes);
        if (!day.why_not.empty()) return; // an axis that one task has and another has not, where it is needed
        result.axes = axes_of(*carriers.a8, day.terms);
        Notes unheard;
        result.sums = sums(result.axes, carriers, parts, hand, unheard);
    }

    // A(8), dose and points over the parts, into the axes too.
    ExposureSums sums(std::vector<ExposureAxis>& axes, const Carriers& carriers, const std::vector<Part>& parts,
                      std::optional<Position> hand, Notes& notes) const
    {
        const auto put = [&](const Criterion* criterion, std::optional<double> ExposureAxis::*into) {
            if (criterion == nullptr) return ExposureSum{};
            const Reached one = reached(*criterion, criterion->quantity, parts, hand, notes);
            for (ExposureAxis& axis : axes)
                for (const auto& term : one.terms)
                    if (term && term->shown.axis == axis.axis) axis.*into = term->shown.factor * *term->shown.value;
            return one.sum;
        };
        return {.a8 = put(carriers.a8, &ExposureAxis::a8),
                .daily_vdv = put(carriers.daily_vdv, &ExposureAxis::daily_vdv),
                .points = put(carriers.points, &ExposureAxis::points)};
    }

    static std::vector<ExposureAxis> axes_of(const Criterion& criterion,
                                             const std::vector<std::optional<TermValue>>& terms)
    {
        std::vector<ExposureAxis> axes;
        for (std::size_t i = 0; i < terms.size(); ++i)
            if (terms[i])
                axes.push_back({.axis = std::string(name_of(criterion.terms[i].axis)),
                                .weighting = std::string(name_of(criterion.terms[i].weighting)),
                                .factor = criterion.terms[i].factor});
        return axes;
    }

    Reached reached(const Criterion& criterion, std::string_view quantity_name, const std::vector<Part>& parts,
                    std::optional<Position> hand, Notes& notes) const
    {
        const Quantity& quantity = *quantity_named(quantity_name);
        Reached result;
        std::vector<TermValue> there;
        for (const AxisTerm& term : criterion.terms) {
            result.terms.emplace_back();
            if (criterion.rule == AxisRule::vertical && term.axis != Axis::z) continue;
            auto value = term_value(criterion, quantity, term, parts, hand, notes);
            if (!value) {
                result.why_not = "cannot be judged, because " + value.error().why;
                return result;
            }
            if (*value) {
                there.push_back(**value);
                result.terms.back() = std::move(*value);
            } else if (std::ranges::find(criterion.needed, term.axis) != criterion.needed.end()) {
                result.why_not = fmt::format("cannot be judged, because the axis {0} is missing, which {1} needs; map "
                                             "a channel to {0}",
                                             name_of(term.axis), criterion.id);
                return result;
            } else {
                notes.add(
                    fmt::format("not measured: axis {}; a higher value there would go unnoticed", name_of(term.axis)));
            }
        }
        const auto value = greatest(criterion, shown(there));
        if (!value) {
            result.why_not =
                fmt::format("cannot be judged, because none of the axes that {} looks at was measured", criterion.id);
            return result;
        }
        result.sum = {.value = value->value, .axis = value->axis, .expanded_uncertainty = {}};
        ValueBudget budget(survey_, quantity);
        budget.add(there, *value);
        if (criterion.rule == AxisRule::highest)
            for (const Combined& axis : combine(AxisRule::each, shown(there)))
                if (axis.axis != value->axis) budget.add(there, axis);
        std::optional<Propagated> propagated;
        const Uncertainty uncertainty = budget.uncertainty(propagated);
        if (uncertainty.standard) result.sum.expanded_uncertainty = uncertainty.k * *uncertainty.standard;
        return result;
    }

    std::vector<SeatValue> seat_of(const Task& task, const Assessment& seats) const
    {
        std::vector<SeatValue> values;
        for (const Verdict& verdict : seats.verdicts) {
            if (verdict.space != task.space || (!task.condition.empty() && verdict.condition != task.condition))
                continue;
            values.push_back({.criterion = verdict.criterion,
                              .percent = verdict.judged ? verdict.value : std::nullopt,
                              .expanded_uncertainty = verdict.expanded_uncertainty,
                              .why_not = verdict.why_not});
        }
        return values;
    }

    // --- times ---

    static std::vector<Band> bands_of(const Survey& survey, const Criterion& criterion, const Verdict& verdict,
                                      const std::string& use)
    {
        if (!verdict.bands.empty()) return verdict.bands;
        const bool fits = criterion.settings.empty() ||
                          std::ranges::find(criterion.settings, survey.setting) != criterion.settings.end();
        if (criterion.check_first || criterion.limits_missing || !fits) return {};
        const Scale* scale = scale_for(criterion, use);
        return scale == nullptr ? std::vector<Band>() : scale->bands;
    }

    void add_times(ExposureTable& table, const DayTasks& rows, const Verdict& verdict, const Exposure& day,
                   std::optional<Position> hand, const ChosenCriteria& asked) const
    {
        const Criterion* criterion = known(library_, verdict.criterion);
        if (criterion == nullptr || is_of_hands(*criterion) != hand.has_value()) return;
        for (const ExposureTask& task : table.tasks) // of axes that are judged apart the first verdict tells them all
            if (std::ranges::find(task.times, criterion->id, &TaskTime::criterion) != task.times.end()) return;
        const DayTasks tasks = tasks_of_day(survey_, asked, measured_, day, *criterion);
        Notes unheard;
        std::vector<Reached> each;
        for (const DayTask& task : tasks.tasks)
            each.push_back(task.why_not.empty() ? reached(*criterion, criterion->quantity, {task.part}, hand, unheard)
                                                : Reached{.why_not = task.why_not});
        const double power = power_of_time(criterion->quantity);
        for (std::size_t i = 0; i < each.size(); ++i) {
            if (!each[i].why_not.empty()) continue;
            const Task& task = *tasks.tasks[i].task;
            const auto found = std::ranges::find(rows.tasks, &task, &DayTask::task);
            if (found == rows.tasks.end()) continue;
            ExposureTask& row = table.tasks[static_cast<std::size_t>(found - rows.tasks.begin())];
            const std::vector<Band> bands = bands_of(survey_, *criterion, verdict, survey_.space(task.space)->use);
            for (std::size_t b = 0; b + 1 < bands.size(); ++b) {
                if (!bands[b].limit) continue;
                TaskTime time{.criterion = criterion->id,
                              .band = bands[b + 1].name,
                              .bound = *bands[b].limit,
                              .unit = criterion->unit,
                              .exceeds = bands[b + 1].exceeds};
                if (*each[i].sum.value > 0.0)
                    time.alone_h = task.hours * std::pow(time.bound / *each[i].sum.value, power);
                set_beside(time, *criterion, each, i, task.hours);
                row.times.push_back(std::move(time));
            }
        }
    }

    // What is compared where the i-th task lasts `stretch` times as long as it does.
    static double with_stretched(const Criterion& criterion, const std::vector<Reached>& each, std::size_t i,
                                 double stretch)
    {
        const double by = std::pow(stretch, 1.0 / power_of_time(criterion.quantity));
        std::vector<VerdictTerm> terms;
        for (std::size_t t = 0; t < criterion.terms.size(); ++t) {
            std::vector<double> values;
            for (std::size_t k = 0; k < each.size(); ++k)
                if (each[k].terms[t]) values.push_back(*each[k].terms[t]->shown.value * (k == i ? by : 1.0));
            if (values.size() < each.size()) continue; // as for the verdict: an axis counts where all tasks have it
            terms.push_back(each[i].terms[t]->shown);
            terms.back().value = combined(criterion.conditions, values);
        }
        const auto value = greatest(criterion, terms);
        return value ? value->value : 0.0;
    }

    static void set_beside(TaskTime& time, const Criterion& criterion, const std::vector<Reached>& each, std::size_t i,
                           double hours)
    {
        if (std::ranges::any_of(each, [](const Reached& one) { return !one.why_not.empty(); })) return;
        const auto value = [&](double stretch) { return with_stretched(criterion, each, i, stretch); };
        if (value(0.0) > time.bound) {
            time.others_exceed = true;
            time.beside_h = 0.0;
            return;
        }
        double above = 1.0;
        constexpr double most = 1e30; // a motion so weak is none
        while (value(above) <= time.bound && above < most) above *= 2.0;
        if (above >= most) return;
        double below = 0.0;
        constexpr int halvings = 200; // down to neighbouring numbers
        for (int step = 0; step < halvings; ++step) {
            const double middle = 0.5 * (below + above);
            (value(middle) > time.bound ? above : below) = middle;
        }
        time.beside_h = hours * below;
    }

    const Survey& survey_;
    const io::CriteriaLibrary& library_;
    const std::vector<std::string>& ids_;
    ChosenCriteria chosen_;
    std::vector<const Measured*> measured_;
};

std::vector<Problem> unknown_person(const Survey& survey, const std::string& person)
{
    if (survey.exposures.empty())
        return {{.file = survey.path,
                 .what = "the survey tells nobody's day",
                 .remedy = "add an [[exposure]] with a person and tasks = [ { space = \"...\", hours = 4.0 } ]"}};
    if (person.empty() || std::ranges::find(survey.exposures, person, &Exposure::person) != survey.exposures.end())
        return {};
    std::set<std::string> persons;
    for (const Exposure& exposure : survey.exposures) persons.insert(exposure.person);
    return {{.kind = ProblemKind::usage,
             .what = fmt::format("the survey has no person \"{}\"", person),
             .remedy = fmt::format("it tells of {}", fmt::join(persons, ", "))}};
}

std::vector<Problem> not_daily(const io::CriteriaLibrary& library, const std::vector<std::string>& ids)
{
    std::vector<Problem> problems;
    for (const std::string& id : ids)
        if (const Criterion* criterion = known(library, id); criterion != nullptr && !is_daily(*criterion))
            problems.push_back({.kind = ProblemKind::usage,
                                .what = fmt::format("{} judges no working day", id),
                                .remedy = "take one of daily exposures, such as directive-2002-44-ec-a8"});
    return problems;
}

// The survey with these days, and with what was recorded where their tasks are.
Survey days_of(const Survey& survey, const std::string& person)
{
    Survey days = survey;
    if (!person.empty()) std::erase_if(days.exposures, [&](const Exposure& day) { return day.person != person; });
    std::set<std::string> spaces;
    for (const Exposure& day : days.exposures)
        for (const Task& task : day.tasks) spaces.insert(task.space);
    std::erase_if(days.recordings, [&](const Recording& recording) { return !spaces.contains(recording.space); });
    return days;
}

// The criteria of a working day that the survey, or the call, asks for.
std::vector<Judge> asked_judges(const Survey& survey, const io::CriteriaLibrary& library,
                                const std::vector<std::string>& ids)
{
    std::vector<Judge> judges;
    for (const Judge& judge : survey.judges) {
        Judge daily = judge;
        std::erase_if(daily.criteria, [&](const std::string& id) {
            const Criterion* criterion = known(library, id);
            return criterion == nullptr || !is_daily(*criterion) ||
                   (!ids.empty() && std::ranges::find(ids, id) == ids.end());
        });
        if (!ids.empty()) daily.uses.clear();
        if (!daily.criteria.empty()) judges.push_back(std::move(daily));
    }
    if (!ids.empty()) judges.push_back({.criteria = ids});
    return judges;
}

// Where seat and floor were both measured.
Assessment seats_of(const Survey& survey, const io::CriteriaLibrary& library, const std::vector<Measured>& measured)
{
    Assessment seats;
    std::vector<std::string> ids;
    for (const char* id : seat_criteria)
        if (known(library, id) != nullptr) ids.emplace_back(id);
    if (ids.empty()) return seats;
    reach_verdicts(survey, ChosenCriteria(survey, library, ids), measured, seats);
    std::erase_if(seats.verdicts, [&](const Verdict& verdict) {
        const auto there = [&](Position position) {
            return std::ranges::any_of(survey.recordings, [&](const Recording& recording) {
                return recording.space == verdict.space && recording.condition == verdict.condition &&
                       recording.position == position;
            });
        };
        return !there(Position::seat_pan) || !there(Position::floor);
    });
    return seats;
}

DayVerdict told(Verdict verdict, const Survey& survey, const Criterion& criterion, bool asked_for)
{
    DayVerdict day{.verdict = std::move(verdict), .asked_for = asked_for};
    for (TimeToBound& time : times_to_bounds(day.verdict, exposed_hours(survey, criterion, day.verdict)))
        day.times.push_back(
            {.band = std::move(time.band), .bound = time.bound, .exceeds = time.exceeds, .hours = time.hours});
    return day;
}

} // namespace

Results<ExposureReport> exposure_report(const Survey& survey, const io::CriteriaLibrary& library,
                                        const ExposureOptions& options)
{
    const std::vector<std::string>& ids = options.assess.criteria;
    std::vector<Problem> problems = unknown_person(survey, options.person);
    std::ranges::move(ChosenCriteria(survey, library, ids).problems(), std::back_inserter(problems));
    std::ranges::move(not_daily(library, ids), std::back_inserter(problems));
    if (!problems.empty()) return tl::unexpected(std::move(problems));

    ExposureReport report{.title = survey.title,
                          .setting = std::string(name_of(survey.setting)),
                          .file = survey.path,
                          .sha256 = survey.sha256};
    Survey asked = days_of(survey, options.person);
    asked.judges = asked_judges(survey, library, ids);
    std::set<std::string> asked_for;
    for (const Judge& judge : asked.judges) asked_for.insert(judge.criteria.begin(), judge.criteria.end());
    if (const auto unjudged = ids.empty() ? unjudged_tasks(asked, library) : std::vector<UnjudgedTask>();
        !unjudged.empty()) {
        const auto offers = daily_criteria_for(asked, library, unjudged);
        std::set<std::string> uses, places;
        for (const UnjudgedTask& task : unjudged) {
            uses.insert(task.use);
            places.insert(fmt::format("{} ({})", task.use, name_of(task.position)));
        }
        if (!offers.empty()) {
            asked.judges.push_back({.criteria = offers.front().criteria, .uses = {uses.begin(), uses.end()}});
            report.notes.push_back(
                fmt::format("no criterion of the survey judges a day at {}: {} is taken; name others "
                            "in a [[judge]] where other law holds",
                            fmt::join(places, ", "), offers.front().edition));
        }
    }
    if (survey.decision_rule == Comparison::guarded)
        report.notes.emplace_back("verdicts are guarded; times are those of the values without their uncertainty");

    // Every lane that any of the values needs is run once.
    Judge carriers;
    for (const ExposureKind kind : {ExposureKind::whole_body, ExposureKind::hand_arm})
        for (const Criterion* criterion : carriers_of(kind, library).all()) carriers.criteria.push_back(criterion->id);
    Survey all = asked;
    all.judges.push_back(carriers);
    for (const char* id : seat_criteria)
        if (known(library, id) != nullptr) all.judges.push_back({.criteria = {id}});
    const std::vector<std::string> own_judges;
    if (all.recordings.empty()) {
        for (const Exposure& day : all.exposures) {
            ExposureDay& told_day = report.days.emplace_back();
            told_day.person = day.person;
            told_day.day = day.day;
            const std::vector<Measured> none;
            told_day.tables = Table(asked, library, carriers, none).of(day, ChosenCriteria(asked, library, {}), {}, {});
            for (const Task& task : day.tasks) told_day.hours += task.hours;
        }
        return report;
    }
    AssessOptions measuring = options.assess;
    measuring.criteria.clear();
    measuring.judge = false;
    auto measured = judged(all, library, measuring);
    if (!measured) return tl::unexpected(std::move(measured.error()));

    const ChosenCriteria chosen(asked, library, own_judges);
    Assessment assessment = std::move(measured->assessment);
    reach_verdicts(asked, chosen, measured->measured, assessment);
    std::erase_if(assessment.verdicts, [](const Verdict& verdict) { return verdict.person.empty(); });
    report.findings = std::move(assessment.findings);
    const Assessment seats = seats_of(asked, library, measured->measured);
    const Table table(asked, library, carriers, measured->measured);
    for (const Duty& duty : duties(assessment.verdicts, library)) {
        ExposureDuty& said = report.duties.emplace_back();
        said.words = duty.words;
        for (const Verdict* verdict : duty.days)
            said.days.push_back(fmt::format("{}{}{}: {}", verdict->person, verdict->condition.empty() ? "" : ", ",
                                            verdict->condition,
                                            verdict->bands[static_cast<std::size_t>(*verdict->band_index)].name));
    }
    for (const Exposure& day : asked.exposures) {
        ExposureDay told_day{.person = day.person, .day = day.day};
        for (const Task& task : day.tasks) told_day.hours += task.hours;
        for (const Verdict& verdict : assessment.verdicts) {
            const Criterion& criterion = *known(library, verdict.criterion);
            if (verdict.person == day.person && verdict.condition == day.day && !refers_to_a_week(criterion))
                told_day.verdicts.push_back(told(verdict, asked, criterion, asked_for.contains(criterion.id)));
        }
        told_day.tables = table.of(day, chosen, told_day.verdicts, seats);
        report.days.push_back(std::move(told_day));
    }
    for (const Verdict& verdict : assessment.verdicts)
        if (const Criterion& criterion = *known(library, verdict.criterion); refers_to_a_week(criterion))
            report.weeks.push_back(told(verdict, asked, criterion, asked_for.contains(criterion.id)));
    return report;
}

} // namespace becalm::evaluators
