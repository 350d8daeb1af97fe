// From a tally (integrals and maxima over a selection) to the quantities of the standards.
//
//   weighted r.m.s.   a_w   = sqrt(1/T integral a_w^2 dt)                 m/s2       [iso2631-1-1997, 6.1 eq. 1]
//   crest factor      peak / a_w                                          1          [iso2631-1-1997, 6.2.1]
//   MTVV              greatest running r.m.s., tau = 1 s                  m/s2       [iso2631-1-1997, 6.3.1]
//   VDV               (integral a_w^4 dt)^(1/4)                           m/s^1.75   [iso2631-1-1997, 6.3.2;
//   bs6472-1-2008] eVDV              1.4 a_w T^(1/4), crest factors below 6 only         m/s^1.75   [bs6472-1-2008]
//   MSDV              sqrt(integral a_w^2 dt)                             m/s^1.5    [iso2631-1-1997, D.1.2]
//   total value       a_v = sqrt(sum k_i^2 a_wi^2)                        m/s2       [iso2631-1-1997, 6.5]
//
// A tally without samples has no value: the functions return 0 for it, callers refuse it before.
#pragma once

#include <span>

#include "src/model/ledger.h"

namespace becalm::filters {

double weighted_rms(const Tally& tally);
double crest_factor(const Tally& tally); // 0 where the r.m.s. is 0
double vdv(const Tally& tally);
double evdv(const Tally& tally);
double msdv(const Tally& tally);

struct WeightedAxis {
    double value = 0.0;  // per axis
    double factor = 1.0; // k
};

// Root of the sum of the squares of factor times value.
double total_value(std::span<const WeightedAxis> axes);

// Dose of the same motion lasting `exposed_s` where `measured_s` was measured: vdv (exposed/measured)^(1/4)
// [bs6472-1-2008, 3.5]; measured_s > 0.
double vdv_over(double vdv_value, double measured_s, double exposed_s);

// Energy-equivalent value over a reference duration: a_w sqrt(exposed/reference) [directive-2002-44-ec, annex B.1].
double equivalent_over(double rms, double exposed_s, double reference_s);

} // namespace becalm::filters
