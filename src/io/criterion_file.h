// Criteria and their bibliography as TOML: data/criteria/*.toml, data/sources.toml.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "src/base/problem.h"
#include "src/model/criterion.h"

namespace becalm::io {

struct Publication {
    std::string key;
    std::string title;
    std::string edition; // "ISO 6954:2000"
    std::string status;  // "current", "withdrawn; followed by ..."
};

using Bibliography = std::map<std::string, Publication, std::less<>>;

Results<Bibliography> read_sources(const std::string& path);

// One criterion. `bibliography` resolves `source`; an unknown source key is a fault.
Results<Criterion> read_criterion(const std::string& path, const Bibliography& bibliography);
Results<Criterion> parse_criterion(std::string_view text, const std::string& path, const Bibliography& bibliography);

// Criteria of several folders; a later folder replaces a criterion of the same id (a local edition). A faulty file spoils
// only itself: its faults are listed in `problems`.
struct CriteriaLibrary {
    std::map<std::string, Criterion, std::less<>> criteria;
    std::vector<Problem> problems;
};

// `folders` in order of increasing precedence; folders that do not exist are passed over. A folder's own sources.toml
// (beside or above its *.toml) adds to the bibliography.
CriteriaLibrary load_criteria(const std::vector<std::string>& folders, const Bibliography& bibliography);

// Where the program's own data lies: $BECALM_DATA, else beside the installed program, else the source tree it was built from.
std::string data_folder();

} // namespace becalm::io
