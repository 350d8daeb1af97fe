// Why: the causes of a value, with the hand on a source's line, and what if. Numbers are compared with those of
// `becalm explain`.
#include <QComboBox>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QTabBar>
#include <QTabWidget>
#include <QTableView>
#include <QTableWidget>

#include "ui/desktop/source_spectrum_view.h"
#include "ui/desktop/source_trial.h"
#include "ui/desktop/words.h"

#include "tests/faces/cli_harness.h"
#include "tests/faces/desktop/window_under_test.h"

namespace becalm::desktop::tests {
namespace {

using ::testing::Eq;
using ::testing::HasSubstr;
using ::testing::Not;

class WhyPageTest : public ::testing::Test {
protected:
    // The page as it is asked for first: nothing is chosen, so it is about the worst space.
    void ask_why()
    {
        under_test_.open_small_survey();
        under_test_.window.ask(MainWindow::Question::why);
    }
    void wait_for_causes(std::size_t changes = 0)
    {
        ASSERT_TRUE(wait_until([&] {
            return !session_.is_explaining() && session_.causes() && session_.causes()->changes.size() == changes &&
                   session_.causes()->survey == session_.document().survey() && spectrum()->isVisible();
        })) << "no causes came";
    }
    void choose_loud_cabin()
    {
        ask_why();
        session_.choose({.space = "c102"});
        wait_for_causes();
    }

    SourceSpectrumView* spectrum() const
    {
        return under_test_.window.page(MainWindow::Question::why)->findChild<SourceSpectrumView*>();
    }
    const Explanation& explanation() const
    {
        for (const Explanation& each : session_.causes()->report.explanations)
            if (each.verdict.axis == session_.chosen_verdict()->axis) return each;
        ADD_FAILURE() << "no explanation of the chosen verdict";
        return session_.causes()->report.explanations.front();
    }
    // The table of sources: "840 r/min".
    QString tried_speed(int row) const
    {
        return under_test_.named<QTableWidget>(QStringLiteral("Sources and their speeds"))->item(row, 2)->text();
    }
    void show_table(int index)
    {
        under_test_.named<QTabWidget>(QStringLiteral("Tables of the causes"))->setCurrentIndex(index);
    }
    QPushButton* button(const QString& words) const
    {
        for (QPushButton* each : under_test_.window.findChildren<QPushButton*>())
            if (each->text().remove(QChar(u'&')) == words && each->isVisible()) return each;
        ADD_FAILURE() << "no button " << words.toStdString();
        return nullptr;
    }
    // The line of 12.5 Hz is drawn to the frequency with the mouse.
    void draw_line_to(double hz)
    {
        const auto& area = spectrum()->scene().areas.front();
        const int y = static_cast<int>(area.rect.top + area.rect.height / 2.0);
        const QPoint from(static_cast<int>(std::lround(*spectrum()->place_of(0))), y);
        const QPoint to(static_cast<int>(std::lround(area.x.px(hz))), y);
        QTest::mouseMove(spectrum(), from);
        QTest::mousePress(spectrum(), Qt::LeftButton, {}, from);
        QTest::mouseMove(spectrum(), (from + to) / 2);
        QTest::mouseMove(spectrum(), to);
        QTest::mouseRelease(spectrum(), Qt::LeftButton, {}, to);
    }
    std::vector<double> markers() const
    {
        std::vector<double> hz;
        for (const auto& marker : std::get<figures::Plot>(spectrum()->figure().panels.front().content).markers)
            hz.push_back(marker.x);
        return hz;
    }

