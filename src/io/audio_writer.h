// Writing a recording as WAV or FLAC, whole or not at all; an existing file is never touched.
//
// The file is made in memory, written beside its place and renamed (src/io/atomic_file.h), so memory grows with the
// recording: twice what is stored. Nothing in the file depends on the time or on the machine.
#pragma once

#include <span>
#include <string>

#include "src/base/problem.h"

namespace becalm::io {

enum class AudioContainer { wav, flac };

enum class AudioCoding {
    float32,  // values as they are, to single precision; WAV only
    integer24 // parts of full scale, rounded to the nearest of 2^24 steps
};

struct AudioLayout {
    int rate_hz = 0;  // > 0; the formats store whole numbers
    int channels = 1; // 1 to 256; FLAC up to 8
    AudioContainer container = AudioContainer::wav;
    AudioCoding coding = AudioCoding::float32;
    double full_scale = 1.0; // > 0; the value that integer24 stores as 1.0: the `scale` of whoever reads it
};

// `values` are interleaved, a whole number of frames and at least one. With integer24 they must lie in
// [-full_scale, full_scale - half a step): nothing is clipped silently. A value that is no number, one beyond full
// scale, a file of more than 4 GiB, an existing `path`, a full disk: a Problem, and no file.
Result<void> write_audio(const std::string& path, const AudioLayout& layout, std::span<const double> values);

} // namespace becalm::io
