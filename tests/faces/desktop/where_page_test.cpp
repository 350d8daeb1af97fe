#include <QClipboard>
#include <QComboBox>
#include <QDragEnterEvent>
#include <QImage>
#include <QLabel>
#include <QLineEdit>
#include <QMimeData>
#include <QPainter>
#include <QPdfWriter>
#include <QPushButton>
#include <QSpinBox>
#include <QTreeView>

#include "ui/desktop/plan_panel.h"
#include "ui/desktop/plan_picture.h"
#include "ui/desktop/plan_view.h"
#include "ui/desktop/space_list.h"
#include "ui/desktop/where_page.h"

#include "tests/faces/desktop/window_under_test.h"

namespace becalm::desktop::tests {
namespace {

using ::testing::Eq;
using ::testing::HasSubstr;
using ::testing::Not;
using Question = MainWindow::Question;

// Four rooms drawn as a person would.
void write_drawing(const ScratchFolder& folder, const std::string& name)
{
    folder.file(name, R"(<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 800 400">
<rect x="10" y="10" width="780" height="380" fill="#f4f4f4" stroke="#333" stroke-width="4"/>
<path d="M270 10v380M530 10v380M10 200h780" stroke="#333" stroke-width="3"/></svg>)");
}

class WherePageTest : public ::testing::Test {
protected:
    void open(bool with_plan)
    {
        under_test.open_small_survey();
        under_test.window.ask(Question::where);
        page = dynamic_cast<WherePage*>(under_test.window.page(Question::where));
        ASSERT_NE(page, nullptr);
        tree = under_test.named<QTreeView>(QStringLiteral("Spaces, the worst first"));
        if (!with_plan) return;
        write_drawing(under_test.folder, "deck.svg");
        ASSERT_TRUE(page->plans().add_plan(qt(under_test.folder.path("deck.svg"))));
        settle();
    }
    void settle()
    {
        under_test.wait_for_verdicts();
        ASSERT_TRUE(wait_until([&] { return !page->plans().is_reading(); }));
        QApplication::processEvents();
    }
    QModelIndex row(const std::string& space) const
    {
        const QModelIndexList found = tree->model()->match(tree->model()->index(0, 0), SpaceTreeModel::space_id_role,
                                                           qt(space), 1, Qt::MatchExactly | Qt::MatchRecursive);
        return found.isEmpty() ? QModelIndex() : found.front();
    }
    void click(const QModelIndex& index)
    {
        tree->scrollTo(index);
        QTest::mouseClick(tree->viewport(), Qt::LeftButton, {}, tree->visualRect(index).center());
    }
    void drop(const std::string& space, const QPointF& at)
    {
        PlanView& view = page->plans().view();
        QMimeData data;
        data.setData(QString::fromLatin1(space_mime_type), QByteArray::fromStdString(space));
        QDragEnterEvent enter(at.toPoint(), Qt::CopyAction, &data, Qt::LeftButton, Qt::NoModifier);
        QApplication::sendEvent(&view, &enter);
        EXPECT_TRUE(enter.isAccepted());
        QDropEvent dropped(at, Qt::CopyAction, &data, Qt::LeftButton, Qt::NoModifier);
        QApplication::sendEvent(&view, &dropped);
    }
    const Space& space(const std::string& id) { return *under_test.session.document().survey()->space(id); }

