#include "evaluators/monitor.h"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <limits>
#include <map>
#include <set>
#include <thread>
#include <tuple>

#include <fmt/chrono.h>
#include <fmt/format.h>

#include "evaluators/en12299.h"
#include "evaluators/fitness.h"
#include "evaluators/quantity.h"
#include "evaluators/selection.h"
#include "evaluators/survey_conditions.h"
#include "evaluators/verdicts.h"
#include "filters/student_t.h"
#include "src/model/clock_span.h"

namespace becalm::evaluators {
namespace {

using std::chrono::days;
using std::chrono::sys_days;

constexpr double day_s = 86400.0, hour_s = 3600.0, week_s = 7.0 * day_s;
constexpr double shortest_s = 1.0;     // of a period: a row of the ledger
constexpr double clocks_agree_s = 1.0; // recordings that follow each other may overlap so far
constexpr int most_days = 3660;        // between the first and the last recording: beyond, a start is wrong
constexpr double half_percent = 50.0;  // not a limit: of a period, what a reader is told of

double seconds_of(sys_days date) { return static_cast<double>(date.time_since_epoch().count()) * day_s; }

sys_days date_of(double local_seconds) { return sys_days(days(static_cast<int>(std::floor(local_seconds / day_s)))); }

// To the second, by the clock that is `offset_s` ahead of UTC.
std::string text_of(double utc_s, double offset_s)
{
    const auto local = std::chrono::sys_seconds(std::chrono::seconds(std::llround(utc_s + offset_s)));
    const long minutes = std::lround(std::abs(offset_s) / 60.0);
    return fmt::format("{:%Y-%m-%dT%H:%M:%S}{}{:02}:{:02}", fmt::gmtime(local), offset_s < 0.0 ? '-' : '+',
                       minutes / 60, minutes % 60);
}

double length_of(const std::vector<TimeSpan>& spans)
{
    double sum = 0.0;
    for (const TimeSpan& span : spans) sum += span.to_s - span.from_s;
    return sum;
}

std::vector<TimeSpan> joined(std::vector<TimeSpan> spans)
{
    std::ranges::sort(spans, {}, &TimeSpan::from_s);
    std::vector<TimeSpan> result;
    for (const TimeSpan& span : spans) {
        if (!(span.from_s < span.to_s)) continue;
        if (!result.empty() && span.from_s <= result.back().to_s)
            result.back().to_s = std::max(result.back().to_s, span.to_s);
        else
            result.push_back(span);
    }
    return result;
}

// The clock of a place over a campaign: each recording's start says by how much it is ahead of UTC until the next one.
class Clock {
public:
    struct Span {
        TimeSpan utc;
        double offset_s;
    };

    explicit Clock(std::vector<LocalStart> starts)
    {
        std::ranges::sort(starts, {}, utc_s);
        for (const LocalStart& start : starts)
            if (changes_.empty() || changes_.back().second != start.offset_s)
                changes_.emplace_back(utc_s(start), start.offset_s);
        changes_.front().first = -std::numeric_limits<double>::infinity();
    }

    std::set<double> offsets() const
    {
        std::set<double> all;
        for (const auto& [from, offset] : changes_) all.insert(offset);
        return all;
    }

    // When the clock shows what lies in `local`: twice, or never, around a change.
    std::vector<Span> shown(const std::vector<TimeSpan>& local, std::optional<double> only = {}) const
    {
        std::vector<Span> spans;
        for (std::size_t i = 0; i < changes_.size(); ++i) {
            const auto [begin, offset] = changes_[i];
            if (only && *only != offset) continue;
            const double end =
                i + 1 < changes_.size() ? changes_[i + 1].first : std::numeric_limits<double>::infinity();
            for (const TimeSpan& span : local) {
                const TimeSpan utc{std::max(span.from_s - offset, begin), std::min(span.to_s - offset, end)};
                if (utc.from_s < utc.to_s) spans.push_back({utc, offset});
            }
        }
        std::ranges::sort(spans, {}, [](const Span& span) { return span.utc.from_s; });
        return spans;
    }

private:
    std::vector<std::pair<double, double>> changes_; // from (UTC) → ahead of it
};

// A criterion over the hours that it is judged for.
struct Division {
    const Criterion* criterion = nullptr;
    std::string period = {};
    std::vector<ClockSpan> hours = {}; // empty: whole days
};

// One period of a division.
struct Slice {
    std::size_t order = 0; // in time
    sys_days date = {};
    std::optional<int> hour = {};
    std::optional<double> offset_s = {}; // of an hour: the clock shows some of them twice
    std::vector<TimeSpan> local = {};    // seconds since 1970 by the clock of the place
    double expected_s = 0.0;
    std::string from = {}, to = {};
};

// A slice with what was recorded in it.
struct Task {
    std::size_t division = 0;
    Slice slice = {};
    Window window = {};
    bool has_stated = false; // recordings whose condition states the period: how long it lasts is not known
    Assessment result = {};
};

struct Entry {
    std::size_t order = 0;
    MonitoredPeriod period = {};
};

// Space, position, condition of a series.
using SeriesKey = std::tuple<std::size_t, std::string, std::string>; // division, position, condition

class Campaign {
public:
    Campaign(const Survey& survey, const io::CriteriaLibrary& library, const MonitorOptions& options)
        : survey_(survey), options_(options), measuring_(survey, library, options.assess)
    {
    }

