// The motion of a whole record as acceleration, velocity and displacement: filtered, integrated and differentiated in
// one step in the frequency domain.
//
//   Y(f) = (2 pi j f)^n T(f) B(f) X(f)
//   n = derivative_order(from) - derivative_order(to): 1 differentiates, -1 integrates
//   T = 0 below f_low / sqrt 2, 1 above f_low, and between them (1 - cos(pi (f - f_low / sqrt 2) / (f_low - f_low /
//   sqrt 2))) / 2
//   B = |H| of a high-pass and a low-pass where wanted: Butterworth's 1 / sqrt(1 + (f_c / f)^2N), 1 / sqrt(1 + (f /
//   f_c)^2N)
// The filters have no phase and are applied once: -3 dB at f_c, not the -6 dB of one that is run forth and back.
//
// Nothing below f_low / sqrt 2 comes through, so that an integration needs no initial values and drift has no say. The
// lower limit is part of the result and is to be told with it: where the acceleration is white, the displacement's
// r.m.s. rises by 2.8 with every halving of it.
//
// The mean is taken away and the record is continued by zeros on both sides. Near its ends the result depends on what
// came before and after, which nobody recorded: where the motion does not begin and end in quiet, expect errors of some
// 3 % of its r.m.s. at 3 / f_low from the ends, 0.4 % at 5 / f_low (edge_s), 0.1 % at 10 / f_low (measured by double
// integration of sines from 1.2 f_low to 40 f_low).
//
// HistoryStream does the same to a record of any length in pieces that overlap: each is faded in and out by raised
// cosines that add up to 1, converted with zeros on both sides, and added with its tails, which are cut 10 / f_low
// away. The worst sample of hours of white noise is then 1.2e-3 of the r.m.s. beside History's, 2e-4 where a high-pass
// of order 4 lies at 2 f_low, and less than 1e-5 for sines (measured). Content right at half the rate adds 5e-4 to what
// is integrated or differentiated once, whose spectrum jumps there.
//
// [common practice; where the transition lies, and the pieces, are this project's choice]
#pragma once

#include <complex>
#include <cstddef>
#include <functional>
#include <numbers>
#include <optional>
#include <span>
#include <vector>

#include "filters/fft.h"
#include "src/base/problem.h"
#include "src/base/units.h"

namespace becalm::filters {

// Butterworth magnitude without phase.
struct ZeroPhaseFilter {
    double hz = 0.0; // where it lets sqrt(1/2) pass
    int order = 4;   // N, 1 ... 16: 6 N dB an octave
};

inline constexpr double lower_transition_begins = 1.0 / std::numbers::sqrt2; // of f_low
inline constexpr double lower_transition = 1.0 - lower_transition_begins;    // of f_low; its duration resolves it

struct HistoryLimits {
    double lower_hz = 0.0; // f_low > 0
    std::optional<ZeroPhaseFilter> high_pass = {}, low_pass = {};
};

class History {
public:
    static constexpr std::size_t most_samples = std::size_t{1} << 24; // 16.8 million; takes 0.7 GB while it works

    // Of samples of `motion` in its SI unit. Refuses a lower limit whose transition the record cannot resolve, that is
    // less than 1 / (f_low - f_low / sqrt 2) = 3.41 / f_low of duration; limits that lie beyond half the rate or leave
    // nothing between them; more than most_samples; samples that are no numbers.
    static Result<History> of(std::span<const double> samples, double rate_hz, Motion motion,
                              const HistoryLimits& limits);

    // As many samples as the record has, in the SI unit of `motion`.
    std::vector<double> as(Motion motion) const;

    // 5 / f_low: how far from the ends the result is at the mercy of what lies beyond them.
    double edge_s() const { return edge_s_; }

private:
    History() = default;
    Motion motion_ = Motion::acceleration;
    double rate_hz_ = 0.0, edge_s_ = 0.0;
    std::size_t samples_ = 0, length_ = 0;       // of the record, of the transform
    std::vector<std::complex<double>> spectrum_; // limits applied
};

// Several channels of one rate side by side.
class HistoryStream {
public:
    static constexpr std::size_t most_held = std::size_t{1} << 25; // samples held at once, over all channels: 0.27 GB

    struct Wanted {
        double rate_hz = 0.0;
        Motion motion = Motion::acceleration; // of the samples, in its SI unit
        std::vector<Motion> as = {};          // not empty
        // As for History; lower_hz may be 0 where nothing is integrated. Then only the mean is taken away below.
        HistoryLimits limits = {};
        std::size_t samples = 0;        // that will come, of each channel
        std::vector<double> means = {}; // of the channels over all of them
    };

    // Refuses what History::of refuses but for the number of samples, lower_hz = 0 for an integration, and limits so
    // low for so many channels that more than most_held would be held.
    static Result<HistoryStream> of(const Wanted& wanted);

    // Called with what is ready, in order of time: series[c * as.size() + m] is channel c as motion m, equally many
    // samples each.
    using OnReady = std::function<void(std::span<const std::span<const double>> series)>;

    // Equally many samples of each channel, finite, no more than announced. With the last of them all becomes ready.
    void add(std::span<const std::span<const double>> channels, const OnReady& on_ready);

    // 5 / f_low as for History; without a lower limit 5 / f_c of the low-pass and at least 100 samples.
    double edge_s() const { return edge_s_; }

    // Once all is ready: the part of the mean square of a series that lies below `hz`.
    double share_below(std::size_t series, double hz) const;

private:
    HistoryStream() = default;
    void convert(bool is_last, const OnReady& on_ready);

    double rate_hz_ = 0.0, edge_s_ = 0.0;
    std::size_t samples_ = 0, motions_ = 0;
    std::size_t hop_ = 0, ramp_ = 0; // a piece has hop_ + ramp_ samples and shares ramp_ with the next
    std::size_t front_ = 0;          // zeros before a piece, where the tail of what follows lies
    std::size_t held_ = 0;           // samples of the piece being filled
    std::size_t begin_ = 0;          // its first sample in the record
    std::size_t come_ = 0, gone_ = 0;
    std::vector<double> means_, fade_;
    std::vector<std::vector<std::complex<double>>> responses_; // of the motions
    std::vector<std::vector<double>> pieces_;                  // of the channels
    std::vector<std::vector<double>> sums_;                    // of the series, from begin_ - front_ on
    std::vector<std::vector<double>> energies_;                // of the series, in bands of energy_bins bins
    std::optional<RealFft> forward_ = {};
    std::optional<InverseRealFft> inverse_ = {};
};

} // namespace becalm::filters
