// How a recording is named: its file, and behind a # which of several recordings in the file is meant
// ("run.mat#deck3").
#pragma once

#include <string>

namespace becalm::io {

struct RecordingPath {
    std::string file = {};
    std::string part = {}; // empty: the file holds one recording
};

// A # belongs to a file's name where a file of that name is there; else the first # behind an existing file's name
// begins the part. Where no such file is there the path is taken as it stands.
RecordingPath recording_path(const std::string& path);

} // namespace becalm::io
