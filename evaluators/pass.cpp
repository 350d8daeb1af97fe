#include "evaluators/pass.h"

#include <algorithm>
#include <atomic>
#include <chrono>
#include <cmath>
#include <condition_variable>
#include <deque>
#include <limits>
#include <memory>
#include <mutex>
#include <thread>
#include <tuple>

#include <fmt/format.h>

#include "filters/digital_design.h"
#include "filters/half_cycles.h"
#include "filters/lane_bank.h"
#include "filters/lane_kernel.h"
#include "filters/motion_bins.h"
#include "filters/row_accumulator.h"
#include "filters/spectrum_rows.h"
#include "filters/weighting.h"
#include "filters/welch.h"
#include "src/io/file_hash.h"

namespace becalm::evaluators {
namespace {

constexpr std::size_t read_frames = filters::LaneBank::usual_block; // which the lanes run through at a time
constexpr std::size_t scan_frames = 512;   // stay in the innermost cache while they are looked at
constexpr double averager_memory_s = 28.0; // exp(-28) of what the 1 s exponential mean saw before
constexpr std::int64_t most_seconds_of_swings = 3600;
constexpr std::size_t most_half_cycles = 2'000'000;
constexpr std::size_t many_rows = 600; // of a stream, handed over together where they come fast
constexpr std::chrono::seconds longest_wait_for_rows{1};

// Everything about one recording that its spans share.
struct Plan {
    const PassRequest* request = nullptr;
    io::RecordingInfo info = {};
    std::vector<int> channels = {};  // file channels (from 1) in use, ascending
    std::vector<double> offset = {}; // of each of them, SI
    std::vector<Lane> lanes = {};    // unique, those that run
    std::vector<filters::BankLane> bank = {};
    std::vector<double> memory_s = {}; // of each of their filters
    std::vector<std::pair<Lane, Problem>> refused = {};
    std::int64_t begin = 0, end = 0; // selected frames
    std::int64_t seconds = 0;        // ledger rows
    std::size_t segment = 0;         // samples of a spectrum's segment; 0: no spectra
    std::size_t row_segments = 1;    // segments of a row
    std::function<void(const Lane&, const double*, std::size_t count, std::size_t stride)> listen = {};
    std::optional<filters::SpectrumLayout> layout = {}; // of spectra in rows
    std::vector<std::size_t> spectra_of = {};           // index into channels; those that have such spectra,
    std::vector<std::size_t> motion_of = {};            // and motion bins
    std::vector<std::size_t> swings_of = {};            // index into lanes
};

struct SpanResult {
    std::vector<std::vector<LedgerRow>> rows = {}; // of each lane
    std::vector<Tally> tallies = {};
    std::vector<LaneSpectrum> spectra = {};
    std::vector<filters::ChannelScan> scans = {};
    std::vector<filters::FaultScan> faults = {};
    std::vector<filters::SpectrumRows> spectrum_rows = {}; // of each of Plan::spectra_of
    std::vector<std::vector<MotionBin>> motion_bins = {};  // of each of Plan::motion_of
    std::vector<filters::HalfCycles> half_cycles = {};     // of each of Plan::swings_of
};

filters::FaultScan fault_scan(const Plan& plan)
{
    const double step = plan.info.integer_pcm ? std::abs(plan.info.step * plan.request->to_si) : 0.0;
    return filters::FaultScan(plan.info.rate_hz, plan.begin, step);
}

Problem stopped(const std::string& path)
{
    return {.kind = ProblemKind::outside_world, .file = path, .what = "stopped before the end", .remedy = ""};
}

std::size_t index_of(const std::vector<int>& channels, int channel)
{
    return static_cast<std::size_t>(std::ranges::lower_bound(channels, channel) - channels.begin());
}

Result<std::vector<double>> mean_of_first(io::RecordingReader& reader, const Plan& plan, std::int64_t frames,
                                          const std::stop_token& stop)
{
    std::vector<double> sum(plan.channels.size(), 0.0);
    std::vector<std::int64_t> count(plan.channels.size(), 0);
    const auto width = static_cast<std::size_t>(plan.info.channels);
    std::vector<double> values(read_frames * width);
    std::int64_t left = frames;
    while (left > 0) {
        if (stop.stop_requested()) return tl::unexpected(stopped(plan.request->path));
        const auto wanted = static_cast<std::size_t>(std::min<std::int64_t>(left, read_frames));
        const Result<std::size_t> got = reader.read(std::span(values).first(wanted * width));
        if (!got) return tl::unexpected(got.error());
        if (*got == 0) break;
        for (std::size_t c = 0; c < plan.channels.size(); ++c) {
            const auto channel = static_cast<std::size_t>(plan.channels[c] - 1);
            for (std::size_t i = 0; i < *got; ++i) {
                const double value = values[i * width + channel];
                if (!std::isfinite(value)) continue;
                sum[c] += value;
                ++count[c];
            }
        }
        left -= static_cast<std::int64_t>(*got);
    }
    for (std::size_t c = 0; c < sum.size(); ++c)
        sum[c] = count[c] > 0 ? sum[c] / static_cast<double>(count[c]) * plan.request->to_si : 0.0;
    return sum;
}

bool asks_for_swings(const PassRequest& request, const Lane& lane)
{
    return std::ranges::find(request.swing_lanes, lane) != request.swing_lanes.end();
}

void plan_reducers(Plan& plan)
{
    const PassRequest& request = *plan.request;
    const double rate_hz = plan.info.rate_hz;
    const auto named = [](const std::vector<int>& channels, int channel) {
        return std::ranges::find(channels, channel) != channels.end();
    };
    if (!request.spectra_channels.empty())
        plan.layout = filters::spectrum_layout(rate_hz, plan.end - plan.begin, span_seconds,
                                               request.whole_spectra ? 1 : filters::usual_spectrum_rows);
    const bool has_bins = rate_hz >= static_cast<double>(filters::MotionBins::bins_a_second);
    for (std::size_t c = 0; c < plan.channels.size(); ++c) {
        if (plan.layout && named(request.spectra_channels, plan.channels[c])) plan.spectra_of.push_back(c);
        if (has_bins && named(request.motion_channels, plan.channels[c])) plan.motion_of.push_back(c);
    }
    for (const Lane& lane : request.swing_lanes)
        BECALM_ASSERT(std::ranges::find(request.lanes, lane) != request.lanes.end());
    if (plan.seconds > most_seconds_of_swings) return;
    for (std::size_t l = 0; l < plan.lanes.size(); ++l)
        if (asks_for_swings(request, plan.lanes[l])) plan.swings_of.push_back(l);
}

Result<Plan> plan_for(const PassRequest& request, io::RecordingReader& reader, const std::stop_token& stop)
{
    Plan plan{.request = &request, .info = reader.info()};
    const io::RecordingInfo& info = plan.info;
    if (info.integer_pcm && !request.scale_given)
        return fail({.file = request.path,
                     .what = fmt::format("its samples ({}) are {}, not a physical quantity", info.format,
                                         info.step < 1.0 ? "parts of full scale" : "counts"),
                     .remedy = fmt::format(
                         "add the line `scale = N` to its [[recording]], or --scale N on the command line: {} is "
                         "N of the unit",
                         io::one_of(info))});
    for (const Lane& lane : request.lanes) plan.channels.push_back(lane.channel);
    for (const auto* channels : {&request.spectra_channels, &request.motion_channels})
        plan.channels.insert(plan.channels.end(), channels->begin(), channels->end());
    for (const int channel : plan.channels)
        if (channel < 1 || channel > info.channels)
            return fail(
                {.file = request.path,
                 .what = fmt::format("channel {} is asked for, but the recording has {}", channel, info.channels),
                 .remedy = "correct the channel mapping"});
    std::ranges::sort(plan.channels);
    plan.channels.erase(std::ranges::unique(plan.channels).begin(), plan.channels.end());

    for (const Lane& lane : request.lanes) {
        if (std::ranges::find(plan.lanes, lane) != plan.lanes.end()) continue;
        auto weighting = filters::design(lane.weighting, request.input, info.rate_hz);
        if (!weighting) {
            plan.refused.emplace_back(lane, weighting.error());
            continue;
        }
        plan.lanes.push_back(lane);
        plan.bank.push_back({index_of(plan.channels, lane.channel), *weighting});
        plan.memory_s.push_back(filters::memory_s(**weighting));
    }

    const double duration = static_cast<double>(info.frames) / info.rate_hz;
    std::tie(plan.begin, plan.end) = selected_frames(info, request.span);
    if (plan.begin >= plan.end)
        return fail(
            {.file = request.path,
             .what = fmt::format(
                 "nothing is selected: the recording lasts {:.6g} s, the span begins at {:.6g} s{}", duration,
                 request.span.from_s,
                 std::isfinite(request.span.to_s) ? fmt::format(" and ends at {:.6g} s", request.span.to_s) : ""),
             .remedy = "choose a span inside the recording"});
    plan.seconds =
        static_cast<std::int64_t>(std::ceil(static_cast<double>(plan.end - plan.begin) / info.rate_hz - 1e-9));

    if (request.resolution_hz) {
        const auto segment = std::llround(info.rate_hz / *request.resolution_hz);
        if (segment < 8)
            return fail({.file = request.path,
                         .what = fmt::format("a resolution of {:.6g} Hz is too coarse for a rate of {:.6g} Hz",
                                             *request.resolution_hz, info.rate_hz),
                         .remedy = "ask for a finer one"});
        if (segment > plan.end - plan.begin)
            return fail(
                {.file = request.path,
                 .what = fmt::format("{:.6g} s are too short for a resolution of {:.6g} Hz, which needs {:.6g} s",
                                     static_cast<double>(plan.end - plan.begin) / info.rate_hz, *request.resolution_hz,
                                     static_cast<double>(segment) / info.rate_hz),
                 .remedy = "ask for a coarser one or measure longer"});
        plan.segment = static_cast<std::size_t>(segment);
        plan.row_segments = static_cast<std::size_t>(std::max<std::int64_t>(
            1, std::llround(request.spectrum_row_s * info.rate_hz / static_cast<double>(segment / 2))));
    }

    plan_reducers(plan);

    plan.offset.assign(plan.channels.size(), 0.0);
    if (request.offset != OffsetRule::none) {
        const std::int64_t first = request.offset == OffsetRule::mean
                                       ? info.frames
                                       : std::min<std::int64_t>(info.frames, std::llround(10.0 * info.rate_hz));
        auto means = mean_of_first(reader, plan, first, stop);
        if (!means) return tl::unexpected(means.error());
        plan.offset = std::move(*means);
        if (const auto sought = reader.seek(0); !sought) return tl::unexpected(sought.error());
    }
    return plan;
}

// The lanes as the bank of a span runs them: each has an input of its own, for each begins at its own time.
std::vector<filters::BankLane> with_inputs_of_their_own(std::vector<filters::BankLane> lanes)
{
    for (std::size_t l = 0; l < lanes.size(); ++l) lanes[l].input = l;
    return lanes;
}

// Runs seconds [from, to) of the selection through the filters and into ledger rows. What comes out of a lane, and of a
// channel's scan, is the same to the last bit whichever lanes run beside it: a lane stays at rest until its own filter
// has to begin, and the blocks are counted from the span's first sample. Lanes always run through whole blocks; those
// that begin before the filters or reach beyond the end are filled up with silence.
//
// Reducers take what lies in the span itself and leave the joints to those who put the spans together (Assembly):
// motion bins fit whole seconds; half cycles that the ends cut become one again; spectra are those of the segments that
// begin in the span, which is therefore read on as far as its last segment reaches.
class SpanRun {
public:
    SpanRun(const Plan& plan, std::int64_t from_second, std::int64_t to_second)
        : plan_(plan), bank_(with_inputs_of_their_own(plan.bank), read_frames), core_second_(from_second),
          warm_second_(std::max<std::int64_t>(0, from_second - static_cast<std::int64_t>(averager_memory_s))),
          core_begin_(frame_of(from_second)), core_end_(std::min(plan.end, frame_of(to_second))),
          file_end_(plan.info.frames)
    {
        statistics_begin_ = filter_begin_ = frame_of(warm_second_);
        for (const double memory_s : plan.memory_s) {
            const auto memory = static_cast<std::int64_t>(std::ceil(memory_s * plan.info.rate_hz));
            lane_begins_.push_back(std::max<std::int64_t>(0, statistics_begin_ - memory));
            filter_begin_ = std::min(filter_begin_, lane_begins_.back());
        }
        for (filters::LaneGroup& group : bank_.groups())
            accumulators_.emplace_back(group.width(), group.lanes(), plan.info.rate_hz, warm_second_);
        if (plan.segment > 0)
            for (std::size_t l = 0; l < plan.lanes.size(); ++l)
                spectra_.emplace_back(plan.info.rate_hz, plan.segment, plan.row_segments);
        scans_.assign(plan.channels.size(), filters::ChannelScan(plan.info.rate_hz));
        faults_.assign(plan.channels.size(), fault_scan(plan));
        raw_.resize(plan.channels.size());
        warm_rows_left_.assign(plan.lanes.size(), core_second_ - warm_second_);
        rows_taken_.assign(plan.lanes.size(), 0);
        result_.rows.resize(plan.lanes.size());
        result_.tallies.resize(plan.lanes.size());
        for (std::size_t c = 0; c < plan.channels.size(); ++c) channels_.emplace_back(read_frames);
        late_.resize(plan.lanes.size());
        inputs_.assign(plan.lanes.size(), rest_.data());
        lanes_end_ = input_end_ = core_end_ + bank_.greatest_latency();
        begin_reducers(to_second);
    }

