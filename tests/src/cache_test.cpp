// The folder beside a survey: what was stored comes back, and whatever is wrong with the folder makes it absent.
#include <algorithm>
#include <atomic>
#include <chrono>
#include <csignal>
#include <filesystem>
#include <rapidcheck.h>
#include <string>
#include <thread>
#include <unistd.h>
#include <vector>

#include <gmock/gmock.h>
#include <sys/resource.h>
#include <sys/wait.h>

#include "src/store/archive.h"
#include "src/store/cache.h"

#include "tests/src/cache_folder.h"
#include "tests/src/scratch_folder.h"

namespace becalm::store {

struct Tone {
    std::string name = {};
    std::optional<double> hz = {};
    std::vector<double> levels = {};
    std::vector<std::string> words = {};
    bool steady = false;

    friend bool operator==(const Tone&, const Tone&) = default;
};

static void serialize(auto& archive, Of<Tone> auto& tone)
{
    auto& [name, hz, levels, words, steady] = tone;
    archive(name, hz, levels, words, steady);
}

namespace {

using namespace becalm::tests;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::SizeIs;
namespace fs = std::filesystem;

const std::string engine = "engine 1";
const std::string sha_a(64, 'a'), sha_b(64, 'b');

std::string text_of(const std::optional<Blob>& blob)
{
    return blob ? std::string(blob->bytes().begin(), blob->bytes().end()) : "absent";
}

FileState state(const std::string& path)
{
    const auto found = state_of(path);
    EXPECT_TRUE(found) << path;
    return found.value_or(FileState{});
}

class CacheFolder : public testing::Test {
protected:
    ScratchFolder folder_;
    std::string path_ = folder_.path(".becalm");
    Cache cache() const { return Cache(path_, engine); }
};

// ---- entries ----

TEST_F(CacheFolder, GivesBackWhatWasStored)
{
    const std::string binary("\0\n\xff", 3);
    EXPECT_EQ(text_of(cache().load("one")), "absent");
    Cache(path_, engine).store("one", binary);
    Cache(path_, engine).store("two", "");
    EXPECT_EQ(text_of(cache().load("one")), binary);
    EXPECT_EQ(text_of(cache().load("two")), "");
    EXPECT_EQ(text_of(cache().load("three")), "absent");
    Cache(path_, engine).store("one", "another");
    EXPECT_EQ(text_of(cache().load("one")), "another");
}

TEST_F(CacheFolder, IsMadeOnlyWhenThereIsSomethingToKeepAndKeepsToItself)
{
    Cache(path_, engine).load("one");
    EXPECT_EQ(folder_.entries(), 0U);
    Cache(path_, engine).store("one", "1");
    EXPECT_EQ(folder_.entries(), 1U);
    EXPECT_EQ(content_of(path_ + "/.gitignore"), "*\n");
}

TEST_F(CacheFolder, HoldsNothingForAnotherEngine)
{
    Cache(path_, engine).store("one", "1");
    EXPECT_EQ(text_of(Cache(path_, "engine 2").load("one")), "absent");
    // Nor where the file of this engine stands under the name of the other's.
    const fs::path ours = entries_in(path_).at(0);
    Cache(path_, "engine 2").store("one", "2");
    for (const fs::path& entry : entries_in(path_))
        if (entry != ours) fs::copy_file(ours, entry, fs::copy_options::overwrite_existing);
    EXPECT_EQ(text_of(Cache(path_, "engine 2").load("one")), "absent");
    EXPECT_EQ(text_of(cache().load("one")), "1");
}

TEST_F(CacheFolder, HoldsNothingOfAnotherLayout)
{
    Cache(path_, engine).store("one", "1");
    const std::string entry = entries_in(path_).at(0);
    std::string bytes = content_of(entry);
    ASSERT_EQ(bytes.substr(0, 7), "becalm\n");
    ++bytes[7];
    std::ofstream(entry, std::ios::binary) << bytes;
    EXPECT_EQ(text_of(cache().load("one")), "absent");
}

TEST_F(CacheFolder, LosesAnEntryThatIsDamagedAnywhere)
{
    const bool held = rc::check([&] {
        const auto payload = *rc::gen::container<std::string>(rc::gen::arbitrary<char>());
        Cache(path_, engine).store("one", payload);
        const std::string entry = entries_in(path_).at(0);
        std::string bytes = content_of(entry);
        const auto at = *rc::gen::inRange<std::size_t>(0, bytes.size());
        bytes[at] = static_cast<char>(bytes[at] ^ *rc::gen::inRange(1, 256));
        std::ofstream(entry, std::ios::binary) << bytes;
        RC_ASSERT(text_of(cache().load("one")) == "absent");
    });
    EXPECT_TRUE(held);
}

TEST_F(CacheFolder, LosesAnEntryThatIsTooShortOrTooLong)
{
    Cache(path_, engine).store("one", "what was worked out");
    const std::string entry = entries_in(path_).at(0);
    const std::string bytes = content_of(entry);
    for (std::size_t size = 0; size < bytes.size(); ++size) {
        fs::resize_file(entry, size);
        EXPECT_EQ(text_of(cache().load("one")), "absent") << size;
        std::ofstream(entry, std::ios::binary) << bytes;
    }
    fs::resize_file(entry, bytes.size() + 1);
    EXPECT_EQ(text_of(cache().load("one")), "absent");
    fs::resize_file(entry, bytes.size());
    EXPECT_EQ(text_of(cache().load("one")), "what was worked out");
}

TEST_F(CacheFolder, ManyWritersAtOnceLeaveWholeEntries)
{
    const std::string a(100000, 'a'), b(300000, 'b');
    Cache(path_, engine).store("one", a);
    std::atomic<int> odd{0};
    {
        std::vector<std::jthread> threads;
        for (const std::string* payload : {&a, &b, &a})
            threads.emplace_back([this, payload] {
                Cache own(path_, engine);
                for (int i = 0; i < 50; ++i) own.store("one", *payload);
            });
        threads.emplace_back([&, this] {
            Cache own(path_, engine);
            for (int i = 0; i < 200; ++i) {
                const std::string found = text_of(own.load("one"));
                if (found != a && found != b) ++odd;
            }
        });
    }
    EXPECT_EQ(odd, 0);
    for (const auto& file : fs::directory_iterator(path_))
        EXPECT_THAT(file.path().filename().string(), testing::Not(HasSubstr("unfinished")));
}

// ---- folders that are of no use ----

TEST_F(CacheFolder, ThatIsAFileIsNone)
{
    folder_.file(".becalm", "a file");
    Cache none = cache();
    none.store("one", "1");
    none.remember({.path = folder_.path("a.wav"), .size = 1}, sha_a);
    none.tidy();
    EXPECT_EQ(text_of(none.load("one")), "absent");
    ASSERT_TRUE(none.trouble());
    EXPECT_THAT(to_text(*none.trouble()), HasSubstr("this is no folder"));
    EXPECT_EQ(content_of(path_), "a file");
}

TEST_F(CacheFolder, ThatLinksElsewhereIsNone)
{
    fs::create_directory(folder_.path("elsewhere"));
    fs::create_directory_symlink(folder_.path("elsewhere"), path_);
    Cache none = cache();
    none.store("one", "1");
    EXPECT_EQ(text_of(none.load("one")), "absent");
    EXPECT_TRUE(none.trouble());
    EXPECT_TRUE(fs::is_empty(folder_.path("elsewhere")));
}

TEST_F(CacheFolder, DoesNotWriteThroughALinkInside)
{
    const std::string outside = folder_.file("outside", "untouched");
    fs::create_directory(path_);
    fs::create_symlink(outside, path_ + "/files");
    Cache own = cache();
    const std::string recording = folder_.file("a.wav", "content");
    own.remember(state(recording), sha_a);
    EXPECT_EQ(content_of(outside), "untouched");
}

TEST_F(CacheFolder, ThatIsReadOnlyStillGivesWhatItHas)
{
    Cache(path_, engine).store("one", "1");
    using enum fs::perms;
    fs::permissions(path_, owner_read | owner_exec | group_read | group_exec | others_read | others_exec);
    const WithoutPrivileges nobody;
    if (!nobody.achieved()) GTEST_SKIP() << "permissions do not bind this user";
    Cache own = cache();
    own.store("two", "2");
    EXPECT_EQ(text_of(own.load("one")), "1");
    EXPECT_EQ(text_of(own.load("two")), "absent");
    ASSERT_TRUE(own.trouble());
    EXPECT_THAT(to_text(*own.trouble()), HasSubstr("no permission to write"));
}

// The system lets no file grow beyond a limit: what a full disk looks like to who writes.
TEST_F(CacheFolder, OnAFullDiskKeepsWhatFitted)
{
    const pid_t child = ::fork();
    if (child == 0) {
        Cache own(path_, engine);
        own.store("small", "1");
        ::signal(SIGXFSZ, SIG_IGN);
        const rlimit limit{1000, 1000};
        const bool limited = ::setrlimit(RLIMIT_FSIZE, &limit) == 0;
        own.store("large", std::string(5000, 'x'));
        ::_exit(limited && own.trouble() && text_of(own.load("large")) == "absent" && text_of(own.load("small")) == "1"
                    ? 0
                    : 1);
    }
    int status = 1;
    ::waitpid(child, &status, 0);
    EXPECT_EQ(status, 0);
    EXPECT_THAT(entries_in(path_), SizeIs(1));
    EXPECT_EQ(std::distance(fs::directory_iterator(path_), {}), 2) << "the entry and .gitignore";
    EXPECT_EQ(text_of(cache().load("small")), "1");
}

// ---- files ----

TEST_F(CacheFolder, KnowsAFileThatIsAsItWas)
{
    const std::string odd = folder_.file("100 %\nodd.wav", "content");
    const std::string plain = folder_.file("plain.wav", "content");
    settle(odd);
    settle(plain);
    Cache(path_, engine).remember(state(odd), sha_a);
    Cache(path_, engine).remember(state(plain), sha_b);
    EXPECT_EQ(cache().sha256_of(state(odd)), sha_a);
    EXPECT_EQ(cache().sha256_of(state(plain)), sha_b);
    EXPECT_EQ(cache().sha256_of(state(folder_.path("././plain.wav"))), sha_b) << "another way of writing its path";
    EXPECT_EQ(Cache(path_, "engine 2").sha256_of(state(plain)), sha_b)
        << "what a file holds is no matter of the engine";
    EXPECT_TRUE(cache().has_seen_size(7));
    EXPECT_FALSE(cache().has_seen_size(8));
}

TEST_F(CacheFolder, KnowsItsFilesFromAnotherWorkingFolderAndAfterAMove)
{
    fs::create_directory(folder_.path("survey"));
    const std::string recording = folder_.file("survey/a.wav", "content");
    settle(recording);
    Cache(folder_.path("survey/.becalm"), engine).remember(state(recording), sha_a);
    fs::rename(folder_.path("survey"), folder_.path("moved"));
    EXPECT_EQ(Cache(folder_.path("moved/.becalm"), engine).sha256_of(state(folder_.path("moved/a.wav"))), sha_a);
}

TEST_F(CacheFolder, DoesNotKnowAFileOfWhichAnythingChanged)
{
    const std::string recording = folder_.file("a.wav", "content");
    settle(recording);
    const FileState then = state(recording);
    Cache(path_, engine).remember(then, sha_a);
    for (const auto change :
         std::vector<void (*)(FileState&)>{[](FileState& s) { ++s.size; }, [](FileState& s) { ++s.modified_ns; },
                                           [](FileState& s) { ++s.changed_ns; }, [](FileState& s) { ++s.inode; },
                                           [](FileState& s) { s.path += "x"; }}) {
        FileState now = then;
        change(now);
        EXPECT_EQ(cache().sha256_of(now), "");
    }
    // Another content of the same length, its time of modification set back: the time of change tells.
    const auto modified = fs::last_write_time(recording);
    std::ofstream(recording, std::ios::binary | std::ios::in) << "CONTENT";
    fs::last_write_time(recording, modified);
    EXPECT_EQ(state(recording).modified_ns, then.modified_ns);
    EXPECT_EQ(cache().sha256_of(state(recording)), "");
}

TEST_F(CacheFolder, DoesNotTrustAFileThatWasJustModified)
{
    const std::string recording = folder_.file("a.wav", "content");
    EXPECT_FALSE(state(recording).settled);
    Cache(path_, engine).remember(state(recording), sha_a);
    EXPECT_EQ(cache().sha256_of(state(recording)), "");
    EXPECT_TRUE(cache().has_seen_size(7));
    settle(recording, std::chrono::seconds(-3600));
    EXPECT_FALSE(state(recording).settled) << "modified in an hour's time: a clock is wrong";
}

TEST_F(CacheFolder, LosesADamagedLineAndKeepsTheOthers)
{
    std::vector<std::string> recordings;
    for (int i = 0; i < 3; ++i) {
        recordings.push_back(folder_.file(fmt::format("{}.wav", i), "content"));
        settle(recordings.back());
        Cache(path_, engine).remember(state(recordings.back()), sha_a);
    }
    const std::string lines = content_of(path_ + "/files");
    const std::size_t second = lines.find('\n') + 1, third = lines.find('\n', second) + 1;
    for (std::size_t at = second; at < third; ++at) {
        std::string damaged = lines;
        damaged[at] = static_cast<char>(damaged[at] ^ 2);
        std::ofstream(path_ + "/files", std::ios::binary) << damaged;
        EXPECT_EQ(cache().sha256_of(state(recordings[0])), sha_a) << at;
        EXPECT_EQ(cache().sha256_of(state(recordings[1])), "") << at;
        if (at + 1 < third) {
            EXPECT_EQ(cache().sha256_of(state(recordings[2])), sha_a) << at;
        }
    }
    // A process that was killed while it wrote.
    std::ofstream(path_ + "/files", std::ios::binary) << lines.substr(0, lines.size() - 3);
    EXPECT_EQ(cache().sha256_of(state(recordings[1])), sha_a);
    EXPECT_EQ(cache().sha256_of(state(recordings[2])), "");
    Cache(path_, engine).remember(state(recordings[2]), sha_b);
    Cache(path_, engine).remember(state(recordings[2]), sha_b);
    EXPECT_EQ(cache().sha256_of(state(recordings[1])), sha_a);
    EXPECT_EQ(cache().sha256_of(state(recordings[2])), sha_b);
}

TEST_F(CacheFolder, DoesNotLetTheListOfFilesGrowWithoutEnd)
{
    FileState changed = state(folder_.file("a.wav", "content"));
    changed.settled = true;
    for (int round = 0; round < 5; ++round) {
        Cache own = cache();
        for (int i = 0; i < 700; ++i) {
            ++changed.modified_ns;
            own.remember(changed, sha_a);
        }
        own.store("one", "1");
        own.tidy();
    }
    const std::string lines = content_of(path_ + "/files");
    EXPECT_LT(std::ranges::count(lines, '\n'), 1500);
    EXPECT_EQ(cache().sha256_of(changed), sha_a);
}

// ---- keeping it small ----

TEST_F(CacheFolder, RemovesTheOldestOfWhatNobodyAskedForBeyondItsLimit)
{
    const std::string payload(1000, 'x');
    std::vector<std::string> known;
    for (int i = 0; i < 5; ++i) {
        Cache(path_, engine).store(std::to_string(i), payload);
        for (const fs::path& entry : entries_in(path_))
            if (std::ranges::find(known, entry.string()) == known.end()) {
                known.push_back(entry);
                settle(entry, std::chrono::hours(10 - i));
            }
    }
    Cache now = cache();
    now.load("0"); // the oldest of all, but asked for
    now.store("5", payload);
    now.tidy(4500); // four entries of some 1,050 bytes
    for (const auto& [key, there] :
         {std::pair("0", true), {"1", false}, {"2", false}, {"3", true}, {"4", true}, {"5", true}})
        EXPECT_EQ(text_of(cache().load(key)) != "absent", there) << key;
}

TEST_F(CacheFolder, KeepsEverythingThatIsAskedForHoweverMuch)
{
    Cache now = cache();
    for (int i = 0; i < 5; ++i) now.store(std::to_string(i), std::string(1000, 'x'));
    now.tidy(1);
    EXPECT_THAT(entries_in(path_), SizeIs(5));
}

TEST_F(CacheFolder, RemovesWhatKilledProcessesLeftBehindOnceTheyMustBeGone)
{
    Cache(path_, engine).store("one", "1");
    const std::string old = folder_.file(".becalm/unfinished-1-1", "half"),
                      young = folder_.file(".becalm/unfinished-2-1", "half");
    settle(old, std::chrono::hours(2));
    Cache now = cache();
    now.store("two", "2");
    now.tidy();
    EXPECT_FALSE(fs::exists(old));
    EXPECT_TRUE(fs::exists(young));
}

// ---- values as bytes ----

TEST(Archive, GivesBackWhatWasWrittenAndNothingFromLess)
{
    const bool held = rc::check([] {
        Tone tone{.name = *rc::gen::arbitrary<std::string>(),
                  .levels = *rc::gen::arbitrary<std::vector<double>>(),
                  .words = *rc::gen::arbitrary<std::vector<std::string>>(),
                  .steady = *rc::gen::arbitrary<bool>()};
        if (*rc::gen::arbitrary<bool>()) tone.hz = *rc::gen::arbitrary<double>();
        Writer writer;
        writer(tone);
        const std::string bytes = writer.take();
        Tone back;
        Reader reader(bytes);
        reader(back);
        RC_ASSERT(reader.sound());
        RC_ASSERT(back == tone);
        for (std::size_t size = 0; size < bytes.size(); ++size) {
            Reader less{std::span<const char>(bytes).first(size)};
            less(back);
            RC_ASSERT(!less.sound());
        }
        const std::string longer = bytes + "x";
        Reader more(longer);
        more(back);
        RC_ASSERT(!more.sound());
    });
    EXPECT_TRUE(held);
}

TEST(Archive, DoesNotBelieveASizeThatCannotBe)
{
    Writer writer;
    writer(~std::uint64_t{0}, std::uint64_t{5});
    const std::string bytes = writer.take();
    std::string text;
    std::vector<double> numbers;
    std::vector<Tone> tones;
    for (const auto& read : std::vector<std::function<void(Reader&)>>{[&](Reader& reader) { reader(text); },
                                                                      [&](Reader& reader) { reader(numbers); },
                                                                      [&](Reader& reader) { reader(tones); }}) {
        Reader reader(bytes);
        read(reader);
        EXPECT_FALSE(reader.sound());
    }
}

} // namespace
} // namespace becalm::store
