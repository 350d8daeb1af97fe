#include "src/io/atomic_file.h"

#include <algorithm>
#include <array>
#include <atomic>
#include <cerrno>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <dirent.h>
#include <fcntl.h>
#include <memory>
#include <mutex>
#include <optional>
#include <set>
#include <unistd.h>

#include <fmt/format.h>
#include <sys/file.h>
#include <sys/stat.h>

#include "src/io/regular_file.h"

namespace becalm::io {

namespace {

tl::unexpected<Problem> cannot_write(const std::string& path, int error)
{
    return fail(system_problem(path, FileAttempt::write, error));
}

// Removes the temporary file unless it has become the real one.
class TemporaryName {
public:
    explicit TemporaryName(std::string path) : path_(std::move(path)) {}
    TemporaryName(const TemporaryName&) = delete;
    TemporaryName& operator=(const TemporaryName&) = delete;
    ~TemporaryName()
    {
        if (!gone_) ::unlink(path_.c_str());
    }
    const char* c_str() const { return path_.c_str(); }
    void is_gone() { gone_ = true; }

private:
    std::string path_;
    bool gone_ = false;
};

std::string folder_of(const std::string& path)
{
    const auto slash = path.rfind('/');
    if (slash == std::string::npos) return ".";
    return slash == 0 ? "/" : path.substr(0, slash);
}

// Where the bytes shall lie: a symbolic link stays a link and its target is replaced.
std::string target_of(const std::string& path)
{
    struct stat status = {};
    if (::lstat(path.c_str(), &status) != 0 || !S_ISLNK(status.st_mode)) return path;
    const std::unique_ptr<char, decltype(&std::free)> resolved(::realpath(path.c_str(), nullptr), &std::free);
    return resolved ? std::string(resolved.get()) : path;
}

int open_retried(const char* path, int flags, mode_t mode = 0)
{
    for (;;) {
        const int descriptor = ::open(path, flags, mode);
        if (descriptor >= 0 || errno != EINTR) return descriptor;
    }
}

// ---- what killed processes left behind ----
//
// Whoever writes holds a lock on the temporary file; a lock that can be taken belongs to nobody any more. Not every
// network file system carries locks from one machine to another, hence the minutes without a change, by the clock of
// the file system.

constexpr std::string_view temporary_begin = ".becalm-", temporary_end = ".tmp";
constexpr std::int64_t abandoned_after_s = 600;

// ".becalm-4711-3.tmp"
bool is_temporary(std::string_view name)
{
    if (!name.starts_with(temporary_begin) || !name.ends_with(temporary_end)) return false;
    name.remove_prefix(temporary_begin.size());
    name.remove_suffix(std::min(name.size(), temporary_end.size()));
    const auto dash = name.find('-');
    const auto are_digits = [](std::string_view text) {
        return !text.empty() && text.find_first_not_of("0123456789") == std::string_view::npos;
    };
    return dash != std::string_view::npos && are_digits(name.substr(0, dash)) && are_digits(name.substr(dash + 1));
}

bool lock(int descriptor) { return ::flock(descriptor, LOCK_EX | LOCK_NB) == 0; }

void remove_if_abandoned(int folder, const char* name, std::int64_t now_s)
{
    const FileHandle file(::openat(folder, name, O_RDONLY | O_CLOEXEC | O_NOFOLLOW | O_NONBLOCK));
    struct stat opened = {}, named = {};
    if (!file.is_open() || ::fstat(file.get(), &opened) != 0 || !S_ISREG(opened.st_mode)) return;
    // Also what lies in the future: the clock was wrong then.
    if (std::abs(now_s - std::int64_t{opened.st_mtim.tv_sec}) < abandoned_after_s || !lock(file.get())) return;
    const bool is_the_same = ::fstatat(folder, name, &named, AT_SYMLINK_NOFOLLOW) == 0 &&
                             named.st_ino == opened.st_ino && named.st_dev == opened.st_dev;
    if (is_the_same) ::unlinkat(folder, name, 0);
}

// Once a process and folder. What cannot be removed does no harm: its name is nobody's.
void remove_leftovers(const std::string& folder, const FileHandle& just_made)
{
    static std::mutex mutex;
    static std::set<std::string> looked_through;
    {
        const std::lock_guard guard(mutex);
        if (!looked_through.insert(folder).second) return;
    }
    struct stat now = {};
    if (::fstat(just_made.get(), &now) != 0) return;
    const std::unique_ptr<DIR, int (*)(DIR*)> listing(::opendir(folder.c_str()), &::closedir);
    if (!listing) return;
    while (const dirent* found = ::readdir(listing.get()))
        if (is_temporary(found->d_name))
            remove_if_abandoned(::dirfd(listing.get()), found->d_name, std::int64_t{now.st_mtim.tv_sec});
}

Result<FileHandle> create_beside(const std::string& target, const std::string& path, std::string& name)
{
    static std::atomic<unsigned> counter{0};
    constexpr int attempts = 1000; // leftovers of a crashed run with the same process id
    const std::string folder = folder_of(target);
    for (int attempt = 0; attempt < attempts; ++attempt) {
        name = fmt::format("{}/{}{}-{}{}", folder, temporary_begin, ::getpid(), counter++, temporary_end);
        FileHandle handle(open_retried(name.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666));
        if (!handle.is_open() && errno == EEXIST) continue;
        if (!handle.is_open()) return cannot_write(path, errno);
        static_cast<void>(lock(handle.get())); // where there are no locks, nobody removes leftovers either
        remove_leftovers(folder, handle);
        return handle;
    }
    return cannot_write(path, EEXIST);
}

int write_all(int descriptor, std::string_view content)
{
    while (!content.empty()) {
        const ssize_t written = ::write(descriptor, content.data(), content.size());
        if (written < 0 && errno == EINTR) continue;
        if (written < 0) return errno;
        if (written == 0) return EIO; // or it would go on for ever
        content.remove_prefix(static_cast<std::size_t>(written));
    }
    return 0;
}

int flush(int descriptor)
{
    while (::fsync(descriptor) != 0)
        if (errno != EINTR) return errno;
    return 0;
}

// Both ways refuse an existing name within the kernel, so that nobody can slip in between. Not every file system knows
// both.
int rename_unless_it_exists(TemporaryName& temporary, const char* target)
{
    if (::renameat2(AT_FDCWD, temporary.c_str(), AT_FDCWD, target, RENAME_NOREPLACE) == 0) {
        temporary.is_gone();
        return 0;
    }
    if (errno != EINVAL && errno != ENOSYS && errno != ENOTSUP) return errno;
    return ::link(temporary.c_str(), target) == 0 ? 0 : errno;
}

// The mode that the new file has to have; none where there is no old one. A Problem where it must not be replaced.
Result<std::optional<mode_t>> mode_of_old(const std::string& target, const std::string& path, IfItExists existing)
{
    std::optional<mode_t> mode;
    struct stat status = {};
    if (::stat(target.c_str(), &status) == 0) {
        if (existing == IfItExists::refuse) return cannot_write(path, EEXIST);
        if (S_ISDIR(status.st_mode)) return cannot_write(path, EISDIR);
        // Renaming over a device or a pipe would replace it by a file: surely not what was meant.
        if (!S_ISREG(status.st_mode)) return cannot_write(path, ENXIO);
        // The folder alone decides about renaming; a write-protected file is meant to stay as it is.
        if (::faccessat(AT_FDCWD, target.c_str(), W_OK, AT_EACCESS) != 0) return cannot_write(path, errno);
        mode = status.st_mode & 07777;
    }
    return mode;
}

// The new name survives a power cut only once the folder is on the disk. The content is there already and some file
// systems cannot flush a folder, so a refusal here is no failure.
void flush_folder_of(const std::string& target)
{
    const FileHandle folder(open_retried(folder_of(target).c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
    if (folder.is_open()) static_cast<void>(::fsync(folder.get()));
}

class GrowingFile final : public AtomicFile {
public:
    GrowingFile(std::string path, std::string target, std::string name, FileHandle handle, IfItExists existing)
        : path_(std::move(path)), target_(std::move(target)), name_(std::move(name)), temporary_(name_),
          handle_(std::move(handle)), existing_(existing)
    {
    }

    Result<void> append(std::string_view content) override
    {
        flushed_ = false;
        if (const int error = write_all(handle_.get(), content)) return cannot_write(path_, error);
        return {};
    }

    Result<void> flush() override
    {
        if (flushed_) return {};
        if (const int error = io::flush(handle_.get())) return cannot_write(path_, error);
        flushed_ = true;
        return {};
    }

    Result<void> commit() override
    {
        if (auto flushed = flush(); !flushed) return flushed;
        if (existing_ == IfItExists::refuse) {
            if (const int error = rename_unless_it_exists(temporary_, target_.c_str()))
                return cannot_write(path_, error);
        } else {
            if (::rename(temporary_.c_str(), target_.c_str()) != 0) return cannot_write(path_, errno);
            temporary_.is_gone();
        }
        flush_folder_of(target_);
        return {};
    }

    const std::string& temporary_path() const override { return name_; }
    int descriptor() const { return handle_.get(); }

private:
    std::string path_, target_, name_;
    TemporaryName temporary_;
    FileHandle handle_;
    IfItExists existing_;
    bool flushed_ = false;
};

Result<void> write_atomically(const std::string& path, std::string_view content, IfItExists existing)
{
    auto file = AtomicFile::create(path, existing);
    if (!file) return fail(file.error());
    if (auto written = (*file)->append(content); !written) return written;
    return (*file)->commit();
}

} // namespace

Result<std::unique_ptr<AtomicFile>> AtomicFile::create(const std::string& path, IfItExists existing)
{
    const std::string target = existing == IfItExists::replace ? target_of(path) : path;
    const auto mode = mode_of_old(target, path, existing);
    if (!mode) return fail(mode.error());
    std::string name;
    auto handle = create_beside(target, path, name);
    if (!handle) return fail(handle.error());
    auto file = std::make_unique<GrowingFile>(path, target, name, std::move(*handle), existing);
    if (*mode && ::fchmod(file->descriptor(), **mode) != 0) return cannot_write(path, errno);
    return file;
}

Result<void> commit_all(std::span<const std::unique_ptr<AtomicFile>> files)
{
    for (const auto& file : files)
        if (auto flushed = file->flush(); !flushed) return flushed;
    for (const auto& file : files)
        if (auto committed = file->commit(); !committed) return committed;
    return {};
}

Result<void> write_files_atomically(std::span<const FileToWrite> contents)
{
    std::vector<std::unique_ptr<AtomicFile>> files;
    for (const FileToWrite& one : contents) {
        auto file = AtomicFile::create(one.path);
        if (!file) return fail(file.error());
        if (auto written = (*file)->append(one.content); !written) return written;
        files.push_back(std::move(*file));
    }
    return commit_all(files);
}

Result<void> write_file_atomically(const std::string& path, std::string_view content)
{
    return write_atomically(path, content, IfItExists::replace);
}

Result<void> write_new_file_atomically(const std::string& path, std::string_view content)
{
    return write_atomically(path, content, IfItExists::refuse);
}

Result<std::string> read_text_file(const std::string& path, std::size_t limit)
{
    auto opened = open_regular_file(path);
    if (!opened) return fail(opened.error());
    const auto too_large = [&] {
        Problem problem;
        problem.file = path;
        problem.what = fmt::format("the file is larger than {} bytes", limit);
        problem.remedy = "check that it is the file you meant";
        return fail(std::move(problem));
    };
    if (static_cast<std::size_t>(opened->size) > limit) return too_large();
    std::string content;
    std::array<char, 65536> block{};
    for (;;) {
        const auto got = read_bytes(opened->handle, path, block);
        if (!got) return fail(got.error());
        if (*got == 0) return content;
        if (content.size() + *got > limit) return too_large(); // it grew since it was opened
        content.append(block.data(), *got);
    }
}

} // namespace becalm::io
