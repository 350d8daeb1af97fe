// How the values of a place follow what its conditions state, such as the speed.
//
// A power law, value = factor * at^exponent: a straight line through the logarithms, fitted by least squares. With n
// points, x = lg at, y = lg value (of a level in dB: its twentieth part), s the standard deviation about the line with
// n - 2 degrees, t of Student's distribution (filters/student_t.h) and S the sum of (x - mean)^2:
//   exponent          95 % confidence interval -+ t s / sqrt(S)
//   expected at x     95 % prediction interval of a single further value -+ t s sqrt(1 + 1 / n + (x - mean)^2 / S)
// (computed from the definition) At least three points are needed. The line is a description of what was measured:
// resonances that lie between two conditions are not in it, and that a value was expected is no verdict.
#pragma once

#include <optional>
#include <string>

#include "src/base/problem.h"
#include "src/model/assessment.h"
#include "src/model/survey.h"
#include "src/model/trend.h"

namespace becalm::evaluators {

// Of the verdicts that are judged and whose condition states `over`. Problem: no condition states it, or `at` <= 0.
Result<TrendReport> trends_over(const Survey& survey, const Assessment& assessment, const std::string& over,
                                std::optional<double> at = {});

} // namespace becalm::evaluators
