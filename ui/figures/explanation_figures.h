// The figures of an explanation, the same in every face: what goes into the builders, made from what
// evaluators/explain.h gives. The bins, lines and shares are taken as they are; nothing is computed but the shares of a
// source added up.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "src/model/explanation.h"
#include "ui/figures/builders.h"
#include "ui/figures/language.h"

namespace becalm::figures {

// m/s2 as mm/s², m/s as mm/s: what comfort is told in.
Numbers thousandths(const std::string& unit);
// The same of a density: m/s2 as (mm/s²)²/Hz.
Numbers thousandths_density(const std::string& unit);

// How values of a verdict are shown: m/s2 and m/s in thousandths, "1" without a unit, every other as it is.
Numbers shown_in(std::string_view unit);

// A verdict as a ruler called `words`.
RulerInput ruler_of(const Verdict& verdict, std::string words);

// Lines that the sources are known for, and those further ones at which something was found.
std::vector<NamedLine> lines_shown(const ExplainedSpectrum& spectrum, const Explanation& explanation);
std::vector<SourceLine> source_lines(const ExplainedSpectrum& spectrum, const Explanation& explanation,
                                     Language language = Language::english);

// "d4-214 floor, service; ISO 6954:2000": of what the figures are.
std::string subject_of(const Verdict& verdict, Language language = Language::english);

// Up to where spectra are shown, Hz: this, or as far as the bins go.
inline constexpr double most_shown_hz = 100.0;
double shown_to_hz(const ExplainedSpectrum& spectrum);

// From where on, Hz: 0.5, or half of where the weighting's range begins (motion sickness lies below 0.5 Hz).
double shown_from_hz(const std::string& weighting);
inline double shown_from_hz(const ExplainedSpectrum& spectrum) { return shown_from_hz(spectrum.weighting); }

// "Wm, 0.25 Hz between the bins, Hann window, half overlapping".
std::string how_made(const ExplainedSpectrum& spectrum, Language language = Language::english);

SpectrumInput weighted_spectrum(const Explanation& explanation, const ExplainedSpectrum& spectrum,
                                Language language = Language::english);
ThirdOctaveInput weighted_bands(const Explanation& explanation, const ExplainedSpectrum& spectrum,
                                Language language = Language::english);
// The same with all bands that are shown, the faint ones that an explanation leaves out too.
ThirdOctaveInput all_weighted_bands(const Explanation& explanation, const ExplainedSpectrum& spectrum,
                                    Language language = Language::english);
SpectrogramInput weighted_spectrogram(const Explanation& explanation, const ExplainedSpectrum& spectrum,
                                      Language language = Language::english);

// What the criterion listens to: |H|^2 of the weighting, so high that its top is the top of the spectrum shown. Empty
// without a weighting.
std::optional<FrequencyCurve> weighting_shape(const ExplainedSpectrum& spectrum, Language language = Language::english);

// The criterion's curve times the limit that the value is under, for the bands; empty where it compares no curve, or
// one of another motion than the bands are of.
std::optional<FrequencyCurve> curve_at_limit(const Criterion& criterion, const Explanation& explanation,
                                             const ExplainedSpectrum& spectrum, Language language = Language::english);

// A rung for each source, one for the greatest unexplained components, and what is broad.
LadderInput what_carries(const Explanation& explanation, Language language = Language::english);

} // namespace becalm::figures
