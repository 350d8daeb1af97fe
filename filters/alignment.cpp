#include "filters/alignment.h"

#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>
#include <numeric>
#include <optional>
#include <vector>

#include <fmt/format.h>

#include "filters/fft.h"

namespace becalm::filters {
namespace {

constexpr double same_rate = 1e-9;
constexpr double repeats = 0.99;    // of the best correlation
constexpr double fine_step = 0.125; // of a sample

std::vector<double> without_mean(std::span<const double> samples)
{
    std::vector<double> result(samples.begin(), samples.end());
    const double mean = std::accumulate(result.begin(), result.end(), 0.0) / static_cast<double>(result.size());
    for (double& x : result) x -= mean;
    return result;
}

// Sums of squares before each sample.
std::vector<double> energy_before(std::span<const double> samples)
{
    std::vector<double> result(samples.size() + 1, 0.0);
    for (std::size_t i = 0; i < samples.size(); ++i) result[i + 1] = result[i] + samples[i] * samples[i];
    return result;
}

std::vector<std::complex<double>> transform(std::span<const double> samples, std::size_t length)
{
    RealFft fft(length);
    std::ranges::fill(std::ranges::copy(samples, fft.input().begin()).out, fft.input().end(), 0.0);
    const auto out = fft.run();
    return {out.begin(), out.end()};
}

// Least and greatest value of the parabola through (-1, a), (0, b), (1, c), b the greatest of them: where and how much.
struct Top {
    double at = 0.0, value = 0.0;
};
Top top_of(double a, double b, double c)
{
    const double bend = a - 2.0 * b + c;
    if (!(bend < 0.0)) return {.at = 0.0, .value = b};
    const double at = std::clamp(0.5 * (a - c) / bend, -1.0, 1.0);
    return {.at = at, .value = b - 0.25 * (a - c) * at};
}

// The normalised correlation for lags from `first` to `last`, in samples.
class Correlation {
public:
    Correlation(std::span<const double> one, std::span<const double> other, std::ptrdiff_t first, std::ptrdiff_t last)
        : one_(without_mean(one)), other_(without_mean(other)), one_energy_(energy_before(one_)),
          other_energy_(energy_before(other_)), first_(first)
    {
        const auto n = std::ssize(one_), m = std::ssize(other_);
        // Long enough that no lag of the range meets the other end.
        length_ = fast_length(static_cast<std::size_t>(
            std::max(n + std::max<std::ptrdiff_t>(last, 0), m + std::max<std::ptrdiff_t>(-first, 0)) + 1));
        cross_ = transform(one_, length_);
        const auto of_other = transform(other_, length_);
        for (std::size_t k = 0; k < cross_.size(); ++k) cross_[k] = std::conj(cross_[k]) * of_other[k];
        InverseRealFft inverse(length_);
        std::ranges::copy(cross_, inverse.input().begin());
        const auto sums = inverse.run();
        for (std::ptrdiff_t lag = first; lag <= last; ++lag) {
            const double sum = sums[static_cast<std::size_t>(lag < 0 ? lag + std::ssize(sums) : lag)];
            const double both = norm(lag);
            values_.push_back(both > 0.0 ? sum / both : 0.0);
        }
    }

    bool is_finite() const { return std::isfinite(one_energy_.back()) && std::isfinite(other_energy_.back()); }

    std::span<const double> values() const { return values_; }

    // Where it is greatest, near the lag of values()[at], 0 < at < size - 1.
    Top peak(std::size_t at) const
    {
        const Top coarse = top_of(values_[at - 1], values_[at], values_[at + 1]);
        const double centre = static_cast<double>(first_ + static_cast<std::ptrdiff_t>(at)) + coarse.at;
        const Top fine = top_of(value(centre - fine_step), value(centre), value(centre + fine_step));
        return {.at = centre + fine_step * fine.at, .value = std::min(1.0, fine.value)};
    }

private:
    // Root of the product of the energies of what overlaps.
    double norm(std::ptrdiff_t lag) const
    {
        const auto begin = std::max<std::ptrdiff_t>(0, -lag);
        const auto end = std::min(std::ssize(one_), std::ssize(other_) - lag);
        if (end <= begin) return 0.0;
        const auto energy = [](const std::vector<double>& before, std::ptrdiff_t from, std::ptrdiff_t to) {
            return before[static_cast<std::size_t>(to)] - before[static_cast<std::size_t>(from)];
        };
        return std::sqrt(energy(one_energy_, begin, end) * energy(other_energy_, begin + lag, end + lag));
    }

