// The components of a motion: what a line in the spectrum is, where exactly it lies, and how it belongs to others.
//
// A mean density knows how much there is at each bin, but not whether it is a tone. The spectra of successive segments
// know: a tone of f Hz turns by 2 pi f hop / rate from one segment to the next, always the same, while the phases of
// noise go where they like. Beside the sum of |X_k|^2 two more sums are kept,
//   R1_k = sum_s X_k[s + 1] conj(X_k[s]),  R2_k = sum_s X_k[s + 2] conj(X_k[s]),
// and with them, bin by bin:
//   frequency   from the angle of R1, free of the floor's share; the whole turns that it cannot tell (L / hop = 2 bins)
//               from the amplitudes of neighbouring bins
//   steadiness  |R1| / sum (|X[s]|^2 + |X[s + 1]|^2) / 2: 1 of a tone that neither wanders nor swells. Of white noise
//   the
//               segments share half their samples, so that E R1 / E |X|^2 = sum w[n] w[n + L/2] / sum w^2 = (L/16) /
//               (3L/8) = 1/6, with the angle of the bin's own centre (computed from the definition)
//   wander      phases that step by p with a scatter of s leave |E exp(j p)| = 1 - s^2 / 2 of the steadiness (first
//               order): s = sqrt(2 (1 - steadiness)), the floor's share taken away before (computed from the
//               definition)
//   two tones   in one bin: x[s] = a x[s - 1] + b x[s - 2] holds for any two, the roots of z^2 = a z + b are their
//               turns; levels from the same sums, with what a beat that is not whole leaves in them
//               [Prony's method; linear prediction by least squares: common practice, no source]
// Conventions of filters/welch.h: periodic Hann window, half overlap, the mean of each segment taken away.
//
// Limits: a tone that wanders by more than about 0.6 bins over the record is not steady and told as narrow-band motion;
// track() follows it over rows of time. Two tones of which less than two beats fit into the record cannot be told
// apart; those some two bins apart turn nearly alike and leak into each other, which their uncertainty tells, but not
// their levels (some per cent).
#pragma once

#include <complex>
#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "filters/welch.h"
#include "src/model/spectra.h"

namespace becalm::filters {

// What is summed up over segments, in memory that does not grow with duration.
struct LaggedSums {
    double rate_hz = 0.0;
    std::size_t length = 0, hop = 0; // samples
    std::size_t segments = 0;
    std::vector<double> density = {};             // mean; unit^2/Hz
    std::vector<double> pair_density = {};        // mean over the pairs of neighbours; 0 where there is none
    std::vector<std::complex<double>> lag_1 = {}; // mean lag products, scaled as the density
    std::vector<std::complex<double>> lag_2 = {};
    // What the first and the last segments add to the means over all: foretelling each segment from the two before it
    // takes sums from the third on, which are exact for two tones only where these ends are left out.
    struct Ends {
        std::vector<double> first_power = {}, second_power = {}, last_but_one_power = {}, last_power = {};
        std::vector<std::complex<double>> first_pair = {}, last_pair = {};
    };
    Ends ends = {};       // scaled as the density
    double overlap = 0.0; // sum w[n] w[n + hop] / sum w^2: white noise's share in lag_1, 1/6

    double resolution_hz() const { return rate_hz / static_cast<double>(length); }
};

class LaggedSpectra {
public:
    // Segments of an even `length` >= 8 samples.
    LaggedSpectra(double rate_hz, std::size_t length);

    void add(std::span<const double> samples);

    LaggedSums sums() const;

private:
    void close_segment();

    double rate_hz_;
    SegmentDensity density_;
    std::size_t hop_;
    std::vector<double> pending_;
    std::size_t filled_ = 0, segments_ = 0;
    std::vector<double> power_, pair_power_, last_power_, before_last_power_, first_power_, second_power_;
    std::vector<std::complex<double>> last_, before_last_, lag_1_, lag_2_, first_pair_;
};

enum class Character {
    tone,        // steady in phase
    narrow_band, // noise around a resonance, or a tone that wanders
    undecided,   // fewer than six pairs of segments
};

struct Component {
    double hz = 0.0;
    double hz_uncertainty = 0.0; // standard, from the floor; of a tone
    double wander_hz = 0.0;      // standard deviation from segment to segment, the floor's share taken away; of a tone
                                 // alone in its lobe
    double rms = 0.0;            // as a tone, the floor taken away
    double above_floor = 0.0;    // ratio of densities
    double steadiness = 0.0;     // 1 of a tone, about 1/6 of noise
    double confidence = 0.0;     // probability that a flat floor of noise shows no bin as high
    Character character = Character::undecided;
    bool close_pair = false;            // another tone within 4 bins: resolved where beat_hz says how far away
    std::optional<double> beat_hz = {}; // distance to the strongest tone that close
};

// Local maxima at least `least_ratio` times the floor, greatest r.m.s. first; bins below three resolutions are left to
// slow motion, side lobes of stronger components are left out. Of a clean sine: frequency to a hundredth of a bin,
// amplitude to 0.1 %, and so of two in one bin.
std::vector<Component> components(const LaggedSums& sums, double least_ratio = 10.0);

// A carrier with lines at hz + k spacing on both sides: something modulates it.
struct Sideband {
    std::size_t component = 0; // index
    int k = 0;                 // -3 ... 3, not 0
};
struct SidebandFamily {
    std::size_t carrier = 0; // index
    double spacing_hz = 0.0; // mean over the members
    std::vector<Sideband> members = {};
};

// Families among lines of the given frequencies and r.m.s.; k = 1 is there on both sides, all are weaker than the
// carrier by no more than 40 dB. Multiples of one frequency are harmonics, not sidebands, where the fundamental itself
// stands out. `tolerance_hz`: how far a line may lie off its place. Lines that are so many that a family is
// there by chance (more than 1 in 200 by the carrier, were they spread evenly) make none.
std::vector<SidebandFamily> sideband_families(std::span<const SpectralLine> lines, double tolerance_hz);

// A component over rows of time.
struct TrackPoint {
    double time_s = 0.0; // middle of the row
    double hz = 0.0, rms = 0.0;
};
struct Track {
    std::vector<TrackPoint> points = {};      // of the rows in which it stands out, in order of time
    std::size_t rows = 0;                     // that there are
    double lowest_hz = 0.0, highest_hz = 0.0; // of the running median over three points
    double slope_hz_per_s = 0.0;              // least squares
    double jitter_hz = 0.0;                   // median step between neighbouring points: what is no drift
    // Beyond what jitter makes, and half a bin at least; found in three rows of five, and in five rows.
    bool drifts(double resolution_hz) const;
};

// Follows the line that is at `hz` in the row where it is strongest, in both directions of time, by at most
// `reach_bins` from one row to the next; a row in which it is less than `least_ratio` times the floor is left out.
Track track(const ChannelSpectra& spectra, double hz, double reach_bins = 2.5, double least_ratio = 10.0);

// Speed of a machine or vehicle against time; any unit.
struct SpeedPoint {
    double time_s = 0.0, speed = 0.0;
};
enum class Following {
    moves_along, // hz = order times speed
    stands_still,
    neither,
    cannot_tell, // the speed varies too little, or too few rows
};
struct FollowedSpeed {
    Following following = Following::cannot_tell;
    double order_hz_per_speed = 0.0;               // best fitting
    double off_along_hz = 0.0, off_still_hz = 0.0; // r.m.s. of what either leaves over
};
// `speed` in order of time, linear in between; points of the track outside it are left out.
FollowedSpeed followed(const Track& track, std::span<const SpeedPoint> speed, double resolution_hz);

} // namespace becalm::filters
