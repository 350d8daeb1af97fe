// What is left, and what is said, when the world is unkind: the program killed, no right to write, no room, a survey
// broken by hand, a recording gone, two windows on one survey.
#include <QProcess>
#include <csignal>
#include <fstream>

#include <sys/resource.h>
#include <sys/stat.h>

#include "src/io/survey_file.h"

#include "tests/faces/desktop/window_under_test.h"

namespace becalm::desktop::tests {
namespace {

using becalm::tests::WithoutPrivileges;
using ::testing::AnyOf;
using ::testing::Eq;
using ::testing::HasSubstr;
using ::testing::Not;

void write(const std::string& path, const std::string& text) { std::ofstream(path, std::ios::binary) << text; }

Result<std::string> titled(const Session& session, const std::string& title)
{
    const SurveyDocument& document = session.document();
    return io::with_top_value(document.text(), document.path().toStdString(), "title", '"' + title + '"');
}

// The sentence in the window that holds `words`; empty when there is none within a while.
std::string sentence_with(WindowUnderTest& under_test, const std::string& words)
{
    std::string found;
    (void)wait_until(
        [&] {
            for (const QString& sentence : under_test.window.notices().sentences())
                if (sentence.contains(qt(words))) found = sentence.toStdString();
            return !found.empty();
        },
        10000);
    return found;
}

QPushButton* answer(const WindowUnderTest& under_test, const QString& words)
{
    QApplication::processEvents(); // a notice is seen a moment after it is said
    for (QPushButton* button : under_test.window.findChildren<QPushButton*>())
        if (button->text() == words && button->isVisible()) return button;
    return nullptr;
}

// The program over a survey, changing its title; returns when it says that it has.
class OtherProgram {
public:
    OtherProgram(const std::string& survey, const ScratchFolder& folder, const std::string& title)
    {
        process_.start(QStringLiteral(BECALM_EDIT_AND_WAIT), {qt(survey), qt(folder.path("kept")), qt(title)});
        QByteArray said;
        while (!said.contains("changed\n") && process_.waitForReadyRead(60000))
            said += process_.readAllStandardOutput();
        changed_ = said.contains("changed\n") && !said.contains("not changed");
    }
    bool changed() const { return changed_; }
    void kill() // as the kernel would, without a word
    {
        process_.kill();
        process_.waitForFinished();
    }

private:
    QProcess process_;
    bool changed_ = false;
};

TEST(Survival, AKilledProgramHasSavedWhatWasChangedTwoSecondsAgo)
{
    const ScratchFolder folder;
    const std::string survey = write_small_survey(folder);
    OtherProgram program(survey, folder, "Changed before the end");
    ASSERT_TRUE(program.changed());
    QTest::qWait(2000);
    program.kill();
    EXPECT_THAT(content_of(survey), HasSubstr("title = \"Changed before the end\""));
    EXPECT_THAT(content_of(survey), HasSubstr("# A comment that must survive."));
    EXPECT_TRUE(io::read_survey(survey));
}

TEST(Survival, AProgramKilledAtAnyMomentLeavesAWholeSurvey)
{
    const ScratchFolder folder;
    const std::string survey = write_small_survey(folder);
    const std::string before = content_of(survey);
    const auto after = io::with_top_value(before, survey, "title", "\"x\"");
    ASSERT_TRUE(after);
    for (const int wait_ms : {0, 950, 1000, 1050}) {
        write(survey, before);
        OtherProgram program(survey, folder, "x");
        ASSERT_TRUE(program.changed());
        QTest::qWait(wait_ms);
        program.kill();
        EXPECT_THAT(content_of(survey), AnyOf(Eq(before), Eq(*after))) << "killed after " << wait_ms << " ms";
    }
}

TEST(Survival, WithoutTheRightToWriteTheChangeIsKeptAndOfferedAgain)
{
    const ScratchFolder folder;
    ::chmod(folder.path().c_str(), 0755);
    std::filesystem::create_directories(folder.path("kept"));
    ::chmod(folder.path("kept").c_str(), 0777);
    std::filesystem::create_directories(folder.path("site"));
    const std::string survey = folder.path("site/survey.toml");
    std::filesystem::copy_file(write_small_survey(folder), survey);
    const std::string original = content_of(survey);
    QSettings settings(qt(folder.path("kept/settings.ini")), QSettings::IniFormat);
    std::string wanted;
    ::chmod(folder.path("site").c_str(), 0555);
    {
        const WithoutPrivileges nobody;
        ASSERT_TRUE(nobody.achieved());
        Session session({.kept = qt(folder.path("kept")), .cache = qt(folder.path("kept/passes"))});
        MainWindow window(session, settings);
        window.open({qt(survey)});
        ASSERT_TRUE(session.change(QStringLiteral("title"), titled(session, "Kept")));
        wanted = session.document().text();
        ASSERT_TRUE(wait_until([&] { return session.document().is_kept(); }));
        EXPECT_THAT(window.notices().sentences().join(QChar(u' ')).toStdString(),
                    HasSubstr("could not be saved: " + survey));
        EXPECT_THAT(window.notices().sentences().join(QChar(u' ')).toStdString(), HasSubstr("offered again"));
        EXPECT_TRUE(session.document().is_unsaved());
    }
    EXPECT_THAT(content_of(survey), Eq(original));
    ::chmod(folder.path("site").c_str(), 0755);

    WindowUnderTest again;
    Session session({.kept = qt(folder.path("kept")), .cache = qt(folder.path("kept/passes"))});
    MainWindow window(session, settings);
    window.show();
    window.open({qt(survey)});
    QPushButton* take = nullptr;
    for (QPushButton* button : window.findChildren<QPushButton*>())
        if (button->text() == QStringLiteral("Take them")) take = button;
    ASSERT_NE(take, nullptr);
    take->click();
    EXPECT_THAT(session.document().text(), Eq(wanted));
    ASSERT_TRUE(session.document().save());
    EXPECT_THAT(content_of(survey), Eq(wanted));
}

// No file of this process gets longer than a few bytes.
class FullDisk {
public:
    FullDisk()
    {
        before_handler_ = std::signal(SIGXFSZ, SIG_IGN);
        ::getrlimit(RLIMIT_FSIZE, &before_);
        rlimit small = before_;
        small.rlim_cur = 16;
        ::setrlimit(RLIMIT_FSIZE, &small);
    }
    FullDisk(const FullDisk&) = delete;
    FullDisk& operator=(const FullDisk&) = delete;
    ~FullDisk()
    {
        ::setrlimit(RLIMIT_FSIZE, &before_);
        std::signal(SIGXFSZ, before_handler_);
    }

private:
    rlimit before_{};
    void (*before_handler_)(int) = SIG_DFL;
};

TEST(Survival, AFullDiskLosesNothingAndSaysWhereTheChangesAre)
{
    WindowUnderTest under_test;
    under_test.open_small_survey();
    const std::string original = content_of(under_test.survey);
    {
        const FullDisk full;
        ASSERT_TRUE(under_test.session.change(QStringLiteral("title"), titled(under_test.session, "No room")));
        EXPECT_FALSE(under_test.session.document().save());
    }
    EXPECT_THAT(sentence_with(under_test, "could not be saved"), HasSubstr("in this window alone"));
    EXPECT_THAT(content_of(under_test.survey), Eq(original)) << "the file on the disk must stay whole";
    EXPECT_TRUE(under_test.session.document().is_unsaved());
    QPushButton* again = answer(under_test, QStringLiteral("Try again"));
    ASSERT_NE(again, nullptr);
    again->click();
    EXPECT_THAT(content_of(under_test.survey), HasSubstr("No room"));
    EXPECT_EQ(answer(under_test, QStringLiteral("Try again")), nullptr) << "a notice about what is mended";
}

TEST(Survival, ASurveyBrokenByHandWhileOpenIsSaidAndUndone)
{
    WindowUnderTest under_test;
    under_test.open_small_survey();
    const auto judgement = under_test.session.judgement();
    const std::string original = content_of(under_test.survey);
    write(under_test.survey, original + "\n[[recording]]\nfile = 7\n");
    const std::string sentence = sentence_with(under_test, "has faults");
    EXPECT_THAT(sentence, HasSubstr(under_test.survey)) << "where";
    EXPECT_THAT(sentence, HasSubstr("undo")) << "what to do";
    EXPECT_EQ(under_test.session.judgement(), judgement) << "what was known is still shown";
    under_test.press(Qt::Key_Z, Qt::ControlModifier);
    EXPECT_THAT(under_test.session.document().text(), Eq(original));
    under_test.wait_for_verdicts();
    ASSERT_TRUE(wait_until([&] { return content_of(under_test.survey) == original; }));
    for (const QString& still : under_test.window.notices().sentences())
        EXPECT_FALSE(still.contains(QStringLiteral("has faults"))) << still.toStdString();
}

TEST(Survival, ARecordingThatVanishesIsNamedAndTheRestIsJudged)
{
    WindowUnderTest under_test;
    under_test.open_small_survey();
    std::filesystem::remove(under_test.folder.path("loud.wav"));
    under_test.press(Qt::Key_F5);
    const std::string sentence = sentence_with(under_test, "cannot be read");
    EXPECT_THAT(sentence, HasSubstr("loud.wav"))
        << under_test.window.notices().sentences().join(QChar(u'|')).toStdString();
    EXPECT_THAT(sentence, Not(HasSubstr("quiet.wav")));
    int judged = 0;
    for (const Verdict& verdict : under_test.session.judgement()->assessment().verdicts) {
        judged += verdict.judged;
        if (verdict.space == "c102") {
            EXPECT_FALSE(verdict.judged);
            EXPECT_THAT(verdict.why_not, HasSubstr("loud.wav"));
        }
    }
    EXPECT_GE(judged, 2);
}

TEST(Survival, TwoWindowsOnOneSurveyFollowEachOther)
{
    WindowUnderTest first;
    first.open_small_survey();
    WindowUnderTest second;
    second.window.open({qt(first.survey)});
    ASSERT_TRUE(first.session.change(QStringLiteral("title"), titled(first.session, "By the first")));
    ASSERT_TRUE(first.session.document().save());
    ASSERT_TRUE(wait_until([&] { return second.session.document().text() == first.session.document().text(); }));
    EXPECT_THAT(sentence_with(second, "changed elsewhere"), HasSubstr("Undo"));
}

TEST(Survival, TwoWindowsThatBothChangeASurveyLoseNeithersText)
{
    WindowUnderTest first;
    first.open_small_survey();
    WindowUnderTest second;
    second.window.open({qt(first.survey)});
    // Both before either has saved.
    ASSERT_TRUE(first.session.change(QStringLiteral("title"), titled(first.session, "By the first")));
    ASSERT_TRUE(second.session.change(QStringLiteral("title"), titled(second.session, "By the second")));
    const std::string by_first = first.session.document().text(), by_second = second.session.document().text();
    ASSERT_TRUE(first.session.document().save());
    EXPECT_THAT(sentence_with(second, "Nothing is lost"), Not(Eq("")));
    QTest::qWait(1300); // longer than a change waits for its way to the disk
    EXPECT_THAT(content_of(first.survey), Eq(by_first)) << "nothing is written over unasked";
    EXPECT_THAT(second.session.document().text(), Eq(by_second));
    QPushButton* mine = answer(second, QStringLiteral("Keep mine"));
    ASSERT_NE(mine, nullptr);
    mine->click();
    EXPECT_THAT(content_of(first.survey), Eq(by_second));
    // The first sees it come, and can still go back to its own.
    ASSERT_TRUE(wait_until([&] { return first.session.document().text() == by_second; }));
    first.session.document().steps().undo();
    EXPECT_THAT(first.session.document().text(), Eq(by_first));
}

} // namespace
} // namespace becalm::desktop::tests
