#include "evaluators/decay.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

#include "evaluators/selected_samples.h"
#include "filters/damping.h"
#include "filters/welch.h"

namespace becalm::evaluators {
namespace {

constexpr double usual_segment_s = 50.0; // two lines of the bandwidth of 0.2 % damping at 10 Hz
constexpr double usual_lengths = 30.0;   // of a segment end to end
constexpr double least_hz = 0.5;         // not a limit: slower, a building does not ring, and sensors drift
constexpr double highest_share = 0.4;    // not a limit: of the rate, short of what a filter against aliases takes
constexpr double longest_kernel_periods = 8.0;
constexpr double least_length = 16.0;
constexpr double blocks = 20.0;               // of filters::ambient_modes
constexpr double most_densities = 32'000'000; // complex, 512 MB

UncertainValue as_reported(const filters::Estimate& estimate) { return {estimate.value, estimate.uncertainty}; }

std::optional<Problem> fault_of(const DampingOptions& wanted, double rate_hz)
{
    const auto bad = [](std::string what, std::string remedy) {
        return Problem{.kind = ProblemKind::usage, .what = std::move(what), .remedy = std::move(remedy)};
    };
    const auto is_positive = [](const std::optional<double>& value) {
        return !value || (*value > 0.0 && std::isfinite(*value));
    };
    if (!is_positive(wanted.above_hz) || !is_positive(wanted.below_hz))
        return bad("--above and --below must be greater than 0", "give them in Hz");
    if (!is_positive(wanted.resolution_hz)) return bad("the resolution must be greater than 0", "give it in Hz");
    if (wanted.resolution_hz && !wanted.ambient)
        return bad("a free decay has no resolution", "say --ambient, or leave --resolution out");
    if (wanted.above_hz && wanted.below_hz && *wanted.above_hz >= *wanted.below_hz)
        return bad("--above must be less than --below", "say between which frequencies the mode lies");
    if (wanted.above_hz && *wanted.above_hz >= rate_hz / 2.0)
        return bad(fmt::format("nothing is left above {:.6g} Hz at a rate of {:.6g} Hz", *wanted.above_hz, rate_hz),
                   "say --above with a frequency below half the rate");
    return std::nullopt;
}

// Greatest line of a record, taken as one segment, from above_hz to below_hz.
Result<double> greatest_line(std::span<const double> samples, double rate_hz, double above_hz, double below_hz)
{
    filters::Welch welch(rate_hz, samples.size());
    welch.add(samples);
    const std::vector<double> density = welch.density();
    std::size_t greatest = 0;
    for (std::size_t k = 1; k < density.size(); ++k) {
        const double hz = static_cast<double>(k) * welch.resolution_hz();
        if (hz >= above_hz && hz <= below_hz && (greatest == 0 || density[k] > density[greatest])) greatest = k;
    }
    if (greatest == 0)
        return fail({.what = fmt::format("too short: {:.4g} s hold no line from {:.4g} to {:.4g} Hz",
                                         static_cast<double>(samples.size()) / rate_hz, above_hz, below_hz),
                     .remedy = "choose a wider range by --above and --below, or a longer span"});
    return static_cast<double>(greatest) * welch.resolution_hz();
}

Result<DecayFound> free_decay(std::span<const double> samples, const DecayReport& report, bool has_range)
{
    filters::DecayOptions options;
    if (has_range && samples.size() >= 8) {
        const auto near = greatest_line(samples, report.rate_hz, report.above_hz, report.below_hz);
        if (!near) return tl::unexpected(near.error());
        options.near_hz = *near;
        // The band-pass, a Hann window of n periods, is blind from 2 / n of its frequency away on: there lies the
        // nearer edge of the range, unless it is so near that hardly a decay would be left.
        const double apart_hz = std::min(*near - report.above_hz, report.below_hz - *near);
        options.kernel_periods =
            std::clamp(2.0 * *near / std::max(apart_hz, 1e-9), options.kernel_periods, longest_kernel_periods);
    }
    const auto found = filters::free_decay(samples, report.rate_hz, options);
    if (!found) return tl::unexpected(found.error());
    const double zeta = found->damping.value;
    return DecayFound{
        .mode = {as_reported(found->frequency_hz), as_reported(found->damping)},
        .decrement = 2.0 * std::numbers::pi * zeta / std::sqrt(1.0 - zeta * zeta),
        .from_s = report.from_s + found->from_s,
        .to_s = report.from_s + found->to_s,
        .from_amplitude = found->from_amplitude,
        .to_amplitude = found->to_amplitude,
        .noise_floor = found->noise_floor,
        .misfit = found->misfit,
    };
}

HalfPowerOfChannel half_power(const SelectedChannel& channel, const filters::Welch& welch, std::size_t length,
                              const filters::AmbientMode& mode, Motion motion)
{
    HalfPowerOfChannel result{.channel = channel.is.channel};
    const auto found = filters::half_power(welch.density(), welch.resolution_hz(),
                                           filters::effective_averages(length, welch.segments()),
                                           {.near_hz = mode.peak_hz, .motion = motion});
    if (found)
        result.mode = {as_reported(found->frequency_hz), as_reported(found->damping)};
    else
        result.why_not = reason(found.error());
    return result;
}

Result<void> add_ambient(DecayReport& report, const SelectedSamples& selected, const DampingOptions& wanted,
                         Motion motion)
{
    const double hz =
        wanted.resolution_hz.value_or(std::max(1.0 / usual_segment_s, usual_lengths / selected.duration_s));
    const double samples = std::round(selected.rate_hz / hz);
    if (samples < least_length || samples > selected.duration_s * selected.rate_hz)
        return fail(
            {.file = report.file,
             .what = fmt::format("{:.6g} s are too short for an ambient response with a resolution of {:.4g} Hz",
                                 selected.duration_s, hz),
             .remedy = "record for longer (some 10 minutes and more), or choose another --resolution"});
    const auto channels = static_cast<double>(selected.channels.size());
    if (blocks * channels * (channels + 1.0) / 2.0 * samples / 2.0 > most_densities)
        return fail({.kind = ProblemKind::usage,
                     .file = report.file,
                     .what = fmt::format("cross densities of {} channels at {:.6g} Hz with a resolution of {:.4g} Hz "
                                         "take too much memory",
                                         selected.channels.size(), selected.rate_hz, hz),
                     .remedy = "choose fewer channels by --axes, or a coarser --resolution"});
    const auto length = static_cast<std::size_t>(samples);
    report.resolution_hz = selected.rate_hz / samples;
    report.above_hz = wanted.above_hz.value_or(std::max(least_hz, 3.0 * *report.resolution_hz));
    report.below_hz = wanted.below_hz.value_or(highest_share * selected.rate_hz);
    std::vector<filters::SampledChannel> sampled;
    for (const SelectedChannel& channel : selected.channels) sampled.push_back({selected.rate_hz, channel.samples});
    const auto found = filters::ambient_modes(sampled, length,
                                              {.from_hz = report.above_hz, .to_hz = report.below_hz, .motion = motion});
    if (!found) {
        Problem problem = found.error();
        problem.file = report.file;
        return fail(std::move(problem));
    }
    for (const filters::AmbientMode& mode : found->modes)
        report.modes.push_back({.mode = {as_reported(mode.frequency_hz), as_reported(mode.damping)},
                                .from_hz = mode.from_hz,
                                .to_hz = mode.to_hz,
                                .first_to_second = mode.first_to_second,
                                .shape = mode.shape});
    for (const SelectedChannel& channel : selected.channels) {
        filters::Welch welch(selected.rate_hz, length);
        welch.add(channel.samples);
        for (std::size_t m = 0; m < report.modes.size(); ++m)
            report.modes[m].half_power.push_back(half_power(channel, welch, length, found->modes[m], motion));
    }
    for (const Problem& problem : found->left_out) report.left_out.push_back(reason(problem));
    return {};
}

} // namespace

Result<DecayReport> decay(const std::string& path, const WeighOptions& options, const DampingOptions& wanted)
{
    const auto selected = selected_samples(path, options);
    if (!selected) return tl::unexpected(selected.error());
    if (auto fault = fault_of(wanted, selected->rate_hz)) return tl::unexpected(std::move(*fault));
    DecayReport report{.file = path,
                       .sha256 = selected->sha256,
                       .rate_hz = selected->rate_hz,
                       .from_s = selected->from_s,
                       .duration_s = selected->duration_s,
                       .unit = std::string(si_unit_of(options.unit.motion, options.unit.rotates)),
                       .ambient = wanted.ambient,
                       .above_hz = wanted.above_hz.value_or(0.0),
                       .below_hz = wanted.below_hz.value_or(selected->rate_hz / 2.0)};
    report.findings = selected->resampled;
    for (const SelectedChannel& channel : selected->channels) {
        DecayOfChannel& of_channel = report.channels.emplace_back();
        of_channel.channel = channel.is;
        if (wanted.ambient) continue;
        auto found = free_decay(channel.samples, report, wanted.above_hz || wanted.below_hz);
        if (found)
            of_channel.decay = *found;
        else
            of_channel.why_not = reason(found.error());
    }
    if (wanted.ambient)
        if (auto added = add_ambient(report, *selected, wanted, options.unit.motion); !added)
            return tl::unexpected(added.error());
    return report;
}

} // namespace becalm::evaluators
