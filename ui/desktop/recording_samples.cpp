#include "ui/desktop/recording_samples.h"

#include <algorithm>
#include <chrono>

#include "src/io/recording_path.h"
#include "ui/desktop/words.h"

namespace becalm::desktop {
namespace {

Problem gone(const std::string& path, bool is_there)
{
    return {.kind = ProblemKind::outside_world,
            .file = path,
            .what = is_there ? "the recording has changed since it was read"
                             : "the recording is no longer there; what was read of it is still shown",
            .remedy = is_there ? "judge again, to look at it as it is now"
                               : "put it back and judge again; the survey has lost nothing"};
}

} // namespace

RecordingSamples::RecordingSamples(QObject* parent)
    : QObject(parent), pyramid_task_(*this,
                                     [this](Result<SamplePyramid> pyramid) {
                                         if (pyramid)
                                             pyramid_ = std::move(*pyramid);
                                         else
                                             problem_ = problem_words(pyramid.error());
                                         emit changed();
                                     }),
      tile_task_(*this, [this](Fetched fetched) {
          under_way_.clear();
          for (auto& [key, samples] : fetched.tiles) tiles_.put(key, std::move(samples));
          if (fetched.problem) problem_ = problem_words(*fetched.problem);
          emit changed();
      })
{
    connect(&watcher_, &QFileSystemWatcher::fileChanged, this, &RecordingSamples::look_at_disk);
}

RecordingSamples::States RecordingSamples::states_of(const std::string& path)
{
    States states{store::state_of(io::recording_path(path).file)};
    if (!states.front()) return {};
    if (const auto files = io::files_of_recording(path))
        for (std::size_t i = 1; i < files->size(); ++i) states.push_back(store::state_of((*files)[i].path));
    return states;
}

void RecordingSamples::look_at_disk()
{
    if (path_.empty() || !problem_.isEmpty()) return;
    const States now = states_of(path_);
    if (now == states_) return;
    problem_ = problem_words(gone(path_, !now.empty()));
    emit changed();
}

void RecordingSamples::close()
{
    pyramid_task_.cancel();
    tile_task_.cancel();
    ++number_;
    if (const QStringList watched = watcher_.files(); !watched.isEmpty()) watcher_.removePaths(watched);
    path_.clear();
    states_.clear();
    source_.reset();
    pyramid_.reset();
    tiles_.clear();
    under_way_.clear();
    problem_.clear();
    fraction_ = 0.0;
}

void RecordingSamples::open(const std::string& path, const io::RecordingInfo& info, std::optional<double> resample_hz)
{
    const States states = states_of(path);
    if (path == path_ && resample_hz == resample_hz_) {
        if (states.empty()) {
            problem_ = problem_words(gone(path, false));
            return;
        }
        if (states == states_) {
            problem_.clear();
            return;
        }
    }
    close();
    path_ = path;
    info_ = info;
    resample_hz_ = resample_hz;
    states_ = states;
    source_ = std::make_shared<Source>(Source{.path = path, .resample_hz = resample_hz, .states = states});
    if (states.empty()) {
        problem_ = problem_words(gone(path, false));
        return;
    }
    if (const auto files = io::files_of_recording(path))
        for (const io::RecordingFile& file : *files) watcher_.addPath(shown(file.path));
    else
        watcher_.addPath(shown(io::recording_path(path).file));
    const auto tell = [this, number = number_](double fraction) {
        QMetaObject::invokeMethod(
            this,
            [this, number, fraction] {
                if (number != number_) return;
                fraction_ = fraction;
                emit changed();
            },
            Qt::QueuedConnection);
    };
    pyramid_task_.request([path, resample_hz, tell](const std::stop_token& stop) -> Result<SamplePyramid> {
        auto reader = io::open_recording(path, {.resample_hz = resample_hz});
        if (!reader) return fail(reader.error());
        auto last = std::chrono::steady_clock::now();
        return pyramid_of(**reader, stop, [&](double fraction) {
            const auto now = std::chrono::steady_clock::now();
            if (now - last < std::chrono::milliseconds(200)) return;
            last = now;
            tell(fraction);
        });
    });
}

std::optional<Envelope> RecordingSamples::envelope(int channel, std::int64_t from, std::int64_t to, int columns)
{
    if (channel < 1 || channel > info_.channels) return std::nullopt;
    from = std::clamp<std::int64_t>(from, 0, info_.frames);
    to = std::clamp<std::int64_t>(to, from, info_.frames);
    const std::int64_t step = envelope_step(to - from, columns);
    if (step < SamplePyramid::finest) {
        if (auto fine = tiles_.envelope(channel, from, to, step)) {
            // What the next step to either side will need.
            fetch(tiles_.missing(channel, std::max<std::int64_t>(0, from - (to - from)),
                                 std::min(info_.frames, to + (to - from))));
            return fine;
        }
        fetch(tiles_.missing(channel, from, to));
    }
    if (!pyramid_) return std::nullopt;
    return pyramid_->envelope(channel, from, to, std::max(step, SamplePyramid::finest));
}

void RecordingSamples::fetch(std::vector<SampleTiles::Key> keys)
{
    if (keys.empty() || !problem_.isEmpty() || !source_) return;
    const bool comes = std::ranges::any_of(
        keys, [this](const auto& key) { return std::ranges::find(under_way_, key) != under_way_.end(); });
    if (comes) return; // then it is asked again
    under_way_ = keys;
    tile_task_.request([source = source_, keys = std::move(keys)](const std::stop_token& stop) {
        return fetched(*source, keys, stop);
    });
}

RecordingSamples::Fetched RecordingSamples::fetched(Source& source, const std::vector<SampleTiles::Key>& keys,
                                                    const std::stop_token& stop)
{
    Fetched fetched;
    if (const States now = states_of(source.path); now != source.states) {
        fetched.problem = gone(source.path, !now.empty());
        return fetched;
    }
    if (!source.reader) {
        auto reader = io::open_recording(source.path, {.resample_hz = source.resample_hz});
        if (!reader) {
            fetched.problem = std::move(reader.error());
            return fetched;
        }
        source.reader = std::move(*reader);
    }
    for (const SampleTiles::Key& key : keys) {
        if (stop.stop_requested()) break;
        auto tile = tile_of(*source.reader, key);
        if (!tile) {
            fetched.problem = std::move(tile.error());
            break;
        }
        fetched.tiles.emplace_back(key, std::move(*tile));
    }
    return fetched;
}

} // namespace becalm::desktop
