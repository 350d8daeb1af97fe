#include "src/store/cache.h"

#include <algorithm>
#include <array>
#include <atomic>
#include <cerrno>
#include <charconv>
#include <chrono>
#include <cstdlib>
#include <dirent.h>
#include <fcntl.h>
#include <filesystem>
#include <new>
#include <unistd.h>
#include <vector>
#include <xxhash.h>

#include <fmt/format.h>
#include <sys/stat.h>

namespace becalm::store {
namespace {

constexpr std::string_view entry_ending = ".entry";
constexpr std::string_view unfinished = "unfinished-";
constexpr const char* identities_name = "files";
constexpr std::int64_t second_ns = 1'000'000'000;
constexpr std::int64_t settled_after_ns = 2 * second_ns;
constexpr std::int64_t abandoned_after_ns = 3600 * second_ns;

// Opens every entry.
struct Header {
    std::array<char, 8> magic{'b', 'e', 'c', 'a', 'l', 'm', '\n', 1}; // the last one: version of this layout
    std::uint64_t checksum = 0; // of this header without it, the key and the payload
    std::uint64_t key_bytes = 0;
    std::uint64_t payload_bytes = 0;
};
static_assert(sizeof(Header) == 32);

std::uint64_t checksum_of(Header header, std::string_view key, std::string_view payload)
{
    header.checksum = 0;
    const std::uint64_t before = XXH3_64bits_withSeed(key.data(), key.size(), XXH3_64bits(&header, sizeof header));
    return XXH3_64bits_withSeed(payload.data(), payload.size(), before);
}

std::int64_t nanoseconds(const timespec& time) { return std::int64_t{time.tv_sec} * second_ns + time.tv_nsec; }

std::int64_t now_ns()
{
    return std::chrono::duration_cast<std::chrono::nanoseconds>(std::chrono::system_clock::now().time_since_epoch())
        .count();
}

std::string absolute_path(const std::string& path)
{
    std::error_code unknown; // the working folder was removed: then the path as it is has to do
    const std::filesystem::path whole = std::filesystem::absolute(path, unknown);
    return (unknown ? std::filesystem::path(path) : whole).lexically_normal().string();
}

// Fills the whole span, or says that there is less.
bool read_all(int descriptor, std::span<char> bytes)
{
    while (!bytes.empty()) {
        const ssize_t got = ::read(descriptor, bytes.data(), bytes.size());
        if (got < 0 && errno == EINTR) continue;
        if (got <= 0) return false;
        bytes = bytes.subspan(static_cast<std::size_t>(got));
    }
    return true;
}

bool write_all(int descriptor, std::string_view bytes)
{
    while (!bytes.empty()) {
        const ssize_t written = ::write(descriptor, bytes.data(), bytes.size());
        if (written < 0 && errno == EINTR) continue;
        if (written < 0) return false;
        bytes.remove_prefix(static_cast<std::size_t>(written));
    }
    return true;
}

// A name that links elsewhere is none of ours: neither read nor written through.
io::FileHandle open_in(const io::FileHandle& folder, const char* name, int flags)
{
    for (;;) {
        io::FileHandle file(::openat(folder.get(), name, flags | O_CLOEXEC | O_NOFOLLOW | O_NONBLOCK, 0666));
        if (file.is_open() || errno != EINTR) return file;
    }
}

struct CloseListing {
    void operator()(DIR* listing) const { ::closedir(listing); }
};

template <class Number>
bool take_number(std::string_view& text, Number& number)
{
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
    if (error != std::errc() || end == text.data() + text.size() || *end != ' ') return false;
    text.remove_prefix(static_cast<std::size_t>(end - text.data()) + 1);
    return true;
}

// Of a regular file, or -1.
std::int64_t size_of(const io::FileHandle& file)
{
    struct stat status = {};
    return ::fstat(file.get(), &status) == 0 && S_ISREG(status.st_mode) ? std::int64_t{status.st_size} : -1;
}

std::string name_of_entry(std::string_view whole_key)
{
    const XXH128_hash_t hash = XXH3_128bits(whole_key.data(), whole_key.size());
    return fmt::format("{:016x}{:016x}{}", hash.high64, hash.low64, entry_ending);
}

} // namespace

std::optional<FileState> state_of(const std::string& path)
{
    struct stat status = {};
    if (::stat(path.c_str(), &status) != 0 || !S_ISREG(status.st_mode)) return std::nullopt;
    const std::int64_t modified_ns = nanoseconds(status.st_mtim);
    return FileState{.path = path,
                     .size = status.st_size,
                     .modified_ns = modified_ns,
                     .changed_ns = nanoseconds(status.st_ctim),
                     .inode = status.st_ino,
                     .settled = now_ns() - modified_ns >= settled_after_ns};
}

Cache::Cache(const std::string& folder, std::string engine)
    : folder_(folder), engine_(std::move(engine)),
      base_(std::filesystem::path(absolute_path(folder)).parent_path().string())
{
    if (open_folder()) read_identities();
}

// ---- the folder ----

bool Cache::open_folder()
{
    if (handle_.is_open() || given_up_) return handle_.is_open();
    do handle_ = io::FileHandle(::open(folder_.c_str(), O_RDONLY | O_DIRECTORY | O_NOFOLLOW | O_CLOEXEC));
    while (!handle_.is_open() && errno == EINTR);
    if (!handle_.is_open() && errno != ENOENT) give_up(errno, {}, io::FileAttempt::read);
    return handle_.is_open();
}

bool Cache::make_folder()
{
    if (given_up_) return false;
    if (!handle_.is_open()) {
        if (::mkdir(folder_.c_str(), 0777) != 0 && errno != EEXIST)
            give_up(errno);
        else if (!open_folder())
            give_up(ENOENT); // somebody took it away again
        if (given_up_) return false;
    }
    if (::faccessat(handle_.get(), ".gitignore", F_OK, AT_SYMLINK_NOFOLLOW) != 0) {
        constexpr std::string_view everything = "*\n";
        if (const int error = write_whole(".gitignore", {&everything, 1})) give_up(error, ".gitignore");
    }
    return !given_up_;
}

// `name`: of what was to be written in the folder; empty for the folder itself.
void Cache::give_up(int error, const std::string& name, io::FileAttempt attempt)
{
    given_up_ = true;
    if (trouble_) return;
    const auto in_the_way = [](std::string file, std::string what) {
        return Problem{.kind = ProblemKind::outside_world,
                       .file = std::move(file),
                       .what = std::move(what),
                       .remedy = "move it away"};
    };
    if (name.empty() && (error == ENOTDIR || error == ELOOP)) // what a link in the place of the folder reads as, too
        trouble_ = in_the_way(folder_, "this is no folder");
    else if (!name.empty() && (error == EISDIR || error == ELOOP || error == ENXIO || error == ENOTEMPTY))
        trouble_ = in_the_way(folder_ + "/" + name, "this is no regular file");
    else
        trouble_ = io::system_problem(folder_, attempt, error);
}

std::optional<Problem> Cache::trouble()
{
    const std::lock_guard lock(mutex_);
    return trouble_;
}

int Cache::write_whole(const std::string& name, std::span<const std::string_view> parts) const
{
    static std::atomic<unsigned> counter{0};
    constexpr int attempts = 100; // names that a killed process of the same number left behind
    for (int attempt = 0; attempt < attempts; ++attempt) {
        const std::string beside = fmt::format("{}{}-{}", unfinished, ::getpid(), counter++);
        const io::FileHandle file = open_in(handle_, beside.c_str(), O_WRONLY | O_CREAT | O_EXCL);
        if (!file.is_open() && errno == EEXIST) continue;
        if (!file.is_open()) return errno;
        if (std::ranges::all_of(parts, [&](std::string_view part) { return write_all(file.get(), part); }) &&
            ::renameat(handle_.get(), beside.c_str(), handle_.get(), name.c_str()) == 0)
            return 0;
        const int error = errno;
        ::unlinkat(handle_.get(), beside.c_str(), 0);
        return error;
    }
    return EEXIST;
}

std::string Cache::read_whole(const char* name) const
{
    constexpr std::int64_t greatest = std::int64_t{256} << 20;
    const io::FileHandle file = open_in(handle_, name, O_RDONLY);
    const std::int64_t size = file.is_open() ? size_of(file) : -1;
    if (size < 0 || size > greatest) return {};
    std::string bytes(static_cast<std::size_t>(size), '\0');
    return read_all(file.get(), bytes) ? bytes : std::string();
}

// ---- entries ----

std::optional<Blob> Cache::load(std::string_view key)
{
    const std::string whole_key = fmt::format("{}\n{}", engine_, key);
    const std::string name = name_of_entry(whole_key);
    {
        const std::lock_guard lock(mutex_);
        entries_asked_for_.insert(name);
        if (!handle_.is_open()) return std::nullopt;
    }
    const io::FileHandle file = open_in(handle_, name.c_str(), O_RDONLY);
    const std::int64_t size = file.is_open() ? size_of(file) : -1;
    Header header;
    if (size < std::int64_t{sizeof header} || !read_all(file.get(), {reinterpret_cast<char*>(&header), sizeof header}))
        return std::nullopt;
    const auto behind = static_cast<std::uint64_t>(size) - sizeof header;
    if (header.magic != Header{}.magic || header.key_bytes != whole_key.size() || header.key_bytes > behind ||
        header.payload_bytes != behind - header.key_bytes)
        return std::nullopt;
    std::unique_ptr<char[]> content(new (std::nothrow) char[behind]);
    if (!content || !read_all(file.get(), {content.get(), behind})) return std::nullopt;
    const std::string_view found(content.get(), whole_key.size());
    const std::string_view payload(content.get() + whole_key.size(), header.payload_bytes);
    if (found != whole_key || header.checksum != checksum_of(header, found, payload)) return std::nullopt;
    return Blob(std::move(content), whole_key.size(), payload.size());
}

void Cache::store(std::string_view key, std::string_view payload)
{
    const std::string whole_key = fmt::format("{}\n{}", engine_, key);
    const std::string name = name_of_entry(whole_key);
    {
        const std::lock_guard lock(mutex_);
        entries_asked_for_.insert(name);
        if (!make_folder()) return;
    }
    Header header{.key_bytes = whole_key.size(), .payload_bytes = payload.size()};
    header.checksum = checksum_of(header, whole_key, payload);
    const std::array<std::string_view, 3> parts{std::string_view(reinterpret_cast<const char*>(&header), sizeof header),
                                                whole_key, payload};
    const int error = write_whole(name, parts);
    const std::lock_guard lock(mutex_);
    if (error != 0) give_up(error, name);
    stored_ = true;
}

// ---- identities of files: lines that are added at the end, each with a checksum of its own; the last one counts ----

std::string Cache::path_here(const std::string& path) const
{
    std::string text;
    for (const char c : std::filesystem::path(absolute_path(path)).lexically_relative(base_).generic_string()) {
        if (c == '%' || c == '\n')
            text += c == '%' ? "%25" : "%0A";
        else
            text += c;
    }
    return text;
}

std::string Cache::line_of(const Identity& identity)
{
    const FileState& state = identity.state;
    const std::string facts = fmt::format("{} {} {} {} {} {} {}", state.settled ? "known" : "seen ", identity.sha256,
                                          state.size, state.modified_ns, state.changed_ns, state.inode, state.path);
    return fmt::format("{:016x} {}\n", XXH3_64bits(facts.data(), facts.size()), facts);
}

std::optional<Cache::Identity> Cache::identity_in(std::string_view line)
{
    constexpr std::size_t checksum = 16, trust = 5, sha256 = 64; // digits and letters, a blank behind each
    if (line.size() < checksum + 1 + trust + 1 + sha256 + 1) return std::nullopt;
    std::string_view rest = line.substr(checksum + 1);
    if (line.substr(0, checksum + 1) != fmt::format("{:016x} ", XXH3_64bits(rest.data(), rest.size())))
        return std::nullopt;
    Identity identity;
    const bool settled = rest.substr(0, trust) == "known";
    identity.sha256 = rest.substr(trust + 1, sha256);
    rest.remove_prefix(trust + 1 + sha256 + 1);
    FileState& state = identity.state;
    state.settled = settled;
    if (!take_number(rest, state.size) || !take_number(rest, state.modified_ns) ||
        !take_number(rest, state.changed_ns) || !take_number(rest, state.inode))
        return std::nullopt;
    state.path = rest;
    return identity;
}

void Cache::read_identities()
{
    const std::string lines = read_whole(identities_name);
    for (std::string_view rest = lines; !rest.empty();) {
        const std::size_t end = std::min(rest.find('\n'), rest.size());
        ++lines_;
        if (const auto identity = identity_in(rest.substr(0, end))) {
            sizes_.insert(identity->state.size);
            identities_.insert_or_assign(identity->state.path, *identity);
        }
        rest.remove_prefix(std::min(end + 1, rest.size()));
    }
}

void Cache::append_identity(const Identity& identity)
{
    const io::FileHandle file = open_in(handle_, identities_name, O_WRONLY | O_CREAT | O_APPEND);
    if (!file.is_open()) return give_up(errno, identities_name);
    if (size_of(file) < 0) return give_up(EISDIR, identities_name);
    if (!write_all(file.get(), line_of(identity))) return give_up(errno, identities_name);
    ++lines_;
}

std::string Cache::sha256_of(const FileState& state)
{
    FileState asked = state;
    asked.path = path_here(state.path);
    const std::lock_guard lock(mutex_);
    files_asked_for_.insert(asked.path);
    const auto known = identities_.find(asked.path);
    const bool holds = known != identities_.end() && known->second.state.settled && known->second.state == asked;
    return holds ? known->second.sha256 : std::string();
}

bool Cache::has_seen_size(std::int64_t bytes)
{
    const std::lock_guard lock(mutex_);
    return sizes_.contains(bytes);
}

void Cache::remember(const FileState& state, std::string_view sha256)
{
    Identity identity{.state = state, .sha256 = std::string(sha256)};
    identity.state.path = path_here(state.path);
    const std::lock_guard lock(mutex_);
    files_asked_for_.insert(identity.state.path);
    Identity& known = identities_[identity.state.path];
    if (known.state == identity.state && known.sha256 == identity.sha256 &&
        known.state.settled == identity.state.settled)
        return;
    known = std::move(identity);
    sizes_.insert(known.state.size);
    if (make_folder()) append_identity(known);
}

// ---- taking over from another folder ----

void Cache::keep_everything()
{
    const std::lock_guard lock(mutex_);
    keeps_everything_ = true;
}

Cache::Contents Cache::contents()
{
    Contents contents;
    const std::lock_guard lock(mutex_);
    if (!handle_.is_open()) return contents;
    std::vector<std::string> names;
    {
        io::FileHandle again(::openat(handle_.get(), ".", O_RDONLY | O_DIRECTORY | O_CLOEXEC));
        const std::unique_ptr<DIR, CloseListing> listing(again.is_open() ? ::fdopendir(again.get()) : nullptr);
        if (!listing) return contents;
        static_cast<void>(again.release()); // the listing closes it
        while (const dirent* found = ::readdir(listing.get()))
            if (std::string_view(found->d_name).ends_with(entry_ending)) names.emplace_back(found->d_name);
    }
    std::ranges::sort(names);
    for (const std::string& name : names) {
        const io::FileHandle file = open_in(handle_, name.c_str(), O_RDONLY);
        const std::int64_t size = file.is_open() ? size_of(file) : -1;
        constexpr std::uint64_t longest_key = std::uint64_t{1} << 20;
        Header header;
        if (size < std::int64_t{sizeof header} ||
            !read_all(file.get(), {reinterpret_cast<char*>(&header), sizeof header}) ||
            header.magic != Header{}.magic ||
            header.key_bytes > std::min(static_cast<std::uint64_t>(size) - sizeof header, longest_key)) {
            ++contents.damaged;
            continue;
        }
        std::string whole_key(header.key_bytes, '\0');
        if (!read_all(file.get(), whole_key) || name_of_entry(whole_key) != name)
            ++contents.damaged;
        else if (!whole_key.starts_with(engine_ + "\n"))
            ++contents.of_other_engines;
        else
            contents.keys.push_back(whole_key.substr(engine_.size() + 1));
    }
    return contents;
}

void Cache::take_note_of(Cache& other)
{
    std::vector<Identity> seen;
    {
        const std::lock_guard lock(other.mutex_);
        for (const auto& [path, identity] : other.identities_) seen.push_back(identity);
    }
    const std::lock_guard lock(mutex_);
    for (Identity& identity : seen) {
        // Under a name that no path has (path_here() writes % as %25), so that what is known of files stays.
        identity.state.path = "%merged/" + identity.sha256;
        identity.state.settled = false;
        sizes_.insert(identity.state.size);
        const auto [known, is_new] = identities_.try_emplace(identity.state.path, identity);
        if (is_new && make_folder()) append_identity(identity);
    }
}

// ---- keeping it small ----

void Cache::tidy(std::uint64_t limit)
{
    const std::lock_guard lock(mutex_);
    if (!stored_ || !handle_.is_open() || keeps_everything_) return;
    remove_abandoned_and_oldest(limit);
    if (!given_up_) rewrite_identities();
}

void Cache::remove_abandoned_and_oldest(std::uint64_t limit)
{
    io::FileHandle again(::openat(handle_.get(), ".", O_RDONLY | O_DIRECTORY | O_CLOEXEC));
    const std::unique_ptr<DIR, CloseListing> listing(again.is_open() ? ::fdopendir(again.get()) : nullptr);
    if (!listing) return;
    static_cast<void>(again.release()); // the listing closes it

    struct Removable {
        std::int64_t modified_ns;
        std::uint64_t bytes;
        std::string name;
    };
    std::vector<Removable> removable;
    std::uint64_t total = 0;
    while (const dirent* found = ::readdir(listing.get())) {
        std::string name = found->d_name;
        struct stat status = {};
        if (::fstatat(handle_.get(), name.c_str(), &status, AT_SYMLINK_NOFOLLOW) != 0 || !S_ISREG(status.st_mode))
            continue;
        const auto bytes = static_cast<std::uint64_t>(status.st_size);
        const std::int64_t modified_ns = nanoseconds(status.st_mtim);
        // Also what lies in the future: the clock was wrong then.
        if (name.starts_with(unfinished) && std::abs(now_ns() - modified_ns) > abandoned_after_ns) {
            ::unlinkat(handle_.get(), name.c_str(), 0);
            continue;
        }
        total += bytes;
        if (name.ends_with(entry_ending) && !entries_asked_for_.contains(name))
            removable.push_back({modified_ns, bytes, std::move(name)});
    }
    std::ranges::sort(removable, {}, &Removable::modified_ns);
    for (const Removable& oldest : removable) {
        if (total <= limit) return;
        if (::unlinkat(handle_.get(), oldest.name.c_str(), 0) == 0) total -= oldest.bytes;
    }
}

void Cache::rewrite_identities()
{
    constexpr std::size_t few = 1000, very_many = 200'000;
    const bool crowded = identities_.size() > very_many;
    if (lines_ <= 2 * identities_.size() + few && !crowded) return;
    std::string lines;
    std::size_t count = 0;
    for (const auto& [path, identity] : identities_) {
        if (crowded && !files_asked_for_.contains(path)) continue;
        lines += line_of(identity);
        ++count;
    }
    const std::string_view whole = lines;
    if (write_whole(identities_name, {&whole, 1}) == 0) lines_ = count;
}

} // namespace becalm::store
