// Faults of sensor, cable, converter and mounting that the shape of a channel shows (filters/fault_scan.h), as findings
// of one channel. Cautions: none of them is certain, the values stand, and whoever measured is asked to look.
//
//   spike         single samples that no motion makes; each place is named, so that it can be excluded
//   rattle        five short bursts of high frequency or more
//   flattened     extremes are flat without being equal: overloaded before a filter, a conversion or another rate
//   stuck-bit     a bit of the stored integers never changes while a lower and a higher one do, or is always set
//   drift         the mean moves in one direction by more than 0.3 of the vibration; or a line or an exponential
//                 approach through it moves by three times what is left beside it and by 1.5 of the vibration
//   mains-hum     lines at 50 or 60 Hz (+- 0.25 Hz) and two of their harmonics at least stand out by 10 dB; with the
//                 share of the weighted energy where the channel is weighted. Only where spectra were asked for.
//   rate-off      (a note) such lines at 50 or 60 Hz times the ratio of two rates that are taken for each other (1000
//   and
//                 1024, 44100 and 48000 Hz), and three of their harmonics
//   coarse-steps  the vibration is less than three steps of the resolution
//   unsteady      (a note) the level steps by more than 6 dB, and by more than three times what it varies on either
//   side
// All thresholds are common practice without a source; evaluators' planted faults (ui/demo/planted_faults.h) say how
// many faults they find and how many sound recordings they accuse.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "evaluators/pass.h"
#include "src/model/finding.h"

namespace becalm::evaluators {

struct ExaminedChannel {
    const std::string& file; // as messages name it
    const PassResult& pass;
    const ChannelResult& channel;
    Motion motion = Motion::acceleration;
    bool rotates = false;
    std::span<const TimeSpan> selected = {}; // seconds that will be judged, from the start of the pass's span
    bool is_clipped = false;                 // known already: flat extremes are no news
};

std::vector<Finding> signal_faults(const ExaminedChannel& examined);

} // namespace becalm::evaluators
