// The running filters of one recording: every lane once, side by side, at rest before the first sample.
//
// Channels in, weighted lanes out, block by block. Lanes without a weighting pass through. Lanes that share a group
// share its latency (shorter ones are delayed to the longest), which the owner removes: output row i belongs to input
// sample i - latency.
//
// A full block of a bank runs lane by lane, each in stretches of time side by side (filters/stretches.h); other counts
// of rows, and a group by itself, run sample after sample with the lanes side by side. Both leave the same state and
// agree to rounding, so a caller who wants the same bits every time gives full blocks every time.
#pragma once

#include <cstddef>
#include <memory>
#include <span>
#include <vector>

#include "filters/aligned_buffer.h"
#include "filters/digital_design.h"
#include "filters/stretches.h"

namespace becalm::filters {

// One lane of the bank: which channel buffer feeds it, through which filter.
struct BankLane {
    std::size_t input = 0; // index into the channel buffers given to process()
    std::shared_ptr<const DigitalWeighting> weighting;
};

// At most 8 lanes that run together as one vector of `width` (4 or 8) doubles.
class LaneGroup {
public:
    LaneGroup(std::vector<BankLane> lanes, std::size_t block_rows);

    // `rows` <= block_rows samples of every channel; channels[i] is a contiguous buffer. The rows that come out stay
    // valid until the next call: rows() [i * width() + lane].
    void process(std::span<const double* const> channels, std::size_t rows);

    const double* rows() const { return output_.data(); }
    int width() const { return width_; }
    int latency() const { return latency_; }
    std::size_t lanes() const { return lanes_.size(); }

private:
    friend class LaneBank;

    void process(std::span<const double* const> channels, std::size_t at, std::size_t rows);
    void interleave(std::span<const double* const> channels, std::size_t rows);
    // One lane through a whole block: `input` and `output` [length][W] from row 0 on, with room before it that is
    // filled here. `channel` is the same block as it came.
    void run_stretches(std::size_t lane, const Stretches& stretches, const double* channel, double* input,
                       double* output);

    std::vector<BankLane> lanes_;
    int width_ = 4;
    int latency_ = 0;
    int taps_ = 1, poles_ = 0, sections_ = 0;
    std::vector<int> delay_; // of each lane, so that all share the group's latency
    int longest_delay_ = 0;
    AlignedBuffer tap_, rho_, residue_, pole_state_, section_, section_state_;
    AlignedBuffer input_;  // [taps - 1 + piece][width]
    AlignedBuffer prompt_; // [longest delay + piece][width]: what came out before it is delayed
    AlignedBuffer output_; // [block][width]
    bool plain_ = false;   // no lane is weighted
};

class LaneBank {
public:
    static constexpr std::size_t usual_block = 4032; // 8 stretches of 504, 4 of 1,008: not a power of 2, for whose
                                                     // multiples the cache has but one place
    // `lanes` in any order; they are grouped, the weighted apart from the plain. The order of lanes() is the order
    // given.
    LaneBank(std::span<const BankLane> lanes, std::size_t block_rows);

    void process(std::span<const double* const> channels, std::size_t rows);

    struct Place {
        std::size_t group;
        std::size_t lane;
    };
    const std::vector<Place>& places() const { return places_; } // of each lane given
    std::vector<LaneGroup>& groups() { return groups_; }
    int greatest_latency() const;

private:
    struct Member {
        std::size_t group, lane, input;
        std::shared_ptr<const Stretches> stretches;
    };
    void process_in_stretches(std::span<const double* const> channels);

    std::vector<LaneGroup> groups_;
    std::vector<Place> places_;
    std::size_t length_ = 0;       // of a stretch; 0: blocks do not fit
    std::vector<Member> weighted_; // in order of group and input
    std::size_t longest_past_ = 0;
    AlignedBuffer spread_;                // [longest past + length][W] of one channel
    std::vector<AlignedBuffer> filtered_; // [length][W] of each lane of a group
};

// Treats the subnormal numbers that a filter at rest decays into as zero while in scope: they are below any signal and
// slow the processor a hundredfold.
class FlushSubnormals {
public:
    FlushSubnormals();
    ~FlushSubnormals();
    FlushSubnormals(const FlushSubnormals&) = delete;
    FlushSubnormals& operator=(const FlushSubnormals&) = delete;

private:
    unsigned saved_ = 0;
};

} // namespace becalm::filters
