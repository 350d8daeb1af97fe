// becalm report --pdf, in process. What the pages say is compared with the HTML by check_report.py. The libraries of
// fonts keep memory until the end, which the sanitizers take for leaks: run in the optimised build only.
#include <chrono>
#include <filesystem>

#include <gmock/gmock.h>

#include "tests/faces/cli_harness.h"

namespace becalm::tests {
namespace {

class ReportPdf : public testing::Test {
protected:
    // A survey of `recordings` places whose names are `label` and a number, all of one recording.
    std::string survey(int recordings, const std::string& label) const
    {
        folder_.file("a.wav", wav({sine(70.0, 500.0, 7.0, 0.12)}, 500));
        std::string text = "title = \"Test\"\nsetting = \"vessel\"\n";
        for (int i = 0; i < recordings; ++i)
            text += fmt::format("[[space]]\nid = \"s{0}\"\nlabel = \"{1} {0}\"\nuse = \"passenger-cabin\"\n"
                                "[[recording]]\nfile = \"a.wav\"\nspace = \"s{0}\"\nchannels = {{ 1 = \"z\" }}\n",
                                i, label);
        return folder_.file("survey.toml", text + "[[judge]]\ncriteria = [\"iso6954-2000\"]\n");
    }
    const ScratchFolder folder_;
};

TEST_F(ReportPdf, IsOfTheSameBytesAgainAndBesideTheHtml)
{
    const std::string path = survey(1, "مقصورة <b> 客室");
    const Outcome first = call({"report", path, "--pdf", folder_.path("r.pdf")});
    EXPECT_EQ(first.code, 0) << first.err;
    const std::string pdf = content_of(folder_.path("r.pdf"));
    EXPECT_TRUE(pdf.starts_with("%PDF-"));
    EXPECT_EQ(call({"report", path, "--pdf", folder_.path("r.pdf"), "--html", folder_.path("r.html")}).code, 0);
    EXPECT_EQ(content_of(folder_.path("r.pdf")), pdf);
    EXPECT_EQ(call({"verify", folder_.path("r.html")}).code, 0);
}

TEST_F(ReportPdf, RefusesOneFileForBoth)
{
    const std::string path = survey(1, "Space");
    EXPECT_EQ(call({"report", path, "--pdf", folder_.path("r"), "--html", folder_.path("r")}).code, 2);
    EXPECT_EQ(call({"report", path, "--pdf", path}).code, 2);
    EXPECT_FALSE(std::filesystem::exists(folder_.path("r")));
}

TEST_F(ReportPdf, OfSixtyRecordingsInFourHundredSpacesTakesLessThanFiveSecondsWithTheHtml)
{
    const std::string path = survey(60, std::string(300, 'n'));
    std::string text = content_of(path);
    for (int i = 60; i < 400; ++i)
        text += fmt::format("[[space]]\nid = \"s{0}\"\nlabel = \"Space {0}\"\nuse = \"passenger-cabin\"\n", i);
    folder_.file("survey.toml", text);
    const auto begin = std::chrono::steady_clock::now();
    EXPECT_EQ(call({"report", path, "--pdf", folder_.path("r.pdf"), "--html", folder_.path("r.html")}).code, 0);
    EXPECT_LT(std::chrono::steady_clock::now() - begin, std::chrono::seconds(5));
    const std::string html = content_of(folder_.path("r.html"));
    EXPECT_THAT(html, testing::HasSubstr("Space 399"));
    EXPECT_THAT(html, testing::HasSubstr("data-verdict=\"59\""));
}

TEST_F(ReportPdf, DrawsPlansAndSaysWhereItCannot)
{
    std::string text = content_of(survey(1, "Space"));
    text += "[[plan]]\nid = \"p\"\nfile = \"p.svg\"\n[[plan]]\nid = \"q\"\nfile = \"q.png\"\n"
            "[[plan]]\nid = \"j\"\nfile = \"j.jpg\"\n[[plan]]\nid = \"v\"\nfile = \"v.svg\"\n";
    folder_.file("survey.toml", text);
    folder_.file("p.svg", "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"4\" height=\"4\"/>");
    folder_.file("v.svg", "<svg this is no picture");
    folder_.file("q.png", "\x89PNG\r\n\x1a\n and then nothing of it");
    folder_.file("j.jpg", "\xff\xd8\xff and then nothing of it");
    const Outcome outcome = call({"report", folder_.path("survey.toml"), "--pdf", folder_.path("r.pdf")});
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    EXPECT_TRUE(content_of(folder_.path("r.pdf")).starts_with("%PDF-"));
}

} // namespace
} // namespace becalm::tests
