// What the shape of one channel's raw samples tells of its sensor, cable and converter, in one pass and in memory that
// does not grow with duration: spikes, short bursts of high frequency, flattened extremes, bits that never change, how
// the mean wanders. What is a fault and what is not, evaluators/fitness.h decides. All thresholds are common practice
// without a source.
//
// Second differences c[i] = x[i - 1] - 2 x[i] + x[i + 1] bring out what is fast. They are summed as squares over
// stretches of 20 ms (16 samples at least). A stretch stands out where its sum is the greatest of the two stretches
// before and after it, and more than 25 times that of the third and fourth on either side. In it, as seen around its
// greatest |c|:
//   spike   c is A, -2 A, A of a single sample, or A, -A, -A, A of two (any of the four may be the greatest), within a
//           quarter, and at most a third of that within 10 ms about them: no motion that passed a filter against
//           aliasing is like this
//   burst   everything else whose second differences are great beside its first ones: from about a tenth of the rate on
// The first and the last four stretches of a span are not looked at, nor are those at a joint of spans (pass.h).
//
// Flattened extremes: time spent within h and within 2 h of an extreme. A crest is a parabola and spends sqrt(2) as
// long in the second, noise much longer; a flattened one hardly longer. A tone that is sampled in step with the rate
// can imitate that by its few phases, but not how it bends: on a crest c is as great as anywhere, on a flattened one it
// is near nothing. Both are asked for. How it bends is taken where a sample and both its neighbours lie within h: the
// two ends of a flattened crest are corners, which bend more than anything.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

namespace becalm::filters {

struct FastEvent {
    std::int64_t at = 0;       // sample index of the greatest |c|
    double height = 0.0;       // greatest |c| / 2, and |c| of a spike of two samples: how high a spike is
    double background = 0.0;   // r.m.s. of c / 2 in the stretches it was held against
    std::int64_t is_spike = 0; // 1 or 0: as wide as the others, so that no byte between them lies unset in the cache

    friend bool operator==(const FastEvent&, const FastEvent&) = default;
};

// The mean of the samples in `width` seconds, which is a power of 2.
struct WanderingMean {
    double sum = 0.0; // about the first sample
    double count = 0.0;
};

// Time near one extreme, of the blocks looked at.
struct Flatness {
    std::int64_t samples = 0; // within h of the extreme
    double h = 0.0;           // relative to the distance from the mean to the extreme
    double growth = 0.0;      // samples within 2 h / samples; 0: not known
    std::int64_t inner = 0;   // of these, with both neighbours within h
    double bend = 0.0; // r.m.s. of c of the inner ones / the greater of that of all samples and of those below the
                       // crests; 0 where there are none
};

class FaultScan {
public:
    // `step` is one quantisation step of integer samples in the unit of the samples, 0 for others. `begin` is the
    // index of the selection's first sample, of which the seconds are counted.
    explicit FaultScan(double rate_hz = 1.0, std::int64_t begin = 0, double step = 0.0);

    // Finite samples that follow the ones before without a gap and cross no second; `least` and `greatest` of them.
    void add(const double* values, std::size_t count, std::int64_t first, double least, double greatest);

    // Takes over what the scan of the following span has found.
    void merge(const FaultScan& next);

    // No samples follow: what is kept from here on is small.
    void finish();

    const std::vector<FastEvent>& events() const { return events_; } // in order of time
    std::int64_t uncounted() const { return uncounted_; }            // events beyond the 512 that are kept
    const Flatness& low() const { return flat_[0]; }                 // after finish(): the flattest h
    const Flatness& high() const { return flat_[1]; }
    // Bit k of the stored integers: set where it changed once at least. 0 where the samples are no integers.
    std::uint32_t changing_bits() const { return changing_; }
    std::uint32_t set_bits() const { return set_; } // of the first sample
    const std::vector<WanderingMean>& means() const { return means_; }
    std::int64_t mean_width_s() const { return width_s_; }
    double first() const { return first_; } // means are about this

    template <class Archive, class Scan>
    static void serialize(Archive& archive, Scan& scan)
    {
        archive(scan.rate_hz_, scan.begin_, scan.step_, scan.first_, scan.has_first_, scan.events_, scan.uncounted_,
                scan.flat_, scan.changing_, scan.set_, scan.means_, scan.width_s_);
    }

private:
    struct Cell {
        double count = 0.0, bend = 0.0;       // samples, sum of c^2
        double inner = 0.0, inner_bend = 0.0; // by the outermost of a sample and its neighbours, only near the extremes

        void add(const Cell& other)
        {
            count += other.count;
            bend += other.bend;
            inner += other.inner;
            inner_bend += other.inner_bend;
        }
    };
    void add_mean(const double* values, std::size_t count, std::int64_t first);
    void add_bits(const double* values, std::size_t count, double least, double greatest);
    void add_levels(const double* values, std::size_t count, double least, double greatest);
    void make_room(double least, double greatest);
    void close_stretches();
    void look_at(std::size_t middle);
    void widen(std::int64_t width_s);
    void count_bin(std::int64_t bin, double sum, double count);
    Flatness flatness(bool high) const;

    double rate_hz_;
    std::int64_t begin_;
    double step_;
    double first_ = 0.0;
    std::int32_t has_first_ = 0;

    std::int64_t length_;                // of a stretch, samples
    std::vector<double> tail_ = {};      // the samples that stretches still need
    std::int64_t tail_begin_ = 0;        // index of tail_[0]
    std::vector<double> stretches_ = {}; // sums of c^2 of those of tail_, from its second sample on
    std::vector<FastEvent> events_ = {};
    std::int64_t uncounted_ = 0;

    std::vector<Cell> levels_ = {};
    double level_low_ = 0.0, level_width_ = 0.0;
    double least_ = 0.0, greatest_ = 0.0;
    std::int64_t levelled_ = 0, seen_ = 0, blocks_ = 0;
    std::array<Flatness, 2> flat_ = {};

    std::uint32_t changing_ = 0, set_ = 0;
    std::vector<WanderingMean> means_ = {};
    std::int64_t width_s_ = 1;
};

} // namespace becalm::filters
