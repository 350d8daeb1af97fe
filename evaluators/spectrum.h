// Spectra of one file, in one pass and in memory that does not grow with duration: densities (mean, peak hold,
// minimum), one-third octaves and octaves, dominant components; where asked for, running levels of bands filtered in
// the time domain and a spectrogram. What `becalm spectrum` shows.
//
// Conventions of the density: filters/welch.h. Levels of bands come from the density [iec61260-1-2014, 5.2 to 5.5].
// An acceleration shown as a velocity has its density at f divided by (2 pi f)^2, and so on: in the frequency domain,
// without a filter. That makes what is slow look great, noise of the sensor above all; nothing below a stated
// frequency is reported, therefore.
#pragma once

#include <functional>

#include "evaluators/weigh.h"

namespace becalm::evaluators {

struct SpectrumOptions {
    // Hz > 0. Empty: 0.25 Hz, or the coarser one that a short file allows (a finding says so).
    std::optional<double> resolution_hz = {};
    // Seconds > 0. A row of peak hold and minimum: the segments that begin in so much time, half overlapping; empty:
    // one segment. A row of the spectrogram: so much time; empty: 1 s.
    std::optional<double> row_s = {};
    std::optional<Motion> as = {};        // convert to this motion
    std::optional<double> above_hz = {};  // > 0; nothing below is reported. Empty: with `as` the greater of 3
                                          // resolutions and 0.5 Hz, else everything is
    bool amplitude = false;               // the r.m.s. of a sine for each bin too
    std::optional<double> running_s = {}; // > 0: running levels of bands with this time constant; not with `as`
    // Called once a row and lane, as the rows come, lanes in order; a row has the segments that lie wholly in it (of
    // 1 / resolution, or of the row where that is shorter). Values: r.m.s. of one-third octaves, or the density of
    // bins. An incomplete row at the end is left out. Lanes that turn out to have gaps have rows like the others;
    // they are not among the lanes of the report. Must not throw.
    std::function<void(const SpectrogramRow& row)> spectrogram = {};
    bool spectrogram_of_bins = false;
};

// `options.weightings` and the rest as for weigh(). Lanes whose weighting the rate refuses, and those of channels with
// gaps, are left out, with a finding. Problems: too short for the resolution or a row, a rate too low for it, options
// that contradict each other.
Result<SpectrumReport> spectrum(const std::string& path, const WeighOptions& options, const SpectrumOptions& wanted);

} // namespace becalm::evaluators