    // Between the samples: the transform's sum at any lag, by the norm between its neighbours.
    double value(double lag) const
    {
        const double turn = 2.0 * std::numbers::pi * lag / static_cast<double>(length_);
        double sum = cross_[0].real();
        for (std::size_t k = 1; k < cross_.size(); ++k) {
            const double twice = 2 * k == length_ ? 1.0 : 2.0;
            const double angle = turn * static_cast<double>(k);
            sum += twice * (cross_[k].real() * std::cos(angle) - cross_[k].imag() * std::sin(angle));
        }
        const double below = std::floor(lag);
        const auto whole = static_cast<std::ptrdiff_t>(below);
        const double both = norm(whole) + (lag - below) * (norm(whole + 1) - norm(whole));
        return both > 0.0 ? sum / static_cast<double>(length_) / both : 0.0;
    }

    std::vector<double> one_, other_, one_energy_, other_energy_;
    std::ptrdiff_t first_;
    std::size_t length_ = 0;
    std::vector<std::complex<double>> cross_;
    std::vector<double> values_;
};

// Greatest correlation outside of the peak at `at`, which reaches to where it has fallen to half.
double beside(std::span<const double> values, std::size_t at)
{
    const double half = 0.5 * values[at];
    std::size_t from = at, to = at;
    while (from > 0 && values[from] > half) --from;
    while (to + 1 < values.size() && values[to] > half) ++to;
    double greatest = 0.0;
    for (std::size_t i = 0; i < values.size(); ++i)
        if (i <= from || i >= to) greatest = std::max(greatest, i == at ? 0.0 : values[i]);
    return greatest;
}

Result<Lag> lag_in(std::span<const double> one, std::span<const double> other, double rate_hz, std::ptrdiff_t first,
                   std::ptrdiff_t last, double least_quality)
{
    const Correlation correlation(one, other, first, last);
    if (!correlation.is_finite())
        return fail({.what = "samples that are no finite numbers", .remedy = "leave that span out"});
    const auto values = correlation.values();
    const auto [least, greatest] = std::ranges::minmax_element(values);
    const auto at = static_cast<std::size_t>(greatest - values.begin());
    if (*greatest < least_quality)
        return fail({.what = fmt::format(
                         "the recordings do not show the same motion: their correlation is {:.2f} at most{}", *greatest,
                         -*least >= least_quality && -*least > *greatest
                             ? fmt::format(", and {:.2f} with the sign reversed", *least)
                             : ""),
                     .remedy = -*least >= least_quality && -*least > *greatest
                                   ? "see whether one sensor points the other way"
                                   : "compare spans in which both were moved together"});
    if (at == 0 || at + 1 == values.size())
        return fail({.what = fmt::format("the correlation is greatest at the end of the search, {:.6g} s",
                                         static_cast<double>(first + static_cast<std::ptrdiff_t>(at)) / rate_hz),
                     .remedy = "search further, or in recordings with motion of their own time"});
    const Top top = correlation.peak(at);
    const Lag lag{.lag_s = top.at / rate_hz, .quality = top.value, .next_best = beside(values, at)};
    if (lag.next_best > repeats * lag.quality)
        return fail({.what = fmt::format("the motion repeats itself: lags of {:.6g} s and others fit alike", lag.lag_s),
                     .remedy = "compare spans with a beginning, an end or an event"});
    return lag;
}

std::optional<Problem> problem_of(const Recorded& one, const Recorded& other, double most_lag_s)
{
    if (!(one.rate_hz > 0.0 && other.rate_hz > 0.0))
        return Problem{.kind = ProblemKind::usage, .what = "no sampling rate", .remedy = "state it"};
    if (std::abs(other.rate_hz / one.rate_hz - 1.0) > same_rate)
        return Problem{.what = fmt::format("rates of {:.9g} Hz and {:.9g} Hz differ", one.rate_hz, other.rate_hz),
                       .remedy = "bring both to one rate first"};
    if (!(most_lag_s > 0.0))
        return Problem{.kind = ProblemKind::usage,
                       .what = fmt::format("a search up to a lag of {:.6g} s", most_lag_s),
                       .remedy = "state how far apart the recordings may be"};
    return std::nullopt;
}

} // namespace

Result<Lag> lag_between(const Recorded& one, const Recorded& other, const LagSearch& search)
{
    if (auto problem = problem_of(one, other, search.most_lag_s)) return fail(std::move(*problem));
    const std::size_t shorter = std::min(one.samples.size(), other.samples.size());
    const double most = std::ceil(search.most_lag_s * one.rate_hz);
    if (most > static_cast<double>(shorter) / 2.0)
        return fail({.what = fmt::format("a lag of {:.6g} s leaves less than half of {:.6g} s to compare",
                                         search.most_lag_s, static_cast<double>(shorter) / one.rate_hz),
                     .remedy = "search less far, or record for longer"});
    const auto lag = static_cast<std::ptrdiff_t>(most);
    return lag_in(one.samples, other.samples, one.rate_hz, -lag, lag, search.least_quality);
}

Result<ClockDrift> clock_drift(const Recorded& one, const Recorded& other, const DriftSearch& search)
{
    if (auto problem = problem_of(one, other, search.most_lag_s)) return fail(std::move(*problem));
    if (!(search.piece_s > 0.0 && search.most_ppm > 0.0))
        return fail({.kind = ProblemKind::usage, .what = "pieces without length, or no drift to look for"});
    const double rate_hz = one.rate_hz;
    const auto samples_of = [&](double duration_s) {
        return static_cast<std::ptrdiff_t>(std::ceil(duration_s * rate_hz));
    };
    const std::ptrdiff_t shorter = std::min(std::ssize(one.samples), std::ssize(other.samples));
    const std::ptrdiff_t piece = samples_of(search.piece_s), lag = samples_of(search.most_lag_s);
    const double most_drift_s = search.most_ppm * 1e-6 * static_cast<double>(shorter) / rate_hz;
    const std::ptrdiff_t drift = samples_of(most_drift_s) + 2;
    const std::ptrdiff_t first = lag, last = shorter - piece - lag - drift; // where the pieces begin
    if (last < first + piece)
        return fail({.what = fmt::format("{:.6g} s are too short for two pieces of {:.6g} s and lags up to {:.6g} s",
                                         static_cast<double>(shorter) / rate_hz, search.piece_s, search.most_lag_s),
                     .remedy = "compare shorter pieces, or record for longer"});

    // A piece of `one` that begins at `begin`, in `other` from `least` to `most` later.
    const auto lag_of = [&](std::ptrdiff_t begin, std::ptrdiff_t least, std::ptrdiff_t most) -> Result<Lag> {
        const auto mine = one.samples.subspan(static_cast<std::size_t>(begin), static_cast<std::size_t>(piece));
        const auto theirs = other.samples.subspan(static_cast<std::size_t>(begin + least),
                                                  static_cast<std::size_t>(piece + most - least));
        auto found = lag_in(mine, theirs, rate_hz, 0, most - least, search.least_quality);
        if (found) found->lag_s += static_cast<double>(least) / rate_hz;
        return found;
    };
    ClockDrift result;
    const auto begin = lag_of(first, -lag, lag);
    if (!begin) return fail(begin.error());
    const auto at = static_cast<std::ptrdiff_t>(std::llround(begin->lag_s * rate_hz));
    const auto end = lag_of(last, at - drift, at + drift);
    if (!end) return fail(end.error());
    result.begin = *begin;
    result.end = *end;
    result.apart_s = static_cast<double>(last - first) / rate_hz;
    result.drift_ppm = (end->lag_s - begin->lag_s) / result.apart_s * 1e6;
    return result;
}

} // namespace becalm::filters
