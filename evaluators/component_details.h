// How the components of one axis belong together and how they move: sidebands, beats, drift.
//
// From mean spectra and their rows of time alone, which know no phases: a line counts as a tone where its frequency
// stays within a quarter of a bin from row to row, as that of a resonance stirred by noise does not.
#pragma once

#include <array>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "filters/welch.h"
#include "src/model/spectra.h"

namespace becalm::evaluators {

struct ComponentDetails {
    std::string sideband = {};                          // "+1 x 0.73 Hz beside 20.00 Hz"; empty where it is none
    std::optional<double> beat_hz = {};                 // distance to the strongest tone within 4 bins
    std::optional<std::array<double, 2>> drift_hz = {}; // lowest and highest frequency, where it drifts
};

// For each line. `spectra`: rows of the recording, of the whole of it; nullptr where there are several or none, and
// then nothing is said of beats and drift.
std::vector<ComponentDetails> component_details(std::span<const filters::SpectralLine> lines, double resolution_hz,
                                                const ChannelSpectra* spectra);

} // namespace becalm::evaluators