    template <class OnFrames>
    Result<SpanResult> run(io::RecordingReader& reader, const std::stop_token& stop, OnFrames&& on_frames)
    {
        const filters::FlushSubnormals flush;
        const auto width = static_cast<std::size_t>(plan_.info.channels);
        if (const auto sought = reader.seek(filter_begin_); !sought) return tl::unexpected(sought.error());
        std::vector<double> values(read_frames * width);
        frame_ = filter_begin_;
        block_begin_ = frame_ + frames_to_next_read() - static_cast<std::int64_t>(read_frames);
        while (frame_ < input_end_) {
            if (stop.stop_requested()) return tl::unexpected(stopped(plan_.request->path));
            const std::int64_t until = std::min(input_end_, file_end_);
            std::size_t frames = 0;
            if (frame_ < until) {
                const auto wanted = static_cast<std::size_t>(std::min(until - frame_, frames_to_next_read()));
                const Result<std::size_t> got = reader.read(std::span(values).first(wanted * width));
                if (!got) return tl::unexpected(got.error());
                if (*got == 0 && reader.info().frames < file_end_) { // of a stream, whose length its end tells
                    ends_at(reader.info().frames);
                    continue;
                }
                if (*got == 0)
                    return fail({.kind = ProblemKind::outside_world,
                                 .file = plan_.request->path,
                                 .what = fmt::format(
                                     "the file ends at frame {} where {} were promised; it changed while it was read",
                                     frame_, plan_.info.frames),
                                 .remedy = "copy it again and repeat"});
                frames = *got;
                take(values.data(), frames);
            } else { // beyond the file: silence, so that the last samples come out of the filters
                frames = static_cast<std::size_t>(std::min(input_end_ - frame_, frames_to_next_read()));
                take(nullptr, frames);
            }
            if (frame_ == input_end_ || frame_ == block_begin_ + static_cast<std::int64_t>(read_frames)) close_block();
            on_frames(frames);
        }
        for (auto& accumulator : accumulators_) accumulator.finish();
        take_rows();
        for (const filters::Welch& welch : spectra_)
            result_.spectra.push_back({.resolution_hz = welch.resolution_hz(),
                                       .segments = welch.segments(),
                                       .density = welch.density(),
                                       .row_segments = welch.row_segments(),
                                       .rows = welch.rows(),
                                       .greatest = welch.greatest(),
                                       .least = welch.least()});
        result_.scans = std::move(scans_);
        result_.faults = std::move(faults_);
        finish_reducers();
        return std::move(result_);
    }

