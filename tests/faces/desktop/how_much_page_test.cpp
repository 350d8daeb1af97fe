#include <QClipboard>
#include <QComboBox>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QTabWidget>
#include <QTextBrowser>
#include <QTreeView>

#include "ui/desktop/how_much_page.h"
#include "ui/desktop/rulers_column.h"

#include "tests/faces/desktop/window_under_test.h"

namespace becalm::desktop::tests {
namespace {

using ::testing::Contains;
using ::testing::Eq;
using ::testing::HasSubstr;
using ::testing::Not;
using Question = MainWindow::Question;

class HowMuchPageTest : public ::testing::Test {
protected:
    void open(const std::string& space)
    {
        under_test.open_small_survey();
        under_test.window.ask(Question::how_much);
        page = dynamic_cast<HowMuchPage*>(under_test.window.page(Question::how_much));
        ASSERT_NE(page, nullptr);
        list = under_test.named<QTreeView>(QStringLiteral("Criteria that judge this survey"));
        choose(space);
    }
    void choose(const std::string& space)
    {
        Choice choice;
        choice.space = space;
        under_test.session.choose(choice);
        QApplication::processEvents();
    }
    QString details() const
    {
        return under_test.named<QTextBrowser>(QStringLiteral("What the verdict rests on"))->toPlainText();
    }
    // The row of the first criterion whose words hold these.
    QModelIndex criterion(const QString& words) const
    {
        for (int row = 0; row < list->model()->rowCount(); ++row)
            if (list->model()->index(row, 0).data().toString().contains(words)) return list->model()->index(row, 0);
        return {};
    }
    void tick(const QModelIndex& index)
    {
        ASSERT_TRUE(index.isValid());
        list->scrollTo(index);
        list->setCurrentIndex(index);
        list->setFocus();
        QTest::keyClick(list, Qt::Key_Space);
    }
    std::vector<std::string> judged_by() const
    {
        std::vector<std::string> all;
        for (const Judge& judge : under_test.session.document().survey()->judges)
            for (const std::string& id : judge.criteria) all.push_back(id);
        return all;
    }