    Results<MonitorReport> report()
    {
        if (auto problems = measuring_.problems(); !problems.empty()) return tl::unexpected(std::move(problems));
        report_ = {.title = survey_.title,
                   .setting = std::string(name_of(survey_.setting)),
                   .decision_rule = std::string(name_of(survey_.decision_rule)),
                   .file = survey_.path,
                   .sha256 = survey_.sha256,
                   .by = options_.by,
                   .least_coverage_percent = options_.least_coverage_percent};
        if (auto problems = problems_of_the_question(); !problems.empty()) return tl::unexpected(std::move(problems));
        for (Finding& finding : survey_conditions(survey_)) add(std::move(finding));
        std::vector<Place> places = all_places();
        if (places.empty()) return tl::unexpected(std::move(without_start_));
        for (Place& place : places) {
            if (auto problem = look_at(place)) return tl::unexpected(std::vector<Problem>{std::move(*problem)});
            if (options_.assess.stop.stop_requested())
                return tl::unexpected(std::vector<Problem>{{.kind = ProblemKind::outside_world,
                                                            .file = survey_.path,
                                                            .what = "stopped before the end",
                                                            .remedy = "nothing was written"}});
        }
        return std::move(report_);
    }

private:
    struct Place {
        std::string space = {};
        std::vector<std::size_t> recordings = {}; // in the survey's order
        std::map<std::size_t, LocalStart> starts = {};
    };

    void add(Finding finding)
    {
        if (told_.emplace(finding.code + finding.message).second) report_.findings.push_back(std::move(finding));
    }

    // --- what is asked ---

    std::vector<const Criterion*> criteria_of(const std::vector<std::size_t>& recordings) const
    {
        std::vector<const Criterion*> criteria;
        for (const std::size_t i : recordings)
            for (const Criterion* criterion : measuring_.chosen().of(survey_.recordings[i]))
                if (std::ranges::find(criteria, criterion) == criteria.end()) criteria.push_back(criterion);
        return criteria;
    }

    std::vector<Problem> problems_of_the_question()
    {
        std::vector<std::size_t> all(survey_.recordings.size());
        for (std::size_t i = 0; i < all.size(); ++i) all[i] = i;
        std::vector<Problem> problems;
        const auto refuse = [&](std::string what, std::string remedy) {
            problems.push_back({.kind = ProblemKind::usage, .what = std::move(what), .remedy = std::move(remedy)});
        };
        for (const Criterion* criterion : criteria_of(all)) {
            if (options_.by == MonitorBy::week && criterion->rest &&
                criterion->rest->sunday_hours != criterion->rest->hours)
                refuse(fmt::format("{} has other hours of rest on Sundays, so a week is no sum of equal days",
                                   criterion->id),
                       "judge it by day");
            if (quantity_named(criterion->quantity)->daily && !survey_.exposures.empty())
                refuse(fmt::format("{} judges the days of persons, which the survey puts together from tasks",
                                   criterion->id),
                       "let `becalm assess` judge it, or name other criteria");
            if (!criterion->hours.empty() && options_.periods.empty()) {
                const auto known = std::ranges::find(named_, criterion->period, &NamedHours::name);
                if (known == named_.end()) named_.push_back({criterion->period, criterion->hours.front()});
            }
        }
        if (!options_.periods.empty()) named_ = options_.periods;
        if (options_.by == MonitorBy::period && named_.empty())
            refuse("no criterion says which hours its period has", "name the hours, such as night=22:00-06:00");
        if (options_.from && options_.to && *options_.to < *options_.from)
            refuse("the last day lies before the first", "turn them round");
        if (options_.from && options_.to && *options_.to - *options_.from > days(most_days))
            refuse("more than ten years are asked for", "ask for less at once");
        return problems;
    }

