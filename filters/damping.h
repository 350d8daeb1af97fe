// Natural frequency and damping ratio of a mode of vibration, each with a standard uncertainty (k = 1), in three ways:
// from a free decay, from the width of a resonance in a spectrum, and from the response to ambient excitation.
//
// A mode:  x'' + 2 zeta w0 x' + w0^2 x = force / mass,  w0 = 2 pi f0,  w_d = w0 sqrt(1 - zeta^2),  alpha = zeta w0
//   free decay   x(t) = a exp(-alpha t) cos(w_d t + p); logarithmic decrement 2 pi zeta / sqrt(1 - zeta^2) a period
//   receptance   |H|^2 = 1 / ((w0^2 - w^2)^2 + 4 zeta^2 w0^2 w^2); mobility: times w^2; accelerance: times w^4
//   correlation  R(t) = exp(-alpha t) (cos w_d t + zeta / sqrt(1 - zeta^2) sin w_d t), of the displacement under a
//   force
//                of constant density
// The damping of what is built depends on the amplitude: a result holds for the motion it was found in.
//
// [single degree of freedom: textbooks, from memory; decomposition: R. Brincker, L. Zhang, P. Andersen, Smart Mater.
// Struct. 10 (2001) 441-445, from memory; the band-pass of decays, the fit of resonances and what is done against the
// bias of window and cut are this project's own]
#pragma once

#include <complex>
#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "filters/cross_spectra.h"
#include "src/base/problem.h"
#include "src/base/units.h"