    WindowUnderTest under_test;
    HowMuchPage* page = nullptr;
    QTreeView* list = nullptr;
};

TEST_F(HowMuchPageTest, ShowsTheVerdictsOfTheChosenSpaceAndWhatTheyRestOn)
{
    open("c102");
    ASSERT_EQ(page->rulers().verdicts().size(), 1U);
    EXPECT_EQ(page->rulers().verdicts()[0]->space, "c102");
    const std::string text = details().toStdString();
    EXPECT_THAT(text, HasSubstr("Cabin 102, floor, Service speed"));
    EXPECT_THAT(text, HasSubstr("ISO 6954:2000"));
    EXPECT_THAT(text, HasSubstr("loud.wav"));
    EXPECT_THAT(text, HasSubstr("below the next limit"));
    choose("mess");
    EXPECT_EQ(page->rulers().verdicts()[0]->space, "mess");
    EXPECT_THAT(details().toStdString(), HasSubstr("mess.wav"));
    under_test.picture(QStringLiteral("how_much"));
}

TEST_F(HowMuchPageTest, ShowsEverySpaceByTheCriterionAndChoosesByAClickOnARuler)
{
    open("c101");
    auto* scope = under_test.named<QComboBox>(QStringLiteral("Which verdicts are shown"));
    scope->setFocus();
    QTest::keyClick(scope, Qt::Key_Down);
    ASSERT_EQ(page->rulers().verdicts().size(), 3U);
    EXPECT_EQ(page->rulers().verdicts()[0]->space, "c102") << "worst first";
    QApplication::processEvents();
    QTest::mouseClick(page->rulers().ruler(0), Qt::LeftButton, {}, QPoint(60, 40));
    EXPECT_THAT(under_test.session.choice().space, Eq("c102"));
    EXPECT_THAT(details().toStdString(), HasSubstr("loud.wav"));
    QTest::keyClick(page->rulers().ruler(0), Qt::Key_Tab);
    EXPECT_THAT(under_test.session.choice().space, Eq(page->rulers().verdicts()[1]->space));
    auto* copy = under_test.named<QPushButton>(QStringLiteral("Copy the table of verdicts"));
    QTest::mouseClick(copy, Qt::LeftButton);
    EXPECT_EQ(QGuiApplication::clipboard()->text().count(QChar(u'\n')), 4);
}

TEST_F(HowMuchPageTest, JudgesByACriterionThatIsTickedAndTakesItBack)
{
    open("c102");
    const auto before = judged_by();
    tick(criterion(QStringLiteral("weighted velocity")));
    under_test.wait_for_verdicts();
    ASSERT_EQ(judged_by().size(), before.size() + 1);
    EXPECT_EQ(page->rulers().verdicts().size(), 2U);
    under_test.picture(QStringLiteral("how_much_two_criteria"));
    under_test.press(Qt::Key_Z, Qt::ControlModifier);
    under_test.wait_for_verdicts();
    EXPECT_EQ(judged_by(), before);
    EXPECT_EQ(page->rulers().verdicts().size(), 1U);
}

TEST_F(HowMuchPageTest, AsksWhoComparedTheNumbersBeforeItJudgesByThem)
{
    open("c102");
    const QModelIndex waiting = criterion(QStringLiteral("must be compared first"));
    ASSERT_TRUE(waiting.isValid());
    const auto before = judged_by();
    tick(waiting);
    EXPECT_EQ(judged_by(), before) << "not before somebody has answered";
    auto* who = under_test.named<QLineEdit>(QStringLiteral("Who compared the numbers with the publication, and when"));
    ASSERT_TRUE(who->isVisible());
    EXPECT_TRUE(who->hasFocus());
    under_test.picture(QStringLiteral("how_much_asks_who"));
    QTest::keyClick(who, Qt::Key_Return);
    EXPECT_EQ(judged_by(), before) << "an empty answer is none";
    QTest::keyClicks(who, QStringLiteral("A. N. Other, 2026-05-02"));
    QTest::keyClick(who, Qt::Key_Return);
    under_test.wait_for_verdicts();
    EXPECT_EQ(judged_by().size(), before.size() + 1);
    EXPECT_THAT(under_test.session.document().text(), HasSubstr("confirmed-by = \"A. N. Other, 2026-05-02\""));
    EXPECT_FALSE(who->isVisible());
}

TEST_F(HowMuchPageTest, FindsCriteriaByWords)
{
    open("c102");
    const int all = list->model()->rowCount();
    auto* search = under_test.named<QLineEdit>(QStringLiteral("Search the criteria"));
    QTest::keyClicks(search, QStringLiteral("6954"));
    EXPECT_LT(list->model()->rowCount(), all);
    EXPECT_GT(list->model()->rowCount(), 0);
}

TEST_F(HowMuchPageTest, PutsTwoConditionsBesideEachOther)
{
    open("c102");
    // The quiet cabin's file stands for the loud cabin in harbour.
    std::string text = under_test.session.document().text();
    text += "\n[[condition]]\nid = \"harbour\"\ntitle = \"In harbour\"\n\n[[recording]]\nfile = \"mess.wav\"\n";
    const std::size_t at = text.rfind("[[recording]]");
    text = text.substr(0, at);
    std::filesystem::copy_file(under_test.folder.path("quiet.wav"), under_test.folder.path("harbour.wav"));
    text += "[[recording]]\nfile = \"harbour.wav\"\nspace = \"c102\"\nposition = \"floor\"\ncondition = \"harbour\"\n"
            "sensor = \"s1\"\nchannels = { 1 = \"x\", 2 = \"y\", 3 = \"z\" }\nunit = \"m/s2\"\n";
    ASSERT_TRUE(under_test.session.change(QStringLiteral("harbour"), text));
    under_test.wait_for_verdicts();
    auto* tabs = under_test.named<QTabWidget>(QStringLiteral("Rulers or two conditions"));
    tabs->setCurrentIndex(1);
    QApplication::processEvents();
    auto* table = under_test.named<QTreeView>(QStringLiteral("Changes from the first condition to the second"));
    ASSERT_EQ(table->model()->rowCount(), 1);
    const std::string change = table->model()->index(0, 3).data().toString().toStdString();
    EXPECT_THAT(change, HasSubstr("−")) << change;
    EXPECT_THAT(table->model()->index(0, 4).data().toString().toStdString(), HasSubstr("dB"));
    EXPECT_THAT(table->model()->index(0, 5).data().toString().toStdString(), HasSubstr("better by 1"));
    under_test.picture(QStringLiteral("how_much_two_conditions"));
    table->setFocus();
    QTest::keyClick(table, Qt::Key_C, Qt::ControlModifier);
    EXPECT_THAT(QGuiApplication::clipboard()->text().toStdString(), HasSubstr("Service speed\tIn harbour"));
    // The other way round.
    auto* first = under_test.named<QComboBox>(QStringLiteral("First condition"));
    auto* second = under_test.named<QComboBox>(QStringLiteral("Second condition"));
    first->setFocus();
    QTest::keyClick(first, Qt::Key_Down);
    second->setFocus();
    QTest::keyClick(second, Qt::Key_Up);
    EXPECT_THAT(table->model()->index(0, 5).data().toString().toStdString(), HasSubstr("worse by 1"));
}

} // namespace
} // namespace becalm::desktop::tests
