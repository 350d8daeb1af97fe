// Enhanced frequency domain decomposition; see damping.h.
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include <Eigen/Dense>
#include <fmt/format.h>

#include "filters/damping.h"
#include "filters/fft.h"
#include "filters/windowed_mode.h"

namespace becalm::filters {
namespace {

using Complex = std::complex<double>;
constexpr double tau = 2.0 * std::numbers::pi;

constexpr std::size_t least_blocks = 8, most_blocks = 20;
constexpr double bell_height = 0.05; // of the peak: lines below are not the mode's
constexpr double valley = 4.0;       // a rise by this factor above the lowest line so far is another mode's
constexpr double wiggle = 2.5;       // standard deviations that a line may lie above and another below by chance
constexpr double unlike = 0.5;       // MAC of the peaks of two modes
constexpr double half = 0.5;         // a bell that ends above is half a bell
constexpr double least_lines = 2.0;  // of a bandwidth
constexpr double envelope_from = 0.9, envelope_to = 0.3; // not a limit: part of the decay that is fitted
constexpr double least_fall = 0.6;                       // not a limit: to be reached at least
constexpr double longest_lag = 0.4;                      // of a segment: beyond, the lag window leaves little
constexpr double least_periods = 2.0;
constexpr double compared_height = 0.2; // of the peak: above, the bell is compared with a mode's
constexpr double most_misfit = 0.2, most_chi_square = 3.0;

// First and second singular value, and first vector, of a line's matrix. It is Hermitian with no negative eigenvalue,
// so that these are its singular values, and its eigenvectors both the left and the right singular vectors.
struct Decomposed {
    double first = 0.0, second = 0.0;
    Eigen::VectorXcd vector;
};
Decomposed decomposed(const Eigen::MatrixXcd& matrix)
{
    const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXcd> solver(matrix);
    const Eigen::Index last = matrix.rows() - 1;
    return {.first = std::max(0.0, solver.eigenvalues()[last]),
            .second = last > 0 ? std::max(0.0, solver.eigenvalues()[last - 1]) : 0.0,
            .vector = solver.eigenvectors().col(last)};
}

// mean X X^H: the vector of a mode is its shape.
Eigen::MatrixXcd matrix_at(const CrossDensities& d, std::size_t line)
{
    const auto n = static_cast<Eigen::Index>(d.channels);
    Eigen::MatrixXcd matrix(n, n);
    for (Eigen::Index i = 0; i < n; ++i)
        for (Eigen::Index j = 0; j < n; ++j)
            matrix(i, j) = std::conj(d.cross(static_cast<std::size_t>(i), static_cast<std::size_t>(j), line));
    return matrix;
}

double likeness(const Eigen::VectorXcd& a, const Eigen::VectorXcd& b) // MAC of unit vectors
{
    return std::norm(a.dot(b));
}

// Lines from first to last around a peak.
struct Bell {
    std::size_t first = 0, peak = 0, last = 0;
};

// What a bell comes to back in time.
struct Decrement {
    Mode mode;
    std::size_t from = 0, to = 0; // lags that were fitted, in samples
};

class Correlations {
public:
    Correlations(std::size_t length, double rate_hz, int order) : inverse_(length), rate_hz_(rate_hz), order_(order) {}

    double segment_s() const { return static_cast<double>(inverse_.length()) / rate_hz_; }

    // Density of the motion at a line, as the window shows it.
    double shown(const Mode& mode, std::size_t line) const
    {
        const double hz = static_cast<double>(line) / segment_s();
        return std::pow(hz, 2 * order_) * std::max(0.0, shown_density(mode, segment_s(), hz));
    }

