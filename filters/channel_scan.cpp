#include "filters/channel_scan.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "filters/lane_kernel.h"

namespace becalm::filters {
namespace {

constexpr std::size_t most_runs = 4096; // beyond, the channel is hopeless anyway and memory must not grow
// Three samples of a parabola that share a step of the resolution: the next is three steps away at most (computed).
constexpr double steps_of_a_crest = 3.5; // not a limit: a count of steps
// Noise of a few steps puts three samples on its extreme by chance where a slow motion begins or ends the recording.
constexpr double steps_of_chance = 20.0;
constexpr double single_rounding = 1e-6; // relative; single precision rounds each value that a difference is made of

void append_run(std::vector<SampleRun>& runs, SampleRun run)
{
    if (!runs.empty() && runs.back().begin + runs.back().count == run.begin)
        runs.back().count += run.count;
    else if (runs.size() < most_runs)
        runs.push_back(run);
}

std::int64_t least_flat_run(double rate_hz)
{
    return std::max<std::int64_t>(20, static_cast<std::int64_t>(std::ceil(0.1 * rate_hz)));
}

// The smaller of two differences, of which 0 stands for none.
double lesser_step(double a, double b)
{
    if (a == 0.0 || b == 0.0) return std::max(a, b);
    return std::min(a, b);
}

} // namespace

ChannelScan::Range ChannelScan::add(double* values, std::size_t count, std::int64_t first, double substitute)
{
    Range range{std::numeric_limits<double>::infinity(), -std::numeric_limits<double>::infinity()};
    const auto scanned = [&](std::size_t from, std::size_t size) {
        return kernel::chosen().scan(values + from, size, samples_ > 0 ? first_ : values[from]);
    };
    const auto take = [&](std::size_t from, std::size_t size, const kernel::ScanResult& scan) {
        add_finite(values + from, size, first + static_cast<std::int64_t>(from), scan);
        range = {std::min(range.min, scan.min), std::max(range.max, scan.max)};
    };
    if (count == 0) return range;
    if (const kernel::ScanResult whole = scanned(0, count); whole.not_finite == 0) {
        take(0, count, whole);
        return range;
    }
    std::size_t finite_from = 0;
    for (std::size_t i = 0; i <= count; ++i) {
        if (i < count && std::isfinite(values[i])) continue;
        if (i > finite_from) take(finite_from, i - finite_from, scanned(finite_from, i - finite_from));
        finite_from = i + 1;
        if (i == count) break;
        append_run(not_finite_, {first + static_cast<std::int64_t>(i), 1});
        values[i] = substitute;
    }
    return range;
}

void ChannelScan::add_finite(const double* values, std::size_t count, std::int64_t first,
                             const kernel::ScanResult& scan)
{
    if (samples_ == 0) {
        first_ = low_.level = high_.level = values[0];
        begin_ = first;
    }
    least_step_ = lesser_step(least_step_, scan.least_step);
    if (follows(first)) least_step_ = lesser_step(least_step_, std::abs(values[0] - previous_));
    sum_ += scan.sum;
    sum_squares_ += scan.sum_squares;

    if (scan.max > high_.level) high_ = {.level = scan.max};
    if (scan.min < low_.level) low_ = {.level = scan.min};
    for (Extreme* extreme : {&high_, &low_}) {
        if (extreme->level == (extreme == &high_ ? scan.max : scan.min))
            note_extremes(values, count, first, *extreme);
        else if (follows(first) && extreme->ends_at(first)) // left with the block's first sample
            extreme->runs.back().jump = std::max(extreme->runs.back().jump, std::abs(values[0] - extreme->level));
    }
    note_flat(values, count, first, scan.equal_neighbours);

    samples_ += static_cast<std::int64_t>(count);
    next_ = first + static_cast<std::int64_t>(count);
    previous_ = values[count - 1];
}

void ChannelScan::note_extremes(const double* values, std::size_t count, std::int64_t first, Extreme& extreme)
{
    const auto note = [&](double difference, double size) {
        if (difference > single_rounding * size) extreme.least_step = lesser_step(extreme.least_step, difference);
    };
    double before = follows(first) ? previous_ : values[0];
    double last_step = 0.0;
    for (std::size_t i = 0; i < count; ++i) {
        const double step = values[i] - before;
        const double size = std::max(std::abs(values[i]), std::abs(before));
        if (i > 0) note(std::abs(step), size);
        if (i > 1) note(std::abs(step - last_step), size + std::abs(last_step));
        last_step = step;
        const std::int64_t at = first + static_cast<std::int64_t>(i);
        if (values[i] == extreme.level) {
            if (extreme.ends_at(at))
                ++extreme.runs.back().count;
            else if (extreme.runs.size() < most_runs)
                extreme.runs.push_back({at, 1, std::abs(step)});
        } else if (extreme.ends_at(at)) {
            extreme.runs.back().jump = std::max(extreme.runs.back().jump, std::abs(step));
        }
        before = values[i];
    }
}

void ChannelScan::note_flat(const double* values, std::size_t count, std::int64_t first, std::int64_t equal_neighbours)
{
    const bool touches = follows(first);
    const bool continues = touches && values[0] == previous_;
    const auto step_into = [&](std::size_t i) {
        if (i > 0) return std::abs(values[i] - values[i - 1]);
        return touches ? std::abs(values[0] - previous_) : 0.0;
    };
    // A live signal has few equal neighbours: no run inside the block is long enough, only its last one may go on.
    constexpr std::int64_t few = 10;
    if (samples_ > 0 && !continues && equal_neighbours < few) {
        end_flat(step_into(0));
        std::size_t i = count - 1;
        while (i > 0 && values[i - 1] == values[count - 1]) --i;
        flat_ = {first + static_cast<std::int64_t>(i), static_cast<std::int64_t>(count - i), step_into(i)};
        return;
    }
    for (std::size_t i = 0; i < count; ++i) {
        const double step = step_into(i);
        if (step > 0.0 || (i == 0 && !touches)) end_flat(step);
        if (flat_.count == 0) flat_ = {first + static_cast<std::int64_t>(i), 0, step};
        ++flat_.count;
    }
}

void ChannelScan::end_flat(double step)
{
    if (flat_.count == 0) return;
    flat_.jump = std::max(flat_.jump, step);
    if (flat_.begin == begin_)
        leading_ = flat_;
    else if (flat_.count >= least_flat_run(rate_hz_) && flat_runs_.size() < most_runs)
        flat_runs_.push_back(flat_);
    flat_ = {};
}

void ChannelScan::merge(const ChannelScan& next)
{
    for (const SampleRun& run : next.not_finite_) append_run(not_finite_, run);
    if (next.samples_ == 0) return;
    if (samples_ == 0) {
        const std::vector<SampleRun> not_finite = std::move(not_finite_);
        *this = next;
        not_finite_ = not_finite;
        return;
    }
    const double shift = next.first_ - first_;
    const auto n = static_cast<double>(next.samples_);
    sum_squares_ += next.sum_squares_ + 2.0 * shift * next.sum_ + n * shift * shift;
    sum_ += next.sum_ + n * shift;

    const bool touches = follows(next.begin_);
    merge_extreme(high_, next.high_, next.high_.level > high_.level, touches, next.first_);
    merge_extreme(low_, next.low_, next.low_.level < low_.level, touches, next.first_);

    const bool one_run = next.leading_.count == 0;
    const FlatRun& lead = one_run ? next.flat_ : next.leading_;
    least_step_ = lesser_step(least_step_, next.least_step_);
    if (touches) least_step_ = lesser_step(least_step_, std::abs(next.first_ - previous_));
    if (touches && next.first_ == previous_) {
        flat_.count += lead.count;
        flat_.jump = std::max(flat_.jump, lead.jump);
    } else {
        const double step = touches ? std::abs(next.first_ - previous_) : 0.0;
        end_flat(step);
        flat_ = {lead.begin, lead.count, std::max(lead.jump, step)};
    }
    if (!one_run) {
        end_flat(0.0);
        for (const FlatRun& run : next.flat_runs_)
            if (flat_runs_.size() < most_runs) flat_runs_.push_back(run);
        flat_ = next.flat_;
    }
    samples_ += next.samples_;
    next_ = next.next_;
    previous_ = next.previous_;
}

// `theirs` is of the span that follows, whose first sample is `first`; `touches` where no sample lies between.
void ChannelScan::merge_extreme(Extreme& mine, const Extreme& theirs, bool better, bool touches, double first) const
{
    if (!better && touches && mine.ends_at(next_) && first != mine.level)
        mine.runs.back().jump = std::max(mine.runs.back().jump, std::abs(first - mine.level));
    if (!better && mine.level != theirs.level) return;

    std::vector<Extreme::Run> runs = theirs.runs;
    if (touches && first == theirs.level && previous_ != theirs.level)
        runs.front().jump = std::max(runs.front().jump, std::abs(previous_ - first));
    if (better) {
        mine = {.level = theirs.level, .least_step = theirs.least_step, .runs = std::move(runs)};
        return;
    }
    mine.least_step = lesser_step(mine.least_step, theirs.least_step);
    for (const Extreme::Run& run : runs) {
        if (mine.ends_at(run.begin)) {
            mine.runs.back().count += run.count;
            mine.runs.back().jump = std::max(mine.runs.back().jump, run.jump);
        } else if (mine.runs.size() < most_runs) {
            mine.runs.push_back(run);
        }
    }
}

double ChannelScan::mean() const { return samples_ > 0 ? first_ + sum_ / static_cast<double>(samples_) : 0.0; }

double ChannelScan::deviation() const
{
    if (samples_ == 0) return 0.0;
    const auto n = static_cast<double>(samples_);
    return std::sqrt(std::max(0.0, sum_squares_ / n - (sum_ / n) * (sum_ / n)));
}

std::vector<SampleRun> ChannelScan::clipped() const
{
    if (constant()) return {};
    std::vector<SampleRun> found;
    for (const Extreme* extreme : {&high_, &low_}) {
        const double step = std::max(extreme->least_step > 0.0 ? extreme->least_step : least_step_,
                                     single_rounding * std::abs(extreme->level));
        for (const Extreme::Run& run : extreme->runs)
            if (run.count >= 3 && run.jump > (run.count >= 8 ? steps_of_a_crest : steps_of_chance) * step)
                found.push_back({run.begin, run.count});
    }
    std::ranges::sort(found, {}, &SampleRun::begin);
    return found;
}

bool ChannelScan::is_drop_out(const FlatRun& run) const
{
    return run.count >= least_flat_run(rate_hz_) &&
           (run.jump > steps_of_a_crest * least_step_ || static_cast<double>(run.count) >= rate_hz_);
}

std::vector<SampleRun> ChannelScan::drop_outs() const
{
    if (constant()) return {};
    std::vector<SampleRun> runs;
    const auto add_long = [&](const FlatRun& run) {
        if (is_drop_out(run)) append_run(runs, {run.begin, run.count});
    };
    add_long(leading_);
    std::ranges::for_each(flat_runs_, add_long);
    add_long(flat_);
    return runs;
}

} // namespace becalm::filters
