#include "evaluators/read_again.h"

#include <algorithm>
#include <cmath>
#include <map>

#include <fmt/format.h>

#include "evaluators/selected_samples.h"
#include "filters/fft.h"
#include "src/io/recording_reader.h"

namespace becalm::evaluators {
namespace {

constexpr std::size_t block_frames = 16'384;
constexpr double phase_segment_s = 16.0;     // not a limit: as the rows of the pass
constexpr double least_segment_s = 4.0;      // not a limit: bins of 0.25 Hz at least
constexpr double cross_segment_s = 4.0;      // not a limit: enough of them in half a minute
constexpr double highest_hz = 250.0;         // not a limit: beyond every weighting of comfort
constexpr double floor_bins = 30.0;          // further than filters::floor_around looks
constexpr std::size_t least_length = 8;      // samples of a segment
constexpr std::int64_t lengths_of_seven = 4; // end to end: seven that overlap

struct Stretch {
    std::int64_t begin = 0, end = 0; // frames
    std::int64_t frames() const { return end - begin; }
};

std::vector<Stretch> stretches_of(std::span<const TimeSpan> selected, double from_s, const io::RecordingInfo& info)
{
    std::vector<Stretch> stretches;
    for (const TimeSpan& span : selected) {
        const double last = std::min(static_cast<double>(info.frames), (from_s + span.to_s) * info.rate_hz + 1e-6);
        const Stretch stretch{.begin = std::llround(std::ceil((from_s + span.from_s) * info.rate_hz - 1e-6)),
                              .end = std::llround(std::floor(last))};
        if (stretch.frames() > 0) stretches.push_back(stretch);
    }
    return stretches;
}

// Samples of a segment whose phases are compared; 0 where the stretch is too short.
std::size_t phase_length(const Stretch& stretch, double rate_hz)
{
    const auto usual = static_cast<std::int64_t>(std::floor(phase_segment_s * rate_hz + 1e-6));
    auto length = static_cast<std::size_t>(std::min(usual, stretch.frames() / lengths_of_seven));
    if (static_cast<double>(length) < least_segment_s * rate_hz - 1.0) return 0;
    const bool as_the_pass = length == static_cast<std::size_t>(usual);
    while (length >= least_length && (length % 2 != 0 || (!as_the_pass && filters::fast_length(length) !=
                                                                              length))) // LaggedSpectra needs even ones
        --length;
    return length >= least_length ? length : 0;
}

// One channel beside one reference; a new stretch begins its segments anew.
struct Pair {
    std::size_t channel = 0, reference = 0; // places in `result`, and in its references
    std::size_t length = 0;
    std::optional<filters::CrossSpectra> spectra = {};
    std::vector<filters::CrossDensities> parts = {};

    void begin(double rate_hz)
    {
        const std::vector<double> rates(2, rate_hz);
        auto made = filters::CrossSpectra::of(rates, length);
        BECALM_ASSERT(made.has_value());
        spectra.emplace(std::move(*made));
    }
    void end()
    {
        filters::CrossDensities part = filters::lines_up_to(spectra->take(), highest_hz);
        if (part.segments > 0) parts.push_back(std::move(part));
    }
};

class Reading {
public:
    Reading(const Measured& measured, std::span<const TimeSpan> selected, std::span<const int> channels,
            std::span<const int> references)
        : measured_(measured), selected_(selected.begin(), selected.end())
    {
        for (const int channel : channels) {
            ChannelAgain& again = result_.emplace_back();
            again.channel = channel;
            for (const int reference : references) again.references.push_back({.reference = reference});
        }
    }

    std::vector<ChannelAgain> run(const std::stop_token& stop)
    {
        auto opened = io::open_recording(measured_.path, {.resample_hz = measured_.recording->resample_hz});
        if (!opened) {
            give_up(file() + ": " + reason(opened.error()));
            return std::move(result_);
        }
        io::RecordingReader& reader = **opened;
        const io::RecordingInfo& info = reader.info();
        const io::RecordingInfo& judged = measured_.pass->info;
        if (info.frames != judged.frames || info.channels != judged.channels || info.rate_hz != judged.rate_hz) {
            give_up(file() + " is not the file any more that was judged; run it again");
            return std::move(result_);
        }
        plan(info);
        for (const Stretch& stretch : stretches_)
            if (!read(reader, stretch, stop)) return std::move(result_);
        conclude();
        return std::move(result_);
    }

private:
    const std::string& file() const { return measured_.recording->file; }

    void give_up(const std::string& why)
    {
        for (ChannelAgain& again : result_) {
            again.phases = {.why_not = why};
            for (WithReference& with : again.references) with.why_not = why;
        }
    }

