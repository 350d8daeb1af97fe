#include "ui/desktop/survey_document.h"

#include <QCryptographicHash>
#include <QDir>
#include <QFileInfo>
#include <QUndoCommand>

#include "src/io/atomic_file.h"
#include "src/io/survey_file.h"
#include "ui/desktop/words.h"

namespace becalm::desktop {

class TextStep final : public QUndoCommand {
public:
    TextStep(SurveyDocument& document, const QString& what, std::string text)
        : QUndoCommand(what), document_(document), before_(document.text()), after_(std::move(text))
    {
    }
    void undo() override { document_.set_text(before_); }
    void redo() override { document_.set_text(after_); }

private:
    SurveyDocument& document_;
    std::string before_, after_;
};

SurveyDocument::SurveyDocument(QString kept_folder, QObject* parent)
    : QObject(parent), kept_folder_(std::move(kept_folder))
{
    save_soon_.setSingleShot(true);
    save_soon_.setInterval(1000);
    connect(&save_soon_, &QTimer::timeout, this, [this] { (void)save(); });
    look_soon_.setSingleShot(true);
    look_soon_.setInterval(150); // an editor that writes in several steps is done by then
    connect(&look_soon_, &QTimer::timeout, this, &SurveyDocument::look_at_disk);
    // Of the folder too: an editor that replaces the file ends the watch of the file itself.
    connect(&watcher_, &QFileSystemWatcher::fileChanged, this, [this] { look_soon_.start(); });
    connect(&watcher_, &QFileSystemWatcher::directoryChanged, this, [this] { look_soon_.start(); });
}

SurveyDocument::~SurveyDocument()
{
    if (is_unsaved() && !conflict_) (void)save();
    if (is_unsaved()) keep();
}

QString SurveyDocument::folder() const { return QFileInfo(path_).absolutePath(); }

void SurveyDocument::forget()
{
    if (is_unsaved() && !conflict_) (void)save();
    if (is_unsaved()) keep();
    save_soon_.stop();
    steps_.clear();
    conflict_ = false;
    never_saved_ = false;
}

Result<void> SurveyDocument::open(const QString& path)
{
    auto text = io::read_text_file(plain(path));
    if (!text) return fail(text.error());
    forget();
    path_ = path;
    on_disk_ = *text;
    watch();
    set_text(std::move(*text));
    return {};
}

Result<void> SurveyDocument::begin(const QString& path, std::string text)
{
    if (QFileInfo::exists(path))
        return fail({.kind = ProblemKind::usage,
                     .file = plain(path),
                     .what = "there is a survey already",
                     .remedy = "open it, or choose another folder"});
    forget();
    path_ = path;
    on_disk_.clear();
    never_saved_ = true;
    watch();
    set_text(std::move(text));
    return {};
}

void SurveyDocument::close()
{
    forget();
    path_.clear();
    on_disk_.clear();
    watch();
    set_text({});
}

void SurveyDocument::set_text(std::string text)
{
    text_ = std::move(text);
    survey_.reset();
    problems_.clear();
    if (is_open()) {
        if (auto survey = io::parse_survey(text_, plain(path_)))
            survey_ = std::make_shared<const Survey>(std::move(*survey));
        else
            problems_ = std::move(survey.error());
    }
    if (is_unsaved() && !conflict_) save_soon_.start();
    emit changed();
    emit saved_state_changed();
}

Result<void> SurveyDocument::change(const QString& what, Result<std::string> changed)
{
    if (!changed) return fail(changed.error());
    if (*changed == text_) return {};
    if (survey_) {
        const auto after = io::parse_survey(*changed, plain(path_));
        if (!after) return fail(after.error().front());
    }
    steps_.push(new TextStep(*this, what, std::move(*changed)));
    return {};
}

bool SurveyDocument::is_unsaved() const { return is_open() && (never_saved_ || text_ != on_disk_); }

Result<void> SurveyDocument::save()
{
    save_soon_.stop();
    if (!is_unsaved()) return {};
    const std::string path = plain(path_);
    // Somebody else may have written since.
    if (!never_saved_) {
        const auto there = io::read_text_file(path);
        if (there && *there != on_disk_ && *there != text_) {
            look_at_disk();
            return fail({.kind = ProblemKind::outside_world,
                         .file = path,
                         .what = "the file was changed by somebody else meanwhile",
                         .remedy = "choose which of the two is to stay"});
        }
    }
    const auto written =
        never_saved_ ? io::write_new_file_atomically(path, text_) : io::write_file_atomically(path, text_);
    if (!written) {
        keep();
        emit could_not_save(problem_words(written.error()));
        return written;
    }
    on_disk_ = text_;
    never_saved_ = false;
    forget_kept();
    watch();
    emit saved_state_changed();
    return {};
}

void SurveyDocument::watch()
{
    if (!watcher_.files().isEmpty()) watcher_.removePaths(watcher_.files());
    if (!watcher_.directories().isEmpty()) watcher_.removePaths(watcher_.directories());
    if (!is_open()) return;
    watcher_.addPath(folder());
    if (QFileInfo::exists(path_)) watcher_.addPath(path_);
}

void SurveyDocument::look_at_disk()
{
    if (!is_open() || never_saved_) return;
    const auto there = io::read_text_file(plain(path_));
    if (!there) return; // gone for a moment, or for good: what is here is saved with the next change
    if (!watcher_.files().contains(path_)) watcher_.addPath(path_);
    if (*there == on_disk_) return;
    if (*there == text_) {
        on_disk_ = *there;
        emit saved_state_changed();
        return;
    }
    if (is_unsaved()) {
        save_soon_.stop();
        conflict_ = true;
        keep();
        emit saved_state_changed();
        emit conflict_found();
        return;
    }
    on_disk_ = *there;
    steps_.push(new TextStep(*this, tr("change made elsewhere"), *there));
    emit changed_outside();
}

void SurveyDocument::take_theirs()
{
    const auto there = io::read_text_file(plain(path_));
    conflict_ = false;
    if (!there) { // nothing to take
        emit saved_state_changed();
        return;
    }
    on_disk_ = *there;
    forget_kept();
    steps_.push(new TextStep(*this, tr("change made elsewhere"), *there));
}

Result<void> SurveyDocument::keep_ours()
{
    if (const auto there = io::read_text_file(plain(path_))) on_disk_ = *there;
    conflict_ = false;
    return save();
}

QString SurveyDocument::kept_path() const
{
    const QByteArray hash =
        QCryptographicHash::hash(QFileInfo(path_).absoluteFilePath().toUtf8(), QCryptographicHash::Sha1).toHex();
    return QDir(kept_folder_).filePath(QString::fromLatin1(hash) + QStringLiteral(".toml"));
}

void SurveyDocument::keep()
{
    QDir().mkpath(kept_folder_);
    kept_ = io::write_file_atomically(plain(kept_path()), text_).has_value();
}

std::string SurveyDocument::kept_text() const
{
    if (!is_open()) return {};
    const auto kept = io::read_text_file(plain(kept_path()));
    return kept && *kept != text_ ? *kept : std::string();
}

void SurveyDocument::take_kept()
{
    std::string kept = kept_text();
    if (!kept.empty()) steps_.push(new TextStep(*this, tr("unsaved changes of the last time"), std::move(kept)));
}

void SurveyDocument::forget_kept() { QFile::remove(kept_path()); }

} // namespace becalm::desktop
