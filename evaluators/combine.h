// From values per axis to the values that are compared: the named rules that a criterion chooses from.
//
//   each      every axis apart, factor times value
//   highest   the axis with the greatest factor times value
//   vertical  z only
//   total     root of the sum of squares of factor times value over the axes [iso2631-1-1997, 6.5]
//   sum_of_totals  a total for each group of terms, added up [en12299-2009, from memory]
//   ratio     total of group 1 over total of group 2, per cent (SEAT value) [iso10326-1-2016]
#pragma once

#include <span>
#include <string>
#include <vector>

#include "src/model/assessment.h"

namespace becalm::evaluators {

struct Combined {
    double value = 0.0;
    std::string axis = {};              // "x" ... or "total"
    std::string weighting = {};         // of that axis; all of them joined with "+" for a total
    std::vector<std::size_t> from = {}; // terms that the value rests on
    std::vector<double> shares = {};    // of each of them: v dvalue/dv, what a relative change of it adds to the value
};

// `terms` all have a value. Empty where the rule finds nothing to compare (vertical without z).
std::vector<Combined> combine(AxisRule rule, std::span<const VerdictTerm> terms);

} // namespace becalm::evaluators
