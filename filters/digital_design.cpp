#include "filters/digital_design.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <mutex>
#include <numbers>
#include <tuple>

#include <Eigen/Dense>
#include <fmt/format.h>

#include "filters/weighting.h"

namespace becalm::filters {
namespace {

using std::numbers::pi;
using Complex = std::complex<double>;

// Tolerances of the fit, a little tighter than what is promised.
constexpr double relative_tolerance = 0.7e-4; // not a limit: a tolerance
constexpr double absolute_tolerance = 0.85e-5;

// Shapes of the correction, from cheap to costly; the first that meets the tolerances is taken.
struct Shape {
    int taps;
    int poles;
};
constexpr std::array<Shape, 16> shapes{{{4, 0},
                                        {8, 0},
                                        {8, 4},
                                        {12, 4},
                                        {16, 4},
                                        {16, 6},
                                        {24, 6},
                                        {32, 6},
                                        {48, 8},
                                        {64, 8},
                                        {96, 8},
                                        {128, 8},
                                        {128, 16},
                                        {192, 16},
                                        {256, 16},
                                        {512, 16}}};

// z = exp(s / rate) for the two roots s of s^2 + (w/Q) s + w^2; returns the coefficients of z^-1 and z^-2.
std::pair<double, double> mapped_pair(double hz, double Q, double rate_hz)
{
    const double w = 2.0 * pi * hz / rate_hz;
    const Complex discriminant = std::sqrt(Complex(1.0 / (4.0 * Q * Q) - 1.0, 0.0));
    const Complex first = std::exp(w * (-1.0 / (2.0 * Q) + discriminant));
    const Complex second = std::exp(w * (-1.0 / (2.0 * Q) - discriminant));
    return {-(first + second).real(), (first * second).real()};
}

std::vector<Section> mapped_sections(WeightingId id, Motion input, double rate_hz)
{
    const WeightingParameters& p = parameters_of(id);
    std::vector<Section> sections;
    const auto add = [&](double b1, double b2, double f, double Q) {
        const auto [a1, a2] = mapped_pair(f, Q, rate_hz);
        sections.push_back({b1, b2, a1, a2});
    };
    // Zeros at s = 0: two of the high-pass, n more of the (j w)^n of a velocity or displacement input, and one less for
    // each integration, which therefore has no pole there.
    constexpr std::array<std::pair<double, double>, 3> differentiators{{{0.0, 0.0}, {-1.0, 0.0}, {-2.0, 1.0}}};
    const int zeros = 2 + derivative_order(input) - p.integrations;
    const auto [h1, h2] = differentiators[static_cast<std::size_t>(std::min(zeros, 2))];
    const auto [d1, d2] = differentiators[static_cast<std::size_t>(std::max(zeros - 2, 0))];
    add(h1, h2, p.f1, p.Q1);
    add(d1, d2, p.f2, p.Q2);

    if (p.f4 < infinite_hz) {
        const double b1 = p.f3 < infinite_hz ? -std::exp(-2.0 * pi * p.f3 / rate_hz) : 0.0;
        add(b1, 0.0, p.f4, p.Q4);
    }
    if (p.f6 < infinite_hz) {
        const auto [b1, b2] = mapped_pair(p.f5, p.Q5, rate_hz);
        add(b1, b2, p.f6, p.Q6);
    }
    return sections;
}

// 1 + c1 z^-1 + c2 z^-2 at z = exp(j w), arranged so that zeros and poles near z = 1 lose no digits:
// with u = 1 - z^-1 = 2 j sin(w/2) exp(-j w/2), the polynomial is (1 + c1 + c2) - (c1 + 2 c2) u + c2 u^2.
Complex polynomial(double c1, double c2, double w)
{
    const Complex u = Complex(0.0, 2.0 * std::sin(w / 2.0)) * std::exp(Complex(0.0, -w / 2.0));
    return (1.0 + c1 + c2) - (c1 + 2.0 * c2) * u + c2 * u * u;
}

Complex response_of(const std::vector<Section>& sections, double w)
{
    Complex product = 1.0;
    for (const Section& s : sections) product *= polynomial(s.b1, s.b2, w) / polynomial(s.a1, s.a2, w);
    return product;
}

// Everything of the fit that does not depend on the correction's shape but for the density of the grid.
struct Target {
    std::vector<double> w;         // rad/sample
    std::vector<Complex> analytic; // wanted response
    std::vector<Complex> cascade;  // of the mapped sections alone
    std::vector<double> tolerance;
    std::vector<bool> phase_counts; // false: magnitude only
    double edge = 0.0;              // rad/sample where phase_counts ends
};

Target target_for(WeightingId id, Motion input, double rate_hz, const std::vector<Section>& sections, int taps)
{
    const double half = rate_hz / 2.0;
    const double accurate = accurate_to_hz(id);
    const double edge = std::max(std::min(accurate, 0.875 * half), 0.6 * half); // not a limit: of half the rate
    std::vector<double> grid;
    const auto geometric = [&](double from, double to, int n) {
        for (int i = 0; i < n; ++i) grid.push_back(from * std::pow(to / from, i / (n - 1.0)));
    };
    geometric(parameters_of(id).f1 / 40.0, std::min(accurate, half), 80);
    geometric(accurate * 0.5, half, 80);
    const int uniform = std::max(240, 4 * taps);
    for (int i = 1; i <= uniform; ++i) grid.push_back(half * i / uniform);
    for (int i = 0; i < 120; ++i)
        grid.push_back(half - (half - edge) * std::pow(1e-4, i / 119.0)); // the corner at half the rate
    std::ranges::sort(grid);
    const auto last = std::ranges::unique(grid, [](double a, double b) { return b - a < 1e-9 * b; });
    grid.erase(last.begin(), last.end());
    grid.back() = half;

    Target target;
    target.edge = 2.0 * pi * edge / rate_hz;
    double greatest = 0.0;
    for (const double hz : grid) {
        target.w.push_back(2.0 * pi * hz / rate_hz);
        target.analytic.push_back(analytic_response(id, input, hz));
        target.cascade.push_back(response_of(sections, target.w.back()));
        greatest = std::max(greatest, std::abs(target.analytic.back()));
    }
    for (std::size_t i = 0; i < grid.size(); ++i) {
        target.tolerance.push_back(grid[i] <= accurate ? relative_tolerance * std::abs(target.analytic[i])
                                                       : absolute_tolerance * greatest);
        target.phase_counts.push_back(grid[i] <= edge * (1.0 + 1e-9));
    }
    return target;
}

std::vector<double> corner_poles(Shape shape)
{
    // Geometric spacing towards z = -1: the natural places for a function with a corner there.
    std::vector<double> rho;
    const int count = shape.poles;
    // Not further from z = -1 than taps can tell apart: what decays within the taps is theirs already, and two ways of
    // saying the same thing cancel each other with coefficients of 1e14.
    const double furthest = std::min(0.6, 5.0 / shape.taps); // not a limit: a distance in the z plane
    const double nearest = count > 8 ? 3e-4 : count > 6 ? 2e-3 : count > 4 ? 5e-3 : 2e-2; // not a limit: likewise
    for (int i = 0; i < count; ++i)
        rho.push_back(1.0 - furthest * std::pow(nearest / furthest, i / std::max(1.0, count - 1.0)));
    return rho;
}

struct Fit {
    Eigen::VectorXd coefficients;
    double worst = std::numeric_limits<double>::infinity(); // error / tolerance
};

// The fits of one shape: what does not depend on the latency is made once.
class Fitter {
public:
    Fitter(const Target& target, Shape shape)
        : target_(target), n_(static_cast<Eigen::Index>(target.w.size())), basis_(n_, shape.taps + shape.poles)
    {
        const std::vector<double> rho = corner_poles(shape);
        for (Eigen::Index i = 0; i < n_; ++i) {
            const auto at = static_cast<std::size_t>(i);
            const Complex delay = std::exp(Complex(0.0, -target.w[at]));
            Complex power = target.cascade[at];
            for (int k = 0; k < shape.taps; ++k, power *= delay) basis_(i, k) = power;
            for (int k = 0; k < shape.poles; ++k)
                basis_(i, shape.taps + k) = target.cascade[at] / (1.0 + rho[static_cast<std::size_t>(k)] * delay);
        }
    }

