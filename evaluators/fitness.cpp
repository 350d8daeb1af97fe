#include "evaluators/fitness.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "evaluators/signal_faults.h"
#include "filters/weighting.h"

namespace becalm::evaluators {
namespace {

// Motion that no place where people live, work or travel has, and that no sensor for it resolves: the unit or the scale
// is wrong (common practice, no source).
struct PlausibleRange {
    double least, greatest; // standard deviation, SI
};

constexpr double beyond_any_sensor = 1e9; // SI, of a single sample (common practice, no source)

// Percussive tools shake a hand far harder, as long as nothing is weighted (common practice, no source).
PlausibleRange plausible_range(Motion motion, bool of_hands)
{
    switch (motion) {
    case Motion::acceleration: return {1e-7, of_hands ? 5000.0 : 100.0};
    case Motion::velocity: return {1e-10, 10.0};
    case Motion::displacement: return {1e-13, 10.0};
    }
    return {0.0, 0.0};
}

class Examination {
public:
    Examination(const std::string& file, const PassResult& pass, Motion motion, std::span<const TimeSpan> selected,
                bool of_hands)
        : file_(file), pass_(pass), motion_(motion), selected_(selected), of_hands_(of_hands)
    {
    }

    std::vector<Finding> findings()
    {
        for (const ChannelResult& channel : pass_.channels) examine(channel);
        return std::move(findings_);
    }

private:
    double second_of(std::int64_t sample) const { return static_cast<double>(sample) / pass_.info.rate_hz; }

    // The rows a run touches are judged unless they are excluded as a whole.
    bool is_judged(const filters::SampleRun& run) const
    {
        const double from = std::floor(second_of(run.begin) - pass_.from_s);
        const double to = second_of(run.begin + run.count) - pass_.from_s;
        return std::ranges::any_of(selected_,
                                   [&](const TimeSpan& span) { return from < span.to_s && to > span.from_s; });
    }

    void add(Severity severity, const char* code, int channel, std::string message, std::optional<double> from = {},
             std::optional<double> to = {})
    {
        findings_.push_back({.severity = severity,
                             .code = code,
                             .message = std::move(message),
                             .recording = file_,
                             .channel = channel,
                             .from_s = from,
                             .to_s = to});
    }

    void report_runs(const std::vector<filters::SampleRun>& runs, const char* code, int channel, std::string_view what,
                     std::string_view remedy)
    {
        std::vector<filters::SampleRun> judged;
        std::ranges::copy_if(runs, std::back_inserter(judged), [&](const auto& run) { return is_judged(run); });
        if (runs.empty()) return;
        if (judged.empty()) {
            add(Severity::note, code, channel,
                fmt::format("channel {} {} {} at {:.3f} s, outside what is judged", channel, what,
                            runs.size() == 1 ? "once" : fmt::format("{} times, first", runs.size()),
                            second_of(runs.front().begin)),
                second_of(runs.front().begin), second_of(runs.back().begin + runs.back().count));
            return;
        }
        std::int64_t samples = 0;
        for (const auto& run : judged) samples += run.count;
        const double first = second_of(judged.front().begin);
        const double last = second_of(judged.back().begin + judged.back().count);
        add(Severity::refusal, code, channel,
            fmt::format("channel {} {} at {:.3f} s{} ({} {} in all); {}", channel, what, first,
                        judged.size() > 1 ? fmt::format(" and at {} more {} up to {:.3f} s", judged.size() - 1,
                                                        judged.size() == 2 ? "place" : "places", last)
                                          : "",
                        samples, samples == 1 ? "sample" : "samples", remedy),
            first, last);
        for (const auto& run : judged)
            findings_.back().spans.push_back(
                {second_of(run.begin) - pass_.from_s, second_of(run.begin + run.count) - pass_.from_s});
    }

    void examine(const ChannelResult& channel)
    {
        const filters::ChannelScan& scan = channel.scan;
        report_runs(scan.not_finite(), "not-a-number", channel.channel, "holds samples that are not numbers",
                    "exclude the span or export the recording again");
        if (scan.samples() == 0) return; // nothing but those
        if (scan.samples() == 1) {
            add(Severity::refusal, "too-short", channel.channel,
                fmt::format("channel {} holds a single sample; measure longer", channel.channel));
            return;
        }
        if (scan.constant()) {
            add(Severity::refusal, "constant-channel", channel.channel,
                fmt::format("channel {} holds the same value {:.6g} throughout; the sensor or its cable was dead",
                            channel.channel, scan.min()));
            return;
        }
        report_runs(scan.clipped(), "clipped", channel.channel, "is clipped",
                    "exclude the span or measure again with a wider range");
        // A long crest that is cut off stands still too.
        std::vector<filters::SampleRun> drop_outs = scan.drop_outs();
        std::erase_if(drop_outs, [clipped = scan.clipped()](const filters::SampleRun& run) {
            return std::ranges::find(clipped, run) != clipped.end();
        });
        report_runs(drop_outs, "drop-out", channel.channel, "stands still as in a gap or a drop-out",
                    "exclude the span or measure again");
        examine_level(channel);
        const bool is_clipped = std::ranges::any_of(findings_, [&](const Finding& finding) {
            return finding.code == "clipped" && finding.channel == channel.channel;
        });
        std::ranges::move(signal_faults({.file = file_,
                                         .pass = pass_,
                                         .channel = channel,
                                         .motion = motion_,
                                         .rotates = rotates(pass_, channel.channel),
                                         .selected = selected_,
                                         .is_clipped = is_clipped}),
                          std::back_inserter(findings_));
    }

