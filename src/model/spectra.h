// Spectra of one channel in rows of time, so that a span can be left out, a maximum held or a spectrogram drawn without
// another pass.
//
// Density conventions as in filters/welch.h: one-sided, unit^2/Hz, periodic Hann window, half overlap, the mean of each
// segment taken away. A row is the mean over the segments that begin in it; it tells of the time [from_s, to_s), the
// end of its last segment included.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "src/model/span.h"

namespace becalm {

struct SpectralRow {
    double from_s = 0.0, to_s = 0.0; // from the first selected sample; neighbours overlap by half a segment
    std::uint32_t segments = 0;
    std::vector<float> density = {}; // bin k at k * resolution_hz; SI of the channel's motion, squared, per Hz
};

struct ChannelSpectra {
    double resolution_hz = 0.0;
    double rate_hz = 0.0;
    std::vector<SpectralRow> rows = {};
};

// Mean density over the rows that lie wholly inside one of `selected`; empty where none does.
std::vector<double> mean_density(const ChannelSpectra& spectra, std::span<const TimeSpan> selected);

} // namespace becalm
