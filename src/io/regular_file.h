// Opening a file that must be an ordinary one, and the system's refusals in plain words.
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <string>
#include <utility>

#include "src/base/problem.h"

namespace becalm::io {

// Owns a file descriptor. Closing reports nothing: whoever writes calls fsync first.
class FileHandle {
public:
    FileHandle() = default;
    explicit FileHandle(int descriptor) : descriptor_(descriptor) {}
    FileHandle(FileHandle&& other) noexcept : descriptor_(std::exchange(other.descriptor_, -1)) {}
    FileHandle& operator=(FileHandle&& other) noexcept
    {
        std::swap(descriptor_, other.descriptor_);
        return *this;
    }
    FileHandle(const FileHandle&) = delete;
    FileHandle& operator=(const FileHandle&) = delete;
    ~FileHandle();

    int get() const { return descriptor_; }
    bool is_open() const { return descriptor_ >= 0; }
    int release() { return std::exchange(descriptor_, -1); }

private:
    int descriptor_ = -1;
};

struct OpenedFile {
    FileHandle handle;
    std::int64_t size = 0; // bytes, when it was opened
};

enum class FileAttempt { read, write };

// What the system said (`error` is an errno) as a sentence with a remedy; kind outside_world.
Problem system_problem(const std::string& path, FileAttempt attempt, int error);

// Opens for reading. A missing file, a folder, a pipe, a device, one without permission: a Problem, and never a wait.
Result<OpenedFile> open_regular_file(const std::string& path);

// Fills `bytes` from the present place; fewer only at the end of the file, 0 at the end.
Result<std::size_t> read_bytes(const FileHandle& handle, const std::string& path, std::span<char> bytes);

// The same from byte `offset` on; the present place stays.
Result<std::size_t> read_bytes_at(const FileHandle& handle, const std::string& path, std::int64_t offset,
                                  std::span<char> bytes);

} // namespace becalm::io
