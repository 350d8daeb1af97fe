#include <QClipboard>
#include <QComboBox>
#include <QDropEvent>
#include <QLineEdit>
#include <QMimeData>
#include <QPushButton>
#include <QTabWidget>

#include "ui/desktop/gather_page.h"
#include "ui/desktop/notices.h"
#include "ui/desktop/words.h"

#include "tests/faces/desktop/window_under_test.h"

namespace becalm::desktop::tests {
namespace {

using ::testing::Eq;
using ::testing::HasSubstr;
using ::testing::Not;

class GatherPageTest : public ::testing::Test {
protected:
    // The small survey, or a folder with its recordings alone.
    void open(bool with_survey = true)
    {
        window_.open_small_survey();
        if (!with_survey) {
            std::filesystem::create_directories(window_.folder.path("bare"));
            for (const char* file : {"quiet.wav", "loud.wav"})
                std::filesystem::copy_file(window_.folder.path(file), window_.folder.path(std::string("bare/") + file));
            window_.window.open({qt(window_.folder.path("bare"))});
        }
        original_ = text();
        window_.press(Qt::Key_1, Qt::ControlModifier);
        page_ = window_.window.findChild<GatherPage*>();
        ASSERT_TRUE(wait_until([&] { return page_->isVisible(); }));
    }
    const std::string& text() const { return window_.session.document().text(); }
    std::shared_ptr<const Survey> survey() const { return window_.session.document().survey(); }
    QUndoStack& steps() { return window_.session.document().steps(); }
    SurveyGrid& grid(const QString& name) { return *window_.named<SurveyGrid>(name); }
    SurveyGrid& channels() { return grid("Recordings and channels"); }
    void show_tab(int index) { page_->findChild<QTabWidget*>()->setCurrentIndex(index); }

    // The cell gets the cursor by a click.
    void click(SurveyGrid& grid, int row, std::string_view key)
    {
        const QModelIndex index = grid.model()->index(row, grid.table().column_of(key));
        grid.scrollTo(index);
        QTest::mouseClick(grid.viewport(), Qt::LeftButton, {}, grid.visualRect(index).center());
        grid.setFocus();
        QApplication::processEvents();
        ASSERT_EQ(grid.currentIndex(), index);
    }
    // Opens the cell, types over what it holds, and leaves it with Enter.
    void type(SurveyGrid& grid, int row, std::string_view key, const QString& words)
    {
        click(grid, row, key);
        QTest::keyClick(&grid, Qt::Key_F2);
        QWidget* editor = QApplication::focusWidget();
        ASSERT_NE(editor, nullptr);
        ASSERT_NE(editor, &grid) << "no editor";
        QTest::keyClicks(editor, words);
        QTest::keyClick(editor, Qt::Key_Return);
        QApplication::processEvents();
    }
    QString shown_at(SurveyGrid& grid, int row, std::string_view key)
    {
        return grid.model()->index(row, grid.table().column_of(key)).data(Qt::DisplayRole).toString();
    }
    void drop(const QStringList& paths)
    {
        QMimeData data;
        QList<QUrl> urls;
        for (const QString& path : paths) urls << QUrl::fromLocalFile(path);
        data.setUrls(urls);
        QDragEnterEvent enter({50, 50}, Qt::CopyAction, &data, Qt::LeftButton, {});
        QApplication::sendEvent(page_, &enter);
        ASSERT_TRUE(enter.isAccepted());
        QDropEvent event(QPointF(50, 50), Qt::CopyAction, &data, Qt::LeftButton, {});
        QApplication::sendEvent(page_, &event);
    }

