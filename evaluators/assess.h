// The judgement of a survey: the single entry that every face calls.
//
// Arguments: a survey as read, the criteria, options. Each recording is opened and run once (evaluators/pass.h) for the
// union of what the criteria need. Per space, position and condition the recordings are taken together: repeats of an
// axis count as one longer record, axes may come from different files. Nothing is repaired: what cannot be judged says
// why, and spoils no other verdict. Nothing in an assessment tells whether a pass came from the cache.
#pragma once

#include <functional>
#include <stop_token>
#include <string>
#include <vector>

#include "evaluators/measured.h"
#include "src/base/problem.h"
#include "src/io/criterion_file.h"
#include "src/model/assessment.h"
#include "src/model/survey.h"

namespace becalm::evaluators {

struct AssessOptions {
    std::vector<std::string> criteria = {}; // ids that replace the survey's own [[judge]] tables
    int jobs = 0;                           // threads; 0: as many as the machine has
    bool spectra = false;                   // of every channel that a criterion looks at, also where it needs none
    bool judge = true;                      // false: findings only
    std::string cache_folder = {};          // passes need not be run again (evaluators/pass_cache.h); empty: none
    std::function<void(const Problem&)> cache_trouble = {}; // told, once, why that folder cannot be used
    std::function<void(double fraction)> progress = {};
    std::stop_token stop = {};
};

// The judgement with what it rests on, for those who look further (evaluators/explain.h). `measured` points into the
// survey.
struct Judged {
    Assessment assessment = {};
    std::vector<Measured> measured = {};
};
Results<Judged> judged(const Survey& survey, const io::CriteriaLibrary& library, const AssessOptions& options = {});

// Problems: an unknown criterion, a survey without recordings or without anything to judge by. Recordings that cannot
// be read are findings.
Results<Assessment> assess(const Survey& survey, const io::CriteriaLibrary& library, const AssessOptions& options = {});

} // namespace becalm::evaluators
