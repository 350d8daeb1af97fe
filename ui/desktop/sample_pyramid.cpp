#include "ui/desktop/sample_pyramid.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <limits>

namespace becalm::desktop {
namespace {

constexpr float infinite = std::numeric_limits<float>::infinity();
constexpr float not_a_number = std::numeric_limits<float>::quiet_NaN();
constexpr std::size_t frames_a_block = 16384;

// Of what was gathered from +inf downwards and -inf upwards.
void append_range(Envelope& envelope, float least, float greatest)
{
    const bool empty = least > greatest;
    envelope.least.push_back(empty ? not_a_number : least);
    envelope.greatest.push_back(empty ? not_a_number : greatest);
}

std::int64_t rounded_down(std::int64_t frame, std::int64_t step) { return frame / step * step; }

} // namespace

std::int64_t envelope_step(std::int64_t frames, int columns)
{
    const std::int64_t each = frames / std::max(columns, 1);
    return each < 1 ? 1 : static_cast<std::int64_t>(std::bit_floor(static_cast<std::uint64_t>(each)));
}

Envelope envelope_of(std::span<const float> samples, std::int64_t first, std::int64_t step)
{
    Envelope envelope{.first = first, .step = step};
    const auto length = static_cast<std::size_t>(step);
    for (std::size_t begin = 0; begin < samples.size(); begin += length) {
        float least = infinite, greatest = -infinite;
        for (const float sample : samples.subspan(begin, std::min(length, samples.size() - begin))) {
            if (!std::isfinite(sample)) continue;
            least = std::min(least, sample);
            greatest = std::max(greatest, sample);
        }
        append_range(envelope, least, greatest);
    }
    return envelope;
}

void SamplePyramid::add(std::span<const double> interleaved)
{
    const std::size_t channels = channels_.size();
    std::size_t left = interleaved.size() / channels;
    const double* frame = interleaved.data();
    while (left > 0) {
        if (in_open_ == 0)
            for (Channel& channel : channels_) channel.open = {infinite, -infinite};
        const std::size_t count = std::min(left, static_cast<std::size_t>(finest - in_open_));
        for (std::size_t c = 0; c < channels; ++c) {
            Range range = channels_[c].open;
            for (std::size_t i = 0; i < count; ++i) {
                const auto sample = static_cast<float>(frame[i * channels + c]);
                if (!std::isfinite(sample)) continue;
                range.least = std::min(range.least, sample);
                range.greatest = std::max(range.greatest, sample);
            }
            channels_[c].open = range;
        }
        frame += count * channels;
        left -= count;
        in_open_ += static_cast<std::int64_t>(count);
        frames_ += static_cast<std::int64_t>(count);
        if (in_open_ == finest) close_stretch();
    }
}

void SamplePyramid::close_stretch()
{
    for (Channel& channel : channels_) channel.levels.front().push_back(channel.open);
    in_open_ = 0;
}

void SamplePyramid::finish()
{
    if (in_open_ > 0) close_stretch();
    for (Channel& channel : channels_)
        while (channel.levels.back().size() > 1) {
            const std::vector<Range>& below = channel.levels.back();
            std::vector<Range> level;
            level.reserve(below.size() / factor + 1);
            for (std::size_t i = 0; i < below.size(); ++i) {
                if (i % factor == 0) level.push_back({infinite, -infinite});
                level.back().least = std::min(level.back().least, below[i].least);
                level.back().greatest = std::max(level.back().greatest, below[i].greatest);
            }
            channel.levels.push_back(std::move(level));
        }
}

std::size_t SamplePyramid::bytes() const
{
    std::size_t bytes = 0;
    for (const Channel& channel : channels_)
        for (const std::vector<Range>& level : channel.levels) bytes += level.capacity() * sizeof(Range);
    return bytes;
}

Envelope SamplePyramid::envelope(int channel, std::int64_t from, std::int64_t to, std::int64_t step) const
{
    BECALM_ASSERT(channel >= 1 && channel <= channels() && step >= finest);
    from = std::clamp<std::int64_t>(from, 0, frames_);
    to = std::clamp<std::int64_t>(to, from, frames_);
    Envelope envelope{.first = rounded_down(from, step), .step = step};
    if (from == to) return envelope;
    const Channel& of = channels_[static_cast<std::size_t>(channel) - 1];
    std::size_t n = 0;
    std::int64_t length = finest;
    while (n + 1 < of.levels.size() && length * factor <= step) {
        length *= factor;
        ++n;
    }
    const std::vector<Range>& level = of.levels[n];
    const auto together = static_cast<std::size_t>(step / length);
    for (auto begin = static_cast<std::size_t>(envelope.first / length);
         static_cast<std::int64_t>(begin) * length < to && begin < level.size(); begin += together) {
        float least = infinite, greatest = -infinite;
        for (std::size_t i = begin; i < std::min(begin + together, level.size()); ++i) {
            least = std::min(least, level[i].least);
            greatest = std::max(greatest, level[i].greatest);
        }
        append_range(envelope, least, greatest);
    }
    return envelope;
}

Result<SamplePyramid> pyramid_of(io::RecordingReader& reader, const std::stop_token& stop,
                                 const std::function<void(double fraction)>& progress)
{
    const io::RecordingInfo info = reader.info();
    SamplePyramid pyramid(info.channels);
    std::vector<double> block(frames_a_block * static_cast<std::size_t>(info.channels));
    if (const auto sought = reader.seek(0); !sought) return fail(sought.error());
    for (;;) {
        if (stop.stop_requested())
            return fail({.kind = ProblemKind::outside_world, .what = "stopped before the end of the recording"});
        const auto read = reader.read(block);
        if (!read) return fail(read.error());
        if (*read == 0) break;
        pyramid.add(std::span(block).first(*read * static_cast<std::size_t>(info.channels)));
        if (progress && info.frames > 0)
            progress(static_cast<double>(pyramid.frames()) / static_cast<double>(info.frames));
    }
    pyramid.finish();
    return pyramid;
}

void SampleTiles::clear()
{
    tiles_.clear();
    used_.clear();
}

void SampleTiles::put(Key key, std::vector<float> samples)
{
    if (const auto found = tiles_.find(key); found != tiles_.end()) {
        used_.erase(found->second.used);
        tiles_.erase(found);
    }
    used_.push_front(key);
    tiles_.emplace(key, Tile{std::move(samples), used_.begin()});
    while (used_.size() > most) {
        tiles_.erase(used_.back());
        used_.pop_back();
    }
}

std::vector<SampleTiles::Key> SampleTiles::missing(int channel, std::int64_t from, std::int64_t to) const
{
    std::vector<Key> keys;
    for (std::int64_t tile = std::max<std::int64_t>(from, 0) / frames_a_tile; tile * frames_a_tile < to; ++tile)
        if (!tiles_.contains({channel, tile})) keys.emplace_back(channel, tile);
    return keys;
}

std::optional<Envelope> SampleTiles::envelope(int channel, std::int64_t from, std::int64_t to, std::int64_t step)
{
    from = std::max<std::int64_t>(from, 0);
    Envelope envelope{.first = rounded_down(from, step), .step = step};
    for (std::int64_t at = envelope.first; at < to;) {
        const auto found = tiles_.find({channel, at / frames_a_tile});
        if (found == tiles_.end()) return std::nullopt;
        used_.splice(used_.begin(), used_, found->second.used);
        const std::int64_t begin = at % frames_a_tile;
        const std::span<const float> all(found->second.samples);
        // To the end of the last stretch that the window touches.
        const std::int64_t end = std::min<std::int64_t>(
            {static_cast<std::int64_t>(all.size()), begin + rounded_down(to - at + step - 1, step)});
        if (begin >= end) break; // behind the end of the recording
        const Envelope part =
            envelope_of(all.subspan(static_cast<std::size_t>(begin), static_cast<std::size_t>(end - begin)), at, step);
        envelope.least.insert(envelope.least.end(), part.least.begin(), part.least.end());
        envelope.greatest.insert(envelope.greatest.end(), part.greatest.begin(), part.greatest.end());
        if (static_cast<std::int64_t>(all.size()) < frames_a_tile) break;
        at += end - begin;
    }
    return envelope;
}

Result<std::vector<float>> tile_of(io::RecordingReader& reader, SampleTiles::Key key)
{
    const auto& [channel, tile] = key;
    const auto channels = static_cast<std::size_t>(reader.info().channels);
    const std::int64_t from = tile * SampleTiles::frames_a_tile;
    std::vector<float> samples;
    if (from >= reader.info().frames) return samples;
    if (const auto sought = reader.seek(from); !sought) return fail(sought.error());
    const auto wanted = static_cast<std::size_t>(std::min(SampleTiles::frames_a_tile, reader.info().frames - from));
    samples.reserve(wanted);
    std::vector<double> block(std::min(wanted, frames_a_block) * channels);
    while (samples.size() < wanted) {
        const auto read =
            reader.read(std::span(block).first(std::min(wanted - samples.size(), frames_a_block) * channels));
        if (!read) return fail(read.error());
        if (*read == 0) break;
        for (std::size_t i = 0; i < *read; ++i)
            samples.push_back(static_cast<float>(block[i * channels + static_cast<std::size_t>(channel) - 1]));
    }
    return samples;
}

} // namespace becalm::desktop
