// A spectrum of an explanation in the units that somebody wants to read it in; for the eye, no verdict rests on it.
//
// Another motion: each bin's amplitude times (2 pi f)^n, n = -1 or -2 from an acceleration to a velocity or a
// displacement, 1 or 2 the other way. Where n is below 0, frequencies under lower_limit_hz() are left out: what lies
// there is mostly the sensor's noise, and 1/f makes mountains of it. (computed from the definition)
// Amplitude: the r.m.s. value of a tone at the bin, sqrt(1.5 density resolution): a periodic Hann window spreads a tone
// over 1.5 bins. A tone halfway between two bins shows 1.42 dB too low. (computed from the definition)
// Levels: 20 log10 of an r.m.s. value (10 log10 of a density) over 1 um/s2, 1 nm/s or 1 pm (ISO 1683, from memory).
#pragma once

#include "src/base/units.h"
#include "ui/figures/explanation_figures.h"

namespace becalm::figures {

enum class SpectrumValue { density, amplitude };

// Of the motion's SI unit; gravity for accelerations only: of other motions it is thousandths.
enum class SpectrumScale { si, thousandths, millionths, gravity, levels };

struct SpectrumUnits {
    Motion motion = Motion::acceleration;
    SpectrumValue value = SpectrumValue::density;
    SpectrumScale scale = SpectrumScale::thousandths;
};

// What the spectrum is of.
Motion motion_of(const ExplainedSpectrum& spectrum);

// Hz; 0 where nothing is integrated. Else 0.5 Hz, four bins where those are more (common practice, no source).
double lower_limit_hz(const ExplainedSpectrum& spectrum, const SpectrumUnits& units);

// "mm/s²", "(mm/s²)²/Hz", "dB re 1 µm/s²".
std::string unit_words(const SpectrumUnits& units);

// Inputs as weighted_spectrum(), weighted_bands() and weighted_spectrogram() make them, shapes and limits included.
// Bands have no density: they are r.m.s. values under both.
SpectrumInput in_units(SpectrumInput input, const ExplainedSpectrum& spectrum, const SpectrumUnits& units);
ThirdOctaveInput in_units(ThirdOctaveInput input, const ExplainedSpectrum& spectrum, SpectrumUnits units);
SpectrogramInput in_units(SpectrogramInput input, const ExplainedSpectrum& spectrum, const SpectrumUnits& units);

} // namespace becalm::figures
