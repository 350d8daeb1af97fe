#include "evaluators/ledger_questions.h"

#include <algorithm>
#include <chrono>
#include <cmath>

#include <fmt/format.h>

#include "evaluators/selection.h"
#include "evaluators/weigh.h"
#include "src/model/clock_span.h"

namespace becalm::evaluators {
namespace {

constexpr std::int64_t day_s = 86400;

// Seconds of the recording from one moment of a day to another.
TimeSpan on_day(std::int64_t day, const ClockSpan& hours, double start_s)
{
    const double begin = static_cast<double>(day * day_s + hours.from_min * 60) - start_s;
    const int minutes = hours.to_min - hours.from_min + (hours.to_min <= hours.from_min ? 1440 : 0);
    return {begin, begin + 60.0 * minutes};
}

std::vector<io::LedgerFolder::Seconds> whole_seconds(std::span<const TimeSpan> spans)
{
    std::vector<io::LedgerFolder::Seconds> seconds;
    for (const TimeSpan& span : spans) {
        const auto from = static_cast<std::int64_t>(std::ceil(span.from_s));
        const auto to = static_cast<std::int64_t>(std::floor(span.to_s));
        if (from >= to) continue;
        // Stretches that touch are one: a window may reach from one into the other.
        if (!seconds.empty() && seconds.back().to == from)
            seconds.back().to = to;
        else
            seconds.push_back({from, to});
    }
    return seconds;
}

// `judge` may be null.
Result<LedgerAnswer> answer(const io::LedgerFolder& ledger, const LedgerQuestion& question, LedgerJudge* judge)
{
    LedgerAnswer result{
        .file = ledger.file(), .start = ledger.start(), .rate_hz = ledger.rate_hz(), .seconds = ledger.seconds()};
    const auto unit = unit_named(ledger.recorded_unit());
    if (!unit)
        return fail({.file = ledger.file(),
                     .what = fmt::format("its ledger states the unknown unit \"{}\"", ledger.recorded_unit())});
    const auto start = local_start(ledger.start());
    if (!start && (question.by_day || !question.hours.empty()))
        return fail({.kind = ProblemKind::usage,
                     .file = ledger.file(),
                     .what = "its ledger states no start, so days and hours are not known",
                     .remedy = "stream it with --start, such as 2026-03-14T00:00:00+01:00"});

    // Rows last a second, the last one perhaps less.
    const auto duration_s = static_cast<double>(ledger.seconds());
    const TimeSpan asked{question.span.from_s, std::min(question.span.to_s, duration_s)};
    const std::vector<TimeSpan> counts = common(selection(duration_s, 0.0, question.left_out), std::span(&asked, 1));
    std::vector<bool> is_unfit(ledger.lanes().size(), !ledger.findings());
    const auto add = [&](std::string date, std::string hours, std::span<const TimeSpan> stretch,
                         std::optional<std::chrono::sys_days> day) -> Result<void> {
        LedgerStretch row{.date = std::move(date), .hours = std::move(hours)};
        const auto selected = whole_seconds(common(stretch, counts));
        std::vector<TimeSpan> seconds;
        for (const auto& [from, to] : selected) {
            row.seconds += to - from;
            seconds.push_back({static_cast<double>(from), static_cast<double>(to)});
        }
        if (row.seconds == 0) return {};
        for (std::size_t l = 0; l < ledger.lanes().size(); ++l) {
            auto tally = ledger.tally(l, selected);
            if (!tally) return tl::unexpected(tally.error());
            const auto& lane = ledger.lanes()[l];
            bool holds_no_numbers = lane.holds_no_numbers && !ledger.findings();
            if (ledger.findings())
                for (const Finding& finding : *ledger.findings()) {
                    if (!refuses(finding, lane.lane.channel) || !lies_in(finding, seconds)) continue;
                    is_unfit[l] = true;
                    holds_no_numbers = holds_no_numbers || finding.code == "not-a-number";
                }
            row.lanes.push_back(weighed_lane(lane.lane, std::string(unit_behind(lane.lane, unit->motion)),
                                             holds_no_numbers ? Tally{} : *tally));
        }
        if (judge != nullptr) {
            auto verdicts = judge->verdicts({.seconds = whole_seconds(common(stretch, std::span(&asked, 1))),
                                             .date = day     ? day
                                                     : start ? std::optional(start->date)
                                                             : std::nullopt,
                                             .is_calendar_day = day && question.hours.empty()});
            if (!verdicts) return tl::unexpected(verdicts.error());
            row.verdicts = std::move(*verdicts);
        }
        result.stretches.push_back(std::move(row));
        return {};
    };

    const std::vector<ClockSpan> hours = question.hours.empty() ? std::vector<ClockSpan>{{0, 1440}} : question.hours;
    const auto named = [&](const ClockSpan& span) { return question.hours.empty() ? std::string() : clock_text(span); };
    if (!question.by_day && question.hours.empty()) {
        const TimeSpan everything{0.0, duration_s};
        if (auto added = add("", "", std::span(&everything, 1), {}); !added) return tl::unexpected(added.error());
    } else {
        const double start_s = local_s(*start);
        const auto first = static_cast<std::int64_t>(std::floor((start_s + asked.from_s) / day_s)) - 1;
        const auto last = static_cast<std::int64_t>(std::floor((start_s + asked.to_s) / day_s));
        for (const ClockSpan& span : hours) {
            std::vector<TimeSpan> of_all;
            for (std::int64_t day = first; day <= last; ++day) of_all.push_back(on_day(day, span, start_s));
            if (!question.by_day) {
                if (auto added = add("", named(span), of_all, {}); !added) return tl::unexpected(added.error());
                continue;
            }
            for (std::int64_t day = first; day <= last; ++day) {
                const std::chrono::sys_days date{std::chrono::days(static_cast<int>(day))};
                const auto& stretch = of_all[static_cast<std::size_t>(day - first)];
                if (auto added = add(date_text(date), named(span), std::span(&stretch, 1), date); !added)
                    return tl::unexpected(added.error());
            }
        }
        std::ranges::stable_sort(result.stretches, {}, &LedgerStretch::date);
    }
    for (std::size_t l = 0; l < ledger.lanes().size(); ++l)
        if (const auto& lane = ledger.lanes()[l];
            !lane.why_unfit.empty() && is_unfit[l] &&
            std::ranges::none_of(result.findings, [&](const Finding& told) { // by another lane of it
                return told.channel == lane.lane.channel && told.message == lane.why_unfit;
            }))
            result.findings.push_back({.severity = Severity::refusal,
                                       .code = "unfit",
                                       .message = lane.why_unfit,
                                       .recording = ledger.file(),
                                       .channel = lane.lane.channel});
    return result;
}

} // namespace

Result<LedgerAnswer> answer(const io::LedgerFolder& ledger, const LedgerQuestion& question)
{
    return answer(ledger, question, nullptr);
}

Results<LedgerAnswer> answer(const io::LedgerFolder& ledger, const LedgerQuestion& question,
                             const io::CriteriaLibrary& library, const LedgerJudging& judging)
{
    LedgerJudge judge(ledger, library, judging, question.left_out);
    if (auto problems = judge.problems(); !problems.empty()) return tl::unexpected(std::move(problems));
    auto result = answer(ledger, question, &judge);
    if (!result) return tl::unexpected(std::vector<Problem>{std::move(result.error())});
    result->judged_as = LedgerAnswer::JudgedAs{.setting = std::string(name_of(judging.setting)),
                                               .use = judging.use,
                                               .position = std::string(name_of(judging.position))};
    std::ranges::move(judge.take_findings(), std::back_inserter(result->findings));
    return std::move(*result);
}

} // namespace becalm::evaluators
