// The date of a document: as it was asked for, or that of the latest recording.
#pragma once

#include <string>

#include "src/model/survey.h"

namespace becalm::report {

// ISO 8601: "2026-03-14", a day that there is.
bool is_date(const std::string& text);

// Of the latest recording that states its start; empty where none does.
std::string latest_date(const Survey& survey);

} // namespace becalm::report