    std::vector<Division> divisions_of(const Place& place) const
    {
        std::vector<Division> divisions;
        for (const Criterion* criterion : criteria_of(place.recordings)) {
            if (!criterion->period.empty() || options_.by != MonitorBy::period) {
                divisions.push_back({criterion, criterion->period, criterion->hours});
                continue;
            }
            for (const NamedHours& named : named_) divisions.push_back({criterion, named.name, {named.hours}});
        }
        return divisions;
    }

    // --- where and when ---

    std::vector<Place> all_places()
    {
        std::vector<Place> places;
        std::set<std::string> unknown;
        for (std::size_t i = 0; i < survey_.recordings.size(); ++i) {
            const Recording& recording = survey_.recordings[i];
            auto place = std::ranges::find(places, recording.space, &Place::space);
            if (place == places.end()) place = places.insert(place, {.space = recording.space});
            place->recordings.push_back(i);
            if (const auto start = local_start(recording.start)) {
                place->starts.emplace(i, *start);
                continue;
            }
            unknown.insert(recording.space);
            const std::string what = fmt::format("{}: it is not known on which day it was recorded", recording.file);
            const std::string remedy = "add start = \"2026-05-02T10:00:00+02:00\" with its own date, time and offset";
            without_start_.push_back({.file = survey_.path, .line = recording.line, .what = what, .remedy = remedy});
            add({.severity = Severity::refusal,
                 .code = "no-start",
                 .message = fmt::format("{}, so the space {} is left out; {}", what, recording.space, remedy),
                 .recording = recording.file});
        }
        std::erase_if(places, [&](const Place& place) { return unknown.contains(place.space); });
        return places;
    }

    // Those that end before the first day asked for, as the next one of their kind tells.
    std::set<std::size_t> before_the_question(const Place& place) const
    {
        std::set<std::size_t> before;
        if (!options_.from) return before;
        std::map<std::string, std::vector<std::pair<double, std::size_t>>> sequences;
        for (const auto& [i, start] : place.starts) {
            const Recording& recording = survey_.recordings[i];
            std::string kind = fmt::format("{} {}", name_of(recording.position), recording.condition);
            for (const ChannelMapping& mapping : recording.channels) kind += fmt::format(" {}", name_of(mapping.axis));
            sequences[kind].emplace_back(utc_s(start), i);
        }
        for (auto& [kind, sequence] : sequences) {
            std::ranges::sort(sequence);
            for (std::size_t k = 0; k + 1 < sequence.size(); ++k) {
                // By any clock, and with a night that is looked at from noon to noon.
                if (sequence[k + 1].first < seconds_of(*options_.from) - day_s) before.insert(sequence[k].second);
            }
        }
        return before;
    }

    std::vector<TimeSpan> hours_on(sys_days date, const std::vector<ClockSpan>& hours) const
    {
        const double midnight = seconds_of(date);
        if (hours.empty()) return {{midnight, midnight + day_s}};
        std::vector<TimeSpan> spans;
        for (const ClockSpan& span : hours)
            spans.push_back({midnight + span.from_min * 60.0,
                             midnight + span.to_min * 60.0 + (span.to_min < span.from_min ? day_s : 0.0)});
        return joined(std::move(spans));
    }

