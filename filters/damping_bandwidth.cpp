// Half-power bandwidth; see damping.h.
#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <numbers>

#include <Eigen/Dense>
#include <fmt/format.h>

#include "filters/damping.h"
#include "filters/windowed_mode.h"

namespace becalm::filters {
namespace {

constexpr double tau = 2.0 * std::numbers::pi;
constexpr double fitted_part = 1.0; // of the bandwidth, on either side of the peak
constexpr double least_lines = 4.0;
constexpr double most_misfit = 0.2;
constexpr double most_chi_square = 3.0; // per degree of freedom
// Lines of the Hann window k apart correlate by (2/3)^2 and (1/6)^2: that much more variance in what they say together.
constexpr double neighbours = 1.0 + 2.0 * (4.0 / 9.0 + 1.0 / 36.0);

// Squares of a receptance at the lines of a spectrum.
struct Lines {
    std::vector<double> hz, power;
    std::vector<double> variance; // of a line, relative
};

// a + b x + c x^2, x = (f^2 - centre^2) / (bandwidth centre): the inverse of the squares, over all.
struct Parabola {
    Eigen::Vector3d c = Eigen::Vector3d::Zero();
    Eigen::Matrix3d covariance = Eigen::Matrix3d::Zero();
    double centre_hz = 0.0, width_hz = 0.0;

    Eigen::Vector3d powers(double hz) const
    {
        const double x = (hz * hz - centre_hz * centre_hz) / (width_hz * centre_hz);
        return {1.0, x, x * x};
    }
    double value(double hz) const { return c.dot(powers(hz)); }
};

// What the parabola says: peak^2 of the receptance and half the distance of the squares of the half-power points.
struct Peak {
    double peak_square = 0.0, half_square = 0.0; // Hz^2

