#include "filters/history.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

#include <fmt/format.h>

#include "filters/fft.h"

namespace becalm::filters {
namespace {

constexpr double edge_periods = 5.0; // of the lower limit
constexpr int highest_order = 16;
constexpr double least_edge_samples = 100.0;

// Of a stream.
constexpr double reach_periods = 10.0; // of the lower limit: where tails are cut
constexpr std::size_t least_reach = 4096, reaches_a_hop = 4;
constexpr std::size_t energy_bins = 8;

double lower_limit(double hz, double lower_hz)
{
    const double from_hz = lower_hz * lower_transition_begins;
    if (hz <= from_hz) return 0.0;
    if (hz >= lower_hz) return 1.0;
    return 0.5 - 0.5 * std::cos(std::numbers::pi * (hz - from_hz) / (lower_hz - from_hz));
}

double butterworth(double ratio, int order) { return 1.0 / std::sqrt(1.0 + std::pow(ratio, 2 * order)); }

Problem wrong(std::string what, std::string remedy)
{
    return {.kind = ProblemKind::usage, .what = std::move(what), .remedy = std::move(remedy)};
}

// What the limits let through of an amplitude at hz > 0.
double share_of(const HistoryLimits& limits, double hz)
{
    double share = limits.lower_hz > 0.0 ? lower_limit(hz, limits.lower_hz) : 1.0;
    if (limits.high_pass) share *= butterworth(limits.high_pass->hz / hz, limits.high_pass->order);
    if (limits.low_pass) share *= butterworth(hz / limits.low_pass->hz, limits.low_pass->order);
    return share;
}

// (2 pi j f)^order
std::complex<double> derivative(double hz, int order)
{
    const std::complex by(0.0, 2.0 * std::numbers::pi * hz);
    std::complex<double> result = 1.0;
    for (int i = 0; i < order; ++i) result *= by;
    for (int i = 0; i > order; --i) result /= by;
    return result;
}

std::optional<Problem> problem_of(const HistoryLimits& limits, double rate_hz, bool needs_lower = true)
{
    const double half_hz = rate_hz / 2.0;
    if (!((limits.lower_hz > 0.0 || (!needs_lower && limits.lower_hz == 0.0)) && limits.lower_hz < half_hz))
        return wrong(fmt::format("a lower limit of {:.6g} Hz does not lie between 0 and half the rate, {:.6g} Hz",
                                 limits.lower_hz, half_hz),
                     "state the lowest frequency that is wanted");
    for (const auto& filter : {limits.high_pass, limits.low_pass}) {
        if (!filter) continue;
        if (!(filter->hz > 0.0 && filter->hz < half_hz))
            return wrong(fmt::format("a filter at {:.6g} Hz does not lie between 0 and half the rate, {:.6g} Hz",
                                     filter->hz, half_hz),
                         "leave it out, or measure at a higher rate");
        if (filter->order < 1 || filter->order > highest_order)
            return wrong(fmt::format("a filter of order {}", filter->order),
                         fmt::format("choose an order from 1 to {}", highest_order));
    }
    const double from_hz = std::max(limits.lower_hz, limits.high_pass ? limits.high_pass->hz : 0.0);
    if (limits.low_pass && limits.low_pass->hz <= from_hz)
        return wrong(
            fmt::format("a low-pass at {:.6g} Hz leaves nothing above {:.6g} Hz", limits.low_pass->hz, from_hz),
            "let the low-pass lie above the lower limit and the high-pass");
    return std::nullopt;
}

std::optional<Problem> too_short(std::size_t samples, double rate_hz, double lower_hz)
{
    const double duration_s = static_cast<double>(samples) / rate_hz;
    const double least_s = 1.0 / (lower_hz * lower_transition);
    if (lower_hz == 0.0 || duration_s >= least_s) return std::nullopt;
    return Problem{.what = fmt::format("{:.6g} s cannot resolve a lower limit of {:.6g} Hz", duration_s, lower_hz),
                   .remedy = fmt::format("record for at least {:.6g} s, or choose {:.6g} Hz or more", least_s,
                                         least_s * lower_hz / duration_s)};
}

} // namespace

Result<History> History::of(std::span<const double> samples, double rate_hz, Motion motion, const HistoryLimits& limits)
{
    if (!(rate_hz > 0.0)) return fail(wrong("no sampling rate", "state it"));
    if (auto problem = problem_of(limits, rate_hz)) return fail(std::move(*problem));
    if (samples.size() > most_samples)
        return fail({.what = fmt::format("{} samples are too many for one transform", samples.size()),
                     .remedy = fmt::format("convert pieces of at most {} samples", most_samples)});
    if (auto problem = too_short(samples.size(), rate_hz, limits.lower_hz)) return fail(std::move(*problem));

    History history;
    history.motion_ = motion;
    history.rate_hz_ = rate_hz;
    history.edge_s_ = edge_periods / limits.lower_hz;
    history.samples_ = samples.size();
    // Zeros between the end and the beginning, which are neighbours in a transform.
    history.length_ = fast_length(samples.size() + static_cast<std::size_t>(std::ceil(history.edge_s_ * rate_hz)));

    const double mean = std::accumulate(samples.begin(), samples.end(), 0.0) / static_cast<double>(samples.size());
    if (!std::isfinite(mean))
        return fail({.what = "samples that are no finite numbers", .remedy = "leave that span out"});
    RealFft fft(history.length_);
    const auto in = fft.input();
    std::ranges::fill(std::ranges::transform(samples, in.begin(), [&](double x) { return x - mean; }).out, in.end(),
                      0.0);
    const auto spectrum = fft.run();
    history.spectrum_.resize(spectrum.size());
    for (std::size_t k = 1; k < spectrum.size(); ++k) {
        const double hz = static_cast<double>(k) * rate_hz / static_cast<double>(history.length_);
        history.spectrum_[k] = share_of(limits, hz) * spectrum[k];
    }
    return history;
}

std::vector<double> History::as(Motion motion) const
{
    const int order = derivative_order(motion_) - derivative_order(motion);
    InverseRealFft inverse(length_);
    const auto in = inverse.input();
    in[0] = 0.0;
    for (std::size_t k = 1; k < in.size(); ++k)
        in[k] = spectrum_[k] * derivative(rate_hz_ * static_cast<double>(k) / static_cast<double>(length_), order);
    const auto out = inverse.run();
    return {out.begin(), out.begin() + static_cast<std::ptrdiff_t>(samples_)};
}

Result<HistoryStream> HistoryStream::of(const Wanted& wanted)
{
    BECALM_ASSERT(!wanted.as.empty());
    if (!(wanted.rate_hz > 0.0)) return fail(wrong("no sampling rate", "state it"));
    const HistoryLimits& limits = wanted.limits;
    const auto order_of = [&](Motion as) { return derivative_order(wanted.motion) - derivative_order(as); };
    const bool integrates = std::ranges::any_of(wanted.as, [&](Motion as) { return order_of(as) < 0; });
    if (auto problem = problem_of(limits, wanted.rate_hz, integrates)) return fail(std::move(*problem));
    if (auto problem = too_short(wanted.samples, wanted.rate_hz, limits.lower_hz)) return fail(std::move(*problem));

    HistoryStream stream;
    stream.rate_hz_ = wanted.rate_hz;
    stream.samples_ = wanted.samples;
    stream.motions_ = wanted.as.size();
    stream.means_ = wanted.means;
    const double slowest_hz = limits.lower_hz > 0.0 ? limits.lower_hz
                              : limits.high_pass    ? limits.high_pass->hz
                              : limits.low_pass     ? limits.low_pass->hz
                                                    : 0.0;
    stream.edge_s_ = slowest_hz > 0.0 ? edge_periods / slowest_hz : 0.0;
    if (limits.lower_hz == 0.0) stream.edge_s_ = std::max(stream.edge_s_, least_edge_samples / wanted.rate_hz);
    const double reach_wanted = slowest_hz > 0.0 ? std::ceil(reach_periods / slowest_hz * wanted.rate_hz) : 0.0;
    const std::size_t channels = wanted.means.size();
    const auto held = [&](double reach) { // of all channels
        return static_cast<double>(channels) *
               (static_cast<double>(reaches_a_hop + 1) * reach +
                static_cast<double>(stream.motions_) * static_cast<double>(reaches_a_hop + 3) * reach);
    };
    const bool is_one_piece =
        static_cast<double>(wanted.samples) <= static_cast<double>(reaches_a_hop + 1) * reach_wanted;
    const double needed =
        is_one_piece ? static_cast<double>(channels * (1 + stream.motions_) * wanted.samples) : held(reach_wanted);
    if (needed > static_cast<double>(most_held) || (is_one_piece && wanted.samples > History::most_samples))
        return fail(
            wrong(fmt::format("a lower limit of {:.6g} Hz holds too many samples of {} channels at {:.6g} Hz at "
                              "once",
                              slowest_hz, channels, wanted.rate_hz),
                  "convert fewer channels at once, or choose a higher limit"));
    const std::size_t reach = std::max(least_reach, static_cast<std::size_t>(reach_wanted));
    stream.hop_ = reaches_a_hop * reach;
    stream.ramp_ = reach;
    stream.front_ = reach;
    if (wanted.samples <= stream.hop_ + stream.ramp_) { // nothing to be joined
        stream.hop_ = wanted.samples;
        stream.ramp_ = stream.front_ = 0;
    }
    const std::size_t piece = stream.hop_ + stream.ramp_;
    const std::size_t length = fast_length(std::max<std::size_t>(2, piece + stream.front_ + reach));
    for (std::size_t i = 0; i < stream.ramp_; ++i)
        stream.fade_.push_back(0.5 - 0.5 * std::cos(std::numbers::pi * (static_cast<double>(i) + 0.5) /
                                                    static_cast<double>(stream.ramp_)));
    for (const Motion as : wanted.as) {
        auto& response = stream.responses_.emplace_back(length / 2 + 1);
        const int order = order_of(as);
        // What is left at 0 Hz is the mean of a piece, not that of the record.
        if (limits.lower_hz == 0.0 && !limits.high_pass && order == 0) response[0] = 1.0;
        for (std::size_t k = 1; k < response.size(); ++k) {
            const double hz = static_cast<double>(k) * wanted.rate_hz / static_cast<double>(length);
            const double share = share_of(limits, hz);
            if (share > 0.0) response[k] = share * derivative(hz, order);
        }
    }
    stream.pieces_.assign(channels, std::vector<double>(piece));
    stream.sums_.assign(channels * stream.motions_, std::vector<double>(piece + stream.front_ + reach, 0.0));
    stream.energies_.assign(channels * stream.motions_, std::vector<double>(length / 2 / energy_bins + 1, 0.0));
    stream.forward_.emplace(length);
    stream.inverse_.emplace(length);
    return stream;
}

void HistoryStream::add(std::span<const std::span<const double>> channels, const OnReady& on_ready)
{
    BECALM_ASSERT(channels.size() == pieces_.size() && come_ + channels[0].size() <= samples_);
    const std::size_t count = channels[0].size(), piece = hop_ + ramp_;
    for (std::size_t done = 0; done < count;) {
        const std::size_t taken = std::min(count - done, piece - held_);
        for (std::size_t c = 0; c < channels.size(); ++c)
            std::ranges::transform(channels[c].subspan(done, taken),
                                   pieces_[c].begin() + static_cast<std::ptrdiff_t>(held_),
                                   [&](double x) { return x - means_[c]; });
        done += taken;
        held_ += taken;
        come_ += taken;
        if (held_ == piece || come_ == samples_) convert(come_ == samples_, on_ready);
    }
}

void HistoryStream::convert(bool is_last, const OnReady& on_ready)
{
    const std::size_t kept = sums_.front().size();
    for (std::size_t c = 0; c < pieces_.size(); ++c) {
        const auto in = forward_->input();
        std::ranges::fill(in, 0.0);
        const auto piece = in.subspan(front_, held_);
        std::copy_n(pieces_[c].begin(), held_, piece.begin());
        const std::size_t rise = begin_ == 0 ? 0 : std::min(ramp_, held_);
        for (std::size_t i = 0; i < rise; ++i) piece[i] *= fade_[i];
        if (!is_last)
            for (std::size_t i = 0; i < ramp_; ++i) piece[hop_ + i] *= 1.0 - fade_[i];
        const auto spectrum = forward_->run();
        for (std::size_t m = 0; m < motions_; ++m) {
            const std::size_t series = c * motions_ + m;
            const auto out = inverse_->input();
            for (std::size_t k = 0; k < out.size(); ++k) {
                out[k] = spectrum[k] * responses_[m][k];
                energies_[series][k / energy_bins] += std::norm(out[k]);
            }
            const auto converted = inverse_->run();
            for (std::size_t i = 0; i < kept; ++i) sums_[series][i] += converted[i];
        }
    }
    // All before the reach of the next piece.
    const std::size_t ready = is_last ? samples_ : begin_ + hop_ - front_, first = gone_ + front_ - begin_;
    std::vector<std::span<const double>> series;
    for (const auto& sums : sums_) series.push_back(std::span(sums).subspan(first, ready - gone_));
    on_ready(series);
    gone_ = ready;
    if (is_last) return;
    for (auto& sums : sums_) {
        std::copy(sums.begin() + static_cast<std::ptrdiff_t>(hop_), sums.end(), sums.begin());
        std::fill(sums.end() - static_cast<std::ptrdiff_t>(hop_), sums.end(), 0.0);
    }
    for (auto& piece : pieces_)
        std::copy(piece.begin() + static_cast<std::ptrdiff_t>(hop_), piece.end(), piece.begin());
    held_ = ramp_;
    begin_ += hop_;
}

double HistoryStream::share_below(std::size_t series, double hz) const
{
    const auto& energies = energies_[series];
    const double band_hz = rate_hz_ * static_cast<double>(energy_bins) / static_cast<double>(forward_->length());
    double below = 0.0, all = 0.0;
    for (std::size_t b = 0; b < energies.size(); ++b) {
        all += energies[b];
        below += energies[b] * std::clamp(hz / band_hz - static_cast<double>(b), 0.0, 1.0);
    }
    return all > 0.0 ? below / all : 0.0;
}

} // namespace becalm::filters
