// The disk is full, read-only, faulty, or not ours any more, from any call on: the old results stay, the words say what
// is wrong and what to do, and where the cache alone is hit the judgement is the same to the byte.
#include <algorithm>
#include <array>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <set>

#include <gmock/gmock.h>
#include <sys/mount.h>
#include <sys/stat.h>
#include <sys/statvfs.h>

#include "tests/faces/survival/jobs.h"

namespace becalm::tests {
namespace {

using testing::AnyOf;
using testing::Eq;
using testing::HasSubstr;
using testing::MatchesRegex;

namespace fs = std::filesystem;

using Faults = std::map<std::string, std::string>;

// What a call that fails may stop: these must. A close or an unlink that fails, or a folder that cannot be flushed,
// takes nothing away from what is on the disk already.
bool matters(const Ending& ending)
{
    static const std::set<std::string> names{"open",  "openat", "fopen",    "write",     "fwrite", "writev", "pwrite",
                                             "fsync", "rename", "renameat", "renameat2", "mkdir",  "fchmod"};
    const bool of_a_folder =
        ending.told.find("fsync") != std::string::npos && ending.told.find(".tmp\n") == std::string::npos;
    return names.contains(ending.name_of_call()) && !of_a_folder;
}

class Failing : public testing::TestWithParam<Job> {}; // where results go
class FailingCache : public testing::TestWithParam<Job> {};
class FailingALittle : public testing::TestWithParam<Job> {};
class FailingToRead : public testing::TestWithParam<Job> {};

// The `at`-th call fails, or all from it on; each time for another reason.
Faults failing_at(Faults where, const char* how_long, long at, int injected)
{
    constexpr std::array errors{ENOSPC, EIO, EROFS, EACCES, EDQUOT};
    where.insert({{"FAULTS_DO", "fail"},
                  {"FAULTS_FOR", how_long},
                  {"FAULTS_AT", std::to_string(at)},
                  {"FAULTS_ERRNO", std::to_string(errors.at(static_cast<std::size_t>(injected) % errors.size()))}});
    return where;
}

TEST_P(Failing, LeavesTheOldResults)
{
    const Stage stage(GetParam());
    const Faults where{{"FAULTS_KIND", "write"},
                       {"FAULTS_IN", stage.path(stage.job().name == "NewSurvey" ? "in2" : "out")}};
    stage.reset();
    const long calls = stage.run(where).calls();
    ASSERT_GT(calls, 3);
    int injected = 0;
    for (const char* how_long : {"once", "ever"})
        for (long at = how_long == std::string("once") ? 1 : 2; at <= calls; at += 2 * stage.job().stride) {
            stage.reset();
            const Ending ending = stage.run(failing_at(where, how_long, at, injected));
            SCOPED_TRACE(std::string(how_long) + " " + ending.told + ending.err);
            ++injected;
            ASSERT_EQ(stage.faults_of_files(), "");
            if (ending.code == 0) {
                ASSERT_TRUE(stage.is_new());
                ASSERT_FALSE(matters(ending));
                continue;
            }
            ASSERT_EQ(ending.code, 3);
            // One line that names the file and what to do.
            // (The library that writes spreadsheets may have had words of its own before.)
            ASSERT_THAT(ending.err,
                        MatchesRegex("(\\[ERROR\\][^\n]*\n)*becalm: [^\n]*/(out|in2)/[^\n]+: [^\n]+; [^\n]+\n"));
            // Among renamings those before it are done, and a folder is flushed behind each.
            const bool in_the_last_step = ending.told.find("rename") != std::string::npos ||
                                          ending.told.find("/out\n") != std::string::npos || stage.job().removes_first;
            ASSERT_TRUE(stage.is_old() || in_the_last_step);
            if (how_long == std::string("once")) {
                ASSERT_EQ(stage.temporary_files(), 0);
            }
        }
    std::printf("%d faults\n", injected);
}

TEST_P(FailingCache, SaysSoAndSpoilsNothing)
{
    const Stage stage(GetParam());
    stage.reset();
    const Faults where{{"FAULTS_KIND", "write"}, {"FAULTS_IN", stage.path("in/.becalm")}};
    const long calls = stage.run(where).calls();
    ASSERT_GT(calls, 4);
    int injected = 0;
    for (const char* how_long : {"once", "ever"})
        for (long at = how_long == std::string("once") ? 1 : 2; at <= calls; at += 2) {
            stage.reset();
            const Ending ending = stage.run(failing_at(where, how_long, at, injected));
            SCOPED_TRACE(std::string(how_long) + " " + ending.told + ending.err);
            ++injected;
            if (matters(ending) || ending.code != 0) {
                ASSERT_THAT(ending.err, MatchesRegex("becalm: [^\n]*/in/\\.becalm: [^\n]+; [^\n]+\n"));
                ASSERT_EQ(ending.code, stage.job().fills_cache ? 3 : 0);
            }
            if (!stage.job().fills_cache) {
                ASSERT_TRUE(stage.is_new());
            }
            ASSERT_EQ(stage.faults_of_files(), "");
            if (injected % 3 != 0) continue;
            ASSERT_EQ(stage.run_plainly().code, 0);
            ASSERT_TRUE(stage.is_new());
        }
    std::printf("%d faults\n", injected);
}

TEST_P(FailingALittle, IsNoFault)
{
    const Stage stage(GetParam());
    stage.reset();
    const long calls = stage.run({{"FAULTS_KIND", "write"}}).calls();
    int injected = 0;
    for (const char* kind : {"write", "read"}) {
        stage.reset();
        const Ending ending =
            stage.run({{"FAULTS_KIND", kind}, {"FAULTS_DO", "short"}, {"FAULTS_FOR", "ever"}, {"FAULTS_AT", "1"}});
        ASSERT_EQ(ending.code, 0) << kind << ending.err;
        ASSERT_TRUE(stage.is_new());
        ++injected;
    }
    for (long at = 1; at <= calls && stage.job().stride == 1; ++at) {
        stage.reset();
        const Ending ending = stage.run({{"FAULTS_KIND", "write"},
                                         {"FAULTS_DO", "fail"},
                                         {"FAULTS_AT", std::to_string(at)},
                                         {"FAULTS_ERRNO", std::to_string(EINTR)}});
        const std::string name = ending.name_of_call();
        if (name != "write" && name != "open" && name != "fsync") continue; // the others are never interrupted
        ++injected;
        ASSERT_EQ(ending.code, 0) << ending.told << ending.err;
        ASSERT_EQ(ending.err, "") << ending.told;
        ASSERT_TRUE(stage.is_new());
    }
    std::printf("%d faults\n", injected);
}

TEST_P(FailingToRead, SaysWhatAndWhere)
{
    const Stage stage(GetParam());
    stage.reset();
    const Faults where{{"FAULTS_KIND", "read"}};
    const long calls = stage.run(where).calls();
    ASSERT_GT(calls, 1);
    int injected = 0;
    for (long at = 1 + calls % 2; at <= calls; at += calls > 60 ? 4 : 2) {
        stage.reset();
        const int error = injected % 3 == 0 ? EINTR : injected % 3 == 1 ? EIO : EACCES;
        Faults faults = where;
        faults.insert(
            {{"FAULTS_DO", "fail"}, {"FAULTS_AT", std::to_string(at)}, {"FAULTS_ERRNO", std::to_string(error)}});
        const Ending ending = stage.run(faults);
        SCOPED_TRACE(ending.told + ending.err);
        ++injected;
        ASSERT_THAT(ending.code, AnyOf(0, 3));
        ASSERT_EQ(ending.signal, 0);
        if (ending.code == 0) {
            ASSERT_TRUE(stage.is_new());
        }
        if (ending.code == 3) {
            ASSERT_THAT(ending.err, HasSubstr("; "));
        }
        // The results of a run that could not read everything may say so in their places; the next run is as ever.
        if (stage.job().is_new || stage.job().fills_cache || injected % 3 != 0) continue;
        ASSERT_EQ(stage.run_plainly().code, 0);
        ASSERT_TRUE(stage.is_new());
    }
    std::printf("%d faults\n", injected);
}

std::vector<Job> jobs_named(const std::vector<std::string>& names)
{
    std::vector<Job> chosen;
    for (const Job& job : jobs())
        if (std::ranges::find(names, job.name) != names.end()) chosen.push_back(job);
    return chosen;
}

const auto name_of_job = [](const testing::TestParamInfo<Job>& job) { return job.param.name; };

INSTANTIATE_TEST_SUITE_P(Jobs, Failing,
                         testing::ValuesIn(jobs_named({"AssessWithoutCache", "Report", "Spreadsheet", "CsvFolder",
                                                       "NpyFolder", "Convert", "NewSurvey", "History"})),
                         name_of_job);
INSTANTIATE_TEST_SUITE_P(
    Jobs, FailingCache, testing::ValuesIn(jobs_named({"AssessWithoutCache", "AssessWithCache", "LedgerOnly", "Merge"})),
    name_of_job);
INSTANTIATE_TEST_SUITE_P(
    Jobs, FailingALittle,
    testing::ValuesIn(jobs_named({"AssessWithoutCache", "Report", "Merge", "Spreadsheet", "Convert"})), name_of_job);
INSTANTIATE_TEST_SUITE_P(Jobs, FailingToRead,
                         testing::ValuesIn(jobs_named({"AssessWithCache", "Report", "Merge", "Convert", "NewSurvey"})),
                         name_of_job);

// ---- a real disk that is full ----

class SmallDisk : public testing::Test {
protected:
    void SetUp() override
    {
        disk_ = folder_.path("disk");
        fs::create_directory(disk_);
        mounted_ = ::mount("tmpfs", disk_.c_str(), "tmpfs", 0, "size=192k,mode=777") == 0;
        if (!mounted_) GTEST_SKIP() << "a small file system cannot be mounted here: " << std::strerror(errno);
    }
    void TearDown() override
    {
        if (mounted_) ::umount2(disk_.c_str(), MNT_DETACH);
    }
    void fill() const
    {
        std::ofstream out(disk_ + "/ballast", std::ios::binary);
        const std::string block(1024, 'x');
        while (out.write(block.data(), static_cast<std::streamsize>(block.size())).flush()) {
        }
    }

