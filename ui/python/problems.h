// Problems of the core as exceptions of Python: becalm.Problem, with the place, the fault and the remedy as attributes.
#pragma once

#include <utility>
#include <vector>

#include <pybind11/pybind11.h>

#include "src/base/problem.h"

namespace becalm::python {

struct Problems { // thrown; not empty
    std::vector<Problem> all = {};
};

pybind11::object as_exception(const std::vector<Problem>& problems); // an instance of becalm.Problem

// From now on Problems that leave a function of the module are raised as becalm.Problem.
void translate_problems();

template <class T>
T value_of(Result<T> result)
{
    if (!result) throw Problems{{std::move(result.error())}};
    return std::move(*result);
}

template <class T>
T value_of(Results<T> results)
{
    if (!results) throw Problems{std::move(results.error())};
    return std::move(*results);
}

} // namespace becalm::python
