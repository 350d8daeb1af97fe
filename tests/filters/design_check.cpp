#include "tests/filters/design_check.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

#include "filters/weighting.h"

namespace becalm::filters::tests {
namespace {

constexpr double promised_magnitude = 1e-4;
constexpr double promised_phase_deg = 0.01;
constexpr double promised_above = 1e-5;

double degrees(double radians) { return radians * 180.0 / std::numbers::pi; }

} // namespace

bool DesignErrors::kept() const
{
    return magnitude <= promised_magnitude && phase_deg <= promised_phase_deg && above <= promised_above &&
           complex_above <= promised_above;
}

std::vector<double> check_grid(const DigitalWeighting& weighting)
{
    const double half = weighting.rate_hz / 2.0;
    const double accurate = std::min(accurate_to_hz(weighting.id), half);
    std::vector<double> grid;
    const auto geometric = [&](double from, double to, int points) {
        for (int i = 0; i < points; ++i) grid.push_back(from * std::pow(to / from, i / (points - 1.0)));
    };
    geometric(parameters_of(weighting.id).f1 / 50.0, accurate, 331);
    geometric(accurate * 0.3, half, 307);
    // Evenly, eleven points a tap: a correction of n taps ripples at most n times up to half the rate. The irrational
    // offset keeps the points off the design's own.
    const std::size_t even = std::max<std::size_t>(1100, 11 * weighting.taps.size());
    for (std::size_t i = 0; i < even; ++i)
        grid.push_back(half * (static_cast<double>(i) + 1.0 / std::numbers::phi) / static_cast<double>(even));
    // The corner that the folded magnitude has at half the rate.
    for (int i = 0; i <= 200; ++i) grid.push_back(half * (1.0 - 0.4 * std::pow(1e-6, i / 200.0)));
    grid.push_back(half);
    grid.push_back(accurate);
    std::ranges::sort(grid);
    return grid;
}

DesignErrors errors_of(const DigitalWeighting& weighting)
{
    const std::vector<double> grid = check_grid(weighting);
    const double accurate = accurate_to_hz(weighting.id);
    double greatest = 0.0;
    for (const double hz : grid)
        greatest = std::max(greatest, std::abs(analytic_response(weighting.id, weighting.input, hz)));
    DesignErrors errors;
    const auto note = [](double error, double hz, double& worst, double& where) {
        if (error > worst || std::isnan(error)) {
            worst = std::isnan(error) ? std::numeric_limits<double>::infinity() : error;
            where = hz;
        }
    };
    for (const double hz : grid) {
        const std::complex<double> wanted = analytic_response(weighting.id, weighting.input, hz);
        const std::complex<double> reached = response(weighting, hz);
        const double magnitude = std::abs(std::abs(reached) - std::abs(wanted));
        if (hz <= accurate) {
            note(magnitude / std::abs(wanted), hz, errors.magnitude, errors.magnitude_hz);
            note(std::abs(degrees(std::arg(reached / wanted))), hz, errors.phase_deg, errors.phase_hz);
            continue;
        }
        note(magnitude / greatest, hz, errors.above, errors.above_hz);
        if (hz <= 0.6 * weighting.rate_hz / 2.0)
            note(std::abs(reached - wanted) / greatest, hz, errors.complex_above, errors.complex_above_hz);
    }
    return errors;
}

std::string broken_promise(WeightingId id, Motion input, double rate_hz)
{
    const auto designed = design(id, input, rate_hz);
    const std::string name = fmt::format("{} {} at {:.9g} Hz", name_of(id), name_of(input), rate_hz);
    if (!designed) return fmt::format("{}: {}", name, to_text(designed.error()));
    const DigitalWeighting& weighting = **designed;
    const DesignErrors errors = errors_of(weighting);
    // The design must know itself how well it does.
    const bool honest = weighting.worst_error <= 1.0;
    if (errors.kept() && honest) return {};
    return fmt::format(
        "{} ({} taps, {} poles, latency {}, own worst {:.3g}): magnitude {:.3g} at {:.6g} Hz (1e-4), phase {:.3g} deg "
        "at {:.6g} Hz (0.01), above {:.3g} at {:.6g} Hz (1e-5), complex above {:.3g} at {:.6g} Hz (1e-5) "
        "[promise of filters/digital_design.h against the definition, filters/weighting.h]",
        name, weighting.taps.size(), weighting.poles.size(), weighting.latency, weighting.worst_error, errors.magnitude,
        errors.magnitude_hz, errors.phase_deg, errors.phase_hz, errors.above, errors.above_hz, errors.complex_above,
        errors.complex_above_hz);
}

} // namespace becalm::filters::tests
