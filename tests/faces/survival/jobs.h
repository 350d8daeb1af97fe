// What the tests of this room let the program do, over results that are there already.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "tests/faces/survival/child.h"

namespace becalm::tests {

// One command over a survey of which older results exist: what it starts from, and what it must come to.
struct Job {
    std::string name = {};
    std::vector<std::string> arguments = {}; // "@" stands for the folder
    std::vector<std::string> outputs = {};   // files below the folder
    bool warm = false;                       // the cache holds the older results
    bool is_new = false;                     // there are no older ones
    bool fills_cache = false;                // the cache is what it is for
    bool removes_first = false;              // an index that goes before the files change and comes last
    int stride = 1;                          // of its calls, every so-many-th is looked at
};

const std::vector<Job>& jobs();
inline void PrintTo(const Job& job, std::ostream* out) { *out << job.name; }

// A folder of its own with everything in place; reset() puts it back.
class Stage {
public:
    explicit Stage(Job job);

    void reset() const;
    Ending run(std::map<std::string, std::string> faults = {}) const;
    Ending run_plainly() const { return tests::run(arguments_); }
    std::string path(const std::string& name) const { return folder_.path(name); }
    const Job& job() const { return job_; }

    // Complaints where a file is neither the old nor the new one, and where inputs have changed or files have come.
    std::string faults_of_files() const;
    bool is_old() const; // all the outputs
    bool is_new() const;
    int temporary_files() const { return listing_of(folder_.path()).temporary; }

private:
    std::string output(const std::string& name) const;
    void set_inputs(unsigned seed) const;

    Job job_;
    ScratchFolder folder_;
    ScratchFolder kept_; // the cache of the older results
    std::vector<std::string> arguments_;
    std::map<std::string, std::string> old_, new_;
    Listing begin_;
};

} // namespace becalm::tests
