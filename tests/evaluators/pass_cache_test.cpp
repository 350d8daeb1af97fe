// Passes from the cache are those of run_passes(), to the last bit, and nothing is filtered twice; whatever happens to
// the folder or to the recordings meanwhile, a judgement is the one that would have been reached without it.
#include <array>
#include <bit>
#include <chrono>
#include <csignal>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <functional>
#include <mutex>
#include <random>
#include <rapidcheck.h>
#include <thread>
#include <unistd.h>
#include <vector>

#include <gmock/gmock.h>
#include <sys/wait.h>

#include "evaluators/assess.h"
#include "evaluators/pass_cache.h"
#include "src/io/file_hash.h"
#include "src/io/json_out.h"
#include "src/io/survey_file.h"

#include "tests/evaluators/criteria.h"
#include "tests/evaluators/recordings.h"
#include "tests/src/cache_folder.h"

namespace becalm::evaluators {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;
using testing::SizeIs;
using namespace tests;
using becalm::tests::entries_in;
using becalm::tests::settle;
using enum WeightingId;
namespace fs = std::filesystem;

// Everything that a result tells, numbers to the last bit.
std::string told(const Result<PassResult>& result)
{
    if (!result) return to_text(result.error());
    std::string text;
    const auto add = [&]<class... Values>(const Values&... values) {
        ((text += fmt::format("{} ", values)), ...);
        text += '\n';
    };
    const auto bits = [](double value) { return std::bit_cast<std::uint64_t>(value); };
    const auto runs = [&](const std::vector<filters::SampleRun>& found) {
        for (const auto& run : found) add(run.begin, run.count);
    };
    const io::RecordingInfo& info = result->info;
    add(info.format, bits(info.rate_hz), info.channels, info.frames, info.integer_pcm, bits(info.step), info.seekable,
        info.unit, info.start, info.names.size());
    for (const std::string& name : info.names) add(name);
    add(result->sha256, bits(result->from_s), bits(result->duration_s));
    for (const LaneResult& lane : result->lanes) {
        add(lane.lane.channel, name_of(lane.lane.axis), name_of(lane.lane.weighting));
        if (lane.refused) add(to_text(*lane.refused));
        const Tally& t = lane.tally;
        add(t.samples, bits(t.duration_s), bits(t.sum_squares), bits(t.sum_fourths), bits(t.peak), bits(t.linear_rms),
            bits(t.exponential_rms_slow), bits(t.exponential_rms_fast));
        add(lane.ledger.lane == lane.lane, bits(lane.ledger.rate_hz), lane.ledger.first_second);
        for (const LedgerRow& row : lane.ledger.rows)
            add(row.samples, bits(row.sum_squares), bits(row.sum_fourths), bits(row.peak), bits(row.linear_rms),
                bits(row.linear_rms_within), bits(row.exponential_rms_slow), bits(row.exponential_rms_fast),
                bits(row.raw_min), bits(row.raw_max));
        add(lane.spectrum.has_value(), lane.swings.has_value());
        if (lane.spectrum) {
            add(bits(lane.spectrum->resolution_hz), lane.spectrum->segments);
            for (const double density : lane.spectrum->density) add(bits(density));
        }
        if (!lane.swings) continue;
        if (lane.swings->refused) add(to_text(*lane.swings->refused));
        for (const Swing& swing : lane.swings->swings) add(bits(swing.at_s), bits(swing.size));
    }
    for (const ChannelResult& channel : result->channels) {
        add(channel.channel, bits(channel.offset), channel.scan.samples(), bits(channel.scan.min()),
            bits(channel.scan.max()), bits(channel.scan.mean()), bits(channel.scan.deviation()));
        runs(channel.scan.not_finite());
        runs(channel.scan.clipped());
        runs(channel.scan.drop_outs());
        add(channel.spectra.has_value(), channel.motion.has_value());
        if (channel.spectra) {
            add(bits(channel.spectra->resolution_hz), bits(channel.spectra->rate_hz));
            for (const SpectralRow& row : channel.spectra->rows) {
                add(bits(row.from_s), bits(row.to_s), row.segments);
                for (const float density : row.density) add(bits(density));
            }
        }
        if (!channel.motion) continue;
        add(bits(channel.motion->bin_s));
        for (const MotionBin& bin : channel.motion->bins) add(bits(bin.mean), bits(bin.min), bits(bin.max));
    }
    return text;
}

std::string told(const PassRequest& request) { return told(run_passes(std::span(&request, 1)).at(0)); }

constexpr int rate = 500;
constexpr std::size_t frames = 40 * rate;

// 40 s of three channels: two of noise and a sine, settled. Where it is faulty the second is clipped, stands still for
// a while and holds what is no number.
std::string record(const ScratchFolder& folder, const std::string& name, std::uint64_t seed, bool faulty = false)
{
    std::vector<Signal> channels{noise(frames, seed), noise(frames, seed + 1), sine(0.3, 8.0, rate, 40.0)};
    for (double& x : channels[0]) x *= 0.05;
    for (double& x : channels[1]) x *= 0.1;
    if (faulty) {
        for (double& x : channels[1]) x = std::clamp(x, -0.2, 0.2);
        std::fill_n(channels[1].begin() + 3000, 700, 0.0);
    }
    std::string bytes = content_of(wav(folder, "new.wav", rate, channels));
    fs::remove(folder.path("new.wav"));
    if (faulty) { // the data stand last in the file
        constexpr auto not_a_number = std::numeric_limits<float>::quiet_NaN();
        std::memcpy(bytes.data() + bytes.size() - ((frames - 9000) * 3 - 1) * sizeof not_a_number, &not_a_number,
                    sizeof not_a_number);
    }
    // An earlier recording of that name is overwritten where it lies.
    const std::string path = folder.path(name);
    if (!fs::exists(path)) folder.file(name, "");
    std::fstream(path, std::ios::binary | std::ios::in | std::ios::out)
        .write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    settle(path);
    return path;
}

// ---- passes ----

class PassCache : public testing::Test {
protected:
    PassRequest request(std::vector<Lane> lanes) const
    {
        return {.path = path_, .lanes = std::move(lanes), .keep_rows = true};
    }

