// The invented survey. Expected values are computed from the definition unless a line says otherwise.
#include <array>
#include <cmath>
#include <csignal>
#include <fcntl.h>
#include <filesystem>
#include <map>
#include <numbers>
#include <optional>
#include <rapidcheck.h>
#include <set>
#include <vector>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <sys/file.h>
#include <sys/resource.h>

#include "evaluators/pass.h"
#include "filters/weighting.h"
#include "src/io/criterion_file.h"
#include "src/io/file_hash.h"
#include "src/io/json_out.h"
#include "src/io/recording_reader.h"
#include "src/io/regular_file.h"
#include "src/io/survey_file.h"
#include "ui/demo/demo_survey.h"
#include "ui/demo/planted_faults.h"
#include "ui/demo/synthesis.h"

#include "tests/src/random_edits.h"
#include "tests/src/scratch_folder.h"

namespace becalm::demo {
namespace {

namespace fs = std::filesystem;

using testing::HasSubstr;
using tests::content_of;
using tests::ScratchFolder;

std::map<std::string, std::string> hashes_below(const std::string& folder)
{
    std::map<std::string, std::string> hashes;
    for (const auto& entry : fs::recursive_directory_iterator(folder)) {
        if (!entry.is_regular_file()) continue;
        const auto hash = io::sha256_of_file(entry.path().string());
        EXPECT_TRUE(hash) << entry.path();
        hashes[entry.path().lexically_relative(folder).generic_string()] = hash.value_or("");
    }
    return hashes;
}

Survey survey_at(const std::string& path)
{
    const auto survey = io::read_survey(path);
    if (!survey) {
        for (const Problem& problem : survey.error()) ADD_FAILURE() << to_text(problem);
        return {};
    }
    return *survey;
}

// One demo for all tests that only look at it.
class DemoSurvey : public testing::Test {
protected:
    static void SetUpTestSuite()
    {
        scratch_ = new ScratchFolder;
        const auto summary = write_demo_survey(scratch_->path("demo"));
        ASSERT_TRUE(summary) << to_text(summary.error());
        summary_ = *summary;
    }
    static void TearDownTestSuite() { delete scratch_; }

    static std::string path(std::string_view name) { return scratch_->path("demo") + "/" + std::string(name); }

