// Bad input: one clear line each on the error stream, the right exit code, nothing overwritten or lost. The lines are
// asserted whole: people and scripts read them.
#include <csignal>
#include <filesystem>

#include <gmock/gmock.h>
#include <sys/resource.h>
#include <sys/stat.h>

#include "tests/faces/cli_harness.h"

namespace becalm::tests {
namespace {

using testing::HasSubstr;

// A survey with one recording; its table begins in line 8.
std::string survey_with(const std::string& recording, const std::string& criterion = "iso6954-2000")
{
    return "title = \"Test\"\nsetting = \"vessel\"\n[[judge]]\ncriteria = [\"" + criterion +
           "\"]\n[[space]]\nid = \"c\"\nuse = \"passenger-cabin\"\n[[recording]]\n" + recording;
}

const char* const plain = "file = \"a.wav\"\nspace = \"c\"\nchannels = { 1 = \"z\" }\n";

class BadInput : public testing::Test {
protected:
    BadInput() { folder_.file("a.wav", wav({noise(70.0, 1000.0, 0.05, 1)}, 1000)); }

    // The complaint of a call that must fail with `code`, "becalm: " and the folder taken off, one line and nothing on
    // the output.
    std::string complaint(int code, std::vector<std::string> arguments) const
    {
        const Outcome outcome = call(std::move(arguments));
        EXPECT_EQ(outcome.code, code) << outcome.err;
        EXPECT_EQ(outcome.out, "");
        EXPECT_EQ(std::ranges::count(outcome.err, '\n'), 1) << outcome.err;
        std::string line = outcome.err;
        EXPECT_THAT(line, testing::StartsWith("becalm: "));
        line.erase(0, 8);
        if (line.starts_with(folder_.path() + "/")) line.erase(0, folder_.path().size() + 1);
        if (line.ends_with('\n')) line.pop_back();
        return line;
    }
    std::string weigh(const std::string& name, const std::string& content) const
    {
        return complaint(3, {"weigh", folder_.file(name, content), "--weighting", "Wk"});
    }
    std::string assess(int code, const std::string& survey) const
    {
        return complaint(code, {"assess", folder_.file("survey.toml", survey)});
    }