    // Those of each lane that are finished, where rows are kept; whoever takes some of them away has them.
    std::vector<std::vector<LedgerRow>>& rows() { return result_.rows; }

private:
    void begin_reducers(std::int64_t to_second)
    {
        const double rate_hz = plan_.info.rate_hz;
        if (!plan_.spectra_of.empty()) {
            static_assert(span_seconds % filters::spectrum_hop_s == 0);
            const filters::SpectrumLayout& layout = *plan_.layout;
            const std::int64_t first = layout.segments_before(core_second_), end = layout.segments_before(to_second);
            if (first < end) {
                density_.emplace(rate_hz, layout.length);
                for (std::size_t i = 0; i < plan_.spectra_of.size(); ++i)
                    streams_.emplace_back(layout, *density_, first, end);
                input_end_ = std::max(input_end_, plan_.begin + layout.end_of(end - 1));
            }
        }
        for (std::size_t i = 0; i < plan_.motion_of.size(); ++i) bins_.emplace_back(rate_hz, core_second_);
        result_.half_cycles.assign(plan_.swings_of.size(), filters::HalfCycles(most_half_cycles));
    }

    // `rows` samples of every channel from frame_ on, which is not before the span.
    void reduce(std::size_t rows, bool core)
    {
        const auto at = static_cast<std::size_t>(frame_ - block_begin_);
        const auto samples = [&](std::size_t channel) { return std::span(channels_[channel].data() + at, rows); };
        for (std::size_t i = 0; i < streams_.size(); ++i) streams_[i].add(samples(plan_.spectra_of[i]));
        if (!core) return;
        for (std::size_t i = 0; i < bins_.size(); ++i) bins_[i].add(samples(plan_.motion_of[i]));
    }

