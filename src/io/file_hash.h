// SHA-256 of a file's content [FIPS 180-4], through OpenSSL's libcrypto.
#pragma once

#include <string>
#include <string_view>

#include "src/base/problem.h"

namespace becalm::io {

// Lower-case hexadecimal, 64 characters. Reads in blocks; memory does not grow with the file.
Result<std::string> sha256_of_file(const std::string& path);
std::string sha256_of_text(std::string_view text);

} // namespace becalm::io
