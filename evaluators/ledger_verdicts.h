// Verdicts over stretches of a ledger in a folder, by the same procedures as assess() and monitor(): to the byte those
// of the same samples in a file, where a stretch is one of monitor()'s periods and the recording starts at a whole
// second.
//
// The survey is made here: one space, one recording, its channels the axes of the ledger's lanes. Rows of one stretch
// at a time are read and dropped before the next; sums of minutes and hours do not serve, since verdicts stand on rows
// in their order and the uncertainty needs every second (src/io/ledger_folder.h). So a stretch of more than a week
// cannot be judged as one. Neither can a quantity that needs spectra, swings or motion bins, nor one under a weighting
// that the ledger has no lane of. What makes a channel unfit refuses the stretches that it lies in.
#pragma once

#include <chrono>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "evaluators/chosen_criteria.h"
#include "evaluators/measured.h"
#include "src/base/problem.h"
#include "src/io/criterion_file.h"
#include "src/io/ledger_folder.h"
#include "src/model/assessment.h"
#include "src/model/survey.h"

namespace becalm::evaluators {

struct LedgerJudging {
    std::vector<std::string> criteria = {}; // ids, not empty
    Setting setting = Setting::building;
    std::string use = {}; // of the space
    Position position = Position::floor;
    std::string period = {}; // that every stretch stands for; empty: the criterion's hours by the clock
    std::optional<double> sensor_percent = {}; // expanded (k = 2) uncertainty of its sensitivity
};

// Whether the finding makes the channel unfit, and whether it does so in any of these seconds: where it is not known
// where it lies, it does.
bool refuses(const Finding& finding, int channel);
bool lies_in(const Finding& finding, std::span<const TimeSpan> seconds);

class LedgerJudge {
public:
    // Ledger and library must outlive the object, which must stay where it is. `left_out`: seconds that do not count.
    LedgerJudge(const io::LedgerFolder& ledger, const io::CriteriaLibrary& library, LedgerJudging judging,
                const std::vector<ExcludedSpan>& left_out);
    LedgerJudge(const LedgerJudge&) = delete;
    LedgerJudge& operator=(const LedgerJudge&) = delete;

    std::vector<Problem> problems() const; // nothing else may be asked where there are any

    struct Stretch {
        std::vector<io::LedgerFolder::Seconds> seconds = {}; // rising, those left out among them
        std::optional<std::chrono::sys_days> date = {};      // that it belongs to, or begins on
        bool is_calendar_day = false;                        // from midnight to midnight
    };
    // In the order of the criteria; one of each axis where a criterion judges them one by one. A Problem where the
    // ledger cannot be read.
    Result<std::vector<Verdict>> verdicts(const Stretch& stretch);

    std::vector<Finding> take_findings(); // of the verdicts since the last time, each once

private:
    Result<void> learn_duration();
    Result<void> take_rows(const Stretch& stretch, std::span<const Criterion* const> criteria);
    std::map<int, std::string> refused_in(std::span<const TimeSpan> spans) const;
    std::string why_not(const Stretch& stretch, const Criterion& criterion) const;
    void add(Finding finding);

    const io::LedgerFolder& ledger_;
    const io::CriteriaLibrary& library_;
    LedgerJudging judging_;
    Survey survey_ = {};
    ChosenCriteria chosen_;
    Measured measured_ = {};
    std::vector<Problem> problems_;
    std::optional<double> duration_s_;
    std::vector<Finding> findings_, told_;
};

} // namespace becalm::evaluators
