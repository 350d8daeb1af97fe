#include "evaluators/relate.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

#include "evaluators/align.h"
#include "evaluators/selected_samples.h"
#include "filters/cross_spectra.h"

namespace becalm::evaluators {
namespace {

constexpr double usual_resolution_hz = 0.25;
constexpr double usual_lengths = 8.0; // of a segment end to end: 15 that overlap
constexpr std::size_t least_length = 8;
constexpr std::size_t most_lines = 12;
constexpr double least_share = 1e-4; // of the reference's mean square; fainter lines explain nothing
constexpr double few_averages = 10.0;

constexpr double degrees = 180.0 / std::numbers::pi; // of a radian

RelatedMotion related(double hz, std::complex<double> amplitude, double coherence, double relative_uncertainty,
                      double phase_uncertainty_rad)
{
    return {.hz = hz,
            .coherence = coherence,
            .real = amplitude.real(),
            .imaginary = amplitude.imag(),
            .magnitude = std::abs(amplitude),
            .magnitude_uncertainty = std::abs(amplitude) > 0.0 ? std::abs(amplitude) * relative_uncertainty : 0.0,
            .phase_deg = degrees * std::arg(amplitude),
            .phase_uncertainty_deg = degrees * phase_uncertainty_rad};
}

// Samples of a segment of what lasts so long.
Result<std::size_t> segment_length(const std::string& path, double rate_hz, double duration_s,
                                   const std::optional<double>& resolution_hz)
{
    if (resolution_hz && !(*resolution_hz > 0.0 && std::isfinite(*resolution_hz)))
        return fail(
            {.kind = ProblemKind::usage, .what = "the resolution must be greater than 0", .remedy = "give it in Hz"});
    const double hz = resolution_hz.value_or(std::max(usual_resolution_hz, usual_lengths / duration_s));
    const double length = std::round(rate_hz / hz);
    if (length < static_cast<double>(least_length))
        return fail({.kind = resolution_hz ? ProblemKind::usage : ProblemKind::bad_input,
                     .file = path,
                     .what = resolution_hz
                                 ? fmt::format("a resolution of {:.4g} Hz leaves less than {} samples a segment at "
                                               "{:.6g} Hz",
                                               hz, least_length, rate_hz)
                                 : fmt::format("{:.6g} s are too short to compare channels", duration_s),
                     .remedy = resolution_hz ? "ask for a finer one" : "measure longer, or choose a longer span"});
    // The second segment begins half a length after the first.
    const double shortest_s = 1.5 * length / rate_hz; // not a limit: two segments, half overlapping
    if (duration_s < shortest_s)
        return fail({.file = path,
                     .what = fmt::format("{:.6g} s are too short to compare channels with a resolution of {:.4g} Hz: "
                                         "two segments last {:.4g} s",
                                         duration_s, hz, shortest_s),
                     .remedy = "measure longer, or ask for a coarser --resolution"});
    return static_cast<std::size_t>(length);
}

std::vector<filters::SpectralLine> dominant_lines(const filters::CrossDensities& densities)
{
    auto lines = filters::spectral_lines(densities.density(0), densities.resolution_hz());
    double mean_square = 0.0;
    for (std::size_t k = 1; k < densities.lines(); ++k)
        mean_square += densities.density(0, k) * densities.resolution_hz();
    std::erase_if(lines, [&](const filters::SpectralLine& line) {
        return line.rms * line.rms < least_share * mean_square || line.hz > densities.rate_hz / 2.0;
    });
    if (lines.size() > most_lines) lines.resize(most_lines);
    return lines;
}

// A channel that is measured by the reference, over what both files share.
struct Compared {
    const SelectedChannel* channel = nullptr;
    std::span<const double> samples = {};
    double later_s = 0.0; // what a shift by whole samples leaves of the lag
    bool of_other = false;
};

// What of a second file goes with the first one, shifted by whole samples.
struct Shifted {
    SelectedSamples samples = {};
    std::size_t begin = 0, other_begin = 0, count = 0; // of what both hold
    double later_s = 0.0;
};

// Reads it, finds its lag and says so in the report.
Result<Shifted> shifted(const std::string& path, const SelectedSamples& one, std::size_t reference,
                        const WeighOptions& options, const RelateOptions& wanted, RelationReport& report)
{
    WeighOptions all = options;
    all.axes.clear();
    auto other = selected_samples(wanted.with, all);
    if (!other) return tl::unexpected(other.error());
    if (auto problem = rates_differ(path, one.rate_hz, wanted.with, other->rate_hz))
        return tl::unexpected(std::move(*problem));
    const auto search = clock_search({.most_lag_s = wanted.most_lag_s}, one.duration_s, other->duration_s);
    if (!search) return tl::unexpected(search.error());
    auto fit = best_fit(one.rate_hz, one.channels[reference].samples, other->channels, *search);
    if (!fit) {
        Problem problem = fit.error();
        problem.file = wanted.with;
        return fail(std::move(problem));
    }
    report.other = RelatedFile{.file = wanted.with,
                               .sha256 = other->sha256,
                               .channel = other->channels[fit->other].is,
                               .clocks = std::move(fit->clocks)};
    const ClocksCompared& clocks = report.other->clocks;
    // In the middle, so that a drift takes as much at the begin as at the end.
    const double middle_s = 0.5 * std::min(one.duration_s, other->duration_s);
    const double lag =
        (clocks.lag_s + (clocks.drift_ppm ? 1e-6 * clocks.drift_ppm->value * middle_s : 0.0)) * one.rate_hz;
    const auto whole = static_cast<std::ptrdiff_t>(std::llround(lag));
    Shifted result{.begin = static_cast<std::size_t>(std::max<std::ptrdiff_t>(0, -whole)),
                   .other_begin = static_cast<std::size_t>(std::max<std::ptrdiff_t>(0, whole)),
                   .later_s = (lag - static_cast<double>(whole)) / one.rate_hz};
    result.count = std::min(one.channels[reference].samples.size() - result.begin,
                            other->channels.front().samples.size() - result.other_begin);
    report.findings.insert(report.findings.end(), other->resampled.begin(), other->resampled.end());
    result.samples = std::move(*other);
    add_findings(clocks, wanted.with, report.findings);
    report.findings.push_back(
        {.severity = Severity::note,
         .code = "phase-by-lag",
         .message = fmt::format("it is shifted by {:.6g} s, so that its channel {} fits the reference best: what delay "
                                "there is between the places is shifted away too, and phases of its channels hold but "
                                "for that",
                                clocks.lag_s, report.other->channel.channel),
         .recording = wanted.with});
    return result;
}

} // namespace

Result<RelationReport> relate(const std::string& path, const WeighOptions& options, const RelateOptions& wanted)
{
    const auto selected = selected_samples(path, options);
    if (!selected) return tl::unexpected(selected.error());
    const auto found = channel_among(path, wanted.reference, "--reference", selected->channels);
    if (!found) return tl::unexpected(found.error());
    const std::size_t reference = *found;
    if (selected->channels.size() < 2 && wanted.with.empty())
        return fail({.kind = ProblemKind::usage,
                     .file = path,
                     .what = "there is no channel beside the reference",
                     .remedy = "choose more channels by --axes, or a recording with more than one"});

    RelationReport report{.file = path,
                          .sha256 = selected->sha256,
                          .rate_hz = selected->rate_hz,
                          .from_s = selected->from_s,
                          .duration_s = selected->duration_s,
                          .unit = std::string(si_unit_of(options.unit.motion, options.unit.rotates)),
                          .reference = selected->channels[reference].is};
    report.findings = selected->resampled;
    Shifted other{.count = selected->channels[reference].samples.size()};
    if (!wanted.with.empty()) {
        auto read = shifted(path, *selected, reference, options, wanted, report);
        if (!read) return tl::unexpected(read.error());
        other = std::move(*read);
        report.from_s += static_cast<double>(other.begin) / report.rate_hz;
        report.duration_s = static_cast<double>(other.count) / report.rate_hz;
    }
    const auto length = segment_length(path, report.rate_hz, report.duration_s, wanted.resolution_hz);
    if (!length) return tl::unexpected(length.error());
    std::vector<Compared> compared;
    for (std::size_t i = 0; i < selected->channels.size(); ++i)
        if (i != reference)
            compared.push_back({.channel = &selected->channels[i],
                                .samples = std::span(selected->channels[i].samples).subspan(other.begin, other.count)});
    for (const SelectedChannel& channel : other.samples.channels)
        compared.push_back({.channel = &channel,
                            .samples = std::span(channel.samples).subspan(other.other_begin, other.count),
                            .later_s = other.later_s,
                            .of_other = true});
    const auto reference_samples = std::span(selected->channels[reference].samples).subspan(other.begin, other.count);
    const double coherent_to_hz =
        report.other ? report.other->clocks.coherent_to_hz.value_or(report.rate_hz) : report.rate_hz;

    // Pair by pair: the memory for all pairs at once would grow with the square of the channels.
    for (const Compared& one : compared) {
        const SelectedChannel& channel = *one.channel;
        const std::string& of = one.of_other ? wanted.with : path;
        const std::vector<filters::SampledChannel> pair{{selected->rate_hz, reference_samples},
                                                        {selected->rate_hz, one.samples}};
        // A motion that comes later is turned back by as much.
        const auto turned = [&](std::complex<double> amplitude, double hz) {
            return amplitude * std::polar(1.0, 2.0 * std::numbers::pi * hz * one.later_s);
        };
        const double most_hz = one.of_other ? coherent_to_hz : report.rate_hz;
        const auto densities = filters::cross_densities(pair, *length);
        if (!densities) return tl::unexpected(densities.error());
        const auto moves = [&](std::size_t which) {
            for (std::size_t k = 1; k < densities->lines(); ++k)
                if (filters::has_energy(*densities, which, k)) return true;
            return false;
        };
        if (report.channels.empty()) {
            if (!moves(0))
                return fail({.file = path,
                             .what = fmt::format("the reference, channel {}, does not move", report.reference.channel),
                             .remedy = "choose another --reference, or see to the sensor"});
            report.resolution_hz = densities->resolution_hz();
            report.segments = static_cast<int>(densities->segments);
            report.averages = densities->averages();
            // A coherence beyond would be that of the clocks, not of the motion.
            if (report.resolution_hz > coherent_to_hz)
                return fail(
                    {.file = wanted.with,
                     .what = fmt::format("its clock drifts by {:.3g} ppm, which leaves no coherence above {:.3g} "
                                         "Hz over {:.6g} s",
                                         report.other->clocks.drift_ppm->value, coherent_to_hz, report.duration_s),
                     .remedy = "compare a shorter span by --from and --to, or resample it by that ratio"});
            for (const filters::SpectralLine& line : dominant_lines(*densities))
                if (line.hz <= coherent_to_hz) report.lines.push_back({.hz = line.hz, .reference_rms = line.rms});
        }
        if (!moves(1))
            report.findings.push_back(
                {.severity = Severity::caution,
                 .code = "constant-channel",
                 .message = fmt::format("channel {} does not move; see to its sensor", channel.is.channel),
                 .recording = of,
                 .channel = channel.is.channel});
        RelatedChannel& of_channel = report.channels.emplace_back();
        of_channel.channel = channel.is;
        of_channel.of_other = one.of_other;
        for (const filters::Transfer& bin : filters::transfers(*densities, 0, 1))
            if (bin.hz <= most_hz)
                of_channel.bins.push_back(related(bin.hz, turned(bin.h1, bin.hz), bin.coherence,
                                                  bin.relative_uncertainty, bin.phase_uncertainty_rad));
        for (RelatedLine& line : report.lines) {
            const auto shape = filters::deflection_shape(*densities, 0, line.hz);
            if (!shape) return tl::unexpected(shape.error());
            const filters::DeflectionPoint& point = shape->points[1];
            line.bin_hz = shape->hz;
            line.channels.push_back(related(shape->hz, turned(point.amplitude, shape->hz), point.coherence,
                                            point.relative_uncertainty, point.phase_uncertainty_rad));
        }
    }
    if (report.averages < few_averages)
        report.findings.push_back(
            {.severity = Severity::caution,
             .code = "few-averages",
             .message = fmt::format("{} segments are few: coherence comes out too high and the uncertainties too "
                                    "small; measure longer or ask for a coarser --resolution",
                                    report.segments),
             .recording = path});
    if (report.lines.empty())
        report.findings.push_back(
            {.severity = Severity::note,
             .code = "no-line",
             .message = fmt::format("no line of the reference, channel {}, stands out of its surroundings; --json "
                                    "lists every bin",
                                    report.reference.channel),
             .recording = path,
             .channel = report.reference.channel});
    return report;
}

} // namespace becalm::evaluators