    void examine_level(const ChannelResult& channel)
    {
        const auto [least, greatest] = plausible_range(motion_, of_hands_);
        const double deviation = channel.scan.deviation();
        const double mean = channel.scan.mean();
        const bool is_of_angles = rotates(pass_, channel.channel);
        const std::string_view unit = si_unit_of(motion_, is_of_angles);
        const double reach = std::max(std::abs(channel.scan.min()), std::abs(channel.scan.max()));
        if (reach > beyond_any_sensor) { // and perhaps beyond what the sums of a standard deviation can hold
            add(Severity::refusal, "unit", channel.channel,
                fmt::format("channel {} reaches {:.3g} {}, which cannot be right; check unit and scale",
                            channel.channel, reach, unit));
            return;
        }
        if (deviation > greatest || deviation < least) {
            add(Severity::refusal, "unit", channel.channel,
                fmt::format("channel {} varies by {:.3g} {} r.m.s., which cannot be right; check unit and scale",
                            channel.channel, deviation, unit));
            return;
        }
        if (motion_ != Motion::acceleration || is_of_angles) return; // gravity does not show in angles
        const double magnitude = std::abs(mean);
        constexpr double tolerance = 0.03; // not a limit: tilt of a sensor and its tolerance
        if (std::abs(magnitude / standard_gravity - 1.0) < tolerance) {
            add(Severity::note, "gravity", channel.channel,
                fmt::format("channel {} carries gravity ({:.3f} m/s2); its mean is taken away", channel.channel, mean));
        } else if (std::abs(magnitude - 1.0) < tolerance && deviation < 1.0) {
            add(Severity::caution, "gravity-in-g", channel.channel,
                fmt::format("the mean of channel {} is {:.3f} m/s2, like gravity in g; should the unit be g?",
                            channel.channel, mean));
        } else if (magnitude > 30.0) {
            add(Severity::refusal, "unit", channel.channel,
                fmt::format("the mean of channel {} is {:.3g} m/s2, more than three times gravity, which cannot be "
                            "right; check unit and scale",
                            channel.channel, mean));
        } else if (magnitude > 10.0 * deviation && magnitude > 0.1) {
            add(Severity::caution, "offset", channel.channel,
                fmt::format("channel {} has an offset of {:.3g} m/s2, more than ten times its vibration; it is taken "
                            "away, but check the sensor",
                            channel.channel, mean));
        }
    }

    const std::string& file_;
    const PassResult& pass_;
    Motion motion_;
    std::span<const TimeSpan> selected_;
    bool of_hands_;
    std::vector<Finding> findings_;
};

} // namespace

bool rotates(const PassResult& pass, int channel)
{
    return std::ranges::any_of(
        pass.lanes, [&](const LaneResult& one) { return one.lane.channel == channel && is_rotation(one.lane.axis); });
}

std::vector<Finding> fitness(const std::string& file, const PassResult& pass, Motion motion,
                             std::span<const TimeSpan> selected, bool of_hands)
{
    std::vector<Finding> findings = Examination(file, pass, motion, selected, of_hands).findings();
    if (!pass.info.resampled.empty())
        findings.push_back(
            {.severity = Severity::caution, .code = "resampled", .message = pass.info.resampled, .recording = file});
    for (const LaneResult& lane : pass.lanes) {
        if (!lane.refused) continue;
        findings.push_back({.severity = Severity::refusal,
                            .code = "rate-too-low",
                            .message = fmt::format("{}; {}", lane.refused->what, lane.refused->remedy),
                            .recording = file,
                            .channel = lane.lane.channel});
    }
    return findings;
}

double run_in_for(WeightingId weighting, double duration_s)
{
    const double run_in = std::ceil(filters::run_in_s(weighting));
    return duration_s >= 4.0 * run_in ? run_in : 0.0;
}

} // namespace becalm::evaluators
