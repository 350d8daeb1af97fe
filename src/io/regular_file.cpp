#include "src/io/regular_file.h"

#include <cerrno>
#include <fcntl.h>
#include <system_error>
#include <unistd.h>

#include <sys/stat.h>

namespace becalm::io {

namespace {

Problem refusal(const std::string& path, std::string what, std::string remedy)
{
    Problem problem;
    problem.kind = ProblemKind::outside_world;
    problem.file = path;
    problem.what = std::move(what);
    problem.remedy = std::move(remedy);
    return problem;
}

Problem not_regular(const std::string& path, mode_t mode)
{
    const char* kind = "something other than a regular file";
    if (S_ISDIR(mode))
        kind = "a folder";
    else if (S_ISFIFO(mode))
        kind = "a pipe";
    else if (S_ISCHR(mode) || S_ISBLK(mode))
        kind = "a device";
    else if (S_ISSOCK(mode))
        kind = "a socket";
    return refusal(path, std::string("this is ") + kind + ", not a regular file",
                   S_ISDIR(mode) ? "name a file in it" : "copy its data to a file first");
}

} // namespace

FileHandle::~FileHandle()
{
    if (descriptor_ >= 0) ::close(descriptor_);
}

Problem system_problem(const std::string& path, FileAttempt attempt, int error)
{
    const bool writing = attempt == FileAttempt::write;
    switch (error) {
    case ENOENT:
        return writing ? refusal(path, "the folder it should lie in does not exist", "make the folder first")
                       : refusal(path, "there is no such file", "check the name and the folder");
    case ENOTDIR: return refusal(path, "a part of this path is a file, not a folder", "check the path");
    case EACCES:
    case EPERM:
        return writing ? refusal(path, "no permission to write here", "choose another folder or change its permissions")
                       : refusal(path, "no permission to read it", "change its permissions or copy it elsewhere");
    case EROFS: return refusal(path, "the file system is read-only", "choose a folder on another disk");
    case ENOSPC: return refusal(path, "the disk is full", "free some space or choose a folder on another disk");
    case EDQUOT:
        return refusal(path, "your share of the disk is used up", "free some space or choose a folder on another disk");
    case EFBIG: return refusal(path, "the file would be larger than the system allows", "raise the limit on file size");
    case EISDIR: return refusal(path, "this is a folder, not a regular file", "name a file in it");
    case EEXIST: return refusal(path, "it exists already", "choose another name or move the old one away");
    case ENAMETOOLONG: return refusal(path, "the name is too long", "choose a shorter one");
    case ELOOP: return refusal(path, "its symbolic links run in a circle", "mend the links");
    case EMFILE:
    case ENFILE: return refusal(path, "too many files are open", "raise the limit on open files");
    case ENXIO:
        return refusal(path, "this is not a regular file", writing ? "name a file" : "copy its data to a file first");
    case EIO:
        return refusal(path, "the disk reports a fault", "check the disk and its cable, then copy the file again");
    default: {
        const std::string reason = std::generic_category().message(error);
        return refusal(path, (writing ? "it cannot be written: " : "it cannot be read: ") + reason,
                       writing ? "choose another folder, or try again" : "copy it elsewhere, or try again");
    }
    }
}

Result<OpenedFile> open_regular_file(const std::string& path)
{
    // O_NONBLOCK: opening a pipe that nobody writes to would wait for ever.
    int descriptor = -1;
    do descriptor = ::open(path.c_str(), O_RDONLY | O_NONBLOCK | O_CLOEXEC | O_NOCTTY);
    while (descriptor < 0 && errno == EINTR);
    OpenedFile opened{FileHandle(descriptor), 0};
    if (!opened.handle.is_open()) return fail(system_problem(path, FileAttempt::read, errno));
    struct stat status = {};
    if (::fstat(opened.handle.get(), &status) != 0) return fail(system_problem(path, FileAttempt::read, errno));
    if (!S_ISREG(status.st_mode)) return fail(not_regular(path, status.st_mode));
    opened.size = status.st_size;
    return opened;
}

Result<std::size_t> read_bytes(const FileHandle& handle, const std::string& path, std::span<char> bytes)
{
    std::size_t filled = 0;
    while (filled < bytes.size()) {
        const ssize_t got = ::read(handle.get(), bytes.data() + filled, bytes.size() - filled);
        if (got < 0 && errno == EINTR) continue;
        if (got < 0) return fail(system_problem(path, FileAttempt::read, errno));
        if (got == 0) break;
        filled += static_cast<std::size_t>(got);
    }
    return filled;
}

Result<std::size_t> read_bytes_at(const FileHandle& handle, const std::string& path, std::int64_t offset,
                                  std::span<char> bytes)
{
    std::size_t filled = 0;
    while (filled < bytes.size()) {
        const ssize_t got = ::pread(handle.get(), bytes.data() + filled, bytes.size() - filled,
                                    offset + static_cast<std::int64_t>(filled));
        if (got < 0 && errno == EINTR) continue;
        if (got < 0) return fail(system_problem(path, FileAttempt::read, errno));
        if (got == 0) break;
        filled += static_cast<std::size_t>(got);
    }
    return filled;
}

} // namespace becalm::io
