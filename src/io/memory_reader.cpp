#include <algorithm>
#include <cstring>

#include "src/io/recording_reader.h"

namespace becalm::io {
namespace {

template <class Number>
double number_at(const std::byte* place)
{
    Number number; // it need not be aligned
    std::memcpy(&number, place, sizeof number);
    return static_cast<double>(number);
}

class MemoryReader final : public RecordingReader {
public:
    explicit MemoryReader(std::shared_ptr<const SamplesInMemory> samples) : samples_(std::move(samples))
    {
        info_.format =
            samples_->single_precision ? "samples in memory, 32-bit float" : "samples in memory, 64-bit float";
        info_.rate_hz = samples_->rate_hz;
        info_.channels = samples_->channels;
        info_.frames = samples_->frames;
    }

    const RecordingInfo& info() const override { return info_; }

    Result<std::size_t> read(std::span<double> values) override
    {
        const SamplesInMemory& from = *samples_;
        const auto channels = static_cast<std::size_t>(from.channels);
        const std::size_t frames = std::min(values.size() / channels, static_cast<std::size_t>(from.frames - frame_));
        const auto number = from.single_precision ? &number_at<float> : &number_at<double>;
        double* to = values.data();
        for (std::size_t i = 0; i < frames; ++i, ++frame_)
            for (std::size_t c = 0; c < channels; ++c)
                *to++ = number(from.first + frame_ * from.frame_stride +
                               static_cast<std::ptrdiff_t>(c) * from.channel_stride);
        return frames;
    }

    Result<void> seek(std::int64_t frame) override
    {
        BECALM_ASSERT(frame >= 0 && frame <= info_.frames);
        frame_ = frame;
        return {};
    }

private:
    std::shared_ptr<const SamplesInMemory> samples_;
    RecordingInfo info_ = {};
    std::int64_t frame_ = 0;
};

} // namespace

Result<std::unique_ptr<RecordingReader>> open_memory(const std::string& path, const ReadOptions& options)
{
    const SamplesInMemory& samples = *options.samples;
    const auto refuse = [&](std::string what, std::string remedy) {
        return fail({.kind = ProblemKind::usage, .file = path, .what = std::move(what), .remedy = std::move(remedy)});
    };
    if (!(samples.rate_hz > 0.0 && samples.rate_hz <= 1e9)) // so written that it holds for what is no number
        return refuse("the samples have no rate", "say how many there are a second");
    if (samples.frames < 1 || samples.channels < 1 || samples.first == nullptr)
        return refuse("there are no samples", "hand over at least one");
    if (options.resample_hz) return refuse("samples in memory are at even times", "take resample_hz out");
    return std::make_unique<MemoryReader>(options.samples);
}

} // namespace becalm::io
