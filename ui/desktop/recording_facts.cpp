#include "ui/desktop/recording_facts.h"

#include <QElapsedTimer>

#include "src/io/recording_path.h"
#include "ui/desktop/words.h"

namespace becalm::desktop {
namespace {

namespace fs = std::filesystem;

constexpr int seconds_between_looks = 3;
constexpr int deliver_after_ms = 150; // a folder of many files fills in as it is read

} // namespace

RecordingFacts::RecordingFacts(QObject* parent)
    : QObject(parent), facts_(std::make_shared<const Facts>()), task_(*this, [this](Look found) {
          facts_ = std::move(found.facts);
          looking_ = !found.complete;
          if (!found.complete) look();
          if (found.changed) emit changed();
      })
{
    again_.setInterval(seconds_between_looks * 1000);
    connect(&again_, &QTimer::timeout, this, [this] {
        if (!task_.is_busy()) look();
    });
}

void RecordingFacts::look_at(const std::string& folder, std::vector<File> files)
{
    if (folder != folder_) facts_ = std::make_shared<const Facts>();
    folder_ = folder;
    files_ = std::move(files);
    again_.start();
    look();
}

void RecordingFacts::pause() { again_.stop(); }

const FileFacts* RecordingFacts::of(const std::string& file) const
{
    const auto found = facts_->find(file);
    return found == facts_->end() ? nullptr : &found->second;
}

void RecordingFacts::look()
{
    looking_ = true;
    task_.request([folder = folder_, files = files_, known = facts_](const std::stop_token& stop) {
        QElapsedTimer timer;
        timer.start();
        auto facts = std::make_shared<Facts>(*known);
        Look found;
        for (const auto& [file, resample_hz] : files) {
            if (stop.stop_requested() || (found.changed && timer.elapsed() > deliver_after_ms)) {
                found.facts = std::move(facts);
                return found;
            }
            std::error_code error;
            const std::string named = (fs::path(folder) / file).string();
            const fs::path path = io::recording_path(named).file;
            const auto written = fs::last_write_time(path, error);
            FileFacts now;
            if (!error) {
                now.written = written;
                now.bytes = fs::file_size(path, error);
                now.resample_hz = resample_hz;
                if (const auto described = io::files_of_recording(named))
                    for (std::size_t i = 1; i < described->size(); ++i)
                        now.beside.push_back(store::state_of((*described)[i].path));
            }
            const auto before = facts->find(file);
            if (error) {
                now = {.problem =
                           shown(error == std::errc::no_such_file_or_directory || error == std::errc::not_a_directory
                                     ? std::string("the file is not there; put it back, or name its new place")
                                     : "the file cannot be looked at: " + error.message())};
                if (before != facts->end() && !before->second.info && before->second.problem == now.problem) continue;
            } else {
                if (before != facts->end() && before->second.written == now.written &&
                    before->second.bytes == now.bytes && before->second.beside == now.beside &&
                    before->second.resample_hz == resample_hz)
                    continue;
                const auto reader = io::open_recording(named, {.resample_hz = resample_hz});
                if (reader)
                    now.info = (*reader)->info();
                else
                    now.problem = problem_words(reader.error());
            }
            facts->insert_or_assign(file, std::move(now));
            found.changed = true;
        }
        found.complete = true;
        found.facts = std::move(facts);
        return found;
    });
}

} // namespace becalm::desktop
