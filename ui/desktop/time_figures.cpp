#include "ui/desktop/time_figures.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include <fmt/format.h>

#include "evaluators/selection.h"

namespace becalm::desktop {
namespace {

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();
constexpr double clock_from_s = 5.0; // a shorter window is marked in seconds from the beginning

std::string words_of(const evaluators::Measured& measured, const Lane& lane)
{
    const std::string axis = fmt::format("channel {}, {}", lane.channel, name_of(lane.axis));
    return lane.weighting == WeightingId::none ? fmt::format("{}: {}, not weighted", axis, name_of(measured.motion))
                                               : fmt::format("{}: weighted by {}", axis, name_of(lane.weighting));
}

std::vector<figures::LeftOut> left_out_of(const TimeMarks& marks)
{
    std::vector<figures::LeftOut> spans;
    for (const ExcludedSpan& span : marks.excluded) spans.push_back({span.from_s, span.to_s, span.reason});
    return spans;
}

// One flag for what was found at one second; the list beside has the sentences.
std::vector<figures::StripFinding> flags_of(const TimeMarks& marks, int channel)
{
    std::vector<figures::StripFinding> flags;
    for (const Finding& finding : marks.findings)
        if (finding.from_s && (!finding.channel || *finding.channel == channel))
            flags.push_back({*finding.from_s, finding.code});
    return flags;
}

// Symmetrical and rounded, so that the curve keeps its size while the window moves.
double round_range(double greatest) { return greatest > 0.0 ? figures::nice_from_below(greatest) : 1.0; }

} // namespace

figures::Numbers numbers_in(std::string_view si_unit)
{
    if (si_unit == "m/s2" || si_unit == "m/s" || si_unit == "m")
        return {.unit = figures::pretty_unit("m" + std::string(si_unit)), .shown_per_unit = 1e3};
    return {.unit = figures::pretty_unit(si_unit)};
}

std::optional<std::chrono::local_seconds> clock_of(const Recording& recording, const io::RecordingInfo& info)
{
    const auto start = evaluators::local_start(recording.start.empty() ? info.start : recording.start);
    if (!start) return std::nullopt;
    return std::chrono::local_seconds(std::chrono::local_days(start->date.time_since_epoch())) +
           std::chrono::seconds(std::llround(start->second_of_day));
}

const evaluators::LaneResult* lane_of(const evaluators::PassResult& pass, int channel, WeightingId weighting)
{
    const auto found = std::ranges::find_if(pass.lanes, [&](const evaluators::LaneResult& result) {
        return !result.refused && result.lane.channel == channel && result.lane.weighting == weighting;
    });
    return found == pass.lanes.end() ? nullptr : &*found;
}

bool is_comparable(const Verdict& verdict, const Lane& lane, std::string_view unit)
{
    if (!verdict.judged || verdict.bands.empty() || verdict.quantity != "weighted_rms" || verdict.unit != unit ||
        verdict.axis != name_of(lane.axis) || verdict.weighting != name_of(lane.weighting))
        return false;
    return std::ranges::all_of(
        verdict.terms, [&](const VerdictTerm& term) { return term.axis != verdict.axis || term.factor == 1.0; });
}

figures::TimeStripInput strip_of(const StripRequest& request)
{
    const evaluators::Measured& measured = request.measured;
    const evaluators::LaneResult& lane = request.lane;
    const Motion output = output_of(lane.lane.weighting, measured.motion);
    figures::TimeStripInput strip{.quantity = std::string(name_of(output)),
                                  .shown = numbers_in(si_unit_of(output, measured.rotates)),
                                  .from_s = static_cast<double>(lane.ledger.first_second),
                                  .left_out = left_out_of(request.marks),
                                  .findings = flags_of(request.marks, lane.lane.channel),
                                  .start = clock_of(*measured.recording, measured.pass->info)};
    strip.heading.title = words_of(measured, lane.lane);
    strip.rms.reserve(lane.ledger.rows.size());
    strip.peak.reserve(lane.ledger.rows.size());
    for (const LedgerRow& row : lane.ledger.rows) {
        strip.rms.push_back(row.samples > 0 ? std::sqrt(row.sum_squares / row.samples) : not_a_number);
        strip.peak.push_back(row.samples > 0 ? row.peak : not_a_number);
    }
    if (request.bands != nullptr)
        for (const Band& band : *request.bands) strip.bands.push_back({band.name, band.from, band.limit, band.exceeds});
    return strip;
}

figures::Figure samples_figure(const SamplesRequest& request, double width_px, double height_px)
{
    const evaluators::Measured& measured = request.measured;
    const TimeWindow& window = request.window;
    figures::Plot plot;
    plot.x = {.kind = figures::AxisKind::time, .words = "time", .from = window.from_s, .to = window.to_s};
    if (window.length_s() >= clock_from_s) {
        plot.x.start = clock_of(*measured.recording, measured.pass->info);
        if (plot.x.start) plot.x.words = "clock time";
    }
    plot.y = {.words = std::string(name_of(measured.motion)),
              .numbers = numbers_in(si_unit_of(measured.motion, measured.rotates))};

    figures::Series curve{.ink = figures::Ink::first, .width_px = 1.0};
    double greatest = 0.0;
    const auto take = [&](double at_s, double value) {
        curve.x.listed.push_back(at_s);
        curve.values.push_back(value);
        if (std::isfinite(value)) greatest = std::max(greatest, std::abs(value));
    };
    const auto take_range = [&](double from_s, double step_s, double least, double most) {
        take(from_s, least);
        take(from_s + step_s / 2.0, most);
    };
    if (const auto& envelope = request.envelope) {
        const double rate = measured.pass->info.rate_hz;
        const auto shown = [&](float stored) { return static_cast<double>(stored) * request.to_si - request.offset; };
        for (std::size_t i = 0; i < envelope->least.size(); ++i) {
            const std::int64_t frame = envelope->first + static_cast<std::int64_t>(i) * envelope->step;
            const double at_s = static_cast<double>(frame) / rate;
            if (envelope->step == 1)
                take(at_s, shown(envelope->least[i]));
            else
                take_range(at_s, static_cast<double>(envelope->step) / rate, shown(envelope->least[i]),
                           shown(envelope->greatest[i]));
        }
    } else if (const auto* lane = lane_of(*measured.pass, request.channel, WeightingId::none)) {
        const auto& rows = lane->ledger.rows;
        const auto first = static_cast<double>(lane->ledger.first_second);
        const auto row_at = [&](double s) {
            return static_cast<std::size_t>(std::clamp(s - first, 0.0, static_cast<double>(rows.size())));
        };
        for (std::size_t i = row_at(window.from_s); i < std::min(row_at(window.to_s) + 1, rows.size()); ++i)
            take_range(first + static_cast<double>(i), 1.0, rows[i].raw_min - request.offset,
                       rows[i].raw_max - request.offset);
    }
    const double range = round_range(greatest);
    plot.y.from = -range;
    plot.y.to = range;
    plot.series.push_back(std::move(curve));
    plot.left_out = left_out_of(request.marks);
    for (const figures::StripFinding& flag : flags_of(request.marks, request.channel))
        plot.markers.push_back({flag.at_s, flag.words, figures::Marker::Kind::finding});

    figures::Figure figure{.width_px = width_px, .height_px = height_px};
    figure.title = fmt::format("channel {}: {} as recorded", request.channel, name_of(measured.motion));
    const double seconds = window.length_s();
    figure.subtitle = seconds >= 1.0 ? fmt::format("{:.4g} s of {:.5g} s", seconds, window.whole_s)
                                     : fmt::format("{:.4g} ms of {:.5g} s", seconds * 1e3, window.whole_s);
    if (request.envelope && request.envelope->step == 1)
        figure.subtitle += ", every sample";
    else
        figure.subtitle += ", least and greatest of what falls into a column of the drawing";
    figure.panels.push_back({.content = std::move(plot)});
    return figure;
}

} // namespace becalm::desktop