    // Envelope and phase of the correlation function of the bell, whose values are given, and the straight lines
    // through them, over the lags of `like` where given.
    Result<Decrement> decrement(const Bell& bell, std::span<const double> values, const Decrement* like = nullptr)
    {
        const auto lags = static_cast<std::size_t>(longest_lag * static_cast<double>(inverse_.length()));
        const auto transformed = [&](Complex by) {
            const auto in = inverse_.input();
            std::ranges::fill(in, 0.0);
            for (std::size_t i = 0; i < values.size(); ++i) in[bell.first + i] = by * values[i];
            const auto out = inverse_.run();
            return std::vector<double>(out.begin(), out.begin() + static_cast<std::ptrdiff_t>(lags));
        };
        const std::vector<double> real = transformed(1.0), imaginary = transformed(Complex(0.0, -1.0));
        std::vector<double> envelope(lags);
        for (std::size_t i = 0; i < lags; ++i)
            envelope[i] = std::hypot(real[i], imaginary[i]) /
                          hann_lag_window(static_cast<double>(i) / static_cast<double>(inverse_.length()));
        const auto below = [&](double share) {
            std::size_t i = 0;
            while (i < lags && envelope[i] > share * envelope[0]) ++i;
            return i;
        };
        const std::size_t from = like ? like->from : below(envelope_from), to = like ? like->to : below(envelope_to);
        const double hz = static_cast<double>(bell.peak) / segment_s();
        const double periods = (static_cast<double>(to) - static_cast<double>(from)) / rate_hz_ * hz;
        if (!(envelope[0] > 0.0) || from >= lags || (to >= lags && envelope[lags - 1] > least_fall * envelope[0]))
            return fail({.what = fmt::format("no decay: the correlation function at {:.4g} Hz does not fall within a "
                                             "segment; a tone of machinery, or damping too low for the resolution",
                                             hz),
                         .remedy = "take longer segments"});
        if (periods < least_periods || to - from < 4)
            return fail({.what = fmt::format("the correlation function at {:.4g} Hz falls within less than {} periods",
                                             hz, least_periods),
                         .remedy = "no single mode is seen there: choose another range"});

        // Least squares of both lines over the same lags.
        double sum_t = 0.0, sum_log = 0.0, sum_phase = 0.0, count = 0.0, last_phase = 0.0;
        std::vector<double> phases;
        for (std::size_t i = from; i < to; ++i) {
            const double phase = std::atan2(imaginary[i], real[i]);
            last_phase = phases.empty() ? phase : last_phase + std::remainder(phase - last_phase, tau);
            phases.push_back(last_phase);
            sum_t += static_cast<double>(i);
            sum_log += std::log(envelope[i]);
            sum_phase += last_phase;
            count += 1.0;
        }
        double spread = 0.0, falling = 0.0, turning = 0.0;
        for (std::size_t i = from; i < to; ++i) {
            const double t = static_cast<double>(i) - sum_t / count;
            spread += t * t;
            falling += t * (std::log(envelope[i]) - sum_log / count);
            turning += t * (phases[i - from] - sum_phase / count);
        }
        const double alpha = -falling / spread * rate_hz_, damped = turning / spread * rate_hz_;
        const double w0 = std::hypot(alpha, damped);
        if (!(alpha > 0.0 && damped > 0.0))
            return fail({.what = fmt::format("no decay: the correlation function at {:.4g} Hz does not fall", hz),
                         .remedy = "take longer segments, or record for longer"});
        return Decrement{.mode = {.hz = w0 / tau, .damping = alpha / w0}, .from = from, .to = to};
    }

    // The mode whose bell, windowed and cut alike, gives the decrement of these values.
    Result<Decrement> mode(const Bell& bell, std::span<const double> values)
    {
        auto found = decrement(bell, values);
        if (!found) return found;
        const Mode seen = found->mode;
        std::vector<double> as_shown(values.size());
        for (int round = 0; round < 40; ++round) {
            for (std::size_t i = 0; i < as_shown.size(); ++i) as_shown[i] = shown(found->mode, bell.first + i);
            const auto would_be = decrement(bell, as_shown, &*found);
            if (!would_be) return would_be;
            const double by = std::clamp(seen.damping / would_be->mode.damping, 0.5, 2.0);
            found->mode.hz += seen.hz - would_be->mode.hz;
            found->mode.damping *= by;
            if (!(found->mode.hz > 0.0 && found->mode.damping < 0.5)) break;
            if (std::abs(by - 1.0) < 1e-6) return found;
        }
        return fail({.what = fmt::format("the bell at {:.4g} Hz is that of no single mode",
                                         static_cast<double>(bell.peak) / segment_s()),
                     .remedy = "part close modes by more sensors, or choose another range"});
    }

private:
    InverseRealFft inverse_;
    double rate_hz_;
    int order_; // of the motion: 0 for displacement, 2 for acceleration
};

class Decomposition {
public:
    Decomposition(std::span<const CrossDensities> blocks, const AmbientOptions& options)
        : blocks_(blocks), whole_(pooled(blocks)), options_(options),
          correlations_(whole_.length, whole_.rate_hz,
                        derivative_order(Motion::displacement) - derivative_order(options.motion))
    {
        for (std::size_t k = 0; k < whole_.lines(); ++k) lines_.push_back(decomposed(matrix_at(whole_, k)));
        from_ = std::max<std::size_t>(1, at_or_above(options.from_hz));
        to_ = std::min(at_or_above(options.to_hz) + 1, whole_.lines() - 1); // beyond the last one
    }

