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
constexpr std::ptrdiff_t least_pieces = 5, most_pieces = 24;
constexpr double own_error = 0.003;         // not a limit: of a sample; of the search, where nothing disturbs it
constexpr double nine_tenths_at = 0.178013; // x of sinc^2(x) = 0.9, computed from the definition

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

    // At any lag of the range, in samples.
    double at(double lag) const { return value(lag); }

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

// `alone`: a range wide enough that no other lag may fit alike.
Result<Lag> lag_in(std::span<const double> one, std::span<const double> other, double rate_hz, std::ptrdiff_t first,
                   std::ptrdiff_t last, double least_quality, bool alone = true)
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
    if (alone && lag.next_best > repeats * lag.quality)
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

Result<ClockRelation> clock_relation(const Recorded& one, const Recorded& other, const ClockSearch& search)
{
    if (auto problem = problem_of(one, other, search.most_lag_s)) return fail(std::move(*problem));
    if (!(search.piece_s > 0.0 && search.most_ppm > 0.0))
        return fail({.kind = ProblemKind::usage,
                     .what = "pieces without length, or no drift to look for",
                     .remedy = "choose both greater than 0"});
    const double rate_hz = one.rate_hz, most_drift = search.most_ppm * 1e-6;
    const auto n = std::ssize(one.samples), m = std::ssize(other.samples), shorter = std::min(n, m);
    const double most = std::ceil(search.most_lag_s * rate_hz), long_piece = std::ceil(search.piece_s * rate_hz);
    const double room = static_cast<double>(shorter) - 2.0 * most;
    const double pieces_there = std::floor(room / long_piece);
    if (pieces_there < static_cast<double>(least_pieces) || long_piece < 8.0)
        return fail({.what = fmt::format("{:.6g} s are too short for {} pieces of {:.6g} s beside lags up to {:.6g} s",
                                         static_cast<double>(shorter) / rate_hz, least_pieces, search.piece_s,
                                         search.most_lag_s),
                     .remedy = "compare shorter pieces, search less far, or record for longer"});
    const auto lag = static_cast<std::ptrdiff_t>(most), piece = static_cast<std::ptrdiff_t>(long_piece);
    const auto count = static_cast<std::ptrdiff_t>(std::min(pieces_there, static_cast<double>(most_pieces)));
    const auto begin_of = [&](std::ptrdiff_t k) { return lag + k * (shorter - 2 * lag - piece) / (count - 1); };
    const auto middle_s = [&](std::ptrdiff_t k) {
        return (static_cast<double>(begin_of(k)) + 0.5 * static_cast<double>(piece)) / rate_hz;
    };
    // Piece k of `one` and where `other` has it, from `least` to `most` later; what lies beyond its ends is not sought.
    const auto parts = [&](std::ptrdiff_t k, std::ptrdiff_t& least, std::ptrdiff_t& greatest) {
        const std::ptrdiff_t begin = begin_of(k);
        least = std::max(least, -begin);
        greatest = std::max(least, std::min(greatest, m - piece - begin));
        return std::pair(one.samples.subspan(static_cast<std::size_t>(begin), static_cast<std::size_t>(piece)),
                         other.samples.subspan(static_cast<std::size_t>(begin + least),
                                               static_cast<std::size_t>(piece + greatest - least)));
    };
    const auto lag_of = [&](std::ptrdiff_t k, std::ptrdiff_t least, std::ptrdiff_t greatest, bool alone) {
        const auto [mine, theirs] = parts(k, least, greatest);
        auto found = lag_in(mine, theirs, rate_hz, 0, greatest - least, search.least_quality, alone);
        if (found) found->lag_s += static_cast<double>(least) / rate_hz;
        return found;
    };

    std::optional<std::pair<std::ptrdiff_t, Lag>> best;
    std::optional<Problem> why_not;
    for (std::ptrdiff_t k = 0; k < count; ++k) {
        const auto found = lag_of(k, -lag, lag, true);
        if (!found && !why_not) why_not = found.error();
        if (found && (!best || found->quality > best->second.quality)) best = {k, *found};
    }
    if (!best) return fail(std::move(*why_not));

    ClockRelation result;
    for (std::ptrdiff_t k = 0; k < count; ++k) {
        const double apart_s = std::abs(middle_s(k) - middle_s(best->first));
        const auto reach = static_cast<std::ptrdiff_t>(std::ceil(most_drift * apart_s * rate_hz)) + 3;
        const auto at = static_cast<std::ptrdiff_t>(std::llround(best->second.lag_s * rate_hz));
        const auto found = lag_of(k, at - reach, at + reach, false);
        if (found)
            result.pieces.push_back({.at_s = middle_s(k), .lag_s = found->lag_s, .quality = found->quality});
        else
            ++result.left_out;
    }
    const auto used = std::ssize(result.pieces);
    if (used < least_pieces || 2 * used < count)
        return fail(
            {.what = fmt::format("the recordings show the same motion in {} of {} pieces of {:.6g} s only, with "
                                 "no more than {:.6g} ppm between their clocks",
                                 used, count, search.piece_s, search.most_ppm),
             .remedy = "compare a span in which both were moved together all the time"});

    const auto pieces = static_cast<double>(used);
    double mean_at = 0.0, mean_lag = 0.0, spread = 0.0, product = 0.0, residual = 0.0;
    for (const PieceLag& one_piece : result.pieces) {
        mean_at += one_piece.at_s / pieces;
        mean_lag += one_piece.lag_s / pieces;
    }
    for (const PieceLag& one_piece : result.pieces) {
        spread += std::pow(one_piece.at_s - mean_at, 2);
        product += (one_piece.at_s - mean_at) * (one_piece.lag_s - mean_lag);
    }
    const double slope = product / spread;
    result.lag_s = mean_lag - slope * mean_at;
    for (const PieceLag& one_piece : result.pieces)
        residual += std::pow(one_piece.lag_s - result.lag_s - slope * one_piece.at_s, 2);
    const double freedom = pieces - 2.0;
    const double variance = (residual / freedom + std::pow(own_error / rate_hz, 2)) * freedom / (freedom - 2.0);
    result.scatter_s = std::sqrt(residual / freedom);
    result.drift_ppm = slope * 1e6;
    result.drift_uncertainty_ppm = std::sqrt(variance / spread) * 1e6;
    result.lag_uncertainty_s = std::sqrt(variance * (1.0 / pieces + mean_at * mean_at / spread));
    result.middle_lag_s = mean_lag;

    std::vector<double> qualities;
    for (std::ptrdiff_t k = 0; k < count; ++k) {
        const double on_the_line = (result.lag_s + slope * middle_s(k)) * rate_hz;
        const auto near = static_cast<std::ptrdiff_t>(std::floor(on_the_line));
        std::ptrdiff_t least = near - 1, greatest = near + 2;
        const auto [mine, theirs] = parts(k, least, greatest);
        qualities.push_back(
            Correlation(mine, theirs, 0, greatest - least).at(on_the_line - static_cast<double>(least)));
    }
    const auto middle = qualities.begin() + std::ssize(qualities) / 2;
    std::ranges::nth_element(qualities, middle);
    result.quality = std::min(1.0, *middle);
    if (!(result.quality >= search.least_quality))
        return fail({.what = fmt::format("the lags of {} pieces follow no steady clock: they scatter by {:.3g} s, and "
                                         "the correlation is {:.2f} only along the line through them",
                                         used, result.scatter_s, result.quality),
                     .remedy = "compare a span with broader motion, or recordings that saw the same motion"});
    return result;
}

double coherent_to_hz(double drift_ppm, double duration_s)
{
    return nine_tenths_at / (std::abs(drift_ppm) * 1e-6 * duration_s);
}

} // namespace becalm::filters