    ScratchFolder folder_;
    std::string disk_;
    bool mounted_ = false;
};

TEST_F(SmallDisk, AFullOneKeepsOldResultsAndJudgesWithoutACache)
{
    const std::string survey = write_tiny_survey(disk_);
    const std::string here = folder_.path("a.json"), there = disk_ + "/a.json";
    ASSERT_EQ(run({"assess", survey, "--no-cache", "--json", here}).code, 0);
    std::ofstream(there) << "old";
    fill();
    const auto before = listing_of(disk_);
    const Ending judged = run({"assess", survey, "--json", folder_.path("b.json")});
    EXPECT_EQ(judged.code, 0);
    EXPECT_EQ(judged.err, "becalm: " + disk_ +
                              "/.becalm: nothing is kept for the next run: the disk is full; free some space or choose "
                              "a folder on another disk, or give --no-cache\n");
    EXPECT_EQ(content_of(folder_.path("b.json")), content_of(here));
    const auto refusal = [&](const std::string& file) {
        return "becalm: " + file + ": the disk is full; free some space or choose a folder on another disk\n";
    };
    EXPECT_EQ(run({"assess", survey, "--no-cache", "--json", there}).err, refusal(there));
    EXPECT_EQ(run({"convert", disk_ + "/a.wav", "--uff", disk_ + "/a.uff"}).err, refusal(disk_ + "/a.uff"));
    EXPECT_EQ(run({"report", survey, "--html", disk_ + "/r.html"}).err, refusal(disk_ + "/r.html"));
    const Ending sheet = run({"tables", survey, "--no-cache", "--xlsx", disk_ + "/t.xlsx"});
    EXPECT_EQ(sheet.code, 3);
    EXPECT_THAT(sheet.err, HasSubstr("t.xlsx: "));
    EXPECT_EQ(listing_of(disk_), before);

    fs::remove(disk_ + "/ballast");
    EXPECT_EQ(run({"assess", survey, "--json", there}).code, 0);
    EXPECT_EQ(content_of(there), content_of(here));
}

TEST_F(SmallDisk, AReadOnlyOneIsReadAndNotWritten)
{
    const std::string survey = write_tiny_survey(disk_);
    ASSERT_EQ(::mount("tmpfs", disk_.c_str(), "tmpfs", MS_REMOUNT | MS_RDONLY, nullptr), 0);
    const Ending judged = run({"assess", survey, "--json", folder_.path("a.json")});
    EXPECT_EQ(judged.code, 0);
    EXPECT_EQ(judged.err,
              "becalm: " + disk_ +
                  "/.becalm: nothing is kept for the next run: the file system is read-only; choose a folder "
                  "on another disk, or give --no-cache\n");
    const Ending there = run({"assess", survey, "--no-cache", "--json", disk_ + "/a.json"});
    EXPECT_EQ(there.code, 3);
    EXPECT_EQ(there.err,
              "becalm: " + disk_ + "/a.json: the file system is read-only; choose a folder on another disk\n");
}

// ---- folders that change under the program ----

TEST(Folders, WithoutPermission)
{
    if (::geteuid() != 0) GTEST_SKIP() << "run by the superuser it becomes somebody else first";
    const ScratchFolder folder;
    const std::string survey = write_tiny_survey(folder.path());
    ::chmod(folder.path().c_str(), 0555);
    const Ending judged = run({"assess", survey, "--json", folder.path("a.json")}, {.as_nobody = true});
    EXPECT_EQ(judged.code, 3);
    EXPECT_THAT(judged.err, HasSubstr(".becalm: nothing is kept for the next run: no permission to write here; "));
    EXPECT_THAT(judged.err, HasSubstr("a.json: no permission to write here; choose another folder or change its "
                                      "permissions\n"));
    ::chmod(folder.path().c_str(), 0777);
}

TEST(Folders, PermissionLostOrTheFolderGoneMidway)
{
    if (::geteuid() != 0) GTEST_SKIP() << "run by the superuser it becomes somebody else first";
    const ScratchFolder folder;
    fs::create_directory(folder.path("in"));
    write_tiny_survey(folder.path("in"));
    int injected = 0;
    for (const char* what : {"lock", "vanish"})
        for (const char* kind : {"read", "write"})
            for (long at = 1;; at += 5) {
                fs::remove_all(folder.path("w"));
                fs::remove_all(folder.path("w.gone"));
                fs::copy(folder.path("in"), folder.path("w"));
                fs::create_directory(folder.path("w/out"));
                for (const char* name : {"w", "w/out"}) ::chmod(folder.path(name).c_str(), 0777);
                folder.file("w/out/a.json", "old");
                ::chmod(folder.path("w/out/a.json").c_str(), 0666);
                const Ending ending =
                    run({"assess", folder.path("w/survey.toml"), "--json", folder.path("w/out/a.json")},
                        {.faults = {{"FAULTS_IN", folder.path("w")},
                                    {"FAULTS_KIND", kind},
                                    {"FAULTS_DO", what},
                                    {"FAULTS_AT", std::to_string(at)}},
                         .as_nobody = what == std::string("lock")});
                SCOPED_TRACE(fmt::format("{} {} {} {}", what, kind, at, ending.told + ending.err));
                ASSERT_THAT(ending.code, AnyOf(0, 3));
                if (fs::exists(folder.path("w.gone"))) {
                    fs::remove_all(folder.path("w"));
                    fs::rename(folder.path("w.gone"), folder.path("w"));
                }
                ::chmod(folder.path("w").c_str(), 0777);
                if (ending.code == 3) {
                    ASSERT_THAT(ending.err, HasSubstr("; "));
                }
                const std::string result = content_of(folder.path("w/out/a.json"));
                ASSERT_TRUE(result == "old" || result.ends_with("}\n")) << result;
                if (ending.code == 0) {
                    ASSERT_NE(result, "old");
                }
                if (ending.name_of_call().empty()) break; // there were fewer calls
                ++injected;
            }
    EXPECT_GT(injected, 20);
    std::printf("%d faults\n", injected);
}

} // namespace
} // namespace becalm::tests