    // The lanes that were filtered are noted.
    std::vector<Result<PassResult>> cached(const std::vector<PassRequest>& requests, const PassOptions& more = {})
    {
        filtered_.clear();
        std::mutex mutex;
        PassOptions options = more;
        options.finished = [&](std::size_t, const Result<PassResult>& result) {
            const std::lock_guard lock(mutex);
            ++passes_;
            if (result)
                for (const LaneResult& lane : result->lanes) filtered_.push_back(lane.lane);
        };
        store::Cache cache(folder_.path(".becalm"), engine_version());
        return run_passes_cached(requests, options, cache);
    }
    std::string told_cached(const PassRequest& request) { return told(cached({request}).at(0)); }

    ScratchFolder folder_;
    const std::string path_ = record(folder_, "a.wav", 1, true);
    std::vector<Lane> filtered_; // by the last call
    int passes_ = 0;             // of all calls
    const Lane x_{1, Axis::x, Wd}, z_{3, Axis::z, Wk}, plain_{2, Axis::y, none};
};

TEST_F(PassCache, GivesWhatThePassGivesAndRunsItOnce)
{
    const PassRequest asked = request({x_, plain_, z_, x_});
    const std::string expected = told(asked);
    for (int round = 0; round < 3; ++round) EXPECT_EQ(told_cached(asked), expected);
    EXPECT_EQ(passes_, 1);
}

TEST_F(PassCache, RunsOnlyTheLanesThatAreMissing)
{
    cached({request({x_})});
    EXPECT_THAT(filtered_, ElementsAre(x_));
    const Lane refused{3, Axis::z, Wh}; // 500 Hz are too few for it
    const PassRequest more = request({z_, x_, plain_, refused});
    EXPECT_EQ(told_cached(more), told(more));
    EXPECT_THAT(filtered_, ElementsAre(z_, plain_, refused));
    EXPECT_EQ(told_cached(more), told(more));
    EXPECT_THAT(filtered_, IsEmpty());
    for (const std::vector<Lane>& fewer : {std::vector{z_}, {plain_, x_}, {refused}, {}}) {
        EXPECT_EQ(told_cached(request(fewer)), told(request(fewer)));
        EXPECT_THAT(filtered_, IsEmpty());
    }
    EXPECT_THAT(entries_in(folder_.path(".becalm")), SizeIs(1));
}

TEST_F(PassCache, RunsOnlyTheReducersThatAreMissing)
{
    cached({request({x_, z_})});
    PassRequest reduced = request({x_, z_});
    reduced.spectra_channels = {3};
    EXPECT_EQ(told_cached(reduced), told(reduced));
    EXPECT_THAT(filtered_, IsEmpty()) << "spectra need no lane";
    reduced.motion_channels = {3, 2};
    EXPECT_EQ(told_cached(reduced), told(reduced));
    EXPECT_THAT(filtered_, IsEmpty());
    reduced.swing_lanes = {z_};
    EXPECT_EQ(told_cached(reduced), told(reduced));
    EXPECT_THAT(filtered_, ElementsAre(z_));
    EXPECT_EQ(passes_, 4);

    reduced.lanes = {z_, plain_, z_, x_}; // one lane is new, the rest is there
    EXPECT_EQ(told_cached(reduced), told(reduced));
    EXPECT_THAT(filtered_, ElementsAre(plain_));
    EXPECT_EQ(passes_, 5);

    PassRequest motion_alone = request({}), swings_alone = request({z_});
    motion_alone.motion_channels = {2};
    swings_alone.swing_lanes = {z_};
    for (const PassRequest& fewer : {reduced, motion_alone, swings_alone, request({z_, x_})})
        EXPECT_EQ(told_cached(fewer), told(fewer));
    EXPECT_EQ(passes_, 5) << "everything is there, and nothing comes back that was not asked for";
    EXPECT_THAT(entries_in(folder_.path(".becalm")), SizeIs(1));
}

TEST_F(PassCache, OfSeveralSpansPutTogetherPieceByPieceIsThatOfOnePass)
{
    // Nearly an hour: two spans, at which filters of very different memory begin again.
    constexpr int slow_rate = 256;
    Signal signal = noise(3500 * slow_rate, 11);
    for (std::size_t i = 0; i < signal.size(); ++i)
        signal[i] = 9.8 + 0.1 * signal[i] + std::sin(1.1 * static_cast<double>(i) / slow_rate);
    const std::string path = wav(folder_, "long.wav", slow_rate, {signal});
    settle(path);
    PassRequest asked{.path = path, .keep_rows = true};
    const Lane wk{1, Axis::z, Wk}, wf{1, Axis::z, Wf};
    for (const auto& more : std::vector<std::function<void()>>{
             [&] { asked.lanes = {wk}; }, [&] { asked.spectra_channels = {1}; }, [&] { asked.lanes.push_back(wf); },
             [&] { asked.motion_channels = {1}; }, [&] { asked.swing_lanes = {wf}; },
             [&] {
                 asked.lanes.push_back({1, Axis::z, none});
             }}) {
        more();
        EXPECT_TRUE(told_cached(asked) == told(asked)) << "step " << passes_; // too long to be printed
    }
    EXPECT_EQ(passes_, 6);
}

// A checksum keeps damage out; whoever forges one too gets values or nothing, and reads no memory of others.
TEST_F(PassCache, AnEntryOfAnyBytesIsReadWithinItsBounds)
{
    PassRequest asked = request({x_, plain_, z_});
    asked.spectra_channels = {1, 3};
    asked.motion_channels = {3};
    asked.swing_lanes = {x_};
    const auto pass = run_passes(std::span(&asked, 1)).at(0);
    ASSERT_TRUE(pass);
    const std::string whole = bytes_of(*pass);
    const auto read = [](const std::string& bytes) {
        auto content = std::make_unique<char[]>(bytes.size());
        std::ranges::copy(bytes, content.get());
        return pass_from(store::Blob(std::move(content), 0, bytes.size()));
    };
    const auto again = read(whole);
    ASSERT_TRUE(again);
    EXPECT_EQ(bytes_of(*again), whole);
    std::mt19937_64 random(8);
    int refused = 0;
    for (int round = 0; round < 500; ++round) {
        std::string bytes = whole;
        for (auto changes = random() % 4; changes > 0; --changes) { // where lengths stand, among other places
            const std::uint64_t number = random() >> random() % 64;
            std::memcpy(bytes.data() + random() % (bytes.size() - 8), &number, sizeof number);
        }
        if (random() % 2 == 0) bytes.resize(random() % bytes.size());
        if (const auto found = read(bytes))
            EXPECT_FALSE(bytes_of(*found).empty());
        else
            ++refused;
    }
    EXPECT_GT(refused, 100) << "half were cut";
}

TEST_F(PassCache, KeepsThatReducersWereAskedForInVain)
{
    // Too short for spectra, and a lane that is refused: known, and not run again.
    PassRequest vain = request({{1, Axis::z, Wh}});
    vain.span.to_s = 1.5;
    vain.spectra_channels = {1};
    vain.swing_lanes = vain.lanes;
    for (int round = 0; round < 3; ++round) EXPECT_EQ(told_cached(vain), told(vain));
    EXPECT_EQ(passes_, 1);
}

TEST_F(PassCache, KeepsLanesOfTheSameRecordingAskedForAtOnce)
{
    std::vector<PassRequest> requests;
    for (const WeightingId id : {Wb, Wc, Wd, Wk, Wm, none})
        for (int channel = 1; channel <= 3; ++channel) requests.push_back(request({{channel, Axis::x, id}}));
    cached(requests, {.jobs = 4});
    EXPECT_THAT(filtered_, SizeIs(requests.size()));
    const auto again = cached(requests, {.jobs = 4});
    EXPECT_THAT(filtered_, IsEmpty());
    for (std::size_t r = 0; r < requests.size(); ++r) EXPECT_EQ(told(again[r]), told(requests[r])) << r;
}

TEST_F(PassCache, TellsRequestsApartByAllThatTheirNumbersDependOn)
{
    const PassRequest plain = request({x_, z_});
    std::vector<PassRequest> others;
    const auto other = [&](auto change) {
        others.push_back(plain);
        change(others.back());
    };
    other([](PassRequest& r) { r.to_si = 1.0000000000000002; });
    other([](PassRequest& r) { r.input = Motion::velocity; });
    other([](PassRequest& r) { r.offset = OffsetRule::none; });
    other([](PassRequest& r) { r.offset = OffsetRule::mean; });
    other([](PassRequest& r) { r.span.from_s = 2.5; });
    other([](PassRequest& r) { r.span.to_s = 30.0; });
    other([](PassRequest& r) { r.keep_rows = false; });
    other([](PassRequest& r) { r.resolution_hz = 0.5; });
    cached({plain});
    for (const PassRequest& request : others) {
        EXPECT_EQ(told_cached(request), told(request));
        EXPECT_THAT(filtered_, SizeIs(2));
        EXPECT_EQ(told_cached(request), told(request));
        EXPECT_THAT(filtered_, IsEmpty());
    }
}

TEST_F(PassCache, OfTextDependsOnTheRateItIsReadAt)
{
    std::string text;
    for (const double x : noise(20000, 4)) text += fmt::format("{:.5f}\n", x);
    const std::string path = folder_.file("z.csv", text);
    settle(path);
    for (const double rate_hz : {500.0, 1000.0, 500.0}) {
        const PassRequest request{.path = path, .read = {.rate_hz = rate_hz}, .lanes = {{1, Axis::z, Wk}}};
        EXPECT_EQ(told_cached(request), told(request)) << rate_hz;
    }
    EXPECT_EQ(passes_, 2);
}

TEST_F(PassCache, GivesNoHashWhereNoneIsAskedFor)
{
    PassRequest asked = request({x_});
    asked.hash = false;
    for (int round = 0; round < 2; ++round) EXPECT_EQ(told_cached(asked), told(asked));
    EXPECT_EQ(passes_, 1);
}

TEST_F(PassCache, KnowsARecordingByItsContent)
{
    cached({request({x_})});
    const std::string copy = folder_.path("copy.wav");
    fs::copy_file(path_, copy);
    settle(copy);
    PassRequest of_copy = request({x_});
    of_copy.path = copy;
    EXPECT_EQ(told_cached(of_copy), told(of_copy));
    fs::last_write_time(path_, fs::file_time_type::clock::now() - std::chrono::hours(2));
    EXPECT_EQ(told_cached(request({x_})), told(request({x_})));
    EXPECT_EQ(passes_, 1);
}

TEST_F(PassCache, OfARecordingJustMadeIsKeptByItsContentAlone)
{
    const auto freshly = [&](std::uint64_t seed) {
        const std::string path = record(folder_, "fresh.wav", seed);
        fs::last_write_time(path, fs::file_time_type::clock::now());
        return path;
    };
    PassRequest asked = request({x_});
    asked.path = freshly(1);
    for (int round = 0; round < 2; ++round) EXPECT_EQ(told_cached(asked), told(asked));
    EXPECT_EQ(passes_, 1);
    freshly(2); // the same length, perhaps within a tick of the clock
    EXPECT_EQ(told_cached(asked), told(asked));
    EXPECT_EQ(passes_, 2);
}

TEST_F(PassCache, NoticesAChangeOfAnyFileOfADescription)
{
    record(folder_, "one.wav", 2);
    record(folder_, "two.wav", 3);
    PassRequest asked = request({x_});
    asked.path = folder_.file("run.recording.toml", "[becalm-recording]\nfiles = [\"one.wav\", \"two.wav\"]\n");
    settle(asked.path);
    for (int round = 0; round < 2; ++round) EXPECT_EQ(told_cached(asked), told(asked));
    EXPECT_EQ(passes_, 1);
    record(folder_, "two.wav", 4); // as long, as old
    EXPECT_EQ(told_cached(asked), told(asked));
    EXPECT_EQ(passes_, 2);
    // The same files in another order are another recording.
    settle(folder_.file("run.recording.toml", "[becalm-recording]\nfiles = [\"two.wav\", \"one.wav\"]\n"));
    for (int round = 0; round < 2; ++round) EXPECT_EQ(told_cached(asked), told(asked));
    EXPECT_EQ(passes_, 3);
    fs::remove(folder_.path("one.wav"));
    EXPECT_EQ(told_cached(asked), told(asked));
    EXPECT_EQ(passes_, 4);
}

TEST_F(PassCache, SaysWhatThePassSaysOfWhatCannotBeRead)
{
    const std::string empty = folder_.file("empty.wav", ""), odd = folder_.file("odd.wav", "no recording at all");
    settle(odd);
    std::vector<PassRequest> requests{request({x_}), request({{9, Axis::x, Wd}}), request({x_}), request({x_}),
                                      request({x_})};
    requests[2].path = empty;
    requests[3].path = odd;
    requests[4].path = folder_.path("missing.wav");
    for (int round = 0; round < 2; ++round) {
        const auto results = cached(requests);
        for (std::size_t r = 0; r < requests.size(); ++r) {
            EXPECT_EQ(told(results[r]), told(requests[r])) << r;
            EXPECT_EQ(results[r].has_value(), r == 0) << r;
        }
    }
}

TEST_F(PassCache, SaysThatItWasStopped)
{
    std::stop_source source;
    source.request_stop();
    const PassOptions stopped{.stop = source.get_token()};
    const PassRequest asked = request({x_});
    EXPECT_EQ(told(cached({asked}, stopped).at(0)), told(run_passes(std::span(&asked, 1), stopped).at(0)));
    cached({asked});
    EXPECT_FALSE(cached({asked}, stopped).at(0)) << "stopped is stopped, whatever is known";
}

TEST_F(PassCache, RunsARecordingAgainThatChangesWhileItIsRead)
{
    // The first report of progress comes from the midst of the pass. The second round begins with a file of which the
    // file system may not tell that it changed.
    const PassRequest asked = request({x_, z_, plain_});
    for (const bool settled : {true, false}) {
        const std::uint64_t before = settled ? 30 : 50, after = before + 10;
        record(folder_, "a.wav", before);
        if (!settled) fs::last_write_time(path_, fs::file_time_type::clock::now());
        bool changed = false;
        const PassOptions changing{.jobs = 1, .progress = [&](double) {
                                       if (!std::exchange(changed, true)) record(folder_, "a.wav", after);
                                   }};
        const auto result = cached({asked}, changing);
        ASSERT_TRUE(changed);
        EXPECT_EQ(told(result.at(0)), told(asked));
        for (const std::uint64_t seed : {after, before}) {
            record(folder_, "a.wav", seed);
            EXPECT_EQ(told_cached(asked), told(asked));
        }
    }
}

// ---- judgements ----

constexpr const char* head = "title = \"kept\"\nsetting = \"building\"\n";

// Four recordings of an office floor; `more` are lines of the first, `criteria` those of the survey.
std::string survey_text(const std::string& criteria, const std::string& more = "")
{
    std::string text = head;
    for (int i = 0; i < 4; ++i)
        text += fmt::format("[[space]]\nid = \"s{0}\"\nuse = \"office\"\n[[recording]]\nfile = \"{0}.wav\"\nspace = "
                            "\"s{0}\"\nchannels = {{ 1 = \"x\", 2 = \"y\", 3 = \"z\" }}\n{1}\n",
                            i, i == 0 ? more : "");
    return text + fmt::format("[[judge]]\ncriteria = [{}]\n", criteria);
}

const std::string one_criterion = "\"iso2631-2-2003\"", two_criteria = "\"iso2631-2-2003\", \"iso2631-1-1997-comfort\"";

class CachedJudgement : public testing::Test {
protected:
    CachedJudgement()
    {
        for (std::uint64_t i = 0; i < 4; ++i) record(folder_, fmt::format("{}.wav", i), 10 * i, i == 3);
    }

