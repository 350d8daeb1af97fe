// Reading a recording, whatever its format: sniffed by content, streamed in blocks, constant memory.
//
// A reader hands out the stored values times nothing: full scale of integer PCM counts as 1.0, text and float files as
// they are. Scale and unit belong to whoever says where the sensor was (survey or command line).
//
// One format, one file: src/io/audio_reader.cpp (WAV, RF64, W64, FLAC), src/io/text_reader.cpp (delimited text).
#pragma once

#include <cstddef>
#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "src/base/problem.h"

namespace becalm::io {

struct RecordingInfo {
    std::string format = {};             // "WAV, 24-bit integer", "delimited text", ...
    double rate_hz = 0.0;                // > 0
    int channels = 0;                    // >= 1
    std::int64_t frames = 0;             // samples a channel, as found in the file
    bool integer_pcm = false;            // full scale is 1.0 and means nothing without a scale
    double step = 0.0;                   // one quantisation step where integer_pcm, else 0
    bool seekable = true;                // seek() is cheap
    std::vector<std::string> names = {}; // of the channels, where the file has them (may be empty)
    std::string unit = {};               // as the file states it, may be empty
    std::string start = {};              // ISO 8601, as the file states it, may be empty
};

class RecordingReader {
public:
    virtual ~RecordingReader() = default;

    virtual const RecordingInfo& info() const = 0;

    // Reads up to values.size() / channels frames, interleaved. Returns the frames read; 0 at the end.
    // A Problem names the line and column (text) or the frame (binary) that could not be read.
    virtual Result<std::size_t> read(std::span<double> values) = 0;

    // Next read() starts at this frame (0 <= frame <= frames).
    virtual Result<void> seek(std::int64_t frame) = 0;
};

struct ReadOptions {
    std::optional<double> rate_hz = {}; // for text without a rate of its own
};

// Opens by content, never by name alone. The file must not be empty, must hold at least one frame, must have one rate.
Result<std::unique_ptr<RecordingReader>> open_recording(const std::string& path, const ReadOptions& options = {});

// One per format; nullptr where the content is not of this format.
Result<std::unique_ptr<RecordingReader>> open_audio(const std::string& path);
Result<std::unique_ptr<RecordingReader>> open_text(const std::string& path, const ReadOptions& options);

// File names that a folder scan takes for recordings (extension only; open_recording decides).
bool looks_like_a_recording(const std::string& path);

} // namespace becalm::io