    void finish_reducers()
    {
        for (std::size_t i = 0; i < plan_.spectra_of.size(); ++i)
            result_.spectrum_rows.push_back(streams_.empty() ? filters::SpectrumRows(*plan_.layout)
                                                             : std::move(streams_[i].rows()));
        for (filters::MotionBins& bins : bins_) {
            bins.finish();
            result_.motion_bins.push_back(std::move(bins.bins()));
        }
    }

    void ends_at(std::int64_t frame)
    {
        file_end_ = frame;
        core_end_ = std::min(core_end_, frame);
        lanes_end_ = input_end_ = std::min(lanes_end_, core_end_ + bank_.greatest_latency());
    }

    std::int64_t frame_of(std::int64_t second) const
    {
        return plan_.begin + filters::RowAccumulator::first_sample_of(second, plan_.info.rate_hz);
    }

    // Reads end whole numbers of blocks from the span's first sample, wherever the filters begin.
    std::int64_t frames_to_next_read() const
    {
        constexpr auto length = static_cast<std::int64_t>(read_frames);
        const std::int64_t beyond = (frame_ - core_begin_) % length;
        return length - (beyond < 0 ? beyond + length : beyond);
    }

    void take(const double* interleaved, std::size_t frames)
    {
        const auto width = static_cast<std::size_t>(plan_.info.channels);
        std::size_t done = 0;
        while (done < frames) {
            // Blocks end with the ledger's seconds, so that a second's raw range is that of whole blocks.
            std::int64_t until = frame_ + static_cast<std::int64_t>(std::min(scan_frames, frames - done));
            const bool core = frame_ >= core_begin_ && frame_ < core_end_ && interleaved != nullptr;
            if (frame_ < core_begin_) until = std::min(until, core_begin_);
            if (core) {
                while (frame_ >= next_second_begin_) begin_second();
                until = std::min({until, next_second_begin_, core_end_});
            }
            const auto rows = static_cast<std::size_t>(until - frame_);
            for (std::size_t c = 0; c < channels_.size(); ++c) {
                double* x = channels_[c].data() + (frame_ - block_begin_);
                if (interleaved == nullptr) {
                    std::fill_n(x, rows, 0.0);
                    continue;
                }
                const double* in = interleaved + done * width + static_cast<std::size_t>(plan_.channels[c] - 1);
                filters::kernel::chosen().channel(in, width, plan_.request->to_si, x, rows);
                const double offset = plan_.offset[c];
                if (core) {
                    const auto range = scans_[c].add(x, rows, frame_, offset);
                    // What is no number was overwritten by the offset, which may lie outside the range of the others.
                    faults_[c].add(x, rows, frame_, std::min(range.min, offset), std::max(range.max, offset));
                    auto& [low, high] = raw_[c].back();
                    low = std::min(low, range.min);
                    high = std::max(high, range.max);
                } else {
                    for (std::size_t i = 0; i < rows; ++i)
                        if (!std::isfinite(x[i])) x[i] = offset;
                }
                if (offset != 0.0)
                    for (std::size_t i = 0; i < rows; ++i) x[i] -= offset;
            }
            if (interleaved != nullptr && frame_ >= core_begin_) reduce(rows, core);
            frame_ += static_cast<std::int64_t>(rows);
            done += rows;
        }
    }

    void close_block()
    {
        const auto end = block_begin_ + static_cast<std::int64_t>(read_frames);
        for (filters::AlignedBuffer& channel : channels_)
            std::fill_n(channel.data() + (frame_ - block_begin_), end - frame_, 0.0);
        if (block_begin_ < lanes_end_) run_lanes();
        block_begin_ = end;
        take_rows();
    }

    void begin_second()
    {
        const auto opened = core_second_ + raw_seconds_;
        ++raw_seconds_;
        next_second_begin_ = frame_of(opened + 1);
        for (auto& rows : raw_)
            rows.emplace_back(std::numeric_limits<double>::infinity(), -std::numeric_limits<double>::infinity());
    }