    const ScratchFolder folder_;
};

TEST_F(BadInput, Recordings)
{
    const std::string whole = wav({noise(1.0, 1000.0, 0.1, 1)}, 1000);
    EXPECT_EQ(weigh("e.wav", ""), "e.wav: the file is empty (0 bytes); copy it again from the recorder");
    EXPECT_EQ(weigh("t.wav", whole.substr(0, 30)),
              "t.wav: the header is cut off or damaged: no fmt chunk in its 30 bytes; copy it again from the recorder");
    EXPECT_EQ(weigh("t.wav", whole.substr(0, 2044)),
              "t.wav: the header promises 1000 frames, the file holds 500; copy it again from the recorder");
    EXPECT_EQ(weigh("b.csv", "time,z\n0,1\n0.001,2\n0.002,oops\n0.003,4\n"),
              "b.csv:4:7: \"oops\" stands where a number belongs; correct it, write nan for a lost sample, or put # "
              "before a line that is no data");
    EXPECT_EQ(weigh("n.csv", "x,y,z\n1,2,3\n4,5,6\n"),
              "n.csv: the file states no rate and has no time column; write the line # rate_hz: 1000 (with the right "
              "rate) above the numbers, or add "
              "a time column");
    EXPECT_EQ(complaint(3, {"weigh", folder_.path("none.wav"), "--weighting", "Wk"}),
              "none.wav: there is no such file; check the name and the folder");
    std::filesystem::create_directory(folder_.path("sub"));
    EXPECT_EQ(complaint(3, {"weigh", folder_.path("sub"), "--weighting", "Wk"}),
              "sub: this is a folder, not a regular file; name a file in it");
    ASSERT_EQ(::mkfifo(folder_.path("pipe").c_str(), 0600), 0);
    EXPECT_EQ(complaint(3, {"weigh", folder_.path("pipe"), "--weighting", "Wk"}),
              "pipe: this is a pipe, not a regular file; copy its data to a file first");
    EXPECT_EQ(complaint(3, {"weigh", folder_.path("a.wav"), "--weighting", "Wk", "--axes", "1=x,4=y"}),
              "a.wav: channel 4 is asked for, but the recording has 1; correct the channel mapping");
}

TEST_F(BadInput, Calls)
{
    const std::string a = folder_.path("a.wav");
    const std::string help = "; `becalm --help` and `becalm COMMAND --help` tell more";
    EXPECT_EQ(complaint(2, {}), "no command was given" + help);
    EXPECT_EQ(complaint(2, {"--frobnicate"}), "no command was given" + help);
    EXPECT_EQ(complaint(2, {"wiegh", a}),
              "there is no command \"wiegh\"; did you mean weigh? `becalm --help` lists them all");
    EXPECT_EQ(complaint(2, {"weigh"}), "FILE is required" + help);
    EXPECT_EQ(complaint(2, {"weigh", a}), "--weighting is required" + help);
    const auto weigh_with = [&](std::vector<std::string> more) {
        more.insert(more.begin(), {"weigh", a});
        return complaint(2, more);
    };
    EXPECT_EQ(
        weigh_with({"--weighting", "Wx"}),
        "there is no weighting \"Wx\"; choose from none, Wb, Wc, Wd, We, Wf, Wg, Wh, Wj, Wk, Wm, KB, velocity, flat");
    const auto weigh_wk_with = [&](std::vector<std::string> more) {
        more.insert(more.begin(), {"--weighting", "Wk"});
        return weigh_with(more);
    };
    EXPECT_EQ(weigh_wk_with({"--weighting", "Wd"}), "--weighting is given more than once" + help);
    EXPECT_EQ(weigh_wk_with({"--frobnicate"}), "The following argument was not expected: --frobnicate" + help);
    EXPECT_EQ(weigh_wk_with({"--axes", "q"}),
              "\"q\" is no axis; write x, y, z, rx, ry or rz, or CHANNEL=AXIS, separated by commas");
    EXPECT_EQ(weigh_wk_with({"--axes", "0=x"}),
              "\"0=x\" is no axis; write x, y, z, rx, ry or rz, or CHANNEL=AXIS, separated by commas");
    EXPECT_EQ(weigh_wk_with({"--axes", "x,x"}),
              "\"x,x\" names a channel or an axis twice; map each channel to one axis");
    EXPECT_EQ(weigh_wk_with({"--unit", "furlong"}),
              "there is no unit \"furlong\"; choose from m/s2, mm/s2, g, mg, m/s, mm/s, um/s, m, mm, um, rad/s2, "
              "deg/s2, rad/s, deg/s");
    EXPECT_EQ(weigh_wk_with({"--scale", "much"}), "--scale = much is no number" + help);
    EXPECT_EQ(weigh_wk_with({"--scale", "0"}), "a scale of 0 cannot be used; say how much of the unit a stored 1.0 is");
    EXPECT_EQ(weigh_wk_with({"--scale"}), "--scale needs a value" + help);
    for (const auto& span : {std::vector<std::string>{"--from", "-1"}, {"--from", "5", "--to", "5"}, {"--from", "nan"}})
        EXPECT_EQ(weigh_wk_with(span), "--from must be 0 or more and --to greater than --from; choose a span of time");
    EXPECT_EQ(weigh_wk_with({"--offset", "median"}),
              "there is no offset rule \"median\"; choose first10s, mean or none");
    EXPECT_EQ(weigh_wk_with({"--json", ""}), "--json: the name of the file is empty" + help);
    EXPECT_THAT(complaint(3, {"weigh", a, "--weighting", "Wk", "--from", "90"}),
                HasSubstr("nothing is selected: the recording lasts 70 s"));

    const std::string path = folder_.file("survey.toml", survey_with(plain));
    EXPECT_EQ(complaint(2, {"assess", path, "--criterion", "iso6954-200"}),
              "there is no criterion \"iso6954-200\"; did you mean \"iso6954-2000\"? `becalm criteria list` shows all");
    EXPECT_EQ(complaint(2, {"criteria", "show", "foo"}),
              "there is no criterion \"foo\"; `becalm criteria list` shows all");
}

TEST_F(BadInput, Surveys)
{
    EXPECT_EQ(complaint(3, {"assess", folder_.path("none.toml")}),
              "none.toml: there is no such file; check the name and the folder");
    EXPECT_THAT(assess(3, "title = \"Test\nsetting = \"vessel\"\n"), testing::StartsWith("survey.toml:1:"));
    EXPECT_THAT(assess(3, survey_with(std::string(plain) + "postion = \"floor\"\n")),
                testing::AllOf(testing::StartsWith("survey.toml:12:1: "), HasSubstr("postion"),
                               HasSubstr("did you mean"), HasSubstr("position")));
    EXPECT_THAT(assess(3, survey_with("file = \"a.wav\"\nspace = \"c\"\nchannels = { 1 = \"z\", 2 = \"z\" }\n")),
                testing::AllOf(testing::StartsWith("survey.toml:11:"), HasSubstr("channels.2"), HasSubstr("z")));
    EXPECT_EQ(assess(3, survey_with(plain, "iso6954-200")),
              "survey.toml:3: there is no criterion \"iso6954-200\"; did you mean \"iso6954-2000\"? `becalm criteria "
              "list` shows all");
}

TEST_F(BadInput, ARecordingThatCannotBeReadSpoilsItsOwnVerdictOnly)
{
    folder_.file("pcm.wav", wav({noise(70.0, 1000.0, 0.05, 1)}, 1000, 16));
    folder_.file("b.csv", "time,z\n0,1\n0.001,oops\n");
    const auto recording = [](const std::string& file, const std::string& position) {
        return "[[recording]]\nfile = \"" + file + "\"\nspace = \"c\"\nposition = \"" + position +
               "\"\nchannels = { 1 = \"z\" }\n";
    };
    const std::string path = folder_.file("survey.toml", survey_with(plain) + recording("none.wav", "bed") +
                                                             recording("b.csv", "feet") + recording("pcm.wav", "head"));
    const Outcome outcome = call({"assess", path, "--json", "-"});
    EXPECT_EQ(outcome.code, 3);
    std::istringstream lines(outcome.err);
    std::string line;
    std::getline(lines, line);
    EXPECT_EQ(line, "becalm: " + path + ":12: none.wav: there is no such file; check the name and the folder");
    std::getline(lines, line);
    EXPECT_EQ(line, "becalm: " + path +
                        ":17: b.csv:3:7: \"oops\" stands where a number belongs; correct it, write nan for a lost "
                        "sample, or put # before a line that is no data");
    std::getline(lines, line);
    EXPECT_THAT(line, testing::AllOf(testing::StartsWith("becalm: " + path + ":22: pcm.wav: "), HasSubstr("scale = ")));
    EXPECT_FALSE(std::getline(lines, line)) << line;
    int judged = 0;
    const auto document = outcome.json();
    for (const auto& verdict : document.at("verdicts")) {
        judged += verdict.at("judged").get<bool>() ? 1 : 0;
        if (verdict.at("position") != "bed") continue;
        EXPECT_EQ(verdict.at("why_not"),
                  "cannot be judged, because none.wav: there is no such file; check the name and the folder");
    }
    EXPECT_EQ(judged, 1);
    EXPECT_EQ(document.at("verdicts").size(), 4U);
}

TEST_F(BadInput, AFileThatStandsInTwoTablesIsComplainedAboutAtEach)
{
    const std::string path = folder_.file(
        "survey.toml",
        survey_with("file = \"none.wav\"\nspace = \"c\"\nchannels = { 1 = \"z\" }\n[[recording]]\nfile = \"none.wav\"\n"
                    "space = \"c\"\nposition = \"bed\"\nchannels = { 1 = \"z\" }\n"));
    const std::string rest = ": none.wav: there is no such file; check the name and the folder\n";
    const Outcome outcome = call({"assess", path});
    EXPECT_EQ(outcome.code, 3);
    EXPECT_EQ(outcome.err, "becalm: " + path + ":8" + rest + "becalm: " + path + ":12" + rest);
}

TEST_F(BadInput, UnreadableFolders)
{
    std::filesystem::create_directory(folder_.path("locked"));
    folder_.file("locked/survey.toml", survey_with(plain));
    ::chmod(folder_.path("locked").c_str(), 0);
    {
        const WithoutPrivileges nobody;
        if (!nobody.achieved()) GTEST_SKIP() << "the superuser's rights could not be given up";
        EXPECT_EQ(complaint(3, {"assess", folder_.path("locked/survey.toml")}),
                  "locked/survey.toml: no permission to read it; change its permissions or copy it elsewhere");
        EXPECT_THAT(complaint(3, {"new", folder_.path("locked")}), HasSubstr("permission"));
    }
    ::chmod(folder_.path("locked").c_str(), 0755);
    EXPECT_THAT(complaint(3, {"new", folder_.path("nowhere")}),
                testing::StartsWith("nowhere: there is no such folder"));
}

// --- nothing overwritten or lost ---

TEST_F(BadInput, AFailedWriteKeepsTheOldFile)
{
    const std::string path = folder_.file("survey.toml", survey_with(plain));
    const std::string kept = folder_.file("out.json", "old");
    const std::size_t entries = folder_.entries();
    rlimit before = {};
    ASSERT_EQ(::getrlimit(RLIMIT_FSIZE, &before), 0);
    const auto handler = std::signal(SIGXFSZ, SIG_IGN);
    rlimit small = before;
    small.rlim_cur = 100; // the disk is as good as full
    ASSERT_EQ(::setrlimit(RLIMIT_FSIZE, &small), 0);
    std::vector<Outcome> outcomes;
    for (const auto& arguments : {std::vector<std::string>{"assess", path, "--no-cache", "--json", kept},
                                  {"assess", path, "--no-cache", "--csv", kept},
                                  {"weigh", folder_.path("a.wav"), "--weighting", "Wk", "--json", kept},
                                  {"response", "--weighting", "Wk", "--rate", "1000", "--json", kept}})
        outcomes.push_back(call(arguments));
    ::setrlimit(RLIMIT_FSIZE, &before);
    std::signal(SIGXFSZ, handler);
    for (const Outcome& outcome : outcomes) {
        EXPECT_EQ(outcome.code, 3);
        EXPECT_EQ(outcome.err, "becalm: " + kept +
                                   ": the file would be larger than the system allows; raise the limit on file size\n");
    }
    EXPECT_EQ(content_of(kept), "old");
    EXPECT_EQ(folder_.entries(), entries); // no temporary file left behind
}

TEST_F(BadInput, TargetsThatAreNoFiles)
{
    const auto write_to = [&](const std::string& target) {
        return call({"weigh", folder_.path("a.wav"), "--weighting", "Wk", "--json", target});
    };
    EXPECT_EQ(write_to("/dev/full").err, "becalm: /dev/full: this is not a regular file; name a file\n");
    EXPECT_EQ(write_to("/dev/full").code, 3);
    EXPECT_EQ(write_to(folder_.path("no/where.json")).err,
              "becalm: " + folder_.path("no/where.json") +
                  ": the folder it should lie in does not exist; make the folder first\n");
    EXPECT_EQ(write_to("/dev/stdout").code, 2);
    EXPECT_EQ(write_to("/dev/stdout").err,
              "becalm: /dev/stdout: an open stream cannot be written as a file; write - for the output\n");
}

TEST_F(BadInput, NewNeverOverwrites)
{
    const std::string path = folder_.file("survey.toml", "mine");
    EXPECT_EQ(complaint(3, {"new", folder_.path()}),
              "survey.toml: there is a survey already; edit it, or move it away first");
    EXPECT_EQ(content_of(path), "mine");
    std::filesystem::remove(path);
    EXPECT_EQ(call({"new", folder_.path()}).code, 0);
    const std::string first = content_of(path);
    EXPECT_EQ(call({"assess", path}).code, 0) << "the first survey can be judged as it is";
    EXPECT_EQ(call({"new", folder_.path()}).code, 3);
    EXPECT_EQ(content_of(path), first);
}

TEST_F(BadInput, AnInterruptedRunWritesNothing)
{
    const std::string path = folder_.file("survey.toml", survey_with(plain));
    const std::string kept = folder_.file("out.json", "old");
    std::stop_source stop;
    stop.request_stop();
    for (const auto& [arguments, where] :
         {std::pair(std::vector<std::string>{"assess", path, "--json", kept}, path + ": "),
          std::pair(std::vector<std::string>{"weigh", folder_.path("a.wav"), "--weighting", "Wk", "--json", kept},
                    std::string())}) {
        std::ostringstream out, err;
        EXPECT_EQ(cli::run(arguments, {.out = out, .err = err, .stop = stop.get_token()}), 3);
        EXPECT_EQ(out.str(), "");
        EXPECT_EQ(err.str(), "becalm: " + where + "stopped before the end; nothing was written\n");
    }
    EXPECT_EQ(content_of(kept), "old");
}

} // namespace
} // namespace becalm::tests
