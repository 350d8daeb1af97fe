#include "filters/cross_spectra.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <utility>

#include <fmt/format.h>

namespace becalm::filters {
namespace {

constexpr double same_rate = 1e-9; // relative; beyond it a record of a day is off by a tenth of a millisecond
// Where rounding takes over: an amplitude of 1e-12 of what is greatest in the spectrum, of 1e-14 of the samples.
constexpr double least_of_greatest = 1e-24, least_of_all = 1e-28;
constexpr double blind_phase_rad = std::numbers::pi * std::numbers::inv_sqrt3; // standard deviation of (-pi, pi]

std::size_t pairs_of(std::size_t channels) { return channels * (channels + 1) / 2; }

// Where the pair from <= to stands: (0,0), (0,1) ... (1,1), (1,2) ...
std::size_t pair_at(std::size_t from, std::size_t to, std::size_t channels)
{
    return from * channels - from * (from + 1) / 2 + to;
}

Result<void> check_rates(std::span<const double> rates_hz)
{
    if (rates_hz.empty())
        return fail({.kind = ProblemKind::usage, .what = "no channels", .remedy = "give at least one"});
    for (std::size_t i = 0; i < rates_hz.size(); ++i) {
        if (!(rates_hz[i] > 0.0))
            return fail({.kind = ProblemKind::usage, .what = fmt::format("channel {} has no sampling rate", i + 1)});
        if (std::abs(rates_hz[i] / rates_hz[0] - 1.0) > same_rate)
            return fail({.what = fmt::format("channel {} is sampled at {:.9g} Hz, channel 1 at {:.9g} Hz", i + 1,
                                             rates_hz[i], rates_hz[0]),
                         .remedy = "compare channels that were sampled together"});
    }
    return {};
}

Problem too_few(std::size_t segments, std::size_t length, double rate_hz)
{
    return {.what = fmt::format("{} segment{} of {:.6g} s: the coherence of a single segment is 1 by construction",
                                segments, segments == 1 ? "" : "s", static_cast<double>(length) / rate_hz),
            .remedy = "record for longer, or take shorter segments"};
}

} // namespace

std::complex<double> CrossDensities::cross(std::size_t from, std::size_t to, std::size_t line) const
{
    BECALM_ASSERT(from < channels && to < channels && line < lines());
    const auto at = [&](std::size_t i, std::size_t j) { return values[pair_at(i, j, channels) * lines() + line]; };
    return from <= to ? at(from, to) : std::conj(at(to, from));
}

std::vector<double> CrossDensities::density(std::size_t channel) const
{
    std::vector<double> result(lines());
    for (std::size_t k = 0; k < result.size(); ++k) result[k] = density(channel, k);
    return result;
}

CrossSpectra::CrossSpectra(double rate_hz, std::size_t length, std::size_t channels)
    : rate_hz_(rate_hz), length_(length), hop_(std::max<std::size_t>(1, length / 2)), channels_(channels),
      transform_(rate_hz, length), pending_(length * channels), spectra_((length / 2 + 1) * channels),
      sums_((length / 2 + 1) * pairs_of(channels)), squares_(channels)
{
}

Result<CrossSpectra> CrossSpectra::of(std::span<const double> rates_hz, std::size_t length)
{
    if (const auto rates = check_rates(rates_hz); !rates) return fail(rates.error());
    if (length < 2)
        return fail({.kind = ProblemKind::usage,
                     .what = fmt::format("segments of {} sample{} have no spectrum", length, length == 1 ? "" : "s"),
                     .remedy = "take longer segments"});
    return CrossSpectra(rates_hz[0], length, rates_hz.size());
}

Result<void> CrossSpectra::add(std::span<const std::span<const double>> block)
{
    if (block.size() != channels_)
        return fail({.kind = ProblemKind::usage,
                     .what = fmt::format("samples of {} channels where {} are compared", block.size(), channels_)});
    for (std::size_t c = 1; c < channels_; ++c)
        if (block[c].size() != block[0].size())
            return fail({.what = fmt::format("channel {} has {} samples, channel 1 has {}", c + 1, block[c].size(),
                                             block[0].size()),
                         .remedy = "compare the span that all channels have"});
    for (std::size_t done = 0; done < block[0].size();) {
        const std::size_t taken = std::min(block[0].size() - done, length_ - filled_);
        for (std::size_t c = 0; c < channels_; ++c)
            std::ranges::copy(block[c].subspan(done, taken),
                              pending_.begin() + static_cast<std::ptrdiff_t>(c * length_ + filled_));
        done += taken;
        filled_ += taken;
        if (filled_ == length_) add_segment();
    }
    return {};
}

void CrossSpectra::add_segment()
{
    const std::size_t lines = length_ / 2 + 1;
    for (std::size_t c = 0; c < channels_; ++c) {
        const std::span<double> segment = std::span(pending_).subspan(c * length_, length_);
        std::ranges::copy(transform_.transform(segment), spectra_.begin() + static_cast<std::ptrdiff_t>(c * lines));
        double squares = 0.0;
        for (const double x : segment) squares += x * x;
        squares_[c] += squares / static_cast<double>(length_);
        std::copy(segment.begin() + static_cast<std::ptrdiff_t>(hop_), segment.end(), segment.begin());
    }
    filled_ = length_ - hop_;
    auto sum = sums_.begin();
    for (std::size_t from = 0; from < channels_; ++from)
        for (std::size_t to = from; to < channels_; ++to)
            for (std::size_t k = 0; k < lines; ++k, ++sum)
                *sum += std::conj(spectra_[from * lines + k]) * spectra_[to * lines + k];
    ++segments_;
}

CrossDensities CrossSpectra::scaled() const
{
    CrossDensities result{.rate_hz = rate_hz_, .length = length_, .channels = channels_, .segments = segments_};
    result.values.resize(sums_.size());
    const std::size_t lines = length_ / 2 + 1;
    const double share = segments_ == 0 ? 0.0 : 1.0 / static_cast<double>(segments_);
    for (std::size_t i = 0; i < sums_.size(); ++i) result.values[i] = sums_[i] * (transform_.factor(i % lines) * share);
    for (const double squares : squares_) result.mean_squares.push_back(squares * share);
    return result;
}

Result<CrossDensities> CrossSpectra::densities() const
{
    if (segments_ < 2) return fail(too_few(segments_, length_, rate_hz_));
    return scaled();
}

CrossDensities CrossSpectra::take()
{
    CrossDensities result = scaled();
    std::ranges::fill(sums_, 0.0);
    std::ranges::fill(squares_, 0.0);
    segments_ = 0;
    return result;
}

CrossDensities lines_up_to(const CrossDensities& densities, double hz)
{
    const auto wanted = static_cast<std::size_t>(std::max(1.0, std::floor(hz / densities.resolution_hz() + 1e-9)));
    if (wanted + 1 >= densities.lines()) return densities;
    CrossDensities result{.rate_hz = 2.0 * static_cast<double>(wanted) * densities.resolution_hz(),
                          .length = 2 * wanted,
                          .channels = densities.channels,
                          .segments = densities.segments,
                          .mean_squares = densities.mean_squares};
    for (std::size_t pair = 0; pair < pairs_of(densities.channels); ++pair) {
        const auto first = densities.values.begin() + static_cast<std::ptrdiff_t>(pair * densities.lines());
        result.values.insert(result.values.end(), first, first + static_cast<std::ptrdiff_t>(result.lines()));
    }
    return result;
}

CrossDensities pooled(std::span<const CrossDensities> parts)
{
    BECALM_ASSERT(!parts.empty());
    CrossDensities result = parts.front();
    for (const CrossDensities& part : parts.subspan(1)) result.segments += part.segments;
    std::ranges::fill(result.values, 0.0);
    std::ranges::fill(result.mean_squares, 0.0);
    if (result.segments == 0) return result;
    for (const CrossDensities& part : parts) {
        BECALM_ASSERT(part.length == result.length && part.channels == result.channels);
        const double share = static_cast<double>(part.segments) / static_cast<double>(result.segments);
        for (std::size_t i = 0; i < result.values.size(); ++i) result.values[i] += part.values[i] * share;
        for (std::size_t c = 0; c < result.channels; ++c) result.mean_squares[c] += part.mean_squares[c] * share;
    }
    return result;
}

Result<CrossDensities> cross_densities(std::span<const SampledChannel> channels, std::size_t length)
{
    std::vector<double> rates_hz;
    std::vector<std::span<const double>> samples;
    for (const SampledChannel& channel : channels) {
        rates_hz.push_back(channel.rate_hz);
        samples.push_back(channel.samples);
    }
    auto spectra = CrossSpectra::of(rates_hz, length);
    if (!spectra) return fail(spectra.error());
    if (const auto added = spectra->add(samples); !added) return fail(added.error());
    return spectra->densities();
}

namespace {

double least_density(const CrossDensities& d, std::size_t channel)
{
    double greatest = 0.0;
    for (std::size_t k = 0; k < d.lines(); ++k) greatest = std::max(greatest, d.density(channel, k));
    return std::max(least_of_greatest * greatest, least_of_all * d.mean_squares[channel] / d.resolution_hz());
}

} // namespace

bool has_energy(const CrossDensities& densities, std::size_t channel, std::size_t line)
{
    return densities.density(channel, line) > least_density(densities, channel);
}

namespace {

double coherence_of(double g_xx, double g_yy, std::complex<double> g_xy)
{
    const double both = g_xx * g_yy;
    return both > 0.0 ? std::min(1.0, std::norm(g_xy) / both) : 0.0; // above 1 by rounding alone
}

Transfer transfer_of(const CrossDensities& d, std::size_t from, std::size_t to, std::size_t line, double averages)
{
    const double g_xx = d.density(from, line), g_yy = d.density(to, line);
    const std::complex<double> g_xy = d.cross(from, to, line);
    Transfer result{.hz = d.hz(line), .h1 = g_xy / g_xx, .coherence = coherence_of(g_xx, g_yy, g_xy)};
    result.h2 = result.coherence > 0.0 ? g_yy / std::conj(g_xy) : std::numeric_limits<double>::infinity();
    result.relative_uncertainty = random_uncertainty(result.coherence, averages);
    result.phase_uncertainty_rad = std::min(result.relative_uncertainty, blind_phase_rad);
    return result;
}

Problem silent(const CrossDensities& d, std::size_t channel, std::size_t line, std::string_view role)
{
    return {.what = fmt::format("channel {}, the {}, has no energy at {:.6g} Hz", channel + 1, role, d.hz(line)),
            .remedy = "choose a channel or a frequency where it moves"};
}

Problem no_such_line(const CrossDensities& d, double hz)
{
    return {.kind = ProblemKind::usage,
            .what = fmt::format("{:.6g} Hz lies outside the lines from {:.6g} Hz to {:.6g} Hz", hz, d.resolution_hz(),
                                d.hz(d.lines() - 1))};
}

} // namespace

double coherence(const CrossDensities& d, std::size_t one, std::size_t other, std::size_t line)
{
    if (!has_energy(d, one, line) || !has_energy(d, other, line)) return 0.0;
    return coherence_of(d.density(one, line), d.density(other, line), d.cross(one, other, line));
}

double random_uncertainty(double coherence, double averages)
{
    return coherence > 0.0 ? std::sqrt((1.0 - coherence) / (2.0 * averages * coherence))
                           : std::numeric_limits<double>::infinity();
}

Result<Transfer> transfer(const CrossDensities& d, std::size_t from, std::size_t to, std::size_t line)
{
    if (!has_energy(d, from, line)) return fail(silent(d, from, line, "reference"));
    if (!has_energy(d, to, line)) return fail(silent(d, to, line, "response"));
    return transfer_of(d, from, to, line, d.averages());
}

std::vector<Transfer> transfers(const CrossDensities& d, std::size_t from, std::size_t to)
{
    const double least_from = least_density(d, from), least_to = least_density(d, to);
    const double averages = d.averages();
    std::vector<Transfer> result;
    for (std::size_t k = 0; k < d.lines(); ++k)
        if (d.density(from, k) > least_from && d.density(to, k) > least_to)
            result.push_back(transfer_of(d, from, to, k, averages));
    return result;
}

Result<Transmissibility> transmissibility(const CrossDensities& d, std::size_t from, std::size_t to, std::size_t line)
{
    const auto found = transfer(d, from, to, line);
    if (!found) return fail(found.error());
    return Transmissibility{.hz = found->hz,
                            .magnitude = found->magnitude(),
                            .magnitude_uncertainty = found->magnitude() * found->relative_uncertainty,
                            .phase_rad = found->phase_rad(),
                            .phase_uncertainty_rad = found->phase_uncertainty_rad,
                            .coherence = found->coherence,
                            .rms_ratio = std::sqrt(d.density(to, line) / d.density(from, line))};
}

Result<DeflectionShape> deflection_shape(const CrossDensities& d, std::size_t reference, double hz)
{
    const double nearest = std::round(hz / d.resolution_hz());
    if (!(nearest >= 1.0 && nearest < static_cast<double>(d.lines()))) return fail(no_such_line(d, hz));
    const auto line = static_cast<std::size_t>(nearest);
    if (!has_energy(d, reference, line)) return fail(silent(d, reference, line, "reference"));
    DeflectionShape shape{.hz = d.hz(line), .averages = d.averages(), .reference_density = d.density(reference, line)};
    for (std::size_t point = 0; point < d.channels; ++point) {
        if (!has_energy(d, point, line)) {
            shape.points.push_back({.amplitude = 0.0,
                                    .coherence = 0.0,
                                    .relative_uncertainty = std::numeric_limits<double>::infinity(),
                                    .phase_uncertainty_rad = blind_phase_rad});
            continue;
        }
        const Transfer to_point = transfer_of(d, reference, point, line, shape.averages);
        shape.points.push_back({.amplitude = to_point.h1,
                                .coherence = to_point.coherence,
                                .relative_uncertainty = to_point.relative_uncertainty,
                                .phase_uncertainty_rad = to_point.phase_uncertainty_rad});
    }
    return shape;
}

} // namespace becalm::filters