    void run_lanes()
    {
        const auto rows = static_cast<std::int64_t>(read_frames);
        for (std::size_t l = 0; l < inputs_.size(); ++l) {
            const double* const channel = channels_[plan_.bank[l].input].data();
            const std::int64_t late = std::clamp<std::int64_t>(lane_begins_[l] - block_begin_, 0, rows);
            inputs_[l] = late == 0 ? channel : rest_.data();
            if (late == 0 || late == rows) continue;
            late_[l].assign(read_frames, 0.0); // it begins within this block
            std::copy(channel + late, channel + rows, late_[l].begin() + late);
            inputs_[l] = late_[l].data();
        }
        bank_.process(inputs_, read_frames);
        for (std::size_t g = 0; g < accumulators_.size(); ++g) accumulate(g);
    }

    // The rows that came out of group g belong to input frames block_begin_ - latency on.
    void accumulate(std::size_t g)
    {
        filters::LaneGroup& group = bank_.groups()[g];
        const std::int64_t first = block_begin_ - group.latency();
        const std::int64_t from = std::max(first, statistics_begin_);
        const std::int64_t to = std::min(first + static_cast<std::int64_t>(read_frames), core_end_);
        if (from >= to) return;
        const double* samples = group.rows() + (from - first) * group.width();
        const auto count = static_cast<std::size_t>(to - from);
        accumulators_[g].add(samples, count);
        for (std::size_t i = 0; i < plan_.swings_of.size(); ++i) {
            const auto place = bank_.places()[plan_.swings_of[i]];
            const std::int64_t begin = std::max(from, core_begin_);
            if (place.group != g || begin >= to) continue;
            result_.half_cycles[i].add(group.rows() + (begin - first) * group.width() + place.lane,
                                       static_cast<std::size_t>(to - begin), static_cast<std::size_t>(group.width()),
                                       begin - plan_.begin);
        }
        if (spectra_.empty() && !plan_.listen) return;
        const auto stride = static_cast<std::size_t>(group.width());
        for (std::size_t l = 0; l < plan_.lanes.size(); ++l) {
            const auto place = bank_.places()[l];
            if (place.group != g) continue;
            if (!spectra_.empty()) spectra_[l].add(samples + place.lane, count, stride);
            if (plan_.listen) plan_.listen(plan_.lanes[l], samples + place.lane, count, stride);
        }
    }

    // Takes over the rows that are finished, so that they do not pile up where nobody keeps them.
    void take_rows()
    {
        std::int64_t done = std::max<std::int64_t>(0, raw_seconds_ - 1);
        for (std::size_t l = 0; l < plan_.lanes.size(); ++l) {
            const auto place = bank_.places()[l];
            std::vector<LedgerRow>& rows = accumulators_[place.group].rows_of(place.lane);
            const auto& raw = raw_[plan_.bank[l].input];
            for (LedgerRow& row : rows) {
                if (warm_rows_left_[l] > 0) {
                    --warm_rows_left_[l];
                    continue;
                }
                // A second without a single finite sample has the offset in the place of them all.
                const auto& [low, high] = raw[static_cast<std::size_t>(rows_taken_[l]++ - raw_begin_)];
                const double offset = plan_.offset[plan_.bank[l].input];
                row.raw_min = low <= high ? low : offset;
                row.raw_max = low <= high ? high : offset;
                // The selection starts from rest, so its own first row counts in full as well.
                result_.tallies[l].add(row, plan_.info.rate_hz, false);
                if (plan_.request->keep_rows) result_.rows[l].push_back(row);
            }
            rows.clear();
            done = std::min(done, rows_taken_[l]);
        }
        for (auto& raw : raw_) raw.erase(raw.begin(), raw.begin() + (done - raw_begin_));
        raw_begin_ = done;
    }

    const Plan& plan_;
    filters::LaneBank bank_;
    std::vector<filters::RowAccumulator> accumulators_;
    std::vector<filters::Welch> spectra_; // of each lane, or none
    std::optional<filters::SegmentDensity> density_;
    std::vector<filters::SpectrumStream> streams_; // of each of Plan::spectra_of, or none
    std::vector<filters::MotionBins> bins_;        // of each of Plan::motion_of
    std::vector<filters::ChannelScan> scans_;
    std::vector<filters::FaultScan> faults_;
    std::vector<std::vector<std::pair<double, double>>> raw_; // of each channel: least and greatest value of a second
    std::int64_t raw_begin_ = 0, raw_seconds_ = 0;          // seconds of the span: the first one held, and those begun
    std::vector<std::int64_t> warm_rows_left_, rows_taken_; // of each lane
    SpanResult result_;
    std::vector<filters::AlignedBuffer> channels_; // the block from block_begin_ on
    std::vector<double> rest_ = std::vector<double>(read_frames, 0.0);
    std::vector<std::vector<double>> late_; // of each lane: the block in which it begins
    std::vector<const double*> inputs_;     // of each lane
    std::vector<std::int64_t> lane_begins_; // frame from which each lane is filtered
    std::int64_t core_second_, warm_second_;
    std::int64_t core_begin_, core_end_;
    std::int64_t file_end_;
    std::int64_t statistics_begin_ = 0, filter_begin_ = 0, frame_ = 0, block_begin_ = 0;
    std::int64_t lanes_end_ = 0, input_end_ = 0; // frames that the lanes need, and all that is read
    std::int64_t next_second_begin_ = std::numeric_limits<std::int64_t>::min();
};

// Puts the spans of a recording together. They are taken over as soon as those before are there, so that what lies
// about between the spans does not grow with duration.
class Assembly {
public:
    explicit Assembly(const Plan& plan)
        : plan_(plan), scans_(plan.channels.size(), filters::ChannelScan(plan.info.rate_hz)),
          faults_(plan.channels.size(), fault_scan(plan)), bins_(plan.motion_of.size()),
          half_cycles_(plan.swings_of.size(), filters::HalfCycles(most_half_cycles))
    {
        for (const Lane& lane : plan.lanes) {
            lanes_.push_back({.lane = lane});
            lanes_.back().ledger = {.lane = lane, .rate_hz = plan.info.rate_hz, .first_second = 0};
        }
        for (std::size_t i = 0; i < plan.spectra_of.size(); ++i) spectra_.emplace_back(*plan.layout);
    }

