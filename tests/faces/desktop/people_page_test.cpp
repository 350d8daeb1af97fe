#include <QComboBox>
#include <QLineEdit>
#include <QPushButton>

#include "ui/desktop/people_page.h"
#include "ui/desktop/words.h"

#include "tests/faces/desktop/window_under_test.h"

namespace becalm::desktop::tests {
namespace {

using ::testing::ElementsAre;
using ::testing::Eq;
using ::testing::HasSubstr;

class PeoplePageTest : public ::testing::Test {
protected:
    void SetUp() override
    {
        window_.open_small_survey();
        original_ = window_.session.document().text();
        window_.press(Qt::Key_6, Qt::ControlModifier);
        ASSERT_TRUE(wait_until([&] { return window_.window.findChild<PeoplePage*>()->isVisible(); }));
    }
    std::shared_ptr<const Survey> survey() const { return window_.session.document().survey(); }
    QTableWidget& results() { return *window_.named<QTableWidget>("Judged days"); }
    QPushButton* button(const QString& words)
    {
        for (QPushButton* found : window_.window.findChildren<QPushButton*>())
            if (found->text() == words) return found;
        ADD_FAILURE() << "no button " << plain(words);
        return nullptr;
    }
    // By the keyboard alone, from field to field.
    void add_task(const QString& person, int space, const QString& hours)
    {
        auto* field = window_.named<QLineEdit>("Person of the new task");
        field->setFocus();
        field->selectAll();
        QTest::keyClicks(field, person);
        QTest::keyClick(field, Qt::Key_Tab); // the day
        QTest::keyClick(QApplication::focusWidget(), Qt::Key_Tab);
        ASSERT_EQ(QApplication::focusWidget(), window_.named<QComboBox>("Space of the new task"));
        QTest::keyClick(QApplication::focusWidget(), Qt::Key_Home);
        for (int i = 0; i < space; ++i) QTest::keyClick(QApplication::focusWidget(), Qt::Key_Down);
        for (int i = 0; i < 3; ++i) QTest::keyClick(QApplication::focusWidget(), Qt::Key_Tab);
        ASSERT_EQ(QApplication::focusWidget(), window_.named<QLineEdit>("Hours of the new task"));
        QTest::keyClicks(QApplication::focusWidget(), hours);
        QTest::keyClick(QApplication::focusWidget(), Qt::Key_Return);
    }

