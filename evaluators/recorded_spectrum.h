// Spectra of a channel as recorded, for procedures that judge components rather than a weighted signal.
#pragma once

#include <span>
#include <vector>

#include "evaluators/quantity.h"
#include "filters/welch.h"

namespace becalm::evaluators {

// Mean density over what is selected of one recording, in the motion that was recorded (conventions: filters/welch.h).
struct RecordedSpectrum {
    std::vector<double> density = {};
    double resolution_hz = 0.0;
    double rate_hz = 0.0;
};

// One for each recording; a recording of which no row of spectra lies inside the selection cannot be judged, nor one
// that does not reach `to_hz`.
Result<std::vector<RecordedSpectrum>> recorded_spectra(const QuantityArguments& arguments, double to_hz);

// Amplitude at `hz` as another motion: times (2 pi hz)^n. hz > 0.
double times_from(Motion recorded, Motion wanted, double hz);

// r.m.s. of what lies in [from_hz, to_hz], as `wanted`, from bins whose centre lies inside; from_hz > 0.
double band_rms_as(Motion wanted, const RecordedSpectrum& spectrum, Motion recorded, double from_hz, double to_hz);

// Lines that stand out of the spectrum, as `wanted`: r.m.s. at the line's own frequency.
std::vector<filters::SpectralLine> lines_as(Motion wanted, const RecordedSpectrum& spectrum, Motion recorded,
                                            double from_hz, double to_hz);

// Lowest frequency at which a line can be told apart from slow motion at this resolution (filters::spectral_lines).
double lowest_line_hz(const RecordedSpectrum& spectrum);

} // namespace becalm::evaluators
