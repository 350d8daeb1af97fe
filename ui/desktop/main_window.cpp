#include "ui/desktop/main_window.h"

#include <QAction>
#include <QApplication>
#include <QCloseEvent>
#include <QDesktopServices>
#include <QDir>
#include <QDragEnterEvent>
#include <QFileDialog>
#include <QFileInfo>
#include <QHBoxLayout>
#include <QKeyEvent>
#include <QLineEdit>
#include <QMenuBar>
#include <QMimeData>
#include <QScrollArea>
#include <QScrollBar>
#include <QStatusBar>
#include <QToolButton>
#include <QUrl>
#include <QVBoxLayout>
#include <algorithm>
#include <utility>

#include "evaluators/new_survey.h"
#include "src/io/atomic_file.h"
#include "src/io/json_out.h"
#include "src/io/survey_file.h"
#include "ui/demo/demo_survey.h"
#include "ui/desktop/figure_view.h"
#include "ui/desktop/gather_page.h"
#include "ui/desktop/help_sheet.h"
#include "ui/desktop/how_much_page.h"
#include "ui/desktop/look.h"
#include "ui/desktop/look_menu.h"
#include "ui/desktop/people_page.h"
#include "ui/desktop/report_dialog.h"
#include "ui/desktop/start_page.h"
#include "ui/desktop/subject_line.h"
#include "ui/desktop/when_page.h"
#include "ui/desktop/where_page.h"
#include "ui/desktop/why_page.h"
#include "ui/desktop/words.h"