    WindowUnderTest window_;
    std::string original_;
};

TEST_F(PeoplePageTest, ADayAddedByKeyboardGivesAVerdict)
{
    EXPECT_THAT(plain(window_.named<QLabel>("Caution about health")->text()), HasSubstr("not a health assessment"));
    add_task("Fitter", 1, "4,5");
    add_task("Fitter", 2, "2");
    ASSERT_EQ(survey()->exposures.size(), 1U);
    ASSERT_EQ(survey()->exposures[0].tasks.size(), 2U);
    EXPECT_EQ(survey()->exposures[0].tasks[0].space, "c102");
    EXPECT_EQ(survey()->exposures[0].tasks[0].hours, 4.5);

    EXPECT_EQ(results().rowCount(), 0) << "nothing judges a day yet";
    auto* take = button("&Judge days by it");
    ASSERT_TRUE(take->isVisible());
    window_.picture("people-offer");
    take->setFocus();
    QTest::keyClick(take, Qt::Key_Space);
    ASSERT_TRUE(wait_until([&] { return results().rowCount() == 3; }));
    EXPECT_FALSE(take->isVisible());
    EXPECT_THAT(survey()->judges.back().uses, ElementsAre("crew-accommodation", "passenger-cabin"));
    window_.picture("people");
    window_.window.resize(900, 600);
    window_.picture("people-small");

    // As the core has it.
    std::size_t row = 0;
    for (const Verdict& verdict : window_.session.judgement()->assessment().verdicts) {
        if (verdict.person.empty()) continue;
        EXPECT_EQ(verdict.person, "Fitter");
        ASSERT_TRUE(verdict.judged) << verdict.why_not;
        EXPECT_TRUE(results().item(static_cast<int>(row), 3)->text().startsWith(number_words(*verdict.value, 3)));
        EXPECT_EQ(results().item(static_cast<int>(row), 4)->text(), band_words(verdict));
        ++row;
    }
    EXPECT_EQ(row, 3U);
    while (window_.session.document().steps().canUndo()) window_.session.document().steps().undo();
    EXPECT_THAT(window_.session.document().text(), Eq(original_));
}

TEST_F(PeoplePageTest, AnExceededActionValueNamesTheDutyToAct)
{
    // 0.8 m/s2 of Wk-weighted motion for 8 h lies above 0.5 and below 1.15.
    using namespace becalm::evaluators::tests;
    wav(window_.folder, "truck.wav", 400,
        {sine(0.01, 5.0, 400.0, 65.0), sine(0.01, 5.0, 400.0, 65.0), sine(1.1, 5.0, 400.0, 65.0)});
    const std::string text = original_ + R"(
[[space]]
id = "truck"
use = "working-area"

[[recording]]
file = "truck.wav"
space = "truck"
position = "seat-pan"
condition = "service"
channels = { 1 = "x", 2 = "y", 3 = "z" }

[[exposure]]
person = "Driver"
tasks = [ { space = "truck", hours = 8.0 } ]
)";
    ASSERT_TRUE(window_.session.change("x", text));
    auto* take = button("&Judge days by it");
    QTest::mouseClick(take, Qt::LeftButton);
    ASSERT_TRUE(wait_until([&] { return results().rowCount() == 3; }));
    const QLabel* duty = window_.named<QLabel>("Duty to act");
    EXPECT_TRUE(duty->isVisible());
    EXPECT_THAT(plain(duty->text()), HasSubstr("Driver: action value exceeded"));
    EXPECT_THAT(plain(duty->text()), HasSubstr("the employer has to act"));
    EXPECT_EQ(duty->text().count("Driver"), 1) << "a day once";
    EXPECT_THAT(plain(results().item(0, 5)->text()), HasSubstr("action value exceeded: after "));
    window_.picture("people-exceeded");
    QPalette dark;
    dark.setColor(QPalette::Window, QColor(45, 45, 48));
    dark.setColor(QPalette::Base, QColor(30, 30, 32));
    dark.setColor(QPalette::AlternateBase, QColor(52, 52, 56));
    for (const auto role : {QPalette::WindowText, QPalette::Text, QPalette::ButtonText})
        dark.setColor(role, QColor(225, 225, 225));
    dark.setColor(QPalette::PlaceholderText, QColor(150, 150, 150));
    dark.setColor(QPalette::Button, QColor(58, 58, 62));
    const QPalette before = QApplication::palette();
    QApplication::setPalette(dark);
    window_.picture("people-dark");
    window_.press(Qt::Key_1, Qt::ControlModifier);
    EXPECT_TRUE(wait_until([&] { return window_.window.asked() == MainWindow::Question::gather; }));
    window_.picture("gather-dark");
    QApplication::setPalette(before);
}

TEST_F(PeoplePageTest, HandsAreOfferedWhatJudgesHands)
{
    Survey hands = *survey();
    hands.recordings[1].position = Position::hand_left;
    hands.exposures = {{.person = "Fitter", .tasks = {{.space = "c102", .hours = 1.0}}}};
    const auto& library = window_.session.library();
    auto unjudged = evaluators::unjudged_tasks(hands, library);
    ASSERT_EQ(unjudged.size(), 1U);
    EXPECT_EQ(unjudged[0].position, Position::hand_left);
    const auto offers = evaluators::daily_criteria_for(hands, library, unjudged);
    ASSERT_FALSE(offers.empty());
    EXPECT_THAT(offers.front().criteria, ElementsAre("directive-2002-44-ec-hav", "eu-guide-hav-points"));
    hands.judges.push_back({.criteria = {"directive-2002-44-ec-a8"}});
    EXPECT_EQ(evaluators::unjudged_tasks(hands, library).size(), 1U) << "of the whole body, not of hands";
    hands.judges.push_back({.criteria = {"directive-2002-44-ec-hav"}, .uses = {"passenger-cabin"}});
    EXPECT_TRUE(evaluators::unjudged_tasks(hands, library).empty());
}

TEST_F(PeoplePageTest, HoursAreRoundedDown)
{
    EXPECT_EQ(hours_words(0.999), "59 min");
    EXPECT_EQ(hours_words(3.0), "3 h");
    EXPECT_EQ(hours_words(3.2166), "3 h 12 min");
}

} // namespace
} // namespace becalm::desktop::tests
