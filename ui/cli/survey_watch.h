// Sees when a survey, a criterion or a recording changes: asks the file system four times a second, which works on
// every one of them, networks included, and costs next to nothing.
#pragma once

#include <optional>
#include <stop_token>
#include <string>
#include <vector>

#include "src/model/survey.h"
#include "src/store/cache.h"

namespace becalm::cli {

class SurveyWatch {
public:
    explicit SurveyWatch(std::string survey) : survey_(std::move(survey)) {}

    // Before the survey and the criteria are read: from now on their changes show.
    void about_to_read();
    // Before the recordings of a survey are read. Where it could not be read, those of the last one are watched on.
    void about_to_measure(const Survey& survey);

    // Waits until a file differs from what it was then, or has come or gone, and all have stayed as they are for two
    // looks. False: it was stopped.
    bool wait_for_change(const std::stop_token& stop) const;

private:
    using States = std::vector<std::optional<store::FileState>>;

    States texts_now() const;
    States recordings_now() const;

    std::string survey_;
    std::vector<std::string> recordings_ = {}; // paths
    States texts_ = {}, measured_ = {};
};

} // namespace becalm::cli
