// The page When by mouse and keyboard: a span is dragged out, gets its reason, and the verdict follows; what is listed
// can be typed over and taken back; a file that goes away is told and loses nothing.
#include <QComboBox>
#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QPointer>
#include <QPushButton>
#include <QSignalSpy>
#include <QTableView>
#include <QWheelEvent>
#include <filesystem>

#include "src/io/survey_file.h"
#include "ui/desktop/span_edits.h"
#include "ui/desktop/when_page.h"
#include "ui/desktop/words.h"

#include "tests/faces/desktop/window_under_test.h"

namespace becalm::desktop::tests {
namespace {

using ::testing::DoubleNear;
using ::testing::Eq;
using ::testing::Gt;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Lt;
using ::testing::Not;
using ::testing::SizeIs;

class WhenPageTest : public testing::Test {
protected:
    void SetUp() override
    {
        ui.open_small_survey();
        ui.window.ask(MainWindow::Question::when);
        page = ui.window.findChild<WhenPage*>();
        strip = page->findChild<TimeView*>(QStringLiteral("strip"));
        curve = page->findChild<TimeView*>(QStringLiteral("samples"));
        ASSERT_TRUE(wait_until([&] { return !strip->is_empty() && !strip->scene().areas.empty(); }));
    }

    // By the mouse, in seconds.
    static void drag(TimeView& view, double from_s, double to_s, Qt::MouseButton button = Qt::LeftButton)
    {
        const figures::PlotArea plot = view.scene().areas.front();
        const int y = static_cast<int>(plot.rect.top + plot.rect.height / 2.0);
        const auto at = [&](double s) { return QPoint(static_cast<int>(std::lround(plot.x.px(s))), y); };
        QTest::mousePress(&view, button, Qt::NoModifier, at(from_s));
        QTest::mouseMove(&view, at((from_s + to_s) / 2.0));
        // QTest's moves carry no buttons.
        for (const double s : {(from_s + to_s) / 2.0, to_s}) {
            QMouseEvent move(QEvent::MouseMove, at(s), view.mapToGlobal(at(s)), Qt::NoButton, button, Qt::NoModifier);
            QApplication::sendEvent(&view, &move);
        }
        QTest::mouseRelease(&view, button, Qt::NoModifier, at(to_s));
    }

    void leave_out(double from_s, double to_s, const QString& reason)
    {
        drag(*strip, from_s, to_s);
        auto* box = ui.named<QComboBox>(QStringLiteral("Reason, or name of the event"));
        ASSERT_TRUE(box->isVisible());
        box->setEditText(reason);
        QTest::keyClick(box, Qt::Key_Return);
        ui.wait_for_verdicts();
    }

    const std::vector<ExcludedSpan>& excluded(const std::string& file = "loud.wav") const
    {
        return recording_of(*ui.session.document().survey(), file)->excluded;
    }
    const std::vector<EventSpan>& events(const std::string& file = "loud.wav") const
    {
        return recording_of(*ui.session.document().survey(), file)->events;
    }
    QTableView* table() { return ui.named<QTableView>(QStringLiteral("Left out, and events")); }

    // By double click and keyboard, as a person does.
    void type_over(int row, int column, const QString& words)
    {
        const QModelIndex index = table()->model()->index(row, column);
        table()->setCurrentIndex(index);
        table()->edit(index);
        const QPointer<QLineEdit> editor = table()->findChild<QLineEdit*>();
        ASSERT_NE(editor, nullptr);
        editor->selectAll();
        QTest::keyClicks(editor, words);
        QTest::keyClick(editor, Qt::Key_Return);
        ASSERT_TRUE(wait_until([&] { return editor == nullptr; }));
        QTest::qWait(50); // the survey changes once the editor has gone
    }

