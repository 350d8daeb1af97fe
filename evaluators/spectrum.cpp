#include "evaluators/spectrum.h"

#include <algorithm>
#include <cmath>
#include <deque>
#include <numbers>

#include <fmt/format.h>

#include "evaluators/fitness.h"
#include "evaluators/instruments.h"
#include "filters/digital_design.h"
#include "filters/octave_filters.h"
#include "filters/quantities.h"
#include "filters/welch.h"

namespace becalm::evaluators {
namespace {

using filters::BandWidth;

constexpr double usual_resolution_hz = 0.25;
constexpr double usual_row_s = 1.0;
constexpr double longest_row_s = 1e8; // three years
constexpr double least_resolution_hz = 1e-8;
constexpr std::size_t most_components = 12;
constexpr double least_share = 1e-4;         // of the mean square; fainter lines explain nothing
constexpr double least_converted_hz = 0.5;   // not a limit: below, a conversion shows the sensor's noise
constexpr double least_converted_bins = 3.0; // what the window spreads from the removed mean and slow motion

double angular(double hz) { return 2.0 * std::numbers::pi * hz; }

// What all lanes of a report share.
struct Terms {
    double rate_hz = 0.0;
    double from_hz = 0.0; // nothing below is reported
    Motion input = Motion::acceleration;
    std::optional<Motion> as = {};

    // Lowest edge of a band that a density of this resolution can tell.
    double least_edge_hz(double resolution_hz) const { return std::max(resolution_hz, from_hz); }

    // Order with which a lane is integrated (or, below 0, differentiated) to be shown.
    int integrations(WeightingId weighting) const
    {
        return as ? derivative_order(*as) - derivative_order(output_of(weighting, input)) : 0;
    }

    std::string_view unit(const Lane& lane) const
    {
        return as ? si_unit_of(*as, is_rotation(lane.axis)) : unit_behind(lane, input);
    }

    // Bin 0 has no amplitude to convert.
    void convert(std::vector<double>& density, double resolution_hz, WeightingId weighting) const
    {
        const int integrations = this->integrations(weighting);
        if (integrations == 0) return;
        density[0] = 0.0;
        for (std::size_t k = 1; k < density.size(); ++k)
            density[k] *= std::pow(angular(static_cast<double>(k) * resolution_hz), -2 * integrations);
    }

    std::size_t first_bin(double resolution_hz) const
    {
        return static_cast<std::size_t>(std::ceil(from_hz / resolution_hz - 1e-9));
    }
};

std::vector<BandLevel> levels(BandWidth width, std::span<const double> density, double resolution_hz,
                              const Terms& terms)
{
    std::vector<BandLevel> levels;
    for (const filters::OctaveBand& band :
         filters::octave_bands_within(width, terms.least_edge_hz(resolution_hz), terms.rate_hz / 2.0))
        levels.push_back({band.n, band.exact_hz, band.nominal_hz,
                          filters::band_rms(density, resolution_hz, band.from_hz, band.to_hz)});
    return levels;
}

// Found in the density as it is, then converted at their own frequency: so the neighbours of a line do not lean.
std::vector<DominantComponent> dominant(const LaneSpectrum& spectrum, double mean_square, const Terms& terms,
                                        WeightingId weighting)
{
    std::vector<DominantComponent> components;
    for (const filters::SpectralLine& line : filters::spectral_lines(spectrum.density, spectrum.resolution_hz)) {
        if (line.hz < terms.from_hz) continue;
        const double rms = line.rms * std::pow(angular(line.hz), -terms.integrations(weighting));
        components.push_back({line.hz, rms, mean_square > 0.0 ? rms * rms / mean_square : 0.0, line.above_floor});
    }
    std::ranges::stable_sort(components, std::ranges::greater{}, &DominantComponent::rms);
    std::erase_if(components, [](const DominantComponent& line) { return line.energy_share < least_share; });
    if (components.size() > most_components) components.resize(most_components);
    return components;
}

SpectrumLane described(const LaneResult& result, const Terms& terms, bool amplitude)
{
    const LaneSpectrum& spectrum = *result.spectrum;
    const WeightingId weighting = result.lane.weighting;
    const double resolution_hz = spectrum.resolution_hz;
    SpectrumLane lane{.channel = result.lane.channel,
                      .axis = std::string(name_of(result.lane.axis)),
                      .weighting = std::string(name_of(weighting)),
                      .unit = std::string(terms.unit(result.lane)),
                      .resolution_hz = resolution_hz,
                      .segments = static_cast<int>(spectrum.segments),
                      .row_segments = static_cast<int>(spectrum.row_segments),
                      .rows = static_cast<int>(spectrum.rows),
                      .first_bin = static_cast<int>(terms.first_bin(resolution_hz)),
                      .density = spectrum.density,
                      .greatest = spectrum.greatest,
                      .least = spectrum.least};
    const auto in_a_row = static_cast<double>(spectrum.rows > 0 ? spectrum.row_segments : spectrum.segments);
    const double samples = std::round(terms.rate_hz / resolution_hz), hop = std::floor(samples / 2.0);
    lane.row_s = (samples + (in_a_row - 1.0) * hop) / terms.rate_hz;
    for (auto* density : {&lane.density, &lane.greatest, &lane.least})
        terms.convert(*density, resolution_hz, weighting);
    if (amplitude)
        for (const double density : lane.density)
            lane.amplitude.push_back(std::sqrt(density * 1.5 * resolution_hz)); // not a limit: Hann bandwidth
    lane.third_octaves = levels(BandWidth::third_octave, lane.density, resolution_hz, terms);
    lane.octaves = levels(BandWidth::octave, lane.density, resolution_hz, terms);
    double mean_square = std::pow(filters::weighted_rms(result.tally), 2);
    if (terms.as) {
        mean_square = 0.0;
        for (auto k = static_cast<std::size_t>(lane.first_bin); k < lane.density.size(); ++k)
            mean_square += lane.density[k] * resolution_hz;
    }
    lane.dominant = dominant(spectrum, mean_square, terms, weighting);
    return lane;
}

// Running levels of one lane.
class RunningBands {
public:
    RunningBands(double rate_hz, double least_edge_hz, double time_constant_s) : rate_hz_(rate_hz)
    {
        for (const BandWidth width : {BandWidth::third_octave, BandWidth::octave})
            for (const filters::OctaveBand& band :
                 filters::octave_bands_within(width, std::max(least_edge_hz, filters::lowest_band_edge * rate_hz),
                                              filters::highest_band_edge * rate_hz)) {
                const auto filter = filters::band_filter(band.from_hz, band.to_hz, rate_hz);
                BECALM_ASSERT(filter);
                bands_.emplace_back(band, filters::RunningBand(*filter, rate_hz, time_constant_s));
            }
    }

