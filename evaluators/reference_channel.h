// What the coherence with a reference channel says of a component: does it come from where that transducer sits?
//
// gamma^2 at the line nearest to the component, segments of 4 s (evaluators/read_again.h):
//   0.8 and more               it moves with the reference
//   below 0.3, significantly   it does not: the upper end of the one-sided 95 % interval lies below 0.3, by
//                              atanh |gamma| with the bias 1 / (2 (n_d - 1)) and the variance 1 / (2 (n_d - 1))
//                              [Fisher's transform for coherence: J. S. Bendat, A. G. Piersol, Random Data, from
//                              memory]; the bounds 0.8 and 0.3: common practice, no source
//   anything else              nothing
// Nothing is said either where the component is not what moves the channel at that line (other components or the floor
// have more than 0.3 of the density), nor for it where the reference has no line of its own there: what leaks out of
// a neighbour turns along with it by chance when the two lie a multiple of 0.5 Hz apart.
//
// Two machines that run at the very same speed, as on one electrical grid or one shaft, are coherent with each other:
// coherence tells that they are, not which of them it is.
#pragma once

#include <optional>
#include <span>
#include <string>

#include "filters/cross_spectra.h"

namespace becalm::evaluators {

inline constexpr double least_averages_of_coherence = 10.0; // n_d; fewer say nothing [common practice, no source]

enum class ReferenceWord { moves_with, does_not, nothing };

struct ReferenceSays {
    std::string source = {}; // whose reference it is
    int channel = 1;
    double coherence = 0.0; // gamma^2
    ReferenceWord word = ReferenceWord::nothing;
};

// Why these densities cannot say anything of any component: too few averages, a reference that does not move. Empty
// where they can.
std::string why_no_coherence(const filters::CrossDensities& densities);

// Of component `which` among `lines`, whose r.m.s. are those of channel 0 of the densities, as recorded. Empty below
// the third line, where the mean's removal reaches, and beyond the last.
std::optional<ReferenceSays> reference_says(const filters::CrossDensities& densities,
                                            std::span<const filters::SpectralLine> lines, std::size_t which);

} // namespace becalm::evaluators
