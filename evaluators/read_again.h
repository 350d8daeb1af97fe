// A recording read once more for what the pass does not keep: the phases of a channel's segments
// (filters/components.h), and how the channel moves with a reference channel of the same file
// (filters/cross_spectra.h). For explanations alone; no value rests on it.
//
// Segments of the phases last 16 s as those of the pass, or a quarter of the selection where that is shorter: seven of
// them are the least that tells a tone from noise. Segments of the coherence last 4 s. Memory does not grow with
// duration; lines are kept up to 250 Hz, as in filters/spectrum_rows.h. One thread, in order of time.
#pragma once

#include <optional>
#include <span>
#include <stop_token>
#include <string>
#include <vector>

#include "evaluators/measured.h"
#include "filters/components.h"
#include "filters/cross_spectra.h"

namespace becalm::evaluators {

// Exactly one of the two has something in it: what was found, or why there is nothing ("a.wav has 3 channels").
struct Phases {
    double resolution_hz = 0.0;
    std::vector<filters::Component> components = {}; // SI, as recorded
    std::string why_not = {};
};
struct WithReference {
    int reference = 1;                                     // channel, from 1
    std::optional<filters::CrossDensities> densities = {}; // 0: the channel, 1: the reference; one segment at least
    std::string why_not = {};
};

struct ChannelAgain {
    int channel = 1;
    Phases phases = {};
    std::vector<WithReference> references = {}; // one for each that was asked for
};

// Of each of `channels`, over the spans of `selected`, seconds from the first sample of `measured.pass`, which there
// must be. Phases need one span without a gap; references are taken over all spans.
std::vector<ChannelAgain> read_again(const Measured& measured, std::span<const TimeSpan> selected,
                                     std::span<const int> channels, std::span<const int> references,
                                     const std::stop_token& stop = {});

} // namespace becalm::evaluators
