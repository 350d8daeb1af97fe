// What a person meets who does not see the window or has no mouse.
#include <QAbstractButton>
#include <QAccessible>
#include <QButtonGroup>
#include <QMenu>
#include <QMenuBar>
#include <QTextBrowser>
#include <algorithm>
#include <map>
#include <set>

#include "ui/desktop/look.h"

#include "tests/faces/desktop/window_under_test.h"

namespace becalm::desktop::tests {
namespace {

using ::testing::IsEmpty;
using Question = MainWindow::Question;

const std::vector<Question> every_page{Question::start,    Question::gather, Question::where,
                                       Question::how_much, Question::when,   Question::why,
                                       Question::people,   Question::keys,   Question::about};

void settle()
{
    for (int i = 0; i < 3; ++i) {
        QApplication::processEvents();
        QApplication::sendPostedEvents(nullptr, QEvent::DeferredDelete);
    }
}

class AccessibilityTest : public ::testing::Test {
protected:
    void TearDown() override
    {
        put_on(Look{});
        settle();
    }
};

// Below `item`, as a screen reader walks: controls that can have the focus and say nothing.
void collect_nameless(QAccessibleInterface* item, int depth, std::vector<std::string>& nameless, int& focusable)
{
    if (item == nullptr || !item->isValid() || depth > 60) return;
    const QAccessible::State state = item->state();
    if (state.invisible) return;
    if (state.focusable && item->role() != QAccessible::Window) {
        ++focusable;
        if (item->text(QAccessible::Name).trimmed().isEmpty()) {
            const QObject* object = item->object();
            nameless.push_back(fmt::format("{} {} (role {})",
                                           object != nullptr ? object->metaObject()->className() : "item",
                                           object != nullptr ? object->objectName().toStdString() : std::string(),
                                           static_cast<int>(item->role())));
        }
    }
    // The cells of a table are told by the table; an empty one is empty.
    if (item->tableInterface() != nullptr) return;
    for (int i = 0; i < item->childCount(); ++i) collect_nameless(item->child(i), depth + 1, nameless, focusable);
}

TEST_F(AccessibilityTest, EveryControlThatCanHaveTheFocusHasAName)
{
    WindowUnderTest under_test;
    under_test.open_small_survey();
    under_test.window.notices().say(QStringLiteral("Something to decide."), QStringLiteral("k"),
                                    {{QStringLiteral("Do it"), [] {}}});
    for (const QString& language : {QStringLiteral("en"), QStringLiteral("de"), QStringLiteral("fr")}) {
        put_on(Look{.language = language});
        settle();
        for (const Question question : every_page) {
            under_test.window.ask(question);
            settle();
            std::vector<std::string> nameless;
            int focusable = 0;
            collect_nameless(QAccessible::queryAccessibleInterface(&under_test.window), 0, nameless, focusable);
            EXPECT_THAT(nameless, IsEmpty()) << "page " << static_cast<int>(question);
            EXPECT_GT(focusable, 6) << "the walk went astray";
        }
    }
}

QChar mnemonic_of(const QString& words)
{
    for (int i = 0; i + 1 < words.size(); ++i) {
        if (words[i] != QChar(u'&')) continue;
        if (words[i + 1] != QChar(u'&')) return words[i + 1].toLower();
        ++i;
    }
    return {};
}

void expect_letters_of_their_own(const QList<QAction*>& actions, const std::string& where)
{
    std::map<QChar, std::string> seen;
    for (const QAction* action : actions) {
        if (action->isSeparator()) continue;
        EXPECT_FALSE(action->text().trimmed().isEmpty()) << where;
        const QChar letter = mnemonic_of(action->text());
        if (letter.isNull()) continue;
        const auto [before, is_new] = seen.emplace(letter, action->text().toStdString());
        EXPECT_TRUE(is_new) << where << ": " << before->second << " and " << action->text().toStdString();
    }
}

TEST_F(AccessibilityTest, NoMenuHasALetterTwiceAndNoKeysDoTwoThings)
{
    WindowUnderTest under_test;
    under_test.open_small_survey();
    for (const QString& language : {QStringLiteral("en"), QStringLiteral("de"), QStringLiteral("fr")}) {
        put_on(Look{.language = language});
        settle();
        const QMenuBar& bar = *under_test.window.menuBar();
        expect_letters_of_their_own(bar.actions(), language.toStdString() + ", the menus");
        std::map<QString, std::string> keys;
        const auto take = [&](const QKeySequence& sequence, const QString& who) {
            if (sequence.isEmpty()) return;
            const auto [before, is_new] = keys.emplace(sequence.toString(), who.toStdString());
            EXPECT_TRUE(is_new) << sequence.toString().toStdString() << ": " << before->second << " and "
                                << who.toStdString();
        };
        for (const QMenu* menu : bar.findChildren<QMenu*>()) {
            if (menu->title().isEmpty()) continue; // the bar's own, for what does not fit
            expect_letters_of_their_own(menu->actions(), language.toStdString() + ", " + menu->title().toStdString());
            for (const QAction* action : menu->actions())
                for (const QKeySequence& sequence : action->shortcuts()) take(sequence, action->text());
        }
        for (const auto* button : under_test.window.findChildren<QAbstractButton*>())
            if (mnemonic_of(button->text()).isNull()) take(button->shortcut(), button->accessibleName());
    }
}

bool takes_tab(const QWidget& widget)
{
    return widget.isVisible() && widget.isEnabled() && (widget.focusPolicy() & Qt::TabFocus) != 0 &&
           widget.focusProxy() == nullptr;
}

TEST_F(AccessibilityTest, TabReachesEveryFieldOfEveryPageAndComesBack)
{
    WindowUnderTest under_test;
    under_test.open_small_survey();
    for (const Question question : every_page) {
        under_test.window.ask(question);
        settle();
        // The button that stops what is being worked out comes and goes.
        ASSERT_TRUE(
            wait_until([&] { return !under_test.session.is_judging() && !under_test.session.is_explaining(); }));
        std::set<const QWidget*> wanted;
        for (const QWidget* widget : under_test.window.findChildren<QWidget*>())
            if (takes_tab(*widget)) wanted.insert(widget);
        if (wanted.empty()) continue;
        std::set<const QWidget*> reached;
        const auto reach = [&](const QWidget* widget) {
            if (!wanted.contains(widget)) return;
            reached.insert(widget);
            // Of buttons of which one is chosen, Tab takes one and the arrows the others.
            const auto* button = qobject_cast<const QAbstractButton*>(widget);
            if (button == nullptr || button->group() == nullptr || !button->group()->exclusive()) return;
            for (const QAbstractButton* other : button->group()->buttons()) reached.insert(other);
        };
        const std::size_t most = 4 * wanted.size() + 20;
        for (std::size_t i = 0; i < most && !std::ranges::includes(reached, wanted); ++i) {
            under_test.press(Qt::Key_Tab);
            const QWidget* focus = QApplication::focusWidget();
            // A field that kept Tab for itself would be a trap.
            reach(focus);
        }
        for (const QWidget* widget : wanted)
            EXPECT_TRUE(reached.contains(widget))
                << "page " << static_cast<int>(question) << ": " << widget->metaObject()->className() << " "
                << widget->accessibleName().toStdString();
    }
}

TEST_F(AccessibilityTest, WhatHasTheFocusLooksDifferent)
{
    WindowUnderTest under_test;
    for (const auto colours : {Look::Colours::light, Look::Colours::dark, Look::Colours::contrast}) {
        put_on(Look{.colours = colours});
        settle();
        for (const Question question : {Question::start, Question::about}) {
            under_test.window.ask(question);
            settle();
            for (QWidget* widget : under_test.window.findChildren<QWidget*>()) {
                if (!takes_tab(*widget) || qobject_cast<QAbstractButton*>(widget) == nullptr) continue;
                widget->clearFocus();
                const QImage without = widget->grab().toImage();
                widget->setFocus(Qt::TabFocusReason);
                QApplication::processEvents();
                ASSERT_EQ(QApplication::focusWidget(), widget);
                EXPECT_NE(widget->grab().toImage(), without)
                    << static_cast<int>(colours) << " " << widget->accessibleName().toStdString();
            }
        }
    }
}

TEST_F(AccessibilityTest, TheSheetsOfHelpOpenAndCloseByKeyboard)
{
    WindowUnderTest under_test;
    under_test.open_small_survey();
    under_test.window.ask(Question::when);
    under_test.press(Qt::Key_F1);
    EXPECT_EQ(under_test.window.asked(), Question::keys);
    auto* keys = under_test.named<QTextBrowser>(QStringLiteral("Keys"));
    ASSERT_NE(keys, nullptr);
    for (const char* wanted : {"Ctrl+O", "Ctrl+Z", "F5", "Ctrl+3", "How much is it?", "Judge again"})
        EXPECT_TRUE(keys->toPlainText().contains(QLatin1String(wanted))) << wanted;
    under_test.press(Qt::Key_Escape);
    EXPECT_EQ(under_test.window.asked(), Question::when);
    under_test.window.ask(Question::about);
    const QString about = under_test.named<QTextBrowser>(QStringLiteral("About Becalm"))->toPlainText();
    for (const char* wanted : {"General Public License", "libsndfile", "not a structural", qVersion()})
        EXPECT_TRUE(about.contains(QLatin1String(wanted))) << wanted;
    under_test.press(Qt::Key_Escape);
    EXPECT_EQ(under_test.window.asked(), Question::when);
}

} // namespace
} // namespace becalm::desktop::tests
