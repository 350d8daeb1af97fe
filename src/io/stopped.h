// What is told of a file whose writing was stopped.
#pragma once

#include <string>

#include "src/base/problem.h"

namespace becalm::io {

inline Problem stopped(const std::string& path)
{
    return {.kind = ProblemKind::outside_world,
            .file = path,
            .what = "stopped before the end",
            .remedy = "this file was not written"};
}

} // namespace becalm::io
