#include "filters/history.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

#include <fmt/format.h>

#include "filters/fft.h"

namespace becalm::filters {
namespace {

constexpr double transition_begins = 1.0 / std::numbers::sqrt2; // of the lower limit
constexpr double edge_periods = 5.0;                            // of the lower limit
constexpr int highest_order = 16;

double lower_limit(double hz, double lower_hz)
{
    const double from_hz = lower_hz * transition_begins;
    if (hz <= from_hz) return 0.0;
    if (hz >= lower_hz) return 1.0;
    return 0.5 - 0.5 * std::cos(std::numbers::pi * (hz - from_hz) / (lower_hz - from_hz));
}

double butterworth(double ratio, int order) { return 1.0 / std::sqrt(1.0 + std::pow(ratio, 2 * order)); }

Problem wrong(std::string what, std::string remedy)
{
    return {.kind = ProblemKind::usage, .what = std::move(what), .remedy = std::move(remedy)};
}

std::optional<Problem> problem_of(const HistoryLimits& limits, double rate_hz)
{
    const double half_hz = rate_hz / 2.0;
    if (!(limits.lower_hz > 0.0 && limits.lower_hz < half_hz))
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

} // namespace

Result<History> History::of(std::span<const double> samples, double rate_hz, Motion motion, const HistoryLimits& limits)
{
    if (!(rate_hz > 0.0)) return fail(wrong("no sampling rate", "state it"));
    if (auto problem = problem_of(limits, rate_hz)) return fail(std::move(*problem));
    if (samples.size() > most_samples)
        return fail({.what = fmt::format("{} samples are too many for one transform", samples.size()),
                     .remedy = fmt::format("convert pieces of at most {} samples", most_samples)});
    const double duration_s = static_cast<double>(samples.size()) / rate_hz;
    const double least_s = 1.0 / (limits.lower_hz * (1.0 - transition_begins));
    if (duration_s < least_s)
        return fail(
            {.what = fmt::format("{:.6g} s cannot resolve a lower limit of {:.6g} Hz", duration_s, limits.lower_hz),
             .remedy = fmt::format("record for at least {:.6g} s, or choose {:.6g} Hz or more", least_s,
                                   least_s * limits.lower_hz / duration_s)});

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
        double share = lower_limit(hz, limits.lower_hz);
        if (limits.high_pass) share *= butterworth(limits.high_pass->hz / hz, limits.high_pass->order);
        if (limits.low_pass) share *= butterworth(hz / limits.low_pass->hz, limits.low_pass->order);
        history.spectrum_[k] = share * spectrum[k];
    }
    return history;
}

std::vector<double> History::as(Motion motion) const
{
    const int order = derivative_order(motion_) - derivative_order(motion);
    InverseRealFft inverse(length_);
    const auto in = inverse.input();
    in[0] = 0.0;
    for (std::size_t k = 1; k < in.size(); ++k) {
        const std::complex by(0.0, 2.0 * std::numbers::pi * rate_hz_ * static_cast<double>(k) /
                                       static_cast<double>(length_));
        in[k] = spectrum_[k];
        for (int i = 0; i < order; ++i) in[k] *= by;
        for (int i = 0; i > order; --i) in[k] /= by;
    }
    const auto out = inverse.run();
    return {out.begin(), out.begin() + static_cast<std::ptrdiff_t>(samples_)};
}

} // namespace becalm::filters
