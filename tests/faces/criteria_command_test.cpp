// Documents of somebody's own: from a first file to a verdict, without a compiler.
#include <filesystem>
#include <string>

#include <gmock/gmock.h>

#include "tests/faces/cli_harness.h"

namespace becalm::tests {
namespace {

using testing::HasSubstr;
using testing::IsEmpty;

TEST(CriteriaNew, WritesAFileThatIsInOrder)
{
    const ScratchFolder folder;
    const Outcome made = call({"criteria", "new", "my-guide", "--folder", folder.path("criteria")});
    EXPECT_EQ(made.code, 0) << made.err;
    const std::string file = folder.path("criteria/my-guide.toml");
    const Outcome checked = call({"criteria", "check", file});
    EXPECT_EQ(checked.code, 0) << checked.err;
    EXPECT_THAT(checked.out, HasSubstr("my-guide is in order"));
}

TEST(CriteriaNew, OverwritesNothing)
{
    const ScratchFolder folder;
    folder.file("mine.toml", "id = \"mine\" # work of an evening\n");
    const Outcome made = call({"criteria", "new", "mine", "--folder", folder.path("")});
    EXPECT_EQ(made.code, 3);
    EXPECT_THAT(made.err, HasSubstr("mine.toml"));
    EXPECT_THAT(content_of(folder.path("mine.toml")), HasSubstr("work of an evening"));
}

TEST(CriteriaNew, RefusesANameThatCannotBeAFile)
{
    const Outcome made = call({"criteria", "new", "../escape"});
    EXPECT_EQ(made.code, 2);
    EXPECT_THAT(made.err, HasSubstr("\"../escape\" cannot be an id"));
}

// A survey of one room with `seconds` of 0.5 m/s2 at 8 Hz, judged by `criterion`; returns its path.
std::string room_survey(const ScratchFolder& folder, const std::string& criterion, double seconds)
{
    std::string recording = "rate_hz: 1000\n";
    for (const double x : sine(seconds, 1000.0, 8.0, 0.5)) recording += fmt::format("{}\n", x);
    folder.file("z.csv", recording);
    return folder.file("survey.toml", R"(title = "mine"
setting = "building"
[[space]]
id = "room"
use = "office"
[[recording]]
file = "z.csv"
space = "room"
channels = { 1 = "z" }
[[judge]]
criteria = [")" + criterion + "\"]\n");
}

TEST(CriteriaNew, ASurveyBesideItIsJudgedByItAndSaysSo)
{
    const ScratchFolder folder;
    ASSERT_EQ(call({"criteria", "new", "my-guide", "--folder", folder.path("criteria")}).code, 0);
    const std::string survey = room_survey(folder, "my-guide", 30.0);
    // The example needs every axis that it weights.
    const Outcome refused = call({"assess", survey, "--json", "-"});
    EXPECT_EQ(refused.code, 3);
    const std::string file = folder.path("criteria/my-guide.toml");
    std::string text = content_of(file);
    text.replace(text.find("# needed"), 1, "");
    folder.file("criteria/my-guide.toml", text);

    const Outcome judged = call({"assess", survey, "--json", "-", "--fail-on-exceedance"});
    EXPECT_EQ(judged.code, 1) << judged.err; // 0.5 m/s2 at 8 Hz weighted by Wk is above the example's 0.1 m/s2
    const nlohmann::json verdict = judged.json().at("verdicts").at(0);
    EXPECT_EQ(verdict.at("band"), "not acceptable");
    EXPECT_THAT(verdict.at("notes").dump(), HasSubstr("by the local file"));
}

TEST(CriteriaNew, ALocalEditionIsToldApartFromTheProgramsOwn)
{
    const ScratchFolder folder;
    std::string text = content_of(std::string(BECALM_PROJECT) + "/data/criteria/iso2631-2-2003.toml");
    std::filesystem::create_directories(folder.path("criteria"));
    folder.file("criteria/iso2631-2-2003.toml", text);
    const std::string survey = room_survey(folder, "iso2631-2-2003", 10.0);
    const Outcome judged = call({"assess", survey, "--json", "-"});
    EXPECT_EQ(judged.code, 0) << judged.err;
    EXPECT_THAT(judged.json().at("verdicts").at(0).at("notes").dump(),
                HasSubstr("in place of the program's own edition"));
}

TEST(Criteria, ListsWhatTheWordsAskFor)
{
    const Outcome night = call({"criteria", "list", "building", "NIGHT"});
    EXPECT_EQ(night.code, 0);
    EXPECT_THAT(night.out, HasSubstr("\nbs6472-1-2008-night "));
    EXPECT_THAT(night.out, Not(HasSubstr("bs6472-1-2008-day")));
    EXPECT_THAT(night.out, Not(HasSubstr("iso6954")));
    EXPECT_THAT(call({"criteria", "list", "lift"}).out, HasSubstr("directive-2002-44-ec-a8")) << "fits any setting";
    const Outcome none = call({"criteria", "list", "submarine"});
    EXPECT_EQ(none.code, 3);
    EXPECT_EQ(none.out, "none; `becalm criteria list` without words shows all\n");
}

TEST(Criteria, ShowsHowADecisionIsReached)
{
    const std::string shown = call({"criteria", "show", "din4150-2-1999-day"}).out;
    EXPECT_THAT(shown, HasSubstr("decision     by kb_ftr where kb_fmax leaves it open"));
    EXPECT_THAT(
        shown,
        HasSubstr("residential: met up to 0.15, not met above 3, between the two met with an average up to 0.07"));
    EXPECT_THAT(shown, HasSubstr("rest         squares count 2 times: 06:00-07:00, 19:00-22:00; Sundays 06:00-22:00"));
    EXPECT_THAT(call({"criteria", "show", "iso10137-2007-curves-day"}).out,
                HasSubstr("curve z      1 Hz 0.01, 4 Hz 0.005"));
}

} // namespace
} // namespace becalm::tests