    AmbientModes modes()
    {
        AmbientModes result{
            .resolution_hz = whole_.resolution_hz(), .segments = whole_.segments, .blocks = blocks_.size()};
        std::vector<std::size_t> order;
        std::vector<double> values;
        for (std::size_t k = from_; k < to_; ++k) {
            order.push_back(k);
            values.push_back(lines_[k].first);
        }
        std::ranges::sort(order, std::ranges::greater{}, [&](std::size_t k) { return lines_[k].first; });
        std::ranges::nth_element(values, values.begin() + static_cast<std::ptrdiff_t>(values.size() / 4));
        const double least = options_.above_floor * values[values.size() / 4];
        std::vector<bool> taken(whole_.lines(), false);
        std::vector<Bell> bells;
        for (const std::size_t k : order) {
            if (result.modes.size() + result.left_out.size() == options_.most_modes) break;
            if (!(lines_[k].first > least)) break;
            if (taken[k]) continue;
            const bool alone = stands_out(k);
            if (!alone && !is_another_mode(k, bells)) continue;
            const Bell bell = bell_around(k);
            std::fill(taken.begin() + static_cast<std::ptrdiff_t>(bell.first),
                      taken.begin() + static_cast<std::ptrdiff_t>(bell.last) + 1, true);
            bells.push_back(bell);
            auto found = alone ? mode_of(bell) : Result<AmbientMode>(fail(two_close_modes(k)));
            if (found)
                result.modes.push_back(std::move(*found));
            else
                result.left_out.push_back(std::move(found.error()));
        }
        std::ranges::sort(result.modes, {}, &AmbientMode::peak_hz);
        return result;
    }

    bool has_lines() const { return from_ < to_; }

private:
    std::size_t at_or_above(double hz) const
    {
        return static_cast<std::size_t>(
            std::clamp(std::ceil(hz / whole_.resolution_hz() - 1e-9), 0.0, static_cast<double>(whole_.lines())));
    }

    // On both sides it falls to half, and by more than chance, before it rises above the peak.
    bool stands_out(std::size_t peak) const
    {
        const double chance = wiggle / std::sqrt(whole_.averages());
        const double low = std::min(half, std::max(0.1, 1.0 - chance) / (1.0 + chance));
        const auto falls = [&](std::ptrdiff_t step) {
            for (auto k = static_cast<std::ptrdiff_t>(peak) + step; k > 0 && k < std::ssize(lines_); k += step) {
                const double value = lines_[static_cast<std::size_t>(k)].first;
                if (value > lines_[peak].first) return false;
                if (value < low * lines_[peak].first) return true;
            }
            return false;
        };
        return falls(-1) && falls(1);
    }

    // A peak on the slope of a higher one: a wiggle moves as the slope does, another mode of some height does not.
    bool is_another_mode(std::size_t peak, std::span<const Bell> bells) const
    {
        if (bells.empty()) return false;
        const auto distance = [&](const Bell& bell) { return bell.peak > peak ? bell.peak - peak : peak - bell.peak; };
        const Bell& nearest = *std::ranges::min_element(bells, {}, distance);
        return lines_[peak].first > compared_height * lines_[nearest.peak].first &&
               std::ranges::none_of(bells, [&](const Bell& bell) {
                   return likeness(lines_[peak].vector, lines_[bell.peak].vector) > unlike;
               });
    }

