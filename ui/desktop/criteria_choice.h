// Which criteria a survey is judged by, and the changes of its text that choose others.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "src/io/criterion_file.h"
#include "src/model/survey.h"

namespace becalm::desktop {

struct CriterionChoice {
    const Criterion* criterion = nullptr;
    enum class Chosen { no, for_some_uses, yes } chosen = Chosen::no;
    std::vector<std::string> uses = {}; // for_some_uses
    std::string confirmed_by = {};      // who compared its numbers with the publication, and when

    // Switched off until somebody has.
    bool waits_for_confirmation() const { return criterion->check_first && confirmed_by.empty(); }
};

// Those for the survey's setting, and those that it names all the same; by edition and title.
std::vector<CriterionChoice> criteria_for(const Survey& survey, const io::CriteriaLibrary& library);

// The text with a criterion in a [[judge]] of every use: in an entry that is there, or in one of its own where it comes
// with a confirmation. `survey` is what the text says.
Result<std::string> with_criterion(std::string_view text, const Survey& survey, const std::string& id,
                                   const std::string& confirmed_by = {});

// The text without it in any [[judge]]; an entry left without criteria goes.
Result<std::string> without_criterion(std::string_view text, const Survey& survey, const std::string& id);

// The text with a confirmation for a criterion that the survey names; what stands beside it in an entry stays
// unconfirmed.
Result<std::string> with_confirmation(std::string_view text, const Survey& survey, const std::string& id,
                                      const std::string& confirmed_by);

} // namespace becalm::desktop
