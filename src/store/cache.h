// What was worked out once, kept in a folder beside the survey: blobs by key, and what is known of files.
//
// The folder is an aid and never a source: whatever is wrong with it (missing, read-only, full, damaged, written by
// another version, half written by a process that was killed, written by two at once) means that something is absent,
// and absent means worked out again. Nothing outside the folder is written; a `.gitignore` inside keeps it out of
// version control; deleting it costs time and nothing else. It is trusted as the program itself is: who checks
// another's judgement should leave that person's folder aside.
//
// An entry is a file of its own, named by a hash of its key. It holds the key and the engine in full, its length and a
// checksum (XXH3, 64 bit) over everything; it is written beside its place and renamed into it, so that a name stands
// for a whole entry or none. It is not flushed to the disk: what a power cut leaves behind fails its checksum.
//
// File identities: a file whose path, size, time of modification, time of change and inode are those of the time it was
// hashed has the content it had then. This is how version control knows which files to look at again, and as safe: a
// program that writes to the file changes both times, and the time of change cannot be set back. What such times cannot
// tell is a second change within one tick of the clock they are taken from, up to 2 s on some file systems; so a file
// that was modified less than 2 s before it was looked at is hashed again next time.
//
// Thread safe.
#pragma once

#include <cstdint>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <set>
#include <span>
#include <string>
#include <string_view>
#include <tuple>
#include <utility>
#include <vector>

#include "src/base/problem.h"
#include "src/io/regular_file.h"

namespace becalm::store {

// What the file system says of a file, times in nanoseconds since 1970.
struct FileState {
    std::string path = {}; // as it was asked for
    std::int64_t size = 0; // bytes
    std::int64_t modified_ns = 0, changed_ns = 0;
    std::uint64_t inode = 0;
    bool settled = false; // when it was looked at, the last modification was 2 s old: any later one shows

    // Whether the file system says the same, whenever it was asked.
    friend bool operator==(const FileState& a, const FileState& b)
    {
        return std::tie(a.path, a.size, a.modified_ns, a.changed_ns, a.inode) ==
               std::tie(b.path, b.size, b.modified_ns, b.changed_ns, b.inode);
    }
};

// Empty for what is no regular file or is not there.
std::optional<FileState> state_of(const std::string& path);

// The bytes of an entry.
class Blob {
public:
    Blob(std::unique_ptr<char[]> bytes, std::size_t begin, std::size_t size)
        : bytes_(std::move(bytes)), begin_(begin), size_(size)
    {
    }
    std::span<const char> bytes() const { return {bytes_.get() + begin_, size_}; }

private:
    std::unique_ptr<char[]> bytes_;
    std::size_t begin_, size_;
};

class Cache {
public:
    static constexpr std::uint64_t usual_limit = std::uint64_t{1} << 30; // bytes

    // Entries of another `engine` are absent. The folder is made when there is something to keep.
    Cache(const std::string& folder, std::string engine);

    std::optional<Blob> load(std::string_view key);
    void store(std::string_view key, std::string_view payload);

    // SHA-256 of the content, lower-case hexadecimal; empty where it is not known.
    std::string sha256_of(const FileState& state);
    // Whether the content of a file of this size was ever seen: if not, no entry can be about it.
    bool has_seen_size(std::int64_t bytes);
    // `state` was taken before the content was hashed, and was the same behind. One that is not settled is noted as
    // seen only.
    void remember(const FileState& state, std::string_view sha256);

    // Other processes work at what else the survey needs: what they store is not to be removed, tidy() does nothing.
    void keep_everything();

    // What the folder holds, for those who take it over. Entries whose key cannot be read count as damaged; whether one
    // is whole, load() tells.
    struct Contents {
        std::vector<std::string> keys = {}; // of this engine, in the order of their names
        int of_other_engines = 0;
        int damaged = 0;
    };
    Contents contents();
    // Notes contents of files that `other` has seen. None is known by it: a file here is hashed before it counts as one
    // of them.
    void take_note_of(Cache& other);

    // Where the folder holds more than `limit` bytes: removes the oldest of the entries that nobody asked this object
    // for. Also what processes that were killed left behind. Does nothing where nothing was stored.
    void tidy(std::uint64_t limit = usual_limit);

    // Why the folder could not be used, the first time.
    std::optional<Problem> trouble();

private:
    struct Identity {
        FileState state = {}; // its path as path_here() gives it
        std::string sha256 = {};
    };

    // These want the mutex.
    bool open_folder();
    bool make_folder();
    void give_up(int error, const std::string& name = {}, io::FileAttempt attempt = io::FileAttempt::write);
    void append_identity(const Identity& identity);

    int write_whole(const std::string& name, std::span<const std::string_view> parts) const; // an errno
    std::string read_whole(const char* name) const;
    void read_identities();
    void rewrite_identities();
    void remove_abandoned_and_oldest(std::uint64_t limit);
    std::string path_here(const std::string& path) const;
    static std::string line_of(const Identity& identity);
    static std::optional<Identity> identity_in(std::string_view line);

    const std::string folder_, engine_, base_;
    std::mutex mutex_;
    io::FileHandle handle_; // once open, it stays
    bool given_up_ = false; // nothing more is written
    bool stored_ = false;
    bool keeps_everything_ = false;
    std::optional<Problem> trouble_;
    std::set<std::string> entries_asked_for_; // names
    std::map<std::string, Identity> identities_;
    std::set<std::int64_t> sizes_;
    std::set<std::string> files_asked_for_; // paths
    std::size_t lines_ = 0;                 // of the file of identities
};

} // namespace becalm::store