    // In order of time.
    void add(Result<SpanResult> span)
    {
        if (fault_) return;
        if (!span) {
            fault_ = std::move(span.error());
            return;
        }
        for (std::size_t l = 0; l < lanes_.size(); ++l) {
            lanes_[l].tally = merge(lanes_[l].tally, span->tallies[l]);
            auto& rows = lanes_[l].ledger.rows;
            rows.insert(rows.end(), span->rows[l].begin(), span->rows[l].end());
            if (!span->spectra.empty()) lanes_[l].spectrum = std::move(span->spectra[l]); // one span then
        }
        for (std::size_t c = 0; c < scans_.size(); ++c) {
            scans_[c].merge(span->scans[c]);
            faults_[c].merge(span->faults[c]);
        }
        for (std::size_t i = 0; i < spectra_.size(); ++i) spectra_[i].append(std::move(span->spectrum_rows[i]));
        for (std::size_t i = 0; i < bins_.size(); ++i)
            bins_[i].insert(bins_[i].end(), span->motion_bins[i].begin(), span->motion_bins[i].end());
        for (std::size_t i = 0; i < half_cycles_.size(); ++i) half_cycles_[i].append(span->half_cycles[i]);
    }

    Result<PassResult> result() &&
    {
        if (fault_) return tl::unexpected(std::move(*fault_));
        PassResult result;
        result.info = plan_.info;
        result.from_s = static_cast<double>(plan_.begin) / plan_.info.rate_hz;
        result.duration_s = static_cast<double>(plan_.end - plan_.begin) / plan_.info.rate_hz;
        for (std::size_t c = 0; c < scans_.size(); ++c) {
            faults_[c].finish();
            result.channels.push_back(
                {plan_.channels[c], plan_.offset[c], std::move(scans_[c]), std::move(faults_[c])});
        }
        give_reducers(result);

        for (const Lane& lane : plan_.request->lanes) {
            const auto found = std::ranges::find(lanes_, lane, &LaneResult::lane);
            if (found != lanes_.end()) {
                result.lanes.push_back(*found);
                continue;
            }
            const auto refused = std::ranges::find(plan_.refused, lane, &std::pair<Lane, Problem>::first);
            result.lanes.push_back({.lane = lane, .refused = refused->second});
            if (asks_for_swings(*plan_.request, lane))
                result.lanes.back().swings = LaneSwings{.refused = refused->second};
        }
        return result;
    }

private:
    void give_reducers(PassResult& result)
    {
        const PassRequest& request = *plan_.request;
        for (const int channel : request.spectra_channels)
            result.channels[index_of(plan_.channels, channel)].spectra = {.rate_hz = plan_.info.rate_hz};
        for (const int channel : request.motion_channels)
            result.channels[index_of(plan_.channels, channel)].motion = {.bin_s = filters::MotionBins::bin_s};
        for (std::size_t i = 0; i < spectra_.size(); ++i)
            result.channels[plan_.spectra_of[i]].spectra = std::move(spectra_[i]).spectra();
        for (std::size_t i = 0; i < bins_.size(); ++i)
            result.channels[plan_.motion_of[i]].motion->bins = std::move(bins_[i]);

        for (LaneResult& lane : lanes_)
            if (asks_for_swings(request, lane.lane))
                lane.swings = LaneSwings{
                    .refused = Problem{.file = request.path,
                                       .what = fmt::format("swings are gathered over {} s at most, and {:.6g} s are "
                                                           "selected",
                                                           most_seconds_of_swings, result.duration_s),
                                       .remedy = "select less"}};
        for (std::size_t i = 0; i < half_cycles_.size(); ++i) {
            LaneSwings& swings = *lanes_[plan_.swings_of[i]].swings;
            swings = {};
            if (half_cycles_[i].is_overfull())
                swings.refused = Problem{.file = request.path,
                                         .what = fmt::format("it crosses zero more than {} times, too many for swings "
                                                             "to be gathered",
                                                             most_half_cycles),
                                         .remedy = "select less, or a weighting that takes high frequencies away"};
            else
                swings.swings = half_cycles_[i].swings(plan_.info.rate_hz);
        }
    }

    const Plan& plan_;
    std::optional<Problem> fault_; // the first one
    std::vector<LaneResult> lanes_;
    std::vector<filters::ChannelScan> scans_;
    std::vector<filters::FaultScan> faults_;
    std::vector<filters::SpectrumRows> spectra_;   // of each of Plan::spectra_of
    std::vector<std::vector<MotionBin>> bins_;     // of each of Plan::motion_of
    std::vector<filters::HalfCycles> half_cycles_; // of each of Plan::swings_of
};

// The work of one call: a queue that the threads empty, to which opening a long recording adds its spans.
class Run {
public:
    Run(std::span<const PassRequest> requests, const PassOptions& options)
        : options_(options), requests_(requests), recordings_(requests.size())
    {
        for (std::size_t r = 0; r < requests.size(); ++r) {
            queue_.push_back([this, r] { open(r); });
            if (requests[r].hash) queue_.push_back([this, r] { hash(r); });
            recordings_[r].parts_left = requests[r].hash ? 2 : 1;
        }
        outstanding_ = queue_.size();
    }

