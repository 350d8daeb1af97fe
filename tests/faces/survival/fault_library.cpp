// Stands between a program and the C library (LD_PRELOAD) and lets the world be unkind at an exact call: the disk full,
// the process killed, a file cut while it is read, the clock of another century. Only calls that concern one folder
// count, so that the number of a call is the same in every run.
//
//   FAULTS_IN     the folder (absolute, without links); several separated by ':'
//   FAULTS_KIND   "write": opening for writing, write, fsync, rename, link, unlink, mkdir, truncate, chmod, close of
//                 what was written; "read": opening for reading, read, listing
//   FAULTS_AT     the number of the call at which it happens, from 1
//   FAULTS_DO     "kill"; "tear": half of the write is done, then kill; "fail": FAULTS_ERRNO; "short": half is written
//                 or read; "cut": the file that is read is cut to half; "grow": it grows by itself once more;
//                 "lock": the permission of the folder goes; "vanish": the folder gets another name
//   FAULTS_FOR    "once" (default) or "ever"
//   FAULTS_TOLD   a file that takes a line at the fault, "N NAME PATH", and at the end the number of calls, "N of all";
//                 also "0 outside PATH" for every file opened for writing elsewhere, "0 forbidden NAME" for what starts
//                 a process or opens a connection
//
//   FAULTS_CLOCK  seconds that the clock is off; "jumping": back and forth by years at every look
#include <array>
#include <atomic>
#include <cerrno>
#include <csignal>
#include <cstdarg>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <ctime>
#include <dirent.h>
#include <dlfcn.h>
#include <fcntl.h>
#include <unistd.h>

#include <sys/socket.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <sys/time.h>
#include <sys/uio.h>