    std::vector<Slice> slices_of(const Division& division, sys_days date, const Clock& clock) const
    {
        std::vector<Slice> slices;
        const auto put = [&](Slice slice) {
            const auto shown = clock.shown(slice.local, slice.offset_s);
            if (shown.empty()) return;
            for (const Clock::Span& span : shown) slice.expected_s += span.utc.to_s - span.utc.from_s;
            slice.from = text_of(shown.front().utc.from_s, shown.front().offset_s);
            slice.to = text_of(shown.back().utc.to_s, shown.back().offset_s);
            slices.push_back(std::move(slice));
        };
        switch (options_.by) {
        case MonitorBy::day:
        case MonitorBy::period: put({.date = date, .local = hours_on(date, division.hours)}); break;
        case MonitorBy::week: {
            Slice week{.date = date};
            for (int d = 0; d < 7; ++d)
                for (const TimeSpan& span : hours_on(date + days(d), division.hours)) week.local.push_back(span);
            week.local = joined(std::move(week.local));
            put(std::move(week));
            break;
        }
        case MonitorBy::hour: {
            std::vector<TimeSpan> wanted = hours_on(date - days(1), division.hours);
            for (const TimeSpan& span : hours_on(date, division.hours)) wanted.push_back(span);
            wanted = joined(std::move(wanted));
            for (int hour = 0; hour < 24; ++hour) {
                const TimeSpan span{seconds_of(date) + hour * hour_s, seconds_of(date) + (hour + 1) * hour_s};
                for (const double offset : clock.offsets())
                    put({.date = date, .hour = hour, .offset_s = offset, .local = common(std::span(&span, 1), wanted)});
            }
            std::ranges::stable_sort(slices, [](const Slice& a, const Slice& b) {
                return seconds_of(a.date) + *a.hour * hour_s - *a.offset_s <
                       seconds_of(b.date) + *b.hour * hour_s - *b.offset_s;
            });
        }
        }
        return slices;
    }

    // A recording whose condition states the period stands for it by all that lies on a day; a night has its midnight
    // in the middle.
    std::vector<TimeSpan> stated_spans(const Slice& slice, const Criterion& criterion) const
    {
        if (slice.hour) return slice.local;
        const double shift = criterion.period == "night" ? day_s / 2.0 : 0.0;
        const double from = seconds_of(slice.date) + shift;
        return {{from, from + (options_.by == MonitorBy::week ? week_s : day_s)}};
    }

    bool states_period(const Recording& recording, const Criterion& criterion) const
    {
        const Condition* condition = survey_.condition(recording.condition);
        return !criterion.period.empty() && condition != nullptr && !condition->period.empty();
    }

    bool stands_for_another(const Recording& recording, const Criterion& criterion) const
    {
        const std::string& period = survey_.condition(recording.condition)->period;
        return period != criterion.period && !(period == "rest" && criterion.period == "day");
    }

    // What of the recording lies in the slice; nothing where that is less than a row.
    std::optional<Window::Piece> piece_of(std::size_t i, const LocalStart& start, const Slice& slice,
                                          const Criterion& criterion, bool is_stated) const
    {
        const Measured& measured = measuring_.measured()[i];
        if (slice.offset_s && *slice.offset_s != start.offset_s) return {};
        const double begin = local_s(start);
        const auto local = is_stated ? stated_spans(slice, criterion) : slice.local;
        Window::Piece piece{.measured = &measured};
        if (!measured.unreadable.empty()) { // where it begins it is missed
            const bool begins_here = std::ranges::any_of(
                local, [&](const TimeSpan& span) { return begin >= span.from_s && begin < span.to_s; });
            return begins_here ? std::optional(std::move(piece)) : std::nullopt;
        }
        if (!measured.pass) return {};
        const double duration = measured.pass->duration_s;
        for (const TimeSpan& span : local) {
            const double from = std::max(0.0, std::ceil(span.from_s - begin));
            const double to = std::min(std::ceil(span.to_s - begin), duration);
            if (to - from >= shortest_s) piece.spans.push_back({from, to});
        }
        if (piece.spans.empty()) return {};
        if (!measured.refused.empty()) piece.refused = refused_in(measured, piece.spans);
        return piece;
    }

    static std::map<int, std::string> refused_in(const Measured& measured, const std::vector<TimeSpan>& spans)
    {
        const Recording& recording = *measured.recording;
        auto selected = common(selection(measured.pass->duration_s, 0.0, recording.excluded), spans);
        if (!recording.events.empty()) {
            std::vector<TimeSpan> events;
            for (const EventSpan& event : recording.events)
                events.push_back({std::floor(event.from_s), std::ceil(event.to_s)});
            selected = common(selected, events);
        }
        std::map<int, std::string> refused;
        for (const Finding& finding : fitness(recording.file, *measured.pass, measured.motion, selected))
            if (finding.severity == Severity::refusal && finding.channel && finding.code != "rate-too-low")
                refused.try_emplace(*finding.channel, finding.message);
        return refused;
    }

