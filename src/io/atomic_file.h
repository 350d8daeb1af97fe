// Whole files only: the old content or the new, never a mixture and never a half.
#pragma once

#include <memory>
#include <span>
#include <string>
#include <string_view>

#include "src/base/problem.h"

namespace becalm::io {

// Writes `content` to a temporary file in the folder of `path`, flushes it to the disk, then renames it over `path`.
// On any failure (folder missing or read-only, disk full) the temporary file is removed and `path` is as it was.
Result<void> write_file_atomically(const std::string& path, std::string_view content);

// The same, but refuses when `path` exists already.
Result<void> write_new_file_atomically(const std::string& path, std::string_view content);

enum class IfItExists { replace, refuse };

// The same for what comes piece by piece: until committed, it grows under a temporary name beside `path`,
// ".becalm-PID-N.tmp". What a killed process left under such a name goes when the next one writes into that folder:
// once nobody holds it and it has lain unchanged for ten minutes.
class AtomicFile {
public:
    static Result<std::unique_ptr<AtomicFile>> create(const std::string& path,
                                                      IfItExists existing = IfItExists::replace);
    virtual ~AtomicFile() = default; // uncommitted: removes what was written

    virtual Result<void> append(std::string_view content) = 0;
    virtual Result<void> flush() = 0;                      // to the disk, still under its temporary name
    virtual Result<void> commit() = 0;                     // flushes and renames; nothing may be appended then
    virtual const std::string& temporary_path() const = 0; // where it lies until committed
};

// All of them: none gets its name before each is on the disk, so that want of space leaves all the old ones.
Result<void> commit_all(std::span<const std::unique_ptr<AtomicFile>> files);

struct FileToWrite {
    std::string path;
    std::string_view content;
};
// As write_file_atomically, for files that belong together.
Result<void> write_files_atomically(std::span<const FileToWrite> contents);

// The whole file; at most `limit` bytes (a larger one is a Problem).
Result<std::string> read_text_file(const std::string& path, std::size_t limit = std::size_t{64} << 20);

} // namespace becalm::io
