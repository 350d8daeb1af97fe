// Which criteria judge which recording: those of the call, else those of the survey's own [[judge]] tables.
#pragma once

#include <string>
#include <vector>

#include "src/base/problem.h"
#include "src/io/criterion_file.h"
#include "src/model/survey.h"

namespace becalm::evaluators {

class ChosenCriteria {
public:
    // `ids` replace the survey's own tables where there are any. All must outlive the object.
    ChosenCriteria(const Survey& survey, const io::CriteriaLibrary& library, const std::vector<std::string>& ids)
        : survey_(survey), library_(library), ids_(ids)
    {
    }

    // Ids that name no criterion; nothing else may be asked where there are any.
    std::vector<Problem> problems() const;

    // Those that judge this recording's space and position, in the order in which they are named.
    std::vector<const Criterion*> of(const Recording& recording) const;

    // Whether it is one of those.
    bool judges(const Criterion& criterion, const Recording& recording) const;

    // Somebody compared the criterion's numbers with the publication, says the survey.
    bool is_confirmed(const Criterion& criterion) const;

private:
    const Survey& survey_;
    const io::CriteriaLibrary& library_;
    const std::vector<std::string>& ids_;
};

} // namespace becalm::evaluators