    // Seconds that were recorded twice would count twice.
    void refuse_overlaps(const Place& place, std::vector<Window::Piece>& pieces)
    {
        struct Part {
            TimeSpan utc;
            Window::Piece* piece;
            int channel;
        };
        std::map<std::tuple<Position, std::string, Axis>, std::vector<Part>> parts;
        for (Window::Piece& piece : pieces) {
            if (piece.spans.empty()) continue;
            const Recording& recording = *piece.measured->recording;
            const double begin = utc_s(place.starts.at(index_of(piece)));
            for (const ChannelMapping& mapping : recording.channels)
                for (const TimeSpan& span : piece.spans)
                    parts[{recording.position, recording.condition, mapping.axis}].push_back(
                        {{begin + span.from_s, begin + span.to_s}, &piece, mapping.channel});
        }
        for (auto& [where, list] : parts) {
            std::ranges::sort(list, {}, [](const Part& part) { return part.utc.from_s; });
            const Part* reaches = nullptr; // the furthest so far
            for (const Part& part : list) {
                if (reaches != nullptr && part.utc.from_s < reaches->utc.to_s - clocks_agree_s) {
                    const double both = std::min(reaches->utc.to_s, part.utc.to_s) - part.utc.from_s;
                    const std::string message = fmt::format(
                        "{} and {} were recorded at the same time, {:.0f} s of axis {}; correct the start of "
                        "one, or name the position or condition that tells them apart",
                        reaches->piece->measured->recording->file, part.piece->measured->recording->file, both,
                        name_of(std::get<Axis>(where)));
                    reaches->piece->refused.try_emplace(reaches->channel, message);
                    part.piece->refused.try_emplace(part.channel, message);
                    add({.severity = Severity::refusal,
                         .code = "overlap",
                         .message = message,
                         .recording = part.piece->measured->recording->file});
                }
                if (reaches == nullptr || part.utc.to_s > reaches->utc.to_s) reaches = &part;
            }
        }
    }

    std::size_t index_of(const Window::Piece& piece) const
    {
        return static_cast<std::size_t>(piece.measured - measuring_.measured().data());
    }

    // --- a place ---

    std::optional<Problem> look_at(Place& place)
    {
        const std::vector<Division> divisions = divisions_of(place);
        std::vector<LocalStart> starts;
        for (const auto& [i, start] : place.starts) starts.push_back(start);
        const Clock clock(starts);
        const std::set<double> offsets = clock.offsets();
        const auto [first, last] = std::ranges::minmax(starts, {}, utc_s);
        if (utc_s(last) - utc_s(first) > most_days * day_s)
            return Problem{.file = survey_.path,
                           .what = fmt::format("the recordings of {} begin more than ten years apart", place.space),
                           .remedy = "correct their start"};
        // A night of the day before may reach into the first recording.
        sys_days date = date_of(local_s(first)) - days(1);
        if (options_.from) date = *options_.from;
        if (options_.by == MonitorBy::week) date -= std::chrono::weekday(date) - std::chrono::Monday;
        const int step = options_.by == MonitorBy::week ? 7 : 4; // days that are held at once

        std::vector<std::size_t> waiting, held; // in order of time
        const std::set<std::size_t> before = before_the_question(place);
        for (const auto& [i, start] : place.starts)
            if (!before.contains(i)) waiting.push_back(i);
        std::ranges::stable_sort(waiting, {}, [&](std::size_t i) { return utc_s(place.starts.at(i)); });
        double end_local = local_s(last);
        std::map<SeriesKey, std::vector<Entry>> entries;
        std::vector<std::vector<Entry>> gaps(divisions.size());
        std::size_t order = 0;
        for (;; date += days(step)) {
            if (options_.to && date > *options_.to) break;
            if (!options_.to && waiting.empty() && date > date_of(end_local)) break;
            const double needed_before = seconds_of(date + days(step + 1)) - *offsets.begin();
            std::vector<std::size_t> next;
            while (!waiting.empty() && utc_s(place.starts.at(waiting.front())) < needed_before) {
                next.push_back(waiting.front());
                waiting.erase(waiting.begin());
            }
            if (!next.empty()) {
                measuring_.load(next);
                for (Finding& finding : measuring_.take_findings()) add(std::move(finding));
            }
            if (options_.assess.stop.stop_requested()) return {};
            for (const std::size_t i : next) {
                const auto& pass = measuring_.measured()[i].pass;
                if (pass) end_local = std::max(end_local, local_s(place.starts.at(i)) + pass->duration_s);
            }
            held.insert(held.end(), next.begin(), next.end());
            std::ranges::sort(held); // the survey's order, as assess() has it
            judge(place, divisions, clock, date, step, held, order, entries, gaps);
            const double done_before = seconds_of(date + days(step)) - *offsets.rbegin();
            std::erase_if(held, [&](std::size_t i) {
                const auto& pass = measuring_.measured()[i].pass;
                // Of one that cannot be read the beginning is known.
                if (utc_s(place.starts.at(i)) + (pass ? pass->duration_s : shortest_s) > done_before) return false;
                measuring_.drop(i);
                return true;
            });
        }
        for (const std::size_t i : held) measuring_.drop(i);
        put_together(place, divisions, entries, gaps);
        return {};
    }

