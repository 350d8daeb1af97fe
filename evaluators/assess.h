// The judgement of a survey: the single entry that every face calls.
//
// Arguments: a survey as read, the criteria, options. Each recording is opened and run once (evaluators/pass.h) for the
// union of what the criteria need. Per space, position and condition the recordings are taken together: repeats of an
// axis count as one longer record, axes may come from different files. Nothing is repaired: what cannot be judged says
// why, and spoils no other verdict. Nothing in an assessment tells whether a pass came from the cache.
#pragma once

#include <functional>
#include <memory>
#include <span>
#include <stop_token>
#include <string>
#include <vector>

#include "evaluators/chosen_criteria.h"
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
    // Who has the passes already gives them here, one a request, and no file is opened; no cache is asked then.
    std::function<std::vector<Result<PassResult>>(std::span<const PassRequest>)> passes = {};
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

// The recordings of a survey, measured as assess() does but a few at a time: who looks at a long campaign piece by
// piece need not hold all of it. Survey, library and options must outlive the object, which must stay where it is.
class Measuring {
public:
    Measuring(const Survey& survey, const io::CriteriaLibrary& library, const AssessOptions& options);
    ~Measuring();
    Measuring(const Measuring&) = delete;
    Measuring& operator=(const Measuring&) = delete;

    std::vector<Problem> problems() const; // those of assess(); nothing else may be asked where there are any
    const ChosenCriteria& chosen() const;
    const std::vector<Measured>& measured() const; // one a recording, in the survey's order; passes of the loaded ones
    // Runs these, or takes them from the cache, which is not tidied: the others are still to come. Rows of lanes that
    // no criterion looks at are not kept.
    void load(std::span<const std::size_t> recordings);
    void drop(std::size_t recording);     // its pass; it is not to be loaded again
    std::vector<Finding> take_findings(); // of those loaded since the last time

private:
    struct Inside;
    std::unique_ptr<Inside> inside_;
};

// Every n-th file of a survey, from the index-th on, so that its recordings can be filtered by several processes or
// machines. Files count in the order in which the survey first names them.
struct Shard {
    int index = 1; // 1 to of
    int of = 1;
};

// What keep_passes() has done. Recordings count as the survey lists them.
struct KeptPasses {
    int files = 0, recordings = 0;            // of the shard
    int files_of_survey = 0;                  // of all shards together
    int filtered = 0;                         // recordings; the others were kept before
    std::vector<std::string> unreadable = {}; // messages
};

// The passes that assess() would run for the recordings of a shard, kept in `options.cache_folder` (not empty) and
// nothing else; a following assess() finds them there. Any number of processes may do so at once, in one folder or in
// several that merge_passes() brings together. Problems: those of assess(), a folder that cannot be used.
Results<KeptPasses> keep_passes(const Survey& survey, const io::CriteriaLibrary& library, const AssessOptions& options,
                                const Shard& shard);

} // namespace becalm::evaluators
