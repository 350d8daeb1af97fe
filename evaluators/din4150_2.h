// DIN 4150-2:1999: vibration in buildings, effects on persons in buildings [din4150-2-1999]. Read in secondary texts;
// the factor of rest times, zeros that count in N and the order of the decision from memory. The Dutch guideline SBR-B
// forms V_max and V_per alike, and takes every comparison strictly.
//
//   KB_F(t)    running r.m.s. of the KB-weighted velocity in mm/s, exponential, tau = 0.125 s; a number without a unit
//   KB_Fmax    its greatest value
//   KB_FTi     its greatest value in the clock interval (Takt) i of 30 s
//   KB_FTm  =  sqrt(1/N sum KB_FTi^2), where a KB_FTi of 0.1 or less counts as 0, and counts in N
//   KB_FTr  =  sqrt(1/T_r sum_j r_j T_e,j KB_FTm,j^2), j the conditions of the period that last T_e,j each, r_j = 1, or
//   2
//              in times of rest; T_r = 16 h by day, 8 h by night
//
// The axis with the greatest value governs (axes = "highest").
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "evaluators/quantity.h"
#include "src/model/criterion.h"

namespace becalm::evaluators::din4150_2 {

// Which KB_FTi count as 0. Secondary texts disagree: up to and with 0.1, or below 0.1; it matters at 0.1 alone.
struct Zeroing {
    double value = 0.1; // not a limit: below perception; the criterion's parameters may change it
    bool inclusive = true;

    double of(double kb_fti) const { return kb_fti < value || (inclusive && kb_fti == value) ? 0.0 : kb_fti; }
};

// KB_FTi of one recording, before zeroing, in order of time. The intervals are counted from the recording's start; one
// of which only a part is selected (the run-in, an exclusion, the recording's end) counts with the seconds that are, if
// there is any. takt_s > 0, whole seconds.
std::vector<double> takt_maxima(const SelectedRows& rows, int takt_s = 30);

// KB_FTm of the KB_FTi of a condition, all recordings together; not empty.
double kb_ftm_of(std::span<const double> takt_maxima, Zeroing zeroing = {});

// What one condition adds to KB_FTr: KB_FTm sqrt(r T_e / T_r). reference_s (T_r) > 0.
double kb_ftr_share(double kb_ftm, double exposed_s, double reference_s, double rest_factor = 1.0);

// KB_FTr of the period: root of the sum of the squares of its conditions' shares.
double kb_ftr_of(std::span<const double> shares);

// How the decision came about.
enum class Outcome {
    met_by_greatest,     // KB_Fmax <= A_u
    met_as_rare,         // A_u < KB_Fmax <= A_o, rare short events
    met_by_average,      // A_u < KB_Fmax <= A_o, KB_FTr <= A_r
    not_met_by_greatest, // KB_Fmax > A_o
    not_met_by_average,  // A_u < KB_Fmax <= A_o, KB_FTr > A_r, or there is no A_r
    open                 // A_u < KB_Fmax <= A_o, and KB_FTr is not known
};

bool is_met(Outcome outcome); // false for open

// `greatest`: KB_Fmax, `average`: KB_FTr, looked at where the greatest value leaves the decision open; `limits`: A_u,
// A_o, A_r. `rare_events`: they happen so seldom in the period that the average is not asked for. `strict`: a value
// that equals its limit does not keep it (SBR-B).
Outcome decide(double greatest, std::optional<double> average, const DecisionLimits& limits, bool rare_events,
               bool strict);

// How it came about, with the numbers, for a report: "the greatest value is at most 0.1".
std::string words_of(Outcome outcome, const DecisionLimits& limits, const DecisionRule& rule,
                     std::optional<double> average);

// --- quantities: of a lane weighted by KB; all numbers without a unit ---

QuantityResult kb_fmax(const QuantityArguments& arguments);

// Parameters: takt_s (30); zero_up_to (0.1), or zero_below in its place.
QuantityResult kb_ftm(const QuantityArguments& arguments);

// The values that kb_ftm is the root mean square of.
ValueSeries takt_series(const QuantityArguments& arguments);

// The share of the condition that was recorded. Its T_e: `exposed_s`; or `events` times the mean number of Takte of the
// recorded events, a recording each; or, where neither is known, the whole of reference_s, which is T_r. Parameters: as
// for kb_ftm, and rest_factor (1), which whoever calls sets for times of rest.
QuantityResult kb_ftr(const QuantityArguments& arguments);

} // namespace becalm::evaluators::din4150_2
