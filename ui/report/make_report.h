// A survey's report, from the files to the bytes: the one entry of every face, so that all of them write the same.
#pragma once

#include <functional>
#include <stop_token>
#include <string>
#include <vector>

#include <tl/expected.hpp>

#include "src/base/problem.h"

namespace becalm::report {

struct ReportRequest {
    std::string survey = {};                   // its file
    std::string html = {}, pdf = {};           // files that are to be written; empty: not wanted. Not one for both.
    std::vector<std::string> criteria = {};    // in place of the survey's own
    std::string letterhead = {};               // a folder (letterhead.h); empty: none
    std::string language = "en";               // en, de, fr
    std::string date = {};                     // YYYY-MM-DD; empty: that of the latest recording
    int jobs = 0;                              // 0: as many as there are processors
    std::function<void(double)> progress = {}; // 0 to 1, from any thread
    std::stop_token stop = {};
};

// What cannot be meant: no file, one file for both, no date, no language, a report in the survey's place.
std::vector<Problem> problems_of(const ReportRequest& request);

struct MadeReport {
    std::string html = {}, pdf = {};                 // bytes, of what was wanted
    std::vector<Problem> cautions = {};              // of the letterhead and of criteria that were not read
    bool unreadable = false;                         // a recording could not be read
    std::vector<Problem> unreadable_recordings = {}; // which, and why
    bool nothing_judged = false;
};

// Judges and explains the survey from its recordings; what is kept beside it is not asked. Writes nothing.
tl::expected<MadeReport, std::vector<Problem>> made_report(const ReportRequest& request);

// Writes the files of `request`, each whole or not at all, and says which.
struct Written {
    std::vector<std::string> files = {};
    std::vector<Problem> problems = {};
};
Written write_report(const ReportRequest& request, const MadeReport& made);

} // namespace becalm::report
