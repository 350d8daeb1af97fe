// `becalm assess` and `becalm check` as the command line's contract states them, and the fitness of recordings.
#include <algorithm>
#include <chrono>
#include <filesystem>
#include <mutex>
#include <ostream>
#include <stop_token>
#include <streambuf>
#include <thread>

#include <gmock/gmock.h>

#include "tests/faces/cli_harness.h"

namespace becalm::tests {
namespace {

using nlohmann::json;
using testing::HasSubstr;
using testing::Not;
using testing::StartsWith;

constexpr double rate = 1000.0;

// |Wm| at 10 Hz: band limitation 10^-0.1 Hz and 100 Hz, transition at 1 / (2 pi 0.028 s) [ISO 2631-2:2003 annex A, from
// memory].
double wm_at_10_hz()
{
    const double f = 10.0, f1 = std::pow(10.0, -0.1), f2 = 100.0, f3 = 1.0 / (2.0 * std::numbers::pi * 0.028);
    return f * f / std::sqrt(std::pow(f, 4.0) + std::pow(f1, 4.0)) * f2 * f2 /
           std::sqrt(std::pow(f, 4.0) + std::pow(f2, 4.0)) / std::sqrt(1.0 + f * f / (f3 * f3));
}

std::string head(const std::string& criterion = "iso6954-2000")
{
    return "title = \"Test\"\nsetting = \"vessel\"\n[[sensor]]\nid = \"a1\"\nuncertainty_percent = 3.0\n"
           "[[condition]]\nid = \"service\"\nshaft_rpm = 105\n[[judge]]\ncriteria = [\"" +
           criterion + "\"]\n";
}

// A cabin and the recording made in it; `more` are further lines of the recording.
std::string cabin(const std::string& id, const std::string& file, const std::string& more = "")
{
    return fmt::format("[[space]]\nid = \"{0}\"\nuse = \"passenger-cabin\"\n[[recording]]\nfile = \"{1}\"\nspace = "
                       "\"{0}\"\nsensor = \"a1\"\n"
                       "condition = \"service\"\nchannels = {{ 1 = \"z\" }}\n{2}",
                       id, file, more);
}

json verdict_of(const json& document, const std::string& space)
{
    for (const json& verdict : document.at("verdicts"))
        if (verdict.at("space") == space) return verdict;
    ADD_FAILURE() << "no verdict for " << space;
    return json::object();
}

class Assess : public testing::Test {
protected:
    std::string survey(const std::string& text) const { return folder_.file("survey.toml", text); }
    void record(const std::string& name, const std::vector<Signal>& channels, int rate_hz = 1000) const
    {
        folder_.file(name, wav(channels, rate_hz));
    }

    // Judges a sound cabin and one whose recording is `signal`, and returns the second verdict. The first must not be
    // touched by it.
    json judged_beside_a_sound_one(const Signal& signal, const std::string& more = "", int rate_hz = 1000) const
    {
        record("good.wav", {noise(70.0, rate, 0.02, 1)});
        record("odd.wav", {signal}, rate_hz);
        const Outcome outcome =
            call({"assess", survey(head() + cabin("good", "good.wav") + cabin("odd", "odd.wav", more)), "--json", "-",
                  "--fail-on-exceedance"});
        EXPECT_EQ(outcome.code, 0) << outcome.err;
        EXPECT_TRUE(verdict_of(outcome.json(), "good").at("judged").get<bool>());
        findings_ = outcome.json().at("findings");
        return verdict_of(outcome.json(), "odd");
    }

    static void expect_refused(const json& verdict, const std::string& why)
    {
        EXPECT_FALSE(verdict.at("judged").get<bool>());
        EXPECT_THAT(verdict.at("why_not").get<std::string>(), StartsWith("cannot be judged, because "));
        EXPECT_THAT(verdict.at("why_not").get<std::string>(), HasSubstr(why));
        for (const char* key : {"value", "axis", "band", "band_index", "expanded_uncertainty"})
            EXPECT_TRUE(verdict.at(key).is_null()) << key;
        EXPECT_FALSE(verdict.at("exceeded").get<bool>());
    }

    std::vector<std::string> codes() const
    {
        std::vector<std::string> result;
        for (const json& finding : findings_) result.push_back(finding.at("code"));
        return result;
    }