namespace {

enum class Kind { write, read };
enum class What { none, kill, tear, fail, part, cut, grow, lock, vanish };

struct Settings {
    const char* folders = nullptr;
    Kind kind = Kind::write;
    What what = What::none;
    long at = 0;
    int error = EIO;
    bool ever = false;
    const char* told = nullptr;
    bool clock = false, jumping = false;
    long clock_off = 0;
};

Settings settings;
std::atomic<long> calls{0};
std::atomic<unsigned> looks_at_clock{0};
using Path = std::array<char, 4096>;

template <class Function>
Function* next(const char* name)
{
    return reinterpret_cast<Function*>(::dlsym(RTLD_NEXT, name));
}
#define NEXT(name) static auto* const real = next<decltype(::name)>(#name)

void tell(const char* format, long number, const char* name, const char* path)
{
    if (settings.told == nullptr) return;
    std::array<char, 4500> line{};
    const int length = std::snprintf(line.data(), line.size(), format, number, name, path);
    const long file = ::syscall(SYS_openat, AT_FDCWD, settings.told, O_WRONLY | O_CREAT | O_APPEND | O_CLOEXEC, 0666);
    if (file < 0) return;
    ::syscall(SYS_write, file, line.data(), static_cast<std::size_t>(length));
    ::syscall(SYS_close, file);
}

__attribute__((constructor)) void read_settings()
{
    const auto is = [](const char* variable, const char* value) {
        const char* found = std::getenv(variable);
        return found != nullptr && std::strcmp(found, value) == 0;
    };
    const auto number = [](const char* variable) {
        const char* found = std::getenv(variable);
        return found != nullptr ? std::strtol(found, nullptr, 10) : 0L;
    };
    settings.folders = std::getenv("FAULTS_IN");
    settings.kind = is("FAULTS_KIND", "read") ? Kind::read : Kind::write;
    constexpr std::array<const char*, 9> names{"none", "kill", "tear", "fail",  "short",
                                               "cut",  "grow", "lock", "vanish"};
    for (std::size_t i = 0; i < names.size(); ++i)
        if (is("FAULTS_DO", names[i])) settings.what = static_cast<What>(i);
    settings.at = number("FAULTS_AT");
    settings.error = static_cast<int>(number("FAULTS_ERRNO"));
    settings.ever = is("FAULTS_FOR", "ever");
    settings.told = std::getenv("FAULTS_TOLD");
    settings.clock = std::getenv("FAULTS_CLOCK") != nullptr;
    settings.jumping = is("FAULTS_CLOCK", "jumping");
    settings.clock_off = number("FAULTS_CLOCK");
}

__attribute__((destructor)) void tell_number() { tell("%ld of all%s%s\n", calls.load(), "", ""); }

bool concerns(const char* path)
{
    for (const char* folder = settings.folders; folder != nullptr && *folder != '\0';) {
        const std::size_t length = std::strcspn(folder, ":");
        if (std::strncmp(path, folder, length) == 0 && (path[length] == '/' || path[length] == '\0')) return true;
        folder += length + (folder[length] == ':' ? 1 : 0);
    }
    return false;
}

bool path_of(int descriptor, Path& path)
{
    std::array<char, 64> link{};
    std::snprintf(link.data(), link.size(), "/proc/self/fd/%d", descriptor);
    const ssize_t length = ::readlink(link.data(), path.data(), path.size() - 1);
    if (length <= 0) return false;
    path[static_cast<std::size_t>(length)] = '\0';
    return true;
}

bool path_at(int folder, const char* name, Path& path)
{
    if (name == nullptr) return false;
    if (name[0] == '/') {
        std::snprintf(path.data(), path.size(), "%s", name);
        return true;
    }
    Path base{};
    if (folder == AT_FDCWD ? ::getcwd(base.data(), base.size()) == nullptr : !path_of(folder, base)) return false;
    std::snprintf(path.data(), path.size(), "%.2000s/%.2000s", base.data(), name);
    return true;
}

// What the call has to do: nothing special; to fail with errno set; to do its work in part, and be killed then or not.
enum class Order { as_ever, fail, part, part_and_die };

[[noreturn]] void die()
{
    ::kill(::getpid(), SIGKILL);
    for (;;) ::pause();
}

void set_length(const char* path, double factor)
{
    struct stat status = {};
    if (::stat(path, &status) == 0)
        ::syscall(SYS_truncate, path, static_cast<long>(static_cast<double>(status.st_size) * factor));
}

void grow(const char* path)
{
    struct stat status = {};
    const long file = ::syscall(SYS_openat, AT_FDCWD, path, O_RDWR | O_CLOEXEC, 0);
    if (file < 0 || ::stat(path, &status) != 0) return;
    std::array<char, 4096> block{};
    for (long done = 0; done < status.st_size;) {
        const long got = ::syscall(SYS_pread64, file, block.data(), block.size(), done);
        if (got <= 0) break;
        ::syscall(SYS_pwrite64, file, block.data(), static_cast<std::size_t>(got), status.st_size + done);
        done += got;
    }
    ::syscall(SYS_close, file);
}

Order order_for(Kind kind, const char* name, const Path& path, bool has_parts = false)
{
    if (settings.folders == nullptr) return Order::as_ever;
    if (kind == Kind::write && std::strstr(name, "open") != nullptr && !concerns(path.data()) &&
        std::strcmp(path.data(), "/dev/null") != 0)
        tell("%ld %s %s\n", 0, "outside", path.data());
    if (kind != settings.kind || !concerns(path.data())) return Order::as_ever;
    const long number = ++calls;
    if (settings.at == 0 || settings.what == What::none || number < settings.at ||
        (number > settings.at && !settings.ever))
        return Order::as_ever;
    if (number == settings.at) tell("%ld %s %s\n", number, name, path.data());
    const std::size_t folder_length = std::strcspn(settings.folders, ":");
    Path folder{};
    std::snprintf(folder.data(), folder.size(), "%.*s", static_cast<int>(folder_length), settings.folders);
    switch (settings.what) {
    case What::kill: die();
    case What::tear:
        if (has_parts) return Order::part_and_die;
        die();
    case What::part: return has_parts ? Order::part : Order::as_ever;
    case What::fail: errno = settings.error; return Order::fail;
    case What::cut: set_length(path.data(), 0.5); return Order::as_ever;
    case What::grow: grow(path.data()); return Order::as_ever;
    case What::lock: ::syscall(SYS_fchmodat, AT_FDCWD, folder.data(), 0); return Order::as_ever;
    case What::vanish: {
        Path elsewhere{};
        std::snprintf(elsewhere.data(), elsewhere.size(), "%.4000s.gone", folder.data());
        ::syscall(SYS_renameat2, AT_FDCWD, folder.data(), AT_FDCWD, elsewhere.data(), 0);
        return Order::as_ever;
    }
    case What::none: break;
    }
    return Order::as_ever;
}

Order order_for(Kind kind, const char* name, int descriptor, bool has_parts = false)
{
    Path path{};
    if (settings.folders == nullptr || !path_of(descriptor, path)) return Order::as_ever;
    return order_for(kind, name, path, has_parts);
}

Order order_at(Kind kind, const char* name, int folder, const char* file)
{
    Path path{};
    if (settings.folders == nullptr || !path_at(folder, file, path)) return Order::as_ever;
    return order_for(kind, name, path);
}

Kind kind_of(int flags) { return (flags & O_ACCMODE) == O_RDONLY ? Kind::read : Kind::write; }
Kind kind_of(const char* mode)
{
    return mode[0] == 'r' && std::strchr(mode, '+') == nullptr ? Kind::read : Kind::write;
}

std::size_t half(std::size_t count) { return count > 1 ? count / 2 : count; }

bool is_written(int descriptor)
{
    const int flags = ::fcntl(descriptor, F_GETFL);
    return flags >= 0 && kind_of(flags) == Kind::write;
}

// A stream's block is lost where the write below it fails. So from here on the file takes nothing, and after the first
// loss it does again.
struct Refusing {
    FILE* stream = nullptr;
    int kept = -1;