    void plan(const io::RecordingInfo& info)
    {
        rate_hz_ = info.rate_hz;
        stretches_ = stretches_of(selected_, measured_.pass->from_s, info);
        const auto cross_length = static_cast<std::size_t>(std::floor(cross_segment_s * rate_hz_ + 1e-6));
        lagged_.resize(result_.size());
        for (std::size_t i = 0; i < result_.size(); ++i) {
            ChannelAgain& again = result_[i];
            const std::size_t length = stretches_.size() == 1 ? phase_length(stretches_.front(), rate_hz_) : 0;
            if (length > 0) {
                lagged_[i].emplace(rate_hz_, length);
                samples_[again.channel];
            } else if (stretches_.size() > 1) {
                again.phases.why_not =
                    fmt::format("what is left of {} is in {} pieces, and phases need one", file(), stretches_.size());
            } else {
                again.phases.why_not = fmt::format("{} is too short to compare phases: {:.4g} s are needed", file(),
                                                   static_cast<double>(lengths_of_seven) * least_segment_s);
            }
            for (std::size_t r = 0; r < again.references.size(); ++r) {
                WithReference& with = again.references[r];
                if (with.reference > info.channels)
                    with.why_not =
                        fmt::format("{} has {} channel{}", file(), info.channels, info.channels == 1 ? "" : "s");
                else if (with.reference == again.channel)
                    with.why_not = fmt::format("in {} it is the judged channel itself", file());
                else if (cross_length < least_length)
                    with.why_not = fmt::format("{} is sampled too slowly", file());
                else {
                    pairs_.push_back({.channel = i, .reference = r, .length = cross_length});
                    samples_[again.channel];
                    samples_[with.reference];
                }
            }
        }
    }

    bool read(io::RecordingReader& reader, const Stretch& stretch, const std::stop_token& stop)
    {
        if (samples_.empty()) return true;
        const auto refused = [&](const Problem& problem) {
            give_up(file() + ": " + reason(problem));
            return false;
        };
        if (auto sought = reader.seek(stretch.begin); !sought) return refused(sought.error());
        for (Pair& pair : pairs_) pair.begin(rate_hz_);
        const auto width = static_cast<std::size_t>(reader.info().channels);
        std::vector<double> block(block_frames * width);
        for (std::int64_t at = stretch.begin; at < stretch.end;) {
            if (stop.stop_requested()) {
                give_up("it was stopped before the end");
                return false;
            }
            const auto wanted = static_cast<std::size_t>(
                std::min<std::int64_t>(static_cast<std::int64_t>(block_frames), stretch.end - at));
            const auto got = reader.read(std::span(block).first(wanted * width));
            if (!got) return refused(got.error());
            if (*got == 0) return refused({.what = "it ends before it should"});
            for (auto& [channel, samples] : samples_) {
                samples.resize(*got);
                const auto place = static_cast<std::size_t>(channel) - 1;
                for (std::size_t i = 0; i < *got; ++i) {
                    samples[i] = measured_.to_si * block[i * width + place];
                    if (std::isfinite(samples[i])) continue;
                    samples[i] = 0.0; // never looked at: what uses the channel is given up
                    gaps_.emplace(channel,
                                  static_cast<double>(at + static_cast<std::int64_t>(i)) / rate_hz_); // the first stays
                }
            }
            feed();
            at += static_cast<std::int64_t>(*got);
        }
        for (Pair& pair : pairs_) pair.end();
        return true;
    }

    void feed()
    {
        for (std::size_t i = 0; i < lagged_.size(); ++i)
            if (lagged_[i]) lagged_[i]->add(samples_[result_[i].channel]);
        for (Pair& pair : pairs_) {
            const ChannelAgain& again = result_[pair.channel];
            const std::vector<std::span<const double>> both{samples_[again.channel],
                                                            samples_[again.references[pair.reference].reference]};
            const auto added = pair.spectra->add(both);
            BECALM_ASSERT(added.has_value());
        }
    }

    std::string gap_in(int channel) const
    {
        const auto gap = gaps_.find(channel);
        return gap == gaps_.end() ? std::string()
                                  : fmt::format("channel {} of {} has a gap at {:.6g} s: a sample that is not a number",
                                                channel, file(), gap->second);
    }

    void conclude()
    {
        for (std::size_t i = 0; i < lagged_.size(); ++i) {
            if (!lagged_[i]) continue;
            Phases& phases = result_[i].phases;
            phases.why_not = gap_in(result_[i].channel);
            if (!phases.why_not.empty()) continue;
            filters::LaggedSums sums = lagged_[i]->sums();
            phases.resolution_hz = sums.resolution_hz();
            const auto bins = std::min(sums.density.size(),
                                       static_cast<std::size_t>(highest_hz / sums.resolution_hz() + floor_bins) + 1);
            sums.density.resize(bins);
            sums.pair_density.resize(bins);
            sums.lag_1.resize(bins);
            sums.lag_2.resize(bins);
            phases.components = filters::components(sums);
        }
        for (const Pair& pair : pairs_) {
            const ChannelAgain& again = result_[pair.channel];
            WithReference& with = result_[pair.channel].references[pair.reference];
            with.why_not = gap_in(again.channel);
            if (with.why_not.empty()) with.why_not = gap_in(with.reference);
            if (!with.why_not.empty()) continue;
            if (pair.parts.empty())
                with.why_not = fmt::format("{} is too short: no piece of it lasts {:.4g} s", file(), cross_segment_s);
            else
                with.densities = filters::pooled(pair.parts);
        }
    }

    const Measured& measured_;
    std::vector<TimeSpan> selected_;
    std::vector<ChannelAgain> result_;
    double rate_hz_ = 0.0;
    std::vector<Stretch> stretches_;
    std::vector<std::optional<filters::LaggedSpectra>> lagged_; // one a channel, where its phases can be compared
    std::vector<Pair> pairs_;
    std::map<int, std::vector<double>> samples_; // of the block, channel by channel
    std::map<int, double> gaps_;                 // channel → second of the first
};

} // namespace

std::vector<ChannelAgain> read_again(const Measured& measured, std::span<const TimeSpan> selected,
                                     std::span<const int> channels, std::span<const int> references,
                                     const std::stop_token& stop)
{
    return Reading(measured, selected, channels, references).run(stop);
}

} // namespace becalm::evaluators