    void judge(const Place& place, const std::vector<Division>& divisions, const Clock& clock, sys_days first,
               int count, const std::vector<std::size_t>& held, std::size_t& order,
               std::map<SeriesKey, std::vector<Entry>>& entries, std::vector<std::vector<Entry>>& gaps)
    {
        std::vector<Task> tasks;
        const bool is_week = options_.by == MonitorBy::week;
        for (int d = 0; d < count; d += is_week ? 7 : 1) {
            const sys_days date = first + days(d);
            if (options_.to && date > *options_.to) break;
            for (std::size_t k = 0; k < divisions.size(); ++k)
                for (Slice& slice : slices_of(divisions[k], date, clock)) {
                    slice.order = order++;
                    Task task{.division = k, .slice = std::move(slice)};
                    task.window = {.criterion = divisions[k].criterion, .date = date};
                    for (const std::size_t i : held) {
                        const bool stated = states_period(survey_.recordings[i], *divisions[k].criterion);
                        if (stated && stands_for_another(survey_.recordings[i], *divisions[k].criterion)) continue;
                        auto piece = piece_of(i, place.starts.at(i), task.slice, *divisions[k].criterion, stated);
                        if (!piece) continue;
                        task.has_stated |= stated;
                        task.window.pieces.push_back(std::move(*piece));
                    }
                    if (task.window.pieces.empty()) {
                        gaps[k].push_back({task.slice.order, period_of(task)});
                        gaps[k].back().period.is_gap = true;
                        continue;
                    }
                    refuse_overlaps(place, task.window.pieces);
                    tasks.push_back(std::move(task));
                }
        }
        reach(tasks);
        for (Task& task : tasks) {
            for (Finding& finding : task.result.findings) add(std::move(finding));
            for (Verdict& verdict : task.result.verdicts) take(place, divisions, task, std::move(verdict), entries);
        }
    }

    void reach(std::vector<Task>& tasks) const
    {
        const unsigned cores = std::max(1U, std::thread::hardware_concurrency());
        const auto jobs =
            options_.assess.jobs > 0 ? static_cast<std::size_t>(options_.assess.jobs) : std::size_t{cores};
        std::atomic<std::size_t> next{0};
        const auto work = [&] {
            while (!options_.assess.stop.stop_requested()) {
                const std::size_t i = next++;
                if (i >= tasks.size()) return;
                reach_verdicts(survey_, measuring_.chosen(), tasks[i].window, tasks[i].result);
            }
        };
        std::vector<std::jthread> threads;
        for (std::size_t i = 1; i < std::min(jobs, tasks.size()); ++i) threads.emplace_back(work);
        work();
    }

    static MonitoredPeriod period_of(const Task& task)
    {
        MonitoredPeriod period{.date = date_text(task.slice.date)};
        if (task.slice.hour) period.hour = fmt::format("{:02}:00", *task.slice.hour);
        if (task.has_stated) return period;
        period.from = task.slice.from;
        period.to = task.slice.to;
        period.expected_s = task.slice.expected_s;
        period.coverage_percent = 0.0;
        return period;
    }