    std::string judged(const std::string& text, const std::string& cache) const
    {
        // Under a name of its own, for several processes judge at once.
        const auto name = fmt::format("{}.toml", std::hash<std::string>{}(text));
        const auto survey = io::read_survey(folder_.file(name, text));
        if (!survey) return to_text(survey.error().at(0));
        const auto assessment = assess(*survey, shipped_library(), {.cache_folder = cache});
        return assessment ? io::as_json(*assessment) : to_text(assessment.error().at(0));
    }
    std::string plain(const std::string& text) const { return judged(text, ""); }
    std::string cached(const std::string& text) const { return judged(text, cache_); }

    // Judges in a process of its own; its number.
    pid_t judge_aside(const std::string& text) const
    {
        const pid_t child = ::fork();
        if (child == 0) ::_exit(cached(text).size() > 1000 ? 0 : 1);
        return child;
    }
    static bool went_well(pid_t child)
    {
        int status = -1;
        return ::waitpid(child, &status, 0) == child && status == 0;
    }

    // Bytes that this process has read from files so far; empty where the system does not tell.
    static std::optional<std::uint64_t> bytes_read()
    {
        std::ifstream io("/proc/self/io");
        std::string key;
        std::uint64_t count = 0;
        while (io >> key >> count)
            if (key == "rchar:") return count;
        return std::nullopt;
    }

