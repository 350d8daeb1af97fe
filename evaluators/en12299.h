// EN 12299:2009: ride comfort for passengers, from weighted r.m.s. values over blocks of 5 s. From memory.
//
//   sixty 5 s blocks make a test section; a_XX is the XXth percentile of the blocks' r.m.s. values over all sections
//   N_MV = 6 sqrt(a_XP95^2 + a_YP95^2 + a_ZP95^2)          and its kin: sums of totals over axes and positions, which
//   the criterion states
// The publication's rule for percentiles was not read; here it is linear between order statistics (type 7 of Hyndman
// and Fan, The American Statistician 50 (1996) 361-365), and the verdict says so.
#pragma once

#include <vector>

#include "evaluators/quantity.h"

namespace becalm::evaluators::en12299 {

// Percentile of the r.m.s. values of consecutive whole blocks in each unbroken selected run, m/s2.
// Parameters: block_s (5, whole seconds), percentile (95; 0 to 100).
QuantityResult block_rms(const QuantityArguments& arguments);

// Of every whole block; a run's last, shorter one is left out. block_s >= 1.
std::vector<double> block_values(const SelectedRows& rows, int block_s);

// Linear between order statistics: position (n - 1) p / 100 counted from 0. values not empty, 0 <= percent <= 100.
double percentile(std::vector<double> values, double percent);

} // namespace becalm::evaluators::en12299