    WindowUnderTest under_test_;
    Session& session_ = under_test_.session;
};

TEST_F(WhyPageTest, ExplainsTheWorstSpaceWhereNoneIsChosenAsTheCommandLineDoes)
{
    ask_why();
    wait_for_causes();
    EXPECT_EQ(session_.choice().space, "c102");
    const auto command = becalm::tests::call({"explain", under_test_.survey, "--space", "c102", "--json", "-"});
    ASSERT_EQ(command.code, 0) << command.err;
    const auto& wanted = command.json().at("explanations").at(0);
    const auto* table = under_test_.named<QTableView>(QStringLiteral("Frequencies that dominate"));
    ASSERT_EQ(static_cast<std::size_t>(table->model()->rowCount()), wanted.at("components").size());
    const auto cell = [&](int row, int column) {
        return table->model()->index(row, column).data().toString().toStdString();
    };
    EXPECT_NEAR(*number_in(qt(cell(0, 0)).split(QChar(0x00A0)).front()),
                wanted.at("components").at(0).at("hz").get<double>(), 1e-3);
    EXPECT_THAT(cell(0, 3), Eq("shaft (shaft)"));
    EXPECT_THAT(under_test_.named<QLabel>(QStringLiteral("Shares of the energy, and notes"))->text().toStdString(),
                HasSubstr("by named sources"));
    under_test_.picture(QStringLiteral("why"));
}

TEST_F(WhyPageTest, SaysPlainlyWhatNoSourceExplains)
{
    ask_why();
    session_.choose({.space = "mess"}); // a pump of 25 Hz that the survey does not name; the shaft's second order
    wait_for_causes();
    std::size_t unexplained = 0;
    const auto* table = under_test_.named<QTableView>(QStringLiteral("Frequencies that dominate"));
    for (int row = 0; row < table->model()->rowCount(); ++row)
        if (table->model()->index(row, 3).data().toString().startsWith(QStringLiteral("unexplained"))) ++unexplained;
    const auto expected = static_cast<std::size_t>(std::ranges::count_if(
        explanation().components, [](const ExplainedComponent& each) { return each.matches.empty(); }));
    EXPECT_GT(expected, 0U);
    EXPECT_EQ(unexplained, expected);
}

TEST_F(WhyPageTest, ALineDrawnWithTheMouseTakesItsHarmonicsAlongAndCanBeWrittenAndUndone)
{
    choose_loud_cabin();
    const std::string before = session_.document().text();
    const auto lines = markers();
    ASSERT_FALSE(lines.empty());
    EXPECT_NEAR(lines.front(), 12.5, 1e-9);
    draw_line_to(14.0);
    const auto drawn = markers();
    ASSERT_EQ(drawn.size(), lines.size());
    EXPECT_NEAR(drawn.front(), 14.0, 0.15); // half a pixel
    for (std::size_t i = 0; i < lines.size(); ++i) EXPECT_NEAR(drawn[i] / lines[i], drawn.front() / 12.5, 1e-9);
    EXPECT_THAT(session_.document().text(), Eq(before)) << "trying is no change of the survey";
    const double speed = 60.0 * drawn.front();
    EXPECT_NEAR(*number_in(tried_speed(0).split(QChar(0x00A0)).front()), speed, 1e-6);
    under_test_.picture(QStringLiteral("why-drawn"));

    // The condition states the speed that the lines rest on, so it is the condition's that is written.
    QTest::mouseClick(button(QStringLiteral("Write to the survey")), Qt::LeftButton);
    EXPECT_THAT(session_.document().text(), Not(Eq(before)));
    EXPECT_NEAR(session_.document().survey()->conditions.front().values.at("shaft_rpm"), speed, 1e-9);
    EXPECT_EQ(session_.document().survey()->sources.front().values.at("rpm"), 750.0);
    EXPECT_EQ(session_.document().steps().count(), 1);
    under_test_.wait_for_verdicts();
    wait_for_causes();
    EXPECT_TRUE(explanation().components.front().matches.empty()) << "12.5 Hz is the shaft's no longer";
    session_.document().steps().undo();
    EXPECT_THAT(session_.document().text(), Eq(before));
    under_test_.wait_for_verdicts();
    wait_for_causes();
    EXPECT_EQ(explanation().components.front().matches.front().source, "shaft");
    EXPECT_NEAR(markers().front(), 12.5, 1e-9);
}

TEST_F(WhyPageTest, ASpeedTypedWithADecimalCommaMovesTheLinesAtOnceAndAWrongOneIsSaid)
{
    choose_loud_cabin();
    show_table(1);
    auto* table = under_test_.named<QTableWidget>(QStringLiteral("Sources and their speeds"));
    table->setCurrentCell(0, 2);
    const auto type = [&](const QString& text) {
        table->setFocus();
        QTest::keyClick(table, Qt::Key_F2);
        auto* edit = table->findChild<QLineEdit*>();
        ASSERT_NE(edit, nullptr);
        edit->selectAll();
        QTest::keyClicks(edit, text);
        QTest::keyClick(edit, Qt::Key_Return);
    };
    type(QStringLiteral("772,5"));
    EXPECT_NEAR(markers().front(), 772.5 / 60.0, 1e-9);
    QString said;
    QObject::connect(&session_, &Session::said, &session_, [&](const QString& sentence) { said = sentence; });
    type(QStringLiteral("fast"));
    EXPECT_THAT(said.toStdString(), HasSubstr("fast"));
    EXPECT_NEAR(markers().front(), 772.5 / 60.0, 1e-9);
    EXPECT_THAT(tried_speed(0).toStdString(), HasSubstr("772.5"));
    QTest::mouseClick(button(QStringLiteral("Put back")), Qt::LeftButton);
    EXPECT_NEAR(markers().front(), 12.5, 1e-9);
}

TEST_F(WhyPageTest, WhatIfTakesADecimalCommaAndPredictsWhatTheCommandLineDoes)
{
    choose_loud_cabin();
    show_table(2);
    auto* by = under_test_.named<QLineEdit>(QStringLiteral("by, dB"));
    by->setFocus();
    QTest::keyClicks(by, QStringLiteral("6,5"));
    QTest::keyClick(by, Qt::Key_Return);
    wait_for_causes(1);
    const auto* answers =
        under_test_.named<QTableWidget>(QStringLiteral("Now, and what each change is predicted to do"));
    ASSERT_EQ(answers->rowCount(), 2);
    EXPECT_THAT(answers->item(1, 0)->text().toStdString(), Eq("shaft reduced by 6.5 dB"));
    const auto command =
        becalm::tests::call({"explain", under_test_.survey, "--space", "c102", "--reduce", "shaft=6.5", "--json", "-"});
    ASSERT_EQ(command.code, 0) << command.err;
    const double value = command.json().at("explanations").at(0).at("predictions").at(0).at("value").get<double>();
    EXPECT_THAT(answers->item(1, 1)->text().toStdString(), HasSubstr(number_words(1e3 * value, 3).toStdString()));
    EXPECT_THAT(under_test_.named<QLabel>(QStringLiteral("What would cure it"))->text().toStdString(),
                HasSubstr("shaft"));
    under_test_.picture(QStringLiteral("why-what-if"));

    // A word is no number, and a mount has no frequency of 0.
    QString said;
    QObject::connect(&session_, &Session::said, &session_, [&](const QString& sentence) { said = sentence; });
    by->clear();
    QTest::keyClicks(by, QStringLiteral("half"));
    QTest::keyClick(by, Qt::Key_Return);
    EXPECT_THAT(said.toStdString(), HasSubstr("half"));
    auto* kind = under_test_.named<QComboBox>(QStringLiteral("Kind of change"));
    kind->setCurrentIndex(2);
    auto* mount = under_test_.named<QLineEdit>(QStringLiteral("natural frequency of the mount, Hz"));
    QTest::keyClicks(mount, QStringLiteral("0"));
    QTest::keyClick(mount, Qt::Key_Return);
    EXPECT_THAT(said.toStdString(), HasSubstr("not above 0"));
    EXPECT_EQ(answers->rowCount(), 2);

    answers->setFocus();
    under_test_.named<QTableWidget>(QStringLiteral("Now, and what each change is predicted to do"))
        ->setCurrentCell(1, 0);
    QTest::mouseClick(button(QStringLiteral("Forget the chosen")), Qt::LeftButton);
    wait_for_causes(0);
    EXPECT_EQ(answers->rowCount(), 1);
}

TEST_F(WhyPageTest, ChoosesAxisAndUnitsByKeyboardAndTellsTheCurveUnderTheCursor)
{
    choose_loud_cabin();
    auto* axis = under_test_.named<QComboBox>(QStringLiteral("Axis of the spectrum"));
    for (const ExplainedSpectrum& each : explanation().spectra) {
        axis->setFocus();
        QTest::keyClicks(axis, qt(each.axis));
        EXPECT_THAT(spectrum()->figure().title, HasSubstr("axis " + each.axis));
    }
    auto* motion = under_test_.named<QComboBox>(QStringLiteral("Motion shown"));
    auto* value = under_test_.named<QComboBox>(QStringLiteral("Density or amplitude"));
    motion->setCurrentIndex(0);
    value->setFocus();
    QTest::keyClick(value, Qt::Key_Down);
    const auto* readout = under_test_.named<QLabel>(QStringLiteral("Values under the cursor"));
    const auto hover = [&](double hz) {
        const auto& area = spectrum()->scene().areas.front();
        QTest::mouseMove(spectrum(),
                         QPoint(static_cast<int>(std::lround(area.x.px(hz))), static_cast<int>(area.rect.top + 20.0)));
        return readout->text().toStdString();
    };
    EXPECT_THAT(hover(30.0), HasSubstr("curve "));
    EXPECT_THAT(hover(30.0), HasSubstr("mm/s²"));
    motion->setFocus();
    QTest::keyClick(motion, Qt::Key_Down);
    EXPECT_THAT(hover(31.0), HasSubstr("mm/s"));
    EXPECT_THAT(hover(31.0), Not(HasSubstr("mm/s²")));
    bool stated = false;
    for (const std::string& note : spectrum()->figure().notes) stated = stated || note.find("left out") != note.npos;
    EXPECT_TRUE(stated) << "from where on it is integrated";
    auto* unit = under_test_.named<QComboBox>(QStringLiteral("Unit"));
    unit->setCurrentIndex(unit->findText(QStringLiteral("dB re 1 nm/s")));
    EXPECT_THAT(hover(30.0), HasSubstr("dB"));
    under_test_.picture(QStringLiteral("why-levels"));
}

TEST_F(WhyPageTest, ARowMarksItsLine)
{
    choose_loud_cabin();
    auto* table = under_test_.named<QTableView>(QStringLiteral("Frequencies that dominate"));
    EXPECT_FALSE(spectrum()->marked());
    QTest::mouseClick(table->viewport(), Qt::LeftButton, {}, table->visualRect(table->model()->index(0, 0)).center());
    ASSERT_TRUE(spectrum()->marked());
    EXPECT_EQ(*spectrum()->marked(), explanation().components.front().hz);
}

TEST_F(WhyPageTest, SwitchesTheSecondFigureByKeyboard)
{
    choose_loud_cabin();
    auto* second = under_test_.named<QTabWidget>(QStringLiteral("Second figure"));
    second->tabBar()->setFocus();
    for (const char* title : {"over time", "What carries"}) {
        QTest::keyClick(second->tabBar(), Qt::Key_Right);
        auto* view = qobject_cast<FigureView*>(second->currentWidget());
        ASSERT_NE(view, nullptr);
        EXPECT_THAT(view->figure().title, HasSubstr(title));
        under_test_.picture(QStringLiteral("why-%1").arg(QString::fromLatin1(title).simplified().replace(' ', '-')));
    }
}

TEST_F(WhyPageTest, CanBeStoppedAndAskedAgain)
{
    ask_why();
    ASSERT_TRUE(session_.is_explaining());
    QTest::mouseClick(button(QStringLiteral("Stop")), Qt::LeftButton);
    EXPECT_FALSE(session_.is_explaining());
    EXPECT_THAT(under_test_.named<QLabel>(QStringLiteral("State of the explanation"))->text().toStdString(),
                HasSubstr("Stopped"));
    QTest::qWait(50);
    EXPECT_FALSE(session_.causes());
    QTest::mouseClick(button(QStringLiteral("Explain")), Qt::LeftButton);
    wait_for_causes();
}

TEST(SourceTrial, WritesTheSpeedWhereItStandsAndKeepsFourDigits)
{
    Survey survey;
    survey.conditions = {{.id = "service", .values = {{"shaft_rpm", 165}}}};
    survey.sources = {{.id = "shaft", .kind = "shaft", .values = {{"rpm", 160}}},
                      {.id = "propeller", .kind = "propeller", .values = {{"blades", 4}}},
                      {.id = "fan", .kind = "plant", .values = {{"hz", 24.5}}},
                      {.id = "lost", .kind = "plant"}};
    const std::string text =
        "[[condition]]\nid = \"service\"\nshaft_rpm = 165 # as noted\n[[source]]\nid = \"shaft\"\n"
        "rpm = 160\n[[source]]\nid = \"propeller\"\nblades = 4\n[[source]]\nid = \"fan\"\nhz = 24.5\n";
    SourceTrial trial(survey, "service");
    EXPECT_FALSE(trial.is_changed());
    ASSERT_TRUE(trial.draw("propeller", 11.0, 11.123456)); // both rest on the condition's speed
    EXPECT_EQ(trial.speed("shaft")->value, 166.9);         // 165 * 11.123456 / 11 = 166.85...
    EXPECT_TRUE(trial.set_speed("fan", 24.25));
    EXPECT_FALSE(trial.set_speed("fan", 0.0));
    EXPECT_FALSE(trial.set_speed("lost", 5.0));
    EXPECT_TRUE(trial.missing("lost"));
    EXPECT_FALSE(trial.missing("fan"));
    const auto written = trial.written(text, "survey.toml");
    ASSERT_TRUE(written) << to_text(written.error());
    EXPECT_THAT(*written, HasSubstr("shaft_rpm = 166.9 # as noted"));
    EXPECT_THAT(*written, HasSubstr("rpm = 160\n"));
    EXPECT_THAT(*written, HasSubstr("hz = 24.25"));
    trial.put_back();
    EXPECT_FALSE(trial.is_changed());
    EXPECT_EQ(*trial.written(text, "survey.toml"), text);
}

} // namespace
} // namespace becalm::desktop::tests
