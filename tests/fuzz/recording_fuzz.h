// What every fuzzer of a recording format does with its bytes: a file of them, in memory, is opened as any recording
// is, every part of it is read from end to end and from the middle, and whatever is wrong must come back as a Problem.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>

namespace becalm::fuzz {

// A file without a name that holds these bytes until the next call; its path.
const std::string& file_of(const std::uint8_t* data, std::size_t size);

// Opens and reads through open_recording. Bounded: a file that promises more than can be read in a moment is left
// after the first million values.
void read_everything(const std::string& path);

} // namespace becalm::fuzz
