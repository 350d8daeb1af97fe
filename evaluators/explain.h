// Why it shakes: for each verdict the frequencies that carry the weighted energy, the source of each, and what would
// bring the value to the next milder band.
//
// The spectrum of each axis of the verdict, as recorded, is weighted by |H| of the criterion's weighting; its
// components are the lines that stand out (filters::spectral_lines). The recordings are read once more
// (evaluators/read_again.h): where a line is steady its frequency and amplitude come from the phases of successive
// segments (filters/components.h), and two tones within one line are told apart; elsewhere the averaged spectrum's
// estimate stays, with the reason. Sources with a reference channel are asked how coherent a component is with it
// (evaluators/reference_channel.h). A share is of the mean square that the verdict's
// axes have together, factors included. Where the criterion compares something else than an r.m.s. value (a dose, a
// running maximum, a percentile), the value is taken to follow the root of the mean square; the explanation says so.
//
// What if: a source's components are changed, the mean square is added up anew, and the value follows.
//   reduce S by x dB        components of S times 10^(-x/20)
//   move S by y Hz          components of S at hz + y, with the acceleration they have, under the weighting there
//   isolate S at f0, zeta   components of S times the transmissibility of a one-mass mount,
//                           sqrt((1 + (2 zeta r)^2) / ((1 - r^2)^2 + (2 zeta r)^2)), r = hz / f0
//   damp f by mu            components within 10 % of f times what an optimally tuned damper of mass ratio mu leaves of
//   a
//                           resonance of damping zeta: 2 zeta sqrt(1 + 2 / mu), at most 1 [denhartog-1956, 3.3]
//   stiffen f by k, zeta    every frequency times what a resonance at f of damping zeta does when its stiffness grows k
//                           times under the same force: (1 / k) D(hz, f sqrt k) / D(hz, f),
//                           D = 1 / sqrt((1 - r^2)^2 + (2 zeta r)^2), r = hz / f
// The inverse: with a needed share n = 1 - (limit / value)^2 a source of share s has to fall by -10 log10(1 - n / s)
// dB, and where s <= n it cannot do it alone. (computed from the definition)
#pragma once

#include <string>
#include <vector>

#include "evaluators/assess.h"
#include "src/model/explanation.h"

namespace becalm::evaluators {

struct Change {
    enum class Kind { reduce, move, isolate, damp, stiffen };
    Kind kind = Kind::reduce;
    std::string source = {}; // id; none of damp and stiffen
    double amount = 0.0;     // dB, Hz; f0 of isolate; f of damp and stiffen
    double second = 0.0;     // zeta of isolate; mass ratio of damp; k of stiffen
    double third = 0.0;      // zeta of the resonance of damp and stiffen
};

struct ExplainOptions {
    AssessOptions assess = {};
    std::string space = {}; // only this one
    std::vector<Change> changes = {};
    bool spectrograms = false; // keep the spectra in rows of time too, for figures
};

// An explanation for each verdict that was judged; those of which no spectrum can be had say why. Problems: those of
// assess(), a change of a source that the survey does not have.
Results<ExplanationReport> explain(const Survey& survey, const io::CriteriaLibrary& library,
                                   const ExplainOptions& options = {});

// The same of what has been judged with spectra (AssessOptions::spectra) already.
Results<ExplanationReport> explained(const Survey& survey, const Judged& judged, const ExplainOptions& options = {});

} // namespace becalm::evaluators
