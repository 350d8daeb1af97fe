// Auto and cross densities of several channels that were sampled together, streaming and in constant memory, and what
// two or more channels tell about each other: coherence, transfer function, transmissibility, operating deflection
// shape.
//
// Conventions of filters/welch.h: one-sided, periodic Hann window, half overlap, the mean of each segment taken away.
//   G_xy[k] = c_k / (rate sum w^2) mean conj(X_k) Y_k                    cross density, from x to y
//   gamma^2 = |G_xy|^2 / (G_xx G_yy)                                     ordinary coherence, 0 ... 1
//   H1 = G_xy / G_xx, H2 = G_yy / conj(G_xy)                             least squares for noise in y, in x
//   u(|H|) / |H| = u(arg H) = sqrt(1 - gamma^2) / (|gamma| sqrt(2 n_d))  random standard uncertainty, k = 1
// with n_d = effective_averages() of the segments [P. D. Welch, IEEE Trans. Audio Electroacoust. AU-15 (1967) 70-73;
// J. S. Bendat, A. G. Piersol, Random Data, chapters on statistical errors in advanced estimates: from memory].
//
// The uncertainty is that of chance alone, to first order, with the coherence as it was estimated. With few averages
// the coherence comes out too high (by about (1 - gamma^2)^2 / n_d) and the uncertainty too small: of four segments the
// truth lies within k = 1 in 56 % in place of 68 %, of 41 segments in 67 % (measured in the tests). It says nothing of
// what does not average out: leakage where a resonance is narrower than some four lines, and a delay between the
// channels that is not short against a segment, both lower the coherence and turn the transfer function aside.
//
// Lines 0 and 1 lack what was taken away with the means.
#pragma once

#include <complex>
#include <cstddef>
#include <span>
#include <vector>

#include "filters/welch.h"
#include "src/base/problem.h"

namespace becalm::filters {

struct CrossDensities {
    double rate_hz = 0.0;
    std::size_t length = 0; // samples of a segment
    std::size_t channels = 0;
    std::size_t segments = 0;
    std::vector<std::complex<double>> values = {}; // of each pair from <= to, lines side by side
    std::vector<double> mean_squares = {};         // of each channel's samples, their mean included

    std::size_t lines() const { return length / 2 + 1; }
    double resolution_hz() const { return rate_hz / static_cast<double>(length); }
    double hz(std::size_t line) const { return static_cast<double>(line) * resolution_hz(); }
    double averages() const { return effective_averages(length, segments); }

    double density(std::size_t channel, std::size_t line) const { return cross(channel, channel, line).real(); }
    std::vector<double> density(std::size_t channel) const;
    std::complex<double> cross(std::size_t from, std::size_t to, std::size_t line) const; // conj of (to, from)
};

class CrossSpectra {
public:
    // Of so many channels as there are rates, in segments of `length` >= 2 samples. Refuses rates that differ, and less
    // than one channel. Memory: one segment of each channel, and length / 2 + 1 complex values of each pair.
    static Result<CrossSpectra> of(std::span<const double> rates_hz, std::size_t length);

    // The next samples of every channel, in their order. Refuses a wrong number of channels, or channels of unequal
    // length; nothing is taken in then.
    Result<void> add(std::span<const std::span<const double>> block);

    std::size_t segments() const { return segments_; }

    // Refuses less than two segments: over a single one the coherence is 1 by construction, whatever the channels hold.
    Result<CrossDensities> densities() const;

    // The densities of the segments that were completed since the last call, at least one segment or none at all
    // (`segments` is 0); what is pending goes on. For estimates block by block.
    CrossDensities take();

private:
    CrossSpectra(double rate_hz, std::size_t length, std::size_t channels);
    void add_segment();
    CrossDensities scaled() const;

