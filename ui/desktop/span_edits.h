// Changes to the spans that a survey lists for a recording, as changes of its text (src/io/survey_file.h). A file can
// serve several [[recording]] tables: each of them gets the change. Indices count from 0 as the survey was read.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include "src/base/problem.h"
#include "src/model/survey.h"

namespace becalm::desktop {

// `survey` is what `text` says.
struct SurveyText {
    std::string_view text;
    const Survey& survey;
};

Result<std::string> with_changed_exclusion(const SurveyText& of, const std::string& file, std::size_t index,
                                           const ExcludedSpan& span);

// A Problem where it would overlap another event, which the survey's reader refuses.
Result<std::string> with_event(const SurveyText& of, const std::string& file, const EventSpan& event);
Result<std::string> with_changed_event(const SurveyText& of, const std::string& file, std::size_t index,
                                       const EventSpan& event);
Result<std::string> without_event(const SurveyText& of, const std::string& file, std::size_t index);

// The first table of the file; null where there is none.
const Recording* recording_of(const Survey& survey, std::string_view file);

} // namespace becalm::desktop
