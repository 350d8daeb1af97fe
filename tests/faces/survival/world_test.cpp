// A world that does not stand still: files cut or growing while they are read, clocks that jump, two processes at once,
// a cache that is damaged, another's, or no folder at all.
#include <algorithm>
#include <filesystem>
#include <numbers>
#include <random>

#include <gmock/gmock.h>
#include <sys/stat.h>

#include "tests/faces/cli_harness.h"
#include "tests/faces/survival/jobs.h"

namespace becalm::tests {
namespace {

using testing::AnyOf;
using testing::HasSubstr;
using testing::MatchesRegex;

namespace fs = std::filesystem;

// ---- files that change under the reader ----

// Cut to half, or doubled, before each of the reads of a recording in turn: whole values of the file as it was, or
// words about it; no crash (a mapped file would end in SIGBUS), no wait, no other value.
TEST(ChangingFiles, CutOrGrowingWhileRead)
{
    const ScratchFolder folder, out;
    const Signal z = noise(40.0, 1000.0, 0.05, 1);
    folder.file("a.wav", wav({z}, 1000));
    folder.file("a.csv", csv({noise(20.0, 500.0, 0.05, 1)}, 500.0, "z"));
    ASSERT_EQ(run({"convert", folder.path("a.wav"), "--uff", folder.path("a.uff")}).code, 0);
    for (const char* name : {"v5-plain", "v5-deflated", "v73-plain", "v73-deflated"})
        fs::copy_file(fmt::format("{}/reference/mat_files/{}.mat", BECALM_TEST_DATA, name),
                      folder.path(fmt::format("{}.mat", name)));
    int injected = 0, refused = 0;
    for (const auto& entry : fs::directory_iterator(folder.path())) {
        const std::string file = entry.path().string();
        const std::string content = content_of(file);
        const std::vector<std::string> call{"weigh",  file,  "--weighting", "Wk",
                                            "--axes", "1=z", "--json",      out.path("w.json")};
        ASSERT_EQ(run(call).code, 0) << file;
        const std::string whole = content_of(out.path("w.json"));
        const long calls = run(call, {.faults = {{"FAULTS_IN", file}, {"FAULTS_KIND", "read"}}}).calls();
        ASSERT_GT(calls, 1) << file;
        for (const char* what : {"cut", "grow"})
            for (long at = 2; at <= calls; at += at < 12 ? 1L : std::max(1L, calls / 6)) {
                fs::remove(out.path("w.json"));
                const Ending ending = run(call, {.faults = {{"FAULTS_IN", file},
                                                            {"FAULTS_KIND", "read"},
                                                            {"FAULTS_DO", what},
                                                            {"FAULTS_AT", std::to_string(at)}}});
                folder.file(fs::path(file).filename().string(), content);
                ++injected;
                SCOPED_TRACE(fmt::format("{} {} of {}: {}", what, ending.told, calls, ending.err));
                ASSERT_EQ(ending.signal, 0);
                ASSERT_FALSE(ending.hung || ending.killed);
                ASSERT_THAT(ending.code, AnyOf(0, 3));
                if (ending.code == 0) {
                    // The hash is of the file as it is; all the rest must agree.
                    auto now = nlohmann::json::parse(content_of(out.path("w.json"))),
                         before = nlohmann::json::parse(whole);
                    for (auto* one : {&now, &before}) one->at("files").at(0).erase("sha256");
                    ASSERT_EQ(now, before);
                } else {
                    ++refused;
                    ASSERT_THAT(ending.err, MatchesRegex("becalm: [^\n]+: [^\n]+; [^\n]+\n"));
                    ASSERT_THAT(ending.err, HasSubstr(file));
                }
            }
    }
    EXPECT_GT(refused, 10);
    std::printf("%d faults, %d refused\n", injected, refused);
}

// The same in a judgement with a cache: nothing of the cut file is kept.
TEST(ChangingFiles, ARecordingCutWhileItIsJudgedIsNotKept)
{
    const Stage stage(jobs().at(0));
    stage.reset();
    const std::string file = stage.path("in/b.wav"), content = content_of(file);
    const auto stamp = fs::last_write_time(file);
    const long calls = stage.run({{"FAULTS_IN", file}, {"FAULTS_KIND", "read"}}).calls();
    ASSERT_GT(calls, 2);
    for (const char* what : {"cut", "grow"})
        for (long at = 1; at <= calls; at += at < 6 ? 1 : 3) {
            stage.reset();
            const Ending ending = stage.run(
                {{"FAULTS_IN", file}, {"FAULTS_KIND", "read"}, {"FAULTS_DO", what}, {"FAULTS_AT", std::to_string(at)}});
            SCOPED_TRACE(fmt::format("{} {} of {}: {}", what, at, calls, ending.err));
            ASSERT_THAT(ending.code, AnyOf(0, 3));
            if (ending.code == 3) {
                ASSERT_THAT(ending.err, MatchesRegex("becalm: [^\n]+: [^\n]+; [^\n]+\n"));
            }
            std::ofstream(file, std::ios::binary) << content; // the same inode
            fs::last_write_time(file, stamp);
            ASSERT_EQ(stage.run_plainly().code, 0);
            ASSERT_TRUE(stage.is_new());
        }
}

// ---- clocks ----

TEST(Clock, WhateverItShowsTheResultsAreTheSame)
{
    const Stage stage(jobs().at(0));
    stage.reset();
    constexpr std::int64_t now = 1'796'000'000, year_2100 = 4'102'444'800;
    for (const std::string& off : {std::string("jumping"), std::to_string(-now), std::to_string(year_2100 - now)})
        for (int again = 0; again < 2; ++again) { // without and with the cache of the run before
            const Ending ending = stage.run({{"FAULTS_CLOCK", off}});
            ASSERT_EQ(ending.code, 0) << ending.err;
            ASSERT_EQ(ending.err, "");
            ASSERT_TRUE(stage.is_new()) << off;
            ASSERT_EQ(stage.faults_of_files(), "");
        }
    for (const std::string name : {"Report", "Spreadsheet"}) {
        const Stage other(*std::ranges::find(jobs(), name, &Job::name));
        ASSERT_EQ(other.run({{"FAULTS_CLOCK", "jumping"}}).code, 0);
        EXPECT_TRUE(other.is_new()) << name;
    }
}

TEST(Clock, DoesNotDeceiveTheCache)
{
    const Stage stage(jobs().at(0));
    const std::string file = stage.path("in/b.wav");
    const std::string content = content_of(file);
    // A file of the same size written at once after the look at the other, whatever the time of the program or of the
    // file says.
    for (const char* off : {"0", "100000000", "-100000000", "jumping"})
        for (const auto stamp :
             {fs::file_time_type::clock::now(), fs::file_time_type::clock::now() + std::chrono::hours(9),
              fs::file_time_type::clock::now() - std::chrono::hours(9)}) {
            stage.reset();
            std::ofstream(file, std::ios::binary) << tiny_recording(7);
            fs::last_write_time(file, stamp);
            ASSERT_EQ(stage.run({{"FAULTS_CLOCK", off}}).code, 0);
            ASSERT_FALSE(stage.is_new());
            std::ofstream(file, std::ios::binary) << content;
            fs::last_write_time(file, stamp);
            ASSERT_EQ(stage.run({{"FAULTS_CLOCK", off}}).code, 0);
            ASSERT_TRUE(stage.is_new()) << off;
        }
}

// ---- two at once ----

TEST(TwoAtOnce, OverOneSurvey)
{
    const Stage assess(jobs().at(0));
    const auto survey = assess.path("in/survey.toml");
    const auto other = [&] {
        write_tiny_survey(assess.path("other"), 3);
        EXPECT_EQ(run({"assess", assess.path("other/survey.toml"), "--ledger-only"}).code, 0);
        return assess.path("other");
    }();
    const std::vector<std::vector<std::string>> partners{
        {"assess", survey, "--json", assess.path("out/a.json"), "--csv", assess.path("out/a.csv")},
        {"report", survey, "--html", assess.path("r.html")},
        {"assess", survey, "--ledger-only"},
        {"merge", survey, other},
        {"tables", survey, "--csv", assess.path("t"), "--no-components"}};
    for (int round = 0; round < 30; ++round) {
        if (round % 3 != 2) assess.reset(); // now and then over what the others left
        const auto& partner = partners.at(static_cast<std::size_t>(round) % partners.size());
        Running first(partners.at(0), {}), second(partner, {});
        const Ending one = first.ended(), two = second.ended();
        ASSERT_EQ(one.code, 0) << partner.at(0) << one.err;
        ASSERT_EQ(two.code, 0) << partner.at(0) << two.err;
        ASSERT_EQ(one.err + two.err, "");
        ASSERT_TRUE(assess.is_new());
        ASSERT_EQ(assess.temporary_files(), 0);
        ASSERT_EQ(assess.run_plainly().code, 0);
        ASSERT_TRUE(assess.is_new());
    }
}

// ---- caches ----

class DamagedCache : public testing::Test {
protected:
    DamagedCache() : stage_(jobs().at(0))
    {
        stage_.reset();
        EXPECT_EQ(stage_.run_plainly().code, 0);
        // What is known of the files can be relied on by now.
        fs::copy(cache_, kept_.path("cache"), fs::copy_options::recursive);
    }
    // Over the cache as it is, which must neither hang nor change the verdict.
    void expect_right(const std::string& what, bool complains = false)
    {
        for (const char* name : {"out/a.json", "out/a.csv"}) fs::remove(stage_.path(name));
        const Ending ending = stage_.run_plainly();
        ++runs_;
        ASSERT_EQ(ending.code, 0) << what << ending.err;
        ASSERT_TRUE(stage_.is_new()) << what;
        ASSERT_EQ(ending.err.empty(), !complains) << what << ending.err;
        if (complains) {
            ASSERT_THAT(ending.err,
                        MatchesRegex("becalm: [^\n]+/\\.becalm[^\n]*: nothing is kept for the next run: [^\n]+; "
                                     "[^\n]+, or give --no-cache\n"));
        }
    }
    void restore() const
    {
        fs::remove_all(cache_);
        fs::copy(kept_.path("cache"), cache_, fs::copy_options::recursive);
    }
    std::vector<std::string> names() const
    {
        std::vector<std::string> all;
        for (const auto& entry : fs::directory_iterator(kept_.path("cache")))
            all.push_back(entry.path().filename().string());
        std::ranges::sort(all);
        return all;
    }