    Problem two_close_modes(std::size_t peak) const
    {
        return {.what = fmt::format(
                    "two close modes: the peak at {:.4g} Hz and a higher one are not parted by half its height",
                    whole_.hz(peak)),
                .remedy = "take longer segments, or more sensors where the modes differ"};
    }

    Bell bell_around(std::size_t peak) const
    {
        const auto end = [&](std::ptrdiff_t step) {
            std::size_t lowest = peak, k = peak;
            while (k > 1 && k + 2 < lines_.size()) {
                const std::size_t next = k + static_cast<std::size_t>(step);
                if (likeness(lines_[peak].vector, lines_[next].vector) < options_.least_mac) return k;
                k = next;
                if (lines_[k].first < lines_[lowest].first) lowest = k;
                if (lines_[k].first < bell_height * lines_[peak].first) return k;
                if (lines_[k].first > valley * lines_[lowest].first) return lowest;
            }
            return k;
        };
        return {.first = end(-1), .peak = peak, .last = end(1)};
    }

    // How far the upper part of the bell lies about the mode's, r.m.s. as a share; 0 where that may be chance.
    double misfit_of(const Bell& bell, const Mode& mode) const
    {
        std::vector<double> ratios;
        double mean = 0.0;
        for (std::size_t k = bell.first; k <= bell.last; ++k) {
            if (lines_[k].first < compared_height * lines_[bell.peak].first) continue;
            ratios.push_back(lines_[k].first / correlations_.shown(mode, k));
            mean += ratios.back();
        }
        mean /= static_cast<double>(ratios.size());
        double square = 0.0;
        for (const double ratio : ratios)
            square += std::pow(ratio / mean - 1.0, 2) / static_cast<double>(ratios.size());
        const double chance = 1.0 / whole_.averages();
        return square - chance > most_misfit * most_misfit && square > most_chi_square * chance ? std::sqrt(square)
                                                                                                : 0.0;
    }

    Result<AmbientMode> mode_of(const Bell& bell)
    {
        const double peak_hz = whole_.hz(bell.peak), height = lines_[bell.peak].first;
        // The lines beside the ends tell: a bell may be one line wide.
        if (std::min(lines_[bell.first].first, lines_[bell.first - 1].first) > half * height ||
            std::min(lines_[bell.last].first, lines_[bell.last + 1].first) > half * height)
            return fail(
                {.what = fmt::format("two close modes: what moves as at {:.4g} Hz ends above half the height of its "
                                     "peak",
                                     peak_hz),
                 .remedy = "take longer segments, or more sensors where the modes differ"});
        std::vector<double> values;
        for (std::size_t k = bell.first; k <= bell.last; ++k) values.push_back(lines_[k].first);
        const auto found = correlations_.mode(bell, values);
        if (!found) return fail(found.error());
        const double lines = 2.0 * found->mode.damping * found->mode.hz / whole_.resolution_hz();
        if (lines < least_lines)
            return fail(
                {.what = fmt::format("resolution: a bandwidth of {:.3g} Hz at {:.4g} Hz spans {:.2g} lines, {} are "
                                     "needed; a tone of machinery is as narrow",
                                     lines * whole_.resolution_hz(), peak_hz, lines, least_lines),
                 .remedy = "take longer segments"});

        if (const double misfit = misfit_of(bell, found->mode); misfit > 0.0)
            return fail(
                {.what = fmt::format("two close modes: the bell at {:.4g} Hz lies {:.0f} % about that of one mode",
                                     peak_hz, 100.0 * misfit),
                 .remedy = "take longer segments, or more sensors where the modes differ"});

        // Jackknife: without each block in turn.
        std::vector<Mode> without;
        for (const CrossDensities& block : blocks_) {
            const double share = static_cast<double>(block.segments) / static_cast<double>(whole_.segments);
            for (std::size_t k = bell.first; k <= bell.last; ++k)
                values[k - bell.first] =
                    decomposed((matrix_at(whole_, k) - share * matrix_at(block, k)) / (1.0 - share)).first;
            const auto other = correlations_.mode(bell, values);
            if (!other)
                return fail(
                    {.what = fmt::format("too short: without one of {} parts of the record the mode at {:.4g} Hz is "
                                         "lost ({})",
                                         blocks_.size(), peak_hz, other.error().what),
                     .remedy = "record for longer"});
            without.push_back(other->mode);
        }
        const auto uncertainty = [&](double Mode::*value) {
            const auto count = static_cast<double>(without.size());
            double mean = 0.0, squares = 0.0;
            for (const Mode& mode : without) mean += mode.*value / count;
            for (const Mode& mode : without) squares += (mode.*value - mean) * (mode.*value - mean);
            return std::sqrt((count - 1.0) / count * squares);
        };

        AmbientMode mode{.frequency_hz = {.value = found->mode.hz, .uncertainty = uncertainty(&Mode::hz)},
                         .damping = {.value = found->mode.damping, .uncertainty = uncertainty(&Mode::damping)},
                         .peak_hz = peak_hz,
                         .first_to_second = lines_[bell.peak].second > 0.0 ? height / lines_[bell.peak].second
                                                                           : std::numeric_limits<double>::infinity(),
                         .from_hz = whole_.hz(bell.first),
                         .to_hz = whole_.hz(bell.last),
                         .from_s = static_cast<double>(found->from) / whole_.rate_hz,
                         .to_s = static_cast<double>(found->to - 1) / whole_.rate_hz};
        const Eigen::VectorXcd& vector = lines_[bell.peak].vector;
        Eigen::Index greatest = 0;
        vector.cwiseAbs().maxCoeff(&greatest);
        for (const Complex component : vector) mode.shape.push_back(component / vector[greatest]);
        return mode;
    }

