// What the files of a survey say of themselves, read off the interface thread; a file is opened again when its size or
// time has changed. A file that is not there, or that nobody can read, has a sentence in place of facts.
#pragma once

#include <QObject>
#include <QString>
#include <QTimer>
#include <filesystem>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "src/io/recording_reader.h"
#include "src/store/cache.h"
#include "ui/desktop/latest_task.h"

namespace becalm::desktop {

struct FileFacts {
    std::filesystem::file_time_type written = {}; // of the file,
    std::uintmax_t bytes = 0;
    std::vector<std::optional<store::FileState>> beside = {}; // of those that it describes,
    std::optional<double> resample_hz = {};                   // and as it was opened
    std::optional<io::RecordingInfo> info = {};               // empty: `problem` says why
    QString problem = {};
};

class RecordingFacts final : public QObject {
    Q_OBJECT

public:
    explicit RecordingFacts(QObject* parent = nullptr);

    struct File {
        std::string name = {};
        std::optional<double> resample_hz = {}; // io::ReadOptions
    };
    // Files as the survey names them, relative to `folder`. Looked at now, and again every few seconds.
    void look_at(const std::string& folder, std::vector<File> files);
    void pause(); // no more looks until the next look_at()

    // nullptr: not looked at yet.
    const FileFacts* of(const std::string& file) const;
    bool is_looking() const { return looking_; }

signals:
    void changed();

private:
    using Facts = std::map<std::string, FileFacts>;
    struct Look {
        std::shared_ptr<const Facts> facts = {};
        bool changed = false, complete = false;
    };
    void look();

    std::string folder_;
    std::vector<File> files_;
    std::shared_ptr<const Facts> facts_;
    bool looking_ = false;
    QTimer again_;
    LatestTask<Look> task_; // last
};

} // namespace becalm::desktop
