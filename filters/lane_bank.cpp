#include "filters/lane_bank.h"

#include <algorithm>
#include <cstring>

#if defined(__SSE2__)
#include <xmmintrin.h>
#endif

#include "filters/lane_kernel.h"

namespace becalm::filters {
namespace {

constexpr std::size_t widest = 8;
constexpr std::size_t piece_rows = 128;

bool is_plain(const BankLane& lane) { return lane.weighting->id == WeightingId::none; }

// Products and sums of a sample.
int cost(const DigitalWeighting& weighting)
{
    return static_cast<int>(2 * weighting.taps.size() + 4 * weighting.poles.size() + 9 * weighting.sections.size());
}

} // namespace

LaneGroup::LaneGroup(std::vector<BankLane> lanes, std::size_t block_rows)
    : lanes_(std::move(lanes)), width_(lanes_.size() > 4 ? 8 : 4), plain_(std::ranges::all_of(lanes_, is_plain))
{
    BECALM_ASSERT(!lanes_.empty() && lanes_.size() <= widest);
    const auto w = static_cast<std::size_t>(width_);
    for (const BankLane& lane : lanes_) {
        latency_ = std::max(latency_, lane.weighting->latency);
        taps_ = std::max(taps_, static_cast<int>(lane.weighting->taps.size()));
        poles_ = std::max(poles_, static_cast<int>(lane.weighting->poles.size()));
        sections_ = std::max(sections_, static_cast<int>(lane.weighting->sections.size()));
    }
    poles_ += poles_ % 2; // the kernel runs them in pairs
    for (const BankLane& lane : lanes_) delay_.push_back(latency_ - lane.weighting->latency);
    longest_delay_ = *std::ranges::max_element(delay_);

    tap_ = AlignedBuffer(static_cast<std::size_t>(taps_) * w);
    rho_ = AlignedBuffer(static_cast<std::size_t>(poles_) * w);
    residue_ = AlignedBuffer(static_cast<std::size_t>(poles_) * w);
    pole_state_ = AlignedBuffer(static_cast<std::size_t>(poles_) * w);
    section_ = AlignedBuffer(static_cast<std::size_t>(sections_) * 4 * w);
    section_state_ = AlignedBuffer(static_cast<std::size_t>(sections_) * 2 * w);
    for (std::size_t l = 0; l < lanes_.size(); ++l) {
        const DigitalWeighting& weighting = *lanes_[l].weighting;
        for (std::size_t k = 0; k < weighting.taps.size(); ++k) tap_[k * w + l] = weighting.taps[k];
        for (std::size_t k = 0; k < weighting.poles.size(); ++k) {
            rho_[k * w + l] = weighting.poles[k].rho;
            residue_[k * w + l] = weighting.poles[k].residue;
        }
        for (std::size_t k = 0; k < weighting.sections.size(); ++k) {
            const Section& section = weighting.sections[k];
            section_[(4 * k + 0) * w + l] = section.b1 - section.a1;
            section_[(4 * k + 1) * w + l] = section.b2 - section.a2;
            section_[(4 * k + 2) * w + l] = section.a1;
            section_[(4 * k + 3) * w + l] = section.a2;
        }
    }
    input_ =
        AlignedBuffer((static_cast<std::size_t>(taps_ - 1 + longest_delay_) + std::min(block_rows, piece_rows)) * w);
    output_ = AlignedBuffer(block_rows * w);
}

void LaneGroup::process(std::span<const double* const> channels, std::size_t rows)
{
    // A few rows at a time: what one step leaves, the next finds in the innermost cache.
    for (std::size_t at = 0; at < rows; at += piece_rows) process(channels, at, std::min(piece_rows, rows - at));
}

void LaneGroup::process(std::span<const double* const> channels, std::size_t at, std::size_t rows)
{
    const auto w = static_cast<std::size_t>(width_);
    double* const output = output_.data() + at * w;
    // Lane by lane into the rows that start at `to`, each `delay` rows later.
    const auto side_by_side = [&](double* to, auto&& delay) {
        for (std::size_t l = 0; l < lanes_.size(); ++l) {
            const double* channel = channels[lanes_[l].input] + at;
            double* row = to + delay(l) * w + l;
            for (std::size_t i = 0; i < rows; ++i) row[i * w] = channel[i];
        }
    };
    if (plain_) return side_by_side(output, [](std::size_t) { return std::size_t{0}; });
    // Rows: the taps' history, this block, and what the lanes' delays push beyond it into the next.
    const auto history = static_cast<std::size_t>(taps_ - 1);
    side_by_side(input_.data() + history * w, [&](std::size_t l) { return static_cast<std::size_t>(delay_[l]); });
    const kernel::Filter filter{.taps = taps_,
                                .poles = poles_,
                                .sections = sections_,
                                .tap = tap_.data(),
                                .rho = rho_.data(),
                                .residue = residue_.data(),
                                .pole_state = pole_state_.data(),
                                .section = section_.data(),
                                .section_state = section_state_.data()};
    const kernel::Table& run = kernel::chosen();
    (width_ == 8 ? run.filter8 : run.filter4)(filter, input_.data() + history * w, output, rows);
    const std::size_t kept = history + static_cast<std::size_t>(longest_delay_);
    std::memmove(input_.data(), input_.data() + rows * w, kept * w * sizeof(double));
}

LaneBank::LaneBank(std::span<const BankLane> lanes, std::size_t block_rows)
{
    // Full vectors first, for a lane in a half-empty one costs as much as four; among full ones, lanes of the same
    // cost together, so that few pay for another's long correction.
    std::vector<std::size_t> order(lanes.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    const auto shape = [&](std::size_t i) {
        const DigitalWeighting& weighting = *lanes[i].weighting;
        return std::pair(is_plain(lanes[i]), -cost(weighting)); // the long ones first
    };
    std::ranges::stable_sort(order, {}, shape);

    places_.resize(lanes.size());
    std::vector<BankLane> members;
    const auto close_group = [&] {
        if (!members.empty()) groups_.emplace_back(std::move(members), block_rows);
        members.clear();
    };
    for (const std::size_t i : order) {
        const bool fits = members.empty() || (members.size() < static_cast<std::size_t>(kernel::chosen().widest) &&
                                              is_plain(members.front()) == is_plain(lanes[i]));
        if (!fits) close_group();
        places_[i] = {groups_.size(), members.size()};
        members.push_back(lanes[i]);
    }
    close_group();
}

void LaneBank::process(std::span<const double* const> channels, std::size_t rows)
{
    for (LaneGroup& group : groups_) group.process(channels, rows);
}

int LaneBank::greatest_latency() const
{
    int latency = 0;
    for (const LaneGroup& group : groups_) latency = std::max(latency, group.latency());
    return latency;
}

FlushSubnormals::FlushSubnormals()
{
#if defined(__SSE2__)
    saved_ = _mm_getcsr();
    _mm_setcsr(saved_ | 0x8040U); // flush to zero, denormals are zero
#endif
}

FlushSubnormals::~FlushSubnormals()
{
#if defined(__SSE2__)
    _mm_setcsr(saved_);
#endif
}

} // namespace becalm::filters
