// The survey that is open: its text, what it says, and its way to the disk and back.
//
// The text is what counts; comments and layout survive every change (src/io/survey_file.h). A change is an undo step
// and reaches the disk a second later, whole or not at all. Where it cannot (read-only folder, full disk), the text is
// kept among the program's own data, so that a crash loses no more than that second; opening the survey again offers
// it. When somebody else changes the file, the new text becomes a step of its own; where both sides have changed, the
// file stays as it is until the person has chosen.
#pragma once

#include <QByteArray>
#include <QFileSystemWatcher>
#include <QObject>
#include <QTimer>
#include <QUndoStack>
#include <memory>
#include <string>
#include <vector>

#include "src/base/problem.h"
#include "src/model/survey.h"

namespace becalm::desktop {

class SurveyDocument final : public QObject {
    Q_OBJECT

public:
    // `kept_folder` holds texts that could not be written to their place.
    explicit SurveyDocument(QString kept_folder, QObject* parent = nullptr);
    ~SurveyDocument() override; // saves what waits

    // Reads a survey file. A file with faults opens too: its text is there, problems() tells, survey() is null. A
    // Problem (the file cannot be read) leaves what is open as it was.
    Result<void> open(const QString& path);
    // A text that is not on the disk yet; saved at `path` like any change. Refuses where there is such a file.
    Result<void> begin(const QString& path, std::string text);
    void close();

    bool is_open() const { return !path_.isEmpty(); }
    const QString& path() const { return path_; }
    QString folder() const;
    const std::string& text() const { return text_; }
    std::shared_ptr<const Survey> survey() const { return survey_; } // null where the text has faults
    const std::vector<Problem>& problems() const { return problems_; }
    QUndoStack& steps() { return steps_; }

    // Makes `changed` the text, as one step called `what`. A Problem (also one that `changed` brings, or a text that
    // would no longer be a survey while the present one is) changes nothing.
    Result<void> change(const QString& what, Result<std::string> changed);

    // Not on the disk yet.
    bool is_unsaved() const;
    bool has_conflict() const { return conflict_; }
    Result<void> save();
    // Of a conflict: what stands in the file, or what stands here.
    void take_theirs();
    Result<void> keep_ours();

    // The text that could not be saved is at least among the program's own data.
    bool is_kept() const { return kept_; }

    // A text of this survey that an earlier run could not save; empty where there is none.
    std::string kept_text() const;
    void take_kept();
    void forget_kept();

signals:
    void changed();             // text(), survey() or problems()
    void saved_state_changed(); // is_unsaved(), has_conflict()
    void changed_outside();     // taken over as a step
    void conflict_found();      // both sides changed
    void could_not_save(const QString& why);

private:
    friend class TextStep;
    void set_text(std::string text);
    void forget();
    void look_at_disk();
    void watch();
    QString kept_path() const;
    void keep();

    QString kept_folder_, path_;
    std::string text_, on_disk_; // on_disk_: as last read or written
    std::shared_ptr<const Survey> survey_;
    std::vector<Problem> problems_;
    QUndoStack steps_;
    QFileSystemWatcher watcher_;
    QTimer save_soon_, look_soon_;
    bool conflict_ = false, never_saved_ = false, kept_ = false;
};

} // namespace becalm::desktop