    std::vector<Result<PassResult>> results()
    {
        const unsigned cores = std::max(1U, std::thread::hardware_concurrency());
        const auto jobs = options_.jobs > 0 ? static_cast<std::size_t>(options_.jobs) : std::size_t{cores};
        {
            std::vector<std::jthread> threads;
            for (std::size_t i = 1; i < jobs; ++i) threads.emplace_back([this] { work(); });
            work();
        }
        std::vector<Result<PassResult>> results;
        for (Recording& recording : recordings_) results.push_back(std::move(recording.result));
        return results;
    }

private:
    struct Recording {
        Plan plan = {};
        std::mutex joining = {};
        std::vector<std::optional<Result<SpanResult>>> spans = {}; // that wait for one before them
        std::size_t joined = 0;
        std::optional<Assembly> assembly = {};
        std::atomic<int> parts_left{1}; // the pass and, where asked for, the hash
        std::atomic<std::int64_t> frames_done{0};
        std::atomic<std::int64_t> frames_total{0};
        Result<std::string> sha256{std::string()};
        Result<PassResult> result{tl::unexpected(Problem{.what = "not read"})};
    };

    void work()
    {
        while (true) {
            std::function<void()> task;
            {
                std::unique_lock lock(mutex_);
                ready_.wait(lock, [this] { return !queue_.empty() || outstanding_ == 0; });
                if (queue_.empty()) return;
                task = std::move(queue_.front());
                queue_.pop_front();
            }
            task();
            const std::lock_guard lock(mutex_);
            if (--outstanding_ == 0) ready_.notify_all();
        }
    }

    void hash(std::size_t r)
    {
        if (options_.stop.stop_requested())
            recordings_[r].sha256 = tl::unexpected(stopped(requests_[r].path));
        else
            recordings_[r].sha256 = io::sha256_of_recording(requests_[r].path);
        close_part(r);
    }

    void close_part(std::size_t r)
    {
        Recording& recording = recordings_[r];
        if (--recording.parts_left > 0) return;
        if (recording.result && !recording.sha256)
            recording.result = tl::unexpected(recording.sha256.error());
        else if (recording.result)
            recording.result->sha256 = std::move(*recording.sha256);
        if (options_.finished) options_.finished(r, recording.result);
    }

    void refuse(std::size_t r, Problem problem)
    {
        recordings_[r].result = tl::unexpected(std::move(problem));
        close_part(r);
    }

    void open(std::size_t r)
    {
        const PassRequest& request = requests_[r];
        Recording& recording = recordings_[r];
        if (options_.stop.stop_requested()) return refuse(r, stopped(request.path));
        auto reader = io::open_recording(request.path, request.read);
        if (!reader) return refuse(r, reader.error());
        auto plan = plan_for(request, **reader, options_.stop);
        if (!plan) return refuse(r, plan.error());
        recording.plan = std::move(*plan);
        if (options_.lane_samples)
            recording.plan.listen = [this, r,
                                     rate_hz = recording.plan.info.rate_hz](const Lane& lane, const double* samples,
                                                                            std::size_t count, std::size_t stride) {
                options_.lane_samples({r, lane, rate_hz, samples, count, stride});
            };
        recording.frames_total = recording.plan.end - recording.plan.begin;
        const bool whole = !recording.plan.info.seekable || recording.plan.segment > 0 || recording.plan.listen ||
                           recording.plan.seconds <= span_seconds;
        const std::int64_t length = whole ? recording.plan.seconds : span_seconds;
        const auto spans = static_cast<std::size_t>((recording.plan.seconds + length - 1) / length);
        recording.spans.resize(spans);
        recording.assembly.emplace(recording.plan);
        if (spans > 1) {
            const std::lock_guard lock(mutex_);
            for (std::size_t k = spans; k-- > 1;)
                queue_.push_front([this, r, k, length] { close_span(r, k, reopened_span(r, k, length)); });
            outstanding_ += spans - 1;
            ready_.notify_all();
        }
        close_span(r, 0, run_span(recording, **reader, 0, length));
    }

    Result<SpanResult> reopened_span(std::size_t r, std::size_t k, std::int64_t length)
    {
        auto reader = io::open_recording(requests_[r].path, requests_[r].read);
        if (!reader) return tl::unexpected(reader.error());
        return run_span(recordings_[r], **reader, k, length);
    }

    Result<SpanResult> run_span(Recording& recording, io::RecordingReader& reader, std::size_t k, std::int64_t length)
    {
        const auto from = static_cast<std::int64_t>(k) * length;
        SpanRun span(recording.plan, from, std::min(from + length, recording.plan.seconds));
        return span.run(reader, options_.stop, [&](std::size_t frames) {
            recording.frames_done += static_cast<std::int64_t>(frames);
            report();
        });
    }

    void close_span(std::size_t r, std::size_t k, Result<SpanResult> result)
    {
        Recording& recording = recordings_[r];
        {
            const std::lock_guard lock(recording.joining);
            recording.spans[k] = std::move(result);
            for (std::size_t& next = recording.joined; next < recording.spans.size() && recording.spans[next]; ++next) {
                recording.assembly->add(std::move(*recording.spans[next]));
                recording.spans[next] = SpanResult{};
            }
            if (recording.joined < recording.spans.size()) return;
        }
        recording.result = std::move(*recording.assembly).result();
        recording.assembly.reset();
        recording.spans.clear();
        close_part(r);
    }

