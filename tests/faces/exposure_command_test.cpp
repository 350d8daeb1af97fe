// becalm exposure, in process, and its chapter in the report, on surveys of the test's own.
#include <gmock/gmock.h>

#include "tests/faces/cli_harness.h"

namespace becalm::tests {
namespace {

using nlohmann::json;
using testing::HasSubstr;
using testing::Not;

class ExposureCommand : public testing::Test {
protected:
    // A lorry's seat of 5 Hz and amplitude 1.2 m/s2, and whatever else.
    std::string survey(const std::string& more) const
    {
        folder_.file("a.wav",
                     wav({sine(65.0, 256.0, 2.0, 0.1), sine(65.0, 256.0, 2.0, 0.2), sine(65.0, 256.0, 5.0, 1.2)}, 256));
        return folder_.file("survey.toml",
                            "title = \"Yard\"\nsetting = \"road\"\n"
                            "[[sensor]]\nid = \"s\"\nuncertainty_percent = 3.0\n"
                            "[[space]]\nid = \"lorry\"\nuse = \"driver\"\n"
                            "[[recording]]\nfile = \"a.wav\"\nspace = \"lorry\"\nposition = \"seat-pan\"\nsensor = "
                            "\"s\"\nchannels = { 1 = \"x\", 2 = \"y\", 3 = \"z\" }\n"
                            "[[judge]]\ncriteria = [\"directive-2002-44-ec-a8\"]\n" +
                                more);
    }
    static std::string day(const std::string& person, const std::string& hours)
    {
        return fmt::format("[[exposure]]\nperson = {}\ntasks = [ {{ space = \"lorry\", hours = {} }} ]\n",
                           json(person).dump(), hours);
    }

