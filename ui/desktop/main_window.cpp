#include "ui/desktop/main_window.h"

#include <QAction>
#include <QCloseEvent>
#include <QDir>
#include <QDragEnterEvent>
#include <QFileDialog>
#include <QFileInfo>
#include <QHBoxLayout>
#include <QMenuBar>
#include <QMimeData>
#include <QStatusBar>
#include <QToolButton>
#include <QVBoxLayout>
#include <algorithm>

#include "evaluators/new_survey.h"
#include "src/io/atomic_file.h"
#include "src/io/json_out.h"
#include "src/io/survey_file.h"
#include "ui/demo/demo_survey.h"
#include "ui/desktop/gather_page.h"
#include "ui/desktop/how_much_page.h"
#include "ui/desktop/people_page.h"
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

} // namespace

MainWindow::MainWindow(Session& session, QSettings& settings, QWidget* parent)
    : QMainWindow(parent), session_(session), settings_(settings)
{
    setAcceptDrops(true);
    setWindowTitle(tr("Becalm"));
    stack_ = new QStackedWidget;
    start_ = new StartPage;
    stack_->addWidget(start_);
    pages_ = {new GatherPage(session_), new WherePage(session_), new HowMuchPage(session_),
              new WhenPage(session_),   new WhyPage(session_),   new PeoplePage(session_)};
    for (Page* page : pages_) {
        stack_->addWidget(page);
        connect(page, &Page::hovered, this, [this](const QString& words) { readout_->setText(words); });
        connect(page, &Page::amount_wanted, this, [this] { ask(Question::how_much); });
    }
    subject_ = new SubjectLine(session_);
    notices_ = new Notices;

    auto* middle = new QWidget;
    auto* column = new QVBoxLayout(middle);
    column->setContentsMargins(10, 8, 10, 4);
    column->addWidget(subject_);
    column->addWidget(stack_, 1);
    column->addWidget(notices_);
    auto* whole = new QWidget;
    auto* row = new QHBoxLayout(whole);
    row->setContentsMargins(0, 0, 0, 0);
    row->setSpacing(0);
    row->addWidget(make_rail());
    row->addWidget(middle, 1);
    setCentralWidget(whole);

    readout_ = new QLabel;
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
    connect(&session_, &Session::said, this, [this](const QString& sentence) { notices_->say(sentence); });
    connect(&session_, &Session::busy_changed, this, &MainWindow::show_busy);
    connect(&session_, &Session::progressed, this, [this](double fraction, double left_s) {
        progress_->setValue(static_cast<int>(fraction * 1000.0));
        left_->setText(left_s < 0.0    ? QString()
                       : left_s < 90.0 ? tr("%n s left", nullptr, static_cast<int>(left_s) + 1)
                                       : tr("%n min left", nullptr, static_cast<int>(left_s / 60.0) + 1));
    });
    connect(&session_, &Session::judgement_changed, this, [this] {
        const auto judgement = session_.judgement();
        notices_->put_away(QStringLiteral("judgement"));
        if (!judgement || judgement->problems.empty()) return;
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
    connect(&document, &SurveyDocument::saved_state_changed, this, &MainWindow::show_document_state);
    connect(&document, &SurveyDocument::could_not_save, this, [this](const QString& why) {
        notices_->say(
            tr("The survey could not be saved: %1. Your changes are kept and will be offered again.").arg(why),
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

    start_->show_recent(recent());
    resize(1180, 760);
    restoreGeometry(settings_.value(QStringLiteral("window/geometry")).toByteArray());
    ask(Question::start);
    show_busy();
    show_document_state();
}

MainWindow::~MainWindow() { disconnect(&session_.document(), nullptr, this, nullptr); }

QWidget* MainWindow::make_rail()
{
    auto* rail = new QWidget;
    rail->setObjectName(QStringLiteral("rail"));
    auto* column = new QVBoxLayout(rail);
    column->setContentsMargins(8, 12, 8, 12);
    column->setSpacing(4);
    rail_ = new QButtonGroup(this);
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
        button->setMinimumSize(118, 52);
        rail_->addButton(button, static_cast<int>(entry.question));
        column->addWidget(button);
        ++number;
    }
    column->addStretch(1);
    connect(rail_, &QButtonGroup::idClicked, this, [this](int id) { ask(static_cast<Question>(id)); });
    return rail;
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
    add(file, tr("&Judge again"), QKeySequence(Qt::Key_F5), [this] { session_.judge(); });
    file->addSeparator();
    add(file, tr("Write the judgement as &JSON…"), QKeySequence(Qt::CTRL | Qt::Key_E),
        [this] { export_judgement(false); });
    add(file, tr("Write the judgement as &CSV…"), QKeySequence(Qt::CTRL | Qt::SHIFT | Qt::Key_E),
        [this] { export_judgement(true); });
    file->addSeparator();
    add(file, tr("&Close survey"), QKeySequence(Qt::CTRL | Qt::Key_W), [this] {
        session_.document().close();
        ask(Question::start);
    });
    add(file, tr("&Quit"), QKeySequence::Quit, [this] { close(); });

    QMenu* edit = menuBar()->addMenu(tr("&Edit"));
    QUndoStack& steps = session_.document().steps();
    QAction* undo = steps.createUndoAction(this, tr("Undo"));
    undo->setShortcut(QKeySequence::Undo);
    edit->addAction(undo);
    QAction* redo = steps.createRedoAction(this, tr("Redo"));
    redo->setShortcut(QKeySequence::Redo);
    edit->addAction(redo);
}

void MainWindow::ask(Question question)
{
    if (question != Question::start && !session_.document().is_open()) question = Question::start;
    stack_->setCurrentIndex(static_cast<int>(question));
    subject_->setVisible(question != Question::start && question != Question::gather && question != Question::people);
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
    return question == Question::start ? nullptr : pages_[static_cast<std::size_t>(question) - 1];
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
    const bool busy = session_.is_judging() || session_.is_explaining();
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

void MainWindow::closeEvent(QCloseEvent* event)
{
    settings_.setValue(QStringLiteral("window/geometry"), saveGeometry());
    if (session_.document().is_unsaved() && !session_.document().has_conflict()) (void)session_.document().save();
    session_.cancel();
    QMainWindow::closeEvent(event);
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