    void add(const PassOptions::Samples& in)
    {
        for (auto& [band, level] : bands_) level.add(in.samples, in.count, in.stride);
    }

    std::vector<RunningBandLevel> levels() const
    {
        std::vector<RunningBandLevel> levels;
        for (const auto& [band, level] : bands_)
            levels.push_back({.bands_an_octave = static_cast<int>(band.width),
                              .n = band.n,
                              .exact_hz = band.exact_hz,
                              .nominal_hz = band.nominal_hz,
                              .greatest = level.greatest(),
                              .mean = level.mean(),
                              .class_1 = band.to_hz <= filters::class_1_edge(band.width) * rate_hz_});
        return levels;
    }

private:
    double rate_hz_;
    std::vector<std::pair<filters::OctaveBand, filters::RunningBand>> bands_;
};

// Rows of a spectrogram of one lane: row r begins with the first sample at or after r row_s.
class SpectrogramRows {
public:
    SpectrogramRows(const Terms& terms, WeightingId weighting, double row_s, std::size_t segment)
        : terms_(terms), weighting_(weighting), row_s_(row_s), segment_(segment), welch_(terms.rate_hz, segment)
    {
    }

    // Calls on_row(density of the row) for each one that ends.
    template <class OnRow>
    void add(const PassOptions::Samples& in, OnRow&& on_row)
    {
        std::size_t done = 0;
        while (done < in.count) {
            const std::int64_t end = first_sample_of(row_ + 1);
            const auto part = std::min(in.count - done, static_cast<std::size_t>(end - sample_));
            welch_.add(in.samples + done * in.stride, part, in.stride);
            done += part;
            sample_ += static_cast<std::int64_t>(part);
            if (sample_ < end) continue;
            std::vector<double> density = welch_.density();
            terms_.convert(density, welch_.resolution_hz(), weighting_);
            on_row(std::move(density));
            welch_.restart();
            ++row_;
        }
    }

private:
    std::int64_t first_sample_of(std::int64_t row) const
    {
        return static_cast<std::int64_t>(std::ceil(static_cast<double>(row) * row_s_ * terms_.rate_hz - 1e-6));
    }

