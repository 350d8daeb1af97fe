// SHA-256 of a file's content [FIPS 180-4], through OpenSSL's libcrypto.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <utility>

#include "src/base/problem.h"

namespace becalm::io {

// Lower-case hexadecimal, 64 characters. Reads in blocks; memory does not grow with the file.
Result<std::string> sha256_of_file(const std::string& path);
std::string sha256_of_text(std::string_view text);

// Of a recording (a part may be named): of its file's content; where it is a description (src/io/description_reader.h),
// of the text that `sha256sum DESCRIPTION FILES...` prints in its folder for it and the files it names, each once, in
// its order. So anybody can check it: `sha256sum run.recording.toml 001.wav 002.wav | sha256sum`.
Result<std::string> sha256_of_recording(const std::string& path);
// The same where the hashes of the files are known: pairs of hash and name; one alone is its own.
std::string sha256_of_files(std::span<const std::pair<std::string, std::string>> hashes_and_names);

} // namespace becalm::io
