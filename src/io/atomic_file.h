// Whole files only: the old content or the new, never a mixture and never a half.
#pragma once

#include <string>
#include <string_view>

#include "src/base/problem.h"

namespace becalm::io {

// Writes `content` to a temporary file in the folder of `path`, flushes it to the disk, then renames it over `path`.
// On any failure (folder missing or read-only, disk full) the temporary file is removed and `path` is as it was.
Result<void> write_file_atomically(const std::string& path, std::string_view content);

// The same, but refuses when `path` exists already.
Result<void> write_new_file_atomically(const std::string& path, std::string_view content);

// The whole file; at most `limit` bytes (a larger one is a Problem).
Result<std::string> read_text_file(const std::string& path, std::size_t limit = std::size_t{64} << 20);

} // namespace becalm::io
