#include "evaluators/weighted_series.h"

#include <algorithm>
#include <cmath>
#include <new>
#include <tuple>

#include <fmt/format.h>

#include "evaluators/fitness.h"
#include "evaluators/selected_samples.h"
#include "filters/digital_design.h"

namespace becalm::evaluators {
namespace {

std::size_t place_of(const std::vector<Lane>& lanes, const Lane& lane)
{
    const auto found = std::ranges::find(lanes, lane);
    BECALM_ASSERT(found != lanes.end());
    return static_cast<std::size_t>(found - lanes.begin());
}

} // namespace

Result<WeightedSeries> weighted_series(const std::string& path, const WeighOptions& options, bool samples)
{
    auto request = request_for(path, options);
    if (!request) return tl::unexpected(request.error());
    request->keep_rows = true;

    WeightedSeries series;
    bool apart = false; // the samples by a pass of their own
    PassOptions listening{.jobs = options.jobs, .progress = options.progress, .stop = options.stop};
    if (samples) {
        const auto reader = io::open_recording(path, request->read);
        if (!reader) return tl::unexpected(reader.error());
        const auto [begin, end] = selected_frames((*reader)->info(), options.span);
        apart = static_cast<double>(end - begin) / (*reader)->info().rate_hz > static_cast<double>(span_seconds);
        series.samples.resize(request->lanes.size());
        // All of it now: the pass must not run out of memory.
        for (auto& lane : series.samples) lane.reserve(static_cast<std::size_t>(end - begin));
        listening.lane_samples = [&](const PassOptions::Samples& heard) {
            std::vector<double>& lane = series.samples[place_of(request->lanes, heard.lane)];
            const std::size_t count = std::min(heard.count, lane.capacity() - lane.size());
            for (std::size_t i = 0; i < count; ++i) lane.push_back(heard.samples[i * heard.stride]);
        };
    }
    PassOptions running = listening;
    if (apart) running.lane_samples = {};
    auto passes = run_passes(std::span(&*request, 1), running);
    if (!passes.front()) return tl::unexpected(passes.front().error());
    PassResult& pass = *passes.front();
    if (apart) {
        PassRequest again = *request;
        again.hash = again.keep_rows = again.whole_spectra = false;
        again.spectra_channels.clear();
        const auto heard = run_passes(std::span(&again, 1), listening);
        if (!heard.front()) return tl::unexpected(heard.front().error());
    }

    series.weighed = weighed_file(path, pass, options);
    series.info = std::move(pass.info);
    series.recorded_unit = std::string(si_unit_of(options.unit.motion, options.unit.rotates));
    for (LaneResult& lane : pass.lanes) series.ledgers.push_back(std::move(lane.ledger));
    for (std::size_t l = 0; l < series.ledgers.size(); ++l)
        if (!series.weighed.lanes[l].rms) { // refused, or gaps that the filters were carried across
            series.ledgers[l].lane = request->lanes[l];
            series.ledgers[l].rate_hz = series.info.rate_hz;
            series.ledgers[l].rows.clear();
            if (samples) series.samples[l] = {};
        }
    return series;
}

LedgerLane ledger_lane(const WeightedSeries& series, std::size_t lane)
{
    return {.ledger = &series.ledgers[lane],
            .file = series.weighed.file,
            .sha256 = series.weighed.sha256,
            .start = series.info.start,
            .unit = series.weighed.lanes[lane].unit,
            .recorded_unit = series.recorded_unit,
            .selected = {{}},
            .why_unfit = {}};
}

Folded folded(const LedgerLane& lane, const std::vector<TimeSpan>& spans)
{
    const Tally tally = fold(*lane.ledger, spans.empty() ? lane.selected : spans);
    return {tally, weighed_lane(lane.ledger->lane, lane.unit, tally)};
}

Result<std::unique_ptr<WeightedBlocks>> WeightedBlocks::open(const std::string& path, const WeighOptions& options,
                                                             double block_s)
{
    auto request = request_for(path, options);
    if (!request) return tl::unexpected(request.error());
    const auto reader = io::open_recording(path, request->read);
    if (!reader) return tl::unexpected(reader.error());
    request->hash = false;

    std::unique_ptr<WeightedBlocks> blocks(new WeightedBlocks);
    blocks->info_ = (*reader)->info();
    std::tie(blocks->begin_, blocks->end_) = selected_frames(blocks->info_, options.span);
    const double selected = static_cast<double>(blocks->end_ - blocks->begin_);
    blocks->frames_ =
        static_cast<std::size_t>(std::max(1.0, std::min(selected, std::round(block_s * blocks->info_.rate_hz))));
    if (blocks->frames_ > most_samples_in_memory / std::max<std::size_t>(1, request->lanes.size()))
        return fail({.kind = ProblemKind::usage,
                     .file = path,
                     .what = fmt::format("blocks of {:.6g} s of {} lanes are too long", block_s, request->lanes.size()),
                     .remedy = "ask for shorter ones"});
    for (const Lane& lane : request->lanes) {
        const auto designed = filters::design(lane.weighting, options.unit.motion, blocks->info_.rate_hz);
        if (!designed) {
            Problem problem = designed.error();
            if (problem.file.empty()) problem.file = path;
            return tl::unexpected(std::move(problem));
        }
        blocks->keys_.push_back(lane);
        blocks->lanes_.push_back(weighed_lane(lane, std::string(unit_behind(lane, options.unit.motion)), {}));
    }
    blocks->waiting_.resize(blocks->keys_.size());
    blocks->reader_ =
        std::jthread([own = blocks.get(), request = std::move(*request), options] { own->run(request, options); });
    return blocks;
}

WeightedBlocks::~WeightedBlocks() { stop_.request_stop(); }

void WeightedBlocks::run(const PassRequest& request, const WeighOptions& options)
{
    const auto passes = run_passes(
        std::span(&request, 1),
        {.jobs = 1, .stop = stop_.get_token(), .lane_samples = [this](const auto& samples) { take(samples); }});
    std::optional<Problem> fault;
    const auto& pass = passes.front();
    if (!pass)
        fault = pass.error();
    else {
        const WeighedFile weighed = weighed_file(request.path, *pass, options);
        const auto lost = std::ranges::find(weighed.findings, "not-a-number", &Finding::code);
        if (lost != weighed.findings.end())
            fault = Problem{
                .file = request.path, .what = lost->message, .remedy = "use nothing of what was weighted across it"};
        else if (!waiting_.empty())
            cut(waiting_.front().size());
    }
    const std::lock_guard lock(mutex_);
    if (!fault_) fault_ = std::move(fault);
    over_ = true;
    changed_.notify_all();
}

void WeightedBlocks::take(const PassOptions::Samples& samples)
{
    if (stop_.stop_requested()) return;
    try {
        std::vector<double>& mine = waiting_[place_of(keys_, samples.lane)];
        mine.reserve(frames_);
        for (std::size_t i = 0; i < samples.count; ++i) mine.push_back(samples.samples[i * samples.stride]);
        const auto has_block = [this](const std::vector<double>& lane) { return lane.size() >= frames_; };
        while (std::ranges::all_of(waiting_, has_block)) cut(frames_);
    } catch (const std::bad_alloc&) {
        const std::lock_guard lock(mutex_);
        fault_ = Problem{.kind = ProblemKind::outside_world,
                         .file = {},
                         .what = "there is not memory enough for a block",
                         .remedy = "ask for shorter ones"};
        stop_.request_stop();
    }
}

void WeightedBlocks::cut(std::size_t frames)
{
    if (frames == 0) return;
    Block block;
    block.reserve(frames * waiting_.size());
    for (std::vector<double>& lane : waiting_) {
        const auto end = lane.begin() + static_cast<std::ptrdiff_t>(frames);
        block.insert(block.end(), lane.begin(), end);
        lane.erase(lane.begin(), end);
    }
    std::unique_lock lock(mutex_);
    if (!changed_.wait(lock, stop_.get_token(), [this] { return !ready_; })) return; // nobody wants it
    ready_ = std::move(block);
    changed_.notify_all();
}

Result<WeightedBlocks::Block> WeightedBlocks::next(const std::stop_token& stop)
{
    std::unique_lock lock(mutex_);
    if (!changed_.wait(lock, stop, [this] { return ready_ || over_; }))
        return fail({.kind = ProblemKind::outside_world, .what = "stopped before the end"});
    if (!ready_) {
        if (fault_) return tl::unexpected(*fault_);
        return Block{};
    }
    Block block = std::move(*ready_);
    ready_.reset();
    changed_.notify_all();
    return block;
}

} // namespace becalm::evaluators
