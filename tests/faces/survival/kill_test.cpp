// kill -9 at the moments that matter: at every call that writes, before it and in the middle of it, and at moments
// spread evenly over a run. Whatever is left: each file is the old or the new one to the byte, what was read is as it
// was, and the next run gives what an undisturbed one gives.
#include <chrono>

#include <gmock/gmock.h>
#include <sys/stat.h>

#include "tests/faces/survival/jobs.h"

namespace becalm::tests {
namespace {

class Killed : public testing::TestWithParam<Job> {};

TEST_P(Killed, AtACallThatWrites)
{
    const Stage stage(GetParam());
    stage.reset();
    const long calls = stage.run({{"FAULTS_KIND", "write"}}).calls();
    ASSERT_GT(calls, 4);
    int killed = 0;
    for (const char* how : {"kill", "tear"})
        for (long at = 1; at <= calls; at += stage.job().stride) {
            stage.reset();
            const Ending ending =
                stage.run({{"FAULTS_KIND", "write"}, {"FAULTS_DO", how}, {"FAULTS_AT", std::to_string(at)}});
            SCOPED_TRACE(how + std::string(" ") + ending.told);
            ASSERT_TRUE(ending.killed) << ending.code << ending.err;
            ++killed;
            ASSERT_EQ(stage.faults_of_files(), "");
            ASSERT_LE(stage.temporary_files(), 20);
            if (stage.job().is_new || killed % 4 != 0) continue; // what exists already would be refused, rightly
            const Ending next = stage.run_plainly();
            ASSERT_EQ(next.code, 0) << next.err;
            ASSERT_TRUE(stage.is_new());
        }
    std::printf("%d kills\n", killed);
}

INSTANTIATE_TEST_SUITE_P(Jobs, Killed, testing::ValuesIn(jobs()), [](const auto& job) { return job.param.name; });

TEST(KilledJudgement, AtMomentsSpreadOverARun)
{
    const Stage stage(jobs().at(0));
    using Clock = std::chrono::steady_clock;
    stage.reset();
    const auto began = Clock::now();
    ASSERT_EQ(stage.run_plainly().code, 0);
    auto whole = std::chrono::duration_cast<std::chrono::microseconds>(Clock::now() - began).count();
    constexpr int moments = 120;
    int killed = 0;
    const std::vector<std::string> arguments{"assess", stage.path("in/survey.toml"), "--json", stage.path("out/a.json"),
                                             "--csv",  stage.path("out/a.csv")};
    stage.reset();
    for (int moment = 0; moment < moments; ++moment) {
        const Ending ending = run(arguments, {.kill_after_us = whole * moment / moments});
        killed += ending.killed ? 1 : 0;
        if (!ending.killed) whole -= whole / 10; // it was measured while the machine was busier
        ASSERT_EQ(stage.faults_of_files(), "") << moment;
        if (moment % 10 != 9) continue; // what several left behind
        ASSERT_EQ(stage.run_plainly().code, 0);
        ASSERT_TRUE(stage.is_new()) << moment;
        stage.reset();
    }
    EXPECT_GT(killed, 10); // the others were done before
    std::printf("%d kills\n", killed);
}

TEST(KilledJudgement, WhatItLeavesBehindGoesOnceItMustBeGone)
{
    const Stage stage(jobs().at(0));
    stage.reset();
    for (int i = 0; i < 5; ++i)
        ASSERT_TRUE(stage.run({{"FAULTS_IN", stage.path("out")}, {"FAULTS_DO", "tear"}, {"FAULTS_AT", "3"}}).killed);
    ASSERT_EQ(stage.temporary_files(), 5);
    ASSERT_EQ(stage.run_plainly().code, 0);
    EXPECT_EQ(stage.temporary_files(), 5) << "another machine may still be at it";
    // An hour ago, and, by a clock that was wrong, in an hour.
    int number = 0;
    for (const auto& entry : std::filesystem::directory_iterator(stage.path("out")))
        if (entry.path().extension() == ".tmp")
            std::filesystem::last_write_time(entry.path(), std::filesystem::file_time_type::clock::now() +
                                                               std::chrono::hours(++number % 2 == 0 ? 1 : -1));
    std::ofstream(stage.path("out/.becalm-mine.tmp")) << "not ours";
    std::filesystem::last_write_time(stage.path("out/.becalm-mine.tmp"),
                                     std::filesystem::file_time_type::clock::now() - std::chrono::hours(1));
    ASSERT_EQ(stage.run_plainly().code, 0);
    EXPECT_EQ(stage.temporary_files(), 1) << "the one that has no name of ours";
    EXPECT_TRUE(std::filesystem::exists(stage.path("out/.becalm-mine.tmp")));
    EXPECT_TRUE(stage.is_new());
}

} // namespace
} // namespace becalm::tests
