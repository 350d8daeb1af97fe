// The samples of a span of a recording in SI units: block by block in constant memory, or as a whole for numerics that
// look at several channels, or at all of a record, at once. The whole is bounded: at most 32,000,000 samples, counted
// over the channels wanted (256 MB).
#pragma once

#include <functional>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "evaluators/weigh.h"
#include "src/io/recording_reader.h"

namespace becalm::evaluators {

inline constexpr std::size_t most_samples_in_memory = 32'000'000;

struct SelectedChannel {
    ChannelOfReport is = {};
    std::vector<double> samples = {}; // SI, offset included
};

// The channels that `options.axes` names, or all of them, over options.span; unit and scale as for weigh(), weightings
// and the offset rule play no part.
class SelectedReader {
public:
    // Refuses a channel that is not there, integer samples without a scale, a span outside the recording.
    static Result<SelectedReader> open(const std::string& path, const WeighOptions& options);

    const io::RecordingInfo& info() const { return reader_->info(); } // of the whole recording
    double rate_hz() const { return reader_->info().rate_hz; }
    double from_s() const { return static_cast<double>(begin_) / rate_hz(); }
    double duration_s() const { return static_cast<double>(frames_) / rate_hz(); }
    std::size_t frames() const { return frames_; }
    const std::vector<ChannelOfReport>& channels() const { return channels_; } // ascending

    // The span from its first sample to its last, equally many samples of each channel at a time; can be asked for
    // again. Progress is told from `progress_from` to `progress_to`. Refuses samples that are no finite numbers.
    using OnBlock = std::function<void(std::span<const std::span<const double>> channels)>;
    Result<void> read(const OnBlock& on_block, double progress_from = 0.0, double progress_to = 1.0);

private:
    SelectedReader(std::string path, const WeighOptions& options, std::unique_ptr<io::RecordingReader> reader)
        : path_(std::move(path)), options_(options), reader_(std::move(reader))
    {
    }

    std::string path_;
    WeighOptions options_;
    std::unique_ptr<io::RecordingReader> reader_;
    std::vector<ChannelOfReport> channels_ = {};
    std::int64_t begin_ = 0;
    std::size_t frames_ = 0;
};

struct SelectedSamples {
    std::string sha256 = {};
    double rate_hz = 0.0;
    double from_s = 0.0, duration_s = 0.0;
    std::vector<SelectedChannel> channels = {}; // ascending
    std::vector<Finding> resampled = {};
};

// The caution that a recording put onto an even grid of time carries; nothing for any other.
std::vector<Finding> resampled(const std::string& path, const io::RecordingInfo& info);

// What a SelectedReader reads, at once. Refuses what that refuses, and more samples than the bound.
Result<SelectedSamples> selected_samples(const std::string& path, const WeighOptions& options);

// "what is wrong; what to do", for a report.
std::string reason(const Problem& problem);

} // namespace becalm::evaluators