    static ScratchFolder* scratch_;
    static DemoSummary summary_;
};

ScratchFolder* DemoSurvey::scratch_ = nullptr;
DemoSummary DemoSurvey::summary_;

TEST_F(DemoSurvey, IsTheSameEveryTime)
{
    const auto again = write_demo_survey(scratch_->path("again"));
    ASSERT_TRUE(again) << to_text(again.error());
    EXPECT_EQ(hashes_below(scratch_->path("demo")), hashes_below(scratch_->path("again")));
}

TEST_F(DemoSurvey, HasTwoSurveysWithoutAFault)
{
    ASSERT_EQ(summary_.surveys.size(), 2U);
    EXPECT_EQ(summary_.surveys[0], path("survey.toml"));
    EXPECT_EQ(summary_.surveys[1], path("terminal/survey.toml"));
    EXPECT_EQ(survey_at(summary_.surveys[0]).setting, Setting::vessel);
    EXPECT_EQ(survey_at(summary_.surveys[1]).setting, Setting::building);
    for (const std::string& survey : summary_.surveys)
        EXPECT_THAT(survey_at(survey).note, HasSubstr("Invented for demonstration"));
}

TEST_F(DemoSurvey, NamesCriteriaThatAreThere)
{
    const auto bibliography = io::read_sources(io::data_folder() + "/sources.toml");
    ASSERT_TRUE(bibliography);
    const auto library = io::load_criteria({io::data_folder() + "/criteria"}, *bibliography);
    for (const std::string& file : summary_.surveys) {
        const Survey survey = survey_at(file);
        ASSERT_FALSE(survey.judges.empty());
        for (const Judge& judge : survey.judges)
            for (const std::string& id : judge.criteria) {
                const auto found = library.criteria.find(id);
                ASSERT_NE(found, library.criteria.end()) << id;
                EXPECT_THAT(found->second.settings, testing::Contains(survey.setting)) << id;
            }
    }
}

TEST_F(DemoSurvey, NamesEveryRecordingAndEachCanBeRead)
{
    std::set<std::string> formats, named;
    double recorded_s = 0.0;
    for (const std::string& file : summary_.surveys) {
        const fs::path folder = fs::path(file).parent_path();
        for (const Recording& recording : survey_at(file).recordings) {
            const std::string where = (folder / recording.file).string();
            named.insert(where);
            const auto reader = io::open_recording(where);
            ASSERT_TRUE(reader) << to_text(reader.error());
            const io::RecordingInfo& info = (*reader)->info();
            EXPECT_EQ(info.channels, 3) << where;
            EXPECT_EQ(info.integer_pcm, recording.scale.has_value()) << where;
            EXPECT_TRUE(info.unit.empty() || info.unit == recording.unit || info.unit == "m/s²") << where << info.unit;
            EXPECT_GE(static_cast<double>(info.frames) / info.rate_hz, 120.0) << where;
            recorded_s += static_cast<double>(info.frames) / info.rate_hz;
            formats.insert(info.format);
        }
    }
    EXPECT_THAT(formats, testing::UnorderedElementsAre("WAV, 32-bit float", "WAV, 24-bit integer",
                                                       "FLAC, 24-bit integer", "delimited text"));
    EXPECT_EQ(summary_.recordings, static_cast<int>(named.size()));
    EXPECT_NEAR(summary_.recorded_s, recorded_s, 1e-9);
    for (const auto& [name, hash] : hashes_below(scratch_->path("demo")))
        EXPECT_TRUE(name.ends_with("survey.toml") || name.starts_with("plans/") || named.contains(path(name))) << name;
    EXPECT_LT(summary_.bytes, 40'000'000);
}

// The weighted r.m.s. value of the worst axis, run-in and excluded spans left out; nothing where a channel is clipped.
std::optional<double> judged_value(const std::string& survey_path, const Recording& recording, WeightingId weighting)
{
    const Unit unit = *unit_named(recording.unit);
    evaluators::PassRequest request{.path = (fs::path(survey_path).parent_path() / recording.file).string(),
                                    .input = unit.motion,
                                    .to_si = unit.to_si * recording.scale.value_or(1.0),
                                    .scale_given = recording.scale.has_value(),
                                    .keep_rows = true};
    for (const ChannelMapping& mapping : recording.channels)
        request.lanes.push_back({mapping.channel, mapping.axis, weighting});
    const auto results = evaluators::run_passes(std::span(&request, 1), {.jobs = 1});
    if (!results[0]) {
        ADD_FAILURE() << to_text(results[0].error());
        return std::nullopt;
    }
    for (const auto& channel : results[0]->channels)
        if (!channel.scan.clipped().empty()) return std::nullopt;
    double worst = 0.0;
    const auto selected = selection(results[0]->duration_s, filters::run_in_s(weighting), recording.excluded);
    for (const auto& lane : results[0]->lanes) {
        const Tally tally = fold(lane.ledger, selected);
        worst = std::max(worst, std::sqrt(tally.sum_squares / tally.duration_s));
    }
    return worst;
}

// The bands are those of the criterion file; which one each recording was made for is this project's invention.
TEST_F(DemoSurvey, ShowsEveryKindOfVerdict)
{
    const auto bibliography = io::read_sources(io::data_folder() + "/sources.toml");
    ASSERT_TRUE(bibliography);
    const auto criterion = io::read_criterion(io::data_folder() + "/criteria/iso6954-2000.toml", *bibliography);
    ASSERT_TRUE(criterion);
    const std::map<std::string, int> expected{
        {"d2-crew-1-service", 0},    {"d2-crew-4-service", 1}, {"d2-control-service", -1}, {"d4-201-service", 0},
        {"d4-214-service", 2},       {"d4-galley-service", 0}, {"d6-302-service", 1},      {"d6-wheelhouse-service", 0},
        {"d2-crew-1-harbour", 2},    {"d4-201-harbour", 1},    {"d4-214-harbour", 1},      {"d2-control-harbour", 0},
        {"d6-wheelhouse-harbour", 0}}; // -1: clipped, cannot be judged
    const Survey survey = survey_at(summary_.surveys[0]);
    std::map<std::string, int> bands;
    for (const Recording& recording : survey.recordings) {
        const std::string use = survey.space(recording.space)->use;
        const auto scale = std::ranges::find(criterion->scales, use, &Scale::use);
        ASSERT_NE(scale, criterion->scales.end()) << use;
        const auto value = judged_value(summary_.surveys[0], recording, WeightingId::Wm);
        int band = value ? 0 : -1;
        while (value && scale->bands[static_cast<std::size_t>(band)].limit &&
               *value > *scale->bands[static_cast<std::size_t>(band)].limit) {
            const double limit = *scale->bands[static_cast<std::size_t>(band)].limit;
            // No verdict hangs on the last digit: 3 % is more than the synthesis spreads.
            EXPECT_GT(*value, 1.03 * limit) << recording.file;
            ++band;
        }
        if (value && scale->bands[static_cast<std::size_t>(band)].limit) {
            EXPECT_LT(*value, 0.97 * *scale->bands[static_cast<std::size_t>(band)].limit) << recording.file;
        }
        bands[fs::path(recording.file).stem().string()] = band;
    }
    EXPECT_EQ(bands, expected);
}

// A room of the drawing has the id of its space.
TEST_F(DemoSurvey, PlacesEverySpaceOfTheFerryInItsRoomOnTheRightDeck)
{
    const Survey survey = survey_at(summary_.surveys[0]);
    ASSERT_EQ(survey.plans.size(), 3U);
    std::set<std::string> used;
    for (const Space& space : survey.spaces) {
        const Plan* plan = survey.plan(space.plan);
        ASSERT_TRUE(plan != nullptr && space.place) << space.id;
        EXPECT_EQ(plan->title, space.group);
        used.insert("plans/" + fs::path(plan->file).filename().string());
        const std::string svg = content_of(path(plan->file));
        EXPECT_THAT(svg, testing::StartsWith("<svg "));
        const std::size_t at = svg.find(fmt::format("<rect id=\"{}\" ", space.id));
        ASSERT_NE(at, std::string::npos) << space.id;
        const auto length = [&](std::string_view name, std::size_t from) {
            return std::stod(svg.substr(svg.find(fmt::format(" {}=\"", name), from) + name.size() + 3));
        };
        const double x = (space.place->x * length("width", 0) - length("x", at)) / length("width", at);
        const double y = (space.place->y * length("height", 0) - length("y", at)) / length("height", at);
        EXPECT_NEAR(x, 0.5, 0.1) << space.id; // the middle of the room
        EXPECT_NEAR(y, 0.5, 0.1) << space.id;
    }
    for (const auto& [name, hash] : hashes_below(scratch_->path("demo")))
        EXPECT_TRUE(!name.starts_with("plans/") || used.contains(name)) << name;
}

TEST_F(DemoSurvey, CanBeEditedInAnyOrder)
{
    for (const std::string& file : summary_.surveys) {
        const std::string text = content_of(file);
        EXPECT_TRUE(rc::check(file, [&] { tests::edit_at_random(text, 12, tests::Layout::tables); }));
    }
}

TEST_F(DemoSurvey, ShowsWhatAnExclusionDoes)
{
    const Survey survey = survey_at(summary_.surveys[0]);
    auto galley = *std::ranges::find(survey.recordings, "d4-galley", &Recording::space);
    ASSERT_EQ(galley.excluded.size(), 1U);
    const auto without = judged_value(summary_.surveys[0], galley, WeightingId::Wm);
    galley.excluded.clear();
    const auto with = judged_value(summary_.surveys[0], galley, WeightingId::Wm);
    ASSERT_TRUE(with && without);
    EXPECT_GT(*with, 2.0 * *without);
}

TEST(WriteDemoSurvey, ChangesNothingWhereThereIsSomething)
{
    const ScratchFolder scratch;
    const std::string mine = scratch.file("mine.txt", "precious");
    const auto refused = write_demo_survey(scratch.path());
    ASSERT_FALSE(refused);
    EXPECT_THAT(to_text(refused.error()), HasSubstr("the folder is not empty"));
    EXPECT_EQ(content_of(mine), "precious");
    EXPECT_EQ(scratch.entries(), 1U);

    const auto file = write_demo_survey(mine);
    ASSERT_FALSE(file);
    EXPECT_THAT(to_text(file.error()), HasSubstr("this is a file"));
    const auto nowhere = write_demo_survey(scratch.path("a/b"));
    ASSERT_FALSE(nowhere);
    EXPECT_THAT(to_text(nowhere.error()), HasSubstr("does not exist"));
    EXPECT_EQ(scratch.entries(), 1U);
}

// The limit on file size stands for a full disk: the same way out of the same write.
class SmallFilesOnly {
public:
    SmallFilesOnly() : handler_(std::signal(SIGXFSZ, SIG_IGN))
    {
        ::getrlimit(RLIMIT_FSIZE, &before_);
        rlimit small = before_;
        small.rlim_cur = 65536;
        ::setrlimit(RLIMIT_FSIZE, &small);
    }
    SmallFilesOnly(const SmallFilesOnly&) = delete;
    SmallFilesOnly& operator=(const SmallFilesOnly&) = delete;
    ~SmallFilesOnly()
    {
        ::setrlimit(RLIMIT_FSIZE, &before_);
        std::signal(SIGXFSZ, handler_);
    }

private:
    rlimit before_ = {};
    void (*handler_)(int);
};

TEST(WriteDemoSurvey, LeavesNothingWhereTheDiskIsFull)
{
    const ScratchFolder scratch;
    fs::create_directory(scratch.path("empty"));
    const SmallFilesOnly full;
    for (const char* name : {"empty", "new"}) {
        const auto written = write_demo_survey(scratch.path(name));
        ASSERT_FALSE(written);
        EXPECT_EQ(written.error().kind, ProblemKind::outside_world);
    }
    EXPECT_TRUE(fs::is_empty(scratch.path("empty")));
    EXPECT_FALSE(fs::exists(scratch.path("new")));
}

TEST(WriteDemoSurvey, FillsAFolderThatIsThereAndEmpty)
{
    const ScratchFolder scratch;
    const auto summary = write_demo_survey(scratch.path());
    ASSERT_TRUE(summary) << to_text(summary.error());
    EXPECT_EQ(scratch.entries(), 4U); // recordings, plans, terminal, survey.toml
    const auto again = write_demo_survey(scratch.path());
    EXPECT_FALSE(again);
}

TEST(WriteDemoSurvey, TakesOverWhatAKilledRunLeft)
{
    const ScratchFolder scratch;
    fs::create_directories(scratch.path(".becalm-demo.tmp/terminal"));
    fs::create_directory(scratch.path("recordings"));
    {
        const std::string mine = scratch.file("mine.txt", "precious");
        EXPECT_FALSE(write_demo_survey(scratch.path())) << "beside what is the user's nothing is touched";
        EXPECT_EQ(scratch.entries(), 3U);
        fs::remove(mine);
    }
    {
        const io::FileHandle at_work(::open(scratch.path(".becalm-demo.tmp").c_str(), O_RDONLY | O_DIRECTORY));
        ASSERT_EQ(::flock(at_work.get(), LOCK_EX | LOCK_NB), 0);
        EXPECT_FALSE(write_demo_survey(scratch.path())) << "another run is at work there";
    }
    const auto written = write_demo_survey(scratch.path());
    ASSERT_TRUE(written) << to_text(written.error());
    EXPECT_EQ(scratch.entries(), 4U); // recordings, plans, terminal, survey.toml
}

TEST(Synthesis, SineIsTheSine)
{
    for (int i = -4000; i <= 4000; ++i) {
        const double turns = i * 0.000731;
        EXPECT_NEAR(sine_of_turns(turns), std::sin(2.0 * std::numbers::pi * turns), 2e-11) << turns;
    }
}

// One component at a time has the r.m.s. value asked for: 5 % for the breathing of tones and the chance of noise.
TEST(Synthesis, LevelsAreThoseAskedFor)
{
    const Scene tone{.clocks = {{11.0, 0.0}}, .tones = {{0, 2.0, {100, 50, 200}}}, .bands = {}, .bangs = {}};
    const Scene band{.clocks = {}, .tones = {}, .bands = {{30.0, 20.0, {100, 50, 200}}}, .bangs = {}};
    for (const Scene& scene : {tone, band}) {
        const auto samples = synthesise(scene, 1000, 200, Sensed::acceleration, 5);
        ASSERT_EQ(samples.size(), 600'000U);
        std::array<double, 3> sum{};
        for (std::size_t i = 0; i < samples.size(); ++i) sum[i % 3] += samples[i] * samples[i];
        EXPECT_NEAR(std::sqrt(sum[0] / 200'000), 0.1, 0.005);
        EXPECT_NEAR(std::sqrt(sum[1] / 200'000), 0.05, 0.0025);
        EXPECT_NEAR(std::sqrt(sum[2] / 200'000), 0.2, 0.01);
    }
}

// A geophone gives velocity: a / (2 pi f) for a tone far above its corner at 0.3 Hz.
TEST(Synthesis, GeophonesGiveVelocity)
{
    const Scene tone{.clocks = {{10.0, 0.0}}, .tones = {{0, 1.0, {0, 0, 200}}}, .bands = {}, .bangs = {}};
    const auto samples = synthesise(tone, 1000, 200, Sensed::velocity, 5);
    double sum = 0.0;
    for (std::size_t i = 2; i < samples.size(); i += 3) sum += samples[i] * samples[i];
    const double expected_mm_s = 200.0 / (2.0 * std::numbers::pi * 10.0);
    EXPECT_NEAR(std::sqrt(sum / 200'000), expected_mm_s, 0.05 * expected_mm_s);
}

// --- planted faults ---

// The aims are ours. A fault counts as found where its own finding stands on its own channel. The detectors and their
// thresholds were developed on the seeds 1, 2 and 11 to 20; 101 was not looked at before they were done.
TEST(PlantedFaults, AreFoundAndSoundRecordingsAreNotAccused)
{
    const auto report = hold_against_planted_faults({.seed = 101});
    ASSERT_TRUE(report) << to_text(report.error());
    EXPECT_EQ(report->recordings, 300);
    EXPECT_GE(report->planted(), 275);
    EXPECT_GE(report->found(), 0.98 * report->planted());
    EXPECT_LE(report->accused(), 0.01 * report->recordings);
    for (const PlantedKind& kind : report->kinds) EXPECT_GE(kind.planted, 25) << kind.code;
}

TEST(PlantedFaults, AreTheSameForAnyNumberOfThreads)
{
    const auto one = hold_against_planted_faults({.count = 26, .seed = 7, .jobs = 1});
    const auto two = hold_against_planted_faults({.count = 26, .seed = 7, .jobs = 2});
    ASSERT_TRUE(one && two);
    EXPECT_EQ(io::as_json(*one), io::as_json(*two));
}

} // namespace
} // namespace becalm::demo