namespace becalm::filters {

struct Estimate {
    double value = 0.0;
    double uncertainty = 0.0; // standard, k = 1
};

// ---- free decay, as after a heel drop ----
//
// The analytic signal comes from a complex band-pass, a Hann window of `kernel_periods` periods of the mode. Of a
// damped sine such a filter makes the same damped sine, so it shifts neither frequency nor damping; it is blind to a
// constant and to the mirrored frequency, and leaves out half its length at either end of the record. The decay is
// taken from half that length after the envelope's greatest value down to `above_floor` times the noise. There the
// logarithm of the analytic signal is a straight line, ln a + j p + (-alpha + j w_d) t, fitted by least squares with
// weights 1 / (s^2 + floor^2 / (2 envelope^2)): the noise, and s = 1 % for what else the model may lack. The noise
// floor is what remains in the last tenth of the record when the decay is taken away.
//
// Uncertainty: of the fit, from what scatters about the lines or from the noise, whichever says more, for as many
// independent samples as the band-pass leaves. In 720 decays of 0.5 % to 5 % damping with white noise of 0.1 % to 3 %
// of the first amplitude the truth lay within k = 2 in 96 % (measured in the tests). It tells nothing of what other
// modes do inside the band-pass.

struct DecayOptions {
    std::optional<double> near_hz = {}; // of the mode; empty: the greatest line of the record
    double kernel_periods = 2.0; // >= 2; a longer one keeps neighbouring modes out and costs that much of the decay
    double above_floor = 3.0;    // > 1
};

struct Decay {
    Estimate frequency_hz;                           // f0, undamped
    Estimate damping;                                // zeta
    double from_s = 0.0, to_s = 0.0;                 // of the record: what was fitted
    double from_amplitude = 0.0, to_amplitude = 0.0; // of the decay there, in the unit of the samples
    double noise_floor = 0.0;                        // r.m.s. of the envelope's noise
    double misfit = 0.0;                             // r.m.s. of what scatters about the model, as a share of it
};

// Refuses a rate below five samples a period; less than four periods, or two lengths of the band-pass, between onset
// and floor (too short); an amplitude that does not fall by more than twice the uncertainty of its fall (no decay); a
// misfit of more than 20 % that is no noise: two close modes beat, or the damping changes with the amplitude.
Result<Decay> free_decay(std::span<const double> samples, double rate_hz, const DecayOptions& options = {});

// ---- half-power bandwidth ----
//
// The inverse of a receptance's square is a parabola over w^2, exactly. It is fitted to the lines within one bandwidth
// of the peak (maximum likelihood of densities, that is of gamma variates), so that not two lines alone decide, and its
// half-power points f1 and f2 say
//   (f2^2 - f1^2) / (2 fp^2) = tan(2 asin zeta),  fp = f0 sqrt(1 - 2 zeta^2)
// which is zeta = (f2 - f1) / (2 f0) where the damping is small. What is no receptance is made one first, by w^2 or
// w^4.
//
// The window widens a resonance: that of a density by 6 % at a bandwidth of four lines, less with their square. How
// much is known (filters/windowed_mode.h): the mode is sought whose spectrum, as the window shows it, gives the width
// found. A bandwidth of less than four lines is refused.
//
// Uncertainty: of the fit, from the scatter of the lines (averages, coherence; neighbouring lines of the Hann window
// are not independent), and a rectangular distribution as wide as what was taken back for the window. In 150 responses
// to noise the truth lay within k = 2 in 95 % (measured in the tests); where leakage alone lowers the coherence of a
// transfer function the uncertainty is on the safe side. A floor under the resonance widens it too, which nobody takes
// back: 20 dB below the peak it adds 2 % to the damping, 30 dB below 0.2 %.

struct BandwidthOptions {
    double near_hz = 0.0;                 // of the resonance
    double within = 0.1;                  // it is sought from near_hz (1 - within) to near_hz (1 + within)
    Motion motion = Motion::acceleration; // that the density is of, or that the transfer function goes to from a force
};

struct Bandwidth {
    Estimate frequency_hz;             // f0
    Estimate damping;                  // zeta
    double from_hz = 0.0, to_hz = 0.0; // half-power points of the receptance, as shown
    double lines = 0.0;                // from one to the other
    double widened = 0.0;              // share of the bandwidth shown that is the window's and was taken back
    double misfit = 0.0;               // r.m.s. of the lines about the model, as a share of it
};

// Of a density by filters/welch.h, `averages` as effective_averages() says. The exciting force is taken to be of
// constant density around the resonance.
Result<Bandwidth> half_power(std::span<const double> density, double resolution_hz, double averages,
                             const BandwidthOptions& options);

// Of a transfer function from a force (H1), lines of `resolution_hz`.
Result<Bandwidth> half_power(std::span<const Transfer> lines, double resolution_hz, const BandwidthOptions& options);

// ---- ambient response: enhanced frequency domain decomposition ----
//
// Per line, the matrix of cross densities is decomposed into singular values and vectors. Peaks of the first singular
// value are modes; the vector there is the shape. Around a peak, the lines whose first vector resembles that of the
// peak (MAC = |u^H v|^2 / (|u|^2 |v|^2) of least_mac or more) and whose value is above 5 % of the peak's, and lies on
// its side of the valley to the next one, are the mode's bell. Back in time it is the mode's correlation function:
// its envelope (lag window taken out) from 0.9 to 0.3 of the beginning gives the decrement, the zero crossings, that is
// the line through its phase, the frequency. With one channel, the valleys and the shape of the bell alone part modes:
// two that are nearer than some three bandwidths may pass for one.
//
// Cutting the bell off and windowing would shift damping by up to 20 %. Both are known: the mode is sought whose bell,
// windowed and cut alike, gives the decrement and the frequency found.
//
// Uncertainty: the record is split into blocks, and everything is done again with each of them left out (jackknife). In
// 100 simulated half hours of a floor the damping of its two modes lay within k = 2 in 92 and 95 (measured in the
// tests). It is that of chance; the force is taken to be white around each mode.

struct AmbientOptions {
    double from_hz = 0.0, to_hz = 0.0; // where modes are sought
    Motion motion = Motion::acceleration;
    double least_mac = 0.8;
    double above_floor = 5.0; // a peak exceeds the lower quartile of the first singular value by this factor
    std::size_t most_modes = 10;
};

struct AmbientMode {
    Estimate frequency_hz;                        // f0
    Estimate damping;                             // zeta
    std::vector<std::complex<double>> shape = {}; // of each channel; the greatest is 1
    double peak_hz = 0.0;                         // of the line
    double first_to_second = 0.0;                 // singular values there; infinite for one channel
    double from_hz = 0.0, to_hz = 0.0;            // of the bell
    double from_s = 0.0, to_s = 0.0;              // of the lags that were fitted
};

struct AmbientModes {
    std::vector<AmbientMode> modes = {}; // by frequency
    std::vector<Problem> left_out = {};  // peaks that are seen, and why they give no mode
    double resolution_hz = 0.0;
    std::size_t segments = 0, blocks = 0;
};

// Of cross densities block by block (CrossSpectra::take), at least eight blocks with segments in them. Refuses fewer
// (too short), and a range without lines. A peak is left out where its bell ends above half its height, is not that of
// a single mode or is not parted from a higher one (two close modes); where its bandwidth is less than two lines
// (resolution, or a tone of machinery); where the correlation does not fall (no decay); and where a single block
// decides whether there is a mode at all (too short).
Result<AmbientModes> ambient_modes(std::span<const CrossDensities> blocks, const AmbientOptions& options);

// Of whole records, in segments of `length` samples and 20 blocks, or as many as there are pairs of segments.
Result<AmbientModes> ambient_modes(std::span<const SampledChannel> channels, std::size_t length,
                                   const AmbientOptions& options);

} // namespace becalm::filters
