// Descriptions: a small TOML file that says how to read what cannot describe itself, opened like any recording.
//
//   [becalm-recording]
//   files = ["run.bin"]            # one after the other in time; or side_by_side = [...], channels of one time
//   numbers = "int16"              # of raw files: int16, int24, int32, float32, float64; absent: files of their own
//   format byte_order = "little"          # little (the default), big channels = 3                   # of each raw file
//   layout = "interleaved"         # interleaved (the default), one after the other
//   header_bytes = 512             # of each raw file, passed over; 0 by default
//   rate_hz = 1000.0
//   start = "2031-05-17T06:30:05Z"
//   unit = "m/s2"                  # of stored value x scale
//   scale = [0.01, 0.01, 0.02]     # or one for all; held against the survey's, not applied
//   names = ["x", "y", "z"]
//
// The files lie in the description's own folder or below it, whatever links there are. `files = ["-"]` describes the
// numbers of a stream (src/io/stream_reader.h), which is no file and cannot be opened as one.
#pragma once

#include <string>
#include <vector>

#include "src/base/problem.h"

namespace becalm::io {

// Whether the content of this file is a description; false for what cannot be read.
bool is_description(const std::string& path);

// The files that a description names, each once and without a part, as it names them: relative to its folder.
Result<std::vector<std::string>> files_described(const std::string& path);

} // namespace becalm::io
