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
    std::string seen;    // how its contents were seen: "from memory", "public text"; may be empty
    std::string note;    // may be empty
};

using Bibliography = std::map<std::string, Publication, std::less<>>;

Results<Bibliography> read_sources(const std::string& path);

// One criterion. `bibliography` resolves `source`; an unknown source key is a fault.
Results<Criterion> read_criterion(const std::string& path, const Bibliography& bibliography);
Results<Criterion> parse_criterion(std::string_view text, const std::string& path, const Bibliography& bibliography);

// Criteria of several folders; a later folder replaces a criterion of the same id (a local edition). A faulty file
// spoils only itself: its faults are listed in `problems`, and no criterion has its id (a shipped one must not stand in
// silently for a local edition that cannot be read). A survey among the files is passed over.
struct CriteriaLibrary {
    std::map<std::string, Criterion, std::less<>> criteria;
    std::vector<Problem> problems;
};

// `folders` in order of increasing precedence, the program's own first; folders that do not exist are passed over. A
// folder's own sources.toml (beside or above its *.toml) adds to the bibliography.
CriteriaLibrary load_criteria(const std::vector<std::string>& folders, const Bibliography& bibliography);

// A first criterion file with explanatory comments, and a bibliography for it: together they are in order.
std::string criterion_template(std::string_view id);
std::string sources_template(std::string_view id);

// Where the program's own data lies: $BECALM_DATA, else share/becalm above a library that this code is part of (the
// Python module), else ../share/becalm beside the running program, else where it was to be installed, else the source
// tree it was built from. Criteria are in criteria/, the bibliography is sources.toml.
std::string data_folder();

} // namespace becalm::io
