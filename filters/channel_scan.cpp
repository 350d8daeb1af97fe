#include "filters/channel_scan.h"

#include <algorithm>
#include <cmath>

#include "filters/lane_kernel.h"

namespace becalm::filters {
namespace {

constexpr std::size_t most_runs = 4096; // beyond, the channel is hopeless anyway and memory must not grow

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

} // namespace

ChannelScan::Range ChannelScan::add(double* values, std::size_t count, std::int64_t first, double substitute)
{
    if (count == 0) return {low_.level, high_.level};
    kernel::ScanResult scan = kernel::chosen().scan(values, count);
    if (scan.not_finite > 0) {
        for (std::size_t i = 0; i < count; ++i) {
            if (std::isfinite(values[i])) continue;
            append_run(not_finite_, {first + static_cast<std::int64_t>(i), 1});
            values[i] = substitute;
        }
        scan = kernel::chosen().scan(values, count);
    }
    if (samples_ == 0) {
        reference_ = values[0];
        low_.level = high_.level = previous_ = values[0];
    }
    const auto n = static_cast<double>(count);
    sum_ += scan.sum - n * reference_;
    sum_squares_ += scan.sum_squares - 2.0 * reference_ * scan.sum + n * reference_ * reference_;

    if (scan.max > high_.level) high_ = {scan.max, {}};
    if (scan.min < low_.level) low_ = {scan.min, {}};
    if (scan.max == high_.level) note_extremes(values, count, first, high_);
    if (scan.min == low_.level) note_extremes(values, count, first, low_);

    // Equal neighbours are rare in a live signal; only then is it worth looking where they are.
    const bool continues = samples_ > 0 && values[0] == previous_;
    if (scan.equal_neighbours > 4 || continues || flat_.count > 1) note_flat(values, count, first);

    samples_ += static_cast<std::int64_t>(count);
    next_ = first + static_cast<std::int64_t>(count);
    previous_ = values[count - 1];
    return {scan.min, scan.max};
}

void ChannelScan::note_extremes(const double* values, std::size_t count, std::int64_t first, Extreme& extreme)
{
    double before = samples_ > 0 ? previous_ : values[0];
    for (std::size_t i = 0; i < count; ++i) {
        const double step = std::abs(values[i] - before);
        if (step > 0.0 && (least_step_ == 0.0 || step < least_step_)) least_step_ = step;
        if (values[i] == extreme.level) {
            const std::int64_t at = first + static_cast<std::int64_t>(i);
            if (!extreme.runs.empty() && extreme.runs.back().begin + extreme.runs.back().count == at)
                ++extreme.runs.back().count;
            else if (extreme.runs.size() < most_runs)
                extreme.runs.push_back({at, 1, step});
        } else if (!extreme.runs.empty() &&
                   extreme.runs.back().begin + extreme.runs.back().count == first + static_cast<std::int64_t>(i)) {
            extreme.runs.back().jump = std::max(extreme.runs.back().jump, step);
        }
        before = values[i];
    }
}

void ChannelScan::note_flat(const double* values, std::size_t count, std::int64_t first)
{
    const auto close = [&] {
        if (flat_.count >= least_flat_run(rate_hz_)) append_run(flat_runs_, flat_);
        flat_ = {};
    };
    double before = previous_;
    for (std::size_t i = 0; i < count; ++i) {
        const std::int64_t at = first + static_cast<std::int64_t>(i);
        if ((samples_ > 0 || i > 0) && values[i] == before) {
            if (flat_.count > 0 && flat_.begin + flat_.count == at) {
                ++flat_.count;
            } else {
                close();
                flat_ = {at - 1, 2};
            }
        }
        before = values[i];
    }
}

void ChannelScan::merge(const ChannelScan& next)
{
    if (next.samples_ == 0) return;
    if (samples_ == 0) {
        *this = next;
        return;
    }
    const double shift = next.reference_ - reference_;
    const auto n = static_cast<double>(next.samples_);
    sum_squares_ += next.sum_squares_ + 2.0 * shift * next.sum_ + n * shift * shift;
    sum_ += next.sum_ + n * shift;
    const auto take = [](Extreme& mine, const Extreme& theirs, bool better) {
        if (better) {
            mine = theirs;
        } else if (mine.level == theirs.level) {
            for (const Extreme::Run& run : theirs.runs)
                if (mine.runs.size() < most_runs) mine.runs.push_back(run);
        }
    };
    take(high_, next.high_, next.high_.level > high_.level);
    take(low_, next.low_, next.low_.level < low_.level);
    if (next.least_step_ > 0.0) least_step_ = least_step_ > 0.0 ? std::min(least_step_, next.least_step_) : next.least_step_;
    if (flat_.count >= least_flat_run(rate_hz_)) append_run(flat_runs_, flat_);
    flat_ = next.flat_;
    for (const SampleRun& run : next.flat_runs_) append_run(flat_runs_, run);
    for (const SampleRun& run : next.not_finite_) append_run(not_finite_, run);
    samples_ += next.samples_;
    next_ = next.next_;
    previous_ = next.previous_;
}

double ChannelScan::mean() const { return samples_ > 0 ? reference_ + sum_ / static_cast<double>(samples_) : 0.0; }

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
    for (const Extreme* extreme : {&high_, &low_})
        for (const Extreme::Run& run : extreme->runs)
            if (run.count >= 3 && run.jump > 3.5 * least_step_) found.push_back({run.begin, run.count});
    std::ranges::sort(found, {}, &SampleRun::begin);
    return found;
}

std::vector<SampleRun> ChannelScan::drop_outs() const
{
    if (constant()) return {};
    std::vector<SampleRun> runs = flat_runs_;
    if (flat_.count >= least_flat_run(rate_hz_)) append_run(runs, flat_);
    return runs;
}

} // namespace becalm::filters