    void take(const Place& place, const std::vector<Division>& divisions, const Task& task, Verdict verdict,
              std::map<SeriesKey, std::vector<Entry>>& entries) const
    {
        MonitoredPeriod period = period_of(task);
        std::vector<TimeSpan> recorded;
        for (const Window::Piece& piece : task.window.pieces) {
            const Recording& recording = *piece.measured->recording;
            if (std::ranges::find(verdict.recordings, recording.file) == verdict.recordings.end()) continue;
            const double begin = utc_s(place.starts.at(index_of(piece)));
            for (const TimeSpan& span : piece.spans) recorded.push_back({begin + span.from_s, begin + span.to_s});
        }
        period.measured_s = length_of(joined(std::move(recorded)));
        if (period.expected_s) period.coverage_percent = 100.0 * period.measured_s / *period.expected_s;
        // A slip of a recorder's clock is no more than all of it.
        if (period.coverage_percent) period.coverage_percent = std::min(100.0, *period.coverage_percent);
        if (options_.least_coverage_percent && period.coverage_percent && verdict.judged &&
            *period.coverage_percent < *options_.least_coverage_percent)
            refuse(verdict, fmt::format("{:.3g} % of the period was recorded, and {:.3g} % are asked for",
                                        *period.coverage_percent, *options_.least_coverage_percent));
        period.verdict = std::move(verdict);
        const std::string& position = period.verdict.position;
        // The governing one of several positions may change from day to day.
        const std::string at = divisions[task.division].criterion->highest_position ? std::string("all") : position;
        entries[{task.division, at, period.verdict.condition}].push_back({task.slice.order, std::move(period)});
    }

    static void refuse(Verdict& verdict, const std::string& why)
    {
        verdict.judged = false;
        verdict.why_not = "cannot be judged, because " + why;
        verdict.value.reset();
        verdict.expanded_uncertainty.reset();
        verdict.uncertainty.reset();
        verdict.band_index.reset();
        verdict.also_bands.clear();
        verdict.exceeded = false;
        verdict.terms.clear();
        verdict.notes.clear();
        if (verdict.decision) verdict.decision->value.reset();
        if (verdict.decision) verdict.decision->words.clear();
    }

    // --- series ---

    void put_together(const Place& place, const std::vector<Division>& divisions,
                      std::map<SeriesKey, std::vector<Entry>>& entries, const std::vector<std::vector<Entry>>& gaps)
    {
        std::set<std::size_t> any;
        for (auto& [key, list] : entries) {
            const auto& [k, position, condition] = key;
            any.insert(k);
            const Criterion& criterion = *divisions[k].criterion;
            const Verdict some = list.front().period.verdict; // a copy: the list grows below
            MonitorSeries series{.space = place.space,
                                 .position = position,
                                 .condition = condition,
                                 .criterion = criterion.id,
                                 .title = criterion.title,
                                 .edition = criterion.edition,
                                 .quantity = criterion.quantity,
                                 .unit = criterion.unit,
                                 .period = divisions[k].period,
                                 .hours = clock_text(divisions[k].hours),
                                 .bands = some.bands};
            const std::size_t begin = options_.from ? 0 : list.front().order;
            const std::size_t end = options_.to ? std::numeric_limits<std::size_t>::max() : list.back().order;
            for (const Entry& gap : gaps[k]) {
                if (gap.order < begin || gap.order > end) continue;
                Entry entry = gap;
                Verdict& verdict = entry.period.verdict;
                verdict = some;
                verdict.axis.clear();
                verdict.weighting.clear();
                verdict.recordings.clear();
                refuse(verdict, "nothing was recorded then");
                list.push_back(std::move(entry));
            }
            std::ranges::stable_sort(list, {}, &Entry::order);
            std::set<std::string> axes;
            if (criterion.rule == AxisRule::each)
                for (const Entry& entry : list)
                    if (!entry.period.verdict.axis.empty()) axes.insert(entry.period.verdict.axis);
            if (axes.empty()) axes.insert("");
            for (const std::string& axis : axes) {
                MonitorSeries one = series;
                one.axis = axis;
                for (const Entry& entry : list) {
                    const std::string& of = entry.period.verdict.axis;
                    if (axis.empty() || of.empty() || of == axis) one.periods.push_back(entry.period);
                }
                one.summary = summary_of(one);
                report_.series.push_back(std::move(one));
            }
        }
        for (std::size_t k = 0; k < divisions.size(); ++k)
            if (!any.contains(k))
                add({.severity = Severity::caution,
                     .code = "nothing-recorded",
                     .message = fmt::format("{}: nothing was recorded there that {} could judge ({})", place.space,
                                            divisions[k].criterion->id,
                                            divisions[k].hours.empty() ? std::string("on the days asked for")
                                                                       : clock_text(divisions[k].hours))});
    }

