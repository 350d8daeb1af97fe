#include "filters/weighting.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "src/base/problem.h"

namespace becalm::filters {
namespace {

using std::numbers::pi;
using Complex = std::complex<double>;

constexpr double inf = infinite_hz;
constexpr double butterworth = std::numbers::sqrt2 / 2.0; // Q1 and Q2 of every weighting but Wg

constexpr double f0_of_KB = 5.6;             // Hz
const double f2_of_Wh = std::pow(10.0, 3.1); // not a limit: Hz

// Columns: f1 Q1 f2 Q2 | f3 f4 Q4 | f5 Q5 f6 Q6 | K | nominal range | integrations.
// Wk: confirmed in gost-r-59701-1-2022 (figure C.1). Wh and Wm: exact corner frequencies; confirmed by the printed
// tables iso5349-1-2001 Table A.2 and iso2631-2-2003 Table A.1 (tests/reference). Wb, Wc, Wd, We, Wf, Wj: from memory
// of iso8041-1-2017 Table 3, agreeing with its reference factors. Wg: bs6841-1987, from memory, medium confidence, with
// the quality factors rounded to 0.71 as there: check the publication. KB and velocity: din45669-1, its 5.6 Hz, range 1
// to 80 Hz and corner frequencies of the band limits (those of Wm) from memory. flat: the band limits that
// iso8041-1-2017 gives the whole-body weightings.
const std::array<WeightingParameters, 13> table{{
    /* Wb */ {0.4, butterworth, 100.0, butterworth, 16.0, 16.0, 0.55, 2.5, 0.90, // not a limit: Q5
              4.0, 0.95, 1.024, 0.5, 80.0},
    /* Wc */ {0.4, butterworth, 100.0, butterworth, 8.0, 8.0, 0.63, inf, 1.0, inf, 1.0, 1.0, 0.5, 80.0},
    /* Wd */ {0.4, butterworth, 100.0, butterworth, 2.0, 2.0, 0.63, inf, 1.0, inf, 1.0, 1.0, 0.5, 80.0},
    /* We */ {0.4, butterworth, 100.0, butterworth, 1.0, 1.0, 0.63, inf, 1.0, inf, 1.0, 1.0, 0.5, 80.0},
    /* Wf */ {0.08, butterworth, 0.63, butterworth, inf, 0.25, 0.86, 0.0625, 0.80, 0.10, 0.80, 1.0, 0.1, 0.5},
    /* Wg */ {0.8, 0.71, 100.0, 0.71, 1.5, 5.3, 0.68, inf, 1.0, inf, 1.0, 0.42, 1.0, 80.0}, // not a limit: 1.5 Hz
    /* Wh */
    {std::pow(10.0, 0.8), butterworth, f2_of_Wh, butterworth, 100.0 / (2.0 * pi), 100.0 / (2.0 * pi), 0.64, inf, 1.0,
     inf, 1.0, 1.0, 8.0, 1000.0},
    /* Wj */ {0.4, butterworth, 100.0, butterworth, inf, inf, 1.0, 3.75, 0.91, 5.32, 0.91, 1.0, 0.5, 80.0},
    /* Wk */ {0.4, butterworth, 100.0, butterworth, 12.5, 12.5, 0.63, 2.37, 0.91, 3.35, 0.91, 1.0, 0.5, 80.0},
    /* Wm */
    {std::pow(10.0, -0.1), butterworth, 100.0, butterworth, 1.0 / (0.028 * 2.0 * pi), 1.0 / (0.028 * 2.0 * pi), 0.5,
     inf, 1.0, inf, 1.0, 1.0, 1.0, 80.0},
    /* KB */
    {std::pow(10.0, -0.1), butterworth, 100.0, butterworth, f0_of_KB, f0_of_KB, 0.5, inf, 1.0, inf, 1.0,
     1.0 / (2.0 * pi * f0_of_KB), 1.0, 80.0},
    /* velocity */
    {std::pow(10.0, -0.1), butterworth, 100.0, butterworth, inf, inf, 1.0, inf, 1.0, inf, 1.0, 1.0, 1.0, 80.0, 1},
    /* flat */ {0.4, butterworth, 100.0, butterworth, inf, inf, 1.0, inf, 1.0, inf, 1.0, 1.0, 0.5, 80.0},
}};

double rad(double hz) { return 2.0 * pi * hz; }

} // namespace

const WeightingParameters& parameters_of(WeightingId id)
{
    BECALM_ASSERT(id != WeightingId::none);
    return table[static_cast<std::size_t>(id) - 1];
}

std::complex<double> analytic_response(WeightingId id, Motion input, double hz)
{
    if (id == WeightingId::none) return 1.0;
    if (hz <= 0.0) return 0.0; // the high-pass has two zeros at s = 0, and one integration at most takes one away
    const WeightingParameters& p = parameters_of(id);
    const Complex s(0.0, rad(hz));
    const auto quadratic = [&](double f, double Q) {
        const Complex u = s / rad(f);
        return 1.0 + u / Q + u * u;
    };
    const Complex high = 1.0 / (1.0 + rad(p.f1) / (p.Q1 * s) + (rad(p.f1) / s) * (rad(p.f1) / s));
    const Complex low = 1.0 / quadratic(p.f2, p.Q2);
    Complex transition = 1.0;
    if (p.f4 < inf) transition = (p.f3 < inf ? 1.0 + s / rad(p.f3) : Complex(1.0)) / quadratic(p.f4, p.Q4);
    Complex step = p.K;
    if (p.f6 < inf) step *= quadratic(p.f5, p.Q5) / quadratic(p.f6, p.Q6) * (p.f5 / p.f6) * (p.f5 / p.f6);
    Complex response = high * low * transition * step;
    for (int n = 0; n < derivative_order(input); ++n) response *= s;
    for (int n = 0; n < p.integrations; ++n) response /= s;
    return response;
}

double accurate_to_hz(WeightingId id)
{
    switch (id) {
    case WeightingId::none: return 0.0;
    case WeightingId::Wf: return 0.7; // not a limit: Hz
    case WeightingId::Wh: return 1400.0;
    default: return 112.0;
    }
}

double least_rate_hz(WeightingId id) { return accurate_to_hz(id) * 2.0 * 8.0 / 7.0; }

double run_in_s(WeightingId id) { return id == WeightingId::none ? 0.0 : 2.0 / parameters_of(id).f1; }

double memory_s(WeightingId id)
{
    if (id == WeightingId::none) return 0.0;
    const WeightingParameters& p = parameters_of(id);
    // A pair of poles of quality Q <= 1 decays as exp(-w t / (2 Q)).
    double slowest = rad(p.f1) / (2.0 * p.Q1);
    if (p.f4 < inf) slowest = std::min(slowest, rad(p.f4) / (2.0 * p.Q4));
    if (p.f6 < inf) slowest = std::min(slowest, rad(p.f6) / (2.0 * p.Q6));
    return 28.0 / slowest;
}

} // namespace becalm::filters
