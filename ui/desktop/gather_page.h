// What was measured where, with what and under which condition; everything of the survey that a person fills in.
#pragma once

#include <QComboBox>
#include <QLabel>
#include <QLineEdit>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QTabWidget>

#include "evaluators/new_survey.h"
#include "ui/desktop/channel_model.h"
#include "ui/desktop/entry_model.h"
#include "ui/desktop/page.h"
#include "ui/desktop/survey_grid.h"

namespace becalm::desktop {

class GatherPage final : public Page {
    Q_OBJECT

public:
    explicit GatherPage(Session& session, QWidget* parent = nullptr);

    // Files, and what lies in folders, become recordings of the survey with guesses that say so.
    void add_recordings(const QStringList& paths);

protected:
    void refresh() override;
    void hideEvent(QHideEvent* event) override;
    void dragEnterEvent(QDragEnterEvent* event) override;
    void dropEvent(QDropEvent* event) override;

private:
    struct Added {
        evaluators::NewSurvey further = {};
        std::string before = {}; // text they were added to
        Result<std::string> after = {};
        std::vector<std::string> paths = {};
    };
    QWidget* make_recordings();
    QWidget* make_entries(EntryModel* model, const QString& name, const QString& hint);
    QWidget* make_survey();
    void request_addition(std::vector<std::string> paths);
    void take(Added added);
    void show_survey();
    void show_row();
    void set_top(const QString& step, std::string_view key, const QString& words);

    RecordingFacts facts_;
    QTabWidget* tabs_;
    ChannelModel* channels_;
    SurveyGrid* channel_grid_ = nullptr;
    QPushButton *remove_ = nullptr, *right_ = nullptr, *split_ = nullptr;
    QLabel* row_words_ = nullptr;
    std::vector<EntryModel*> entries_; // in the order of the tabs behind the recordings
    QLineEdit *title_ = nullptr, *client_ = nullptr;
    QComboBox* setting_ = nullptr;
    QPlainTextEdit* note_ = nullptr;
    LatestTask<std::shared_ptr<Added>> adding_; // last
};

} // namespace becalm::desktop
