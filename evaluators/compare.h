// Two judgements beside each other: what changes from the first to the second, and how surely.
//
// Partners have the same space (or person), position and criterion, and the same axis where a criterion has a verdict
// for each; where whole surveys are compared, the same condition too. A pair is refused where the editions, uses,
// quantities, units or weightings differ: such values are of different things.
//
//   change          100 (b / a - 1) %, 20 lg(b / a) dB; of levels in dB their difference
//   uncertainty     expanded (k = 2): the relative uncertainties of both in quadrature. An assessment states that of
//                   calibration, so where one and the same sensor measured the axis on both sides, by the same
//                   calibration, it is a common factor of both values and cancels.
//   one-third octave   20 lg of the ratio of the weighted r.m.s. values (evaluators/explain.h), where both have spectra
//   over all pairs  mean of the changes in dB (that is of the logarithms), with its 95 % confidence interval
//                   mean -+ t s / sqrt(n), t of Student's distribution with n - 1 degrees (filters/student_t.h); median
//                   and counts of signs, which no single pair can sway
// (computed from the definitions) The interval takes the pairs as independent; those of several criteria at one place
// are not, which is why each criterion has its own.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "src/model/comparison.h"
#include "src/model/explanation.h"
#include "src/model/survey.h"

namespace becalm::evaluators {

struct VerdictPartners {
    const Verdict* first = nullptr;  // null: there is none of this place and criterion
    const Verdict* second = nullptr; // likewise; not both
};

enum class PartnersBy { place, place_and_condition };

// In the order in which places and criteria appear, those of the first before those of the second alone.
std::vector<VerdictPartners> partners_of(std::span<const Verdict* const> first, std::span<const Verdict* const> second,
                                         PartnersBy by);

struct VerdictChange {
    std::optional<double> percent = {}, db = {}; // as of ComparedPair
    std::optional<int> bands = {};
};

VerdictChange change_between(const Verdict& first, const Verdict& second);

// What a side brings. Explanations and survey may be missing; then there are no spectra, and no sensor is known.
struct SideToCompare {
    ComparedSide about = {};
    std::vector<Verdict> verdicts = {};
    std::vector<Explanation> explanations = {}; // with spectra; of verdicts of the same place, criterion, axis
    const Survey* survey = nullptr;
};

// Where `about.condition` is given, only the verdicts of it are looked at. Predicted values state as much as they
// state: the rest is taken from the one verdict of the other side that they fit, and they are classed by its bands.
ComparisonReport compare(const SideToCompare& first, const SideToCompare& second);

} // namespace becalm::evaluators
