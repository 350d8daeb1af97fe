// EN 12299:2009: ride comfort for passengers, from weighted r.m.s. values over blocks of 5 s. From memory.
//
//   sixty 5 s blocks make a test section; a_XX is the XXth percentile of the blocks' r.m.s. values over all sections
//   N_MV = 6 sqrt(a_XP95^2 + a_YP95^2 + a_ZP95^2)          and its kin: sums of totals over axes and positions, which
//   the criterion states
//   C_Cx, C_Cy, C_Cz: the blocks' r.m.s. values as a series; each block has its band, so the greatest is in none worse
// The publication's rule for percentiles was not read; here it is linear between order statistics (type 7 of Hyndman
// and Fan, The American Statistician 50 (1996) 361-365) unless the criterion asks for classes, and the verdict says so.
#pragma once

#include <vector>

#include "evaluators/quantity.h"

namespace becalm::evaluators::en12299 {

// Percentile of the r.m.s. values of consecutive whole blocks in each unbroken selected run, m/s2.
// Parameters: block_s (5, whole seconds), percentile (95; 0 to 100), percentile_rule (0: linear between order
// statistics, 1: classes), class_width (0.01 m/s2, our choice).
QuantityResult block_rms(const QuantityArguments& arguments);

// The values that block_rms takes its percentile of.
ValueSeries blocks(const QuantityArguments& arguments);

// Of every whole block; a run's last, shorter one is left out. block_s >= 1.
std::vector<double> block_values(const SelectedRows& rows, int block_s);

// Linear between order statistics: position (n - 1) p / 100 counted from 0. values not empty, 0 <= percent <= 100.
double percentile(std::vector<double> values, double percent);

// From the cumulative frequency of classes [k width, (k + 1) width): where it reaches `percent` of all, linear inside a
// class. values not empty and >= 0, 0 <= percent <= 100, width > 0.
double class_percentile(const std::vector<double>& values, double percent, double width);

} // namespace becalm::evaluators::en12299
