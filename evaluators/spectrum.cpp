#include "evaluators/spectrum.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "evaluators/fitness.h"
#include "filters/quantities.h"
#include "filters/welch.h"

namespace becalm::evaluators {
namespace {

constexpr double usual_resolution_hz = 0.25;
constexpr std::size_t most_components = 12;
constexpr double least_share = 1e-4; // of the mean square; fainter lines explain nothing

SpectrumLane described(const LaneResult& result, Motion motion, double rate_hz)
{
    const LaneSpectrum& spectrum = *result.spectrum;
    SpectrumLane lane{.channel = result.lane.channel,
                      .axis = std::string(name_of(result.lane.axis)),
                      .weighting = std::string(name_of(result.lane.weighting)),
                      .unit = std::string(si_unit_of(output_of(result.lane.weighting, motion))),
                      .resolution_hz = spectrum.resolution_hz,
                      .segments = static_cast<int>(spectrum.segments),
                      .density = spectrum.density};
    for (const filters::ThirdOctave& band : filters::third_octaves_within(spectrum.resolution_hz, rate_hz))
        lane.third_octaves.push_back(
            {band.n, band.exact_hz, band.nominal_hz,
             filters::band_rms(spectrum.density, spectrum.resolution_hz, band.from_hz, band.to_hz)});
    const double mean_square = std::pow(filters::weighted_rms(result.tally), 2);
    for (const filters::SpectralLine& line : filters::spectral_lines(spectrum.density, spectrum.resolution_hz)) {
        const double share = mean_square > 0.0 ? line.rms * line.rms / mean_square : 0.0;
        if (share < least_share || lane.dominant.size() == most_components) break;
        lane.dominant.push_back({line.hz, line.rms, share, line.above_floor});
    }
    return lane;
}

} // namespace

Result<SpectrumReport> spectrum(const std::string& path, const WeighOptions& options,
                                std::optional<double> resolution_hz)
{
    auto request = request_for(path, options);
    if (!request) return tl::unexpected(request.error());
    SpectrumReport report{.file = path};
    request->resolution_hz = resolution_hz.value_or(usual_resolution_hz);
    if (!resolution_hz) {
        const auto reader = io::open_recording(path);
        if (!reader) return tl::unexpected(reader.error());
        const double recorded_s = static_cast<double>((*reader)->info().frames) / (*reader)->info().rate_hz;
        const double selected_s = std::min(recorded_s, options.span.to_s) - options.span.from_s;
        if (selected_s > 0.0 && selected_s * usual_resolution_hz < 1.0) {
            request->resolution_hz = 1.0 / selected_s;
            report.findings.push_back(
                {.severity = Severity::caution,
                 .code = "coarse-resolution",
                 .message = fmt::format("{:.6g} s allow no finer resolution than {:.4g} Hz, and a single segment",
                                        selected_s, *request->resolution_hz),
                 .recording = path});
        }
    }
    auto passes =
        run_passes(std::span(&*request, 1), {.jobs = options.jobs, .progress = options.progress, .stop = options.stop});
    if (!passes.front()) return tl::unexpected(passes.front().error());
    const PassResult& pass = *passes.front();
    report.sha256 = pass.sha256;
    report.rate_hz = pass.info.rate_hz;
    report.duration_s = pass.duration_s;
    const TimeSpan everything{0.0, pass.duration_s};
    for (Finding& finding : fitness(path, pass, options.unit.motion, std::span(&everything, 1)))
        report.findings.push_back(std::move(finding));
    // A gap that was filled would show as broadband motion.
    const auto has_gaps = [&](int channel) {
        return std::ranges::any_of(report.findings, [&](const Finding& finding) {
            return finding.severity == Severity::refusal && finding.code == "not-a-number" &&
                   finding.channel == channel;
        });
    };
    for (const LaneResult& lane : pass.lanes)
        if (lane.spectrum && !has_gaps(lane.lane.channel))
            report.lanes.push_back(described(lane, options.unit.motion, pass.info.rate_hz));
    return report;
}

} // namespace becalm::evaluators
