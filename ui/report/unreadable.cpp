#include "ui/report/unreadable.h"

#include <algorithm>

namespace becalm::report {

std::vector<Problem> unreadable_recordings(const std::string& file, const Survey& survey,
                                           const std::vector<Finding>& findings)
{
    std::vector<Problem> problems;
    auto next = survey.recordings.begin();
    for (const Finding& finding : findings) {
        if (finding.code != "unreadable") continue;
        const auto recording = std::find_if(next, survey.recordings.end(), [&](const Recording& candidate) {
            return candidate.file == finding.recording;
        });
        const bool found = recording != survey.recordings.end();
        problems.push_back({.file = file, .line = found ? recording->line : 0, .what = finding.message});
        if (found) next = recording + 1;
    }
    return problems;
}

} // namespace becalm::report
