#include <QComboBox>
#include <QDragEnterEvent>
#include <QMimeData>
#include <QToolButton>

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