    ScratchFolder folder_;
    const std::string cache_ = folder_.path(".becalm");
};

TEST_F(CachedJudgement, IsTheSameToTheLastByte)
{
    const std::string once = plain(survey_text(one_criterion)), more = plain(survey_text(two_criteria));
    ASSERT_GT(once.size(), 1000U);
    ASSERT_NE(once, more);
    EXPECT_EQ(cached(survey_text(one_criterion)), once) << "nothing kept yet";
    EXPECT_EQ(cached(survey_text(one_criterion)), once) << "all of it kept";
    EXPECT_EQ(cached(survey_text(two_criteria)), more) << "a criterion that needs more lanes";
    EXPECT_EQ(cached(survey_text(two_criteria)), more);
    EXPECT_EQ(cached(survey_text(one_criterion)), once) << "and without it again";
}

TEST_F(CachedJudgement, ReadsNoRecordingASecondTime)
{
    if (!bytes_read()) GTEST_SKIP() << "the system does not count what a process reads";
    const auto read_for = [&](const std::string& text) {
        const std::uint64_t before = *bytes_read();
        cached(text);
        return *bytes_read() - before;
    };
    // Four float files of three channels, each read by the hash and by the pass.
    const std::uint64_t recordings = 4 * 3 * frames * sizeof(float);
    EXPECT_GT(read_for(survey_text(one_criterion)), 2 * recordings);
    EXPECT_LT(read_for(survey_text(one_criterion)), recordings / 2);
    const std::string excluding =
        survey_text(one_criterion, "exclude = [{ from = 5.0, to = 20.0, reason = \"a visitor\" }]");
    const std::uint64_t read = read_for(excluding);
    EXPECT_LT(read, recordings / 2) << "an exclusion needs no pass";
    EXPECT_EQ(cached(excluding), plain(excluding));
    EXPECT_NE(cached(excluding), cached(survey_text(one_criterion)));
}

TEST_F(CachedJudgement, FollowsEveryChangeOfASurvey)
{
    for (const std::string more : {"", "scale = 2.0", "unit = \"mm/s\"", "unit = \"g\"",
                                   "exclude = [{ from = 0.0, to = 3.0, reason = \"start\" }]", ""}) {
        const std::string text = survey_text(two_criteria, more);
        EXPECT_EQ(cached(text), plain(text)) << more;
    }
}

TEST_F(CachedJudgement, FollowsARecordingThatIsReplaced)
{
    const std::string text = survey_text(one_criterion), before = cached(text);
    record(folder_, "2.wav", 99);
    const std::string after = cached(text);
    EXPECT_NE(after, before);
    EXPECT_EQ(after, plain(text));
}

TEST_F(CachedJudgement, IsTheSameWhateverHappensToTheFolder)
{
    const std::string text = survey_text(one_criterion), expected = plain(text);
    cached(text);
    const bool held = rc::check([&] {
        std::vector<fs::path> files = entries_in(cache_);
        files.push_back(cache_ + "/files");
        const fs::path file = files[*rc::gen::inRange<std::size_t>(0, files.size())];
        std::string bytes = content_of(file);
        const auto at = *rc::gen::inRange<std::size_t>(0, bytes.size());
        switch (*rc::gen::inRange(0, 5)) {
        case 0: bytes[at] = static_cast<char>(bytes[at] ^ *rc::gen::inRange(1, 256)); break;
        case 1: bytes.resize(at); break;
        case 2: bytes.insert(at, 1, 'x'); break;
        case 3: bytes = content_of(files.front()); break; // what belongs to another
        default: bytes.clear();
        }
        std::ofstream(file, std::ios::binary) << bytes;
        RC_ASSERT(cached(text) == expected);
        RC_ASSERT(cached(text) == expected);
    });
    EXPECT_TRUE(held);
}

TEST_F(CachedJudgement, NeedsNoFolder)
{
    folder_.file(".becalm", "a file in its place");
    const std::string text = survey_text(one_criterion), expected = plain(text);
    std::vector<std::string> troubles;
    const auto survey = io::read_survey(folder_.path(fmt::format("{}.toml", std::hash<std::string>{}(text))));
    ASSERT_TRUE(survey);
    const auto assessment = assess(
        *survey, shipped_library(),
        {.cache_folder = cache_, .cache_trouble = [&](const Problem& trouble) { troubles.push_back(trouble.what); }});
    ASSERT_TRUE(assessment);
    EXPECT_EQ(io::as_json(*assessment), expected);
    EXPECT_THAT(troubles, ElementsAre("this is no folder"));
    EXPECT_EQ(content_of(cache_), "a file in its place");
}

TEST_F(CachedJudgement, LeavesNothingOutsideItsFolder)
{
    cached(survey_text(one_criterion));
    EXPECT_EQ(folder_.entries(), 6U) << "four recordings, the survey, the folder";
}

TEST_F(CachedJudgement, IsTheSameFromTwoProcessesAtOnce)
{
    const std::string one = survey_text(one_criterion), two = survey_text(two_criteria);
    const std::string expected_one = plain(one), expected_two = plain(two);
    for (int round = 0; round < 10; ++round) {
        fs::remove_all(cache_);
        const std::array children{judge_aside(one), judge_aside(two)};
        for (const pid_t child : children) EXPECT_TRUE(went_well(child));
        EXPECT_EQ(cached(one), expected_one);
        EXPECT_EQ(cached(two), expected_two);
    }
}

TEST_F(CachedJudgement, IsTheSameAfterProcessesWereKilledAtAnyMoment)
{
    const std::string text = survey_text(two_criteria), expected = plain(text);
    const auto began = std::chrono::steady_clock::now();
    cached(text);
    const auto whole = std::chrono::duration_cast<std::chrono::microseconds>(std::chrono::steady_clock::now() - began);
    fs::remove_all(cache_);
    std::mt19937 generator(5);
    std::uniform_int_distribution<std::int64_t> moment(0, whole.count() + whole.count() / 4);
    int killed = 0;
    for (int round = 0; killed < 50 && round < 1000; ++round) {
        const pid_t child = judge_aside(text);
        std::this_thread::sleep_for(std::chrono::microseconds(moment(generator)));
        ::kill(child, SIGKILL);
        int status = 0;
        ASSERT_EQ(::waitpid(child, &status, 0), child);
        killed += WIFSIGNALED(status) ? 1 : 0;
        if (round % 3 == 2) { // what several left behind
            ASSERT_EQ(cached(text), expected) << "round " << round;
            fs::remove_all(cache_);
        }
    }
    EXPECT_EQ(killed, 50) << "the others were done before";
}

} // namespace
} // namespace becalm::evaluators
