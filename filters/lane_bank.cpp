#include "filters/lane_bank.h"

#include <algorithm>
#include <array>
#include <cstring>

#if defined(__SSE2__)
#include <xmmintrin.h>
#endif

#include "filters/lane_kernel.h"

namespace becalm::filters {
namespace {

constexpr std::size_t widest = 8;
constexpr std::size_t piece_rows = 128;
constexpr std::size_t most_states = Stretches::most_states;

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
    input_ = AlignedBuffer((static_cast<std::size_t>(taps_ - 1) + std::min(block_rows, piece_rows)) * w);
    prompt_ = AlignedBuffer((static_cast<std::size_t>(longest_delay_) + std::min(block_rows, piece_rows)) * w);
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
    const auto side_by_side = [&](double* to) {
        for (std::size_t l = 0; l < lanes_.size(); ++l) {
            const double* channel = channels[lanes_[l].input] + at;
            for (std::size_t i = 0; i < rows; ++i) to[i * w + l] = channel[i];
        }
    };
    if (plain_) return side_by_side(output);
    const auto history = static_cast<std::size_t>(taps_ - 1), delay = static_cast<std::size_t>(longest_delay_);
    side_by_side(input_.data() + history * w);
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
    double* const filtered = delay == 0 ? output : prompt_.data() + delay * w;
    (width_ == 8 ? run.filter8 : run.filter4)(filter, input_.data() + history * w, filtered, rows);
    std::memmove(input_.data(), input_.data() + rows * w, history * w * sizeof(double));
    if (delay == 0) return;
    // What comes out is delayed, not what goes in: so a lane's states do not depend on those beside it.
    for (std::size_t l = 0; l < lanes_.size(); ++l) {
        const double* from = filtered - static_cast<std::size_t>(delay_[l]) * w + l;
        for (std::size_t i = 0; i < rows; ++i) output[i * w + l] = from[i * w];
    }
    std::memmove(prompt_.data(), prompt_.data() + rows * w, delay * w * sizeof(double));
}

void LaneGroup::interleave(std::span<const double* const> channels, std::size_t rows)
{
    std::array<const double*, widest> from{};
    for (std::size_t l = 0; l < lanes_.size(); ++l) from[l] = channels[lanes_[l].input];
    kernel::chosen().interleave(from.data(), lanes_.size(), static_cast<std::size_t>(width_), rows, output_.data());
}

void LaneGroup::run_stretches(std::size_t lane, const Stretches& stretches, const double* channel, double* input,
                              double* output)
{
    const kernel::Table& run = kernel::chosen();
    const auto slots = static_cast<std::size_t>(run.widest), w = static_cast<std::size_t>(width_);
    const std::size_t length = stretches.length, states = stretches.states,
                      before = static_cast<std::size_t>(taps_ - 1);
    // What lies before row 0: of the other stretches the end of the one before, of the first what the group remembers.
    for (std::size_t m = 1; m <= before; ++m) {
        double* const row = input - m * slots;
        row[0] = input_[(before - m) * w + lane];
        for (std::size_t j = 1; j < slots; ++j) row[j] = input[(length - m) * slots + j - 1];
    }

    alignas(64) std::array<double, most_states * widest> start{}, ends{}, sums{};
    const auto poles = static_cast<std::size_t>(stretches.poles);
    const auto remembered = [&](std::size_t s) -> double& {
        return s < poles ? pole_state_[s * w + lane] : section_state_[(s - poles) * w + lane];
    };
    for (std::size_t s = 0; s < states; ++s) start[s * slots] = remembered(s);
    for (std::size_t s = poles; s < states; s += 2) start[(s + 1) * slots] += start[s * slots];
    for (const Stretches::Piece& piece : stretches.pieces) {
        run.weigh(input + piece.from * static_cast<std::ptrdiff_t>(slots), piece.factors.data(), piece.rows, piece.rank,
                  sums.data());
        run.combine(piece.basis.size() > 0 ? piece.basis.data() : nullptr, sums.data(), piece.rank, states,
                    ends.data());
    }
    run.carry(stretches.carry.data(), states, stretches.padded, ends.data(), start.data());
    for (std::size_t s = poles; s < states; s += 2)
        for (std::size_t j = 0; j < slots; ++j) start[(s + 1) * slots + j] -= start[s * slots + j];

    const kernel::Filter filter{.taps = stretches.taps,
                                .poles = stretches.poles,
                                .sections = stretches.sections,
                                .tap = stretches.tap.data(),
                                .rho = stretches.rho.data(),
                                .residue = stretches.residue.data(),
                                .pole_state = start.data(),
                                .section = stretches.section.data(),
                                .section_state = start.data() + poles * slots};
    for (std::size_t i = 0; i < length; i += piece_rows)
        (slots == 8 ? run.filter8 : run.filter4)(filter, input + i * slots, output + i * slots,
                                                 std::min(piece_rows, length - i));

    for (std::size_t s = 0; s < states; ++s) remembered(s) = start[s * slots + slots - 1];
    for (std::size_t m = 1; m <= before; ++m) input_[(before - m) * w + lane] = channel[slots * length - m];

    // The same for what comes out, of which the group takes each lane as much later as the others need.
    const auto delay = static_cast<std::size_t>(delay_[lane]), longest = static_cast<std::size_t>(longest_delay_);
    for (std::size_t m = 1; m <= delay; ++m) {
        double* const row = output - m * slots;
        row[0] = prompt_[(longest - m) * w + lane];
        for (std::size_t j = 1; j < slots; ++j) row[j] = output[(length - m) * slots + j - 1];
    }
    for (std::size_t m = 1; m <= longest; ++m)
        prompt_[(longest - m) * w + lane] = output[(length - m) * slots + slots - 1];
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

    // Stretches shorter than this spend more on their beginnings than full vectors save.
    constexpr std::size_t least_length = 128;
    const auto slots = static_cast<std::size_t>(kernel::chosen().widest);
    if (block_rows % slots != 0 || block_rows / slots < least_length) return;
    length_ = block_rows / slots;
    std::size_t most_lanes = 0;
    for (std::size_t g = 0; g < groups_.size(); ++g) {
        LaneGroup& group = groups_[g];
        if (group.plain_) continue;
        most_lanes = std::max(most_lanes, group.lanes());
        for (std::size_t l = 0; l < group.lanes(); ++l) {
            weighted_.push_back({g, l, group.lanes_[l].input, stretches_of(group.lanes_[l].weighting, length_)});
            longest_past_ = std::max<std::size_t>(
                longest_past_, static_cast<std::size_t>(std::max(group.taps_ - 1, group.longest_delay_)));
        }
    }
    // One channel after the other, so that each is spread once a group.
    std::ranges::stable_sort(weighted_, {}, [](const Member& m) { return std::pair(m.group, m.input); });
    if (longest_past_ > length_) { // no weighting is as late as that
        length_ = 0;
        return;
    }
    if (weighted_.empty()) return;
    spread_ = AlignedBuffer((longest_past_ + length_) * slots);
    for (std::size_t l = 0; l < most_lanes; ++l) filtered_.emplace_back((longest_past_ + length_) * slots);
}

void LaneBank::process(std::span<const double* const> channels, std::size_t rows)
{
    const auto slots = static_cast<std::size_t>(kernel::chosen().widest);
    if (length_ > 0 && rows == length_ * slots) return process_in_stretches(channels);
    for (LaneGroup& group : groups_) group.process(channels, rows);
}

void LaneBank::process_in_stretches(std::span<const double* const> channels)
{
    const kernel::Table& run = kernel::chosen();
    const auto slots = static_cast<std::size_t>(run.widest);
    double* const input = spread_.data() + longest_past_ * slots;
    const double* is_spread = nullptr; // lanes with inputs of their own may still have the same one
    for (std::size_t m = 0; m < weighted_.size(); ++m) {
        const Member& member = weighted_[m];
        LaneGroup& group = groups_[member.group];
        const double* channel = channels[member.input];
        if (channel != is_spread) run.spread(channel, length_, input);
        is_spread = channel;
        group.run_stretches(member.lane, *member.stretches, channel, input,
                            filtered_[member.lane].data() + longest_past_ * slots);
        if (m + 1 < weighted_.size() && weighted_[m + 1].group == member.group) continue;
        std::array<const double*, widest> lanes{};
        for (std::size_t l = 0; l < group.lanes(); ++l)
            lanes[l] = filtered_[l].data() + (longest_past_ - static_cast<std::size_t>(group.delay_[l])) * slots;
        run.merge(lanes.data(), group.lanes(), static_cast<std::size_t>(group.width_), length_, group.output_.data());
    }
    for (LaneGroup& group : groups_)
        if (group.plain_) group.interleave(channels, length_ * slots);
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
