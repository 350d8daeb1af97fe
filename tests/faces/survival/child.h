// The real program as a child process: killed, starved or led astray, and what became of it. The world around it is
// that of fault_library.cpp.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "tests/src/scratch_folder.h"

namespace becalm::tests {

struct Ending {
    bool killed = false; // by SIGKILL
    bool hung = false;   // still running after a minute, and ended by us
    int signal = 0;      // another one ended it
    int code = -1;       // of an exit
    long peak_kb = 0;    // most that was resident
    std::string out = {}, err = {};
    std::string told = {}; // by the faults: "N NAME PATH", "N of all"

    long calls() const;               // that the faults counted; -1 where it was killed
    std::string name_of_call() const; // at which the fault came; empty where it did not
};

struct World {
    std::string folder = {};                        // to run in
    std::map<std::string, std::string> faults = {}; // FAULTS_...
    std::int64_t address_space = 0;                 // bytes, 0 for any
    std::optional<std::int64_t> kill_after_us = {};
    bool as_nobody = false; // without the superuser's rights
    std::string data = {};  // the criteria; empty: one alone, for speed
};

Ending run(const std::vector<std::string>& arguments, const World& world = {});

// Started and not waited for.
class Running {
public:
    Running(const std::vector<std::string>& arguments, const World& world);
    Running(const Running&) = delete;
    Running& operator=(const Running&) = delete;
    Running(Running&&) = delete;
    Running& operator=(Running&&) = delete;
    ~Running();
    Ending ended();
    pid_t process() const { return process_; }

private:
    World world_;
    ScratchFolder around_; // its streams
    pid_t process_ = -1;
};

// A criterion that reports a value whatever the length, and nothing else.
const std::string& small_data();

// Every file below a folder by its path in it: content of files, "-> target" of links. Without `.becalm` and what has a
// temporary name, which are counted.
struct Listing {
    std::map<std::string, std::string> files = {};
    int temporary = 0; // .becalm-PID-N.tmp
    bool operator==(const Listing&) const = default;
};
Listing listing_of(const std::string& folder);

// Two recordings of 5 s at 256 Hz of two offices, in FOLDER; `seed` makes the second one.
std::string write_tiny_survey(const std::string& folder, unsigned seed = 2);
std::string tiny_recording(unsigned seed, double seconds = 5.0);

} // namespace becalm::tests