    double rate_hz_;
    std::size_t length_, hop_, channels_;
    SegmentDensity transform_;
    std::vector<double> pending_; // the segment being filled, channel by channel
    std::size_t filled_ = 0;
    std::vector<std::complex<double>> spectra_; // of one segment, channel by channel
    std::vector<std::complex<double>> sums_;    // of conj(X_k) Y_k, as in CrossDensities::values
    std::vector<double> squares_;               // sums of the segments' mean squares, channel by channel
    std::size_t segments_ = 0;
};

// The lines up to `hz` alone, as of channels sampled so much slower: for keeping the densities of many recordings.
CrossDensities lines_up_to(const CrossDensities& densities, double hz);

// As if the segments had been taken together. `parts` are of the same rate, length and channels; at least one.
CrossDensities pooled(std::span<const CrossDensities> parts);

// Whole records at once. Refuses as CrossSpectra does, and records of unequal length.
struct SampledChannel {
    double rate_hz = 0.0;
    std::span<const double> samples = {};
};
Result<CrossDensities> cross_densities(std::span<const SampledChannel> channels, std::size_t length);

// Has the channel energy at this line that is more than rounding? The density is above 1e-24 of its greatest, and the
// energy of the line above 1e-28 of all there is in the samples, the mean that was taken away included.
bool has_energy(const CrossDensities& densities, std::size_t channel, std::size_t line);

// |G_xy|^2 / (G_xx G_yy) at one line; 0 where a channel has no energy.
double coherence(const CrossDensities& densities, std::size_t one, std::size_t other, std::size_t line);

// sqrt(1 - coherence) / sqrt(2 averages coherence): of a magnitude as a share of it, of a phase in rad. Infinite where
// the coherence is 0.
double random_uncertainty(double coherence, double averages);

struct Transfer {
    double hz = 0.0;
    std::complex<double> h1 = {}, h2 = {}; // unit of `to` by unit of `from`; h2 is infinite where the coherence is 0
    double coherence = 0.0;                // gamma^2
    double relative_uncertainty = 0.0;     // standard, of |H|, as a share of |H|
    double phase_uncertainty_rad = 0.0;    // standard; at most pi / sqrt(3), that of a phase of which nothing is known
    double magnitude() const { return std::abs(h1); }
    double phase_rad() const { return std::arg(h1); } // positive: `to` leads
};

// At one line. Refuses where `from` or `to` has no energy.
Result<Transfer> transfer(const CrossDensities& densities, std::size_t from, std::size_t to, std::size_t line);

// At every line where both have energy.
std::vector<Transfer> transfers(const CrossDensities& densities, std::size_t from, std::size_t to);

// How motion at one point becomes motion at another, of the same kind (both accelerations, or both velocities ...): on
// its way through a floor, a mount, a seat.
struct Transmissibility {
    double hz = 0.0;
    double magnitude = 0.0, magnitude_uncertainty = 0.0; // |H1|: of the part of `to` that goes with `from`
    double phase_rad = 0.0, phase_uncertainty_rad = 0.0; // positive: `to` leads
    double coherence = 0.0;
    double rms_ratio = 0.0; // sqrt(G_yy / G_xx): of all that is at `to`, whatever it comes from
};
Result<Transmissibility> transmissibility(const CrossDensities& densities, std::size_t from, std::size_t to,
                                          std::size_t line);

// How the points move together at one frequency, in operation: complex amplitudes relative to the reference,
// G_rp / G_rr.
struct DeflectionPoint {
    std::complex<double> amplitude = {}; // relative to the reference, whose own is 1
    double coherence = 0.0;              // with the reference, at this line
    double relative_uncertainty = 0.0;   // standard, random, as in Transfer
    double phase_uncertainty_rad = 0.0;
};
struct DeflectionShape {
    double hz = 0.0;                // of the line that lies nearest to the frequency asked for
    double averages = 0.0;          // n_d
    double reference_density = 0.0; // G_rr, unit^2/Hz
    std::vector<DeflectionPoint> points = {};
};
// Refuses a frequency beyond half the rate or below the first line, and a reference without energy there. A point that
// does not move has the amplitude 0 and the coherence 0.
Result<DeflectionShape> deflection_shape(const CrossDensities& densities, std::size_t reference, double hz);

} // namespace becalm::filters
