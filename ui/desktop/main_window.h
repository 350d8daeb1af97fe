// The one window: the questions at the left, what is being looked at above, the page of the question asked, and below
// what happened and what is being worked out.
#pragma once

#include <QButtonGroup>
#include <QLabel>
#include <QMainWindow>
#include <QProgressBar>
#include <QPushButton>
#include <QScrollArea>
#include <QSettings>
#include <QStackedWidget>
#include <vector>

#include "ui/desktop/notices.h"
#include "ui/desktop/session.h"

namespace becalm::desktop {

class HelpSheet;
class Page;
class StartPage;

class MainWindow final : public QMainWindow {
    Q_OBJECT

public:
    // `settings` outlives the window.
    MainWindow(Session& session, QSettings& settings, QWidget* parent = nullptr);
    ~MainWindow() override;

    enum class Question { start, gather, where, how_much, when, why, people, keys, about }; // the last two: Help
    void ask(Question question);
    Question asked() const;
    Page* page(Question question) const; // null for start, keys and about

    // A survey, a folder with one or without, or recordings: whatever a person dropped or named.
    void open(const QStringList& paths);
    void open_survey(const QString& path);
    void open_folder(const QString& folder);
    void make_demo(const QString& folder);
    // Writes the report in the background, PDF where the name ends so, else HTML, and says so; the survey is saved
    // before.
    void write_report(const QString& file, const QString& letterhead = {}, const QString& date = {},
                      const QString& language = QStringLiteral("en"));

    Notices& notices() { return *notices_; }
    QStringList recent() const;

protected:
    void changeEvent(QEvent* event) override;
    void closeEvent(QCloseEvent* event) override;
    void dragEnterEvent(QDragEnterEvent* event) override;
    void dropEvent(QDropEvent* event) override;
    bool eventFilter(QObject* watched, QEvent* event) override;

private:
    // Everything in the window but the notices, in the words, fonts and colours of now. It is built anew when these
    // change: what a person sees is in the session, so that nothing but the window's own furniture goes.
    void build();
    void rebuild();
    void rebuild_soon();
    void listen(); // to the session
    void make_status_bar();
    void make_menus();
    void list_figures(QMenu& menu);
    QWidget* make_rail();
    void show_keys();
    void remember(const QString& survey);
    void tell_unreadable(const Judgement& judgement);
    void show_title();
    void show_busy();
    void show_document_state();
    void export_judgement(bool as_table);
    void ask_for_report();
    void tell_report(const ReportOutcome& outcome);

    Session& session_;
    QSettings& settings_;
    QStackedWidget* stack_ = nullptr;
    StartPage* start_;
    HelpSheet *keys_, *about_;
    std::vector<Page*> pages_; // in the order of Question, without start
    QButtonGroup* rail_;
    QWidget* subject_;
    Notices* notices_;
    QScrollArea* notices_area_ = nullptr;
    bool rebuilding_soon_ = false;
    Question before_help_ = Question::start;
    QLabel *readout_, *state_, *left_;
    QProgressBar* progress_;
    QPushButton* cancel_;
};

} // namespace becalm::desktop
