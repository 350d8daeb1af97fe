#include "evaluators/selected_samples.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "src/io/file_hash.h"
#include "src/io/recording_reader.h"

namespace becalm::evaluators {
namespace {

constexpr std::size_t block_frames = 16'384;

Result<std::vector<SelectedChannel>> channels_of(const std::string& path, const io::RecordingInfo& info,
                                                 const WeighOptions& options)
{
    std::vector<SelectedChannel> channels;
    const auto add = [&](int channel, std::optional<std::string> axis) {
        SelectedChannel& added = channels.emplace_back();
        added.is = {.channel = channel, .axis = std::move(axis)};
        const auto at = static_cast<std::size_t>(channel) - 1;
        if (at < info.names.size() && !info.names[at].empty()) added.is.name = info.names[at];
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
    std::ranges::sort(channels, {}, [](const SelectedChannel& one) { return one.is.channel; });
    return channels;
}

} // namespace

std::string reason(const Problem& problem)
{
    return problem.remedy.empty() ? problem.what : problem.what + "; " + problem.remedy;
}

Result<SelectedSamples> selected_samples(const std::string& path, const WeighOptions& options)
{
    auto opened = io::open_recording(path);
    if (!opened) return tl::unexpected(opened.error());
    io::RecordingReader& reader = **opened;
    const io::RecordingInfo& info = reader.info();
    if (info.integer_pcm && !options.scale)
        return fail(
            {.file = path,
             .what = fmt::format("its samples ({}) are parts of full scale, not a physical quantity", info.format),
             .remedy = "say --scale N: full scale is N of the unit"});
    auto channels = channels_of(path, info, options);
    if (!channels) return tl::unexpected(channels.error());

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
    const auto frames = static_cast<std::size_t>(end - begin);
    if (frames > most_samples_in_memory / channels->size())
        return fail({.kind = ProblemKind::usage,
                     .file = path,
                     .what = fmt::format("{:.6g} s of {} channels at {:.6g} Hz are more than the {} samples that are "
                                         "looked at together",
                                         static_cast<double>(frames) / info.rate_hz, channels->size(), info.rate_hz,
                                         most_samples_in_memory),
                     .remedy = fmt::format(
                         "choose a span of at most {:.0f} s by --from and --to, or fewer channels by "
                         "--axes",
                         std::floor(static_cast<double>(most_samples_in_memory / channels->size()) / info.rate_hz))});

    SelectedSamples selected{.rate_hz = info.rate_hz,
                             .from_s = static_cast<double>(begin) / info.rate_hz,
                             .duration_s = static_cast<double>(frames) / info.rate_hz,
                             .channels = std::move(*channels)};
    for (SelectedChannel& channel : selected.channels) channel.samples.reserve(frames);
    const double to_si = options.unit.to_si * options.scale.value_or(1.0);
    if (auto sought = reader.seek(begin); !sought) return tl::unexpected(sought.error());
    const auto width = static_cast<std::size_t>(info.channels);
    std::vector<double> block(block_frames * width);
    std::size_t done = 0;
    while (done < frames) {
        if (options.stop.stop_requested())
            return fail({.kind = ProblemKind::outside_world, .file = path, .what = "stopped before the end"});
        const std::size_t wanted = std::min(block_frames, frames - done);
        const auto got = reader.read(std::span(block).first(wanted * width));
        if (!got) return tl::unexpected(got.error());
        if (*got == 0)
            return fail(
                {.file = path, .what = "the recording ends before it should", .remedy = "copy or export it again"});
        for (SelectedChannel& channel : selected.channels) {
            const auto at = static_cast<std::size_t>(channel.is.channel) - 1;
            for (std::size_t i = 0; i < *got; ++i) {
                const double value = to_si * block[i * width + at];
                if (!std::isfinite(value))
                    return fail(
                        {.file = path,
                         .what = fmt::format(
                             "channel {} has a gap at {:.6g} s: a sample that is not a number", channel.is.channel,
                             static_cast<double>(begin) / info.rate_hz + static_cast<double>(done + i) / info.rate_hz),
                         .remedy = "choose a span without gaps by --from and --to, or export it again"});
                channel.samples.push_back(value);
            }
        }
        done += *got;
        if (options.progress) options.progress(static_cast<double>(done) / static_cast<double>(frames));
    }
    auto hash = io::sha256_of_file(path);
    if (!hash) return tl::unexpected(hash.error());
    selected.sha256 = std::move(*hash);
    return selected;
}

} // namespace becalm::evaluators
