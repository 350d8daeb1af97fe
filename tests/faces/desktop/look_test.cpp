#include <QAbstractButton>
#include <QFile>
#include <QLabel>
#include <QMenu>
#include <QMenuBar>
#include <QXmlStreamReader>

#include "ui/desktop/figure_view.h"
#include "ui/desktop/look.h"
#include "ui/desktop/words.h"
#include "ui/figures/figure.h"

#include "tests/faces/desktop/window_under_test.h"

namespace becalm::desktop::tests {
namespace {

using ::testing::AnyOf;
using ::testing::Eq;
using ::testing::Ge;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Optional;

class LookTest : public ::testing::Test {
protected:
    void TearDown() override
    {
        put_on(Look{});
        QApplication::processEvents();
    }
};

double contrast(const QPalette& palette, QPalette::ColorGroup group, QPalette::ColorRole a, QPalette::ColorRole b)
{
    const auto of = [&](QPalette::ColorRole role) {
        const QColor colour = palette.color(group, role);
        return figures::Colour{static_cast<std::uint8_t>(colour.red()), static_cast<std::uint8_t>(colour.green()),
                               static_cast<std::uint8_t>(colour.blue())};
    };
    return figures::contrast(of(a), of(b));
}

TEST_F(LookTest, WordsStandOutFromWhatTheyStandOn)
{
    using P = QPalette;
    const std::vector<std::pair<P::ColorRole, P::ColorRole>> words{{P::WindowText, P::Window},
                                                                   {P::WindowText, P::Base},
                                                                   {P::Text, P::Base},
                                                                   {P::Text, P::AlternateBase},
                                                                   {P::Text, P::Window},
                                                                   {P::ButtonText, P::Button},
                                                                   {P::HighlightedText, P::Highlight},
                                                                   {P::ToolTipText, P::ToolTipBase},
                                                                   {P::PlaceholderText, P::Base},
                                                                   {P::Link, P::Base},
                                                                   {P::Link, P::Window},
                                                                   {P::LinkVisited, P::Base}};
    for (const auto& [colours, least] :
         {std::pair(Look::Colours::light, 4.5), std::pair(Look::Colours::dark, 4.5), // not a limit: WCAG 2.2, 1.4.3
          std::pair(Look::Colours::contrast, 7.0)}) {                                // not a limit: WCAG 2.2, 1.4.6
        const QPalette palette = colours_of(colours);
        for (const auto group : {P::Active, P::Inactive})
            for (const auto& [ink, ground] : words)
                EXPECT_THAT(contrast(palette, group, ink, ground), Ge(least))
                    << "palette " << static_cast<int>(colours) << ", role " << ink << " on " << ground;
        for (const auto ground : {P::Window, P::Base, P::Button}) {
            EXPECT_THAT(contrast(palette, P::Active, P::Highlight, ground), Ge(3.0)) << "the frame of the focus";
            EXPECT_THAT(contrast(palette, P::Disabled, P::WindowText, ground), Ge(3.0)) << "what cannot be used now";
        }
    }
}

TEST_F(LookTest, IsRememberedAndNonsenseInTheSettingsIsNotTaken)
{
    const ScratchFolder folder;
    QSettings settings(qt(folder.path("s.ini")), QSettings::IniFormat);
    EXPECT_EQ(look_in(settings), Look{});
    const Look look{.colours = Look::Colours::contrast, .percent = 175, .language = QStringLiteral("fr")};
    remember(look, settings);
    settings.sync();
    EXPECT_EQ(look_in(QSettings(qt(folder.path("s.ini")), QSettings::IniFormat)), look);
    settings.setValue(QStringLiteral("look/palette"), QStringLiteral("mauve"));
    settings.setValue(QStringLiteral("look/scale"), 4000);
    EXPECT_EQ(look_in(settings).colours, Look::Colours::system);
    EXPECT_EQ(look_in(settings).percent, 200);
}

QAction* action_of(const MainWindow& window, const QString& words)
{
    for (QMenu* menu : window.menuBar()->findChildren<QMenu*>())
        for (QAction* action : menu->actions())
            if (action->text().remove(QChar(u'&')) == words) return action;
    return nullptr;
}

// Lets the window be built anew where it wants to be.
void settle()
{
    for (int i = 0; i < 3; ++i) {
        QApplication::processEvents();
        QApplication::sendPostedEvents(nullptr, QEvent::DeferredDelete);
    }
}

TEST_F(LookTest, ChangesAtOnceAndKeepsWhatIsOpen)
{
    WindowUnderTest under_test;
    under_test.open_small_survey();
    under_test.window.ask(MainWindow::Question::how_much);
    Choice choice = under_test.session.choice();
    choice.space = "c102";
    under_test.session.choose(choice);
    under_test.window.notices().say(QStringLiteral("This stays."));
    const auto judgement = under_test.session.judgement();

    ASSERT_NE(action_of(under_test.window, QStringLiteral("Dark")), nullptr);
    action_of(under_test.window, QStringLiteral("Dark"))->trigger();
    settle();
    EXPECT_LT(under_test.window.palette().color(QPalette::Window).lightnessF(), 0.3F);
    action_of(under_test.window, QStringLiteral("Deutsch"))->trigger();
    settle();
    EXPECT_NE(under_test.named<QAbstractButton>(QStringLiteral("Wie viel ist es?")), nullptr);
    EXPECT_TRUE(action_of(under_test.window, QStringLiteral("Dunkel"))->isChecked());
    EXPECT_TRUE(action_of(under_test.window, QStringLiteral("Deutsch"))->isChecked());
    const double before = QFontMetricsF(under_test.window.font()).height();
    under_test.press(Qt::Key_Plus, Qt::ControlModifier);
    settle();
    EXPECT_NEAR(QFontMetricsF(under_test.window.font()).height() / before, 1.25, 0.08);

    EXPECT_EQ(under_test.window.asked(), MainWindow::Question::how_much);
    EXPECT_EQ(under_test.session.choice().space, "c102");
    EXPECT_EQ(under_test.session.judgement(), judgement) << "nothing is judged anew for it";
    EXPECT_TRUE(under_test.window.notices().sentences().contains(QStringLiteral("This stays.")));
    const Look kept = look_in(under_test.settings);
    EXPECT_EQ(kept.colours, Look::Colours::dark);
    EXPECT_EQ(kept.percent, 125);
    EXPECT_EQ(kept.language, QStringLiteral("de"));
    under_test.press(Qt::Key_0, Qt::ControlModifier);
    settle();
    EXPECT_EQ(look_in(under_test.settings).percent, 100);
}

// A word wider or higher than the place it has. What scrolls may be out of sight, but has its full size.
std::vector<std::string> clipped_words(const QWidget& window)
{
    std::vector<std::string> clipped;
    const auto check = [&](const QWidget& widget, const QString& words, bool wraps) {
        if (!widget.isVisible() || words.isEmpty()) return;
        if (widget.sizePolicy().horizontalPolicy() == QSizePolicy::Ignored) return; // has a tip instead
        const bool narrow = !wraps && widget.width() < widget.minimumSizeHint().width();
        const int height = wraps ? widget.heightForWidth(widget.width()) : widget.minimumSizeHint().height();
        if (narrow || widget.height() < height)
            clipped.push_back(fmt::format("\"{}\" has {} x {} of {} x {}", words.toStdString(), widget.width(),
                                          widget.height(), widget.minimumSizeHint().width(), height));
    };
    for (const QLabel* label : window.findChildren<QLabel*>()) check(*label, label->text(), label->wordWrap());
    for (const QAbstractButton* button : window.findChildren<QAbstractButton*>()) check(*button, button->text(), false);
    return clipped;
}

TEST_F(LookTest, LargeWordsInASmallWindowScrollAndAreNotClipped)
{
    WindowUnderTest under_test;
    for (const QString& language : {QStringLiteral("en"), QStringLiteral("de"), QStringLiteral("fr")})
        for (const int percent : {100, 150, 200}) {
            put_on(Look{.colours = Look::Colours::light, .percent = percent, .language = language});
            settle();
            under_test.window.resize(900, 600);
            settle();
            const std::string where = fmt::format("{} at {} %", language.toStdString(), percent);
            EXPECT_EQ(under_test.window.size(), QSize(900, 600)) << where;
            EXPECT_THAT(clipped_words(under_test.window), IsEmpty()) << where;
            under_test.picture(QStringLiteral("start-%1-%2").arg(language).arg(percent));
        }
    // Long notices leave the page its place, and are not clipped either.
    for (int i = 0; i < 4; ++i)
        under_test.window.notices().say(
            QString(QStringLiteral("What went wrong, where, and what to do. ")).repeated(6) + QString::number(i),
            QString::number(i), {{QStringLiteral("Do it again"), [] {}}});
    settle();
    EXPECT_EQ(under_test.window.size(), QSize(900, 600));
    EXPECT_THAT(clipped_words(under_test.window), IsEmpty());
    under_test.picture(QStringLiteral("notices-200"));
    // By keyboard to the end of the page: what has the focus is in sight.
    for (int i = 0; i < 40; ++i) {
        under_test.press(Qt::Key_Tab);
        const QWidget* focus = QApplication::focusWidget();
        ASSERT_NE(focus, nullptr);
        const QRect place(focus->mapTo(&under_test.window, QPoint(0, 0)), focus->size());
        EXPECT_TRUE(under_test.window.rect().intersects(place)) << focus->metaObject()->className();
        EXPECT_FALSE(focus->visibleRegion().isEmpty()) << focus->accessibleName().toStdString();
    }
}

TEST_F(LookTest, FiguresGrowWithTheTextAndAreReadTheSame)
{
    FigureView view;
    view.resize(450, 300);
    const auto maker = [](double width_px, double height_px) {
        figures::Figure figure;
        figure.title = "A line";
        figure.width_px = width_px;
        figure.height_px = height_px;
        figures::Plot plot;
        plot.series.push_back({.x = {.listed = {0.0, 10.0}}, .values = {0.0, 5.0}});
        figure.panels.push_back({.content = plot});
        return figure;
    };
    view.show_figure(maker, QStringLiteral("line"));
    const auto words_height = [&] {
        double largest = 0.0;
        for (const figures::Item& item : view.scene().items)
            if (const auto* words = std::get_if<figures::Words>(&item.shape);
                words != nullptr && item.role == figures::Role::tick_label)
                largest = std::max(largest, words->size_px);
        return largest;
    };
    const double usual = words_height();
    ASSERT_GT(usual, 0.0);
    put_on(Look{.percent = 200});
    view.resize(900, 600);
    view.refresh();
    EXPECT_DOUBLE_EQ(words_height(), 2.0 * usual);
    EXPECT_NEAR(view.scene().width_px, 900.0, 1e-9);
    ASSERT_EQ(view.scene().areas.size(), 1U);
    const figures::PlotArea& area = view.scene().areas.front();
    EXPECT_LE(area.rect.right(), 900.0);
    const auto reading = view.reading_at({area.x.px(4.0), area.y.px(2.0)});
    ASSERT_TRUE(reading);
    EXPECT_NEAR(reading->x, 4.0, 1e-9);
    EXPECT_NEAR(reading->y, 2.0, 1e-9);
}

TEST_F(LookTest, InHighContrastTheWordsOfAFigureAreAsLoudAsThoseOfTheWindow)
{
    EXPECT_TRUE(is_high_contrast(colours_of(Look::Colours::contrast)));
    EXPECT_FALSE(is_high_contrast(colours_of(Look::Colours::light)));
    EXPECT_FALSE(is_high_contrast(colours_of(Look::Colours::dark)));
    for (const auto ink : {figures::Ink::text, figures::Ink::quiet}) {
        const QColor colour = colour_on(figures::colour_of(ink), Ground::contrast);
        const figures::Colour shown{static_cast<std::uint8_t>(colour.red()), static_cast<std::uint8_t>(colour.green()),
                                    static_cast<std::uint8_t>(colour.blue())};
        EXPECT_THAT(figures::contrast(shown, figures::colour_of(figures::Ink::paper)),
                    Ge(7.0)); // not a limit: WCAG 2.2, 1.4.6
    }
}

// --- language ---

TEST_F(LookTest, SpeaksGermanAndFrenchWithTheirPlurals)
{
    const auto minutes = [](int n) {
        return QCoreApplication::translate("becalm::desktop::MainWindow", "%n min left", nullptr, n);
    };
    WindowUnderTest under_test;
    put_on(Look{.language = QStringLiteral("de")});
    settle();
    EXPECT_EQ(minutes(1), QStringLiteral("noch 1 Minute"));
    EXPECT_EQ(minutes(2), QStringLiteral("noch 2 Minuten"));
    EXPECT_NE(under_test.named<QAbstractButton>(QStringLiteral("Warum schwingt es?")), nullptr);
    put_on(Look{.language = QStringLiteral("fr")});
    settle();
    EXPECT_EQ(minutes(0), QStringLiteral("encore 0 minute"));
    EXPECT_EQ(minutes(2), QStringLiteral("encore 2 minutes"));
    EXPECT_NE(under_test.named<QAbstractButton>(QStringLiteral("Où est-ce le pire ?")), nullptr);
    put_on(Look{.language = QStringLiteral("en")});
    settle();
    EXPECT_NE(under_test.named<QAbstractButton>(QStringLiteral("Where is it worst?")), nullptr);
}

TEST_F(LookTest, ReadsAndWritesNumbersAsTheLanguageDoes)
{
    for (const QString& language : {QStringLiteral("de"), QStringLiteral("fr"), QStringLiteral("it")}) {
        put_on(Look{.language = language});
        EXPECT_THAT(number_in(QStringLiteral("0,5")), Optional(0.5)) << language.toStdString();
        EXPECT_THAT(number_in(QStringLiteral("0.5")), Optional(0.5)) << language.toStdString();
        EXPECT_EQ(number_words(0.5, 1), QStringLiteral("0,5")) << language.toStdString();
    }
    put_on(Look{.language = QStringLiteral("en")});
    EXPECT_THAT(number_in(QStringLiteral("0,5")), Optional(0.5));
    EXPECT_EQ(number_words(0.5, 1), QStringLiteral("0.5"));
}

struct Translation {
    std::string context, source, words;
    bool finished = true;
};

std::vector<Translation> translations(const QString& language)
{
    QFile file(QStringLiteral(BECALM_PROJECT "/ui/desktop/translations/becalm_%1.ts").arg(language));
    EXPECT_TRUE(file.open(QIODevice::ReadOnly)) << file.fileName().toStdString();
    QXmlStreamReader xml(&file);
    std::vector<Translation> all;
    std::string context;
    while (!xml.atEnd()) {
        if (xml.readNext() != QXmlStreamReader::StartElement) continue;
        if (xml.name() == u"name") context = xml.readElementText().toStdString();
        if (xml.name() == u"source") all.push_back({context, xml.readElementText().toStdString(), {}, true});
        if (xml.name() == u"translation") {
            all.back().finished = !xml.attributes().hasAttribute(QStringLiteral("type"));
            all.back().words = xml.readElementText(QXmlStreamReader::IncludeChildElements).toStdString();
        }
    }
    EXPECT_FALSE(xml.hasError()) << xml.errorString().toStdString();
    return all;
}

TEST_F(LookTest, EveryWordThatWaitsForATranslationHasOne)
{
    for (const QString& language : {QStringLiteral("de"), QStringLiteral("fr")}) {
        const auto all = translations(language);
        EXPECT_GT(all.size(), 100U);
        for (const Translation& one : all) {
            const std::string where = language.toStdString() + ", " + one.context + ": " + one.source;
            EXPECT_TRUE(one.finished) << where;
            EXPECT_FALSE(QString::fromStdString(one.words).trimmed().isEmpty()) << where;
            for (const char* place : {"%1", "%2", "%3", "%n"})
                EXPECT_EQ(one.source.find(place) == std::string::npos, one.words.find(place) == std::string::npos)
                    << where << " and " << place;
            // A file box tells types by what stands in brackets.
            const std::size_t types = one.source.find("(*.");
            if (types != std::string::npos) {
                EXPECT_THAT(one.words, HasSubstr(one.source.substr(types))) << where;
            }
        }
    }
}

// --- pictures, to look at ---

TEST_F(LookTest, PicturesOfEveryPage)
{
    WindowUnderTest under_test;
    under_test.open_small_survey();
    using Question = MainWindow::Question;
    const std::vector<std::pair<Question, const char*>> pages{
        {Question::start, "start"},       {Question::gather, "gather"}, {Question::where, "where"},
        {Question::how_much, "how-much"}, {Question::when, "when"},     {Question::why, "why"},
        {Question::people, "people"},     {Question::keys, "keys"},     {Question::about, "about"}};
    const std::vector<std::pair<Look, const char*>> looks{
        {{.colours = Look::Colours::light}, "light"},
        {{.colours = Look::Colours::dark, .percent = 150, .language = QStringLiteral("de")}, "dark-150-de"},
        {{.colours = Look::Colours::contrast, .percent = 200, .language = QStringLiteral("fr")}, "contrast-200-fr"}};
    for (const auto& [look, look_name] : looks) {
        put_on(look);
        settle();
        for (const auto& [question, name] : pages) {
            under_test.window.ask(question);
            settle();
            EXPECT_EQ(under_test.window.asked(), question);
            EXPECT_THAT(clipped_words(under_test.window), IsEmpty()) << name << " " << look_name;
            under_test.picture(QStringLiteral("%1-%2").arg(QLatin1String(name), QLatin1String(look_name)));
        }
    }
}

} // namespace
} // namespace becalm::desktop::tests