namespace becalm::desktop {
namespace {

constexpr int most_recent = 12;
const QString survey_name = QStringLiteral("survey.toml");

// Scrolls where the window is too small for it, with large words say.
QScrollArea* scrolled(QWidget* widget)
{
    auto* area = new QScrollArea;
    area->setWidget(widget);
    area->setWidgetResizable(true);
    area->setFrameShape(QFrame::NoFrame);
    area->setFocusPolicy(Qt::NoFocus); // what is in it has the focus
    return area;
}

// The rail is as wide as its words; with large words in a low window it scrolls.
class RailArea final : public QScrollArea {
public:
    explicit RailArea(QWidget* rail)
    {
        setWidget(rail);
        setWidgetResizable(true);
        setFrameShape(QFrame::NoFrame);
        setFocusPolicy(Qt::NoFocus);
        setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
        setSizePolicy(QSizePolicy::Fixed, QSizePolicy::Expanding);
        connect(verticalScrollBar(), &QScrollBar::rangeChanged, this, [this] { updateGeometry(); });
    }
    QSize sizeHint() const override
    {
        const bool scrolls = verticalScrollBar()->maximum() > 0;
        return {widget()->minimumSizeHint().width() + (scrolls ? verticalScrollBar()->sizeHint().width() : 0),
                widget()->sizeHint().height()};
    }
    QSize minimumSizeHint() const override { return {sizeHint().width(), fontMetrics().height() * 4}; }

protected:
    bool eventFilter(QObject* watched, QEvent* event) override
    {
        if (event->type() == QEvent::LayoutRequest) updateGeometry(); // the words have changed their size
        return QScrollArea::eventFilter(watched, event);
    }
};

// Notices take the height that they need, but no more than leaves the page its place; beyond that they scroll.
class NoticeArea final : public QScrollArea {
public:
    explicit NoticeArea(QWidget* notices)
    {
        setWidget(notices);
        setWidgetResizable(true);
        setFrameShape(QFrame::NoFrame);
        setFocusPolicy(Qt::NoFocus);
        setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
        setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
    }
    QSize sizeHint() const override
    {
        constexpr int a_part_of_the_window = 3;
        const int wanted = widget() == nullptr             ? 0
                           : widget()->hasHeightForWidth() ? widget()->heightForWidth(viewport()->width())
                                                           : widget()->sizeHint().height();
        return {0, std::min(wanted, window()->height() / a_part_of_the_window)};
    }
    QSize minimumSizeHint() const override { return sizeHint(); }

protected:
    bool eventFilter(QObject* watched, QEvent* event) override
    {
        if (event->type() == QEvent::LayoutRequest) updateGeometry();
        return QScrollArea::eventFilter(watched, event);
    }
    void resizeEvent(QResizeEvent* event) override
    {
        QScrollArea::resizeEvent(event);
        if (event->size().width() != event->oldSize().width()) updateGeometry(); // lines break elsewhere
    }
};

} // namespace

MainWindow::MainWindow(Session& session, QSettings& settings, QWidget* parent)
    : QMainWindow(parent), session_(session), settings_(settings)
{
    setAcceptDrops(true);
    QApplication::instance()->installEventFilter(this);
    notices_ = new Notices;
    build();
    listen();
    resize(1180, 760);
    restoreGeometry(settings_.value(QStringLiteral("window/geometry")).toByteArray());
    ask(Question::start);
}

void MainWindow::build()
{
    stack_ = new QStackedWidget;
    start_ = new StartPage;
    stack_->addWidget(scrolled(start_));
    pages_ = {new GatherPage(session_), new WherePage(session_), new HowMuchPage(session_),
              new WhenPage(session_),   new WhyPage(session_),   new PeoplePage(session_)};
    for (Page* page : pages_) {
        stack_->addWidget(scrolled(page));
        connect(page, &Page::hovered, this, [this](const QString& words) { readout_->setText(words); });
        connect(page, &Page::amount_wanted, this, [this] { ask(Question::how_much); });
    }
    for (HelpSheet** sheet : {&keys_, &about_}) {
        *sheet = new HelpSheet;
        stack_->addWidget(*sheet);
        connect(*sheet, &HelpSheet::done, this, [this] { ask(before_help_); });
    }
    subject_ = new SubjectLine(session_);

    auto* middle = new QWidget;
    auto* column = new QVBoxLayout(middle);
    column->setContentsMargins(10, 8, 10, 4);
    column->addWidget(subject_);
    column->addWidget(stack_, 1);
    notices_area_ = new NoticeArea(notices_);
    column->addWidget(notices_area_);
    auto* whole = new QWidget;
    auto* row = new QHBoxLayout(whole);
    row->setContentsMargins(0, 0, 0, 0);
    row->setSpacing(0);
    row->addWidget(make_rail());
    row->addWidget(middle, 1);
    setCentralWidget(whole);

    make_status_bar();
    make_menus();
    connect(start_, &StartPage::open, this, &MainWindow::open_survey);
    connect(start_, &StartPage::folder_wanted, this, [this] {
        const QString folder = QFileDialog::getExistingDirectory(this, tr("Folder of recordings"));
        if (!folder.isEmpty()) open_folder(folder);
    });
    connect(start_, &StartPage::survey_wanted, this, [this] {
        const QString path = QFileDialog::getOpenFileName(this, tr("Survey"), QString(), tr("Surveys (*.toml)"));
        if (!path.isEmpty()) open_survey(path);
    });
    connect(start_, &StartPage::demo_wanted, this, [this] {
        const QString folder = QFileDialog::getExistingDirectory(this, tr("Folder in which to put the demo"));
        if (!folder.isEmpty()) make_demo(QDir(folder).filePath(QStringLiteral("becalm-demo")));
    });
    start_->show_recent(recent());
    show_title();
    show_busy();
    show_document_state();
}

// Later: the change may come from a menu that goes with the rest.
void MainWindow::rebuild_soon()
{
    if (stack_ == nullptr || std::exchange(rebuilding_soon_, true)) return;
    QMetaObject::invokeMethod(this, &MainWindow::rebuild, Qt::QueuedConnection);
}

void MainWindow::rebuild()
{
    rebuilding_soon_ = false;
    const Question question = asked();
    const Question before_help = before_help_;
    (void)notices_area_->takeWidget(); // the only thing that is not in the session
    setMenuBar(nullptr);
    setStatusBar(nullptr);
    delete takeCentralWidget();
    build();
    ask(before_help);
    ask(question);
}

void MainWindow::make_status_bar()
{
    readout_ = new QLabel;
    // As long as it likes, but never the reason for a wider window.
    readout_->setSizePolicy(QSizePolicy::Ignored, QSizePolicy::Preferred);
    readout_->setAccessibleName(tr("Values under the cursor"));
    state_ = new QLabel;
    state_->setAccessibleName(tr("State of the survey file"));
    left_ = new QLabel;
    left_->setAccessibleName(tr("Time left"));
    progress_ = new QProgressBar;
    progress_->setAccessibleName(tr("Progress"));
    progress_->setRange(0, 1000);
    progress_->setTextVisible(false);
    progress_->setMaximumWidth(180);
    cancel_ = new QPushButton(tr("Stop"));
    cancel_->setToolTip(tr("Stop what is being worked out; nothing is lost"));
    statusBar()->addWidget(readout_, 1);
    statusBar()->addPermanentWidget(left_);
    statusBar()->addPermanentWidget(progress_);
    statusBar()->addPermanentWidget(cancel_);
    statusBar()->addPermanentWidget(state_);
    connect(cancel_, &QPushButton::clicked, this, [this] {
        session_.cancel();
        notices_->say(tr("Stopped. What is shown is of before; Judge again goes on."), QStringLiteral("stopped"),
                      {{tr("Judge again"), [this] { session_.judge(); }}});
    });
}

void MainWindow::listen()
{
    connect(qApp, &QApplication::focusChanged, this, [](QWidget*, QWidget* now) {
        for (QWidget* above = now; above != nullptr; above = above->parentWidget())
            if (auto* area = qobject_cast<QScrollArea*>(above)) area->ensureWidgetVisible(now);
    });
    connect(&LookChanges::of_the_program(), &LookChanges::changed, this, &MainWindow::rebuild_soon);
    connect(&session_, &Session::said, this, [this](const QString& sentence) { notices_->say(sentence); });
    connect(&session_, &Session::busy_changed, this, &MainWindow::show_busy);
    connect(&session_, &Session::report_done, this, &MainWindow::tell_report);
    connect(&session_, &Session::progressed, this, [this](double fraction, double left_s) {
        progress_->setValue(static_cast<int>(fraction * 1000.0));
        left_->setText(left_s < 0.0    ? QString()
                       : left_s < 90.0 ? tr("%n s left", nullptr, static_cast<int>(left_s) + 1)
                                       : tr("%n min left", nullptr, static_cast<int>(left_s / 60.0) + 1));
    });
    connect(&session_, &Session::judgement_changed, this, [this] {
        const auto judgement = session_.judgement();
        notices_->put_away(QStringLiteral("judgement"));
        notices_->put_away(QStringLiteral("unreadable"));
        if (!judgement) return;
        tell_unreadable(*judgement);
        if (judgement->problems.empty()) return;
        QStringList all;
        for (const Problem& problem : judgement->problems) all << problem_words(problem);
        notices_->say(all.join(QChar(u'\n')), QStringLiteral("judgement"));
    });
    SurveyDocument& document = session_.document();
    connect(&document, &SurveyDocument::changed, this, [this] {
        show_title();
        notices_->put_away(QStringLiteral("faults"));
        const auto& problems = session_.document().problems();
        if (problems.empty()) return;
        QStringList all;
        for (std::size_t i = 0; i < problems.size() && i < 6; ++i) all << problem_words(problems[i]);
        if (problems.size() > 6) all << tr("and %n more", nullptr, static_cast<int>(problems.size()) - 6);
        notices_->say(tr("The survey file has faults; what is shown is of before. Mend them in an editor, or undo:\n%1")
                          .arg(all.join(QChar(u'\n'))),
                      QStringLiteral("faults"));
    });
    connect(&document, &SurveyDocument::saved_state_changed, this, [this] {
        show_document_state();
        if (!session_.document().is_unsaved()) notices_->put_away(QStringLiteral("save"));
    });
    connect(&document, &SurveyDocument::could_not_save, this, [this](const QString& why) {
        notices_->say(
            session_.document().is_kept()
                ? tr("The survey could not be saved: %1. Your changes are kept and will be offered again.").arg(why)
                : tr("The survey could not be saved: %1. Your changes could not be kept elsewhere either: they are in "
                     "this window alone. Leave it open, make room or give back the folder, and try again.")
                      .arg(why),
            QStringLiteral("save"), {{tr("Try again"), [this] { (void)session_.document().save(); }}});
    });
    connect(&document, &SurveyDocument::changed_outside, this, [this] {
        notices_->say(tr("The survey file was changed elsewhere; the new text is shown. Undo brings yours back."),
                      QStringLiteral("outside"));
    });
    connect(&document, &SurveyDocument::conflict_found, this, [this] {
        notices_->say(tr("The survey file was changed elsewhere while you had unsaved changes. Nothing is lost: choose "
                         "which to keep."),
                      QStringLiteral("conflict"),
                      {{tr("Take the file's"), [this] { session_.document().take_theirs(); }},
                       {tr("Keep mine"), [this] { (void)session_.document().keep_ours(); }}});
    });
}

void MainWindow::tell_unreadable(const Judgement& judgement)
{
    QStringList all;
    for (const Finding& finding : judgement.assessment().findings)
        if (finding.code == "unreadable") all << shown(finding.message);
    if (all.isEmpty()) return;
    const int count = static_cast<int>(all.size());
    all = all.mid(0, 4);
    if (count > all.size()) all << tr("and %n more", nullptr, count - static_cast<int>(all.size()));
    notices_->say(tr("Recordings that cannot be read are not judged; the rest is. Bring them back or take them out of "
                     "the survey, then judge again:") +
                      QChar(u'\n') + all.join(QChar(u'\n')),
                  QStringLiteral("unreadable"), {{tr("Judge again"), [this] { session_.judge(); }}});
}

MainWindow::~MainWindow() { disconnect(&session_.document(), nullptr, this, nullptr); }

QWidget* MainWindow::make_rail()
{
    auto* rail = new QWidget;
    rail->setObjectName(QStringLiteral("rail"));
    auto* column = new QVBoxLayout(rail);
    column->setContentsMargins(8, 12, 8, 12);
    column->setSpacing(4);
    rail_ = new QButtonGroup(rail);
    rail_->setExclusive(true);
    struct Entry {
        Question question;
        QString word, rest, tip;
    };
    const std::vector<Entry> entries{
        {Question::gather, tr("What"), tr("was measured?"), tr("Recordings, channels, sensors, spaces, conditions")},
        {Question::where, tr("Where"), tr("is it worst?"), tr("Spaces by deck, storey or vehicle, and the plan")},
        {Question::how_much, tr("How much"), tr("is it?"), tr("Values among the bands of each criterion")},
        {Question::when, tr("When"), tr("does it happen?"), tr("Recordings over time; spans to leave out")},
        {Question::why, tr("Why"), tr("does it shake?"), tr("Spectra, sources, what if")},
        {Question::people, tr("Who"), tr("is exposed?"), tr("Daily exposures of persons")}};
    int number = 1;
    for (const Entry& entry : entries) {
        auto* button = new QToolButton;
        button->setText(entry.word + QChar(u'\n') + entry.rest);
        button->setAccessibleName(entry.word + QChar(u' ') + entry.rest);
        button->setToolTip(QStringLiteral("%1 (Ctrl+%2)").arg(entry.tip).arg(number));
        button->setShortcut(QKeySequence(Qt::CTRL | static_cast<Qt::Key>(Qt::Key_0 + number)));
        button->setCheckable(true);
        button->setAutoRaise(true);
        button->setFocusPolicy(Qt::StrongFocus);
        button->setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
        button->setMinimumHeight(button->fontMetrics().height() * 8 / 3);
        rail_->addButton(button, static_cast<int>(entry.question));
        column->addWidget(button);
        ++number;
    }
    column->addStretch(1);
    connect(rail_, &QButtonGroup::idClicked, this, [this](int id) { ask(static_cast<Question>(id)); });
    return new RailArea(rail);
}

void MainWindow::make_menus()
{
    QMenu* file = menuBar()->addMenu(tr("&Survey"));
    const auto add = [this](QMenu* menu, const QString& words, const QKeySequence& keys, auto act) {
        QAction* action = menu->addAction(words);
        action->setShortcut(keys);
        connect(action, &QAction::triggered, this, act);
        return action;
    };
    add(file, tr("Open &folder…"), QKeySequence(Qt::CTRL | Qt::SHIFT | Qt::Key_O),
        [this] { emit start_->folder_wanted(); });
    add(file, tr("&Open survey…"), QKeySequence::Open, [this] { emit start_->survey_wanted(); });
    add(file, tr("&Demo…"), {}, [this] { emit start_->demo_wanted(); });
    file->addSeparator();
    add(file, tr("&Save now"), QKeySequence::Save, [this] { (void)session_.document().save(); });
    add(file, tr("Judge a&gain"), QKeySequence(Qt::Key_F5), [this] { session_.judge(); });
    file->addSeparator();
    add(file, tr("Write the judgement as &JSON…"), QKeySequence(Qt::CTRL | Qt::Key_E),
        [this] { export_judgement(false); });
    add(file, tr("Write the judgement as CS&V…"), QKeySequence(Qt::CTRL | Qt::SHIFT | Qt::Key_E),
        [this] { export_judgement(true); });
    add(file, tr("Write a &report…"), QKeySequence(Qt::CTRL | Qt::Key_R), [this] { ask_for_report(); });
    file->addSeparator();
    add(file, tr("&Close survey"), QKeySequence(Qt::CTRL | Qt::Key_W), [this] {
        session_.document().close();
        ask(Question::start);
    });
    add(file, tr("&Quit"), QKeySequence::Quit, [this] { close(); });

    QMenu* edit = menuBar()->addMenu(tr("&Edit"));
    QUndoStack& steps = session_.document().steps();
    QAction* undo = steps.createUndoAction(edit, tr("Undo"));
    undo->setShortcut(QKeySequence::Undo);
    edit->addAction(undo);
    QAction* redo = steps.createRedoAction(edit, tr("Redo"));
    redo->setShortcut(QKeySequence::Redo);
    edit->addAction(redo);

    QMenu* figure = menuBar()->addMenu(tr("&Figure"));
    connect(figure, &QMenu::aboutToShow, this, [this, figure] { list_figures(*figure); });

    add_look_menu(*menuBar(), settings_);

    QMenu* help = menuBar()->addMenu(tr("&Help"));
    add(help, tr("&Keys"), QKeySequence(Qt::Key_F1), [this] { ask(Question::keys); });
    add(help, tr("&About Becalm"), {}, [this] { ask(Question::about); });
}

void MainWindow::show_keys()
{
    HelpSheet::Keys keys;
    const auto plain_words = [](QString words) { return words.remove(QChar(u'&')); };
    for (const QMenu* menu : menuBar()->findChildren<QMenu*>()) {
        std::vector<std::pair<QString, QString>> entries;
        for (const QAction* action : menu->actions())
            if (!action->shortcut().isEmpty())
                entries.emplace_back(QKeySequence::listToString(action->shortcuts(), QKeySequence::NativeText),
                                     plain_words(action->text()));
        if (!entries.empty()) keys.emplace_back(plain_words(menu->title()), std::move(entries));
    }
    std::vector<std::pair<QString, QString>> questions;
    for (const QAbstractButton* button : rail_->buttons())
        questions.emplace_back(button->shortcut().toString(QKeySequence::NativeText), button->accessibleName());
    keys.emplace_back(tr("Questions"), std::move(questions));
    keys_->show_keys(keys);
}

// Every figure that is seen now, each with its ways to files and to the clipboard.
void MainWindow::list_figures(QMenu& menu)
{
    menu.clear();
    for (QMenu* old : menu.findChildren<QMenu*>(Qt::FindDirectChildrenOnly)) old->deleteLater();
    std::vector<FigureView*> seen;
    for (FigureView* view : stack_->currentWidget()->findChildren<FigureView*>())
        if (view->isVisible() && !view->is_empty()) seen.push_back(view);
    for (FigureView* view : seen) {
        connect(view, &FigureView::could_not_export, &session_, &Session::say, Qt::UniqueConnection);
        view->add_export_actions(seen.size() == 1 ? menu : *menu.addMenu(view->accessibleName()));
    }
    if (seen.empty()) menu.addAction(tr("This page shows no figure now"))->setEnabled(false);
}

void MainWindow::ask(Question question)
{
    const bool is_help = question == Question::keys || question == Question::about;
    if (question != Question::start && !is_help && !session_.document().is_open()) question = Question::start;
    if (!is_help) before_help_ = question;
    stack_->setCurrentIndex(static_cast<int>(question));
    if (question == Question::keys) show_keys();
    if (question == Question::about) about_->show_about();
    subject_->setVisible(question == Question::where || question == Question::how_much || question == Question::when ||
                         question == Question::why);
    if (QAbstractButton* button = rail_->button(static_cast<int>(question)))
        button->setChecked(true);
    else if (QAbstractButton* checked = rail_->checkedButton()) {
        rail_->setExclusive(false);
        checked->setChecked(false);
        rail_->setExclusive(true);
    }
    for (QAbstractButton* button : rail_->buttons()) button->setEnabled(session_.document().is_open());
    readout_->clear();
}

MainWindow::Question MainWindow::asked() const { return static_cast<Question>(stack_->currentIndex()); }

Page* MainWindow::page(Question question) const
{
    const std::size_t after_start = static_cast<std::size_t>(question) - 1; // of start: beyond all
    return after_start < pages_.size() ? pages_[after_start] : nullptr;
}

void MainWindow::open(const QStringList& paths)
{
    if (paths.isEmpty()) return;
    const QFileInfo first(paths.front());
    if (!first.exists()) {
        notices_->say(tr("%1 is not there; name a survey, a folder or a recording").arg(paths.front()));
        return;
    }
    if (first.isDir()) {
        open_folder(first.absoluteFilePath());
    } else if (first.suffix().toLower() == QStringLiteral("toml")) {
        open_survey(first.absoluteFilePath());
    } else { // recordings: the survey of their folder
        open_folder(first.absolutePath());
    }
}

void MainWindow::open_survey(const QString& path)
{
    const auto opened = session_.document().open(QFileInfo(path).absoluteFilePath());
    if (!opened) {
        notices_->say(problem_words(opened.error()));
        return;
    }
    remember(session_.document().path());
    session_.choose({});
    ask(Question::where);
    if (!session_.document().kept_text().empty())
        notices_->say(tr("The last time, changes to this survey could not be saved. They were kept."),
                      QStringLiteral("kept"),
                      {{tr("Take them"), [this] { session_.document().take_kept(); }},
                       {tr("Drop them"), [this] { session_.document().forget_kept(); }}});
}

void MainWindow::open_folder(const QString& folder)
{
    const QString path = QDir(folder).filePath(survey_name);
    if (QFileInfo::exists(path)) {
        open_survey(path);
        return;
    }
    auto made = evaluators::survey_from_folder(plain(folder));
    if (!made) {
        QStringList all;
        for (const Problem& problem : made.error()) all << problem_words(problem);
        notices_->say(all.mid(0, 6).join(QChar(u'\n')));
        return;
    }
    for (const Problem& problem : made->problems) notices_->say(problem_words(problem));
    if (const auto begun = session_.document().begin(path, io::survey_as_toml(made->survey)); !begun) {
        notices_->say(problem_words(begun.error()));
        return;
    }
    remember(path);
    session_.choose({});
    ask(Question::gather);
    notices_->say(tr("This survey was begun from the recordings in the folder. Look at each guess below, then ask "
                     "where it is worst."),
                  QStringLiteral("begun"));
}

void MainWindow::make_demo(const QString& folder)
{
    const QString survey = QDir(folder).filePath(survey_name);
    if (!QFileInfo::exists(survey)) {
        setCursor(Qt::WaitCursor);
        const auto made = demo::write_demo_survey(plain(folder));
        unsetCursor();
        if (!made) {
            notices_->say(problem_words(made.error()));
            return;
        }
    }
    open_survey(survey);
}

QStringList MainWindow::recent() const { return settings_.value(QStringLiteral("recent")).toStringList(); }

void MainWindow::remember(const QString& survey)
{
    QStringList all = recent();
    all.removeAll(survey);
    all.prepend(survey);
    settings_.setValue(QStringLiteral("recent"), QStringList(all.mid(0, most_recent)));
    start_->show_recent(recent());
}

void MainWindow::show_title()
{
    const auto survey = session_.document().survey();
    setWindowTitle(!session_.document().is_open() ? tr("Becalm")
                   : survey                       ? tr("%1 – Becalm").arg(shown(survey->title))
                                                  : tr("%1 – Becalm").arg(session_.document().path()));
}

void MainWindow::show_busy()
{
    const bool busy = session_.is_judging() || session_.is_explaining() || session_.is_reporting();
    progress_->setVisible(busy);
    cancel_->setVisible(busy);
    left_->setVisible(busy);
    if (!busy) {
        progress_->setValue(0);
        left_->clear();
    }
}

void MainWindow::show_document_state()
{
    const SurveyDocument& document = session_.document();
    state_->setText(!document.is_open()       ? QString()
                    : document.has_conflict() ? tr("changed elsewhere too")
                    : document.is_unsaved()   ? tr("not saved yet")
                                              : tr("saved"));
}

void MainWindow::export_judgement(bool as_table)
{
    const auto judgement = session_.judgement();
    if (!judgement || !judgement->problems.empty()) {
        notices_->say(tr("There is no judgement yet"));
        return;
    }
    const QString path = QFileDialog::getSaveFileName(
        this, tr("Write the judgement to"),
        QDir(session_.document().folder())
            .filePath(as_table ? QStringLiteral("judgement.csv") : QStringLiteral("judgement.json")));
    if (path.isEmpty()) return;
    const auto written = io::write_file_atomically(plain(path), as_table ? io::as_csv(judgement->assessment())
                                                                         : session_.judgement_json());
    notices_->say(written ? tr("Written to %1").arg(path) : problem_words(written.error()));
}

void MainWindow::ask_for_report()
{
    if (!session_.document().is_open()) {
        notices_->say(tr("Open a survey first"));
        return;
    }
    const QString beside = QFileInfo(settings_.value(QStringLiteral("report/file")).toString()).absolutePath() ==
                                   session_.document().folder()
                               ? settings_.value(QStringLiteral("report/file")).toString()
                               : QDir(session_.document().folder()).filePath(QStringLiteral("report.pdf"));
    const QString language =
        settings_.value(QStringLiteral("report/language"), QLocale().name().section(u'_', 0, 0)).toString();
    auto* dialog =
        new ReportDialog(beside, settings_.value(QStringLiteral("report/letterhead")).toString(), language, this);
    connect(dialog, &ReportDialog::wanted, this,
            [this, dialog] { write_report(dialog->file(), dialog->letterhead(), dialog->date(), dialog->language()); });
    dialog->show();
}

void MainWindow::write_report(const QString& file, const QString& letterhead, const QString& date,
                              const QString& language)
{
    SurveyDocument& document = session_.document();
    if (!document.is_open()) return;
    if (document.has_conflict()) {
        notices_->say(tr("The survey has changed here and elsewhere: choose which text counts, then write the report"));
        return;
    }
    if (document.is_unsaved() && !document.save()) return; // could_not_save says why
    const QFileInfo target(QDir(document.folder()), file);
    const bool is_pdf = target.suffix().toLower() == QStringLiteral("pdf");
    settings_.setValue(QStringLiteral("report/file"), target.absoluteFilePath());
    settings_.setValue(QStringLiteral("report/letterhead"), letterhead);
    settings_.setValue(QStringLiteral("report/language"), language);
    notices_->put_away(QStringLiteral("report"));
    report::ReportRequest request{.letterhead = plain(letterhead), .language = plain(language), .date = plain(date)};
    (is_pdf ? request.pdf : request.html) = plain(target.absoluteFilePath());
    session_.write_report(std::move(request));
}

void MainWindow::tell_report(const ReportOutcome& outcome)
{
    QStringList all;
    for (const Problem& problem : outcome.written.problems) all << problem_words(problem);
    if (!all.isEmpty()) {
        notices_->say(tr("The report was not written:") + QChar(u'\n') + all.mid(0, 6).join(QChar(u'\n')),
                      QStringLiteral("report"));
        return;
    }
    if (outcome.written.files.empty()) return;
    const QString file = shown(outcome.written.files.front());
    all << tr("Report written to %1").arg(file);
    if (outcome.unreadable) all << tr("A recording could not be read; the report says which and why.");
    if (outcome.nothing_judged) all << tr("Nothing could be judged; the report says why.");
    for (const Problem& problem : outcome.cautions) all << problem_words(problem);
    notices_->say(all.join(QChar(u'\n')), QStringLiteral("report"),
                  {{tr("Open"), [file] { QDesktopServices::openUrl(QUrl::fromLocalFile(file)); }}});
}

void MainWindow::changeEvent(QEvent* event)
{
    QMainWindow::changeEvent(event);
    // The system's own look has changed.
    if (event->type() == QEvent::ApplicationFontChange || event->type() == QEvent::ApplicationPaletteChange)
        rebuild_soon();
}

void MainWindow::closeEvent(QCloseEvent* event)
{
    settings_.setValue(QStringLiteral("window/geometry"), saveGeometry());
    if (session_.document().is_unsaved() && !session_.document().has_conflict()) (void)session_.document().save();
    session_.cancel();
    QMainWindow::closeEvent(event);
}

// A field of words takes undo and redo for itself even where it has nothing to take back; then they are the survey's.
bool MainWindow::eventFilter(QObject* watched, QEvent* event)
{
    if (event->type() == QEvent::ShortcutOverride)
        if (const auto* field = qobject_cast<QLineEdit*>(watched)) {
            const auto* keys = static_cast<QKeyEvent*>(event);
            if ((keys->matches(QKeySequence::Undo) && !field->isUndoAvailable()) ||
                (keys->matches(QKeySequence::Redo) && !field->isRedoAvailable())) {
                event->ignore();
                return true;
            }
        }
    return QMainWindow::eventFilter(watched, event);
}

void MainWindow::dragEnterEvent(QDragEnterEvent* event)
{
    if (event->mimeData()->hasUrls()) event->acceptProposedAction();
}

void MainWindow::dropEvent(QDropEvent* event)
{
    QStringList paths;
    for (const QUrl& url : event->mimeData()->urls())
        if (url.isLocalFile()) paths << url.toLocalFile();
    event->acceptProposedAction();
    open(paths);
}

} // namespace becalm::desktop