    Stage stage_;
    const std::string cache_ = stage_.path("in/.becalm");
    ScratchFolder kept_;
    int runs_ = 0;
};

TEST_F(DamagedCache, TruncatedAnywhereOrWithBitsTurned)
{
    std::mt19937 generator(11);
    for (const std::string& name : names()) {
        const std::string whole = content_of(kept_.path("cache/" + name));
        if (name == ".gitignore") continue;
        for (const std::size_t length : {std::size_t{0}, std::size_t{1}, std::size_t{31}, std::size_t{32},
                                         std::size_t{40}, whole.size() / 2, whole.size() - 1}) {
            restore();
            std::ofstream(cache_ + "/" + name, std::ios::binary) << whole.substr(0, length);
            ASSERT_NO_FATAL_FAILURE(expect_right(fmt::format("{} cut to {}", name, length)));
        }
        restore();
        std::ofstream(cache_ + "/" + name, std::ios::binary) << whole + whole;
        ASSERT_NO_FATAL_FAILURE(expect_right(name + " twice"));
        for (int i = 0; i < 60; ++i) {
            std::string damaged = whole;
            for (int flips = 0; flips <= i % 3; ++flips)
                damaged[generator() % damaged.size()] ^= static_cast<char>(1U << (generator() % 8U));
            if (i % 4 == 0) restore(); // mostly over what the run before made of it
            std::ofstream(cache_ + "/" + name, std::ios::binary) << damaged;
            ASSERT_NO_FATAL_FAILURE(expect_right(fmt::format("{} damaged, {}", name, i)));
        }
    }
    std::printf("%d damaged caches\n", runs_);
}

TEST_F(DamagedCache, OfAnotherVersionOrOfAnotherSurvey)
{
    for (const std::string& name : names()) {
        if (!name.ends_with(".entry")) continue;
        std::string content = content_of(cache_ + "/" + name);
        content[7] = 2; // the layout's version
        std::ofstream(cache_ + "/" + name, std::ios::binary) << content;
    }
    expect_right("another layout");
    restore();
    const auto all = names();
    for (std::size_t i = 0; i + 1 < all.size(); ++i) // each under the name of the next
        fs::copy_file(kept_.path("cache/" + all[i]), cache_ + "/" + all[i + 1], fs::copy_options::overwrite_existing);
    expect_right("names exchanged");
    // Of the older recordings, put beside the newer.
    const Stage other([] {
        Job job = jobs().at(0);
        return job;
    }());
    fs::remove_all(cache_);
    fs::copy(other.path("in/.becalm"), cache_, fs::copy_options::recursive);
    expect_right("another survey's");
}

TEST_F(DamagedCache, ReplacedByWhatIsNoFile)
{
    const std::string elsewhere = kept_.file("elsewhere", "precious");
    for (const std::string& name : names()) {
        const std::string path = cache_ + "/" + name;
        const auto put = [&](const std::string& what, auto make, bool complains) {
            restore();
            fs::remove(path);
            make();
            expect_right(name + " is " + what, complains);
        };
        const bool is_entry = name.ends_with(".entry"); // renamed over
        const bool is_list = name == "files";           // written into
        put(
            "a folder", [&] { fs::create_directory(path); }, is_entry || is_list);
        put(
            "a folder with something in it", [&] { fs::create_directories(path + "/more"); }, is_entry || is_list);
        put(
            "a link to a file", [&] { fs::create_symlink(elsewhere, path); }, is_list);
        put(
            "a link to nothing", [&] { fs::create_symlink(kept_.path("none"), path); }, is_list);
        put(
            "a link to a device", [&] { fs::create_symlink("/dev/zero", path); }, is_list);
        put(
            "a pipe", [&] { ASSERT_EQ(::mkfifo(path.c_str(), 0666), 0); }, is_list);
        if (HasFatalFailure()) return;
    }
    EXPECT_EQ(content_of(elsewhere), "precious");
    EXPECT_FALSE(fs::exists(kept_.path("none")));
}

TEST_F(DamagedCache, TheFolderItselfIsNone)
{
    const auto put = [&](const std::string& what, auto make) {
        fs::remove_all(cache_);
        make();
        expect_right("the folder is " + what, true);
    };
    const ScratchFolder elsewhere;
    put("a file", [&] { std::ofstream(cache_) << "x"; });
    put("a link to a folder", [&] { fs::create_directory_symlink(elsewhere.path(), cache_); });
    put("a link to nothing", [&] { fs::create_directory_symlink(elsewhere.path("none"), cache_); });
    put("a pipe", [&] { ASSERT_EQ(::mkfifo(cache_.c_str(), 0666), 0); });
    put("a link to a device", [&] { fs::create_symlink("/dev/zero", cache_); });
    EXPECT_EQ(elsewhere.entries(), 0U);
}

TEST_F(DamagedCache, OfSomebodyElse)
{
    if (::geteuid() != 0) GTEST_SKIP() << "run by the superuser it becomes somebody else first";
    const ScratchFolder out;
    for (const auto& [mode, what] : {std::pair(0755, "readable"), std::pair(0700, "closed")}) {
        ::chmod(cache_.c_str(), static_cast<mode_t>(mode));
        // A new recording, so that there is something to keep.
        std::ofstream(stage_.path("in/b.wav"), std::ios::binary) << tiny_recording(static_cast<unsigned>(mode));
        const std::string survey = stage_.path("in/survey.toml");
        const Ending plain = run({"assess", survey, "--no-cache", "--json", out.path("plain.json")});
        ASSERT_EQ(plain.code, 0);
        const Ending ending = run({"assess", survey, "--json", out.path("a.json")}, {.as_nobody = true});
        EXPECT_EQ(ending.code, 0) << what << ending.err;
        EXPECT_THAT(ending.err, HasSubstr(".becalm: nothing is kept for the next run: no permission to "));
        EXPECT_EQ(content_of(out.path("a.json")), content_of(out.path("plain.json"))) << what;
        fs::remove(out.path("a.json"));
    }
}

} // namespace
} // namespace becalm::tests