    void begin(FILE* file)
    {
        if (stream != nullptr) return;
        std::array<char, 64> link{};
        std::snprintf(link.data(), link.size(), "/proc/self/fd/%d", ::fileno(file));
        const long closed = ::syscall(SYS_openat, AT_FDCWD, link.data(), O_RDONLY | O_CLOEXEC, 0);
        if (closed < 0) return;
        stream = file;
        kept = ::dup(::fileno(file));
        ::lseek(static_cast<int>(closed), ::lseek(kept, 0, SEEK_CUR), SEEK_SET);
        ::dup2(static_cast<int>(closed), ::fileno(file));
        ::syscall(SYS_close, closed);
    }
    void end()
    {
        ::lseek(kept, ::lseek(::fileno(stream), 0, SEEK_CUR), SEEK_SET);
        ::dup2(kept, ::fileno(stream));
        ::syscall(SYS_close, kept);
        stream = nullptr;
    }
};
Refusing refusing;

void shift(timespec* time)
{
    constexpr long years = 20L * 365 * 86'400;
    time->tv_sec += settings.jumping ? (looks_at_clock++ % 2 == 0 ? years : -years) : settings.clock_off;
}

} // namespace

// The C library declares these with attributes that say that pointers are never null, and so on.
#pragma GCC diagnostic ignored "-Wnonnull-compare"
extern "C" {

#define MODE_OF(flags)                                                                                                 \
    mode_t mode = 0;                                                                                                   \
    if (((flags)&O_CREAT) != 0 || ((flags)&O_TMPFILE) == O_TMPFILE) {                                                  \
        va_list more;                                                                                                  \
        va_start(more, flags);                                                                                         \
        mode = va_arg(more, mode_t);                                                                                   \
        va_end(more);                                                                                                  \
    }

int open(const char* path, int flags, ...)
{
    MODE_OF(flags)
    NEXT(open);
    if (order_at(kind_of(flags), "open", AT_FDCWD, path) == Order::fail) return -1;
    return real(path, flags, mode);
}

int open64(const char* path, int flags, ...)
{
    MODE_OF(flags)
    NEXT(open64);
    if (order_at(kind_of(flags), "open", AT_FDCWD, path) == Order::fail) return -1;
    return real(path, flags, mode);
}

int openat(int folder, const char* path, int flags, ...)
{
    MODE_OF(flags)
    NEXT(openat);
    if (order_at(kind_of(flags), "openat", folder, path) == Order::fail) return -1;
    return real(folder, path, flags, mode);
}

int openat64(int folder, const char* path, int flags, ...)
{
    MODE_OF(flags)
    NEXT(openat64);
    if (order_at(kind_of(flags), "openat", folder, path) == Order::fail) return -1;
    return real(folder, path, flags, mode);
}

int creat(const char* path, mode_t mode)
{
    NEXT(creat);
    if (order_at(Kind::write, "creat", AT_FDCWD, path) == Order::fail) return -1;
    return real(path, mode);
}

FILE* fopen(const char* path, const char* mode)
{
    NEXT(fopen);
    if (order_at(kind_of(mode), "fopen", AT_FDCWD, path) == Order::fail) return nullptr;
    return real(path, mode);
}

FILE* fopen64(const char* path, const char* mode)
{
    NEXT(fopen64);
    if (order_at(kind_of(mode), "fopen", AT_FDCWD, path) == Order::fail) return nullptr;
    return real(path, mode);
}

ssize_t write(int file, const void* bytes, size_t count)
{
    NEXT(write);
    switch (order_for(Kind::write, "write", file, true)) {
    case Order::fail: return -1;
    case Order::part: return real(file, bytes, half(count));
    case Order::part_and_die: real(file, bytes, half(count)); die();
    case Order::as_ever: break;
    }
    return real(file, bytes, count);
}

ssize_t pwrite(int file, const void* bytes, size_t count, off_t offset)
{
    NEXT(pwrite);
    switch (order_for(Kind::write, "pwrite", file, true)) {
    case Order::fail: return -1;
    case Order::part: return real(file, bytes, half(count), offset);
    case Order::part_and_die: real(file, bytes, half(count), offset); die();
    case Order::as_ever: break;
    }
    return real(file, bytes, count, offset);
}

ssize_t pwrite64(int file, const void* bytes, size_t count, off64_t offset)
{
    return pwrite(file, bytes, count, offset);
}

ssize_t writev(int file, const iovec* parts, int count)
{
    NEXT(writev);
    switch (order_for(Kind::write, "writev", file, true)) {
    case Order::fail: return -1;
    case Order::part: return real(file, parts, 1);
    case Order::part_and_die: real(file, parts, 1); die();
    case Order::as_ever: break;
    }
    return real(file, parts, count);
}

size_t fwrite(const void* bytes, size_t size, size_t count, FILE* file)
{
    NEXT(fwrite);
    if (refusing.stream == file && std::ferror(file) != 0 && !settings.ever) refusing.end();
    switch (order_for(Kind::write, "fwrite", ::fileno(file), true)) {
    case Order::fail: refusing.begin(file); break;
    case Order::part: break; // a stream writes the rest by itself
    case Order::part_and_die:
        real(bytes, size, half(count), file);
        ::fflush(file);
        die();
    case Order::as_ever: break;
    }
    return real(bytes, size, count, file);
}

int fflush(FILE* file)
{
    NEXT(fflush);
    if (file != nullptr && order_for(Kind::write, "fflush", ::fileno(file)) == Order::fail) return EOF;
    return real(file);
}

int fclose(FILE* file)
{
    NEXT(fclose);
    if (is_written(::fileno(file)) && order_for(Kind::write, "fclose", ::fileno(file)) == Order::fail) {
        const int error = errno;
        real(file);
        errno = error;
        return EOF;
    }
    return real(file);
}

int close(int file)
{
    NEXT(close);
    if (is_written(file) && order_for(Kind::write, "close", file) == Order::fail) {
        const int error = errno;
        real(file);
        errno = error;
        return -1;
    }
    return real(file);
}

#define ON_DESCRIPTOR(name, kind, arguments, values)                                                                   \
    int name arguments                                                                                                 \
    {                                                                                                                  \
        NEXT(name);                                                                                                    \
        if (order_for(kind, #name, file) == Order::fail) return -1;                                                    \
        return real values;                                                                                            \
    }
ON_DESCRIPTOR(fsync, Kind::write, (int file), (file))
ON_DESCRIPTOR(fdatasync, Kind::write, (int file), (file))
ON_DESCRIPTOR(ftruncate, Kind::write, (int file, off_t length), (file, length))
ON_DESCRIPTOR(ftruncate64, Kind::write, (int file, off64_t length), (file, length))
ON_DESCRIPTOR(fchmod, Kind::write, (int file, mode_t mode), (file, mode))

#define ON_PATH(name, folder, path, arguments, values)                                                                 \
    int name arguments                                                                                                 \
    {                                                                                                                  \
        NEXT(name);                                                                                                    \
        if (order_at(Kind::write, #name, folder, path) == Order::fail) return -1;                                      \
        return real values;                                                                                            \
    }
ON_PATH(rename, AT_FDCWD, to, (const char* from, const char* to), (from, to))
ON_PATH(renameat, to_folder, to, (int folder, const char* from, int to_folder, const char* to),
        (folder, from, to_folder, to))
ON_PATH(renameat2, to_folder, to, (int folder, const char* from, int to_folder, const char* to, unsigned flags),
        (folder, from, to_folder, to, flags))
ON_PATH(link, AT_FDCWD, to, (const char* from, const char* to), (from, to))
ON_PATH(unlink, AT_FDCWD, path, (const char* path), (path))
ON_PATH(unlinkat, folder, path, (int folder, const char* path, int flags), (folder, path, flags))
ON_PATH(remove, AT_FDCWD, path, (const char* path), (path))
ON_PATH(mkdir, AT_FDCWD, path, (const char* path, mode_t mode), (path, mode))
ON_PATH(mkdirat, folder, path, (int folder, const char* path, mode_t mode), (folder, path, mode))
ON_PATH(truncate, AT_FDCWD, path, (const char* path, off_t length), (path, length))

#define FORBIDDEN(type, name, arguments, values)                                                                       \
    type name arguments                                                                                                \
    {                                                                                                                  \
        NEXT(name);                                                                                                    \
        tell("%ld %s %s\n", 0, "forbidden", #name);                                                                    \
        return real values;                                                                                            \
    }
FORBIDDEN(int, socket, (int domain, int type, int protocol), (domain, type, protocol))
FORBIDDEN(int, execve, (const char* path, char* const* words, char* const* variables), (path, words, variables))
FORBIDDEN(int, execvp, (const char* path, char* const* words), (path, words))
FORBIDDEN(int, system, (const char* line), (line))
FORBIDDEN(FILE*, popen, (const char* line, const char* mode), (line, mode))
FORBIDDEN(pid_t, fork, (), ())

ssize_t read(int file, void* bytes, size_t count)
{
    NEXT(read);
    const Order order = order_for(Kind::read, "read", file, true);
    if (order == Order::fail) return -1;
    return real(file, bytes, order == Order::part ? half(count) : count);
}

ssize_t pread(int file, void* bytes, size_t count, off_t offset)
{
    NEXT(pread);
    const Order order = order_for(Kind::read, "pread", file, true);
    if (order == Order::fail) return -1;
    return real(file, bytes, order == Order::part ? half(count) : count, offset);
}

ssize_t pread64(int file, void* bytes, size_t count, off64_t offset) { return pread(file, bytes, count, offset); }

DIR* opendir(const char* path)
{
    NEXT(opendir);
    if (order_at(Kind::read, "opendir", AT_FDCWD, path) == Order::fail) return nullptr;
    return real(path);
}

int clock_gettime(clockid_t clock, timespec* time)
{
    const int result = static_cast<int>(::syscall(SYS_clock_gettime, clock, time));
    if (settings.clock && result == 0 && clock == CLOCK_REALTIME) shift(time);
    return result;
}

time_t time(time_t* where)
{
    timespec now = {};
    clock_gettime(CLOCK_REALTIME, &now);
    if (where != nullptr) *where = now.tv_sec;
    return now.tv_sec;
}

int gettimeofday(timeval* now, void*)
{
    timespec time = {};
    clock_gettime(CLOCK_REALTIME, &time);
    now->tv_sec = time.tv_sec;
    now->tv_usec = time.tv_nsec / 1000;
    return 0;
}

} // extern "C"
