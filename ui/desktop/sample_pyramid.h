// Least and greatest samples of a recording over stretches of every length, so that any part of it can be drawn at
// once.
//
// Level n holds the range of each 256 x 16^n samples of a channel, single precision: 8.5 bytes for every 256 samples.
// Shorter stretches come from the samples themselves, which are read in tiles and kept while there is room.
//
// A stretch begins at a multiple of its own length, wherever the window lies: a curve does not flicker while it is
// moved. Ranges are those of the samples to the last bit (of a float); a sample that is no number is left out.
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <list>
#include <map>
#include <optional>
#include <span>
#include <stop_token>
#include <utility>
#include <vector>

#include "src/base/problem.h"
#include "src/io/recording_reader.h"

namespace becalm::desktop {

// Stretch i covers the samples [first + i * step, first + (i + 1) * step) that there are; NaN: no number among them.
struct Envelope {
    std::int64_t first = 0; // a multiple of step
    std::int64_t step = 1;  // a power of two
    std::vector<float> least = {}, greatest = {};
};

// The greatest power of two that leaves each of `columns` a stretch of its own; at least 1.
std::int64_t envelope_step(std::int64_t frames, int columns);

// Of samples that stand from `first` on, in the stretches that begin in them. `first` must be a multiple of `step`.
Envelope envelope_of(std::span<const float> samples, std::int64_t first, std::int64_t step);

class SamplePyramid {
public:
    static constexpr std::int64_t finest = 256, factor = 16;

    explicit SamplePyramid(int channels) : channels_(static_cast<std::size_t>(channels)) {}

    // The next frames, interleaved. After the last of them: finish().
    void add(std::span<const double> interleaved);
    void finish();

    std::int64_t frames() const { return frames_; }
    int channels() const { return static_cast<int>(channels_.size()); }
    std::size_t bytes() const;

    // The stretches that hold a sample of [from, to), which is cut to what there is. `channel` from 1; `step` a power
    // of two, at least `finest`.
    Envelope envelope(int channel, std::int64_t from, std::int64_t to, std::int64_t step) const;

private:
    struct Range {
        float least, greatest;
    };
    struct Channel {
        std::vector<std::vector<Range>> levels = {{}};
        Range open = {}; // of the stretch that is not complete yet
    };
    void close_stretch();

    std::vector<Channel> channels_;
    std::int64_t frames_ = 0, in_open_ = 0;
};

// Reads the recording from its beginning. Stopped: what was read so far is not kept, the result is a Problem.
Result<SamplePyramid> pyramid_of(io::RecordingReader& reader, const std::stop_token& stop,
                                 const std::function<void(double fraction)>& progress = {});

// Samples of a recording in pieces, those used last; single precision.
class SampleTiles {
public:
    static constexpr std::int64_t frames_a_tile = 65536;
    static constexpr std::size_t most = 256; // 64 MiB

    using Key = std::pair<int, std::int64_t>; // channel from 1, tile from 0

    void clear();
    void put(Key key, std::vector<float> samples);
    // Of [from, to) those that are not here.
    std::vector<Key> missing(int channel, std::int64_t from, std::int64_t to) const;
    // Empty where a tile is not here. `step` at most frames_a_tile.
    std::optional<Envelope> envelope(int channel, std::int64_t from, std::int64_t to, std::int64_t step);

private:
    struct Tile {
        std::vector<float> samples;
        std::list<Key>::iterator used;
    };
    std::map<Key, Tile> tiles_;
    std::list<Key> used_; // the last one first
};

// One tile of one channel; shorter at the end of the recording.
Result<std::vector<float>> tile_of(io::RecordingReader& reader, SampleTiles::Key key);

} // namespace becalm::desktop
