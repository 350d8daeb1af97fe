// Recordings filtered in shards, by any number of processes in any order, in one folder or several: the judgement is
// the one that is reached without them, byte for byte, and nothing is filtered twice.
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <random>

#include <gmock/gmock.h>

#include "evaluators/assess.h"
#include "evaluators/pass_cache.h"
#include "src/io/json_out.h"
#include "src/io/survey_file.h"

#include "tests/evaluators/criteria.h"
#include "tests/evaluators/recordings.h"
#include "tests/src/cache_folder.h"

namespace becalm::evaluators::tests {
namespace {

using becalm::tests::entries_in;
using becalm::tests::settle;
using testing::HasSubstr;
namespace fs = std::filesystem;

class Shards : public testing::Test {
protected:
    static constexpr int files = 6;

    // Six files; the first stands in two tables, the last is not there.
    void SetUp() override
    {
        std::string text = "title = \"t\"\nsetting = \"vessel\"\n";
        for (int i = 0; i < files; ++i) {
            const std::string name = fmt::format("r{}.wav", i);
            if (i + 1 < files) {
                wav(folder_, name, 300, {sine(0.1 + 0.02 * i, 7.0 + i, 300.0, 62.0)});
                settle(folder_.path(name));
            }
            for (int again = 0; again < (i == 0 ? 2 : 1); ++again)
                text += fmt::format("[[space]]\nid = \"s{0}{1}\"\nuse = \"passenger-cabin\"\n[[recording]]\nfile = "
                                    "\"{2}\"\nspace = \"s{0}{1}\"\nchannels = {{ 1 = \"{3}\" }}\n",
                                    i, again, name, again == 0 ? "z" : "x");
        }
        const auto survey = io::read_survey(
            folder_.file("survey.toml", text + "[[judge]]\ncriteria = [\"iso6954-2000\", \"iso2631-2-2003\"]\n"));
        ASSERT_TRUE(survey);
        survey_ = *survey;
        unsharded_ = judgement("");
    }

    std::string judgement(const std::string& cache) const
    {
        const auto assessment = assess(survey_, shipped_library(), {.jobs = 1, .cache_folder = cache});
        EXPECT_TRUE(assessment);
        return assessment ? io::as_json(*assessment) : std::string();
    }

    KeptPasses keep(const std::string& cache, const Shard& shard, std::vector<std::string> criteria = {}) const
    {
        auto kept = keep_passes(survey_, shipped_library(),
                                {.criteria = std::move(criteria), .jobs = 1, .cache_folder = cache}, shard);
        EXPECT_TRUE(kept);
        return kept ? *kept : KeptPasses{};
    }

    static std::vector<int> in_random_order(int of, unsigned seed)
    {
        std::vector<int> shards;
        for (int i = 1; i <= of; ++i) shards.push_back(i);
        std::ranges::shuffle(shards, std::mt19937(seed));
        return shards;
    }

    const ScratchFolder folder_;
    Survey survey_;
    std::string unsharded_;
};

TEST_F(Shards, OfAnyNumberInAnyOrderGiveTheSameJudgement)
{
    for (int of = 1; of <= 5; ++of) {
        const std::string cache = folder_.path(fmt::format(".becalm-{}", of));
        KeptPasses all;
        for (const int index : in_random_order(of, static_cast<unsigned>(of))) {
            const KeptPasses kept = keep(cache, {index, of});
            EXPECT_EQ(kept.files_of_survey, files);
            EXPECT_EQ(kept.files, files / of + (index <= files % of ? 1 : 0)) << index << "/" << of;
            all.files += kept.files;
            all.recordings += kept.recordings;
            all.filtered += kept.filtered;
            for (const std::string& message : kept.unreadable) all.unreadable.push_back(message);
        }
        EXPECT_EQ(all.files, files);
        EXPECT_EQ(all.recordings, files + 1);
        EXPECT_EQ(all.filtered, files) << "each once, but the one that is not there";
        ASSERT_EQ(all.unreadable.size(), 1U);
        EXPECT_THAT(all.unreadable[0], HasSubstr("r5.wav"));
        EXPECT_EQ(keep(cache, {}).filtered, 0);
        EXPECT_EQ(judgement(cache), unsharded_) << of;
    }
}

TEST_F(Shards, OfSeveralMachinesAreMerged)
{
    for (int of = 2; of <= 5; ++of) {
        const std::string here = folder_.path(fmt::format(".becalm-{}", of));
        for (const int index : in_random_order(of, 10U * static_cast<unsigned>(of))) {
            const std::string there = folder_.path(fmt::format(".becalm-{}-{}", of, index));
            keep(there, {index, of});
            store::Cache from(there, engine_version()), into(here, engine_version());
            const MergedPasses merged = merge_passes(from, into);
            EXPECT_EQ(merged.taken, static_cast<int>(entries_in(there).size()));
            EXPECT_EQ(merged.added_to + merged.known + merged.damaged + merged.of_other_engines, 0);
        }
        EXPECT_EQ(keep(here, {}).filtered, 0) << "known by their content";
        EXPECT_EQ(judgement(here), unsharded_) << of;
    }
}

TEST_F(Shards, AddToEachOtherWhereEachFilteredForAnotherCriterion)
{
    const std::string one = folder_.path("one"), two = folder_.path("two");
    keep(one, {}, {"iso6954-2000"});
    keep(two, {}, {"iso2631-1-1997-comfort"});
    store::Cache into(one, engine_version());
    {
        store::Cache from(two, engine_version());
        const MergedPasses merged = merge_passes(from, into);
        EXPECT_EQ(merged.added_to, 5);
        EXPECT_EQ(merged.taken + merged.known, 0);
    }
    store::Cache again(two, engine_version());
    EXPECT_EQ(merge_passes(again, into).known, 5);
    EXPECT_EQ(keep(one, {}, {"iso6954-2000"}).filtered, 0);
    EXPECT_EQ(keep(one, {}, {"iso2631-1-1997-comfort"}).filtered, 0);
}

TEST_F(Shards, AreNotTakenOverWhereDamagedOrOfAnotherEngine)
{
    const std::string here = folder_.path("here"), there = folder_.path("there");
    keep(there, {});
    const auto entries = entries_in(there);
    ASSERT_EQ(entries.size(), 5U);
    std::fstream damaged(entries[0], std::ios::in | std::ios::out | std::ios::binary);
    damaged.seekp(-1, std::ios::end);
    damaged.put('\x55');
    damaged.close();
    fs::resize_file(entries[1], 20);
    store::Cache(there, "another").store("key", "payload");
    {
        store::Cache from(there, engine_version()), into(here, engine_version());
        const MergedPasses merged = merge_passes(from, into);
        EXPECT_EQ(merged.taken, 3);
        EXPECT_EQ(merged.damaged, 2);
        EXPECT_EQ(merged.of_other_engines, 1);
    }
    EXPECT_EQ(judgement(here), unsharded_);
}

} // namespace
} // namespace becalm::evaluators::tests
