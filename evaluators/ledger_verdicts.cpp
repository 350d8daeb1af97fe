#include "evaluators/ledger_verdicts.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "evaluators/quantity.h"
#include "evaluators/selection.h"
#include "evaluators/verdicts.h"
#include "src/model/clock_span.h"

namespace becalm::evaluators {
namespace {

constexpr std::int64_t day_s = 86400;
constexpr std::int64_t most_days = 7; // whose rows are held at once: 145 MB of three lanes

std::string text_of(const Lane& lane)
{
    return fmt::format("{}={}:{}", lane.channel, name_of(lane.axis), name_of(lane.weighting));
}

bool looks_at(const Criterion& criterion, const Lane& lane)
{
    return std::ranges::any_of(criterion.terms, [&](const AxisTerm& term) {
        return term.axis == lane.axis && term.weighting == lane.weighting;
    });
}

const ClockSpan* past_midnight(const Criterion& criterion)
{
    const auto found =
        std::ranges::find_if(criterion.hours, [](const ClockSpan& span) { return span.to_min < span.from_min; });
    return found == criterion.hours.end() ? nullptr : &*found;
}

std::string words_of(unsigned needs)
{
    if (needs & needs_spectra) return "spectra";
    return needs & needs_swings ? "single swings" : "the motion itself";
}

} // namespace

bool refuses(const Finding& finding, int channel)
{
    // A rate that is too low concerns a lane, which the ledger does not have then.
    return finding.severity == Severity::refusal && finding.channel == channel && finding.code != "rate-too-low";
}

bool lies_in(const Finding& finding, std::span<const TimeSpan> seconds)
{
    std::vector<TimeSpan> places = finding.spans;
    if (places.empty() && finding.from_s && finding.to_s) places.push_back({*finding.from_s, *finding.to_s});
    if (places.empty()) return !seconds.empty();
    // Both rise: a year has many of either.
    std::size_t s = 0;
    for (const TimeSpan& place : places) {
        while (s < seconds.size() && seconds[s].to_s <= std::floor(place.from_s)) ++s;
        if (s < seconds.size() && place.to_s > seconds[s].from_s) return true;
    }
    return false;
}

LedgerJudge::LedgerJudge(const io::LedgerFolder& ledger, const io::CriteriaLibrary& library, LedgerJudging judging,
                         const std::vector<ExcludedSpan>& left_out)
    : ledger_(ledger), library_(library), judging_(std::move(judging)), chosen_(survey_, library, judging_.criteria)
{
    survey_.setting = judging_.setting;
    survey_.spaces.push_back({.id = "point", .use = judging_.use});
    Recording recording{
        .file = ledger.file(), .space = "point", .position = judging_.position, .start = ledger.start()};
    recording.excluded = left_out;
    if (!judging_.period.empty()) {
        survey_.conditions.push_back({.id = judging_.period, .period = judging_.period});
        recording.condition = judging_.period;
    }
    if (judging_.sensor_percent) {
        survey_.sensors.push_back({.id = "sensor", .uncertainty_percent = judging_.sensor_percent});
        recording.sensor = "sensor";
    }
    problems_ = chosen_.problems();
    for (const auto& lane : ledger.lanes()) {
        const auto known = std::ranges::find(recording.channels, lane.lane.axis, &ChannelMapping::axis);
        if (known == recording.channels.end())
            recording.channels.push_back({lane.lane.channel, lane.lane.axis});
        else if (known->channel != lane.lane.channel)
            problems_.push_back({.file = ledger.file(),
                                 .what = fmt::format("the channels {} and {} of its ledger are both the axis {}, so "
                                                     "it is not known by which it is judged",
                                                     known->channel, lane.lane.channel, name_of(lane.lane.axis)),
                                 .remedy = "stream the channels of each place into a ledger of their own"});
    }
    recording.unit = ledger.recorded_unit();
    survey_.recordings.push_back(std::move(recording));
    measured_.recording = &survey_.recordings.front();
    measured_.path = ledger.file();
    if (const auto unit = unit_named(ledger.recorded_unit()))
        measured_.motion = unit->motion;
    else
        problems_.push_back({.file = ledger.file(),
                             .what = fmt::format("its ledger states the unknown unit \"{}\"", ledger.recorded_unit())});
}

std::vector<Problem> LedgerJudge::problems() const { return problems_; }

std::vector<Finding> LedgerJudge::take_findings() { return std::exchange(findings_, {}); }

void LedgerJudge::add(Finding finding)
{
    const auto is_same = [&](const Finding& other) {
        return other.code == finding.code && other.message == finding.message;
    };
    if (std::ranges::any_of(told_, is_same)) return;
    told_.push_back(finding);
    findings_.push_back(std::move(finding));
}

// As the pass has it: samples over rate.
Result<void> LedgerJudge::learn_duration()
{
    if (duration_s_) return {};
    const io::LedgerFolder::Seconds everything{0, ledger_.seconds()};
    const auto tally = ledger_.tally(0, std::span(&everything, 1));
    if (!tally) return tl::unexpected(tally.error());
    duration_s_ = tally->duration_s;
    return {};
}

std::string LedgerJudge::why_not(const Stretch& stretch, const Criterion& criterion) const
{
    if (const unsigned needs = needs_of(criterion); needs != needs_ledger)
        return fmt::format("{} looks at {}, which no ledger keeps; let `becalm assess` judge the samples in a file",
                           criterion.id, words_of(needs));
    if (const ClockSpan* hours = past_midnight(criterion);
        hours != nullptr && stretch.is_calendar_day && judging_.period.empty())
        return fmt::format(
            "{} judges a {} past midnight, and a day from midnight to midnight holds parts of two; ask for "
            "--hours {}",
            criterion.id, criterion.period, clock_text(*hours));
    const std::int64_t held = stretch.seconds.back().to - stretch.seconds.front().from;
    if (held > most_days * day_s)
        return fmt::format("it reaches over {:.1f} days, and no more than {} are judged as one; add --by-day",
                           static_cast<double>(held) / day_s, most_days);
    return {};
}

std::map<int, std::string> LedgerJudge::refused_in(std::span<const TimeSpan> spans) const
{
    std::map<int, std::string> refused;
    if (!ledger_.findings()) { // what an older program kept of it
        for (const auto& lane : ledger_.lanes())
            if (!lane.why_unfit.empty()) refused.try_emplace(lane.lane.channel, lane.why_unfit);
        return refused;
    }
    const auto selected = common(selection(*duration_s_, 0.0, measured_.recording->excluded), spans);
    for (const ChannelMapping& mapping : measured_.recording->channels)
        for (const Finding& finding : *ledger_.findings()) {
            if (!refuses(finding, mapping.channel) || !lies_in(finding, selected)) continue;
            std::string why = finding.message;
            if (finding.spans.size() > 1) // the message tells of the first and the last place
                for (const TimeSpan& place : finding.spans) {
                    if (common(selected, std::span(&place, 1)).empty()) continue;
                    why += fmt::format("; here in second {:.0f}", std::max(place.from_s, selected.front().from_s));
                    break;
                }
            refused.try_emplace(mapping.channel, std::move(why));
        }
    return refused;
}

// The pass of the stretch: all lanes that a criterion asks for, rows of those alone.
Result<void> LedgerJudge::take_rows(const Stretch& stretch, std::span<const Criterion* const> criteria)
{
    measured_.pass.reset(); // the rows of the stretch before
    PassResult& pass = measured_.pass.emplace();
    pass.info.rate_hz = ledger_.rate_hz();
    pass.duration_s = *duration_s_;
    for (std::size_t l = 0; l < ledger_.lanes().size(); ++l) {
        const Lane& lane = ledger_.lanes()[l].lane;
        LaneResult result{.lane = lane};
        result.ledger = {.lane = lane, .rate_hz = ledger_.rate_hz(), .first_second = stretch.seconds.front().from};
        if (std::ranges::any_of(criteria, [&](const Criterion* criterion) { return looks_at(*criterion, lane); })) {
            auto rows = ledger_.rows(l, {stretch.seconds.front().from, stretch.seconds.back().to});
            if (!rows) return tl::unexpected(rows.error());
            result.ledger.rows = std::move(*rows);
        }
        pass.lanes.push_back(std::move(result));
    }
    for (const Criterion* criterion : criteria)
        for (const AxisTerm& term : criterion->terms)
            for (const ChannelMapping& mapping : measured_.recording->channels) {
                const Lane lane{mapping.channel, mapping.axis, term.weighting};
                if (term.axis != mapping.axis ||
                    std::ranges::find(pass.lanes, lane, &LaneResult::lane) != pass.lanes.end())
                    continue;
                pass.lanes.push_back(
                    {.lane = lane,
                     .refused = Problem{.what = fmt::format("its ledger has no lane {}", text_of(lane)),
                                        .remedy = "name it in the --lanes of `becalm stream`, or weigh the samples in "
                                                  "a file"}});
            }
    return {};
}

Result<std::vector<Verdict>> LedgerJudge::verdicts(const Stretch& stretch)
{
    if (auto learned = learn_duration(); !learned) return tl::unexpected(learned.error());
    if (!ledger_.findings())
        add({.severity = Severity::caution,
             .code = "not-ended",
             .message = "the stream has not ended (or broke off), so it is not known yet whether its channels are "
                        "clipped or stood still: verdicts may be refused later",
             .recording = ledger_.file()});
    std::vector<TimeSpan> spans;
    for (const auto& [from, to] : stretch.seconds)
        spans.push_back({static_cast<double>(from), std::min(static_cast<double>(to), *duration_s_)});
    const auto refused = refused_in(spans);

    if (ledger_.findings())
        for (Finding finding : *ledger_.findings()) {
            if (finding.severity != Severity::caution || !lies_in(finding, spans)) continue;
            finding.recording = ledger_.file();
            add(std::move(finding));
        }

    std::vector<const Criterion*> criteria, judging;
    for (const std::string& id : judging_.criteria) {
        const Criterion* criterion = &library_.criteria.find(id)->second;
        if (std::ranges::find(criteria, criterion) != criteria.end()) continue;
        criteria.push_back(criterion);
        if (why_not(stretch, *criterion).empty()) judging.push_back(criterion);
    }
    if (auto taken = take_rows(stretch, judging); !taken) return tl::unexpected(taken.error());

    Assessment result;
    for (const Criterion* criterion : criteria) {
        if (!chosen_.judges(*criterion, *measured_.recording)) {
            result.verdicts.push_back({.space = "point",
                                       .position = std::string(name_of(judging_.position)),
                                       .condition = judging_.period,
                                       .criterion = criterion->id,
                                       .title = criterion->title,
                                       .edition = criterion->edition,
                                       .clause = criterion->clause,
                                       .confirmed = criterion->confirmed,
                                       .use = judging_.use,
                                       .quantity = criterion->quantity,
                                       .unit = criterion->unit,
                                       .why_not = fmt::format("cannot be judged, because {} is not for the position {}",
                                                              criterion->id, name_of(judging_.position))});
            continue;
        }
        Window window{.criterion = criterion, .date = stretch.date.value_or(std::chrono::sys_days())};
        window.pieces.push_back({.measured = &measured_, .spans = spans, .refused = refused});
        if (const std::string why = why_not(stretch, *criterion); !why.empty())
            for (const ChannelMapping& mapping : measured_.recording->channels)
                window.pieces.front().refused[mapping.channel] = why;
        reach_verdicts(survey_, chosen_, window, result);
    }
    measured_.pass.reset();
    for (Finding& finding : result.findings) add(std::move(finding));
    return std::move(result.verdicts);
}

} // namespace becalm::evaluators
