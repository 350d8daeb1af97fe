// becalm report --pdf, in process. What the pages say is compared with the HTML by check_report.py. The libraries of
// fonts keep memory until the end, which the sanitizers take for leaks: run in the optimised build only.
#include <ctime>
#include <filesystem>
#include <tuple>

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
    const std::clock_t begin = std::clock(); // of the processors, so that other work on the machine does not count
    EXPECT_EQ(call({"report", path, "--pdf", folder_.path("r.pdf"), "--html", folder_.path("r.html")}).code, 0);
    EXPECT_LT(static_cast<double>(std::clock() - begin) / CLOCKS_PER_SEC, 5.0);
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

// A PDF of one page [ISO 32000-1:2008, 7.5], with a frame and a word on it.
std::string plan_page(int width, int height, const std::string& trailer = "")
{
    const std::string content = "1 0 0 RG 3 w 20 20 360 160 re S BT /F 24 Tf 40 100 Td (Storey) Tj ET";
    const std::vector<std::string> objects{
        "<< /Type /Catalog /Pages 2 0 R >>", "<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
        fmt::format("<< /Type /Page /Parent 2 0 R /MediaBox [0 0 {} {}] /Contents 4 0 R /Resources << /Font << /F << "
                    "/Type /Font /Subtype /Type1 /BaseFont /Helvetica >> >> >> >>",
                    width, height),
        fmt::format("<< /Length {} >>\nstream\n{}\nendstream", content.size(), content)};
    std::string pdf = "%PDF-1.4\n", table = fmt::format("xref\n0 {}\n0000000000 65535 f \n", objects.size() + 1);
    for (std::size_t i = 0; i < objects.size(); ++i) {
        table += fmt::format("{:010} 00000 n \n", pdf.size());
        pdf += fmt::format("{} 0 obj\n{}\nendobj\n", i + 1, objects[i]);
    }
    return fmt::format("{0}{1}trailer\n<< /Size {2} /Root 1 0 R {3} >>\nstartxref\n{4}\n%%EOF\n", pdf, table,
                       objects.size() + 1, trailer, pdf.size());
}

TEST_F(ReportPdf, DrawsPagesOfPdfPlansAndSaysWhyNot)
{
    std::string text = content_of(survey(1, "Space"));
    const std::string whole = plan_page(400, 200);
    // No password, the empty one neither, fits these 32 bytes [ISO 32000-1:2008, 7.6.3].
    const std::string locked =
        plan_page(400, 200,
                  fmt::format("/ID [<00><00>] /Encrypt << /Filter /Standard /V 1 /R 2 /P -4 /O ({}) /U ({}) >>",
                              std::string(32, 'a'), std::string(32, 'b')));
    int number = 0;
    for (const auto& [name, bytes, page] : {std::tuple("whole", whole, 1),
                                            {"second", whole, 2},
                                            {"cut", whole.substr(0, 200), 1},
                                            {"locked", locked, 1},
                                            {"vast", plan_page(2000000, 2000000), 1},
                                            {"tall", plan_page(2, 14000), 1}}) {
        folder_.file(fmt::format("{}.pdf", name), bytes);
        text += fmt::format("[[plan]]\nid = \"p{}\"\ntitle = \"{}\"\nfile = \"{}.pdf\"\npage = {}\n", ++number, name,
                            name, page);
    }
    text += "[[space]]\nid = \"placed\"\nuse = \"passenger-cabin\"\nplan = \"p1\"\nplace = [0.25, 0.5]\n"
            "[[recording]]\nfile = \"a.wav\"\nspace = \"placed\"\nchannels = { 1 = \"z\" }\n";
    folder_.file("survey.toml", text);
    const Outcome outcome =
        call({"report", folder_.path("survey.toml"), "--pdf", folder_.path("r.pdf"), "--html", folder_.path("r.html")});
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    const std::string html = content_of(folder_.path("r.html"));
    using testing::HasSubstr;
    for (const char* said : {"The plan second (second.pdf) is not shown: its PDF file has no page 2.",
                             "The plan cut (cut.pdf) is not shown: its PDF file is damaged.",
                             "The plan locked (locked.pdf) is not shown: its PDF file is locked by a password.",
                             "The plan vast (vast.pdf) is not shown: its page cannot be drawn."})
        EXPECT_THAT(html, HasSubstr(fmt::format("<p class=\"caution\" dir=\"auto\">{}", said)));
    std::size_t pictures = 0;
    for (std::size_t at = html.find("data:image/png"); at != std::string::npos;
         at = html.find("data:image/png", at + 1))
        ++pictures;
    EXPECT_EQ(pictures, 2U) << "the whole one and the tall one";
    // 0.12 m/s2 / sqrt(2) times |Wm| of 0.63 at 7 Hz is 53 mm/s2, below the first limit of cabins, 71.5 mm/s2: the
    // mildest of three bands [ISO 6954:2000, table 1; computed from the definition].
    EXPECT_THAT(html, HasSubstr("style=\"left:25.00%;top:50.00%\">2\u00a0#..</span>"));
    // In the PDF it is drawn as lines and letters.
    EXPECT_THAT(content_of(folder_.path("r.pdf")), testing::Not(HasSubstr("/Subtype /Image")));
}