    const ScratchFolder folder_;
    mutable json findings_;
};

TEST_F(Assess, WritesTheFieldsOfTheContractAndNothingBesideThem)
{
    record("a.wav", {sine(70.0, rate, 10.0, 0.2)});
    const std::string path = survey(head() + cabin("d5-201", "a.wav"));
    const Outcome outcome = call({"assess", path, "--json", "-"});
    EXPECT_EQ(outcome.code, 0);
    EXPECT_EQ(outcome.err, "");
    const json document = outcome.json();
    EXPECT_EQ(document.at("schema"), "becalm.assessment/1");
    EXPECT_EQ(document.at("survey").at("title"), "Test");
    EXPECT_EQ(document.at("survey").at("setting"), "vessel");
    EXPECT_EQ(document.at("survey").at("file"), path);
    EXPECT_EQ(document.at("survey").at("sha256").get<std::string>().size(), 64U);
    EXPECT_TRUE(document.at("findings").is_array());
    ASSERT_FALSE(document.at("provenance").empty());
    EXPECT_TRUE(document.at("provenance").at(0).at("step").is_string());
    EXPECT_EQ(document.at("provenance").at(0).at("of"), "a.wav");

    ASSERT_EQ(document.at("verdicts").size(), 1U);
    const json& verdict = document.at("verdicts").at(0);
    for (const auto& [key, value] : std::map<std::string, std::string>{{"space", "d5-201"},
                                                                       {"position", "floor"},
                                                                       {"condition", "service"},
                                                                       {"criterion", "iso6954-2000"},
                                                                       {"edition", "ISO 6954:2000"},
                                                                       {"clause", "Table 1"},
                                                                       {"use", "passenger-cabin"},
                                                                       {"quantity", "weighted_rms"},
                                                                       {"axis", "z"},
                                                                       {"weighting", "Wm"},
                                                                       {"unit", "m/s2"}})
        EXPECT_EQ(verdict.at(key), value) << key;
    const double expected = 0.2 / std::sqrt(2.0) * wm_at_10_hz();
    EXPECT_NEAR(verdict.at("value").get<double>(), expected, 1e-4 * expected);
    EXPECT_NEAR(verdict.at("expanded_uncertainty").get<double>(), 0.03 * expected,
                1e-5 * expected); // 3 % of the sensor
    EXPECT_EQ(verdict.at("judged"), true);
    EXPECT_TRUE(verdict.at("why_not").is_null());
    // 0.0702 m/s2 lies below 71.5 mm/s2 (ISO 6954:2000 table 1, from memory).
    EXPECT_EQ(verdict.at("band_index"), 0);
    EXPECT_EQ(verdict.at("bands").size(), 3U);
    EXPECT_EQ(verdict.at("band"), verdict.at("bands").at(0).at("name"));
    EXPECT_EQ(verdict.at("bands").at(0).at("below"), 0.0715);
    EXPECT_TRUE(verdict.at("bands").at(2).at("below").is_null());
    EXPECT_EQ(verdict.at("exceeded"), false);
    EXPECT_EQ(verdict.at("recordings"), json::array({"a.wav"}));
}

TEST_F(Assess, TellsWhatTheUncertaintyIsMadeOfAndHowSureItIs)
{
    // 2 % above the upper value of 0.143 m/s2 (ISO 6954:2000 table 1, from memory), with a sensor of 3 %: 1.33 standard
    // uncertainties, normal: 0.908 (computed).
    record("a.wav", {sine(70.0, rate, 10.0, 1.02 * 0.143 * std::sqrt(2.0) / wm_at_10_hz())});
    const std::string path = survey(head() + cabin("c", "a.wav"));
    const json verdict = call({"assess", path, "--json", "-"}).json().at("verdicts").at(0);
    const json& uncertainty = verdict.at("uncertainty");
    EXPECT_EQ(uncertainty.at("k"), 2.0);
    EXPECT_EQ(uncertainty.at("expanded"), verdict.at("expanded_uncertainty"));
    EXPECT_EQ(uncertainty.at("components").at(0).at("name"), "calibration");
    EXPECT_TRUE(uncertainty.at("components").at(0).at("dof").is_null());
    EXPECT_NEAR(uncertainty.at("probability_exceeded").get<double>(), 0.905, 5e-3);
    EXPECT_THAT(call({"assess", path}).out, HasSubstr("exceeded, exceeds with a probability of 9"));
    EXPECT_EQ(uncertainty.at("settling").at("bound"), 0.143);
    EXPECT_TRUE(uncertainty.at("settling").at("times").is_null()) << "a tone does not scatter";
    EXPECT_EQ(uncertainty.at("settling").at("in_the_way"), "calibration");
    EXPECT_THAT(call({"assess", path}).out, HasSubstr("note: measuring longer would not tell the value from its "
                                                      "nearest limit: calibration stands in the way\n"));
    const json guarded =
        call({"assess", survey("decision_rule = \"guarded\"\n" + head() + cabin("c", "a.wav")), "--json", "-"}).json();
    EXPECT_EQ(guarded.at("survey").at("decision_rule"), "guarded");
}

TEST_F(Assess, ExitsWithOneOnlyWhereAskedAndExceeded)
{
    record("strong.wav", {sine(70.0, rate, 10.0, 0.5)}); // 0.175 m/s2 Wm, above 143 mm/s2
    const std::string path = survey(head() + cabin("c", "strong.wav"));
    EXPECT_EQ(call({"assess", path}).code, 0);
    const Outcome outcome = call({"assess", path, "--fail-on-exceedance", "--json", "-"});
    EXPECT_EQ(outcome.code, 1);
    EXPECT_EQ(outcome.err, "");
    EXPECT_EQ(outcome.json().at("verdicts").at(0).at("exceeded"), true);
    EXPECT_EQ(outcome.json().at("verdicts").at(0).at("band_index"), 2);
    record("strong.wav", {sine(70.0, rate, 10.0, 0.05)});
    EXPECT_EQ(call({"assess", path, "--fail-on-exceedance"}).code, 0);
}

TEST_F(Assess, OneFileCanHoldTheChannelsOfSeveralSensors)
{
    record("a.wav", {sine(70.0, rate, 10.0, 0.2), sine(70.0, rate, 10.0, 0.1)});
    std::string text =
        head() + "[[sensor]]\nid = \"a2\"\nuncertainty_percent = 8.0\n" + cabin("c", "a.wav") + cabin("d", "a.wav");
    text.replace(text.rfind("\"a1\""), 4, "\"a2\"");
    text.replace(text.rfind("1 = \"z\""), 7, "2 = \"z\"");
    const json document = call({"assess", survey(text), "--json", "-"}).json();
    for (const auto& [space, share] : {std::pair("c", 0.03), std::pair("d", 0.08)}) {
        const json verdict = verdict_of(document, space);
        EXPECT_NEAR(verdict.at("expanded_uncertainty").get<double>(), share * verdict.at("value").get<double>(), 1e-7)
            << space;
    }
    EXPECT_NEAR(verdict_of(document, "d").at("value").get<double>(), 0.1 / std::sqrt(2.0) * wm_at_10_hz(), 1e-5);
}

TEST_F(Assess, CriteriaOfTheCallReplaceThoseOfTheSurvey)
{
    record("a.wav", {sine(70.0, rate, 10.0, 0.2)});
    const json document = call({"assess", survey(head() + cabin("c", "a.wav")), "--criterion", "iso2631-1-1997-comfort",
                                "--criterion", "directive-2002-44-ec-a8", "--json", "-"})
                              .json();
    std::vector<std::string> criteria;
    for (const json& verdict : document.at("verdicts")) criteria.push_back(verdict.at("criterion"));
    EXPECT_EQ(criteria, (std::vector<std::string>{"iso2631-1-1997-comfort", "directive-2002-44-ec-a8"}));
}

TEST_F(Assess, CsvHasARowAVerdict)
{
    record("a.wav", {sine(70.0, rate, 10.0, 0.2)});
    const std::string path = survey(head() + cabin("c", "a.wav"));
    const Outcome to_output = call({"assess", path, "--csv", "-"});
    EXPECT_EQ(to_output.code, 0);
    EXPECT_THAT(to_output.out, StartsWith("space,position,condition,use,criterion,"));
    EXPECT_EQ(std::ranges::count(to_output.out, '\n'), 2);
    EXPECT_THAT(to_output.out, HasSubstr("\nc,floor,service,passenger-cabin,iso6954-2000,"));
    const Outcome to_file =
        call({"assess", path, "--csv", folder_.path("out.csv"), "--json", folder_.path("out.json")});
    EXPECT_EQ(content_of(folder_.path("out.csv")), to_output.out);
    EXPECT_EQ(content_of(folder_.path("out.json")), call({"assess", path, "--json", "-"}).out);
    EXPECT_THAT(to_file.out, HasSubstr("1 verdict, 0 exceeding, 0 that cannot be judged"));

    const Outcome both = call({"assess", path, "--csv", "-", "--json", "-"});
    EXPECT_EQ(both.code, 2);
    EXPECT_EQ(both.out, "");
    EXPECT_EQ(both.err, "becalm: --json and --csv both go to -; give one of them another file\n");
}

TEST_F(Assess, TheNumberOfThreadsChangesNoByte)
{
    std::string text = head();
    for (int i = 0; i < 4; ++i) {
        record(fmt::format("{}.wav", i), {noise(70.0 + i, rate, 0.05, static_cast<unsigned>(i))});
        text += cabin(fmt::format("c{}", i), fmt::format("{}.wav", i));
    }
    record("long.wav", {noise(4000.0, 256.0, 0.05, 9)}, 256);
    const std::string path = survey(text + cabin("long", "long.wav"));
    const std::string one = call({"assess", path, "--json", "-", "--no-cache", "--jobs", "1"}).out;
    EXPECT_EQ(call({"assess", path, "--json", "-", "--no-cache", "--jobs", "2"}).out, one);
    EXPECT_EQ(call({"assess", path, "--json", "-", "--no-cache", "--jobs", "5"}).out, one);
}

TEST_F(Assess, KeepsPassesBesideTheSurveyUnlessToldNotTo)
{
    namespace fs = std::filesystem;
    record("a.wav", {noise(70.0, rate, 0.02, 1)});
    const std::string path = survey(head() + cabin("a", "a.wav")), kept = folder_.path(".becalm");
    for (const std::string command : {"assess", "check"}) {
        const Outcome without = call({command, path, "--no-cache"});
        EXPECT_FALSE(fs::exists(kept));
        for (int round = 0; round < 2; ++round) {
            const Outcome with = call({command, path});
            EXPECT_EQ(with.code, without.code) << with.err;
            EXPECT_EQ(with.out, without.out);
            EXPECT_EQ(with.err, "");
            EXPECT_TRUE(fs::is_directory(kept));
        }
        fs::remove_all(kept);
    }
}

TEST_F(Assess, JudgesWhereNothingCanBeKeptAndSaysSo)
{
    record("a.wav", {noise(70.0, rate, 0.02, 1)});
    folder_.file(".becalm", "a file in the place of the folder");
    const std::string path = survey(head() + cabin("a", "a.wav"));
    const Outcome without = call({"assess", path, "--json", "-", "--no-cache"});
    const Outcome with = call({"assess", path, "--json", "-"});
    EXPECT_EQ(with.code, 0);
    EXPECT_EQ(with.out, without.out);
    EXPECT_EQ(without.err, "");
    EXPECT_THAT(with.err,
                HasSubstr(".becalm: nothing is kept for the next run: this is no folder; move it away, or give "
                          "--no-cache\n"));
}

// --- fitness ---

TEST_F(Assess, AClippedRecordingIsNotJudgedUntilTheSpanIsExcluded)
{
    Signal x = sine(130.0, rate, 10.0, 0.2);
    for (std::size_t i = 100000; i < x.size(); ++i) x[i] *= 2.0;
    Signal clipped = x;
    for (std::size_t i = 100000; i < x.size(); ++i) clipped[i] = std::clamp(x[i], -0.3, 0.3);
    expect_refused(judged_beside_a_sound_one(clipped), "odd.wav: channel 1 is clipped at 100.");
    EXPECT_THAT(codes(), testing::Contains("clipped"));

    const json whole = judged_beside_a_sound_one(x);
    const json verdict =
        judged_beside_a_sound_one(clipped, "exclude = [ { from_s = 99.5, to_s = 130.0, reason = \"overload\" } ]\n");
    EXPECT_TRUE(verdict.at("judged").get<bool>());
    // What is left is the steady sine of 0.2 m/s2; whole seconds, so from 99 s on nothing counts.
    EXPECT_NEAR(verdict.at("value").get<double>(), 0.2 / std::sqrt(2.0) * wm_at_10_hz(), 1e-5);
    EXPECT_GT(whole.at("value").get<double>(), 1.2 * verdict.at("value").get<double>());
    for (const json& finding : findings_) {
        if (finding.at("code") != "clipped") continue;
        EXPECT_EQ(finding.at("severity"), "note");
    }
}

TEST_F(Assess, AFullScaleSineIsNotTakenForAClippedOne)
{
    const json verdict = judged_beside_a_sound_one(sine(70.0, rate, 1.0, 0.2));
    EXPECT_TRUE(verdict.at("judged").get<bool>()) << verdict;
}

TEST_F(Assess, LostSamplesAreNotJudgedUntilTheSpanIsExcluded)
{
    Signal x = sine(130.0, rate, 10.0, 0.2);
    x[50500] = x[50501] = std::numeric_limits<double>::quiet_NaN();
    expect_refused(judged_beside_a_sound_one(x), "odd.wav: channel 1 holds samples that are not numbers at 50.500 s (2 "
                                                 "samples in all); exclude the span or export the recording again");
    const json verdict =
        judged_beside_a_sound_one(x, "exclude = [ { from_s = 50.4, to_s = 50.6, reason = \"lost\" } ]\n");
    EXPECT_TRUE(verdict.at("judged").get<bool>());
}

TEST_F(Assess, ADropOutIsNotJudged)
{
    Signal x = noise(70.0, rate, 0.05, 4);
    std::fill(x.begin() + 30000, x.begin() + 30500, x[30000]);
    expect_refused(judged_beside_a_sound_one(x),
                   "stands still as in a gap or a drop-out at 30.000 s (500 samples in all)");
}

TEST_F(Assess, AConstantChannelIsNotJudged)
{
    for (const double level : {0.0, 0.25})
        expect_refused(
            judged_beside_a_sound_one(Signal(70000, level)),
            fmt::format("odd.wav: channel 1 holds the same value {} throughout; the sensor or its cable was dead",
                        level));
    EXPECT_THAT(codes(), testing::Contains("constant-channel"));
}

TEST_F(Assess, ValuesThatNoPlaceHasAreNotJudged)
{
    expect_refused(judged_beside_a_sound_one(noise(70.0, rate, 9810.0, 4)),
                   "which cannot be right; check unit and scale");
    expect_refused(judged_beside_a_sound_one(noise(70.0, rate, 1e-9, 4)),
                   "which cannot be right; check unit and scale");
    expect_refused(judged_beside_a_sound_one(noise(70.0, rate, 0.1, 4, 1000.0)),
                   "more than three times gravity, which cannot be right");
    expect_refused(judged_beside_a_sound_one(noise(70.0, rate, 0.1, 4), "unit = \"g\"\nscale = 1e30\n"),
                   "which cannot be right; check unit and scale");
}

TEST_F(Assess, OffsetAndGravityAreSaidAndTakenAway)
{
    const double expected = 0.2 / std::sqrt(2.0) * wm_at_10_hz();
    struct Case {
        double offset;
        std::string code, severity;
    };
    for (const Case& c :
         {Case{1.0, "gravity-in-g", "caution"}, Case{-9.81, "gravity", "note"}, Case{5.0, "offset", "caution"}}) {
        const json verdict = judged_beside_a_sound_one(sine(70.0, rate, 10.0, 0.2, c.offset));
        EXPECT_TRUE(verdict.at("judged").get<bool>()) << c.code;
        EXPECT_NEAR(verdict.at("value").get<double>(), expected, 1e-4 * expected) << c.code;
        bool found = false;
        for (const json& finding : findings_) {
            if (finding.at("code") != c.code) continue;
            found = true;
            EXPECT_EQ(finding.at("severity"), c.severity);
        }
        EXPECT_TRUE(found) << c.code;
    }
}

TEST_F(Assess, FiltersInShardsThatAreMerged)
{
    const auto written_in = [](const ScratchFolder& folder) {
        folder.file("a.wav", wav({noise(62.0, rate, 0.05, 1)}, rate));
        folder.file("b.wav", wav({noise(62.0, rate, 0.05, 2)}, rate));
        return folder.file("survey.toml", head() + cabin("a", "a.wav") + cabin("b", "b.wav"));
    };
    const ScratchFolder there;
    const std::string here = written_in(folder_), far = written_in(there);
    const std::string whole = call({"assess", here, "--json", "-", "--no-cache"}).out;
    const Outcome first = call({"assess", here, "--ledger-only", "--shard", "1/2"});
    EXPECT_EQ(first.code, 0) << first.err;
    EXPECT_EQ(first.out, "shard 1/2: 1 of 2 files, 1 recording: 1 filtered, 0 kept before\n");
    EXPECT_EQ(call({"assess", far, "--ledger-only", "--shard", "2/2"}).code, 0);
    const Outcome merged = call({"merge", here, there.path("")});
    EXPECT_EQ(merged.code, 0) << merged.err;
    EXPECT_THAT(merged.out, HasSubstr("1 taken over, 0 added to, 0 known already"));
    EXPECT_THAT(call({"assess", here, "--ledger-only"}).out, HasSubstr("0 filtered, 2 kept before"));
    EXPECT_EQ(call({"assess", here, "--json", "-"}).out, whole);

    EXPECT_THAT(call({"merge", here, folder_.path(".becalm")}).err,
                HasSubstr("this is the folder of the survey itself"));
    EXPECT_EQ(call({"merge", here, folder_.path("none")}).code, 3);
    for (const auto& [options, message] : std::vector<std::pair<std::vector<std::string>, std::string>>{
             {{"--shard", "1/2"}, "--shard goes with --ledger-only"},
             {{"--ledger-only", "--shard", "3/2"}, "\"3/2\" is no shard"},
             {{"--ledger-only", "--shard", "0/2"}, "\"0/2\" is no shard"},
             {{"--ledger-only", "--shard", "2"}, "\"2\" is no shard"},
             {{"--ledger-only", "--json", "-"}, "judges nothing"},
             {{"--ledger-only", "--no-cache"}, "leave nothing to do"}}) {
        std::vector<std::string> arguments{"assess", here};
        arguments.insert(arguments.end(), options.begin(), options.end());
        const Outcome outcome = call(arguments);
        EXPECT_EQ(outcome.code, 2) << message;
        EXPECT_THAT(outcome.err, HasSubstr(message));
    }
}

// What a command writes while it runs in a thread of its own.
class Spoken : public std::streambuf {
public:
    std::string text() const
    {
        const std::lock_guard lock(mutex_);
        return text_;
    }

protected:
    int_type overflow(int_type c) override
    {
        const std::lock_guard lock(mutex_);
        text_ += static_cast<char>(c);
        return c;
    }
    std::streamsize xsputn(const char* text, std::streamsize count) override
    {
        const std::lock_guard lock(mutex_);
        text_.append(text, static_cast<std::size_t>(count));
        return count;
    }

private:
    mutable std::mutex mutex_;
    std::string text_;
};

TEST_F(Assess, WatchesAndJudgesAgainWhateverChanges)
{
    folder_.file("a.wav", wav({noise(62.0, rate, 0.05, 1)}, rate));
    const std::string path = survey(head() + cabin("a", "a.wav")), result = folder_.path("result.json");
    Spoken said, complained;
    std::ostream out(&said), err(&complained);
    std::stop_source stop;
    int code = -1;
    std::jthread watching([&] {
        code =
            cli::run({"assess", path, "--watch", "--json", result}, {.out = out, .err = err, .stop = stop.get_token()});
    });
    const auto comes = [](const auto& what) {
        for (int i = 0; i < 500 && !what(); ++i) std::this_thread::sleep_for(std::chrono::milliseconds(20));
        return what();
    };
    const auto lines = [&] { return std::ranges::count(said.text(), '\n'); };
    ASSERT_TRUE(comes([&] { return lines() == 1; })) << said.text() << complained.text();
    EXPECT_THAT(said.text(), HasSubstr(": 1 verdict, 0 exceeding, 0 that cannot be judged"));
    const double before = json::parse(content_of(result)).at("verdicts").at(0).at("value").get<double>();

    folder_.file("a.wav", wav({noise(62.0, rate, 0.1, 1)}, rate));
    ASSERT_TRUE(comes([&] { return lines() == 2; })) << said.text() << complained.text();
    EXPECT_NEAR(json::parse(content_of(result)).at("verdicts").at(0).at("value").get<double>(), 2.0 * before, 1e-4);

    survey(head() + cabin("a", "a.wav") + "nonsense = \n");
    ASSERT_TRUE(comes([&] {
        return complained.text().find("nonsense") != std::string::npos ||
               complained.text().find("TOML") != std::string::npos;
    })) << "a slip is told, and watching goes on";
    survey(head() + cabin("a", "a.wav") + cabin("b", "a.wav"));
    ASSERT_TRUE(comes([&] { return lines() == 3; })) << said.text() << complained.text();
    EXPECT_THAT(said.text(), HasSubstr(": 2 verdicts"));

    stop.request_stop();
    watching.join();
    EXPECT_EQ(code, 0);
    EXPECT_EQ(lines(), 3);
    EXPECT_EQ(call({"assess", path, "--watch", "--json", "-"}).code, 2);
}

TEST_F(Assess, WatchesTheFilesBehindADescription)
{
    const auto as_float64 = [](const Signal& signal) {
        std::string bytes;
        for (const double value : signal) append(bytes, std::bit_cast<std::uint64_t>(value), 8);
        return bytes;
    };
    folder_.file("run.bin", as_float64(noise(62.0, rate, 0.05, 1)));
    folder_.file("run.recording.toml", fmt::format("[becalm-recording]\nfiles = [\"run.bin\"]\nnumbers = \"float64\"\n"
                                                   "channels = 1\nrate_hz = {}\n",
                                                   rate));
    const std::string path = survey(head() + cabin("a", "run.recording.toml")), result = folder_.path("result.json");
    Spoken said, complained;
    std::ostream out(&said), err(&complained);
    std::stop_source stop;
    std::jthread watching([&] {
        cli::run({"assess", path, "--watch", "--json", result}, {.out = out, .err = err, .stop = stop.get_token()});
    });
    const auto comes = [](const auto& what) {
        for (int i = 0; i < 500 && !what(); ++i) std::this_thread::sleep_for(std::chrono::milliseconds(20));
        return what();
    };
    const auto lines = [&] { return std::ranges::count(said.text(), '\n'); };
    const auto value = [&] { return json::parse(content_of(result)).at("verdicts").at(0).at("value").get<double>(); };
    EXPECT_TRUE(comes([&] { return lines() == 1; })) << said.text() << complained.text();
    const double before = value();
    folder_.file("run.bin", as_float64(noise(62.0, rate, 0.1, 1)));
    EXPECT_TRUE(comes([&] { return lines() == 2; })) << said.text() << complained.text();
    EXPECT_NEAR(value(), 2.0 * before, 1e-9);
    stop.request_stop();
}

// Rows at 500 Hz, every third of them late by a fifth of a step, hold a sine of 10 Hz.
std::string uneven_sine(double seconds, double amplitude)
{
    std::string text = "# sensor serial: 4711\ntime,z\n";
    for (int i = 0; i < static_cast<int>(seconds * 500.0); ++i) {
        const double t = (i + (i % 3 == 1 ? 0.2 : 0.0)) / 500.0;
        text += fmt::format("{:.6f},{:.9f}\n", t, amplitude * std::sin(2.0 * std::numbers::pi * 10.0 * t));
    }
    return text;
}

TEST_F(Assess, IrregularTimesAreResampledWhereTheSurveySaysSo)
{
    folder_.file("odd.csv", uneven_sine(70.0, 0.1));
    const Outcome refused = call({"assess", survey(head() + cabin("a", "odd.csv")), "--json", "-"});
    EXPECT_EQ(refused.code, 3);
    EXPECT_THAT(refused.err, HasSubstr("resample it to an even rate"));
    const Outcome outcome =
        call({"assess", survey(head() + cabin("a", "odd.csv", "resample_hz = 500\n")), "--json", "-"});
    ASSERT_EQ(outcome.code, 0) << outcome.err;
    const json document = outcome.json();
    EXPECT_NEAR(verdict_of(document, "a").at("value").get<double>(), 0.1 / std::sqrt(2.0) * wm_at_10_hz(), 1e-4);
    bool told = false;
    for (const json& finding : document.at("findings")) told = told || finding.at("code") == "resampled";
    EXPECT_TRUE(told);
}

TEST_F(Assess, WhatFilesSayOfThemselvesIsTold)
{
    folder_.file("odd.csv", uneven_sine(70.0, 0.1));
    const std::string path = survey(head() + cabin("a", "odd.csv", "resample_hz = 500\n"));
    const std::string said = "odd.csv: the file says of channel 1: serial number 4711";
    EXPECT_THAT(call({"check", path}).out, HasSubstr("  " + said + "\n"));
    EXPECT_THAT(call({"assess", path}).out, Not(HasSubstr(said)));
    const Outcome verbose = call({"assess", path, "--verbose"});
    EXPECT_THAT(verbose.out, HasSubstr("Steps\n"));
    EXPECT_THAT(verbose.out, HasSubstr("  " + said + "\n"));
}

TEST_F(Assess, TooLowARateSaysTheLeast)
{
    expect_refused(judged_beside_a_sound_one(noise(70.0, 100.0, 0.05, 4), "", 100),
                   "odd.wav: a rate of 100 Hz is too low for the weighting Wm; measure with at least 256 Hz");
}

TEST_F(Assess, TooShortARecordingIsNotJudged)
{
    expect_refused(judged_beside_a_sound_one(noise(30.0, rate, 0.05, 4)),
                   "30.000 s of axis z can be used, and ISO 6954:2000 asks for at least 60 s; measure longer");
    expect_refused(judged_beside_a_sound_one(noise(70.0, rate, 0.05, 4),
                                             "exclude = [ { from_s = 20.0, to_s = 40.0, reason = \"doors\" } ]\n"),
                   "50.000 s of axis z can be used");
    expect_refused(judged_beside_a_sound_one(noise(70.0, rate, 0.05, 4),
                                             "exclude = [ { from_s = 0.0, to_s = 70.0, reason = \"doors\" } ]\n"),
                   "nothing is left of its 70.000 s after what is excluded");
    // What was asked for was measured, although the filter's first seconds are left out.
    EXPECT_TRUE(judged_beside_a_sound_one(noise(60.0, rate, 0.05, 4)).at("judged").get<bool>());
    expect_refused(judged_beside_a_sound_one(Signal{0.1}), "channel 1 holds a single sample");
}

TEST_F(Assess, AMissingAxisIsSaid)
{
    record("a.wav", {noise(70.0, rate, 0.05, 1)});
    const std::string path = survey(
        head() + "[[space]]\nid = \"c\"\nuse = \"passenger-cabin\"\n[[recording]]\nfile = \"a.wav\"\nspace = \"c\"\n"
                 "channels = { 1 = \"x\" }\n");
    const Outcome outcome = call({"assess", path, "--json", "-"});
    EXPECT_EQ(outcome.code, 3); // nothing could be judged
    expect_refused(outcome.json().at("verdicts").at(0),
                   "the axis z is missing, which iso6954-2000 needs; map a channel to z");
}

TEST_F(Assess, WhereAxesAreJudgedApartEachOneThatWasMeasuredHasItsValue)
{
    record("a.wav", {noise(70.0, rate, 0.05, 1)});
    std::string text = head("iso2631-2-2003") + cabin("c", "a.wav");
    text.replace(text.find("vessel"), 6, "building");
    const Outcome outcome = call({"assess", survey(text), "--json", "-"});
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    ASSERT_EQ(outcome.json().at("verdicts").size(), 1U);
    const json verdict = outcome.json().at("verdicts").at(0);
    EXPECT_EQ(verdict.at("axis"), "z");
    EXPECT_TRUE(verdict.at("judged").get<bool>());
    EXPECT_TRUE(verdict.at("band").is_null()); // the publication sets no limits
    EXPECT_EQ(verdict.at("bands"), json::array());
}

TEST_F(Assess, ARefusedChannelDoesNotTouchTheOthersOfItsRecording)
{
    record("a.wav", {noise(70.0, rate, 0.05, 1), Signal(70000, 0.5), noise(70.0, rate, 0.05, 2)});
    const json document =
        call({"assess",
              survey(head("directive-2002-44-ec-a8") +
                     "[[space]]\nid = \"c\"\nuse = \"deck\"\n[[recording]]\n"
                     "file = \"a.wav\"\nspace = \"c\"\nchannels = { 1 = \"z\", 2 = \"x\" }\n"
                     "[[space]]\nid = \"d\"\nuse = \"deck\"\n[[recording]]\nfile = \"a.wav\"\nspace = \"d\"\n"
                     "channels = { 3 = \"z\" }\n"),
              "--criterion", "iso2631-1-1997-comfort", "--json", "-"})
            .json();
    EXPECT_FALSE(verdict_of(document, "c").at("judged").get<bool>());
    EXPECT_THAT(verdict_of(document, "c").at("why_not").get<std::string>(), HasSubstr("channel 2"));
    EXPECT_THAT(verdict_of(document, "d").value("why_not", json()).dump(), Not(HasSubstr("channel 2")));
}

TEST_F(Assess, TwoRatesInOneSurveyAreACaution)
{
    record("a.wav", {noise(70.0, rate, 0.05, 1)});
    record("b.wav", {noise(70.0, 512.0, 0.05, 1)}, 512);
    const Outcome outcome = call({"assess", survey(head() + cabin("a", "a.wav") + cabin("b", "b.wav")), "--json", "-"});
    EXPECT_EQ(outcome.code, 0);
    const json findings = outcome.json().at("findings");
    ASSERT_EQ(findings.size(), 4U) << findings; // and what each cabin lacks of x and y, and the deck
    EXPECT_EQ(findings.at(0).at("code"), "two-rates");
    EXPECT_EQ(findings.at(0).at("severity"), "caution");
    EXPECT_EQ(findings.at(0).at("message"), "the recordings have different rates: 512 Hz (b.wav), 1000 Hz (a.wav); "
                                            "each is judged at its own, but check the recorder's settings");
}

TEST_F(Assess, WhatIsPrintedNeverSteersTheTerminal)
{
    record("a.wav", {noise(70.0, rate, 0.05, 1)});
    std::string text = head() + cabin("c", "a.wav");
    text.replace(text.find("\"Test\""), 6, "\"\\u001b[31mTest\"");
    const Outcome outcome = call({"assess", survey(text)});
    EXPECT_EQ(outcome.code, 0);
    EXPECT_THAT(outcome.out, StartsWith("\\x1b[31mTest (vessel)"));
}

TEST_F(Assess, CheckTellsWhatCannotBeJudged)
{
    record("a.wav", {noise(70.0, rate, 0.05, 1)});
    record("b.wav", {Signal(70000, 0.5)});
    const Outcome outcome = call({"check", survey(head() + cabin("a", "a.wav") + cabin("b", "b.wav"))});
    EXPECT_EQ(outcome.code, 3);
    EXPECT_THAT(
        outcome.out,
        StartsWith("  refusal: b.wav: channel 1 holds the same value 0.5 throughout; the sensor or its cable was dead\n"
                   "  caution: a.wav: a (iso6954-2000): not measured here: axis x, y; a higher value there would go "
                   "unnoticed\n"
                   "  note:    no point was measured in three directions on: the spaces without a group; one of each "
                   "deck is asked for at least\n"
                   "  b floor service: iso6954-2000: cannot be judged, because b.wav: channel 1 holds"));
    EXPECT_THAT(outcome.out,
                HasSubstr("2 recordings, 3 findings, 1 of them a refusal; 1 of 2 verdicts cannot be reached\n"));
    EXPECT_EQ(call({"check", survey(head() + cabin("a", "a.wav"))}).code, 0);
}

TEST_F(Assess, CheckProposesExclusionsToPaste)
{
    Signal struck = noise(70.0, rate, 0.05, 1);
    struck[30250] += 5.0; // single samples, 100 times the r.m.s.
    struck[31500] -= 5.0;
    struck[50500] += 5.0;
    record("a.wav", {struck});
    record("b.wav", {noise(70.0, rate, 0.05, 2)});
    const std::string others = cabin("b", "b.wav");
    const Outcome outcome = call({"check", survey(head() + cabin("a", "a.wav") + others), "--propose"});
    EXPECT_EQ(outcome.code, 0);
    EXPECT_THAT(outcome.out, HasSubstr("caution: a.wav: channel 1 has 3 spikes"));
    const std::string proposed = "exclude = [\n    { from_s = 30.0, to_s = 32.0, reason = \"spike, channel 1\" },\n"
                                 "    { from_s = 50.0, to_s = 51.0, reason = \"spike, channel 1\" },\n]\n";
    EXPECT_THAT(outcome.out, HasSubstr("# a.wav (space a), instead of its exclude; nothing is left out before you "
                                       "paste it:\n" +
                                       proposed));
    EXPECT_THAT(outcome.out, Not(HasSubstr("# b.wav")));
    const Outcome pasted = call({"check", survey(head() + cabin("a", "a.wav", proposed) + others), "--propose"});
    EXPECT_THAT(pasted.out, Not(HasSubstr("spike")));
    EXPECT_THAT(pasted.out, HasSubstr("# no finding asks for an exclusion\n"));
}

} // namespace
} // namespace becalm::tests
