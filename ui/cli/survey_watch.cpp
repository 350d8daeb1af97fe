#include "ui/cli/survey_watch.h"

#include <algorithm>
#include <chrono>
#include <condition_variable>
#include <filesystem>
#include <mutex>

#include "src/io/criteria_folders.h"
#include "src/io/recording_path.h"
#include "src/io/recording_reader.h"

namespace becalm::cli {
namespace {

constexpr std::chrono::milliseconds between_looks{250};

// False: stopped meanwhile.
bool rest(const std::stop_token& stop)
{
    std::mutex mutex;
    std::condition_variable_any nobody_notifies;
    std::unique_lock lock(mutex);
    nobody_notifies.wait_for(lock, stop, between_looks, [] { return false; });
    return !stop.stop_requested();
}

} // namespace

SurveyWatch::States SurveyWatch::texts_now() const
{
    States states{store::state_of(survey_)};
    for (const std::string& folder : io::criteria_folders(survey_)) {
        std::vector<std::string> files;
        std::error_code absent;
        for (const auto& file : std::filesystem::directory_iterator(folder, absent))
            if (file.path().extension() == ".toml") files.push_back(file.path().string());
        std::ranges::sort(files);
        for (const std::string& file : files) states.push_back(store::state_of(file));
    }
    return states;
}

SurveyWatch::States SurveyWatch::recordings_now() const
{
    States states;
    for (const std::string& path : recordings_) states.push_back(store::state_of(path));
    return states;
}

void SurveyWatch::about_to_read() { texts_ = texts_now(); }

void SurveyWatch::about_to_measure(const Survey& survey)
{
    recordings_.clear();
    for (const Recording& recording : survey.recordings) {
        const std::string path = (std::filesystem::path(survey.path).parent_path() / recording.file).string();
        // Of a description that cannot be read itself: a change of it is what to wait for.
        if (const auto files = io::files_of_recording(path))
            for (const io::RecordingFile& file : *files) recordings_.push_back(file.path);
        else
            recordings_.push_back(io::recording_path(path).file);
    }
    measured_ = recordings_now();
}

bool SurveyWatch::wait_for_change(const std::stop_token& stop) const
{
    States texts = texts_, recordings = measured_;
    bool changed = false;
    while (rest(stop)) {
        States texts_after = texts_now(), recordings_after = recordings_now();
        const bool same = texts_after == texts && recordings_after == recordings;
        if (changed && same) return true;
        // What went back to what it was, such as a file that was away for a moment, needs no second judgement.
        changed = texts_after != texts_ || recordings_after != measured_;
        texts = std::move(texts_after);
        recordings = std::move(recordings_after);
    }
    return false;
}

} // namespace becalm::cli
