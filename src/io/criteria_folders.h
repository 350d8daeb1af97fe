// Where criteria come from: the program's own, a user's, a survey's.
#pragma once

#include <string>
#include <vector>

#include "src/io/criterion_file.h"

namespace becalm::io {

// The shipped one, a user's, the one beside `survey_path` (empty: none); the last two may not be there.
std::vector<std::string> criteria_folders(const std::string& survey_path);

// Shipped criteria, then the user's configuration folder, then those beside `survey_path` (empty: none); later ones
// win. Faults of single files are complained about; empty where the program's own data cannot be read.
struct LoadedCriteria {
    CriteriaLibrary library = {};
    std::vector<std::string> folders = {};
};
Results<LoadedCriteria> load_all_criteria(const std::string& survey_path);

} // namespace becalm::io
