// The samples of the recording that is looked at: what is at hand is given at once, what is finer is fetched off the
// interface thread and told by changed(). Nothing here waits for a file.
#pragma once

#include <QFileSystemWatcher>
#include <QObject>
#include <QString>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "src/store/cache.h"
#include "ui/desktop/latest_task.h"
#include "ui/desktop/sample_pyramid.h"

namespace becalm::desktop {

class RecordingSamples final : public QObject {
    Q_OBJECT

public:
    explicit RecordingSamples(QObject* parent = nullptr);

    // `info` as the pass found it, with that rate of resampling if any. The same file, unchanged: stays as it is. A
    // file that is gone keeps what is held.
    void open(const std::string& path, const io::RecordingInfo& info, std::optional<double> resample_hz = {});
    void close();

    std::uint64_t number() const { return number_; } // another one for each file or state of it that was opened
    const std::string& path() const { return path_; }
    const io::RecordingInfo& info() const { return info_; }
    bool is_complete() const { return pyramid_.has_value(); }
    double fraction() const { return fraction_; } // of the recording, read so far
    const QString& problem() const { return problem_; }

    // Stored values in [from, to), in at least `columns` stretches where they are at hand; empty where nothing is.
    std::optional<Envelope> envelope(int channel, std::int64_t from, std::int64_t to, int columns);

signals:
    void changed();

private:
    // Of the file itself and, behind it, of those that it describes; empty where the file is gone.
    using States = std::vector<std::optional<store::FileState>>;
    static States states_of(const std::string& path);
    // Of the tiles' thread alone, once it is made.
    struct Source {
        std::string path = {};
        std::optional<double> resample_hz = {};
        States states = {};
        std::unique_ptr<io::RecordingReader> reader = {};
    };
    struct Fetched {
        std::vector<std::pair<SampleTiles::Key, std::vector<float>>> tiles = {};
        std::optional<Problem> problem = {};
    };
    void look_at_disk();
    void fetch(std::vector<SampleTiles::Key> keys);
    static Fetched fetched(Source& source, const std::vector<SampleTiles::Key>& keys, const std::stop_token& stop);

    QFileSystemWatcher watcher_;
    std::string path_;
    io::RecordingInfo info_;
    std::optional<double> resample_hz_;
    States states_;
    std::shared_ptr<Source> source_;
    std::optional<SamplePyramid> pyramid_;
    SampleTiles tiles_;
    std::vector<SampleTiles::Key> under_way_;
    double fraction_ = 0.0;
    QString problem_;
    std::uint64_t number_ = 0;
    LatestTask<Result<SamplePyramid>> pyramid_task_; // last: they end before the rest
    LatestTask<Fetched> tile_task_;
};

} // namespace becalm::desktop