    Terms terms_;
    WeightingId weighting_;
    double row_s_;
    std::size_t segment_;
    filters::Welch welch_;
    std::int64_t row_ = 0, sample_ = 0;
};

// All that listens to the lanes as they pass. Rows wait until every lane has one: for as long as the filters delay.
class Listener {
public:
    Listener(const SpectrumOptions& wanted, const Terms& terms, double resolution_hz, const std::vector<Lane>& lanes)
        : wanted_(wanted), terms_(terms), row_s_(wanted.row_s.value_or(usual_row_s))
    {
        const auto segment = static_cast<std::size_t>(
            std::min(std::round(terms.rate_hz / resolution_hz), std::floor(row_s_ * terms.rate_hz + 1e-6)));
        const double row_resolution_hz = terms.rate_hz / static_cast<double>(segment);
        for (const Lane& lane : lanes) {
            if (std::ranges::find(lanes_, lane, &OfLane::lane) != lanes_.end()) continue;
            OfLane& of_lane = lanes_.emplace_back();
            of_lane.lane = lane;
            if (wanted.running_s)
                of_lane.running.emplace(terms.rate_hz, terms.least_edge_hz(resolution_hz), *wanted.running_s);
            if (wanted.spectrogram) of_lane.rows.emplace(terms, lane.weighting, row_s_, segment);
        }
        if (wanted.spectrogram_of_bins)
            for (std::size_t k = terms.first_bin(row_resolution_hz); k <= segment / 2; ++k)
                hz_.push_back(static_cast<double>(k) * row_resolution_hz);
        else
            for (const auto& band : filters::octave_bands_within(
                     BandWidth::third_octave, terms.least_edge_hz(row_resolution_hz), terms.rate_hz / 2.0))
                hz_.push_back(band.nominal_hz);
        row_resolution_hz_ = row_resolution_hz;
    }

    bool has_columns() const { return !hz_.empty(); }

    void add(const PassOptions::Samples& in)
    {
        OfLane& lane = *std::ranges::find(lanes_, in.lane, &OfLane::lane);
        if (lane.running) lane.running->add(in);
        if (!lane.rows) return;
        lane.rows->add(in, [&](std::vector<double> density) { lane.waiting.push_back(values_of(density)); });
        while (std::ranges::all_of(lanes_, [](const OfLane& each) { return !each.waiting.empty(); })) {
            for (OfLane& each : lanes_) {
                wanted_.spectrogram({.channel = each.lane.channel,
                                     .axis = name_of(each.lane.axis),
                                     .weighting = name_of(each.lane.weighting),
                                     .unit = terms_.unit(each.lane),
                                     .from_s = static_cast<double>(row_) * row_s_,
                                     .hz = hz_,
                                     .values = each.waiting.front()});
                each.waiting.pop_front();
            }
            ++row_;
        }
    }

    std::vector<RunningBandLevel> running(const Lane& lane) const
    {
        const auto found = std::ranges::find(lanes_, lane, &OfLane::lane);
        return found->running ? found->running->levels() : std::vector<RunningBandLevel>{};
    }

private:
    struct OfLane {
        Lane lane = {};
        std::optional<RunningBands> running = {};
        std::optional<SpectrogramRows> rows = {};
        std::deque<std::vector<double>> waiting = {};
    };

    std::vector<double> values_of(const std::vector<double>& density) const
    {
        if (wanted_.spectrogram_of_bins)
            return {density.begin() + static_cast<std::ptrdiff_t>(terms_.first_bin(row_resolution_hz_)), density.end()};
        std::vector<double> values;
        for (const BandLevel& level : levels(BandWidth::third_octave, density, row_resolution_hz_, terms_))
            values.push_back(level.rms);
        return values;
    }