    WindowUnderTest window_;
    GatherPage* page_ = nullptr;
    std::string original_;
};

TEST_F(GatherPageTest, ASurveyIsFilledInByHandAndUndoneToTheByte)
{
    open();
    ASSERT_TRUE(wait_until([&] { return shown_at(channels(), 2, "says").contains("400 Hz"); }));
    type(channels(), 1, "scale", "9,81");
    EXPECT_EQ(survey()->recordings[0].scale, 9.81);
    type(channels(), 2, "axis", "not");
    EXPECT_EQ(survey()->recordings[0].channels.size(), 2U);
    type(channels(), 2, "axis", "z");
    EXPECT_EQ(survey()->recordings[0].channels.size(), 3U);
    type(channels(), 0, "space", "Saloon");
    EXPECT_EQ(survey()->recordings[0].space, "saloon");
    type(channels(), 0, "comment", "door open");
    EXPECT_EQ(survey()->recordings[0].comment, "door open");
    show_tab(3);
    type(grid("Sensors"), 0, "id", "plate");
    EXPECT_EQ(survey()->sensors[0].id, "plate");
    EXPECT_EQ(survey()->recordings[2].sensor, "plate");
    EXPECT_EQ(steps().count(), 6);
    EXPECT_THAT(text(), HasSubstr("# A comment that must survive."));
    window_.picture("gather-sensors");
    for (int i = 0; i < 6; ++i) window_.press(Qt::Key_Z, Qt::ControlModifier);
    EXPECT_TRUE(wait_until([&] { return text() == original_; }, 5000));
}

TEST_F(GatherPageTest, WhatTheFilesSayIsShownAndAMissingFileSpoilsNothingElse)
{
    open();
    ASSERT_TRUE(wait_until([&] { return shown_at(channels(), 0, "says").contains("400 Hz"); }));
    std::filesystem::remove(window_.folder.path("loud.wav"));
    window_.session.judge(); // looks at the files again, as the page does by itself every few seconds
    ASSERT_TRUE(wait_until([&] { return shown_at(channels(), 3, "says") == "not there"; }));
    EXPECT_THAT(plain(shown_at(channels(), 0, "says")), HasSubstr("400 Hz, 65 s"));
    EXPECT_EQ(channels().model()->rowCount(), 9);
    click(channels(), 3, "file");
    EXPECT_THAT(plain(window_.named<QLabel>("What the chosen file says")->text()), HasSubstr("the file is not there"));
    window_.picture("gather-recordings");
    window_.window.resize(900, 600);
    window_.picture("gather-recordings-small");
}

TEST_F(GatherPageTest, AGuessSaysSoUntilItIsConfirmedOrChanged)
{
    open(false);
    EXPECT_THAT(plain(shown_at(channels(), 0, "axis")), Eq("x (guess)"));
    EXPECT_THAT(plain(shown_at(channels(), 3, "unit")), HasSubstr("(guess)"));
    window_.picture("gather-guesses");
    type(channels(), 0, "unit", "mm/s2");
    EXPECT_THAT(plain(shown_at(channels(), 0, "unit")), Not(HasSubstr("guess")));
    EXPECT_THAT(plain(shown_at(channels(), 0, "axis")), Eq("x (guess)"));
    channels().selectAll();
    for (QPushButton* button : window_.window.findChildren<QPushButton*>())
        if (button->text() == "&These are right") QTest::mouseClick(button, Qt::LeftButton);
    for (const Recording& recording : survey()->recordings) EXPECT_EQ(recording.comment, "");
    EXPECT_THAT(plain(shown_at(channels(), 4, "axis")), Eq("y"));
    steps().undo();
    steps().undo();
    EXPECT_THAT(text(), Eq(original_));
}

TEST_F(GatherPageTest, FilesAndFoldersAreDroppedIntoTheSurvey)
{
    open();
    std::filesystem::create_directories(window_.folder.path("more/deck 3"));
    std::filesystem::copy_file(window_.folder.path("loud.wav"), window_.folder.path("more/deck 3/Bridge wing.wav"));
    drop({qt(window_.folder.path("more")), qt(window_.folder.path("quiet.wav"))});
    ASSERT_TRUE(wait_until([&] { return survey()->recordings.size() == 4; }));
    const Recording& added = survey()->recordings[3];
    EXPECT_EQ(added.file, "more/deck 3/Bridge wing.wav") << "relative to the survey";
    EXPECT_EQ(added.channels.size(), 3U);
    EXPECT_EQ(survey()->space(added.space)->label, "Bridge wing");
    EXPECT_EQ(steps().count(), 1);
    EXPECT_THAT(plain(window_.window.findChild<Notices*>()->sentences().join(' ')), HasSubstr("in the survey already"));
    click(channels(), 10, "axis");
    for (QPushButton* button : window_.window.findChildren<QPushButton*>())
        if (button->text() == "Ta&ke out" && button->isVisible()) QTest::mouseClick(button, Qt::LeftButton);
    EXPECT_EQ(survey()->recordings.size(), 3U);
    EXPECT_TRUE(std::filesystem::exists(window_.folder.path("more/deck 3/Bridge wing.wav")));
    steps().undo();
    steps().undo();
    EXPECT_THAT(text(), Eq(original_));
}

TEST_F(GatherPageTest, ABlockIsPastedCopiedAndFilledDownEachInOneStep)
{
    open();
    show_tab(1);
    SurveyGrid& spaces = grid("Spaces");
    QApplication::clipboard()->setText(
        "Cabin A\tcrew-accommodation\tDeck 9\r\nCabin B\tcrew-accommodation\tDeck 9\r\n");
    click(spaces, 2, "label");
    QTest::keySequence(&spaces, QKeySequence::Paste);
    ASSERT_EQ(survey()->spaces.size(), 4U);
    EXPECT_EQ(survey()->spaces[2].label, "Cabin A");
    EXPECT_EQ(survey()->spaces[2].id, "mess");
    EXPECT_EQ(survey()->spaces[3].label, "Cabin B");
    EXPECT_EQ(survey()->spaces[3].id, "cabin-b");
    EXPECT_EQ(survey()->spaces[3].group, "Deck 9");
    EXPECT_EQ(steps().count(), 1);
    window_.picture("gather-spaces");
    show_tab(0);
    type(channels(), 0, "position", "bed");
    QModelIndex last = channels().model()->index(8, channels().table().column_of("position"));
    QTest::mouseClick(channels().viewport(), Qt::LeftButton, Qt::ShiftModifier, channels().visualRect(last).center());
    QTest::keyClick(&channels(), Qt::Key_D, Qt::ControlModifier);
    for (const Recording& recording : survey()->recordings) EXPECT_EQ(recording.position, Position::bed);
    EXPECT_EQ(steps().count(), 3);
    QTest::keySequence(&channels(), QKeySequence::Copy);
    EXPECT_EQ(QApplication::clipboard()->text(), QStringList(9, "bed").join('\n'));
    for (int i = 0; i < 3; ++i) steps().undo();
    EXPECT_THAT(text(), Eq(original_));
}

TEST_F(GatherPageTest, TheHeadOfTheSurveyIsTypedIn)
{
    open();
    show_tab(5);
    auto* title = window_.named<QLineEdit>("Title of the survey");
    title->selectAll();
    QTest::keyClicks(title, "Second vessel");
    QTest::keyClick(title, Qt::Key_Return);
    EXPECT_EQ(survey()->title, "Second vessel");
    auto* note = window_.named<QPlainTextEdit>("Note of the survey");
    note->setFocus();
    QTest::keyClicks(note, "calm sea");
    QTest::keyClick(note, Qt::Key_Return);
    QTest::keyClicks(note, "engine warm");
    QTest::keyClick(note, Qt::Key_Tab);
    EXPECT_EQ(survey()->note, "calm sea\nengine warm");
    auto* setting = window_.named<QComboBox>("Setting of the survey");
    QTest::keyClicks(setting, "rail");
    QTest::keyClick(setting, Qt::Key_Return);
    window_.picture("gather-survey");
    steps().undo();
    steps().undo();
    while (steps().canUndo()) steps().undo();
    EXPECT_THAT(text(), Eq(original_));
}

TEST_F(GatherPageTest, EveryTableIsSeen)
{
    open();
    for (int tab = 0; tab < 6; ++tab) {
        show_tab(tab);
        window_.picture(QStringLiteral("gather-tab-%1").arg(tab));
    }
    for (const char* name : {"Recordings and channels", "Spaces", "Conditions", "Sensors", "Sources"})
        EXPECT_GT(grid(name).model()->rowCount(), 0) << name;
}

TEST_F(GatherPageTest, WhatIsBeingTypedSurvivesAJudgementThatArrives)
{
    open();
    click(channels(), 0, "comment");
    QTest::keyClick(&channels(), Qt::Key_F2);
    QWidget* editor = QApplication::focusWidget();
    QTest::keyClicks(editor, "half a sen");
    window_.session.judge();
    window_.wait_for_verdicts();
    QTest::keyClicks(editor, "tence");
    QTest::keyClick(editor, Qt::Key_Return);
    ASSERT_TRUE(wait_until([&] { return steps().count() == 1; }, 5000));
    EXPECT_EQ(survey()->recordings[0].comment, "half a sentence");
}

TEST_F(GatherPageTest, ARefusedEditIsSaidAndTheCellStays)
{
    open();
    type(channels(), 0, "scale", "0");
    EXPECT_EQ(steps().count(), 0);
    EXPECT_EQ(shown_at(channels(), 0, "scale"), "");
    EXPECT_THAT(plain(window_.window.findChild<Notices*>()->sentences().join(' ')), HasSubstr("scale is 0"));
}

} // namespace
} // namespace becalm::desktop::tests