    static MonitorSummary summary_of(const MonitorSeries& series)
    {
        MonitorSummary summary{.periods = static_cast<int>(series.periods.size())};
        summary.in_band.resize(series.bands.size());
        std::vector<double> values;
        double measured_s = 0.0, expected_s = 0.0;
        bool all_expected = true;
        int run = 0;
        for (std::size_t i = 0; i < series.periods.size(); ++i) {
            const MonitoredPeriod& period = series.periods[i];
            const Verdict& verdict = period.verdict;
            measured_s += std::min(period.measured_s, period.expected_s.value_or(period.measured_s));
            expected_s += period.expected_s.value_or(0.0);
            all_expected &= period.expected_s.has_value();
            run = verdict.exceeded ? run + 1 : 0;
            summary.longest_run = std::max(summary.longest_run, run);
            summary.gaps += period.is_gap ? 1 : 0;
            if (!verdict.judged || !verdict.value) {
                ++summary.not_judged;
                continue;
            }
            ++summary.judged;
            summary.exceeded += verdict.exceeded ? 1 : 0;
            summary.half_measured += period.coverage_percent && *period.coverage_percent < half_percent ? 1 : 0;
            if (verdict.band_index) ++summary.in_band[static_cast<std::size_t>(*verdict.band_index)];
            const auto severity = [](const Verdict& one) { return std::pair(one.band_index.value_or(0), *one.value); };
            if (!summary.worst || severity(series.periods[*summary.worst].verdict) < severity(verdict))
                summary.worst = i;
            values.push_back(*verdict.value);
        }
        if (all_expected && expected_s > 0.0) summary.coverage_percent = 100.0 * measured_s / expected_s;
        if (!values.empty()) {
            const auto at = [&](double percent) { return en12299::percentile(values, percent); };
            summary.least = at(0.0);
            summary.quarter = at(25.0);
            summary.median = at(50.0);
            summary.three_quarters = at(75.0);
            summary.nine_tenths = at(90.0);
            summary.greatest = at(100.0);
        }
        find_trend(series, summary);
        return summary;
    }

    // Least squares over the beginning of each period, in weeks.
    static void find_trend(const MonitorSeries& series, MonitorSummary& summary)
    {
        constexpr std::size_t least_points = 5; // common practice, no source: fewer days make no trend
        std::vector<std::pair<double, double>> points;
        for (const MonitoredPeriod& period : series.periods) {
            if (!period.verdict.judged || !period.verdict.value) continue;
            const auto begin = local_start(period.from.empty() ? period.date + "T00:00:00Z" : period.from);
            BECALM_ASSERT(begin.has_value());
            points.emplace_back(utc_s(*begin) / week_s, *period.verdict.value);
        }
        if (points.size() < least_points) {
            summary.why_no_trend = fmt::format("{} values are too few for a trend", points.size());
            return;
        }
        const auto n = static_cast<double>(points.size());
        double mean_x = 0.0, mean_y = 0.0;
        for (const auto& [x, y] : points) {
            mean_x += x / n;
            mean_y += y / n;
        }
        double xx = 0.0, xy = 0.0, squares = 0.0;
        for (const auto& [x, y] : points) {
            xx += (x - mean_x) * (x - mean_x);
            xy += (x - mean_x) * (y - mean_y);
        }
        const double slope = xy / xx;
        for (const auto& [x, y] : points) squares += std::pow(y - mean_y - slope * (x - mean_x), 2);
        constexpr double confidence = 0.95; // not a limit: probability of the interval
        const double reach =
            filters::t_factor(confidence, static_cast<int>(points.size()) - 2) * std::sqrt(squares / (n - 2.0) / xx);
        summary.trend = MonitorTrend{slope, slope - reach, slope + reach};
    }

    const Survey& survey_;
    const MonitorOptions& options_;
    Measuring measuring_;
    std::vector<NamedHours> named_;
    std::vector<Problem> without_start_;
    std::set<std::string> told_;
    MonitorReport report_;
};

} // namespace

Results<MonitorReport> monitor(const Survey& survey, const io::CriteriaLibrary& library, const MonitorOptions& options)
{
    return Campaign(survey, library, options).report();
}

} // namespace becalm::evaluators
