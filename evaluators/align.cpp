#include "evaluators/align.h"

#include <algorithm>
#include <charconv>
#include <cmath>

#include <fmt/format.h>

#include "filters/alignment.h"

namespace becalm::evaluators {
namespace {

constexpr double usual_lag_s = 10.0, usual_share = 0.25; // of the shorter recording
constexpr double usual_pieces = 12.0, shortest_piece_s = 2.0, longest_piece_s = 20.0;
constexpr double least_pieces = 5.0;
constexpr double sure = 2.0; // standard uncertainties

} // namespace

Result<std::size_t> channel_among(const std::string& path, const std::string& wanted, const std::string& option,
                                  const std::vector<SelectedChannel>& channels)
{
    int number = 0;
    const char* const last = wanted.data() + wanted.size();
    const auto [end, error] = std::from_chars(wanted.data(), last, number);
    const bool is_number = error == std::errc() && end == last;
    std::string there;
    for (std::size_t i = 0; i < channels.size(); ++i) {
        const ChannelOfReport& channel = channels[i].is;
        if (channel.name == wanted || (is_number && channel.channel == number)) return i;
        there += fmt::format("{}{}", i == 0 ? "" : ", ", channel.channel);
        if (channel.name) there += fmt::format(" ({})", *channel.name);
    }
    return fail({.kind = ProblemKind::usage,
                 .file = path,
                 .what = fmt::format("{}channel \"{}\", is not among the channels",
                                     option == "--reference" ? "the reference, " : "", wanted),
                 .remedy = fmt::format("choose {} from {}", option, there)});
}

std::optional<Problem> rates_differ(const std::string& path, double rate_hz, const std::string& other_path,
                                    double other_rate_hz)
{
    if (std::abs(other_rate_hz / rate_hz - 1.0) < 1e-9) return std::nullopt;
    return Problem{.file = other_path,
                   .what =
                       fmt::format("its rate is {:.9g} Hz, and that of {} is {:.9g} Hz", other_rate_hz, path, rate_hz),
                   .remedy = "bring both to one rate first, by resampling with an anti-aliasing filter"};
}

Result<ClockSearched> clock_search(const AlignOptions& wanted, double duration_s, double other_duration_s)
{
    for (const auto& [option, value] :
         {std::pair("--most-lag", wanted.most_lag_s), std::pair("--piece", wanted.piece_s),
          std::pair("--most-ppm", std::optional(wanted.most_ppm))})
        if (value && !(*value > 0.0 && std::isfinite(*value)))
            return fail({.kind = ProblemKind::usage,
                         .what = fmt::format("{} must be greater than 0", option),
                         .remedy = "give it in seconds, or parts in a million"});
    const double shorter_s = std::min(duration_s, other_duration_s);
    ClockSearched search{.most_ppm = wanted.most_ppm};
    search.most_lag_s = wanted.most_lag_s.value_or(std::min(usual_lag_s, usual_share * shorter_s));
    search.piece_s = wanted.piece_s.value_or(
        std::clamp((shorter_s - 2.0 * search.most_lag_s) / usual_pieces, shortest_piece_s, longest_piece_s));
    return search;
}

Result<ClocksCompared> clocks_compared(double rate_hz, std::span<const double> one, std::span<const double> other,
                                       const ClockSearched& search)
{
    const double shorter_s = static_cast<double>(std::min(one.size(), other.size())) / rate_hz;
    ClocksCompared clocks{.piece_s = search.piece_s};
    if (shorter_s - 2.0 * search.most_lag_s < least_pieces * search.piece_s) {
        const auto lag = filters::lag_between({rate_hz, one}, {rate_hz, other}, {.most_lag_s = search.most_lag_s});
        if (!lag) return tl::unexpected(lag.error());
        clocks.lag_s = lag->lag_s;
        clocks.quality = lag->quality;
        clocks.piece_s = 0.0;
        clocks.why_no_drift =
            fmt::format("{:.6g} s are too short for {:.0f} pieces of {:.4g} s beside lags up to {:.4g} "
                        "s; record for longer, or ask for shorter pieces or less lag",
                        shorter_s, least_pieces, search.piece_s, search.most_lag_s);
        return clocks;
    }
    const auto found = filters::clock_relation(
        {rate_hz, one}, {rate_hz, other},
        {.most_lag_s = search.most_lag_s, .piece_s = search.piece_s, .most_ppm = search.most_ppm});
    if (!found) return tl::unexpected(found.error());
    clocks.lag_s = found->lag_s;
    clocks.lag_uncertainty_s = found->lag_uncertainty_s;
    clocks.quality = found->quality;
    clocks.drift_ppm = UncertainValue{found->drift_ppm, found->drift_uncertainty_ppm};
    clocks.scatter_s = found->scatter_s;
    clocks.pieces_left_out = static_cast<int>(found->left_out);
    for (const filters::PieceLag& piece : found->pieces)
        clocks.pieces.push_back({.at_s = piece.at_s, .lag_s = piece.lag_s, .quality = piece.quality});
    // What the drift may be, not what it is: one that is not sure spoils as much as it may.
    const double most_ppm = std::abs(found->drift_ppm) + sure * found->drift_uncertainty_ppm;
    const double hz = filters::coherent_to_hz(most_ppm, shorter_s);
    if (hz < rate_hz / 2.0) clocks.coherent_to_hz = hz;
    return clocks;
}

Result<BestFit> best_fit(double rate_hz, std::span<const double> one, const std::vector<SelectedChannel>& others,
                         const ClockSearched& search)
{
    std::optional<BestFit> best;
    std::optional<Problem> why_not;
    for (std::size_t i = 0; i < others.size(); ++i) {
        auto clocks = clocks_compared(rate_hz, one, others[i].samples, search);
        if (!clocks && !why_not) why_not = clocks.error();
        if (clocks && (!best || clocks->quality > best->clocks.quality)) best = BestFit{i, std::move(*clocks)};
    }
    if (!best) return fail(std::move(*why_not));
    return std::move(*best);
}

void add_findings(const ClocksCompared& clocks, const std::string& other, std::vector<Finding>& findings)
{
    if (!clocks.drift_ppm) {
        findings.push_back({.severity = Severity::caution,
                            .code = "drift-not-known",
                            .message = "whether the clocks drift cannot be told: " + clocks.why_no_drift,
                            .recording = other});
        return;
    }
    if (std::abs(clocks.drift_ppm->value) > sure * clocks.drift_ppm->uncertainty && clocks.coherent_to_hz)
        findings.push_back({.severity = Severity::caution,
                            .code = "clock-drift",
                            .message = fmt::format(
                                "its clock runs {:.3g} ppm {} than that of the other file: compared over this span, "
                                "coherence falls below 90 % above {:.4g} Hz; compare shorter spans, or resample it "
                                "by that ratio",
                                std::abs(clocks.drift_ppm->value), clocks.drift_ppm->value > 0.0 ? "faster" : "slower",
                                *clocks.coherent_to_hz),
                            .recording = other});
    else if (clocks.coherent_to_hz)
        findings.push_back({.severity = Severity::note,
                            .code = "drift-uncertain",
                            .message = fmt::format(
                                "no drift is seen, but one within the uncertainty of {:.2g} ppm could spoil coherence "
                                "above {:.4g} Hz",
                                clocks.drift_ppm->uncertainty, *clocks.coherent_to_hz),
                            .recording = other});
}

Result<AlignmentReport> align(const std::string& path, const std::string& other_path, const WeighOptions& options,
                              const AlignOptions& wanted)
{
    WeighOptions plain = options;
    plain.axes.clear();
    plain.scale = 1.0; // a correlation does not care
    const auto one = selected_samples(path, plain);
    if (!one) return tl::unexpected(one.error());
    const auto channel = channel_among(path, wanted.channel, "--channel", one->channels);
    if (!channel) return tl::unexpected(channel.error());
    auto other = selected_samples(other_path, plain);
    if (!other) return tl::unexpected(other.error());
    if (auto problem = rates_differ(path, one->rate_hz, other_path, other->rate_hz))
        return tl::unexpected(std::move(*problem));
    if (!wanted.other_channel.empty()) {
        const auto found = channel_among(other_path, wanted.other_channel, "--other-channel", other->channels);
        if (!found) return tl::unexpected(found.error());
        SelectedChannel alone = std::move(other->channels[*found]);
        other->channels.clear();
        other->channels.push_back(std::move(alone));
    }
    const auto search = clock_search(wanted, one->duration_s, other->duration_s);
    if (!search) return tl::unexpected(search.error());
    auto fit = best_fit(one->rate_hz, one->channels[*channel].samples, other->channels, *search);
    if (!fit) {
        Problem problem = fit.error();
        problem.file = other_path;
        return fail(std::move(problem));
    }
    AlignmentReport report{.file = path,
                           .other = other_path,
                           .sha256 = one->sha256,
                           .other_sha256 = other->sha256,
                           .rate_hz = one->rate_hz,
                           .from_s = one->from_s,
                           .duration_s = one->duration_s,
                           .other_duration_s = other->duration_s,
                           .channel = one->channels[*channel].is,
                           .other_channel = other->channels[fit->other].is,
                           .most_lag_s = search->most_lag_s,
                           .most_ppm = search->most_ppm,
                           .clocks = std::move(fit->clocks)};
    for (const SelectedSamples* file : {&one.value(), static_cast<const SelectedSamples*>(&*other)})
        report.findings.insert(report.findings.end(), file->resampled.begin(), file->resampled.end());
    add_findings(report.clocks, other_path, report.findings);
    return report;
}

} // namespace becalm::evaluators
