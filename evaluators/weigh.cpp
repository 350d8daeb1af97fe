#include "evaluators/weigh.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

#include "evaluators/fitness.h"
#include "evaluators/instruments.h"
#include "filters/digital_design.h"
#include "filters/octave_filters.h"
#include "filters/quantities.h"
#include "filters/weighting.h"
#include "filters/welch.h"

namespace becalm::evaluators {
namespace {

// The mapping that a file of so many channels has when nobody says otherwise; empty where there is no usual one.
std::vector<std::pair<int, Axis>> usual_axes(int channels)
{
    if (channels == 1) return {{1, Axis::z}};
    if (channels == 3) return {{1, Axis::x}, {2, Axis::y}, {3, Axis::z}};
    if (channels == 6) return {{1, Axis::x}, {2, Axis::y}, {3, Axis::z}, {4, Axis::rx}, {5, Axis::ry}, {6, Axis::rz}};
    return {};
}

// Vector sum over x, y, z where each has exactly one value.
std::optional<double> total_of(const std::vector<WeighedLane>& lanes)
{
    std::vector<filters::WeightedAxis> axes;
    for (const std::string_view axis : {"x", "y", "z"}) {
        const auto is_axis = [&](const WeighedLane& lane) { return lane.axis == axis; };
        const auto found = std::ranges::find_if(lanes, is_axis);
        if (std::ranges::count_if(lanes, is_axis) != 1 || !found->rms) return std::nullopt;
        axes.push_back({*found->rms, 1.0});
    }
    return filters::total_value(axes);
}

// Bands that the spectrum tells from their lower edge to their upper one. Too short a recording has none.
RecordedBands bands_of(const ChannelResult& channel, Motion motion, bool rotates)
{
    const ChannelSpectra& spectra = *channel.spectra;
    RecordedBands bands{.channel = channel.channel,
                        .unit = std::string(si_unit_of(motion, rotates)),
                        .resolution_hz = spectra.resolution_hz};
    for (const SpectralRow& row : spectra.rows) bands.segments += static_cast<int>(row.segments);
    const TimeSpan everything{};
    const std::vector<double> density = mean_density(spectra, std::span(&everything, 1));
    if (density.empty()) return bands;
    const double highest_hz = static_cast<double>(density.size() - 1) * spectra.resolution_hz;
    for (const filters::OctaveBand& band :
         filters::octave_bands_within(filters::BandWidth::third_octave, spectra.resolution_hz, highest_hz))
        bands.third_octaves.push_back({band.n, band.exact_hz, band.nominal_hz,
                                       filters::band_rms(density, spectra.resolution_hz, band.from_hz, band.to_hz)});
    return bands;
}

void refuse(WeighResult& result, WeighedFile& file, const Problem& problem)
{
    result.problems.push_back(problem);
    file.findings.push_back(
        {.severity = Severity::refusal, .code = "unreadable", .message = to_text(problem), .recording = file.file});
}

} // namespace

std::optional<Problem> fault_of(const Unit& unit, Axis axis)
{
    const bool is_si = !unit.rotates && unit.to_si == 1.0;
    if (is_rotation(axis) == unit.rotates || (is_rotation(axis) && is_si)) return std::nullopt;
    return Problem{.kind = ProblemKind::usage,
                   .what = fmt::format("the axis {} is not told in {}", name_of(axis), unit.name),
                   .remedy = unit.rotates ? "name the axis rx, ry or rz, or another unit"
                                          : "give the unit of the rotation: rad/s2, deg/s2, rad/s or deg/s"};
}

WeighedLane weighed_lane(const Lane& is, std::string unit, const Tally& tally)
{
    WeighedLane lane{.channel = is.channel,
                     .axis = std::string(name_of(is.axis)),
                     .weighting = std::string(name_of(is.weighting)),
                     .unit = std::move(unit)};
    if (tally.samples == 0) return lane;
    if (!std::isfinite(tally.sum_fourths) || !std::isfinite(tally.peak)) return lane; // beyond what a number can hold
    lane.rms = filters::weighted_rms(tally);
    lane.peak = tally.peak;
    if (*lane.rms > 0.0) lane.crest_factor = filters::crest_factor(tally);
    lane.mtvv_linear = tally.linear_rms;
    lane.mtvv_exponential = tally.exponential_rms_slow;
    // A dose is of an acceleration; without a weighting it is the integral of whatever the channel carries.
    if (is.weighting != WeightingId::none && output_of(is.weighting) != Motion::acceleration) return lane;
    lane.vdv = filters::vdv(tally);
    lane.evdv = filters::evdv(tally);
    lane.msdv = filters::msdv(tally);
    return lane;
}

WeighedFile weighed_file(const std::string& path, const PassResult& pass, const WeighOptions& options)
{
    WeighedFile file{.file = path,
                     .sha256 = pass.sha256,
                     .rate_hz = pass.info.rate_hz,
                     .from_s = pass.from_s,
                     .duration_s = pass.duration_s};
    const TimeSpan everything{0.0, pass.duration_s};
    file.findings = fitness(path, pass, options.unit.motion, std::span(&everything, 1));
    std::ranges::move(timings(path, pass.info), std::back_inserter(file.findings));
    const auto holds_no_numbers = [&](int channel) {
        return std::ranges::any_of(file.findings, [&](const Finding& finding) {
            return finding.severity == Severity::refusal && finding.code == "not-a-number" &&
                   finding.channel == channel;
        });
    };
    for (const LaneResult& lane : pass.lanes)
        file.lanes.push_back(weighed_lane(lane.lane, std::string(unit_behind(lane.lane, options.unit.motion)),
                                          lane.refused || holds_no_numbers(lane.lane.channel) ? Tally{} : lane.tally));
    if (options.bands) {
        file.bands.emplace();
        for (const ChannelResult& channel : pass.channels)
            if (!holds_no_numbers(channel.channel))
                file.bands->push_back(bands_of(channel, options.unit.motion, rotates(pass, channel.channel)));
    }
    file.total_rms = total_of(file.lanes);
    return file;
}

Result<PassRequest> request_for(const std::string& path, const WeighOptions& options)
{
    PassRequest request{.path = path,
                        .read = {.resample_hz = options.resample_hz, .samples = options.samples},
                        .input = options.unit.motion,
                        .to_si = options.unit.to_si * options.scale.value_or(1.0),
                        .scale_given = options.scale.has_value(),
                        .offset = options.offset,
                        .span = options.span};
    auto axes = options.axes;
    if (axes.empty()) {
        const auto reader = io::open_recording(path, request.read);
        if (!reader) return tl::unexpected(reader.error());
        const int channels = (*reader)->info().channels;
        axes = usual_axes(channels);
        if (axes.empty())
            return fail({.kind = ProblemKind::usage,
                         .file = path,
                         .what = fmt::format("the recording has {} channels and their axes are not known", channels),
                         .remedy = "name them, for example --axes 1=x,2=y,3=z"});
    }
    for (const auto& [channel, axis] : axes) {
        if (auto fault = fault_of(options.unit, axis)) {
            fault->file = path;
            return tl::unexpected(std::move(*fault));
        }
        for (const WeightingId weighting : options.weightings) request.lanes.push_back({channel, axis, weighting});
    }
    request.hash = !options.samples;
    request.whole_spectra = options.bands;
    if (options.bands)
        for (const auto& [channel, axis] : axes) request.spectra_channels.push_back(channel);
    return request;
}

WeighResult weigh(const std::vector<std::string>& paths, const WeighOptions& options)
{
    WeighResult result;
    std::vector<PassRequest> requests;
    std::vector<std::size_t> place; // of each request among the files
    for (const std::string& path : paths) {
        result.files.push_back({.file = path});
        auto request = request_for(path, options);
        if (!request) {
            refuse(result, result.files.back(), request.error());
            continue;
        }
        place.push_back(result.files.size() - 1);
        requests.push_back(std::move(*request));
    }
    const auto passes =
        run_passes(requests, {.jobs = options.jobs, .progress = options.progress, .stop = options.stop});
    for (std::size_t i = 0; i < passes.size(); ++i) {
        WeighedFile& file = result.files[place[i]];
        if (passes[i])
            file = weighed_file(file.file, *passes[i], options);
        else
            refuse(result, file, passes[i].error());
    }
    return result;
}

Result<ResponseReport> show_response(WeightingId weighting, Motion input, double rate_hz, std::vector<double> at_hz)
{
    const auto designed = filters::design(weighting, input, rate_hz);
    if (!designed) return tl::unexpected(designed.error());
    if (at_hz.empty())
        for (int n = weighting == WeightingId::Wf ? -17 : -10; std::pow(10.0, n / 10.0) <= rate_hz / 2.0; ++n)
            at_hz.push_back(std::pow(10.0, n / 10.0));
    ResponseReport report{.weighting = std::string(name_of(weighting)),
                          .input = std::string(name_of(input)),
                          .output = std::string(name_of(output_of(weighting, input))),
                          .rate_hz = rate_hz,
                          .latency_samples = (*designed)->latency,
                          .taps = static_cast<int>((*designed)->taps.size()),
                          .accurate_to_hz = filters::accurate_to_hz(weighting),
                          .least_rate_hz = filters::least_rate_hz(weighting)};
    constexpr double degrees = 180.0 / std::numbers::pi;
    for (const double hz : at_hz) {
        if (!(hz >= 0.0 && hz <= rate_hz / 2.0)) // so written that it holds for what is no number
            return fail(
                {.kind = ProblemKind::usage,
                 .what = fmt::format("{:.6g} Hz lies outside 0 to half the rate ({:.6g} Hz)", hz, rate_hz / 2.0),
                 .remedy = "choose frequencies in that range"});
        const auto running = filters::response(**designed, hz);
        const auto analytic = filters::analytic_response(weighting, input, hz);
        report.points.push_back(
            {hz, std::abs(running), std::arg(running) * degrees, std::abs(analytic), std::arg(analytic) * degrees});
    }
    return report;
}

} // namespace becalm::evaluators