    WindowUnderTest ui;
    WhenPage* page = nullptr;
    TimeView *strip = nullptr, *curve = nullptr;
};

TEST_F(WhenPageTest, ShowsTheWorstVerdictsRecordingFirst)
{
    const auto* recordings = ui.named<QComboBox>(QStringLiteral("Recording"));
    EXPECT_THAT(recordings->currentData().toString(), Eq(QStringLiteral("loud.wav")));
    EXPECT_THAT(recordings->itemData(0).toString(), Eq(QStringLiteral("loud.wav")));
    EXPECT_THAT(page->window().whole_s, DoubleNear(65.0, 1e-9));
    EXPECT_TRUE(page->window().is_whole());
    ui.picture(QStringLiteral("when"));
    ui.window.resize(900, 600);
    ui.picture(QStringLiteral("when-small"));
    const QPalette light = QApplication::palette();
    QApplication::setPalette(QPalette(QColor(48, 50, 54), QColor(34, 36, 40)));
    leave_out(20.0, 22.0, QStringLiteral("door slam"));
    ui.picture(QStringLiteral("when-dark"));
    QApplication::setPalette(light);
}

TEST_F(WhenPageTest, ADragAndAReasonLeaveASpanOutAndTheVerdictFollows)
{
    const Verdict before = *ui.session.chosen_verdict();
    const auto now = [&] {
        for (const Verdict& verdict : ui.session.judgement()->assessment().verdicts)
            if (verdict.space == before.space) return verdict;
        return Verdict{};
    };
    drag(*strip, 10.0, 20.0);
    ui.picture(QStringLiteral("when-selected"));
    leave_out(20.2, 20.8, QStringLiteral("door slam"));
    ASSERT_THAT(excluded(), SizeIs(1));
    EXPECT_THAT(excluded()[0].from_s, DoubleNear(20.2, 0.2));
    EXPECT_THAT(excluded()[0].to_s, DoubleNear(20.8, 0.2));
    EXPECT_THAT(excluded()[0].reason, Eq("door slam"));
    EXPECT_THAT(excluded("quiet.wav"), IsEmpty());
    EXPECT_THAT(ui.session.document().text(), HasSubstr("# beside the shaft"));
    EXPECT_THAT(now().terms.at(0).duration_s, Eq(before.terms.at(0).duration_s - 1.0));
    const auto* effect = ui.named<QLabel>(QStringLiteral("What the change did"));
    EXPECT_TRUE(effect->isVisible());
    EXPECT_THAT(plain(effect->text()), HasSubstr("Cabin 102"));
    EXPECT_THAT(plain(effect->text()), HasSubstr(plain(value_words(now()))));
    EXPECT_EQ(table()->model()->rowCount(), 1);
    ui.picture(QStringLiteral("when-left-out"));

    // So much that what is left does not suffice: the page stays with this place and says why.
    leave_out(30.0, 40.0, QStringLiteral("footsteps"));
    EXPECT_FALSE(now().judged);
    EXPECT_THAT(plain(effect->text()), HasSubstr(plain(value_words(before))));
    EXPECT_THAT(plain(effect->text()), HasSubstr("cannot be judged, because"));
    EXPECT_EQ(table()->model()->rowCount(), 2);

    for (int i = 0; i < 2; ++i) {
        ui.press(Qt::Key_Z, Qt::ControlModifier);
        ui.wait_for_verdicts();
    }
    EXPECT_THAT(excluded(), IsEmpty());
    EXPECT_EQ(now().value, before.value);
    EXPECT_EQ(table()->model()->rowCount(), 0);
}

TEST_F(WhenPageTest, ASpanWithoutAReasonIsNotLeftOut)
{
    drag(*curve, 10.0, 20.0);
    QSignalSpy said(&ui.session, &Session::said);
    auto* box = ui.named<QComboBox>(QStringLiteral("Reason, or name of the event"));
    QTest::keyClick(box, Qt::Key_Return);
    EXPECT_THAT(excluded(), IsEmpty());
    ASSERT_TRUE(wait_until([&] { return said.count() == 1; }));
    EXPECT_THAT(plain(said[0][0].toString()), HasSubstr("reason"));
    QTest::keyClick(box, Qt::Key_Escape);
    EXPECT_FALSE(box->isVisible());
}

TEST_F(WhenPageTest, ANumberOfASpanIsTypedOverWithADecimalComma)
{
    leave_out(10.0, 20.0, QStringLiteral("door slam"));
    type_over(0, SpanModel::to, QStringLiteral("31,25"));
    ASSERT_THAT(excluded(), SizeIs(1));
    EXPECT_EQ(excluded()[0].to_s, 31.25);
    EXPECT_EQ(excluded()[0].reason, "door slam");
    QSignalSpy said(&ui.session, &Session::said);
    type_over(0, SpanModel::to, QStringLiteral("later"));
    EXPECT_EQ(excluded()[0].to_s, 31.25);
    ASSERT_EQ(said.count(), 1);
    EXPECT_THAT(plain(said[0][0].toString()), HasSubstr("later"));
    type_over(0, SpanModel::from, QStringLiteral("40"));
    EXPECT_THAT(excluded()[0].from_s, Lt(31.0));
    ASSERT_TRUE(wait_until([&] { return said.count() == 2; })); // it would end before it begins
    ui.press(Qt::Key_Z, Qt::ControlModifier);
    EXPECT_THAT(excluded()[0].to_s, DoubleNear(20.0, 0.2));
}

TEST_F(WhenPageTest, ARowIsTakenBack)
{
    leave_out(10.0, 20.0, QStringLiteral("door slam"));
    leave_out(40.0, 50.0, QStringLiteral("footsteps"));
    ASSERT_THAT(excluded(), SizeIs(2));
    table()->setCurrentIndex(table()->model()->index(0, 0));
    for (QPushButton* button : page->findChildren<QPushButton*>())
        if (button->text() == QStringLiteral("Take back")) QTest::mouseClick(button, Qt::LeftButton);
    ASSERT_THAT(excluded(), SizeIs(1));
    EXPECT_EQ(excluded()[0].reason, "footsteps");
}

TEST_F(WhenPageTest, ASpanBecomesAnEventThatAloneIsJudged)
{
    const auto mark = [&](double from_s, double to_s, const QString& title) {
        drag(*strip, from_s, to_s);
        ui.named<QComboBox>(QStringLiteral("Reason, or name of the event"))->setEditText(title);
        for (QPushButton* button : page->findChildren<QPushButton*>())
            if (button->text() == QStringLiteral("Is an event")) QTest::mouseClick(button, Qt::LeftButton);
        ui.wait_for_verdicts();
    };
    mark(40.0, 60.0, QStringLiteral("second \"run\""));
    mark(5.0, 15.0, QStringLiteral("first run"));
    ASSERT_THAT(events(), SizeIs(2));
    EXPECT_EQ(events()[0].title, "first run");
    EXPECT_EQ(events()[1].title, "second \"run\"");
    EXPECT_EQ(table()->model()->rowCount(), 2);
    ui.picture(QStringLiteral("when-events"));
    QSignalSpy said(&ui.session, &Session::said);
    mark(50.0, 62.0, QStringLiteral("overlaps"));
    EXPECT_THAT(events(), SizeIs(2));
    ASSERT_THAT(said.count(), Gt(0));
    EXPECT_THAT(plain(said[0][0].toString()), HasSubstr("overlap"));
    type_over(0, SpanModel::words, QStringLiteral("run 1"));
    EXPECT_EQ(events()[0].title, "run 1");
    while (!events().empty()) {
        const std::size_t left = events().size();
        table()->setCurrentIndex(table()->model()->index(0, 0));
        for (QPushButton* button : page->findChildren<QPushButton*>())
            if (button->text() == QStringLiteral("Take back")) QTest::mouseClick(button, Qt::LeftButton);
        ASSERT_EQ(events().size() + 1, left);
    }
    EXPECT_THAT(ui.session.document().text(), Not(HasSubstr("events")));
}

TEST_F(WhenPageTest, ZoomsToSingleSamplesByWheelAndKeysAndMovesAlong)
{
    const figures::PlotArea plot = curve->scene().areas.front();
    const QPointF at(plot.x.px(30.0), plot.rect.top + 20.0);
    for (int i = 0; i < 20; ++i) {
        QWheelEvent turn(at, curve->mapToGlobal(at), {}, {0, 120}, Qt::NoButton, Qt::NoModifier, Qt::NoScrollPhase,
                         false);
        QApplication::sendEvent(curve, &turn);
    }
    EXPECT_THAT(page->window().from_s, Lt(30.2));
    EXPECT_THAT(page->window().to_s, Gt(29.8));
    EXPECT_THAT(page->window().length_s(), Lt(0.1));
    ASSERT_TRUE(wait_until([&] {
        return plain(qt(curve->scene().title + curve->figure().subtitle)).find("every sample") != std::string::npos;
    }));
    ui.picture(QStringLiteral("when-samples"));

    curve->setFocus();
    const TimeWindow closest = page->window();
    ui.press(Qt::Key_Right);
    EXPECT_THAT(page->window().from_s, DoubleNear(closest.from_s + closest.length_s() / 4.0, 1e-9));
    ui.press(Qt::Key_Left);
    EXPECT_THAT(page->window().from_s, DoubleNear(closest.from_s, 1e-9));
    ui.press(Qt::Key_Minus);
    EXPECT_THAT(page->window().length_s(), DoubleNear(2.0 * closest.length_s(), 1e-9));
    ui.press(Qt::Key_Plus);
    EXPECT_THAT(page->window().length_s(), DoubleNear(closest.length_s(), 1e-9));
    ui.press(Qt::Key_End);
    EXPECT_THAT(page->window().to_s, DoubleNear(65.0, 1e-9));
    ui.press(Qt::Key_Home);
    EXPECT_THAT(page->window().from_s, Eq(0.0));
    page->look_at(20.0, 30.0);
    drag(*curve, 25.0, 22.0, Qt::MiddleButton);
    EXPECT_THAT(page->window().from_s, DoubleNear(23.0, 0.1));
    EXPECT_THAT(page->window().length_s(), DoubleNear(10.0, 1e-9));
}

TEST_F(WhenPageTest, LeavesOutBySingleKeysAndTypedNumbers)
{
    curve->setFocus();
    ui.press(Qt::Key_X);
    auto* box = ui.named<QComboBox>(QStringLiteral("Reason, or name of the event"));
    ASSERT_TRUE(box->isVisible());
    auto* from = ui.named<QLineEdit>(QStringLiteral("Span from, seconds"));
    auto* to = ui.named<QLineEdit>(QStringLiteral("Span to, seconds"));
    from->selectAll();
    QTest::keyClicks(from, QStringLiteral("3,5"));
    to->selectAll();
    QTest::keyClicks(to, QStringLiteral("7.25"));
    QTest::keyClicks(box, QStringLiteral("sensor knocked"));
    QTest::keyClick(box, Qt::Key_Return);
    ASSERT_THAT(excluded(), SizeIs(1));
    EXPECT_EQ(excluded()[0].from_s, 3.5);
    EXPECT_EQ(excluded()[0].to_s, 7.25);
    EXPECT_EQ(excluded()[0].reason, "sensor knocked");
}

TEST_F(WhenPageTest, AFindingLeadsToItsSecond)
{
    // An exclusion behind the end is noticed at its second; one inside the recording is not.
    const SurveyDocument& document = ui.session.document();
    ASSERT_TRUE(
        ui.session.change(QStringLiteral("test"), io::with_exclusion(document.text(), plain(document.path()),
                                                                     "loud.wav", {70.0, 80.0, "behind the end"})));
    ui.wait_for_verdicts();
    auto* list = ui.named<QListWidget>(QStringLiteral("Findings"));
    ASSERT_TRUE(
        wait_until([&] { return list->count() > 0 && list->item(list->count() - 1)->flags() != Qt::NoItemFlags; }));
    QListWidgetItem* last = list->item(list->count() - 1);
    EXPECT_THAT(plain(last->text()), HasSubstr("caution, at 70 s"));
    QTest::mouseClick(list->viewport(), Qt::LeftButton, Qt::NoModifier, list->visualItemRect(last).center());
    EXPECT_THAT(page->window().to_s, DoubleNear(65.0, 1e-9));
    EXPECT_THAT(page->window().length_s(), DoubleNear(20.0, 1e-9));
}

TEST_F(WhenPageTest, AFileThatGoesAwayIsToldAndNothingIsLost)
{
    leave_out(10.0, 20.0, QStringLiteral("door slam"));
    const std::string file = ui.folder.path("loud.wav"), aside = ui.folder.path("aside.wav");
    std::filesystem::rename(file, aside);
    auto* trouble = ui.named<QLabel>(QStringLiteral("Trouble with the recording"));
    ASSERT_TRUE(wait_until([&] { return trouble->isVisible(); }));
    EXPECT_THAT(plain(trouble->text()), HasSubstr("no longer there"));
    EXPECT_THAT(plain(trouble->text()), HasSubstr("loud.wav"));
    EXPECT_FALSE(curve->is_empty());
    ui.picture(QStringLiteral("when-gone"));
    ASSERT_THAT(excluded(), SizeIs(1));
    ui.session.judge();
    ui.wait_for_verdicts();
    ASSERT_TRUE(wait_until([&] { return curve->is_empty(); }));
    EXPECT_THAT(plain(trouble->text()), HasSubstr("loud.wav"));
    EXPECT_THAT(excluded(), SizeIs(1));
    EXPECT_EQ(table()->model()->rowCount(), 1);

    std::filesystem::rename(aside, file);
    ui.session.judge();
    ui.wait_for_verdicts();
    ASSERT_TRUE(wait_until([&] { return !trouble->isVisible(); }));
    page->look_at(40.0, 40.5);
    EXPECT_TRUE(wait_until([&] { return curve->figure().subtitle.find("every sample") != std::string::npos; }));
}

TEST_F(WhenPageTest, SaysWhyNothingIsHeardAndStopsWhatPlays)
{
    struct Nothing final : SoundOutput {
        Result<double> open() override { return fail({.what = "no sound could be played: no device"}); }
        Result<void> write(std::span<const float>) override { return {}; }
        void close(bool) override {}
    };
    page->player().set_output([] { return std::make_unique<Nothing>(); });
    curve->setFocus();
    ui.press(Qt::Key_Space);
    auto* heard = ui.named<QLabel>(QStringLiteral("What is heard"));
    ASSERT_TRUE(wait_until([&] { return heard->isVisible(); }));
    EXPECT_THAT(plain(heard->text()), HasSubstr("no device"));
    EXPECT_FALSE(page->player().is_playing());
}

} // namespace
} // namespace becalm::desktop::tests