    WindowUnderTest under_test;
    WherePage* page = nullptr;
    QTreeView* tree = nullptr;
};

TEST_F(WherePageTest, ListsTheWorstFirstAndChoosesBySelectingARow)
{
    open(false);
    const QModelIndex first = tree->model()->index(0, 0, tree->model()->index(0, 0));
    EXPECT_EQ(first.data(SpaceTreeModel::space_id_role).toString().toStdString(), "c102");
    click(row("mess"));
    EXPECT_THAT(under_test.session.choice().space, Eq("mess"));
    EXPECT_THAT(under_test.session.choice().recording, Eq("mess.wav"));
    QTest::keyClick(tree, Qt::Key_Home);
    QTest::keyClick(tree, Qt::Key_Down);
    EXPECT_THAT(under_test.session.choice().space, Eq("c102"));
    QTest::keyClick(tree, Qt::Key_Return);
    EXPECT_EQ(under_test.window.asked(), Question::how_much);
    under_test.window.ask(Question::where);
    under_test.picture(QStringLiteral("where_without_plan"));
}

TEST_F(WherePageTest, AsksHowMuchOnADoubleClick)
{
    open(false);
    click(row("c101"));
    QTest::mouseDClick(tree->viewport(), Qt::LeftButton, {}, tree->visualRect(row("c101")).center());
    EXPECT_EQ(under_test.window.asked(), Question::how_much);
    EXPECT_THAT(under_test.session.choice().space, Eq("c101"));
}

TEST_F(WherePageTest, FiltersByWordsUseAndVerdict)
{
    open(false);
    auto* search = under_test.named<QLineEdit>(QStringLiteral("Search the spaces"));
    QTest::keyClicks(search, QStringLiteral("cabin 101"));
    EXPECT_TRUE(row("c101").isValid());
    EXPECT_FALSE(row("mess").isValid());
    search->clear();
    auto* use = under_test.named<QComboBox>(QStringLiteral("Use of the spaces shown"));
    use->setFocus();
    QTest::keyClicks(use, QStringLiteral("crew"));
    EXPECT_EQ(use->currentText().toStdString(), "crew-accommodation");
    EXPECT_TRUE(row("mess").isValid());
    EXPECT_FALSE(row("c101").isValid());
    QTest::keyClick(use, Qt::Key_Home);
    auto* verdicts = under_test.named<QComboBox>(QStringLiteral("Verdicts shown"));
    verdicts->setFocus();
    QTest::keyClicks(verdicts, QStringLiteral("cannot"));
    EXPECT_THAT(under_test.named<QLabel>(QStringLiteral("How many spaces"))->text().toStdString(),
                Eq("No space passes the filters."));
}

TEST_F(WherePageTest, CopiesTheTableForASpreadsheet)
{
    open(false);
    tree->setFocus();
    QTest::keyClick(tree, Qt::Key_C, Qt::ControlModifier);
    const QString text = QGuiApplication::clipboard()->text();
    EXPECT_EQ(text.count(QChar(u'\n')), 4) << text.toStdString(); // heads and three verdicts
    EXPECT_THAT(text.toStdString(), HasSubstr("Deck 1\tCabin 102\tpassenger-cabin\tfloor\tService speed\t"));
}

TEST_F(WherePageTest, TellsWhatToDoWithoutAPlanAndWritesOneThatIsAdded)
{
    open(false);
    EXPECT_THAT(under_test.named<QLabel>(QStringLiteral("About the plan"))->text().toStdString(),
                HasSubstr("There is no plan yet"));
    write_drawing(under_test.folder, "Deck 1.svg");
    ASSERT_TRUE(page->plans().add_plan(qt(under_test.folder.path("Deck 1.svg"))));
    settle();
    const auto survey = under_test.session.document().survey();
    ASSERT_EQ(survey->plans.size(), 1U);
    EXPECT_EQ(survey->plans[0].file, "Deck 1.svg");
    EXPECT_EQ(survey->plans[0].id, "deck-1");
    EXPECT_THAT(under_test.session.document().text(), HasSubstr("# A comment that must survive."));
    EXPECT_THAT(under_test.named<QLabel>(QStringLiteral("About the plan"))->text().toStdString(),
                HasSubstr("3 space(s) not on a plan yet"));
}

TEST_F(WherePageTest, PlacesASpaceThatIsDroppedOnThePlanAndTakesItBack)
{
    open(true);
    PlanView& view = page->plans().view();
    const std::unique_ptr<QMimeData> dragged(tree->model()->mimeData({row("c102")}));
    ASSERT_NE(dragged, nullptr);
    drop(dragged->data(QString::fromLatin1(space_mime_type)).toStdString(), view.at({.x = 0.25, .y = 0.5}));
    settle();
    ASSERT_TRUE(space("c102").place);
    EXPECT_EQ(space("c102").plan, "deck");
    EXPECT_NEAR(space("c102").place->x, 0.25, 0.01);
    EXPECT_NEAR(space("c102").place->y, 0.5, 0.01);
    EXPECT_FALSE(view.plate_of("c102").isEmpty());
    under_test.session.document().steps().undo();
    EXPECT_FALSE(space("c102").place);
    EXPECT_TRUE(view.marks().empty());
}

TEST_F(WherePageTest, ChoosesAndMovesASpaceByItsPlate)
{
    open(true);
    PlanView& view = page->plans().view();
    drop("c102", view.at({.x = 0.25, .y = 0.25}));
    drop("c101", view.at({.x = 0.75, .y = 0.25}));
    drop("mess", view.at({.x = 0.5, .y = 0.75}));
    settle();
    under_test.picture(QStringLiteral("where_plan"));
    QTest::mouseClick(&view, Qt::LeftButton, {}, view.plate_of("c101").center().toPoint());
    EXPECT_THAT(under_test.session.choice().space, Eq("c101"));
    EXPECT_EQ(tree->currentIndex().data(SpaceTreeModel::space_id_role).toString().toStdString(), "c101");
    EXPECT_NEAR(space("c101").place->x, 0.75, 0.01) << "a click moves nothing";

    const QPoint from = view.plate_of("mess").center().toPoint(), to = view.at({.x = 0.2, .y = 0.75}).toPoint();
    QTest::mousePress(&view, Qt::LeftButton, {}, from);
    QTest::mouseMove(&view, from + QPoint(30, 0));
    QMouseEvent move(QEvent::MouseMove, to, view.mapToGlobal(to), Qt::NoButton, Qt::LeftButton, Qt::NoModifier);
    QApplication::sendEvent(&view, &move);
    QTest::mouseRelease(&view, Qt::LeftButton, {}, to);
    settle();
    EXPECT_NEAR(space("mess").place->x, 0.2, 0.01);
    EXPECT_NEAR(space("mess").place->y, 0.75, 0.01);

    QTest::keyClick(&view, Qt::Key_Down, Qt::AltModifier); // the chosen one, by a hundredth
    settle();
    EXPECT_NEAR(space("c101").place->y, 0.26, 0.005);
    QTest::keyClick(&view, Qt::Key_Return);
    EXPECT_EQ(under_test.window.asked(), Question::how_much);
}

TEST_F(WherePageTest, PlacesTheChosenSpaceByKeyboardAloneAndTakesItOff)
{
    open(true);
    click(row("mess"));
    auto* place = under_test.named<QPushButton>(QStringLiteral("Place the chosen space on the plan"));
    place->setFocus();
    QTest::keyClick(place, Qt::Key_Space);
    settle();
    ASSERT_TRUE(space("mess").place);
    EXPECT_NEAR(space("mess").place->x, 0.5, 1e-9);
    QTest::keyClick(&page->plans().view(), Qt::Key_Left, Qt::AltModifier);
    settle();
    EXPECT_NEAR(space("mess").place->x, 0.49, 1e-9);
    auto* take_off = under_test.named<QPushButton>(QStringLiteral("Take the chosen space off the plan"));
    take_off->setFocus();
    QTest::keyClick(take_off, Qt::Key_Space);
    settle();
    EXPECT_FALSE(space("mess").place);
    EXPECT_EQ(space("mess").plan, "");
}

TEST_F(WherePageTest, ZoomsByWheelAndKeysAndMovesTheGround)
{
    open(true);
    PlanView& view = page->plans().view();
    const QPointF about = view.at({.x = 0.3, .y = 0.4});
    QWheelEvent wheel(about, view.mapToGlobal(about), {}, {0, 240}, Qt::NoButton, Qt::NoModifier, Qt::NoScrollPhase,
                      false);
    QApplication::sendEvent(&view, &wheel);
    EXPECT_GT(view.zoom(), 1.4);
    EXPECT_NEAR(view.place_at(about).x, 0.3, 1e-6) << "what lies under the cursor stays there";
    EXPECT_NEAR(view.place_at(about).y, 0.4, 1e-6);
    const QPoint from(20, 20);
    QTest::mousePress(&view, Qt::LeftButton, {}, from);
    const PlanPlace held = view.place_at(from);
    for (const QPoint to : {from + QPoint(20, 12), from + QPoint(31, 17)}) {
        QMouseEvent move(QEvent::MouseMove, to, view.mapToGlobal(to), Qt::NoButton, Qt::LeftButton, Qt::NoModifier);
        QApplication::sendEvent(&view, &move);
    }
    QTest::mouseRelease(&view, Qt::LeftButton, {}, from + QPoint(31, 17));
    EXPECT_NEAR(view.place_at(from + QPoint(31, 17)).x, held.x, 1e-6);
    QTest::keyClick(&view, Qt::Key_0);
    EXPECT_EQ(view.zoom(), 1.0);
    QTest::keyClick(&view, Qt::Key_Plus);
    EXPECT_GT(view.zoom(), 1.2);
}

TEST_F(WherePageTest, SaysWhyAPictureCannotBeShown)
{
    open(false);
    ASSERT_TRUE(page->plans().add_plan(qt(under_test.folder.path("gone.png"))));
    settle();
    const auto words = [&] { return under_test.named<QLabel>(QStringLiteral("About the plan"))->text().toStdString(); };
    EXPECT_THAT(words(), HasSubstr("gone.png cannot be shown: there is no such file"));
    under_test.folder.file("text.pdf", "no pdf at all");
    ASSERT_TRUE(page->plans().add_plan(qt(under_test.folder.path("text.pdf"))));
    settle();
    EXPECT_THAT(words(), HasSubstr("it is no PDF"));
    // Places can be given all the same.
    drop("mess", page->plans().view().at({.x = 0.5, .y = 0.5}));
    EXPECT_TRUE(space("mess").place);
}

TEST_F(WherePageTest, ShowsAPageOfAPdf)
{
    open(false);
    {
        QPdfWriter writer(qt(under_test.folder.path("deck.pdf")));
        QPainter painter(&writer);
        painter.drawText(1000, 1000, QStringLiteral("Deck 1"));
        writer.newPage();
        painter.fillRect(QRect(0, 0, 4000, 4000), Qt::black);
    }
    ASSERT_TRUE(page->plans().add_plan(qt(under_test.folder.path("deck.pdf"))));
    settle();
    auto* number = under_test.named<QSpinBox>(QStringLiteral("Page of the plan's PDF"));
    ASSERT_TRUE(number->isVisible());
    EXPECT_EQ(number->maximum(), 2);
    const auto dark = [&] {
        const PlanPicture picture = read_plan_picture(qt(under_test.folder.path("deck.pdf")),
                                                      under_test.session.document().survey()->plans[0].page);
        return qGray(picture.image.pixel(picture.image.width() / 3, picture.image.height() / 5)) < 40;
    };
    EXPECT_FALSE(dark());
    number->setFocus();
    QTest::keyClick(number, Qt::Key_Up);
    settle();
    EXPECT_EQ(under_test.session.document().survey()->plans[0].page, 2);
    EXPECT_TRUE(dark());
}

TEST_F(WherePageTest, LaysOutFourHundredSpacesQuickly)
{
    open(true);
    std::vector<PlanMark> marks;
    for (int i = 0; i < 400; ++i)
        marks.push_back({.space = "s" + std::to_string(i),
                         .words = QStringLiteral("Cabin %1").arg(i),
                         .band = QStringLiteral("adverse comment is probable"),
                         .place = {(i % 20) / 20.0, (i / 20) / 20.0},
                         .verdict = {.state = BandPlace::State::in_band,
                                     .band = static_cast<std::size_t>(i % 3),
                                     .bands = 3,
                                     .exceeds_from = 2}});
    PlanView& view = page->plans().view();
    view.show_marks(std::move(marks), "s7");
    QElapsedTimer timer;
    timer.start();
    view.grab();
    EXPECT_LT(timer.elapsed(), 1000) << "ms, also under the sanitizers";
    under_test.picture(QStringLiteral("where_400_spaces"));
}

} // namespace
} // namespace becalm::desktop::tests
