#include "src/io/atomic_file.h"

#include <array>
#include <atomic>
#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <fcntl.h>
#include <memory>
#include <optional>
#include <unistd.h>

#include <fmt/format.h>
#include <sys/stat.h>

#include "src/io/regular_file.h"

namespace becalm::io {

namespace {

enum class Existing { replace, refuse };

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

Result<FileHandle> create_beside(const std::string& target, const std::string& path, std::string& name)
{
    static std::atomic<unsigned> counter{0};
    constexpr int attempts = 1000; // leftovers of a crashed run with the same process id
    for (int attempt = 0; attempt < attempts; ++attempt) {
        name = fmt::format("{}/.becalm-{}-{}.tmp", folder_of(target), ::getpid(), counter++);
        FileHandle handle(::open(name.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666));
        if (handle.is_open()) return handle;
        if (errno != EEXIST) return cannot_write(path, errno);
    }
    return cannot_write(path, EEXIST);
}

int write_all(int descriptor, std::string_view content)
{
    while (!content.empty()) {
        const ssize_t written = ::write(descriptor, content.data(), content.size());
        if (written < 0 && errno == EINTR) continue;
        if (written < 0) return errno;
        content.remove_prefix(static_cast<std::size_t>(written));
    }
    return 0;
}

int flush(int descriptor) { return ::fsync(descriptor) == 0 ? 0 : errno; }

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
Result<std::optional<mode_t>> mode_of_old(const std::string& target, const std::string& path, Existing existing)
{
    std::optional<mode_t> mode;
    struct stat status = {};
    if (::stat(target.c_str(), &status) == 0) {
        if (existing == Existing::refuse) return cannot_write(path, EEXIST);
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
    const FileHandle folder(::open(folder_of(target).c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
    if (folder.is_open()) static_cast<void>(::fsync(folder.get()));
}

Result<void> write_atomically(const std::string& path, std::string_view content, Existing existing)
{
    const std::string target = existing == Existing::replace ? target_of(path) : path;
    const auto mode = mode_of_old(target, path, existing);
    if (!mode) return fail(mode.error());

    std::string name;
    auto handle = create_beside(target, path, name);
    if (!handle) return fail(handle.error());
    TemporaryName temporary(name);
    if (*mode && ::fchmod(handle->get(), **mode) != 0) return cannot_write(path, errno);
    if (const int error = write_all(handle->get(), content)) return cannot_write(path, error);
    if (const int error = flush(handle->get())) return cannot_write(path, error);

    if (existing == Existing::refuse) {
        if (const int error = rename_unless_it_exists(temporary, target.c_str())) return cannot_write(path, error);
    } else {
        if (::rename(temporary.c_str(), target.c_str()) != 0) return cannot_write(path, errno);
        temporary.is_gone();
    }
    flush_folder_of(target);
    return {};
}

class GrowingFile final : public AtomicFile {
public:
    GrowingFile(std::string path, std::string target, std::string name, FileHandle handle)
        : path_(std::move(path)), target_(std::move(target)), name_(std::move(name)), temporary_(name_),
          handle_(std::move(handle))
    {
    }

    Result<void> append(std::string_view content) override
    {
        if (const int error = write_all(handle_.get(), content)) return cannot_write(path_, error);
        return {};
    }

    Result<void> commit() override
    {
        if (const int error = flush(handle_.get())) return cannot_write(path_, error);
        if (::rename(temporary_.c_str(), target_.c_str()) != 0) return cannot_write(path_, errno);
        temporary_.is_gone();
        flush_folder_of(target_);
        return {};
    }

    const std::string& temporary_path() const override { return name_; }

private:
    std::string path_, target_, name_;
    TemporaryName temporary_;
    FileHandle handle_;
};

} // namespace

Result<std::unique_ptr<AtomicFile>> AtomicFile::create(const std::string& path)
{
    const std::string target = target_of(path);
    const auto mode = mode_of_old(target, path, Existing::replace);
    if (!mode) return fail(mode.error());
    std::string name;
    auto handle = create_beside(target, path, name);
    if (!handle) return fail(handle.error());
    if (*mode && ::fchmod(handle->get(), **mode) != 0) {
        const int error = errno;
        ::unlink(name.c_str());
        return cannot_write(path, error);
    }
    return std::make_unique<GrowingFile>(path, target, name, std::move(*handle));
}

Result<void> write_file_atomically(const std::string& path, std::string_view content)
{
    return write_atomically(path, content, Existing::replace);
}

Result<void> write_new_file_atomically(const std::string& path, std::string_view content)
{
    return write_atomically(path, content, Existing::refuse);
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
