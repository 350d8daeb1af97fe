// Whole files, hashes and the system's refusals. Messages are this project's own; the errno behind each is
// POSIX.1-2017.
#include <cerrno>
#include <chrono>
#include <csignal>
#include <fcntl.h>
#include <filesystem>
#include <sched.h>
#include <thread>
#include <vector>

#include <gmock/gmock.h>
#include <sys/file.h>
#include <sys/mount.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>

#include "src/io/atomic_file.h"
#include "src/io/file_hash.h"
#include "src/io/regular_file.h"

#include "tests/src/scratch_folder.h"

namespace becalm::io {
namespace {

using testing::HasSubstr;
using tests::content_of;
using tests::ScratchFolder;
using tests::WithoutPrivileges;

TEST(FileHash, AgreesWithPublishedDigests)
{
    // FIPS 180-2 appendix B.1 ("abc") and B.2 (two blocks), B.3 (a million times "a").
    EXPECT_EQ(sha256_of_text("abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    EXPECT_EQ(sha256_of_text("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq"),
              "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
    const ScratchFolder folder;
    const auto digest = sha256_of_file(folder.file("a.txt", std::string(1000000, 'a')));
    ASSERT_TRUE(digest);
    EXPECT_EQ(*digest, "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
}

TEST(FileHash, OfAMissingFileNamesTheFile)
{
    const ScratchFolder folder;
    const auto digest = sha256_of_file(folder.path("none.wav"));
    ASSERT_FALSE(digest);
    EXPECT_EQ(digest.error().file, folder.path("none.wav"));
    EXPECT_THAT(digest.error().what, HasSubstr("no such file"));
    EXPECT_EQ(digest.error().kind, ProblemKind::outside_world);
}

TEST(AtomicFile, WritesAndReadsBackEveryByte)
{
    const ScratchFolder folder;
    std::string content(3'000'001, '\0');
    for (std::size_t i = 0; i < content.size(); ++i) content[i] = static_cast<char>(i * 7919 % 256);
    ASSERT_TRUE(write_file_atomically(folder.path("a.bin"), content));
    const auto read = read_text_file(folder.path("a.bin"));
    ASSERT_TRUE(read);
    EXPECT_TRUE(*read == content);
    EXPECT_EQ(folder.entries(), 1U); // no temporary file is left
}

TEST(AtomicFile, ReplacesAndKeepsThePermissions)
{
    const ScratchFolder folder;
    const std::string path = folder.file("survey.toml", "old");
    ::chmod(path.c_str(), 0640);
    ASSERT_TRUE(write_file_atomically(path, "new"));
    EXPECT_EQ(content_of(path), "new");
    struct stat status = {};
    ASSERT_EQ(::stat(path.c_str(), &status), 0);
    EXPECT_EQ(status.st_mode & 0777U, 0640U);
}

TEST(AtomicFile, WritesThroughASymbolicLink)
{
    const ScratchFolder folder;
    const std::string target = folder.file("target.toml", "old");
    std::filesystem::create_symlink(target, folder.path("link.toml"));
    ASSERT_TRUE(write_file_atomically(folder.path("link.toml"), "new"));
    EXPECT_EQ(content_of(target), "new");
    EXPECT_TRUE(std::filesystem::is_symlink(folder.path("link.toml")));
}

TEST(AtomicFile, InAMissingFolderSaysSo)
{
    const ScratchFolder folder;
    const auto written = write_file_atomically(folder.path("missing/a.toml"), "x");
    ASSERT_FALSE(written);
    EXPECT_EQ(to_text(written.error()),
              folder.path("missing/a.toml") + ": the folder it should lie in does not exist; make the folder first");
}

TEST(AtomicFile, OverAFolderOrAPipeIsRefused)
{
    const ScratchFolder folder;
    std::filesystem::create_directory(folder.path("sub"));
    const auto onto_folder = write_file_atomically(folder.path("sub"), "x");
    ASSERT_FALSE(onto_folder);
    EXPECT_THAT(onto_folder.error().what, HasSubstr("a folder"));
    ASSERT_EQ(::mkfifo(folder.path("pipe").c_str(), 0600), 0);
    const auto onto_pipe = write_file_atomically(folder.path("pipe"), "x");
    ASSERT_FALSE(onto_pipe);
    EXPECT_THAT(onto_pipe.error().what, HasSubstr("not a regular file"));
    EXPECT_EQ(folder.entries(), 2U);
}

TEST(AtomicFile, WithoutPermissionKeepsTheOldContent)
{
    const ScratchFolder folder;
    const std::string path = folder.file("survey.toml", "old");
    ::chmod(path.c_str(), 0444);
    std::filesystem::create_directory(folder.path("locked"));
    ::chmod(folder.path("locked").c_str(), 0555);
    const WithoutPrivileges nobody;
    if (!nobody.achieved()) GTEST_SKIP() << "the superuser's rights could not be given up";
    for (const std::string& place : {path, folder.path("locked/new.toml")}) {
        const auto written = write_file_atomically(place, "new");
        ASSERT_FALSE(written) << place;
        EXPECT_THAT(written.error().what, HasSubstr("no permission to write")) << place;
    }
    EXPECT_EQ(content_of(path), "old");
}

TEST(AtomicFile, BeyondTheLimitOfSizeKeepsTheOldContentAndRemovesTheTemporaryFile)
{
    const ScratchFolder folder;
    const std::string path = folder.file("survey.toml", "old");
    rlimit before = {};
    ASSERT_EQ(::getrlimit(RLIMIT_FSIZE, &before), 0);
    const auto handler = std::signal(SIGXFSZ, SIG_IGN);
    rlimit small = before;
    small.rlim_cur = 10000;
    ASSERT_EQ(::setrlimit(RLIMIT_FSIZE, &small), 0);
    // The first write is cut short at the limit, the second fails.
    const auto written = write_file_atomically(path, std::string(100000, 'x'));
    ::setrlimit(RLIMIT_FSIZE, &before);
    std::signal(SIGXFSZ, handler);
    ASSERT_FALSE(written);
    EXPECT_THAT(written.error().what, HasSubstr("larger than the system allows"));
    EXPECT_EQ(content_of(path), "old");
    EXPECT_EQ(folder.entries(), 1U);
}

TEST(AtomicFile, ThatBelongTogetherAreThereTogetherOrNotAtAll)
{
    const ScratchFolder folder;
    const std::string first = folder.file("a", "old");
    for (const std::string& second : {folder.path("none/b"), folder.path(), std::string("/dev/full")}) {
        const std::vector<FileToWrite> both{{first, "new"}, {second, "new"}};
        const auto written = write_files_atomically(both);
        ASSERT_FALSE(written);
        EXPECT_EQ(written.error().file, second);
        EXPECT_EQ(content_of(first), "old");
        EXPECT_EQ(folder.entries(), 1U);
    }
    const std::vector<FileToWrite> both{{first, "new"}, {folder.path("b"), "newer"}};
    EXPECT_TRUE(write_files_atomically(both));
    EXPECT_EQ(content_of(first) + content_of(folder.path("b")), "newnewer");
    EXPECT_EQ(folder.entries(), 2U);

    auto fresh = AtomicFile::create(folder.path("c"), IfItExists::refuse);
    ASSERT_TRUE(fresh);
    folder.file("c", "of somebody who was faster");
    const auto late = (*fresh)->commit();
    ASSERT_FALSE(late);
    EXPECT_THAT(late.error().what, HasSubstr("exists already"));
    EXPECT_EQ(content_of(folder.path("c")), "of somebody who was faster");
}

TEST(AtomicFile, RemovesWhatNobodyHoldsAnyMore)
{
    const ScratchFolder folder;
    const auto left = [&](const std::string& name, int hours_ago) {
        const std::string path = folder.file(name, "half");
        std::filesystem::last_write_time(path,
                                         std::filesystem::file_time_type::clock::now() - std::chrono::hours(hours_ago));
        return path;
    };
    left(".becalm-1-1.tmp", 1);
    left(".becalm-1-2.tmp", -1); // the clock was wrong
    const std::string held = left(".becalm-1-3.tmp", 1), recent = left(".becalm-1-4.tmp", 0),
                      others = left(".becalm-x-5.tmp", 1), target = left("target", 1);
    std::filesystem::create_symlink(target, folder.path(".becalm-1-6.tmp"));
    std::filesystem::create_directory(folder.path(".becalm-1-7.tmp"));
    const FileHandle holder(::open(held.c_str(), O_RDONLY | O_CLOEXEC));
    ASSERT_EQ(::flock(holder.get(), LOCK_EX | LOCK_NB), 0);
    EXPECT_TRUE(write_file_atomically(folder.path("new"), "new"));
    for (const std::string& kept : {held, recent, others, target, folder.path(".becalm-1-7.tmp"), folder.path("new")})
        EXPECT_TRUE(std::filesystem::exists(kept)) << kept;
    EXPECT_TRUE(std::filesystem::is_symlink(folder.path(".becalm-1-6.tmp")));
    EXPECT_EQ(folder.entries(), 7U);
}

// A small file system of the test's own, in a child process, so that the disk is really full.
TEST(AtomicFile, OnAFullDiskKeepsTheOldContentAndRemovesTheTemporaryFile)
{
    const ScratchFolder folder;
    constexpr int not_permitted = 77;
    const pid_t child = ::fork();
    ASSERT_GE(child, 0);
    if (child == 0) {
        const unsigned long flags = 0;
        if (::unshare(::geteuid() == 0 ? CLONE_NEWNS : CLONE_NEWNS | CLONE_NEWUSER) != 0) ::_exit(not_permitted);
        if (::mount(nullptr, "/", nullptr, MS_REC | MS_PRIVATE, nullptr) != 0) ::_exit(not_permitted);
        if (::mount("tmpfs", folder.path().c_str(), "tmpfs", flags, "size=64k") != 0) ::_exit(not_permitted);
        const std::string path = folder.file("survey.toml", "old");
        const auto written = write_file_atomically(path, std::string(1000000, 'x'));
        const bool right = !written && written.error().what == "the disk is full" && content_of(path) == "old" &&
                           folder.entries() == 1;
        if (::mount(nullptr, folder.path().c_str(), nullptr, MS_REMOUNT | MS_RDONLY, nullptr) != 0)
            ::_exit(right ? 0 : 1);
        const auto read_only = write_file_atomically(path, "new");
        const bool right_too = !read_only && read_only.error().what == "the file system is read-only";
        ::_exit(right && right_too ? 0 : 1);
    }
    int status = 0;
    ASSERT_EQ(::waitpid(child, &status, 0), child);
    ASSERT_TRUE(WIFEXITED(status));
    if (WEXITSTATUS(status) == not_permitted)
        GTEST_SKIP() << "this system does not allow a test to mount a file system";
    EXPECT_EQ(WEXITSTATUS(status), 0);
}

TEST(AtomicFile, ANewFileRefusesAnExistingOne)
{
    const ScratchFolder folder;
    ASSERT_TRUE(write_new_file_atomically(folder.path("survey.toml"), "first"));
    const auto second = write_new_file_atomically(folder.path("survey.toml"), "second");
    ASSERT_FALSE(second);
    EXPECT_THAT(second.error().what, HasSubstr("exists already"));
    EXPECT_EQ(content_of(folder.path("survey.toml")), "first");
    EXPECT_EQ(folder.entries(), 1U);
}

TEST(AtomicFile, ANewFileDoesNotFollowALinkThatLeadsNowhere)
{
    const ScratchFolder folder;
    std::filesystem::create_symlink(folder.path("nowhere"), folder.path("survey.toml"));
    EXPECT_FALSE(write_new_file_atomically(folder.path("survey.toml"), "x"));
    EXPECT_FALSE(std::filesystem::exists(folder.path("nowhere")));
}

TEST(AtomicFile, OfManyWhoMakeTheSameNewFileExactlyOneSucceeds)
{
    const ScratchFolder folder;
    std::atomic<int> successes{0};
    std::vector<std::thread> threads;
    for (int i = 0; i < 8; ++i)
        threads.emplace_back([&, i] {
            if (write_new_file_atomically(folder.path("survey.toml"), std::string(10000, static_cast<char>('a' + i))))
                ++successes;
        });
    for (auto& thread : threads) thread.join();
    EXPECT_EQ(successes, 1);
    const std::string content = content_of(folder.path("survey.toml"));
    EXPECT_EQ(content, std::string(10000, content.at(0)));
    EXPECT_EQ(folder.entries(), 1U);
}

TEST(ReadTextFile, RefusesWhatIsTooLarge)
{
    const ScratchFolder folder;
    const std::string path = folder.file("a.toml", "12345");
    EXPECT_TRUE(read_text_file(path, 5));
    const auto read = read_text_file(path, 4);
    ASSERT_FALSE(read);
    EXPECT_THAT(read.error().what, HasSubstr("larger than 4 bytes"));
}

TEST(RegularFile, EveryRefusalOfTheSystemIsASentence)
{
    const std::vector<std::pair<int, std::string>> expected{{ENOSPC, "the disk is full"},
                                                            {EROFS, "read-only"},
                                                            {EDQUOT, "share of the disk"},
                                                            {EACCES, "no permission to write"},
                                                            {ENOENT, "folder"},
                                                            {ENOTDIR, "not a folder"},
                                                            {EIO, "the disk reports a fault"},
                                                            {ENAMETOOLONG, "name is too long"},
                                                            {ELOOP, "circle"},
                                                            {EMFILE, "too many files"},
                                                            {EXDEV, "cannot be written: "}};
    for (const auto& [error, words] : expected) {
        const Problem problem = system_problem("a.toml", FileAttempt::write, error);
        EXPECT_THAT(problem.what, HasSubstr(words)) << error;
        EXPECT_EQ(problem.file, "a.toml");
        EXPECT_EQ(problem.kind, ProblemKind::outside_world);
    }
}

} // namespace
} // namespace becalm::io
