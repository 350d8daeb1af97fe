// A recording that comes out of a pipe and is never a file: numbers one after the other, or a WAV file as its writer
// sends it, whose length is known when it has ended. Constant memory: what has come is kept as far back as keep() says.
//
// Raw numbers are described as those of a file are (src/io/description_reader.h), with `files = ["-"]`. Of WAV
// (RIFF or RF64, little-endian integers of 16, 24 or 32 bits and floats of 32 or 64): where the header names no length
// (0, or 0x7FFFF000 and more, as those write it who cannot go back), all that comes until the end counts; else so many
// bytes, and the end before them is told in info().remarks.
#pragma once

#include <cstdint>
#include <limits>
#include <memory>
#include <stop_token>
#include <string>
#include <vector>

#include "src/base/problem.h"
#include "src/io/raw_numbers.h"
#include "src/io/recording_reader.h"
#include "src/io/regular_file.h"

namespace becalm::io {

// Frames of a stream that has not ended: more than there will ever be, and few enough that sums with it hold.
inline constexpr std::int64_t frames_not_known = std::int64_t{1} << 56;

struct StreamLayout {
    RecordingInfo info = {}; // but the frames
    RawNumbers numbers = RawNumbers::float32;
    bool big_endian = false;
    double factor = 1.0; // of a stored number, 1 / full scale of integers in WAV
    std::int64_t header_bytes = 0;
};

class StreamReader final : public RecordingReader {
public:
    // `frames` that the header promises, where it does.
    StreamReader(std::string name, FileHandle pipe, StreamLayout layout, std::int64_t frames, std::stop_token stop);

    // What lies so many frames before the last one read can be sought. Only grows.
    void keep(std::int64_t frames);

    // Until the end has been read `frames` is frames_not_known, then what there were.
    const RecordingInfo& info() const override { return info_; }
    // Waits for as many frames as were asked for; fewer at the end alone. A stop is an end.
    Result<std::size_t> read(std::span<double> values) override;
    // Back to what is kept, or to where reading stands.
    Result<void> seek(std::int64_t frame) override;

private:
    std::int64_t have_end() const { return first_ + static_cast<std::int64_t>((bytes_.size() - begin_) / frame_); }
    Result<void> fetch(std::int64_t until);
    void end();

    std::string name_;
    FileHandle pipe_;
    StreamLayout layout_;
    RecordingInfo info_;
    std::int64_t promised_;
    std::stop_token stop_;
    std::size_t frame_;       // bytes
    std::int64_t keep_ = 0;   // frames
    std::vector<char> bytes_; // of frames from first_ on, behind begin_
    std::size_t begin_ = 0;
    std::int64_t first_ = 0;
    std::int64_t next_ = 0; // frame that the next read() begins with
    bool ended_ = false;
};

// `source` is "-" for WAV, or a description whose file is "-". `pipe` has the bytes: a pipe, a socket, a device or a
// file. Waits for the header.
Result<std::unique_ptr<StreamReader>> open_stream(const std::string& source, FileHandle pipe,
                                                  std::stop_token stop = {});

// What a description says of a stream (src/io/description_reader.cpp).
Result<StreamLayout> stream_described(const std::string& path);

} // namespace becalm::io