    void report()
    {
        if (!options_.progress) return;
        const std::unique_lock lock(progress_mutex_, std::try_to_lock);
        if (!lock) return;
        const auto now = std::chrono::steady_clock::now();
        if (now - last_report_ < std::chrono::milliseconds(100)) return;
        last_report_ = now;
        double done = 0.0;
        for (const Recording& recording : recordings_) {
            const std::int64_t total = recording.frames_total;
            if (total > 0)
                done += std::min(1.0, static_cast<double>(recording.frames_done) / static_cast<double>(total));
        }
        options_.progress(done / static_cast<double>(recordings_.size()));
    }

    const PassOptions& options_;
    std::span<const PassRequest> requests_;
    std::deque<Recording> recordings_;
    std::mutex mutex_;
    std::condition_variable ready_;
    std::deque<std::function<void()>> queue_;
    std::size_t outstanding_ = 0;
    std::mutex progress_mutex_;
    std::chrono::steady_clock::time_point last_report_{};
};

} // namespace

std::pair<std::int64_t, std::int64_t> selected_frames(const io::RecordingInfo& info, const TimeSpan& span)
{
    const auto frame_at = [&](double second) { // clamped before it becomes an integer
        return static_cast<std::int64_t>(
            std::clamp(std::ceil(second * info.rate_hz - 1e-6), 0.0, static_cast<double>(info.frames)));
    };
    const double duration = static_cast<double>(info.frames) / info.rate_hz;
    const std::int64_t end = span.to_s >= duration ? info.frames : frame_at(span.to_s);
    return {std::min(frame_at(span.from_s), end), end};
}

std::vector<Result<PassResult>> run_passes(std::span<const PassRequest> requests, const PassOptions& options)
{
    return Run(requests, options).results();
}

Result<PassResult> run_stream(io::StreamReader& stream, const PassRequest& asked, const StreamOptions& options)
{
    BECALM_ASSERT(asked.spectra_channels.empty() && asked.motion_channels.empty() && asked.swing_lanes.empty() &&
                  !asked.resolution_hz && asked.offset != OffsetRule::mean);
    PassRequest request = asked;
    request.span = {};
    request.hash = false;
    request.keep_rows = static_cast<bool>(options.rows);
    stream.keep(std::llround(10.0 * stream.info().rate_hz)); // of which the offset is taken
    // The ends of files stop a pass; that of a stream is none of the stop's business: it comes as the stream's end.
    auto planned = plan_for(request, stream, {});
    if (!planned) return tl::unexpected(planned.error());
    Plan& plan = *planned;
    const double rate_hz = plan.info.rate_hz;
    double memory_s = 0.0;
    int latency = 0;
    for (const double one : plan.memory_s) memory_s = std::max(memory_s, one);
    for (const auto& lane : plan.bank) latency = std::max(latency, lane.weighting->latency);
    // A span begins so much before the end of what the span before it has read.
    stream.keep(static_cast<std::int64_t>(std::ceil((averager_memory_s + memory_s + 2.0) * rate_hz)) + latency +
                static_cast<std::int64_t>(read_frames));

    Assembly assembly(plan);
    std::stop_source stopping; // of reading on, where the rows cannot be handed over
    auto handed_over = std::chrono::steady_clock::now();
    std::vector<double> probe(static_cast<std::size_t>(plan.info.channels));
    for (std::int64_t second = 0;; second += span_seconds) {
        // Where the stream ended with the span before, there is no span that begins here.
        if (auto sought = stream.seek(filters::RowAccumulator::first_sample_of(second, rate_hz)); !sought) {
            if (stream.info().frames != io::frames_not_known) break;
            return tl::unexpected(sought.error());
        }
        const Result<std::size_t> more = stream.read(probe);
        if (!more) return tl::unexpected(more.error());
        if (*more == 0) break;
        SpanRun running(plan, second, second + span_seconds);
        std::optional<Problem> refused;
        const auto hand_over = [&](std::vector<std::vector<LedgerRow>>& rows, std::size_t least) {
            std::size_t whole = std::numeric_limits<std::size_t>::max(); // lanes come out one after the other
            for (const auto& lane : rows) whole = std::min(whole, lane.size());
            if (refused || rows.empty() || whole == 0 || whole < least) return;
            std::vector<std::vector<LedgerRow>> finished;
            for (auto& lane : rows) {
                const auto end = lane.begin() + static_cast<std::ptrdiff_t>(whole);
                finished.emplace_back(lane.begin(), end);
                lane.erase(lane.begin(), end);
            }
            if (auto kept = options.rows(plan.lanes, finished); !kept) refused = std::move(kept.error());
            handed_over = std::chrono::steady_clock::now();
        };
        auto span = running.run(stream, stopping.get_token(), [&](std::size_t frames) {
            if (options.progress) options.progress(frames);
            if (!options.rows) return;
            const bool due = std::chrono::steady_clock::now() - handed_over > longest_wait_for_rows;
            hand_over(running.rows(), due ? 1 : many_rows);
            if (refused) stopping.request_stop();
        });
        if (refused) return tl::unexpected(std::move(*refused));
        if (!span) return tl::unexpected(span.error());
        if (options.rows) hand_over(span->rows, 1);
        if (refused) return tl::unexpected(std::move(*refused));
        assembly.add(std::move(span));
    }
    plan.info = stream.info();
    plan.end = plan.info.frames;
    if (plan.end == 0)
        return fail({.kind = ProblemKind::outside_world,
                     .file = request.path,
                     .what = "the stream ended before its first frame",
                     .remedy = "look at what sends it"});
    plan.seconds = static_cast<std::int64_t>(std::ceil(static_cast<double>(plan.end) / rate_hz - 1e-9));
    return std::move(assembly).result();
}

} // namespace becalm::evaluators
