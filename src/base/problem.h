// The three kinds of error and the one form in which a user meets them.
//
//   bad input         a value of type Problem, returned; it names the place, the fault and the remedy
//   the outside world a Problem too (a file that vanished, a full disk); `kind` tells them apart
//   impossible state  a bug: BECALM_ASSERT; a user's input never trips one
//
// Exit codes follow the kind (see ui/cli/exit_code.h), so no face has to parse a message.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include <tl/expected.hpp>

namespace becalm {

enum class ProblemKind {
    usage,        // the call itself is wrong: unknown option, unknown criterion
    bad_input,    // a file says something that cannot be used
    outside_world // the system refused: missing, unreadable, disk full
};

// One thing that is wrong. `line` and `column` count from 1; 0 means "not known".
struct Problem {
    ProblemKind kind = ProblemKind::bad_input;
    std::string file = {};
    int line = 0;
    int column = 0;
    std::string key = {};    // dotted key in a TOML file, empty elsewhere
    std::string what = {};   // what is wrong, no full stop
    std::string remedy = {}; // what to do, no full stop; may be empty
};

// "FILE:LINE: what is wrong; what to do" (FILE, LINE and COLUMN left out where unknown).
std::string to_text(const Problem& problem);

template <class T>
using Result = tl::expected<T, Problem>;

// For readers that go on after the first fault, so that a user mends a file in one sitting.
template <class T>
using Results = tl::expected<T, std::vector<Problem>>;

inline tl::unexpected<Problem> fail(Problem problem) { return tl::unexpected<Problem>(std::move(problem)); }

[[noreturn]] void impossible_state(std::string_view what, std::string_view file, int line);

} // namespace becalm

#define BECALM_ASSERT(condition)                                                                                       \
    do {                                                                                                               \
        if (!(condition)) ::becalm::impossible_state(#condition, __FILE__, __LINE__);                                  \
    } while (false)
