#include "evaluators/history.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "evaluators/selected_samples.h"
#include "filters/history.h"
#include "src/io/file_hash.h"

namespace becalm::evaluators {
namespace {

constexpr double nothing_below = 0.5;  // of the high-pass
constexpr double least_edges = 4.0;    // that a span must be longer than for its ends to be left out
constexpr double near_the_limit = 2.0; // of the high-pass: an octave
constexpr double much = 0.5;           // of the mean square
constexpr double first_pass = 0.25;    // of the work: the mean

// Statistics of one time history, sample by sample.
struct Statistics {
    double sum_squares = 0.0, least = 0.0, greatest = 0.0;
    std::size_t least_at = 0, greatest_at = 0, count = 0;

    void add(std::span<const double> samples, std::size_t first)
    {
        for (std::size_t i = 0; i < samples.size(); ++i) {
            const double x = samples[i];
            sum_squares += x * x;
            if (count == 0 || x < least) least = x, least_at = first + i;
            if (count == 0 || x > greatest) greatest = x, greatest_at = first + i;
            ++count;
        }
    }
};

Problem usage(const std::string& path, std::string what, std::string remedy)
{
    return {.kind = ProblemKind::usage, .file = path, .what = std::move(what), .remedy = std::move(remedy)};
}

// In the words of who asked; the numerics refuse again in theirs.
std::optional<Problem> fault_of(const std::string& path, Motion recorded, const SelectedReader& reader,
                                const HistoryOptions& wanted)
{
    const double half_hz = reader.rate_hz() / 2.0;
    for (const Motion as : wanted.as)
        if (!wanted.high_pass_hz && derivative_order(as) > derivative_order(recorded))
            return usage(path,
                         fmt::format("a {} from a recorded {} needs a lower limit: without one it is that of the "
                                     "sensor's drift",
                                     name_of(as), name_of(recorded)),
                         fmt::format("say --high-pass HZ, {:.2g} Hz or more for this span, below what you look for",
                                     1.0 / (nothing_below * filters::lower_transition * reader.duration_s())));
    for (const auto& [option, hz] :
         {std::pair("--high-pass", wanted.high_pass_hz), std::pair("--low-pass", wanted.low_pass_hz)})
        if (hz && !(*hz > 0.0 && *hz < half_hz))
            return usage(
                path,
                fmt::format("{} {:.6g} Hz does not lie between 0 and half the rate, {:.6g} Hz", option, *hz, half_hz),
                "choose another, or measure at a higher rate");
    if (wanted.high_pass_hz && wanted.low_pass_hz && *wanted.high_pass_hz >= *wanted.low_pass_hz)
        return usage(path,
                     fmt::format("a high-pass at {:.6g} Hz and a low-pass at {:.6g} Hz leave nothing between them",
                                 *wanted.high_pass_hz, *wanted.low_pass_hz),
                     "let the low-pass lie above the high-pass");
    if (wanted.high_pass_hz) {
        const double least_hz = 1.0 / (nothing_below * filters::lower_transition * reader.duration_s());
        if (*wanted.high_pass_hz < least_hz)
            return Problem{.file = path,
                           .what = fmt::format("{:.6g} s are too short for a high-pass at {:.6g} Hz",
                                               reader.duration_s(), *wanted.high_pass_hz),
                           .remedy = fmt::format("choose --high-pass {:.3g} or more, or a span of at least {:.4g} s",
                                                 least_hz, least_hz * reader.duration_s() / *wanted.high_pass_hz)};
    }
    return std::nullopt;
}

} // namespace

Result<HistoryReport> history(const std::string& path, const WeighOptions& options, const HistoryOptions& wanted)
{
    BECALM_ASSERT(!wanted.as.empty());
    auto reader = SelectedReader::open(path, options);
    if (!reader) return tl::unexpected(reader.error());
    if (auto fault = fault_of(path, options.unit.motion, *reader, wanted)) return tl::unexpected(std::move(*fault));

    HistoryReport report{.file = path,
                         .rate_hz = reader->rate_hz(),
                         .from_s = reader->from_s(),
                         .duration_s = reader->duration_s(),
                         .recorded = std::string(name_of(options.unit.motion))};
    report.findings = resampled(path, reader->info());
    filters::HistoryStream::Wanted stream_wanted{.rate_hz = report.rate_hz,
                                                 .motion = options.unit.motion,
                                                 .as = wanted.as,
                                                 .samples = reader->frames(),
                                                 .means = std::vector<double>(reader->channels().size(), 0.0)};
    if (wanted.high_pass_hz) {
        report.high_pass = {*wanted.high_pass_hz, wanted.order};
        report.nothing_below_hz = nothing_below * filters::lower_transition_begins * *wanted.high_pass_hz;
        stream_wanted.limits.lower_hz = nothing_below * *wanted.high_pass_hz;
        stream_wanted.limits.high_pass = filters::ZeroPhaseFilter{*wanted.high_pass_hz, wanted.order};
    }
    if (wanted.low_pass_hz) {
        report.low_pass = {*wanted.low_pass_hz, wanted.order};
        stream_wanted.limits.low_pass = filters::ZeroPhaseFilter{*wanted.low_pass_hz, wanted.order};
    }
    // Says whether the limits can be kept before the recording is read.
    if (auto possible = filters::HistoryStream::of(stream_wanted); !possible) {
        Problem problem = possible.error();
        problem.file = path;
        return fail(std::move(problem));
    }
    const auto summed = reader->read(
        [&](std::span<const std::span<const double>> parts) {
            for (std::size_t c = 0; c < parts.size(); ++c)
                for (const double x : parts[c]) stream_wanted.means[c] += x;
        },
        0.0, first_pass);
    if (!summed) return tl::unexpected(summed.error());
    for (double& mean : stream_wanted.means) mean /= static_cast<double>(reader->frames());
    auto stream = filters::HistoryStream::of(stream_wanted);
    if (!stream) return tl::unexpected(stream.error());

    const double edge_s = stream->edge_s();
    const bool ends_are_left_out = report.duration_s > least_edges * edge_s;
    const auto edge = ends_are_left_out ? static_cast<std::size_t>(std::ceil(edge_s * report.rate_hz)) : std::size_t{0};
    const std::size_t settled_end = reader->frames() - edge;
    report.settled_from_s = report.from_s + static_cast<double>(edge) / report.rate_hz;
    report.settled_to_s = report.from_s + static_cast<double>(settled_end) / report.rate_hz;
    for (const ChannelOfReport& channel : reader->channels()) {
        HistoryOfChannel& of_channel = report.channels.emplace_back();
        of_channel.channel = channel;
        for (const Motion as : wanted.as)
            of_channel.quantities.push_back(
                {.motion = std::string(name_of(as)), .unit = std::string(si_unit_of(as, options.unit.rotates))});
    }

    std::vector<Statistics> statistics(report.channels.size() * wanted.as.size());
    std::size_t gone = 0;
    const auto on_ready = [&](std::span<const std::span<const double>> series) {
        const std::size_t count = series[0].size();
        const std::size_t from = std::clamp(edge, gone, gone + count), to = std::clamp(settled_end, from, gone + count);
        for (std::size_t s = 0; s < series.size(); ++s)
            statistics[s].add(series[s].subspan(from - gone, to - from), from);
        if (wanted.rows)
            wanted.rows(report, {.from_s = report.from_s + static_cast<double>(gone) / report.rate_hz,
                                 .rate_hz = report.rate_hz,
                                 .series = series});
        gone += count;
    };
    const auto converted = reader->read(
        [&](std::span<const std::span<const double>> parts) { stream->add(parts, on_ready); }, first_pass, 1.0);
    if (!converted) return tl::unexpected(converted.error());
    auto hash = io::sha256_of_recording(path);
    if (!hash) return tl::unexpected(hash.error());
    report.sha256 = std::move(*hash);

    for (std::size_t c = 0; c < report.channels.size(); ++c) {
        HistoryOfChannel& of_channel = report.channels[c];
        for (std::size_t m = 0; m < wanted.as.size(); ++m) {
            const std::size_t s = c * wanted.as.size() + m;
            const Statistics& found = statistics[s];
            HistoryQuantity& quantity = of_channel.quantities[m];
            quantity.rms = std::sqrt(found.sum_squares / static_cast<double>(found.count));
            quantity.peak = std::max(std::abs(found.least), std::abs(found.greatest));
            quantity.peak_to_peak = found.greatest - found.least;
            const bool is_below = std::abs(found.least) > std::abs(found.greatest);
            quantity.peak_at_s =
                report.from_s + static_cast<double>(is_below ? found.least_at : found.greatest_at) / report.rate_hz;
            if (quantity.rms > 0.0) quantity.crest_factor = quantity.peak / quantity.rms;
            if (report.high_pass && derivative_order(wanted.as[m]) > derivative_order(options.unit.motion))
                if (const double share = stream->share_below(s, near_the_limit * report.high_pass->hz); share > much)
                    report.findings.push_back(
                        {.severity = Severity::caution,
                         .code = "near-the-high-pass",
                         .message =
                             fmt::format("{:.0f} % of the mean square of channel {}'s {} lie less than an octave "
                                         "above the high-pass: the value depends on that choice, and may be "
                                         "the sensor's noise; choose a higher --high-pass, or say it with the "
                                         "value",
                                         100.0 * share, of_channel.channel.channel, quantity.motion),
                         .recording = path,
                         .channel = of_channel.channel.channel});
        }
        if (std::ranges::all_of(of_channel.quantities, [](const HistoryQuantity& one) { return one.rms == 0.0; }))
            report.findings.push_back(
                {.severity = Severity::caution,
                 .code = "constant-channel",
                 .message = fmt::format("channel {} does not move; see to its sensor", of_channel.channel.channel),
                 .recording = path,
                 .channel = of_channel.channel.channel});
    }
    if (!ends_are_left_out)
        report.findings.push_back(
            {.severity = Severity::caution,
             .code = "ends-not-settled",
             .message =
                 fmt::format("the values contain the ends of the span, {:.4g} s each, which depend on what nobody "
                             "recorded; a span of more than {:.4g} s would leave them out",
                             edge_s, least_edges * edge_s),
             .recording = path});
    return report;
}

} // namespace becalm::evaluators
