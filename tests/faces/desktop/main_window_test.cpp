#include <QComboBox>
#include <QDesktopServices>
#include <QDragEnterEvent>
#include <QMimeData>
#include <QTextBrowser>
#include <QToolButton>
#include <QUrl>

#include "ui/desktop/report_dialog.h"
#include "ui/desktop/words.h"

#include "tests/faces/cli_harness.h"
#include "tests/faces/desktop/window_under_test.h"

namespace becalm::desktop::tests {
namespace {

using ::testing::Eq;

TEST(MainWindow, JudgesASurveyAsTheCommandLineDoesByteForByte)
{
    WindowUnderTest under_test;
    under_test.open_small_survey();
    const auto command = becalm::tests::call({"assess", under_test.survey, "--json", "-"});
    EXPECT_EQ(command.code, 0) << command.err;
    EXPECT_THAT(under_test.session.judgement_json(), Eq(command.out));
}

// Takes the place of the system's program for files; a browser has the slot that it needs.
class Opener final : public QTextBrowser {
public:
    Opener() { QDesktopServices::setUrlHandler(QStringLiteral("file"), this, "setSource"); }
    ~Opener() override { QDesktopServices::unsetUrlHandler(QStringLiteral("file")); }
    QList<QUrl> opened = {};

protected:
    void doSetSource(const QUrl& url, QTextDocument::ResourceType) override { opened << url; }
};

QString last_notice(WindowUnderTest& under_test)
{
    const QStringList all = under_test.window.notices().sentences();
    return all.isEmpty() ? QString() : all.back();
}

TEST(MainWindow, WritesAReportAsTheCommandLineDoesByteForByte)
{
    WindowUnderTest under_test;
    under_test.open_small_survey();
    std::filesystem::create_directories(under_test.folder.path("letter"));
    under_test.folder.file("letter/header.txt", "An office");
    for (const auto& [kind, language] : {std::pair<std::string, std::string>{"html", "en"}, {"pdf", "de"}}) {
        const std::string file = under_test.folder.path("r." + kind);
        under_test.window.activateWindow(); // the dialog of before had the focus
        ASSERT_TRUE(QTest::qWaitForWindowActive(&under_test.window));
        under_test.press(Qt::Key_R, Qt::ControlModifier);
        ReportDialog* dialog = nullptr;
        ASSERT_TRUE(wait_until([&] {
            dialog = under_test.window.findChild<ReportDialog*>();
            return dialog != nullptr && dialog->isVisible();
        }));
        EXPECT_FALSE(dialog->isModal());
        under_test.named<QLineEdit>(QStringLiteral("File of the report"))->setText(qt(file));
        under_test.named<QLineEdit>(QStringLiteral("Folder of the letterhead"))
            ->setText(qt(under_test.folder.path("letter")));
        auto* languages = under_test.named<QComboBox>(QStringLiteral("Language of the report"));
        languages->setCurrentIndex(languages->findData(qt(language)));
        under_test.named<QLineEdit>(QStringLiteral("Date of the report"))->setText(QStringLiteral("2026-05-06"));
        QTest::keyClick(under_test.named<QLineEdit>(QStringLiteral("Date of the report")), Qt::Key_Return);
        ASSERT_TRUE(
            wait_until([&] { return last_notice(under_test).startsWith(QStringLiteral("Report written to")); }));
        const std::string written = content_of(file);
        const auto command =
            becalm::tests::call({"report", under_test.survey, "--" + kind, file, "--letterhead",
                                 under_test.folder.path("letter"), "--date", "2026-05-06", "--language", language});
        EXPECT_EQ(command.code, 0) << command.err;
        EXPECT_EQ(content_of(file) == written, true) << kind;
        EXPECT_THAT(plain(last_notice(under_test)), ::testing::HasSubstr("no logo"));
        ASSERT_TRUE(wait_until([&] { return under_test.window.findChild<ReportDialog*>() == nullptr; }));

        Opener opener;
        QAbstractButton* open = nullptr;
        for (QAbstractButton* button : under_test.window.notices().findChildren<QAbstractButton*>())
            if (button->text() == QStringLiteral("Open")) open = button;
        ASSERT_NE(open, nullptr);
        open->click();
        EXPECT_EQ(opener.opened, QList<QUrl>{QUrl::fromLocalFile(qt(file))});
    }
}

TEST(MainWindow, SaysWhyAReportIsNotWritten)
{
    WindowUnderTest under_test;
    under_test.open_small_survey();
    const auto said_after = [&](const QString& file, const QString& letterhead, const QString& date) {
        under_test.window.notices().put_away(QStringLiteral("report"));
        under_test.window.write_report(file, letterhead, date);
        EXPECT_TRUE(wait_until([&] { return !under_test.session.is_reporting(); }));
        EXPECT_TRUE(wait_until(
            [&] { return last_notice(under_test).startsWith(QStringLiteral("The report was not written")); }));
        return plain(last_notice(under_test));
    };
    using ::testing::HasSubstr;
    EXPECT_THAT(said_after(qt(under_test.survey), {}, {}), HasSubstr("would replace the survey"));
    EXPECT_THAT(said_after(QStringLiteral("r.pdf"), {}, QStringLiteral("2026-02-30")), HasSubstr("no date"));
    EXPECT_THAT(said_after(QStringLiteral("r.pdf"), QStringLiteral("/no/such"), {}), HasSubstr("no such folder"));
    EXPECT_THAT(said_after(QStringLiteral("no/such/r.pdf"), {}, {}), HasSubstr("no/such"));
    EXPECT_FALSE(std::filesystem::exists(under_test.folder.path("r.pdf")));
}

TEST(MainWindow, AsksEveryQuestionByKeyboard)
{
    WindowUnderTest under_test;
    under_test.open_small_survey();
    using Question = MainWindow::Question;
    const std::vector<Question> questions{Question::gather, Question::where, Question::how_much,
                                          Question::when,   Question::why,   Question::people};
    for (std::size_t i = 0; i < questions.size(); ++i) {
        under_test.press(static_cast<Qt::Key>(Qt::Key_1 + static_cast<int>(i)), Qt::ControlModifier);
        EXPECT_TRUE(wait_until([&] { return under_test.window.asked() == questions[i]; }, 2000)) << "Ctrl+" << i + 1;
    }
}

// Dropped as a file manager does.
void drop(MainWindow& window, const QStringList& paths)
{
    QMimeData data;
    QList<QUrl> urls;
    for (const QString& path : paths) urls << QUrl::fromLocalFile(path);
    data.setUrls(urls);
    QDragEnterEvent enter({50, 50}, Qt::CopyAction, &data, Qt::LeftButton, {});
    QApplication::sendEvent(&window, &enter);
    ASSERT_TRUE(enter.isAccepted());
    QDropEvent event(QPointF(50, 50), Qt::CopyAction, &data, Qt::LeftButton, {});
    QApplication::sendEvent(&window, &event);
}

TEST(MainWindow, OpensWhatIsDropped)
{
    WindowUnderTest under_test;
    under_test.survey = write_small_survey(under_test.folder);
    drop(under_test.window, {qt(under_test.survey)});
    under_test.wait_for_verdicts();
    EXPECT_EQ(under_test.window.asked(), MainWindow::Question::where);
    // A recording stands for its folder; one without a survey gets one, with guesses.
    std::filesystem::create_directories(under_test.folder.path("bare"));
    std::filesystem::copy_file(under_test.folder.path("mess.wav"), under_test.folder.path("bare/mess.wav"));
    drop(under_test.window, {qt(under_test.folder.path("bare/mess.wav"))});
    EXPECT_EQ(under_test.window.asked(), MainWindow::Question::gather);
    ASSERT_NE(under_test.session.document().survey(), nullptr);
    EXPECT_EQ(under_test.session.document().survey()->recordings.size(), 1U);
    EXPECT_EQ(under_test.window.recent().size(), 2);
    EXPECT_TRUE(wait_until([&] { return std::filesystem::exists(under_test.folder.path("bare/survey.toml")); }));
    // What is not there, and a folder with nothing in it, are told; what is open stays.
    drop(under_test.window, {qt(under_test.folder.path("nothing-here"))});
    std::filesystem::create_directories(under_test.folder.path("empty"));
    drop(under_test.window, {qt(under_test.folder.path("empty"))});
    const std::string told = under_test.window.notices().sentences().join(QChar(u'|')).toStdString();
    EXPECT_THAT(told, ::testing::HasSubstr("nothing-here is not there"));
    EXPECT_THAT(told, ::testing::HasSubstr("empty"));
    EXPECT_EQ(under_test.session.document().survey()->recordings.size(), 1U);
}

} // namespace
} // namespace becalm::desktop::tests