    std::span<const CrossDensities> blocks_;
    CrossDensities whole_;
    AmbientOptions options_;
    Correlations correlations_;
    std::vector<Decomposed> lines_;
    std::size_t from_ = 0, to_ = 0; // lines that are looked at
};

} // namespace

Result<AmbientModes> ambient_modes(std::span<const CrossDensities> blocks, const AmbientOptions& options)
{
    std::vector<CrossDensities> filled;
    for (const CrossDensities& block : blocks)
        if (block.segments > 0) filled.push_back(block);
    if (filled.size() < least_blocks)
        return fail(
            {.what = fmt::format("too short: {} parts of the record hold a segment, {} are needed to tell how sure "
                                 "the result is",
                                 filled.size(), least_blocks),
             .remedy = "record for longer, or take shorter segments"});
    Decomposition decomposition(filled, options);
    if (!decomposition.has_lines())
        return fail({.kind = ProblemKind::usage,
                     .what = fmt::format("no line from {:.6g} Hz to {:.6g} Hz", options.from_hz, options.to_hz)});
    return decomposition.modes();
}

Result<AmbientModes> ambient_modes(std::span<const SampledChannel> channels, std::size_t length,
                                   const AmbientOptions& options)
{
    std::vector<double> rates_hz;
    std::vector<std::span<const double>> samples;
    for (const SampledChannel& channel : channels) {
        rates_hz.push_back(channel.rate_hz);
        samples.push_back(channel.samples);
        if (channel.samples.size() != channels[0].samples.size())
            return fail({.what = "channels of unequal length", .remedy = "compare the span that all channels have"});
    }
    auto spectra = CrossSpectra::of(rates_hz, length);
    if (!spectra) return fail(spectra.error());
    const std::size_t count = samples[0].size(), hop = length / 2;
    const std::size_t segments = count < length ? 0 : (count - length) / hop + 1;
    const std::size_t block_count = std::clamp<std::size_t>(segments / 2, 1, most_blocks);
    std::vector<CrossDensities> blocks;
    std::size_t done = 0;
    for (std::size_t b = 1; b <= block_count; ++b) {
        // To the end of the segment that is the block's last one.
        const std::size_t end =
            b == block_count ? count : std::min(count, length + (segments * b / block_count - 1) * hop);
        std::vector<std::span<const double>> part;
        for (const auto& all : samples) part.push_back(all.subspan(done, end - done));
        if (const auto added = spectra->add(part); !added) return fail(added.error());
        blocks.push_back(spectra->take());
        done = end;
    }
    return ambient_modes(blocks, options);
}

} // namespace becalm::filters