    double from_hz() const { return std::sqrt(peak_square - half_square); }
    double to_hz() const { return std::sqrt(peak_square + half_square); }
    Mode mode() const
    {
        const double damping = std::sin(0.5 * std::atan(half_square / peak_square));
        return {.hz = std::sqrt(peak_square / (1.0 - 2.0 * damping * damping)), .damping = damping};
    }
};
std::optional<Peak> peak_of(const Parabola& parabola, const Eigen::Vector3d& c)
{
    const double least = c[0] - c[1] * c[1] / (4.0 * c[2]);
    if (!(c[2] > 0.0 && least > 0.0)) return std::nullopt;
    const double scale = parabola.width_hz * parabola.centre_hz;
    const Peak peak{.peak_square = parabola.centre_hz * parabola.centre_hz - scale * c[1] / (2.0 * c[2]),
                    .half_square = scale * std::sqrt(least / c[2])};
    if (!(peak.peak_square > peak.half_square)) return std::nullopt;
    return peak;
}

// Maximum likelihood of gamma variates with means 1 / value(hz): sum (power value - 1) powers / value / variance = 0.
Parabola fit_parabola(const Lines& lines, std::span<const std::size_t> chosen, double centre_hz, double width_hz)
{
    Parabola parabola{.centre_hz = centre_hz, .width_hz = width_hz};
    double mean = 0.0;
    for (const std::size_t i : chosen) mean += lines.power[i] / static_cast<double>(chosen.size());
    parabola.c = {0.5 / mean, 0.0, 2.0 / mean}; // a resonance of about that width
    for (int round = 0; round < 50; ++round) {
        Eigen::Matrix3d matrix = Eigen::Matrix3d::Zero(), information = Eigen::Matrix3d::Zero();
        Eigen::Vector3d wanted = Eigen::Vector3d::Zero();
        for (const std::size_t i : chosen) {
            const Eigen::Vector3d powers = parabola.powers(lines.hz[i]);
            // Where the parabola dips below what was ever measured it has gone astray for the moment.
            const double value = std::max(parabola.value(lines.hz[i]), 0.02 / mean);
            const double weight = 1.0 / lines.variance[i];
            matrix += weight * lines.power[i] / value * powers * powers.transpose();
            information += weight / (value * value) * powers * powers.transpose();
            wanted += weight / value * powers;
        }
        const Eigen::Vector3d next = matrix.ldlt().solve(wanted);
        const bool settled = (next - parabola.c).norm() < 1e-12 * next.norm();
        parabola.c = next;
        parabola.covariance = neighbours * information.inverse();
        if (settled) break;
    }
    return parabola;
}

std::vector<std::size_t> lines_around(const Lines& lines, double centre_hz, double width_hz, double resolution_hz)
{
    std::vector<std::size_t> chosen;
    const double reach_hz = std::max(fitted_part * width_hz, 2.01 * resolution_hz);
    for (std::size_t i = 0; i < lines.hz.size(); ++i)
        if (lines.hz[i] > 0.0 && std::abs(lines.hz[i] - centre_hz) <= reach_hz) chosen.push_back(i);
    return chosen;
}

Problem no_peak(double hz)
{
    return {.what = fmt::format(
                "no resonance of its own at {:.4g} Hz: it does not fall to half the power on both sides", hz),
            .remedy = "choose another, or part two close modes by a mode's decay or by several sensors"};
}

// Squares of what `shown` says, at the lines chosen.
Lines shown_lines(const Lines& like, std::span<const std::size_t> chosen, const std::function<double(double)>& shown)
{
    Lines result;
    for (const std::size_t i : chosen) {
        result.hz.push_back(like.hz[i]);
        result.power.push_back(shown(like.hz[i]));
        result.variance.push_back(like.variance[i]);
    }
    return result;
}

using Shown = double (*)(const Mode&, double segment_s, double hz);

Result<Bandwidth> bandwidth_of(const Lines& lines, double resolution_hz, Shown shown, const BandwidthOptions& options)
{
    const double from_hz = options.near_hz * (1.0 - options.within), to_hz = options.near_hz * (1.0 + options.within);
    std::optional<std::size_t> top;
    for (std::size_t i = 0; i < lines.hz.size(); ++i) {
        if (!std::isfinite(lines.power[i]) || !std::isfinite(lines.variance[i]))
            return fail({.what = "lines that are no finite numbers", .remedy = "leave that span out"});
        if (lines.hz[i] >= from_hz && lines.hz[i] <= to_hz && (!top || lines.power[i] > lines.power[*top])) top = i;
    }
    if (!top || !(lines.power[*top] > 0.0))
        return fail({.what = fmt::format("no line with energy from {:.4g} Hz to {:.4g} Hz", from_hz, to_hz),
                     .remedy = "look elsewhere, or take longer segments"});

    // First the points of half the greatest line, then the parabola's own until it stays.
    std::size_t low = *top, high = *top;
    while (low > 0 && lines.power[low] > 0.5 * lines.power[*top]) --low;
    while (high + 1 < lines.hz.size() && lines.power[high] > 0.5 * lines.power[*top]) ++high;
    double centre_hz = lines.hz[*top], width_hz = std::max(2.0 * (lines.hz[high] - lines.hz[low]), resolution_hz);
    std::vector<std::size_t> chosen;
    Parabola parabola;
    std::optional<Peak> peak;
    for (int round = 0; round < 12; ++round) {
        auto around = lines_around(lines, centre_hz, width_hz, resolution_hz);
        if (around.size() < 4) return fail(no_peak(centre_hz));
        if (around == chosen) break;
        chosen = std::move(around);
        parabola = fit_parabola(lines, chosen, centre_hz, width_hz);
        peak = peak_of(parabola, parabola.c);
        if (!peak) return fail(no_peak(centre_hz));
        centre_hz = std::sqrt(peak->peak_square);
        width_hz = peak->to_hz() - peak->from_hz();
        if (!(centre_hz > from_hz && centre_hz < to_hz) || width_hz > centre_hz) return fail(no_peak(lines.hz[*top]));
    }
    const double bandwidth_lines = (peak->to_hz() - peak->from_hz()) / resolution_hz;
    if (bandwidth_lines < least_lines)
        return fail(
            {.what = fmt::format("resolution: the bandwidth of {:.3g} Hz at {:.4g} Hz spans {:.2g} lines, of which "
                                 "the window alone makes 1.4; at least {} are needed",
                                 peak->to_hz() - peak->from_hz(), centre_hz, bandwidth_lines, least_lines),
             .remedy = fmt::format("take segments of {:.3g} s or more",
                                   2.0 * least_lines / (bandwidth_lines * resolution_hz))});

    // The mode whose spectrum as shown gives the same peak.
    const Mode raw = peak->mode();
    std::vector<std::size_t> all(chosen.size());
    for (std::size_t i = 0; i < all.size(); ++i) all[i] = i;
    const auto raw_of = [&](const Mode& mode) -> std::optional<Mode> {
        const Lines as_shown =
            shown_lines(lines, chosen, [&](double hz) { return shown(mode, 1.0 / resolution_hz, hz); });
        const Parabola fitted = fit_parabola(as_shown, all, parabola.centre_hz, parabola.width_hz);
        const auto found = peak_of(fitted, fitted.c);
        return found ? std::optional(found->mode()) : std::nullopt;
    };
    Mode mode = raw;
    for (int round = 0; round < 40; ++round) {
        const auto found = raw_of(mode);
        if (!found) return fail(no_peak(centre_hz));
        const double by = std::clamp(raw.damping / found->damping, 0.5, 2.0);
        mode.hz += raw.hz - found->hz;
        mode.damping *= by;
        if (std::abs(by - 1.0) < 1e-9) break;
    }
    const auto more = raw_of({.hz = mode.hz, .damping = 1.02 * mode.damping});
    if (!more || !(more->damping > raw.damping)) return fail(no_peak(centre_hz));
    const double passed_on = (more->damping - raw.damping) / (0.02 * mode.damping);

    // How the lines lie about it.
    double scale = 0.0, square = 0.0, chi_square = 0.0, noise = 0.0, weights = 0.0;
    for (const std::size_t i : chosen) {
        scale += lines.power[i] / shown(mode, 1.0 / resolution_hz, lines.hz[i]) / lines.variance[i];
        weights += 1.0 / lines.variance[i];
    }
    scale /= weights;
    for (const std::size_t i : chosen) {
        const double off = lines.power[i] / (scale * shown(mode, 1.0 / resolution_hz, lines.hz[i])) - 1.0;
        square += off * off / static_cast<double>(chosen.size());
        noise += lines.variance[i] / static_cast<double>(chosen.size());
        chi_square += off * off / lines.variance[i] / static_cast<double>(chosen.size() - 3);
    }
    if (square - noise > most_misfit * most_misfit && chi_square > most_chi_square)
        return fail(
            {.what = fmt::format("the resonance at {:.4g} Hz is none of a single mode: its lines lie {:.0f} % about "
                                 "one; two close modes",
                                 centre_hz, 100.0 * std::sqrt(square)),
             .remedy = "part them by several sensors, or by where the sensor stands"});

    // Uncertainty of the parabola's coefficients, carried on by differences.
    Eigen::Vector3d of_damping, of_hz;
    for (int k = 0; k < 3; ++k) {
        Eigen::Vector3d moved = parabola.c;
        const double step = 1e-4 * std::sqrt(parabola.covariance(k, k)) + 1e-9 * std::abs(moved[k]);
        moved[k] += step;
        const auto found = peak_of(parabola, moved);
        if (!found) return fail(no_peak(centre_hz));
        of_damping[k] = (found->mode().damping - raw.damping) / step;
        of_hz[k] = (found->mode().hz - raw.hz) / step;
    }
    const double u_damping = std::sqrt(of_damping.dot(parabola.covariance * of_damping)) / passed_on;
    const double u_hz = std::sqrt(of_hz.dot(parabola.covariance * of_hz));
    return Bandwidth{
        .frequency_hz = {.value = mode.hz, .uncertainty = std::hypot(u_hz, (raw.hz - mode.hz) / std::sqrt(12.0))},
        .damping = {.value = mode.damping,
                    .uncertainty = std::hypot(u_damping, (raw.damping - mode.damping) / std::sqrt(12.0))},
        .from_hz = peak->from_hz(),
        .to_hz = peak->to_hz(),
        .lines = bandwidth_lines,
        .widened = 1.0 - mode.damping / raw.damping,
        .misfit = std::sqrt(square)};
}

// From the square of what the motion has to the square of the displacement.
double to_displacement(double hz, Motion motion)
{
    return std::pow(tau * hz, -2.0 * (derivative_order(Motion::displacement) - derivative_order(motion)));
}

std::optional<Problem> problem_of(const BandwidthOptions& options, double resolution_hz)
{
    if (options.near_hz > 0.0 && options.within > 0.0 && options.within < 1.0 && resolution_hz > 0.0)
        return std::nullopt;
    return Problem{.kind = ProblemKind::usage,
                   .what = "a frequency and a resolution above 0 and a range between 0 and 1 around it are needed"};
}

} // namespace

Result<Bandwidth> half_power(std::span<const double> density, double resolution_hz, double averages,
                             const BandwidthOptions& options)
{
    if (auto problem = problem_of(options, resolution_hz)) return fail(std::move(*problem));
    if (!(averages >= 1.0))
        return fail({.what = "a density of no segment", .remedy = "record for longer, or take shorter segments"});
    Lines lines;
    for (std::size_t k = 1; k < density.size(); ++k) {
        const double hz = static_cast<double>(k) * resolution_hz;
        lines.hz.push_back(hz);
        lines.power.push_back(density[k] * to_displacement(hz, options.motion));
        lines.variance.push_back(1.0 / averages);
    }
    return bandwidth_of(lines, resolution_hz, shown_density, options);
}

Result<Bandwidth> half_power(std::span<const Transfer> transfer, double resolution_hz, const BandwidthOptions& options)
{
    if (auto problem = problem_of(options, resolution_hz)) return fail(std::move(*problem));
    Lines lines;
    for (const Transfer& line : transfer) {
        if (!(line.hz > 0.0)) continue;
        lines.hz.push_back(line.hz);
        lines.power.push_back(std::norm(line.h1) * to_displacement(line.hz, options.motion));
        // Of a square: twice that of the magnitude. Coherence of 1 would leave no line any say over another.
        const double twice = 2.0 * std::clamp(line.relative_uncertainty, 1e-6, 1e6);
        lines.variance.push_back(twice * twice);
    }
    return bandwidth_of(lines, resolution_hz, shown_receptance_square, options);
}

} // namespace becalm::filters
