#include "evaluators/relate.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

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

// Index of the reference among the channels that were read.
Result<std::size_t> reference_among(const std::string& path, const std::string& wanted,
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
                 .what = fmt::format("the reference, channel \"{}\", is not among the channels", wanted),
                 .remedy = "choose --reference from " + there});
}

// Samples of a segment.
Result<std::size_t> segment_length(const std::string& path, const SelectedSamples& selected,
                                   const std::optional<double>& resolution_hz)
{
    if (resolution_hz && !(*resolution_hz > 0.0 && std::isfinite(*resolution_hz)))
        return fail(
            {.kind = ProblemKind::usage, .what = "the resolution must be greater than 0", .remedy = "give it in Hz"});
    const double hz = resolution_hz.value_or(std::max(usual_resolution_hz, usual_lengths / selected.duration_s));
    const double length = std::round(selected.rate_hz / hz);
    if (length < static_cast<double>(least_length))
        return fail({.kind = resolution_hz ? ProblemKind::usage : ProblemKind::bad_input,
                     .file = path,
                     .what = resolution_hz
                                 ? fmt::format("a resolution of {:.4g} Hz leaves less than {} samples a segment at "
                                               "{:.6g} Hz",
                                               hz, least_length, selected.rate_hz)
                                 : fmt::format("{:.6g} s are too short to compare channels", selected.duration_s),
                     .remedy = resolution_hz ? "ask for a finer one" : "measure longer, or choose a longer span"});
    // The second segment begins half a length after the first.
    const double shortest_s = 1.5 * length / selected.rate_hz; // not a limit: two segments, half overlapping
    if (selected.duration_s < shortest_s)
        return fail({.file = path,
                     .what = fmt::format("{:.6g} s are too short to compare channels with a resolution of {:.4g} Hz: "
                                         "two segments last {:.4g} s",
                                         selected.duration_s, hz, shortest_s),
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

} // namespace

Result<RelationReport> relate(const std::string& path, const WeighOptions& options, const RelateOptions& wanted)
{
    const auto selected = selected_samples(path, options);
    if (!selected) return tl::unexpected(selected.error());
    const auto found = reference_among(path, wanted.reference, selected->channels);
    if (!found) return tl::unexpected(found.error());
    const std::size_t reference = *found;
    if (selected->channels.size() < 2)
        return fail({.kind = ProblemKind::usage,
                     .file = path,
                     .what = "there is no channel beside the reference",
                     .remedy = "choose more channels by --axes, or a recording with more than one"});
    const auto length = segment_length(path, *selected, wanted.resolution_hz);
    if (!length) return tl::unexpected(length.error());

    RelationReport report{.file = path,
                          .sha256 = selected->sha256,
                          .rate_hz = selected->rate_hz,
                          .from_s = selected->from_s,
                          .duration_s = selected->duration_s,
                          .unit = std::string(si_unit_of(options.unit.motion, options.unit.rotates)),
                          .reference = selected->channels[reference].is};
    // Pair by pair: the memory for all pairs at once would grow with the square of the channels.
    for (std::size_t i = 0; i < selected->channels.size(); ++i) {
        if (i == reference) continue;
        const SelectedChannel& channel = selected->channels[i];
        const std::vector<filters::SampledChannel> pair{{selected->rate_hz, selected->channels[reference].samples},
                                                        {selected->rate_hz, channel.samples}};
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
            for (const filters::SpectralLine& line : dominant_lines(*densities))
                report.lines.push_back({.hz = line.hz, .reference_rms = line.rms});
        }
        if (!moves(1))
            report.findings.push_back(
                {.severity = Severity::caution,
                 .code = "constant-channel",
                 .message = fmt::format("channel {} does not move; see to its sensor", channel.is.channel),
                 .recording = path,
                 .channel = channel.is.channel});
        RelatedChannel& of_channel = report.channels.emplace_back();
        of_channel.channel = channel.is;
        for (const filters::Transfer& bin : filters::transfers(*densities, 0, 1))
            of_channel.bins.push_back(
                related(bin.hz, bin.h1, bin.coherence, bin.relative_uncertainty, bin.phase_uncertainty_rad));
        for (RelatedLine& line : report.lines) {
            const auto shape = filters::deflection_shape(*densities, 0, line.hz);
            if (!shape) return tl::unexpected(shape.error());
            const filters::DeflectionPoint& point = shape->points[1];
            line.bin_hz = shape->hz;
            line.channels.push_back(related(shape->hz, point.amplitude, point.coherence, point.relative_uncertainty,
                                            point.phase_uncertainty_rad));
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
