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

// A component: a spectral line with what lies close beside it.
struct SpectralComponent {
    double hz = 0.0;
    double rms = 0.0;
};

// The lines that stand out of the spectrum (filters::spectral_lines), as `wanted`, greatest first. A machine's speed is
// never quite steady and spreads its line over some bins, so a component is all that exceeds the floor within 1 % of
// its frequency (common practice, no source) or three bins, whichever is more; lines so close to a greater one are part
// of it. For a sine in the clear the r.m.s. value is right to 0.2 % (computed from the definition).
std::vector<SpectralComponent> components_as(Motion wanted, const RecordedSpectrum& spectrum, Motion recorded,
                                             double from_hz, double to_hz);

// Lowest frequency at which a line can be told apart from slow motion at this resolution (filters::spectral_lines).
double lowest_line_hz(const RecordedSpectrum& spectrum);

} // namespace becalm::evaluators