    const SpectrumOptions& wanted_;
    Terms terms_;
    double row_s_, row_resolution_hz_ = 0.0;
    std::vector<double> hz_;
    std::vector<OfLane> lanes_;
    std::int64_t row_ = 0;
};

std::optional<Problem> fault_of(const SpectrumOptions& wanted)
{
    const auto bad = [](std::string what, std::string remedy) {
        return Problem{.kind = ProblemKind::usage, .what = std::move(what), .remedy = std::move(remedy)};
    };
    const auto is_positive = [](const std::optional<double>& value) {
        return !value || (*value > 0.0 && std::isfinite(*value));
    };
    if (!is_positive(wanted.resolution_hz)) return bad("the resolution must be greater than 0", "give it in Hz");
    if (!is_positive(wanted.row_s)) return bad("a row must last longer than 0", "give its length in seconds");
    if (wanted.resolution_hz && *wanted.resolution_hz < least_resolution_hz)
        return bad(fmt::format("a resolution of {:.3g} Hz is finer than any recording allows", *wanted.resolution_hz),
                   "give it in Hz");
    if (wanted.row_s && *wanted.row_s > longest_row_s)
        return bad(fmt::format("a row of {:.3g} s is longer than any recording", *wanted.row_s),
                   "give its length in seconds");
    if (!is_positive(wanted.above_hz))
        return bad("the frequency above which is reported must be greater than 0", "give it in Hz");
    if (!is_positive(wanted.running_s))
        return bad("the time constant of running bands must be greater than 0", "usual are 0.125 and 1 s");
    if (wanted.running_s && wanted.as)
        return bad("running bands are of the motion as it was recorded and weighted, not of a converted one",
                   "ask for the one or the other");
    return std::nullopt;
}

} // namespace

Result<SpectrumReport> spectrum(const std::string& path, const WeighOptions& options, const SpectrumOptions& wanted)
{
    if (auto fault = fault_of(wanted)) return tl::unexpected(std::move(*fault));
    auto request = request_for(path, options);
    if (!request) return tl::unexpected(request.error());
    const auto reader = io::open_recording(path, request->read);
    if (!reader) return tl::unexpected(reader.error());
    const double rate_hz = (*reader)->info().rate_hz;
    const double recorded_s = static_cast<double>((*reader)->info().frames) / rate_hz;
    const double selected_s = std::min(recorded_s, options.span.to_s) - options.span.from_s;

    SpectrumReport report{.file = path, .running_s = wanted.running_s};
    request->resolution_hz = wanted.resolution_hz.value_or(usual_resolution_hz);
    if (!wanted.resolution_hz && selected_s > 0.0 && selected_s * usual_resolution_hz < 1.0) {
        request->resolution_hz = 1.0 / selected_s;
        report.findings.push_back(
            {.severity = Severity::caution,
             .code = "coarse-resolution",
             .message = fmt::format("{:.6g} s allow no finer resolution than {:.4g} Hz, and a single segment",
                                    selected_s, *request->resolution_hz),
             .recording = path});
    }
    request->spectrum_row_s = wanted.row_s.value_or(0.0);
    const double resolution_hz = *request->resolution_hz;

    Terms terms{.rate_hz = rate_hz, .input = options.unit.motion, .as = wanted.as};
    if (wanted.as) report.converted_to = std::string(name_of(*wanted.as));
    if (wanted.above_hz)
        terms.from_hz = *wanted.above_hz;
    else if (wanted.as)
        terms.from_hz = std::max(least_converted_bins * resolution_hz, least_converted_hz);
    report.from_hz = terms.from_hz;
    if (terms.from_hz >= rate_hz / 2.0)
        return fail(
            {.kind = ProblemKind::usage,
             .file = path,
             .what = fmt::format("nothing is left above {:.6g} Hz at a rate of {:.6g} Hz", terms.from_hz, rate_hz),
             .remedy = "say --above with a frequency below half the rate"});
    const double row_s = wanted.row_s.value_or(usual_row_s);
    if (wanted.spectrogram && selected_s > 0.0 && row_s > selected_s)
        return fail({.file = path,
                     .what = fmt::format("{:.6g} s are too short for a row of {:.6g} s", selected_s, row_s),
                     .remedy = "ask for shorter rows or measure longer"});
    if (wanted.spectrogram && row_s * rate_hz < 8.0)
        return fail(
            {.file = path,
             .what = fmt::format("a row of {:.6g} s holds less than 8 samples at a rate of {:.6g} Hz", row_s, rate_hz),
             .remedy = "ask for longer rows"});

    // Lanes that the rate refuses never speak, and the others must not wait for them.
    std::vector<Lane> heard;
    for (const Lane& lane : request->lanes)
        if (filters::design(lane.weighting, options.unit.motion, rate_hz)) heard.push_back(lane);
    Listener listener(wanted, terms, resolution_hz, heard);
    if (wanted.spectrogram && !listener.has_columns())
        return fail(
            {.file = path,
             .what = fmt::format("a row of {:.6g} s at a rate of {:.6g} Hz holds no one-third octave", row_s, rate_hz),
             .remedy = "ask for longer rows, or for bins"});
    PassOptions running{.jobs = options.jobs, .progress = options.progress, .stop = options.stop};
    if (wanted.running_s || wanted.spectrogram)
        running.lane_samples = [&](const PassOptions::Samples& samples) { listener.add(samples); };
    auto passes = run_passes(std::span(&*request, 1), running);
    if (!passes.front()) return tl::unexpected(passes.front().error());
    const PassResult& pass = *passes.front();
    report.sha256 = pass.sha256;
    report.rate_hz = pass.info.rate_hz;
    report.duration_s = pass.duration_s;
    const TimeSpan everything{0.0, pass.duration_s};
    for (auto findings :
         {fitness(path, pass, options.unit.motion, std::span(&everything, 1)), timings(path, pass.info)})
        std::ranges::move(findings, std::back_inserter(report.findings));
    // A gap that was filled would show as broadband motion.
    const auto has_gaps = [&](int channel) {
        return std::ranges::any_of(report.findings, [&](const Finding& finding) {
            return finding.severity == Severity::refusal && finding.code == "not-a-number" &&
                   finding.channel == channel;
        });
    };
    for (const LaneResult& lane : pass.lanes) {
        if (!lane.spectrum || has_gaps(lane.lane.channel)) continue;
        report.lanes.push_back(described(lane, terms, wanted.amplitude));
        if (wanted.running_s) report.lanes.back().running_bands = listener.running(lane.lane);
    }
    return report;
}

} // namespace becalm::evaluators
