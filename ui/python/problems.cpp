#include "ui/python/problems.h"

#include <string>

namespace becalm::python {
namespace py = pybind11;
namespace {

std::string_view name_of(ProblemKind kind)
{
    switch (kind) {
    case ProblemKind::usage: return "usage";
    case ProblemKind::bad_input: return "bad input";
    case ProblemKind::outside_world: break;
    }
    return "outside world";
}

py::object known(int number) { return number > 0 ? py::object(py::int_(number)) : py::none(); }

py::object one(const Problem& problem, const py::tuple& others)
{
    return py::module_::import("becalm._problem")
        .attr("Problem")(to_text(problem), problem.what, problem.remedy, problem.file, known(problem.line),
                         known(problem.column), problem.key, std::string(name_of(problem.kind)), others);
}

} // namespace

py::object as_exception(const std::vector<Problem>& problems)
{
    py::list others;
    for (std::size_t i = 1; i < problems.size(); ++i) others.append(one(problems[i], py::tuple()));
    return one(problems.front(), py::tuple(others));
}

void translate_problems()
{
    py::register_local_exception_translator([](std::exception_ptr thrown) {
        try {
            if (thrown) std::rethrow_exception(thrown);
        } catch (const Problems& problems) {
            try {
                const py::object raised = as_exception(problems.all);
                PyErr_SetObject(py::type::of(raised).ptr(), raised.ptr());
            } catch (py::error_already_set& failed) {
                failed.restore();
            }
        }
    });
}

} // namespace becalm::python
