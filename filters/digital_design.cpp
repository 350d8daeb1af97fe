#include "filters/digital_design.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <mutex>
#include <numbers>
#include <tuple>

#include <Eigen/Dense>
#include <fmt/format.h>

#include "filters/fft.h"
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
    int all_pass; // order, even
};
constexpr std::array<Shape, 16> shapes{{{4, 0, 0},
                                        {8, 0, 0},
                                        {8, 4, 0},
                                        {4, 4, 2},
                                        {4, 6, 2},
                                        {4, 6, 4},
                                        {4, 8, 4},
                                        {4, 8, 6},
                                        {4, 10, 6},
                                        {4, 10, 8},
                                        {4, 12, 8},
                                        {4, 12, 10},
                                        {4, 12, 14},
                                        {4, 12, 20},
                                        {4, 14, 20},
                                        {8, 16, 24}}};

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

// Of the poles.
double greatest_radius(const Section& section)
{
    const double discriminant = section.a1 * section.a1 - 4.0 * section.a2;
    if (discriminant <= 0.0) return std::sqrt(section.a2);
    return (std::abs(section.a1) + std::sqrt(discriminant)) / 2.0;
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

// What the running filter has to do, and what it does before it is corrected.
struct Target {
    std::vector<double> w;         // rad/sample
    std::vector<Complex> analytic; // wanted response
    std::vector<Complex> cascade;  // of the mapped sections alone
    std::vector<double> tolerance;
    std::vector<bool> phase_counts; // false: magnitude only
    double edge = 0.0;              // rad/sample where phase_counts ends
};

Target target_for(WeightingId id, Motion input, double rate_hz, const std::vector<Section>& sections)
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
    geometric(accurate * (1.0 + 1e-6), std::min(accurate * 1.02, half), 5); // where the tolerance jumps
    constexpr int uniform = 240;
    for (int i = 1; i <= uniform; ++i) grid.push_back(half * i / uniform);
    for (int i = 0; i < 120; ++i)
        grid.push_back(half - (half - edge) * std::pow(1e-5, i / 119.0)); // the corner at half the rate
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

// Phase of the minimum-phase filter whose magnitude is what the cascade lacks, |analytic / cascade|, at the frequencies
// of `target`: the Hilbert transform of its logarithm, by way of the cepstrum.
std::vector<double> minimum_phase(WeightingId id, Motion input, double rate_hz, const std::vector<Section>& sections,
                                  const Target& target)
{
    constexpr std::size_t half = 8192; // steps of pi / half
    RealFft fft(2 * half);
    const double step = pi / static_cast<double>(half);
    for (std::size_t k = 0; k <= half; ++k) {
        const double w = step * std::max(static_cast<double>(k), 1e-3); // both vanish at 0, their ratio does not
        const double lacking =
            std::abs(analytic_response(id, input, w * rate_hz / (2.0 * pi)) / response_of(sections, w));
        fft.input()[k] = std::log(lacking);
        if (k > 0) fft.input()[2 * half - k] = fft.input()[k];
    }
    std::vector<double> cepstrum;
    for (const Complex& value : fft.run()) cepstrum.push_back(value.real() / static_cast<double>(2 * half));
    std::ranges::fill(fft.input(), 0.0);
    for (std::size_t k = 1; k < half; ++k) fft.input()[k] = 2.0 * cepstrum[k];
    const auto folded = fft.run();
    std::vector<double> phase;
    for (const double w : target.w) {
        const double place = std::min(w / step, static_cast<double>(half));
        const auto below = std::min(static_cast<std::size_t>(place), half - 1);
        phase.push_back(std::lerp(folded[below].imag(), folded[below + 1].imag(), place - static_cast<double>(below)));
    }
    return phase;
}

// The chain of all-pass sections z^-N D(1/z) / D(z) that gives the phase which the analytic response has up to the edge
// beyond that of the minimum-phase filter, late by `latency` samples. Above the edge its phase is free, so a short one
// does.
struct AllPass {
    int latency = 0;
    double sign = 1.0;                  // of the rest of the correction
    std::vector<Section> sections = {}; // empty: none was found
};

class AllPassFitter {
public:
    AllPassFitter(const Target& target, const std::vector<double>& minimum_phase)
    {
        double last = 0.0;
        for (std::size_t i = 0; i < target.w.size() && target.phase_counts[i]; ++i) {
            double phase = std::arg(target.analytic[i] / target.cascade[i]) - minimum_phase[i];
            if (i == 0) {
                sign_ = std::cos(phase) < 0.0 ? -1.0 : 1.0;
                last = sign_ < 0.0 ? pi : 0.0;
            }
            phase -= 2.0 * pi * std::round((phase - last) / (2.0 * pi));
            last = phase;
            w_.push_back(target.w[i]);
            phase_.push_back(phase - (sign_ < 0.0 ? pi : 0.0));
            weight_.push_back(std::abs(target.analytic[i]) / target.tolerance[i]);
        }
    }

    // Of all latencies near the order, the one that comes closest.
    AllPass fit(int order) const
    {
        AllPass best;
        double least = std::numeric_limits<double>::infinity();
        for (int latency = std::max(0, order - 3); latency <= order + 1; ++latency) {
            for (const auto& [denominator, worst] : denominators(order, latency)) {
                if (worst >= least) continue;
                if (auto sections = sections_of(denominator); !sections.empty()) {
                    least = worst;
                    best.latency = latency;
                    best.sign = sign_;
                    for (const Section& section : sections) best.sign *= section.a2 < 0.0 ? -1.0 : 1.0;
                    best.sections = std::move(sections);
                }
            }
        }
        return best;
    }

private:
    // d_1 ... d_N of D(z) = 1 + sum d_k z^-k, and the greatest error of the phase over its tolerance. The phase of the
    // chain is -N w - 2 arg D, which is linear in D where it is written as Im(D exp(-j arg D)) = 0; a few rounds bring
    // the weights near those of the least greatest error.
    std::vector<std::pair<Eigen::VectorXd, double>> denominators(int order, int latency) const
    {
        const auto n = static_cast<Eigen::Index>(w_.size());
        Eigen::MatrixXd rows(n, order);
        Eigen::VectorXd right(n), size = Eigen::VectorXd::Ones(n), lawson = Eigen::VectorXd::Ones(n);
        std::vector<std::pair<Eigen::VectorXd, double>> rounds;
        for (int round = 0; round < 3; ++round) {
            for (Eigen::Index i = 0; i < n; ++i) {
                const auto at = static_cast<std::size_t>(i);
                const double weight = lawson(i) * weight_[at] / size(i);
                const double wanted = wanted_argument(at, order, latency);
                for (int k = 1; k <= order; ++k) rows(i, k - 1) = -weight * std::sin(k * w_[at] + wanted);
                right(i) = weight * std::sin(wanted);
            }
            const Eigen::VectorXd d = rows.householderQr().solve(right);
            if (!d.allFinite()) break;
            Eigen::VectorXd error(n);
            for (Eigen::Index i = 0; i < n; ++i) {
                const auto at = static_cast<std::size_t>(i);
                Complex D = 1.0;
                for (int k = 1; k <= order; ++k) D += d(k - 1) * std::polar(1.0, -k * w_[at]);
                size(i) = std::abs(D);
                const double apart = 2.0 * (std::arg(D) - wanted_argument(at, order, latency));
                error(i) = std::abs(2.0 * std::sin(apart / 2.0)) * weight_[at];
            }
            rounds.emplace_back(d, error.maxCoeff());
            if (error.maxCoeff() == 0.0) break;
            lawson = lawson.array() * (error.array() / error.maxCoeff() + 0.02).sqrt();
        }
        return rounds;
    }

    // arg D(exp(j w)) that gives the phase exactly.
    double wanted_argument(std::size_t i, int order, int latency) const
    {
        return -(phase_[i] + (order - latency) * w_[i]) / 2.0;
    }

    // The zeros of D in pairs; empty where one does not lie well inside the unit circle.
    static std::vector<Section> sections_of(const Eigen::VectorXd& d)
    {
        const Eigen::Index order = d.size();
        Eigen::MatrixXd companion = Eigen::MatrixXd::Zero(order, order);
        companion.row(0) = -d.transpose();
        companion.diagonal(-1).setOnes();
        const Eigen::EigenSolver<Eigen::MatrixXd> solver(companion, false);
        if (solver.info() != Eigen::Success) return {};
        std::vector<double> real;
        std::vector<Section> sections;
        const auto add = [&](double a1, double a2) { sections.push_back({a1 / a2, 1.0 / a2, a1, a2}); };
        for (const Complex& root : solver.eigenvalues()) {
            constexpr double least = 1e-2, greatest = 0.999; // not a limit: distances in the z plane
            if (std::abs(root) < least || std::abs(root) > greatest) return {};
            if (root.imag() == 0.0) real.push_back(root.real());
            if (root.imag() > 0.0) add(-2.0 * root.real(), std::norm(root));
        }
        std::ranges::sort(real); // their number is even, as the order is
        for (std::size_t i = 0; i + 1 < real.size(); i += 2) add(-(real[i] + real[i + 1]), real[i] * real[i + 1]);
        return sections;
    }

    std::vector<double> w_, phase_; // up to the edge: wanted phase, without the latency
    std::vector<double> weight_;    // 1 / tolerance in radians
    double sign_ = 1.0;
};

std::vector<double> corner_poles(Shape shape)
{
    // Geometric spacing towards z = -1: the natural places for a function with a corner there. Not further from z = -1
    // than taps can tell apart: what decays within the taps is theirs already, and two ways of saying the same thing
    // cancel each other with huge coefficients.
    const double furthest = std::min(0.6, 5.0 / shape.taps); // not a limit: a distance in the z plane
    // The nearest of 4, 6, 8, 10, 12 and more.
    constexpr std::array nearest_of{2e-2, 5e-3, 2e-3, 6e-4, 3e-4}; // not a limit: likewise
    const double nearest = nearest_of[static_cast<std::size_t>(std::clamp(shape.poles / 2 - 2, 0, 4))];
    std::vector<double> rho;
    for (int i = 0; i < shape.poles; ++i)
        rho.push_back(1.0 - furthest * std::pow(nearest / furthest, i / std::max(1.0, shape.poles - 1.0)));
    return rho;
}

struct Fit {
    Eigen::VectorXd coefficients;
    double worst = std::numeric_limits<double>::infinity(); // error / tolerance
};

// The fits of one shape: what does not depend on the latency is made once.
class Fitter {
public:
    // `cascade`: of the mapped sections and the all-pass ones.
    Fitter(const Target& target, const std::vector<Complex>& cascade, Shape shape)
        : target_(target), n_(static_cast<Eigen::Index>(target.w.size())), basis_(n_, shape.taps + shape.poles)
    {
        const std::vector<double> rho = corner_poles(shape);
        for (Eigen::Index i = 0; i < n_; ++i) {
            const auto at = static_cast<std::size_t>(i);
            const Complex delay = std::exp(Complex(0.0, -target.w[at]));
            Complex power = cascade[at];
            for (int k = 0; k < shape.taps; ++k, power *= delay) basis_(i, k) = power;
            for (int k = 0; k < shape.poles; ++k)
                basis_(i, shape.taps + k) = cascade[at] / (1.0 + rho[static_cast<std::size_t>(k)] * delay);
        }
    }

    // Weighted least squares, the weights raised where the error is great (Lawson's way towards the least greatest
    // error). Above the edge the phase is free: `free_phase` is the first guess, and each round takes over that of the
    // last fit. At most `rounds` rounds; stops when the error is within 0.95.
    Fit fit(int latency, const std::vector<double>& free_phase, int rounds) const
    {
        Eigen::VectorXcd wanted(n_);
        Eigen::VectorXcd sought(n_);
        for (Eigen::Index i = 0; i < n_; ++i) {
            const auto at = static_cast<std::size_t>(i);
            wanted(i) = target_.analytic[at] * std::exp(Complex(0.0, -target_.w[at] * latency));
            sought(i) = target_.phase_counts[at] ? wanted(i) : std::polar(std::abs(wanted(i)), free_phase[at]);
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
            if (worst == 0.0 || best.worst > 6.0) break; // done, or too far off to be worth the rest
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

// Phase led smoothly from that of the wanted response at the edge to the nearest real value at half the rate.
std::vector<double> led_to_real(const Target& target, int latency)
{
    const double at_half = std::arg(target.analytic.back()) - target.w.back() * latency;
    const double to_real = std::round(at_half / pi) * pi - at_half;
    std::vector<double> phase;
    for (std::size_t i = 0; i < target.w.size(); ++i) {
        const double x = std::clamp((target.w[i] - target.edge) / (pi - target.edge), 0.0, 1.0);
        phase.push_back(std::arg(target.analytic[i]) - target.w[i] * latency + to_real * x * x * (3.0 - 2.0 * x));
    }
    return phase;
}

class Designer {
public:
    Designer(WeightingId id, Motion input, double rate_hz)
        : mapped_(mapped_sections(id, input, rate_hz)), target_(target_for(id, input, rate_hz, mapped_))
    {
        result_.id = id;
        result_.input = input;
        result_.rate_hz = rate_hz;
        result_.worst_error = std::numeric_limits<double>::infinity();
    }

    DigitalWeighting design()
    {
        for (const Shape shape : shapes) {
            if (shape.all_pass == 0)
                for (int latency = 0; latency <= shape.taps / 2; ++latency) try_taps(shape, latency);
            else
                try_all_pass(shape);
            if (result_.worst_error <= 1.0) break;
        }
        return std::move(result_);
    }

private:
    void try_taps(Shape shape, int latency)
    {
        const Fitter fitter(target_, target_.cascade, shape);
        keep(shape, latency, {}, fitter.fit(latency, led_to_real(target_, latency), rounds));
    }

    void try_all_pass(Shape shape)
    {
        if (minimum_phase_.empty())
            minimum_phase_ = minimum_phase(result_.id, result_.input, result_.rate_hz, mapped_, target_);
        if (shape.all_pass != order_) {
            all_pass_ = AllPassFitter(target_, minimum_phase_).fit(shape.all_pass);
            order_ = shape.all_pass;
        }
        if (all_pass_.sections.empty()) return;
        std::vector<Complex> cascade = target_.cascade;
        std::vector<double> free_phase;
        for (std::size_t i = 0; i < cascade.size(); ++i) {
            cascade[i] *= response_of(all_pass_.sections, target_.w[i]);
            free_phase.push_back(std::arg(all_pass_.sign * cascade[i]) + minimum_phase_[i]);
        }
        const Fitter fitter(target_, cascade, shape);
        keep(shape, all_pass_.latency, all_pass_.sections, fitter.fit(all_pass_.latency, free_phase, rounds));
    }

    void keep(Shape shape, int latency, const std::vector<Section>& all_pass, const Fit& fit)
    {
        if (fit.worst >= result_.worst_error) return;
        result_.worst_error = fit.worst;
        result_.latency = latency;
        result_.taps.assign(fit.coefficients.data(), fit.coefficients.data() + shape.taps);
        const std::vector<double> rho = corner_poles(shape);
        result_.poles.clear();
        for (int k = 0; k < shape.poles; ++k)
            result_.poles.push_back({rho[static_cast<std::size_t>(k)], fit.coefficients(shape.taps + k)});
        result_.mapped = mapped_.size();
        result_.sections = mapped_;
        result_.sections.insert(result_.sections.end(), all_pass.begin(), all_pass.end());
    }

    static constexpr int rounds = 20;
    std::vector<Section> mapped_;
    Target target_;
    std::vector<double> minimum_phase_; // made when it is asked for
    AllPass all_pass_;                  // the last one made,
    int order_ = 0;                     // of this order
    DigitalWeighting result_;
};

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
            entry = std::make_shared<const DigitalWeighting>(Designer(id, input, rate_hz).design());
    }
    return entry;
}

double memory_s(const DigitalWeighting& weighting)
{
    double longest = memory_s(weighting.id);
    const auto hold = [&](double radius) {
        longest = std::max(longest, 28.0 / (-std::log(radius) * weighting.rate_hz));
    };
    for (const RealPole& pole : weighting.poles) hold(pole.rho);
    for (std::size_t k = weighting.mapped; k < weighting.sections.size(); ++k)
        hold(greatest_radius(weighting.sections[k]));
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