// --- verify

class SealedPdf : public ReportPdf {
protected:
    void SetUp() override
    {
        path_ = survey(2, "Space");
        ASSERT_EQ(call({"report", path_, "--pdf", folder_.path("r.pdf")}).code, 0);
        pdf_ = content_of(folder_.path("r.pdf"));
    }
    Outcome verified(const std::string& bytes) const
    {
        folder_.file("r.pdf", bytes);
        return call({"verify", folder_.path("r.pdf")});
    }
    std::string replaced(const std::string& what, const std::string& by) const
    {
        std::string changed = pdf_;
        const std::size_t at = changed.rfind(what);
        if (at == std::string::npos) {
            ADD_FAILURE() << what << " is not in the PDF";
            return changed;
        }
        return changed.replace(at, what.size(), by);
    }
    std::string path_, pdf_;
};

TEST_F(SealedPdf, AgreesWithItsSurveyWhereverBothAreMoved)
{
    const Outcome outcome = verified(pdf_);
    EXPECT_EQ(outcome.code, 0) << outcome.out << outcome.err;
    EXPECT_THAT(outcome.out, testing::HasSubstr("1 recording, 2 verdicts, text and seal"));
    const ScratchFolder elsewhere;
    std::filesystem::copy(folder_.path(), elsewhere.path("moved"), std::filesystem::copy_options::recursive);
    EXPECT_EQ(call({"verify", elsewhere.path("moved/r.pdf")}).code, 0);
}

TEST_F(SealedPdf, NamesItsSurveyFromItsOwnFolder)
{
    std::filesystem::create_directories(folder_.path("sent"));
    ASSERT_EQ(call({"report", path_, "--html", folder_.path("r.html"), "--pdf", folder_.path("sent/r.pdf")}).code, 0);
    EXPECT_EQ(call({"verify", folder_.path("sent/r.pdf")}).code, 0);
    EXPECT_EQ(call({"verify", folder_.path("r.html")}).code, 0);
}

TEST_F(SealedPdf, ShowsWhichRecordingChanged)
{
    folder_.file("a.wav", wav({sine(70.0, 500.0, 7.0, 0.13)}, 500));
    const Outcome outcome = verified(pdf_);
    EXPECT_EQ(outcome.code, 3);
    EXPECT_THAT(outcome.out, testing::HasSubstr("the recording a.wav differs"));
    EXPECT_THAT(outcome.out, testing::HasSubstr("the value of s0 / floor / iso6954-2000 / z differs"));
    EXPECT_THAT(outcome.out, testing::Not(testing::HasSubstr("the text of the")));
}

TEST_F(SealedPdf, ShowsThatItsPagesOrItsInputsChanged)
{
    using testing::HasSubstr;
    const char* changed = "the text of the report is no longer the one that was sealed";
    for (const std::size_t at : {pdf_.size() / 3, pdf_.find("/MediaBox") + 12}) {
        std::string other = pdf_;
        other[at] = static_cast<char>(other[at] ^ 1);
        EXPECT_EQ(verified(other).code, 3) << at;
        EXPECT_THAT(verified(other).out, HasSubstr(changed));
    }
    // A value of another digit, of the same length.
    const Outcome value = verified(replaced("\t0.0", "\t0.1"));
    EXPECT_EQ(value.code, 3);
    EXPECT_THAT(value.out, HasSubstr(changed));
    EXPECT_THAT(value.out, HasSubstr("the value of"));
    EXPECT_EQ(verified(pdf_ + "% more\n").code, 3) << "something behind it";
    EXPECT_THAT(verified(replaced("/Type /Filespec", "/Type /Filespek")).out, HasSubstr(changed));
}

TEST_F(SealedPdf, SaysWhatCouldNotBeCheckedWhereAnotherProgramHasWrittenIt)
{
    // The mark before the attachment is what another writer leaves out; any reader finds the attachment all the same.
    const Outcome outcome = verified(replaced("\n%becalm\n", "\n%others\n"));
    EXPECT_EQ(outcome.code, 3);
    EXPECT_THAT(outcome.out, testing::HasSubstr("agrees with"));
    EXPECT_THAT(outcome.out, testing::HasSubstr("what its pages say was not checked"));
}

TEST_F(SealedPdf, IsNotReadWhereItIsNone)
{
    EXPECT_EQ(verified(plan_page(400, 200)).code, 3);
    EXPECT_THAT(verified(plan_page(400, 200)).err, testing::HasSubstr("this is no report of this program"));
    EXPECT_EQ(verified(pdf_.substr(0, pdf_.size() / 2)).code, 3);
    EXPECT_THAT(verified(replaced("becalm report 1\n", "becalm report 9\n")).err, testing::HasSubstr("cannot be read"));
    EXPECT_EQ(verified("%PDF-").code, 3);
}

} // namespace
} // namespace becalm::tests