    const ScratchFolder folder_;
};

TEST_F(ExposureCommand, TellsPeopleAndProgramsTheSame)
{
    const std::string path = survey(day("Fahrer", "8.0"));
    const Outcome told = call({"exposure", path, "--csv", folder_.path("e.csv")});
    EXPECT_EQ(told.code, 0) << told.err;
    for (const char* words : {"Fahrer: 8 h", "k a_w, m/s2", "1.4", "points/h", "VDV(8), m/s^1.75", "highest: z",
                              "action value exceeded", "alone, after", "Duty to act", "the employer has to act",
                              "is no health assessment", "National law prevails", "licensed professional"})
        EXPECT_THAT(told.out, HasSubstr(words));
    const json document = call({"exposure", path, "--json", "-"}).json();
    EXPECT_EQ(document.at("schema"), "becalm.exposure/1");
    const json& task = document.at("days").at(0).at("tables").at(0).at("tasks").at(0);
    const double a8 = task.at("sums").at("a8").at("value").get<double>();
    EXPECT_NEAR(a8, task.at("axes").at(2).at("rms").get<double>(), 1e-12) << "eight hours: A(8) = a_w (definition)";
    EXPECT_NEAR(task.at("sums").at("points").at("value").get<double>(), 400.0 * a8 * a8, 1e-9)
        << "100 (a / 0.5)^2 (EU guide to good practice on whole-body vibration, D.4)";
    const json verdicts = call({"assess", path, "--json", "-"}).json().at("verdicts");
    json verdict = document.at("days").at(0).at("verdicts").at(0);
    EXPECT_TRUE(verdict.at("asked_for").get<bool>());
    verdict.erase("asked_for");
    verdict.erase("times");
    EXPECT_EQ(verdict, verdicts.at(0)) << "as assess has it";
    const std::string csv = content_of(folder_.path("e.csv"));
    EXPECT_THAT(csv, HasSubstr("person,day,kind,hand,governs,row,space"));
    EXPECT_THAT(csv, HasSubstr(fmt::format(",{},", a8)));
    EXPECT_EQ(std::count(csv.begin(), csv.end(), '\n'), 1 + 4 + 4)
        << "head; three axes and the task, the same of the day";
}

TEST_F(ExposureCommand, NamesInAnyScriptAreWrittenAsTheyAre)
{
    std::string days;
    const std::vector<std::string> names{"سائق الرافعة", "運転手",         "Ǻsa Ľubičová", "ผู้ขับ", "👷",
                                         "=1+1",         "O'Neill \"Mac\""};
    for (const std::string& name : names) days += day(name, "2.0");
    const std::string path = survey(days);
    const Outcome told = call({"exposure", path});
    const json document = call({"exposure", path, "--json", "-"}).json();
    const Outcome csv = call({"exposure", path, "--csv", "-"});
    EXPECT_EQ(told.code, 0) << told.err;
    ASSERT_EQ(document.at("days").size(), names.size());
    for (std::size_t i = 0; i < names.size(); ++i) {
        EXPECT_THAT(told.out, HasSubstr(names[i] + ": 2 h"));
        EXPECT_EQ(document.at("days").at(i).at("person"), names[i]);
    }
    EXPECT_THAT(csv.out, HasSubstr("運転手,,whole-body"));
    EXPECT_THAT(csv.out, Not(HasSubstr("\n=1+1"))) << "no formula for a spreadsheet";
    EXPECT_THAT(csv.out, HasSubstr("\"O'Neill \"\"Mac\"\"\""));
    EXPECT_EQ(call({"exposure", path, "--person", "運転手", "--json", "-"}).json().at("days").size(), 1U);
}

TEST_F(ExposureCommand, BadDaysAreRefusedWithTheirLine)
{
    for (const auto& [hours, words] :
         {std::pair("0.0", "above 0 and at most 24"), std::pair("-1.0", "above 0 and at most 24"),
          std::pair("24.5", "above 0 and at most 24"), std::pair("nan", "hours"), std::pair("\"8\"", "hours")}) {
        const Outcome outcome = call({"exposure", survey(day("x", hours))});
        EXPECT_EQ(outcome.code, 3) << hours;
        EXPECT_THAT(outcome.err, HasSubstr("survey.toml:19:")) << hours;
        EXPECT_THAT(outcome.err, HasSubstr(words)) << hours;
        EXPECT_EQ(outcome.out, "");
    }
    EXPECT_EQ(call({"exposure", survey(day("x", "24.0"))}).code, 0);
    const Outcome nobody = call({"exposure", survey("")});
    EXPECT_EQ(nobody.code, 3);
    EXPECT_THAT(nobody.err, HasSubstr("the survey tells nobody's day; add an [[exposure]]"));
    const Outcome unknown = call({"exposure", survey(day("x", "1.0")), "--person", "y"});
    EXPECT_EQ(unknown.code, 2);
    EXPECT_THAT(unknown.err, HasSubstr("the survey has no person \"y\"; it tells of x"));
    const Outcome both = call({"exposure", survey(day("x", "1.0")), "--json", "-", "--csv", "-"});
    EXPECT_EQ(both.code, 2);
}

TEST_F(ExposureCommand, ATaskThatCannotBeReadIsToldAndTheRestStands)
{
    const std::string more = "[[space]]\nid = \"van\"\nuse = \"driver\"\n[[recording]]\nfile = \"none.wav\"\nspace = "
                             "\"van\"\nposition = \"seat-pan\"\nchannels = { 1 = \"x\", 2 = \"y\", 3 = \"z\" }\n" +
                             day("x", "2.0") +
                             "[[exposure]]\nperson = \"y\"\ntasks = [ { space = \"van\", hours = 1.0 } ]\n";
    const Outcome outcome = call({"exposure", survey(more)});
    EXPECT_EQ(outcome.code, 3);
    EXPECT_THAT(outcome.err, HasSubstr("none.wav"));
    EXPECT_THAT(outcome.out, HasSubstr("van, seat-pan: cannot be judged, because none.wav"));
    EXPECT_THAT(outcome.out, HasSubstr("below the exposure action value"));
}

TEST_F(ExposureCommand, TheReportHasAChapterWhereDaysAreTold)
{
    const auto report = [&](const std::vector<std::string>& more = {}) {
        std::vector<std::string> arguments{"report", folder_.path("survey.toml"), "--html", folder_.path("r.html")};
        arguments.insert(arguments.end(), more.begin(), more.end());
        EXPECT_EQ(call(arguments).code, 0);
        return content_of(folder_.path("r.html"));
    };
    const std::string path = survey(day("Fahrerin <1>", "8.0"));
    const std::string html = report();
    EXPECT_THAT(html, HasSubstr("id=\"exposure\""));
    EXPECT_THAT(html, HasSubstr("Fahrerin &lt;1&gt;"));
    for (const char* words :
         {"VDV(8)", "How long each task may last", "Duty to act", "the employer has to act", "no health assessment"})
        EXPECT_THAT(html, HasSubstr(words));
    EXPECT_EQ(html, report()) << "the same bytes";
    EXPECT_EQ(call({"verify", folder_.path("r.html")}).code, 0);
    EXPECT_THAT(report({"--criterion", "iso2631-1-1997-comfort"}), Not(HasSubstr("id=\"exposure\"")))
        << "of a call that asks for comfort alone";
    (void)survey("");
    folder_.file("survey.toml", content_of(path) + "[[judge]]\ncriteria = [\"iso2631-1-1997-comfort\"]\n");
    EXPECT_THAT(report(), Not(HasSubstr("id=\"exposure\"")));
}

} // namespace
} // namespace becalm::tests
