#include "src/base/problem.h"

#include <cstdio>
#include <cstdlib>

#include <fmt/format.h>

namespace becalm {

std::string to_text(const Problem& problem)
{
    std::string text;
    if (!problem.file.empty()) {
        text += problem.file;
        if (problem.line > 0) text += fmt::format(":{}", problem.line);
        if (problem.line > 0 && problem.column > 0) text += fmt::format(":{}", problem.column);
        text += ": ";
    }
    text += problem.what;
    if (!problem.remedy.empty()) text += "; " + problem.remedy;
    return text;
}

void impossible_state(std::string_view what, std::string_view file, int line)
{
    fmt::print(stderr, "becalm: a fault in the program: {} does not hold at {}:{}; please report it\n", what, file,
               line);
    std::_Exit(70); // the exit code of a bug of ours; nothing half-written is renamed into place
}

} // namespace becalm