    // Weighted least squares, the weights raised where the error is great (Lawson's way towards the least greatest
    // error), the phase above the edge set free by taking over the one of the last fit. At most `rounds` rounds; stops
    // when the error is within 0.95.
    Fit fit(int latency, int rounds) const
    {
        Eigen::VectorXcd wanted(n_);
        for (Eigen::Index i = 0; i < n_; ++i) {
            const auto at = static_cast<std::size_t>(i);
            wanted(i) = target_.analytic[at] * std::exp(Complex(0.0, -target_.w[at] * latency));
        }
        // First guess of the free phase: led smoothly from the edge to the nearest real value at half the rate.
        const double at_half = std::arg(wanted(n_ - 1));
        const double to_real = std::round(at_half / pi) * pi - at_half;
        Eigen::VectorXcd sought = wanted;
        for (Eigen::Index i = 0; i < n_; ++i) {
            const double x =
                std::clamp((target_.w[static_cast<std::size_t>(i)] - target_.edge) / (pi - target_.edge), 0.0, 1.0);
            sought(i) *= std::exp(Complex(0.0, to_real * x * x * (3.0 - 2.0 * x)));
        }

        Eigen::VectorXd lawson = Eigen::VectorXd::Ones(n_);
        Eigen::MatrixXd rows(2 * n_, basis_.cols());
        Eigen::VectorXd right(2 * n_);
        Fit best;
        for (int round = 0; round < rounds && best.worst > 0.95; ++round) {
            for (Eigen::Index i = 0; i < n_; ++i) {
                const double weight = lawson(i) / target_.tolerance[static_cast<std::size_t>(i)];
                rows.row(i) = basis_.row(i).real() * weight;
                rows.row(n_ + i) = basis_.row(i).imag() * weight;
                right(i) = sought(i).real() * weight;
                right(n_ + i) = sought(i).imag() * weight;
            }
            const Eigen::VectorXd coefficients = rows.householderQr().solve(right);
            if (!coefficients.allFinite()) break;
            const Eigen::VectorXcd reached = basis_ * coefficients;
            Eigen::VectorXd error(n_);
            for (Eigen::Index i = 0; i < n_; ++i) {
                const auto at = static_cast<std::size_t>(i);
                if (target_.phase_counts[at]) {
                    error(i) = std::abs(reached(i) - wanted(i)) / target_.tolerance[at];
                } else {
                    error(i) = std::abs(std::abs(reached(i)) - std::abs(wanted(i))) / target_.tolerance[at];
                    sought(i) = std::polar(std::abs(wanted(i)), std::arg(reached(i)));
                }
            }
            const double worst = error.maxCoeff();
            if (worst < best.worst) best = {coefficients, worst};
            if (worst == 0.0 || (round == 12 && best.worst > 2.0)) break; // done, or too far off to be worth the rest
            lawson = lawson.array() * (error.array() / worst + 0.02).sqrt();
            lawson /= lawson.mean();
        }
        return best;
    }

private:
    const Target& target_;
    Eigen::Index n_;
    Eigen::MatrixXcd basis_;
};

DigitalWeighting designed(WeightingId id, Motion input, double rate_hz)
{
    DigitalWeighting result{.id = id,
                            .input = input,
                            .rate_hz = rate_hz,
                            .latency = 0,
                            .taps = {},
                            .poles = {},
                            .sections = mapped_sections(id, input, rate_hz),
                            .worst_error = 0.0};
    double best_worst = std::numeric_limits<double>::infinity();
    for (const Shape shape : shapes) {
        const Target target = target_for(id, input, rate_hz, result.sections, shape.taps);
        const Fitter fitter(target, shape);
        // A latency near half the taps serves long corrections; a short one may do with less.
        std::vector<int> latencies{shape.taps / 2, shape.taps / 2 - 1};
        if (shape.taps <= 16)
            for (const int d : {shape.taps / 2 - 2, shape.taps / 4, 0})
                if (std::ranges::find(latencies, d) == latencies.end()) latencies.push_back(d);
        int best_latency = 0;
        Fit best;
        for (const int latency : latencies) {
            Fit candidate = fitter.fit(latency, 3);
            const bool hopeless = candidate.worst > 100.0;
            if (candidate.worst < best.worst) {
                best = std::move(candidate);
                best_latency = latency;
            }
            if (hopeless) break;
        }
        // Refinement gains a factor of a few; hopeless shapes are not worth it.
        if (best.worst > 1.0 && best.worst < (shape.taps <= 16 ? 6.0 : shape.taps <= 64 ? 3.0 : 40.0)) {
            Fit refined = fitter.fit(best_latency, 40);
            if (refined.worst < best.worst) best = std::move(refined);
        }
        if (best.worst >= best_worst) continue;
        best_worst = best.worst;
        result.latency = best_latency;
        result.taps.assign(best.coefficients.data(), best.coefficients.data() + shape.taps);
        const std::vector<double> rho = corner_poles(shape);
        result.poles.clear();
        for (int k = 0; k < shape.poles; ++k)
            result.poles.push_back({rho[static_cast<std::size_t>(k)], best.coefficients(shape.taps + k)});
        result.worst_error = best.worst;
        if (best.worst <= 1.0) break;
    }
    return result;
}

} // namespace

Result<std::shared_ptr<const DigitalWeighting>> design(WeightingId id, Motion input, double rate_hz)
{
    BECALM_ASSERT(rate_hz > 0.0);
    if (rate_hz < least_rate_hz(id) * (1.0 - 1e-6))
        return fail({.what = fmt::format("a rate of {:.6g} Hz is too low for the weighting {}", rate_hz, name_of(id)),
                     .remedy = fmt::format("measure with at least {:.6g} Hz", least_rate_hz(id))});

    static std::mutex mutex;
    static std::map<std::tuple<WeightingId, Motion, double>, std::shared_ptr<const DigitalWeighting>> made;
    const std::lock_guard lock(mutex);
    auto& entry = made[{id, input, rate_hz}];
    if (!entry) {
        if (id == WeightingId::none)
            entry = std::make_shared<const DigitalWeighting>(DigitalWeighting{.id = id,
                                                                              .input = input,
                                                                              .rate_hz = rate_hz,
                                                                              .latency = 0,
                                                                              .taps = {1.0},
                                                                              .poles = {},
                                                                              .sections = {},
                                                                              .worst_error = 0.0});
        else
            entry = std::make_shared<const DigitalWeighting>(designed(id, input, rate_hz));
    }
    return entry;
}

double memory_s(const DigitalWeighting& weighting)
{
    double longest = memory_s(weighting.id);
    for (const RealPole& pole : weighting.poles)
        longest = std::max(longest, 28.0 / (-std::log(pole.rho) * weighting.rate_hz));
    return longest;
}

std::complex<double> response(const DigitalWeighting& weighting, double hz)
{
    const double w = 2.0 * pi * hz / weighting.rate_hz;
    Complex correction = 0.0;
    for (std::size_t k = 0; k < weighting.taps.size(); ++k)
        correction += weighting.taps[k] * std::exp(Complex(0.0, -w * static_cast<double>(k)));
    for (const RealPole& pole : weighting.poles)
        correction += pole.residue / (1.0 + pole.rho * std::exp(Complex(0.0, -w)));
    return correction * response_of(weighting.sections, w) * std::exp(Complex(0.0, w * weighting.latency));
}

} // namespace becalm::filters
