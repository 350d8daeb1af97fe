// Power spectral density by Welch's method, streaming and in constant memory.
//
// Conventions, once for the whole project: one-sided density in unit^2/Hz; periodic Hann window; segments overlap by
// half; the mean of each segment is taken away; densities are corrected for the window's power, so that the sum of
// density times resolution is the mean square (Parseval, on average). Only whole segments count.
//   G[k] = c_k / (rate sum w^2) mean |X_k|^2, c_k = 2 but for k = 0 and the bin at half the rate, where it is 1
// [P. D. Welch, IEEE Trans. Audio Electroacoust. AU-15 (1967) 70-73]
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "filters/fft.h"

namespace becalm::filters {

// Densities of single segments, summed up. One object serves all streams of one rate and length in one thread.
class SegmentDensity {
public:
    // Segments of `length` >= 2 samples.
    SegmentDensity(double rate_hz, std::size_t length);

    std::size_t length() const { return fft_.length(); }
    double resolution_hz() const { return rate_hz_ / static_cast<double>(length()); } // spacing of the bins

    // X_k of a segment of length() samples, mean taken away and windowed, k = 0 ... length() / 2. Valid until the next
    // call of this or of add.
    std::span<const std::complex<double>> transform(std::span<const double> segment);

    // The same of a segment that lies in two parts, of which the caller knows the mean.
    std::span<const std::complex<double>> transform(std::span<const double> first, std::span<const double> second,
                                                    double mean);

    // Adds |X_k|^2 of a segment of length() samples to sums[k], k < sums.size() <= length() / 2 + 1.
    void add(std::span<const double> segment, std::span<double> sums);

    // c_k / (rate sum w^2): turns |X_k|^2 into a density.
    double factor(std::size_t k) const;

private:
    double rate_hz_;
    RealFft fft_;
    std::vector<double> window_;
    double window_power_ = 0.0; // sum of w^2
};

// The mean over all segments, and the greatest and least mean of a row: so many segments as follow each other.
class Welch {
public:
    // Segments of `length` >= 2 samples, rows of `row_segments` >= 1.
    Welch(double rate_hz, std::size_t length, std::size_t row_segments = 1);

    void add(std::span<const double> samples);
    void add(const double* samples, std::size_t count, std::size_t stride);
    void restart(); // forgets all that was added

    std::size_t segments() const { return segments_; }
    double resolution_hz() const { return density_.resolution_hz(); }

    // Density of bin k at k * resolution_hz(), k = 0 ... length / 2; all zero where no segment is complete.
    std::vector<double> density() const;

    // Peak hold and minimum, bin by bin over the whole rows; where no row is whole, the segments that there are count
    // as one.
    std::vector<double> greatest() const;
    std::vector<double> least() const;
    std::size_t rows() const { return rows_; } // that are whole
    std::size_t row_segments() const { return row_segments_; }

private:
    void add_segment();
    std::vector<double> scaled(const std::vector<double>& sums, double averages) const;

    SegmentDensity density_;
    std::size_t length_, hop_;
    std::vector<double> pending_; // the segment being filled, a ring: what two segments share stays where it is
    std::size_t begin_ = 0, filled_ = 0;
    double shared_sum_ = 0.0; // of the samples that the last segment shares with this one
    std::vector<double> sum_; // of |X_k|^2 over the rows that are whole
    std::size_t segments_ = 0;
    std::size_t row_segments_, rows_ = 0;
    std::vector<double> row_sum_, row_greatest_, row_least_; // of |X_k|^2 over a row
};

// So many averages over independent segments would scatter as much as one over `segments` that overlap by half,
//   n_d = K / (1 + 2 sum_j (1 - j / K) rho_j),  rho_j = (sum w[n] w[n + j hop] / sum w^2)^2
// for white noise [Welch 1967, as above]: 18/19 of the segments where there are many (rho_1 = 1/36 of the Hann window).
double effective_averages(std::size_t length, std::size_t segments);

// r.m.s. of a band from a density, bins shared by the edges counted by the part that lies inside. Bin k covers
// (k - 1/2) ... (k + 1/2) resolutions.
double band_rms(std::span<const double> density, double resolution_hz, double from_hz, double to_hz);

// One-third-octave band n of the base-ten system [iec61260-1-2014, 5.2 to 5.5]: exact centre 10^(n/10), edges 10^(n/10
// -+ 1/20).
struct ThirdOctave {
    int n = 0;
    double exact_hz = 1.0;
    double nominal_hz = 1.0; // as the bands are called: 1, 1.25, 1.6, 2, 2.5, 3.15, 4, 5, 6.3, 8 and decades
    double from_hz = 0.0, to_hz = 0.0;
};
ThirdOctave third_octave(int n);

// Bands that a density of this resolution and rate can tell: the lower edge is at least one resolution, the upper at
// most half the rate.
std::vector<ThirdOctave> third_octaves_within(double resolution_hz, double rate_hz);

// A spectral line: a component of one frequency standing out of what surrounds it.
struct SpectralLine {
    double hz = 0.0;          // interpolated between the bins (Hann window's main lobe)
    double rms = 0.0;         // of the component alone, the floor beneath it taken away
    double above_floor = 0.0; // ratio of the greatest density to the median of its surroundings
};

// Amplitude of the Hann window's transform `bins` away from its centre, 1 at the centre.
double hann_lobe(double bins);

// Median density of the bins 4 to 24 away from bin k on both sides: beyond the window's main lobe, near enough to
// follow a sloping floor.
double floor_around(std::span<const double> density, std::size_t k);

// The line whose greatest bin is k, 0 < k < density.size() - 1, above a floor of the given density.
SpectralLine line_at(std::span<const double> density, double resolution_hz, std::size_t k, double floor);

// Local maxima at least `least_ratio` times the median density of the surrounding bins, greatest r.m.s. first. Bins
// below three resolutions are left to slow motion. For a sine in the clear: frequency to a hundredth of a bin,
// amplitude to 0.1 % (windowed by Hann, computed from the definition).
std::vector<SpectralLine> spectral_lines(std::span<const double> density, double resolution_hz,
                                         double least_ratio = 10.0);

} // namespace becalm::filters
