#include "evaluators/selected_samples.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "src/io/file_hash.h"

namespace becalm::evaluators {
namespace {

constexpr std::size_t block_frames = 16'384;

Result<std::vector<ChannelOfReport>> channels_of(const std::string& path, const io::RecordingInfo& info,
                                                 const WeighOptions& options)
{
    std::vector<ChannelOfReport> channels;
    const auto add = [&](int channel, std::optional<std::string> axis) {
        ChannelOfReport& added = channels.emplace_back();
        added.channel = channel;
        added.axis = std::move(axis);
        const auto at = static_cast<std::size_t>(channel) - 1;
        if (at < info.names.size() && !info.names[at].empty()) added.name = info.names[at];
    };
    for (const auto& [channel, axis] : options.axes) {
        if (channel < 1 || channel > info.channels)
            return fail(
                {.kind = ProblemKind::usage,
                 .file = path,
                 .what = fmt::format("--axes names channel {}, and the recording has {}", channel, info.channels),
                 .remedy = fmt::format("choose from channels 1 to {}", info.channels)});
        add(channel, std::string(name_of(axis)));
    }
    if (options.axes.empty())
        for (int channel = 1; channel <= info.channels; ++channel) add(channel, std::nullopt);
    std::ranges::sort(channels, {}, &ChannelOfReport::channel);
    return channels;
}

} // namespace

std::string reason(const Problem& problem)
{
    return problem.remedy.empty() ? problem.what : problem.what + "; " + problem.remedy;
}

std::vector<Finding> resampled(const std::string& path, const io::RecordingInfo& info)
{
    if (info.resampled.empty()) return {};
    return {{.severity = Severity::caution, .code = "resampled", .message = info.resampled, .recording = path}};
}

Result<SelectedReader> SelectedReader::open(const std::string& path, const WeighOptions& options)
{
    auto opened = io::open_recording(path, {.resample_hz = options.resample_hz});
    if (!opened) return tl::unexpected(opened.error());
    SelectedReader selected(path, options, std::move(*opened));
    const io::RecordingInfo& info = selected.reader_->info();
    if (info.integer_pcm && !options.scale)
        return fail({.file = path,
                     .what = fmt::format("its samples ({}) are {}, not a physical quantity", info.format,
                                         info.step < 1.0 ? "parts of full scale" : "counts"),
                     .remedy = fmt::format("say --scale N: {} is N of the unit", io::one_of(info))});
    auto channels = channels_of(path, info, options);
    if (!channels) return tl::unexpected(channels.error());
    selected.channels_ = std::move(*channels);

    const auto frame_at = [&](double second) {
        const double frame = std::ceil(second * info.rate_hz - 1e-6);
        return frame < static_cast<double>(info.frames) ? static_cast<std::int64_t>(frame) : info.frames;
    };
    const std::int64_t begin = frame_at(options.span.from_s), end = frame_at(options.span.to_s);
    if (begin >= end)
        return fail({.kind = ProblemKind::usage,
                     .file = path,
                     .what = fmt::format("nothing lies between {:.6g} s and the end of the span; the recording lasts "
                                         "{:.6g} s",
                                         options.span.from_s, static_cast<double>(info.frames) / info.rate_hz),
                     .remedy = "choose --from and --to inside the recording"});
    selected.begin_ = begin;
    selected.frames_ = static_cast<std::size_t>(end - begin);
    return selected;
}

Result<void> SelectedReader::read(const OnBlock& on_block, double progress_from, double progress_to)
{
    const double to_si = options_.unit.to_si * options_.scale.value_or(1.0);
    if (auto sought = reader_->seek(begin_); !sought) return tl::unexpected(sought.error());
    const auto width = static_cast<std::size_t>(reader_->info().channels);
    std::vector<double> block(block_frames * width);
    std::vector<std::vector<double>> values(channels_.size(), std::vector<double>(block_frames));
    std::vector<std::span<const double>> parts(channels_.size());
    std::size_t done = 0;
    while (done < frames_) {
        if (options_.stop.stop_requested())
            return fail({.kind = ProblemKind::outside_world, .file = path_, .what = "stopped before the end"});
        const std::size_t wanted = std::min(block_frames, frames_ - done);
        const auto got = reader_->read(std::span(block).first(wanted * width));
        if (!got) return tl::unexpected(got.error());
        if (*got == 0)
            return fail(
                {.file = path_, .what = "the recording ends before it should", .remedy = "copy or export it again"});
        for (std::size_t c = 0; c < channels_.size(); ++c) {
            const auto at = static_cast<std::size_t>(channels_[c].channel) - 1;
            for (std::size_t i = 0; i < *got; ++i) {
                const double value = to_si * block[i * width + at];
                if (!std::isfinite(value))
                    return fail({.file = path_,
                                 .what = fmt::format("channel {} has a gap at {:.6g} s: a sample that is not a number",
                                                     channels_[c].channel,
                                                     from_s() + static_cast<double>(done + i) / rate_hz()),
                                 .remedy = "choose a span without gaps by --from and --to, or export it again"});
                values[c][i] = value;
            }
            parts[c] = std::span(values[c]).first(*got);
        }
        on_block(parts);
        done += *got;
        if (options_.progress)
            options_.progress(progress_from +
                              (progress_to - progress_from) * static_cast<double>(done) / static_cast<double>(frames_));
    }
    return {};
}

Result<SelectedSamples> selected_samples(const std::string& path, const WeighOptions& options)
{
    auto reader = SelectedReader::open(path, options);
    if (!reader) return tl::unexpected(reader.error());
    const std::size_t channels = reader->channels().size(), frames = reader->frames();
    if (frames > most_samples_in_memory / channels)
        return fail({.kind = ProblemKind::usage,
                     .file = path,
                     .what = fmt::format("{:.6g} s of {} channels at {:.6g} Hz are more than the {} samples that are "
                                         "looked at together",
                                         reader->duration_s(), channels, reader->rate_hz(), most_samples_in_memory),
                     .remedy = fmt::format(
                         "choose a span of at most {:.0f} s by --from and --to, or fewer channels by "
                         "--axes",
                         std::floor(static_cast<double>(most_samples_in_memory / channels) / reader->rate_hz()))});

    SelectedSamples selected{
        .rate_hz = reader->rate_hz(), .from_s = reader->from_s(), .duration_s = reader->duration_s()};
    selected.resampled = resampled(path, reader->info());
    for (const ChannelOfReport& channel : reader->channels()) {
        SelectedChannel& added = selected.channels.emplace_back();
        added.is = channel;
        added.samples.reserve(frames);
    }
    const auto done = reader->read([&](std::span<const std::span<const double>> parts) {
        for (std::size_t c = 0; c < parts.size(); ++c)
            selected.channels[c].samples.insert(selected.channels[c].samples.end(), parts[c].begin(), parts[c].end());
    });
    if (!done) return tl::unexpected(done.error());
    auto hash = io::sha256_of_recording(path);
    if (!hash) return tl::unexpected(hash.error());
    selected.sha256 = std::move(*hash);
    return selected;
}

} // namespace becalm::evaluators
